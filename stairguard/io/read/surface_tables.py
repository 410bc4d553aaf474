"""The surfaces of a job file: landings, flights of equal steps or as surveyed, ramps."""

from __future__ import annotations

from stairguard.io.read.toml_table import Table
from stairguard.model.job import Flight, Landing, MeasuredFlight, Ramp, Surface
from stairguard.model.soundness.table_checks import NO_RAIL, NO_STEP_AFTER, OF_THE_RAIL, of_surface


def read_surface(table: Table) -> Surface | None:
    """Read one ``[[surface]]``; None where it has a fault."""
    kind = table.choice("kind", ("landing", "flight", "ramp"))
    if not table.sound:
        return None
    surface: Surface | None
    if kind == "landing":
        surface = _landing(table)
    elif kind == "ramp":
        surface = _ramp(table)
    else:
        surface = _measured(table) if table.has("nosings") else _flight(table)
    if table.sound and surface is not None:
        table.file_within(of_surface(surface))
    table.close()
    return surface if table.sound else None


def _landing(table: Table) -> Landing:
    landing = table.fields(Landing, but=("level_piece", "depth"))
    level_piece = table.field(Landing, "level_piece")
    if not level_piece:
        for key in OF_THE_RAIL:
            table.forbid(key, NO_RAIL)
    return Landing(**landing, level_piece=level_piece, depth=table.field(Landing, "depth"))


def _ramp(table: Table) -> Ramp:
    return Ramp(**table.fields(Ramp))


def _flight(table: Table) -> Flight:
    table.forbid("last_rise", "left out where the steps are equal")
    return Flight(**table.fields(Flight))


def _measured(table: Table) -> MeasuredFlight | None:
    """Read a surveyed flight: its nosings take the place of risers, rise and run."""
    for key in ("risers", "rise", "run"):
        table.forbid(key, "left out where nosings are given")
    nosings = table.field(MeasuredFlight, "nosings")
    falls = len(nosings) > 1 and nosings[1][1] < nosings[0][1]
    flight = {"nosings": nosings, "down": table.field(MeasuredFlight, "down", down=falls)}
    if falls:
        flight["last_rise"] = table.field(MeasuredFlight, "last_rise")
    else:
        table.forbid("last_rise", NO_STEP_AFTER)
    flight |= table.fields(MeasuredFlight, only=("turn", *OF_THE_RAIL))
    flight |= table.fields(MeasuredFlight, only=("nosing", "tread", "open_risers"))
    return MeasuredFlight(**flight) if nosings else None
