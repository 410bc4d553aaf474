"""The start of pages: the result, then each failure's clause, place, found, asked and fix, before anything else."""

from dataclasses import replace
from fractions import Fraction as F

import pytest

import stairguard
from stairguard.io.read.job_file import built_in_job
from stairguard.model.fixes import Change, Fix, ToMeasure
from stairguard.model.reasons import Why
from stairguard.reports.page.page_text import WIDTH
from stairguard.reports.words.fix_words import fixes_words
from stairguard.reports.words.general_cautions import EXAMPLE, LARGER_SPHERE
from stairguard.reports.words.rules.alike_findings import alike
from stairguard.reports.words.rules.matter_words import matters
from stairguard.reports.words.rules.verdict_words import FAILS, HEAD_VERDICTS, UNJUDGED, outcome_head
from stairguard.reports.words.settle_words import left_open
from stairguard.rules.findings.designed import inspect_layout
from tests.places import ROOT
from tests.solve.jobs import BASE
from tests.solve.lines import land
from tests.solve.twoposts import two_posts
from tests.texts import flat

EXAMPLES = sorted((ROOT / "shared" / "examples").glob("*.toml"))
FACTS = ("where: ", "found: ", "asked: ", "fix: ")
PARTS = ("JOINTS", "RUNS")
COMPLIES, DOES_NOT = outcome_head("complies"), outcome_head("does not comply")
CLOSE, UNMEASURED = HEAD_VERDICTS["too close to call"], HEAD_VERDICTS["not checked"]


def start(page):
    """The page up to its title, its lines joined, and the title that follows."""
    lines = page.splitlines()
    title = [number for number, line in enumerate(lines) if line.startswith("====")][1] - 1
    assert max(map(len, lines)) <= WIDTH
    return flat(" ".join(lines[:title])), lines[title]


def entries(head, verdict=FAILS):
    """What the start of a page tells one by one, before what is tight and the cautions."""
    return head.partition("CAUTION, ")[0].partition("TIGHT: ")[0].split(f" {verdict}: ")[1:]


def in_order(text, *parts):
    """Whether all of these are there, each after the one before."""
    places = [text.find(part) for part in parts]
    return -1 not in places and places == sorted(places)


def low(by):
    """The built-in job with its rail so much too low over both, by two clauses of its pack: 34 and 36 in at least."""
    job = built_in_job()
    return replace(job, rail=replace(job.rail, height=F(35) - by, landing_height=F(36) - by))


def test_a_failing_guard_starts_with_each_failure():
    checked = stairguard.lay_out(low(F(2)))
    head, title = start(stairguard.report(checked))
    assert title == built_in_job().title
    assert head.startswith(DOES_NOT)
    inspection = inspect_layout(checked)
    failures = [same[0] for same in alike(one for one in inspection.findings if one.verdict == "fail")]
    told = matters(inspection)
    assert [(one.clause, one.value, one.kind, one.limit, one.margin) for one in failures] == [
        ("R312.1.2", 34, "at least", 36, -2), ("R312.1.2 exception 1", 33, "at least", 34, -1),
    ]  # fmt: skip
    steps = [step for one in failures for step in one.fixes[0].steps if isinstance(step, Change)]
    assert [(step.table, step.key, step.by) for step in steps] == [("rail", "landing_height", 2), ("rail", "height", 1)]
    assert len(entries(head)) == 2
    for entry, one, finding in zip(entries(head), told, failures, strict=True):
        assert entry.startswith(finding.clause)
        assert in_order(entry, *FACTS)
        assert in_order(entry, one.clause, one.where, one.found, one.asked, one.short, one.fix)
        assert one.fix == fixes_words(finding.fixes)


