"""Openings of whole lines by GEOS: stairs, ramps and landings as solids, and the largest circle left in each bay.

The solids are drawn here from the job in its frame: a tread's slab with its nosing, the body behind each riser, floors.
GEOS (through shapely) knows nothing of strands or rules; its circle is good to the tolerance asked for.
"""

from dataclasses import replace
from fractions import Fraction as F
from itertools import pairwise
from math import sqrt

import pytest
import shapely
from shapely.geometry import Polygon, box

from stairguard.model.guard.opening_kinds import Touch, Where
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Flight, MeasuredFlight
from stairguard.rules.findings.checks import check
from stairguard.solve.lay_out import lay_out
from tests.solve.jobs import BASE
from tests.solve.lines import JOBS, LONG, STRIPS, land, odd, ramp, solved, up

DEEP = 1e4
THIN = 1e-7  # of a nosing of no thickness, which a polygon cannot have


def slab(a, za, b, zb, deep=DEEP):
    """Everything under a line from (a, za) to (b, zb), down by ``deep``."""
    return Polygon([(a, za), (b, zb), (b, zb - deep), (a, za - deep)])


def solids(layout: Layout):
    """The ground of the whole line. Every flight is drawn uphill and mirrored where it goes down."""
    surfaces = layout.line.surfaces
    for surface in surfaces:
        if surface.kind == "flight":
            yield from steps(surfaces, surface)
        else:
            yield floor(surfaces, surface)


def overhang(surfaces, surface: PlacedSurface, side):
    """Nosing and tread of the flight that ends at the top on one side of a surface; nothing where none does."""
    i = surface.index + side
    if 0 <= i < len(surfaces) and isinstance(surfaces[i].given, (Flight, MeasuredFlight)):
        given = surfaces[i].given
        comes_up = given.down == (side > 0)
        if comes_up:
            return float(given.nosing), max(float(given.tread), THIN)
    return 0.0, 0.0


def floor(surfaces, surface: PlacedSurface):
    first, last = float(surface.edge_start.s), float(surface.edge_end.s)
    slope = float(surface.end.z - surface.start.z) / (last - first) if last > first else 0.0  # no length: at a corner
    z = float(surface.start.z)
    # a guard beside it may turn past its corner: floor goes on there as if it did not end
    a, b = min(first, float(surface.start.s)), max(last, float(surface.end.s))

    def top(s):
        return z + (s - first) * slope

    (left, thick_left), (right, thick_right) = (overhang(surfaces, surface, side) for side in (-1, 1))
    parts = [slab(a + left, top(a + left), b - right, top(b - right))]
    if left:
        parts.append(slab(a, top(a), a + left, top(a + left), thick_left))
    if right:
        parts.append(slab(b - right, top(b - right), b, top(b), thick_right))
    return shapely.union_all(parts)


def steps(surfaces, surface: PlacedSurface):
    given = surface.given
    way = -1 if given.down else 1
    nosings = surface.nosings[::way]
    bottom = surface.edge_end if given.down else surface.edge_start
    nosing, tread = float(given.nosing), max(float(given.tread), THIN)
    below = surface.index - way
    slope = 0.0
    if 0 <= below < len(surfaces) and surfaces[below].kind == "ramp":
        slope = float(surfaces[below].slope)
    for edge, end in ((surface.edge_start, surface.start), (surface.edge_end, surface.end)):
        if abs(end.s - edge.s) and (end.s < edge.s) == (edge == surface.edge_start):
            ends = sorted((float(at.s), float(at.z)) for at in (edge, end))
            yield slab(*ends[0], *ends[1])
    # floor under the first nosing, as far as its riser
    x0, z0 = float(bottom.s), float(bottom.z)
    foot = x0 + way * nosing
    if nosing:
        ends = sorted([(x0, z0), (foot, z0 + way * nosing * slope)])
        yield slab(*ends[0], *ends[1])
    for low, high in pairwise(nosings):
        z = float(low.z)
        front, back = float(low.s), float(high.s) + way * nosing
        behind = front + way * nosing
        yield box(*sorted((front, back))[:1], z - tread, *sorted((front, back))[1:], z)
        yield box(*sorted((behind, back))[:1], z - DEEP, *sorted((behind, back))[1:], z)
    # the top nosing, where another flight goes on from it at once
    top = nosings[-1]
    beyond = surface.index + way
    if nosing and 0 <= beyond < len(surfaces) and surfaces[beyond].kind == "flight":
        z, x = float(top.z), float(top.s)
        a, b = sorted((x, x + way * nosing))
        yield box(a, z - tread, b, z)


