"""What sections of a guard beside the stair say: what they cut, the sphere's way; what an elevation does not show."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from stairguard.model.guard.guard_openings import Opening
from stairguard.model.guard.opening_kinds import Touch
from stairguard.model.guard.rail_joints import Joint
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Unit
from stairguard.reports.words.drawing_words import first_few, limit_words, lone_sphere_lines, surface_name
from stairguard.reports.words.lengths import Formatter, sphere_words, stated
from stairguard.reports.words.opening_words import touch_words, where_words
from stairguard.reports.words.rules.verdict_words import FAILS, passes_words


def section_title(letter: str, opening: Opening) -> str:
    """Title a section."""
    return f"SECTION {letter}: {where_words(opening.where)}".upper()


def out_words(fmt: Formatter, out: Fraction) -> str:
    """Say how far out the strands are."""
    return f"{fmt(out)} out, level"


def drop_words(fmt: Formatter, drop: Fraction) -> str:
    """Say how far the foot of posts is below the surface they stand beside."""
    return f"drop {fmt(drop)} plumb"


def strand_height_words(number: int, over: float, datum: str, fmt: Formatter) -> tuple[str, ...]:
    """Say how high the centre of a strand is over the edge or line named, or how far below it."""
    if fmt(over) == fmt(0.0):
        return f"centre of strand {number}", f"level with the {datum}"
    return f"centre of strand {number}", f"{fmt(abs(over))} plumb", f"{'over' if over > 0 else 'below'} the {datum}"


NOSING_LINE: Final = "nosing line"


def datum_name(*, flight: bool) -> str:
    """What heights in a section are told from."""
    return NOSING_LINE if flight else "edge"


def cut_words(layout: Layout, opening: Opening) -> str:
    """Name the surface that a section cuts."""
    surface = layout.line.surfaces[opening.surface]
    name = surface_name(layout, surface)
    step = opening.where.step
    return f"{name}, tread {step}" if step is not None else name


BEYOND: Final = "next step, beyond"
WAY: Final = "way of the centre"


def post_words(label: str) -> str:
    """Name the post seen in a section."""
    return f"post {label}, beyond"


def touched_words(along: float, fmt: Formatter, number: int) -> tuple[str, ...]:
    """Say of a strand where, away from the section, the sphere touches it."""
    return f"strand {number} where the", f"sphere touches it, {fmt(abs(along))}", "from the section, level"


def sphere_note(opening: Opening, unit: Unit, *, dashed: bool) -> tuple[str, ...]:
    """Say beside a sphere how large it is and its limit; ``dashed`` where that is drawn about it."""
    limit = None if opening.rule is None else opening.rule.value
    lines = lone_sphere_lines(opening.sphere, limit, unit, apart=True, dashed=dashed)
    return (*lines, FAILS) if opening.passes is False else lines


def section_sentences(
    layout: Layout, opening: Opening, along: Sequence[tuple[Touch, float]], fmt: Formatter, *, known_way: bool
) -> tuple[str, ...]:
    """Say under a section where it cuts, the sphere with what came of it, what that touches, and what is not drawn.

    ``along`` are what the sphere touches, with how far from the section, along stations; ``known_way`` says whether its
    way is drawn.
    """
    unit: Unit = layout.job.unit
    start = float(layout.line.surfaces[0].start.s)
    return (
        f"Square to the guard, plumb, at station {fmt(opening.centre[0] - start)}; the surface is drawn on the left.",
        _size(opening, unit),
        f"Its centre is {fmt(opening.out)} out from the stair's side; it touches {_touched(along, fmt)}.",
        *([_WAY] if known_way else []),
        "What holds the posts is not drawn, nor how deep the side is.",
    )


def _size(opening: Opening, unit: Unit) -> str:
    """Say how large a sphere is, and what comes of it."""
    limit = None if opening.rule is None else float(opening.rule.value)
    size = f"Largest sphere ⌀{sphere_words(opening.sphere, limit, unit)}"
    size += f", as marked ⌀{sphere_words(opening.sphere_as_marked, limit, unit)}"
    if opening.rule is not None:
        size += f", limit ⌀{limit_words(opening, unit)}: {passes_words(opening.passes)}"
    return f"{size}."


_WAY: Final = "Dashed, the way of its centre: from over the surface, round the edge, down between side and strand."


def _touched(along: Sequence[tuple[Touch, float]], fmt: Formatter) -> str:
    """List what is touched, each with how far from the section where it is not in it."""
    said = []
    for touch, away in along:
        name = touch_words(touch)
        said.append(name if fmt(abs(away)) == fmt(0.0) else f"{name} ({fmt(abs(away))} from the section)")
    return ", ".join(said)


def in_space_title(letter: str) -> str:
    """Say after the title of a step seen square to the guard which section shows its sphere in space."""
    return f", SECTION {letter}"


def beside_sentences(layout: Layout, letters: Sequence[str], fmt: Formatter) -> tuple[str, ...]:
    """Say what an elevation of a guard beside the stair does not show, and where that is drawn."""
    first = (
        f"Strands stand {fmt(layout.job.post.out)} level out from the stair's side. A sphere under the lowest is in "
        "space, seen square to the guard: it may cover edge and strand here."
    )
    if not letters:
        return (first,)
    cut = f"Section {letters[0]}" if len(letters) == 1 else f"Sections {', '.join(letters[:-1])} and {letters[-1]}"
    return first, f"{cut}, cut where marked, show{'s' if len(letters) == 1 else ''} its way."


GUARD_LINE: Final = "guard's line"
WALK: Final = "walk"


def corner_title(labels: Sequence[str]) -> str:
    """Title the plan of a corner, or of corners that are alike, by their posts."""
    return f"PLAN OF CORNER{'S' if len(labels) > 1 else ''} {first_few(labels, _MOST_CORNERS)}"


_MOST_CORNERS: Final = 4


def past_words(fmt: Formatter, past: float, *, outer: bool) -> tuple[str, ...]:
    """Say how far the guard's corner is from where the edge's is, along the guard."""
    return (f"{fmt(past)} {'past' if outer else 'short of'}", "the edge's corner")


def along_words(fmt: Formatter, along: float) -> tuple[str, ...]:
    """Say how far a post's centre is from the corner, along its leg."""
    return f"{fmt(along)} to", "its centre"


