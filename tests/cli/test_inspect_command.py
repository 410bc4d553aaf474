"""The commands ``inspect`` and ``compare-rules``, and what they refuse."""

from __future__ import annotations

import csv
import io
import json
import subprocess
import sys
from fractions import Fraction as F
from pathlib import Path

import pytest

import stairguard
from stairguard.model.findings import VERDICTS
from stairguard.reports.words.fix_words import fixes_words
from stairguard.reports.words.general_cautions import ALWAYS
from stairguard.reports.words.rules.finding_words import spot_words
from stairguard.reports.words.rules.verdict_words import LIST_VERDICTS
from tests.places import ROOT
from tests.reports.words import as_printed

SHARED = ROOT / "shared"
ORCHARD = str(SHARED / "inspections" / "orchard-back-stair.toml")
DUPLEX = str(SHARED / "examples" / "duplex.toml")

AMENDED = """
name = "orchard-county"
title = "Orchard County, amendments"
edition = "2026"
unit = "in"
jurisdiction = "Orchard County"
amends = "irc-2021"

[[rule]]
quantity = "guard height"
place = "landing"
kind = "at least"
value = "35"
clause = "OC 4"
status = "from memory"
source = "from memory"
note = "made up for a test"
"""


def by(findings, **keys):
    return [f for f in findings if all(f[key] == value for key, value in keys.items())]


def test_the_page_says_everything_in_order(run):
    status, page, lines = run("inspect", ORCHARD)
    assert status == 1
    assert lines == []
    assert max(map(len, page.splitlines())) <= 100
    order = [LIST_VERDICTS[verdict] for verdict in VERDICTS]
    table = page.split("what; clause (status)")[1].split("\nCAUTIONS")[0].splitlines()
    verdicts = [verdict for line in table for verdict in order if line.startswith(f"  {verdict} ")]
    assert verdicts == sorted(verdicts, key=order.index)
    assert set(verdicts) == set(order)
    low = stairguard.inspect(ORCHARD).findings[0]
    assert (low.quantity, low.value, [step.value for step in low.fixes[0].steps]) == ("guard height", 35.75, [36])
    for words in (*ALWAYS, fixes_words(low.fixes)):
        assert words in " ".join(page.split())


def test_json_has_every_key_of_every_finding(run):
    status, out, _ = run("inspect", ORCHARD, "--json")
    data = json.loads(out)
    assert status == 1
    assert data["passes"] is False
    assert sum(data["counts"].values()) == len(data["findings"])
    low = by(data["findings"], quantity="guard height", verdict="fail")
    assert [(f["value"], f["limit"], f["surface"], f["where"], f["station"]) for f in low] == [
        (35.75, 36.0, 1, "post P3", 60.0)
    ]
    assert low[0]["margin"] == -0.25
    (triangle,) = by(data["findings"], scope="step triangle")
    # the fix, put to the test: a lift of what it says lets no 6 in sphere pass, one of a mark more does
    sizes = (("lift", F(9, 16), F(-13, 16)),)
    assert as_printed.read(triangle["fix"], "in") == ("Reshaped", sizes, (F(7, 16),), False)
    rise, run_ = 22.5625 - 15.125, 10.25
    assert stairguard.step_opening(rise, run_, 9 / 16, nosing=1, tread=1.125, limit=6).passes
    assert not stairguard.step_opening(rise, run_, 10 / 16, nosing=1, tread=1.125, limit=6).passes


def test_csv_is_the_same_lines(run):
    _, out, _ = run("inspect", ORCHARD, "--json")
    status, text, _ = run("inspect", ORCHARD, "--csv")
    rows = list(csv.DictReader(io.StringIO(text)))
    found = json.loads(out)["findings"]
    assert status == 1
    assert [row["clause"] for row in rows] == [f["clause"] for f in found]
    assert [row["verdict"] for row in rows] == [f["verdict"] for f in found]
    assert {row["surface"] for row in rows} == {"", "1", "2"}  # people count from 1
    assert not any(cell.startswith(("=", "@")) for row in rows for cell in row.values())


