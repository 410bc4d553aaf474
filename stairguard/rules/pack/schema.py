"""What a rule pack may contain: every key, word and combination, and a fault for each departure.

A pack is a TOML document: a head (``name``, ``title``, ``edition``, ``unit``, ``jurisdiction``, ``cautions``, and
``numbering`` where clause numbers are unsure) and one ``[[rule]]`` table a clause. What ``follows`` names is another
edition, whose rules it takes over but for those it has itself, clauses renumbered by ``renumbers``. Values are exact
strings such as ``"7-3/4"``. ``when`` holds the conditions under which a rule binds, by what a job states of its site.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any, Final

from stairguard.errors import Fault

HEAD_TEXT: Final = ("name", "title", "edition", "jurisdiction")
HEAD_KEYS: Final = (
    *HEAD_TEXT, "unit", "cautions", "numbering", "amends", "removes", "follows", "renumbers", "rule",
)  # fmt: skip
RULE_TEXT: Final = ("clause", "source", "note")
RULE_NEEDS: Final = ("quantity", "place", "kind", "value", "clause", "status", "source", "note")
HEIGHTS: Final = ("from_height", "to_height", "within")
RULE_KEYS: Final = (
    *RULE_NEEDS, "binding", "when_run_below", "in_runs", "address", "datum", "from_height", "to_height", "within",
    "when", "load_unit", "serves",
)  # fmt: skip
UNITS: Final = ("in", "mm")
STATUSES: Final = ("read", "secondary", "from memory", "common practice")
BOUNDS: Final = ("at least", "at most")
SPHERES: Final = ("stops", "stops more than")
DATUMS: Final = ("nosing line", "surface", "leading edge")
SLOPES: Final = ("flight", "ramp")
LOAD_UNITS: Final = ("lbf", "lbf/ft", "lbf/ft2", "kN", "kN/m", "kN/m2")
KINDS: Final[Mapping[str, tuple[str, ...]]] = {
    "opening": SPHERES,
    "ramp edge": SPHERES,
    "handrail extension": ("at least",),
    "riser difference": ("at most",),
    "run difference": ("at most",),
    "opening width": ("at most",),
    "lowest edge": ("at most",),
    "ramp rise": ("at most",),
    "guard required": ("where more than", "where at least"),
    "climbable band": ("avoid",),
    "handrail uniformity": ("uniform",),
    "nosing difference": ("at most",),
    "post gap": ("at most",),
    "strand spacing": ("at most",),
    "strand run": ("at most",),
    "run bends": ("at most",),
    "load": ("requires",),
}
"""Kinds of rule by quantity; the others are bounds, at least or at most."""
VALUELESS: Final[Mapping[str, str]] = {
    "climbable band": "the band is all there is",
    "handrail uniformity": "no tolerance is printed",
}
"""Quantities that have no value, and why."""
PLACES: Final[Mapping[str, tuple[str, ...]]] = {
    "guard required": ("any",),
    "guard height": ("landing", "flight", "ramp", "any"),
    "handrail height": ("flight", "ramp", "landing"),
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
    "opening width": ("landing", "flight", "ramp", "any"),
    "lowest edge": ("flight",),
    "climbable band": ("any",),
    "step comfort": ("flight",),
    "ramp rise": ("ramp",),
    "ramp edge": ("ramp",),
    "handrail size": ("any",),
    "handrail perimeter": ("any",),
    "handrail across": ("any",),
    "handrail uniformity": ("any",),
    "handrail clearance": ("any",),
    "nosing difference": ("flight",),
    "post gap": ("any",),
    "strand spacing": ("any",),
    "strand run": ("any",),
    "run bends": ("any",),
    "load": ("any",),
}
"""Each quantity a rule may limit, and where."""

CONDITIONS: Final[Mapping[str, str]] = {
    "occupancy": "words",
    "dwelling": "truth",
    "storeys_at_most": "count",
    "top_is_handrail": "truth",
    "drop_more_than": "length",
    "drop_at_most": "length",
    "public": "truth",
    "children": "truth",
    "exterior": "truth",
    "accessible": "truth",
    "temporary": "truth",
    "installed_after": "count",
    "egress": "truth",
    "has_handrail": "truth",
}
"""What a rule may bind under, and what each is given as."""

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
    if "amends" in pack or "removes" in pack:
        yield from _texts(where, pack, ("amends",))
        removes = pack.get("removes", [])
        if not isinstance(removes, list) or not all(map(_is_text, removes)):
            yield Fault(f"{where}, removes", "a list of clauses", removes)
    yield from _follows(where, pack)
    cautions = pack.get("cautions", [])
    if not isinstance(cautions, list) or not all(map(_is_text, cautions)):
        yield Fault(f"{where}, cautions", "a list of texts", cautions)
    rules = pack.get("rule", [])
    may_be_empty = bool(pack.get("removes")) or "follows" in pack
    if not isinstance(rules, list) or not (rules or may_be_empty) or not all(isinstance(rule, dict) for rule in rules):
        yield Fault(f"{where}, rule", "one [[rule]] table or more", rules)


def _follows(where: str, pack: Mapping[str, Any]) -> Iterator[Fault]:
    """Faults of what a pack says of another edition that it follows."""
    if "follows" in pack:
        yield from _texts(where, pack, ("follows",))
        if "amends" in pack:
            yield Fault(f"{where}, follows", "left out where the pack amends another", pack["follows"])
    elif "renumbers" in pack:
        yield Fault(f"{where}, renumbers", "given with follows", pack["renumbers"])
    renumbers = pack.get("renumbers", {})
    if not isinstance(renumbers, Mapping) or not all(map(_is_text, renumbers.values())):
        yield Fault(f"{where}, renumbers", "a table of clauses' beginnings and what they become", renumbers)


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
    yield from _measured_from(where, rule)
    yield from _serves(where, rule)
    yield from when_faults(where, rule.get("when", {}))


def when_faults(where: str, when: object) -> Iterator[Fault]:
    """Faults of a rule's conditions."""
    if not isinstance(when, Mapping):
        yield Fault(f"{where}, when", "a table of conditions", when)
        return
    yield from _unknown(f"{where}, when", when, tuple(CONDITIONS))
    for key, value in when.items():
        kind = CONDITIONS.get(key)
        if kind == "truth" and not isinstance(value, bool):
            yield Fault(f"{where}, when, {key}", "true or false", value)
        elif kind == "count" and (isinstance(value, bool) or not isinstance(value, int) or value < 1):
            yield Fault(f"{where}, when, {key}", "a whole number from 1", value)
        elif kind == "length" and exact(value) is None:
            yield Fault(f"{where}, when, {key}", 'a positive number such as "30"', value)
        elif kind == "words" and not (isinstance(value, list) and value and all(map(_is_text, value))):
            yield Fault(f"{where}, when, {key}", "a list of texts", value)


