"""Totals against their own marks: pieces as printed are read back and added up by hand, on page, CSV and JSON alike."""

import csv
import io
import json
import re
from dataclasses import replace
from fractions import Fraction as F
from itertools import pairwise

import pytest

import stairguard
from stairguard.api.layout import report
from stairguard.io.parse.exact_lengths import parse_length
from stairguard.model.job import Stock
from stairguard.reports.data.csv_lists import cuts_csv
from stairguard.rules.findings.checks import check
from tests.solve.jobs import BASE
from tests.solve.lines import EXAMPLES, JOBS, land, solved, up

NAMES = [
    *(path.stem for path in sorted(EXAMPLES.glob("*.toml"))), "steps, ramp, steps", "random 3",
    "random 7", "corners of two posts",
]  # fmt: skip
every_line = pytest.mark.parametrize("name", NAMES)
KINDS = {"RAILS": "rail", "POSTS": "post", "STRANDS": "strand", "SLEEVES": "sleeve"}


def asked(name):
    """The job with sleeves, weights, and stock that holds every piece."""
    job = JOBS[name]
    far = sum((F(s.end.s - s.start.s) for s in solved(job).line.surfaces), F(0)) * 3 + 1000
    post = replace(job.post, sleeves=True, weight=F(3, 7))
    return replace(job, post=post, rail=replace(job.rail, weight=F(2, 7)), stock=Stock((far,), (far,), (far,), F(0)))


def taped(text, job):
    return parse_length(text if text.endswith("mm") else f"{text}", job.unit, where="page")


def page_sections(page):
    found, name = {}, ""
    for line in page.splitlines():
        if re.match(r"[A-Z]{3}", line):
            name = line
        found.setdefault(name, []).append(line)
    return found


def pieces_on_page(page, job):
    """Count and marked length of every row of the cut lists: a rail's longest, a post's long edge."""
    found = {}
    for head, lines in page_sections(page).items():
        match = re.match(r"CUT LIST: (\w+)", head)
        if match is None:
            continue
        kind = KINDS[match[1]]
        length = r"(?:\d[\d' /.-]*\"|\d[\d.]* mm)"
        for line in lines:
            row = re.match(rf"  ((?:post )?[A-Z]+\d*) +(\d+) +({length})(?: +({length}) +({length}))?", line)
            if row:
                column = {"rail": 5, "post": 4}.get(kind, 3)
                found.setdefault(kind, []).append((int(row[2]), taped(row[column], job)))
    return found


@every_line
def test_totals_are_sums_of_the_pieces_as_marked(name):
    job = asked(name)
    checked = check(solved(job))
    page, data = report(checked), json.loads(json.dumps(stairguard.result(checked)))
    printed = pieces_on_page(page, job)
    sums = {kind: sum(n * length for n, length in rows) for kind, rows in printed.items()}
    cuts = data["cuts"]
    for kind, plural in (("rail", "rails"), ("post", "posts"), ("strand", "strands"), ("sleeve", "sleeves")):
        total = sums.get(kind, 0)
        assert cuts["totals"][kind] == float(total)
        assert sum(c["count"] * F(c["marked"]).limit_denominator(10**6) for c in cuts[plural]) == total
        for cut in cuts[plural]:  # the exact lengths stay, the mark within half a mark of them
            exact = cut.get("longest", cut.get("long_edge", cut["length"]))
            assert abs(exact - cut["marked"]) <= float(job.mark) / 2 + 1e-9
    rows = list(csv.DictReader(io.StringIO(cuts_csv(checked))))
    for kind, total in sums.items():
        listed = [F(row[f"marked_{job.unit}"]).limit_denominator(10**6) * int(row["count"]) for row in rows
                  if row["part"] == kind]  # fmt: skip
        assert sum(listed) == total
    words = " ".join(" ".join(page_sections(page)["FITTINGS"]).split())
    told = re.search(r"In all: (.+?)(?: \(.*?\))? of strand, (.+?)(?: \(.*?\))? of rail, (.+?)(?: \(.*?\))? of posts, "
                     r"(.+?) of sleeves", words)  # fmt: skip
    assert [taped(text, job) for text in told.groups()] == [
        sums.get(kind, 0) for kind in ("strand", "rail", "post", "sleeve")
    ]
    for kind, given in (("rail", F(2, 7)), ("post", F(3, 7))):
        assert cuts["weights"][kind] == pytest.approx(float(given * sums.get(kind, 0)), rel=1e-12)
        assert data["stock"][kind]["used"] == float(sums.get(kind, 0))
    assert data["stock"]["strand"]["used"] == float(sums["strand"])
    way = data["comparison"]["through" if job.strand.at_joints == "through" else "break"]
    assert way["strand_total"] == float(sums["strand"])


