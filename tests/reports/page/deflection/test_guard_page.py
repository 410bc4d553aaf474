"""Strand give on the page and as data: what is printed is what was found, with where the tension is from."""

from __future__ import annotations

import json
import re
from collections import Counter
from dataclasses import replace
from decimal import ROUND_CEILING, Context
from fractions import Fraction as F
from functools import cache

import pytest

import stairguard
from stairguard.api.layout import report, result
from stairguard.model.guard.solved_layout import CheckedLayout
from stairguard.model.published.probe_forces import NAMED_PUSHES
from stairguard.reports.page.page_text import WIDTH
from stairguard.reports.words.deflection.bay_words import why_words
from stairguard.reports.words.deflection.deflection_words import SOURCES
from stairguard.reports.words.opening_words import where_words
from stairguard.reports.words.rules.verdict_words import UNJUDGED, outcome_head
from stairguard.rules.findings.checks import check
from stairguard.solve.load.guard_deflection import guard_give
from stairguard.solve.load.strand_properties import steel
from tests.reports.lines import EXAMPLES
from tests.solve.load.pushed import NEWTONS, asking, climate
from tests.texts import flat

SHOWN = [path for path in EXAMPLES if path.stem != "tower"]
DRYING = {"wood": "ipe", "moisture_from": F(15), "moisture_to": F(9), "settling": F(1, 2000)}
ASKED = {
    "all": {"climate": climate(frame=(("wood", F(1)),), **DRYING), "friction": F(1, 10), "post_stiffness": F(1000)},
    "cone": {"sphere": "usual", "probe": "cone", "force": "34", "climate": climate()},
    "no tension": {"tension": None},
    "no force": {"force": None, "climate": climate(frame=(("aluminium", F(3, 5)), ("steel", F(2, 5))))},
    "slack": {"tension": "0", "climate": climate()},
    "neither": {"tension": None, "force": None},
}
NAMES = ["built-in", *(path.stem for path in SHOWN)]
some = pytest.mark.parametrize("name", ["built-in", "deck-ramp", "workshop-break"])


@cache
def laid_out(name):
    job = (
        stairguard.built_in_job()
        if name == "built-in"
        else stairguard.read_job(next(p for p in SHOWN if p.stem == name))
    )
    plain = replace(job, push=replace(job.push, force=None), climate=None, strand=replace(job.strand, tension=None))
    return stairguard.lay_out(plain).layout


@cache
def given(name, kind, source="set"):
    """A line as asked, its page and its data."""
    layout = laid_out(name)
    layout = replace(layout, job=asking(layout.job, source=source, **ASKED[kind]))
    if kind != "neither":
        layout = replace(layout, give=guard_give(layout))
    checked = check(layout)
    guard = stairguard.guard_give(checked, fixes=False)
    return checked, guard, stairguard.give_report(checked, guard), stairguard.give_result(checked, guard)


def section(page, title):
    """Lines below a heading, up to the next."""
    lines = page.splitlines()
    start = lines.index(title) + 1
    end = next((i for i in range(start, len(lines)) if re.fullmatch(r"[A-Z][A-Z ,:]+", lines[i])), len(lines))
    return lines[start:end]


def rows(lines, head):
    """Cells of a table's rows below its head, split where two blanks are."""
    at = next(i for i, line in enumerate(lines) if line.split()[:2] == head.split()[:2] and flat(line) == head)
    found = []
    for line in lines[at + 1 :]:
        if not line.strip() or not line.startswith("  ") or line.startswith("      "):
            continue  # what is wrapped under a last column
        found.append(re.split(r"\s{2,}", line.strip()))
    return found


def enough(bounds):
    """Tensions to come up to: four digits, never less than what was found."""
    up = Context(prec=4, rounding=ROUND_CEILING)
    found = [None if bounds is None else bounds[way] for way in ("held", "free")]
    return ["-" if value is None else f"{float(up.create_decimal(value)):g}" for value in found]


def shown(bounds):
    return ["-" if bounds is None or bounds[way] is None else f"{bounds[way]:.4g}" for way in ("held", "free")]


