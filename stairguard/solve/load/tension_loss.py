"""What becomes of a tension: temperatures to come, posts that dry, strand that settles; and what to set it at today."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

import numpy as np

from stairguard.model.guard.strand_deflection import (
    BayQuestion,
    HeldAndFree,
    Holding,
    ProbePlace,
    Taut,
    Upkeep,
    Weathered,
)
from stairguard.model.job import Climate, Frame, Push
from stairguard.model.published.frame_expansion import frame_expansion
from stairguard.model.published.wood_shrinkage import wood_movement
from stairguard.relations.printed import scalars
from stairguard.solve.load.resistance import holding, springs
from stairguard.solve.load.root_finding import held_up_to
from stairguard.solve.load.single_bay import place_of
from stairguard.statics.strand_state import changed_tension, seat_shortening, softened

_POINTS: Final = 9
_USUAL: Final[tuple[Frame, ...]] = ("steel", "aluminium", "wood")


@dataclass(frozen=True, slots=True)
class WeatheredStrand:
    """One strand as weather finds it: its ``bays`` in order, ``widths`` of which its ends' seats come in as posts dry.

    Those of posts whose outer faces they bear on; of others, none, or less than none where they draw back.
    """

    taut: Taut
    bays: tuple[float, ...]
    run: float
    widths: tuple[float, float]
    spring: float


def bay_upkeep(asked: BayQuestion, climate: Climate, width: Fraction | None) -> Upkeep:
    """Upkeep of one bay's strand, over its run from one end post to the other, each ``width`` wide."""
    widths = (float(width or 0),) * 2
    strung = WeatheredStrand(asked.taut, (float(asked.bay),), float(asked.run), widths, springs(asked.push)[1])
    return upkeep(strung, climate, (place_of(asked),), asked.push)


def upkeep(strung: WeatheredStrand, climate: Climate, places: Sequence[ProbePlace], push: Push) -> Upkeep:
    """What a strand goes through, and how the weakest of some places then stands."""
    points = _weathered(strung, climate, _temperatures(climate))
    lowest = min(points, key=lambda p: p.least)
    highest = max(points, key=lambda p: p.most)
    (today,) = _weathered(strung, climate, (float(climate.now),))
    found = holding(places, replace(strung.taut, tension=Fraction(lowest.least)), push)
    weak = min(found, key=_strength)
    return Upkeep(
        climate=climate,
        shortening=_shortening(strung, climate),
        drop=float(strung.taut.tension) - today.least,
        points=points,
        lowest=lowest,
        highest=highest,
        slack=not strung.taut.tension or _straight(strung, climate, lowest.temperature) <= 0,
        breaks=highest.most >= strung.taut.steel.breaking,
        holding=weak,
        to_set=to_set(strung, climate, most_needed(found)),
        otherwise=tuple(
            (name, _in_frame(strung, climate, name)) for name in _USUAL if climate.frame != ((name, Fraction(1)),)
        ),
    )


def _in_frame(strung: WeatheredStrand, climate: Climate, frame: Frame) -> tuple[float, ...]:
    """Tensions at the same temperatures in a frame of another material, by its figure's own value; nothing dries."""
    tension, made = float(strung.taut.tension), strung.taut.steel
    if not tension:
        return (0.0,) * len(_temperatures(climate))
    rate = float(frame_expansion(frame).value) / 1e6
    strain = (made.expansion - rate) * (np.array(_temperatures(climate)) - float(climate.now))
    ea = softened(made.stiffness, strung.run, strung.spring)
    return tuple(changed_tension(tension, ea, min(strung.bays), made.weight, strain).tolist())


def to_set(strung: WeatheredStrand, climate: Climate, needed: HeldAndFree) -> HeldAndFree:
    """The tension to set today for what is needed to be left at the lowest."""
    return HeldAndFree(
        *(None if least is None else _to_set(strung, climate, least) for least in (needed.held, needed.free))
    )


def _to_set(strung: WeatheredStrand, climate: Climate, least: float) -> float | None:
    """At least what is needed, since it must hold as set too; None where the cold would then break the strand."""
    breaking = strung.taut.steel.breaking

    def to_come(tension: float) -> tuple[Weathered, ...]:
        other = replace(strung, taut=replace(strung.taut, tension=Fraction(tension)))
        return _weathered(other, climate, _temperatures(climate))

    def excess(tension: float) -> float:
        return min(p.least for p in to_come(tension)) - least

    if not least or excess(breaking) < 0:
        return None if least else 0.0
    found = least if excess(least) >= 0 else held_up_to(excess, breaking, least)
    return None if max(p.most for p in to_come(found)) >= breaking else found


