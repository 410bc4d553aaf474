"""What strands of a whole guard hand on, against pulls added up as vectors over points in space. Inches and lbf."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace
from fractions import Fraction as F
from functools import cache
from itertools import pairwise

import numpy as np
import pytest

from stairguard.io.read.job_file import read_job
from stairguard.model.guard.strand_deflection import HeldAndFree
from stairguard.rules.findings.checks import check
from stairguard.rules.pack.reader import read_rules
from stairguard.solve.lay_out import lay_out
from stairguard.solve.load.guard_deflection import bays
from stairguard.solve.load.reactions import CHECK_MASS, guard_report, variant, weakest_bay
from stairguard.solve.load.resistance import holding
from stairguard.solve.load.single_bay import answer
from stairguard.solve.load.strand_properties import steel
from tests.solve.jobs import BASE
from tests.solve.lines import EXAMPLES, land, odd, ramp, solved, up
from tests.solve.load.pushed import LINES, asking, climate, pushed
from tests.solve.load.test_guard_deflection import walked
from tests.solve.twoposts import two_posts

TENSION = 200.0
WALKED = (
    "deck-ramp", "down-up", "half-turn", "quarter-turn", "workshop-break", "surveyed", "crossed, turn in the middle",
    "ramps turned into a mitre", "short straight runs", "ended at joints", "walls at a flight's ends",
    "corners of two posts", "random 5", "random 11", "two random 30", "two random 87", "two over a hip",
    "two broken at one post", "two broken at both posts",
)  # fmt: skip
lines = pytest.mark.parametrize("name", WALKED)


@cache
def reported(name):
    """A line's report with no force asked for: what it hands on does not hang on one."""
    layout = pushed(name, force=None)
    return layout, guard_report(layout)


def laid(job, **asked):
    job = asking(job, **asked)
    layout = lay_out(job, read_rules(job.rules, job.unit))
    return layout, guard_report(layout)


def tension_of(layout):
    return float(layout.job.strand.tension)


def pulls(line):
    """Every pull on every post: (post, side, strand) to its direction away from the post and its hole."""
    ends, turned = {}, {}
    for run in line.layout.runs:
        points = [line.hole(label, run) for label in run.posts]
        ways = [(q - p) / np.linalg.norm(q - p) for p, q in pairwise(points)]
        ends[run.posts[0], "after", run.strand] = ways[0], points[0]
        ends[run.posts[-1], "before", run.strand] = -ways[-1], points[-1]
        for label, arriving, leaving in zip(run.posts[1:-1], ways, ways[1:], strict=False):
            turned[label, run.strand] = leaving - arriving
    return ends, turned


@lines
def test_pulls_on_ends_are_sums_of_vectors(name):
    """The plumb part is up where strands climb away; the moment that of the level parts at the holes' heights."""
    layout, report = reported(name)
    line = walked(name)
    ends, _ = pulls(line)
    tension = tension_of(layout)
    told = {(end.post, end.side, number) for end in report.ends for number in end.numbers}
    assert told == set(ends)
    assert sum(len(end.numbers) for end in report.ends) == 2 * len(layout.runs)
    posts = {post.label: post for post in layout.posts}
    for end in report.ends:
        each = [ends[end.post, end.side, number] for number in end.numbers]
        force = tension * sum(way for way, _ in each)
        level = [tension * math.hypot(*way[:2]) for way, _ in each]
        heights = [point[2] - float(posts[end.post].base) for _, point in each]
        assert end.pull == pytest.approx(tension * len(each)) == pytest.approx(np.linalg.norm(force))
        assert end.level == pytest.approx(sum(level)) == pytest.approx(math.hypot(*force[:2]))
        assert end.plumb == pytest.approx(force[2], abs=1e-9)
        assert end.moment == pytest.approx(sum(t * h for t, h in zip(level, heights, strict=True)))
        assert end.height == pytest.approx(sum(heights) / len(heights))
        # a post free to turn at its base, held by the rail at its top: moments about the base
        assert end.compression * float(posts[end.post].length) == pytest.approx(end.moment)


