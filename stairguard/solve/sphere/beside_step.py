"""Under the lowest strand of a guard that stands out from a flight's side: the widest way out from over one step.

Seen square to the guard, stair and strands seem to lie in one plane; a sphere passes between them where they do not. In
the flight's frame ``y`` is level, out from the stair's side: the stair fills ``y <= 0``, strands lie in ``y = offset``.
The sphere comes from over the treads, and is out where its centre has come to the strands' plane below the lowest one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache
from math import ceil, hypot, inf, sqrt
from typing import TYPE_CHECKING, Final, NamedTuple

from stairguard.geometry.clearance.outline import Outline
from stairguard.geometry.clearance.pockets import Pocket
from stairguard.geometry.space.bodies import Body, Prism, Rod, contact_at
from stairguard.geometry.space.layers import Layer, Screen
from stairguard.geometry.space.saddles import Saddle
from stairguard.geometry.space.way_grid import Way, followed, still, widest_way
from stairguard.solve.sphere.step_profile import Found, Member, Profile, drawn

if TYPE_CHECKING:
    from stairguard.geometry.space.way_grid import Flags, Floats

_AXES: Final = ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0))
"""A figure is drawn in x and z, and reaches along y."""
_ORIGIN: Final = (0.0, 0.0, 0.0)
_CELLS: Final = 10
"""Of the coarsest grid, along the shorter of rise and run."""
_MOST_CELLS: Final = 40
"""Of that, along what is looked at: a low step of a long run is not worth more."""
_AMID: Final = 2
"""A cell whose neighbours are steps like its own."""
_HEIGHTS: Final = 64
"""Heights of a member, to a rise, at which its ways are searched: between them they are followed."""


class LayerPart(NamedTuple):
    """A body as one layer has it, and the names its contacts may have, the last where no edge is drawn."""

    layer: Layer
    names: tuple[str, ...]


def ways_beside(profile: Profile, member: Member, cell: int) -> Iterator[Found]:
    """The widest way out from over one cell of a flight whose strands stand ``profile.offset`` out; none where shut.

    At most one, in the profile's unit of length; contacts and centre are told as they are seen square to the guard.
    Strands above the lowest are left out: what they leave between them is an opening of its own. So is an open riser:
    a sphere that comes through it is not told here, and of smaller ones only those wholly past the stair's side.
    """
    parts = _parts(profile, member, cell)
    way = _way(profile, member, cell, parts)
    if way is None or way.shut_off:  # then it leads out from over a neighbouring cell, and is told there
        return
    yield found_in(drawn(profile, member, cell)[0], (*parts.near, *parts.far), way)


def found_in(outline: Outline, parts: Sequence[LayerPart], way: Way) -> Found:
    """A way where it is narrowest, as it is seen square to the guard in an outline of the same parts."""
    saddle = way.saddle
    met = [_foot(outline, parts[held], saddle) for held in saddle.held_by]
    pocket = Pocket(
        diameter=2 * saddle.radius,
        centre=(saddle.centre[0], saddle.centre[2]),
        sites=tuple(site for _, site, _ in met),
        contacts=tuple(foot for foot, _, _ in met),
        ridge=None,
        out=saddle.centre[1],
        error=2 * way.error,
    )
    return Found(pocket, outline, tuple(name for _, _, name in met))


class _Parts(NamedTuple):
    """What is about a cell: the stair, and what stands out from its side."""

    near: tuple[LayerPart, ...]
    far: tuple[LayerPart, ...]


def _parts(p: Profile, member: Member, i: int) -> _Parts:
    return _Parts(tuple(_stair(p, i)), (*_supports(p, i), _member(p, member)))


def _way(p: Profile, member: Member, i: int, parts: _Parts) -> Way | None:
    """Followed from where it is with the member at a height close by, which is searched once, else searched itself."""
    step = p.rise / _HEIGHTS
    close = replace(member, plumb=round(member.plumb / step) * step)
    if close == member:
        return _searched(p, member, i)
    way = _searched(p, close, i, to_follow=True)
    moved = abs(float(member.plumb - close.plumb)) / hypot(1.0, float(p.slope))
    if way is None or way.shut_off or _through_riser(p, i, way, 2 * moved):
        return _searched(p, member, i)
    after = followed(_screen(p, member, i, parts), way, moved)
    return _searched(p, member, i) if after is None else after


@lru_cache(maxsize=512)
def _searched(p: Profile, member: Member, i: int, *, to_follow: bool = False) -> Way | None:
    parts = _parts(p, member, i)
    screen = _screen(p, member, i, parts)
    plain = _unhindered(p, member, i, parts, to_follow=to_follow)
    if plain is not None and still(screen, plain):
        return plain
    way = widest_way(screen, to_follow=to_follow)
    if way is not None and _through_riser(p, i, way):
        # so small that it comes through the riser, which is judged apart; it is not followed
        way = widest_way(replace(screen, clear=True))
    return way


def _unhindered(p: Profile, member: Member, i: int, parts: _Parts, *, to_follow: bool) -> Way | None:
    """The way out from over a cell of equal steps without end and without posts; None where it may be another.

    None of such a flight is wider: what else there is only takes of its room.
    """
    equal = not p.xs and p.first_rise in (None, p.rise) and not (p.low_slope or p.high_slope)
    if not equal or p.risers is None or not 0 < i < p.risers:
        return None
    none = Fraction(0)
    endless = replace(p, risers=None, posts=(), low_face=none, high_face=none, high_foot=None, first_rise=None)
    way, by = _searched(endless, member, _AMID, to_follow=to_follow), i - _AMID
    if way is None or way.error or _through_riser(p, i, way):
        return None
    bodies = [part.layer.body for part in (*parts.near, *parts.far)]
    along, up = float(by * p.run), float(by * p.rise)
    saddle, *others = (_moved(one, along, up, bodies) for one in (way.saddle, *way.others))
    if len(saddle.held_by) < len(way.saddle.held_by):  # something that held it is not there past the last step
        return None
    return replace(way, saddle=saddle, others=tuple(others))


def _moved(saddle: Saddle, along: float, up: float, bodies: Sequence[Body]) -> Saddle:
    """A narrowest place over another step: so much farther along and up, held by what of these bodies is there."""
    x, y, z = saddle.centre
    centre = x + along, y, z + up
    gaps = [contact_at(body, centre).gap for body in bodies]
    touched = tuple(at for at, gap in enumerate(gaps) if abs(gap - saddle.radius) < _NEAR)
    return replace(saddle, centre=centre, held_by=touched)


def _foot(outline: Outline, part: LayerPart, saddle: Saddle) -> tuple[tuple[float, float], int, str]:
    """Where a sphere touches a part, seen square to the guard, the drawn edge or corner there, and its name."""
    normal = contact_at(part.layer.body, saddle.centre).normal.tolist()
    x, _, z = (c - saddle.radius * n for c, n in zip(saddle.centre, normal, strict=True))
    return (x, z), *_site(outline, (x, z), part.names)


def _stair(p: Profile, i: int) -> Iterator[LayerPart]:
    """Floors, boards and risers of cell i and of those that a sphere over it may come near."""
    last = p.risers if p.risers is not None else i + 3
    for k in range(max(0, i - 1), min(last, i + 2) + 1):
        deep = float(p.z(k) - 4 * (p.rise + p.run))
        if k == 0:
            ends = float(p.x(1) - 4 * p.run), float(p.x(1) + p.nosing)
            floor = column(ends, deep, [float(p.ground(0, Fraction(x))) for x in ends])
            yield LayerPart(Layer(floor, floor.figure, 0.0), (p.low_floor, SIDE))
            continue
        x, z = p.x(k), p.z(k)
        back = p.x(k + 1) + p.nosing if k != last else x + 4 * p.run
        top = [float(p.ground(k, at)) for at in (x, back)]
        board = column((float(x), float(back)), float(z - p.tread) if p.nosing or p.open_risers else deep, top)
        yield LayerPart(
            Layer(board, board.figure, 0.0), (p.high_floor if k == p.risers else "tread", "nosing", "riser", SIDE)
        )
        if not p.open_risers and p.nosing:
            under = column((float(x + p.nosing), float(back)), deep, [t - float(p.tread) for t in top])
            yield LayerPart(Layer(under, under.figure, 0.0), ("riser", SIDE))


SIDE: Final = "stair side"
"""What a contact below the edge of a walking surface is called."""


def column(
    ends: tuple[float, float], bottom: float, tops: list[float], span: tuple[float, float] = (-inf, 0.0)
) -> Prism:
    """A figure between two plumb lines, seen square to the guard, level below and with a straight top."""
    (left, right), (first, second) = ends, tops
    return Prism(_ORIGIN, _AXES, ((left, bottom), (right, bottom), (right, second), (left, first)), span)


def _supports(p: Profile, i: int) -> Iterator[LayerPart]:
    """The posts within reach, as deep along y as they are wide, about the strands' plane."""
    half, out = float(p.post_width) / 2, float(p.offset)
    span = out - half, out + half
    top = float(p.z(i) + 8 * (p.rise + p.run))
    for k, centre in p.posts:
        if i - 2 <= k <= i + 2:
            ends = float(centre) - half, float(centre) + half
            yield upright_part(column(ends, float(p.z(k) - p.drop), [top, top], span))
    if p.risers is None:
        return
    low, high = float(p.low_face), float(p.high_face)
    foot = float(p.ground(p.cells[0], p.low_face) - p.drop)
    yield upright_part(column((low - 2 * half, low), foot, [top, top], span))
    foot = float(p.ground(p.risers, p.high_face) - 4 * (p.rise + p.run)) if p.high_foot is None else float(p.high_foot)
    yield upright_part(column((high, high + 2 * half), foot, [top, top], span))


