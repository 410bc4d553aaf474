"""Sections against the guard's own figures, by plane and solid geometry written out here."""

from itertools import pairwise
from math import hypot

import pytest
import shapely

from stairguard.reports.drawing.section.section_facts import section_of, side_sections
from tests.reports import guards
from tests.reports.drawing.section import sides

NEAR = 1e-9


@pytest.fixture(params=sorted(sides.JOBS))
def layout(request):
    return sides.checked(request.param).layout


def on_level(layout):
    return [s for s in side_sections(layout) if s.surface.kind == "landing"]


def over_steps(layout):
    return [s for s in side_sections(layout) if s.surface.kind == "flight"]


def test_a_guard_on_the_surface_has_no_section():
    assert side_sections(guards.checked(guards.inch_job()).layout) == ()


def test_a_landing_and_a_flight_or_ramp_are_cut(layout):
    kinds = [s.surface.kind for s in side_sections(layout)]
    assert "landing" in kinds
    assert {"flight", "ramp"} & set(kinds)
    assert len(kinds) == 2
    letters = [s.letter for s in sorted(side_sections(layout), key=lambda s: s.station)]
    assert letters == ["A", "B"]


def test_the_tightest_opening_of_its_kind_of_surface_is_shown(layout):
    for section in side_sections(layout):
        alike = [
            o for o in layout.openings
            if o.out and o.rule and layout.line.surfaces[o.surface].kind == section.surface.kind
            and "corner" not in o.where.kind  # drawn in plan
        ]  # fmt: skip
        shown = section.opening
        assert max(o.sphere_as_marked / float(o.rule.value) for o in alike) <= (
            max(shown.sphere, shown.sphere_as_marked) / float(shown.rule.value) + NEAR
        )
        assert section_of(layout, shown) == section


def test_a_sphere_at_a_landing_touches_edge_and_strand(layout):
    # by hand, from the job's offset and the height of the strand: hypot(h, o) - d/2 over the edge, o - d/2 below it
    for section in on_level(layout):
        job, (y, z), radius = layout.job, section.centre, section.opening.sphere / 2
        height = float(layout.fields[section.surface.index].heights[-1])
        offset, half = float(job.post.offset), float(job.strand.diameter) / 2
        assert section.edge == float(section.surface.start.z)
        assert section.opening.sphere == pytest.approx(hypot(max(height, 0.0), offset) - half, abs=NEAR)
        assert hypot(offset - y, section.edge + height - z) == pytest.approx(radius + half, abs=NEAR)
        assert hypot(y, max(z - section.edge, 0.0)) == pytest.approx(radius, abs=NEAR)
        number, low = section.strands[0]
        assert (number, low) == (len(section.strands), pytest.approx(section.edge + height, abs=NEAR))


def test_contacts_lie_on_the_sphere_in_space(layout):
    for section in side_sections(layout):
        y0, z0 = section.centre
        contacts = list(section.contacts())
        assert len(contacts) >= 2
        for _, (y, z), along in contacts:
            assert hypot(y - y0, z - z0, along) == pytest.approx(section.opening.sphere / 2, abs=1e-7)


def test_the_strand_is_where_it_is_touched(layout):
    for section in side_sections(layout):
        touched, slope = section.touched_strand, float(section.surface.slope)
        (along,) = (along for touch, _, along in section.contacts() if touch.part == "strand")
        assert (touched is None) == (slope == 0)
        if touched is not None:
            assert touched[0] == section.out
            # the axis is as far out of the section as the contact, by similar triangles from the centre
            axis = along * (1 + 2 * section.radius / section.opening.sphere)
            assert touched[1] == pytest.approx(section.strands[0][1] + slope * axis, abs=1e-7)


