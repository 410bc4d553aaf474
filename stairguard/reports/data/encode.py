"""Records as plain data, ready for JSON: one encoder over all of them.

A record becomes an object of its fields, in their order and under their names. What is to differ from that is declared,
one `Keys` a type, in a table of each topic (`layout_data`, `joint_data` and their like); so a field added to a record
appears by itself, or is declared left out. Exact numbers become floats, tuples lists (points too), mappings objects;
text, flags, counts, floats and None stay as they are.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, fields, is_dataclass
from fractions import Fraction
from operator import attrgetter
from typing import Any, Final, TypeAlias

_Read: TypeAlias = Callable[[Any], object]

_AS_IS: Final = frozenset({str, float, int, bool, type(None)})


@dataclass(frozen=True, slots=True)
class Keys:
    """How the JSON object of one type of record differs from its fields.

    Parameters
    ----------
    order
        Its keys in order, separated by spaces; fields that it does not name follow in their own order. ``key=path``
        is a key whose value is an attribute of another name, or lies deeper: ``limit=rule.value``, which is null where
        there is no ``rule``.
    left_out
        Fields that are not shown.
    or_null
        Keys of texts that are null where they are empty.
    made
        Keys whose value a function makes of the record: words, or what is worked out of several fields.
    parts
        Keys whose value is an object of its own made of the same record, written as ``order`` is.
    given
        Keys whose value the record does not know: who has it encoded hands it over, as plain data.
    """

    order: str = ""
    left_out: str = ""
    or_null: str = ""
    made: Mapping[str, _Read] = field(default_factory=dict)
    parts: Mapping[str, str] = field(default_factory=dict)
    given: str = ""

    @property
    def not_read(self) -> frozenset[str]:
        """Its keys whose value is not an attribute."""
        return frozenset({*self.made, *self.parts, *self.given.split()})

    @property
    def paths(self) -> tuple[str, ...]:
        """All that is read off a record by name."""
        pairs = [pair for order in (self.order, *self.parts.values()) for pair in _pairs(order)]
        return tuple(path for key, path in pairs if key not in self.not_read)

    def of(self, kind: type) -> dict[str, str]:
        """All keys of a type in order, each with the path of its value."""
        shown = {*self.left_out.split(), *(path.split(".")[0] for path in self.paths)}
        return {**dict(_pairs(self.order)), **{name: name for name in field_names(kind) if name not in shown}}

    def reads(self, kind: type) -> Iterator[tuple[str, _Read | None]]:
        """Each key of a type in order, with what reads its value off a record; None where it is handed over."""
        for key, path in self.of(kind).items():
            if key in self.given.split():
                yield key, None
            elif key in self.or_null.split():
                yield key, _or_null(self._read(key, path))
            else:
                yield key, self._read(key, path)

    def _read(self, key: str, path: str) -> _Read:
        if key in self.parts:
            return _part(self.parts[key])
        return self.made.get(key) or _reader(path)


Topic: TypeAlias = Mapping[type, Keys]
"""What is declared of the types of one topic."""


class Encoder:
    """Turns records, and whatever is made of them, into plain data by what one or more topics declare."""

    def __init__(self, *topics: Topic) -> None:
        self._declared = {kind: keys for topic in topics for kind, keys in topic.items()}
        self._reads: dict[type, tuple[tuple[str, _Read | None], ...]] = {}

    def __call__(self, value: object) -> Any:
        """Put a value into plain data.

        Raises
        ------
        TypeError
            It is no record, number, text, tuple or mapping of them.
        """
        kind = type(value)
        if kind in _AS_IS:
            return value
        if kind is Fraction:
            return float(value)  # type: ignore[arg-type]  # which it is
        if kind in self._declared or is_dataclass(kind):
            return self.record(value)
        if isinstance(value, tuple | list):
            return [self(each) for each in value]
        if isinstance(value, Mapping):
            return {key: self(each) for key, each in value.items()}
        if isinstance(value, float | int | str):  # a kind of their own: numpy's floats
            return value
        raise TypeError(f"{kind.__name__} is no plain data, nor a record")

    def record(self, record: object, **given: object) -> dict[str, Any]:
        """Put a record into an object.

        Raises
        ------
        KeyError
            A key that is declared ``given`` is not handed over, or one that is not is.
        """
        kind = type(record)
        if kind not in self._reads:  # worked out once a type
            self._reads[kind] = tuple(self._declared.get(kind, Keys()).reads(kind))
        reads = self._reads[kind]
        if given and (surplus := given.keys() - {key for key, read in reads if read is None}):
            raise KeyError(*surplus)
        return {key: given[key] if read is None else self(read(record)) for key, read in reads}


def field_names(kind: type) -> tuple[str, ...]:
    """Names of the fields of a record's type: a dataclass, or a tuple that names them."""
    return tuple(f.name for f in fields(kind)) if is_dataclass(kind) else kind._fields  # type: ignore[attr-defined]


def _pairs(order: str) -> list[tuple[str, str]]:
    """Keys with their paths."""
    split = [pair.partition("=") for pair in order.split()]
    return [(key, path or key) for key, _, path in split]


def _reader(path: str) -> _Read:
    """What reads a path off a record; None where the way ends before."""
    first, *further = path.split(".")
    if not further:
        return attrgetter(first)

    def read(record: object) -> object:
        value = getattr(record, first)
        for name in further:
            value = None if value is None else getattr(value, name)
        return value

    return read


def _part(order: str) -> _Read:
    reads = [(key, _reader(path)) for key, path in _pairs(order)]
    return lambda record: {key: read(record) for key, read in reads}


def _or_null(read: _Read) -> _Read:
    return lambda record: read(record) or None


def json_text(data: Mapping[str, Any]) -> str:
    """Write one JSON object; NaN and infinities, which JSON has not, are a ValueError."""
    return json.dumps(data, indent=2, allow_nan=False) + "\n"
