"""The stair seen square to the guard, under one sloping member: the outline of any one step.

Local frame: x level and uphill from nosing 1, z up from nosing 1. Cell i is the space over tread i and before
riser i + 1; cell 0 lies over the lower landing, the last cell over the upper one. Nosing i is at
``((i - 1) * run, (i - 1) * rise)``.

One cell's surfaces are enough to find its pockets: a sphere holds no nosing inside it, so the part of it below the
nosing line lies between two neighbouring nosings, and above that line there are only the member and posts.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from stairguard.geometry.outline import Corner, Edge, Outline, Vec
from stairguard.geometry.pockets import Pocket, pockets

__all__ = ["Found", "Member", "Profile", "cell_pockets"]


@dataclass(frozen=True, slots=True)
class Profile:
    """A flight's steps between two posts.

    ``risers`` is None for steps without end. ``low_face`` and ``high_face`` are the posts' faces that look on the
    flight, over the lower and upper landing (used when ``risers`` is given). ``posts`` are the treads that carry a
    line post, ``setback`` and ``post_width`` where those stand.
    """

    rise: Fraction
    run: Fraction
    nosing: Fraction
    tread: Fraction
    open_risers: bool
    risers: int | None = None
    low_face: Fraction = Fraction(0)
    high_face: Fraction = Fraction(0)
    posts: frozenset[int] = frozenset()
    setback: Fraction = Fraction(0)
    post_width: Fraction = Fraction(0)


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
    """The outline of cell i: surfaces, both nosings, posts within reach, and the member over all."""
    draft = _Draft()
    x, z = (i - 1) * p.run, (i - 1) * p.rise
    draft.corner(i - 1, Vec(x, z), "nosing")
    if p.risers is not None and i == p.risers:
        draft.path(i, Vec(x, z), (Vec(p.high_face, z), "landing"))
    else:
        at_floor = i == 0 and p.risers is not None
        start = Vec(p.low_face, z) if at_floor else Vec(x, z)
        draft.path(i, start, (Vec(x + p.run + p.nosing, z), "landing" if at_floor else "tread"))
        (_board if p.open_risers else _riser)(draft, p, i)
    _posts(draft, p, i)
    left, right = _reach(p, member, i)
    slope = p.rise / p.run
    a, b = Vec(right, right * slope + member.plumb), Vec(left, left * slope + member.plumb)
    draft.edges.append((Edge(a, b, member.name, member.radius), i))
    return draft


def _reach(p: Profile, member: Member, i: int) -> tuple[Fraction, Fraction]:
    """How far the member is drawn both ways, for any sphere of cell i to find it: past the posts, and its own lift."""
    x = (i - 1) * p.run
    wide = 4 * (p.run + p.rise) + 2 * abs(member.radius) + 2 * abs(member.plumb)
    left, right = x - wide, x + p.run + wide
    if p.risers is not None:
        left, right = min(left, p.low_face - p.run), max(right, p.high_face + p.run)
    return left, right


def _riser(draft: _Draft, p: Profile, i: int) -> None:
    """The closed riser over cell i, and the nosing above it."""
    x, z = i * p.run, i * p.rise
    under = z - p.tread if p.nosing else z
    draft.path(
        i, Vec(x + p.nosing, z - p.rise),
        (Vec(x + p.nosing, under), "riser"), (Vec(x, under), "nosing"), (Vec(x, z), "nosing"),
    )  # fmt: skip
    _tips(draft, p, i, under)


def _board(draft: _Draft, p: Profile, i: int) -> None:
    """Open riser: the front and underside of the board above cell i, and the back edge of the tread below."""
    x, z = i * p.run, i * p.rise
    back = x + p.run + p.nosing
    draft.path(i, Vec(back, z - p.tread), (Vec(x, z - p.tread), "nosing"), (Vec(x, z), "nosing"))
    if i > 0 or p.risers is None:
        draft.corner(i, Vec(x + p.nosing, z - p.rise), "tread")
    _tips(draft, p, i, z - p.tread)


def _tips(draft: _Draft, p: Profile, i: int, under: Fraction) -> None:
    draft.corner(i, Vec(i * p.run, i * p.rise), "nosing")
    if under != i * p.rise:
        draft.corner(i, Vec(i * p.run, under), "nosing")


def _posts(draft: _Draft, p: Profile, i: int) -> None:
    """Faces of the posts a sphere in cell i could touch."""
    if p.risers is None:
        return
    # up past the member, wherever along it the post stands
    tall = p.risers * p.rise + abs(p.low_face) + p.high_face + 9 * (p.rise + p.run)
    for k in (i - 1, i, i + 1):
        if k in p.posts:
            z, centre, half = (k - 1) * p.rise, (k - 1) * p.run + p.setback, p.post_width / 2
            draft.path(k, Vec(centre - half, z), (Vec(centre - half, z + tall), "post"))
            draft.path(k, Vec(centre + half, z + tall), (Vec(centre + half, z), "post"))
    if i <= 1:
        draft.path(0, Vec(p.low_face, tall), (Vec(p.low_face, -p.rise), "post"))
    if i >= p.risers - 1:
        top = (p.risers - 1) * p.rise
        draft.path(p.risers, Vec(p.high_face, top), (Vec(p.high_face, top + tall), "post"))


def cell_pockets(profile: Profile, member: Member, cell: int) -> Iterator[Found]:
    """The pockets of one cell, largest first."""
    draft = _draw(profile, member, cell)
    outline = Outline(tuple(e for e, _ in draft.edges), tuple(c for c, _ in draft.corners))
    cells = tuple(k for _, k in draft.edges) + tuple(k for _, k in draft.corners)
    for pocket in pockets(outline):
        names = tuple(outline.name(s) for s in pocket.sites)
        if _cell_of(pocket, names, cells) == cell and _over_tread(profile, pocket, cell):
            yield Found(pocket, outline, names)


def _cell_of(pocket: Pocket, names: tuple[str, ...], cells: tuple[int, ...]) -> int:
    """A pocket belongs to the tread it rests on, else to the riser or post it meets, else to its upper nosing."""
    for kinds in (("tread", "landing"), ("riser",), ("post",)):
        for site, name in zip(pocket.sites, names, strict=True):
            if name in kinds:
                return cells[site]
    return max((cells[s] for s, name in zip(pocket.sites, names, strict=True) if name == "nosing"), default=-1)


def _over_tread(p: Profile, pocket: Pocket, cell: int) -> bool:
    """Whether the centre is over the cell's tread, and not under the stair behind an open riser."""
    x, z = pocket.centre
    behind = p.open_risers and cell != p.risers and x > cell * p.run + p.nosing
    return z > (cell - 1) * p.rise and not behind
