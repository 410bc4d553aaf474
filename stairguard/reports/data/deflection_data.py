"""Give as plain data: one bay's, as the command has it in JSON, and what it shares with a whole guard's."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stairguard.model.guard.strand_deflection import (
    Asked,
    BayAnswer,
    BayReport,
    Bounds,
    GuardGive,
    Holding,
    HungAnswer,
    OpeningGive,
    Upkeep,
)
from stairguard.model.published.known_figure import force_unit
from stairguard.reports.words.deflection_words import give_cautions

if TYPE_CHECKING:
    from stairguard.model.published.strand_materials import StrandSteel

__all__ = [
    "bounds_data", "give_data", "holding_data", "opening_give_data", "push_data", "strand_data", "upkeep_data",
]  # fmt: skip


def bounds_data(bounds: Bounds) -> dict[str, float | None]:
    """Two bounds as plain data."""
    return {"held": bounds.held, "free": bounds.free}


def strand_data(steel: StrandSteel) -> dict[str, Any]:
    """What a strand is made of, with the source and status of every figure."""
    return {
        "diameter": float(steel.diameter),
        "construction": steel.construction,
        "material": steel.material,
        "area": steel.area,
        "stiffness": steel.stiffness,
        "stiffness_low": steel.stiffness_low,
        "stiffness_high": steel.stiffness_high,
        "breaking_force": steel.breaking,
        "weight": steel.weight,
        "expansion": steel.expansion,
        "figures": [
            {"what": f.what, "value": float(f.value), "unit": f.unit, "status": f.status, "source": f.source}
            for f in steel.figures
        ],
    }


def push_data(give: GuardGive | None) -> dict[str, Any] | None:
    """The push that a guard is held to, and the tension it rests on, as plain data."""
    if give is None:
        return None
    push = give.push
    return {
        "force": None if push.force is None else float(push.force),
        "probe": push.probe,
        "sphere": None if push.sphere is None else float(push.sphere),
        "friction": float(push.friction),
        "tension": None if give.taut is None else {"value": float(give.taut.tension), "source": give.taut.source},
        "passes": give.passes,
    }


def opening_give_data(one: OpeningGive) -> dict[str, Any]:
    """One opening under the push, as plain data."""
    return {
        "verdict": one.verdict,
        "probe": one.probe,
        "strands": list(one.numbers),
        "posts": list(one.posts),
        "nearer": one.nearer,
        **holding_data(one.holding),
    }


def holding_data(found: Holding | None) -> dict[str, Any]:
    """A hold between two bounds, and where it was found, as plain data."""
    if found is None:
        return dict.fromkeys(("push", "tension_for_force", "breaking_push", "bay", "run_length", "at", "clear"))
    place = found.place
    return {
        "push": bounds_data(found.push),
        "tension_for_force": bounds_data(found.needed),
        "breaking_push": bounds_data(found.breaking),
        "bay": place.bay,
        "run_length": place.run,
        "at": place.at,
        "clear": place.clear,
    }


def give_data(report: BayReport) -> dict[str, Any]:
    """Put one bay into the plain data of the command's JSON; what every key holds is told in DEVELOPERS.md."""
    answer, asked = report.answer, report.answer.asked
    return {
        **_answer_data(answer),
        "turns": report.turns,
        "table": None if report.table is None else _table_data(report.table),
        "hung": None if report.hung is None else _hung_data(report.hung),
        "upkeep": None if report.upkeep is None else upkeep_data(report.upkeep),
        "strand": strand_data(asked.taut.steel),
        "compared": [{"changed": changed, **_answer_data(other)} for changed, other in report.compared],
        "cautions": list(give_cautions(asked.taut.steel)),
    }


def _answer_data(answer: BayAnswer) -> dict[str, Any]:
    asked, found = answer.asked, answer.holding
    force = asked.push.force
    return {
        "unit": asked.unit,
        "force_unit": force_unit(asked.unit),
        "gap": float(answer.gap),
        "push": bounds_data(found.push),
        "tension_for_force": None if force is None else bounds_data(found.needed),
        "elongation": answer.elongation,
        "sag": answer.sag,
        "verdict": found.verdict,
        "force": None if force is None else float(force),
        "sphere": found.place.probe,
        "probe": asked.push.probe,
        "strands": asked.strands,
        "spacing": float(asked.spacing),
        "bay": float(asked.bay),
        "run_length": float(asked.run),
        "tension": {"value": float(asked.taut.tension), "source": asked.taut.source},
        "breaking_push": bounds_data(found.breaking),
        "contact_deg": bounds_data(found.contact_deg),
        "deflection": bounds_data(found.deflection),
        "tension_then": bounds_data(found.tension),
        "widest_spacing": bounds_data(answer.widest),
        "longest_bay": bounds_data(answer.longest),
        "weakest_at": answer.weakest_at,
        "weakest_push": answer.weakest,
        "settles": list(answer.settles),
    }


def _table_data(found: Asked) -> dict[str, Any]:
    return {
        "clause": found.clause,
        "spacing": float(found.spacing),
        "bay": float(found.bay),
        "tension": None if found.tension is None else float(found.tension),
        "met": found.met,
    }


def _hung_data(found: HungAnswer) -> dict[str, Any]:
    sinks = found.hung.sinks
    return {
        "weight": float(found.hung.weight),
        "expected": bounds_data(found.expected),
        "measured": None if sinks is None else float(sinks),
        "tension": bounds_data(found.tension),
    }


def upkeep_data(upkeep: Upkeep) -> dict[str, Any]:
    """What temperature, drying and settling do, as plain data; temperatures in degrees Celsius."""
    return {
        "frame": [{"of": name, "share": float(share)} for name, share in upkeep.climate.frame],
        "wood": upkeep.climate.wood,
        "shortening": upkeep.shortening,
        "drop": upkeep.drop,
        "lowest": {"temperature_C": upkeep.lowest.temperature, "tension": upkeep.lowest.least},
        "highest": {"temperature_C": upkeep.highest.temperature, "tension": upkeep.highest.most},
        "slack": upkeep.slack,
        "breaks": upkeep.breaks,
        "push": bounds_data(upkeep.holding.push),
        "verdict": upkeep.holding.verdict,
        "tension_to_set": bounds_data(upkeep.to_set),
        "otherwise": {name: list(line) for name, line in upkeep.otherwise},
        "points": [{"temperature_C": p.temperature, "most": p.most, "least": p.least} for p in upkeep.points],
    }
