"""Job files: TOML in, a `Job` out, exact; every mistake in a file gives one line."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any, Final, cast, get_args

from stairguard.errors import Fault, InputError, JobError, OutputError, PackError, nearest
from stairguard.io.parse.types import named
from stairguard.io.read.site_tables import asked_height, pack_faults, read_place
from stairguard.io.read.strand_tables import CLIMATE_KEYS, PUSH_KEYS, STEEL_KEYS, read_climate, read_push, read_steel
from stairguard.io.read.surface_tables import read_surface
from stairguard.io.read.toml_file import load, parse
from stairguard.io.read.toml_table import Table
from stairguard.model.job import USUAL_MARK, Ending, Job, Post, Rail, Stock, Strand, Surface, Unit
from stairguard.model.soundness.job_bounds import BOUNDS
from stairguard.model.soundness.job_checks import contradictions
from stairguard.model.soundness.table_checks import of_post, of_stock
from stairguard.reading import Source

# By path and not through importlib.resources, whose import alone would slow every start.
_DATA: Final = Path(__file__).parents[2] / "data"

CHANGES: Final[dict[str, tuple[str, str]]] = {
    "bay": ("post", "max_gap"),
    **{key: ("strand", key) for key in ("diameter", "spacing", "lead", "lower", *STEEL_KEYS)},
    **{key: ("push", key) for key in PUSH_KEYS},
    **{key: ("climate", key) for key in CLIMATE_KEYS},
}
"""What may be asked about a job otherwise than its file has it: by name, the table and key it stands for."""

SURVEY_KEYS: Final = ("inspection", "measured")
"""Tables of a job file about the guard as it stands; see `stairguard.io.read.survey_file`."""


# Common practice, no source: 75 ft between terminals.
_LONGEST_RUN: Final[dict[Unit, int]] = {"in": 900, "mm": 22_860}
# The same of what can be made: a hand's breadth of strand to hold, and an inch at each end in the press tool's jaws.
_SHORTEST: Final[dict[Unit, int]] = {"in": 6, "mm": 150}


def read_job(path: Source, changes: Mapping[str, object] | None = None) -> Job:
    """Read a job file.

    Parameters
    ----------
    path
        A TOML file; `starter_text` shows every key with its unit, meaning and default.
    changes
        Values to take in place of the file's, by the names in `CHANGES`, or ``rules``.

    Returns
    -------
    Job
        All lengths exact, in the job's unit.

    Raises
    ------
    JobError
        The file cannot be read, or has unknown, missing, contradictory or impossible keys; or ``changes`` has an
        unknown name: one fault each.
    """
    return _job(_changed(load(path), changes or {}))


def built_in_job(changes: Mapping[str, object] | None = None) -> Job:
    """Read the job that ships with the package.

    Parameters
    ----------
    changes
        As in `read_job`.

    Returns
    -------
    Job
        A flight of seven risers between two landings, in inches.

    Raises
    ------
    JobError
        ``changes`` has an unknown name, or a value that cannot be.

    Examples
    --------
    >>> built_in_job({"spacing": "2-7/8 in"}).strand.spacing
    Fraction(23, 8)
    """
    return _job(_changed(parse(_shipped("quarry.toml"), "quarry.toml"), changes or {}))


def _changed(content: dict[str, object], changes: Mapping[str, object]) -> dict[str, object]:
    """A file's content with values put in place of its own."""
    try:
        changes = named(changes, "changes")
    except InputError as error:
        raise JobError(*error.faults) from None
    content = dict(content)
    known = (*CHANGES, "rules")
    faults = [
        Fault(f"changes, {name}", f'a known name (the nearest is "{nearest(str(name), known)}")', "an unknown one")
        for name in changes
        if name not in known
    ]
    if faults:
        raise JobError(*faults)
    for name, value in changes.items():
        if name == "rules":
            content["rules"] = value
            continue
        table, key = CHANGES[name]
        within = content.get(table, {})
        if isinstance(within, dict):  # what is no table is refused when it is read
            content[table] = {**within, key: value}
    return content


def starter_text() -> str:
    """Give a commented job file: every key with its unit, meaning and default.

    Returns
    -------
    str
        TOML that `read_job` takes as it is.
    """
    return _shipped("starter.toml").decode()


def write_starter(path: str | Path) -> None:
    """Write the commented job file where no file is yet.

    Parameters
    ----------
    path
        Of the new file.

    Raises
    ------
    OutputError
        Something has that name already, or it cannot be written.
    """
    from stairguard.io.write.folder import write_new

    try:
        write_new(Path(path), _shipped("starter.toml"))
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise OutputError(Fault(str(path), "a new file in a folder that can be written", reason)) from None


def _shipped(name: str) -> bytes:
    return _DATA.joinpath(name).read_bytes()


