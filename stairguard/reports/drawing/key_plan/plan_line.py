"""The guard line in plan, bent to fit a small panel: every heading true, lengths not, nothing over anything else."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from math import cos, hypot, radians, sin
from typing import Final, NamedTuple

from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.reports.drawing.paper.scene import Place, Rect

LANE: Final = 9.0
"""Least distance between two lines that are not one another's neighbours, millimetres."""

_LEAST: Final = {"landing": 9.0, "flight": 13.0, "ramp": 13.0}
"""Least length of a surface on paper: room for its number, and for the arrow of one that climbs."""

WIDER: Final = 1.4
"""How much more a number of two digits takes."""

_TEN: Final = 9
"""Index of the first surface whose number has two digits."""

_LEAD_IN: Final = 7.0
_LEAD_OUT: Final = 6.0
_FOLD: Final = 150.0
"""A turn from here up, degrees, is drawn as two legs side by side."""

_MOVED: Final = 3
_LANES: Final = 5
_GROWTHS: Final = tuple(
    sorted((g for g in product(range(_LANES), repeat=n) if 0 < sum(g) < _LANES), key=sum) for n in range(_MOVED + 1)
)
"""By how many lanes the legs before it, up to three, are lengthened to keep a leg clear of earlier ones."""

_SIZES: Final = (120.0, 90.0, 68.0, 51.0, 38.0, 29.0, 22.0, 16.0, 0.0)
"""Lengths tried for the longest surface, millimetres; at the last all are of the least length."""

_BETTER_TURNED: Final = 1.3


class PlanStretch(NamedTuple):
    """A straight piece on paper, from start to end in walking direction."""

    start: Place
    end: Place

    def at(self, share: float) -> Place:
        """The place at a share of its length."""
        (x0, y0), (x1, y1) = self
        return Place(x0 + (x1 - x0) * share, y0 + (y1 - y0) * share)

    @property
    def length(self) -> float:
        """Millimetres of paper."""
        return hypot(self.end.x - self.start.x, self.end.y - self.start.y)


@dataclass(frozen=True, slots=True)
class PlanLine:
    """A line drawn in plan.

    ``surfaces`` are the first so many of the line; ``folds`` are, by surface index, the pieces of no length in
    plan that set a leg beside the one it turns back over; ``before`` leads to the start, ``after`` on from the
    end where more surfaces follow.
    """

    before: PlanStretch
    surfaces: tuple[PlanStretch, ...]
    folds: dict[int, PlanStretch]
    after: PlanStretch | None

    def stretches(self) -> Iterator[PlanStretch]:
        """Every piece."""
        yield self.before
        yield from self.surfaces
        yield from self.folds.values()
        if self.after is not None:
            yield self.after


@dataclass(frozen=True, slots=True)
class _Step:
    """One piece while lengths are being found; ``surface`` is None for one that is no surface."""

    name: str
    surface: int | None
    heading: float
    least: float
    true: float


@dataclass(frozen=True, slots=True)
class PlanShape:
    """Lengths on paper of a line's pieces; ``size`` is that of the longest surface before any is lengthened."""

    size: float
    steps: tuple[_Step, ...]
    lengths: tuple[float, ...]


def distinct(surfaces: Sequence[PlacedSurface], most: int) -> int:
    """How many of the first ``most`` surfaces there are before one lies over an earlier one and runs its way."""
    for number, surface in enumerate(surfaces[:most]):
        if any(_over(surface, earlier) for earlier in surfaces[: max(number - 1, 0)]):
            return number
    return min(most, len(surfaces))


def _over(surface: PlacedSurface, earlier: PlacedSurface) -> bool:
    if round(surface.heading_deg - earlier.heading_deg) % 360:
        return False
    c, s = cos(radians(earlier.heading_deg)), sin(radians(earlier.heading_deg))
    (x0, y0), (x1, y1) = surface.plan_start, surface.plan_end
    x, y = (x0 + x1) / 2 - earlier.plan_start.x, (y0 + y1) / 2 - earlier.plan_start.y
    near = hypot(x1 - x0, y1 - y0) / 4
    return abs(y * c - x * s) < near and 0 < x * c + y * s < float(earlier.end.s - earlier.start.s)


def plan_shapes(surfaces: Sequence[PlacedSurface], *, more: bool) -> list[PlanShape]:
    """Find lengths at which surfaces can be drawn in plan clear of one another, the largest first.

    Parameters
    ----------
    surfaces
        The first of a line; ``more`` if others follow.
    """
    steps = _steps(surfaces, more=more)
    longest = max(step.true for step in steps)
    shapes: list[PlanShape] = []
    for size in reversed(_SIZES):
        cleared = _cleared(steps, [max(step.least, size * step.true / longest) for step in steps])
        if cleared is not None:
            shapes.append(PlanShape(size, tuple(steps), tuple(cleared)))
        elif not size:
            break  # lines that cannot be kept apart at their shortest are no clearer longer
    return shapes[::-1]


