"""The stair seen square to the guard, under one sloping member: the outline of any one step.

Local frame: x level and uphill from nosing 1, z up from nosing 1. Cell i is the space over tread i and before
riser i + 1; cell 0 lies over the lower landing, the last cell over the upper one. Of equal steps nosing i is at
``((i - 1) * run, (i - 1) * rise)``.

One cell's surfaces and its neighbours' are enough to find its pockets: a sphere holds no nosing inside it, so the part
of it below the nosing line lies between two neighbouring nosings, and above that line there are only the member and
posts. Its centre may stand over the tread above, or before the riser below, which then cut it.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from stairguard.geometry.clearance.outline import Corner, Edge, Outline, Vec
from stairguard.geometry.clearance.pockets import Pocket
from stairguard.model.guard.opening_kinds import Walked

_UNDER: Final = "under the stair"


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """A flight's steps between two posts.

    ``risers`` is None for steps without end. ``low_face`` and ``high_face`` are the faces that bound the strands, of
    posts over the lower and upper landing or on treads (used when ``risers`` is given). ``high_foot`` is where the
    upper one ends below: nothing of it is there under that (None: the face goes on down); the lower one stands on, or
    in, what lies before its face. ``posts`` are the treads that carry a line post, with its centre's x; all are
    ``post_width`` wide, their feet ``drop`` below their treads. ``xs`` and ``zs`` are the nosings of measured steps,
    empty where all are equal; then ``rise`` and ``run`` are means that give the nosing line's slope, ``line`` is its
    height over nosing 1 and ``first_rise`` that of nosing 1 over the lower landing. ``low_slope`` and ``high_slope``
    are uphill slopes of what lies below and above the flight, ``low_floor`` and ``high_floor`` what it is. ``offset``
    is how far out from the stair's side the strands' plane stands, level.
    """

    rise: Fraction
    run: Fraction
    nosing: Fraction
    tread: Fraction
    open_risers: bool
    risers: int | None = None
    low_face: Fraction = Fraction(0)
    high_face: Fraction = Fraction(0)
    posts: tuple[tuple[int, Fraction], ...] = ()
    post_width: Fraction = Fraction(0)
    xs: tuple[Fraction, ...] = ()
    zs: tuple[Fraction, ...] = ()
    line: Fraction = Fraction(0)
    first_rise: Fraction | None = None
    low_slope: Fraction = Fraction(0)
    high_slope: Fraction = Fraction(0)
    low_floor: Walked = "landing"
    high_floor: Walked = "landing"
    high_foot: Fraction | None = None
    drop: Fraction = Fraction(0)
    offset: Fraction = Fraction(0)

    @property
    def slope(self) -> Fraction:
        """Slope of the nosing line."""
        return self.rise / self.run

    def x(self, i: int) -> Fraction:
        """x of nosing i."""
        return self.xs[i - 1] if self.xs else (i - 1) * self.run

    def z(self, i: int) -> Fraction:
        """z of nosing i and tread i; of the lower landing for 0."""
        if i == 0:
            return -(self.rise if self.first_rise is None else self.first_rise)
        return self.zs[i - 1] if self.zs else (i - 1) * self.rise

    def cell(self, x: Fraction) -> int:
        """The cell over ``x``: the tread there, 0 below nosing 1."""
        if self.xs:
            return bisect_right(self.xs, x)
        found = max(int(x // self.run) + 1, 0)
        return found if self.risers is None else min(found, self.risers)

    def ground(self, cell: int, x: Fraction) -> Fraction:
        """Elevation at ``x`` of the tread, landing or ramp that a cell lies over."""
        if cell == 0:  # a sloping floor passes through the foot of nosing 1
            return self.z(0) + (x - self.x(1)) * self.low_slope
        return self.z(cell) + ((x - self.x(cell)) * self.high_slope if cell == self.risers else 0)

    @property
    def cells(self) -> tuple[int, int]:
        """First and last cell between the bounding faces, and under the foot of the upper one."""
        first, last = self.cell(self.low_face), self.cell(self.high_face)
        if self.nosing and self.low_face == self.x(1):
            first = 0  # the hollow under the first nosing is left
        if last > first and self.high_face == self.x(last):
            last -= 1  # the face stands at the tip of a nosing: nothing of that tread is left
        while last + 1 < (self.risers or 0) and self.under_foot(last + 1):
            last += 1
        return first, last

    def under_foot(self, cell: int) -> bool:
        """Whether the upper support's foot leaves something of a cell free: then the cell ends at its own riser."""
        return self.high_foot is not None and self.z(cell) < self.high_foot

    def riser_left(self, cell: int) -> bool:
        """Whether a cell ends at its own riser: no face stands before it, though one may go on in its plane."""
        plane = self.x(cell + 1)
        flush = not self.nosing and plane == self.high_face
        return plane < self.high_face or flush or self.under_foot(cell)


