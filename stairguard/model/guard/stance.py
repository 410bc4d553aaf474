"""How a post stands in plan to the strands and rails that come to it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

__all__ = ["SQUARE", "Stance"]


@dataclass(frozen=True, slots=True)
class Stance:
    """A post as deep as it is wide, seen from above.

    Its faces are ``turned_deg`` from square to the surface before it, left positive. ``askews_deg`` are the angles of
    what arrives and of what leaves from square to the face it comes to, -45 to 45, left positive; ``reach`` is how far
    from the centre both come out of it, level along them, in half-widths: 1 / cos of either.
    """

    turned_deg: float
    askews_deg: tuple[float, float]
    reach: Fraction


SQUARE: Final = Stance(0.0, (0.0, 0.0), Fraction(1))
"""A post with a face square to all that comes to it."""
