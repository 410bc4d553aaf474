"""What every reader of a result must be told, and what this layout in particular gives reason to say."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import radians, tan
from typing import Final

from stairguard.geometry.marks import last_digit, mark_above
from stairguard.model.finding_words import alike_words, subject_words
from stairguard.model.general_cautions import ALWAYS
from stairguard.model.grouping import in_steps, labels
from stairguard.model.guard.rails_and_strands import RailLine
from stairguard.model.guard.solved_layout import Check, Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import MeasuredFlight, Unit
from stairguard.model.rules import Rule, RuleSet
from stairguard.model.subjects import apart_from_place
from stairguard.relations.printed import scalars
from stairguard.rules.findings.practice import practised
from stairguard.rules.measures.lowered_strands import not_reached

__all__ = ["ALWAYS", "LARGER_SPHERE", "cautions", "of_rules", "statuses"]

LARGER_SPHERE: Final = (
    "The larger sphere of the step triangle was used: some officials accept it only under a rigid bottom rail, and not "
    "under a strand."
)
"""Said wherever a verdict uses it."""

_DIGITS: Final = 5


def cautions(layout: Layout, unmet: Sequence[Check], used: Sequence[Rule]) -> tuple[str, ...]:
    """All cautions of a layout, the general ones first.

    Parameters
    ----------
    layout
        The solved guard.
    unmet
        Optional rules that it does not meet.
    used
        Binding rules that it was held to, openings included.
    """
    rules = layout.rules
    texts = [*of_rules(rules)]
    texts += statuses(used)
    if any(rule.place == "step triangle" for rule in used):
        texts.append(LARGER_SPHERE)
    leave = dict.fromkeys(opening.leave.clause for opening in layout.openings if opening.leave is not None)
    if leave:
        texts.append(
            f"By leave of {'; '.join(leave)} spheres under the lowest strand are larger than others may be: whether "
            "a strand may be that lowest edge is for the authority to say."
        )
    texts += _low_ends(layout)
    texts += not_reached(layout)
    texts += _jogs(layout)
    texts += _laps(layout)
    texts += _askew(layout)
    texts += _crossed(layout)
    texts += _assumed(layout)
    texts += _overhangs(layout)
    texts += _past_ends(layout)
    texts += _too_long(layout)
    texts += _pulls(layout)
    texts += _optional(unmet)
    texts += _practice(layout)
    if layout.job.strand.terminal_take_up == 0 and layout.job.strand.tensioner_take_up == 0:
        texts.append("Take-ups are zero: strand lengths run between bearing faces, with nothing deducted for fittings.")
    return tuple(dict.fromkeys(texts))


def of_rules(rules: RuleSet) -> tuple[str, ...]:
    """What is said whatever the guard: the general cautions, what was amended locally, and the pack's own."""
    texts = (*ALWAYS, *(f"Amended locally: {change}." for change in rules.amended), *rules.cautions)
    return (
        texts if rules.rules else (*texts, "No rule pack was asked for: nothing was checked but the job's own limits.")
    )


def statuses(used: Sequence[Rule]) -> Iterator[str]:
    """Which clauses were not read, and how surely they are known."""
    for status, words in (
        ("from memory", "From memory, no document read"),
        ("secondary", "Read in a copy, a quotation or an earlier edition"),
    ):
        clauses = dict.fromkeys(rule.clause for rule in used if rule.status == status)
        if clauses:
            yield f"{words}: {'; '.join(clauses)}. Compare with the code in force before relying on it."


def _low_ends(layout: Layout) -> Iterator[str]:
    """Places where one surface's rail runs on over its neighbour, lower than the neighbour's rule asks."""
    found: dict[tuple[str, str, str, str], list[int]] = {}
    for surface in layout.line.surfaces:
        if not surface.carries:
            continue  # its rail is its neighbours' and checked as such
        floors = [
            rule for rule in layout.rules.of("guard height", surface.kind) if rule.kind == "at least" and rule.binding
        ]
        for low in _neighbours_over(layout, surface) if floors else ():
            for rule in floors:
                if low < rule.value:
                    least, asked = _shown(low, layout.job.unit), _shown(rule.value, layout.job.unit)
                    found.setdefault((surface.kind, rule.clause, least, asked), []).append(surface.index + 1)
    for (kind, clause, least, asked), numbers in found.items():
        yield (
            f"At a joint the neighbour's rail runs on over {_surfaces(numbers)} ({kind}), "
            f"as low as {least} where {clause} asks {asked}: ask whether the neighbour's "
            "own height may hold as far as the post."
        )