@dataclass(frozen=True, slots=True)
class Member:
    """The lowest strand or rail: a line ``plumb`` above the nosing line, its surface ``radius`` below it, square."""

    name: str
    plumb: Fraction
    radius: Fraction


@dataclass(frozen=True, slots=True)
class Found:
    """A pocket, the outline it lies in, and the names of what it touches, in the order of its sites."""

    pocket: Pocket
    outline: Outline
    names: tuple[str, ...]

    def touched_once(self) -> tuple[tuple[str, ...], tuple[tuple[float, float], ...]]:
        """Names and points touched, each once, though an edge and its own end corner both report the same point."""
        kept: dict[tuple[str, int, int], tuple[float, float]] = {}
        grain = self.pocket.diameter * 1e-7
        for name, (x, z) in zip(self.names, self.pocket.contacts, strict=True):
            kept.setdefault((name, round(x / grain), round(z / grain)), (x, z))
        return tuple(k[0] for k in kept), tuple(kept.values())


class _Draft:
    """Edges and corners as they are drawn, each with its cell."""

    def __init__(self) -> None:
        self.edges: list[tuple[Edge, int]] = []
        self.corners: list[tuple[Corner, int]] = []

    def path(self, cell: int, start: Vec, *steps: tuple[Vec, str]) -> None:
        """Draw on from ``start`` through each point; a step of no length is left out."""
        for point, name in steps:
            if point != start:
                self.edges.append((Edge(start, point, name), cell))
            start = point

    def corner(self, cell: int, at: Vec, name: str) -> None:
        self.corners.append((Corner(at, name), cell))


def _draw(p: Profile, member: Member, i: int) -> _Draft:
    """The outline of cell i: surfaces, those of both neighbours, posts within reach, and the member over all.

    A circle that a post holds over the cell may be cut by the tread above or the riser below. Steps without end have no
    posts: there the cell's own surfaces are all.
    """
    draft = _Draft()
    first, last = (i, i) if p.risers is None else p.cells
    for k in range(max(first, i - 1), min(last, i + 1) + 1):
        _surfaces(draft, p, k)
    if first == i and i and (p.risers is None or p.x(i) >= p.low_face):
        draft.corner(i - 1, Vec(p.x(i), p.z(i)), "nosing")
    _posts(draft, p, i)
    left, right = _reach(p, member, i)
    slope, over = p.rise / p.run, p.line + member.plumb
    a, b = Vec(right, right * slope + over), Vec(left, left * slope + over)
    draft.edges.append((Edge(a, b, member.name, member.radius), i))
    if p.open_risers and p.risers is not None:  # what is under the boards is bounded too, farther off than any sphere
        deep = p.line + 4 * (p.run + p.rise)
        under, beyond = Vec(left, left * slope - deep), Vec(right, right * slope - deep)
        draft.path(i, b, (under, _UNDER), (beyond, _UNDER), (a, _UNDER))
    return draft


def _surfaces(draft: _Draft, p: Profile, k: int) -> None:
    """Floor, riser and nosing of cell k."""
    if k == p.risers:
        start, end = (Vec(x, p.ground(k, x)) for x in (max(p.x(k), p.low_face), p.high_face))
        draft.path(k, start, (end, p.high_floor))
        return
    _floor(draft, p, k)
    if p.risers is None or p.riser_left(k):
        (_board if p.open_risers else _riser)(draft, p, k)


def _floor(draft: _Draft, p: Profile, i: int) -> None:
    """Tread i up to the riser behind it, or the lower landing, between the bounding faces."""
    start, end = p.x(i) if i else p.low_face, p.x(i + 1) + p.nosing
    if p.risers is not None:
        start = max(start, p.low_face)
        end = end if p.riser_left(i) else p.high_face
    low, high = (Vec(x, p.ground(i, x)) for x in (start, end))
    draft.path(i, low, (high, "tread" if i or p.risers is None else p.low_floor))