def upright_part(body: Prism) -> LayerPart:
    """A post."""
    return LayerPart(Layer(body, body.figure, body.span[0]), ("post",))


def _member(p: Profile, member: Member) -> LayerPart:
    """The member's axis, or the line its surface stands behind, past all else."""
    slope, over, out = float(p.slope), float(p.line + member.plumb), float(p.offset)
    first = float(p.x(1) - 6 * (p.run + p.rise))
    last = float((p.x(p.risers) if p.risers else p.x(1)) + 6 * (p.run + p.rise))
    ends = (first, first * slope + over), (last, last * slope + over)
    (ax, az), (bx, bz) = ends
    return LayerPart(Layer(Rod((ax, out, az), (bx, out, bz), float(member.radius)), ends, out), (member.name,))


def _strip(p: Profile, i: int) -> tuple[Fraction, Fraction]:
    """From where to where a cell lies over its tread, along x."""
    first = p.x(i) if i else p.x(1) - p.run
    last = p.x(i + 1) + p.nosing if i != p.risers else p.x(i) + p.run
    if p.risers is None:
        return first, last
    low = p.low_face if i == 0 else max(first, p.low_face)
    return low, p.high_face if i == p.risers else min(last, max(p.high_face, low))


def _through_riser(p: Profile, i: int, way: Way, more: float = 0.0) -> bool:
    """Whether a sphere, or one so much smaller, gets between the tread of a cell and the next one's board."""
    if not p.open_risers or i == p.risers:
        return False
    return 2 * way.saddle.radius - more <= float(p.z(i + 1) - p.tread - p.z(i)) + _NEAR