@pytest.mark.parametrize(("over", "told"), [(F(0), True), (F(1, 32), True), (F(1, 16), False), (F(1), False)])
def test_what_is_tight_is_told_after_the_result(over, told):
    """36 in at least, read to a sixteenth: less than a mark over it is tight, a whole mark is not."""
    job = built_in_job()
    rail = replace(job.rail, height=F(37), landing_height=F(36) + over)
    checked = stairguard.lay_out(replace(job, rail=rail))
    head, _ = start(stairguard.report(checked))
    found = {(one.clause, one.quantity) for one in inspect_layout(checked, fixes=False).tight}
    assert (("R312.1.2", "guard height") in found) is told
    tight = head.partition("TIGHT: ")[2]
    assert any(one.startswith("R312.1.2 (") and "guard height" in one for one in tight.split(" - ")) is told
    assert head.index("CAUTION, ") < head.index("TIGHT: ")


def test_a_guard_that_complies_says_so_and_what_to_do():
    head, _ = start(stairguard.report(stairguard.lay_out(built_in_job())))
    assert head.startswith(COMPLIES)
    assert "irc-2021" in head.partition(",")[0]
    assert FAILS not in head
    alone, _ = start(stairguard.report(stairguard.lay_out(replace(built_in_job(), rules="none"))))
    assert alone.startswith(COMPLIES)
    assert "irc-2021" not in alone
    assert "CAUTION" not in alone


def test_the_larger_sphere_s_caution_stands_beside_its_verdict():
    checked = stairguard.lay_out(built_in_job())
    head, _ = start(stairguard.report(checked))
    assert LARGER_SPHERE in head
    larger = [one for one in inspect_layout(checked).findings if one.scope == "step triangle"]
    assert larger
    assert all(one.why == (Why.LARGER_SPHERE,) for one in larger)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_failure_of_every_example_has_all_its_facts(path):
    checked = stairguard.lay_out(stairguard.read_job(path))
    head, _ = start(stairguard.report(checked))
    assert head.startswith(COMPLIES if checked.passes else DOES_NOT)
    failures = entries(head)
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
    (jogged, ended_there) = ([text for text in left_open(layout) if text.endswith(f"see {one}")] for one in PARTS)
    assert len(jogged) == bool(jogs)
    if jogs:
        assert max(jogs, key=jogs.get) in jogged[0]
    asked = ("last post", "newel", "wall", "none beyond", "line closes")
    ended = {
        post
        for run in layout.runs
        for why, post in zip(run.ends, (run.posts[0], run.posts[-1]), strict=True)
        if layout.job.strand.at_joints == "through" and why not in asked
    }
    assert len(ended_there) == bool(ended)
    if ended and "posts" not in ended_there[0]:
        assert all(post in ended_there[0] for post in ended)
    assert all(flat(text) in told for text in left_open(layout))


def test_holes_that_meet_in_a_corners_one_post_are_to_settle_and_two_posts_keep_them_apart():
    job = replace(BASE, surfaces=(land(96), land(96, 90.0)))
    one, two = (stairguard.lay_out(each) for each in (job, two_posts(job)))
    (joint,) = one.layout.joints
    assert [post.label for post in one.layout.posts if post.close] == [joint.post]
    (text,) = (text for text in left_open(one.layout) if joint.post in text and 'post.corner = "two"' in text)
    assert flat(text) in start(stairguard.report(one))[0]
    assert not [text for text in left_open(two.layout) if "post.corner" in text]


def test_the_start_of_an_ordinary_job_is_read_at_the_post():
    page = stairguard.report(stairguard.lay_out(built_in_job())).splitlines()
    assert page.index(built_in_job().title) <= 17
    late, _ = start(stairguard.report(stairguard.lay_out(low(F(2)))))  # what fails stands before what is to settle
    assert late.rindex(f"{FAILS}: ") < late.index("TO SETTLE")


def test_the_built_in_job_is_told_as_an_example_in_the_first_line():
    checked = stairguard.lay_out(built_in_job())
    assert stairguard.report(checked, example=True).startswith(f"{EXAMPLE} {COMPLIES}")
    assert EXAMPLE not in stairguard.report(checked)


