"""Facts alike but for their places: what is told once of several surfaces or posts."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import Field, fields, is_dataclass
from string import digits
from typing import Any, Final

PLACE: Final = {"place": True}
"""Of a field that only says which of several alike things is meant."""
LABEL: Final = {"label": True}
"""Of a post's label, whose number alone is such: a wall or newel is like no post."""


def apart_from_place(fact: object) -> Hashable:
    """A fact without which surface and which posts it is told of: equal of facts that are alike but for those."""
    if isinstance(fact, type) or not is_dataclass(fact):
        return fact  # figures, words and rows of them
    told = (each for each in fields(fact) if "place" not in each.metadata)
    return type(fact), *(_apart(each, getattr(fact, each.name)) for each in told)


def _apart(of: Field[Any], value: Any) -> Hashable:
    return value.rstrip(digits) if value and "label" in of.metadata else apart_from_place(value)
