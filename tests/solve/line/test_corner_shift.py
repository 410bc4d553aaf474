"""The guard's own corners where it stands out from a stair's edge.

Witness: shapely's offset curve of the edge as walked, mitred; it is to the left for a distance of more than zero. The
edge itself is laid out here from lengths and turns by complex numbers.
"""

import re
from cmath import exp, pi
from dataclasses import replace
from fractions import Fraction as F
from itertools import pairwise
from random import Random

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from stairguard.errors import JobError
from stairguard.io.read.job_file import read_job
from stairguard.model.soundness.job_checks import at_odds
from stairguard.solve.lay_out import lay_out
from stairguard.solve.line.surface_line import place
from tests.solve.jobs import BASE
from tests.solve.lines import CROSSED, down, land, solved, up

POST = replace(BASE.post, mount="side", drop=F(8), offset=F(2))
SHARP = 1000.0
"""A mitre as long as it takes."""


def edge_points(surfaces):
    """Corners of the edge from its start, the first side along x."""
    at, heading, found = 0j, 0.0, [0j]
    for surface in surfaces:
        heading += surface.turn
        at += float(surface.length) * exp(1j * pi * heading / 180)
        found.append(at)
    return [(z.real, z.imag) for z in found]


def guard_points(line):
    """Corners of the guard seen from the start of the edge."""
    first = line.surfaces[0]
    x0, y0 = first.edge_in_plan[0]
    return [(x - x0, y - y0) for x, y in (first.plan_start, *(s.plan_end for s in line.surfaces))]


sides = st.lists(st.tuples(st.integers(160, 4000), st.integers(-130, 130)), min_size=2, max_size=6).map(
    lambda drawn: tuple(
        replace(land(), length=F(size, 16), turn=float(turn) if k else 0.0) for k, (size, turn) in enumerate(drawn)
    )
)
asides = st.integers(-160, 160).filter(bool).map(lambda n: F(n, 64))


@given(sides, asides)
def test_the_guard_is_the_offset_of_the_edge(surfaces, aside):
    """Sides of at least 10 in and offsets of at most 2-1/2: at 130 degrees a corner takes 5.4 off either side."""
    try:
        line = place(surfaces, aside)
    except JobError:
        assert min(s.length for s in surfaces) < 2 * abs(aside) * F(215, 100)
        return
    legs = [LineString(pair) for pair in pairwise(edge_points(surfaces))]
    # where the edge comes back near itself shapely's curve is cut short
    assume(all(a.distance(b) > 4 * abs(aside) for k, a in enumerate(legs) for b in legs[k + 2 :]))
    # what runs straight on is no corner of shapely's curve: compare as lines
    curve = LineString(edge_points(surfaces)).offset_curve(float(aside), join_style="mitre", mitre_limit=SHARP)
    mine = LineString(guard_points(line))
    assert mine.length == pytest.approx(curve.length, rel=1e-9)
    assert mine.hausdorff_distance(curve) < 1e-6
    edge = LineString(edge_points(surfaces))
    for surface, (a, b) in zip(line.surfaces, pairwise(edge.coords), strict=True):
        x0, y0 = line.surfaces[0].edge_in_plan[0]
        found = [(x - x0, y - y0) for x, y in surface.edge_in_plan]
        assert found == [pytest.approx(a, abs=1e-9), pytest.approx(b, abs=1e-9)]
        assert surface.edge_end.s - surface.edge_start.s == surface.given.length


@given(sides, asides)
def test_inner_and_outer_together_are_twice_the_edge(surfaces, aside):
    try:
        hands = [place(surfaces, by) for by in (aside, -aside)]
    except JobError:
        return
    for one, other in zip(*(line.surfaces for line in hands), strict=True):
        assert one.end.s - one.start.s + other.end.s - other.start.s == 2 * one.given.length


@given(sides, asides)
def test_it_is_the_same_seen_in_a_mirror(surfaces, aside):
    mirror = tuple(replace(s, turn=-s.turn) for s in surfaces)
    try:
        line = place(surfaces, aside)
    except JobError:
        with pytest.raises(JobError):
            place(mirror, -aside)
        return
    for one, other in zip(line.surfaces, place(mirror, -aside).surfaces, strict=True):
        assert (one.start, one.end, one.ahead, one.past) == (other.start, other.end, other.ahead, other.past)
        assert one.plan_end == pytest.approx((other.plan_end.x, -other.plan_end.y), abs=1e-9)