@pytest.mark.parametrize("kind", ASKED)
@some
def test_it_fits_the_page_and_loses_no_words(name, kind):
    checked, guard, page, data = given(name, kind)
    for text in (page, report(checked)):
        assert max(map(len, text.splitlines())) <= WIDTH
        assert text.endswith("\n")
        assert set(text) - {"\n"} == {c for c in text if c.isprintable()}
        assert "None" not in text
        assert not re.search(r"\b(nan|inf)\b", text)
    told = flat(page)
    for caution in data["cautions"]:
        assert flat(caution) in told
    for figure in data["strand"]["figures"]:
        assert f"({figure['status']}: {flat(figure['source'].split(';')[0])}" in told  # the address is in the data
    for one in guard.give.openings if guard.give.push.force is not None else ():  # else no opening is asked about
        where = checked.layout.openings[one.opening].where.at_any_step
        assert where_words(where) in told


@pytest.mark.parametrize("name", NAMES)
def test_every_example_fits_the_page_and_is_sound_json(name):
    checked, _, page, data = given(name, "all")
    assert max(map(len, page.splitlines())) <= WIDTH
    assert json.loads(json.dumps(data, allow_nan=False)) == data
    assert json.loads(json.dumps(result(checked), allow_nan=False))["give"] == data["give"]


@pytest.mark.parametrize("kind", ASKED)
@some
def test_data_is_sound_json_however_it_is_asked(name, kind):
    checked, guard, _, data = given(name, kind)
    assert json.loads(json.dumps(data, allow_nan=False)) == data
    assert data["passes"] is guard.passes or kind == "cone"
    assert len(data["openings"]) == len(guard.give.openings)
    whole = json.loads(json.dumps(result(checked), allow_nan=False))
    if kind == "neither":
        assert whole["give"] is None
        return
    # the layout's own result tells every opening the same
    told = {one["opening"]: one for one in data["openings"]}
    for index, opening in enumerate(whole["openings"]):
        assert opening["give"] == (
            {k: v for k, v in told[index].items() if k not in ("opening", "where", "surface")}
            if index in told
            else None
        )


@pytest.mark.parametrize("kind", ["all", "cone", "no tension", "slack"])
@some
def test_figures_of_openings_on_the_page_are_those_of_the_data(name, kind):
    """Rows that are alike are told once: with their counts they come to every opening there is."""
    short = {"holds": "holds", "turned aside": "holds", "rigid": "rigid", None: "not judged"}
    _, _, page, data = given(name, kind)
    lines = section(page, "UNDER A PUSH")
    found = Counter()
    for verdict, *cells in rows(lines, "verdict push: held sliding tension: held sliding count where; why"):
        if len(cells) < 6:
            break  # the tables after it
        found[verdict, *cells[:4]] += int(cells[4])
    expected = Counter(
        (short.get(one["verdict"], "FAILS"), *shown(one["push"]), *enough(one["tension_for_force"]))
        for one in data["openings"]
    )
    assert found == expected


@pytest.mark.parametrize("kind", ["all", "no tension", "no force"])
@some
def test_figures_of_bays_on_the_page_are_those_of_the_data(name, kind):
    _, _, page, data = given(name, kind)
    lines = section(page, "BAYS")
    head = "strands clear run push: held sliding sag sinks: held sliding posts; surface"
    cells = {tuple(row[1:8]) for row in rows(lines, head)}
    decimals = 3 if data["unit"] == "in" else 1
    expected = {
        (
            *(f"{bay[key]:.{decimals}f}" for key in ("length", "run_length")),
            *shown(bay["push"]),
            "-" if bay["sag"] is None else f"{bay['sag']:.4g}",
            *shown(bay["sinks"]),
        )
        for bay in data["bays"]
    }
    assert cells == expected


