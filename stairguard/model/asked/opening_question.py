"""An opening as it is asked about, read and exact, not yet solved: a step, an edge, two strands, or any outline."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal, TypeAlias

from stairguard.model.asked.asked_opening import Measurement

if TYPE_CHECKING:  # the whole job's classes come with it
    from stairguard.model.job import Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """What is asked of an opening, whichever way it is given; lengths in ``unit``.

    ``limit`` is the diameter of the sphere to stop, ``ratio`` that of the guard band to twice the standard uncertainty.
    ``inverse`` asks for what would make it comply too. ``assumed`` says in words what stood in for a +- not given;
    ``uncertain`` whether any length is uncertain, or said not to be; ``binding`` whether by the asker's own word.
    """

    unit: Unit
    limit: Fraction | None
    ratio: Fraction
    inverse: bool
    assumed: str
    uncertain: bool
    binding: bool


def sizes_of(lengths: Iterable[Measurement]) -> dict[str, Fraction]:
    """The values of lengths of a step, by the names that it is solved by."""
    return {length.name.replace(" ", "_"): length.value for length in lengths}


@dataclass(frozen=True, slots=True, kw_only=True)
class StepQuestion:
    """A step: ``rise``, ``run``, ``nosing`` and ``tread`` by level and plumb, ``lift`` square to the nosing line.

    A member that stands out from the stair is round: ``offset`` is its axis from the stair's side, level, ``diameter``
    its own; both None where it is over the treads.
    """

    terms: Terms
    rise: Measurement
    run: Measurement
    nosing: Measurement
    tread: Measurement
    lift: Measurement
    open_riser: bool
    offset: Measurement | None = None
    diameter: Measurement | None = None

    @property
    def lengths(self) -> tuple[Measurement, ...]:
        """All that was measured of it."""
        own = self.rise, self.run, self.nosing, self.tread, self.lift
        return own if self.offset is None or self.diameter is None else (*own, self.offset, self.diameter)

    @property
    def sizes(self) -> dict[str, Fraction]:
        """Their values, by the names that steps are solved by."""
        return sizes_of(self.lengths)


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeQuestion:
    """The level edge of a landing or deck, or a ramp's, and the lowest strand along it.

    ``height`` of the strand's axis is square to the surface, ``offset`` level, out from the edge.
    """

    terms: Terms
    height: Measurement
    offset: Measurement
    diameter: Measurement

    @property
    def lengths(self) -> tuple[Measurement, ...]:
        """All that was measured of it."""
        return self.height, self.offset, self.diameter


@dataclass(frozen=True, slots=True, kw_only=True)
class StrandsQuestion:
    """Two parallel strands: ``spacing`` square, centre to centre, and their ``diameter``."""

    terms: Terms
    spacing: Measurement
    diameter: Measurement


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlineQuestion:
    """A closed outline: by the ``corners`` (x and z of each), or by its ``sides`` in order and ``diagonals``.

    A diagonal is between two corners, counted from 0, whose ``names`` are as given. ``strand_edges`` are the edges, by
    number from 1, that are axes of strands of that ``diameter``, or of one of their ``own``; ``move`` is the one to
    move, if any. ``outs`` are the y of the corners, where they stand in more than one plane: how far out of the
    drawing, in order.
    """

    form: Literal["points", "sides", "lengths"]
    terms: Terms
    corners: tuple[tuple[Measurement, Measurement], ...] = ()
    sides: tuple[Measurement, ...] = ()
    diagonals: tuple[tuple[int, int, Measurement], ...] = ()
    names: tuple[str, ...] | None = None
    diameter: Measurement | None = None
    strand_edges: frozenset[int] = frozenset()
    own: tuple[tuple[int, Measurement], ...] = ()
    outs: tuple[Measurement, ...] = ()
    move: int | None = None

    @property
    def measured(self) -> tuple[Measurement, ...]:
        """All that was measured of corners: x and z of each, then y of each, then the diameters."""
        shared = () if self.diameter is None else (self.diameter,)
        return (*(m for pair in self.corners for m in pair), *self.outs, *shared, *(m for _, m in self.own))

    @property
    def radii(self) -> dict[int, Fraction]:
        """Of the edges that are strands' axes, by number."""
        own = dict(self.own)
        found = {edge: own.get(edge, self.diameter) for edge in sorted(self.strand_edges)}
        return {edge: thick.value / 2 for edge, thick in found.items() if thick is not None}


OpeningQuestion: TypeAlias = StepQuestion | EdgeQuestion | StrandsQuestion | OutlineQuestion
