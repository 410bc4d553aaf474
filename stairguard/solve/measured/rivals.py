"""Whether another sphere could turn out to be the largest, within the uncertainty of both."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:  # numpy.typing costs more to import than all of the geometry
    from numpy.typing import NDArray

    _Array = NDArray[np.float64]


def contested(
    sphere: float, slopes: _Array, others: Iterable[tuple[float, _Array]], standard: _Array, times: float = 3.0
) -> bool:
    """Whether the lead of a sphere over one of ``others`` is within ``times`` its own standard uncertainty.

    ``slopes`` are a sphere's derivatives by the measurements, ``standard`` the standard uncertainties of those; (m,).
    """
    for other, theirs in others:
        spread = float(np.sqrt((((slopes - theirs) * standard) ** 2).sum()))
        if spread > 1e-12 * sphere and sphere - other <= times * spread:
            return True
    return False