def test_a_folder_gets_all_three(run, tmp_path):
    out = tmp_path / "found"
    status, text, _ = run("inspect", ORCHARD, "--out", str(out))
    assert status == 1
    assert sorted(p.name for p in out.iterdir()) == ["findings.csv", "inspection.json", "report.txt"]
    assert (out / "report.txt").read_text(encoding="utf-8") == text.split("\nWritten to")[0]


def test_a_local_amendment_changes_one_clause_and_is_told_everywhere(run, tmp_path):
    local = tmp_path / "orchard-county.toml"
    local.write_text(AMENDED, encoding="utf-8")
    _, before, _ = run("inspect", ORCHARD, "--json")
    _, after, _ = run("inspect", ORCHARD, "--rules", str(local), "--json")
    old, new = json.loads(before), json.loads(after)
    # 35-3/4 in fails the model code's 36, not the county's 35
    assert [f["verdict"] for f in by(old["findings"], quantity="guard height", clause="R312.1.2")] == ["fail"]
    assert [f["verdict"] for f in by(new["findings"], quantity="guard height", clause="OC 4")] == ["pass"]
    unchanged = [f for f in new["findings"] if f["clause"] != "OC 4"]
    assert sorted(map(str, unchanged)) == sorted(str(f) for f in old["findings"] if f["clause"] != "R312.1.2")
    (told,) = new["amended"]
    assert all(fact in told for fact in ("OC 4", "35", "36", "R312.1.2"))
    _, page, _ = run("inspect", ORCHARD, "--rules", str(local))
    flat = " ".join(page.split())
    assert told in flat
    _, page, _ = run("compare-rules", ORCHARD, "irc-2021", str(local))
    assert told in " ".join(page.split())


def test_one_guard_under_several_packs(run):
    status, page, _ = run("compare-rules", DUPLEX, "irc-2021", "nz-f4as1", "scotland-1999", "ncc-australia")
    assert status == 1
    assert max(map(len, page.splitlines())) <= 100
    for word in ("irc-2021", "nz-f4as1", "scotland-1999", "ncc-australia", "LAID OUT ANEW UNDER EACH"):
        assert word in page
    _, out, _ = run("compare-rules", DUPLEX, "irc-2021", "nz-f4as1", "--json")
    data = json.loads(out)
    assert [pack["rules"] for pack in data["packs"]] == ["irc-2021", "nz-f4as1"]
    ours = by(data["packs"][1]["findings"], verdict="fail")
    assert bool(ours) is not data["packs"][1]["passes"]
    # the same guard: what is measured is the same, whatever the pack asks
    spheres = [
        {(f["surface"], f["where"]): f["value"] for f in pack["findings"] if f["quantity"] == "opening" and f["where"]}
        for pack in data["packs"]
    ]
    shared = spheres[0].keys() & spheres[1].keys()
    assert len(shared) > 5
    assert {spheres[0][k] for k in shared} == {spheres[1][k] for k in shared}
    # laid out anew, spheres of 6 and of 150 mm place the lowest strand differently
    lowest = [{s["surface"]: s["lowest"] for s in each["surfaces"]} for each in data["anew"]]
    assert lowest[0] != lowest[1]
    _, text, _ = run("compare-rules", DUPLEX, "irc-2021", "nz-f4as1", "--csv")
    assert {row["rules"] for row in csv.DictReader(io.StringIO(text))} == {"irc-2021", "nz-f4as1"}


def test_layout_tells_its_findings_too(run, tmp_path):
    _, out, _ = run("layout", "--json")
    data = json.loads(out)
    assert {f["verdict"] for f in data["findings"]} == {"pass", "not checked"}
    assert data["conflicts"] == []
    status, text, _ = run("layout", "--csv")
    assert status == 0
    assert len(text.splitlines()) == len(data["findings"]) + 1
    run("layout", "--out", str(tmp_path / "out"))
    assert (tmp_path / "out" / "findings.csv").read_text(encoding="utf-8") == text


def test_measured_tables_stand_in_a_job_that_is_laid_out(run, tmp_path, write_job):
    path = write_job()
    measured = '\n[[measured]]\nwhat = "guard height"\nsurface = 2\nvalue = 33\n'
    path.write_text(path.read_text(encoding="utf-8") + measured, encoding="utf-8")
    assert run("layout", str(path))[0] == 0
    status, out, _ = run("inspect", str(path), "--json")
    assert status == 1
    assert by(json.loads(out)["findings"], quantity="guard height", verdict="fail")
    _, out, _ = run("compare-rules", str(path), "irc-2021", "--json")
    assert json.loads(out)["made_by"] is None
    _, out, _ = run("compare-rules", str(path), "irc-2021", "--designed", "--json")
    assert json.loads(out)["made_by"] == "irc-2021"


