"""The encoder on records of its own, and every table of the package held to the records it declares."""

import importlib
import inspect
import json
import math
import pkgutil
import re
from dataclasses import dataclass, make_dataclass
from fractions import Fraction
from typing import NamedTuple

import numpy as np
import pytest

from stairguard.reports import data
from stairguard.reports.data.encode import Encoder, Keys, field_names, json_text
from stairguard.reports.data.layout_data import result


class Place(NamedTuple):
    x: Fraction
    y: Fraction


@dataclass(frozen=True, slots=True)
class Rule:
    value: Fraction
    note: str = ""


@dataclass(frozen=True, slots=True)
class Gap:
    name: str
    at: Place
    sizes: tuple[Fraction, ...]
    rule: Rule | None = None

    @property
    def least(self):
        return min(self.sizes)


@dataclass(frozen=True, slots=True)
class Nothing:
    """A record without a field."""


GAP = Gap("a", Place(Fraction(1), Fraction(3, 2)), (Fraction(1, 4), Fraction(2)), Rule(Fraction(4)))
OPEN = Gap("b", Place(Fraction(0), Fraction(0)), ())


def keys(value):
    return list(value)


def test_a_record_is_an_object_of_its_fields():
    encoded = Encoder()(GAP)
    assert encoded == {"name": "a", "at": [1.0, 1.5], "sizes": [0.25, 2.0], "rule": {"value": 4.0, "note": ""}}
    assert keys(encoded) == ["name", "at", "sizes", "rule"]
    assert type(encoded["at"][0]) is float
    assert json_text({"one": Encoder()(np.float64(0.1))}) == json_text({"one": 0.1})
    assert Encoder()({"one": (GAP, None, 3, True)}) == {"one": [encoded, None, 3, True]}


def test_what_is_declared_differs_and_the_rest_follows():
    declared = Keys(
        "sizes limit=rule.value least words also",
        left_out="name",
        made={"words": lambda gap: f"gap {gap.name}"},
        parts={"also": "x=at.x limit=rule.value"},
    )
    encoded = Encoder({Gap: declared})(GAP)
    assert encoded == {
        "sizes": [0.25, 2.0], "limit": 4.0, "least": 0.25, "words": "gap a", "also": {"x": 1.0, "limit": 4.0},
    }  # fmt: skip
    declared = Keys("limit=rule.value")
    assert keys(Encoder({Gap: declared})(OPEN)) == ["limit", "name", "at", "sizes"]


def test_the_way_to_nothing_is_null():
    declared = {Gap: Keys("limit=rule.value note=rule.note", or_null="note", left_out="name at sizes")}
    assert Encoder(declared)(OPEN) == {"limit": None, "note": None}
    assert Encoder(declared)(GAP) == {"limit": 4.0, "note": None}


def test_what_the_record_does_not_know_is_handed_over():
    encode = Encoder({Gap: Keys("post name", given="post", left_out="at sizes rule")})
    assert encode.record(GAP, post="P1") == {"post": "P1", "name": "a"}
    with pytest.raises(KeyError, match="post"):
        encode(GAP)
    with pytest.raises(KeyError, match="name"):
        encode.record(GAP, post="P1", name="b")


def test_a_tuple_with_names_is_an_object_where_it_is_declared():
    assert Encoder({Place: Keys()})(GAP.at) == {"x": 1.0, "y": 1.5}
    assert Encoder({Place: Keys("y")})(GAP.at) == {"y": 1.5, "x": 1.0}


def test_a_new_field_appears_by_itself():
    wider = make_dataclass("Wider", [("depth", Fraction, Fraction(1, 2))], bases=(Gap,), frozen=True)
    encode = Encoder({wider: Keys("limit=rule.value name", left_out="at sizes")})
    assert encode(wider("a", None, ())) == {"limit": None, "name": "a", "depth": 0.5}


def test_what_is_no_data_is_refused():
    with pytest.raises(TypeError, match="object"):
        Encoder()(object())


def test_json_holds_no_nan():
    with pytest.raises(ValueError, match="JSON"):
        json_text({"sphere": math.nan})
    assert json.loads(json_text({"a": [1.5, None]})) == {"a": [1.5, None]}


MODULES = [importlib.import_module(f"{data.__name__}.{one.name}") for one in pkgutil.iter_modules(data.__path__)]
TOPICS = [
    (f"{module.__name__.split('.')[-1]}.{name}", module, getattr(module, name))
    for module in MODULES
    for name, topic in vars(module).items()
    if name.isupper() and isinstance(topic, dict) and f"\n{name}: Final" in inspect.getsource(module)  # its own
]
DECLARED = {
    f"{name} {kind.__name__}": (kind, declared) for name, _, topic in TOPICS for kind, declared in topic.items()
}


@pytest.mark.parametrize(("kind", "declared"), DECLARED.values(), ids=DECLARED)
def test_tables_name_what_there_is(kind, declared):
    named = set(field_names(kind))
    shown = set(declared.of(kind))
    assert set(declared.left_out.split()) <= named, "left out, and no field"
    assert all(hasattr(kind, path.split(".")[0]) or path.split(".")[0] in named for path in declared.paths)
    for some in (declared.not_read, declared.or_null.split()):
        assert set(some) <= shown, "declared of a key that is not shown"
    assert not shown - declared.not_read & set(declared.left_out.split())


@pytest.mark.parametrize("module", dict.fromkeys(module for _, module, _ in TOPICS), ids=lambda module: module.__name__)
def test_every_key_is_told_where_it_is_made(module):
    """In double backticks, in the docstring of a function of the module or of the layout's result."""
    own = (one for name, one in vars(module).items() if name[0] != "_")
    functions = [one for one in own if getattr(one, "__module__", "") == module.__name__]
    told = " ".join(one.__doc__ or "" for one in [*functions, result])
    words = {word for words in re.findall("``([^`]*)``", told) for word in re.split(r"[\s,]+", words)}
    for name, of, topic in TOPICS:
        if of is module:
            for kind, declared in topic.items():
                parts = {key for order in declared.parts.values() for key in Keys(order).of(Nothing)}
                assert not {*declared.of(kind), *parts} - words, f"{name} {kind.__name__}"
