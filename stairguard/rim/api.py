"""The public functions: flat, unit-aware, each one question.

Wherever a length, an angle or a force is asked for, a number, a `fractions.Fraction`, text or a pint
quantity will do. Nothing heavy is imported before it is needed.
"""

from __future__ import annotations

from stairguard.rim.api_give import (
    give_report,
    give_result,
    guard_give,
    strand_give,
    write_give,
)
from stairguard.rim.api_inspect import (
    compare_rules,
    inspect,
    inspection_report,
    inspection_result,
    write_inspection,
)
from stairguard.rim.api_layout import (
    findings_table,
    lay_out,
    read_rules,
    report,
    result,
    write,
)
from stairguard.rim.api_openings import (
    draw_opening,
    lengths_opening,
    opening_report,
    opening_result,
    points_opening,
    sides_opening,
    step_opening,
    strands_opening,
    transition,
)
from stairguard.rim.api_relations import (
    describe_relation,
    relation_arrays,
    relation_names,
    solve_relation,
)
from stairguard.rim.jobfile import built_in_job, read_job, starter_text, write_starter
from stairguard.rim.lengths import format_length, parse_length
from stairguard.rim.measures import parse_angle, parse_force, parse_temperature

__all__ = [
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