def twin_faults(places: Sequence[str], rules: Sequence[Mapping[str, Any]]) -> Iterator[Fault]:
    """Faults of opening rules for one place: only the first would ever be used, so a second is a mistake."""
    seen: dict[object, str] = {}
    for where, rule in zip(places, rules, strict=True):
        if rule.get("quantity") == "opening" and isinstance(rule.get("place"), str):
            # an exception, or another band of heights, is another matter
            matter = rule["place"], str(rule.get("when")), str(rule.get("from_height")), str(rule.get("to_height"))
            first = seen.setdefault(matter, where)
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
    return KINDS.get(quantity, BOUNDS)


def _value(where: str, rule: Mapping[str, Any]) -> Iterator[Fault]:
    if rule.get("quantity") in VALUELESS:
        if "value" in rule:
            yield Fault(f"{where}, value", f"left out: {VALUELESS[rule['quantity']]}", rule["value"])
        return
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


def _measured_from(where: str, rule: Mapping[str, Any]) -> Iterator[Fault]:
    """Faults of what a rule is measured from, of its band, reach, address and unit of load."""
    quantity = rule.get("quantity")
    for key in HEIGHTS:
        if key in rule and exact(rule[key]) is None:
            yield Fault(f"{where}, {key}", 'a positive number such as "36"', rule[key])
    if ("from_height" in rule or "to_height" in rule) and quantity not in ("opening", "climbable band"):
        yield Fault(f"{where}, from_height or to_height", "on an opening or a climbable band", quantity)
    if "within" in rule and quantity != "guard required":
        yield Fault(f"{where}, within", "on where a guard is required", quantity)
    if "datum" in rule:
        yield from _word(where, rule, "datum", DATUMS)
    if "address" in rule:
        yield from _texts(where, rule, ("address",))
    if quantity == "load":
        yield from _word(where, rule, "load_unit", LOAD_UNITS)
    elif "load_unit" in rule:
        yield Fault(f"{where}, load_unit", "on a load", quantity)


def _serves(where: str, rule: Mapping[str, Any]) -> Iterator[Fault]:
    """Faults of which slope's landings a rule is about."""
    if "serves" in rule:
        yield from _word(where, rule, "serves", SLOPES)
        if rule.get("quantity") != "landing length":
            yield Fault(f"{where}, serves", "on a landing's length", rule.get("quantity"))


def _condition(where: str, rule: Mapping[str, Any]) -> Iterator[Fault]:
    if "when_run_below" not in rule:
        return
    if exact(rule["when_run_below"]) is None:
        yield Fault(f"{where}, when_run_below", 'a positive number such as "11"', rule["when_run_below"])
    if rule.get("place") != "flight" or rule.get("quantity") == "opening":
        yield Fault(f"{where}, when_run_below", "on a rule about the steps of a flight", rule.get("place", ""))