def test_four_pieces_of_3_ft_2_and_a_half_come_to_12_ft_10():
    """12' 10" and not 12' 10-1/8": the eighth is what the four pieces, added up before they are marked, leave over."""
    job = replace(BASE, rules="none", surfaces=(land(40),), strand=replace(BASE.strand, spacing=F(10)),
                  post=replace(BASE.post, width=F(3, 2)))  # fmt: skip
    job = replace(job, strand=replace(job.strand, terminal_take_up=F(1) + F(469, 1000)))  # 38.531 in to the strand
    found = stairguard.result(check(solved(job)))["cuts"]
    assert {s["marked"] for s in found["strands"]} == {38.5}
    count = sum(s["count"] for s in found["strands"])
    assert found["totals"]["strand"] == count * 38.5
    assert sum(s["count"] * s["length"] for s in found["strands"]) > count * 38.5 + 0.03 * count


def long_rail(length=360, stock=144, **changes):
    return replace(BASE, rules="none", surfaces=(land(length),), stock=Stock(rail=(F(stock),), **changes))


def test_a_rail_longer_than_all_stock_is_spliced_over_posts_and_the_plan_not_called_proven():
    job = long_rail()
    checked = check(solved(job))
    page, plan = " ".join(report(checked).split()), stairguard.result(checked)["stock"]["rail"]
    assert not plan["proven"]
    assert "proven" not in page
    assert "Not a plan of all the pieces: 1 of 1 is longer than any stock length" in page
    (one,) = plan["spliced"]
    stations = {p.label: float(p.station) for p in checked.layout.posts}
    at = [0.0, *(stations[label] for label in one["posts"]), 360.0]
    exact = [b - a for a, b in pairwise(at)]
    assert one["parts"] == pytest.approx(exact, abs=1 / 32 + 1e-9)
    assert max(one["parts"]) <= 144
    assert len(one["parts"]) == 3  # 30 ft in no two of 12
    assert f"splice it over the middle of posts {', '.join(one['posts'])}" in page


def test_a_rail_that_posts_too_far_apart_leave_no_way_to_splice():
    checked = check(solved(long_rail(stock=40)))
    page, (one,) = " ".join(report(checked).split()), stairguard.result(checked)["stock"]["rail"]["spliced"]
    assert one["posts"] == one["parts"] == []
    assert "it cannot be spliced at posts: from one to the next is longer than the stock" in page
    assert not stairguard.result(check(solved(long_rail(length=400, stock=50))))["stock"]["rail"]["proven"]


def test_a_sloping_rail_is_spliced_along_its_top():
    job = replace(BASE, rules="none", surfaces=(land(), up(16), land(60)), stock=Stock(rail=(F(120),)))
    checked = check(solved(job))
    plan = stairguard.result(checked)["stock"]["rail"]
    pieces = {cut.label: cut for cut in checked.layout.cuts.rails}
    assert plan["spliced"]
    for one in plan["spliced"]:
        assert max(one["parts"]) <= 120
        assert sum(one["parts"]) == pytest.approx(pieces[one["label"]].longest, abs=len(one["parts"]) / 32)


def test_strands_longer_than_a_reel_fit_once_the_run_is_what_the_page_says():
    job = replace(BASE, rules="none", surfaces=(land(360),), stock=Stock(strand=(F(216),)),
                  strand=replace(BASE.strand, terminal_take_up=F(1), tensioner_take_up=F(2)))  # fmt: skip
    checked = check(solved(job))
    page = " ".join(report(checked).split())
    assert stairguard.result(checked)["stock"]["strand"]["too_long"] == [
        {"label": cut.label, "length": float(cut.marked), "count": cut.count} for cut in checked.layout.cuts.strands
    ]
    most = F(re.search(r"longest_run = ([\d.]+) in \[strand\]", page)[1])
    mended = solved(replace(job, strand=replace(job.strand, longest_run=most)))
    ((_, plan),) = mended.stock
    assert not plan.too_long
    assert plan.proven
