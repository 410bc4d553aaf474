"""The surfaces of a job file: landings, flights of equal steps or as surveyed, ramps."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from typing import Final, NamedTuple

from stairguard.model.job import Flight, Landing, MeasuredFlight, Ramp, Surface
from stairguard.rim.tables import Table

__all__ = ["MOST_RISERS", "read_surface"]

MOST_RISERS: Final = 100_000
"""No job may have more, over all its flights."""

_MOST_NOSINGS: Final = 10_000
_MOST_POSTS: Final = 10_000
_HALF_TURN: Final = 180

_Pair = tuple[Fraction, Fraction]


class _Common(NamedTuple):
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
    if kind == "landing":
        surface: Surface = _landing(table)
    elif kind == "ramp":
        surface = _ramp(table)
    else:
        surface = _measured(table) if table.has("nosings") else _flight(table)
    table.close()
    return surface if table.sound else None


def _landing(table: Table) -> Landing:
    length = table.length("length")
    common = _common(table, length)
    level_piece = table.flag("level_piece", default=True)
    if not level_piece:
        for key in ("rail_height", "posts", "start_post"):
            table.forbid(key, "left out where level_piece is false: the rails of both sides run on over the landing")
    return Landing(length, *common, level_piece)


def _ramp(table: Table) -> Ramp:
    length, rise = table.length("length"), table.length("rise", "any")
    if rise == 0:
        table.refuse("rise", "other than zero (a level surface is a landing)", 0)
    return Ramp(length, rise, *_common(table, length))


def _flight(table: Table) -> Flight:
    table.forbid("last_rise", "left out where the steps are equal")
    risers, run = table.whole("risers", 2, MOST_RISERS), table.length("run")
    return Flight(
        risers,
        table.length("rise"),
        run,
        table.length("nosing", "nonnegative", default=0),
        table.length("tread", "nonnegative", default=0),
        table.flag("open_risers", default=False),
        table.flag("down", default=False),
        *_common(table, (risers - 1) * run),
    )


def _common(table: Table, level: Fraction) -> _Common:
    """Read what every surface may say; ``level`` is its level length."""
    return _Common(
        table.angle("turn", _HALF_TURN, "any", 0),
        table.length_if_given("rail_height"),
        _posts(table, level),
        table.length_if_given("start_post", "any"),
    )


def _posts(table: Table, level: Fraction) -> tuple[Fraction, ...] | None:
    """Read where line posts must stand; an empty list forbids them."""
    given = table.has("posts")
    posts, least = table.lengths("posts", _MOST_POSTS), Fraction(0)
    for number, place in enumerate(posts if table.sound else (), start=1):
        if not least < place <= level:
            after = f"more than {float(least):.6g}" + (" (the one before)" if number > 1 else "")
            must = f"{after} and no more than the surface's level length ({float(level):.6g})"
            table.refuse(f"posts[{number}]", must, f"{float(place):.6g}")
        least = max(least, place)
    return posts if given else None


def _measured(table: Table) -> MeasuredFlight:
    """Read a surveyed flight: its nosings take the place of risers, rise and run."""
    for key in ("risers", "rise", "run"):
        table.forbid(key, "left out where nosings are given")
    nosings = _nosings(table)
    down = _goes_down(table, nosings)
    _check_steps(table, nosings, down)
    last_rise = None
    if down:
        last_rise = table.length_if_given("last_rise")
    else:
        table.forbid("last_rise", "left out where the flight goes up: its last nosing is the upper landing's edge")
    common = _common(table, nosings[-1][0])
    return MeasuredFlight(
        nosings,
        table.length("nosing", "nonnegative", default=0),
        table.length("tread", "nonnegative", default=0),
        table.flag("open_risers", default=False),
        down,
        common.turn,
        last_rise,
        common.rail_height,
        common.posts,
        common.start_post,
    )


def _nosings(table: Table) -> tuple[_Pair, ...]:
    """Read surveyed nosings; two that stand in where there is a fault."""
    values = table.items("nosings", "a list of [station, elevation] pairs")
    stand_in = (Fraction(0), Fraction(1)), (Fraction(1), Fraction(2))
    if table.sound and not 2 <= len(values) <= _MOST_NOSINGS:
        table.refuse("nosings", f"from 2 to {_MOST_NOSINGS:,} pairs", len(values))
    if not table.sound:
        return stand_in
    nosings = []
    for number, pair in enumerate(values, start=1):
        place = f"nosings[{number}]"
        if isinstance(pair, list) and len(pair) == 2:
            x, z = (table.as_length(value, table.name(place), "any") for value in pair)
            nosings.append((x, z))
        else:
            table.refuse(place, "a pair [station, elevation]", pair)
    return tuple(nosings) if table.sound else stand_in


def _goes_down(table: Table, nosings: Sequence[_Pair]) -> bool:
    """Whether a surveyed flight goes down, as its points say; the file may say so too."""
    falls = nosings[1][1] < nosings[0][1]
    down = table.flag("down", default=falls)
    if table.sound and down != falls:
        must = f"{str(falls).lower()} or left out: its nosings go {'down' if falls else 'up'}"
        table.refuse("down", must, str(down).lower())
    return falls


def _check_steps(table: Table, nosings: Sequence[_Pair], down: bool) -> None:
    """File nosings that are out of order, or do not begin where the surface before ends."""
    if not table.sound:
        return
    way = -1 if down else 1
    for number, ((x0, z0), (x, z)) in enumerate(pairwise(nosings), start=2):
        if x <= x0:
            table.refuse(f"nosings[{number}]", f"at a station of more than the one before's, {_text(x0)}", _text(x))
        if way * (z - z0) <= 0:
            must = f"{'below' if down else 'above'} the one before, at {_text(z0)}, as the first two are"
            table.refuse(f"nosings[{number}]", must, _text(z))
    x, z = nosings[0]
    if x < 0:
        table.refuse("nosings[1]", "at a station of zero or more, past the end of the surface before", _text(x))
    if down and z != 0:
        must = "at elevation 0 where the flight goes down: its top nosing is the edge of the surface before"
        table.refuse("nosings[1]", must, _text(z))
    if not down and z <= 0:
        table.refuse("nosings[1]", "at an elevation of more than zero: the first rise", _text(z))


def _text(value: Fraction) -> str:
    return f"{float(value):.6g}"
