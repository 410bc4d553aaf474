"""How strands give under a push as plain data, ready for JSON: of one bay, and of a whole guard."""

from __future__ import annotations

from typing import Any, Final

from stairguard.model.guard.guard_loads import BayGive, EndLoad, FittingLoad, GuardReport, Variant
from stairguard.model.guard.solved_layout import CheckedLayout
from stairguard.model.guard.strand_deflection import (
    BayAnswer,
    BayReport,
    Bounds,
    GuardGive,
    HungAnswer,
    OpeningGive,
    Taut,
    Upkeep,
    Weathered,
)
from stairguard.model.opening_words import where_words
from stairguard.model.published.known_figure import Figure, force_unit
from stairguard.model.published.strand_materials import StrandSteel
from stairguard.reports.data.encode import Encoder, Keys, Topic
from stairguard.reports.words.caution_words import deflection_cautions, push_cautions

__all__ = ["DEFLECTION", "give_data", "guard_data"]


def _needed(answer: BayAnswer) -> Bounds | None:
    """None where no force is asked for, which no tension then has to hold."""
    return None if answer.asked.push.force is None else answer.holding.needed


def _frame(upkeep: Upkeep) -> list[dict[str, object]]:
    return [{"of": name, "share": share} for name, share in upkeep.climate.frame]


_PUSH: Final = "push=holding.push tension_for_force=holding.needed breaking_push=holding.breaking bay=holding.place.bay"
_PLACE: Final = "at=holding.place.at clear=holding.place.clear"

DEFLECTION: Final[Topic] = {
    GuardGive: Keys(
        "force=push.force probe=push.probe sphere=push.sphere friction=push.friction tension=taut passes",
        left_out="openings",  # told of each opening
    ),
    Taut: Keys("value=tension source", left_out="steel"),
    OpeningGive: Keys(
        f"verdict probe strands=numbers posts nearer {_PUSH} run_length=holding.place.run {_PLACE}",
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
    GuardReport: Keys(
        "unit force_unit title rules passes give openings hung_weight=mass bays ends fittings upkeep "
        "loads_at_highest upkeep_run compared strand=steel cautions",
        left_out="fixes",  # the page tells them
        given="unit force_unit title rules passes openings cautions",
    ),
    BayGive: Keys(
        f"surface posts strands=numbers length sag sinks verdict=holding.verdict {_PUSH} run_length=run {_PLACE}"
    ),
    EndLoad: Keys("post side strands=numbers pull level plumb height moment rail_compression=compression"),
    FittingLoad: Keys("post joint strands=numbers bend_deg force edge_pressure=edge sleeve_pressure=sleeve"),
    Variant: Keys(
        "changed diameter construction spacing max_gap tension source strands largest_sphere=worst_sphere "
        "weakest_push=weakest tension_for_force=needed held openings end_pull weight sag passes"
    ),
}

_encode: Final = Encoder(DEFLECTION)


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
          ``spacing`` and ``bay`` the ``tension`` (null: it does not permit them), and whether it is ``met``; -
          ``hung``, a mass at mid-bay: its ``weight``, how far it is ``expected`` to sink, what was ``measured``, and
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


def guard_data(checked: CheckedLayout, report: GuardReport) -> dict[str, Any]:
    """Put a guard's give into the plain data of the command's JSON.

    Returns
    -------
    dict
        ``unit, force_unit, title, rules``; ``passes``, null where nothing is judged; ``give`` and, of each of the
        ``openings`` by its index (``opening``), what it has as of a layout's result; ``hung_weight`` by which ``bays``
        are checked. A bay has its ``surface``, ``posts``, ``strands`` and ``length``, its ``sag`` at rest, by how much
        it ``sinks`` under that weight, and what it takes to get a probe through as of an opening. Then, with a tension,

        - ``ends``, strands that end on a ``post`` from the ``side``: their ``pull``, its ``level`` and ``plumb`` parts,
          the ``height`` it acts at, its ``moment`` there and the ``rail_compression``;
        - ``fittings``, strands turned at the ``post`` of a ``joint``: ``bend_deg``, the ``force`` of each, its
          ``edge_pressure`` on a bare hole and ``sleeve_pressure`` on a sleeved one;
        - ``upkeep`` as of one bay, of the run named by ``upkeep_run``; ``loads_at_highest``, times all these loads at
          the highest tension to come;
        - ``compared``: what is ``changed``, ``diameter, construction, spacing, max_gap, tension, source, strands``, the
          ``largest_sphere``, ``weakest_push`` and ``tension_for_force`` of all, how many of so many ``openings`` are
          ``held``, ``end_pull``, ``weight`` of all strand, ``sag``, and whether it ``passes``;
        - ``strand`` as of one bay, and ``cautions``.
    """
    layout = checked.layout
    return _encode.record(
        report,
        unit=layout.job.unit,
        force_unit=force_unit(layout.job.unit),
        title=layout.job.title,
        rules=layout.rules.name,
        passes=None if report.passes is None else report.passes and all(check.passes for check in checked.tabled),
        openings=[
            {
                "opening": one.opening,
                "where": where_words(layout.openings[one.opening].where),
                "surface": layout.openings[one.opening].surface,
                **_encode(one),
            }
            for one in report.give.openings
        ],
        cautions=list(push_cautions(checked, report)),
    )
