"""What the tables beside an elevation say: figures, openings, holes, post stations, cautions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

from stairguard.model.guard.guard_openings import Opening
from stairguard.model.guard.opening_kinds import Where
from stairguard.model.guard.placed_posts import PlacedPost
from stairguard.model.guard.rail_joints import Joint
from stairguard.model.guard.solved_layout import CheckedLayout, Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Flight, MeasuredFlight
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.columns import Block, Cell, CellAnchor, natural_width, paragraph, table
from stairguard.reports.drawing.paper.drafting import CAP, Note
from stairguard.reports.drawing.paper.scene import ACCENT, INK
from stairguard.reports.words.drawing_words import (
    field_note,
    first_few,
    limit_words,
    surface_name,
)
from stairguard.reports.words.grouping import groups, labels
from stairguard.reports.words.joints.jog_words import jog_note, remedy_rows
from stairguard.reports.words.joints.joint_words import ended_words
from stairguard.reports.words.lengths import Formatter, degrees_words, given_words, marked, sphere_words
from stairguard.reports.words.opening_words import where_words
from stairguard.reports.words.rules.finding_words import subject_words
from stairguard.reports.words.rules.verdict_words import FAILS, passes_words


def figures(layout: Layout, fmt: Formatter, width: float) -> Block:
    """List what was asked for and what came of it: steps, rail heights, strands and their spacing."""
    rows: list[tuple[str, str]] = []
    steps: dict[tuple[str, ...], list[PlacedSurface]] = {}
    for surface in layout.line.surfaces:
        if surface.nosings:
            steps.setdefault(_steps(layout, surface, fmt), []).append(surface)
    for lines, surfaces in steps.items():
        heads = ("steps", "treads", "pitch")
        rows += zip(heads, lines, strict=True)
        if len(steps) > 1:
            rows.append(("", f"surface{'s' if len(surfaces) > 1 else ''} {_numbers(surfaces)}"))
    said: dict[tuple[str, ...], list[PlacedSurface]] = {}
    carriers = [s for s in layout.line.surfaces if s.carries]
    for surface in sorted(carriers, key=lambda s: s.kind != "flight"):
        said.setdefault(_infill(layout, surface, fmt), []).append(surface)
    for lines, surfaces in said.items():
        name, numbers = _group(layout, surfaces, len(said))
        rows += ((name if not i else "", line) for i, line in enumerate((*lines, *numbers)))
    return table("GUARD", rows, ("start", "start"), width)


def _steps(layout: Layout, surface: PlacedSurface, fmt: Formatter) -> tuple[str, ...]:
    """Say a flight's steps, treads and pitch, a line each."""
    given, exact = surface.given, given_words(layout.job, fmt)
    assert isinstance(given, Flight | MeasuredFlight)  # only they have nosings
    if isinstance(given, Flight):
        steps = f"{given.risers} risers {exact(given.rise)}, run {exact(given.run)}"
    else:
        steps = f"{len(surface.nosings)} measured nosings, by straightedge"
    treads = f"{exact(given.tread)} thick, nosing projects {exact(given.nosing)}"
    return steps, treads, degrees_words(abs(surface.pitch_deg))


def _group(layout: Layout, surfaces: Sequence[PlacedSurface], groups: int) -> tuple[str, tuple[str, ...]]:
    """Name surfaces that share rail and strands; with a line of their numbers where the name leaves doubt."""
    if len(surfaces) == 1:
        return surface_name(layout, surfaces[0]), ()
    kinds = {s.kind for s in surfaces}
    everywhere = sum(s.carries and s.kind in kinds for s in layout.line.surfaces) == len(surfaces)
    name = "all" if groups == 1 else f"{min(kinds)}s" if len(kinds) == 1 else "rail"
    certain = everywhere and name != "rail"
    return name, () if certain else (f"surfaces {_numbers(surfaces)}",)


def _numbers(surfaces: Sequence[PlacedSurface]) -> str:
    """Numbers of surfaces as a reader counts them, the first few."""
    return first_few([str(s.index + 1) for s in surfaces], 5)


def _infill(layout: Layout, surface: PlacedSurface, fmt: Formatter) -> tuple[str, ...]:
    """Say rail, strands and spacing over one surface, a line each."""
    height = given_words(layout.job, fmt)(layout.rails[surface.index].height)
    over = "nosing line" if surface.nosings else "surface"
    return f"rail {height} plumb, top over {over}", *field_note(layout, surface, fmt)


def failures(checked: CheckedLayout, width: float) -> Block:
    """List every binding check that fails, with its clause, in the accent ink."""
    rows = []
    for check in checked.checks:
        if not check.passes and check.binding:
            value, limit = (marked(x, check.unit, 7) for x in (check.value, check.limit))
            kind = _KINDS.get(check.kind, check.kind)
            rows.append(f"{subject_words(check.what)}: {value}, must be {kind} {limit} ({check.clause})")
    block = paragraph(FAILS, rows, width)
    return Block(block.title, tuple(tuple(replace(cell, ink=ACCENT) for cell in row) for row in block.rows))


