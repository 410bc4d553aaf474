"""A guard's strands as a whole: every bay, loads on ends and fittings, the upkeep of the run that needs it most."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

from stairguard.model.guard.guard_loads import BayGive, EndLoad, FittingLoad, GuardReport, PostSide, Variant
from stairguard.model.guard.pieces import BearsOn, StrandRun
from stairguard.model.guard.placed_posts import PlacedPost
from stairguard.model.guard.rail_joints import Joint
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.strand_deflection import (
    STOPPED,
    BayQuestion,
    GuardGive,
    HeldAndFree,
    Holding,
    ProbePlace,
    Taut,
    Upkeep,
)
from stairguard.model.job import Climate, Job, Unit
from stairguard.model.published.known_figure import GRAVITY
from stairguard.relations.printed import scalars
from stairguard.relations.printed.by_slope import square_of_plumb
from stairguard.solve.load.guard_deflection import GuardBay, bays, guard_give
from stairguard.solve.load.resistance import bounds_of, holding, springs
from stairguard.solve.load.strand_properties import steel
from stairguard.solve.load.tension_loss import WeatheredStrand, most_needed, upkeep
from stairguard.statics.loads import edge_pressure, end_pull, fitting_force, rail_compression, sleeve_pressure
from stairguard.statics.strand_state import hung_deflection, softened

CHECK_MASS: Final[dict[Unit, float]] = {"in": 5.0, "mm": float(2 * GRAVITY)}
"""Weight of a mass to hang at mid-bay: 5 lb, or 2 kg."""


def guard_report(layout: Layout, compared: Sequence[Variant] = ()) -> GuardReport:
    """Answer all of a guard's give.

    Raises
    ------
    JobError
        The tension is the strand's breaking force or more.
    """
    give = layout.give or guard_give(layout)
    strand = give.taut
    mass = CHECK_MASS[layout.job.unit]
    found = tuple(_bays(layout, give, mass))
    kept, where = (None, None) if strand is None else _upkeep(layout, give, strand)
    return GuardReport(
        give=give,
        mass=mass,
        bays=found,
        ends=() if strand is None else tuple(_ends(layout, strand)),
        fittings=() if strand is None else tuple(_fittings(layout, strand)),
        upkeep=kept,
        upkeep_run=where,
        compared=tuple(compared),
        steel=_strand(layout.job, give).steel,
    )


def _strand(job: Job, give: GuardGive) -> Taut:
    """The strand as the job has it, slack where no tension is known."""
    return give.taut or Taut(steel(job.strand, job.strand.diameter, job.unit), Fraction(0), "assumed")


def _bays(layout: Layout, give: GuardGive, mass: float) -> Iterator[BayGive]:
    """Every bay, strands of one run length together."""
    strand = _strand(layout.job, give)
    asked = list(_alike(bays(layout)))
    places = [_place(layout, give, bay, run) for bay, _, run in asked]
    held = dict(zip(asked_places := tuple(p for p in places if p is not None),
                    holding(asked_places, strand, give.push), strict=True))  # fmt: skip
    for (bay, numbers, run), place in zip(asked, places, strict=True):
        found = None if place is None else held[place]
        if found is not None and give.taut is None:
            found = replace(found, verdict=None)
        sag, sinks = _hanging(give, bay, run, mass)
        yield BayGive(
            surface=bay.surface,
            posts=bay.posts,
            numbers=numbers,
            length=bay.length,
            run=run,
            holding=found,
            sag=sag,
            sinks=sinks,
        )


def _alike(found: Sequence[GuardBay]) -> Iterator[tuple[GuardBay, tuple[int, ...], float]]:
    for bay in found:
        by_run: dict[float, list[int]] = {}
        for number, run in sorted(bay.runs.items()):
            by_run.setdefault(round(run, 9), []).append(number)
        for run, numbers in by_run.items():
            yield bay, tuple(numbers), run


def _place(layout: Layout, give: GuardGive, bay: GuardBay, run: float) -> ProbePlace | None:
    field = layout.fields[bay.surface]
    rule = layout.rules.opening(layout.line.surfaces[bay.surface].kind)
    probe = give.push.sphere if give.push.sphere is not None or rule is None else rule.sphere
    if probe is None or len(field.heights) < 2:
        return None
    chord = None if bay.corner is None else layout.joints[bay.corner].chord
    spacing = field.square_spacing if chord is None else square_of_plumb(float(field.plumb_spacing), chord.sec)
    return ProbePlace(bay=round(bay.length, 9), run=run, clear=round(spacing / 2, 9), strands=2, probe=float(probe))


def _hanging(give: GuardGive, bay: GuardBay, run: float, mass: float) -> tuple[float | None, HeldAndFree]:
    """Sag, and how far the check mass takes the strand down square to it: on a slope less of its weight is."""
    if give.taut is None or not give.taut.tension:
        return None, HeldAndFree(None, None)
    tension, made = float(give.taut.tension), give.taut.steel
    level = (bay.faces[1] - bay.faces[0]) / bay.length if bay.length else 1.0
    runs = [bay.length, max(run, bay.length)]
    sinks = hung_deflection(
        mass * min(level, 1.0), tension, softened(made.stiffness, runs, springs(give.push)), bay.length, runs
    )
    return scalars.strand_sag(made.weight, bay.length, tension), bounds_of(sinks)


def weakest_bay(layout: Layout) -> tuple[str, BayQuestion] | None:
    """The bay between whose strands a probe passes with the least push, as a question of its own, and its posts."""
    job, give = layout.job, layout.give or guard_give(layout)
    strand = _strand(job, give)
    found = [bay for bay in _bays(layout, give, CHECK_MASS[job.unit]) if bay.holding is not None]
    if not found:
        return None
    bay = min(found, key=lambda bay: _strength(bay.holding))
    place = bay.holding.place  # type: ignore[union-attr]  # only those that have one are in
    spacing, length, run, probe = (Fraction(x) for x in (2 * place.clear, place.bay, place.run, place.probe))
    push = replace(give.push, sphere=probe)
    asked = BayQuestion(
        unit=job.unit,
        diameter=job.strand.diameter,
        spacing=spacing,
        strands=2,
        bay=length,
        run=max(run, length),
        at=None,
        taut=strand,
        push=push,
    )
    return f"bay {bay.posts[0]}-{bay.posts[1]}", asked


def _strength(found: Holding | None) -> float:
    push = None if found is None else found.push.free
    return float("inf") if push is None else push


def _ends(layout: Layout, strand: Taut) -> Iterator[EndLoad]:
    """Strands that end on each post, from each of its sides, in order of stations."""
    ending: dict[tuple[str, PostSide], list[StrandRun]] = {}
    for run in layout.runs:
        ending.setdefault((run.posts[0], "after"), []).append(run)
        ending.setdefault((run.posts[-1], "before"), []).append(run)
    for post in layout.posts:
        for side in ("before", "after"):
            if runs := ending.get((post.label, side)):
                yield _end(layout, strand, post, side, runs)


def _end(layout: Layout, strand: Taut, post: PlacedPost, side: PostSide, runs: Sequence[StrandRun]) -> EndLoad:
    over = {run.strand: run.surfaces[0 if side == "after" else -1] for run in runs}
    heights = {n: _height(post, n, surface) for n, surface in over.items()}
    pitch = _pitch(layout, runs[0].posts[:2] if side == "after" else runs[0].posts[-2:], next(iter(over.values())))
    numbers = tuple(sorted(over))
    away = pitch if side == "after" else -pitch
    pull = end_pull([float(strand.tension)] * len(numbers), [heights[n] for n in numbers], away)
    return EndLoad(
        post=post.label,
        side=side,
        numbers=numbers,
        pull=pull.pull,
        level=pull.level,
        plumb=pull.plumb,
        height=pull.height,
        moment=pull.moment,
        compression=rail_compression(pull.moment, float(post.length)),
    )


def _pitch(layout: Layout, posts: tuple[str, ...], surface: int) -> float:
    """Of strands in the bay between two posts: that of their surface, or of the chord between a corner's two."""
    chord = next((joint.chord for joint in layout.joints if (joint.post, joint.second_post) == posts), None)
    return layout.line.surfaces[surface].pitch_deg if chord is None else chord.pitch_deg


