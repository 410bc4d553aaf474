"""One guard beside several rule packs."""

from __future__ import annotations

from dataclasses import dataclass

from stairguard.model.findings import Inspection
from stairguard.model.job import Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class SurfaceStrands:
    """Over one surface: plumb rail height, how many strands, their square spacing, the lowest one's plumb height."""

    surface: int
    kind: str
    rail_height: float
    count: int
    spacing: float
    lowest: float


@dataclass(frozen=True, slots=True)
class Anew:
    """A job laid out from the start under one pack: its surfaces, and whether it passes; or ``why`` it cannot be.

    ``passes`` is None where nothing fails, but its push is not solved at every opening.
    """

    rules: str
    passes: bool | None
    surfaces: tuple[SurfaceStrands, ...]
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RulesCompared:
    """The same guard under several packs, in the order asked for, and a job laid out anew under each.

    ``made_by`` names the pack it was laid out by, "" of a guard as measured, which is not laid out ``anew`` either.
    """

    title: str
    unit: Unit
    made_by: str
    inspections: tuple[Inspection, ...]
    anew: tuple[Anew, ...]
