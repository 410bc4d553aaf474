"""Uncertainty of a sphere on its way past a guard beside the stair, by what holds it where the way is narrowest.

At a fixed centre the clearance of contact i grows by ``-n_i . v_i - d radius_i`` where what is touched moves by
``v_i``, ``n_i`` the unit normal from the contact to the centre. The narrowest place of a way is held by contacts whose
weights have ``sum w = 1, sum w n = 0``, and there ``dD = 2 sum w_i d(clearance_i)``, as in the plane.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Final

import numpy as np

from stairguard.errors import GeometryError
from stairguard.geometry.clearance.outline import Edge
from stairguard.model.asked.asked_opening import Measurement, Uncertainty
from stairguard.model.asked.opening_question import sizes_of
from stairguard.solve.measured.measured_step import step_motion
from stairguard.solve.measured.uncertainty import judge
from stairguard.solve.sphere.edge_opening import EdgeOpening
from stairguard.solve.sphere.step_opening import StepOpening, step_opening
from stairguard.solve.sphere.step_outline import step_figure
from stairguard.solve.sphere.step_profile import Found

if TYPE_CHECKING:  # numpy.typing costs more to import than all of the geometry
    from numpy.typing import NDArray

    _Array = NDArray[np.float64]

BESIDE_LENGTHS: Final = ("rise", "run", "nosing", "tread", "lift", "offset", "strand_diameter")
"""The order of derivatives here."""
_TIMES: Final = 3.0
"""So many standard uncertainties off the lengths are tried for other contacts."""
_STRAIGHT: Final = 0.05
"""Of what a sphere changes by: so much of it beside the linear figure makes that only indicative."""
_LEAST: Final = 1e-6
"""Of the step's size: a length moved by less tells rounding."""


@dataclass(frozen=True, slots=True)
class WayContact:
    """Unit normal from a contact to the centre, (3,), and how fast the clearance there grows by each length, (m,)."""

    normal: _Array
    growth: _Array


def way_slopes(contacts: Sequence[WayContact]) -> _Array:
    """Derivatives of a sphere's diameter by m lengths, shape (m,), from the contacts that hold it."""
    normals = np.array([contact.normal for contact in contacts])
    matrix = np.r_[normals.T, np.ones((1, len(contacts)))]
    weights = np.linalg.lstsq(matrix, np.array([0.0, 0.0, 0.0, 1.0]), rcond=None)[0]
    slopes: _Array = 2 * weights @ np.array([contact.growth for contact in contacts])
    return slopes


def beside_slopes(step: Mapping[str, Fraction], found: Found) -> _Array:
    """Derivatives of a way out from over a step by `BESIDE_LENGTHS`, from what holds the sphere there."""
    pocket = found.pocket
    x, z = pocket.centre
    centre = np.array([x, pocket.out, z])
    motion = step_motion(step, found.outline)
    few = len(motion.starts[0, 0])
    contacts = []
    for site, (cx, cz), name in zip(pocket.sites, pocket.contacts, found.names, strict=True):
        if name == "member":
            contacts.append(_on_member(step, centre))
            continue
        away = centre - np.array([cx, min(pocket.out, 0.0), cz])
        normal = away / np.linalg.norm(away)
        edge, share = found.outline.site(site), 0.0
        if isinstance(edge, Edge) and name != _SIDE:
            ax, az, bx, bz = (float(v) for v in (*edge.a, *edge.b))
            square = (bx - ax) ** 2 + (bz - az) ** 2
            share = min(max(((cx - ax) * (bx - ax) + (cz - az) * (bz - az)) / square, 0.0), 1.0)
        moved = (1 - share) * motion.starts[site] + share * motion.ends[site]
        growth = np.zeros(len(BESIDE_LENGTHS))
        growth[:few] = -(normal[0] * moved[0] + normal[2] * moved[1])
        contacts.append(WayContact(normal, growth))
    return way_slopes(contacts)


_SIDE: Final = "stair side"


def _on_member(step: Mapping[str, Fraction], centre: _Array) -> WayContact:
    """Of the member: its axis is square over the nosing line by lift and half its diameter, and out by the offset."""
    rise, run, lift, offset, diameter = (float(step[k]) for k in ("rise", "run", "lift", "offset", "strand_diameter"))
    along = np.array([run, 0.0, rise]) / np.hypot(rise, run)
    square = np.array([-along[2], 0.0, along[0]])
    axis = np.array([0.0, offset, 0.0]) + (lift + diameter / 2) * square
    foot = float((centre - axis) @ along)
    away = centre - axis - foot * along
    normal = away / np.linalg.norm(away)
    steps = foot / float(np.hypot(rise, run))
    moves = {
        "rise": np.array([0.0, 0.0, steps]),
        "run": np.array([steps, 0.0, 0.0]),
        "lift": square,
        "offset": np.array([0.0, 1.0, 0.0]),
        "strand_diameter": square / 2,
    }
    # as the step turns, so does the square over the nosing line: along the member, where nothing is met
    growth = np.array([-float(normal @ moves.get(name, np.zeros(3))) for name in BESIDE_LENGTHS])
    growth[BESIDE_LENGTHS.index("strand_diameter")] -= 0.5
    return WayContact(normal, growth)


