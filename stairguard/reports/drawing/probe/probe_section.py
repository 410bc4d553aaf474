"""The sheet of one push: a section square to the strands, with the probe at the hardest place of its way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, hypot, radians, sin
from typing import Final

from stairguard.model.job import Unit
from stairguard.reports.drawing.opening.opening_lines import fit, on_paper
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.callouts import CAPS, Callout, place_callouts
from stairguard.reports.drawing.paper.clip import Pair
from stairguard.reports.drawing.paper.drafting import CAP, arrow, span
from stairguard.reports.drawing.paper.lettering import Panel
from stairguard.reports.drawing.paper.scene import (
    ACCENT,
    INK,
    Arc,
    Circle,
    Line,
    Mark,
    Part,
    Place,
    Polygon,
    Rect,
    Sheet,
    Text,
    View,
)
from stairguard.reports.drawing.paper.single_sheet import PAPER, body, framed
from stairguard.reports.drawing.paper.title_block import TitleCell
from stairguard.reports.drawing.probe.probe_facts import push_facts, square
from stairguard.reports.drawing.probe.probe_picture import PushPicture
from stairguard.reports.words.lengths import UNIT_WORDS, Formatter, degrees_words
from stairguard.reports.words.one_line import clean
from stairguard.reports.words.sheet_words import (
    AT_REST,
    PUSHED_ASIDE,
    needed_words,
    probe_words,
    push_words,
    rest_words,
)

_COLUMN: Final = 82.0
_PAD: Final = 4.0
_LEFT: Final = 38.0
_RIGHT: Final = 28.0
_ABOVE: Final = 16.0
"""Paper round the probe: for the push, for dimensions, for words over it and under it, millimetres."""
_FOOT: Final = 6.5
_TONE: Final = "#dcdcdc"


def push_section(picture: PushPicture, *, title: str, unit: Unit, fmt: Formatter, date: str) -> Sheet:
    """Draw one push at its hardest place.

    Parameters
    ----------
    picture
        The state there; that it is one was checked when it was made.
    title, date
        Printed in the title block as they are.
    unit
        Of all lengths; it decides the paper too.
    fmt
        Writes a length as a tape shows it; diameters are written as they are.
    """
    whole = body(unit)
    edge = whole.right - _COLUMN - 2 * _PAD
    room = Rect(whole.left, whole.bottom + _FOOT, edge, whole.top)
    view = fit(picture.extent(), _inner(room), 0.0, unit, "push")
    cells = (
        TitleCell("SCALE", (view.scale_text,), 0.14),
        TitleCell("UNIT", (UNIT_WORDS[unit],), 0.12),
        TitleCell("DATE", (date,), 0.12),
    )
    parts = (
        *framed(unit, "PUSH, SEEN ALONG THE STRANDS", title, cells),
        Line("thin", (Place(edge, whole.bottom), Place(edge, whole.top)), "column"),
        Text("SECTION SQUARE TO THE STRANDS", Place(whole.left + 2, whole.bottom + 2.5), CAP, what="view title"),
        *_drawing(picture, view, room, unit, fmt),
        *push_facts(picture, unit, fmt, Rect(edge + _PAD, whole.bottom + _PAD, whole.right - _PAD, whole.top - _PAD)),
    )
    wide, tall = PAPER[unit]
    return Sheet(name="push", width=wide, height=tall, scale_text=view.scale_text, parts=parts, views=(view,))


def _inner(room: Rect) -> Rect:
    return Rect(room.left + _LEFT, room.bottom + _ABOVE, room.right - _RIGHT, room.top - _ABOVE)


def _drawing(picture: PushPicture, view: View, room: Rect, unit: Unit, fmt: Formatter) -> tuple[Part, ...]:
    """Draw the section: lines first, then words where they cover none of them."""
    marks = [
        *_axes(picture, view, room),
        *_edge(picture, view, room),
        *_probe(picture, view),
        *_strands(picture, view),
        *_angle(picture, view),
        *_forces(picture, view),
    ]
    dimensions = _dimensions(picture, view, unit, fmt)
    marks += [line for dimension in dimensions for line in dimension.lines()]
    panel = Panel(room.inset(1.0))
    panel.draw(marks)
    lettered = [part for dimension in dimensions for part in dimension.lettered(panel)]
    words, _ = place_callouts(
        panel, [*_callouts(picture, view, room, unit, fmt)]
    )  # all that they say is in the column too
    return (*marks, *lettered, *words)


def _axes(picture: PushPicture, view: View, room: Rect) -> Iterator[Mark]:
    """The line the probe's middle moves on, and the plane of the strands at rest."""
    left, low, right, high = picture.extent()
    a, b = on_paper(view, (left, 0.0)), on_paper(view, (right, 0.0))
    yield Line("chain", (Place(a.x - 4, a.y), Place(b.x + 2, b.y)), "way of the probe")
    a, b = on_paper(view, (0.0, low)), on_paper(view, (0.0, high))
    yield Line("chain", (Place(a.x, max(a.y - 8, room.bottom + 1)), Place(b.x, min(b.y + 8, room.top - 1))), "plane")


