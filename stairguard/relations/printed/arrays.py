"""The closed forms that the package calls, on arrays.

Printed from the declarations by ``python -m stairguard.relations.printer``: change those, not this file.

On arrays of floats, broadcast against each other. Lengths are in any one unit, angles in degrees. Domains are
not checked: outside them numpy gives nan or inf, with its own warnings.
"""
# Laid out by the printer and compared byte for byte.
# fmt: off

from __future__ import annotations

from typing import TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = [
    "strand_force",
    "strand_force_tension",
]

Floats: TypeAlias = NDArray[np.float64]


def strand_force(
    tension: ArrayLike, stiffness: ArrayLike, bay: ArrayLike, run: ArrayLike, deflection: ArrayLike,
) -> Floats:
    """Find ``force``: at mid-bay, square to the strand.

    From ``force = deflection*(4*deflection^2*(stiffness + tension)/(run*(bay/2 + sqrt(bay^2/4 +
    deflection^2))) + 2*tension)/sqrt(bay^2/4 + deflection^2)`` (``strand-force``).

    Parameters
    ----------
    tension : array of force
        Of the strand at rest. 0 or more.
    stiffness : array of force
        EA of the strand, its effective modulus times its metallic area. More than 0.
    bay : array of length
        Clear between two posts, along the strand. More than 0.
    run : array of length
        Of strand that stretches: the bay where it is held at both posts, else from anchor to anchor. More
        than 0.
    deflection : array of length
        Of the strand's middle in the bay, square to the strand. More than 0.

    Returns
    -------
    force : array of force
        At mid-bay, square to the strand. 0 or more.

    Notes
    -----
    Valid for: elastic strand without weight; two straight halves; it stretches alike over the whole run.
    Source: derived: the halves' true lengthening over the unstretched run gives the tension along them.
    """
    tension = np.asarray(tension, dtype=np.float64)
    stiffness = np.asarray(stiffness, dtype=np.float64)
    bay = np.asarray(bay, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    deflection = np.asarray(deflection, dtype=np.float64)
    part0 = deflection**2
    part1 = np.sqrt(bay**2/4 + part0)
    return np.asarray(deflection*(4*part0*(stiffness + tension)/(run*(bay/2 + part1)) + 2*tension)/part1)


def strand_force_tension(
    stiffness: ArrayLike, bay: ArrayLike, run: ArrayLike, deflection: ArrayLike, force: ArrayLike,
) -> Floats:
    """Find ``tension``: of the strand at rest.

    From ``force = deflection*(4*deflection^2*(stiffness + tension)/(run*(bay/2 + sqrt(bay^2/4 +
    deflection^2))) + 2*tension)/sqrt(bay^2/4 + deflection^2)`` (``strand-force``).

    Parameters
    ----------
    stiffness : array of force
        EA of the strand, its effective modulus times its metallic area. More than 0.
    bay : array of length
        Clear between two posts, along the strand. More than 0.
    run : array of length
        Of strand that stretches: the bay where it is held at both posts, else from anchor to anchor. More
        than 0.
    deflection : array of length
        Of the strand's middle in the bay, square to the strand. More than 0.
    force : array of force
        At mid-bay, square to the strand. 0 or more.

    Returns
    -------
    tension : array of force
        Of the strand at rest. 0 or more.

    Notes
    -----
    Valid for: elastic strand without weight; two straight halves; it stretches alike over the whole run.
    Source: derived: the halves' true lengthening over the unstretched run gives the tension along them.
    """
    stiffness = np.asarray(stiffness, dtype=np.float64)
    bay = np.asarray(bay, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    deflection = np.asarray(deflection, dtype=np.float64)
    force = np.asarray(force, dtype=np.float64)
    part0 = bay*run
    part1 = 4*deflection**2
    part2 = bay**2
    part3 = np.sqrt(part1 + part2)
    part4 = force*run
    return (
        np.asarray((force*part0*part3 + part1*part4 + part2*part4 -
        16*deflection**3*stiffness)/(4*deflection*(part0 + part1 + part3*run)))
    )
