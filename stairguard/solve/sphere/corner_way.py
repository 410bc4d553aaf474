"""Round a corner of a stair or deck in plan, under the lowest strands of a guard that stands out from its edge.

On the outer hand the strands go round the edge's corner, on the inner the edge goes round theirs: either way a sphere
finds more room there than along a straight edge, as far as the corner's post leaves it.

In plan the edge's corner is the origin, the leg before comes along x, and the guard is on its left: of a guard on the
right all is mirrored.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from math import cos, dist, hypot, inf, radians, sin, sqrt, tan
from typing import TYPE_CHECKING, Final, Literal, NamedTuple, TypeAlias

from stairguard.geometry.space.bodies import Prism, Rod, Triple, contact_at
from stairguard.geometry.space.drops import Drop, upright
from stairguard.geometry.space.saddles import Saddle
from stairguard.geometry.space.way_grid import saddles_at, widest_way
from stairguard.solve.sphere.below_lowest import rising_zero

if TYPE_CHECKING:
    from stairguard.geometry.space.way_grid import Inside

_Pair: TypeAlias = tuple[float, float]

_CELLS: Final = 28
"""Of the coarsest grid, each way."""
_FAR: Final = 12
"""Of the room looked at: past all that counts."""
_ON_THE_WAY: Final = (0.2, 0.35, 0.5, 0.65, 0.8)
"""From the edge's corner to the guard's: where a narrowest place may be."""
_LEVEL: Final = 1e-9
"""Rises of a unit's length that are none, and distances."""
_SHARPEST: Final = 150
"""Degrees: at a turn of more both legs' guards stand in one plane, or nearly."""


class EdgeLeg(NamedTuple):
    """What lies along one leg of a corner, seen from there, and the strand that runs over it.

    ``strips`` are level pieces of ground: from and to, from the edge's corner on, and height. ``strand`` is the height
    of the lowest strand's axis where the guard's two lines meet, ``slope`` what it climbs from there.
    """

    strips: tuple[tuple[float, float, float], ...]
    strand: float
    slope: float


class PostInPlan(NamedTuple):
    """A post: how far along the guard from its corner it stands, before it less than zero, and its section.

    ``half`` its width, turned so far from the leg before; its foot's height.
    """

    along: float
    half: float
    turned_deg: float
    foot: float


class EdgeCorner(NamedTuple):
    """A corner in plan: the turn, left positive, how far ``out`` the guard stands, and the strands' ``radius``.

    ``across`` is whether strands run straight from one to the other of two posts.
    """

    turn_deg: float
    out: float
    radius: float
    before: EdgeLeg
    after: EdgeLeg
    posts: tuple[PostInPlan, ...]
    across: bool


CornerPart: TypeAlias = Literal["ground", "stair side", "strand", "post"]


class CornerTouch(NamedTuple):
    """What a sphere touches, on which leg (0 before, 1 after), and where."""

    part: CornerPart
    leg: int
    at: Triple


class CornerWay(NamedTuple):
    """The largest sphere on its way round a corner: diameter, at most ``error`` too large, and centre."""

    diameter: float
    error: float
    centre: Triple
    touches: tuple[CornerTouch, ...]


class _Part(NamedTuple):
    body: Prism | Rod
    kind: Literal["ground", "strand", "post"]
    legs: tuple[int, ...]


