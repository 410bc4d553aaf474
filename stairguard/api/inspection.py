"""Public functions: guards as measured, and one guard under several packs."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from stairguard.model.comparison import RulesCompared
    from stairguard.model.findings import Inspection
    from stairguard.reading import Source

__all__ = [
    "compare_rules",
    "inspect",
    "inspection_report",
    "inspection_result",
    "write_inspection",
]


def inspect(path: Source, *, rules: str | None = None) -> Inspection:
    """Hold a guard as measured to the rules.

    Parameters
    ----------
    path
        A job file with ``[[measured]]``, a table a figure taken on the guard; `starter_text` shows the keys.
    rules
        A pack, by name or path, in place of the file's.

    Returns
    -------
    Inspection
        A finding a rule and place, the gravest first, lengths in the file's unit. ``passes``: nothing that binds
        fails, and nothing of it is too close to call.

    Raises
    ------
    JobError, PackError
        The file or the rules cannot be read: one fault a mistake.
    """
    from stairguard.api.inspecting import inspect as ask

    return ask(path, rules)


def inspection_report(inspection: Inspection) -> str:
    """Write an inspection as a plain page."""
    from stairguard.reports.page.rules.inspection_page import inspection_text

    return inspection_text(inspection)


def inspection_result(inspection: Inspection) -> dict[str, Any]:
    """Put an inspection into plain data, ready for JSON."""
    from stairguard.reports.data.finding_data import inspection_data

    return inspection_data(inspection)


def write_inspection(inspection: Inspection, folder: str | Path) -> tuple[Path, ...]:
    """Write an inspection's page, table and data into a new or empty folder; OutputError where that cannot be done."""
    from stairguard.api.inspecting import write_inspection as save

    return save(inspection, Path(folder))


def compare_rules(path: Source, packs: Sequence[str], *, designed: bool = False) -> RulesCompared:
    """Hold one guard to several packs, and lay it out anew under each.

    Parameters
    ----------
    path
        A job file. With ``[[measured]]`` the guard is taken as measured, and not laid out.
    packs
        Their names or paths.
    designed
        Take the guard as the file's own rules lay it out, though it was measured too.

    Raises
    ------
    JobError, PackError, GeometryError
        As `lay_out` and `inspect`.
    """
    from stairguard.api.inspecting import compare_rules as ask

    return ask(path, packs, designed)
