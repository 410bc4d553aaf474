"""One bay answered: the push that opens it, and how far spacing or bay might go for the push asked for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Final

import numpy as np

from stairguard.errors import Fault, InputError
from stairguard.model.guard.strand_deflection import (
    BayAnswer,
    BayQuestion,
    HeldAndFree,
    Holding,
    Hung,
    HungAnswer,
    ProbePlace,
    PushCurve,
)
from stairguard.model.published.constructions import CONSTRUCTIONS
from stairguard.relations.printed import scalars
from stairguard.solve.load.resistance import bounds_of, holding, probe_of, springs
from stairguard.solve.load.root_finding import held_up_to
from stairguard.statics.probe_force import Bay, least_clear, push
from stairguard.statics.strand_state import hung_deflection, softened, tension_from_deflection

_POINTS: Final = 61
_PARTS: Final = tuple(k / 50 for k in range(1, 26))
"""Places along a bay, from one post to its middle, in parts of it."""
_FAR: Final = 1000
"""Times the bay asked about: where a longer or shorter one stops being looked for."""
_JUST_PAST: Final = 1 + 1e-9


def place_of(asked: BayQuestion) -> ProbePlace:
    """Where the probe is pushed: between two strands, or between one and a rigid edge."""
    probe = asked.push.sphere
    if probe is None:
        raise InputError(Fault("sphere", "a length", ""))
    spacing = float(asked.spacing)
    clear = spacing / 2 if asked.strands == 2 else spacing - float(probe) / 2
    at = None if asked.at is None else float(asked.at)
    return ProbePlace(
        bay=float(asked.bay), run=float(asked.run), clear=clear, strands=asked.strands, probe=float(probe), at=at
    )


def answer(asked: BayQuestion) -> BayAnswer:
    """Answer one bay.

    Raises
    ------
    JobError
        The tension is the strand's breaking force or more.
    """
    found = _holding(asked)
    taut = asked.taut
    settling = CONSTRUCTIONS[taut.steel.construction].settling
    tension, steel = float(taut.tension), taut.steel
    sag = scalars.strand_sag(steel.weight, float(asked.bay), tension) if tension else None
    wanted = asked.push.force
    at, push = _weakest(asked)
    settles = float(asked.run * settling.least), float(asked.run * settling.most)
    least, most = (min(tension, steel.stiffness * part / float(asked.run)) for part in settles)
    return BayAnswer(
        asked=asked,
        gap=asked.spacing - (asked.diameter if asked.strands == 2 else asked.diameter / 2),
        holding=found,
        elongation=scalars.strand_elongation(tension, steel.stiffness, float(asked.run)),
        sag=sag,
        widest=HeldAndFree(None, None) if not wanted else _bounds(lambda way: _widest(asked, float(wanted), way)),
        longest=HeldAndFree(None, None) if not wanted else _bounds(lambda way: _longest(asked, float(wanted), way)),
        weakest_at=at,
        weakest=push,
        settles=settles,
        loses=(least, most),
    )


def _weakest(asked: BayQuestion) -> tuple[float, float | None]:
    """The place from one post to mid-bay where the sliding strand takes the least push, and that push."""
    place = place_of(asked)
    places = [replace(place, at=place.bay * part) for part in _PARTS]
    found = holding(places, asked.taut, replace(asked.push, force=None))
    least = min(found, key=lambda one: _known(one, "free"))
    # equal but for rounding: mid-bay
    middle = found[-1]
    if _known(middle, "free") <= _known(least, "free") * (1 + 1e-12):
        least = middle
    return float(least.place.at or 0.0), least.push.free


def _known(found: Holding, way: str) -> float:
    force = getattr(found.push, way)
    return float("inf") if force is None else float(force)


def _holding(asked: BayQuestion) -> Holding:
    return holding((place_of(asked),), asked.taut, asked.push)[0]


def _freely(asked: BayQuestion) -> BayQuestion:
    """The same with no force asked for: a search needs the push alone, and not the tension for one."""
    return replace(asked, push=replace(asked.push, force=None))


def _bounds(of: Callable[[str], float | None]) -> HeldAndFree:
    return HeldAndFree(of("held"), of("free"))


def _enough(found: Holding, way: str) -> float:
    """The push that a bay withstands, the strand's breaking counted in."""
    push = getattr(found.withstood, way)
    return 0.0 if push is None else float(push)


