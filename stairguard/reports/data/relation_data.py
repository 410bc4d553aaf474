"""Formulas, their solutions, and one transition as plain data, ready for JSON."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Final

from stairguard.model.asked.rail_transition import Transition
from stairguard.model.published.known_figure import kind_unit
from stairguard.relations.records import RelationInfo, Solution, SymbolKind
from stairguard.reports.data.encode import Encoder, Keys, Topic

if TYPE_CHECKING:
    from stairguard.model.job import Unit

RELATION: Final[Topic] = {
    Transition: Keys("unit=asked.unit at=asked.at"),
    Solution: Keys("name find value unit exact others working", given="unit"),
}

_encode: Final = Encoder(RELATION)


def relations_data(relations: Sequence[RelationInfo]) -> dict[str, Any]:
    """List formulas as plain data."""
    return {"relations": [relation_data(one) for one in relations]}


def relation_data(one: RelationInfo) -> dict[str, Any]:
    """Put one formula into plain data, all that `RelationInfo` has."""
    return _encode.record(one)


def solution_data(found: Solution, kind: SymbolKind, unit: Unit) -> dict[str, Any]:
    """Put a solution into the plain data of the command's JSON.

    Returns
    -------
    dict
        The ``name`` of the formula, the symbol to ``find``, its ``value`` and ``unit``; its ``exact`` form as text,
        null where there is none; the ``others`` that are valid, and the ``working``, line by line.
    """
    return _encode.record(found, unit=kind_unit(kind, unit))


def transition_result(found: Transition) -> dict[str, Any]:
    """Put a transition into plain data, ready for JSON.

    Parameters
    ----------
    found
        From `transition`.

    Returns
    -------
    dict
        The ``unit``; ``at`` which end of the flight the rails meet; where it ``meets``, level from the nosing there,
        uphill positive; ``bend_deg`` and ``mitre_deg``; and, null without a post, ``landing_height_for_post``, that of
        a landing's rail without a jog there, and the ``jog`` as given.

    Examples
    --------
    >>> from stairguard import transition
    >>> transition_result(transition(7, 10.5, 36, 44, "bottom"))["meets"]
    1.5
    """
    return _encode.record(found)
