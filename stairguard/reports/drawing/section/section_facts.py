"""What a section square to the guard shows, where strands stand out from the stair's side: places, no paper.

``y`` is level, out from the stair's side, zero at the edge of the surface; elevations are the guard's.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, hypot, isclose, pi, sin
from string import ascii_uppercase
from typing import Final, TypeAlias

from stairguard.model.guard.guard_openings import Opening
from stairguard.model.guard.opening_kinds import OpeningKind, Touch
from stairguard.model.guard.placed_posts import PlacedPost
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Flight, MeasuredFlight
from stairguard.reports.drawing.elevation.stair_lines import datum, steps_of

OutPlace: TypeAlias = tuple[float, float]
"""Level out from the stair's side, and elevation."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SideSection:
    """A section at the station of one opening's sphere.

    ``edge`` is the elevation of the edge that the sphere passes there, ``line`` that of the nosing line or surface.
    ``strands`` are the elevations of the strands' centres where the section cuts them, lowest first, each with its
    number; ``sec`` is by how much it cuts them taller than they are round. ``beyond`` is the step seen uphill of the
    section, from its tread's underside to its top and down to its foot, None where there is none. ``post`` is one that
    stands on the same surface or tread.
    """

    letter: str
    opening: Opening
    surface: PlacedSurface
    edge: float
    line: float
    out: float
    radius: float
    sec: float
    strands: tuple[tuple[int, float], ...]
    post: PlacedPost | None
    beyond: tuple[float, float, float] | None
    """Elevations of the next step's foot, of the underside of its board and of its top."""

    @property
    def station(self) -> float:
        """Where the section cuts."""
        return self.opening.centre[0]

    @property
    def centre(self) -> OutPlace:
        """The sphere's."""
        return self.opening.out, self.opening.centre[1]

    def contacts(self) -> Iterator[tuple[Touch, OutPlace, float]]:
        """What the sphere touches, where, and by how much the station there is greater than the section's."""
        o = self.opening
        for touch, (s, z) in zip(o.touches, o.contacts, strict=False):
            yield touch, (self._out_of(touch), z), s - self.station

    def _out_of(self, touch: Touch) -> float:
        """How far out a contact is: on the stair's side, on the strand towards the centre, beside it on a post."""
        o = self.opening
        if touch.part == "strand":
            share = o.sphere / (o.sphere + 2 * self.radius)
            return o.out + (self.out - o.out) * share
        if touch.part == "post" and self.post_half:
            return min(max(o.out, self.out - self.post_half), self.out + self.post_half)
        return 0.0

    @property
    def post_half(self) -> float:
        """Half of a post, as deep as it is wide; zero without one."""
        return 0.0 if self.post is None else float(self.post.width) / 2

    @property
    def touched_strand(self) -> OutPlace | None:
        """Axis of the strand where the sphere touches it, away from the section; None where that is in it."""
        for touch, (_, z), along in self.contacts():
            if touch.part == "strand" and abs(along) > _IN_PLANE:
                high = self.centre[1]
                return self.out, high + (z - high) * (1 + 2 * self.radius / self.opening.sphere)
        return None

    @property
    def way(self) -> tuple[OutPlace, ...]:
        """The way of the sphere's centre, as it rests on the edge: level over it, round it, and down beside the side.

        No other way leaves more room under the strand, so that a sphere that gets out gets out so. Over a ramp it rests
        askew, which makes the round taller. Empty where the edge is not what it touches.
        """
        if all(touch.part not in _ROUND for touch in self.opening.touches):
            return ()
        radius = self.opening.sphere / 2
        tall = radius * (self.sec if self.surface.kind == "ramp" else 1.0)
        turns = [k * pi / 2 / _CHORDS for k in range(_CHORDS + 1)]
        low = min(self.strands[0][1] - radius - self.radius, self.edge - _PAST * radius)
        return (
            (-_BEFORE * radius, self.edge + tall),
            *((radius * sin(t), self.edge + tall * cos(t)) for t in turns),
            (radius, low),
        )


_CHORDS: Final = 24
_BEFORE: Final = 0.9
_PAST: Final = 0.7
"""Chords of the way round the edge; how far before and below the edge it is shown, in radii."""
_ALONG: Final[tuple[OpeningKind, ...]] = (
    "under lowest strand", "step triangle", "over tread", "first riser", "over head", "beside post", "wedge at post",
)  # fmt: skip
"""Openings beside a straight edge; those at a turn are drawn in plan."""
_IN_PLANE: Final = 1e-9
_ROUND: Final = ("landing", "ramp", "tread", "stair side")
_FLOORS: Final = ("landing", "tread", "nosing")
_ALIKE: Final = 1e-9


