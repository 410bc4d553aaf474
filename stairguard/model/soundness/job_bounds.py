"""What every figure of a job may be, said once: the job file's reader and the check of a job made by hand go by it.

`BOUNDS` has, of each dataclass of a job, a bound a field. What two figures may not be to each other is no bound: see
`stairguard.model.soundness.table_checks` and `stairguard.model.soundness.job_checks`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, get_args

from stairguard.model.job import (
    BearingFace,
    Climate,
    Construction,
    CornerPosts,
    CornerSquare,
    Crossing,
    Ending,
    Flight,
    Frame,
    Grain,
    Handrail,
    Job,
    Landing,
    MeasuredFlight,
    Mount,
    Post,
    ProbeKind,
    Push,
    Rail,
    RailsMeet,
    Ramp,
    Seated,
    Sign,
    Stock,
    Strand,
    StrandMaterial,
    Surface,
    TensionSource,
    Unit,
)
from stairguard.model.published.wood_shrinkage import SPECIES
from stairguard.model.site import Site

MOST_RISERS: Final = 100_000
"""No job may have more, over all its flights."""


_MOST_FORCE: Final = 10**9  # a slip of the keyboard: no strand, post or anchor is so stiff or strong
_COLDEST: Final = Fraction("-273.15")  # absolute zero
_WARMEST: Final = 1000  # no frame or strand of these materials is left


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """Of any field: its ``key`` in a job file where not the field's name; whether it may be None, not stated."""

    key: str = ""
    optional: bool = False


@dataclass(frozen=True, slots=True)
class Length(Bound):
    """A length in the job's unit, exact."""

    sign: Sign = "positive"


@dataclass(frozen=True, slots=True)
class Lengths(Bound):
    """Lengths of one sign, ``most`` of them."""

    most: int
    sign: Sign = "positive"


@dataclass(frozen=True, slots=True)
class Points(Bound):
    """Pairs of lengths, level and plumb, of any sign."""

    least: int
    most: int


@dataclass(frozen=True, slots=True)
class Angle(Bound):
    """An angle in degrees, of at most ``most`` either way."""

    most: int
    sign: Sign = "any"


@dataclass(frozen=True, slots=True)
class Force(Bound):
    """A force, lbf or N by the job's unit."""

    sign: Sign = "nonnegative"
    most: int = _MOST_FORCE


@dataclass(frozen=True, slots=True)
class Weight(Bound):
    """The weight of one unit of length, more than zero."""


@dataclass(frozen=True, slots=True)
class Stiffness(Bound):
    """A force on one unit of length, more than zero."""

    most: int = _MOST_FORCE


@dataclass(frozen=True, slots=True)
class Temperature(Bound):
    """Degrees Celsius."""

    least: Fraction = _COLDEST
    most: int = _WARMEST


@dataclass(frozen=True, slots=True)
class Number(Bound):
    """A plain number, exact."""

    least: Fraction
    most: Fraction


@dataclass(frozen=True, slots=True)
class Whole(Bound):
    """A whole number."""

    least: int
    most: int


@dataclass(frozen=True, slots=True)
class FreeText(Bound):
    """Text of so many characters."""

    longest: int
    least: int = 0


@dataclass(frozen=True, slots=True)
class Flag(Bound):
    """True or false."""


@dataclass(frozen=True, slots=True)
class Choice(Bound):
    """One of a few words."""

    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Shares(Bound):
    """Words of these, each with its share of the whole."""

    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OwnTable(Bound):
    """A table of its own."""

    kind: type


@dataclass(frozen=True, slots=True)
class Parts(Bound):
    """Tables of these kinds, in order."""

    kinds: tuple[type, ...]
    most: int


_MOST_SURFACES: Final = 5000
_MOST_NOSINGS: Final = 10_000
_MOST_POSTS: Final = 10_000
_MOST_ANGLE_CHANGES: Final = 10_000
_MOST_STOCK_LENGTHS: Final = 100
_MOST_STOREYS: Final = 1000
_LAST_YEAR: Final = 9999
_LONGEST_TITLE: Final = 500
_LONGEST_RULES: Final = 4096
_LONGEST_OCCUPANCY: Final = 100
_MOST_FRICTION: Final = Fraction(49, 100)
_DRY: Final = Fraction(100)
_MOST_SETTLING: Final = Fraction(1, 100)  # several times what single strands are said to settle by

_MAYBE: Final = Length(optional=True)
_ANY_SURFACE: Final[Mapping[str, Bound]] = {
    "turn": Angle(180),
    "rail_height": _MAYBE,
    "posts": Lengths(_MOST_POSTS, optional=True),
    "start_post": Length("any", optional=True),
}
_ANY_FLIGHT: Final[Mapping[str, Bound]] = {
    "nosing": Length("nonnegative"),
    "tread": Length("nonnegative"),
    "open_risers": Flag(),
    "down": Flag(),
    **_ANY_SURFACE,
}

