"""The start of pages: the result, then each failure's clause, place, found, asked and fix, before anything else."""

from dataclasses import replace
from fractions import Fraction as F

import pytest

import stairguard
from stairguard.io.read.job_file import built_in_job
from stairguard.model.reasons import Why
from stairguard.reports.page.page_text import WIDTH
from stairguard.rules.findings.designed import inspect_layout
from tests.places import ROOT
from tests.solve.jobs import BASE
from tests.solve.lines import land
from tests.solve.twoposts import two_posts

EXAMPLES = sorted((ROOT / "shared" / "examples").glob("*.toml"))
FACTS = ("where: ", "found: ", "asked: ", "fix: ")


def start(page):
    """The page up to its title, its lines joined, and the title that follows."""
    lines = page.splitlines()
    title = [number for number, line in enumerate(lines) if line.startswith("====")][1] - 1
    assert max(map(len, lines)) <= WIDTH
    return " ".join(" ".join(lines[:title]).split()), lines[title]


def low(by):
    """The built-in job with its rail so much too low over both, by two clauses of its pack: 34 and 36 in at least."""
    job = built_in_job()
    return replace(job, rail=replace(job.rail, height=F(35) - by, landing_height=F(36) - by))


def test_a_failing_guard_starts_with_each_failure():
    page = stairguard.report(stairguard.lay_out(low(F(2))))
    head, title = start(page)
    assert title == built_in_job().title
    assert head.startswith("DOES NOT COMPLY with irc-2021: 2 things to mend. ")
    failures = head.split("FAILS: ")[1:]
    assert len(failures) == 2
    for failure, clause, key, found, asked, by in zip(
        failures,
        ("R312.1.2 ", "R312.1.2 exception 1"),
        ("landing_height", "height"),
        ("34 in", "33 in"),
        ("36 in", "34 in"),
        (2, 1),
        strict=True,
    ):
        assert failure.startswith(clause)
        places = [failure.index(fact) for fact in FACTS]
        assert places == sorted(places)
        assert f"found: {found} " in failure
        assert f"asked: at least {asked} " in failure
        assert f"short by: {by} in" in failure
        assert f"fix: rail.{key} = " in failure
        assert f'({by}" more)' in failure


@pytest.mark.parametrize(("over", "told"), [(F(0), True), (F(1, 32), True), (F(1, 16), False), (F(1), False)])
def test_what_is_tight_is_told_after_the_result(over, told):
    """36 in at least, read to a sixteenth: less than a mark over it is tight, a whole mark is not."""
    job = built_in_job()
    rail = replace(job.rail, height=F(37), landing_height=F(36) + over)
    head, _ = start(stairguard.report(stairguard.lay_out(replace(job, rail=rail))))
    assert 'passes by less than one mark (1/16")' in head
    tight = head.partition("TIGHT: ")[2]
    assert ("R312.1.2 (secondary): guard height" in tight) is told
    assert head.index("CAUTION, ") < head.index("TIGHT: ")


def test_a_guard_that_complies_says_so_and_what_to_do():
    head, _ = start(stairguard.report(stairguard.lay_out(built_in_job())))
    assert head.startswith("COMPLIES with irc-2021")
    assert "Build to the marks" in head
    assert "FAILS" not in head
    alone, _ = start(stairguard.report(stairguard.lay_out(replace(built_in_job(), rules="none"))))
    assert alone.startswith("COMPLIES with the job's own limits, and no rules")
    assert "CAUTION" not in alone


def test_the_larger_sphere_s_caution_stands_beside_its_verdict():
    checked = stairguard.lay_out(built_in_job())
    words = "some officials accept it only under a rigid bottom rail, and not under a strand"
    head, _ = start(stairguard.report(checked))
    assert words in head
    larger = [one for one in inspect_layout(checked).findings if one.scope == "step triangle"]
    assert larger
    assert all(one.why == (Why.LARGER_SPHERE,) for one in larger)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_failure_of_every_example_has_all_its_facts(path):
    checked = stairguard.lay_out(stairguard.read_job(path))
    head, _ = start(stairguard.report(checked))
    assert head.startswith("COMPLIES" if checked.passes else "DOES NOT COMPLY")
    failures = head.partition("CAUTION, ")[0].partition("TIGHT: ")[0].split("FAILS: ")[1:]
    assert bool(failures) is not checked.passes
    assert all(fact in failure for failure in failures for fact in FACTS)
    _tells_what_is_tight(checked, head.partition("TIGHT: ")[2])
    left = head.partition("TO SETTLE")[2].partition("CAUTION, ")[0].partition("TIGHT: ")[0]
    _tells_what_is_left(checked.layout, left)


def _tells_what_is_tight(checked, told):
    """Every limit kept by less than a mark, the job's own too."""
    job = checked.layout.job
    for one in inspect_layout(checked, fixes=False).findings:
        if one.verdict == "pass" and one.binding and one.unit == job.unit and one.margin is not None:
            own = "the job's own limit" if one.clause == "job" else one.clause
            if one.margin < job.mark:
                assert any(entry.startswith(own) and f": {one.quantity}" in entry for entry in told.split(" - ")), one


def _tells_what_is_left(layout, told):
    """Jogs by the rails' ends, strands by the reasons their runs give."""
    jogs = {joint.post: abs(joint.jog) for joint in layout.joints if joint.jog}
    assert ("see JOINTS" in told) is bool(jogs)
    if jogs:
        assert f"{max(jogs, key=jogs.get)}: see JOINTS" in told
    asked = ("last post", "newel", "wall", "none beyond", "line closes")
    ended = {
        post
        for run in layout.runs
        for why, post in zip(run.ends, (run.posts[0], run.posts[-1]), strict=True)
        if layout.job.strand.at_joints == "through" and why not in asked
    }
    assert ("see RUNS" in told) is bool(ended)
    if ended and "posts" not in told:
        assert all(post in told for post in ended)


