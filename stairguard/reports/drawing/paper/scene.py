"""A drawing as a record: frozen primitives in paper millimetres, origin at the sheet's lower left corner.

Every primitive says in ``what`` which thing it shows, in the trade's words, so that a drawing can be read
back without a picture. Order is painting order.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, fields, is_dataclass
from math import cos, radians, sin
from typing import Final, Literal, NamedTuple, TypeAlias

from stairguard.reports.drawing.paper import metrics


class Place(NamedTuple):
    """A point on paper, millimetres."""

    x: float
    y: float


class Rect(NamedTuple):
    """An upright rectangle on paper, millimetres."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Left to right."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Bottom to top."""
        return self.top - self.bottom

    def inset(self, margin: float) -> Rect:
        """Smaller by ``margin`` on every side."""
        return Rect(self.left + margin, self.bottom + margin, self.right - margin, self.top - margin)

    @staticmethod
    def around(places: Iterable[tuple[float, float]]) -> Rect:
        """The smallest that has all of some places."""
        xs, ys = zip(*places, strict=True)
        return Rect(min(xs), min(ys), max(xs), max(ys))

    def has(self, place: tuple[float, float]) -> bool:
        """Whether a place lies inside or on the edge."""
        return self.left <= place[0] <= self.right and self.bottom <= place[1] <= self.top

    def holds(self, box: Rect) -> bool:
        """Whether another lies wholly inside, or on the edge."""
        return self.left <= box.left and box.right <= self.right and self.bottom <= box.bottom and box.top <= self.top

    def overlaps(self, box: Rect) -> bool:
        """Whether another shares room with it; edges that only touch share none."""
        return self.left < box.right and box.left < self.right and self.bottom < box.top and box.bottom < self.top

    def meets(self, box: Rect) -> bool:
        """Whether another shares room with it, or touches it."""
        return self.left <= box.right and box.left <= self.right and self.bottom <= box.top and box.bottom <= self.top


Anchor: TypeAlias = Literal["start", "middle", "end"]
"""Which place of a line of words stands at the place given."""

INK: Final = "#1a1a1a"
ACCENT: Final = "#b3401f"
GREY: Final = "#6b6b6b"
_PALE: Final = "#a3a3a3"


@dataclass(frozen=True, slots=True)
class Pen:
    """A named line: weight in millimetres, ink as ``#rrggbb``, dash lengths in millimetres."""

    name: str
    weight: float
    ink: str = INK
    dash: tuple[float, ...] = ()


PENS: Final = {
    pen.name: pen
    for pen in (
        Pen("cut", 0.70),  # surfaces people walk on
        Pen("outline", 0.40),  # posts, rail, steps
        Pen("strand", 0.20),
        Pen("thin", 0.18),  # dimensions, leaders
        Pen("hatch", 0.13, GREY),
        Pen("fine", 0.13, _PALE),  # extension lines
        Pen("chain", 0.18, GREY, (6.0, 1.2, 1.0, 1.2)),  # nosing line
        Pen("dashed", 0.25, GREY, (1.8, 1.0)),
        Pen("circle", 0.35, ACCENT),
        Pen("radius", 0.18, ACCENT),
        Pen("way", 0.30, ACCENT, (2.6, 1.2)),  # of a sphere's centre
        Pen("frame", 0.50),
        Pen("rule", 0.15, _PALE),  # rules between table rows
    )
}

PenName: TypeAlias = Literal[
    "cut",
    "outline",
    "strand",
    "thin",
    "hatch",
    "fine",
    "chain",
    "dashed",
    "circle",
    "radius",
    "way",
    "frame",
    "rule",
]


@dataclass(frozen=True, slots=True)
class Line:
    """An open polyline."""

    pen: PenName
    points: tuple[Place, ...]
    what: str = ""


@dataclass(frozen=True, slots=True)
class Polygon:
    """A closed outline, filled with ``fill`` (``#rrggbb``) if given, drawn with ``pen`` if given."""

    points: tuple[Place, ...]
    pen: PenName | None = None
    fill: str | None = None
    what: str = ""


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle; filled if ``fill``."""

    centre: Place
    radius: float
    pen: PenName | None = "thin"
    fill: str | None = None
    what: str = ""


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular arc, counter-clockwise from ``start`` to ``end`` degrees."""

    pen: PenName
    centre: Place
    radius: float
    start: float
    end: float
    what: str = ""