@lru_cache(maxsize=256)
def round_corner(corner: EdgeCorner) -> CornerWay | None:
    """The widest way out there; None where the widest is that along one leg, which is judged apart.

    All in one unit of length, angles in degrees. Strands above the lowest are left out: a sphere that gets out between
    two of them is stopped by what they leave, an opening of its own. Steps of a leg count as solid below their nosings'
    front, boards and open risers too; what these let through is told with the flight. Of turns sharper than 150 degrees
    none is told: there the legs' own openings stand.
    """
    if not 0 < abs(corner.turn_deg) <= _SHARPEST:
        return None
    high = max(corner.before.strand, corner.after.strand, 0.0)
    along = max((abs(post.along) + 2 * post.half for post in corner.posts), default=0.0)
    reach = max(corner.out, along) + 2 * hypot(high, corner.out)
    ground = tuple(_ground(corner, _FAR * reach))
    rods, posts = tuple(_rods(corner, _FAR * reach)), tuple(_posts(corner, _FAR * reach))
    drop = Drop(
        ground=tuple(part.body for part in ground if isinstance(part.body, Prism)),
        rods=tuple(part.body for part in rods if isinstance(part.body, Rod)),
        posts=tuple(part.body for part in posts if isinstance(part.body, Prism)),
        low=(-reach, -reach),
        high=(reach, reach),
        counts=(_CELLS, _CELLS),
        heights=(min(corner.before.strand, corner.after.strand, 0.0) - reach, high + reach),
        past=_past(corner),
    )
    way = widest_way(drop)
    if way is None:
        return None
    parts = (*ground, *rods, *posts)
    x, y = guard_corner(corner.turn_deg, corner.out)
    saddle, error = way.saddle, way.error
    if error or _along_one(_held(parts, saddle)):  # the corner may leave so little more that no cell shows it
        places = ((share * x, share * y) for share in _ON_THE_WAY)
        own = [one for one in saddles_at(drop, way, places) if not _along_one(_held(parts, one))]
        if own:
            saddle, error = max(own, key=lambda one: one.radius), 0.0
        elif _along_one(_held(parts, saddle)):
            return None
    touches = []
    for part, at in _held(parts, saddle):
        faces_up = saddle.centre[2] - at[2] > _LEVEL
        kind: CornerPart = "stair side" if part.kind == "ground" and not faces_up else part.kind
        leg = part.legs[0] if len(part.legs) == 1 else leg_nearer(corner.turn_deg, corner.out, at[:2])
        touches.append(CornerTouch(kind, leg, at))
    return CornerWay(2 * saddle.radius, 2 * error, saddle.centre, tuple(touches))


def highest_round(corner: EdgeCorner, limit: float, within: tuple[float, float], close: float) -> float:
    """How much higher its strands may stand for the way round a corner to stop a sphere of exactly ``limit``.

    At most ``close`` too low; the greatest of ``within`` where that stops it, the least where even that does not.
    """

    def excess(by: float) -> float:
        legs = (leg._replace(strand=leg.strand + by) for leg in (corner.before, corner.after))
        before, after = legs
        way = round_corner(corner._replace(before=before, after=after))
        return -1.0 if way is None else way.diameter / limit - 1

    return within[1] if excess(within[1]) <= 0 else rising_zero(excess, *within, close)


