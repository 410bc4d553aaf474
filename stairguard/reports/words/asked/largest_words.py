"""The largest sphere of one opening in words: what was given, where it is, why none is larger, how sure that is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Final

from stairguard.reports.words.lengths import brief, figure
from stairguard.reports.words.uncertainty_words import percent_words, rule_words, settle_words

if TYPE_CHECKING:
    from stairguard.model.asked.asked_opening import Beside, Form, Opened, Uncertainty
    from stairguard.model.job import Unit

_FRAMES: Final[dict[Form, str]] = {
    "points": "x and z as the points were given",
    "sides": "along side 1 from its first corner, and square to it",
    "lengths": "along the first side from its first corner, and square to it",
    "strands": "along the lower strand, and square to it from its axis",
}
MOST_LISTED: Final = 12
"""Pockets, or shares of a variance; of the lengths given twice as many."""

OTHER_POCKETS: Final = "Other pockets, each a local maximum, none larger:"
ALL_ALIKE: Final = (
    "Each length is taken as anywhere within its +-, all alike (standard uncertainty +- / sqrt(3)), and as "
    "independent of the others."
)


def step_words(answer: Opened) -> Iterator[str]:
    """What was given of a step, and its largest sphere with its centre, before what it touches."""
    unit = answer.unit
    given = {m.name: figure(m.value, unit) for m in answer.measurements}
    x, z = answer.centre
    yield (
        "Rise {rise} plumb, run {run} level, nosing projection {nosing} level, tread {tread} thick; ".format(**given)
        + f"underside of the lowest member {_lift_words(answer)} the nosing line, square.{_member_words(given)}"
    )
    yield _largest(answer)
    out = "" if answer.beside is None else f", {_out_words(answer.beside.out, unit)}"
    yield (
        f"Its centre: {figure(x, unit)} level into the stair from the lower nosing, "
        f"{figure(z, unit)} plumb above it{out}. It touches:"
    )


def _lift_words(answer: Opened) -> str:
    """How far the member is above the nosing line, or beside the stair below it."""
    lift = next(m.value for m in answer.measurements if m.name == "lift")
    return f"{figure(abs(lift), answer.unit)} {'above' if lift >= 0 else 'below'}"


def _member_words(given: Mapping[str, str]) -> str:
    """How far out a member stands, and how thick it is; "" of one over the treads."""
    if "offset" not in given:
        return ""
    thick, out = given["strand diameter"], given["offset"]
    return f" The member is {thick} thick, its middle {out} out from the stair's side, level."


def _out_words(out: float, unit: Unit) -> str:
    """How far out from the stair's side something is, level."""
    if not out:
        return "at the stair's side"
    return f"{figure(abs(out), unit)} {'out from' if out > 0 else 'in from'} the stair's side"


def step_contacts(answer: Opened) -> Iterator[str]:
    """Each thing that the sphere of a step touches, and where."""
    unit = answer.unit
    outs = [None] * len(answer.touches) if answer.beside is None else answer.beside.contacts
    for name, at, out in zip(answer.touches, answer.contacts, outs, strict=True):
        beside = "" if out is None else f", {_out_words(out, unit)}"
        yield f"{name}, at {figure(at[0], unit)} level and {figure(at[1], unit)} plumb{beside}"


def step_reason(answer: Opened) -> str:
    """Why the sphere of a step is the largest."""
    if answer.closed_form:
        return (
            "It touches tread, riser and member, so the closed form holds: "
            "D = 2 (R (1 + P/G) + L k) / (k + 1 + R/G) with k = sqrt(1 + (R/G)^2); "
            "R rise, G run, P projection, L lift."
        )
    if answer.beside is not None and answer.of_step:
        return f"{_WAY} {_error_words(answer.beside, answer.unit)}"
    return "The closed form for tread, riser and member does not hold here; the true outline decides."


_WAY: Final = (
    "The member stands out from the stair: the sphere rolls out over the tread and down behind the member, in space. "
    "That is the widest of all such ways, told where it is narrowest; the elevation alone shows less."
)


_PLANES: Final = (
    "Its edges stand in two planes: the sphere comes from before the near ones and goes through in space. Plain edges "
    "are taken as reaching in from the near plane and out from the far one, with nothing else behind them. Of all ways "
    "the widest is told, where it is narrowest."
)


def _error_words(beside: Beside, unit: Unit) -> str:
    """How sure the widest way is, before any uncertainty of its lengths."""
    if not beside.error:
        return "There what it touches holds it."
    return (
        f"No three contacts hold it there, so it was searched for: the figure is at most {brief(beside.error, unit)} "
        "too large, and never too small."
    )


def edge_words(answer: Opened) -> Iterator[str]:
    """What was given of an edge and a strand, and the largest sphere with its centre, before what it touches."""
    unit = answer.unit
    given = {m.name: m for m in answer.measurements}
    height, offset = given["height"].value, given["offset"].value
    over = f"{figure(abs(height), unit)} {'above' if height >= 0 else 'below'} the surface, square, and "
    yield (
        f"A strand {figure(given['strand diameter'].value, unit)} thick along the edge; its middle {over}"
        f"{figure(offset, unit)} out from the edge, level."
    )
    yield _largest(answer)
    if answer.beside is not None:
        yield (
            f"Its centre where it is held: {_edge_place(answer.centre[1], answer.beside.out, unit)}. Anywhere along "
            "the edge it touches:"
        )


