"""Every opening of a guard under the job's push: the weakest bay each is in, and whether it holds there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import Final, NamedTuple

from stairguard.model.guard.placed_posts import PlacedPost
from stairguard.model.guard.rails_and_strands import Chord
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.strand_deflection import (
    STOPPED,
    GuardGive,
    Holding,
    OpeningGive,
    ProbePlace,
    PushVerdict,
    Taut,
)
from stairguard.model.job import Push
from stairguard.solve.load.resistance import holding, nearer_by
from stairguard.solve.load.strand_contacts import ProbeBearing, StoppedBy, seated
from stairguard.solve.load.strand_properties import steel, taut

_NEAREST: Final = 0.005
"""Part of the bay: a strand touched nearer to a post than this is taken to be touched so far from it."""

_WORST: Final[tuple[PushVerdict | None, ...]] = (
    "passes untouched",
    "gives way",
    "between",
    "no answer",
    "not solved",
    "holds",
    None,
    "turned aside",
)


_WITHOUT_STRANDS: Final[Mapping[StoppedBy, PushVerdict]] = {
    "nothing": "passes untouched", "rigid parts": "rigid", "strand and stair apart": "not solved",
}  # fmt: skip
"""What is known of a probe that no strand's push is worked out for."""


class GuardBay(NamedTuple):
    """Strands of one surface between two posts.

    ``faces`` are the stations of the posts' faces, ``length`` is clear between them along the strand, ``runs`` the
    length of the run of each strand, by number. Between the two posts of a corner, that of the joint ``corner``, faces
    are where strands come out of the posts, counted on from the first one's station, level along the strand.
    """

    surface: int
    posts: tuple[str, str]
    faces: tuple[float, float]
    length: float
    runs: Mapping[int, float]
    corner: int | None


def bays(layout: Layout) -> tuple[GuardBay, ...]:
    """Every bay that strands pass, in order of stations."""
    ends = {post.label: post for post in layout.along}
    starts = {post.label: post for post in reversed(layout.along)}
    corners = {(joint.post, joint.second_post): i for i, joint in enumerate(layout.joints) if joint.second_post}
    found: dict[tuple[str, str], GuardBay] = {}
    for run in layout.runs:
        for pair, length in zip(pairwise(run.posts), run.bays, strict=True):
            if pair not in found:
                first, last = starts[pair[0]], ends[pair[1]]
                corner = corners.get(pair)
                chord = None if corner is None else layout.joints[corner].chord
                surface = _surface(first, last, run.surfaces) if corner is None else layout.joints[corner].between[0]
                found[pair] = GuardBay(surface, pair, _faces(first, last, chord), length, {}, corner)
            found[pair].runs[run.strand] = run.length  # type: ignore[index]  # a dict until all runs are in
    return tuple(sorted(found.values(), key=lambda bay: bay.faces))


def _faces(first: PlacedPost, last: PlacedPost, chord: Chord | None) -> tuple[float, float]:
    start, half = float(first.station), (float(first.half), float(last.half))
    if chord is None:
        return start + half[0], float(last.station) - half[1]
    reach = float(chord.reach)
    return start + half[0] * reach, start + chord.level - half[1] * reach


def _surface(first: PlacedPost, last: PlacedPost, over: Sequence[int]) -> int:
    """The surface whose strands run from one post to the next."""
    sides = [{s for hole in post.holes for s in hole.surfaces if s in over} for post in (first, last)]
    return min(sides[0] & sides[1] or sides[0] or set(over))


def guard_give(layout: Layout) -> GuardGive:
    """Hold every opening to the job's push.

    Raises
    ------
    JobError
        The tension is the strand's breaking force or more.
    """
    job = layout.job
    known = taut(job)
    slack = Taut(steel(job.strand, job.strand.diameter, job.unit), Fraction(0), "assumed")
    found = under(layout, known or slack, job.push)
    if known is None:
        return GuardGive(None, job.push, tuple(replace(one, verdict=_unknown(one)) for one in found), None)
    if job.push.force is None:
        return GuardGive(known, job.push, found, None)
    weak = {
        one.holding.place: None for one in found if one.holding is not None and one.verdict in ("between", "gives way")
    }
    nearer = dict(zip(weak, nearer_by(tuple(weak), known, job.push), strict=True))
    found = tuple(replace(o, nearer=nearer.get(o.holding.place)) if o.holding is not None else o for o in found)
    return GuardGive(known, job.push, found, _passes(found))


def _passes(found: Sequence[OpeningGive]) -> bool | None:
    """Whether all hold; undecided where nothing is asked, or some are not solved and no other fails."""
    verdicts = {one.verdict for one in found}
    if verdicts - {*STOPPED, "not solved"}:
        return False
    return None if not found or "not solved" in verdicts else True


