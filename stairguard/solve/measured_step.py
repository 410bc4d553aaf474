"""Uncertainty of a measured step: the sphere's derivatives by rise, run, nosing, tread and lift, whatever it touches."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, Final

import numpy as np

from stairguard.geometry.outline import Edge, Outline, Vec
from stairguard.geometry.pockets import Pocket, compare
from stairguard.geometry.sensitivity import Motion, Sensitivity, sensitivity
from stairguard.relations.scalars import step_sphere_partials
from stairguard.solve.measured import Measurement, Uncertainty, judge
from stairguard.solve.profile import Found, Member, Profile, cell_pockets
from stairguard.solve.rivals import contested
from stairguard.solve.step import StepOpening

if TYPE_CHECKING:  # numpy.typing costs more to import than all of the geometry
    from numpy.typing import NDArray

    _Array = NDArray[np.float64]

__all__ = ["LENGTHS", "step_figure", "step_sensitivity", "step_uncertainty"]

LENGTHS: Final = ("rise", "run", "nosing", "tread", "lift")
"""The order of derivatives here."""

_THROAT: Final = np.array([1.0, 0.0, 0.0, -1.0, 0.0])
"""Rise less tread, by `LENGTHS`."""


def step_figure(step: Mapping[str, Fraction], open_riser: bool) -> tuple[Outline, Pocket]:
    """The outline at one step and the pocket of its largest sphere: ``step`` by `LENGTHS`, any one unit.

    Where the sphere between two treads of an open stair is the largest, those two surfaces alone.
    """
    found = _found(step, open_riser)
    if found and not _throat_governs(step, open_riser, found):
        return found[0].outline, found[0].pocket
    gap, front, back = step["rise"] - step["tread"], step["run"], step["run"] + step["nosing"]
    tread = Edge(Vec(Fraction(0), Fraction(0)), Vec(back, Fraction(0)), "tread")
    board = Edge(Vec(front + back, gap), Vec(front, gap), "nosing")
    x = float(front + back) / 2
    ends = ((float(front), float(gap) / 2), (float(back), float(gap) / 2))
    contacts = ((x, 0.0), (x, float(gap)))
    return Outline((tread, board), ()), Pocket(float(gap), (x, float(gap) / 2), (0, 1), contacts, ends)


def step_sensitivity(step: Mapping[str, Fraction], found: Found) -> Sensitivity:
    """Derivatives of one pocket by `LENGTHS`, from what it touches."""
    return sensitivity(found.outline, found.pocket, _motion(step, found.outline))


def step_uncertainty(
    answer: StepOpening, measured: Mapping[str, Measurement], open_riser: bool, ratio: Fraction = Fraction(1)
) -> Uncertainty:
    """Uncertainty of a step's sphere.

    Parameters
    ----------
    answer : of `stairguard.solve.step.step_opening` for the values measured
    measured : by `LENGTHS`
    ratio : of the guard band to twice the standard uncertainty
    """
    step = {key: measured[key].value for key in LENGTHS}
    standard = np.array([measured[key].standard for key in LENGTHS])
    found = _found(step, open_riser)
    others = [(f.pocket.diameter, step_sensitivity(step, f).diameter) for f in found[1:]]
    if _throat_governs(step, open_riser, found):
        slopes, changes = _THROAT, False
        others += [(f.pocket.diameter, step_sensitivity(step, f).diameter) for f in found[:1]]
    else:
        best = step_sensitivity(step, found[0])
        slopes, changes = _slopes(step, answer.touches, best), best.may_change(standard)
        if open_riser:
            others.append((float(step["rise"] - step["tread"]), _THROAT))
    return judge(
        answer.sphere,
        [measured[key] for key in LENGTHS],
        [float(s) for s in slopes],
        limit=answer.limit,
        passes=answer.passes,
        ratio=ratio,
        contact_may_change=changes or contested(answer.sphere, slopes, others, standard),
    )


def _slopes(step: Mapping[str, Fraction], touches: Sequence[str], best: Sensitivity) -> _Array:
    """By the closed form where it holds, else as the contacts say."""
    if set(touches) != {"tread", "riser", "member"}:
        return best.diameter
    rise, run, nosing, lift = step_sphere_partials(*(float(step[k]) for k in ("rise", "run", "nosing", "lift")))
    return np.array([rise, run, nosing, 0.0, lift])


def _found(step: Mapping[str, Fraction], open_riser: bool) -> list[Found]:
    profile = Profile(step["rise"], step["run"], step["nosing"], step["tread"], open_riser)
    return list(cell_pockets(profile, Member("member", Fraction(0), -step["lift"]), 1))


def _throat_governs(step: Mapping[str, Fraction], open_riser: bool, found: Sequence[Found]) -> bool:
    throat = step["rise"] - step["tread"]
    return open_riser and (not found or compare(found[0].outline, found[0].pocket, throat) <= 0)


def _motion(step: Mapping[str, Fraction], outline: Outline) -> Motion:
    sites = [(e.a, e.b, e.name) for e in outline.edges] + [(c.at, c.at, c.name) for c in outline.corners]
    radii = np.zeros((len(sites), len(LENGTHS)))
    for k, (_, _, name) in enumerate(sites):
        radii[k, LENGTHS.index("lift")] = -1.0 if name == "member" else 0.0
    return Motion(
        np.array([_moved(step, a, name) for a, _, name in sites]),
        np.array([_moved(step, b, name) for _, b, name in sites]),
        radii,
    )


def _moved(step: Mapping[str, Fraction], at: Vec, name: str) -> _Array:
    """How a point of the outline moves with each length: shape (2, 5). All points are sums of the lengths."""
    rise, run, nosing, tread, _ = np.eye(len(LENGTHS))
    if name == "member":  # drawn along the nosing line
        steps = float(at.x / step["run"])
        return np.array([steps * run, steps * rise])
    front, back = step["run"], step["run"] + step["nosing"]
    # without a projection riser and nosing stand in one line; the riser and the tread's back keep their names
    places = {Fraction(0): 0 * run, front: run} | {back: run + nosing for _ in range(name != "nosing" or back > front)}
    places[front + back] = 2 * run + nosing
    under = step["rise"] - step["tread"]
    heights = {Fraction(0): 0 * rise, under: rise - tread} | {step["rise"]: rise}
    return np.array([places[at.x], heights[at.z]])