@lines
def test_every_turned_strand_presses_with_the_sum_of_its_two_pulls(name):
    layout, report = reported(name)
    _, turned = pulls(walked(name))
    tension = tension_of(layout)
    bent = {key: tension * float(np.linalg.norm(way)) for key, way in turned.items()}
    told = {(one.post, number): one for one in report.fittings for number in one.numbers}
    assert sum(len(one.numbers) for one in report.fittings) == len(told)
    assert set(told) == {key for key, force in bent.items() if force > 1e-6}
    d, width = float(layout.job.strand.diameter), float(layout.job.post.width)
    for key, one in told.items():
        assert one.force == pytest.approx(bent[key], rel=1e-9)
        joint = layout.joints[one.joint]
        assert one.post in (joint.post, joint.second_post)
        # two edges of a bare hole share it, each one diameter long and broad; a sleeve is twice the strand if not given
        assert one.edge == pytest.approx(bent[key] / 2 / d**2, rel=1e-9)
        assert one.sleeve == pytest.approx(bent[key] / (2 * d * width), rel=1e-9)


def test_ends_of_a_level_guard_by_hand():
    """Level strands at their heights: each end post is pulled inwards alike, at their middle height."""
    layout, report = laid(odd("a landing alone"))
    heights = [float(height) for height in layout.fields[0].heights]
    first, last = report.ends
    assert (first.post, first.side, last.post, last.side) == ("P1", "after", layout.posts[-1].label, "before")
    for end in (first, last):
        assert end.numbers == tuple(range(1, len(heights) + 1))
        assert end.pull == end.level == TENSION * len(heights)
        assert end.plumb == 0
        assert end.height == pytest.approx((heights[0] + heights[-1]) / 2)
        assert end.moment == pytest.approx(TENSION * sum(heights))
        assert end.compression == pytest.approx(TENSION * sum(heights) / float(layout.rails[0].underside))
    assert report.fittings == ()


def test_a_flight_pulls_its_low_post_up_and_its_high_post_down():
    report = laid(odd("a flight alone"))[1]
    pitch = math.atan2(7, 11)
    low, high = report.ends
    for end, way in ((low, 1), (high, -1)):
        assert end.level == pytest.approx(end.pull * math.cos(pitch))
        assert end.plumb == pytest.approx(way * end.pull * math.sin(pitch))


def test_strands_broken_at_a_line_post_pull_it_both_ways_alike():
    strand = replace(BASE.strand, longest_run=F(120))
    layout, report = laid(replace(odd("a landing alone"), strand=strand))
    by_post = {}
    for end in report.ends:
        by_post.setdefault(end.post, []).append(end)
    both = [ends for ends in by_post.values() if len(ends) == 2]
    assert len(both) == 1
    (before, after) = both[0]
    assert (before.side, after.side) == ("before", "after")
    assert next(p for p in layout.posts if p.label == before.post).role == "line"
    # level: nothing is left for the post but to be pressed between them
    assert replace(before, side="after") == after


FLIGHT, RAMP = math.atan2(7, 11), math.atan(0.1)
FREE = replace(BASE, strand=replace(BASE.strand, largest_bend=170.0))
"""With fittings that turn a strand by as much as any corner asks."""


@pytest.mark.parametrize(
    ("surfaces", "ways"),
    [
        # pitch and heading of each surface: landing to flight and back; a level corner; turns beside and over ramps
        ((land(60), up(6), land(60)), [(0, 0), (FLIGHT, 0), (0, 0)]),
        ((land(60), land(60, 90.0)), [(0, 0), (0, 90)]),
        ((land(60), ramp(120, 12, -45.0)), [(0, 0), (RAMP, -45)]),
        ((ramp(120, 12), ramp(120, -12, 90.0)), [(RAMP, 0), (-RAMP, 90)]),
    ],
)
def test_the_force_on_a_fitting_is_the_vector_sum_of_two_pulls(surfaces, ways):
    """Directions from the pitches and plan turns alone."""
    _, report = laid(replace(FREE, surfaces=surfaces))

    def way(pitch, heading):
        heading = math.radians(heading)
        return np.array([*(math.cos(pitch) * np.array([math.cos(heading), math.sin(heading)])), math.sin(pitch)])

    seen = {}
    for one in report.fittings:
        seen.setdefault(one.joint, set()).add(round(one.force, 6))
    expected = [TENSION * float(np.linalg.norm(way(*after) - way(*before))) for before, after in pairwise(ways)]
    assert seen == {i: {round(force, 6)} for i, force in enumerate(expected)}


