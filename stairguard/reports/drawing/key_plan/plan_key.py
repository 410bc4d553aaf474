"""The plan key: a small picture of the guard line from above, which numbers its surfaces and names its joint posts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import atan2, copysign, cos, degrees, radians, sin, tan
from typing import Final, assert_never

from stairguard.model.guard.placed_posts import PlacedPost
from stairguard.model.guard.rail_joints import Joint
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.reports.drawing.key_plan.plan_labels import Label, Occupied, set_label
from stairguard.reports.drawing.key_plan.plan_line import (
    WIDER,
    PlanLine,
    PlanStretch,
    distinct,
    plan_lines,
    plan_shapes,
)
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.drafting import CAP, LEADING, arrow
from stairguard.reports.drawing.paper.scene import INK, Arc, Circle, Line, Part, Place, Polygon, Rect, Text
from stairguard.reports.words.drawing_words import edge_words, left_off_words, signs_words
from stairguard.reports.words.lengths import stated

_TITLE: Final = "PLAN KEY, not to scale"
_MOST: Final = 14
"""Surfaces drawn at most: more cannot be told apart at this size."""

_FEWEST: Final = 4
"""A straight line of fewer surfaces needs no key."""

_MARGINS: Final = (8.0, 5.0, 3.0, 1.5, 12.0)
"""Around the line, for words; as many as are tried."""

_UNDER: Final = 2.0
_POST: Final = 0.8
_TICK: Final = 1.4
_TICK_PITCH: Final = 1.0
_EDGE: Final = 2.0
"""From the guard to the stair's edge beside it, millimetres: clear of ticks."""

_FEW_TICKS: Final = 3
_HEAD: Final = 2.6
_TURN: Final = 3.4
_WHITE: Final = "#ffffff"
_AHEAD: Final = 4.4
_ARC_CHORDS: Final = 8


def plan_key(layout: Layout, room: Rect) -> tuple[Part, ...]:
    """Draw the guard line seen from above.

    Parameters
    ----------
    layout
        The guard.
    room
        Where on the sheet, millimetres: from 60 by 40 up; about 104 by 70 shows most lines whole.

    Returns
    -------
    tuple of Part
        Empty for a straight line of fewer than four surfaces, or where not even two surfaces find room.

    Notes
    -----
    Directions and turns are true, lengths are not. A leg that turns back is set beside the one before it. Surfaces
    are drawn in order up to the first that lies over an earlier one and runs its way (the next storey of a tower),
    at most fourteen, or as many as can be labelled in the room; the words below say which are left out.
    """
    surfaces = layout.line.surfaces
    if len(surfaces) < _FEWEST and not any(s.given.turn for s in surfaces[1:]):
        return ()
    count = len(surfaces) if len(surfaces) <= _MOST else distinct(surfaces, _MOST)
    for drawn in range(count, 1, -1):
        parts = _drawn(layout, drawn, room)
        if parts is not None:
            return parts
    return ()


def _drawn(layout: Layout, count: int, room: Rect) -> tuple[Part, ...] | None:
    """Draw the first so many surfaces; None where they or their words find no room."""
    surfaces = layout.line.surfaces[:count]
    more = count < len(layout.line.surfaces)
    shapes = plan_shapes(surfaces, more=more)
    signs = [*signs_words({s.kind for s in surfaces}), *edge_words(layout)]
    rest = left_off_words(count, len(layout.line.surfaces))
    for sentences in ([*signs, *rest], rest) if signs else (rest,):  # how to read the lines can be guessed, in need
        rows = [row for sentence in sentences for row in metrics.wrap(sentence, CAP, room.width)]
        panel = Rect(room.left, room.bottom + _UNDER + LEADING * (len(rows) + 1), room.right, room.top)
        for margin in _MARGINS:
            for line in plan_lines(shapes, panel.inset(margin)):
                parts = _labelled(layout, surfaces, line, panel)
                if parts is not None:
                    aside = bool(line.folds) or distinct(surfaces, count) < count
                    return (*parts, *_titled(rows, room, aside=aside))
    return None