def _screen(p: Profile, member: Member, i: int, parts: _Parts) -> Screen:
    """Half a step more than the cell each way, and down past what a sphere beside the stair could need.

    A way starts over the cell's own tread, is never over another one, and ends under the member. Behind the back of an
    open riser its centre is past the stair's side: all in the stair is what comes through the riser.
    """
    slope, over = float(p.slope), float(p.line + member.plumb)
    first, last = map(float, _strip(p, i))
    wide, offset, half = float(p.run) / 2, float(p.offset), float(p.post_width) / 2
    left, right = first - wide, last + wide
    if p.risers is not None:
        left, right = max(left, float(p.low_face) - half), min(right, float(p.high_face) + half)
    bottom = min(float(p.z(i) - p.rise), left * slope + over) - offset - float(member.radius)
    top = max(right * slope + over, float(p.z(i))) + offset
    size = max(float(min(p.rise, p.run)) / _CELLS, max(right - left, top - bottom) / _MOST_CELLS)
    floor, above = float(p.z(i)), float(p.z(i + 1)) if i != p.risers else inf
    below = float(p.z(i - 1)) if i else -inf
    behind = float(p.x(i + 1) + p.nosing) if p.open_risers and i != p.risers else inf

    def starts(x: Floats, z: Floats) -> Flags:
        return (x > first) & (x < min(last, behind)) & (z > floor)

    def shut(x: Floats, z: Floats) -> Flags:
        return ((x < first) & (z > below)) | ((x > last) & (z > above))

    return Screen(
        near=tuple(part.layer for part in parts.near),
        far=tuple(part.layer for part in parts.far),
        low=(left, bottom),
        high=(right, top),
        counts=(ceil((right - left) / size), ceil((top - bottom) / size)),
        starts=starts,
        ends=lambda x, z: z < over + x * slope,
        shut=shut,
        past=(lambda x, z: (x > behind) & (z > floor)) if behind < inf else None,
    )