def _unknown(one: OpeningGive) -> PushVerdict | None:
    """Without a tension only what does not depend on it can be said."""
    told = ("passes untouched", "rigid", "turned aside", "no answer", "not solved")
    return one.verdict if one.verdict in told else None


def under(layout: Layout, strand: Taut, push: Push) -> tuple[OpeningGive, ...]:
    """Push the probe through every opening, at the place and in the bay where it is weakest."""
    return under_each(layout, strand, (push,))[0]


def under_each(layout: Layout, strand: Taut, pushes: Sequence[Push]) -> list[tuple[OpeningGive, ...]]:
    """The same of several pushes: where a probe of one size is pushed is found once for all of them."""
    sized = {sphere: _tried(layout, sphere) for sphere in dict.fromkeys(push.sphere for push in pushes)}
    return [_pushed(sized[push.sphere], strand, push) for push in pushes]


def _tried(layout: Layout, sphere: Fraction | None) -> list[tuple[ProbeBearing, list[tuple[GuardBay, ProbePlace]]]]:
    """A probe at every opening that has a size to hold to, as the tape marks make it, and where strands may stop it."""
    by_place: dict[tuple[int, int | None], list[GuardBay]] = {}
    for bay in bays(layout):
        by_place.setdefault((bay.surface, bay.corner), []).append(bay)
    asked: list[tuple[ProbeBearing, list[tuple[GuardBay, ProbePlace]]]] = []
    for bearing in seated(layout, sphere, as_marked=True):
        here = by_place.get((bearing.surface, layout.openings[bearing.opening].corner), [])
        asked.append((bearing, list(_places(bearing, here)) if bearing.stopped_by == "strands" else []))
    return asked


def _pushed(
    asked: Sequence[tuple[ProbeBearing, list[tuple[GuardBay, ProbePlace]]]], strand: Taut, push: Push
) -> tuple[OpeningGive, ...]:
    each = tuple(dict.fromkeys(place for _, tried in asked for _, place in tried))
    held = dict(zip(each, holding(each, strand, push), strict=True))
    return tuple(_worst(bearing, tried, held) for bearing, tried in asked)


def _places(bearing: ProbeBearing, here: Sequence[GuardBay]) -> Iterator[tuple[GuardBay, ProbePlace]]:
    """Where the probe may be pushed through an opening: in the one bay it is in, or mid-bay in each."""
    taking = [bay for bay in here if any(number in bay.runs for number in bearing.numbers)]
    if bearing.station is not None and taking:
        taking = [min(taking, key=lambda bay: _outside(bay, bearing.station or 0.0))]
    for bay in taking:
        # which two strands stand widest is the tape's chance: any neighbours may be forced, so the longest run counts
        run = max(bay.runs[number] for number in bay.runs if bearing.strands == 2 or number in bearing.numbers)
        at = None
        if bearing.station is not None:
            level = bay.faces[1] - bay.faces[0]
            part = (bearing.station - bay.faces[0]) / level if level > 0 else 0.5
            at = bay.length * min(max(part, _NEAREST), 1 - _NEAREST)
        assert bearing.clear is not None  # strands stop it, so it has one
        # rounded, so that like places are asked once: to a billionth of an inch or millimetre
        yield (
            bay,
            ProbePlace(
                bay=round(bay.length, 9),
                run=round(run, 9),
                clear=round(bearing.clear, 9),
                strands=bearing.strands,
                probe=float(bearing.probe),
                at=None if at is None else round(at, 9),
            ),
        )


def _outside(bay: GuardBay, station: float) -> float:
    return max(bay.faces[0] - station, station - bay.faces[1], 0.0)


def _worst(
    bearing: ProbeBearing, tried: Sequence[tuple[GuardBay, ProbePlace]], held: Mapping[ProbePlace, Holding]
) -> OpeningGive:
    probe = float(bearing.probe)
    if bearing.stopped_by != "strands":
        verdict = _WITHOUT_STRANDS[bearing.stopped_by]
        return OpeningGive(
            opening=bearing.opening, probe=probe, numbers=bearing.numbers, posts=(), holding=None, verdict=verdict
        )
    bay, place = min(tried, key=lambda one: _strength(held[one[1]]))
    return OpeningGive(
        opening=bearing.opening,
        probe=probe,
        numbers=bearing.numbers,
        posts=bay.posts,
        holding=held[place],
        verdict=held[place].verdict,
    )


def _strength(found: Holding) -> tuple[int, float]:
    """Sort key: the worst verdict first, then the least push of a strand that slides."""
    push = found.withstood.free
    return _WORST.index(found.verdict), float("inf") if push is None else push
