"""What every reader of a result must be told, and what this layout in particular gives reason to say."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from stairguard.model.cautions import ALWAYS
from stairguard.model.guard import Check, Layout, PlacedSurface, RailLine
from stairguard.model.job import Unit
from stairguard.model.rules import Rule

__all__ = ["ALWAYS", "cautions"]

# Common practice, no source: reported as cautions, never as failures. Lengths in inches.
LONGEST_RUN: Final = Fraction(75 * 12)
MOST_ANGLE_CHANGES: Final = 1
WIDEST_SPACING: Final = Fraction(3)
WIDEST_GAP: Final = Fraction(48)
_PRACTICE: Final = "common practice, no source"
_MM_PER_INCH: Final = Fraction(254, 10)


def cautions(layout: Layout, unmet: Sequence[Check], used: Sequence[Rule]) -> tuple[str, ...]:
    """All cautions of a layout, the general ones first.

    Parameters
    ----------
    layout
        The solved guard.
    unmet
        Optional rules that it does not meet.
    used
        Binding rules that it was held to, openings included.
    """
    rules = layout.rules
    texts = [*ALWAYS, *rules.cautions]
    if not rules.rules:
        texts.append("No rule pack was asked for: nothing was checked but the job's own limits.")
    texts += _statuses(used)
    if any(rule.place == "step triangle" for rule in used):
        texts.append(
            "The larger sphere of the step triangle was used: some officials accept it only under a rigid "
            "bottom rail, and not under a strand."
        )
    texts += _low_ends(layout)
    texts += _jogs(layout)
    texts += _optional(unmet)
    texts += _practice(layout)
    if layout.job.strand.terminal_take_up == 0 and layout.job.strand.tensioner_take_up == 0:
        texts.append("Take-ups are zero: strand lengths run between bearing faces, with nothing deducted for fittings.")
    return tuple(dict.fromkeys(texts))


def _statuses(used: Sequence[Rule]) -> Iterator[str]:
    for status, words in (
        ("from memory", "From memory, no document read"),
        ("secondary", "Read in a copy, a quotation or an earlier edition"),
    ):
        clauses = dict.fromkeys(rule.clause for rule in used if rule.status == status)
        if clauses:
            yield f"{words}: {'; '.join(clauses)}. Compare with the code in force before relying on it."


def _low_ends(layout: Layout) -> Iterator[str]:
    """Places where one surface's rail runs on over its neighbour, lower than the neighbour's rule asks."""
    for number, surface in enumerate(layout.line.surfaces, 1):
        floors = [
            rule for rule in layout.rules.of("guard height", surface.kind) if rule.kind == "at least" and rule.binding
        ]
        for rail in layout.rails:
            lowest = None if rail.surface == surface.index else _lowest_over(layout, rail, surface)
            for rule in floors:
                if lowest is not None and lowest < rule.value:
                    least, asked = _shown(lowest, layout.job.unit), _shown(rule.value, layout.job.unit)
                    yield (
                        f"At a joint the neighbour's rail runs on over surface {number} ({surface.kind}), "
                        f"as low as {least} where {rule.clause} asks {asked}: ask whether the neighbour's "
                        "own height may hold as far as the post."
                    )


def _lowest_over(layout: Layout, rail: RailLine, surface: PlacedSurface) -> Fraction | None:
    """Least plumb height of a rail over a surface that is not its own; None if it does not reach it."""
    low, high = max(rail.start.s, surface.start.s), min(rail.end.s, surface.end.s)
    if low >= high:
        return None
    own = next(each for each in layout.line.surfaces if each.index == rail.surface)
    return min(own.datum(s) + rail.height - surface.datum(s) for s in (low, high))


def _jogs(layout: Layout) -> Iterator[str]:
    for joint in layout.joints:
        if joint.jog != 0:
            jog = _shown(abs(joint.jog), layout.job.unit)
            yield f"At post {joint.post} the rails do not meet: a plumb jog of {jog} is left (see remedies)."


def _optional(unmet: Sequence[Check]) -> Iterator[str]:
    clauses: dict[str, list[str]] = {}
    for check in unmet:
        of = f" {check.unit}" if check.unit else ""
        clauses.setdefault(check.clause, []).append(
            f"{check.what} is {check.value:.5g}{of}, {check.kind} {check.limit:.5g}{of}"
        )
    for clause, texts in clauses.items():
        yield f"{clause} would not be met, if it applies here: {'; '.join(texts)}."


def _practice(layout: Layout) -> Iterator[str]:
    unit = layout.job.unit
    if any(run.length > _in_unit(LONGEST_RUN, unit) for run in layout.runs):
        yield f"A strand is longer than 75 ft on one set of tensioning fittings ({_PRACTICE})."
    if any(run.angle_changes > MOST_ANGLE_CHANGES for run in layout.runs):
        yield (
            "Strands pass more than one change of angle on one set of tensioning fittings, and friction at "
            f"each takes tension from what lies beyond ({_PRACTICE})."
        )
    slopes = {surface.index: surface.slope for surface in layout.line.surfaces}
    limit = _in_unit(WIDEST_SPACING, unit)
    if any(field.plumb_spacing**2 > limit**2 * (1 + slopes[field.surface] ** 2) for field in layout.fields):
        yield (f"Strands stand more than 3 in apart, square: a 4 in sphere may be forced between them ({_PRACTICE}).")
    if layout.job.post.max_gap > _in_unit(WIDEST_GAP, unit):
        yield f"The job allows a clear gap of more than 4 ft between posts ({_PRACTICE})."


def _in_unit(inches: Fraction, unit: Unit) -> Fraction:
    return inches if unit == "in" else inches * _MM_PER_INCH


def _shown(length: Fraction, unit: Unit) -> str:
    return f"{float(length):.5g} {unit}"