_KINDS: Final = {"stops": "less than", "stops more than": "at most"}


def joints(layout: Layout, fmt: Formatter, width: float) -> Block:
    """List what would rid each joint of its jog, and why strands end at one."""
    unit = layout.job.unit

    def told(joint: Joint) -> tuple[str, ...]:
        return jog_note(layout, joint, fmt), *remedy_rows(joint, unit, fmt)

    rows: list[str] = []
    for same in groups((joint for joint in layout.joints if joint.jog), told):
        size, *ways = told(same[0])
        rows += (f"{_few(same)}: {size}; to be rid of it, one of:", *ways)
    for same in groups((joint for joint in layout.joints if not joint.through), lambda j: ended_words(j.barred, unit)):
        rows.append(f"strands end at {_few(same)}: {ended_words(same[0].barred, unit)}")
    return paragraph("JOINTS", rows, width)


def _few(same: Sequence[Joint]) -> str:
    return first_few([joint.post for joint in same], 6)


def openings(layout: Layout, width: float) -> Block:
    """List the largest sphere of every kind of opening, failing ones in the accent ink."""
    unit = layout.job.unit
    rows: list[tuple[str, ...]] = [("opening", "sphere", "limit", "")]
    inks = [INK]
    worst = _worst(layout)
    for (where, place), opening in worst.items():
        limit = float(opening.rule.value) if opening.rule is not None else None
        verdict = passes_words(opening.passes, "-")
        verdict = verdict if opening.leave is None else "by leave"
        sphere = max(opening.sphere, opening.sphere_as_marked)
        twins = sum(other == where for other, _ in worst) > 1
        name = where_words(where)
        words = (sphere_words(sphere, limit, unit), limit_words(opening, unit))
        bare = tuple(w.removesuffix(" mm") for w in words)
        rows.append((f"{place}: {name}" if twins else name, *bare, verdict))
        inks.append(ACCENT if opening.passes is False else INK)
    title = "LARGEST SPHERES, AS MARKED" + (", mm" if unit == "mm" else "")
    return table(title, rows, ("start", "end", "end", "end"), width, inks)


def _worst(layout: Layout) -> dict[tuple[Where, str], Opening]:
    """Return one opening of each kind over landings, and over flights: the failing one, else the largest."""
    worst: dict[tuple[Where, str], Opening] = {}
    for opening in layout.openings:
        surface = layout.line.surfaces[opening.surface]
        key = opening.where.unnumbered, surface.kind if surface.nosings else f"{surface.kind}s"
        if _severity(opening) > _severity(worst.setdefault(key, opening)):
            worst[key] = opening
    return worst


def _severity(opening: Opening) -> tuple[bool, float]:
    return opening.passes is False, opening.sphere_as_marked


def holes(layout: Layout, fmt: Formatter, width: float) -> Block | None:
    """List the hole heights of the first line post on a flight, three to a row; None if there is none."""
    alike = [p for p in layout.posts if p.role == "line" and p.step is not None and p.holes]
    if not alike:
        return None
    post = alike[0]
    same = [p.label for p in alike if _pattern(p) == _pattern(post)]
    cells = [f"{hole.strand}: {fmt(hole.marked)}" for hole in post.holes]
    tilt = degrees_words(abs(post.holes[0].drill_deg))
    names = labels(same)
    base = "foot" if layout.job.post.mount == "side" else "tread"
    if metrics.width(_holes_title(names, base, tilt), CAP) > width:
        names = f"{same[0]} and {len(same) - 1} alike"
    thirds = tuple(
        tuple(Cell(words, i * width / 3) for i, words in enumerate(cells[k : k + 3])) for k in range(0, len(cells), 3)
    )
    return Block(_holes_title(names, base, tilt), thirds)


def _holes_title(names: str, base: str, tilt: str) -> str:
    return f"HOLES IN {names}, plumb above {base}, at {tilt}"


def _pattern(post: PlacedPost) -> tuple[Fraction, ...]:
    return tuple(hole.marked for hole in post.holes)


def stations(posts: Sequence[PlacedPost], start: Fraction, fmt: Formatter, width: float) -> Block:
    """List every post with its station from the datum; its tread, length and base if there is width for them."""
    rows = [("post", "station", "tread", "length", "base")]
    for post in posts:
        tread = str(post.step) if post.step is not None else "-"
        rows.append((post.label, fmt(post.station - start), tread, fmt(post.length), fmt(post.base)))
    anchors: tuple[CellAnchor, ...] = ("start", "end", "end", "end", "end")
    for columns in (5, 4, 3, 2):
        shown = [row[:columns] for row in rows]
        if columns == 2 or natural_width(shown) <= width:
            break
    block = table("POST CENTRES, STATIONS FROM THE DATUM", shown, anchors[:columns], width)
    return replace(block, head=1)


def notes_left(notes: Sequence[Note], width: float) -> Block | None:
    """Give notes that found no room on the drawing as sentences; None if all found room."""
    sentences = [", ".join(note.words) for note in notes if note.words]
    return paragraph("NOTES", sentences, width) if sentences else None
