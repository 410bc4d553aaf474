"""What one table of a job cannot hold, each of its figures being sound in itself; files and jobs made by hand alike.

Every fault names a key of the table; who knows the table's place puts it before that.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import Final

from stairguard.errors import Fault
from stairguard.geometry.marks import figure_text
from stairguard.model.job import (
    Climate,
    Flight,
    Handrail,
    Landing,
    MeasuredFlight,
    Post,
    Push,
    Ramp,
    Stock,
    Surface,
)
from stairguard.model.site import Site

OF_THE_RAIL: Final = ("rail_height", "posts", "start_post")
"""What any surface may say of its rail and posts, besides its turn."""
NO_RAIL: Final = "left out where level_piece is false: the rails of both sides run on over the landing"
"""What each of them has to be on a landing without a rail of its own."""
NO_STEP_AFTER: Final = "left out where the flight goes up: its last nosing is the upper landing's edge"
"""What the last rise of a measured flight has to be."""


def placed(place: str, faults: Iterator[Fault]) -> Iterator[Fault]:
    """Faults of a table by its place in the job."""
    return (Fault(f"{place}.{fault.where}", fault.must, fault.got) for fault in faults)


def of_post(post: Post) -> Iterator[Fault]:
    """File what goes only with a mount, a corner or sleeves that the job does not have."""
    if post.mount == "surface":
        for key in ("drop", "offset"):
            if getattr(post, key):
                yield Fault(key, '0 unless mount is "side"', _text(getattr(post, key)))
        if post.hand is not None:
            yield Fault("hand", 'left out unless mount is "side"', post.hand)
    elif not post.drop:
        yield Fault("drop", "more than zero: posts at the side reach down to it", _text(post.drop))
    if post.corner == "one" and post.corner_offset:
        yield Fault("corner_offset", '0 unless corner is "two"', _text(post.corner_offset))
    if post.sleeve_diameter is not None and not post.sleeves:
        yield Fault("sleeve_diameter", "left out unless sleeves is true", _text(post.sleeve_diameter))


def of_stock(stock: Stock) -> Iterator[Fault]:
    """File a cut that wastes a whole length."""
    shortest = min((*stock.rail, *stock.post, *stock.strand), default=None)
    if shortest is not None and stock.kerf >= shortest:
        yield Fault("kerf", f"less than the shortest stock length ({_text(shortest)})", _text(stock.kerf))


def of_push(push: Push) -> Iterator[Fault]:
    """File a cone of no size."""
    if push.probe == "cone" and push.sphere is None:
        yield Fault("sphere", "the diameter of the cylinder that the cone ends in", "")


def of_climate(climate: Climate) -> Iterator[Fault]:
    """File temperatures out of order, shares that are no whole, moistures of no wood."""
    if not climate.coldest <= climate.now <= climate.warmest:
        must = "from the coldest to the warmest of the three temperatures"
        yield Fault("now", must, f"{figure_text(climate.now)} °C")
    total = sum(share for _, share in climate.frame)
    if total != 1:
        yield Fault("frame", "materials with shares that come to 1", figure_text(total))
    for key in ("moisture_from", "moisture_to") if climate.wood is None else ():
        if getattr(climate, key):
            yield Fault(key, "left out unless wood names a species", _text(getattr(climate, key)))


def of_handrail(handrail: Handrail, top_is_handrail: bool | None) -> Iterator[Fault]:
    """File two handrails where one rail can be it."""
    if handrail.height is not None and top_is_handrail:
        must = "left out where site.top_is_handrail is true: the top rail is the handrail"
        yield Fault("height", must, _text(handrail.height))
    if handrail.landing_height is not None and handrail.height is None:
        must = "given with height, of a handrail apart from the top rail"
        yield Fault("landing_height", must, _text(handrail.landing_height))


def of_site(site: Site, handrail: Handrail) -> Iterator[Fault]:
    """File a site that does not say of a handrail apart from the top rail that there is one: a file's always does."""
    if handrail.height is not None and not (site.own_handrail is True and site.top_is_handrail is False):
        must = "True, and top_is_handrail False, where handrail.height is given"
        yield Fault("own_handrail", must, f"{site.own_handrail} and {site.top_is_handrail}")


def of_surface(surface: Surface) -> Iterator[Fault]:
    """File steps out of order, a ramp that does not slope, posts that do not stand on the surface one after another."""
    if isinstance(surface, MeasuredFlight):
        faults = list(_steps(surface))
        yield from faults
        if faults:  # its level length is none either
            return
    if isinstance(surface, Ramp) and surface.rise == 0:
        yield Fault("rise", "other than zero (a level surface is a landing)", 0)
    if isinstance(surface, Landing) and not surface.level_piece:
        for key in OF_THE_RAIL:
            if getattr(surface, key) is not None:
                yield Fault(key, NO_RAIL, "one")
    elif isinstance(surface, Landing) and not surface.length:
        must = "more than zero unless level_piece is false and it lies at a corner, beyond the post"
        yield Fault("length", must, 0)
    yield from _posts(surface.posts or (), level_length(surface))


def level_length(surface: Surface) -> Fraction:
    """How far a surface goes, level."""
    if isinstance(surface, MeasuredFlight):
        return surface.nosings[-1][0]
    return (surface.risers - 1) * surface.run if isinstance(surface, Flight) else surface.length


def _posts(posts: Sequence[Fraction], level: Fraction) -> Iterator[Fault]:
    least = Fraction(0)
    for number, at in enumerate(posts, start=1):
        if not least < at <= level:
            after = f"more than {figure_text(least)}" + (" (the one before)" if number > 1 else "")
            must = f"{after} and no more than the surface's level length ({figure_text(level)})"
            yield Fault(f"posts[{number}]", must, _text(at))
        least = max(least, at)


def _steps(flight: MeasuredFlight) -> Iterator[Fault]:
    """File nosings that are out of order, or do not begin where the surface before ends."""
    nosings = flight.nosings
    falls = nosings[1][1] < nosings[0][1]
    if flight.down != falls:
        must = f"{str(falls).lower()} or left out: its nosings go {'down' if falls else 'up'}"
        yield Fault("down", must, str(flight.down).lower())
    if flight.last_rise is not None and not falls:
        yield Fault("last_rise", NO_STEP_AFTER, _text(flight.last_rise))
    way = -1 if falls else 1
    for number, ((x0, z0), (x, z)) in enumerate(pairwise(nosings), start=2):
        if x <= x0:
            must = f"at a station of more than the one before's, {_text(x0)}"
            yield Fault(f"nosings[{number}]", must, _text(x))
        if way * (z - z0) <= 0:
            must = f"{'below' if falls else 'above'} the one before, at {_text(z0)}, as the first two are"
            yield Fault(f"nosings[{number}]", must, _text(z))
    x, z = nosings[0]
    if x < 0:
        must = "at a station of zero or more, past the end of the surface before"
        yield Fault("nosings[1]", must, _text(x))
    if falls and z != 0:
        must = "at elevation 0 where the flight goes down: its top nosing is the edge of the surface before"
        yield Fault("nosings[1]", must, _text(z))
    if not falls and z <= 0:
        yield Fault("nosings[1]", "at an elevation of more than zero: the first rise", _text(z))


def _text(value: Fraction) -> str:
    return figure_text(value)
