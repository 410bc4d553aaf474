"""Pictures of strand give as records: push against tension, tension against temperature."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import atan, degrees
from typing import Final

from stairguard.model.guard.strand_deflection import BayAnswer, BayQuestion, HeldAndFree, PushCurve, StrandBound, Upkeep
from stairguard.model.job import Push, Unit
from stairguard.model.published.known_figure import force_unit
from stairguard.reports.drawing.chart.chart_record import Band, Chart, ChartMark, Curve, Level
from stairguard.reports.drawing.paper.scene import Sheet
from stairguard.reports.drawing.probe.probe_picture import PushPicture
from stairguard.reports.drawing.probe.probe_section import push_section
from stairguard.reports.words.deflection.chart_notes import push_notes, temperature_notes
from stairguard.reports.words.deflection.deflection_words import WAYS
from stairguard.reports.words.lengths import Figures, brief, figure, rough

_MOST_CURVES: Final = 5
_MOST_BANDS: Final = 3
"""Side by side on one chart: with more no reader tells lines, or shades, apart."""

_MARKS: Final[dict[Unit, Fraction]] = {"in": Fraction(1, 64), "mm": Fraction(1, 10)}
"""What a picture's lengths are written to."""


def push_chart(
    curves: Sequence[tuple[str, BayQuestion, PushCurve]], at: HeldAndFree, said: Sequence[str] = ()
) -> Chart:
    """The push over the tension at rest, between its two bounds, for one bay or several side by side.

    Parameters
    ----------
    curves : what each is called, what was asked, and its curve; the first is the one asked about
    at : its push at the tension it has
    said : what else is to be noted
    """
    first, force = curves[0][1], force_unit(curves[0][1].unit)
    series, bands = [], []
    shown = curves[:_MOST_CURVES]
    for name, _, curve in shown:
        words = f"{name}, " if len(curves) > 1 else ""
        series.append(Curve(f"{words}{WAYS['held']}", curve.tensions, curve.held))
        series.append(Curve(f"{words}sliding", curve.tensions, curve.free, dashed=True))
        if len(shown) <= _MOST_BANDS:
            bands.append(Band("", curve.tensions, curve.free, curve.held))
    wanted = first.push.force
    levels = () if wanted is None else (Level("force asked for", float(wanted)),)
    marks = [ChartMark("at rest", float(first.taut.tension), at.free)] if at.free is not None else []
    tape = Figures(first.unit, _MARKS[first.unit]).tape
    left_out = [name for name, *_ in curves[_MOST_CURVES:]]
    return Chart(
        title="Push against tension",
        x_name=f"tension at rest, {force}",
        y_name=f"greatest push, {force}",
        series=tuple(series),
        levels=levels,
        marks=tuple(marks),
        bands=tuple(bands),
        notes=(*said, *push_notes(first, left_out, tape)),
        x_unit=force,
        y_unit=force,
    )


def temperature_chart(upkeep: Upkeep, unit: Unit, push: Push, compared: Sequence[tuple[str, Upkeep]] = ()) -> Chart:
    """The tension over the temperatures to come, as set and after drying and settling."""
    force = force_unit(unit)
    fahrenheit = unit == "in"
    scale = "°F" if fahrenheit else "°C"
    at = tuple(p.temperature * 9 / 5 + 32 if fahrenheit else p.temperature for p in upkeep.points)
    most = Curve("at most", at, tuple(p.most for p in upkeep.points))
    least = Curve("at least", at, tuple(p.least for p in upkeep.points), dashed=True)
    same = most.y == least.y
    # beside the same bay otherwise, frames of other materials would be too many lines
    others = tuple(
        Curve(f"{name}, at least", at, tuple(p.least for p in one.points)) for name, one in compared[:_MOST_CURVES]
    ) or tuple(Curve(f"on {name}", at, line, dashed=True) for name, line in upkeep.otherwise)
    levels = []
    if push.force is not None and upkeep.holding.needed.free is not None:
        levels.append(Level(f"holds {figure(push.force, force)}", upkeep.holding.needed.free))
    lowest = next(x for x, p in zip(at, upkeep.points, strict=True) if p is upkeep.lowest)
    return Chart(
        title="Tension against temperature",
        x_name=f"temperature, {scale}",
        y_name=f"tension, {force}",
        series=((Curve("this frame", most.x, most.y),) if same else (most, least)) + others,
        levels=tuple(levels),
        marks=(ChartMark("lowest", lowest, upkeep.lowest.least),),
        bands=() if same else (Band("", at, least.y, most.y),),
        notes=tuple(temperature_notes(upkeep.climate)),
        x_unit=scale,
        y_unit=force,
    )


def section_sheet(
    answer: BayAnswer, date: str, title: str = "Strand give: one bay", way: StrandBound = "free"
) -> Sheet | None:
    """The push at its hardest place, seen along the strands, of one bound; None where it is never pushed there."""
    asked, found = answer.asked, answer.holding
    push, contact, q, tension = (
        getattr(bounds, way) for bounds in (found.push, found.contact_deg, found.deflection, found.tension)
    )
    if not push or contact is None or q is None or tension is None:
        return None
    unit, force = asked.unit, force_unit(asked.unit)
    rub = degrees(atan(float(asked.push.friction)))
    tape = Figures(unit, _MARKS[unit]).tape
    rows = (
        ("bay", tape(asked.bay)),
        ("run", tape(asked.run)),
        ("tension at rest", figure(asked.taut.tension, force)),
        ("tension then", brief(tension, force)),
        ("reckoned", WAYS[way]),
    )
    lateral = 2 * found.place.clear if asked.strands == 2 else found.place.clear
    picture = PushPicture(
        probe=asked.push.probe,
        sphere=found.place.probe,
        diameter=float(asked.diameter),
        spacing_or_clear=lateral,
        strands=2 if asked.strands == 2 else 1,
        angle_deg=contact,
        deflection=q,
        force_angle_deg=contact + rub,
        push=rough(push, force),
        rows=rows,
    )

    return push_section(picture, title=title, unit=unit, fmt=tape, date=date)