def edge_contacts(answer: Opened) -> Iterator[str]:
    """Each thing that the sphere over an edge touches, and where."""
    outs = () if answer.beside is None else answer.beside.contacts
    for name, (_, z), out in zip(answer.touches, answer.contacts, outs, strict=True):
        yield f"{name}, at {_edge_place(z, out, answer.unit)}"


def edge_reason(answer: Opened) -> str:
    """Why the sphere over an edge is the largest."""
    if answer.touches[:1] == ("face",):
        return (
            "The strand is no higher than the surface: the sphere drops between it and the edge's face, D = o - d/2; o "
            "offset, d the strand's diameter."
        )
    return (
        "It rolls over the edge and out under the strand: none larger than the distance between them passes, "
        "D = sqrt(h^2 + o^2) - d/2; h height, o offset, d the strand's diameter."
    )


def _edge_place(z: float, out: float, unit: Unit) -> str:
    level = f"{figure(abs(z), unit)} {'above' if z >= 0 else 'below'} the surface"
    return f"{level}, {figure(out, unit)} out"


def outline_words(answer: Opened) -> Iterator[str]:
    """What was given of an outline, and its largest sphere with its centre, before what it touches."""
    unit, most = answer.unit, 2 * MOST_LISTED
    given = "; ".join(f"{m.name} {figure(m.value, unit)}" for m in answer.measurements[:most])
    yield f"Seen square to the guard. Given: {given}{'; and more.' if len(answer.measurements) > most else '.'}"
    yield _largest(answer)
    place = "Its centre is"
    if answer.pockets[0].ridge is not None:
        place = "It may stand anywhere along a line; in the middle of it its centre is"
    if answer.beside is not None:
        at = f"{_place(answer.centre, unit)}, y {figure(answer.beside.out, unit)}"
        yield f"{place} at {at}, as the points were given. It touches:"
        return
    yield f"{place} at {_place(answer.centre, unit)} ({_FRAMES[answer.form]}). It touches:"


def outline_contacts(answer: Opened) -> Iterator[str]:
    """Each thing that the sphere of an outline touches, and where."""
    outs = [None] * len(answer.touches) if answer.beside is None else answer.beside.contacts
    for name, at, out in zip(answer.touches, answer.contacts, outs, strict=True):
        yield f"{name}, at {_place(at, answer.unit)}{'' if out is None else f', y {figure(out, answer.unit)}'}"


def outline_reason(answer: Opened) -> str:
    """Why the sphere of an outline is the largest."""
    if answer.form == "strands":
        return "Between parallel strands the gap is their spacing, square, less one diameter."
    if answer.beside is not None:
        return f"{_PLANES} {_error_words(answer.beside, answer.unit)}"
    if answer.pockets[0].ridge is not None:
        return "The two edges are parallel: no sphere larger than the distance between them, square, passes there."
    return (
        "What it touches lies all round its centre, so that it cannot grow whichever way it moves; "
        "of all such spheres it is the largest."
    )


def pocket_words(answer: Opened) -> Iterator[str]:
    """The other pockets of an outline: how large, where, and what a sphere there touches."""
    unit, others = answer.unit, answer.pockets[1:]
    for p in others[:MOST_LISTED]:
        touched = ", ".join(answer.outline.names(p.sites))
        yield f"{figure(p.diameter, unit)} at {_place(p.centre, unit)}, on {touched}"
    if len(others) > MOST_LISTED:
        yield f"and {len(others) - MOST_LISTED} more"


def counted_words(answer: Opened) -> Iterator[str]:
    """How a sphere of exactly the limit counts, and what would be if the figures were exact; nothing without one."""
    if answer.limit is None:
        return
    words = "would be stopped" if answer.stops else "would go through"
    bare = f" Were the figures exact, it {words}." if answer.uncertainty is not None and answer.binding else ""
    yield f"Limit {figure(answer.limit, answer.unit)}: a sphere of exactly that counts as going through.{bare}"


def more_shares(rest: int) -> str:
    """How many lengths have a smaller share in the variance than those listed."""
    return f"and {rest} more, of smaller share"


def sureness_words(answer: Opened, u: Uncertainty) -> Iterator[str]:
    """How uncertain the sphere is, and what the decision rule makes of that."""
    unit = answer.unit
    yield f"Standard uncertainty of the sphere: u = {brief(u.standard, unit)}."
    if u.contact_may_change:
        yield (
            "Within the uncertainty the sphere may touch something else than named above: the figures of this section "
            "are then only indicative."
        )
    if u.verdict is None or u.probability is None:
        return
    yield f"Decision rule: {rule_words(u, unit)}."
    yield f"The opening complies with a probability of {percent_words(u.probability)}."
    if not answer.binding:
        yield f"Measured with such a tape it would be: {u.verdict}."
    if u.settling is not None:
        yield settle_words(u.settling, unit)


def _largest(answer: Opened) -> str:
    return f"Largest sphere: diameter {figure(answer.sphere, answer.unit, answer.limit)}."


def _place(at: tuple[float, float], unit: Unit) -> str:
    return f"({figure(at[0] + 0.0, '')}, {figure(at[1] + 0.0, unit)})"
