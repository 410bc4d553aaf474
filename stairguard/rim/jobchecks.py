"""What cannot be in a job, each key being sound in itself: contradictory and impossible sizes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from stairguard.errors import Fault
from stairguard.model.job import Flight, Landing, Post, Rail, Strand, Surface, Unit

__all__ = ["contradictions"]

_COARSEST_MARK: Final[dict[Unit, Fraction]] = {"in": Fraction(1), "mm": Fraction(25)}
_MOST_STRANDS: Final = 1000
_MOST_POSTS: Final = 100_000


def contradictions(
    unit: Unit,
    mark: Fraction,
    rail: Rail | None,
    strand: Strand | None,
    post: Post | None,
    surfaces: Sequence[Surface],
) -> list[Fault]:
    """List the faults between keys; a table that was not sound is None and checked against nothing."""
    faults: list[Fault] = []
    if mark > _COARSEST_MARK[unit]:
        faults.append(Fault("mark", f"no more than {_COARSEST_MARK[unit]} {unit}", _text(mark)))
    if rail:
        faults += _rail(rail)
    if strand:
        faults += _strand(strand, rail)
    for number, surface in enumerate(surfaces, start=1):
        place = f"surface[{number}]"
        if isinstance(surface, Flight):
            faults += _steps(surface, place)
            faults += _posts_on_treads(surface, post, place) if post else ()
        elif post and isinstance(surface, Landing) and surface.length < 3 * post.width:
            must = f"at least three post widths ({_text(3 * post.width)}), for two posts and as much between"
            faults.append(Fault(f"{place}.length", must, _text(surface.length)))
    if post:
        faults += _many_posts(post, surfaces)
    return faults


def _text(value: Fraction) -> str:
    """Write a length plainly: whole or decimal."""
    return str(value) if value.denominator == 1 else f"{float(value):.6g}"


def _rail(rail: Rail) -> Iterator[Fault]:
    for key, height in (("height", rail.height), ("landing_height", rail.landing_height)):
        if rail.depth >= height:
            yield Fault("rail.depth", f"less than rail.{key} ({_text(height)})", _text(rail.depth))


def _strand(strand: Strand, rail: Rail | None) -> Iterator[Fault]:
    if strand.diameter >= strand.spacing:
        must = f"less than strand.spacing ({_text(strand.spacing)})"
        yield Fault("strand.diameter", must, _text(strand.diameter))
    if rail is None:
        return
    lower = min(rail.height, rail.landing_height)
    if strand.diameter >= lower - rail.depth > 0:
        must = f"less than the room under the rail ({_text(lower - rail.depth)})"
        yield Fault("strand.diameter", must, _text(strand.diameter))
    if max(rail.height, rail.landing_height) > _MOST_STRANDS * strand.spacing:
        must = f"so large that {_MOST_STRANDS:,} strands reach the rail"
        yield Fault("strand.spacing", must, _text(strand.spacing))


def _steps(flight: Flight, place: str) -> Iterator[Fault]:
    if flight.nosing >= flight.run:
        must = f"less than the run ({_text(flight.run)})"
        yield Fault(f"{place}.nosing", must, _text(flight.nosing))
    if flight.tread >= flight.rise:
        must = f"less than the rise ({_text(flight.rise)})"
        yield Fault(f"{place}.tread", must, _text(flight.tread))


def _posts_on_treads(flight: Flight, post: Post, place: str) -> Iterator[Fault]:
    """File a post that does not stand wholly on its tread, in front of the next nosing."""
    if post.width > flight.run:
        must = f"at least post.width ({_text(post.width)}): a post stands on one tread"
        yield Fault(f"{place}.run", must, _text(flight.run))
        return
    nearest, furthest = post.width / 2, flight.run - post.width / 2
    if not nearest <= post.setback <= furthest:
        must = f"from {_text(nearest)} to {_text(furthest)}, so that the post stands wholly on its tread"
        yield Fault("post.setback", must, _text(post.setback))


def _many_posts(post: Post, surfaces: Sequence[Surface]) -> Iterator[Fault]:
    level = sum((_level(surface) for surface in surfaces), Fraction(0))
    if level > _MOST_POSTS * (post.max_gap + post.width):
        must = f"so large that {_MOST_POSTS:,} posts reach the end of the guard"
        yield Fault("post.max_gap", must, _text(post.max_gap))


def _level(surface: Surface) -> Fraction:
    return (surface.risers - 1) * surface.run if isinstance(surface, Flight) else surface.length
