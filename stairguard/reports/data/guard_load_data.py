"""A whole guard under a push as plain data, ready for JSON."""

from __future__ import annotations

from typing import Any, Final

from stairguard.model.guard.guard_loads import BayGive, EndLoad, FittingLoad, GuardReport, Variant
from stairguard.model.guard.solved_layout import CheckedLayout
from stairguard.model.published.known_figure import force_unit
from stairguard.reports.data.deflection_data import DEFLECTION, PLACE, PUSH
from stairguard.reports.data.encode import Encoder, Keys, Topic
from stairguard.reports.words.caution_words import push_cautions
from stairguard.reports.words.opening_words import where_words

GUARD_LOADS: Final[Topic] = {
    GuardReport: Keys(
        "unit force_unit title rules passes give openings hung_weight=mass bays ends fittings upkeep "
        "loads_at_highest upkeep_run compared strand=steel cautions",
        left_out="tabled fixes named",  # the page tells them
        given="unit force_unit title rules openings cautions",
    ),
    BayGive: Keys(
        f"surface posts strands=numbers length sag sinks verdict=holding.verdict {PUSH} run_length=run {PLACE}"
    ),
    EndLoad: Keys("post side strands=numbers pull level plumb height moment rail_compression=compression"),
    FittingLoad: Keys("post joint strands=numbers bend_deg force edge_pressure=edge sleeve_pressure=sleeve"),
    Variant: Keys(
        "changed diameter construction spacing max_gap tension source strands largest_sphere=worst_sphere "
        "weakest_push=weakest tension_for_force=needed held openings end_pull weight sag passes"
    ),
}

_encode: Final = Encoder(GUARD_LOADS, DEFLECTION)


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