def _neighbours_over(layout: Layout, surface: PlacedSurface) -> Iterator[Fraction]:
    """Least heights over a surface of the rails before and after it, so far as they reach it."""
    for step in (-1, 1):
        index = surface.index + step
        while 0 <= index < len(layout.line.surfaces) and not layout.line.surfaces[index].carries:
            index += step
        if 0 <= index < len(layout.line.surfaces):
            low = _lowest_over(layout, layout.rails[index], surface)
            if low is not None:
                yield low


def _lowest_over(layout: Layout, rail: RailLine, surface: PlacedSurface) -> Fraction | None:
    """Least plumb height of a rail over a surface that is not its own; None if it does not reach it."""
    low, high = max(rail.start.s, surface.start.s), min(rail.end.s, surface.end.s)
    if low >= high:
        return None
    own = layout.line.surfaces[rail.surface]
    return min(own.datum(s) + rail.height - surface.datum(s) for s in (low, high))


def _jogs(layout: Layout) -> Iterator[str]:
    """Jogs, posts with one of the same size together."""
    found: dict[str, list[str]] = {}
    for joint in layout.joints:
        if joint.jog != 0:
            found.setdefault(_shown(abs(joint.jog), layout.job.unit), []).append(joint.post)
    for jog, posts in found.items():
        yield f"At {_posts(posts)} the rails do not meet: a plumb jog of {jog} is left (see remedies)."


def _laps(layout: Layout) -> Iterator[str]:
    """Turns so sharp that the rails of both legs lie along or in one another."""
    found: dict[tuple[str, bool], list[str]] = {}
    for joint in layout.joints:
        if joint.lap:
            found.setdefault((_shown(joint.lap, layout.job.unit), joint.mitred), []).append(joint.post)
    for (far, mitred), posts in found.items():
        sides = "no saw cuts the mitre: the rails would lie side by side" if mitred else "the rails lie in one another"
        yield (
            f"At {_posts(posts)} the turn is so sharp that {sides} as far as {far} from the corner. Make it in "
            "two turns of half as much each, with a landing between."
        )


def _askew(layout: Layout) -> Iterator[str]:
    """Corner posts that stand so askew that a hole comes out over the edge of its face."""
    bore = layout.job.strand.diameter
    if layout.job.post.sleeves:
        bore = layout.job.post.sleeve_diameter or 2 * bore
    found = []
    for post in layout.posts:
        askew = abs(post.stance.askews_deg[0])
        if float(post.width) * (1 - tan(radians(askew))) < scalars.strand_ellipse(float(bore), askew):
            found.append(post.label)
    if found:
        yield (
            f"At {_posts(found)} holes come out over the edge of the post's face, so askew it stands to the rails: "
            'turn it nearly square to both ([post] corner_square = "rails"), or make the corner with two posts.'
        )


def _crossed(layout: Layout) -> Iterator[str]:
    """Landings over which the rail goes on at a slope."""
    found: dict[str, list[int]] = {}
    for surface in layout.line.surfaces:
        if not surface.carries:
            height = _shown(layout.rails[surface.index].height, layout.job.unit)
            found.setdefault(height, []).append(surface.index + 1)
    for height, numbers in found.items():
        yield (
            f"No level piece of rail lies over {_surfaces(numbers)} (landing): the neighbours' rails run on at their "
            f"slopes, {height} above it at the lowest, and so do the strands: ask whether that may guard a landing."
        )


def _assumed(layout: Layout) -> Iterator[str]:
    numbers = [
        surface.index + 1
        for surface in layout.line.surfaces
        if isinstance(surface.given, MeasuredFlight) and surface.given.down and surface.given.last_rise is None
    ]
    if numbers:
        yield (
            f"The lowest rise of {_surfaces(numbers)} (flight), measured going down, was not given: it is taken as the "
            "mean of the others. Measure it."
        )


