"""Stations along the bottom of an elevation: every one from the same datum, never chained."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from stairguard.geometry.marks import tape_figure
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.job import Flight, MeasuredFlight
from stairguard.reports.drawing.elevation.sheet_breaks import Leaf
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.drafting import CAP
from stairguard.reports.drawing.paper.scene import Line, Part, Place, Polygon, Rect, Text, View

_PITCH: Final = (metrics.ASCENT + metrics.DESCENT) * CAP + 0.3
_JOG: Final = 7.5
_GAP: Final = 1.2


@dataclass(frozen=True, slots=True)
class StationMark:
    """A station to be dimensioned: its name and figure, where its extension line starts, and how much it matters."""

    name: str
    station: float
    value: str
    foot: float
    rank: int

    @property
    def words(self) -> str:
        """Name and distance from the datum."""
        return f"{self.name}   {self.value}"


def marks(layout: Layout) -> tuple[StationMark, ...]:
    """List datum, posts and the first and last nosing of each flight, by station."""
    start = layout.line.surfaces[0].start

    def figure(station: Fraction) -> str:
        return tape_figure(station - start.s, layout.job.unit, layout.job.mark)

    found = [StationMark("datum", float(start.s), "0", float(start.z), 0)]
    for post in layout.along:
        rank = 2 if post.role == "line" else 0
        found.append(StationMark(post.label, float(post.station), figure(post.station), float(post.base), rank))
    for surface in layout.line.surfaces:
        if isinstance(surface.given, Flight | MeasuredFlight):
            numbers, of = (1, len(surface.nosings)), _flight_mark(layout, surface.index)
            ends = surface.nosings[:: len(surface.nosings) - 1 or 1]
            for number, nosing in zip(numbers if surface.slope > 0 else numbers[::-1], ends, strict=False):
                foot = float(nosing.z) - float(surface.given.tread)
                found.append(StationMark(f"{of}N{number}", float(nosing.s), figure(nosing.s), foot, 1))
    return tuple(sorted(found, key=lambda m: m.station))


def legend(layout: Layout, leaf: Leaf) -> str:
    """Say what a nosing's mark on a leaf means; nothing where there is no flight."""
    flights = [s.index for s in leaf.of(layout) if s.nosings]
    if not flights:
        return ""
    of = _flight_mark(layout, flights[0])
    return f"{of}N1: nosing 1 of surface {flights[0] + 1}" if of else "N: nosing"


def _flight_mark(layout: Layout, index: int) -> str:
    """What a nosing's mark starts with: its flight's number, where N alone could be another's, or a newel."""
    flights = sum(bool(s.nosings) for s in layout.line.surfaces)
    newel = "newel" in (layout.job.start, layout.job.end)
    return f"{index + 1}/" if flights > 1 or newel else ""


def thinned(found: Sequence[StationMark], view: View, room: float) -> tuple[tuple[StationMark, ...], int]:
    """Choose the marks there is room for, in ``room`` millimetres.

    Returns
    -------
    tuple
        The marks, and the step k when only every k-th line post is among them (1: all that are in view).
    """
    shown = [m for m in found if view.window(m.station) is not None]
    most = int(room / _PITCH)
    lines = [m for m in shown if m.rank == 2]
    others = [m for m in shown if m.rank < 2]
    others = others if len(others) <= most else [m for m in others if m.rank == 0][:most]
    step = 1
    while len(others) + -(-len(lines) // step) > most and step <= len(lines):
        step += 1
    kept = {id(m) for m in (*others, *(lines[step - 1 :: step] if step <= len(lines) else ()))}
    return tuple(m for m in shown if id(m) in kept), step


def band_height(found: Sequence[StationMark]) -> float:
    """Height of paper the band needs, millimetres."""
    return max(metrics.width(m.words, CAP) for m in found) + _JOG + 2 * _GAP


def draw_stations(found: Sequence[StationMark], view: View, band: Rect) -> tuple[Part, ...]:
    """Draw extension lines down to the band, spread apart there, and the words on end under them."""
    feet = [_foot(m, view) for m in found]
    xs = _spread([p.x for p in feet], band.left + _PITCH / 2, band.right - _PITCH / 2)
    parts: list[Part] = []
    ordered = sorted(zip(found, feet, xs, strict=True), key=lambda item: item[2])
    for mark, foot, x in ordered:
        what = f"station of {mark.name}"
        line = (foot, Place(foot.x, band.top), Place(x, band.top - _JOG + 2), Place(x, band.top - _JOG))
        pen_line = Line("fine", line, what)
        baseline = x + CAP / 2
        parts.append(pen_line)
        parts.append(Text(mark.words, Place(baseline, band.top - _JOG - _GAP), CAP, "end", 90.0, what=what))
        if mark.name == "datum":
            parts.append(_datum_mark(Place(foot.x, band.top)))
    return tuple(parts)


def _foot(mark: StationMark, view: View) -> Place:
    """Top of an extension line: a little under the surface it comes from."""
    place = view.to_paper(mark.station, mark.foot)
    assert place is not None  # only marks in view are drawn
    return Place(place.x, place.y - 1.5)


def _datum_mark(at: Place) -> Polygon:
    return Polygon((at, Place(at.x - 1.3, at.y + 2.2), Place(at.x + 1.3, at.y + 2.2)), None, "#1a1a1a", "datum")


def _spread(wanted: Sequence[float], low: float, high: float) -> list[float]:
    """Move positions as little as needed so that they are a pitch apart, in order, between two limits."""
    groups: list[tuple[float, int]] = []  # middle of a packed group, how many are in it
    for x in wanted:
        groups.append((x, 1))
        while len(groups) > 1 and _overlap(groups[-2], groups[-1]):
            (m2, n2), (m1, n1) = groups.pop(), groups.pop()
            # each wanted middle weighs as many as it holds
            groups.append(((m1 * n1 + m2 * n2) / (n1 + n2), n1 + n2))
    placed = [m + (i - (n - 1) / 2) * _PITCH for m, n in groups for i in range(n)]
    for i, x in enumerate(placed):
        placed[i] = max(x, low + i * _PITCH)
    for i in range(len(placed) - 1, -1, -1):
        placed[i] = min(placed[i], high - (len(placed) - 1 - i) * _PITCH)
    return placed


def _overlap(a: tuple[float, int], b: tuple[float, int]) -> bool:
    return b[0] - a[0] < (a[1] + b[1]) / 2 * _PITCH - 1e-9
