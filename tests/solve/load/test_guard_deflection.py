"""Bays and openings of whole lines under a push, against points in space and every bay tried by brute force."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from fractions import Fraction as F
from functools import cache
from itertools import pairwise

import numpy as np
import pytest

from stairguard.model.guard.strand_deflection import STOPPED, HeldAndFree, ProbePlace
from stairguard.model.job import Push
from stairguard.reports.words.deflection.deflection_words import closer_words
from stairguard.reports.words.lengths import Figures
from stairguard.rules.findings.checks import check
from stairguard.rules.findings.designed import inspect_layout
from stairguard.rules.pack.reader import read_rules
from stairguard.solve.lay_out import lay_out
from stairguard.solve.load import guard_deflection
from stairguard.solve.load.guard_deflection import GuardBay, _places, bays, guard_give, under
from stairguard.solve.load.reactions import guard_report
from stairguard.solve.load.resistance import holding
from stairguard.solve.load.strand_contacts import ProbeBearing, seated
from stairguard.solve.load.strand_properties import taut
from tests.solve.jobs import BASE
from tests.solve.lines import land, odd, printed, solved, up
from tests.solve.load.pushed import LINES, SOME, asking, pushed
from tests.solve.test_lay_out_reversal import turned_back
from tests.solve.test_lay_out_walk import Walk
from tests.solve.twoposts import two_posts

every_line = pytest.mark.parametrize("name", LINES)
BACK = ("workshop-break", "surveyed", "short straight runs", "random 5", "two random 87", "two broken at one post")
some_lines = pytest.mark.parametrize("name", SOME)


class Line:
    """A layout with its printed result walked through in space."""

    def __init__(self, name):
        self.layout = solved(LINES[name])
        self.walk = Walk(printed(LINES[name]))
        self.corners = {(j.post, j.second_post): j for j in self.layout.joints if j.second_post}

    def between(self, run, pair):
        """Points on the two posts' centre lines where a run's strand passes them."""
        return [self.hole(label, run) for label in pair]

    def hole(self, label, run):
        """At a corner's far post, where it ends, a strand has a hole of the other leg's."""
        post = self.walk.posts[label]
        holes = [hole for hole in post["holes"] if hole["strand"] == run.strand]
        here = [hole for hole in holes if set(hole["surfaces"]) & set(run.surfaces)] or holes
        (height,) = {hole["height"] for hole in here}
        return np.array([*self.walk.plan(post["station"], True), post["base"] + height])

    def clear(self, run, pair):
        """Clear length along the strand: a post's half-width past its centre, where it comes out of the face."""
        p, q = self.between(run, pair)
        level = math.hypot(*(q - p)[:2])
        halves = sum(self.walk.halves[label] for label in pair)
        if pair in self.corners:
            # square posts, each turned by half the turn from the line between them: out of the nearer face
            aside = math.radians(abs(self.corners[pair].turn_deg) / 2)
            halves /= max(math.cos(aside), math.sin(aside))
        return float(np.linalg.norm(q - p)) * (1 - halves / level)


@cache
def walked(name):
    return Line(name)


@every_line
def test_every_bay_is_found_once_with_its_length_and_all_its_strands(name):
    line = walked(name)
    layout = line.layout
    passing = {}
    for run in layout.runs:
        assert len(run.bays) == len(run.posts) - 1
        assert run.longest_bay == max(run.bays)
        for pair, bay in zip(pairwise(run.posts), run.bays, strict=True):
            assert bay == pytest.approx(line.clear(run, pair), rel=1e-12)
            passing.setdefault(pair, {})[run.strand] = run.length
    found = bays(layout)
    assert [bay.posts for bay in found] == sorted(passing, key=lambda pair: float(line.walk.posts[pair[0]]["station"]))
    for bay in found:
        assert dict(bay.runs) == passing[bay.posts]
        run = next(r for r in layout.runs if set(bay.posts) <= set(r.posts))
        assert bay.length == pytest.approx(line.clear(run, bay.posts), rel=1e-12)
        p, q = line.between(run, bay.posts)
        level = math.hypot(*(q - p)[:2]) / float(np.linalg.norm(q - p))
        assert bay.faces[1] - bay.faces[0] == pytest.approx(bay.length * level, rel=1e-9)
        assert bay.faces[0] > line.walk.posts[bay.posts[0]]["station"] - 1e-9
        assert bay.faces[1] < line.walk.posts[bay.posts[1]]["station"] + 1e-9


