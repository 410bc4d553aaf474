"""The strands of every surface: one comb where they pass whole through joints, each surface's own where they end."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache
from math import sqrt
from typing import TYPE_CHECKING, Final, NamedTuple

from stairguard.errors import Fault, JobError
from stairguard.geometry.marks import figure_text, mark_above, mark_below, plain_text
from stairguard.geometry.slope import secant
from stairguard.model.guard.passages import Bar, RailsApart
from stairguard.model.guard.rails_and_strands import Chord, Field
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Job
from stairguard.model.rules import Rule, RuleSet
from stairguard.relations.printed import scalars
from stairguard.relations.printed.by_slope import plumb_of_square, square_of_plumb, strand_ellipse
from stairguard.solve.sphere.below_lowest import highest
from stairguard.solve.sphere.step_profile import Profile
from stairguard.solve.strand.comb import Ground, comb, fits_under, own_field

if TYPE_CHECKING:
    from stairguard.solve.sphere.corner_way import EdgeCorner

_PART_OF_MARK: Final = 100
"""Of a mark: what a height that is searched may be too low."""
_FINE: Final = Fraction(1, 1000)
"""Step of a figure that is no length on a tape."""


class JointEffect(NamedTuple):
    """What a joint does to the strands that come to it.

    ``shift`` is how much more height over its datum a strand has after it than before, ``chord`` how strands run
    between the two posts of a corner (None at one post), ``barred`` why they may not pass, None where they may.
    """

    shift: Fraction
    chord: Chord | None
    barred: Bar | None


class Terrain:
    """What strands run over, surface by surface: slopes, undersides of rails, and profiles of flights."""

    def __init__(
        self,
        job: Job,
        rules: RuleSet,
        undersides: Sequence[Fraction],
        secs: Sequence[Fraction],
        profiles: dict[int, Profile],
        corners: Mapping[int, Sequence[EdgeCorner]],
    ) -> None:
        self.job, self.rules, self.undersides, self.secs, self.profiles = job, rules, undersides, secs, profiles
        self.corners = corners
        self._lowest: dict[tuple[object, ...], Fraction | None] = {}

    def ground(self, surface: PlacedSurface) -> Ground:
        """What a surface asks of its strands, its datum its own."""
        sec, under, d = self.secs[surface.index], self.undersides[surface.index], self.job.strand.diameter
        rules = self.rules.openings(surface.kind, edged=surface.edged)
        spacing = _largest_spacing(self.job, rules[0] if rules else None, sec)
        profile = self.profiles.get(surface.index)
        if profile is None:
            low = None
            spheres = [rule.sphere for rule in rules if rule.sphere is not None]
            if spheres:
                high = plumb_of_square(_over_edge(min(spheres) + d / 2, self.job.post.out), sec)
                high = self._round_corners(surface, min(spheres), high)
                low = max(high - self.job.mark, _clear(self.job, sec))
        else:
            key = (profile, under, sec)
            if key not in self._lowest:
                try:
                    self._lowest[key] = lowest_over(self.job, self.rules, profile, sec, under, spacing)
                except _NoRoomError as short:
                    raise _too_low(self.job, surface, short.by) from None
            low = self._lowest[key]
        return Ground(
            surface=surface.index, shift=Fraction(0), underside=under, lowest=low, spacing=spacing, sec=sec, diameter=d,
            least=_least(self.job, sec),
        )  # fmt: skip

    def _round_corners(self, surface: PlacedSurface, limit: Fraction, high: Fraction) -> Fraction:
        """How high a lowest strand may stand that may be so high along the edge: less where it turns a corner."""
        least = _clear(self.job, self.secs[surface.index])
        if surface.index not in self.corners:
            return high
        from stairguard.solve.sphere.corner_way import highest_round  # only where strands stand out from the stair

        for corner in self.corners[surface.index]:
            within = float(least), max(float(high), float(least))
            found = highest_round(corner, float(limit), within, float(self.job.mark) / _PART_OF_MARK)
            if within[0] < found < within[1]:  # where no height does, this is not what mends it
                high = Fraction(found)
        return high

    def largest_between(self, chord: Chord, kinds: Iterable[str]) -> Fraction:
        """Largest plumb spacing of strands that run between the two posts of a corner of two kinds of surface."""
        sec = secant(chord.slope)
        return min(_largest_spacing(self.job, self.rules.opening(kind), sec) for kind in kinds)


class _NoRoomError(Exception):
    """No strand has room under a rail: it is too low ``by`` so much, or a hair more."""

    def __init__(self, by: Fraction) -> None:
        super().__init__(by)
        self.by = by


def _too_low(job: Job, surface: PlacedSurface, by: Fraction) -> JobError:
    """Say how high a flight's rail must be, by the key that its height has."""
    own = surface.given.rail_height
    key, height = (
        ("rail.height", job.rail.height) if own is None else (f"surface[{surface.index + 1}].rail_height", own)
    )
    least = mark_above(height + by, job.mark, more=True)
    return JobError(
        Fault(key, f"at least {plain_text(least)}, to leave room for a strand under the rail", float(height))
    )