def test_a_failing_opening_given_by_its_sides_has_its_fix(run, tmp_path):
    # corners made of lengths are surds; the strand that moves least is named, and moved so far it stops the sphere
    row = (
        '[[measured]]\nwhat = "opening"\nsurface = 1\nsides = [10.25, 4.625, 9.5, 4.75]\ndiagonal = 11\n'
        'strand_diameter = "1/8 in"\nstrand_edges = [1, 3]\n'
    )
    job = tmp_path / "sides.toml"
    job.write_text(Path(ORCHARD).read_text() + "\n" + row)
    status, out, lines = run("inspect", str(job), "--json")
    assert (status, lines) == (1, [])
    found = [f for f in json.loads(out)["findings"] if f["verdict"] == "fail" and f["quantity"] == "opening"]
    (edge,) = [step[1:3] for step in (as_printed.read(f["fix"], "in") for f in found) if step[0] == "Moved"]
    assert edge in ((1, True), (3, True))


def test_corners_given_clockwise_keep_the_number_of_the_strand_to_move(run, tmp_path):
    # 20 by 5 under a strand of 1/8, edge 2: 4.9375 is to become 4.375 (irc-2021, over a flight)
    row = (
        '[[measured]]\nwhat = "opening"\nsurface = 1\npoints = [[0, 0], [0, 5], [20, 5], [20, 0]]\n'
        'strand_diameter = "1/8 in"\nstrand_edges = [2]\n'
    )
    job = tmp_path / "clockwise.toml"
    job.write_text(Path(ORCHARD).read_text() + "\n" + row)
    _, out, _ = run("inspect", str(job), "--json")
    found = [f for f in json.loads(out)["findings"] if f["verdict"] == "fail" and f["quantity"] == "opening"]
    read = [as_printed.read(f["fix"], "in") for f in found]
    assert [step for step in read if step[0] == "Moved"] == [("Moved", 2, True, F(5, 8), F(3, 4), False)]


def test_a_guard_nobody_measured_is_not_passed(run, write_job):
    status, out, _ = run("inspect", str(write_job()), "--json")
    data = json.loads(out)
    assert status == 3  # what a job's surfaces say of steps passes, and nothing else was checked
    assert (data["outcome"], data["passes"]) == ("incomplete", False)
    assert not by(data["findings"], quantity="guard height", verdict="pass")
    assert not by(data["findings"], quantity="opening", verdict="pass")
    assert by(data["findings"], quantity="opening", verdict="not checked")


OPENING_AT = '[[measured]]\nwhat = "opening"\nlift = 1\n'


