"""What a rule pack may contain: every key, word and combination, and a fault for each departure.

A pack is a TOML document: a head (``name``, ``title``, ``edition``, ``unit``, ``jurisdiction``,
``cautions``) and one ``[[rule]]`` table a clause. Values are exact strings such as ``"7-3/4"``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any, Final

from stairguard.errors import Fault

__all__ = ["Decimal", "exact", "head_faults", "nearest", "rule_faults", "twin_faults"]

HEAD_TEXT: Final = ("name", "title", "edition", "jurisdiction")
HEAD_KEYS: Final = (*HEAD_TEXT, "unit", "cautions", "rule")
RULE_TEXT: Final = ("clause", "source", "note")
RULE_NEEDS: Final = ("quantity", "place", "kind", "value", "clause", "status", "source", "note")
RULE_KEYS: Final = (*RULE_NEEDS, "binding", "when_run_below", "in_runs")
UNITS: Final = ("in", "mm")
STATUSES: Final = ("read", "secondary", "from memory")
BOUNDS: Final = ("at least", "at most")
SPHERES: Final = ("stops", "stops more than")
DIFFERENCES: Final = ("at most",)
EXTENSIONS: Final = ("at least",)
PLACES: Final[Mapping[str, tuple[str, ...]]] = {
    "guard height": ("landing", "flight", "ramp", "any"),
    "handrail height": ("flight", "ramp"),
    "opening": ("landing", "flight", "ramp", "step triangle", "open riser", "any"),
    "riser": ("flight",),
    "run": ("flight",),
    "nosing projection": ("flight",),
    "pitch": ("flight",),
    "flight rise": ("flight",),
    "landing length": ("landing",),
    "ramp slope": ("ramp",),
    "handrail extension": ("flight top", "flight bottom", "ramp"),
    "riser difference": ("flight",),
    "run difference": ("flight",),
}
"""Each quantity a rule may limit, and where."""

RIGHT_ANGLE: Final = 90

# Digits are bounded so that no number typed in a pack is absurd, and none is slow to read.
_VALUE = re.compile(r"(?:(\d{1,6})[- ])?(\d{1,6})/(\d{1,6})|(\d{1,6}(?:\.\d{1,12})?)", re.ASCII)


class Decimal(str):
    """A decimal as it stands in the TOML source, so that it can be read exactly."""

    __slots__ = ()


def exact(value: object) -> Fraction | None:
    """Read a positive number: a whole one, a decimal, or text like ``"7-3/4"``; None if it is none.

    >>> exact("7-3/4"), exact(Decimal("4.375")), exact("7/0")
    (Fraction(31, 4), Fraction(35, 8), None)
    """
    if isinstance(value, bool) or not isinstance(value, (int, str)):
        return None
    match = _VALUE.fullmatch(str(value).strip())
    if match is None:
        return None
    whole, over, under, decimal = match.groups()
    if decimal is not None:
        number = Fraction(decimal)
    elif int(under) == 0:
        return None
    else:
        number = int(whole or 0) + Fraction(int(over), int(under))
    return number if number > 0 else None


def nearest(word: str, known: Sequence[str]) -> str:
    """Say which of the known words is nearest, or list them all."""
    from difflib import get_close_matches  # only a fault pays for it

    close = get_close_matches(word, known, n=1)
    return f"nearest is {close[0]!r}" if close else "known: " + ", ".join(known)


def head_faults(where: str, pack: Mapping[str, Any]) -> Iterator[Fault]:
    """Faults of a pack's head, in the order of its keys."""
    yield from _unknown(where, pack, HEAD_KEYS)
    yield from _texts(where, pack, HEAD_TEXT)
    yield from _word(where, pack, "unit", UNITS)
    cautions = pack.get("cautions", [])
    if not isinstance(cautions, list) or not all(map(_is_text, cautions)):
        yield Fault(f"{where}, cautions", "a list of texts", cautions)
    rules = pack.get("rule", [])
    if not isinstance(rules, list) or not rules or not all(isinstance(rule, dict) for rule in rules):
        yield Fault(f"{where}, rule", "one [[rule]] table or more", rules)