def _largest_spacing(job: Job, rule: Rule | None, sec: Fraction) -> Fraction:
    """Largest plumb spacing: the job's, or what the opening rule leaves when both holes are a mark's half off."""
    plumb = plumb_of_square(job.strand.spacing, sec)
    if rule is not None:
        plumb = min(plumb, plumb_of_square(scalars.strand_spacing(job.strand.diameter, rule.value), sec) - 2 * job.mark)
    if plumb <= 0:
        widest = scalars.strand_spacing(job.strand.diameter, rule.value if rule else Fraction(0))
        most = mark_below(plumb_of_square(widest, sec) / 2, _FINE, less=True)
        must = f"no more than {plain_text(most)}, so that the opening rule leaves strands two marks and more apart"
        raise JobError(Fault("mark", must, float(job.mark)))
    return plumb


def _over_edge(reach: Fraction, out: Fraction) -> Fraction:
    """How high, square, a strand so far out from the edge of a surface stands to be ``reach`` from it; zero beyond."""
    return Fraction(sqrt(reach * reach - out * out)) if reach > out else Fraction(0)


def room_below(job: Job) -> Fraction:
    """How far below nosings and surfaces strands may come, plumb: as far as the foot of posts that stand beside."""
    return job.post.drop if job.post.out > job.strand.diameter / 2 else Fraction(0)


def _least(job: Job, sec: Fraction) -> Fraction:
    """What a strand's centre may not come down to: the nosings or surface, or the foot of posts beside them."""
    return strand_ellipse(job.strand.diameter, sec) / 2 - room_below(job)


def _clear(job: Job, sec: Fraction) -> Fraction:
    """Least height of a strand's centre that keeps it clear of all that once its hole is marked."""
    return _least(job, sec) + job.mark / 2


# a remedy changes one flight and leaves the others as they were
_highest = lru_cache(maxsize=256)(highest)


def lowest_over(
    job: Job, rules: RuleSet, profile: Profile, sec: Fraction, underside: Fraction, spacing: Fraction
) -> Fraction | None:
    """Height of the lowest strand over a flight: as its own openings allow, less one mark; None where no rule asks."""
    d = job.strand.diameter
    least, most = _clear(job, sec), underside - strand_ellipse(d, sec)
    if most <= least:
        raise _NoRoomError(least - most)
    triangle = rules.openings("step triangle", "flight")
    if all(rule.sphere is None for rule in triangle):  # no sphere places it, so it stands one spacing up
        most = max(min(most, spacing), least)
    low = _highest(profile, d / 2, sec, rules, (least, most), job.mark / 1000)
    return None if low is None else max(low - job.mark - plumb_of_square(job.strand.lower, sec), least)