def _titled(rows: Sequence[str], room: Rect, *, aside: bool) -> Iterator[Part]:
    y = room.bottom + _UNDER + LEADING * len(rows)
    title = f"{_TITLE}; legs over one another side by side" if aside else _TITLE
    if metrics.width(title, CAP) > room.width:
        title = _TITLE
    yield Text(title, Place(room.left, y), CAP, what="view title")
    for row in rows:
        y -= LEADING
        yield Text(row, Place(room.left, y), CAP, what="plan key")


def _labelled(
    layout: Layout, surfaces: Sequence[PlacedSurface], line: PlanLine, panel: Rect
) -> tuple[Part, ...] | None:
    """Draw a line and set all its words; None if one finds no room."""
    taken = Occupied(panel)
    parts: list[Part] = []
    for index, fold in line.folds.items():
        parts.append(Line("dashed", tuple(fold), f"fold before surface {index + 1}"))
    for stretch in line.stretches():
        taken.line(stretch)
    for surface, stretch in zip(surfaces, line.surfaces, strict=True):
        parts += _surface(surface, stretch, taken)
    parts += _edges(surfaces, line, taken)
    labels: list[Label] = []
    parts += _turns(surfaces, line, taken)
    squares = len(parts)
    for more, wanted in (_joints(layout, surfaces, line), _ends(layout, line)):
        parts += more
        labels += wanted
    for part in parts[squares:]:
        taken.part(part)
    if not taken.holds():
        return None
    for label in sorted(labels, key=lambda one: -len(one.words)):  # the largest first
        found = set_label(label, taken)
        if found is None:
            return None
        parts += found
    return tuple(parts)


def _surface(surface: PlacedSurface, stretch: PlanStretch, taken: Occupied) -> Iterator[Part]:
    """Draw one surface: its line, ticks and arrow if it climbs, and its number on it."""
    name = f"{surface.kind} {surface.index + 1}"
    yield Line("cut", tuple(stretch), name)
    number = str(surface.index + 1)
    radius = 2.2 if len(number) == 1 else 2.2 + WIDER / 2
    middle = stretch.at(0.5)
    half = stretch.length / 2
    if surface.kind != "landing":
        tip = copysign(half - 2 * _POST, surface.slope)
        yield _head(_along(stretch, tip), _along(stretch, tip - copysign(_HEAD, tip)), f"{name} uphill")
        if surface.kind == "flight":
            yield from _ticks(surface, stretch, tip, radius)
        for side in (_TICK, -_TICK):
            taken.line((_aside(stretch, -half, side), _aside(stretch, half, side)))
    yield Circle(middle, radius, "thin", _WHITE, f"number of surface {number}")
    at = Place(middle.x, middle.y - CAP / 2)
    yield Text(number, at, CAP, "middle", box=False, what=f"number of surface {number}")
    taken.boxes.append(Rect(middle.x - radius, middle.y - radius, middle.x + radius, middle.y + radius))


def _ticks(surface: PlacedSurface, stretch: PlanStretch, tip: float, radius: float) -> Iterator[Part]:
    """Draw a flight's nosings across it, clear of its number and arrow head; evenly if too few or close to be seen."""
    half = stretch.length / 2
    length = float(surface.end.s - surface.start.s)
    back = tip - copysign(_HEAD, tip)

    def bare(along: float) -> bool:
        under_head = along > back if tip > 0 else along < back
        return radius + _POST < abs(along) < half - _POST and not under_head

    places = [stretch.length * float(point.s - surface.start.s) / length - half for point in surface.nosings]
    shown = [along for along in places if bare(along)]
    if len(shown) < _FEW_TICKS or stretch.length / len(places) < _TICK_PITCH:
        reach = int(half / _TICK_PITCH)
        shown = [i * _TICK_PITCH for i in range(-reach, reach + 1) if bare(i * _TICK_PITCH)]
    for along in shown:
        yield Line("thin", (_aside(stretch, along, _TICK), _aside(stretch, along, -_TICK)), "nosing")