def bays(layout: Layout):
    """Clear bays between posts with the surface whose strands cross them, as stations of the facing faces."""
    pairs = {j.post for j in layout.joints if j.second_post}
    changes = {j.second_post or j.post: j.between[1] for j in layout.joints}
    over = next(s.index for s in layout.line.surfaces if s.carries)
    for a, b in pairwise(layout.posts):
        over = changes.get(a.label, over)
        if a.label not in pairs:
            yield over, float(a.station + a.width / 2), float(b.station - b.width / 2)


def largest_circle(layout: Layout, ground, over, a, b):
    """Diameter of the largest circle between two posts, the ground and the lowest strand of a surface."""
    surface = layout.line.surfaces[over]
    slope = float(surface.slope)
    lowest, radius = float(layout.fields[over].heights[-1]), float(layout.job.strand.diameter) / 2

    def under(s):
        datum = float(surface.origin.z) + (s - float(surface.origin.s)) * slope
        return datum + lowest - radius * sqrt(1 + slope * slope)

    region = slab(a, under(a), b, under(b), DEEP / 2).difference(ground)
    parts = [p for p in getattr(region, "geoms", [region]) if p.area > 1e-6]
    size = float(layout.fields[over].heights[0])
    return max((2 * shapely.maximum_inscribed_circle(p, tolerance=size * 1e-8).length for p in parts), default=0.0)


def crooked(layout: Layout, over):
    """A flight beside another with nosings between them has no section one could draw: they share one edge."""
    surfaces = layout.line.surfaces
    for i in (over - 1, over + 1):
        if 0 <= i < len(surfaces) and {surfaces[i].kind, surfaces[over].kind} == {"flight"}:
            ways = {surfaces[k].given.down for k in (i, over)}
            if len(ways) == 2 and any(surfaces[k].given.nosing for k in (i, over)):
                return True
    return False


CLOSED = [
    name
    for name, job in JOBS.items()
    if name not in LONG and not any(getattr(s, "open_risers", False) for s in job.surfaces)
]


def beside(out, drop=6, surfaces="steps, ramp, steps"):
    """Strands that stand so far out from the side of the steps and ramp."""
    return odd(surfaces, post=replace(BASE.post, mount="side", drop=F(drop), offset=F(out), setback=F(5)))


@pytest.mark.parametrize("out", ["1/8", "1", "2", "7/2", "15/4"])
def test_past_an_edge_that_strands_stand_out_from(out):
    """hypot(h, o) - d/2, h square: from an edge to a strand in space (derived); as low as the edge, o - d/2."""
    layout = solved(beside(out))
    found = [o for o in layout.openings if o.where.kind == "under lowest strand"]
    assert {layout.line.surfaces[o.surface].kind for o in found} == {"ramp", "landing"}
    for opening in found:
        surface = layout.line.surfaces[opening.surface]
        high = float(layout.fields[opening.surface].heights[-1]) / sqrt(1 + float(surface.slope) ** 2)
        radius = float(layout.job.strand.diameter) / 2
        assert opening.sphere == pytest.approx(sqrt(max(high, 0) ** 2 + float(F(out)) ** 2) - radius, abs=1e-12)
        assert 0 < opening.out < float(F(out))
        assert opening.passes


@pytest.mark.parametrize("name", [name for name in CLOSED if JOBS[name].post.out])
def test_beside_the_stair_a_bay_lets_through_no_less_than_is_seen_in_elevation(name):
    """Seen square to the guard, stair and strand are no farther apart than in space: GEOS's circle gets past too."""
    layout = solved(JOBS[name])
    ground = shapely.union_all(list(solids(layout)))
    assert list(bays(layout))
    for over, a, b in bays(layout):
        ours = [o.sphere for o in layout.openings if o.surface == over and o.where.kind not in (*STRIPS, "open riser")]
        assert max(ours) > largest_circle(layout, ground, over, a, b) - 1e-6