def strand_fields(
    terrain: Terrain, surfaces: Sequence[PlacedSurface], ways: Sequence[JointEffect]
) -> tuple[dict[int, Field], tuple[Bar | None, ...]]:
    """Strands of every surface that carries a rail, and of each joint why its strands end there (None: they pass).

    Parameters
    ----------
    surfaces : those that carry a rail, in order
    ways : of each joint; that of surface i and the next is the i-th
    """
    grounds = [terrain.ground(s) for s in surfaces]
    for i, way in enumerate(ways):
        if way.chord is not None and way.barred is None:
            # between the two posts of a corner the strands' slope, and so their square spacing, is another
            most = terrain.largest_between(way.chord, (s.kind for s in surfaces[i : i + 2]))
            grounds[i : i + 2] = [replace(g, spacing=min(g.spacing, most)) for g in grounds[i : i + 2]]
    shifts = list(itertools.accumulate((way.shift for way in ways), initial=Fraction(0)))
    barred = [way.barred for way in ways]
    fields: dict[int, Field] = {}
    first = 0
    for last in range(len(surfaces)):
        if last < len(ways) and barred[last] is None:
            continue
        here = zip(grounds[first : last + 1], shifts[first : last + 1], strict=True)
        group = [replace(g, shift=s) for g, s in here]
        fields |= _group(group, barred, first)
        first = last + 1
    for ground in grounds:
        _check_room(terrain.job, ground, fields[ground.surface])
    return fields, tuple(barred)


def _group(group: list[Ground], barred: list[Bar | None], first: int) -> dict[int, Field]:
    """One comb over surfaces whose strands pass whole; where one's way is not clear, the widest step ends them.

    ``barred`` of the joints that had to be ended is filled in.
    """
    waiting = [(0, len(group))]
    fields: dict[int, Field] = {}
    while waiting:
        a, b = waiting.pop()
        part = group[a:b]
        if len(part) == 1:
            fields[part[0].surface] = own_field(part[0])
            continue
        main = _main(part)
        found = comb(
            replace(main, shift=Fraction(0)), [replace(g, shift=g.shift - main.shift) for g in part if g is not main]
        )
        by_surface = {f.surface: f for f in found}
        crowded = not all(fits_under(g, by_surface[g.surface]) for g in part)
        if not crowded and all(_reaches(g, by_surface[g.surface]) for g in part):
            fields |= by_surface
            continue
        steps = [
            abs((part[i].roof - part[i].shift) - (part[i + 1].roof - part[i + 1].shift)) for i in range(len(part) - 1)
        ]
        widest = max(steps)
        cuts = [i for i, step in enumerate(steps) if step == widest]
        for i in cuts:
            under = part[i].underside - part[i].shift, part[i + 1].underside - part[i + 1].shift
            barred[first + a + i] = RailsApart(float(abs(under[0] - under[1])), in_the_way=crowded)
        bounds = [0, *(i + 1 for i in cuts), len(part)]
        waiting += [(a + x, a + y) for x, y in itertools.pairwise(bounds)]
    return fields


def _reaches(ground: Ground, field: Field) -> bool:
    """Whether the lowest strand is as low as its own opening asks: one lower still may have had no room."""
    return ground.lowest is None or field.heights[-1] <= ground.lowest


def _main(group: Sequence[Ground]) -> Ground:
    """The surface whose lowest strand divides the comb: where rules place it a flight's, and the lowest of those."""
    placed = [g for g in group if g.lowest is not None] or list(group)
    steep = [g for g in placed if g.sec != 1] or placed
    return min(steep, key=lambda g: (g.floor - g.shift, g.spacing))


def _check_room(job: Job, ground: Ground, field: Field) -> None:
    """Refuse strands that would touch each other or the rail once their holes are marked."""
    spacing = field.plumb_spacing or (ground.roof - field.heights[0])
    if spacing < 2 * ground.half_strand + job.mark:
        # no figure to set: a thinner strand is strung nearer
        square = float(square_of_plumb(spacing, ground.sec))
        must = f"so thin that strands {figure_text(square)} apart, square, never touch with holes half a mark off"
        raise JobError(Fault("strand.diameter", must, float(job.strand.diameter)))