def test_holes_that_meet_in_a_corners_one_post_are_to_settle_and_two_posts_keep_them_apart():
    job = replace(BASE, surfaces=(land(96), land(96, 90.0)))
    one, two = (start(stairguard.report(stairguard.lay_out(each)))[0] for each in (job, two_posts(job)))
    assert "holes of both sides meet in the corner's one post" in one
    assert 'post.corner = "two"' in one
    assert "holes of both sides meet" not in two


def test_the_start_of_an_ordinary_job_is_read_at_the_post():
    page = stairguard.report(stairguard.lay_out(built_in_job())).splitlines()
    assert page.index(built_in_job().title) <= 17
    late, _ = start(stairguard.report(stairguard.lay_out(low(F(2)))))  # what fails stands before what is to settle
    assert late.rindex("FAILS: ") < late.index("TO SETTLE")


def test_the_built_in_job_is_told_as_an_example_in_the_first_line():
    checked = stairguard.lay_out(built_in_job())
    said = "BUILT-IN EXAMPLE, not your stair: no job file was given. COMPLIES with irc-2021"
    assert stairguard.report(checked, example=True).startswith(said)
    assert "BUILT-IN EXAMPLE" not in stairguard.report(checked)


def test_an_inspection_starts_with_failures_then_what_is_too_close():
    found = stairguard.inspect(ROOT / "shared/inspections/orchard-back-stair.toml")
    head, title = start(stairguard.inspection_report(found))
    assert title == found.title
    assert head.startswith("DOES NOT COMPLY with irc-2021: 2 things to mend. ")
    assert head.count(" FAILS: ") == 2
    assert head.count(" TOO CLOSE TO CALL: ") == 6
    assert head.rindex(" FAILS: ") < head.index(" TOO CLOSE TO CALL: ")
    assert 'found: 35.75 in - asked: at least 36 in - short by: 0.25 in - fix: raise the rail by 1/4"' in head


def test_an_inspection_of_nothing_says_what_to_measure(tmp_path):
    path = tmp_path / "found.toml"
    path.write_text('rules = "irc-2021"\nunit = "in"\n[[surface]]\nkind = "landing"\nlength = 60\n', encoding="utf-8")
    head, _ = start(stairguard.inspection_report(stairguard.inspect(path)))
    assert head.startswith("INCOMPLETE under irc-2021: nothing fails, but not enough was measured. ")
    assert head.count("NOT MEASURED: ") >= 2
    assert "measure the opening on surface 1 ([[measured]] with what = " in head


def test_a_comparison_starts_with_each_pack_s_result(tmp_path):
    from stairguard.reports.page.rules.comparison_page import _matters, compared_text

    path = ROOT / "shared/examples/precast.toml"
    compared = stairguard.compare_rules(path, ["irc-2021", "nz-f4as1", "none"])
    head, _ = start(compared_text(compared))
    assert head.startswith("irc-2021 DOES NOT COMPLY; nz-f4as1 DOES NOT COMPLY; none COMPLIES. ")
    assert "FAILS under nz-f4as1: F4/AS1 Table 1 (secondary) - where: rail height" in head
    # of packs too many to stand side by side each is told in its turn, where it says anything
    sides = (3, ["irc-2021 nz-f4as1 none"]), (2, ["irc-2021 nz-f4as1"]), (1, ["irc-2021", "nz-f4as1"])
    for columns, told in sides:
        lines = [" ".join(line.split()) for line in _matters(compared.inspections, columns)]
        assert [line for line in lines if line.startswith("matter ")] == [f"matter {names}" for names in told]
        assert sum(line == "MATTER BY MATTER" for line in lines) == len(told)


def test_a_guard_s_give_starts_with_what_gives_way():
    job = stairguard.read_job(ROOT / "shared/examples/belvedere-taut.toml", {"force": "16 lbf"})
    checked = stairguard.lay_out(job)
    head, _ = start(stairguard.give_report(checked))
    assert head.startswith("DOES NOT COMPLY with the push asked for: ")
    failures = head.split("FAILS: ")[1:]
    assert failures
    assert all(fact in failure for failure in failures for fact in FACTS)
    assert all("asked: at least 16 lbf" in failure for failure in failures)
    taken = [failure.split("found: ")[1].split()[0] for failure in failures]
    assert all(float(push) < 16 for push in taken if push != "none:")
    held, _ = start(stairguard.give_report(stairguard.lay_out(replace(job, push=replace(job.push, force=F(8))))))
    assert held.startswith("COMPLIES with the push asked for.")


def test_a_bay_s_give_starts_with_its_result_and_a_change_that_holds():
    bay = {"diameter": "1/8in", "spacing": 3, "bay": 42, "run_length": "20ft", "sphere": "4in"}
    found = stairguard.strand_give(**bay, tension="200 lbf", force="8 lbf")
    head, _ = start(stairguard.give_report(found))
    assert head.startswith("DOES NOT COMPLY.")
    assert all(fact in head for fact in FACTS)
    assert "found: 6.75" in head
    again = stairguard.strand_give(**bay, tension=f"{found.answer.holding.needed.free * 1.0001} lbf", force="8 lbf")
    assert start(stairguard.give_report(again))[0].startswith("COMPLIES")
    assert start(stairguard.give_report(stairguard.strand_give(**bay, tension="200 lbf")))[0].startswith("NOT CHECKED")
