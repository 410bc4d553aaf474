"""What both pages on strands under a push tell: upkeep of a tension, and what the strand's figures rest on."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from stairguard.model.guard.strand_deflection import Upkeep
from stairguard.model.job import Push, Unit
from stairguard.model.published.known_figure import Figure, force_unit
from stairguard.model.published.strand_materials import StrandSteel
from stairguard.reports.page.page_text import listed, paragraph, table
from stairguard.reports.words.deflection.deflection_words import VERDICTS, frame_words
from stairguard.reports.words.lengths import at_least, brief, figure, solved, stated


def upkeep_lines(upkeep: Upkeep, unit: Unit, push: Push) -> Iterator[str]:
    """What temperature, drying and settling do to a strand, in words and a table."""
    climate, force = upkeep.climate, force_unit(unit)
    yield from paragraph(f"Frame: {frame_words(climate)}. Strand set at {_celsius(climate.now)}.")
    if climate.wood is not None:
        yield from paragraph(
            f"Posts of {climate.wood} go from {stated(climate.moisture_from)} to {stated(climate.moisture_to)} % "
            f"moisture, {climate.grain} along the guard, with the {climate.seated} of each end post staying put"
            + (", and a wooden rail shortens along its grain" if any(n == "wood" for n, _ in climate.frame) else "")
            + f": the anchors' seats come {brief(upkeep.shortening, unit)} nearer. Where line posts grip the strand, "
            "the bay beside an end post has that post's share all to itself: the lower of the two is told."
        )
    if upkeep.drop:
        yield from paragraph(
            f"Within those bounds, wood and settling take up to {_force(upkeep.drop, force)} off the tension."
        )
    rows = [[_celsius(p.temperature), _force(p.most, force), _force(p.least, force)] for p in upkeep.points]
    yield from table(["temperature", "most", "least"], rows, left=0)
    slack = " The strand goes SLACK." if upkeep.slack else ""
    slack += " The strand BREAKS at the highest: FAILS." if upkeep.breaks else ""
    settled = (
        f"{stated(100 * climate.settling)} % of its length" if climate.settling else "none: draw a new strand in again"
    )
    yield from paragraph(
        f"Most and least, within the bounds of EA, expansions and shrinkage, as set and once wood has moved. Settling "
        f"counted with: {settled}."
    )
    yield from paragraph(
        f"Lowest {_force(upkeep.lowest.least, force)}, at {_celsius(upkeep.lowest.temperature)}; highest "
        f"{_force(upkeep.highest.most, force)}, at {_celsius(upkeep.highest.temperature)}.{slack}"
    )
    if push.force is not None and upkeep.holding.verdict is not None:
        yield from paragraph(f"At the lowest, {figure(push.force, force)}: {VERDICTS[upkeep.holding.verdict]}.")
        if upkeep.to_set.free is not None:
            enough = f"{at_least(upkeep.to_set.free, 4)} {force}"
            yield from paragraph(
                f"To hold it even then, wherever a tension can, set at least {enough} at {_celsius(climate.now)}."
            )
        else:
            yield from paragraph("No tension short of breaking, set today, would hold it even then.")


def strand_lines(steel: StrandSteel) -> Iterator[str]:
    """Every figure the strand's stiffness, strength, weight and expansion rest on, with its status."""
    unit = steel.unit
    force = force_unit(unit)
    yield from paragraph(
        f"EA {solved(steel.stiffness, force)} (from {solved(steel.stiffness_low)} to {solved(steel.stiffness_high)}); "
        f"breaking force {solved(steel.breaking, force)}; weight {brief(steel.weight, force)}/{unit}. They rest on:"
    )
    yield from listed(_figure_words(one) for one in steel.figures)


def _celsius(value: Fraction | float) -> str:
    celsius = float(value)
    return f"{brief(celsius)} °C ({brief(celsius * 9 / 5 + 32)} °F)"


def _force(value: float, unit: str) -> str:
    return brief(value, unit)


def _figure_words(one: Figure) -> str:
    value = solved(one.value, one.unit)
    return f"{one.what}: {value} ({one.status}: {one.cited})"