@every_line
def test_every_bay_is_of_the_surface_whose_strands_it_has(name):
    line = walked(name)
    layout = line.layout
    found = bays(layout)
    legs = [bay for bay in found if bay.corner is None]
    for bay in legs:
        run = next(r for r in layout.runs if set(bay.posts) <= set(r.posts))
        p, q = line.between(run, bay.posts)
        pitch = math.degrees(math.atan2(q[2] - p[2], math.hypot(*(q - p)[:2])))
        assert layout.line.surfaces[bay.surface].pitch_deg == pytest.approx(pitch, abs=1e-9)
        assert sorted(bay.runs) == list(range(1, len(layout.fields[bay.surface].heights) + 1))
    surfaces = [bay.surface for bay in legs]
    assert surfaces == sorted(surfaces)
    assert set(surfaces) == {field.surface for field in layout.fields if field.heights}
    for bay in found:
        if bay.corner is not None:
            joint = layout.joints[bay.corner]
            assert bay.posts == (joint.post, joint.second_post)
            assert bay.surface == joint.between[0]


def tried(layout, bearing, opening):
    """Every place in every bay where the probe may be pushed through an opening: what `guard_give` chooses from."""
    found = []
    joint = None if opening.corner is None else layout.joints[opening.corner]
    for bay in bays(layout):
        here = bay.posts == (joint.post, joint.second_post) if joint else bay.surface == bearing.surface
        if not here or (joint is None and bay.corner is not None) or not set(bearing.numbers) & set(bay.runs):
            continue
        pairs = [(k, k + 1) for k in bay.runs if k + 1 in bay.runs] if bearing.strands == 2 else [bearing.numbers]
        run = max(bay.runs[number] for pair in pairs for number in pair)
        at = None
        if bearing.station is not None:
            before, after = bearing.station - bay.faces[0], bay.faces[1] - bearing.station
            part = min(max(before / (before + after), 0.005), 0.995)
            found.append((max(-before, -after, 0), bay, run, part * bay.length))
            continue
        found.append((0, bay, run, at))
    nearest = min(off for off, *_ in found)
    return [
        (
            bay,
            ProbePlace(
                bay=bay.length, run=run, clear=bearing.clear, strands=bearing.strands, probe=float(bearing.probe), at=at
            ),
        )
        for off, bay, run, at in found
        if off == nearest
    ]


def enough(found):
    """The push that a place withstands sliding, the strand's breaking counted in."""
    return found.breaking.free if found.push.free is None else found.push.free


@every_line
def test_every_opening_is_answered_in_its_weakest_bay(name):
    """The worst verdict of all bays, and of those with it the least push."""
    layout = replace(solved(LINES[name]), job=asking(LINES[name]))
    bearings = {b.opening: b for b in seated(layout, as_marked=True)}
    known = taut(layout.job)
    answered = under(layout, known, layout.job.push)
    assert [one.opening for one in answered] == [i for i, o in enumerate(layout.openings) if o.rule is not None]
    for one in answered:
        bearing, opening = bearings[one.opening], layout.openings[one.opening]
        assert (one.probe, one.numbers) == (float(opening.rule.value), bearing.numbers)
        assert len(one.numbers) == bearing.strands
        if bearing.stopped_by != "strands":
            assert (one.holding, one.posts) == (None, ())
            without = {
                "nothing": "passes untouched", "rigid parts": "rigid", "strand and stair apart": "not solved",
            }  # fmt: skip
            assert one.verdict == without[bearing.stopped_by]
            continue
        every = tried(layout, bearing, opening)
        answers = holding([place for _, place in every], known, layout.job.push)
        mine = next(a for (bay, _), a in zip(every, answers, strict=True) if bay.posts == one.posts)
        assert one.verdict == one.holding.verdict == mine.verdict
        at = mine.place.at  # from the first of the posts
        assert one.holding.place.at == (None if at is None else pytest.approx(at, abs=1e-6))
        if bearing.clear <= 0:
            assert one.verdict == "turned aside"
            continue
        order = ("gives way", "between", "holds")
        worst = min((answer.verdict for answer in answers), key=order.index)
        assert one.verdict == worst
        assert enough(one.holding) == pytest.approx(enough(mine), rel=1e-6)
        assert enough(one.holding) == pytest.approx(min(enough(a) for a in answers if a.verdict == worst), rel=1e-6)


