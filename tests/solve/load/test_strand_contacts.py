"""Which strands give at every opening, and how far the sphere stands from them: by hand, and by GEOS's distances."""

from dataclasses import replace
from fractions import Fraction as F
from math import hypot

import pytest
import shapely
from shapely.geometry import Point, box

from stairguard.model.guard.opening_kinds import Where
from stairguard.rules.pack.reader import read_rules
from stairguard.solve.lay_out import lay_out
from stairguard.solve.load.strand_contacts import ProbeBearing, seated
from tests.solve.gaps.test_openings_line import DEEP, solids
from tests.solve.jobs import BASE, mirrored, with_flight
from tests.solve.lines import JOBS, LONG, land, odd, solved
from tests.solve.twoposts import two_posts

BETWEEN = Where("between strands")


def by_place(layout, surface=None, **asked) -> dict[Where, ProbeBearing]:
    return {
        layout.openings[b.opening].where: b for b in seated(layout, **asked) if surface is None or b.surface == surface
    }


@pytest.mark.parametrize("sphere", [F(6), F(25, 4), F(13, 2)])
def test_a_step_triangle_by_hand(sphere):
    """The sphere rests on tread and riser, half its diameter from each, while it misses the nosing above: here up to
    7.07, where (D/2 - 1)^2 + (6 - D/2)^2 = (D/2)^2. Rise 7.25, run 10.5, nosing 1 in."""
    layout = solved(BASE)
    flight, field = layout.line.surfaces[1], layout.fields[1]
    rise, run, nosing = 7.25, 10.5, 1.0
    r, long = float(sphere) / 2, hypot(rise, run)
    x, z = run + nosing - r, r
    clear = (x * rise / run + float(field.heights[-1]) - z) * run / long
    steps = by_place(layout, 1, sphere=sphere)
    for tread in (1, 2, 4, 5, 6):  # a post stands on tread 3
        found = steps[Where("step triangle", step=tread)]
        low = flight.nosings[tread - 1]
        assert (found.stopped_by, found.strands, found.numbers) == ("strands", 1, (len(field.heights),))
        assert found.clear == pytest.approx(clear)
        assert found.centre == pytest.approx((float(low.s) + x, float(low.z) + z))
        # square up to the strand is back down the flight
        assert found.station == pytest.approx(float(low.s) + x - clear * rise / long)


def test_a_flight_down_is_the_mirror_image():
    up, down = (by_place(solved(job), 1, sphere=F(13, 2)) for job in (BASE, mirrored(BASE)))
    total = float(solved(BASE).line.surfaces[-1].end.s)
    triangles = [where for where in up if where.kind == "step triangle"]
    assert triangles
    for where in triangles:
        assert down[where].clear == pytest.approx(up[where].clear)
        if up[where].clear is not None:
            assert down[where].station == pytest.approx(total - up[where].station)


def test_gaps_of_one_width_by_hand():
    """Between strands half their square spacing; from rail and landing half the sphere, plumb being square there."""
    layout = solved(BASE)
    for index in (0, 1, 2):
        field, cos = layout.fields[index], 10.5 / hypot(7.25, 10.5) if index == 1 else 1.0
        found = by_place(layout, index, sphere=F(9, 2))
        between, rail = found[BETWEEN], found[Where("under rail")]
        assert between.strands == 2
        assert between.numbers[1] == between.numbers[0] + 1
        assert between.clear == pytest.approx(float(field.plumb_spacing) / 2 * cos)
        assert (rail.numbers, rail.station) == ((1,), None)
        assert rail.clear == pytest.approx(float(layout.rails[index].underside - field.heights[0]) * cos - 9 / 4)
    low = by_place(layout, 0, sphere=F(9, 2))[Where("under lowest strand")]
    heights = layout.fields[0].heights
    assert (low.numbers, low.station) == ((len(heights),), None)
    assert low.clear == pytest.approx(float(heights[-1]) - 9 / 4)


def test_a_sphere_that_fits_is_stopped_by_nothing():
    for b in seated(solved(BASE), F(1, 2)):
        assert b == ProbeBearing(opening=b.opening, surface=b.surface, probe=F(1, 2), stopped_by="nothing")


def test_open_risers_are_rigid():
    layout = solved(with_flight(BASE, open_risers=True, rise=F(5), tread=F(3, 2)))
    slots = [b for b in seated(layout) if layout.openings[b.opening].where.kind == "open riser"]
    assert len(slots) == 7
    assert {(b.stopped_by, b.strands) for b in slots} == {("rigid parts", 0)}


