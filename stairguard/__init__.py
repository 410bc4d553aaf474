"""Solve the geometry of a stair guard filled with tensioned strands.

The public functions are here, flat; each is loaded when it is first asked for. Wherever a length, an angle or a force
is asked for, a number, a `fractions.Fraction`, text or a pint quantity will do.

>>> import stairguard
>>> print(stairguard.format_length("40.49 in", "in", "1/16 in"))
3' 4-1/2"
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:  # as type checkers read them; a test holds this to the table below
    from stairguard.api.deflection import give_report as give_report
    from stairguard.api.deflection import give_result as give_result
    from stairguard.api.deflection import guard_give as guard_give
    from stairguard.api.deflection import strand_give as strand_give
    from stairguard.api.deflection import write_give as write_give
    from stairguard.api.inspection import compare_rules as compare_rules
    from stairguard.api.inspection import inspect as inspect
    from stairguard.api.inspection import write_inspection as write_inspection
    from stairguard.api.layout import findings_table as findings_table
    from stairguard.api.layout import lay_out as lay_out
    from stairguard.api.layout import read_rules as read_rules
    from stairguard.api.layout import report as report
    from stairguard.api.layout import result as result
    from stairguard.api.layout import rule_packs as rule_packs
    from stairguard.api.layout import rules_report as rules_report
    from stairguard.api.layout import rules_result as rules_result
    from stairguard.api.layout import tell as tell
    from stairguard.api.layout import write as write
    from stairguard.api.opening import edge_opening as edge_opening
    from stairguard.api.opening import lengths_opening as lengths_opening
    from stairguard.api.opening import points_opening as points_opening
    from stairguard.api.opening import sides_opening as sides_opening
    from stairguard.api.opening import step_opening as step_opening
    from stairguard.api.opening import strands_opening as strands_opening
    from stairguard.api.opening import transition as transition
    from stairguard.api.relation import describe_relation as describe_relation
    from stairguard.api.relation import relation_arrays as relation_arrays
    from stairguard.api.relation import relation_names as relation_names
    from stairguard.api.relation import relation_report as relation_report
    from stairguard.api.relation import relation_result as relation_result
    from stairguard.api.relation import solve_relation as solve_relation
    from stairguard.errors import Fault as Fault
    from stairguard.errors import GeometryError as GeometryError
    from stairguard.errors import InputError as InputError
    from stairguard.errors import JobError as JobError
    from stairguard.errors import LengthError as LengthError
    from stairguard.errors import OutlineError as OutlineError
    from stairguard.errors import OutputError as OutputError
    from stairguard.errors import PackError as PackError
    from stairguard.errors import StairguardError as StairguardError
    from stairguard.io.parse.exact_lengths import format_length as format_length
    from stairguard.io.parse.exact_lengths import parse_length as parse_length
    from stairguard.io.parse.quantities import parse_angle as parse_angle
    from stairguard.io.parse.quantities import parse_force as parse_force
    from stairguard.io.parse.quantities import parse_temperature as parse_temperature
    from stairguard.io.read.job_file import built_in_job as built_in_job
    from stairguard.io.read.job_file import read_job as read_job
    from stairguard.io.read.job_file import starter_text as starter_text
    from stairguard.io.read.job_file import write_starter as write_starter
    from stairguard.io.write.opening_drawing import draw_opening as draw_opening
    from stairguard.model.asked.asked_opening import Opened as Opened
    from stairguard.model.findings import Inspection as Inspection
    from stairguard.model.guard.solved_layout import CheckedLayout as CheckedLayout
    from stairguard.model.guard.told import ToldLayout as ToldLayout
    from stairguard.model.job import Job as Job
    from stairguard.reports.data.comparison_data import comparison_result as comparison_result
    from stairguard.reports.data.comparison_data import comparison_table as comparison_table
    from stairguard.reports.data.finding_data import inspection_result as inspection_result
    from stairguard.reports.data.opening_data import opening_result as opening_result
    from stairguard.reports.data.relation_data import transition_result as transition_result
    from stairguard.reports.page.asked.opening_page import opening_report as opening_report
    from stairguard.reports.page.asked.relation_page import transition_report as transition_report
    from stairguard.reports.page.rules.comparison_page import comparison_report as comparison_report
    from stairguard.reports.page.rules.inspection_page import inspection_report as inspection_report

__version__ = "0.8.0"

_HOMES: Final[dict[str, tuple[str, ...]]] = {
    "api.deflection": (
        "give_report",
        "give_result",
        "guard_give",
        "strand_give",
        "write_give",
    ),
    "api.inspection": (
        "compare_rules",
        "inspect",
        "write_inspection",
    ),
    "api.layout": (
        "findings_table",
        "lay_out",
        "read_rules",
        "report",
        "result",
        "rule_packs",
        "rules_report",
        "rules_result",
        "tell",
        "write",
    ),
    "api.opening": (
        "edge_opening",
        "lengths_opening",
        "points_opening",
        "sides_opening",
        "step_opening",
        "strands_opening",
        "transition",
    ),
    "api.relation": (
        "describe_relation",
        "relation_arrays",
        "relation_names",
        "relation_report",
        "relation_result",
        "solve_relation",
    ),
    "errors": (
        "Fault",
        "GeometryError",
        "InputError",
        "JobError",
        "LengthError",
        "OutlineError",
        "OutputError",
        "PackError",
        "StairguardError",
    ),
    "io.parse.exact_lengths": (
        "format_length",
        "parse_length",
    ),
    "io.parse.quantities": (
        "parse_angle",
        "parse_force",
        "parse_temperature",
    ),
    "io.read.job_file": (
        "built_in_job",
        "read_job",
        "starter_text",
        "write_starter",
    ),
    "io.write.opening_drawing": ("draw_opening",),
    "model.asked.asked_opening": ("Opened",),
    "model.findings": ("Inspection",),
    "model.guard.solved_layout": ("CheckedLayout",),
    "model.guard.told": ("ToldLayout",),
    "model.job": ("Job",),
    "reports.data.comparison_data": (
        "comparison_result",
        "comparison_table",
    ),
    "reports.data.finding_data": ("inspection_result",),
    "reports.data.opening_data": ("opening_result",),
    "reports.data.relation_data": ("transition_result",),
    "reports.page.asked.opening_page": ("opening_report",),
    "reports.page.asked.relation_page": ("transition_report",),
    "reports.page.rules.comparison_page": ("comparison_report",),
    "reports.page.rules.inspection_page": ("inspection_report",),
}
"""Each public name under the module it is loaded from."""

__all__ = sorted(name for names in _HOMES.values() for name in names)


def __getattr__(name: str) -> object:
    """Load a public name from its module; it stays loaded."""
    home = next((home for home, names in _HOMES.items() if name in names), None)
    if home is None:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    value: object = getattr(import_module(f"{__name__}.{home}"), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
