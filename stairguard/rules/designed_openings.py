"""Findings on the openings of a layout: each against every rule that speaks to it, and what would close it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from stairguard.geometry.slope import secant
from stairguard.model.findings import Finding, Place
from stairguard.model.guard import Gap, Layout, Opening, PlacedSurface
from stairguard.model.job import Flight
from stairguard.model.rules import Rule
from stairguard.rules.mending import amount

if TYPE_CHECKING:
    from stairguard.solve.stepmend import StepMend

__all__ = ["beyond_help", "of_openings"]


def of_openings(layout: Layout) -> Iterator[tuple[Rule, Finding]]:
    """Of openings alike on one surface, under one rule, the largest."""
    alike: dict[tuple[object, ...], list[Opening]] = {}
    for opening in layout.openings:
        if opening.rule is not None:
            key = opening.surface, opening.rule, opening.passes, opening.leave, opening.touches
            alike.setdefault(key, []).append(opening)
    for same in alike.values():
        worst = max(same, key=_size)
        assert worst.rule is not None  # as gathered
        yield worst.rule, _opening(layout, worst, len(same), worst.rule, worst.passes is not False)
        for rule, passes in worst.others:
            yield rule, _opening(layout, worst, len(same), rule, passes)


def _size(opening: Opening) -> float:
    return max(opening.sphere, opening.sphere_as_marked)


def _opening(layout: Layout, opening: Opening, count: int, rule: Rule, passes: bool) -> Finding:
    more = f", and {count - 1} like it" if count > 1 else ""
    surface = layout.line.surfaces[opening.surface]
    what = f"largest sphere {opening.where}{more}, of surface {surface.index + 1} ({surface.kind})"
    size, limit = _size(opening), float(rule.value)
    finding = Finding.of(
        rule,
        "pass" if passes else "fail",
        what,
        Place(opening.surface, opening.where, opening.centre[0]),
        value=size,
        limit=limit,
        unit=layout.job.unit,
        margin=limit - size,
        binding=True,
    )
    if opening.leave is not None and rule is opening.rule:
        leave = f"{opening.leave.clause} ({opening.leave.status})"
        return replace(finding, margin=None, why=f"larger, by leave of {leave}: the lowest edge is low enough")
    return finding if passes else replace(finding, fix=_fix(layout, opening, surface, size - limit))


def _fix(layout: Layout, opening: Opening, surface: PlacedSurface, past: float) -> str:
    unit = layout.job.unit
    by = amount(max(past, 0.0), unit)
    if isinstance(opening.bounds, Gap):
        numbers = opening.bounds.strands
        if len(numbers) == 2:
            return f"set strands {numbers[0]} and {numbers[1]} nearer by more than {by}, square"
        way = "raise strand 1" if "rail" in opening.touches else f"lower strand {numbers[0]}"
        return f"{way} by more than {by}, square"
    mends = _step(layout, opening, surface)
    if mends:
        return _step_words(layout, surface, mends, unit)
    touched = ", ".join(dict.fromkeys(opening.touches))
    return f"no strand lowered mends it: bring together what it touches ({touched}) by more than {by}, or fill it in"


def _step(layout: Layout, opening: Opening, surface: PlacedSurface) -> tuple[StepMend, ...]:
    """Changes that would close a step triangle; none known of other openings, and of measured steps."""
    given, rule = surface.given, opening.rule
    if not isinstance(given, Flight) or rule is None or not {"tread", "riser"} <= set(opening.touches):
        return ()
    from stairguard.solve.stepmend import step_mends  # only where an opening fails

    radius, sec = layout.job.strand.diameter / 2, secant(surface.slope)
    lift = layout.fields[surface.index].heights[-1] / sec - radius
    least = layout.job.mark / (2 * sec)
    return step_mends(given.rise, given.run, given.nosing, given.tread, given.open_risers, lift, least, rule.value)


def _step_words(layout: Layout, surface: PlacedSurface, mends: Iterable[StepMend], unit: str) -> str:
    number = len(layout.fields[surface.index].heights)
    words = []
    for one in mends:
        if one.what == "lift":
            words.append(f"lower strand {number} by more than {amount(one.by, unit)}, square")
        else:
            name = "nosing projection" if one.what == "nosing" else one.what
            words.append(f"{name} less than {one.value:.5g} {unit} ({amount(one.by, unit)} less)")
    return "; or ".join([*words, "a solid piece in the triangle"])


def beyond_help(layout: Layout) -> Iterator[str]:
    """Flights whose steps no strand clear of the nosings can close: job and rule conflict."""
    seen = set()
    for opening in layout.openings:
        surface = layout.line.surfaces[opening.surface]
        if opening.passes is not False or opening.rule is None or (surface.given, opening.rule) in seen:
            continue
        mends = _step(layout, opening, surface)
        given = surface.given
        if not mends or mends[0].what == "lift" or not isinstance(given, Flight):
            continue
        seen.add((surface.given, opening.rule))
        unit = layout.job.unit
        sizes = f"rise {float(given.rise):.6g}, run {float(given.run):.6g}, nosing {float(given.nosing):.6g} {unit}"
        asked = f"{opening.rule.clause} ({opening.rule.kind} {float(opening.rule.value):.6g} {unit})"
        yield (
            f"The steps of surface {surface.index + 1} ({sizes}) and {asked}: no strand clear of the nosings stops "
            f"that sphere. Smallest change: {_step_words(layout, surface, mends, unit)}."
        )