def _widest(asked: BayQuestion, wanted: float, way: str) -> float | None:
    """Greatest spacing that holds the push; None where even strands that touch do not, or friction would drag them."""
    freely = _freely(asked)

    def excess(spacing: float) -> float:
        return _enough(_holding(replace(freely, spacing=Fraction(spacing))), way) - wanted

    probe, diameter = float(asked.push.sphere or 0), float(asked.diameter)
    # against an edge the probe's middle must stay on its side of the strand
    least, most = (diameter, probe + diameter) if asked.strands == 2 else (probe / 2 * 1.01, probe + diameter / 2)
    drags = float(least_clear(probe_of(asked.push, probe, diameter), float(asked.push.friction))) * _JUST_PAST
    least = max(least, 2 * drags if asked.strands == 2 else drags + probe / 2)
    if most <= least or excess(least) < 0:
        return None
    return held_up_to(excess, least, most)


def _longest(asked: BayQuestion, wanted: float, way: str) -> float | None:
    """Longest bay that holds the push, the probe at its middle; None where none within reason does, or all do."""
    freely = _freely(asked)

    def excess(bay: float) -> float:
        length = Fraction(bay)
        run = length if asked.run == asked.bay else max(asked.run, length)
        longer = replace(freely, bay=length, run=run, at=None)
        return _enough(_holding(longer), way) - wanted

    least, most = float(asked.bay) / _FAR, float(asked.bay) * _FAR
    if excess(least) < 0 or excess(most) > 0:
        return None
    return held_up_to(excess, least, most)


def push_curve(asked: BayQuestion, most: float) -> PushCurve:
    """The push over tensions from none to ``most``, or to where the strand would break on the probe's way."""
    place, steel = place_of(asked), asked.taut.steel
    runs = np.array([place.bay, max(place.run, place.bay)])
    tensions = np.linspace(0.0, min(most, steel.breaking), _POINTS)[:, None]
    bay = Bay(place.bay, tensions, steel.stiffness, runs, place.at, np.array(springs(asked.push)))
    probe = probe_of(asked.push, place.probe, float(steel.diameter))
    found = push(bay, probe, place.clear, place.strands, float(asked.push.friction))
    kept = (found.tension < steel.breaking).all(axis=1) & np.isfinite(found.force).all(axis=1)
    return PushCurve(
        *(tuple(column[kept].tolist()) for column in (tensions[:, 0], found.force[:, 0], found.force[:, 1]))
    )


def turns(found: BayAnswer, lead: Fraction) -> float:
    """Turns of a tensioner from slack to the tension: what they draw in stretches the strand."""
    return float(scalars.tensioner_turns(found.elongation, float(lead)))


def hung_answer(asked: BayQuestion, hung: Hung) -> HungAnswer:
    """What a mass hung at mid-bay of one strand should do, and what it says of the tension where it was measured."""
    bay, runs = float(asked.bay), (float(asked.bay), float(asked.run))
    stiffness = softened(asked.taut.steel.stiffness, runs, springs(asked.push))
    weight = float(hung.weight)
    expected = hung_deflection(weight, float(asked.taut.tension), stiffness, bay, runs)
    if hung.sinks is None:
        return HungAnswer(hung, bounds_of(expected), HeldAndFree(None, None))
    return HungAnswer(
        hung, bounds_of(expected), bounds_of(tension_from_deflection(weight, float(hung.sinks), stiffness, bay, runs))
    )