def test_a_corner_of_two_posts_shares_a_level_turn():
    """A right angle over two posts: 45 degrees at each, so 2 T sin 22.5; one post alone would take T times root two."""
    surfaces = (land(60), land(60, 90.0))
    for made, forces in (
        (two_posts(replace(FREE, surfaces=surfaces)), [2 * math.sin(math.radians(22.5))] * 2),
        (replace(FREE, surfaces=surfaces), [math.sqrt(2)]),
    ):
        layout, report = laid(made)
        assert [one.force for one in report.fittings] == pytest.approx([TENSION * force for force in forces])
        assert {one.numbers for one in report.fittings} == {tuple(range(1, len(layout.fields[0].heights) + 1))}
        joint = layout.joints[0]
        assert [one.post for one in report.fittings] == [x for x in (joint.post, joint.second_post) if x]


def test_strand_that_ends_at_a_corners_far_post_still_turns_at_the_near_one():
    layout, report = laid(two_posts(replace(BASE, strand=replace(BASE.strand, angle_changes=1),
                                            surfaces=(land(90), land(90, 45.0), up(6)))))  # fmt: skip
    joint = layout.joints[0]
    broken = [post for post in layout.posts if any(hole.broken for hole in post.holes)]
    assert {post.label for post in broken} <= {joint.post, joint.second_post}
    other = ({joint.post, joint.second_post} - {post.label for post in broken}).pop()
    at = [one for one in report.fittings if one.post == other]
    assert [one.bend_deg for one in at] == pytest.approx([22.5])
    assert not [one for one in report.fittings if one.post in {post.label for post in broken}]


def test_a_sleeve_of_its_own_size():
    job = replace(BASE, post=replace(BASE.post, sleeves=True, sleeve_diameter=F(3, 8)))
    for one in laid(job)[1].fittings:
        assert one.sleeve == pytest.approx(one.force / (0.375 * 1.5))


@lines
def test_bays_are_told_once_with_strands_of_one_run_together(name):
    layout, report = reported(name)
    told = Counter((bay.posts, number) for bay in report.bays for number in bay.numbers)
    assert set(told.values()) == {1}
    assert set(told) == {(pair, run.strand) for run in layout.runs for pair in pairwise(run.posts)}
    by_posts = {bay.posts: bay for bay in bays(layout)}
    made = steel(layout.job.strand, layout.job.strand.diameter, layout.job.unit)
    line = walked(name)
    for bay in report.bays:
        assert bay.length == by_posts[bay.posts].length
        assert {round(by_posts[bay.posts].runs[n], 6) for n in bay.numbers} == {round(bay.run, 6)}
        # parabola: w L^2 / 8 T
        assert bay.sag == pytest.approx(made.weight * bay.length**2 / 8 / tension_of(layout))
        # the check mass: its weight's part square to the strand, held by two halves
        run = next(r for r in layout.runs if set(bay.posts) <= set(r.posts))
        p, q = line.between(run, bay.posts)
        square = report.mass * math.hypot(*(q - p)[:2]) / float(np.linalg.norm(q - p))
        for sinks, over in ((bay.sinks.held, bay.length), (bay.sinks.free, max(bay.run, bay.length))):
            half = math.hypot(bay.length / 2, sinks)
            tension = tension_of(layout)
            taut = tension + (made.stiffness + tension) * (2 * half - bay.length) / over
            assert 2 * taut * sinks / half == pytest.approx(square, rel=1e-9)