@some
def test_loads_and_upkeep_on_the_page_are_those_of_the_data(name):
    _, _, page, data = given(name, "all")
    told = flat(" ".join(section(page, "LOADS HANDED ON")))
    for end in data["ends"]:
        figures = (end[key] for key in ("pull", "level", "plumb", "height", "moment", "rail_compression"))
        assert " ".join(f"{value:.5g}" if value else "0" for value in figures) in told
    for one in data["fittings"]:
        assert (
            f"{one['bend_deg']:.1f}° {one['force']:.4g} {one['edge_pressure']:.4g} {one['sleeve_pressure']:.4g}" in told
        )
    upkeep = flat(" ".join(section(page, "UPKEEP")))
    first, last = data["upkeep_run"]
    assert f"{first} to {last}" in upkeep
    kept = data["upkeep"]
    for value in (kept["lowest"]["tension"], kept["highest"]["tension"], kept["shortening"]):
        assert f"{value:.4g}" in upkeep
    assert ("SLACK" in upkeep) is kept["slack"]


def test_a_force_that_no_tension_holds_has_none_to_tell():
    layout = laid_out("deck-ramp")
    layout = replace(layout, job=asking(layout.job, force="10000"))
    layout = replace(layout, give=guard_give(layout))
    data = stairguard.give_result(check(layout))
    json.dumps(data, allow_nan=False)
    assert {one["tension_for_force"]["free"] for one in data["openings"]} == {None}
    assert {one["verdict"] for one in data["openings"]} == {"gives way"}


@some
def test_a_slack_strand_is_said_to_be(name):
    _, _, page, data = given(name, "slack")
    assert data["upkeep"]["slack"]
    assert "SLACK" in page
    assert all(bay["sag"] is None for bay in data["bays"])


@pytest.mark.parametrize("source", SOURCES)
@pytest.mark.parametrize("kind", ["all", "no force"])
def test_where_a_tension_is_from_is_told_wherever_there_is_a_verdict(source, kind):
    checked, _, page, data = given("deck-ramp", kind, source)
    assert data["give"]["tension"]["source"] == source
    assert result(checked)["give"]["tension"]["source"] == source
    for text in (page, report(checked)):
        lines = flat(" ".join(section(text, "UNDER A PUSH")))
        tension = float(checked.layout.job.strand.tension)
        assert f"Tension at rest {tension:.8g} N, {SOURCES[source]}." in lines
    others = {source_: given("deck-ramp", kind, source_)[0] for source_ in SOURCES}
    compared = stairguard.guard_give(checked, others)
    beside = flat(" ".join(section(stairguard.give_report(checked, compared), "SIDE BY SIDE")))
    assert f"how that is known {source} {' '.join(SOURCES)}" in beside
    assert [one["source"] for one in stairguard.give_result(checked, compared)["compared"]] == [source, *SOURCES]


@pytest.mark.parametrize("source", SOURCES)
def test_of_one_bay_too(source):
    asked = {"diameter": "1/8", "spacing": "3", "bay": "42", "tension": "200", "force": "7", "tension_source": source}
    found = stairguard.strand_give(compare=("spacing=2", "tension=300"), **asked)
    assert f"{SOURCES[source]}." in flat(stairguard.give_report(found))
    data = stairguard.give_result(found)
    assert data["tension"] == {"value": 200.0, "source": source}
    # a tension only thought of was neither measured nor set
    assert [one["tension"]["source"] for one in data["compared"]] == [source, "assumed"]
    assert f"how that is known {source} {source} assumed" in flat(stairguard.give_report(found))
    json.dumps(data, allow_nan=False)


@some
def test_without_a_force_verdicts_are_rigid_and_publications_named(name):
    """All of them, with what tension would hold each; a force of none is none's to hold."""
    for kind in ("no force", "neither"):
        checked, guard, page, data = given(name, kind)
        assert guard.passes is None
        assert data["passes"] is None
        for text in (page, report(checked)):
            lines = flat(" ".join(section(text, "UNDER A PUSH")))
            assert "RIGID" in lines
            assert "No force was asked for." in lines
            for named in NAMED_PUSHES.values():
                assert named.title in lines
            assert "none needed" in lines


def test_what_came_of_the_push_is_told_once():
    for kind, head in (("all", outcome_head("does not comply")), ("no force", UNJUDGED)):
        _, _, page, _ = given("deck-ramp", kind)
        assert page.startswith(head)
        assert "Verdict" not in page
        assert page.count(head) == 1