def corner_post_words(label: str) -> str:
    """Name a post at a corner."""
    return f"post {label}"


def edge_words(layout: Layout, surface: PlacedSurface) -> str:
    """Name the edge of a surface."""
    return f"edge, {surface_name(layout, surface)}"


def corner_sentences(
    layout: Layout, joint: Joint, opening: Opening | None, fmt: Formatter, *, outer: bool
) -> tuple[str, ...]:
    """Say under a corner's plan on which hand the guard is, how long guard and edge are, and what gets past it."""
    hand, turn = layout.job.post.hand, abs(joint.turn_deg)
    side = "outside" if outer else "inside"
    legs = [layout.line.surfaces[index] for index in joint.between]
    return (
        f"Seen from above. The guard is on the {hand} hand as one walks, on the {side} of a turn of {stated(turn)}°.",
        *(_leg_words(layout, leg, fmt) for leg in legs),
        *([f"Round the corner: {_lower(_size(opening, layout.job.unit))}"] if opening is not None else []),
        "Posts are set out along the guard's line, from its corner; strands run from post to post.",
        "What holds the posts is not drawn.",
    )


def _lower(sentence: str) -> str:
    return sentence[0].lower() + sentence[1:]


def _leg_words(layout: Layout, surface: PlacedSurface, fmt: Formatter) -> str:
    """Say how long a surface's guard is, corner to corner, and its edge."""
    guard, edge = surface.end.s - surface.start.s, surface.edge_end.s - surface.edge_start.s
    name = surface_name(layout, surface)
    return f"{name[0].upper()}{name[1:]}: guard {fmt(guard)} level, along its own line; edge {fmt(edge)}."