def way_uncertainty(
    answer: StepOpening, lengths: Sequence[Measurement], open_riser: bool, ratio: Fraction = Fraction(1),
    finest: float = 0.0,
) -> Uncertainty:  # fmt: skip
    """Uncertainty of the largest sphere out from over a step.

    Where no contacts hold the sphere, or others do within the uncertainty, its derivatives are differences.

    Parameters
    ----------
    answer : of `stairguard.solve.sphere.step_opening.step_opening` for the values measured
    lengths : as measured, in the order of `BESIDE_LENGTHS`
    ratio, finest : as of `stairguard.solve.measured.uncertainty.judge`
    """
    step = sizes_of(lengths)
    found = step_figure(step, open_riser)
    held = bool(found.pocket.error is not None and not found.pocket.error)
    slopes = beside_slopes(step, found) if held else _differences(step, lengths, open_riser)
    return judge(
        answer.sphere,
        lengths,
        [float(slope) for slope in slopes],
        limit=answer.limit,
        passes=answer.passes,
        ratio=ratio,
        contact_may_change=not held or _bends(answer, lengths, slopes, open_riser),
        finest=finest,
    )


def _solved(step: Mapping[str, Fraction], moved: Mapping[str, float], open_riser: bool) -> StepOpening | None:
    """The step with some lengths other than they are; None where it is no step, or nothing is left open."""
    sizes = {name: value + Fraction(moved.get(name, 0.0)) for name, value in step.items()}
    if any(sizes[name] < 0 for name in sizes if name != "lift") or not sizes["offset"] or not sizes["strand_diameter"]:
        return None
    if sizes["tread"] >= sizes["rise"] or sizes["nosing"] >= sizes["run"]:
        return None
    try:
        return step_opening(**sizes, open_riser=open_riser, limit=None)
    except GeometryError:
        return None


def _differences(step: Mapping[str, Fraction], lengths: Sequence[Measurement], open_riser: bool) -> _Array:
    """Differences of the solved sphere about each length, over its uncertainty."""
    least = _LEAST * float(step["rise"] + step["run"])
    slopes = []
    for name, length in zip(BESIDE_LENGTHS, lengths, strict=True):
        by = max(length.standard, 1000 * least)
        up, down = (_solved(step, {name: sign * by}, open_riser) for sign in (1, -1))
        middle = _solved(step, {}, open_riser)
        high, low = up or middle, down or middle
        apart = by * ((up is not None) + (down is not None))
        slopes.append(0.0 if high is None or low is None or not apart else (high.sphere - low.sphere) / apart)
    return np.array(slopes)


def _bends(answer: StepOpening, lengths: Sequence[Measurement], slopes: _Array, open_riser: bool) -> bool:
    """Whether within the uncertainty something else is touched, or the sphere strays from the linear figure.

    Tried at each length by itself off by three standard uncertainties either way, and at all together so that they
    add up.
    """
    step = sizes_of(lengths)
    off = np.array([_TIMES * length.standard for length in lengths])
    combined = float(np.hypot.reduce(slopes * off))
    if not combined:
        return False
    tries = [sign * off * np.eye(len(off))[k] for k in np.flatnonzero(off) for sign in (1, -1)]
    tries += [sign * slopes * off * off / combined for sign in (1, -1)]
    for by in tries:
        solved = _solved(step, dict(zip(BESIDE_LENGTHS, by.tolist(), strict=True)), open_riser)
        if solved is None:
            continue
        if set(solved.touches) != set(answer.touches) or solved.beside is None:
            return True
        if abs(solved.sphere - answer.sphere - float(slopes @ by)) > _STRAIGHT * combined:
            return True
    return False


def edge_uncertainty(
    answer: EdgeOpening, lengths: Sequence[Measurement], ratio: Fraction = Fraction(1), finest: float = 0.0
) -> Uncertainty:
    """Uncertainty of the largest sphere over a level edge.

    Parameters
    ----------
    answer : of `stairguard.solve.sphere.edge_opening.edge_opening` for the values measured
    lengths : height, offset and strand diameter as measured
    ratio, finest : as of `stairguard.solve.measured.uncertainty.judge`
    """
    height, offset = (float(length.value) for length in lengths[:2])
    over = max(height, 0.0)
    reach = float(np.hypot(over, offset))
    spread = [_TIMES * length.standard for length in lengths[:2]]
    # at the height of the surface what is touched changes; close to the edge its distance is no straight line
    changes = bool(spread[0]) and (abs(height) <= spread[0] or (height > 0 and max(spread) > _STRAIGHT * 2 * reach))
    return judge(
        answer.sphere,
        lengths,
        [over / reach, offset / reach, -0.5],
        limit=answer.limit,
        passes=answer.passes,
        ratio=ratio,
        contact_may_change=changes,
        finest=finest,
    )
