"""Job files: TOML in, a `Job` out, exact; every mistake in a file gives one line."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Final, TypeAlias

from stairguard.errors import Fault, JobError, OutputError
from stairguard.model.job import (
    Crossing,
    Flight,
    Job,
    Landing,
    Meeting,
    Post,
    Rail,
    Ramp,
    Strand,
    Surface,
    Unit,
)
from stairguard.rim.jobchecks import contradictions
from stairguard.rim.tables import Table, load, parse

__all__ = ["MOST_RISERS", "built_in_job", "read_job", "starter_text", "write_starter"]

# By path and not through importlib.resources, whose import alone would slow every start.
_DATA: Final = Path(__file__).parents[1] / "data"

MOST_RISERS: Final = 100_000
_MOST_SURFACES: Final = 1000
_MOST_NOSINGS: Final = 10_000
_LONGEST_TITLE: Final = 500
_LONGEST_RULES: Final = 4096

_CROSSINGS: Final[dict[str, Crossing]] = {"through": "through", "break": "break"}
_MEETINGS: Final[dict[str, Meeting]] = {"as given": "as-given", "flight height": "flight-height"}
_DEFAULT_MARK: Final[dict[Unit, object]] = {"in": Fraction(1, 16), "mm": 1}
_SCOPE: Final = "this version lays out one straight flight of equal steps between two landings"


@dataclass(frozen=True, slots=True)
class _Measured:
    """A flight given by its measured nosings."""

    turn: float


_Read: TypeAlias = Surface | _Measured


def read_job(path: str | Path) -> Job:
    """Read a job file.

    Parameters
    ----------
    path
        A TOML file; `starter_text` shows every key with its unit, meaning and default.

    Returns
    -------
    Job
        All lengths exact, in the job's unit.

    Raises
    ------
    JobError
        The file cannot be read, or has unknown, missing, contradictory or impossible keys: one fault each.
    """
    return _job(load(Path(path)))


def built_in_job() -> Job:
    """Read the job that ships with the package."""
    return _job(parse(_shipped("quarry.toml"), "quarry.toml"))


def starter_text() -> str:
    """Give a commented job file: every key with its unit, meaning and default."""
    return _shipped("starter.toml").decode()


def write_starter(path: str | Path) -> None:
    """Write the commented job file where no file is yet.

    Raises
    ------
    OutputError
        Something has that name already, or it cannot be written.
    """
    text = starter_text()
    try:
        with Path(path).open("x", encoding="utf-8") as file:
            file.write(text)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise OutputError(Fault(str(path), "a new file in a folder that can be written", reason)) from None


def _shipped(name: str) -> bytes:
    return _DATA.joinpath(name).read_bytes()


def _job(content: dict[str, object]) -> Job:
    faults: list[Fault] = []
    top = Table(content, "", "mm" if content.get("unit") == "mm" else "in", faults)
    top.choice("unit", ("in", "mm"))  # inches stand in for a wrong one
    unit = top.unit
    title = top.text("title", _LONGEST_TITLE, default="Stair guard")
    mark = top.length("mark", default=_DEFAULT_MARK[unit])
    rules = top.text("rules", _LONGEST_RULES)
    rail, strand, post = _rail(top.table("rail")), _strand(top.table("strand")), _post(top.table("post"))
    read = [_surface(table) for table in top.each("surface", _MOST_SURFACES)]
    top.close()
    surfaces = [surface for surface in read if surface is not None]
    _check_scope(surfaces, complete=len(surfaces) == len(read), faults=faults)
    plain = [surface for surface in surfaces if not isinstance(surface, _Measured)]
    faults += contradictions(unit, mark, rail, strand, post, plain if len(plain) == len(read) else ())
    if faults or rail is None or strand is None or post is None:
        raise JobError(*faults)
    return Job(title, unit, mark, rules, rail, strand, post, tuple(plain))


def _rail(table: Table) -> Rail | None:
    height = table.length("height")
    rail = Rail(
        height=height,
        landing_height=table.length("landing_height", default=height),
        depth=table.length("depth"),
        width=table.length("width"),
        meet=_MEETINGS[table.choice("meet", tuple(_MEETINGS), default="as given")],
    )
    table.close()
    return rail if table.sound else None


def _strand(table: Table) -> Strand | None:
    strand = Strand(
        diameter=table.length("diameter"),
        spacing=table.length("spacing"),
        at_joints=_CROSSINGS[table.choice("at_joints", tuple(_CROSSINGS), default="through")],
        terminal_take_up=table.length("terminal_take_up", "nonnegative", default=0),
        tensioner_take_up=table.length("tensioner_take_up", "nonnegative", default=0),
    )
    table.force("tension", default=0)
    table.close()
    return strand if table.sound else None


def _post(table: Table) -> Post | None:
    post = Post(table.length("width"), table.length("max_gap"), table.length("setback", "nonnegative"))
    table.close()
    return post if table.sound else None


def _surface(table: Table) -> _Read | None:
    kind = table.choice("kind", ("landing", "flight", "ramp"))
    if not table.sound:
        return None
    if kind == "landing":
        surface: _Read = Landing(table.length("length"), table.angle("turn", 0))
    elif kind == "ramp":
        surface = _ramp(table)
    else:
        surface = _measured(table) if table.has("nosings") else _flight(table)
    table.close()
    return surface if table.sound else None


def _ramp(table: Table) -> Ramp:
    ramp = Ramp(table.length("length"), table.length("rise", "any"), table.angle("turn", 0))
    if ramp.rise == 0:
        table.refuse("rise", "other than zero (a level surface is a landing)", 0)
    return ramp


def _flight(table: Table) -> Flight:
    return Flight(
        risers=table.whole("risers", 2, MOST_RISERS),
        rise=table.length("rise"),
        run=table.length("run"),
        nosing=table.length("nosing", "nonnegative", default=0),
        tread=table.length("tread", "nonnegative", default=0),
        open_risers=table.flag("open_risers", default=False),
        down=table.flag("down", default=False),
        turn=table.angle("turn", 0),
    )


def _measured(table: Table) -> _Measured:
    """Read measured nosings: they take the place of risers, rise and run."""
    for key in ("risers", "rise", "run"):
        table.forbid(key, "left out where nosings are given")
    nosings = table.items("nosings", "a list of [station, elevation] pairs")
    if not 1 <= len(nosings) <= _MOST_NOSINGS:
        table.refuse("nosings", f"from 1 to {_MOST_NOSINGS:,} pairs", len(nosings))
        nosings = []
    for number, pair in enumerate(nosings, start=1):
        if isinstance(pair, list) and len(pair) == 2:
            for value in pair:
                table.as_length(value, table.name(f"nosings[{number}]"), "any")
        else:
            table.refuse(f"nosings[{number}]", "a pair [station, elevation]", pair)
    for key in ("nosing", "tread"):
        table.length(key, "nonnegative", default=0)
    for key in ("open_risers", "down"):
        table.flag(key, default=False)
    return _Measured(table.angle("turn", 0))


def _check_scope(surfaces: list[_Read], *, complete: bool, faults: list[Fault]) -> None:
    """File what is sound in itself but more than this version lays out; only here."""
    kinds = [_kind(surface) for surface in surfaces]
    if complete and kinds and kinds != ["landing", "flight", "landing"]:
        got = ", ".join(kinds[:6]) + (", …" if len(kinds) > 6 else "")
        faults.append(Fault("surface", f"a landing, a flight and a landing: {_SCOPE}", got))
    faults += [
        Fault(f"surface[{number}].turn", f"0 or left out: {_SCOPE}", f"{surface.turn:g}")
        for number, surface in enumerate(surfaces, start=1)
        if surface.turn
    ]


def _kind(surface: _Read) -> str:
    if isinstance(surface, _Measured):
        return "flight by measured nosings"
    return type(surface).__name__.lower()
