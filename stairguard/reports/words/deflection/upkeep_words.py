"""What becomes of a tension with temperature, drying and settling, in words; and what a strand's figures rest on."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from stairguard.model.published.known_figure import force_unit
from stairguard.reports.words.deflection.deflection_words import VERDICTS, frame_words
from stairguard.reports.words.lengths import at_least, brief, figure, solved, stated

if TYPE_CHECKING:
    from stairguard.model.guard.strand_deflection import Upkeep
    from stairguard.model.job import Climate, Push, Unit
    from stairguard.model.published.known_figure import Figure
    from stairguard.model.published.strand_materials import StrandSteel


def climate_words(upkeep: Upkeep, unit: Unit) -> Iterator[str]:
    """What a strand's frame is of, how far its wood dries, and what tension that takes."""
    climate = upkeep.climate
    yield f"Frame: {frame_words(climate)}. Strand set at {celsius_words(climate.now)}."
    if climate.wood is not None:
        wooden_rail = any(name == "wood" for name, _ in climate.frame)
        yield (
            f"Posts of {climate.wood} go from {stated(climate.moisture_from)} to {stated(climate.moisture_to)} % "
            f"moisture, {climate.grain} along the guard, with the {climate.seated} of each end post staying put"
            f"{', and a wooden rail shortens along its grain' if wooden_rail else ''}"
            f": the anchors' seats come {brief(upkeep.shortening, unit)} nearer. Where line posts grip the strand, "
            "the bay beside an end post has that post's share all to itself: the lower of the two is told."
        )
    if upkeep.drop:
        off = brief(upkeep.drop, force_unit(unit))
        yield f"Within those bounds, wood and settling take up to {off} off the tension."


def upkeep_words(upkeep: Upkeep, unit: Unit, push: Push) -> Iterator[str]:
    """The lowest and the highest tension to come, and whether the force asked for is held at the lowest."""
    force = force_unit(unit)
    yield (
        f"Most and least, within the bounds of EA, expansions and shrinkage, as set and once wood has moved. Settling "
        f"counted with: {_settled(upkeep.climate)}."
    )
    slack = " The strand goes SLACK." if upkeep.slack else ""
    slack += " The strand BREAKS at the highest: FAILS." if upkeep.breaks else ""
    yield (
        f"Lowest {brief(upkeep.lowest.least, force)}, at {celsius_words(upkeep.lowest.temperature)}; highest "
        f"{brief(upkeep.highest.most, force)}, at {celsius_words(upkeep.highest.temperature)}.{slack}"
    )
    if push.force is not None and upkeep.holding.verdict is not None:
        yield f"At the lowest, {figure(push.force, force)}: {VERDICTS[upkeep.holding.verdict]}."
        if upkeep.to_set.free is None:
            yield "No tension short of breaking, set today, would hold it even then."
        else:
            enough = f"{at_least(upkeep.to_set.free, 4)} {force} at {celsius_words(upkeep.climate.now)}"
            yield f"To hold it even then, wherever a tension can, set at least {enough}."


def _settled(climate: Climate) -> str:
    """How much settling is counted with."""
    if climate.settling:
        return f"{stated(100 * climate.settling)} % of its length"
    return "none: draw a new strand in again"


def steel_words(steel: StrandSteel) -> str:
    """A strand's stiffness between its bounds, strength and weight, before the figures that they rest on."""
    force = force_unit(steel.unit)
    return (
        f"EA {solved(steel.stiffness, force)} (from {solved(steel.stiffness_low)} to {solved(steel.stiffness_high)}); "
        f"breaking force {solved(steel.breaking, force)}; weight {brief(steel.weight, force)}/{steel.unit}. They rest "
        "on:"
    )


def basis_figure_words(one: Figure) -> str:
    """A figure that others rest on, with its status and where it is from."""
    return f"{one.what}: {solved(one.value, one.unit)} ({one.status}: {one.cited})"


def celsius_words(value: Fraction | float) -> str:
    """A temperature on both scales."""
    celsius = float(value)
    return f"{brief(celsius)} °C ({brief(celsius * 9 / 5 + 32)} °F)"