def test_quarter_turns_are_exact():
    surfaces = land(96), land(72, -90.0), land(60, 90.0), land(40, 90.0)
    line = place(surfaces, F(15, 4))  # on the left: outside the first turn, inside the others
    assert [s.end.s - s.start.s for s in line.surfaces] == [F(399, 4), F(72), F(105, 2), F(145, 4)]
    assert [s.plan_end.x for s in line.surfaces] == pytest.approx([99.75, 99.75, 152.25, 152.25])


@pytest.mark.parametrize("hand", ["left", "right"])
@pytest.mark.parametrize("turns", [(90, 90, 90), (60,) * 5, (90, 90, -90, 90, 90)])
def test_all_round(turns, hand):
    """Perimeter of the polygon grown, or shrunk, by the offset."""
    sizes = {3: (120, 84, 120, 84), 5: (90,) * 6, 5.5: (120, 84, 60, 24, 60, 108)}[len(turns) + 0.5 * (-90 in turns)]
    surfaces = tuple(land(size, float(turn)) for size, turn in zip(sizes, (0, *turns), strict=True))
    aside = F(2) if hand == "left" else F(-2)
    outline = Polygon(edge_points(surfaces)[:-1])
    grown = outline.buffer(
        -float(aside), join_style="mitre", mitre_limit=SHARP
    )  # walked to the left: the left is inside
    line = place(surfaces, aside, closed=True)
    assert float(line.surfaces[-1].end.s) == pytest.approx(grown.exterior.length, rel=1e-9)
    assert line.surfaces[-1].plan_end == pytest.approx((0, 0), abs=1e-6)


@pytest.mark.parametrize("hand", ["left", "right"])
def test_a_well_guarded_all_round(hand):
    """Rails mitred at corners: as long as the sides of the rectangle, 2 in in or out at each end."""
    surfaces = land(120), land(84, 90.0), land(120, 90.0), land(84, 90.0)
    layout = lay_out(replace(BASE, surfaces=surfaces, closed=True, post=replace(POST, hand=hand)), solved(BASE).rules)
    by = -4 if hand == "left" else 4
    assert sorted(float(c.length) for c in layout.cuts.rails for _ in range(c.count)) == pytest.approx(
        sorted(size + by for size in (120, 84, 120, 84))
    )
    corners = [p for p in layout.posts if p.joint is not None]
    assert [p.station for p in corners] == [0, 120 + by, 204 + 2 * by, 324 + 3 * by]
    # broken at every corner, square to both sides: strands from face to face
    lengths = {round(float(run.length), 9) for run in layout.runs}
    assert lengths == {120.0 + by - 1.5, 84.0 + by - 1.5}


def test_a_flight_on_the_inner_hand_starts_past_its_nosing():
    """A deck's stair, its guard turning off: the corner stands 2 in short of both edges, beside the first tread."""
    surfaces = land(96), down(5, 90.0), land(60)
    layout = lay_out(replace(BASE, surfaces=surfaces, post=replace(POST, hand="left")), solved(BASE).rules)
    deck, flight, _ = layout.line.surfaces
    assert (deck.end.s, flight.start.s, flight.nosings[0].s) == (94, 94, 92)
    corner = next(p for p in layout.posts if p.joint == 0)
    assert (corner.station, corner.stands_on, corner.step, corner.base) == (94, 1, 4, -7 - 8)
    # the nosing line, 7 in 11, has come down 14/11 in there: rails of 36 and 35 end on the post's faces
    joint = layout.joints[0]
    assert [end.z for end in joint.ends] == [36, 35 - F(7, 11) * (2 + F(3, 4))]
    # on the other hand the level goes on 2 in past the edge
    out = lay_out(replace(BASE, surfaces=surfaces, post=replace(POST, hand="right")), solved(BASE).rules)
    deck, flight, _ = out.line.surfaces
    assert (deck.end.s, flight.start.s, flight.nosings[0].s) == (98, 98, 100)
    corner = next(p for p in out.posts if p.joint == 0)
    assert (corner.stands_on, corner.base) == (0, -8)


