"""What strands do against a probe sphere at every opening: which ones give, and how far from them the sphere starts.

Where rigid parts hold the sphere on one side its centre stays put, and the strand alone moves: by how much decides the
push. Between two strands both move alike. A strand that stands out from the stair moves otherwise: the sphere's way
past both is in space, and no seat is told there.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal, TypeAlias

from stairguard.geometry.clearance.seat import Seat, seat
from stairguard.model.guard.guard_openings import Drawn, Gap, Opening, Section
from stairguard.model.guard.solved_layout import Layout

StoppedBy: TypeAlias = Literal["strands", "rigid parts", "strand and stair apart", "nothing"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ProbeBearing:
    """A probe sphere at one opening, and what stops it.

    ``opening`` is its index among the layout's, ``surface`` that of the surface whose strands these are, ``probe`` the
    sphere's diameter. Where ``"strands"`` have to give for it to pass, ``numbers`` has one or two of them and ``clear``
    is the square distance from the sphere's centre to the axis of each at rest, negative where the centre lies beyond
    it; ``station``, of where the strand is touched, and ``centre``, the sphere's, as (station, elevation), are None
    where that may be anywhere along it. Else there are none of these: ``"rigid parts"`` alone stop the
    sphere, or turn it into the next opening; it is held between ``"strand and stair apart"``, not in one plane; or
    ``"nothing"`` stops it, and it passes untouched.
    """

    opening: int
    surface: int
    probe: Fraction
    stopped_by: StoppedBy
    numbers: tuple[int, ...] = ()
    clear: float | None = None
    station: float | None = None
    centre: tuple[float, float] | None = None

    @property
    def strands(self) -> int:
        """How many strands have to give: 0, 1 or 2."""
        return len(self.numbers)


def seated(layout: Layout, sphere: Fraction | None = None, *, as_marked: bool = False) -> tuple[ProbeBearing, ...]:
    """The probe sphere at every opening of a guard, as designed or with every hole at its tape mark.

    Parameters
    ----------
    sphere : its diameter, in the job's unit; where None, of every opening its own rule's, and openings under no rule
        are left out, as are those under one on widths, or let off
    """
    radius, known = float(layout.job.strand.diameter) / 2, _Known()
    found = []
    for index, opening in enumerate(layout.openings):
        if opening.leave is not None and sphere is None:
            continue  # no sphere is asked of it
        probe = sphere if sphere is not None or opening.rule is None else opening.rule.sphere
        if probe is not None and layout.apart(opening):
            found.append(_beside(index, opening, probe, as_marked))
        elif probe is not None:
            found.append(_bearing(index, opening, probe, as_marked, radius, known))
    return tuple(found)


def _beside(index: int, opening: Opening, probe: Fraction, as_marked: bool) -> ProbeBearing:
    size = opening.sphere_as_marked if as_marked else opening.sphere
    stopped: StoppedBy = "nothing" if size >= probe else "strand and stair apart"
    if opening.bounds is None and stopped != "nothing":
        stopped = "rigid parts"
    return ProbeBearing(opening=index, surface=opening.surface, probe=probe, stopped_by=stopped)


class _Known(dict[tuple[int, Fraction], Seat | None]):
    """Seats by what bounds an opening and the probe: like openings share them."""

    def seat(self, drawn: Drawn, probe: Fraction) -> Seat | None:
        """Of the rests that the probe has in an opening's pockets the one farthest from the strand."""
        key = id(drawn.pockets[0]), probe  # lives as long as the layout
        if key not in self:
            strands = {k for k, edge in enumerate(drawn.outline.edges) if edge.radius}
            rests = (seat(drawn.outline, pocket, strands, float(probe)) for pocket in drawn.pockets)
            self[key] = max((rest for rest in rests if rest is not None), key=lambda rest: rest.clear, default=None)
        return self[key]


def _bearing(
    index: int, opening: Opening, probe: Fraction, as_marked: bool, radius: float, known: _Known
) -> ProbeBearing:
    size = opening.sphere_as_marked if as_marked else opening.sphere
    if size >= probe:
        return ProbeBearing(opening=index, surface=opening.surface, probe=probe, stopped_by="nothing")
    if isinstance(opening.bounds, Gap):
        # midway between two strands; else half the sphere from what is rigid
        numbers = opening.bounds.strands
        clear = size / 2 + radius if len(numbers) == 2 else size + radius - float(probe) / 2
        return ProbeBearing(
            opening=index, surface=opening.surface, probe=probe, stopped_by="strands", numbers=numbers, clear=clear
        )
    if isinstance(opening.bounds, Section):
        return _in_section(index, opening, opening.bounds, probe, as_marked, known)
    return ProbeBearing(opening=index, surface=opening.surface, probe=probe, stopped_by="rigid parts")


def _in_section(
    index: int, opening: Opening, section: Section, probe: Fraction, as_marked: bool, known: _Known
) -> ProbeBearing:
    drawn = section.marked if as_marked else section.designed
    found = known.seat(drawn, probe)
    if found is None:
        return ProbeBearing(opening=index, surface=opening.surface, probe=probe, stopped_by="rigid parts")
    held = ProbeBearing(
        opening=index,
        surface=opening.surface,
        probe=probe,
        stopped_by="strands",
        numbers=(section.strand,),
        clear=found.clear,
    )
    if found.anywhere:
        return held
    (s, z), (x0, z0) = opening.centre, section.designed.pockets[0].centre
    centre = s + section.way * (found.centre[0] - x0), z + found.centre[1] - z0
    return replace(held, station=s + section.way * (found.along[0] - x0), centre=centre)