def _site(outline: Outline, foot: tuple[float, float], names: tuple[str, ...]) -> tuple[int, str]:
    """The drawn edge or corner that a contact lies on, seen square to the guard, and its name.

    One on the stair's side, within its outline, is named so; the nearest edge stands for it in the drawing.
    """
    near = [(_from_site(outline, site, foot), -site) for site in range(len(outline.edges) + len(outline.corners))
            if outline.name(site) in names]  # fmt: skip
    if not near:
        return 0, names[-1]
    off, site = min(near)
    return -site, outline.name(-site) if off < _NEAR or SIDE not in names else SIDE


_NEAR: Final = 1e-6
"""Of a unit of length: a contact this near an edge is on it."""


def _from_site(outline: Outline, site: int, foot: tuple[float, float]) -> float:
    """How far a point is from an edge's surface or a corner; equally far from both, the corner counts as nearer."""
    if site >= len(outline.edges):
        at = outline.corners[site - len(outline.edges)].at
        return round(hypot(foot[0] - float(at.x), foot[1] - float(at.z)), 9)
    edge = outline.edges[site]
    ax, az, bx, bz = (float(v) for v in (edge.a.x, edge.a.z, edge.b.x, edge.b.z))
    ex, ez = bx - ax, bz - az
    share = min(max(((foot[0] - ax) * ex + (foot[1] - az) * ez) / (ex * ex + ez * ez), 0.0), 1.0)
    return round(abs(hypot(foot[0] - ax - share * ex, foot[1] - az - share * ez) - abs(float(edge.radius))), 9)


def start_lift(p: Profile, limit: Fraction, radius: Fraction) -> float:
    """Square lift of the member's underside that lets through a sphere of exactly ``limit`` between tread and riser.

    With ``k = sqrt(1 + (rise/run)^2)``, centre ``y`` out from the side, square distances of the centre, seen square to
    the guard, from tread and riser ``a = sqrt(r^2 - y^2)`` and from the member's axis ``b = sqrt((r + d/2)^2 -
    (offset - y)^2)`` meet the step triangle's ``a (1 + rise/run) + b k = rise (1 + nosing/run) + (lift + d/2) k``. The
    sphere gets by where that leaves room at every ``y`` of its way, so that the greatest of the left side counts.
    """
    rise, run, nosing, r, out, half = (float(v) for v in (p.rise, p.run, p.nosing, limit / 2, p.offset, radius))
    k = hypot(1.0, rise / run)

    def taken(y: float) -> float:
        a, b = r * r - y * y, (r + half) ** 2 - (out - y) ** 2
        return sqrt(max(a, 0.0)) * (1 + rise / run) + sqrt(max(b, 0.0)) * k

    low, high = max(0.0, out - r - half), min(out, r)
    for _ in range(200):  # the left side is concave in y: thirds close in on its greatest
        a, b = low + (high - low) / 3, high - (high - low) / 3
        low, high = (a, high) if taken(a) < taken(b) else (low, b)
    return (taken(low) - rise * (1 + nosing / run)) / k - half