@pytest.mark.parametrize("name", [name for name in CLOSED if not JOBS[name].post.out])
def test_the_largest_circle_of_every_bay_is_among_the_openings(name):
    layout = solved(JOBS[name])
    ground = shapely.union_all(list(solids(layout)))
    scale = float(layout.fields[next(s.index for s in layout.line.surfaces if s.carries)].heights[0])
    for over, a, b in bays(layout):
        if crooked(layout, over):
            continue
        theirs = largest_circle(layout, ground, over, a, b)
        ours = [o.sphere for o in layout.openings if o.surface == over and o.where.kind not in (*STRIPS, "open riser")]
        gap = [o.sphere for o in layout.openings if o.surface == over and o.where.kind == "under lowest strand"]
        close = scale * 1e-6
        # on a landing or ramp the gap is stated as if no post narrowed it
        assert any(abs(o - theirs) < close for o in ours) or (gap and theirs < gap[0] + close), (over, a, b, theirs)


def triangle(tread):
    return Where("step triangle", step=tread)


def test_every_step_of_a_surveyed_flight_has_its_own_opening():
    layout = solved(odd("surveyed between landings"))
    surface = layout.line.surfaces[1]
    ground = shapely.union_all(list(solids(layout)))
    steps_of = {o.where: o for o in layout.openings if o.where.kind in ("step triangle", "first riser")}
    assert len(steps_of) == len(surface.nosings)
    found = 0
    for tread, (low, high) in enumerate(pairwise(surface.nosings), 1):
        a, b = float(low.s), float(high.s) + 1
        posts = [p for p in layout.posts if a < p.station < b]
        if posts:
            continue
        theirs = largest_circle(layout, ground, 1, a - 4, b + 4)
        # seen a little past both nosings the circle of this step or of a neighbour is the largest
        near = [o.sphere for k in (tread - 1, tread, tread + 1) if (o := steps_of.get(triangle(k)))]
        assert steps_of[triangle(tread)].sphere <= theirs + 1e-6
        found += any(abs(s - theirs) < 1e-6 for s in near)
    assert found
    assert len({round(o.sphere, 9) for o in steps_of.values()}) > 2, "unequal steps, unequal spheres"


@pytest.mark.parametrize("name", ["post forced at a gentle joint", "steps down to a ramp", "ramp up, ramp down"])
def test_strands_that_overrun_an_edge_have_their_wedge_measured(name):
    """Where strands hang over the next surface the opening there is stated, no kinder than GEOS finds it."""
    layout = solved(odd(name))
    ground = shapely.union_all(list(solids(layout)))
    for over, a, b in bays(layout):
        surface = layout.line.surfaces[over]
        start, end = float(surface.start.s), float(surface.end.s)
        if surface.kind == "flight":
            continue
        past = [(a, min(b, start + 60), over - 1)] if a < start else []
        past += [(max(a, end - 60), b, over + 1)] if b > end else []
        for low, high, beyond in past:
            where = Where("under overrun", surface=beyond)
            stated = [o.sphere for o in layout.openings if o.surface == over and o.where == where]
            assert len(stated) == 1
            assert stated[0] > largest_circle(layout, ground, over, low, high) - 1e-6


def in_the_ground(layout: Layout):
    """Surfaces whose lowest strand runs into the ground somewhere between two posts; none of a guard beside it."""
    if layout.job.post.out > layout.job.strand.diameter / 2:
        return  # the ground ends at the edge that the strands stand out from
    ground = shapely.union_all(list(solids(layout)))
    for over, a, b in bays(layout):
        surface = layout.line.surfaces[over]
        height = float(layout.fields[over].heights[-1])
        ends = [
            (s, float(surface.origin.z) + (s - float(surface.origin.s)) * float(surface.slope) + height)
            for s in (a + 1e-6, b - 1e-6)
        ]
        if not crooked(layout, over) and shapely.LineString(ends).intersection(ground).length > 1e-4:
            yield over


@pytest.mark.parametrize("name", JOBS)
def test_strands_that_run_into_the_ground_never_pass(name):
    layout = solved(JOBS[name])
    if list(in_the_ground(layout)):
        assert not check(layout).passes


@pytest.mark.parametrize("at", [F(3), F(9), F(14)])
@pytest.mark.parametrize("rise", [F(-12), F(12), F(18)])
def test_a_forced_post_on_a_ramp_leaves_the_strands_over_it_measured(at, rise):
    """The flight's strands run on over the ramp as far as the post: GEOS's circle there is among the openings."""
    job = replace(BASE, surfaces=(land(), up(4), ramp(144, rise, start_post=at), land(60)))
    layout = lay_out(job, solved(BASE).rules)
    ground = shapely.union_all(list(solids(layout)))
    (last,) = [(a, b) for over, a, b in bays(layout) if over == 1 and b > float(layout.line.surfaces[1].end.s)]
    theirs = largest_circle(layout, ground, 1, *last)
    assert any(abs(o.sphere - theirs) < 1e-5 for o in layout.openings if o.surface == 1)


