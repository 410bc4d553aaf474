"""The page a carpenter works from: plain text, every length plumb, square, level or along, and said so."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from stairguard.model.guard import (
    Check,
    CheckedLayout,
    Joint,
    Layout,
    Opening,
    PlacedSurface,
    Remedy,
)
from stairguard.model.job import Flight
from stairguard.model.rules import RuleSet
from stairguard.views.metrics import clean
from stairguard.views.pagetext import Figures, heading, listed, numbered, paragraph, table, underlined
from stairguard.views.worklists import cut_list, hole_list, post_list, rail_section, surface_names

__all__ = ["report"]

_UNITS = {"in": "inches", "mm": "millimetres"}
_VERDICT = {True: "passes", False: "FAILS", None: "no rule"}


def report(checked: CheckedLayout) -> str:
    """Write the whole result as one plain page of at most 100 columns, ending in a line break."""
    layout = checked.layout
    figures = Figures(layout.job.unit, layout.job.mark)
    lines = [
        *_head(checked, figures),
        *_surfaces(layout, figures),
        *_rails_and_strands(layout, figures),
        *_joints(layout, figures),
        *post_list(layout, figures),
        *hole_list(layout, figures),
        *_openings(layout, figures),
        *cut_list(layout, figures),
        *_checks(checked.checks, figures),
        *heading("CAUTIONS"),
        *listed(clean(caution) for caution in checked.cautions),
    ]
    return "\n".join(lines) + "\n"


def _head(checked: CheckedLayout, figures: Figures) -> list[str]:
    layout = checked.layout
    rules = layout.rules
    failed = sum(not check.passes for check in checked.checks)
    open_failed = sum(opening.passes is False for opening in layout.openings)
    counts = "" if checked.passes else f": {failed} of the checks and {open_failed} of the openings fail"
    return [
        *underlined(clean(layout.job.title) or "Stair guard"),
        *paragraph(
            f"Lengths in {_UNITS[figures.unit]}. What is to be marked is rounded to "
            f"{figures.tape(figures.mark)}. Stations and heights run from one datum each, so that no "
            "rounding adds up."
        ),
        *paragraph(_rules(rules)),
        *paragraph(f"Verdict: {'PASSES' if checked.passes else 'FAILS'}{counts}."),
    ]


def _rules(rules: RuleSet) -> str:
    """Name the pack, with its edition and where it holds, so far as it says."""
    words = [f"Rules: {clean(rules.name)} ({clean(rules.title)})."]
    words += [
        f"{what}: {clean(text).rstrip('.')}."
        for what, text in (("Edition", rules.edition), ("Jurisdiction", rules.jurisdiction))
        if text
    ]
    return " ".join(words)


def _surfaces(layout: Layout, figures: Figures) -> list[str]:
    names = surface_names(layout)
    rows = [
        [
            names[surface.index],
            figures.tape(surface.start.s),
            figures.tape(surface.end.s),
            figures.tape(surface.start.z),
            figures.tape(surface.end.z),
            figures.degrees(surface.pitch_deg),
        ]
        for surface in layout.line.surfaces
    ]
    return [
        *heading("NOSING LINE"),
        *paragraph("Stations are level from the start of surface 1; elevations plumb from its surface."),
        *table(["surface", "from station", "to station", "elevation", "to elevation", "pitch"], rows),
        *(line for surface in layout.line.surfaces for line in _steps(surface, figures)),
    ]


def _steps(surface: PlacedSurface, figures: Figures) -> list[str]:
    flight = surface.given
    if not isinstance(flight, Flight):
        return []
    risers = "open" if flight.open_risers else "closed"
    return paragraph(
        f"Flight {'down' if flight.down else 'up'}: {flight.risers} {risers} risers of "
        f"{figures.tape(flight.rise)} plumb, run {figures.tape(flight.run)} level, nosing projection "
        f"{figures.tape(flight.nosing)}, tread {figures.tape(flight.tread)} thick."
    )


def _rails_and_strands(layout: Layout, figures: Figures) -> list[str]:
    names = surface_names(layout)
    rails = [
        [
            names[rail.surface],
            figures.tape(rail.height),
            figures.tape(rail.underside),
            figures.tape(layout.job.rail.depth),
        ]
        for rail in layout.rails
    ]
    strands = [
        [
            names[field.surface],
            str(len(field.heights)),
            figures.tape(field.plumb_spacing),
            figures.tape(field.square_spacing),
            figures.decimal(field.square_spacing),
            ", ".join(figures.tape(height) for height in field.heights),
        ]
        for field in layout.fields
    ]
    head = ["surface", "strands", "plumb spacing", "square spacing", "the same", "centres, plumb"]
    return [
        *heading("RAIL"),
        *paragraph(
            f"Section {rail_section(layout, figures)}: depth square to the rail, width level across it. Heights "
            "plumb, above the nosing line on the flight and above the surface on landings."
        ),
        *table(["surface", "top, plumb", "underside, plumb", "depth, square"], rails),
        *heading("STRANDS"),
        *paragraph(
            f"Strand {figures.decimal(layout.job.strand.diameter)} {figures.unit} in diameter, numbered from "
            "the rail down. Centres plumb above the nosing line or surface. Holes are spaced plumb."
        ),
        *table(head, strands, words=True),
    ]


def _joints(layout: Layout, figures: Figures) -> list[str]:
    lines = heading("JOINTS")
    for joint in layout.joints:
        lines += _joint(joint, layout, figures)
    return lines if layout.joints else []


def _joint(joint: Joint, layout: Layout, figures: Figures) -> list[str]:
    names = surface_names(layout)
    before, after = (names[index] for index in joint.between)
    cut = (
        "the pieces end plumb and square on the post"
        if joint.jog
        else f"mitre {figures.degrees(joint.mitre_deg)} on each piece"
    )
    lines = paragraph(
        f"{joint.post}, between {before} and {after}: the rails meet at station {figures.tape(joint.meets.s)}"
        f"{_past_nosing(joint.from_nosing, figures)}; post centre at station {figures.tape(joint.station)}. "
        f"Bend {figures.degrees(joint.bend_deg)}, {cut}."
    )
    if joint.jog:
        higher = "above" if joint.jog > 0 else "below"
        lines += paragraph(
            f"JOG: at this post the landing's rail stands {figures.tape(abs(joint.jog))} plumb {higher} the "
            "flight's. Ways to be rid of it:"
        )
        lines += listed(_remedy(remedy, figures) for remedy in joint.remedies)
    words = [f"Strands whole through this post: {numbered(s.number for s in joint.strands if s.whole) or 'none'}."]
    ended: dict[tuple[int, ...], list[int]] = {}
    for strand in joint.strands:
        if not strand.whole:
            ended.setdefault(strand.surfaces, []).append(strand.number)
    if ended:
        spans = (f"{numbered(numbers)} of {names[surfaces[0]]}" for surfaces, numbers in ended.items())
        words.append(f"Ended here: {', '.join(spans)}.")
    if joint.reason:
        words.append(f"{joint.reason[0].upper()}{joint.reason[1:].rstrip('.')}.")
    return lines + paragraph(" ".join(words))


def _remedy(remedy: Remedy, figures: Figures) -> str:
    how = "level from the flight's nosing, uphill positive" if remedy.what == "post station" else "plumb"
    verdict = "allowed" if remedy.allowed else "not allowed"
    value = f"{figures.tape(remedy.value)} ({figures.decimal(remedy.value)} {figures.unit}) {how}"
    return f"{remedy.what} {value}: {verdict}{': ' if remedy.why else ''}{clean(remedy.why)}"


def _past_nosing(offset: Fraction | None, figures: Figures) -> str:
    if offset is None:
        return ""
    if offset == 0:
        return ", plumb over the flight's nosing"
    way = "uphill" if offset > 0 else "downhill"
    return f", {figures.tape(abs(offset))} level {way} of the flight's nosing"


def _openings(layout: Layout, figures: Figures) -> list[str]:
    names = surface_names(layout)
    groups: dict[tuple[object, ...], list[Opening]] = {}
    for opening in layout.openings:
        same = (figures.decimal(opening.sphere), figures.decimal(opening.sphere_as_marked))
        key = (opening.surface, opening.rule, opening.passes, opening.touches, *same)
        groups.setdefault(key, []).append(opening)
    rows = [
        [
            _VERDICT[opening.passes],
            figures.decimal(opening.sphere, _limit(opening)),
            figures.decimal(opening.sphere_as_marked, _limit(opening)),
            "" if opening.rule is None else figures.limit(opening.rule.value),
            str(len(same)),
            _opening_words(opening, len(same), names[opening.surface]),
        ]
        for same in sorted(groups.values(), key=lambda same: _urgency(same[0]))
        for opening in same[:1]
    ]
    return [
        *heading("OPENINGS, WORST FIRST"),
        *paragraph(
            "The largest sphere, square to the guard, by its diameter: as designed and with every hole at "
            "its mark. Equal ones are counted together. A limit marked < stops a sphere of exactly its "
            "size; one marked <= lets exactly its size pass."
        ),
        *table(
            ["verdict", "sphere", "as marked", "limit", "count", "where; what it touches; clause"],
            rows,
            words=True,
        ),
    ]


def _limit(opening: Opening) -> Fraction | None:
    return None if opening.rule is None else opening.rule.value


def _opening_words(opening: Opening, count: int, surface: str) -> str:
    others = f" and {count - 1} like it" if count > 1 else ""
    clause = ""
    if opening.rule is not None:
        sign = "<=" if opening.rule.inclusive else "<"
        clause = f"; {clean(opening.rule.clause)} ({sign})"
    return f"{surface}: {opening.where}{others}; {', '.join(opening.touches)}{clause}"


def _urgency(opening: Opening) -> tuple[int, float]:
    """Sort key: failing first, then by the share of the limit that is used up; without a rule last."""
    if opening.rule is None:
        return 2, -opening.sphere
    used = max(opening.sphere, opening.sphere_as_marked) / float(opening.rule.value)
    return (0 if opening.passes is False else 1), -used


def _checks(checks: Sequence[Check], figures: Figures) -> list[str]:
    rows = [
        [
            _VERDICT[check.passes],
            _value(check, check.value, figures),
            f"{check.kind} {figures.limit(check.limit)}",
            f"{clean(check.what)}; {_clause(check)}",
        ]
        for check in sorted(checks, key=lambda check: check.passes)
    ]
    return [
        *heading("CHECKS"),
        *table(["verdict", "value", "limit", "what; clause (status)"], rows, words=True),
    ]


def _clause(check: Check) -> str:
    if check.clause == check.status == "job":
        return "the job's own limit"
    return f"{clean(check.clause)} ({clean(check.status)})"


def _value(check: Check, value: float, figures: Figures) -> str:
    return figures.degrees(value) if check.unit == "deg" else figures.decimal(value, check.limit)