def test_the_check_mass_is_five_pounds_or_two_kilograms():
    assert CHECK_MASS["in"] == 5
    assert CHECK_MASS["mm"] == pytest.approx(2 * 9.80665)  # standard gravity, exact by definition


def test_a_bays_spacing_between_a_corners_posts_is_that_of_the_chord():
    """From a ramp to a landing strands climb less between the posts than over the ramp, and so stand wider there."""
    layout, report = laid(
        two_posts(replace(FREE, rules="none", surfaces=(ramp(120, 30), land(90, 90.0))), 8), sphere="4"
    )
    joint = layout.joints[0]
    corner = next(bay for bay in report.bays if bay.posts == (joint.post, joint.second_post))
    field = layout.fields[0]
    line_pitch = math.atan2(*reversed(_rise(layout, corner.posts, corner.numbers[0])))
    assert 2 * corner.holding.place.clear == pytest.approx(float(field.plumb_spacing) * math.cos(line_pitch), rel=1e-8)
    assert 2 * corner.holding.place.clear != pytest.approx(field.square_spacing, rel=1e-4)


def _rise(layout, labels, number):
    """Level distance between two posts in plan, across a right angle of equal legs, and what a strand climbs there."""
    first, last = (next(p for p in layout.posts if p.label == label) for label in labels)
    corner = layout.joints[0].station
    level = math.hypot(float(corner - first.station), float(last.station - corner))
    heights = [float(p.base) + float(next(h.height for h in p.holes if h.strand == number)) for p in (first, last)]
    return level, heights[1] - heights[0]


@pytest.mark.parametrize("name", ["deck-ramp", "down-up", "random 5", "two random 87"])
def test_the_weakest_bay_asked_alone_answers_the_same(name):
    layout = pushed(name, sphere="usual")
    where, asked = weakest_bay(layout)
    report = guard_report(layout)
    least = min(bay.holding.push.free for bay in report.bays if bay.holding is not None)
    found = answer(asked)
    assert found.holding.push.free == pytest.approx(least, rel=1e-6)
    assert where in {f"bay {bay.posts[0]}-{bay.posts[1]}" for bay in report.bays if bay.holding.push.free == least}


def test_without_a_tension_there_are_no_loads():
    layout = pushed("down-up", tension=None)
    report = guard_report(layout)
    assert (report.ends, report.fittings, report.upkeep) == ((), (), None)
    assert report.bays
    for bay in report.bays:
        assert bay.sag is None
        assert bay.sinks == HeldAndFree(None, None)
        assert bay.holding is None or bay.holding.verdict is None


def withstood(found, way):
    """Push of one bound, or that at which the strand breaks."""
    push = getattr(found.push, way)
    return getattr(found.breaking, way) if push is None else push


@pytest.mark.parametrize(
    ("sphere", "force", "can"), [("rule", "1/50", True), ("rule", "10", False), ("usual", "10", False)]
)
def test_a_variants_figures_are_the_layouts(sphere, force, can):
    layout = pushed("down-up", source="measured", sphere=sphere, force=force)
    untouched = sphere == "usual"  # over the steps, where a 6 in sphere is the rule
    job, openings = layout.job, layout.give.openings
    found = variant("as the job has it", layout, False)
    made = steel(job.strand, job.strand.diameter, job.unit)
    asked = [one.holding for one in openings if one.holding is not None and one.verdict != "turned aside"]
    known = holding([one.place for one in asked], layout.give.taut, job.push)
    assert any(one.verdict == "passes untouched" for one in openings) is untouched
    for way in ("held", "free"):
        needed = [getattr(one.needed, way) for one in known]
        assert (not untouched and all(one.needed.free is not None for one in known)) is can
        # a probe that passes untouched takes no push; and what no tension holds has none for the whole
        least = 0 if untouched else min(withstood(one, way) for one in known)
        assert getattr(found.weakest, way) == pytest.approx(least)
        assert getattr(found.needed, way) == (pytest.approx(max(needed)) if can else None)
    tension = tension_of(layout)
    longest = max(max(run.bays) for run in layout.runs)
    marked = sum(cut.count * cut.marked for cut in layout.cuts.strands)
    assert found.weight == pytest.approx(made.weight * float(marked))
    assert found.sag == pytest.approx(made.weight * longest**2 / 8 / tension)
    assert found.end_pull == max(end.level for end in guard_report(layout).ends)
    assert found.held == sum(one.verdict in ("holds", "rigid", "turned aside") for one in openings)
    assert (found.changed, found.passes, found.openings) == ("as the job has it", False, len(openings))
    assert (found.tension, found.source) == (tension, "measured")
    assert (found.diameter, found.construction) == (float(job.strand.diameter), "1x19")
    assert (found.spacing, found.max_gap) == (float(job.strand.spacing), float(job.post.max_gap))
    assert found.strands == max(len(field.heights) for field in layout.fields)
    assert found.worst_sphere == max(opening.sphere_as_marked for opening in layout.openings)
    if untouched:
        assert variant("as the job has it", replace(layout, give=None), False) == found  # asked about only now