def test_an_inspection_starts_with_failures_then_what_is_too_close():
    found = stairguard.inspect(ROOT / "shared/inspections/orchard-back-stair.toml")
    head, title = start(stairguard.inspection_report(found))
    assert title == found.title
    assert head.startswith(DOES_NOT)
    assert head.count(f" {FAILS}: ") == 2
    assert head.count(f" {CLOSE}: ") == 6
    assert head.rindex(f" {FAILS}: ") < head.index(f" {CLOSE}: ")
    (low,) = (one for one in found.findings if one.verdict == "fail" and one.value == 35.75)
    assert (low.kind, low.limit, low.margin) == ("at least", 36, -0.25)
    (step,) = low.fixes[0].steps
    assert (step.value - step.now, step.quantity) == (F(1, 4), "guard height")
    (one,) = (one for one in matters(found) if one.fix == fixes_words(low.fixes))
    assert any(in_order(entry, one.where, one.found, one.asked, one.short, one.fix) for entry in entries(head))


def test_an_inspection_of_nothing_says_what_to_measure(tmp_path):
    path = tmp_path / "found.toml"
    path.write_text('rules = "irc-2021"\nunit = "in"\n[[surface]]\nkind = "landing"\nlength = 60\n', encoding="utf-8")
    found = stairguard.inspect(path)
    head, _ = start(stairguard.inspection_report(found))
    assert head.startswith(outcome_head("incomplete"))
    wanted = [one for one in found.findings if one.needed and one.verdict == "not checked"]
    measures = {step for one in wanted for fix in one.fixes for step in fix.steps}
    assert ToMeasure("opening", (0,)) in measures
    assert len(entries(head, UNMEASURED)) >= 2
    assert all(flat(fixes_words([Fix((step,))])) in head for step in measures)


def test_a_comparison_starts_with_each_pack_s_result(tmp_path):
    from stairguard.reports.page.rules.comparison_page import _matters, comparison_report

    path = ROOT / "shared/examples/precast.toml"
    compared = stairguard.compare_rules(path, ["irc-2021", "nz-f4as1", "none"])
    head, _ = start(comparison_report(compared))
    assert head.startswith(f"irc-2021 {DOES_NOT}; nz-f4as1 {DOES_NOT}; none {COMPLIES}. ")
    assert f"{FAILS} under nz-f4as1: F4/AS1 Table 1 (secondary)" in head
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
    assert head.startswith(DOES_NOT)
    failures = entries(head)
    assert failures
    assert all(fact in failure for failure in failures for fact in FACTS)
    assert all("asked: at least 16 lbf" in failure for failure in failures)
    taken = [failure.split("found: ")[1].split()[0] for failure in failures]
    assert all(float(push) < 16 for push in taken if push != "none:")
    held, _ = start(stairguard.give_report(stairguard.lay_out(replace(job, push=replace(job.push, force=F(8))))))
    assert held.startswith(COMPLIES)


def test_a_bay_s_give_starts_with_its_result_and_a_change_that_holds():
    bay = {"diameter": "1/8in", "spacing": 3, "bay": 42, "run_length": "20ft", "sphere": "4in"}
    found = stairguard.strand_give(**bay, tension="200 lbf", force="8 lbf")
    head, _ = start(stairguard.give_report(found))
    assert head.startswith(f"{DOES_NOT}.")
    assert all(fact in head for fact in FACTS)
    assert "found: 6.75" in head
    again = stairguard.strand_give(**bay, tension=f"{found.answer.holding.needed.free * 1.0001} lbf", force="8 lbf")
    assert start(stairguard.give_report(again))[0].startswith(COMPLIES)
    assert start(stairguard.give_report(stairguard.strand_give(**bay, tension="200 lbf")))[0].startswith(UNJUDGED)