BOUNDS: Final[Mapping[type, Mapping[str, Bound]]] = {
    Job: {
        "title": FreeText(_LONGEST_TITLE),
        "unit": Choice(get_args(Unit)),
        "mark": Length(),
        "rules": FreeText(_LONGEST_RULES),
        "rail": OwnTable(Rail),
        "strand": OwnTable(Strand),
        "post": OwnTable(Post),
        "surfaces": Parts(get_args(Surface), _MOST_SURFACES, key="surface"),
        "start": Choice(get_args(Ending), key="ends.start"),
        "end": Choice(get_args(Ending), key="ends.end"),
        "stock": OwnTable(Stock),
        "push": OwnTable(Push),
        "climate": OwnTable(Climate, optional=True),
        "site": OwnTable(Site),
        "handrail": OwnTable(Handrail),
        "closed": Flag(key="ends.closed"),
    },
    Rail: {
        "height": Length(),
        "landing_height": Length(),
        "depth": Length(),
        "width": Length(),
        "meet": Choice(get_args(RailsMeet)),
        "weight": Weight(optional=True),
    },
    Handrail: {
        "height": _MAYBE,
        "landing_height": _MAYBE,
        "diameter": _MAYBE,
        "perimeter": _MAYBE,
        "across": _MAYBE,
        "clearance": _MAYBE,
    },
    Strand: {
        "diameter": Length(),
        "spacing": Length(),
        "at_joints": Choice(get_args(Crossing)),
        "terminal_take_up": Length("nonnegative"),
        "tensioner_take_up": Length("nonnegative"),
        "shortest": _MAYBE,
        "longest_run": _MAYBE,
        "angle_changes": Whole(0, _MOST_ANGLE_CHANGES, optional=True),
        "largest_bend": Angle(180, "positive"),
        "tensioner_travel": Length("nonnegative"),
        "lead": _MAYBE,
        "lower": Length("nonnegative"),
        "construction": Choice(get_args(Construction)),
        "material": Choice(get_args(StrandMaterial)),
        "stiffness": Force("positive", optional=True),
        "breaking_force": Force("positive", optional=True),
        "weight": Weight(optional=True),
        "tension": Force(optional=True),
        "source": Choice(get_args(TensionSource), key="tension_source"),
    },
    Post: {
        "width": Length(),
        "max_gap": Length(),
        "setback": Length("nonnegative"),
        "mount": Choice(get_args(Mount)),
        "drop": Length("nonnegative"),
        "offset": Length("nonnegative"),
        "corner": Choice(get_args(CornerPosts)),
        "corner_square": Choice(get_args(CornerSquare)),
        "corner_offset": Length("nonnegative"),
        "sleeves": Flag(),
        "weight": Weight(optional=True),
        "sleeve_diameter": _MAYBE,
        "bearing": Choice(get_args(BearingFace), optional=True),
    },
    Push: {
        "force": Force("positive", optional=True),
        "probe": Choice(get_args(ProbeKind)),
        "sphere": _MAYBE,
        "friction": Number(Fraction(0), _MOST_FRICTION),
        "post_stiffness": Stiffness(optional=True),
        "anchor_stiffness": Stiffness(optional=True),
    },
    Climate: {
        "now": Temperature(),
        "coldest": Temperature(),
        "warmest": Temperature(),
        "frame": Shares(get_args(Frame)),
        "wood": Choice(tuple(SPECIES), optional=True),
        "grain": Choice(get_args(Grain)),
        "moisture_from": Number(Fraction(0), _DRY),
        "moisture_to": Number(Fraction(0), _DRY),
        "seated": Choice(get_args(Seated)),
        "settling": Number(Fraction(0), _MOST_SETTLING),
    },
    Stock: {
        "rail": Lengths(_MOST_STOCK_LENGTHS),
        "post": Lengths(_MOST_STOCK_LENGTHS),
        "strand": Lengths(_MOST_STOCK_LENGTHS),
        "kerf": Length("nonnegative"),
    },
    Landing: {"length": Length("nonnegative"), **_ANY_SURFACE, "level_piece": Flag(), "depth": _MAYBE},
    Flight: {"risers": Whole(2, MOST_RISERS), "rise": Length(), "run": Length(), **_ANY_FLIGHT},
    MeasuredFlight: {"nosings": Points(2, _MOST_NOSINGS), **_ANY_FLIGHT, "last_rise": _MAYBE},
    Ramp: {"length": Length(), "rise": Length("any"), **_ANY_SURFACE},
    Site: {
        "occupancy": FreeText(_LONGEST_OCCUPANCY, 1, optional=True),
        "dwelling": Flag(optional=True),
        "storeys": Whole(1, _MOST_STOREYS, optional=True),
        "top_is_handrail": Flag(optional=True),
        "drop": Length("nonnegative", key="greatest_drop", optional=True),
        "reach": Length("nonnegative", key="drop_reach", optional=True),
        "public": Flag(optional=True),
        "children": Flag(optional=True),
        "exterior": Flag(optional=True),
        "accessible": Flag(optional=True),
        "temporary": Flag(optional=True),
        "installed": Whole(1, _LAST_YEAR, optional=True),
        "egress": Flag(optional=True),
        "own_handrail": Flag(optional=True),
    },
}
"""Of each dataclass of a job, its fields in any order; what a job has no key for says so by its own name."""


def by_key(kind: type) -> dict[str, Bound]:
    """The bounds of one dataclass by the job file's keys."""
    return {bound.key or name: bound for name, bound in BOUNDS[kind].items()}
