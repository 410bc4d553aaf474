"""What give's page tells to set is set on the job file as printed, and the guard asked again.

How far a strand can go down is reckoned by hand: its hole may meet the nosing line, half a mark and half its own
thickness below its centre, square.
"""

import re
from functools import cache
from tempfile import NamedTemporaryFile

import pytest

import stairguard
from stairguard.reports.words.fix_words import fixes_words
from stairguard.reports.words.rules.verdict_words import outcome_head
from stairguard.rules.findings.designed import inspect_layout

JOB = """
unit = "in"
mark = "1/16 in"
rules = "irc-2021"
rail = {height = 36, landing_height = 36, depth = 1.5, width = 3.5}
post = {width = 1.5, max_gap = 42, setback = 5}
push = {force = "8 lbf"}
surface = [
    {kind = "landing", length = 20},
    {kind = "flight", risers = 4, rise = 7.25, run = 10.5, nosing = 1, tread = 1.25},
    {kind = "landing", length = 20},
]
[strand]
diameter = "1/8 in"
spacing = 2.5
at_joints = "through"
angle_changes = 2
"""
SET = re.compile(r'strand\.(\w+) = "([^"]+)"')


@cache
def checked(*strand):
    keys = {"tension": '"300 lbf"'} | {key: f'"{value}"' for key, value in strand}
    with NamedTemporaryFile("w", suffix=".toml") as file:
        file.write(JOB + "".join(f"{key} = {value}\n" for key, value in keys.items()))
        file.flush()
        return stairguard.lay_out(stairguard.read_job(file.name))


def page(*strand):
    return " ".join(stairguard.give_report(checked(*strand)).split())


def fixes():
    return re.findall(r"- fix: (.+?)(?= FAILS:| Strand give:)", page())


def test_what_the_page_tells_to_set_holds_every_opening_once_set():
    """Lowering alone cannot: the strand would have to go below the nosing line."""
    for told in set(fixes()):
        keys = SET.findall(told)
        assert {key for key, _ in keys} == {"lower", "tension"}, told
        assert page(*keys).startswith(outcome_head("complies"))


def test_both_pages_tell_the_same_fix():
    push = next(one for one in inspect_layout(checked()).findings if one.quantity == "push")
    assert {told.removeprefix("for every opening at once, ") for told in fixes()} == {fixes_words(push.fixes)}


@pytest.mark.parametrize("lower", [0.675, 3])
def test_a_strand_that_stops_at_the_nosing_line_is_told_and_how_far_down_that_is(lower):
    strings = [float(checked(*own).layout.fields[1].heights[-1]) for own in ((), (("lower", lower),))]
    square = (1 + (7.25 / 10.5) ** 2) ** 0.5
    stands = strings[1] / square - 1 / 16  # of its lower face
    assert stands == pytest.approx(1 / 32 / square)
    told = page(("lower", lower))
    assert f"strand.lower = {lower:.4g} in is not reached over surface 2" in told
    assert f"stops {(strings[0] - strings[1]) / square:.4g} in lower" in told
    assert "is not reached" not in page(("lower", "1/2 in"))


def test_what_passes_untouched_is_told_by_its_opening_alone(tmp_path):
    """Strands 6 in apart before a sphere of 4: no bay of theirs is the hardest, so none is named."""
    path = tmp_path / "job.toml"
    path.write_text(
        'title = "x"\nunit = "in"\nrules = "none"\n[rail]\nheight = 36\ndepth = 1.5\nwidth = 3.5\n'
        '[strand]\ndiameter = "1/8 in"\nspacing = 6\ntension = "200 lbf"\n'
        '[post]\nwidth = 1.5\nmax_gap = 48\nsetback = 5\n[push]\nforce = "10 lbf"\nsphere = 4\n'
        '[[surface]]\nkind = "landing"\nlength = 90\n'
    )
    checked = stairguard.lay_out(stairguard.read_job(path))
    lines = stairguard.give_report(checked, stairguard.guard_give(checked)).splitlines()
    start = "  - where: surface 1 (landing): "
    told = [line.removeprefix(start) for line in lines if line.startswith(start)]
    assert told == ["under the rail", "between strands", "under the lowest strand"]