def _strength(found: Holding) -> float:
    """The push it takes, by the careful bound."""
    push = found.withstood.free
    return float("inf") if push is None else push


def most_needed(found: Sequence[Holding]) -> HeldAndFree:
    """The most tension that any place needs, of those that a tension can hold."""
    held, free = ([b for b in (getattr(one.needed, way) for one in found) if b is not None] for way in ("held", "free"))
    return HeldAndFree(max(held, default=None), max(free, default=None))


def _temperatures(climate: Climate) -> tuple[float, ...]:
    """Even steps from the coldest to the warmest, and today's."""
    ends = float(climate.coldest), float(climate.warmest)
    return tuple(sorted({*np.linspace(*ends, _POINTS).tolist(), float(climate.now)}))


def _weathered(strung: WeatheredStrand, climate: Climate, temperatures: Sequence[float]) -> tuple[Weathered, ...]:
    """Most and least tension: as set or moved and settled, by either bound of every figure."""
    tension, steel = float(strung.taut.tension), strung.taut.steel
    if not tension:
        return tuple(Weathered(at, 0.0, 0.0) for at in temperatures)
    strains = np.array(
        [
            [_by_heat(strung, climate, at, rate) + moved for at in temperatures]
            for rate in _rates(climate)
            for moved in (0.0, *_dried(strung, climate))
        ]
    )
    ends = {steel.stiffness_low, steel.stiffness_high}
    found = np.concatenate(
        [
            changed_tension(tension, softened(ea, strung.run, strung.spring), min(strung.bays), steel.weight, strains)
            for ea in ends
        ]
    )
    rows = zip(temperatures, found.max(axis=0).tolist(), found.min(axis=0).tolist(), strict=True)
    return tuple(Weathered(*row) for row in rows)


def _rates(climate: Climate) -> tuple[float, float]:
    """Bounds of the frame's expansion, per kelvin: its materials by their shares of its length."""
    figures = [(frame_expansion(name), share) for name, share in climate.frame]
    least, most = (sum(getattr(f, end) * share for f, share in figures) for end in ("least", "most"))
    return float(least) / 1e6, float(most) / 1e6


def _by_heat(strung: WeatheredStrand, climate: Climate, at: float, rate: float) -> float:
    """Free lengthening of the strand less its frame's, per unit, from today's temperature."""
    return (strung.taut.steel.expansion - rate) * (at - float(climate.now))


def _dried(strung: WeatheredStrand, climate: Climate) -> tuple[float, ...]:
    """The same by drying and settling, within the bounds of the wood's figures.

    A strand that slides shares both end posts' shrinkage over its run; where line posts grip it, the bay beside an end
    post has that post's all to itself.
    """
    found = []
    for seats, along in _moved(strung, climate):
        shares = sum(seats) / strung.run, seats[0] / strung.bays[0], seats[1] / strung.bays[-1]
        found += [share + along + float(climate.settling) for share in shares]
    return tuple(found)


def _moved(strung: WeatheredStrand, climate: Climate) -> Iterator[tuple[tuple[float, float], float]]:
    """How far each end's seat comes in as its post dries, and the part a wooden frame shortens by: least, then most."""
    if climate.wood is None:
        yield (0.0, 0.0), 0.0
        return
    moistures = climate.moisture_from, climate.moisture_to
    across = wood_movement(climate.wood, climate.grain, *moistures)
    along = wood_movement(climate.wood, "along", *moistures)
    wooden = float(sum(share for name, share in climate.frame if name == "wood"))
    for part, lengthwise in ((across.low, along.low), (across.high, along.high)):
        first, last = (float(seat_shortening(width, 0.0, float(part), climate.seated)) for width in strung.widths)
        yield (first, last), float(lengthwise) * wooden


def _shortening(strung: WeatheredStrand, climate: Climate) -> float:
    """The most by which the anchors come nearer as wood dries."""
    return max(sum(seats) + along * strung.run for seats, along in _moved(strung, climate))


def _straight(strung: WeatheredStrand, climate: Climate, at: float) -> float:
    """Least tension of the straight strand, without weight: nothing or less says that it hangs slack."""
    ea = float(softened(strung.taut.steel.stiffness_high, strung.run, strung.spring))
    strain = max(_by_heat(strung, climate, at, rate) for rate in _rates(climate)) + max(_dried(strung, climate))
    return scalars.tension_by_shortening(float(strung.taut.tension), ea, 1.0, strain)  # strain shortens one of run
