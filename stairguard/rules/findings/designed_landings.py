"""Findings at the turns of a guard as designed: landings whose depth its line does not show, posts at their edges."""

from __future__ import annotations

from collections.abc import Iterator

from stairguard.model.findings import Finding, Location
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Landing
from stairguard.model.reasons import DepthStatedBy, Why
from stairguard.model.rules import Rule
from stairguard.model.subjects import AtPost, Foot, Size
from stairguard.rules.findings.checks import binds
from stairguard.rules.findings.own_limits import JOB
from stairguard.rules.findings.site_findings import unchecked
from stairguard.rules.measures.landing_depths import Between, between_flights, concerns, landing_depth, slopes_at
from stairguard.rules.measures.surface_measures import on


def untold_depths(layout: Layout) -> Iterator[tuple[Rule | None, Finding]]:
    """Bounds on the depth of landings, and a tread's between two flights, where the depth is not known."""
    surfaces, unit = layout.line.surfaces, layout.job.unit
    for surface in surfaces:
        if surface.kind != "landing" or not slopes_at(surfaces, surface.index):
            continue
        depth = landing_depth(surfaces, surface.index)
        for rule in layout.rules.of("landing length", surface.kind):
            if concerns(rule, surfaces, surface.index) and not depth.decides(rule.kind, rule.value):
                what, place = Size(on(surface), "landing depth"), Location(surface.index)
                why = Why.DEPTH_UNSHOWN, DepthStatedBy(surface.index)
                binding = binds(rule, layout.job)
                yield rule, unchecked(rule, unit, *why, what=what, place=place, binding=binding)
    for one in between_flights(surfaces):
        if not one.depth.decides("at least", one.needed):
            yield (
                None,
                Finding(
                    clause=JOB,
                    status=JOB,
                    quantity="landing length",
                    verdict="not checked",
                    what=one.what,
                    place=one.place,
                    kind="at least",
                    limit=float(one.needed),
                    unit=unit,
                    why=(Why.DEPTH_UNSHOWN, _stated_by(surfaces, one)),
                ),
            )


def _stated_by(surfaces: tuple[PlacedSurface, ...], one: Between) -> DepthStatedBy:
    landings = [s for s in surfaces[one.first.index + 1 : one.second.index] if isinstance(s.given, Landing)]
    return DepthStatedBy(landings[0].index if landings else None)


def corner_feet(layout: Layout) -> Iterator[Finding]:
    """Posts of plan turns that stand at the edge of a landing: how they are held there is to be decided."""
    for post in layout.posts:
        if not layout.past_edge_of_turn(post) or post.clear is None:
            continue
        at = AtPost(post.label)
        yield Finding(
            clause=JOB,
            status=JOB,
            quantity="foot of post",
            verdict="needs a decision",
            what=Foot(at, corner=True),
            place=Location(None, at),
            value=float(post.clear),
            kind="at least",
            limit=0.0,
            unit=layout.job.unit,
            margin=float(post.clear),
            why=(Why.FOOT_AT_CORNER,),
        )