@some_lines
def test_a_guard_passes_where_every_opening_is_stopped(name):
    for force in ("1/1000", "10"):
        layout = pushed(name, force=force, sphere="usual")
        stopped = [one.verdict in STOPPED for one in layout.give.openings]
        assert len(stopped) == len(layout.openings)
        assert layout.give.passes is all(stopped)


def test_a_guard_beside_the_stair_never_passes_for_what_holds_elsewhere():
    """Strands 2 in out from a landing's edge: what is between them holds any little push; below, none is told."""
    out = replace(BASE.post, mount="side", drop=F(6), offset=F(2))
    level = odd("a landing alone", post=out)
    layout = lay_out(asking(level, force="1/1000"), read_rules(level.rules, "in"))
    verdicts = {layout.openings[one.opening].where.kind: one.verdict for one in layout.give.openings}
    assert verdicts == {"under rail": "holds", "between strands": "holds", "under lowest strand": "not solved"}
    (left,) = layout.give.unsolved
    assert (layout.give.passes, layout.give.yielding, left.holding) == (None, (), None)
    checked = check(layout)
    assert (checked.passes, checked.outcome) == (None, "incomplete")
    assert inspect_layout(checked).outcome == "incomplete"
    assert guard_report(layout).outcome == "incomplete"
    stronger = lay_out(asking(level, force="1000"), read_rules(level.rules, "in"))
    assert (stronger.give.passes, len(stronger.give.unsolved)) == (False, 1)
    assert (check(stronger).passes, guard_report(stronger).outcome) == (False, "does not comply")
    unasked = lay_out(asking(level, force=None), read_rules(level.rules, "in"))
    assert (unasked.give.passes, unasked.give.unsolved) == (None, ())
    assert check(unasked).outcome == "complies"


def test_a_stair_of_one_bay_by_hand():
    """A flight alone on two posts: between strands their square spacing, over the run; no bay else to choose."""
    job = asking(odd("a landing alone", post=replace(BASE.post, max_gap=F(500))), sphere="4", force="3")
    layout = lay_out(job, read_rules(job.rules, "in"))
    assert len(layout.posts) == 2
    gap = next(one for one in layout.give.openings if layout.openings[one.opening].where.kind == "between strands")
    first, last = layout.posts
    bay = float(last.station - first.station) - 1.5
    place = gap.holding.place
    assert (place.bay, place.strands, place.at, place.probe) == (pytest.approx(bay), 2, None, 4.0)
    assert place.run == pytest.approx(bay + 3)  # the strand bears on the outer faces
    assert place.clear == pytest.approx((layout.openings[gap.opening].sphere_as_marked + 0.125) / 2)


def test_a_probe_is_pushed_at_its_station_and_a_two_hundredth_of_the_bay_from_posts_at_the_nearest():
    """Along the slope in the bay's own parts: half way up the run is half the bay, and past a face is no bay."""
    bay = GuardBay(1, ("P1", "P2"), (20.0, 60.0), 50.0, {3: 70.0, 4: 70.0}, None)
    for station, at in ((40, 25), (21, 1.25), (20.2, 0.25), (20.1, 0.25), (20, 0.25), (0, 0.25), (None, None),
                        (59, 48.75), (59.8, 49.75), (59.9, 49.75), (60, 49.75), (90, 49.75)):  # fmt: skip
        (here,) = _places(
            ProbeBearing(
                opening=0, surface=1, probe=F(4), stopped_by="strands", numbers=(3,), clear=1.5, station=station
            ),
            [bay],
        )
        assert here == (
            bay,
            ProbePlace(
                bay=50.0, run=70.0, clear=1.5, strands=1, probe=4.0, at=None if at is None else pytest.approx(at)
            ),
        )


