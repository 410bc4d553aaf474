"""How strands give under a push as plain data, ready for JSON: of one bay, and of a guard's openings."""

from __future__ import annotations

from typing import Any, Final

from stairguard.model.guard.strand_deflection import (
    BayAnswer,
    BayReport,
    GuardGive,
    HeldAndFree,
    HungAnswer,
    OpeningGive,
    Taut,
    Upkeep,
    Weathered,
)
from stairguard.model.published.known_figure import Figure, force_unit
from stairguard.model.published.strand_materials import StrandSteel
from stairguard.reports.data.encode import Encoder, Keys, Topic
from stairguard.reports.words.caution_words import deflection_cautions


def _needed(answer: BayAnswer) -> HeldAndFree | None:
    """None where no force is asked for, which no tension then has to hold."""
    return None if answer.asked.push.force is None else answer.holding.needed


def _frame(upkeep: Upkeep) -> list[dict[str, object]]:
    return [{"of": name, "share": share} for name, share in upkeep.climate.frame]


PUSH: Final = "push=holding.push tension_for_force=holding.needed breaking_push=holding.breaking bay=holding.place.bay"
PLACE: Final = "at=holding.place.at clear=holding.place.clear"
"""Keys of what it takes to get a probe through, before and after the length of the run."""

DEFLECTION: Final[Topic] = {
    GuardGive: Keys(
        "force=push.force probe=push.probe sphere=push.sphere friction=push.friction tension=taut passes",
        left_out="openings",  # told of each opening
    ),
    Taut: Keys("value=tension source", left_out="steel"),
    OpeningGive: Keys(
        f"verdict probe strands=numbers posts nearer {PUSH} run_length=holding.place.run {PLACE}",
        left_out="opening",
    ),
    BayAnswer: Keys(
        "unit=asked.unit force_unit gap push=holding.push tension_for_force elongation sag verdict=holding.verdict "
        "force=asked.push.force sphere=holding.place.probe probe=asked.push.probe strands=asked.strands "
        "spacing=asked.spacing bay=asked.bay run_length=asked.run tension=asked.taut breaking_push=holding.breaking "
        "contact_deg=holding.contact_deg deflection=holding.deflection tension_then=holding.tension "
        "widest_spacing=widest longest_bay=longest weakest_at weakest_push=weakest settles",
        left_out="loses",
        made={"force_unit": lambda answer: force_unit(answer.asked.unit), "tension_for_force": _needed},
    ),
    BayReport: Keys(
        "turns table hung upkeep strand=answer.asked.taut.steel compared cautions",
        left_out="compared_upkeep",
        given="compared cautions",
    ),
    HungAnswer: Keys("weight=hung.weight expected measured=hung.sinks tension"),
    Upkeep: Keys(
        "frame wood=climate.wood shortening drop lowest highest slack breaks push=holding.push "
        "verdict=holding.verdict tension_to_set=to_set otherwise points",
        made={"frame": _frame, "otherwise": lambda upkeep: dict(upkeep.otherwise)},
        parts={
            "lowest": "temperature_C=lowest.temperature tension=lowest.least",
            "highest": "temperature_C=highest.temperature tension=highest.most",
        },
    ),
    Weathered: Keys("temperature_C=temperature most least"),
    StrandSteel: Keys(
        "diameter construction material area stiffness stiffness_low stiffness_high breaking_force=breaking weight "
        "expansion figures",
        left_out="unit basis",  # the answer's unit; the figures tell what each rests on
    ),
    Figure: Keys("what value unit status source", left_out="low high"),
}

_encode: Final = Encoder(DEFLECTION)


def guard_give_data(give: GuardGive) -> tuple[dict[str, Any], dict[int, dict[str, Any]]]:
    """How a guard's strands give, and each of its openings, by the opening's index."""
    return _encode.record(give), {one.opening: _encode.record(one) for one in give.openings}


def give_data(report: BayReport) -> dict[str, Any]:
    """Put one bay into the plain data of the command's JSON.

    Returns
    -------
    dict
        ``unit, force_unit``; the ``gap`` at rest; ``force``, ``sphere``, ``probe``, as asked for; ``strands`` that give
        (2, or 1 against an edge), their ``spacing``, the ``bay`` and ``run_length``, the ``tension``: ``value`` and
        ``source``. At the hardest place of the probe's way, each ``held`` and ``free``: ``push`` (null where the strand
        breaks first, at ``breaking_push``), ``contact_deg``, ``deflection`` and ``tension_then``; ``tension_for_force``
        that holds the force (null without one) and the ``verdict``. ``elongation`` and ``sag`` at rest;
        ``widest_spacing`` and ``longest_bay`` that hold the force at this tension; ``weakest_at``, the place along the
        bay where a sliding strand takes the least push, ``weakest_push``; ``settles``, a new strand's first stretch,
        least and most. Then

        - ``turns`` of the tensioner; the ``table`` of tensions where its cone is the probe: its ``clause``, up to a
          ``spacing`` and ``bay`` the ``tension`` (null: it does not permit them), and whether it is ``met``;
        - ``hung``, a mass at mid-bay: its ``weight``, how far it is ``expected`` to sink, what was ``measured``, and
          the ``tension`` that says;
        - ``upkeep``: the ``frame`` (each material ``of`` it, and its ``share``), the posts' ``wood``, ``shortening``
          between the anchors, the most tension lost to that and to settling (``drop``), the ``lowest`` and ``highest``
          tension to come with its ``temperature_C``, whether the strand is ``slack`` or ``breaks``, ``push`` and
          ``verdict`` at the lowest, ``tension_to_set``, tensions on frames of materials ``otherwise``, and ``points``
          with the ``most`` and ``least`` at each temperature;
        - ``strand``: its ``diameter, construction, material, area, weight, expansion, breaking_force``, its
          ``stiffness`` EA between ``stiffness_low`` and ``stiffness_high``, and all ``figures`` these rest on, each
          with ``what, value, unit, status, source``;
        - ``compared``, the first keys again with what was ``changed``; ``cautions``.
    """
    compared = [{"changed": changed, **_encode(other)} for changed, other in report.compared]
    cautions = list(deflection_cautions(report.answer.asked.taut.steel))
    return {**_encode(report.answer), **_encode.record(report, compared=compared, cautions=cautions)}
