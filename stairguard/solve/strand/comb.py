"""How many strands, how far apart, how high: one comb of even plumb spacing over a surface, or over several.

Over a flight and its landings in ``through`` mode the strands are one comb, counted from the rail down, so that a
strand keeps its number and its plumb spacing through every joint post. A landing whose rail stands higher above the
comb takes on strands of its own below; each surface ends where its own lowest opening allows.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from stairguard.errors import Fault, JobError
from stairguard.model.guard.rails_and_strands import Field
from stairguard.relations.printed.by_slope import square_of_plumb, strand_ellipse


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """What one surface asks of its strands; heights plumb above its datum.

    ``shift`` turns the comb's heights into the surface's. ``lowest`` is how high the lowest strand's centre may be
    (None: as high as one spacing, no rule asks for less), ``least`` how low any strand's may be. ``spacing`` is the
    largest plumb spacing.
    """

    surface: int
    shift: Fraction
    underside: Fraction
    lowest: Fraction | None
    spacing: Fraction
    sec: Fraction
    diameter: Fraction
    least: Fraction

    @property
    def roof(self) -> Fraction:
        """Height of the strand that would leave the rail's underside half a strand lower.

        The gap under the rail then equals the others when strand 1 is one spacing below the roof.
        """
        return self.underside + self.half_strand

    @property
    def half_strand(self) -> Fraction:
        """What half a strand takes of a plumb distance."""
        return strand_ellipse(self.diameter, self.sec) / 2

    @property
    def floor(self) -> Fraction:
        """Height of the lowest strand, or the datum where no rule places it."""
        return Fraction(0) if self.lowest is None else self.lowest


def _divide(ground: Ground, height: Fraction, spacing: Fraction) -> tuple[int, Fraction]:
    """Fewest strands at equal spacings down from the roof to the floor, and their spacing.

    Where a rule places the lowest strand it stands on the floor; else the floor is left free, one spacing below it.
    """
    if height <= 0:
        must = "above the lowest strand, with room for another under the rail"
        raise JobError(Fault("rail.height", must, float(ground.underside)))
    spaces = max(ceil(height / spacing), 1 if ground.lowest is not None else 2)
    return spaces - (ground.lowest is None), height / spaces


def _field(ground: Ground, heights: Sequence[Fraction], spacing: Fraction) -> Field:
    plumb = spacing if len(heights) > 1 else Fraction(0)
    return Field(ground.surface, tuple(heights), plumb, float(square_of_plumb(plumb, ground.sec)))


def own_field(ground: Ground) -> Field:
    """Strands of one surface on its own."""
    count, spacing = _divide(ground, ground.roof - ground.floor, ground.spacing)
    return _field(ground, [ground.roof - k * spacing for k in range(1, count + 1)], spacing)


def fits_under(ground: Ground, field: Field) -> bool:
    """Whether the top strand clears the rail's underside."""
    return ground.underside - field.heights[0] > ground.half_strand


def comb(main: Ground, others: Sequence[Ground]) -> tuple[Field, ...]:
    """Strands of ``main`` and of the surfaces that share its strands, in the order given, ``main`` first.

    The spacing is the least that any of them asks for; the gap under every rail is no larger than the others.
    """
    grounds = [main, *others]
    roof = max(g.roof - g.shift for g in grounds)
    count, spacing = _divide(main, roof - main.floor, min(g.spacing for g in grounds))
    fields = []
    for g in grounds:
        # where no rule places it, the lowest strand of another surface may stand one spacing above that
        lowest = g.spacing if g.lowest is None else g.lowest
        own = 0 if g is main else ceil((roof + g.shift - lowest) / spacing)
        heights = [roof + g.shift - k * spacing for k in range(1, max(own, count) + 1)]
        fields.append(_field(g, [h for h in heights if h > g.least], spacing))
    return tuple(fields)
