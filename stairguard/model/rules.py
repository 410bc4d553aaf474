"""What a rule pack says, as data the solver and the checks both read."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final, Literal, TypeAlias

from stairguard.model.site import Condition, Site

BoundKind: TypeAlias = Literal[
    "at least", "at most", "stops", "stops more than", "where more than", "where at least", "avoid", "uniform",
    "requires",
]  # fmt: skip
"""``stops``: a sphere of exactly the value must be stopped. ``stops more than``: exactly it may pass. ``where``: a
guard is required there. ``avoid``: nothing to climb by. ``uniform``: all alike, with no tolerance printed.
``requires``: a load, for the engineer."""

Status: TypeAlias = Literal["read", "from memory", "secondary", "common practice"]

Quantity: TypeAlias = Literal[
    "guard height",
    "handrail height",
    "opening",
    "riser",
    "run",
    "nosing projection",
    "pitch",
    "flight rise",
    "landing length",
    "ramp slope",
    "handrail extension",
    "riser difference",
    "run difference",
    "guard required",
    "opening width",
    "lowest edge",
    "climbable band",
    "step comfort",
    "ramp rise",
    "ramp edge",
    "handrail size",
    "handrail perimeter",
    "handrail across",
    "handrail uniformity",
    "handrail clearance",
    "nosing difference",
    "post gap",
    "strand spacing",
    "strand run",
    "run bends",
    "load",
]

What: TypeAlias = Literal[
    "guard height", "handrail height", "opening", "riser", "run", "nosing projection", "landing length",
    "handrail extension", "handrail size", "handrail perimeter", "handrail across", "handrail clearance",
    "lowest edge", "post gap", "strand spacing", "strand run", "drop", "member",
]  # fmt: skip
"""What is measured on a guard that stands: by rules' quantities, and what one could fall or climb by."""

NOT_LENGTHS: Final[Mapping[Quantity, str]] = {
    "pitch": "deg",
    "ramp slope": "",
    "run bends": "",
    "climbable band": "",
    "load": "",
}
"""Quantities whose limit is no length, with its unit: none of ratios and counts; a load's is its rule's own."""

