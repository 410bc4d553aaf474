"""What findings under several rule packs are compared by: of each matter the gravest under each pack."""

from __future__ import annotations

import re
from typing import Final, TypeAlias

from stairguard.model.findings import Finding, Inspection
from stairguard.model.guard.opening_kinds import Where
from stairguard.model.subjects import OfSurface
from stairguard.reports.words.opening_words import brief_where
from stairguard.reports.words.rules.finding_words import spot_words

ComparedMatter: TypeAlias = tuple[str, str, str]
"""Quantity, place, and which bound."""

_NUMBERED: Final = re.compile(r"(?:,| at | \d).*")
"""In an inspector's own words, what tells one opening from others of its kind."""


def _matter(one: Finding) -> ComparedMatter:
    """What a finding is about, whatever the pack: quantity and place, and of an opening its kind; which bound."""
    if one.quantity in ("opening", "opening width", "ramp edge"):
        where = one.place.where
        kind = brief_where(where) if isinstance(where, Where) else _NUMBERED.sub("", spot_words(where))
        return "opening", kind or one.scope, ""
    over = one.what.surface if isinstance(one.what, OfSurface) else None
    return one.quantity, one.scope if over is None else over.kind, one.kind if one.kind.startswith("at ") else ""


def matter_words(matter: ComparedMatter) -> str:
    """Quantity and place; which bound it is, the signs beside the limits tell."""
    quantity, scope, _ = matter
    return quantity if scope == "any" else f"{quantity}, {scope}"


def gravest(inspection: Inspection) -> dict[ComparedMatter, Finding]:
    """Of each matter the finding that decides: findings come by consequence, what binds first.

    Loads, options that nobody measured and limits of the job's own are no matter of the comparison.
    """
    found: dict[ComparedMatter, Finding] = {}
    for one in inspection.findings:
        idle = one.verdict == "not checked" and not one.binding
        if not idle and one.quantity != "load" and one.clause != "job" and one.status != "common practice":
            found.setdefault(_matter(one), one)
    return found