def test_neighbours_of_longer_run_count_where_the_tape_makes_all_gaps_alike():
    """Strands 1 to 8 are broken midway, those below them on the long landing are not: they slide over more.

    The rail stands higher over the landing, so its lowest strands end at the joint."""
    strand = replace(BASE.strand, longest_run=F(300), at_joints="through")
    surfaces = (land(288, rail_height=F(42)), up(9), land(60))
    job = asking(replace(BASE, strand=strand, surfaces=surfaces), sphere="4")
    layout = lay_out(job, read_rules(job.rules, "in"))
    by_number = {run.strand: run.length for run in layout.runs if run.surfaces[0] == 0 and run.posts[0] == "P1"}
    lowest = max(by_number)
    assert by_number[lowest] > by_number[1] + 40
    gap = next(
        one for one in layout.give.openings
        if layout.openings[one.opening].where.kind == "between strands" and layout.openings[one.opening].surface == 0
    )  # fmt: skip
    assert gap.holding.place.run == pytest.approx(by_number[lowest])


def test_between_the_posts_of_a_corner_the_short_bay_there_counts():
    """The long bays beside it are none of it: there the same spacing does not hold the same push."""
    job = asking(
        two_posts(replace(BASE, rules="irc-2021", surfaces=(land(90), land(90, 45.0)))), sphere="4", force="10"
    )
    layout = lay_out(job, read_rules(job.rules, "in"))
    at = {layout.openings[one.opening].where.kind: one for one in layout.give.openings}
    joint = layout.joints[0]
    corner, leg = at["between strands at corner"], at["between strands"]
    assert corner.posts == (joint.post, joint.second_post)
    level = math.cos(math.radians(45 / 2))
    assert corner.holding.place.bay == pytest.approx(12 * level - 1.5 / level)  # out of faces turned by half the turn
    assert corner.verdict == "holds"
    assert leg.verdict in ("between", "gives way")
    assert at["under lowest strand at corner"].posts == corner.posts
    assert leg.posts != corner.posts


@pytest.mark.parametrize("name", BACK)
def test_a_line_walked_the_other_way_gives_the_same(name):
    back = replace(solved(turned_back(LINES[name])), job=asking(turned_back(LINES[name])))
    back = replace(back, give=guard_give(back))

    def told(layout):
        """All figures but those of places that nothing is pushed at, in any order."""
        rows = []
        for one in layout.give.openings:
            found = one.holding
            figures = () if found is None else (found.push.held, found.push.free, found.needed.free, one.nearer)
            rows.append((str(one.verdict), one.probe, *(-1.0 if figure is None else figure for figure in figures)))
        return sorted(rows, key=lambda row: tuple(x if isinstance(x, str) else round(x, 3) for x in row))

    there = pushed(name)
    for mine, other in zip(told(there), told(back), strict=True):
        assert mine[0] == other[0]
        assert mine[1:] == pytest.approx(other[1:], rel=1e-6)
    assert there.give.passes == back.give.passes


@some_lines
def test_without_a_tension_only_what_does_not_hang_on_it_is_judged(name):
    layout, known = pushed(name, tension=None), pushed(name)
    assert layout.give.taut is None
    assert layout.give.passes is None
    for one, other in zip(layout.give.openings, known.give.openings, strict=True):
        assert one.nearer is None
        if other.verdict in ("holds", "between", "gives way"):
            assert one.verdict is None
            assert enough(one.holding) >= 0
        else:
            assert one.verdict == other.verdict
        if one.holding is not None and one.holding.needed.free is not None and one.holding.place == other.holding.place:
            assert one.holding.needed.free == pytest.approx(other.holding.needed.free, rel=1e-9)


@some_lines
def test_without_a_force_pushes_are_told_and_nothing_judged(name):
    layout, known = pushed(name, force=None), pushed(name)
    assert layout.give.passes is None
    assert layout.give.taut.source == "set"
    for one, other in zip(layout.give.openings, known.give.openings, strict=True):
        assert one.verdict in (None, "passes untouched", "rigid", "turned aside", "not solved")
        if one.holding is not None and one.posts == other.posts:
            assert one.holding.push.free == (None if other.holding is None else pytest.approx(other.holding.push.free))
            assert one.holding.needed == HeldAndFree(None, None)


