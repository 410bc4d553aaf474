"""Public functions: how strands give under a push."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from stairguard.model.guard.guard_loads import GuardReport
    from stairguard.model.guard.solved_layout import CheckedLayout
    from stairguard.model.guard.strand_deflection import BayReport

__all__ = [
    "give_report",
    "give_result",
    "guard_give",
    "strand_give",
    "write_give",
]


def strand_give(*, unit: str = "in", compare: Sequence[str] = (), **given: object) -> BayReport:
    """Find the push that opens a gap between two strands, or a strand and a rigid edge, in one bay.

    Parameters
    ----------
    unit
        ``"in"`` or ``"mm"``, of bare lengths and of the answer; forces go with it, lbf or N.
    compare
        The same bay otherwise: ``"spacing=2.5in,bay=36in"``, each beside what was asked.
    given
        By name, as of the command ``give``. Needed: ``diameter``, ``spacing`` (centre to centre, square) or ``edge``
        (from a rigid edge to the strand's centre), ``bay`` (clear, along the strand), ``tension`` (at rest). Of the
        strand: ``run_length``, ``tension_source``, ``construction``, ``material``, ``stiffness``, ``breaking_force``,
        ``weight``, ``lead`` of its tensioner. Of the push: ``sphere``, ``probe``, ``force``, ``friction``, ``at``,
        ``post_stiffness``, ``anchor_stiffness``. A mass: ``hang``, ``sinks``. Upkeep: ``frame``, ``now``, ``coldest``,
        ``warmest``, ``wood``, ``grain``, ``moisture_from``, ``moisture_to``, ``seated``, ``post_width``, ``settling``.

    Raises
    ------
    InputError
        One fault for every value that is unknown, missing or cannot be used.
    JobError
        The tension is the strand's breaking force or more.

    Examples
    --------
    >>> found = strand_give(diameter="1/8in", spacing=3, bay=42, run_length="20ft", tension="200 lbf", sphere="4in")
    >>> round(found.answer.holding.push.held, 2), round(found.answer.holding.push.free, 2)
    (7.66, 6.75)
    """
    from stairguard.api.deflection_asked import bay_give

    return bay_give(given, unit, compare)


def guard_give(
    checked: CheckedLayout, compared: Mapping[str, CheckedLayout] | None = None, *, fixes: bool = True
) -> GuardReport:
    """Find what a whole guard's strands do under its job's push: every opening and bay, loads handed on, upkeep.

    Parameters
    ----------
    checked
        From `lay_out`; its job says the tension, the push and the climate, so far as they are known.
    compared
        The guard otherwise, by what is changed.
    fixes
        Whether to look for what would hold the push where it is not held: the page tells it, the data do not.

    Raises
    ------
    JobError
        The tension is the strand's breaking force or more.
    """
    from stairguard.api.deflection_asked import guard_asked

    return guard_asked(checked, compared or {}, fixes)


def give_report(answer: BayReport | CheckedLayout, guard: GuardReport | None = None) -> str:
    """Write a bay's give, or a checked guard's with its `guard_give`, as a plain page."""
    from stairguard.api.deflection_asked import page

    return page(answer, guard)


def give_result(answer: BayReport | CheckedLayout, guard: GuardReport | None = None) -> dict[str, Any]:
    """Put a bay's give, or a checked guard's with its `guard_give`, into plain data, ready for JSON."""
    from stairguard.api.deflection_asked import data

    return data(answer, guard)


def write_give(
    answer: BayReport | CheckedLayout,
    folder: str | Path,
    guard: GuardReport | None = None,
    *,
    date: str | None = None,
) -> tuple[Path, ...]:
    """Write page, result and pictures of a give into a new folder, complete or not at all; otherwise as `write`."""
    from stairguard.api.deflection_asked import write

    return write(answer, guard, Path(folder), date)
