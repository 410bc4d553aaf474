"""What the largest sphere of one opening touches, how it stands to its limit, and where it passes, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from stairguard.geometry.clearance.outline import Corner, Edge, Outline
from stairguard.model.job import Unit
from stairguard.reports.words.grouping import groups
from stairguard.reports.words.lengths import Formatter, diameter_words, length_words
from stairguard.reports.words.names import numbered

_FEW: Final = 4
"""More numbered edges or corners than that are told as a row."""


def touched_words(outline: Outline, sites: Sequence[int]) -> str:
    """Name sites, each once; more than a few numbered ones of one part as a row: edges 1 to 4, 7."""
    found = {_site_words(site): site for site in map(outline.site, sites)}
    return ", ".join(_grouped(found))


def _grouped(found: dict[str, Edge | Corner]) -> Iterator[str]:
    for names in groups(found, lambda name: found[name].part):
        same = [found[name] for name in names]
        numbers = [one.number for one in same if one.number is not None and not _said_to_be_strand(one)]
        if _FEW < len(same) == len(numbers):
            yield f"{same[0].part}s {numbered(numbers)}"
        else:
            yield from names


def _site_words(site: Edge | Corner) -> str:
    return f"{site.name} (a strand)" if _said_to_be_strand(site) else site.name


def _said_to_be_strand(site: Edge | Corner) -> bool:
    """Whether an edge is a strand, and its name does not say so."""
    return isinstance(site, Edge) and site.radius > 0 and "strand" not in site.part


def beside_limit(diameter: float, limit: Fraction, sign: int, unit: Unit) -> str:
    """How a sphere stands to its limit: larger, of a ``sign`` above 0, smaller, or just as large."""
    if not sign:
        return "sphere just as large"
    by = abs(float(limit) - diameter)
    amount = diameter_words(by, None, unit) if by else "less than can be written"
    return f"sphere {'larger' if sign > 0 else 'smaller'} by {amount}"


def passing_words(length: float, unit: Unit, fmt: Formatter, *, bounded: bool) -> str:
    """Where a sphere passes that may stand anywhere along a line, ``bounded`` where it does not run on."""
    if not bounded:
        return "anywhere along the gap, open at both ends"
    return f"anywhere along a line {length_words(length, unit, fmt)} long"
