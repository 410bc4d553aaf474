"""A published formula and its solution in words: where it holds, whence it comes, what was found."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from stairguard.model.published.known_figure import kind_unit
from stairguard.reports.words.lengths import figure

if TYPE_CHECKING:
    from stairguard.model.job import Unit
    from stairguard.relations.records import RelationInfo, Solution, SymbolKind


def basis_words(one: RelationInfo) -> Iterator[str]:
    """Where a formula holds, and whence it comes."""
    yield f"Valid: {one.validity}"
    yield f"Source: {one.source} ({one.status})"


def found_words(found: Solution, kind: SymbolKind, unit: Unit) -> Iterator[str]:
    """The value found, exact where it is, and any others that hold as well."""
    of = kind_unit(kind, unit)
    if found.exact is not None:
        yield f"{found.find} = {found.exact} {of}".rstrip() + ", exact"
    yield f"{found.find} = {figure(found.value, of)}"
    if found.others:
        yield "Also valid: " + ", ".join(figure(other, of) for other in found.others)
