"""Under the lowest strand of a guard that stands out from a flight's side: the widest way out from over one step.

Seen square to the guard, stair and strands seem to lie in one plane; a sphere passes between them where they do not. In
the flight's frame ``y`` is level, out from the stair's side: the stair fills ``y <= 0``, strands lie in ``y = offset``.
The sphere comes from over the treads, and is out where its centre has come to the strands' plane below the lowest one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil, hypot, inf, sqrt
from typing import Final, NamedTuple

from stairguard.geometry.clearance.outline import Outline
from stairguard.geometry.clearance.pockets import Pocket
from stairguard.geometry.space.bodies import Body, Prism, Rod, Triple, contact_at
from stairguard.geometry.space.saddles import Saddle
from stairguard.geometry.space.widest_way import Room, ways
from stairguard.solve.sphere.step_profile import Found, Member, Profile, drawn

_AXES: Final = ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0))
"""A figure is drawn in x and z, and reaches along y."""
_ORIGIN: Final = (0.0, 0.0, 0.0)
_CELLS: Final = 10
"""Grid cells along the shorter of rise and run."""
_LAYERS: Final = 4
"""Grid cells out from the stair's side, at the least."""


class _Part(NamedTuple):
    """A body, the cell that it is the floor or riser of, and the names its contacts may have."""

    body: Body
    cell: int | None
    names: tuple[str, ...]


def ways_beside(profile: Profile, member: Member, cell: int) -> Iterator[Found]:
    """The widest way out from over one cell of a flight whose strands stand ``profile.offset`` out; none where shut.

    Contacts and centre are told as they are seen square to the guard.
    """
    p, i = profile, cell
    parts = [*_stair(p, i), *_supports(p, i), _Part(_rod(p, member), None, (member.name,))]
    outline, _ = drawn(p, member, i)

    def feet(saddle: Saddle) -> list[tuple[tuple[float, float], int, str]]:
        return [_foot(outline, parts[held], saddle) for held in saddle.held_by]

    def mine(saddle: Saddle) -> bool:
        return _cell(p, parts, saddle, [name for _, _, name in feet(saddle)]) == i

    for saddle in ways([part.body for part in parts], _room(p, member, i), mine):
        met = feet(saddle)
        pocket = Pocket(
            diameter=2 * saddle.radius,
            centre=(saddle.centre[0], saddle.centre[2]),
            sites=tuple(site for _, site, _ in met),
            contacts=tuple(foot for foot, _, _ in met),
            ridge=None,
            out=saddle.centre[1],
            error=0.0,
        )
        yield Found(pocket, outline, tuple(name for _, _, name in met))
        return


def _foot(outline: Outline, part: _Part, saddle: Saddle) -> tuple[tuple[float, float], int, str]:
    """Where a sphere touches a part, seen square to the guard, the drawn edge or corner there, and its name."""
    normal = contact_at(part.body, saddle.centre).normal.tolist()
    x, _, z = (c - saddle.radius * n for c, n in zip(saddle.centre, normal, strict=True))
    return (x, z), *_site(outline, (x, z), part.names)


def _cell(p: Profile, parts: Sequence[_Part], saddle: Saddle, names: Sequence[str]) -> int:
    """The cell a way leads out from: of the tread it rests on, else of the riser or post it meets, else where it is."""
    held = [(parts[at], name) for at, name in zip(saddle.held_by, names, strict=True)]
    for kinds, before in ((("tread", "landing", "ramp"), 0), (("riser",), 1), (("nosing",), 1), ((_SIDE,), 0)):
        for part, name in held:
            if name in kinds and part.cell is not None:
                return part.cell - before
    return p.cell(Fraction(saddle.centre[0]))


def _stair(p: Profile, i: int) -> Iterator[_Part]:
    """Floors, boards and risers of cell i and of two cells either way."""
    last = p.risers if p.risers is not None else i + 3
    for k in range(max(0, i - 2), min(last, i + 2) + 1):
        deep = float(p.z(k) - 4 * (p.rise + p.run))
        if k == 0:
            ends = float(p.x(1) - 4 * p.run), float(p.x(1) + p.nosing)
            yield _Part(_column(ends, deep, [float(p.ground(0, Fraction(x))) for x in ends]), 0, (p.low_floor, _SIDE))
            continue
        x, z = p.x(k), p.z(k)
        back = p.x(k + 1) + p.nosing if k != last else x + 4 * p.run
        top = [float(p.ground(k, at)) for at in (x, back)]
        board = _column((float(x), float(back)), float(z - p.tread) if p.nosing or p.open_risers else deep, top)
        yield _Part(board, k, (p.high_floor if k == p.risers else "tread", "nosing", "riser", _SIDE))
        if not p.open_risers and p.nosing:
            under = _column((float(x + p.nosing), float(back)), deep, [t - float(p.tread) for t in top])
            yield _Part(under, k, ("riser", _SIDE))


_SIDE: Final = "stair side"


def _column(ends: tuple[float, float], bottom: float, tops: list[float], span: tuple[float, float] = (-inf, 0.0)) -> Prism:
    (left, right), (first, second) = ends, tops
    return Prism(_ORIGIN, _AXES, ((left, bottom), (right, bottom), (right, second), (left, first)), span)