_FLOOR: Final = Fraction(0)
_APART: Final = ("step triangle", "open riser")


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One clause: a limit on one quantity at one place.

    ``place`` is ``"landing"``, ``"flight"``, ``"ramp"``, ``"step triangle"``, ``"open riser"``, ``"flight top"``,
    ``"flight bottom"`` or ``"any"``.
    ``value`` is in the rule set's unit (degrees for a pitch, rise over level length for a ramp's slope).
    ``in_runs`` where the value counts runs of the flight instead of a length. ``when_run_below``, where given, confines
    the rule to flights whose run is less than it; ``serves``, ``"flight"`` or ``"ramp"``, one on landings to those that
    lie at such a slope. ``note``
    paraphrases the clause: datum, exceptions, what the reader must judge. ``binding`` is false for a rule
    that is an option or an exception a job may take up, reported but not failed (a rail that also serves
    as handrail, say). ``address`` is where the figure was read, empty where it was not. ``datum`` is what a height or a
    band is measured from, plumb: an opening rule with ``from_height`` or ``to_height`` covers that band only.
    ``within`` is the level reach in which a drop counts. The rule binds where all of ``when`` is met. A load's value
    is in ``load_unit``; that of a climbable band, and of what is to be uniform, is zero.
    """

    quantity: Quantity
    place: str
    kind: BoundKind
    value: Fraction
    clause: str
    status: Status
    source: str
    note: str
    binding: bool
    when_run_below: Fraction | None = None
    in_runs: bool = False
    address: str = ""
    datum: str = ""
    from_height: Fraction | None = None
    to_height: Fraction | None = None
    within: Fraction | None = None
    when: tuple[Condition, ...] = ()
    load_unit: str = ""
    serves: str = ""

    @property
    def sphere(self) -> Fraction | None:
        """The sphere it is about; None where it is about something else, as the width of openings."""
        return self.value if self.quantity in ("opening", "ramp edge") else None

    def limit_unit(self, unit: str) -> str:
        """The unit of its value, where ``unit`` is that of lengths."""
        return self.load_unit or NOT_LENGTHS.get(self.quantity, unit)

    @property
    def banded(self) -> bool:
        """Whether it covers some heights only."""
        return self.from_height is not None or self.to_height is not None

    def reached(self, low: Fraction, high: Fraction | None) -> bool:
        """Whether what spans these heights reaches into its band."""
        below = self.to_height is None or low < self.to_height
        return below and (high is None or self.from_height is None or high > self.from_height)

    def spans(self, low: Fraction, high: Fraction | None) -> bool:
        """Whether what spans these heights lies wholly within its band."""
        above = self.from_height is None or low >= self.from_height
        return above and (self.to_height is None or (high is not None and high <= self.to_height))

    def speaks_at(self, slopes: Collection[str]) -> bool:
        """Whether it is about landings where slopes of these kinds are; of all else it says nothing of them."""
        return not self.serves or self.serves in slopes

    @property
    def matter(self) -> tuple[object, ...]:
        """What it is about: two rules on one matter are a general one and its exception."""
        return (
            self.quantity,
            self.place,
            self.kind,
            self.binding,
            self.from_height,
            self.to_height,
            self.load_unit,
            self.serves,
        )

    def said_by(self, other: Rule) -> bool:
        """Whether another rule has the same limit on the same thing, by the same clause or a part of it."""
        mine, others = ((r.quantity, r.place, r.kind, r.value) for r in (self, other))
        return mine == others and other.clause.startswith(self.clause)

    @property
    def inclusive(self) -> bool:
        """Whether exactly the value passes the rule."""
        return self.kind != "stops"

    @property
    def strictness(self) -> tuple[Fraction, bool]:
        """Of two limits on one opening, that of the stricter comes first."""
        return self.value, self.inclusive


@dataclass(frozen=True, slots=True)
class Amendment:
    """One change that a ``local`` file makes to a pack: ``old`` is None of a rule added, ``new`` of one taken out."""

    local: str
    base: str
    old: Rule | None
    new: Rule | None


@dataclass(frozen=True, slots=True)
class OtherOccupancy:
    """A site's occupancy that no rule of a pack turns on, and those it speaks of: it may be written otherwise."""

    rules: str
    stated: str
    known: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleSet:
    """A pack, its lengths already in the job's unit. An empty one (``rules = "none"``) limits nothing.

    ``amended`` says, clause by clause, what a local file changed of the pack it amends; ``asking`` are rules that might
    bind, did the site state what they ask.

    ``cautions`` are the pack's own, to be repeated with every result; ``jurisdiction`` says where it holds.
    ``unspoken`` is the occupancy of the site that rules bind at, where none turns on it.
    """

    name: str
    title: str
    rules: tuple[Rule, ...]
    edition: str = ""
    jurisdiction: str = ""
    cautions: tuple[str, ...] = ()
    numbering: str = ""
    asking: tuple[Rule, ...] = ()
    amended: tuple[Amendment, ...] = ()
    unspoken: OtherOccupancy | None = None

    def at(self, site: Site) -> RuleSet:
        """Return the rules that bind at a site.

        A rule all of whose conditions are met stands in for those that say less of the same thing at the same place: of
        one quantity, kind and band. Rules whose conditions the site does not meet are left out; those that ask what it
        does not state are set apart in ``asking``.
        """
        met = [rule for rule in self.rules if all(condition.met(site) for condition in rule.when)]
        most: dict[tuple[object, ...], int] = {}
        for rule in met:
            most[rule.matter] = max(most.get(rule.matter, 0), len(rule.when))
        asking = []
        for rule in self.rules:
            found = [condition.met(site) for condition in rule.when]
            if None in found and False not in found:
                asking.append(rule)
        kept = [rule for rule in met if len(rule.when) == most[rule.matter]]
        # an option whose binding twin holds here says nothing more
        binding = [rule for rule in kept if rule.binding]
        told = tuple(rule for rule in kept if rule.binding or not any(rule.said_by(other) for other in binding))
        return replace(self, rules=told, asking=tuple(asking), unspoken=self._unspoken(site))

    def _unspoken(self, site: Site) -> OtherOccupancy | None:
        """An occupancy on which no rule turns."""
        asked = (word for rule in self.rules for one in rule.when if isinstance(one.value, tuple) for word in one.value)
        words = tuple(dict.fromkeys(asked))
        if site.occupancy is not None and words and site.occupancy not in words:
            return OtherOccupancy(self.name, site.occupancy, words)
        return None

    def openings(
        self, *places: str, low: Fraction = _FLOOR, high: Fraction | None = None, edged: bool = False
    ) -> tuple[Rule, ...]:
        """Return the rules that limit an opening, the strictest first.

        Parameters
        ----------
        places : the first of them that has a rule for all heights gives that one, else "any"
        low, high : what the opening spans, plumb above the datum; None where it is not bounded above
        edged : whether it is over a ramp, or a ramp's landing, where edge protection is asked for

        A rule for a band of heights that is stricter speaks to every opening that reaches into its band, a laxer one
        only to openings wholly within it, and then instead of the rule for all heights. Edge protection speaks to
        what opens lower than its own sphere. A limit on widths is held to an opening's sphere as well.
        """
        whole = self._whole("opening", places)
        banded = {*places, "any"} if whole is None else {whole.place, "any"}
        if whole is not None and whole.place in _APART:  # at whatever height they are
            banded = {whole.place}
        others = []
        for rule in self.rules:
            if rule.quantity == "opening" and rule.banded and rule.place in banded:
                if whole is None or rule.value < whole.value:
                    others += [rule] if rule.reached(low, high) else []
                elif rule.spans(low, high):
                    whole = rule
            elif rule.quantity == "ramp edge" and edged and low < rule.value:
                others.append(rule)
        width = None if "open riser" in places else self._whole("opening width", places)  # which are the guard's own
        found = [rule for rule in (whole, *others, width) if rule is not None]
        return tuple(sorted(found, key=lambda rule: rule.strictness))

    def opening(
        self, *places: str, low: Fraction = _FLOOR, high: Fraction | None = None, edged: bool = False
    ) -> Rule | None:
        """Return the strictest of `openings`, None where nothing limits it."""
        return next(iter(self.openings(*places, low=low, high=high, edged=edged)), None)

    def _whole(self, quantity: Quantity, places: Sequence[str]) -> Rule | None:
        """The rule for all heights at the first of these places that has one, else at any."""
        for place in (*places, "any"):
            for rule in self.rules:
                if rule.quantity == quantity and rule.place == place and not rule.banded:
                    return rule
        return None

    @property
    def lowest_edge(self) -> Rule | None:
        """The rule by which an edge low enough over the nosing line may stand in for spheres under it."""
        return next((rule for rule in self.rules if rule.quantity == "lowest edge"), None)

    def leave_by_edge(self, *, apart: bool) -> Rule | None:
        """The same, where it may: not of strands ``apart`` from the stair, as it says nothing of how far."""
        return None if apart else self.lowest_edge

    def without(self, quantity: Quantity) -> RuleSet:
        """Return the rules but those on one quantity."""
        return replace(self, rules=tuple(rule for rule in self.rules if rule.quantity != quantity))

    def of(self, quantity: Quantity, place: str) -> tuple[Rule, ...]:
        """Return all rules on ``quantity`` that apply at ``place``, those for any place included."""
        return tuple(r for r in self.rules if r.quantity == quantity and r.place in (place, "any"))