@dataclass(frozen=True, slots=True)
class Text:
    """Words on one line, drawn as they are, never as markup or mathematics.

    ``at`` is on the baseline, at the line's start, middle or end as ``anchor`` says, ``cap`` the height of
    capitals in millimetres, ``turn`` degrees counter-clockwise. ``box`` puts white paper behind the words.
    """

    words: str
    at: Place
    cap: float
    anchor: Anchor = "start"
    turn: float = 0.0
    ink: str = INK
    box: bool = False
    what: str = ""

    @property
    def start(self) -> Place:
        """Where the baseline starts."""
        back = {"start": 0.0, "middle": 0.5, "end": 1.0}[self.anchor] * metrics.width(self.words, self.cap)
        return Place(self.at.x - back * cos(radians(self.turn)), self.at.y - back * sin(radians(self.turn)))

    def corners(self, margin: float = 0.0) -> tuple[Place, ...]:
        """Return the four corners of the words' box, counter-clockwise from the lower start."""
        length = metrics.width(self.words, self.cap)
        low, high = -metrics.DESCENT * self.cap - margin, metrics.ASCENT * self.cap + margin
        (x, y), c, s = self.start, cos(radians(self.turn)), sin(radians(self.turn))
        along = (-margin, length + margin, length + margin, -margin)
        return tuple(
            Place(x + a * c - b * s, y + a * s + b * c) for a, b in zip(along, (low, low, high, high), strict=True)
        )

    def bounds(self, margin: float = 0.0) -> Rect:
        """Return the upright rectangle around the words."""
        return Rect.around(self.corners(margin))


@dataclass(frozen=True, slots=True)
class Dimension:
    """A dimension: extension and dimension lines, arrow heads, and words that say plumb, square or level."""

    lines: tuple[Line, ...]
    marks: tuple[Polygon, ...]
    text: Text
    what: str = ""


@dataclass(frozen=True, slots=True)
class Leader:
    """Words and the line from them to what they speak of; the line ends in a dot or an arrow head."""

    line: Line
    mark: Polygon | Circle | None
    text: tuple[Text, ...]
    what: str = ""


Mark: TypeAlias = Line | Polygon | Circle | Arc | Text
Part: TypeAlias = Mark | Dimension | Leader


@dataclass(frozen=True, slots=True)
class Window:
    """A strip of the model between two stations; on paper x = dx + scale*s and y = dy + scale*z."""

    first: float
    last: float
    dx: float
    dy: float


@dataclass(frozen=True, slots=True)
class View:
    """A view in true proportion: one scale (paper millimetres per model unit) for both axes, in strips."""

    name: str
    scale: float
    scale_text: str
    windows: tuple[Window, ...]

    def window(self, s: float) -> Window | None:
        """Return the strip that shows a station, or None."""
        return next((w for w in self.windows if w.first <= s <= w.last), None)

    def to_paper(self, s: float, z: float) -> Place | None:
        """Where a point of the model is drawn; None if it lies in a part left out."""
        w = self.window(s)
        return None if w is None else Place(w.dx + self.scale * s, w.dy + self.scale * z)

    def to_model(self, place: Place) -> tuple[float, float] | None:
        """Station and elevation drawn at a place on paper; None between strips."""
        for w in self.windows:
            s = (place.x - w.dx) / self.scale
            if w.first - 1e-9 <= s <= w.last + 1e-9:
                return s, (place.y - w.dy) / self.scale
        return None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One sheet of paper, millimetres, and all that is on it."""

    name: str
    width: float
    height: float
    scale_text: str
    parts: tuple[Part, ...]
    views: tuple[View, ...] = field(default=())

    def marks(self) -> Iterator[Mark]:
        """Every single mark, compound parts taken apart, in painting order."""
        for part in self.parts:
            if isinstance(part, Dimension):
                yield from part.lines
                yield from part.marks
                yield part.text
            elif isinstance(part, Leader):
                yield part.line
                if part.mark is not None:
                    yield part.mark
                yield from part.text
            else:
                yield part

    def texts(self) -> tuple[Text, ...]:
        """Every piece of text on the sheet."""
        return tuple(mark for mark in self.marks() if isinstance(mark, Text))


def as_record(value: object) -> object:
    """Any part of a drawing as plain lists, dicts, numbers (to the micrometre) and words, for JSON."""
    if is_dataclass(value):
        named = {f.name: as_record(getattr(value, f.name)) for f in fields(value)}
        return {"kind": type(value).__name__.lower(), **named}
    if isinstance(value, tuple):
        return [as_record(item) for item in value]
    if isinstance(value, float):
        return round(value, 3) + 0.0  # no minus zero
    return value
