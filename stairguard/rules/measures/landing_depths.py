"""How deep a landing is in the direction of travel, as far as the guard line shows it or the job states it.

Along a straight line a landing's length is its depth. At a turn it is not: at the inner corner the landing goes on
beyond the post, away from the line, and a deck's edge runs across the way up or down the stair that leaves it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from stairguard.model.findings import Location
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Landing
from stairguard.model.rules import BoundKind as Bound
from stairguard.model.rules import Rule
from stairguard.model.subjects import BetweenFlights
from stairguard.solve.joint.rail_meeting import HALF_TURN
from stairguard.solve.line.surveyed_flight import smallest_run


@dataclass(frozen=True, slots=True)
class Depth:
    """A landing is ``least`` deep, and no deeper where that is ``exact``; ``stated`` where the job says it."""

    least: Fraction
    exact: bool
    stated: bool = False

    def decides(self, kind: Bound, limit: Fraction) -> bool:
        """Whether what is known of it is enough to hold it to a bound."""
        return self.exact or (kind == "at least" and self.least >= limit)


@dataclass(frozen=True, slots=True)
class Between:
    """Two flights with landings alone between, if any; ``needed`` is the run of the shorter tread."""

    first: PlacedSurface
    second: PlacedSurface
    depth: Depth
    needed: Fraction

    @property
    def what(self) -> BetweenFlights:
        """What is held to ``needed``."""
        return BetweenFlights(self.first.index, self.second.index)

    @property
    def place(self) -> Location:
        """Where that is."""
        return Location(self.first.index, self.what, float(self.first.edge_end.s))


def landing_depth(surfaces: Sequence[PlacedSurface], index: int) -> Depth:
    """Depth of a landing; of several in one straight line, of all of them together."""
    first, last = index, index
    while first and not surfaces[first].given.turn and surfaces[first - 1].kind == "landing":
        first -= 1
    while last + 1 < len(surfaces) and not surfaces[last + 1].given.turn and surfaces[last + 1].kind == "landing":
        last += 1
    stated = _stated(surfaces[first : last + 1])
    if stated is not None:
        return stated
    length, on = surfaces[last].edge_end.s - surfaces[first].edge_start.s, last + 1 < len(surfaces)
    turned = bool(surfaces[first].given.turn), on and bool(surfaces[last + 1].given.turn)
    if not any(turned):
        return Depth(length, True)
    # at least as long as the line follows it on from a flight or ramp, in whose direction one travels
    travelled = (first > 0 and not turned[0]) or (on and not turned[1])
    return Depth(length if travelled else Fraction(0), False)


def concerns(rule: Rule, surfaces: Sequence[PlacedSurface], index: int) -> bool:
    """Whether a rule's conditions on where it lies, if it has any, are met by a surface.

    One on landings of ramps is not about a stair's, nor a floor's edge; one on short runs is about flights with them.
    """
    if not rule.speaks_at(slopes_at(surfaces, index)):
        return False
    if rule.when_run_below is None:
        return True
    run = smallest_run(surfaces[index])
    return run is not None and run < rule.when_run_below


def slopes_at(surfaces: Sequence[PlacedSurface], index: int) -> set[str]:
    """Kinds of slope that a landing, or those it goes on to, lies at: none of an edge all round a floor."""
    first, last = index, index
    while first and surfaces[first].kind == "landing":
        first -= 1
    while last + 1 < len(surfaces) and surfaces[last].kind == "landing":
        last += 1
    return {str(surfaces[first].kind), str(surfaces[last].kind)} - {"landing"}


def _stated(landings: Sequence[PlacedSurface]) -> Depth | None:
    depths = [s.given.depth for s in landings if isinstance(s.given, Landing) and s.given.depth is not None]
    return Depth(min(depths), True, True) if depths else None


def between_flights(surfaces: Sequence[PlacedSurface]) -> Iterator[Between]:
    """Every two flights that follow one another but for landings between."""
    flights = [s for s in surfaces if s.kind == "flight"]
    for first, second in pairwise(flights):
        landings = surfaces[first.index + 1 : second.index]
        if all(s.kind == "landing" for s in landings):
            needed = min(run for s in (first, second) if (run := smallest_run(s)) is not None)
            yield Between(first, second, _between(first, landings, second), needed)


def _between(first: PlacedSurface, landings: Sequence[PlacedSurface], second: PlacedSurface) -> Depth:
    stated = _stated(landings)
    if stated is not None:
        return stated
    walk = (first, *landings, second)
    turns = [k for k, s in enumerate(walk) if k and s.given.turn]
    if not turns:
        return Depth(second.edge_start.s - first.edge_end.s, True)
    # beyond the first and the last turn it may go on; a half-turn comes back over what was gone
    legs = (
        walk[turns[0] - 1].edge_end.s - first.edge_end.s,
        second.edge_start.s - walk[turns[-1]].edge_start.s,
    )
    back = len(turns) == 1 and abs(walk[turns[0]].given.turn) == HALF_TURN
    return Depth(max(legs) if back else min(legs), False)