def _edges(surfaces: Sequence[PlacedSurface], line: PlanLine, taken: Occupied) -> Iterator[Part]:
    """Draw the stair's edge beside a guard that stands out from it, from corner to corner of its own."""
    ends = [*(_turned_by(surfaces, line, number) for number in range(len(surfaces))), 0.0]
    for surface, stretch, turns in zip(surfaces, line.surfaces, pairwise(ends), strict=True):
        if not surface.aside:
            continue
        left, half = -copysign(_EDGE, surface.aside), stretch.length / 2
        first, last = (half - left * tan(radians(turn) / 2) for turn in turns)
        edge = _aside(stretch, -first, left), _aside(stretch, last, left)
        taken.line(edge)
        yield Line("thin", edge, f"edge of surface {surface.index + 1}")


def _turned_by(surfaces: Sequence[PlacedSurface], line: PlanLine, number: int) -> float:
    """The turn at a surface's start that is drawn as a corner."""
    return surfaces[number].given.turn if number and number not in line.folds else 0.0


def _along(stretch: PlanStretch, far: float) -> Place:
    """The place so far on from a stretch's middle."""
    return stretch.at(0.5 + far / stretch.length)


def _aside(stretch: PlanStretch, far: float, left: float) -> Place:
    (x0, y0), (x1, y1) = stretch
    at = _along(stretch, far)
    return Place(at.x - left * (y1 - y0) / stretch.length, at.y + left * (x1 - x0) / stretch.length)


def _head(tip: Place, back: Place, what: str) -> Polygon:
    """A stout arrow head, seen on a heavy line."""
    dx, dy = (tip.x - back.x) * 0.5, (tip.y - back.y) * 0.5
    return Polygon((tip, Place(back.x - dy, back.y + dx), Place(back.x + dy, back.y - dx)), None, INK, what)


def _heading(stretch: PlanStretch) -> float:
    return degrees(atan2(stretch.end.y - stretch.start.y, stretch.end.x - stretch.start.x))


def _turns(surfaces: Sequence[PlacedSurface], line: PlanLine, taken: Occupied) -> Iterator[Part]:
    """Draw every plan turn but a fold: an arc from the way on to the new way."""
    for number, surface in enumerate(surfaces[1:], 1):
        turn, before = surface.given.turn, line.surfaces[number - 1]
        if not turn or number in line.folds:
            continue
        corner, heading, what = before.end, _heading(before), f"turn before surface {number + 1}"
        ahead = before.at(1.0 + _AHEAD / before.length)
        first, last = sorted((heading, heading + turn))
        yield Line("fine", (corner, ahead), what)
        yield Arc("thin", corner, _TURN, first, last, what)
        taken.line((corner, ahead))
        sweep = [radians(first + (last - first) * i / _ARC_CHORDS) for i in range(_ARC_CHORDS + 1)]
        taken.line([Place(corner.x + _TURN * cos(a), corner.y + _TURN * sin(a)) for a in sweep])


def _joints(layout: Layout, surfaces: Sequence[PlacedSurface], line: PlanLine) -> tuple[list[Part], list[Label]]:
    """Draw the joint posts, and name them and the turns where surfaces meet."""
    parts: list[Part] = []
    labels: list[Label] = []
    for number, surface in enumerate(surfaces[1:], 1):
        turn, fold = surface.given.turn, line.folds.get(number)
        before, after = line.surfaces[number - 1], line.surfaces[number]
        corner = after.start if fold is None else fold.at(0.5)
        joint = next((j for j in layout.joints if j.boundary == surface.start.s), None)
        what = f"turn before surface {number + 1}" if joint is None else f"joint {joint.post}"
        words = [] if joint is None else [_joint_name(joint)]
        two = joint is not None and joint.second_post is not None
        feet = (before.at(1 - 2 * _POST / before.length), after.at(2 * _POST / after.length)) if two else (corner,)
        parts += (_square(foot, what) for foot in feet if joint is not None)
        words += [f"{stated(abs(turn))}°"] if turn else []
        if words:
            reach = _POST * (3.0 if two else 1.5)
            labels.append(Label(tuple(words), corner, reach, _ways(before, turn, folded=fold is not None), what))
    return parts, labels


