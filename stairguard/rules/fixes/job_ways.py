"""Ways to mend what a layout decides: rail heights, posts and what they leave open, as keys of its job."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import chain
from typing import Final

from stairguard.model.findings import Finding
from stairguard.model.fixes import Change, Fix, SideEffect, Step
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Landing, MeasuredFlight, Ramp
from stairguard.rules.fixes.surface_ways import Ways, down, up
from stairguard.solve.joint.corner_posts import least_offset
from stairguard.solve.joint.joint_posts import MOST_FOR_TWO

_DROP: Final = {"in": Fraction(8), "mm": Fraction(200)}
"""How far below the surface the foot of a post at the stair's side may be: a choice, no source."""


class JobWays:
    """Ways for one layout."""

    def __init__(self, layout: Layout) -> None:
        self.layout, self.job = layout, layout.job
        slopes = {surface.kind for surface in layout.line.surfaces}
        landings = [
            rule.value
            for rule in layout.rules.of("landing length", "landing")
            if rule.kind == "at least" and rule.speaks_at(slopes)
        ]
        self.steps = Ways(
            layout.line.surfaces, self.job.handrail, self.job.unit, self.job.mark, max(landings, default=None)
        )

    def of(self, finding: Finding, limit: Fraction) -> Iterator[Fix]:
        """Ways to keep a finding's bound at this limit, the least intrusive first."""
        if finding.quantity in ("guard height", "handrail height"):
            return self._heights(finding, limit)
        if finding.quantity == "handrail extension":
            return self._extensions(finding, limit)
        if finding.quantity in ("foot of post", "hole"):
            return chain(self._drop(finding), self.unforced(finding), self.posts_elsewhere())
        if finding.quantity == "strand length":
            return chain(
                self._farther(finding, limit), self.unforced(finding), self._longer(finding, limit), self._whole()
            )
        if finding.quantity == "post gap":
            return chain(self.unforced(finding), self._gap(finding))
        if finding.quantity == "strand spacing":
            return self.nearer(limit - Fraction(finding.value or 0))
        return self.steps.of(finding, limit)

    # --- rails --------------------------------------------------------------------------------------------------------

    def _heights(self, finding: Finding, limit: Fraction) -> Iterator[Fix]:
        own = finding.quantity == "handrail height" and self.job.handrail.height is not None
        if own:
            yield from self.steps.own_handrail(finding, limit)
            return
        surface = self._surface(finding)
        if surface is None or finding.value is None:
            return
        now = self.layout.rails[surface.index].height
        straight = isinstance(surface.given, MeasuredFlight) or not surface.carries
        asked = now + limit - Fraction(finding.value) if straight else limit
        for height in self.steps.to_marks(finding.kind, asked):
            yield from self._rail(surface, height)
        if finding.quantity == "handrail height":
            yield self._apart(limit)

    def _rail(self, surface: PlacedSurface, height: Fraction) -> Iterator[Fix]:
        """The rail's height over a surface, by the key it has: its own, or the job's of landings or of all else."""
        change, rail, given = self.steps.change, self.job.rail, surface.given
        if given.rail_height is not None:
            yield Fix((change("surface", "rail_height", height, given.rail_height, (surface.index,)),))
            return
        both = (
            change("rail", "height", height, rail.height),
            change("rail", "landing_height", height, rail.landing_height),
        )
        if rail.height == rail.landing_height or not surface.carries:
            yield Fix(both)  # a file that gives one height means both
            kept = change("rail", "landing_height", rail.landing_height), change("rail", "height", rail.height)
            if surface.carries:
                yield Fix((both[1], kept[1]) if surface.kind == "landing" else (both[0], kept[0]))
        else:
            yield Fix((both[1] if surface.kind == "landing" else both[0],))
            yield Fix(both)
        yield Fix((change("surface", "rail_height", height, None, (surface.index,)),))

    def _apart(self, limit: Fraction) -> Fix:
        """A handrail of its own, beside a guard that is higher."""
        least = [
            up(rule.value, self.job.mark)
            for kind in ("flight", "ramp", "landing")
            for rule in self.layout.rules.of("handrail height", kind)
            if rule.kind == "at least"
        ]
        height = max([down(limit, self.job.mark), *least])
        keys: list[Step] = [self.steps.change("handrail", "height", height)]
        if any(s.kind == "landing" for s in self.layout.line.surfaces):
            keys.append(self.steps.change("handrail", "landing_height", height))
        if self.job.site.top_is_handrail:
            keys.append(Change("site", "top_is_handrail", value=False))
        return Fix(tuple(keys), (SideEffect.OWN_HANDRAIL,))

    def _extensions(self, finding: Finding, limit: Fraction) -> Iterator[Fix]:
        """Rails that meet, unbroken, or a longer landing for the level part."""
        rail, surface = self.job.rail, self._surface(finding)
        if surface is None or finding.value is None:
            return
        change = self.steps.change
        if rail.landing_height != rail.height:
            yield Fix((change("rail", "landing_height", rail.height, rail.landing_height),))
            yield Fix((change("rail", "height", rail.landing_height, rail.height),))
        short = up(limit - Fraction(finding.value), self.job.mark)
        for index in (surface.index + 1, surface.index - 1):
            beside = self._at(index)
            if beside is not None and isinstance(beside.given, Landing):
                length = beside.given.length
                yield Fix((change("surface", "length", length + short, length, (index,)),))
        yield from self.unforced(finding)

    # --- posts --------------------------------------------------------------------------------------------------------

    def unforced(self, finding: Finding) -> Iterator[Fix]:
        """Posts left to the layout where the job says where they stand."""
        index = finding.place.surface
        near = range(len(self.job.surfaces)) if index is None else (index, index + 1)
        for k in near:
            given = self.job.surfaces[k] if k < len(self.job.surfaces) else None
            for key in ("start_post", "posts"):
                if given is not None and getattr(given, key) is not None:
                    yield Fix((Change("surface", key, None, surfaces=(k,)),))

    def _farther(self, finding: Finding, limit: Fraction) -> Iterator[Fix]:
        """One of the two posts of a bay farther from the other, where the job says where it stands."""
        short = self._short(finding, limit)
        for label, way in zip(finding.place.posts, (-1, 1), strict=True):
            for index in self._started_by(label):
                now = self.job.surfaces[index].start_post
                if now is not None:
                    at = down(now - short, self.job.mark) if way < 0 else up(now + short, self.job.mark)
                    yield Fix((self.steps.change("surface", "start_post", at, now, (index,)),))

    def _started_by(self, label: str) -> Iterator[int]:
        """The surface whose ``start_post`` places a post: the later one of its joint, or the line's first."""
        joints = (joint for joint in self.layout.joints if label in (joint.post, joint.second_post))
        yield from (joint.between[1] for joint in joints)
        if label == self.layout.posts[0].label:
            yield 0

    def _longer(self, finding: Finding, limit: Fraction) -> Iterator[Fix]:
        """A longer landing, or ramp, where it lies between two posts that are too near."""
        surface = self._surface(finding)
        if surface is not None and isinstance(surface.given, (Landing, Ramp)):
            now = surface.given.length
            length = up(now + self._short(finding, limit), self.job.mark)
            yield Fix((self.steps.change("surface", "length", length, now, (surface.index,)),))

    def _whole(self) -> Iterator[Fix]:
        """Strands that pass whole through joints where the job ends them there."""
        if self.job.strand.at_joints == "break":
            yield Fix((Change("strand", "at_joints", "through"),))

    def _short(self, finding: Finding, limit: Fraction) -> Fraction:
        return limit - Fraction(finding.value or 0)

    def _drop(self, finding: Finding) -> Iterator[Fix]:
        """A foot farther down the stair's side, below the lowest hole."""
        post = self.job.post
        if finding.quantity == "hole" and post.mount == "side" and finding.value is not None:
            drop = up(post.drop - Fraction(finding.value), self.job.mark)
            for value in (drop, drop + self.job.mark):
                yield Fix((self.steps.change("post", "drop", value, post.drop),))

    def posts_elsewhere(self) -> Iterator[Fix]:
        """Two posts at every corner, or posts at the stair's side."""
        post, change = self.job.post, self.steps.change
        turns = [surface.turn for surface in self.job.surfaces if 0 < abs(surface.turn) <= MOST_FOR_TWO]
        if post.corner == "one" and turns:
            apart = up(max(least_offset(post.width, turn) for turn in turns), self.job.mark)
            yield Fix((Change("post", "corner", "two"), change("post", "corner_offset", max(post.width, apart))))
        if post.mount == "surface":
            yield Fix((Change("post", "mount", "side"), change("post", "drop", _DROP[self.job.unit])))

    def _gap(self, finding: Finding) -> Iterator[Fix]:
        """The job's own limit, as wide as it takes."""
        now = self.job.post.max_gap
        value = up(Fraction(finding.value or 0), self.job.mark)
        if value > now:
            yield Fix((self.steps.change("post", "max_gap", value, now),), (SideEffect.JOBS_OWN_LIMIT,))

    def nearer(self, short: Fraction) -> Iterator[Fix]:
        """Strands nearer to each other by this much at least (less than nothing), all along the line."""
        spacing, mark = self.job.strand.spacing, self.job.mark
        widest = max((Fraction(f.square_spacing) for f in self.layout.fields if len(f.heights) > 1), default=spacing)
        first = down(min(widest, spacing) + min(short, Fraction(0)), mark)
        for marks in (0, 1, 2, 4):
            value = first - marks * mark
            if self.job.strand.diameter < value < spacing:
                yield Fix((self.steps.change("strand", "spacing", value, spacing),))

    def _surface(self, finding: Finding) -> PlacedSurface | None:
        return None if finding.place.surface is None else self._at(finding.place.surface)

    def _at(self, index: int) -> PlacedSurface | None:
        surfaces = self.layout.line.surfaces
        return surfaces[index] if 0 <= index < len(surfaces) else None