def test_a_half_turn_goes_round_a_well_twice_the_offset_wide():
    """As two quarter-turns, a landing of that width between: the corner stands the offset short of the well's end."""
    surfaces = up(6), land(9, **CROSSED), land(9, 180.0, **CROSSED), up(6)
    line = place(surfaces, F(2))
    first, one, other, second = line.surfaces
    assert (first.end.s, one.end.s, second.start.s) == (55, 62, 69)
    quarters = place((up(6), land(9), land(4, 90.0), land(9, 90.0), up(6)), F(2) - F(1, 10**9))
    assert float(quarters.surfaces[1].end.s) == pytest.approx(62)
    assert float(quarters.surfaces[3].start.s) == pytest.approx(62)
    assert [s.edge_end.s - s.edge_start.s for s in (one, other)] == [9, 9]


def test_nothing_changes_without_an_offset_or_a_turn():
    rnd = Random(5)
    surfaces = tuple(land(rnd.randint(30, 90), 0.0) for _ in range(4))
    assert [(s.start, s.end) for s in place(surfaces, F(3)).surfaces] == [
        (s.start, s.end) for s in place(surfaces).surfaces
    ]
    turned = tuple(replace(s, turn=90.0 if k else 0.0) for k, s in enumerate(surfaces))
    assert [s.start.s for s in place(turned).surfaces] == [s.start.s for s in place(surfaces).surfaces]


def test_what_leaves_no_guard_is_refused():
    with pytest.raises(JobError, match=r"surface\[2\].length: must be such that some guard is left beside it.* got 4"):
        place((land(60), land(4, 90.0), land(60, 90.0)), F(2))


def turning(**post):
    return replace(BASE, surfaces=(land(60), land(60, 90.0)), post=replace(POST, **post))


def test_the_hand_is_asked_for_where_it_matters():
    (fault,) = at_odds(turning())
    assert fault.where == "post.hand"
    assert "surface[2].turn" in fault.must
    assert not at_odds(turning(hand="right"))
    assert not at_odds(turning(offset=F(0)))
    assert not at_odds(replace(turning(), surfaces=(land(60), land(60))))
    (closed,) = at_odds(replace(turning(), surfaces=(land(60), land(60)), closed=True))
    assert "ends.closed" in closed.must


@pytest.mark.parametrize(
    ("turn", "hand", "refused"), [(180.0, "right", True), (180.0, "left", False), (-180.0, "left", True)]
)
def test_a_half_turn_has_one_corner_on_its_inside_alone(turn, hand, refused):
    surfaces = up(6), land(9, **CROSSED), land(9, turn, **CROSSED), up(6)
    faults = at_odds(replace(BASE, surfaces=surfaces, post=replace(POST, hand=hand)))
    assert [f.where for f in faults] == (["surface[3].turn"] if refused else [])


def test_a_file_says_so(write_job):
    changed = (
        ('# mount = "side"', 'mount = "side"\nhand = "right"'),
        ("# drop = 8", "drop = 8"),
        ("# offset = 2", "offset = 2"),
    )
    assert read_job(write_job(*changed)).post.aside == -2
    with pytest.raises(JobError, match=r'post\.hand: must be "left" or "right", got up'):
        read_job(write_job(('# mount = "side"', 'mount = "side"\nhand = "up"'), *changed[1:]))


def test_strands_that_go_under_their_corner_post_are_refused_with_an_offset_that_does():
    """The corner of a flight's foot, outside the turn, lies so far out that the lowest strand is below the post."""

    def laid(offset):
        surfaces = land(60), up(5, -90.0), land(60)
        post = replace(POST, hand="left", offset=offset, drop=F(1, 2))
        return lay_out(replace(BASE, surfaces=surfaces, post=post), solved(BASE).rules)

    with pytest.raises(JobError, match=r"post\.offset: must be such that the post's face is at most") as refused:
        laid(F(14))
    (told,) = re.findall(r"\(offset ([\d.]+) or less, or a larger post.drop\)", str(refused.value))
    assert laid(F(told)).line.surfaces[1].ahead == F(told)