def _edge(picture: PushPicture, view: View, room: Rect) -> Iterator[Line]:
    """What is rigid: a line along the probe's way, hatched behind."""
    if picture.strands == 2:
        return
    out = -1 if picture.edge_below else 1
    left, _, right, _ = picture.extent()
    a, b = on_paper(view, (left, out * picture.sphere / 2)), on_paper(view, (right, out * picture.sphere / 2))
    yield Line("cut", (Place(a.x - 4, a.y), Place(b.x + 2, b.y)), picture.edge)
    for k in range(int((b.x - a.x + 3) / _PITCH)):
        foot = Place(a.x - 3 + k * _PITCH, a.y)
        tip = Place(foot.x + _HATCH, foot.y + out * _HATCH)
        if room.bottom < tip.y < room.top:
            yield Line("hatch", (foot, tip), f"{picture.edge} hatching")


_PITCH: Final = 2.4
_HATCH: Final = 2.4


def _probe(picture: PushPicture, view: View) -> Iterator[Mark]:
    if picture.probe == "sphere":
        yield Circle(on_paper(view, picture.middle), picture.sphere / 2 * view.scale, "circle", None, "sphere")
        yield Circle(on_paper(view, picture.middle), 0.5, None, ACCENT, "centre of the sphere")
        return
    outline = [on_paper(view, at) for at in picture.cone()]
    yield Line("circle", tuple(outline), "cone")
    yield Line("radius", (outline[1], outline[4]), "shoulder")
    yield Line("radius", (outline[0], outline[5]), "cut end of the cylinder")


def _strands(picture: PushPicture, view: View) -> Iterator[Mark]:
    """Strands pushed aside, bold, and at rest, thin; from one to the other an arrow."""
    radius = picture.diameter / 2 * view.scale
    for side in picture.sides:
        rest, moved = on_paper(view, (0.0, side * picture.clear)), on_paper(view, picture.strand(side))
        yield Circle(moved, radius, "cut", _TONE, "strand pushed aside")
        yield Circle(rest, radius, "thin", None, "strand at rest")
        if hypot(moved.x - rest.x, moved.y - rest.y) > _SEEN:
            yield Line("thin", (rest, moved), "deflection")
            yield arrow(moved, rest, "deflection")
        yield Circle(on_paper(view, picture.contact(side)), 0.8, None, ACCENT, "contact")


_SEEN: Final = 3.0
"""Least length an arrow is drawn with, millimetres."""


def _angle(picture: PushPicture, view: View) -> Iterator[Mark]:
    """The contact's normal back into the probe, and its angle from the strands' plane."""
    for side in picture.sides:
        pivot, contact = _pivot(picture, view, side), on_paper(view, picture.contact(side))
        yield Line("radius", (pivot, contact), "contact's normal")
    side = picture.sides[0]
    pivot, reach = _pivot(picture, view, side), _reach(picture, view)
    yield Line("thin", (pivot, Place(pivot.x, pivot.y + side * 1.15 * reach)), "parallel to the strands' plane")
    first, last = sorted((90.0, 90.0 - picture.angle_deg)) if side > 0 else (270.0, 270.0 + picture.angle_deg)
    if radians(last - first) * reach > 0.5:
        yield Arc("thin", pivot, reach, first, last, "contact angle")


def _reach(picture: PushPicture, view: View) -> float:
    """Radius on paper at which the contact angle is drawn."""
    return (0.3 if picture.probe == "sphere" else 0.22) * picture.sphere * view.scale


def _pivot(picture: PushPicture, view: View, side: int) -> Place:
    """Where the normal is drawn from: a sphere's centre, or a place in the cone."""
    if picture.probe == "sphere":
        return on_paper(view, picture.middle)
    (x, z), (nx, nz) = picture.contact(side), picture.normal(side)
    deep = _DEEP * picture.sphere
    return on_paper(view, (x - deep * nx, z - deep * nz))


_DEEP: Final = 0.28


def _forces(picture: PushPicture, view: View) -> Iterator[Mark]:
    """The push as a broad arrow behind the probe."""
    tip = on_paper(view, (picture.extent()[0], 0.0))
    head = Place(tip.x - 1.5, tip.y)
    yield Polygon(_broad(head), None, ACCENT, "push")


