"""Handrail extensions, where a pack asks for them: how far the rail runs on past the top and bottom of a slope.

Past the top, and at both ends of a ramp, the rail runs on level; past the bottom of a flight it runs on at the flight's
slope. None is asked where the rail goes on unbroken to another slope.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from stairguard.model.guard.rail_joints import Joint
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.rules import Rule
from stairguard.model.subjects import Extension
from stairguard.rules.measures.surface_measures import on
from stairguard.solve.joint.rail_meeting import edge_of


def extensions(layout: Layout) -> Iterator[tuple[Rule, Extension, Fraction, PlacedSurface]]:
    """Each rule on extensions with what it is about, the length there is, and its surface."""
    if not any(rule.quantity == "handrail extension" for rule in layout.rules.rules):
        return
    for surface in layout.line.surfaces:
        if surface.kind == "landing":
            continue
        for last in (False, True):
            top = (surface.slope > 0) == last
            place = "ramp" if surface.kind == "ramp" else f"flight {'top' if top else 'bottom'}"
            rules = layout.rules.of("handrail extension", place)
            if not rules or _goes_on(layout, surface, last):
                continue
            sloping = place == "flight bottom"
            value = _sloping(layout, surface, last) if sloping else _level(layout, surface, last)
            for rule in rules:
                yield rule, Extension(on(surface), top, sloping), value, surface


def _next(layout: Layout, surface: PlacedSurface, last: bool) -> tuple[Joint, PlacedSurface] | None:
    """The joint at an end of a surface, and the surface beyond it."""
    for joint in layout.joints:
        if joint.between[0 if last else 1] == surface.index:
            return joint, layout.line.surfaces[joint.between[1 if last else 0]]
    return None


def _goes_on(layout: Layout, surface: PlacedSurface, last: bool) -> bool:
    """Whether the rail runs on unbroken to another slope."""
    found = _next(layout, surface, last)
    while found is not None and found[0].mitred:
        if found[1].slope:
            return True
        found = _next(layout, found[1], last)
    return False


def _sloping(layout: Layout, surface: PlacedSurface, last: bool) -> Fraction:
    """How far the surface's own rail runs past its edge, level."""
    rail, edge = layout.rails[surface.index], edge_of(surface, last)
    past = rail.end.s - edge if last else edge - rail.start.s
    return max(past, Fraction(0))


def _level(layout: Layout, surface: PlacedSurface, last: bool) -> Fraction:
    """Length of level rail that follows unbroken and straight in plan."""
    total = Fraction(0)
    found = _next(layout, surface, last)
    while found is not None and found[0].mitred and not found[0].turn_deg and not found[1].slope:
        rail = layout.rails[found[1].index]
        total += rail.end.s - rail.start.s
        found = _next(layout, found[1], last)
    return total