def test_with_neither_nothing_is_asked():
    assert solved(BASE).give is None


def test_a_force_with_no_size_to_hold_to_judges_nothing():
    """No rule on openings and no probe: not a pass."""
    job = asking(replace(BASE, rules="none"), force="50", tension="1")
    give = lay_out(job, read_rules("none", "in")).give
    assert (give.openings, give.passes) == ((), None)
    held = asking(replace(BASE, rules="none"), sphere="4")
    assert lay_out(held, read_rules("none", "in")).give.passes is False


@pytest.mark.parametrize("name", ["down-up", "deck-ramp", "two random 87", "side-mounted"])
def test_a_cone_is_pushed_at_the_same_seats_as_a_sphere(name):
    """A cone that ends in a cylinder as wide as the sphere comes to the same places; its side is never as steep."""
    round_, cone = (pushed(name, sphere="usual", probe=probe) for probe in ("sphere", "cone"))
    known = taut(cone.job)
    for one, other in zip(cone.give.openings, round_.give.openings, strict=True):
        assert (one.opening, one.probe, one.numbers) == (other.opening, other.probe, other.numbers)
        if one.holding is None:
            assert other.holding is None
            continue
        place = other.holding.place if one.posts == other.posts else one.holding.place
        assert one.holding.place == place
        assert one.holding == holding((place,), known, cone.job.push)[0]
        if one.holding.push.free:
            assert one.holding.contact_deg.free <= math.degrees(math.atan(0.5)) + 1e-9


def test_a_layout_is_the_same_with_a_push_as_without():
    """What is pushed here was laid out without the push: nothing is placed by it."""
    job = asking(BASE)
    with_it, without = lay_out(job, read_rules(job.rules, "in")), solved(BASE)
    for name in ("line", "rails", "fields", "joints", "posts", "openings", "runs", "cuts"):
        assert getattr(with_it, name) == getattr(without, name)
    assert with_it.give == guard_give(replace(without, job=job))


def test_fifty_bays_ask_about_no_more_places_than_five(monkeypatch):
    """Like bays are asked once: what a line costs grows by its bays' sorting, not by the push."""
    asked = {}

    def counted(places, *rest):
        asked[bays_] += len(places)
        return holding(places, *rest)

    monkeypatch.setattr(guard_deflection, "holding", counted)
    for bays_ in (5, 50):
        asked[bays_] = 0
        job = asking(replace(BASE, surfaces=(land(50 * bays_),), strand=replace(BASE.strand, longest_run=None)))
        layout = lay_out(job, read_rules(job.rules, "in"))
        assert len(bays(layout)) >= bays_
        assert layout.give.openings
    assert 0 < asked[50] <= asked[5]


@some_lines
def test_moved_nearer_as_told_it_holds(name):
    """As the result has it, digit by digit, and as a page prints it: of a spacing twice what each strand moves."""
    layout = pushed(name)
    figures = Figures(layout.job.unit, layout.job.mark)
    told = {one.nearer: one for one in layout.give.openings if one.nearer is not None}
    for by, one in told.items():
        printed = F(re.search(r"[\d.]+", closer_words(one, figures))[0]) / (2 if len(one.numbers) == 2 else 1)
        place = one.holding.place
        moved = tuple(replace(place, clear=place.clear - float(less)) for less in (by, printed))
        assert [found.verdict for found in holding(moved, taut(layout.job), layout.job.push)] == ["holds", "holds"]


@some_lines
def test_what_does_not_hold_says_by_how_much(name):
    layout = pushed(name)
    known = taut(layout.job)
    for one in layout.give.openings[:12]:
        if one.verdict not in ("between", "gives way"):
            assert one.nearer is None
            continue
        place = one.holding.place
        moved = replace(place, clear=place.clear - one.nearer)
        again = holding((moved,), known, Push(**{n: getattr(layout.job.push, n) for n in Push.__slots__}))[0]
        assert min(again.push.free, again.push.held) == pytest.approx(float(layout.job.push.force), rel=1e-6)
