"""Local amendments: a file of clauses laid over a pack, each change told in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stairguard.errors import Fault, PackError
from stairguard.model.rules import Rule, RuleSet

__all__ = ["amended"]


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
    ours = {(rule.matter, rule.when): rule for rule in local.rules}
    kept, changes = [], list[str]()
    for rule in base.rules:
        key = rule.matter, rule.when
        if rule.clause in removes and key not in ours:
            changes.append(f"{rule.clause} ({rule.quantity}, {rule.place}) taken out")
        elif key in ours:
            new = ours.pop(key)
            kept.append(new)
            changes += _changed(rule, new)
        else:
            kept.append(rule)
    for new in ours.values():
        kept.append(new)
        changes.append(f"{new.clause} ({new.quantity}, {new.place}): {new.kind} {float(new.value):.6g} added")
    return replace(
        local,
        rules=tuple(kept),
        cautions=(*base.cautions, *local.cautions),
        numbering=local.numbering or base.numbering,
        amended=(*base.amended, *(f"{local.name} on {base.name}: {change}" for change in changes)),
    )


def _changed(old: Rule, new: Rule) -> Iterator[str]:
    if (old.value, old.clause) != (new.value, new.clause):
        yield (
            f"{new.clause} ({new.quantity}, {new.place}): {new.kind} {float(new.value):.6g} in place of "
            f"{float(old.value):.6g} by {old.clause}"
        )