def plan_lines(shapes: Sequence[PlanShape], room: Rect) -> list[PlanLine]:
    """Set the largest shape that a panel holds in its middle, upright and turned by 90 degrees, the better first."""
    found: list[tuple[float, PlanLine]] = []
    for turn, worth in ((0.0, _BETTER_TURNED), (90.0, 1.0)):
        for shape in shapes:
            steps = [replace(step, heading=step.heading + turn) for step in shape.steps]
            placed = _placed(_traced(steps, shape.lengths), room)
            if placed is not None:
                found.append((worth * (shape.size + 1.0), _named(steps, placed)))
                break
    return [line for _, line in sorted(found, key=lambda pair: -pair[0])]


def _steps(surfaces: Sequence[PlacedSurface], *, more: bool) -> list[_Step]:
    steps = [_Step("before", None, surfaces[0].heading_deg, _LEAD_IN, 0.0)]
    for surface in surfaces:
        turn = surface.given.turn
        if surface.index > surfaces[0].index and abs(turn) >= _FOLD:
            aside = surface.heading_deg - turn + (90.0 if turn > 0 else -90.0)
            steps.append(_Step("fold", surface.index, aside, LANE, 0.0))
        length = float(surface.end.s - surface.start.s)
        least = _LEAST[surface.kind] + (WIDER if surface.index >= _TEN else 0.0)
        steps.append(_Step("surface", surface.index, surface.heading_deg, least, length))
    if more:
        steps.append(_Step("after", None, surfaces[-1].heading_deg, _LEAD_OUT, 0.0))
    return steps


def _traced(steps: Sequence[_Step], lengths: Sequence[float]) -> list[PlanStretch]:
    at, pieces = Place(0.0, 0.0), []
    for step, length in zip(steps, lengths, strict=False):  # of a line being built there are fewer lengths
        turn = radians(step.heading)
        to = Place(at.x + length * cos(turn), at.y + length * sin(turn))
        pieces.append(PlanStretch(at, to))
        at = to
    return pieces


def _cleared(steps: Sequence[_Step], lengths: list[float]) -> list[float] | None:
    """Lengthen legs where a later one would lie over or too near them; None if in vain."""
    for last in range(2, len(steps)):
        if _crowded(_traced(steps, lengths[: last + 1]), last):
            longer = _lengthened(steps, lengths, last)
            if longer is None:
                return None
            lengths = longer
    return lengths


def _lengthened(steps: Sequence[_Step], lengths: list[float], last: int) -> list[float] | None:
    ends = [i for i in range(1, last) if steps[i].heading != steps[i + 1].heading][-_MOVED:]
    for lanes in _GROWTHS[len(ends)]:
        tried = list(lengths)
        for i, lane in zip(ends, lanes, strict=True):
            tried[i] += lane * LANE
        pieces = _traced(steps, tried[: last + 1])
        if not any(_crowded(pieces, i) for i in range(last, ends[0], -1)):
            return tried
    return None


def _crowded(pieces: Sequence[PlanStretch], last: int) -> bool:
    """Whether a piece comes too near an earlier one that is not its neighbour."""
    between = 0.0
    for i in range(last - 2, -1, -1):
        between += pieces[i + 1].length
        # 0.6: two pieces a short third one apart are no nearer than it lets them be, unless they fold
        if apart(pieces[i], pieces[last]) < 0.99 * min(LANE, 0.6 * between):
            return True
    return False


def touching(a: PlanStretch, b: PlanStretch) -> bool:
    """Whether two pieces cross."""

    def side(p: Place, q: Place, r: Place) -> float:
        return (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x)

    return (
        side(*a, b.start) * side(*a, b.end) < 0 and side(*b, a.start) * side(*b, a.end) < 0
    )  # pieces that only touch are told by the distance of their ends


def apart(a: PlanStretch, b: PlanStretch) -> float:
    """Least distance between two pieces; zero where they cross."""
    if touching(a, b):
        return 0.0
    return min(_off(a, b.start), _off(a, b.end), _off(b, a.start), _off(b, a.end))


def _off(piece: PlanStretch, place: Place) -> float:
    """From a piece to a place."""
    (x0, y0), (x1, y1) = piece
    dx, dy = x1 - x0, y1 - y0
    share = ((place.x - x0) * dx + (place.y - y0) * dy) / (dx * dx + dy * dy)
    near = piece.at(min(max(share, 0.0), 1.0))
    return hypot(place.x - near.x, place.y - near.y)


def _placed(pieces: Sequence[PlanStretch], room: Rect) -> list[PlanStretch] | None:
    """Set a line in the middle of its panel; None if it is larger."""
    xs, ys = zip(*(place for piece in pieces for place in piece), strict=True)
    if max(xs) - min(xs) > room.width or max(ys) - min(ys) > room.height:
        return None
    dx = (room.left + room.right - min(xs) - max(xs)) / 2
    dy = (room.bottom + room.top - min(ys) - max(ys)) / 2
    return [PlanStretch(Place(a.x + dx, a.y + dy), Place(b.x + dx, b.y + dy)) for a, b in pieces]


def _named(steps: Sequence[_Step], pieces: Sequence[PlanStretch]) -> PlanLine:
    pairs = list(zip(steps, pieces, strict=True))
    return PlanLine(
        pieces[0],
        tuple(piece for step, piece in pairs if step.name == "surface"),
        {step.surface: piece for step, piece in pairs if step.name == "fold" and step.surface is not None},
        pieces[-1] if steps[-1].name == "after" else None,
    )