def test_past_a_thin_post_the_neighbours_deep_rail_leaves_more_room_under_it():
    """In closed form: a circle under a level line, beside a plumb face and above a sloping strand, touching all three.

    Tangency of a circle to lines by their normal form; any text of plane geometry. The undersides cross where the
    plane that halves the two rails cuts them, so far past the face that the circle is wholly under the level one.
    """
    rail = replace(BASE.rail, depth=F(8), height=F(42), landing_height=F(42))
    layout = solved(replace(BASE, rail=rail))
    told = {(o.where, o.surface): o for o in layout.openings if o.where.kind in STRIPS[:2]}
    wide = told.pop((Where("under rail at post", post="P2"), 1))
    strip = Where("under rail")
    assert {where for where, _ in told} == {strip}  # where rails bend down there is no more room
    flight = layout.line.surfaces[1]
    m = float(flight.slope)
    sec = sqrt(1 + m * m)
    post = next(p for p in layout.posts if p.label == "P2")
    face, level, radius = float(post.station + post.width / 2), 42.0 - 8.0, 1 / 16
    strand = float(flight.datum(post.station + post.width / 2) + layout.fields[1].heights[0])
    # centre (face + r, level - r): its distance to the strand's line is r and the strand's radius
    r = (level - strand - radius * sec) / (1 + m + sec)
    assert wide.sphere == pytest.approx(2 * r, rel=1e-12)
    assert wide.centre == pytest.approx((face + r, level - r), rel=1e-12)
    assert wide.sphere > 1.9 * told[strip, 1].sphere
    assert (wide.rule, wide.passes) == (told[strip, 1].rule, True)


def test_treads_with_as_many_last_posts_in_one_place_are_not_alike_for_that():
    """Two posts on tread 3, one on tread 7 where the second of those stands: what is left beside each is its own."""

    def triangles(*posts):
        steps = up(12, run=F(12), rise=F(15, 2), nosing=F(1), posts=posts)
        layout = solved(replace(BASE, surfaces=(land(60), steps, land(60)), post=replace(BASE.post, width=F(3, 4))))
        return {o.where: o.sphere for o in layout.openings if o.where.kind == "step triangle"}

    both, third, seventh = triangles(F(31), F(34), F(82)), triangles(F(31), F(34)), triangles(F(82))
    assert both[triangle(3)] == third[triangle(3)]
    assert both[triangle(7)] == pytest.approx(seventh[triangle(7)], rel=1e-9)
    assert both[triangle(7)] > 1.2 * both[triangle(3)]


def test_edge_protection_of_a_ramp_places_its_lowest_strand():
    """ADA 405.9.2: a sphere of 4 in at the edge (second-hand, as its pack says); one mark to spare, plumb."""
    layout = solved(replace(BASE, rules="ada-2010", surfaces=(land(60), ramp(120, 10), land(60))))
    (told,) = (o for o in layout.openings if o.surface == 1 and o.where.kind == "under lowest strand")
    assert told.rule.quantity == "ramp edge"
    assert told.sphere == pytest.approx(4 - 1 / 16 / sqrt(1 + (10 / 120) ** 2), abs=1e-12)


def test_strands_are_told_by_the_rules_that_speak_to_their_heights():
    """IBC 1015.4: 4 in up to 36 in of height, 4-3/8 from there to 42; what reaches below 36 in is held to 4."""
    rail = replace(BASE.rail, height=F(42), landing_height=F(42))
    strand = replace(BASE.strand, spacing=F(2))
    layout = solved(replace(BASE, rules="ibc-2021", rail=rail, strand=strand, surfaces=(land(90),)))
    heights = layout.fields[0].heights
    within = [k for k in range(1, len(heights)) if heights[k] - strand.diameter / 2 >= 36]
    assert within
    told = {o.rule.value: o.touches for o in layout.openings if o.where.kind == "between strands"}
    assert told.keys() == {F(35, 8), F(4)}
    assert told[F(35, 8)][1] in {Touch("strand", k + 1) for k in within}
