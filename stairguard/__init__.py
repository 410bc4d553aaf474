"""Solve the geometry of a stair guard filled with tensioned strands.

The public functions are here, flat; each is loaded when it is first asked for.

>>> import stairguard
>>> print(stairguard.format_length("40.49 in", "in", "1/16 in"))
3' 4-1/2"
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from stairguard.errors import (
        Fault,
        GeometryError,
        InputError,
        JobError,
        LengthError,
        OutlineError,
        OutputError,
        PackError,
        StairguardError,
    )
    from stairguard.model.findings import Inspection
    from stairguard.model.guard import CheckedLayout
    from stairguard.model.job import Job
    from stairguard.rim.api import (
        built_in_job,
        compare_rules,
        describe_relation,
        draw_opening,
        findings_table,
        format_length,
        give_report,
        give_result,
        guard_give,
        inspect,
        inspection_report,
        inspection_result,
        lay_out,
        lengths_opening,
        opening_report,
        opening_result,
        parse_angle,
        parse_force,
        parse_length,
        parse_temperature,
        points_opening,
        read_job,
        read_rules,
        relation_arrays,
        relation_names,
        report,
        result,
        sides_opening,
        solve_relation,
        starter_text,
        step_opening,
        strand_give,
        strands_opening,
        transition,
        write,
        write_give,
        write_inspection,
        write_starter,
    )
    from stairguard.solve.opened import Opened

__version__ = "0.6.0"

__all__ = [
    "CheckedLayout",
    "Fault",
    "GeometryError",
    "InputError",
    "Inspection",
    "Job",
    "JobError",
    "LengthError",
    "Opened",
    "OutlineError",
    "OutputError",
    "PackError",
    "StairguardError",
    "built_in_job",
    "compare_rules",
    "describe_relation",
    "draw_opening",
    "findings_table",
    "format_length",
    "give_report",
    "give_result",
    "guard_give",
    "inspect",
    "inspection_report",
    "inspection_result",
    "lay_out",
    "lengths_opening",
    "opening_report",
    "opening_result",
    "parse_angle",
    "parse_force",
    "parse_length",
    "parse_temperature",
    "points_opening",
    "read_job",
    "read_rules",
    "relation_arrays",
    "relation_names",
    "report",
    "result",
    "sides_opening",
    "solve_relation",
    "starter_text",
    "step_opening",
    "strand_give",
    "strands_opening",
    "transition",
    "write",
    "write_give",
    "write_inspection",
    "write_starter",
]


def __getattr__(name: str) -> object:
    """Load a public name from its module; it stays loaded."""
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    modules = {
        "CheckedLayout": "model.guard",
        "Inspection": "model.findings",
        "Job": "model.job",
        "Opened": "solve.opened",
    }
    module = modules.get(name, "errors" if name[0].isupper() else "rim.api")
    value: object = getattr(import_module(f"{__name__}.{module}"), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