def rule_faults(where: str, rule: Mapping[str, Any]) -> Iterator[Fault]:
    """Faults of one rule's table."""
    yield from _unknown(where, rule, RULE_KEYS)
    yield from _texts(where, rule, RULE_TEXT)
    yield from _word(where, rule, "quantity", tuple(PLACES))
    yield from _word(where, rule, "status", STATUSES)
    quantity = rule.get("quantity")
    if isinstance(quantity, str) and quantity in PLACES:
        yield from _word(where, rule, "place", PLACES[quantity], f" for {quantity}")
        yield from _word(where, rule, "kind", _kinds(quantity), f" for {quantity}")
    yield from _value(where, rule)
    yield from _binding(where, rule)
    yield from _in_runs(where, rule)
    yield from _condition(where, rule)


def twin_faults(places: Sequence[str], rules: Sequence[Mapping[str, Any]]) -> Iterator[Fault]:
    """Faults of opening rules for one place: only the first would ever be used, so a second is a mistake."""
    seen: dict[object, str] = {}
    for where, rule in zip(places, rules, strict=True):
        if rule.get("quantity") == "opening" and isinstance(rule.get("place"), str):
            first = seen.setdefault(rule["place"], where)
            if first is not where:
                yield Fault(f"{where}, place", f"no place that has an opening rule already ({first})", rule["place"])


def _is_text(value: object) -> bool:
    return type(value) is str and bool(value.strip())


def _unknown(where: str, table: Mapping[str, Any], known: Sequence[str]) -> Iterator[Fault]:
    for key in table:
        if key not in known:
            yield Fault(f"{where}, {key}", f"a known key ({nearest(key, known)})", table[key])


def _texts(where: str, table: Mapping[str, Any], keys: Sequence[str]) -> Iterator[Fault]:
    for key in keys:
        if not _is_text(table.get(key)):
            yield Fault(f"{where}, {key}", "text", table.get(key, ""))


def _word(where: str, table: Mapping[str, Any], key: str, words: Sequence[str], of: str = "") -> Iterator[Fault]:
    if not isinstance(table.get(key), str) or table[key] not in words:
        yield Fault(f"{where}, {key}", "one of " + ", ".join(map(repr, words)) + of, table.get(key, ""))


def _kinds(quantity: str) -> tuple[str, ...]:
    if quantity == "opening":
        return SPHERES
    if quantity == "handrail extension":
        return EXTENSIONS
    return DIFFERENCES if quantity.endswith("difference") else BOUNDS


def _value(where: str, rule: Mapping[str, Any]) -> Iterator[Fault]:
    value = exact(rule.get("value"))
    if value is None:
        yield Fault(f"{where}, value", 'a positive number such as "7-3/4"', rule.get("value", ""))
    elif rule.get("quantity") == "pitch" and value >= RIGHT_ANGLE:
        yield Fault(f"{where}, value", f"less than {RIGHT_ANGLE} degrees", rule["value"])


def _binding(where: str, rule: Mapping[str, Any]) -> Iterator[Fault]:
    binding = rule.get("binding", True)
    if not isinstance(binding, bool):
        yield Fault(f"{where}, binding", "true or false", binding)
    elif rule.get("quantity") == "opening" and not binding:
        # The strands are placed by it: an opening is either held to a limit or has none.
        yield Fault(f"{where}, binding", "true for an opening", binding)


def _in_runs(where: str, rule: Mapping[str, Any]) -> Iterator[Fault]:
    in_runs = rule.get("in_runs", False)
    if not isinstance(in_runs, bool):
        yield Fault(f"{where}, in_runs", "true or false", in_runs)
    elif in_runs and rule.get("place") not in ("flight top", "flight bottom"):
        yield Fault(f"{where}, in_runs", "on a handrail extension of a flight", rule.get("place", ""))


def _condition(where: str, rule: Mapping[str, Any]) -> Iterator[Fault]:
    if "when_run_below" not in rule:
        return
    if exact(rule["when_run_below"]) is None:
        yield Fault(f"{where}, when_run_below", 'a positive number such as "11"', rule["when_run_below"])
    if rule.get("place") != "flight" or rule.get("quantity") == "opening":
        yield Fault(f"{where}, when_run_below", "on a rule about the steps of a flight", rule.get("place", ""))
