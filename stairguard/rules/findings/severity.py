"""The order of findings: by what may come of them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from stairguard.model.findings import VERDICTS, Finding

_GRAVE: Final = (
    "guard required", "guard height", "opening", "opening width", "lowest edge", "ramp edge", "landing length",
    "climbable band", "load", "handrail height", "riser difference", "run difference", "riser", "run", "pitch",
    "nosing projection", "nosing difference", "ramp slope", "handrail uniformity", "handrail extension",
)  # fmt: skip
"""A fall over or through the guard first, then a missed step, then a hand without hold; the rest after."""


def by_consequence(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Sort: by verdict, what binds before what does not, by what a breach may lead to, the least margin first."""
    return tuple(sorted(findings, key=_key))


def _key(one: Finding) -> tuple[int, bool, int, float, str]:
    grave = _GRAVE.index(one.quantity) if one.quantity in _GRAVE else len(_GRAVE)
    share = 0.0 if one.margin is None else one.margin / (abs(one.limit or 0.0) or 1.0)
    return VERDICTS.index(one.verdict), not one.binding, grave, share, one.clause
