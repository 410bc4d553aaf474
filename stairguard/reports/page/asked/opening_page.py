"""An opening's answer in words that say why the figure is right."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from stairguard.reports.page.page_text import heading, listed, paragraph, table, underlined
from stairguard.reports.words.asked.inverse_words import how_far
from stairguard.reports.words.asked.opening_answer_words import TITLES
from stairguard.reports.words.general_cautions import ALWAYS
from stairguard.reports.words.lengths import brief, figure, fixed, percent
from stairguard.reports.words.uncertainty_words import percent_words, rule_words, settle_words

if TYPE_CHECKING:
    from stairguard.model.asked.asked_opening import Form, Opened, Uncertainty
    from stairguard.model.job import Unit

_FRAMES: Final[dict[Form, str]] = {
    "points": "x and z as the points were given",
    "sides": "along side 1 from its first corner, and square to it",
    "lengths": "along the first side from its first corner, and square to it",
    "strands": "along the lower strand, and square to it from its axis",
}
_MOST_LISTED: Final = 12


def opening_report(opened: Opened) -> str:
    """Write an opening in words: the sphere, why it is right, what limits and uncertainty make of it.

    Parameters
    ----------
    opened
        From any of the functions that find one.

    Returns
    -------
    str
        At most 100 columns, ending in a line break; its first line is the result.
    """
    from stairguard.reports.page.asked.opening_head import opening_head

    unit = opened.unit
    lines = [*opening_head(opened), *underlined(TITLES[opened.form])]
    lines += _step_words(opened, unit) if opened.of_step else _outline_words(opened, unit)
    if opened.limit is not None:
        words = "would be stopped" if opened.stops else "would go through"
        bare = f" Were the figures exact, it {words}." if opened.uncertainty is not None and opened.binding else ""
        lines += paragraph(
            f"Limit {figure(opened.limit, unit)}: a sphere of exactly that counts as going through.{bare}"
        )
    if opened.uncertainty is not None:
        lines += _uncertainty_words(opened, opened.uncertainty, unit)
    if opened.inverse is not None:
        lines += [*heading("The other way round"), *paragraph(how_far(opened, opened.inverse, unit))]
    lines += [*heading("Cautions"), *listed(ALWAYS)]
    return "\n".join(lines) + "\n"


def _step_words(answer: Opened, unit: Unit) -> Iterator[str]:
    given = {m.name: figure(m.value, unit) for m in answer.measurements}
    x, z = answer.centre
    yield from paragraph(
        "Rise {rise} plumb, run {run} level, nosing projection {nosing} level, tread {tread} thick; "
        "underside of the lowest member {lift} above the nosing line, square.".format(**given)
    )
    yield from paragraph(f"Largest sphere: diameter {figure(answer.sphere, unit, answer.limit)}.")
    yield from paragraph(
        f"Its centre: {figure(x, unit)} level into the stair from the lower nosing, "
        f"{figure(z, unit)} plumb above it. It touches:"
    )
    yield from listed(
        f"{name}, at {figure(at[0], unit)} level and {figure(at[1], unit)} plumb"
        for name, at in zip(answer.touches, answer.contacts, strict=True)
    )
    yield from paragraph(_step_reason(answer))


def _step_reason(answer: Opened) -> str:
    if answer.closed_form:
        return (
            "It touches tread, riser and member, so the closed form holds: "
            "D = 2 (R (1 + P/G) + L k) / (k + 1 + R/G) with k = sqrt(1 + (R/G)^2); "
            "R rise, G run, P projection, L lift."
        )
    return "The closed form for tread, riser and member does not hold here; the true outline decides."


def _outline_words(answer: Opened, unit: Unit) -> Iterator[str]:
    yield from paragraph(
        "Seen square to the guard. Given: "
        + "; ".join(f"{m.name} {figure(m.value, unit)}" for m in answer.measurements[: 2 * _MOST_LISTED])
        + ("; and more." if len(answer.measurements) > 2 * _MOST_LISTED else ".")
    )
    yield from paragraph(f"Largest sphere: diameter {figure(answer.sphere, unit, answer.limit)}.")
    pocket, frame = answer.pockets[0], _FRAMES[answer.form]
    place = (
        "Its centre is"
        if pocket.ridge is None
        else "It may stand anywhere along a line; in the middle of it its centre is"
    )
    yield from paragraph(f"{place} at {_place(answer.centre, unit)} ({frame}). It touches:")
    yield from listed(
        f"{name}, at {_place(at, unit)}" for name, at in zip(answer.touches, answer.contacts, strict=True)
    )
    yield from paragraph(_outline_reason(answer, unit))
    others = answer.pockets[1:]
    if others:
        shown = [
            f"{figure(p.diameter, unit)} at {_place(p.centre, unit)}, on {', '.join(answer.outline.names(p.sites))}"
            for p in others[:_MOST_LISTED]
        ]
        yield from paragraph("Other pockets, each a local maximum, none larger:")
        yield from listed(shown + [f"and {len(others) - _MOST_LISTED} more"] * (len(others) > _MOST_LISTED))


def _outline_reason(answer: Opened, unit: Unit) -> str:
    if answer.form == "strands":
        return "Between parallel strands the gap is their spacing, square, less one diameter."
    if answer.pockets[0].ridge is not None:
        return "The two edges are parallel: no sphere larger than the distance between them, square, passes there."
    return (
        "What it touches lies all round its centre, so that it cannot grow whichever way it moves; "
        "of all such spheres it is the largest."
    )


def _place(at: tuple[float, float], unit: Unit) -> str:
    return f"({figure(at[0] + 0.0, '')}, {figure(at[1] + 0.0, unit)})"


def _uncertainty_words(answer: Opened, u: Uncertainty, unit: Unit) -> Iterator[str]:
    yield from heading("How sure that is")
    yield from paragraph(answer.assumed)
    yield from paragraph(
        "Each length is taken as anywhere within its +-, all alike (standard uncertainty +- / sqrt(3)), and as "
        "independent of the others."
    )
    yield ""
    yield from _share_table(u, unit)
    yield ""
    yield from paragraph(f"Standard uncertainty of the sphere: u = {brief(u.standard, unit)}.")
    if u.contact_may_change:
        yield from paragraph(
            "Within the uncertainty the sphere may touch something else than named above: the figures of this section "
            "are then only indicative."
        )
    if u.verdict is None or u.probability is None:
        return
    yield from paragraph(f"Decision rule: {rule_words(u, unit)}.")
    yield from paragraph(f"The opening complies with a probability of {percent_words(u.probability)}.")
    if not answer.binding:
        yield from paragraph(f"Measured with such a tape it would be: {u.verdict}.")
    if u.settling is not None:
        yield from paragraph(settle_words(u.settling, unit))


def _share_table(u: Uncertainty, unit: Unit) -> list[str]:
    rows = [
        [
            s.measurement.name,
            figure(s.measurement.value, unit),
            brief(s.measurement.plus_minus),
            fixed(s.derivative, 4),
            percent(s.percent, 1),
        ]
        for s in u.shares[:_MOST_LISTED]
    ]
    lines = table(["measurement", "value", "+-", "sphere grows by, per unit", "share of variance"], rows)
    rest = len(u.shares) - _MOST_LISTED
    return lines + (paragraph(f"and {rest} more, of smaller share") if rest > 0 else [])