def test_a_strand_that_is_to_break_fails_though_no_force_is_asked_for():
    layout = laid_out("deck-ramp")
    strand = layout.job.strand
    most = F(steel(strand, strand.diameter, layout.job.unit).breaking) * F(99, 100) / NEWTONS
    cold = climate(coldest=F(-40), frame=(("rigid", F(1)),))
    layout = replace(layout, job=asking(layout.job, tension=most, force=None, climate=cold))
    checked = check(replace(layout, give=guard_give(layout)))
    guard = stairguard.guard_give(checked, fixes=False)
    assert guard.give.passes is None
    assert guard.upkeep.breaks
    assert (guard.passes, guard.outcome) == (False, "does not comply")
    assert stairguard.give_result(checked, guard)["passes"] is False
    assert stairguard.give_report(checked, guard).startswith(outcome_head("does not comply"))


def test_without_a_rule_or_a_probe_there_is_no_size_to_hold_to():
    """Nothing is judged and nothing promised: Australia's cone alone brings its own size."""
    layout = stairguard.lay_out(replace(stairguard.built_in_job(), rules="none")).layout
    for force in (None, "10"):
        pushed = replace(layout, job=asking(layout.job, force=force))
        checked = check(replace(pushed, give=guard_give(pushed)))
        page = flat(stairguard.give_report(checked, stairguard.guard_give(checked, fixes=False)))
        assert page.startswith(UNJUDGED)
        assert checked.layout.give.passes is None
        named = [name for name in NAMED_PUSHES.values() if name.force_in("in")]
        assert page.count("no size to hold to") == len(named) - 1


@some
def test_without_a_tension_verdicts_are_rigid_and_what_would_hold_is_told(name):
    checked, _, page, data = given(name, "no tension")
    assert data["give"]["tension"] is None
    for text in (page, report(checked)):
        assert "RIGID" in " ".join(section(text, "UNDER A PUSH"))
        assert "HOLDS" not in " ".join(section(text, "UNDER A PUSH"))
    assert any(one["tension_for_force"] and one["tension_for_force"]["free"] for one in data["openings"])
    assert {one["verdict"] for one in data["openings"]} <= {
        None,
        "rigid",
        "turned aside",
        "passes untouched",
        "no answer",
    }
    assert isinstance(checked, CheckedLayout)


@some
def test_the_tension_told_for_a_publication_holds_it(name):
    """Put in as the job's, it holds all that any tension can, and a little less does not."""
    layout = laid_out(name)
    text = flat(" ".join(section(given(name, "neither")[2], "UNDER A PUSH")))
    named = NAMED_PUSHES["north-carolina-2018"]
    unit = layout.job.unit
    force = "lbf" if unit == "in" else "N"
    value = float(named.force_in(unit))
    found = re.search(rf"{value:.4g} {force} ([\d.]+) {force}(?:, but for (\d+))? North", text)
    tension, never = float(found[1]), int(found[2] or 0)
    for part, more in ((1.001, 0), (0.999, 1)):
        strand = replace(layout.job.strand, tension=F(tension * part))
        job = replace(layout.job, strand=strand, push=replace(layout.job.push, force=named.force_in(unit)))
        give = guard_give(replace(layout, job=job))
        failing = sum(one.verdict in ("gives way", "between", "passes untouched") for one in give.openings)
        assert failing >= never + more
        assert (failing == never) is (not more)


@pytest.mark.parametrize("more", [{}, {"probe": "cone"}, {"friction": "0.1"}, {"spacing": None, "edge": "2.05"}])
def test_one_bay_s_working_stands_on_its_page(more):
    """A probe of 4 in and a strand of 1/8 touch at half of both, 2.0625, whatever the probe's form."""
    asked = {"diameter": "1/8in", "spacing": 3, "bay": 42, "run_length": "20ft", "tension": "200 lbf", "sphere": "4in"}
    found = stairguard.strand_give(**{key: value for key, value in (asked | more).items() if value is not None})
    assert found.answer.reach == 2.0625
    assert (found.answer.asked.push.probe, found.answer.asked.strands) == (
        more.get("probe", "sphere"),
        2 - ("edge" in more),
    )
    (working,) = why_words(found.answer)
    assert flat(working) in flat(stairguard.give_report(found))