def side_sections(layout: Layout) -> tuple[SideSection, ...]:
    """The sections that a guard beside the stair is drawn with, in order of stations; none of one on the surface.

    One of every kind of surface, where an opening comes nearest to its limit, and one of each other kind that fails.
    """
    if not layout.job.post.out:
        return ()
    chosen: list[Opening] = []
    worst = sorted((o for o in layout.openings if o.out and o.where.kind in _ALONG), key=lambda o: -_ratio(o))
    for kind in ("landing", "ramp", "flight"):
        there = [o for o in worst if layout.line.surfaces[o.surface].kind == kind]
        if there:
            equal = [o for o in there if isclose(_ratio(o), _ratio(there[0]), rel_tol=_ALIKE)]
            chosen.append(min(equal, key=lambda o: _rank(layout, o)))
    told = {o.where.unnumbered.kind for o in chosen}
    for opening in worst:
        if opening.passes is False and opening.where.unnumbered.kind not in told:
            told.add(opening.where.unnumbered.kind)
            chosen.append(opening)
    chosen.sort(key=lambda o: o.centre[0])
    return tuple(_section(layout, o, letter) for o, letter in zip(chosen, ascii_uppercase, strict=False))


def section_of(layout: Layout, opening: Opening) -> SideSection | None:
    """The section that an opening is drawn in, itself or one like it."""
    for section in side_sections(layout):
        shown = section.opening
        if shown.where.at_any_step == opening.where.at_any_step and abs(shown.sphere - opening.sphere) < _ALIKE:
            return section
    return None


def _ratio(opening: Opening) -> float:
    """How near to its limit the larger of an opening's two spheres is; those without a limit come last."""
    sphere = max(opening.sphere, opening.sphere_as_marked)
    return sphere / float(opening.rule.value) if opening.rule is not None else -1 / sphere


def _rank(layout: Layout, opening: Opening) -> tuple[bool, float]:
    """Of equal openings one over a step is shown, nearest the middle of its flight; of others the highest."""
    surface = layout.line.surfaces[opening.surface]
    middle = float(surface.start.s + surface.end.s) / 2
    if not surface.nosings:
        return False, -opening.centre[1]
    return opening.where.kind not in ("step triangle", "over tread"), abs(opening.centre[0] - middle)


def _section(layout: Layout, opening: Opening, letter: str) -> SideSection:
    surface, s = layout.line.surfaces[opening.surface], opening.centre[0]
    field, line = layout.fields[surface.index], datum(surface, s)
    heights = [(number, line + float(h)) for number, h in enumerate(field.heights, 1)]
    return SideSection(
        letter=letter,
        opening=opening,
        surface=surface,
        edge=_edge(surface, opening),
        line=line,
        out=float(layout.job.post.out),
        radius=float(layout.job.strand.diameter) / 2,
        sec=hypot(1, float(surface.slope)),
        strands=tuple(heights[::-1]),
        post=_post(layout, opening),
        beyond=_beyond(surface, _edge(surface, opening)),
    )


def _edge(surface: PlacedSurface, opening: Opening) -> float:
    """Elevation of the edge under the sphere: what it touches, else the step or surface below its centre."""
    if not surface.nosings:
        return datum(surface, opening.centre[0])
    for touch, (_, z) in zip(opening.touches, opening.contacts, strict=False):
        if touch.part in _FLOORS:
            return z
    below = [z for _, z in steps_of(surface) if z <= opening.centre[1]]
    low = surface.start if surface.slope > 0 else surface.end
    return max(below, default=float(low.z))


def _post(layout: Layout, opening: Opening) -> PlacedPost | None:
    """The nearest post that stands on the same landing or ramp, or on the same tread."""
    step = opening.where.step
    posts = [
        post for post in layout.along
        if post.support == "post" and post.stands_on == opening.surface and (post.step == step or post.step is None)
    ]  # fmt: skip
    return min(posts, key=lambda post: abs(float(post.station) - opening.centre[0]), default=None)


def _beyond(surface: PlacedSurface, edge: float) -> tuple[float, float, float] | None:
    """Foot, underside of the board and top of the step over an edge."""
    given = surface.given
    if not isinstance(given, Flight | MeasuredFlight):
        return None
    top = min((z for _, z in steps_of(surface) if z > edge + _ALIKE), default=None)
    if top is None:
        return None
    under = top - float(given.tread)
    return (under if given.open_risers else edge), under, top
