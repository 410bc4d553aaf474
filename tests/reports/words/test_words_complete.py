"""A table over the values of a fact has each of them, and no other: none is without words once it is told."""

import importlib
import pkgutil
from collections.abc import Iterator, Mapping
from enum import Enum
from types import ModuleType, UnionType
from typing import Any, Final, Literal, Union, get_args, get_origin

import pytest

import stairguard.model
import stairguard.reports

NOT_ALL: Final = {
    "model.rules.NOT_LENGTHS": "of all others the limit is a length",
    "words.asked.largest_words._FRAMES": "a step's frame is told by its nosing",
    "words.deflection.give_words._WHY": "some verdicts say all there is",
    "words.fix_words._HOW": "of all others nothing general can be said",
    "words.joints.jog_words._EXACT": "heights are told as figures are",
    "words.joints.joint_words._UNMITRED": "a twist is told by its degrees",
    "words.opening_words._OF_ANY_STEP": "of all others the name has no step in it",
    "words.rules.verdict_words.HEAD_VERDICTS": "a page does not start with what passes, or is to be decided",
}
"""Tables that have some values only, since what is missing is told by a rule."""


def _modules(package: ModuleType) -> Iterator[ModuleType]:
    for found in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
        yield importlib.import_module(found.name)


MODULES = [*_modules(stairguard.model), *_modules(stairguard.reports)]
NAMES = {"Final": Final, "Mapping": Mapping} | {
    name: value
    for module in MODULES
    if module.__name__.startswith("stairguard.model.")
    for name, value in vars(module).items()
    if not name.startswith("_")
}
"""What an annotation may name, also where it is imported for type checkers alone."""


def members(of: Any) -> set[Any]:
    """All values that a type can have, empty where they are not listed: of an enum, a Literal, a union of them."""
    if isinstance(of, type) and issubclass(of, Enum):
        return set(of)
    if get_origin(of) is Literal:
        return set(get_args(of))
    if get_origin(of) in (Union, UnionType):
        parts = [{None} if part is type(None) else members(part) for part in get_args(of)]
        return set().union(*parts) if all(parts) else set()
    return set()


def _key_type(module: ModuleType, name: str) -> Any:
    """What a table's keys are by its annotation, None where that does not say."""
    said = eval(module.__annotations__.get(name, "None"), NAMES | vars(module))
    tables = [said, *get_args(said)]
    return next((get_args(one)[0] for one in tables if get_origin(one) in (dict, Mapping)), None)


def tables() -> Iterator[Any]:
    """Tables by values of a fact: said to be in their annotation, or keyed by an enum."""
    for module in MODULES:
        for name, table in list(vars(module).items()):
            which = f"{module.__name__}.{name}".removeprefix("stairguard.").removeprefix("reports.")
            if not isinstance(table, Mapping) or not table or which in NOT_ALL or name.startswith("__"):
                continue
            by = _key_type(module, name)
            if by is None and all(isinstance(key, Enum) for key in table):
                by = type(next(iter(table)))
            if members(by):
                yield pytest.param(table, members(by), id=which)


@pytest.mark.parametrize(("table", "asked"), list(tables()))
def test_a_table_has_every_value(table, asked):
    assert set(table) == asked


def test_tables_are_found():
    found = {one.id for one in tables()}
    assert {"words.rules.finding_words._SIZES", "words.remedy_words._ALTERED"} <= found
    assert {"words.joints.joint_words._WHY", "model.guard.placed_posts._LETTERS"} <= found