@pytest.mark.parametrize(
    ("row", "start", "words"),
    [
        ('[[measured]]\nwhat = "gard height"\nsurface = 1\nvalue = 3\n', "measured[1].what", "guard height"),
        ('[[measured]]\nwhat = "riser"\nsurface = 9\nvalue = 3\n', "measured[1].surface", "from 1 to"),
        ('[[measured]]\nwhat = "riser"\nvalue = 3\n', "measured[1].surface", "a whole number"),
        ('[[measured]]\nwhat = "riser"\nsurface = 2\n', "measured[1].value", "a length"),
        ('[[measured]]\nwhat = "riser"\nsurface = 2\nvalue = nan\n', "measured[1].value", "a length"),
        ('[[measured]]\nwhat = "riser"\nsurface = 2\nvalue = "7 in +- -1 in"\n', "measured[1].value", "length"),
        ('[[measured]]\nwhat = "riser"\nsurface = 2\nvalu = 7\n', "measured[1].value", "a length"),
        ('[[measured]]\nwhat = "opening"\nsurface = 2\n', "measured[1].what", "value (across), lift, height, points"),
        ('[[measured]]\nwhat = "opening"\nsurface = 2\nvalue = 3\nlift = 1\n', "measured[1].what", "value and lift"),
        ('[[measured]]\nwhat = "opening"\nsurface = 1\nlift = 1\n', "measured[1].rise", "a flight that says"),
        ('[[measured]]\nwhat = "opening"\nsurface = 2\nlift = "x"\n', "measured[1].lift", "a length"),
        (
            '[[measured]]\nwhat = "opening"\nsurface = 2\nvalue = 3\nfrom_height = 5\nto_height = 4\n',
            "measured[1].to_height",
            "more than from_height",
        ),
        ('[[measured]]\nwhat = "opening"\nsurface = 2\npoints = [[0, 0], [1]]\n', "measured[1].points[2]", "[x, z]"),
        ('[[measured]]\nwhat = "opening"\nsurface = 2\nsides = [1, 2, 9]\n', "measured[1].", ""),
        ('[[measured]]\nwhat = "handrail extension"\nsurface = 2\nvalue = 3\n', "measured[1].place", "flight top"),
        ('[[measured]]\nwhat = "riser"\nsurface = 2\nvalue = 7\nplace = "any"\n', "measured[1].place", "left out"),
        # a flight of four risers has three treads before the upper landing's edge
        (OPENING_AT + "surface = 2\nstep = 4\n", "measured[1].step", "surface 2: a whole number from 1 to 3"),
        (OPENING_AT + "surface = 3\nstep = 3\n", "measured[1].step", "surface 3: a whole number from 1 to 2"),
        (OPENING_AT + "surface = 1\nrise = 7\nrun = 9\nstep = 1\n", "measured[1].step", "left out but"),
        ('[[measured]]\nwhat = "run"\nsurface = 2\nvalue = 11\nstep = 4\n', "measured[1].step", "1 to 3, got 4"),
        ('[[measured]]\nwhat = "riser"\nsurface = 2\nvalue = 7\nstep = 5\n', "measured[1].step", "1 to 4, got 5"),
        ("measured = 3\n", "measured", "tables [[measured]]"),
        ("[inspection]\nguard_band = 11\n", "inspection.guard_band", "from 0 to 10"),
        ("[inspection]\nplusminus = 1\n", "inspection.plusminus", '"plus_minus"'),
    ],
)
def test_each_mistake_has_its_line(refuse, tmp_path, row, start, words):
    path = tmp_path / "job.toml"
    surfaces = '[[surface]]\nkind = "landing"\nlength = 48\n'
    surfaces += '[[surface]]\nkind = "flight"\nrisers = 4\nrise = 7\nrun = 11\n'
    surfaces += '[[surface]]\nkind = "flight"\nnosings = [[0, 7], [11, 14], [22, 21]]\n'
    head = 'unit = "in"\nrules = "irc-2021"\n'
    first, rest = (row, "") if row.startswith("measured =") else ("", row)
    path.write_text(head + first + surfaces + rest, encoding="utf-8")
    lines = refuse("inspect", str(path))
    assert any(line.startswith(start) and words in line for line in lines), lines


def test_a_survey_with_nothing_in_it_is_told_all_that_it_lacks(refuse, tmp_path):
    path = tmp_path / "job.toml"
    path.write_text("")
    lines = refuse("inspect", str(path))
    assert [line.split(":")[0] for line in lines] == ["unit", "rules", "surface"]
    assert "irc-2021" in lines[1]


def test_a_surface_that_cannot_be_read_files_nothing_against_figures_taken_on_it(refuse, tmp_path):
    path = tmp_path / "job.toml"
    path.write_text(
        'unit = "in"\nrules = "irc-2021"\n[[surface]]\nkind = "landing"\nlength = 48\n'
        '[[surface]]\nkind = "flight"\nrisers = 7\nrise = "7,5"\nrun = 10\n'
        '[[measured]]\nwhat = "opening"\nsurface = 2\nstep = 3\nlift = 2\n'
        '[[measured]]\nwhat = "guard height"\nsurface = 2\nvalue = "-36"\n'
    )
    lines = refuse("inspect", str(path))
    assert [line.split(":")[0] for line in lines] == ["surface[2].rise", "measured[2].value"]