def test_between_strand_and_stair_that_stand_apart_no_seat_is_told():
    """Strands 2 in out from the side: between two of them, or one and the rail, the sphere is in their plane."""
    layout = solved(JOBS["side-mounted"])
    kinds = {True: set(), False: set()}
    for b in seated(layout, F(9)):
        opening = layout.openings[b.opening]
        by_guard = {touch.part for touch in opening.touches} <= {"rail", "strand", "post"}
        kinds[by_guard].add(opening.where.kind)
        if by_guard:
            assert b.stopped_by in ("strands", "rigid parts")
        else:
            assert (b.stopped_by, b.numbers, b.clear) == ("strand and stair apart", (), None)
    assert "between strands" in kinds[True]
    assert {"under lowest strand", "step triangle"} <= kinds[False]
    untouched = [b for b in seated(layout, F(1, 100)) if b.stopped_by == "nothing"]
    assert len(untouched) == len(layout.openings)  # what passes at rest passes


def test_level_ground_under_level_strands_by_hand():
    """Across a corner of two posts, and where a landing's strands run on over another: height less half the sphere."""
    corner = two_posts(odd("three turned landings"))
    past = replace(BASE, surfaces=(land(60), land(60, start_post=F(9))))
    for job, kind in ((corner, "under lowest strand at corner"), (past, "under overrun")):
        layout = solved(job)
        found = [b for where, b in by_place(layout, sphere=F(9, 2)).items() if where.kind == kind]
        assert found
        for b in found:
            heights = layout.fields[b.surface].heights
            assert (b.stopped_by, b.numbers, b.station) == ("strands", (len(heights),), None)
            assert b.clear == pytest.approx(float(heights[-1]) - 9 / 4)


def test_each_rule_s_own_sphere_unless_one_is_given():
    layout = solved(BASE)
    for b in seated(layout):
        assert b.probe == layout.openings[b.opening].rule.value
    none = lay_out(replace(BASE, rules="none"), read_rules("none", "in"))
    assert seated(none) == ()
    assert len(seated(none, F(4))) == len(none.openings)


def test_as_marked_the_widest_of_the_marked_gaps():
    layout = solved(BASE)
    between = by_place(layout, 1, as_marked=True)[BETWEEN]
    opening = layout.openings[between.opening]
    assert opening.sphere_as_marked != opening.sphere
    assert between.clear == pytest.approx((opening.sphere_as_marked + 1 / 8) / 2)
    steps = by_place(layout, 1, as_marked=True)
    post = next(p for p in layout.posts if p.role == "line")
    # the strand stands as high as its mark is too high, at the post where that is most
    for where, b in by_place(layout, 1).items():
        if where.kind == "step triangle" and b.clear is not None and steps[where].clear is not None:
            assert abs(steps[where].clear - b.clear) <= 1 / 32 + 1e-9
    assert post.holes


CHECKED = [
    name
    for name, job in JOBS.items()
    if name not in LONG and not any(getattr(s, "open_risers", False) for s in job.surfaces)
]


@pytest.mark.parametrize("name", CHECKED)
def test_every_seat_is_where_the_sphere_just_touches_what_is_rigid(name):
    """GEOS's distance from its centre to ground and posts, drawn from the job alone, is half the sphere's diameter."""
    layout = solved(JOBS[name])
    posts = [
        box(float(p.station - p.width / 2), float(p.base) - 1, float(p.station + p.width / 2), float(p.base) + DEEP)
        for p in layout.posts
    ]
    rigid = shapely.union_all([*solids(layout), *posts])
    for b in (b for larger in (F(0), F(1, 2)) for b in seated(layout, F(6) + larger)):
        if b.centre is None or layout.openings[b.opening].corner is not None:
            continue  # a corner's chord is not in the developed elevation
        assert rigid.distance(Point(b.centre)) == pytest.approx(float(b.probe) / 2, abs=1e-6)
        surface = layout.line.surfaces[b.surface]
        # the strand is touched square to itself
        z = float(surface.datum(F(b.station)) + layout.fields[b.surface].heights[-1])
        assert hypot(b.centre[0] - b.station, b.centre[1] - z) == pytest.approx(abs(b.clear), abs=1e-9)
