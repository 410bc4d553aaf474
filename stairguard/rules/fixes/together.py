"""Fixes of one page made to agree: all of them carried out together leave none of the breaches they are told at."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Final, NamedTuple, TypeAlias

from stairguard.model.findings import Finding
from stairguard.model.fixes import Change, Fix, SetValue, SideEffect, Step
from stairguard.model.job import Flight, Surface
from stairguard.rules.fixes.trials import Trials

_TRIES: Final = 8  # of other ways where those of a page do not go together

_Spot: TypeAlias = tuple[str, str, int | None]
"""A key of the job, of one surface or of the whole."""


class Told(NamedTuple):
    """A breach and the ways told to mend it, the first of which is the one to take."""

    finding: Finding
    ways: tuple[Fix, ...]


def together(carried: Callable[[Fix], Sequence[Surface]], told: Sequence[Told], trials: Trials) -> list[Told]:
    """Breaches with ways that go together, and lengths that come of all of them.

    Where ways set one key to different values, the one that mends most of their breaches is told at each it mends. Ways
    that divide surfaces, or put some in, change what others are numbered by: they stand for themselves. ``carried``
    carries a fix out and gives the surfaces that come of it.
    """
    told = list(told)
    for _ in told:  # each round settles keys that two ways set; a round more may be needed for what took their place
        clashing = _clashing([way for one in told for way in one.ways])
        if not clashing:
            break
        told = _settled(told, clashing, trials)
    told = _in_one(told, trials)
    return _lengths(carried, told)


def _spots(fix: Fix) -> dict[_Spot, SetValue]:
    """What a fix sets, key by key."""
    return {
        (step.table, step.key, index): step.value
        for step in fix.steps
        if isinstance(step, Change)
        for index in (step.surfaces or (None,))
    }


def _clash(one: Fix, other: Fix) -> bool:
    mine, theirs = _spots(one), _spots(other)
    return any(theirs.get(spot, value) != value for spot, value in mine.items())


def _clashing(ways: Iterable[Fix]) -> list[Fix]:
    """Ways that set one key to different values: the first of them, and all that clash with one another and with it."""
    distinct = list({way.steps: way for way in ways}.values())
    first = next((one for one in distinct if any(_clash(one, other) for other in distinct)), None)
    group: list[Fix] = [] if first is None else [first]
    for one in group:  # grows as it goes
        group += [other for other in distinct if other not in group and _clash(one, other)]
    return group


def _settled(told: Sequence[Told], clashing: Sequence[Fix], trials: Trials) -> list[Told]:
    """Breaches told the one of clashing ways, or of others tried that set their keys, that mends most of them."""
    values: dict[_Spot, set[SetValue]] = {}
    for way in clashing:
        for spot, value in _spots(way).items():
            values.setdefault(spot, set()).add(value)
    contested = {spot for spot, given in values.items() if len(given) > 1}
    steps = {way.steps for way in clashing}
    about = [one.finding for one in told if any(way.steps in steps for way in one.ways)]
    tried = [fix for fix in trials.laid_out() if _spots(fix).keys() & contested]

    def worth(fix: Fix) -> tuple[int, tuple[int, int], int]:
        mends = sum(trials.told(finding, fix) is not None for finding in about)
        return -mends, trials.harm(fix), len(fix.steps)

    winner = min(tried, key=worth)
    return [Told(one.finding, tuple(_without(one, steps, winner, trials))) for one in told]


def _without(one: Told, steps: set[tuple[Step, ...]], winner: Fix, trials: Trials) -> Iterator[Fix]:
    """Ways of a breach with the winner in place of those that clash; what goes with it where it does not mend it."""
    instead = trials.told(one.finding, winner)
    kept = [way for way in one.ways if way.steps not in steps and not _clash(way, winner)]
    if instead is not None and len(kept) < len(one.ways):
        first = next(index for index, way in enumerate(one.ways) if way not in kept)
        kept.insert(first, instead)
    yield from kept or _others(one.finding, [winner], trials)


def _others(finding: Finding, beside: Sequence[Fix], trials: Trials) -> list[Fix]:
    """The least harmful of what was tried that mends a finding and clashes with none of these; none where none does."""
    ways = [fix for fix in trials.laid_out() if not any(_clash(fix, other) for other in beside)]
    found = [way for way in (trials.told(finding, fix) for fix in ways) if way is not None]
    return sorted(found, key=trials.harm)[:1]


def _union(told: Iterable[Told]) -> tuple[Step, ...]:
    """All that is to be changed, each first way's steps once."""
    ways = [one.ways[0] for one in told if one.ways]
    return tuple(dict.fromkeys(step for way in ways if _plain(way) for step in way.steps))


def _plain(way: Fix) -> bool:
    return all(isinstance(step, Change) for step in way.steps)


def _left(told: Sequence[Told], trials: Trials) -> list[int]:
    """Breaches, by their place in the row, that are left or come back when all first ways are carried out."""
    whole = Fix(_union(told))
    return [
        index
        for index, one in enumerate(told)
        if one.ways and _plain(one.ways[0]) and trials.told(one.finding, whole) is None
    ]


def _in_one(told: list[Told], trials: Trials) -> list[Told]:
    """Breaches whose first ways go together: others of those tried take the place of what does not, or it is said."""
    left = _left(told, trials)
    for number, (index, way) in enumerate(_instead(told, left, trials)):
        if number == _TRIES:
            break
        if index not in left:
            continue
        other = _exchanged(told, told[index].ways[0], way, trials)
        still = _left(other, trials)
        if len(still) < len(left):
            told, left = other, still
    return [_said(one) if index in left else one for index, one in enumerate(told)]


def _exchanged(told: Iterable[Told], old: Fix, new: Fix, trials: Trials) -> list[Told]:
    """Breaches with one first way in place of another, at each that it mends as well."""

    def exchanged(one: Told) -> Told:
        way = trials.told(one.finding, new) if one.ways and one.ways[0].steps == old.steps else None
        return one if way is None else Told(one.finding, (way, *(way for way in one.ways if way.steps != new.steps)))

    return [exchanged(one) for one in told]


def _instead(told: Sequence[Told], left: Sequence[int], trials: Trials) -> Iterator[tuple[int, Fix]]:
    for index in left:
        beside = [one.ways[0] for k, one in enumerate(told) if k != index and one.ways]
        tried = (trials.told(told[index].finding, fix) for fix in trials.laid_out())
        for way in [way for way in tried if way is not None]:
            if way.steps != told[index].ways[0].steps and not any(_clash(way, other) for other in beside):
                yield index, way


def _said(one: Told) -> Told:
    first = one.ways[0]
    also = (*first.also, SideEffect.LAY_OUT_AGAIN)
    return Told(one.finding, (replace(first, also=also), *one.ways[1:]))


def _lengths(carried: Callable[[Fix], Sequence[Surface]], told: Sequence[Told]) -> list[Told]:
    """Ways with the lengths that flights have once all that is told at others is done too."""

    def long(index: int, way: Fix) -> Fix:
        if way.long is None:
            return way
        rest = _union(one for k, one in enumerate(told) if k != index)
        after = carried(Fix((*rest, *way.steps)))[way.long.surfaces[0]]
        assert isinstance(after, Flight)  # it has been given its risers or its run
        level = (after.risers - 1) * after.run
        if level == way.long.level:
            return way
        return replace(way, long=replace(way.long, level=level, with_others=True))

    return [Told(one.finding, tuple(long(index, way) for way in one.ways)) for index, one in enumerate(told)]
