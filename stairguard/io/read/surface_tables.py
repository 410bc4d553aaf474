"""The surfaces of a job file: landings, flights of equal steps or as surveyed, ramps."""

from __future__ import annotations

from typing import Final

from stairguard.io.read.toml_table import Table
from stairguard.model.job import Flight, Landing, MeasuredFlight, Ramp, Surface
from stairguard.model.soundness.table_checks import of_surface

_OF_THE_RAIL: Final = ("rail_height", "posts", "start_post")
"""What any surface may say of its rail and posts, besides its turn."""


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
        for key in _OF_THE_RAIL:
            table.forbid(key, "left out where level_piece is false: the rails of both sides run on over the landing")
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
        table.forbid("last_rise", "left out where the flight goes up: its last nosing is the upper landing's edge")
    flight |= table.fields(MeasuredFlight, only=("turn", *_OF_THE_RAIL))
    flight |= table.fields(MeasuredFlight, only=("nosing", "tread", "open_risers"))
    return MeasuredFlight(**flight) if nosings else None
