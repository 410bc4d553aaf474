"""Whether strands hold a push: places asked all at once, each with its two bounds."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import inf, isfinite, isnan
from typing import TYPE_CHECKING, Final

import numpy as np

from stairguard.errors import Fault, JobError
from stairguard.geometry.marks import figure_text, last_digit, mark_below, plain_text
from stairguard.model.guard.strand_deflection import HeldAndFree, Holding, ProbePlace, PushVerdict, Taut
from stairguard.model.job import Push
from stairguard.solve.load.root_finding import root
from stairguard.statics.probe_force import (
    Bay,
    Probe,
    Pushed,
    cone,
    first_contact,
    least_clear,
    push,
    push_at,
    sphere,
    tension_for,
)

if TYPE_CHECKING:  # numpy.typing costs more to import than the work takes
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

_HALVINGS: Final = 42
_NEAREST: Final = 100
"""Times nearer than a strand is: where one that would hold stops being looked for."""
_JUST_PAST: Final = 1 + 1e-9


def check_tension(taut: Taut) -> None:
    """Raise JobError where the strand would break at rest."""
    if float(taut.tension) >= taut.steel.breaking:
        breaking = taut.steel.breaking
        most = plain_text(mark_below(Fraction(breaking), last_digit(breaking, 6), less=True))  # it holds when typed
        must = f"less than the strand's breaking force ({most} at most)"
        raise JobError(Fault("strand.tension", must, figure_text(taut.tension)))


def springs(asked: Push) -> tuple[float, float]:
    """Stiffness of one support: a post where the strand is held, an anchor on its end post where it slides."""
    post, anchor = (inf if one is None else float(one) for one in (asked.post_stiffness, asked.anchor_stiffness))
    return post, 1 / (1 / post + 1 / anchor) if isfinite(post) or isfinite(anchor) else inf


def probe_of(asked: Push, diameter: float | Floats, strand: float) -> Probe:
    """The job's probe of this diameter against strands of that."""
    return (sphere if asked.probe == "sphere" else cone)(diameter, strand)


def holding(places: Sequence[ProbePlace], taut: Taut, asked: Push) -> tuple[Holding, ...]:
    """Answer every place: push, the tension needed, and the verdict on the force asked for.

    Raises
    ------
    JobError
        The tension is the strand's breaking force or more.
    """
    check_tension(taut)
    if not places:
        return ()
    case = _Case(places, taut, asked)
    found = push(case.bay(float(taut.tension)), case.probe, case.clear, case.strands, case.friction)
    needed = None
    if asked.force is not None:
        needed = tension_for(float(asked.force), case.bay(0.0), case.probe, case.clear, case.strands, case.friction)
    return tuple(_one(case, found, needed, i) for i in range(len(places)))


@dataclass(frozen=True, slots=True)
class _Case:
    """Places as arrays, a row each, with a column for each bound: held, free."""

    places: Sequence[ProbePlace]
    taut: Taut
    asked: Push

    def _column(self, name: str) -> Floats:
        return np.array([[float(getattr(place, name))] for place in self.places])

    @property
    def friction(self) -> float:
        return float(self.asked.friction)

    @property
    def clear(self) -> Floats:
        return self._column("clear")

    @property
    def strands(self) -> Floats:
        return self._column("strands")

    @property
    def probe(self) -> Probe:
        return probe_of(self.asked, self._column("probe"), float(self.taut.steel.diameter))

    def bay(self, tension: float) -> Bay:
        length = self._column("bay")
        run = np.hstack((length, np.maximum(self._column("run"), length)))
        at = np.array([[p.bay / 2 if p.at is None else p.at] for p in self.places])
        return Bay(length, tension, self.taut.steel.stiffness, run, at, self.springs)

    @property
    def springs(self) -> Floats:
        return np.array([springs(self.asked)])


def bounds_of(row: Iterable[float]) -> HeldAndFree:
    """Two figures as bounds, None where there is none."""
    held, free = (float(value) if isfinite(value) else None for value in row)
    return HeldAndFree(held, free)