def _ways(before: PlanStretch, turn: float, *, folded: bool) -> tuple[float, ...]:
    """Where words stand best: outside a turn, on either side of a straight line, beyond a fold."""
    heading = _heading(before)
    if folded:
        return (heading,)
    outer = heading + turn / 2 + (-90.0 if turn > 0 else 90.0)
    return (outer,) if turn else (outer, outer + 180.0)


def _joint_name(joint: Joint) -> str:
    return joint.post if joint.second_post is None else f"{joint.post}, {joint.second_post}"


def _square(at: Place, what: str, half: float = _POST, fill: str = INK) -> Polygon:
    (x, y), h = at, half
    corners = (Place(x - h, y - h), Place(x + h, y - h), Place(x + h, y + h), Place(x - h, y + h))
    return Polygon(corners, "outline" if fill != INK else None, fill, what)


def _ends(layout: Layout, line: PlanLine) -> tuple[list[Part], list[Label]]:
    """Draw where the line starts, with the walking direction, and where it ends or is left off."""
    parts: list[Part] = []
    first, last = line.surfaces[0], line.surfaces[-1]
    tail, tip = line.before.start, line.before.at(1.0 - 2.5 / line.before.length)
    parts += [Line("thin", (tail, tip), "walking direction"), arrow(tip, tail, "walking direction")]
    heading = _heading(first)
    named = "start and end" if layout.job.closed else "start"
    labels = [_end(layout.posts[0], named, first.start, (heading + 90, heading - 90, heading + 120))]
    parts += _support(layout.posts[0], first.start, first)
    if line.after is None and layout.job.closed:
        parts.append(Line("dashed", (last.end, first.start), "closes"))
        return parts, labels
    if line.after is None:
        heading = _heading(last)
        labels.append(_end(layout.posts[-1], "end", last.end, (heading, heading + 90, heading - 90)))
        parts += _support(layout.posts[-1], last.end, last)
        return parts, labels
    after = line.after
    parts += [Line("dashed", tuple(after), "goes on"), arrow(after.end, after.start, "goes on")]
    beside = _heading(after) + 90.0
    ways = (beside, beside + 180.0, beside - 90.0)
    labels.append(Label((f"to {len(line.surfaces) + 1}",), after.at(0.5), 0.5, ways, "goes on"))
    return parts, labels


def _end(post: PlacedPost, words: str, at: Place, ways: tuple[float, ...]) -> Label:
    named = post.label if post.support == "post" else f"{post.support} {post.label}"
    return Label((words, named), at, 1.2 if post.support == "post" else 2.0, ways, f"{words} of the line")


def _support(post: PlacedPost, at: Place, stretch: PlanStretch) -> Iterator[Part]:
    """Draw what the line ends on: a post, a stouter open square for a newel, a hatched bar for a wall."""
    what = f"{post.support} {post.label}"
    match post.support:
        case "post":
            yield _square(at, what)
        case "newel":
            yield _square(at, what, 1.4 * _POST, _WHITE)
        case "wall":
            way = radians(_heading(stretch) + 90.0)
            c, s = 2.0 * cos(way), 2.0 * sin(way)
            yield Line("cut", (Place(at.x - c, at.y - s), Place(at.x + c, at.y + s)), what)
        case _:
            assert_never(post.support)