def test_what_is_no_job_or_pack(refuse, tmp_path):
    (line,) = refuse("inspect", "nothing.toml")
    assert "a job file that can be read" in line
    (line,) = refuse("inspect", ORCHARD, "--rules", "irc-1912")
    assert "a pack's name or the path of a .toml" in line
    (line,) = refuse("compare-rules", ORCHARD, "irc-2021", "irc-1912")
    assert "a pack's name" in line
    (line,) = refuse("inspect", ORCHARD, "--json", "--csv")
    assert line.startswith("--csv: must be left out with --json")
    (line,) = refuse("layout", "--json", "--csv")
    assert line.startswith("--csv")
    full = tmp_path / "full"
    full.mkdir()
    (full / "kept").write_text("kept", encoding="utf-8")
    (line,) = refuse("inspect", ORCHARD, "--out", str(full))
    assert "not empty" in line


def test_an_inspection_needs_no_sympy_or_matplotlib():
    program = f"import sys\nfrom stairguard.cli.main import main\nmain(['inspect', {ORCHARD!r}])\n"
    program += "print([m for m in ('sympy', 'matplotlib', 'scipy') if m in sys.modules], file=sys.stderr)"
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=False)
    assert done.stderr.strip() == "[]"


def test_several_lengths_to_measure_again_settle_it(tmp_path):
    """0.6.0 said that no one measurement settles it, and not to what the others have to be measured."""
    text = Path(ORCHARD).read_text(encoding="utf-8")
    given = "[[0, 0], [9.5, 0], [9.5, 4.25], [0, 3.5]]"
    assert given in text

    def wedge(points):
        path = tmp_path / "again.toml"
        path.write_text(text.replace(given, points), encoding="utf-8")
        found = stairguard.inspect(path)
        return next(one for one in found.findings if "wedge" in spot_words(one.place.where))

    told = wedge(given)
    assert told.verdict == "too close to call"
    (fix,) = told.fixes
    assert fix.advice.settling.again == ("z of point 2", "z of point 3", "z of point 4", "z of point 1")
    assert 0.017 <= fix.advice.settling.plus_minus < 0.018
    better = ', "{} +- 0.017"]'
    taken = "[[0" + better.format(0) + ", [9.5" + better.format(0) + ", [9.5" + better.format(4.25)
    assert wedge(f"{taken}, [0{better.format(3.5)}]").verdict == "fail"


BESIDE = """
title = "A stair and a landing with their strands on the stringer"
unit = "in"
rules = "irc-2021"

[[surface]]
kind = "flight"
risers = 5
rise = 7.75
run = 10
nosing = 1
tread = 1

[[measured]]
what = "opening"
surface = 1
step = 2
lift = LIFT
offset = OFFSET
strand_diameter = 0.125

[[measured]]
what = "opening"
surface = 1
points = [[0, 0, 0], [48, 0, 0], [48, 0, 3.75], [48, 2.79, 3.75], [0, 2.79, 3.75], [0, 0, 3.75]]
strand_edges = ["4:1/8in"]
"""


def test_openings_of_strands_that_stand_out_are_measured_in_space(run, tmp_path):
    """A step as the command has it; a landing by hypot(2.79, 3.75) - 1/16; each fix as printed, carried out."""
    job = tmp_path / "beside.toml"

    def found(lift, offset):
        job.write_text(BESIDE.replace("LIFT", str(lift)).replace("OFFSET", str(offset)), encoding="utf-8")
        data = json.loads(run("inspect", str(job), "--json")[1])
        return [f for f in data["findings"] if f["quantity"] == "opening" and f["value"] is not None]

    triangle, landing = sorted(found(-0.5, 3.75), key=lambda f: f["scope"] != "step triangle")
    sizes = {"nosing": 1, "tread": 1, "offset": 3.75, "strand_diameter": 0.125}
    assert triangle["value"] == pytest.approx(stairguard.step_opening(7.75, 10, -0.5, **sizes).sphere)
    assert triangle["verdict"] == landing["verdict"] == "fail"
    assert landing["value"] == pytest.approx((2.79**2 + 3.75**2) ** 0.5 - 1 / 16)
    for words in triangle["fix"].split("; or "):
        _, ((name, value, _),), _, _ = as_printed.read(words, "in")
        made = {"lift": -0.5, "offset": 3.75} | {name: float(value)}
        assert [f["verdict"] for f in found(**made) if f["scope"] == "step triangle"] == ["pass"], words