def test_strands_are_cut_at_their_heights_over_the_nosing_line(layout):
    for section in over_steps(layout):
        low, high = section.surface.nosings[0], section.surface.nosings[-1]
        slope = float((high.z - low.z) / (high.s - low.s))
        line = float(low.z) + (section.station - float(low.s)) * slope
        assert section.line == pytest.approx(line, abs=NEAR)
        heights = [z - line for _, z in section.strands]
        assert heights == pytest.approx(sorted(map(float, layout.fields[section.surface.index].heights)), abs=NEAR)


def test_the_edge_of_a_step_is_a_tread_and_the_next_step_is_one_rise_up(layout):
    for section in over_steps(layout):
        given = section.surface.given
        assert section.edge in [pytest.approx(float(p.z)) for p in section.surface.nosings]
        foot, under, top = section.beyond
        assert (top - section.edge, top - under) == pytest.approx((float(given.rise), float(given.tread)))
        assert foot == pytest.approx(under if given.open_risers else section.edge)


def test_the_post_stands_as_deep_below_the_surface_as_the_job_says(layout):
    for section in side_sections(layout):
        if section.post is None:
            assert section.surface.kind == "flight"
            continue
        there = section.edge
        if section.surface.kind == "ramp":
            there += (float(section.post.station) - section.station) * float(section.surface.slope)
        assert there - float(section.post.base) == pytest.approx(float(layout.job.post.drop))


def _stair(section):
    """The flight seen square to the guard, as shapely has it: boards, risers and what is behind them."""
    surface, given = section.surface, section.surface.given
    up = 1 if surface.slope > 0 else -1
    nosings = sorted((up * float(p.s), float(p.z)) for p in surface.nosings)
    run, rise = nosings[1][0] - nosings[0][0], nosings[1][1] - nosings[0][1]
    nosing, tread, deep = float(given.nosing), float(given.tread), nosings[0][1] - 40 * rise
    solid = [shapely.box(nosings[0][0] - 20 * run, deep, nosings[0][0] + nosing, nosings[0][1] - rise)]
    for (x, z), (beyond, _) in pairwise([*nosings, (nosings[-1][0] + 20 * run, 0.0)]):
        back = beyond + nosing
        solid.append(shapely.box(x, z - tread, back, z))
        if not given.open_risers:
            solid.append(shapely.box(x + nosing, deep, back, z))
    return shapely.union_all(solid), up


def test_the_way_round_the_edge_leaves_a_sphere_room(layout):
    # Ours, tested: with its centre anywhere on the way that is drawn there is a station from which the sphere touches
    # neither stair nor strand; both by distances in space from their outlines, seen square to the guard.
    for section in over_steps(layout):
        assert section.way
        stair, up = _stair(section)
        radius, slope = section.opening.sphere / 2, abs(float(section.surface.slope))
        strand = section.strands[0][1] - slope * up * section.station  # at station zero, uphill positive
        for y, z in section.way[::3]:
            room = -1.0
            for i in range(-300, 301):
                x = up * section.station + radius * i / 200
                seen = stair.distance(shapely.Point(x, z))
                square = (z - strand - slope * x) / hypot(1, slope)
                clear = hypot(seen, max(y, 0.0)), hypot(square, section.out - y) - section.radius
                room = max(room, min(clear))
            assert room > radius * (1 - 0.003), (y, z)


def test_the_way_over_a_landing_leaves_a_sphere_room(layout):
    for section in on_level(layout):
        radius, strand = section.opening.sphere / 2, section.strands[0][1]
        at_narrowest = 2 * radius
        last, end = section.way[-2:]
        down = [(last[0], last[1] + (end[1] - last[1]) * k / 50) for k in range(51)]
        for y, z in (*section.way, *down):
            assert hypot(max(y, 0.0), max(z - section.edge, 0.0)) >= radius - NEAR
            clear = hypot(section.out - y, strand - z) - section.radius
            assert clear >= radius - NEAR
            at_narrowest = min(at_narrowest, clear)
        assert at_narrowest == pytest.approx(radius, rel=0.01)
