"""The job: what a person asks for, checked and exact, before any geometry.

A rise typed in a job file becomes an exact length once, at the rim, and is never parsed again.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

__all__ = ["Flight", "Job", "Landing", "Post", "Rail", "Ramp", "Strand", "Surface", "Unit"]

Unit: TypeAlias = Literal["in", "mm"]
Crossing: TypeAlias = Literal["through", "break"]
Meeting: TypeAlias = Literal["as-given", "flight-height"]


@dataclass(frozen=True, slots=True)
class Rail:
    """The top rail.

    Heights are plumb, to the top of the rail: ``height`` from nosing line or ramp, ``landing_height``
    from a landing. ``depth`` is square to the rail. ``meet`` says what gives where rails of the given
    heights cannot meet at a post: nothing (``"as-given"``, the jog is stated) or the flight's height
    (``"flight-height"``, solved so that no jog is left; ``height`` is then where the search starts).
    """

    height: Fraction
    landing_height: Fraction
    depth: Fraction
    width: Fraction
    meet: Meeting


@dataclass(frozen=True, slots=True)
class Strand:
    """The infill: ``spacing`` is the largest centre distance, square. Take-ups are per fitting."""

    diameter: Fraction
    spacing: Fraction
    at_joints: Crossing
    terminal_take_up: Fraction
    tensioner_take_up: Fraction


@dataclass(frozen=True, slots=True)
class Post:
    """Posts: ``width`` along the guard, ``max_gap`` clear along the strands, ``setback`` behind a nosing."""

    width: Fraction
    max_gap: Fraction
    setback: Fraction


@dataclass(frozen=True, slots=True)
class Landing:
    """A level surface; ``turn`` is the plan turn made at its start, degrees, left positive."""

    length: Fraction
    turn: float


@dataclass(frozen=True, slots=True)
class Flight:
    """Equal steps. ``rise`` is positive also when ``down``; ``tread`` is the nosing's thickness."""

    risers: int
    rise: Fraction
    run: Fraction
    nosing: Fraction
    tread: Fraction
    open_risers: bool
    down: bool
    turn: float


@dataclass(frozen=True, slots=True)
class Ramp:
    """A sloping surface: level ``length`` and signed ``rise`` (negative goes down)."""

    length: Fraction
    rise: Fraction
    turn: float


Surface: TypeAlias = Landing | Flight | Ramp


@dataclass(frozen=True, slots=True)
class Job:
    """One guard line to lay out. ``mark`` is the smallest tape mark, ``rules`` the pack asked for."""

    title: str
    unit: Unit
    mark: Fraction
    rules: str
    rail: Rail
    strand: Strand
    post: Post
    surfaces: tuple[Surface, ...]