def _height(post: PlacedPost, number: int, surface: int) -> float:
    holes = [hole for hole in post.holes if hole.strand == number]
    return float(next((hole for hole in holes if surface in hole.surfaces), holes[0]).height)


def _fittings(layout: Layout, strand: Taut) -> Iterator[FittingLoad]:
    """Strands that are turned at a joint's post, or at each of its two."""
    passing: dict[str, set[int]] = {}
    for run in layout.runs:
        for label in run.posts[1:-1]:
            passing.setdefault(label, set()).add(run.strand)
    for index, joint in enumerate(layout.joints):
        for label, bends in _bends(joint, passing):
            by_bend: dict[float, list[int]] = {}
            for number, bend in bends.items():
                by_bend.setdefault(round(bend, 9), []).append(number)
            for bend, numbers in by_bend.items():
                yield _fitting(layout.job, strand, label, index, tuple(numbers), bend)


def _bends(joint: Joint, passing: Mapping[str, set[int]]) -> Iterator[tuple[str, dict[int, float]]]:
    """Bends at a joint's post or posts, by the strands that pass there; one may end at a corner's other post."""
    if joint.chord is not None and joint.second_post is not None:
        for label, bend in zip((joint.post, joint.second_post), joint.chord.bends_deg, strict=True):
            yield label, dict.fromkeys(sorted(passing.get(label, ())), bend)
    else:
        yield joint.post, {s.number: s.bend_deg for s in joint.strands if s.whole and s.bend_deg}


