"""Uncertainty of a measured step: the sphere's derivatives by its lengths, whatever it touches."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, Final

import numpy as np

from stairguard.geometry.clearance.outline import Outline, Vec
from stairguard.geometry.clearance.sensitivity import Motion, Sensitivity, sensitivity
from stairguard.model.asked.asked_opening import Measurement, Uncertainty
from stairguard.relations.printed.scalars import step_sphere_partials
from stairguard.solve.measured.rivals import contested
from stairguard.solve.measured.uncertainty import judge
from stairguard.solve.sphere.step_opening import StepOpening
from stairguard.solve.sphere.step_outline import step_pockets, throat_governs
from stairguard.solve.sphere.step_profile import Found

if TYPE_CHECKING:  # numpy.typing costs more to import than all of the geometry
    from numpy.typing import NDArray

    _Array = NDArray[np.float64]

LENGTHS: Final = ("rise", "run", "nosing", "tread", "lift")
"""The order of derivatives here."""

_THROAT: Final = np.array([1.0, 0.0, 0.0, -1.0, 0.0])
"""Rise less tread, by `LENGTHS`."""


def step_sensitivity(step: Mapping[str, Fraction], found: Found) -> Sensitivity:
    """Derivatives of one pocket by `LENGTHS`, from what it touches."""
    return sensitivity(found.outline, found.pocket, step_motion(step, found.outline))


def step_uncertainty(
    answer: StepOpening, measured: Mapping[str, Measurement], open_riser: bool, ratio: Fraction = Fraction(1),
    finest: float = 0.0,
) -> Uncertainty:  # fmt: skip
    """Uncertainty of a step's sphere.

    Parameters
    ----------
    answer : of `stairguard.solve.sphere.step_opening.step_opening` for the values measured
    measured : by `LENGTHS`
    ratio, finest : as of `stairguard.solve.measured.uncertainty.judge`
    """
    step = {key: measured[key].value for key in LENGTHS}
    standard = np.array([measured[key].standard for key in LENGTHS])
    found = step_pockets(step, open_riser)
    others = [(f.pocket.diameter, step_sensitivity(step, f).diameter) for f in found[1:]]
    if throat_governs(step, open_riser, found):
        slopes, changes = _THROAT, _mouth_may_open(step, standard)
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
        finest=finest,
    )


def _mouth_may_open(step: Mapping[str, Fraction], standard: _Array) -> bool:
    """Whether, where the throat governs, the member may in truth leave room for a larger sphere before it.

    The sphere of the throat g = R - T stands in its mouth at (G, g/2), under the member by
    f = G (R + T) / (2 k) + L - g/2 with k = sqrt(R^2 + G^2): as soon as f > 0 it may roll out and grow.
    """
    rise, run, _, tread, lift = (float(step[key]) for key in LENGTHS)
    k = float(np.hypot(rise, run))
    room = run * (rise + tread) / (2 * k) + lift - (rise - tread) / 2
    by_rise = run / (2 * k) - run * (rise + tread) * rise / (2 * k**3) - 0.5
    by_run = (rise + tread) / (2 * k) - run * run * (rise + tread) / (2 * k**3)
    slopes = np.array([by_rise, by_run, 0.0, run / (2 * k) + 0.5, 1.0])
    spread = float(np.sqrt(((slopes * standard) ** 2).sum()))
    return spread > 0 and -room <= 3 * spread


def _slopes(step: Mapping[str, Fraction], touches: Sequence[str], best: Sensitivity) -> _Array:
    """By the closed form where it holds, else as the contacts say."""
    if set(touches) != {"tread", "riser", "member"}:
        return best.diameter
    rise, run, nosing, lift = step_sphere_partials(*(float(step[k]) for k in ("rise", "run", "nosing", "lift")))
    return np.array([rise, run, nosing, 0.0, lift])


def step_motion(step: Mapping[str, Fraction], outline: Outline) -> Motion:
    """How the sites of a step's outline move with `LENGTHS`; its member as it stands over the treads."""
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
    places = {Fraction(0): 0 * run, front: run, front + back: 2 * run + nosing}
    if name != "nosing" or back > front:  # without a projection the nosing's front and the riser stand in one line
        places[back] = run + nosing
    under = step["rise"] - step["tread"]
    heights = {Fraction(0): 0 * rise, under: rise - tread, step["rise"]: rise}
    return np.array([places[at.x], heights[at.z]])