def _reach(p: Profile, member: Member, i: int) -> tuple[Fraction, Fraction]:
    """How far the member is drawn both ways, for any sphere of cell i to find it: past the posts, and its own lift."""
    x = p.x(i) if i else p.x(1) - p.run
    wide = 4 * (p.run + p.rise) + 2 * abs(member.radius) + 2 * abs(member.plumb)
    left, right = x - wide, x + p.run + wide
    if p.risers is not None:
        left, right = min(left, p.low_face - p.run), max(right, p.high_face + p.run)
    return left, right


def _riser(draft: _Draft, p: Profile, i: int) -> None:
    """The closed riser over cell i, and the nosing above it."""
    x, z, foot = p.x(i + 1), p.z(i + 1), p.z(i)
    if i == 0:
        foot += p.nosing * p.low_slope
    under = z - p.tread if p.nosing else z
    draft.path(
        i, Vec(x + p.nosing, foot),
        (Vec(x + p.nosing, under), "riser"), (Vec(x, under), "nosing"), (Vec(x, z), "nosing"),
    )  # fmt: skip
    _tips(draft, p, i, under)


def _board(draft: _Draft, p: Profile, i: int) -> None:
    """Open riser: the front and underside of the board above cell i, and the back edge of the tread below."""
    x, z = p.x(i + 1), p.z(i + 1)
    # to the back edge of the board above, where there is one
    deep = p.run if p.risers is None or i + 2 > p.risers else p.x(i + 2) - x
    back = x + deep + p.nosing
    draft.path(i, Vec(back, z - p.tread), (Vec(x, z - p.tread), "nosing"), (Vec(x, z), "nosing"))
    if i > 0 or p.risers is None:
        draft.corner(i, Vec(x + p.nosing, p.z(i)), "tread")
    _tips(draft, p, i, z - p.tread)


def _tips(draft: _Draft, p: Profile, i: int, under: Fraction) -> None:
    x, z = p.x(i + 1), p.z(i + 1)
    draft.corner(i, Vec(x, z), "nosing")
    if under != z:
        draft.corner(i, Vec(x, under), "nosing")


def _posts(draft: _Draft, p: Profile, i: int) -> None:
    """Posts that a sphere in cell i could touch, each from its own foot up."""
    if p.risers is None:
        return
    # up past the member, wherever along it the post stands
    tall = abs(p.x(p.risers)) + abs(p.z(p.risers)) + abs(p.low_face) + abs(p.high_face) + 9 * (p.rise + p.run)
    tall += abs(p.line)
    half = p.post_width / 2
    for k, centre in p.posts:
        if i - 1 <= k <= i + 1:
            z = p.z(k)
            _downhill_side(draft, p, centre - half, z - p.drop, tall)
            draft.path(k, Vec(centre + half, z + tall), (Vec(centre + half, z), "post"))
    first, last = p.cells
    if i <= first + 1:
        floor = p.ground(first, p.low_face)
        draft.path(first, Vec(p.low_face, floor + tall), (Vec(p.low_face, floor), "post"))
    if i >= last - 1:
        _downhill_side(draft, p, p.high_face, p.high_foot, tall)


def _downhill_side(draft: _Draft, p: Profile, x: Fraction, foot: Fraction | None, tall: Fraction) -> None:
    """The downhill face of a post, as far down as it goes, and its underside where it hangs free over a tread."""
    over = p.cell(x)
    flush = over > 0 and x == p.x(over)
    label = over - flush
    if foot is None:
        over = label
    elif p.nosing and over and x < p.x(over) + p.nosing and foot < p.z(over) - p.tread:
        over -= 1  # it reaches into the hollow under the nosing
    floor = p.ground(over, x)
    start = Vec(x, floor if foot is None else max(foot, floor))
    draft.path(label, start, (Vec(x, start.z + tall), "post"))
    if foot is not None and foot > floor:
        step = over + 1
        while p.z(step) < foot:
            step += 1
        end = p.x(step) + (p.nosing if foot < p.z(step) else 0)
        draft.path(label, Vec(end, foot), (start, "post"))
        draft.corner(label, start, "post")


def drawn(profile: Profile, member: Member, cell: int) -> tuple[Outline, tuple[int, ...]]:
    """The outline of one cell, and the cell that each of its edges and corners is a part of."""
    draft = _draw(profile, member, cell)
    outline = Outline(tuple(e for e, _ in draft.edges), tuple(c for c, _ in draft.corners))
    return outline, tuple(k for _, k in draft.edges) + tuple(k for _, k in draft.corners)
