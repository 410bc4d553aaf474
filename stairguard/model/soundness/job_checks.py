"""What cannot be in a job, each key being sound in itself: contradictory and impossible sizes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import Final

from stairguard.errors import Fault
from stairguard.geometry.marks import figure_text, mark_above, mark_below, plain_text
from stairguard.model.job import (
    USUAL_MARK,
    Ending,
    Flight,
    Job,
    Landing,
    MeasuredFlight,
    Post,
    Rail,
    Strand,
    Surface,
    Unit,
)
from stairguard.model.soundness.job_bounds import MOST_RISERS
from stairguard.model.soundness.table_checks import level_length, of_surface, placed

_COARSEST_MARK: Final[dict[Unit, Fraction]] = {"in": Fraction(1), "mm": Fraction(25)}
_MOST_STRANDS: Final = 1000
_MOST_POSTS: Final = 100_000
_HALF_TURN: Final = 180


def contradictions(
    unit: Unit,
    mark: Fraction | None,
    rail: Rail | None,
    strand: Strand | None,
    post: Post | None,
    surfaces: Sequence[Surface],
    start: Ending,
    closed: bool,
) -> list[Fault]:
    """List the faults between keys; a table that was not sound is None and checked against nothing.

    Where the mark is not sound, None, or too coarse, figures are told to the usual one.
    """
    faults: list[Fault] = []
    if mark is not None and mark > _COARSEST_MARK[unit]:
        faults.append(Fault("mark", f"no more than {_COARSEST_MARK[unit]} {unit}", _text(mark)))
        mark = None
    mark = USUAL_MARK[unit] if mark is None else mark
    heights = _heights(rail, surfaces) if rail else {}
    if rail:
        faults += _rail(rail, heights)
    if strand:
        faults += _strand(strand, rail, heights)
    for number, surface in enumerate(surfaces, start=1):
        if isinstance(surface, (Flight, MeasuredFlight)):
            faults += _flight(surface, post, f"surface[{number}]", mark)
    faults += _line(surfaces, start, closed)
    if post:
        faults += _corner(post, mark)
        faults += _many_posts(post, surfaces)
        faults += _hand(post, surfaces, closed)
    return list(dict.fromkeys(faults))  # flights of one size find the same of their posts


def at_odds(job: Job) -> list[Fault]:
    """What of a job cannot be together, each of its figures being sound in itself, as once some are changed."""
    within = (
        fault
        for number, surface in enumerate(job.surfaces, start=1)
        for fault in placed(f"surface[{number}]", of_surface(surface))
    )
    between = contradictions(job.unit, job.mark, job.rail, job.strand, job.post, job.surfaces, job.start, job.closed)
    return [*within, *between]


def _text(value: Fraction) -> str:
    """Write a length plainly: whole or decimal."""
    return str(value) if value.denominator == 1 else figure_text(value)


def _heights(rail: Rail, surfaces: Sequence[Surface]) -> dict[str, Fraction]:
    """Every height that the rail is given, by key."""
    heights = {"rail.height": rail.height, "rail.landing_height": rail.landing_height}
    for number, surface in enumerate(surfaces, start=1):
        if surface.rail_height is not None:
            heights[f"surface[{number}].rail_height"] = surface.rail_height
    return heights


def _rail(rail: Rail, heights: dict[str, Fraction]) -> Iterator[Fault]:
    for key, height in heights.items():
        if rail.depth < height:
            continue
        if key.startswith("rail."):
            yield Fault("rail.depth", f"less than {key} ({_text(height)})", _text(rail.depth))
        else:
            yield Fault(key, f"more than rail.depth ({_text(rail.depth)})", _text(height))


def _strand(strand: Strand, rail: Rail | None, heights: dict[str, Fraction]) -> Iterator[Fault]:
    if strand.diameter >= strand.spacing:
        must = f"less than strand.spacing ({_text(strand.spacing)})"
        yield Fault("strand.diameter", must, _text(strand.diameter))
    if rail is None:
        return
    lower = min(heights.values())
    if strand.diameter >= lower - rail.depth > 0:
        must = f"less than the room under the rail ({_text(lower - rail.depth)})"
        yield Fault("strand.diameter", must, _text(strand.diameter))
    if max(heights.values()) > _MOST_STRANDS * strand.spacing:
        must = f"so large that {_MOST_STRANDS:,} strands reach the rail"
        yield Fault("strand.spacing", must, _text(strand.spacing))


def _flight(flight: Flight | MeasuredFlight, post: Post | None, place: str, mark: Fraction) -> Iterator[Fault]:
    """File steps that are no steps, and posts that do not stand on them."""
    if isinstance(flight, Flight):
        run, rise = flight.run, flight.rise
        run_key, the_run, the_rise = f"{place}.run", "the run", "the rise"
    else:
        run, rise = _least_run(flight), _least_rise(flight)
        run_key, the_run, the_rise = f"{place}.nosings", "the smallest run", "the smallest rise"
    if flight.nosing >= run:
        yield Fault(f"{place}.nosing", f"less than {the_run} ({_text(run)})", _text(flight.nosing))
    if flight.tread >= rise:
        yield Fault(f"{place}.tread", f"less than {the_rise} ({_text(rise)})", _text(flight.tread))
    if post and post.mount == "surface":
        yield from _posts_on_treads(run, post, run_key, the_run, mark)


def _least_run(flight: MeasuredFlight) -> Fraction:
    return min(x - x0 for (x0, _), (x, _) in pairwise(flight.nosings))


def _least_rise(flight: MeasuredFlight) -> Fraction:
    """Smallest rise, the one from the lower landing included (where not given, it is the mean of the rest)."""
    rises = [abs(z - z0) for (_, z0), (_, z) in pairwise(flight.nosings)]
    from_landing = flight.last_rise if flight.down else flight.nosings[0][1]
    return min(rises) if from_landing is None else min(*rises, from_landing)


def _posts_on_treads(run: Fraction, post: Post, run_key: str, the_run: str, mark: Fraction) -> Iterator[Fault]:
    """File a post that does not stand wholly on its tread, in front of the next nosing."""
    if post.width > run:
        must = f"at least post.width ({plain_text(mark_above(post.width, mark))}): a post stands on one tread"
        got = _text(run) if run_key.endswith(".run") else f"{the_run} {_text(run)}"
        yield Fault(run_key, must, got)
        return
    nearest, furthest = post.width / 2, run - post.width / 2
    if not nearest <= post.setback <= furthest:
        least, most = plain_text(mark_above(nearest, mark)), plain_text(mark_below(furthest, mark))
        must = f"from {least} to {most}, so that the post stands wholly on its tread"
        yield Fault("post.setback", must, _text(post.setback))


def _line(surfaces: Sequence[Surface], start: Ending, closed: bool) -> Iterator[Fault]:
    """File what a surface cannot be for its place among the others."""
    if surfaces and surfaces[0].turn:
        must = "0 or left out on the first surface: there is none before it to turn from"
        yield Fault("surface[1].turn", must, figure_text(surfaces[0].turn))
    if surfaces and surfaces[0].start_post is not None and start != "post":
        must = f"left out where the line starts at a {start} (ends.start)"
        yield Fault("surface[1].start_post", must, _text(surfaces[0].start_post))
    if closed and start != "post":
        yield Fault("ends.start", "left out where the line closes (ends.closed): it has no ends", start)
    if surfaces and surfaces[0].start_post is not None and closed:
        must = "left out where the line closes (ends.closed): the post stands at the corner"
        yield Fault("surface[1].start_post", must, _text(surfaces[0].start_post))
    yield from _level_pieces([not isinstance(surface, Landing) or surface.level_piece for surface in surfaces])
    risers = sum(_risers(surface) for surface in surfaces)
    if risers > MOST_RISERS:
        yield Fault("surface", f"at most {MOST_RISERS:,} risers in all", f"{risers:,}")


def _level_pieces(carries: list[bool]) -> Iterator[Fault]:
    """File landings without a level piece that no rail can run on over: ``carries`` says which surfaces have one."""
    first = next((i for i, carried in enumerate(carries) if carried), len(carries))
    last = max((i for i, carried in enumerate(carries) if carried), default=-1)
    for index, carried in enumerate(carries):
        if not carried and not first < index < last:
            must = "true unless a surface before and one after carry a rail, to meet over the landing"
            yield Fault(f"surface[{index + 1}].level_piece", must, "false")


def _risers(surface: Surface) -> int:
    if isinstance(surface, MeasuredFlight):
        return len(surface.nosings)
    return surface.risers if isinstance(surface, Flight) else 0


def _corner(post: Post, mark: Fraction) -> Iterator[Fault]:
    if post.corner == "two" and post.corner_offset < post.width / 2:
        least = plain_text(mark_above(post.width / 2, mark))
        must = f"at least half of post.width ({least}), so that each post is on its own leg"
        yield Fault("post.corner_offset", must, _text(post.corner_offset))


def _hand(post: Post, surfaces: Sequence[Surface], closed: bool) -> Iterator[Fault]:
    """File a guard that stands out from a stair with turns and does not say on which hand; and one round a spur."""
    turned = [
        (f"surface[{number}].turn", s.turn) for number, s in enumerate(surfaces, start=1) if number > 1 and s.turn
    ]
    if closed and surfaces:
        turned.append(("ends.closed", closing_turn(surfaces)))
    if not post.out or not turned:
        return
    if post.hand is None:
        must = (
            '"left" or "right", the side of the walk on which the guard stands: so far out from the stair '
            f"(post.offset) it is longer or shorter than the stair's edge at a turn ({turned[0][0]})"
        )
        yield Fault("post.hand", must, "")
        return
    for where, turn in turned:
        if abs(turn) == _HALF_TURN and (turn > 0) != (post.hand == "left"):
            must = (
                "two quarter-turns with a landing between, as long as the edge is there: outside a half-turn "
                "(post.hand) a guard that stands out from the edge (post.offset) has two corners"
            )
            yield Fault(where, must, figure_text(turn))


def closing_turn(surfaces: Sequence[Surface]) -> float:
    """The turn, left positive, by which the last surface of a line that closes comes to the first one's heading."""
    turn = -sum(surface.turn for surface in surfaces) % (2 * _HALF_TURN)
    return round(turn - 2 * _HALF_TURN if turn > _HALF_TURN else turn, 9)


def _many_posts(post: Post, surfaces: Sequence[Surface]) -> Iterator[Fault]:
    level = sum((level_length(surface) for surface in surfaces), Fraction(0))
    if level > _MOST_POSTS * (post.max_gap + post.width):
        must = f"so large that {_MOST_POSTS:,} posts reach the end of the guard"
        yield Fault("post.max_gap", must, _text(post.max_gap))
