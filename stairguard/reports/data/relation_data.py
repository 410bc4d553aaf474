"""Formulas, their solutions, and one transition as plain data, ready for JSON."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Final

from stairguard.model.published.known_figure import kind_unit
from stairguard.relations.records import Kind, RelationInfo, Solution
from stairguard.reports.data.encode import Encoder, Keys, Topic

if TYPE_CHECKING:
    from stairguard.model.job import Unit
    from stairguard.solve.joint.transition import Transition

__all__ = ["RELATION", "relation_data", "relations_data", "solution_data", "transition_data"]

RELATION: Final[Topic] = {
    Solution: Keys("name find value unit exact others working", given="unit"),
}

_encode: Final = Encoder(RELATION)


def relations_data(relations: Sequence[RelationInfo]) -> dict[str, Any]:
    """List formulas as plain data."""
    return {"relations": [relation_data(one) for one in relations]}


def relation_data(one: RelationInfo) -> dict[str, Any]:
    """Put one formula into plain data, all that `RelationInfo` has."""
    data: dict[str, Any] = _encode(one)
    return data


def solution_data(found: Solution, kind: Kind, unit: Unit) -> dict[str, Any]:
    """Put a solution into the plain data of the command's JSON.

    Returns
    -------
    dict
        The ``name`` of the formula, the symbol to ``find``, its ``value`` and ``unit``; its ``exact`` form as text,
        null where there is none; the ``others`` that are valid, and the ``working``, line by line.
    """
    data: dict[str, Any] = _encode(found, unit=kind_unit(kind, unit))
    return data


def transition_data(answer: Transition, unit: Unit) -> dict[str, Any]:
    """Put a transition into the plain data of the command's JSON: its ``unit``, and all that `Transition` has."""
    return {"unit": unit, **_encode(answer)}
