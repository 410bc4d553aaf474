"""Posts where they stand and how, their labels, and the holes in them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final, Literal, NamedTuple, TypeAlias

from stairguard.model.guard.passages import Passage
from stairguard.model.guard.pieces import BearsOn
from stairguard.model.job import Ending

Role: TypeAlias = Literal["end", "line", "joint"]


@dataclass(frozen=True, slots=True)
class Stance:
    """A post as deep as it is wide, seen from above.

    Its faces are ``turned_deg`` from square to the surface before it, left positive. ``askews_deg`` are the angles of
    what arrives and of what leaves from square to the face it comes to, -45 to 45, left positive; ``reach`` is how far
    from the centre both come out of it, level along them, in half-widths: 1 / cos of either.
    """

    turned_deg: float
    askews_deg: tuple[float, float]
    reach: Fraction


SQUARE: Final = Stance(0.0, (0.0, 0.0), Fraction(1))
"""A post with a face square to all that comes to it."""


_LETTERS: Final[dict[Ending, str]] = {"post": "P", "wall": "W", "newel": "N"}


class LabelParts(NamedTuple):
    """What a post's label is made of: the letter of what it is, and a number along the line."""

    letter: str
    number: int


def post_label(support: Ending, number: int) -> str:
    """Label a post, or the wall or newel that the line ends on."""
    return f"{_LETTERS[support]}{number}"


def label_parts(label: str) -> LabelParts:
    """What a label was made of."""
    return LabelParts(label[0], int(label[1:]))


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """Where a strand, or its fitting, enters a post or leaves it: its axis at the face, on one side.

    ``height`` is plumb above the post's base, ``marked`` the same rounded to the tape. ``tilt_deg`` is the hole's tilt
    from level on that side, positive where the strand rises in the direction of stations, ``skew_deg`` how far in plan
    from square to the face. ``reach`` is from the post's centre, level along the strand, in halves of the post.
    """

    height: Fraction
    marked: Fraction
    tilt_deg: float
    skew_deg: float
    reach: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A hole for one strand, heights plumb above the post's base.

    ``height`` on the post's centre line, ``marked`` the same rounded to the tape; ``surfaces`` are those whose strand
    uses it, ``passage`` is how it comes there. ``faces`` are those before and after, along stations, that the strand or
    its fitting crosses, None for one that neither does. ``bears`` is what the end of a run bears on that comes to the
    post from before, and what that of one that leaves it; None where there is no such end.
    """

    strand: int
    height: Fraction
    marked: Fraction
    surfaces: tuple[int, ...]
    passage: Passage
    faces: tuple[Face | None, Face | None]
    bears: tuple[BearsOn | None, BearsOn | None] = (None, None)

    @property
    def crossed(self) -> tuple[Face, ...]:
        """The faces that there are, in the order of stations."""
        return tuple(face for face in self.faces if face is not None)

    @property
    def only_face(self) -> Face | None:
        """The one face of a strand that ends on it; None where both are crossed."""
        return self.crossed[0] if len(self.crossed) == 1 else None

    @property
    def before_deg(self) -> float:
        """Tilt on the side before; where the strand is on one side only, that one's."""
        return self.crossed[0].tilt_deg

    @property
    def after_deg(self) -> float:
        """Tilt on the side after; where the strand is on one side only, that one's."""
        return self.crossed[-1].tilt_deg

    @property
    def drill_deg(self) -> float:
        """The steeper tilt of the two, the first of two as steep."""
        return max(self.before_deg, self.after_deg, key=abs)

    @property
    def low_face(self) -> Fraction:
        """The lowest of its axis within the post, at a face or, where it bends, on the centre line."""
        return min(self._heights)

    @property
    def high_face(self) -> Fraction:
        """The highest of its axis within the post."""
        return max(self._heights)

    @property
    def _heights(self) -> tuple[Fraction, ...]:
        heights = tuple(face.height for face in self.crossed)
        return heights if len(heights) == 1 else (*heights, self.height)

    @property
    def broken(self) -> bool:
        """Whether one run ends in it and the next begins."""
        return self.passage.broken


CloseAt: TypeAlias = Literal["one face", "opposite faces", "centre line"]


@dataclass(frozen=True, slots=True)
class CloseHoles:
    """Two holes of one post, how far apart plumb at their closest, and where that is."""

    first: Hole
    second: Hole
    gap: Fraction
    where: CloseAt


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedPost:
    """A plumb post: centre ``station``, ``base`` elevation, ``length`` to the rail's underside on its centre.

    ``bevels_deg`` are the signed slopes of its top before and after ``bevel_break``, the level distance from the
    centre line, along stations, at which the underside of mitred rails turns (zero where the top is one plane).
    ``edges`` are the top's heights above the base at the faces before and after. ``stands_on`` is the surface's
    index; ``step`` the number of the tread, 1 next above the lower landing, or None on a landing and of a wall or newel
    at an end of a flight, whose base is the floor there. ``clear`` is how far
    its foot is inside the surface it stands on, level, at the nearer of the two edges along the guard (negative: it
    overhangs), None where no edge is near. ``joint`` is the index of the joint it makes, if any. ``support`` is what
    it is: a post of ours, or the wall or standing newel that the line ends on (then there is nothing to cut).
    ``stance`` is how it stands in plan; its faces, as said above, are where what comes to it meets its sides. ``close``
    are pairs of its holes that come too close.
    """

    label: str
    role: Role
    station: Fraction
    base: Fraction
    width: Fraction
    length: Fraction
    bevels_deg: tuple[float, float]
    bevel_break: Fraction
    edges: tuple[Fraction, Fraction]
    stands_on: int
    step: int | None
    holes: tuple[Hole, ...]
    clear: Fraction | None = None
    joint: int | None = None
    support: Ending = "post"
    stance: Stance = SQUARE
    close: tuple[CloseHoles, ...] = ()

    @property
    def kept_back(self) -> int:
        """How many strands end there though their line goes on, those of the side that has more."""
        return len({hole.strand for hole in self.holes if hole.passage.kept_back})

    @property
    def half(self) -> Fraction:
        """From its centre to its faces, level along what comes to it."""
        return self.width / 2 * self.stance.reach


def walked(posts: tuple[PlacedPost, ...], closing: PlacedPost | None) -> tuple[PlacedPost, ...]:
    """Posts as one walks past them; ``closing`` is the first again where the line closes, with the strands there."""
    if closing is None:
        return posts
    first = posts[0]
    leaving = tuple(hole for hole in first.holes if hole not in closing.holes)
    return (replace(first, holes=leaving, close=()), *posts[1:], closing)


def by_surface(posts: tuple[PlacedPost, ...]) -> dict[int, list[PlacedPost]]:
    """Posts that hold strands of each surface, in station order."""
    found: dict[int, list[PlacedPost]] = {}
    for post in posts:
        for index in sorted({i for hole in post.holes for i in hole.surfaces}):
            found.setdefault(index, []).append(post)
    return found
