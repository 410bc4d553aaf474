"""The overall verdict, and the cautions a layout gives rise to."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from stairguard.model.cautions import (
    JogLeft,
    LowNeighbour,
    NotRead,
    PlainCaution,
    PracticeUnmet,
)
from stairguard.model.guard.guard_openings import Opening
from stairguard.model.guard.opening_kinds import Where
from stairguard.model.guard.pieces import StrandRun
from stairguard.model.subjects import AtPosts, AtStrand, BetweenPosts
from stairguard.reports.words.caution_words import caution_texts
from stairguard.reports.words.general_cautions import ALWAYS
from stairguard.rules.findings.checks import check
from stairguard.rules.findings.practice import practised
from stairguard.rules.pack.reader import read_rules

HAIR = Fraction(1, 10**12)
NONE = read_rules("none", "in")


def _told(checked, kind):
    return [c for c in checked.cautions if isinstance(c, kind)]


def _opening(passes, rule=None):
    return Opening(
        where=Where("under rail"),
        surface=0,
        sphere=3.0,
        sphere_as_marked=3.0,
        rule=rule,
        passes=passes,
        touches=(),
        contacts=(),
        centre=(0.0, 0.0),
    )


def _run(length, angle_changes=0, bay=40.0):
    return StrandRun(
        strand=1,
        surfaces=(0,),
        posts=("P1", "P2"),
        angle_changes=angle_changes,
        length=length,
        cut_length=length,
        ends=("last post", "last post"),
        bears=("outer face", "outer face"),
        tensioner="P2",
        longest_bay=bay,
    )


def test_one_failing_opening_fails_the_layout(make_layout):
    assert check(make_layout(NONE, openings=(_opening(None), _opening(True)))).passes
    assert not check(make_layout(NONE, openings=(_opening(True), _opening(False)))).passes


def test_no_rules_limit_nothing_but_the_job(make_layout):
    checked = check(make_layout(NONE, height=Fraction(3), rise=Fraction(20)))
    assert checked.passes
    assert {c.clause for c in checked.checks} == {"job"}
    assert PlainCaution.NO_RULES in checked.cautions


def test_what_is_always_said(make_layout):
    for rules in (NONE, read_rules("irc-2021", "in")):
        cautions = caution_texts(check(make_layout(rules)).cautions, "in")
        assert cautions[: len(ALWAYS)] == ALWAYS
        assert set(rules.cautions) <= set(cautions)
        assert len(set(cautions)) == len(cautions)
    for word in (
        "authority having jurisdiction",
        "licensed engineer",
        "under force",
        "climbed",
        "eye protection",
    ):
        assert any(word in text for text in ALWAYS), word


def test_memory_and_copies_are_named(make_layout):
    irc = read_rules("irc-2021", "in")
    checked = check(make_layout(irc, openings=(_opening(True, irc.opening("open riser")),)))
    memory, copies = _told(checked, NotRead)
    assert (memory.status, copies.status) == ("from memory", "secondary")
    assert {"R311.7.3", "R311.7.5.1, open risers"} <= set(memory.clauses)
    assert "R312.1.2 exception 1" in copies.clauses
    # The open riser's rule is named only where it was used.
    memory = _told(check(make_layout(irc)), NotRead)[0]
    assert not any("open risers" in clause for clause in memory.clauses)


def test_step_triangle_caution_only_where_used(make_layout):
    irc = read_rules("irc-2021", "in")
    used = check(make_layout(irc, openings=(_opening(True, irc.opening("step triangle")),)))
    assert PlainCaution.LARGER_SPHERE in used.cautions
    other = check(make_layout(irc, openings=(_opening(True, irc.opening("flight")),)))
    assert PlainCaution.LARGER_SPHERE not in other.cautions


@pytest.mark.parametrize(("unit", "inch"), [("in", 1), ("mm", 25.4)])
def test_practice_is_a_caution_and_no_failure(make_layout, unit, inch):
    rules = read_rules("none", unit)
    calm = check(make_layout(rules, unit, runs=(_run(900 * inch, 1),)))
    assert not _told(calm, PracticeUnmet)
    for changes, word in (
        ({"runs": (_run(900 * inch * (1 + 1e-9)),)}, "75 ft"),
        ({"runs": (_run(10.0, 2),)}, "changes of angle"),
        ({"strand_plumb": (3 + Fraction(1, 10**6)) * Fraction(str(inch)), "spacing": Fraction(900)}, "strand spacing"),
        ({"runs": (_run(100.0, bay=48 * inch * (1 + 1e-9)),)}, "clear gap between posts"),
    ):
        checked = check(make_layout(rules, unit, **changes))
        (one,) = _told(checked, PracticeUnmet)
        assert word in caution_texts([one], unit)[-1]
        assert checked.passes


def test_jog_and_take_ups(make_layout):
    checked = check(make_layout(NONE, jog=Fraction(-2), take_up=Fraction(0)))
    assert _told(checked, JogLeft) == [JogLeft("P2", 2), JogLeft("P3", 2)]
    assert PlainCaution.NO_TAKE_UPS in checked.cautions
    calm = check(make_layout(NONE))
    assert not _told(calm, JogLeft)
    assert PlainCaution.NO_TAKE_UPS not in calm.cautions


def test_flight_rail_that_runs_on_over_the_landing(make_layout):
    # A flight rail of 34 in meets a landing rail of 36 in 2 x 11/7 in past the top nosing (triangles), so at
    # the nosing itself the guard stands 34 in over the landing, where R312.1.2 asks 36.
    irc = read_rules("irc-2021", "in")
    low, top, past = Fraction(48), Fraction(48 + 22), Fraction(22, 7)
    posts = (Fraction(1), low - Fraction(55, 7), top + past, top + 40)
    layout = make_layout(irc, height=Fraction(34), landing_height=Fraction(36), posts=posts)
    checked = check(layout)
    (one,) = _told(checked, LowNeighbour)
    assert (one.surface, one.kind, one.least, one.asked) == (2, "landing", 34, 36)
    # At the bottom the flight's rail stands higher over the landing than the landing's own: nothing to say.
    assert checked.passes


def test_practice_names_the_posts_at_the_ends_of_a_run(make_layout):
    bent = replace(_run(50.0, 2), posts=("P1", "P2", "P3", "P4"), strand=5)
    told = {f.quantity: f for f in practised(make_layout(NONE, runs=(_run(90.0), bent)))}
    assert told["run bends"].what == BetweenPosts(AtPosts("P1", "P4"), "most bends")
    assert told["run bends"].place.where == AtStrand(5)
    assert told["strand run"].what == BetweenPosts(AtPosts("P1", "P2"), "longest run")
