"""What is said of a stretch of the guard: its joints, strands, landings and pitches, as notes to be placed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby, pairwise
from typing import Final, TypeAlias

from stairguard.model.guard.rail_joints import Joint
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.reports.drawing.elevation.dimensions import in_view
from stairguard.reports.drawing.elevation.guard_lines import reach
from stairguard.reports.drawing.elevation.sheet_breaks import Leaf
from stairguard.reports.drawing.elevation.stair_lines import datum
from stairguard.reports.drawing.paper.drafting import NOWHERE, Note
from stairguard.reports.drawing.paper.scene import Place, View
from stairguard.reports.words.drawing_words import level_note, parallel_note, pitch_words, surface_name
from stairguard.reports.words.grouping import groups
from stairguard.reports.words.joints.meeting_words import jog_or_bend_note, joint_notes
from stairguard.reports.words.lengths import Formatter

Saying: TypeAlias = tuple[Note, ...]
"""One thing to say, as notes of the same words at each place they are true of, best first."""

_FEW_JOINTS: Final = 3
_MOST_PLACES: Final = 3


def apart(note: Note) -> Note:
    """Name what a note speaks of, where it stands apart from the drawing."""
    return replace(note, words=(f"{note.of}: {note.words[0]}", *note.words[1:])) if note.of else note


def pitch_note(layout: Layout, surface: PlacedSurface) -> Note:
    """Say the pitch of a flight or ramp over which its sign found no room."""
    return Note((pitch_words(layout, surface),), NOWHERE, NOWHERE, "pitch")


def sayings(layout: Layout, view: View, fmt: Formatter, leaf: Leaf) -> list[Saying]:
    """List what is said of a leaf's joints, strands and surfaces, most wanted first."""
    here = [joint for joint in layout.joints if leaf.shows(joint)]
    if len(here) > _FEW_JOINTS:  # those of one kind are named once: their detail says the rest
        alike = groups(here, lambda joint: jog_or_bend_note(layout, joint, fmt))
        joints = [_joint_saying(layout, view, same, (jog_or_bend_note(layout, same[0], fmt),)) for same in alike]
    else:
        joints = [_joint_saying(layout, view, [joint], joint_notes(layout, joint, fmt)) for joint in here]
    return [*_level_sayings(layout, view, fmt, leaf), *joints, *_strand_sayings(layout, view, fmt, leaf)]


def _joint_saying(layout: Layout, view: View, same: Sequence[Joint], said: Sequence[str]) -> Saying:
    """Say the same of joints, at any one of them."""
    words = (f"joint{'s' if len(same) > 1 else ''} {', '.join(joint.post for joint in same)}", *said)
    notes = []
    for joint in same:
        s = float(joint.ends[0].s if joint.mitred else joint.station)
        surface = layout.line.surfaces[joint.between[0]]
        at = view.to_paper(s, datum(surface, s) + float(layout.rails[surface.index].height))
        if at is not None:
            notes.append(Note(words, at, Place(at.x, at.y + 18), f"joint {joint.post}", end="arrow"))
    return tuple(notes[:_MOST_PLACES]) or (Note(words, NOWHERE, NOWHERE, f"joint {same[0].post}"),)


def _level_sayings(layout: Layout, view: View, fmt: Formatter, leaf: Leaf) -> Iterator[Saying]:
    """Name the landings and their elevations, under the middle of a bay in view, the widest first."""
    stations = [float(p.station) for p in layout.along]
    for level, found in groupby(leaf.of(layout), lambda s: s.kind == "landing"):
        if not level:
            continue
        together = list(found)
        surface, words = together[0], level_note(layout, together, fmt)
        what = f"elevation of surface {surface.index + 1}"
        start, end = float(surface.start.s), float(together[-1].end.s)
        bays = []
        for window in view.windows:
            first, last = max(window.first, start), min(window.last, end)
            stops = [first, *(s for s in stations if first < s < last), last]
            bays += [(b - a, (a + b) / 2) for a, b in pairwise(stops) if b > a]
        notes = []
        for _, middle in sorted(bays, reverse=True)[:_MOST_PLACES]:
            at = view.to_paper(middle, float(surface.start.z))
            assert at is not None  # the bay lies in a window
            notes.append(Note(words, at, Place(at.x, at.y - 9), what, end="arrow"))
        yield tuple(notes) or (Note(words, NOWHERE, NOWHERE, what),)


def _strand_sayings(layout: Layout, view: View, fmt: Formatter, leaf: Leaf) -> Iterator[Saying]:
    """Say number, size and spacing of strands over flights and ramps, once for those alike, at any of them."""
    said: dict[tuple[str, ...], list[tuple[int, Note]]] = {}
    for surface in leaf.of(layout):
        field = layout.fields[surface.index]
        if not field.heights or surface.kind == "landing":
            continue
        words = parallel_note(layout, surface, fmt)
        notes = said.setdefault(words, [])
        name = surface_name(layout, surface)
        what = f"strands over {name}"
        downhill = 1.0 if surface.slope > 0 else -1.0
        middle = float(field.heights[len(field.heights) // 2])
        for rank, s in enumerate(_spots(layout, view, surface)):
            at = view.to_paper(s, datum(surface, s) + middle)
            if at is not None:
                notes.append((rank, Note(words, at, Place(at.x + downhill * 40, at.y - 40), what, of=name)))
        if not notes:
            notes.append((len(_ALONG), Note(words, NOWHERE, NOWHERE, what, of=name)))
    for notes in said.values():
        ranked = sorted(notes, key=lambda one: one[0])  # the best place over each surface before the next best
        yield tuple(note for _, note in ranked[:_MOST_PLACES])


def _spots(layout: Layout, view: View, surface: PlacedSurface) -> list[float]:
    """Stations at which a leader may point to a surface's strands, those clear of posts first."""
    found = [s for s in in_view(surface, view, _ALONG) if _strung(layout, surface, s)]
    return sorted(found, key=lambda s: not _between_posts(layout, view, s))


_ALONG: Final = (0.45, 0.55, 0.35, 0.65, 0.2, 0.8)


def _strung(layout: Layout, surface: PlacedSurface, station: float) -> bool:
    """Whether a surface's strands are there: they may end at a post short of its edge, or run on past it."""
    first, last = reach(layout, surface.index)
    return first < station < last


def _between_posts(layout: Layout, view: View, station: float) -> bool:
    """Whether a leader's dot at a station stands clear of every post."""
    return all(abs(station - float(p.station)) > float(p.width) / 2 + _DOT / view.scale for p in layout.along)


_DOT: Final = 1.0
