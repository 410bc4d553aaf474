"""Strands along the line, and where each must be broken into runs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate, pairwise
from typing import NamedTuple

from stairguard.errors import Fault, JobError
from stairguard.geometry.marks import mark_above, plain_text
from stairguard.model.guard.passages import RunLimit
from stairguard.model.guard.pieces import BearsOn
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Strand
from stairguard.solve.plan import Plan
from stairguard.solve.post.bearing import AT_BREAK, bears_on
from stairguard.solve.post.passing import BrokenRuns
from stairguard.solve.post.positions import Stand


@dataclass(frozen=True, slots=True)
class Support:
    """A post along a stretch: ``at`` along the strand from the first; ``reaches`` from its centre to both its faces."""

    stand: int
    at: float
    reaches: tuple[float, float]
    bends: bool


@dataclass(frozen=True, slots=True)
class Stretch:
    """Supports that a strand passes unbroken by geometry, in order, and what it ``bears`` on at the two ends."""

    supports: tuple[Support, ...]
    bears: tuple[BearsOn, BearsOn]

    def bearing(self, a: int, b: int) -> tuple[BearsOn, BearsOn]:
        """What a run from support a to support b bears on: where it is broken, the face it comes to."""
        return (
            self.bears[0] if a == 0 else AT_BREAK,
            self.bears[1] if b == len(self.supports) - 1 else AT_BREAK,
        )

    def length(self, a: int, b: int) -> float:
        """Length of a run from support a to support b, between its bearing faces."""
        first, last = self.supports[a], self.supports[b]
        past = (
            reach if face == "outer face" else -reach
            for face, reach in zip(self.bearing(a, b), (first.reaches[1], last.reaches[0]), strict=True)
        )
        return last.at - first.at + sum(past)


@dataclass(frozen=True, slots=True)
class Strung:
    """Strands, by their ``numbers``, over surfaces they pass unbroken by geometry, and how they are split into runs.

    ``breaks`` are positions in ``stretch`` where one run ends and the next begins, with what forced each in ``why``.
    """

    numbers: tuple[int, ...]
    surfaces: tuple[int, ...]
    stretch: Stretch
    breaks: tuple[int, ...]
    why: tuple[RunLimit, ...]

    @property
    def places(self) -> tuple[int, ...]:
        """Positions of all ends of runs, those between two runs once."""
        return (0, *self.breaks, len(self.stretch.supports) - 1)


def string(plan: Plan, stands: Sequence[Stand]) -> tuple[Strung, ...]:
    """Split every strand into runs: fewest terminals, then fewest at joints, then most even."""
    strung = []
    at = {stand.station: index for index, stand in enumerate(stands)}
    for numbers, over in _stretches(plan):
        supports = _supports(plan, stands, over, at)
        alike: dict[tuple[BearsOn, BearsOn], list[int]] = {}
        ends = (stands[supports[0].stand], over[0]), (stands[supports[-1].stand], over[-1])
        for number in numbers:
            first, last = (bears_on(plan, stand, surface, number - 1) for stand, surface in ends)
            alike.setdefault((first, last), []).append(number)
        for bears, same in alike.items():
            stretch = Stretch(supports, bears)
            strung.append(Strung(tuple(same), tuple(s.index for s in over), stretch, *_breaks(plan, stretch)))
    return tuple(strung)


def _stretches(plan: Plan) -> Iterator[tuple[tuple[int, ...], list[PlacedSurface]]]:
    """Strands that lie unbroken over the same surfaces, with those surfaces, in order of stations."""
    carriers = plan.carriers
    whole = [plan.whole(i) for i in range(len(plan.meetings))]
    counts = [len(plan.fields[s.index].heights) for s in carriers]
    for first in range(len(carriers)):
        arriving = whole[first - 1] if first else 0
        k = arriving
        while k < counts[first]:
            last = first
            while last < len(whole) and whole[last] > k:
                last += 1
            # strands with the same end: all of which the joints up to ``last`` let through, and the next does not
            most = min([counts[first], *whole[first:last]])
            yield tuple(range(k + 1, most + 1)), list(carriers[first : last + 1])
            k = most


def _supports(
    plan: Plan, stands: Sequence[Stand], stretch: Sequence[PlacedSurface], where: Mapping[Fraction, int]
) -> tuple[Support, ...]:
    first, last = plan.stops[stretch[0].index][0], plan.stops[stretch[-1].index][1]
    low = where[first.station]
    supports: list[Support] = []
    at, place = 0.0, first.station
    surface = 0
    for index in range(low, len(stands)):
        stand = stands[index]
        sec = float(plan.secs[stretch[surface].index])
        inner = stand.joint is not None and index - low > 0 and stand.station != last.station
        chord = plan.joined[stand.joint].chord if inner and stand.joint is not None else None
        second = chord is not None and stand.before is plan.meetings[stand.joint].after  # type: ignore[index]  # inner
        at += chord.length if chord is not None and second else float(stand.station - place) * sec
        place = stand.station
        after, bends = sec, False
        if chord is not None:
            bends = True
            across = chord.sec * float(chord.reach)
            if second:
                surface += 1
                sec, after = across, float(plan.secs[stretch[surface].index])
            else:
                after = across
        elif inner and stand.joint is not None:
            surface += 1
            after = float(plan.secs[stretch[surface].index])
            bends = plan.joined[stand.joint].bend_deg > 0
        half = float(stand.half)
        supports.append(Support(index, at, (half * sec, half * after), bends))
        if stand.station == last.station:
            break
    return tuple(supports)


class _Limits:
    """What the job lets one run be, over the supports of one stretch."""

    def __init__(self, strand: Strand, stretch: Stretch) -> None:
        self._strand, self._stretch = strand, stretch
        self._bends = list(accumulate((s.bends for s in stretch.supports), initial=0))

    def exceeded(self, a: int, b: int) -> RunLimit | None:
        """The limit that a run from support a to b exceeds, None where it exceeds none."""
        strand = self._strand
        if strand.angle_changes is not None and self._bends[b] - self._bends[a + 1] > strand.angle_changes:
            return "angle changes"
        if strand.longest_run is not None and self._stretch.length(a, b) > strand.longest_run:
            return "longest run"
        return None


def _breaks(plan: Plan, stretch: Stretch) -> tuple[tuple[int, ...], tuple[RunLimit, ...]]:
    """Where to break a stretch, and why."""
    limits = _Limits(plan.job.strand, stretch)
    last = len(stretch.supports) - 1
    exceeded = limits.exceeded(0, last)
    if exceeded is None:
        return (), ()
    best = _best(stretch, limits)
    if last not in best:
        bay = mark_above(Fraction(max(stretch.length(a, a + 1) for a in range(last))), plan.job.mark)
        must = f"at least {plain_text(bay)}, the longest bay between posts"
        raise JobError(Fault("strand.longest_run", must, float(plan.job.strand.longest_run or 0)))
    places = [last]
    while places[-1] > 0:
        places.append(best[places[-1]].before)
    places.reverse()
    why = tuple(limits.exceeded(a, c) or exceeded for a, c in zip(places, places[2:], strict=False))
    return tuple(places[1:-1]), why


class _Way(NamedTuple):
    """The best way to reach a support: compared by all but where it comes from."""

    runs: int
    at_joints: int
    uneven: float
    before: int


def _best(stretch: Stretch, limits: _Limits) -> dict[int, _Way]:
    """For each support that runs can end at, the least by (runs, breaks at joints, lengths squared)."""
    best = {0: _Way(0, 0, 0.0, -1)}
    for b in range(1, len(stretch.supports)):
        for a in range(b - 1, -1, -1):
            if limits.exceeded(a, b) is not None:
                break
            way = best.get(a)
            if way is None:
                continue
            at_joint = stretch.supports[a].bends and a > 0
            uneven = way.uneven + stretch.length(a, b) ** 2
            found = _Way(way.runs + 1, way.at_joints + at_joint, uneven, a)
            if b not in best or found[:3] < best[b][:3]:
                best[b] = found
    return best


def run_lengths(strung: Sequence[Strung]) -> list[float]:
    """Length of every run between its bearing faces, take-ups not yet off."""
    lengths = []
    for one in strung:
        here = [one.stretch.length(a, b) for a, b in pairwise(one.places)]
        lengths += here * len(one.numbers)
    return lengths


def broken_at(strung: Sequence[Strung]) -> Mapping[int, BrokenRuns]:
    """What is broken at each stand, by the stand's index."""
    found: dict[int, dict[int, RunLimit]] = {}
    for one in strung:
        for place, limit in zip(one.breaks, one.why, strict=True):
            found.setdefault(one.stretch.supports[place].stand, {}).update(dict.fromkeys(one.numbers, limit))
    return found