def _broad(tip: Place) -> tuple[Place, ...]:
    x, y = tip
    shape = ((0, 0), (-6, 3), (-6, 1.2), (-20, 1.2), (-20, -1.2), (-6, -1.2), (-6, -3))
    return tuple(Place(x + dx, y + dy) for dx, dy in shape)


def _dimensions(picture: PushPicture, view: View, unit: Unit, fmt: Formatter) -> tuple[_Dimension, ...]:
    """Dimension what is there at rest, and what the probe needs, to the right of the drawing."""
    right = on_paper(view, (picture.extent()[2], 0.0)).x
    half, clear, x = picture.sphere / 2, picture.clear, picture.middle[0]
    low, high = -clear, clear
    if picture.strands == 1:
        low, high = sorted((picture.sides[0] * clear, -picture.sides[0] * half))
    rest = rest_words(square(high - low, unit, fmt))
    need = needed_words(picture.sphere, unit)
    return (
        _Dimension(on_paper(view, (0.0, low)), on_paper(view, (0.0, high)), right + 11.0, rest),
        _Dimension(on_paper(view, (x, -half)), on_paper(view, (x, half)), right + 22.5, need),
    )


@dataclass(frozen=True, slots=True)
class _Dimension:
    """Upright, at ``x``, from one place to one over it."""

    low: Place
    high: Place
    x: float
    words: str

    def lines(self) -> Iterator[Line | Polygon]:
        for p in (self.low, self.high):
            yield Line("fine", (Place(p.x + 0.8, p.y), Place(self.x + 1.2, p.y)), self.words)
        yield from span(Place(self.x, self.low.y), Place(self.x, self.high.y), self.words)

    def lettered(self, panel: Panel) -> tuple[Part, ...]:
        """Set the words along the line where they cross nothing, else beside it with a leader."""
        for cap in CAPS:
            for share in (0.5, 0.3, 0.7):
                at = Place(self.x - 1.0 - metrics.DESCENT * cap, self.low.y + share * (self.high.y - self.low.y))
                text = Text(self.words, at, cap, "middle", 90.0, INK, False, self.words)
                if panel.clear(text):
                    return (panel.put(text),)
        middle = Place(self.x, (self.low.y + self.high.y) / 2)
        bearings = (90.0, -90.0, 120.0, -120.0, 180.0)
        return place_callouts(panel, [Callout(words=(self.words,), target=middle, what=self.words, bearings=bearings)])[
            0
        ]


def _callouts(picture: PushPicture, view: View, room: Rect, unit: Unit, fmt: Formatter) -> Iterator[Callout]:
    """What is said in the drawing, what matters most first."""
    side = picture.sides[0]
    up = (60.0, 90.0, 120.0, 30.0, 150.0, 0.0, 180.0, -60.0, -120.0)
    out = tuple(side * bearing for bearing in up)
    tail = on_paper(view, (picture.extent()[0], 0.0))
    yield Callout(
        words=(push_words(picture.push),),
        target=Place(tail.x - 18, tail.y),
        what="push",
        bearings=(90.0, -90.0, 100.0),
        ink=ACCENT,
    )
    f, reach, pivot = radians(picture.angle_deg), _reach(picture, view), _pivot(picture, view, side)
    middle = Place(pivot.x + reach * sin(f / 2), pivot.y + side * reach * cos(f / 2))
    yield Callout(words=(degrees_words(picture.angle_deg),), target=middle, what="contact angle", bearings=out)
    if picture.edge and picture.strands == 1:
        left = on_paper(view, (picture.extent()[0], -side * picture.sphere / 2))
        yield Callout(
            words=(clean(picture.edge),),
            target=Place(left.x + 14, left.y - side * 3),
            what="edge",
            bearings=tuple(-b for b in out),
        )
    moved, rest = on_paper(view, picture.strand(side)), on_paper(view, (0.0, side * picture.clear))
    yield Callout(words=(PUSHED_ASIDE,), target=moved, what="strand pushed aside", bearings=out)
    yield Callout(
        words=(AT_REST,),
        target=rest,
        what="strand at rest",
        bearings=tuple(side * b for b in (-30.0, 0.0, 180.0, -60.0, -120.0, 150.0, 120.0)),
    )
    yield Callout(
        words=(probe_words(picture.probe, picture.sphere, unit),),
        target=on_paper(view, _on_probe(picture, -side)),
        what="probe",
        bearings=tuple(-b for b in out),
        ink=ACCENT,
        pen="radius",
    )


def _on_probe(picture: PushPicture, side: int) -> Pair:
    """Return a place on the probe's outline, at its back."""
    x, half = picture.middle[0], picture.sphere / 2
    if picture.probe == "cone":
        return picture.cone()[0][0] + half / 3, side * half
    return x - half * cos(radians(50)), side * half * sin(radians(50))