def _one(case: _Case, found: Pushed, needed: Floats | None, i: int) -> Holding:
    most = case.taut.steel.breaking
    broken = [bool(t >= most) for t in found.tension[i]]
    at_break = [_at_break(case, i, k) if broken[k] else np.nan for k in (0, 1)]
    force = np.where(broken, np.nan, found.force[i])
    enough = np.where(broken, at_break, found.force[i])
    wanted = np.full(2, np.nan) if needed is None else np.where(needed[i] < most, needed[i], np.nan)
    return Holding(
        place=case.places[i],
        push=bounds_of(force),
        breaking=bounds_of(at_break),
        contact_deg=bounds_of(np.where(broken, np.nan, found.contact[i])),
        deflection=bounds_of(np.where(broken, np.nan, found.deflection[i])),
        tension=bounds_of(np.where(broken, np.nan, found.tension[i])),
        needed=bounds_of(wanted),
        verdict=_verdict(case.places[i], enough, case.asked, float(case.taut.steel.diameter)),
    )


def _verdict(place: ProbePlace, enough: Floats, asked: Push, diameter: float) -> PushVerdict | None:
    """Judge by the push needed, or by the one at which a strand breaks."""
    if 2 * place.clear >= place.probe + diameter:
        return "passes untouched"
    if place.clear <= 0:
        return "turned aside"
    if any(isnan(one) for one in enough):
        return "no answer"
    if asked.force is None:
        return None
    held, free = (one >= float(asked.force) for one in enough)
    return "holds" if held and free else "between" if held else "gives way"


def nearer_by(places: Sequence[ProbePlace], taut: Taut, asked: Push) -> tuple[float | None, ...]:
    """How much nearer each strand must start to the probe's middle to hold the force asked for, even if it slides.

    Of every place, all halved at once; None where one a hundredth as far would not hold.
    """
    wanted = float(asked.force or 0)
    freely = replace(asked, force=None)  # the tension needed is not asked for again and again

    def holds(clears: Floats) -> NDArray[np.bool_]:
        tried = [replace(place, clear=float(clear)) for place, clear in zip(places, clears, strict=True)]
        return np.array([_least_push(found) >= wanted for found in holding(tried, taut, freely)])

    far = np.array([place.clear for place in places])
    probes = (probe_of(asked, place.probe, float(taut.steel.diameter)) for place in places)
    drags = np.array([float(least_clear(probe, float(asked.friction))) for probe in probes])
    near = np.maximum(far / _NEAREST, drags * _JUST_PAST)
    can, start = holds(near), far.copy()
    for _ in range(_HALVINGS):
        middle = (near + far) / 2
        enough = holds(middle)
        near, far = np.where(enough, middle, near), np.where(enough, far, middle)
    by = start - near
    by = np.where(start - by > near, np.nextafter(by, inf), by)  # so that moved by it a strand is where it held
    return tuple(float(one) if held else None for one, held in zip(by, can, strict=True))


def _least_push(found: Holding) -> float:
    """The push a place withstands by either bound: a strand about to break may break held, and not where it slides."""
    both = found.withstood.held, found.withstood.free
    return min((push for push in both if push is not None), default=inf)


def _at_break(case: _Case, i: int, k: int) -> float:
    """Push at which the strand of one bound reaches its breaking force, on the way to the greatest."""
    place = case.places[i]
    tension, most = float(case.taut.tension), case.taut.steel.breaking
    run = place.bay if k == 0 else max(place.run, place.bay)
    bay = Bay(place.bay, tension, case.taut.steel.stiffness, run, place.at, float(case.springs[0, k]))
    probe = probe_of(case.asked, place.probe, float(case.taut.steel.diameter))

    def at(contact: float) -> Pushed:
        return push_at(contact, bay, probe, place.clear, place.strands, case.friction)

    last = float(push(bay, probe, place.clear, place.strands, case.friction).contact)
    first = float(first_contact(probe, place.clear))
    if not float(at(first).tension) < most:  # a cone bears with its whole breadth at once
        return float(at(first).force) * most / float(at(first).tension)
    contact = root(lambda f: float(at(f).tension) - most, last, first)
    return float(at(contact).force)