def test_upkeep_is_of_the_run_that_comes_down_lowest():
    """The run that posts' drying takes most from; every opening is then asked with what that one has left."""
    strand = replace(BASE.strand, longest_run=F(200))
    moist = climate(wood="white oak", moisture_from=F(12), moisture_to=F(8), frame=(("rigid", F(1)),))
    layout, report = laid(replace(BASE, strand=strand, surfaces=(land(150), up(5), land(60))), climate=moist)
    assert report.upkeep is not None
    ends = {(run.posts[0], run.posts[-1]): run for run in layout.runs}
    lost = {}
    for pair, run in ends.items():
        part = 0.00365 * 4  # white oak, tangential, read in the Wood Handbook, Table 13-5
        seats = [1.5 * part] * 2
        lost[pair] = max(sum(seats) / run.length, seats[0] / run.bays[0], seats[1] / run.bays[-1])
    assert report.upkeep_run in {pair for pair, part in lost.items() if part == pytest.approx(max(lost.values()))}
    weakest = [
        one.push.free
        for one in holding(
            [o.holding.place for o in layout.give.openings if o.holding is not None and o.holding.place.clear > 0],
            replace(layout.give.taut, tension=F(report.upkeep.lowest.least)), layout.job.push,
        )
        if one.push.free is not None
    ]  # fmt: skip
    assert report.upkeep.holding.push.free == pytest.approx(min(weakest), rel=1e-9)


def test_walls_and_standing_newels_do_not_shrink():
    moist = climate(wood="white oak", moisture_from=F(12), moisture_to=F(8))
    shortening = {
        ends: laid(odd("a landing alone", start=ends[0], end=ends[1]), climate=moist)[1].upkeep.shortening
        for ends in (("post", "post"), ("wall", "post"), ("wall", "newel"))
    }
    whole = 3 * 0.00365 * 4  # two posts of 1.5 in
    assert list(shortening.values()) == pytest.approx([whole, whole / 2, 0.0])


def test_a_guard_that_holds_today_and_not_in_the_heat_does_not_pass():
    """The shipped guard holds its push in a steel frame; one that does not grow lets the strand go slacker."""
    job = read_job(EXAMPLES / "belvedere-taut.toml")
    layout = lay_out(job, read_rules(job.rules, job.unit))
    for frame, passes in (("steel", True), ("rigid", False)):
        hot = replace(job.climate, frame=((frame, F(1)),), warmest=F(50))
        report = guard_report(replace(layout, job=replace(job, climate=hot)))
        assert report.give.passes
        assert report.upkeep.lowest.temperature == 50
        assert report.passes is passes is (report.upkeep.holding.verdict == "holds")


def test_a_report_is_the_same_with_the_layouts_own_give():
    name = "deck-ramp"
    layout = pushed(name)
    assert guard_report(layout) == guard_report(replace(layout, give=None))
    assert check(layout).passes is False
    assert solved(LINES[name]).give is None
