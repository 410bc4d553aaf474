"""The command ``opening``: one question, in whichever way the opening is given."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Annotated, Any, Final, TypeAlias

import typer

from stairguard.cli.options import Answer, AsJson, Unit, Words, option, plain, source
from stairguard.errors import Fault, InputError, StairguardError

if TYPE_CHECKING:
    from stairguard.model.asked.asked_opening import Opened

_Given: TypeAlias = Mapping[str, Any]  # options as typed, handed on by name

_STEP: Final = ("rise", "run", "lift", "nosing", "tread", "open_riser")
_BESIDE: Final = ("offset", "strand_diameter")
_STRAND: Final = ("strand_diameter", "strand_edges", "move")
_FORMS: Final[dict[str, tuple[str, ...]]] = {
    "points": ("points", *_STRAND),
    "sides": ("sides", "diagonal", *_STRAND),
    "lengths": ("lengths", *_STRAND),
    "spacing": ("spacing", "strand_diameter"),
    "height": ("height", *_BESIDE),
    "step": (*_STEP, *_BESIDE),
}
"""Each way of giving an opening by the option that leads it, with the options that go with it."""


def opening(
    rise: Annotated[Words, option("Rise of the step, plumb. A step needs it.")] = None,
    run: Annotated[Words, option("Run, nosing to nosing, level. A step needs it.")] = None,
    lift: Annotated[
        Words,
        option("Nosing line to underside of the lowest member, square; with --offset also below. A step needs it."),
    ] = None,
    nosing: Annotated[Words, option("Nosing projection, level; else 0.")] = None,
    tread: Annotated[Words, option("Thickness of tread and nosing; else 0.")] = None,
    open_riser: Annotated[bool, typer.Option("--open-riser", help="The riser is open.")] = False,
    offset: Annotated[
        Words, option("Member's middle, level out from the stair's side or the edge; with --strand-diameter.")
    ] = None,
    height: Annotated[
        Words, option("Instead: a landing's edge; surface to the middle of the lowest strand, square. With --offset.")
    ] = None,
    points: Annotated[
        Words, option("Instead of a step: corner points in order, x,z a line, or x,z,y.", None, "FILE.csv")
    ] = None,
    sides: Annotated[
        Words, option("Instead: three sides, or four in order with --diagonal.", None, "A,B,C[,D]")
    ] = None,
    diagonal: Annotated[Words, option("With four sides: from the first corner to the third.")] = None,
    lengths: Annotated[
        Words, option("Instead: sides in order, then diagonals; corner,corner,length a line.", None, "FILE.csv")
    ] = None,
    spacing: Annotated[Words, option("Instead: two parallel strands, centre to centre, square.")] = None,
    strand_diameter: Annotated[Words, option("Diameter of the strands.")] = None,
    strand_edges: Annotated[
        Words, option("Edges that are strands' axes, by number; after a colon its own diameter.", None, "1,3:1/2in")
    ] = None,
    limit: Annotated[Words, option("Sphere to stop; exactly this size counts as going through.")] = None,
    move: Annotated[Words, option("Find how far this edge may move for the limit.", None, "EDGE")] = None,
    tape: Annotated[
        Words, option("Tape whose error stands in for a +- not given.", None, "us|eu-1|eu-2|eu-3|none")
    ] = None,
    guard_band: Annotated[
        str, typer.Option(metavar="RATIO", help="Guard band over twice the standard uncertainty.")
    ] = "1",
    draw: Annotated[Words, option("Draw it; never overwrites.", None, "FILE.svg|png|pdf")] = None,
    unit: Unit = "in",
    as_json: AsJson = False,
) -> Answer:
    """Find the largest sphere through a step, or any outline. Lengths may carry a +-: "7-3/4in +- 1/32in"."""
    import stairguard
    from stairguard.reports.data.encode import json_text

    given = {
        "rise": rise, "run": run, "lift": lift, "nosing": nosing, "tread": tread, "open_riser": open_riser or None,
        "offset": offset, "height": height,
        "points": points, "sides": sides, "diagonal": diagonal, "lengths": lengths, "spacing": spacing,
        "strand_diameter": strand_diameter, "strand_edges": strand_edges, "move": move,
    }  # fmt: skip
    terms = {"limit": limit, "tape": tape, "guard_band": guard_band, "unit": unit, "inverse": True}
    try:
        form = _form(given)
        if draw is not None:
            from stairguard.io.write.opening_drawing import check_drawing

            check_drawing(draw)
        found = _ask(form, given, terms)
    except StairguardError as error:
        raise type(error)(*(_as_option(fault, {*given, *terms, "draw"}) for fault in error.faults)) from None
    outcome = found.outcome or "complies"
    words = ""
    if draw is not None:
        stairguard.draw_opening(found, draw)
        words = f"\nDrawn: {plain(draw)}\n"
    if as_json:
        return Answer(json_text(stairguard.opening_result(found)), outcome)
    return Answer(stairguard.opening_report(found) + words, outcome)


def _form(given: _Given) -> str:
    """Which way the opening is given; InputError where two are mixed, or an option has nothing to go with."""
    asked = [key for key, value in given.items() if value is not None]
    led = [form for form in _FORMS if (form in asked if form != "step" else any(key in _STEP for key in asked))]
    form = led[0] if led else "step"
    if len(led) > 1:
        leaders = [f"--{next(key for key in asked if key in _STEP) if f == 'step' else f}" for f in led]
        must = "given one way only: as a step, by --height, by --points, --sides or --lengths, or by --spacing"
        raise InputError(Fault("the opening", must, " and ".join(leaders).replace("_", "-")))
    strays = [key for key in asked if key not in (_FORMS[form] if led else _STEP)]
    if strays and not led:
        must = "given: as a step, by --height, --points, --sides, --lengths or --spacing"
        raise InputError(Fault("the opening", must, ""))
    if strays:
        named = "a step" if form == "step" else f"--{form}"
        raise InputError(*(Fault(key, f"left out with {named}", given[key]) for key in strays))
    return form


def _ask(form: str, given: _Given, terms: _Given) -> Opened:
    import stairguard

    if form == "step":
        step = {key: given[key] for key in (*_STEP, *_BESIDE)}
        return stairguard.step_opening(**{**step, "open_riser": given["open_riser"] is not None}, **terms)
    if form == "height":
        return stairguard.edge_opening(given["height"], given["offset"], given["strand_diameter"], **terms)
    if form == "spacing":
        return stairguard.strands_opening(given["spacing"], given["strand_diameter"], **terms)
    more = {**terms, **{key: given[key] for key in _STRAND}}
    if form == "sides":
        return stairguard.sides_opening(given["sides"], diagonal=given["diagonal"], **more)
    ask = stairguard.points_opening if form == "points" else stairguard.lengths_opening
    return ask(source(given[form]), **more)


def _as_option(fault: Fault, options: set[str]) -> Fault:
    """Have a fault that names an argument name its option."""
    where, comma, rest = fault.where.partition(", ")
    return Fault(f"--{where.replace('_', '-')}{comma}{rest}", fault.must, fault.got) if where in options else fault
