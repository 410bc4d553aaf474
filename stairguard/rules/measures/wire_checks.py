"""Australia's wire table beside the model: where its cone is the probe, the table's tensions are asked for too.

The model finds what a push needs; the table was calibrated by pulling the cone through. Strand that every post is taken
to hold needs less by the model than the table asks in many cells, so whoever asks for that cone answers to both.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from stairguard.model.guard.solved_layout import WIRE_TABLE, Check, Layout
from stairguard.model.guard.strand_deflection import Asked, Taut
from stairguard.model.job import Push, Unit
from stairguard.model.published.known_figure import MM_PER_UNIT, NEWTONS_PER_FORCE, force_unit
from stairguard.model.published.probe_forces import NAMED_PUSHES
from stairguard.model.subjects import LevelWires
from stairguard.rules.measures.wire_table import asked

_NCC: Final = NAMED_PUSHES["australia"]


def _applies(push: Push, unit: Unit) -> bool:
    if push.probe != "cone" or push.sphere is None or push.force is None:
        return False
    ours = _NCC.sphere_in(unit)
    return abs(push.sphere - ours) <= ours / 100  # whoever writes 4.92 in means the same cone


def tabled(taut: Taut, spacing: Fraction, bay: Fraction, push: Push, unit: Unit) -> Asked | None:
    """What the table asks of strands at this spacing in this bay; None where it does not reach, or is not asked for.

    Its cells are exact in diameter and construction, and stepped up in spacing and bay.
    """
    if not _applies(push, unit):
        return None
    mm = MM_PER_UNIT[unit]
    cell = asked(taut.steel.diameter * mm, taut.steel.construction, spacing * mm, bay * mm)
    if cell is None:
        return None
    force = None if cell.tension_N is None else cell.tension_N / NEWTONS_PER_FORCE[unit]
    return Asked(
        clause=WIRE_TABLE,
        spacing=cell.spacing_mm / mm,
        bay=cell.gap_mm / mm,
        tension=force,
        met=force is not None and taut.tension >= force,
    )


def wire_checks(layout: Layout) -> Iterator[Check]:
    """Hold every level bay's tension to the table: one check for bays that are alike."""
    if layout.give is None or layout.give.taut is None:
        return
    from stairguard.solve.load.guard_deflection import (
        bays,  # loads what strand give needs: not for a guard without a tension
    )

    job, taut = layout.job, layout.give.taut
    unit = force_unit(job.unit)
    seen = set()
    for bay in bays(layout):
        if layout.line.surfaces[bay.surface].slope != 0:
            continue  # the table is of level wires
        found = tabled(
            taut, Fraction(layout.fields[bay.surface].square_spacing), Fraction(bay.length), job.push, job.unit
        )
        if found is None or found in seen:
            continue
        seen.add(found)
        what = LevelWires(found.spacing, found.bay, job.unit, permitted=found.tension is not None)
        asked_for = 0.0 if found.tension is None else float(found.tension)
        yield Check(
            clause=WIRE_TABLE,
            what=what,
            value=float(taut.tension),
            limit=asked_for,
            kind="at least",
            unit=unit,
            passes=found.met,
            status="secondary",
        )
