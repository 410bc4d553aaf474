"""The surfaces of a job file: landings, flights of equal steps or as surveyed, ramps."""

from __future__ import annotations

from fractions import Fraction
from typing import TypedDict

from stairguard.io.read.toml_table import Table
from stairguard.model.job import Flight, Landing, MeasuredFlight, Ramp, Surface
from stairguard.model.soundness.table_checks import of_surface


class _Common(TypedDict):
    """What every surface may say."""

    turn: float
    rail_height: Fraction | None
    posts: tuple[Fraction, ...] | None
    start_post: Fraction | None


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
    table.go_by(Landing)
    length = table.length("length")
    common = _common(table)
    level_piece = table.flag("level_piece", default=True)
    if not level_piece:
        for key in ("rail_height", "posts", "start_post"):
            table.forbid(key, "left out where level_piece is false: the rails of both sides run on over the landing")
    return Landing(length=length, level_piece=level_piece, depth=table.length_if_given("depth"), **common)


def _ramp(table: Table) -> Ramp:
    table.go_by(Ramp)
    return Ramp(length=table.length("length"), rise=table.length("rise"), **_common(table))


def _flight(table: Table) -> Flight:
    table.go_by(Flight)
    table.forbid("last_rise", "left out where the steps are equal")
    return Flight(
        risers=table.whole("risers"),
        rise=table.length("rise"),
        run=table.length("run"),
        nosing=table.length("nosing", default=0),
        tread=table.length("tread", default=0),
        open_risers=table.flag("open_risers", default=False),
        down=table.flag("down", default=False),
        **_common(table),
    )


def _common(table: Table) -> _Common:
    """Read what every surface may say; an empty list of posts forbids line posts."""
    return {
        "turn": table.angle("turn", 0),
        "rail_height": table.length_if_given("rail_height"),
        "posts": table.lengths_if_given("posts"),
        "start_post": table.length_if_given("start_post"),
    }


def _measured(table: Table) -> MeasuredFlight | None:
    """Read a surveyed flight: its nosings take the place of risers, rise and run."""
    table.go_by(MeasuredFlight)
    for key in ("risers", "rise", "run"):
        table.forbid(key, "left out where nosings are given")
    nosings = table.points("nosings")
    falls = len(nosings) > 1 and nosings[1][1] < nosings[0][1]
    down = table.flag("down", default=falls)
    last_rise = None
    if falls:
        last_rise = table.length_if_given("last_rise")
    else:
        table.forbid("last_rise", "left out where the flight goes up: its last nosing is the upper landing's edge")
    common = _common(table)
    flight = MeasuredFlight(
        nosings=nosings,
        nosing=table.length("nosing", default=0),
        tread=table.length("tread", default=0),
        open_risers=table.flag("open_risers", default=False),
        down=down,
        last_rise=last_rise,
        **common,
    )
    return flight if nosings else None