def _past_ends(layout: Layout) -> Iterator[str]:
    """Walking surface at the ends of the line that the guard does not stand beside."""
    unit = layout.job.unit
    for one in layout.unguarded:
        high = f"{_shown(one.drop, unit)} up" if one.drop > 0 else "at the lowest level of the line"
        yield (
            f"Surface {one.surface + 1} ({layout.line.surfaces[one.surface].kind}) is {one.where}, for "
            f"{_shown(one.length, unit)} level, {high}: what stands there must close it, or the guard go on."
        )


def _too_long(layout: Layout) -> Iterator[str]:
    """Say which pieces no stock is long enough for."""
    for what, plan in layout.stock:
        if plan.too_long:
            names = ", ".join(piece.label for piece in plan.too_long)
            yield f"No {what} stock is long enough for {names}: splice, or buy longer; the stock plan leaves them out."


def _overhangs(layout: Layout) -> Iterator[str]:
    """Posts whose foot does not stand wholly on its tread or surface."""
    if layout.job.post.mount != "surface":
        return
    corners = [post.label for post in layout.posts if layout.past_edge_of_turn(post)]
    if corners:
        one = len(corners) == 1
        yield (
            f"At the corner of a landing and steps ({_posts(corners)}) part of the post stands beyond the landing: "
            "notch it over the edge and fix it to the landing's side, or let it into the steps. "
            f"{'Its length counts' if one else 'Their lengths count'} from the lowest tread under "
            f"{'it' if one else 'them'}."
        )
    found: dict[str, list[str]] = {}
    for post in layout.posts:
        if post.support == "post" and post.clear is not None and post.clear < 0 and post.label not in corners:
            # rounded up: moved by it, the post stands clear
            by = mark_above(-post.clear, last_digit(float(post.clear), _DIGITS))
            found.setdefault(_shown(by, layout.job.unit), []).append(post.label)
    for over, posts in found.items():
        yield (
            f"The foot of {_posts(posts)} overhangs its tread or surface by {over}, level: mount it at the stair's "
            "side, notch it, or move it."
        )


def _pulls(layout: Layout) -> Iterator[str]:
    """What the strands' pull asks of walls, newels and corners."""
    supports = dict.fromkeys(post.support for post in layout.posts if post.support != "post")
    if supports:
        yield (
            f"The {' and the '.join(supports)} at the end of the line must bear the pull of all strands: a licensed "
            "engineer decides."
        )
    turns = [joint for joint in layout.joints if joint.turn_deg]
    if turns:
        posts = [label for joint in turns for label in (joint.post, joint.second_post) if label]
        yield (
            f"At the plan turn{'s' if len(turns) > 1 else ''} ({_posts(posts)}) the strands of both sides pull the "
            "corner inwards, and nothing on the other side holds against them: brace it, or have a licensed engineer "
            "size it."
        )


def _optional(unmet: Sequence[Check]) -> Iterator[str]:
    """Optional rules that are not met, each clause once, alike surfaces together."""
    clauses: dict[str, dict[tuple[object, str], list[Check]]] = {}
    for check in unmet:
        of = f" {check.unit}" if check.unit else ""
        figures = f"is {check.value:.5g}{of}, {check.kind} {check.limit:.5g}{of}"
        clauses.setdefault(check.clause, {}).setdefault((apart_from_place(check.what), figures), []).append(check)
    for clause, found in clauses.items():
        texts = (f"{alike_words([check.what for check in same])} {figures}" for (_, figures), same in found.items())
        yield f"{clause} would not be met, if it applies here: {'; '.join(texts)}."


def _surfaces(numbers: Sequence[int]) -> str:
    return f"surface{'s' if len(numbers) > 1 else ''} {in_steps(numbers)}"


def _posts(posts: Sequence[str]) -> str:
    return f"post{'s' if len(posts) > 1 else ''} {labels(posts)}"


def _practice(layout: Layout) -> Iterator[str]:
    for one in practised(layout):
        if one.verdict != "pass" and one.value is not None and one.limit is not None:
            figures = f"{one.value:.5g}{_of(one.unit)}, by common practice {one.kind} {one.limit:.5g}{_of(one.unit)}"
            yield f"The {subject_words(one.what)}, is {figures} ({one.why})."


def _of(unit: str) -> str:
    return f" {unit}" if unit else ""


def _shown(length: Fraction | float, unit: Unit) -> str:
    return f"{float(length):.{_DIGITS}g} {unit}"