def _fitting(job: Job, strand: Taut, post: str, joint: int, numbers: tuple[int, ...], bend: float) -> FittingLoad:
    force = fitting_force(float(strand.tension), bend)
    diameter = float(job.strand.diameter)
    sleeve = 2 * diameter if job.post.sleeve_diameter is None else float(job.post.sleeve_diameter)
    return FittingLoad(
        post=post,
        joint=joint,
        numbers=numbers,
        bend_deg=bend,
        force=force,
        edge=edge_pressure(force, diameter),
        sleeve=sleeve_pressure(force, sleeve, float(job.post.width)),
    )


def _upkeep(layout: Layout, give: GuardGive, strand: Taut) -> tuple[Upkeep | None, tuple[str, str] | None]:
    """Of all runs the one that comes down lowest; then every opening is asked with that tension."""
    climate = layout.job.climate
    places = tuple(
        dict.fromkeys(
            one.holding.place for one in give.openings if one.holding is not None and one.holding.place.clear > 0
        )
    )
    if climate is None or not places:
        return None, None
    spring = springs(give.push)[1]
    widths = {post.label: float(post.width) for post in layout.posts}
    runs = {
        (
            tuple(round(bay, 9) for bay in run.bays),
            round(run.length, 9),
            _drawn_in(widths[run.posts[0]], run.bears[0], climate),
            _drawn_in(widths[run.posts[-1]], run.bears[1], climate),
        ): run
        for run in layout.runs
    }
    found = [
        (upkeep(WeatheredStrand(strand, bays, length, (first, last), spring), climate, places, give.push), run)
        for (bays, length, first, last), run in runs.items()
    ]
    kept, run = min(found, key=lambda one: one[0].lowest.least)
    highest = max((one.highest for one, _ in found), key=lambda point: point.most)
    kept = replace(kept, highest=highest, breaks=any(one.breaks for one, _ in found))
    return kept, (run.posts[0], run.posts[-1])


def _drawn_in(width: float, bears: BearsOn, climate: Climate) -> float:
    """Width of which an end's seat comes in by the shrinkage, or by half of it where the post's centre stays put.

    On the outer face that is the post's own. The inner face stays put itself, or draws back as the outer one comes in.
    """
    if bears == "outer face":
        return width
    return -width if bears == "inner face" and climate.seated == "centre" else 0.0


def variant(changed: str, layout: Layout, passes: bool | None) -> Variant:
    """What a guard comes to, for holding it against another."""
    job, give = layout.job, layout.give or guard_give(layout)
    made = steel(job.strand, job.strand.diameter, job.unit)
    tension = None if job.strand.tension is None else float(job.strand.tension)
    longest = max((bay.length for bay in bays(layout)), default=0.0)
    strand = give.taut
    pulls = [] if strand is None else [end.level for end in _ends(layout, strand)]
    stopping = [one for one in give.openings if one.verdict not in ("rigid", "turned aside", "not solved")]
    known = [one.holding for one in stopping if one.holding is not None]
    pushes = [one.withstood for one in known]
    needs = [one.needed for one in known]
    if len(known) < len(stopping):  # a probe that passes untouched takes no push, and no tension stops it
        pushes, needs = [HeldAndFree(0.0, 0.0)], [HeldAndFree(None, None)]
    all_can = all(one.free is not None for one in needs)
    return Variant(
        changed=changed,
        diameter=float(job.strand.diameter),
        construction=job.strand.construction,
        spacing=float(job.strand.spacing),
        max_gap=float(job.post.max_gap),
        tension=tension,
        source=job.strand.source,
        strands=max(len(field.heights) for field in layout.fields),
        worst_sphere=max((opening.sphere_as_marked for opening in layout.openings), default=0.0),
        weakest=_least(pushes),
        needed=most_needed(known) if all_can else HeldAndFree(None, None),
        held=sum(one.verdict in STOPPED for one in give.openings),
        openings=len(give.openings),
        end_pull=max(pulls, default=None),
        weight=made.weight * float(layout.cuts.strand_total),
        sag=scalars.strand_sag(made.weight, longest, tension) if tension else None,
        passes=passes,
    )


def _least(found: Sequence[HeldAndFree]) -> HeldAndFree:
    held, free = ([b for b in (getattr(one, way) for one in found) if b is not None] for way in ("held", "free"))
    return HeldAndFree(min(held, default=None), min(free, default=None))
