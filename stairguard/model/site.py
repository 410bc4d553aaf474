"""What a job states of its place and use, and the conditions that rules bind under."""

from __future__ import annotations

from dataclasses import dataclass, fields
from fractions import Fraction
from typing import Final, Literal, TypeAlias

ConditionKey: TypeAlias = Literal[
    "occupancy", "dwelling", "storeys_at_most", "top_is_handrail", "drop_more_than", "drop_at_most", "public",
    "children", "exterior", "accessible", "temporary", "installed_after", "egress", "has_handrail",
]  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """Place and use of a guard, None where not stated; ``own_handrail`` follows from what else a job says.

    ``occupancy`` is a group or use by the pack's own words, ``storeys`` the building's, ``drop`` the greatest plumb
    fall beside the guard, ``reach`` how far level from the open edge that is (None: near enough), ``installed`` a year.
    """

    occupancy: str | None = None
    dwelling: bool | None = None
    storeys: int | None = None
    top_is_handrail: bool | None = None
    drop: Fraction | None = None
    reach: Fraction | None = None
    public: bool | None = None
    children: bool | None = None
    exterior: bool | None = None
    accessible: bool | None = None
    temporary: bool | None = None
    installed: int | None = None
    egress: bool | None = None
    own_handrail: bool | None = None

    @property
    def stated(self) -> bool:
        """Whether anything is."""
        return any(getattr(self, field.name) is not None for field in fields(self))


NOWHERE: Final = Site()
"""A site of which nothing is stated."""


@dataclass(frozen=True, slots=True)
class Condition:
    """One condition of a rule; ``value`` is a tuple of words, a truth, a number of storeys or a year, or a length."""

    key: ConditionKey
    value: tuple[str, ...] | bool | int | Fraction

    def met(self, site: Site) -> bool | None:
        """Whether a site meets it; None where the site does not say."""
        if self.key == "has_handrail":
            known = True if site.own_handrail else site.top_is_handrail
            return None if known is None else known == self.value
        stated = getattr(site, _STATED.get(self.key, self.key))
        if stated is None:
            return None
        if isinstance(self.value, tuple):
            return stated in self.value
        if self.key in ("storeys_at_most", "drop_at_most"):
            return bool(stated <= self.value)
        if self.key in ("drop_more_than", "installed_after"):
            return bool(stated > self.value)
        return bool(stated == self.value)


_STATED = {
    "storeys_at_most": "storeys", "drop_more_than": "drop", "drop_at_most": "drop", "installed_after": "installed",
}  # fmt: skip
