"""Findings that come from the place and the pack alone: whether a guard is asked for, loads, what is not decided."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Any, Final

from stairguard.model.findings import Finding
from stairguard.model.reasons import NoGuardAsked, Noted, Option, Reason, Required, Unsaid, Why
from stairguard.model.rules import Rule, RuleSet
from stairguard.model.subjects import Fall, MembersInBand, RuledLoad, RuledQuantity, StrandsInBand, Subject, WholeGuard
from stairguard.rules.fixes.measured_advice import UPRIGHT

SECTIONS: Final = ("handrail size", "handrail perimeter", "handrail across")
"""What is told of a handrail's section: a pack may allow several kinds."""
_NOTHING: Final = Fraction(0)


def sitewide(rules: RuleSet, unit: str, kinds: Collection[str]) -> Iterator[Finding]:
    """The loads a guard must bear, and clauses that ask what the job does not say.

    ``kinds`` are those of the surfaces there are: of clauses about others nothing is said.
    """
    for rule in rules.rules:
        if rule.quantity == "load":
            yield unchecked(rule, unit, Why.ENGINEER, what=RuledLoad(rule.note))
    for rule in rules.asking:
        # of loads the engineer picks; an option on the same limit is judged, and says that it may bind
        spoken = rule.quantity == "load" or any(option.said_by(rule) for option in rules.rules)
        if not spoken and present(rule, kinds):
            yield unchecked(rule, unit, Unsaid(rule.when), binding=False)


def may_bind(finding: Finding, option: Rule, rules: RuleSet) -> Finding:
    """What came of an option, with what the site would have to say for it to bind, where that turns on it."""
    asking = next((rule for rule in rules.asking if option.said_by(rule)), None)
    if finding.binding or asking is None:
        return finding
    return replace(finding, why=(*finding.why, Unsaid(asking.when)))


def unchecked(rule: Rule, unit: str, *why: Reason, what: Subject | None = None, **more: Any) -> Finding:
    """A rule that nothing measures, and why; lengths in ``unit``, ``what`` unless it is all that the rule is about."""
    about = RuledQuantity(rule.quantity, rule.place) if what is None else what
    own: dict[str, Any] = {"limit": float(rule.value), "unit": rule.limit_unit(unit), "why": why}
    return Finding.of(rule, "not checked", about, **(own | more))


def climbed(rule: Rule, what: StrandsInBand | MembersInBand) -> Finding:
    """What stands in a band where nothing may help in climbing: it may; the authority decides what counts."""
    if not what.within:
        return Finding.of(rule, "pass", what)
    why = Why.STRANDS_CLIMBED if isinstance(what, StrandsInBand) else Why.MEMBERS_CLIMBED
    return Finding.of(rule, "needs a decision", what, why=(Noted(why, rule.note),), fixes=(UPRIGHT,))


def other_section(rule: Rule, known: Collection[str]) -> Why | None:
    """Why a rule on one kind of handrail's section has nothing to hold of another, ``known`` by figures."""
    if rule.quantity in ("handrail perimeter", "handrail across") and "handrail size" in known:
        return Why.ROUND
    if rule.quantity == "handrail size" and ("handrail perimeter" in known or "handrail across" in known):
        return Why.NOT_ROUND
    return None


def uniform(
    rule: Rule, unit: str, apart: Fraction | float, *, blurred: Fraction | None = None, binding: bool = True
) -> Finding:
    """Whether what hands hold keeps one height; of measured ones what their tape cannot tell is no difference."""
    passes = apart <= (blurred or 0)
    within: tuple[Reason, ...] = () if blurred is None else (Why.WITHIN_TAPE,)
    return Finding.of(
        rule,
        "pass" if passes else "needs a decision",
        WholeGuard("handrail heights"),
        value=float(apart),
        unit=unit,
        why=within if passes else (Noted(Why.NO_TOLERANCE, rule.note),),
        binding=binding,
    )


def present(rule: Rule, kinds: Collection[str]) -> bool:
    """Whether a guard over surfaces of these kinds has what a rule is about."""
    place = "flight" if rule.place in ("step triangle", "open riser", "flight top", "flight bottom") else rule.place
    return (place == "any" or place in kinds) and rule.speaks_at(kinds)


def required(
    rule: Rule, drop: Fraction | None, reach: Fraction | None, unit: str, at: str = "", blurred: Fraction = _NOTHING
) -> Finding:
    """Whether a drop asks for a guard; where none is asked for the authority confirms, and limits are held still."""
    what = Fall(at)
    if drop is None:
        return unchecked(rule, unit, Why.DROP_UNSTATED, what=what)
    near = reach is None or rule.within is None or reach - blurred <= rule.within
    least = drop + blurred  # what the tape cannot tell counts as asking for one
    deep = least >= rule.value if rule.kind == "where at least" else least > rule.value
    why = Required(rule.within if reach is None else None, unit) if near and deep else NoGuardAsked(far=not near)
    return Finding.of(
        rule,
        "pass" if near and deep else "needs a decision",
        what,
        value=float(drop),
        limit=float(rule.value),
        unit=unit,
        margin=float(drop - rule.value),
        why=(why,),
    )


def binds_handrail(rule: Rule) -> bool:
    """Whether a rule binds a handrail that there is: an option on its height or place does, one kind of section not."""
    return rule.binding or (rule.quantity.startswith("handrail") and rule.quantity not in SECTIONS)


def optional(rule: Rule) -> Option:
    """Why an option that is not met needs a decision."""
    return Option(rule.note, practice=rule.status == "common practice")
