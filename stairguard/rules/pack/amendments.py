"""Rules laid over a pack: local amendments, each change told, and an edition that follows another."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from stairguard.errors import Fault, PackError
from stairguard.model.rules import Amendment, Rule, RuleSet


def amended(base: RuleSet, local: RuleSet, removes: tuple[str, ...], where: str) -> RuleSet:
    """Lay a local file over a pack.

    A local rule stands in for the pack's on the same matter: quantity, place, kind, band and conditions. Others are
    added. ``removes`` takes whole clauses out.

    Raises
    ------
    PackError
        A clause to take out that the pack does not have.
    """
    clauses = {rule.clause for rule in base.rules}
    missing = [clause for clause in removes if clause not in clauses]
    if missing:
        raise PackError(*(Fault(f"{where}, removes", f"a clause of {base.name}", clause) for clause in missing))
    kept, changes = [], list[Amendment]()
    for old, new in _laid_over(base.rules, local.rules):
        out = old is not None and new is None and old.clause in removes
        if out or _changes(old, new):
            changes.append(Amendment(local.name, base.name, old, new))
        if not out:
            kept += [rule for rule in (new or old,) if rule is not None]
    return replace(
        local,
        rules=tuple(kept),
        cautions=(*base.cautions, *local.cautions),
        numbering=local.numbering or base.numbering,
        amended=(*base.amended, *changes),
    )


def _changes(old: Rule | None, new: Rule | None) -> bool:
    """Whether a local rule, if there is one, says another thing than the pack's, or stands by another clause."""
    return new is not None and (old is None or (old.value, old.clause) != (new.value, new.clause))


def followed(base: RuleSet, own: RuleSet, renumbers: Mapping[str, str]) -> RuleSet:
    """Lay an edition's own rules over those of another that it follows, whose clauses are renumbered.

    ``renumbers`` maps how a clause begins to what stands there instead; the longest that fits counts.
    """
    taken = tuple(replace(rule, clause=_renumbered(rule.clause, renumbers)) for rule in base.rules)
    return replace(own, rules=tuple(new or old for old, new in _laid_over(taken, own.rules)))  # type: ignore[misc]  # one is


def _renumbered(clause: str, renumbers: Mapping[str, str]) -> str:
    start = max((s for s in renumbers if clause.startswith(s)), key=len, default="")
    return renumbers.get(start, "") + clause[len(start) :]


def _laid_over(base: Sequence[Rule], local: Sequence[Rule]) -> Iterator[tuple[Rule | None, Rule | None]]:
    """Each rule of the base with what stands in for it, if anything does; then rules that stand in for none."""
    ours = {(rule.matter, rule.when): rule for rule in local}
    for rule in base:
        yield rule, ours.pop((rule.matter, rule.when), None)
    yield from ((None, new) for new in ours.values())