def _job(content: dict[str, object]) -> Job:
    faults: list[Fault] = []
    top = Table(content, "", "mm" if content.get("unit") == "mm" else "in", faults)
    top.field(Job, "unit")  # inches stand in for a wrong one
    unit = top.unit
    title = top.field(Job, "title")
    before = len(faults)
    mark = top.field(Job, "mark", mark=USUAL_MARK[unit])
    sound_mark = None if len(faults) > before else mark
    at = len(faults)
    rules = top.field(Job, "rules")
    site, handrail = read_place(top)
    kinds = _kinds(content)
    rail = _rail(top.table("rail"), lambda *over: asked_height(rules, unit, site, [k for k in kinds if k in over]))
    strand, post = _strand(top.table("strand")), _post(top.table("post"))
    start, end, closed = _ends(top.table("ends", optional=True))
    stock = _stock(top.table("stock", optional=True))
    push = read_push(top.table("push", optional=True))
    climate = read_climate(top.table("climate")) if top.has("climate") else None
    top.known("climate")
    for key in SURVEY_KEYS:  # what was measured on the guard, which a layout has no use for
        top.known(key)
    surfaces = read_surfaces(top)
    top.close()
    faults += contradictions(unit, sound_mark, rail, strand, post, surfaces, start, closed)
    if faults or not rules or rail is None or strand is None or post is None:
        if not any(fault.where == "rules" for fault in faults):  # a pack that cannot be read is one fault more
            faults[at:at] = pack_faults(rules, unit)
        raise JobError(*faults)
    return Job(
        title=title,
        unit=unit,
        mark=mark,
        rules=rules,
        rail=rail,
        strand=strand,
        post=post,
        surfaces=tuple(surfaces),
        start=start,
        end=end,
        stock=stock,
        push=push,
        climate=climate,
        site=site,
        handrail=handrail,
        closed=closed,
    )


def read_surfaces(top: Table) -> tuple[Surface, ...]:
    """Read all surfaces; none where one of them has a fault: places count from the first."""
    read = [read_surface(table) for table in top.each("surface", BOUNDS[Job]["surfaces"].most)]
    sound = tuple(surface for surface in read if surface is not None)
    return sound if len(sound) == len(read) else ()


def _kinds(content: Mapping[str, object]) -> list[str]:
    """Kinds of the surfaces as the file names them, sound or not."""
    surfaces = content.get("surface")
    return [str(s.get("kind")) for s in surfaces if isinstance(s, dict)] if isinstance(surfaces, list) else []


def _rail(table: Table, asked: Callable[..., Fraction | None]) -> Rail | None:
    """Read the rail; a height left out is the least that the rules ask for, by ``asked`` of kinds of surface.

    None where it has a fault, or where the rules cannot be read that were to give its height.
    """
    ruled = True
    if table.has("height"):
        height = landing_height = table.field(Rail, "height")
    else:
        try:
            over_slope, over_landing = asked("flight", "ramp"), asked("landing")
        except PackError:
            over_slope = over_landing = None
            ruled = False
        height, landing_height = over_slope or over_landing or Fraction(1), over_landing or over_slope or Fraction(1)
        table.known("height")
        if ruled and over_slope is None and over_landing is None:
            table.refuse("height", "a length, or left out where the rules ask for one", None)
    rail = Rail(height=height, **table.fields(Rail, but=("height",), landing_height=landing_height))
    table.close()
    return rail if ruled and table.sound else None


def _strand(table: Table) -> Strand | None:
    steel = read_steel(table)._asdict()
    usual: dict[str, Any] = {"longest_run": _LONGEST_RUN[table.unit], "shortest": _SHORTEST[table.unit]}
    strand = Strand(**steel, **table.fields(Strand, but=steel, **usual))
    table.close()
    return strand if table.sound else None


def _post(table: Table) -> Post | None:
    read: dict[str, Any] = table.fields(Post, only=("width", "max_gap", "setback", "mount", "corner"))
    if read["mount"] == "side":
        read |= {"drop": table.length("drop"), **{key: table.field(Post, key) for key in ("offset", "hand")}}
    else:
        for key in ("drop", "offset", "hand"):
            table.forbid(key, 'left out unless mount is "side"')
    if read["corner"] == "two":
        read["corner_offset"] = table.length("corner_offset", default=read["width"])
    else:
        table.forbid("corner_offset", 'left out unless corner is "two"')
    post = Post(**read, **table.fields(Post, but=(*read, "drop", "offset", "hand", "corner_offset")))
    if table.sound:
        table.file_within(of_post(post))
    table.close()
    return post if table.sound else None


def _ends(table: Table) -> tuple[Ending, Ending, bool]:
    closed = table.flag("closed", default=False)
    if closed:
        for key in ("start", "end"):
            table.forbid(key, "left out where closed is true: the line has no ends")
    start, end = (table.choice(key, get_args(Ending), default="post") for key in ("start", "end"))
    table.close()
    return cast(Ending, start), cast(Ending, end), closed


def _stock(table: Table) -> Stock:
    stock = Stock(**table.fields(Stock))
    if table.sound:
        table.file_within(of_stock(stock))
    table.close()
    return stock