def _supports(p: Profile, i: int) -> Iterator[_Part]:
    """The posts within reach, as deep along y as they are wide, about the strands' plane."""
    half, out = float(p.post_width) / 2, float(p.offset)
    span = out - half, out + half
    top = float(p.z(i) + 8 * (p.rise + p.run))
    for k, centre in p.posts:
        if i - 2 <= k <= i + 2:
            ends = float(centre) - half, float(centre) + half
            yield _Part(_column(ends, float(p.z(k) - p.drop), [top, top], span), None, ("post",))
    if p.risers is None:
        return
    low, high = float(p.low_face), float(p.high_face)
    foot = float(p.ground(p.cells[0], p.low_face) - p.drop)
    yield _Part(_column((low - 2 * half, low), foot, [top, top], span), None, ("post",))
    foot = float(p.ground(p.risers, p.high_face) - 4 * (p.rise + p.run)) if p.high_foot is None else float(p.high_foot)
    yield _Part(_column((high, high + 2 * half), foot, [top, top], span), None, ("post",))


def _rod(p: Profile, member: Member) -> Rod:
    """The member's axis, or the line its surface stands behind, past all else."""
    slope, over = float(p.slope), float(p.line + member.plumb)
    first = float(p.x(1) - 6 * (p.run + p.rise))
    last = float((p.x(p.risers) if p.risers else p.x(1)) + 6 * (p.run + p.rise))
    a: Triple = (first, float(p.offset), first * slope + over)
    return Rod(a, (last, float(p.offset), last * slope + over), float(member.radius))


def _strip(p: Profile, i: int) -> tuple[Fraction, Fraction]:
    """From where to where a cell lies over its tread, along x."""
    first = p.x(i) if i else p.x(1) - p.run
    last = p.x(i + 1) + p.nosing if i != p.risers else p.x(i) + p.run
    if p.risers is None:
        return first, last
    low = p.low_face if i == 0 else max(first, p.low_face)
    return low, p.high_face if i == p.risers else min(last, max(p.high_face, low))


def _room(p: Profile, member: Member, i: int) -> Room:
    """Half a step more than the cell each way, and down past what a sphere beside the stair could need."""
    slope, over = float(p.slope), float(p.line + member.plumb)
    first, last = map(float, _strip(p, i))
    wide, offset, half = float(p.run) / 2, float(p.offset), float(p.post_width) / 2
    left, right = first - wide, last + wide
    near = min(0.0, offset - half)
    if p.risers is not None:
        left, right = max(left, float(p.low_face) - half), min(right, float(p.high_face) + half)
    bottom = min(float(p.z(i) - p.rise), left * slope + over) - offset
    top = max(right * slope + over, float(p.z(i))) + offset
    size = float(min(p.rise, p.run)) / _CELLS
    counts = ceil((right - left) / size), max(ceil((offset - near) / size), _LAYERS), ceil((top - bottom) / size)
    return Room(
        low=(left, near, bottom),
        high=(right, offset, top),
        counts=counts,
        start_shut=tuple(_lids(p, i, (first, last))),
        end_shut=(_over_strand(p, slope, over),),
        between=(first, last),
    )


_EVERYWHERE: Final = (-inf, inf)


def _lids(p: Profile, i: int, strip: tuple[float, float]) -> Iterator[Prism]:
    """What is under the treads, risers taken as shut, and what lies over other cells: no sphere starts there."""
    deep, far = float(p.z(i) - 9 * (p.rise + p.run)), 9 * float(p.rise + p.run)
    last = p.risers if p.risers is not None else i + 3
    for k in range(max(1, i - 2), min(last, i + 2) + 1):
        # of an open riser a centre may be as far in as the back edge of the tread below
        x, z = float(p.x(k) + (p.nosing if p.open_risers else 0)), float(p.z(k))
        yield _column((x, x + far), deep, [z, z], _EVERYWHERE)
    for ends in ((strip[0] - far, strip[0]), (strip[1], strip[1] + far)):
        yield _column(ends, deep, [deep + 4 * far] * 2, _EVERYWHERE)


def _over_strand(p: Profile, slope: float, over: float) -> Prism:
    """All above the member's line."""
    far = 40 * float(p.rise + p.run) + abs(float(p.x(p.risers or 1)))
    low, high = -far * slope + over, far * slope + over
    figure = ((-far, low), (far, high), (far, high + 2 * far), (-far, high + 2 * far))
    return Prism(_ORIGIN, _AXES, figure, _EVERYWHERE)


def _site(outline: Outline, foot: tuple[float, float], names: tuple[str, ...]) -> tuple[int, str]:
    """The drawn edge or corner that a contact lies on, seen square to the guard, and its name.

    One on the stair's side, within its outline, is named so; the nearest edge stands for it in the drawing.
    """
    near = [(_from_site(outline, site, foot), -site) for site in range(len(outline.edges) + len(outline.corners))
            if outline.name(site) in names]  # fmt: skip
    if not near:
        return 0, names[-1]
    off, site = min(near)
    return -site, outline.name(-site) if off < _NEAR or _SIDE not in names else _SIDE


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

