"""Every relation solved for each of its symbols at one point, differentiated there, and where it stops to hold."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Final

from stairguard.errors import StairguardError
from stairguard.relations import engine
from stairguard.relations.declared import DECLARED
from stairguard.relations.records import Solution

_OF_KIND: Final = {"length": Fraction(15, 2), "angle": Fraction(30), "force": Fraction(200), "number": Fraction(3, 4)}
_OF_NAME: Final = {
    "run": Fraction(10), "nosing": Fraction(1), "lift": Fraction(6, 5), "diameter": Fraction(1, 8),
    "depth": Fraction(3, 2), "flight_height": Fraction(36), "landing_height": Fraction(42), "station": Fraction(2),
    "pitch_out": Fraction(-10), "turn": Fraction(90), "other_pitch": Fraction(40), "eaves": Fraction(100),
    "stiffness": Fraction(170_000), "deflection": Fraction(1), "bay": Fraction(42), "sphere": Fraction(4),
    "spacing": Fraction(3), "warming": Fraction(-20), "strand_rate": Fraction(1, 62_500), "shortening": Fraction(1, 99),
    "frame_rate": Fraction(1, 80_000),
}  # fmt: skip
"""A 3-4-5 step, a strand of 1/8 in at 3 in, a rail of 36 in and one of 42."""
_SLOW: Final = {("hardest-contact", "diameter"), ("hardest-contact", "spacing"), ("push-without-stretch", "contact")}
"""Found by the same search as one that is asked."""


def _answer(found: Solution) -> Fraction | float:
    """Exact where it is rational, so that what is solved for next has both ways tried."""
    try:
        return Fraction(found.exact or "")
    except ValueError:
        return found.value


def _told(name: str, find: str, known: Mapping[str, Fraction | float]) -> Iterator[str]:
    try:
        found = engine.solve(name, find, known)
    except StairguardError as error:
        yield f"{find}: {error}"
        return
    yield f"{find} = {found.value}; exactly {found.exact}; others {list(found.others)}"
    yield from (f"    {line}" for line in found.working)


def relations() -> str:
    """A paragraph a relation."""
    lines: list[str] = []
    for name, relation in DECLARED.items():
        first = relation.closed[0].find
        known: dict[str, Fraction | float]
        known = {s.info.name: _OF_NAME.get(s.info.name, _OF_KIND[s.info.kind]) for s in relation.symbols}
        del known[first]
        lines += [f"{name}: {relation.title}", *_told(name, first, known)]
        slopes = engine.partials(name, first, known)
        lines += [f"    d {first}/d {by} = {slope}" for by, slope in slopes.items()]
        known[first] = _answer(engine.solve(name, first, known))
        for find in known:
            if find != first and (name, find) not in _SLOW:
                lines += _told(name, find, {other: value for other, value in known.items() if other != find})
        lines += [f"not where {condition.margin} < 0: {condition.otherwise}" for condition in relation.conditions]
        lines += [f"{symbol.info.name} must be {symbol.info.must}" for symbol in relation.symbols]
        lines.append("")
    return "\n".join(lines)
