"""What would mend each breach of a layout: ways looked for, carried out, and told once they are seen to work."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final, TypeAlias

from stairguard.errors import JobError
from stairguard.model.findings import Finding
from stairguard.model.fixes import Advice, Change, Fix, JogsThen, TapeMark
from stairguard.model.guard.guard_openings import Opening
from stairguard.model.guard.opening_kinds import BETWEEN_STEPS, Where
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.soundness.job_checks import at_odds
from stairguard.rules.fixes.carry_out import carried_out
from stairguard.rules.fixes.job_ways import JobWays
from stairguard.rules.fixes.measured_advice import NONE, apart
from stairguard.rules.fixes.opening_ways import FILL, FILL_BESIDE, opening_ways
from stairguard.rules.fixes.push_ways import push_ways, tensions
from stairguard.rules.fixes.together import Told, together
from stairguard.rules.fixes.trials import Trial, Trials, unkept

_Judge: TypeAlias = Callable[[Layout], tuple[Finding, ...]]

_PLAIN: Final = ("at least", "at most")
_ANEW: Final = Fix((), advice=Advice.LAY_OUT_ANEW)


def mended(layout: Layout, findings: Iterable[Finding], judge: _Judge, only: str | None = None) -> Iterator[Finding]:
    """Findings with what would mend each that is not kept, or each of the ``only`` quantity asked about.

    ``judge`` makes the findings on another layout, without fixes.
    """
    findings = tuple(findings)
    trials = Trials.of(lambda fix: _tried(layout, fix, judge), findings)
    told = [Told(one, _found(layout, one, trials)) for one in findings if only in (None, one.quantity)]
    if layout.laid_by is None:
        told = together(lambda fix: carried_out(layout.job, fix).surfaces, told, trials)
    for one, ways in told:
        yield replace(one, fixes=(*ways, *_beside(layout, one, ways))) if _sought(one) else one


def _sought(one: Finding) -> bool:
    return one.verdict == "fail" and not one.fixes


def _found(layout: Layout, one: Finding, trials: Trials) -> tuple[Fix, ...]:
    """Ways that work for one finding, each by itself."""
    wanted, most = (1, 3) if layout.laid_by is not None else (2, 8) if one.quantity in ("opening", "push") else (1, 6)
    return trials.best(one, _ways(layout, one), wanted, most) if _sought(one) else ()


def _tried(layout: Layout, fix: Fix, judge: _Judge) -> Trial:
    """What a guard with a fix carried out does not keep, and the jogs it then has that it had not."""
    from stairguard.solve.lay_out import lay_out, lay_out_under

    job, pack = carried_out(layout.job, fix), layout.pack or layout.rules
    faults = at_odds(job)
    if faults:
        raise JobError(*faults)
    anew = any(isinstance(step, Change) and step.table == "rules" for step in fix.steps)
    if layout.laid_by is None or anew:
        found = lay_out(job, pack)
    else:
        (found,) = lay_out_under(job, layout.laid_by, [pack])
    return Trial(unkept(judge(found), fix), _jogs(layout, found))


def _jogs(before: Layout, after: Layout) -> tuple[JogsThen, ...]:
    """Joints where rails no longer meet; of lines with as many joints, or none is told."""
    if len(before.joints) != len(after.joints):
        return ()
    pairs = zip(before.joints, after.joints, strict=True)
    posts = tuple(new.post for old, new in pairs if new.jog and not old.jog)
    return (JogsThen(posts),) if posts else ()


def _ways(layout: Layout, one: Finding) -> Iterator[Fix]:
    opening = _opening(layout, one)
    if opening is not None and layout.laid_by is not None:
        return iter((Fix((_by_these(layout),)),))
    if opening is not None:
        return opening_ways(layout, opening, one)
    if one.quantity == "push":
        return push_ways(layout)
    if one.quantity == "" and one.limit:
        return tensions(layout, Fraction(one.limit))
    if one.kind not in _PLAIN or one.limit is None:
        return iter(())
    ways = JobWays(layout).of(one, _limit(layout, one))
    return ways if layout.laid_by is None else _either(layout, ways)


def _either(layout: Layout, ways: Iterator[Fix]) -> Iterator[Fix]:
    """The first way as the guard is laid out; else laid out by the rules it is held to as well."""
    first = next(ways, None)
    if first is not None:
        yield first
        yield replace(first, steps=(*first.steps, _by_these(layout)))
        yield from ways


def _by_these(layout: Layout) -> Change:
    return Change("rules", "", layout.rules.name)


def _limit(layout: Layout, one: Finding) -> Fraction:
    """The bound as its rule has it, exact, where it is a rule's own."""
    limit = Fraction(one.limit or 0)
    exact = (
        r.value for r in layout.rules.rules if (r.clause, r.quantity, r.kind) == (one.clause, one.quantity, one.kind)
    )
    return next((value for value in exact if float(value) == one.limit), limit)


def _opening(layout: Layout, one: Finding) -> Opening | None:
    """The opening that a finding is about."""
    place = one.place.surface, one.place.where, one.place.station
    return next((o for o in layout.openings if (o.surface, o.where, o.centre[0]) == place), None)


def _beside(layout: Layout, one: Finding, ways: Sequence[Fix]) -> tuple[Fix, ...]:
    """What to say where no way was found to work, or none that breaks nothing else."""
    if not ways:
        return _otherwise(layout, one)
    return _fills(layout, one) if layout.laid_by is None and all(way.breaks for way in ways) else ()


def _fills(layout: Layout, one: Finding) -> tuple[Fix, ...]:
    """What would fill the opening that it is about; nothing where it is about another."""
    where, opening = one.place.where, _opening(layout, one)
    if opening is not None and layout.apart(opening):
        return (FILL_BESIDE,)
    return (FILL,) if one.quantity == "opening" and isinstance(where, Where) and where.kind in BETWEEN_STEPS else ()


def _otherwise(layout: Layout, one: Finding) -> tuple[Fix, ...]:
    if layout.laid_by is not None:
        return (_ANEW,)
    if one.quantity == "strand length":
        short = Fraction(one.limit or 0) - Fraction(one.value or 0)
        return (apart(short, TapeMark(layout.job.unit, layout.job.mark)),)
    return _fills(layout, one) or (NONE,)