def _past(corner: EdgeCorner) -> Inside | None:
    """What lies past strands that run across from post to post: outside a turn the walk may go on below them."""
    if not corner.across or corner.turn_deg > 0:
        return None
    (ax, ay, _), (bx, by, _) = (_at(corner, post.along) for post in (corner.posts[0], corner.posts[-1]))
    return lambda x, y: (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0  # on the left, as the guard is


def _held(parts: Sequence[_Part], saddle: Saddle) -> list[tuple[_Part, Triple]]:
    """What holds a sphere, and where it touches it."""
    found = []
    for at in saddle.held_by:
        normal = contact_at(parts[at].body, saddle.centre).normal.tolist()
        x, y, z = (c - saddle.radius * n for c, n in zip(saddle.centre, normal, strict=True))
        found.append((parts[at], (x, y, z)))
    return found


def _along_one(held: list[tuple[_Part, Triple]]) -> bool:
    """Whether a sphere is held by what one leg has all along: its strand, and its ground away from the corner."""
    own = [set(part.legs) for part, _ in held if part.kind == "strand"]
    if len(own) != 1 or len(own[0]) != 1:
        return False
    ground = [(set(part.legs), at) for part, at in held if part.kind == "ground"]
    return all(own[0] <= legs and hypot(*at[:2]) > _LEVEL for legs, at in ground)


def directions(turn_deg: float) -> tuple[_Pair, _Pair]:
    """Unit vectors in plan along the leg after a turn, and to its left."""
    turn = radians(turn_deg)
    return (cos(turn), sin(turn)), (-sin(turn), cos(turn))


def guard_corner(turn_deg: float, out: float) -> _Pair:
    """Where the guard's two lines meet."""
    return -out * tan(radians(turn_deg) / 2), out


def leg_nearer(turn_deg: float, out: float, at: _Pair) -> int:
    """The leg a place is nearer to, 0 before, 1 after: past the line that halves the turn."""
    x, y = guard_corner(turn_deg, out)
    (dx, dy), _ = directions(turn_deg)
    return int(at[0] * (1 + dx) + at[1] * dy > x * (1 + dx) + y * dy)


def _ground(corner: EdgeCorner, far: float) -> Iterator[_Part]:
    (dx, dy), (nx, ny) = directions(corner.turn_deg)
    outer = corner.turn_deg < 0
    legs = [(corner.before, (-1.0, 0.0), (0.0, 1.0)), (corner.after, (dx, dy), (nx, ny))]
    if outer and corner.before.strips == corner.after.strips and len(corner.before.strips) == 1:
        legs = legs[:1]  # one floor, whose edge turns
    for number, (leg, (ux, uy), normal) in enumerate(legs):
        other = legs[1 - number][2] if len(legs) > 1 else (nx, ny)
        for low, high, top in leg.strips:
            sides = [(*normal, 0.0), (-ux, -uy, -low), (ux, uy, high)]
            if outer:
                sides.append((*other, 0.0))
            figure = _square(far)
            for side in sides:
                figure = _cut(figure, *side) if side[2] not in (inf, -inf) else figure
            if len(figure) > 2:
                yield _Part(upright(figure, -far, top), "ground", (0, 1) if len(legs) == 1 else (number,))


def _square(half: float) -> list[_Pair]:
    return [(-half, -half), (half, -half), (half, half), (-half, half)]


def _cut(figure: list[_Pair], a: float, b: float, most: float) -> list[_Pair]:
    """What is left of a convex figure where ``a x + b y`` is no more than ``most``."""
    left: list[_Pair] = []
    for k, (x, y) in enumerate(figure):
        px, py = figure[k - 1]
        here, before = a * x + b * y - most, a * px + b * py - most
        if here * before < 0:
            share = before / (before - here)
            left.append((px + share * (x - px), py + share * (y - py)))
        if here <= 0:
            left.append((x, y))
    return [at for k, at in enumerate(left) if dist(at, left[k - 1]) > _LEVEL]


def _at(corner: EdgeCorner, along: float) -> Triple:
    """A place on the guard's line, so far from its corner, and the lowest strand's height there."""
    x, y = guard_corner(corner.turn_deg, corner.out)
    if along < 0:
        return x + along, y, corner.before.strand - along * corner.before.slope
    (dx, dy), _ = directions(corner.turn_deg)
    return x + along * dx, y + along * dy, corner.after.strand + along * corner.after.slope


def _rods(corner: EdgeCorner, far: float) -> Iterator[_Part]:
    first, last = (corner.posts[0].along, corner.posts[-1].along) if len(corner.posts) > 1 else (-0.0, 0.0)
    x, y = guard_corner(corner.turn_deg, corner.out)
    inner = (_at(corner, first) if first else (x, y, corner.before.strand)), _at(corner, last)
    yield _Part(Rod(_at(corner, -far), inner[0], corner.radius), "strand", (0,))
    yield _Part(Rod(inner[1], _at(corner, far), corner.radius), "strand", (1,))
    if corner.across:
        yield _Part(Rod(*inner, corner.radius), "strand", (0, 1))


def _posts(corner: EdgeCorner, far: float) -> Iterator[_Part]:
    for number, post in enumerate(corner.posts):
        x, y, _ = _at(corner, post.along)
        diagonal = post.half * sqrt(2)
        angles = [radians(post.turned_deg + quarter) for quarter in (45, 135, 225, 315)]
        figure = [(x + diagonal * cos(a), y + diagonal * sin(a)) for a in angles]
        yield _Part(upright(figure, post.foot, far), "post", (number,))
