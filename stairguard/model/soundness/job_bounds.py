"""What every figure of a job may be, said once: the job file's reader and the check of a job made by hand go by it.

`BOUNDS` has, of each dataclass of a job, a bound a field, in the order in which a file's are read. What two figures may
not be to each other is no bound: see `stairguard.model.soundness.table_checks` and
`stairguard.model.soundness.job_checks`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import KW_ONLY, dataclass
from fractions import Fraction
from typing import Any, Final, Literal, TypeAlias, get_args

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
    Hand,
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
    WoodSpecies,
)
from stairguard.model.site import Site

MOST_RISERS: Final = 100_000
"""No job may have more, over all its flights."""

FieldKind: TypeAlias = Literal[
    "length", "lengths", "points", "angle", "force", "weight", "stiffness", "temperature", "number", "percent", "whole",
    "text", "flag", "choice", "shares", "part", "parts",
]  # fmt: skip
"""What stands in a field.

A ``length`` is in the job's unit, ``lengths`` are a list of them; ``points`` are pairs of lengths of any sign, level
and plumb. An ``angle`` is in degrees, a ``force`` lbf or N by the job's unit, a ``weight`` that of one unit of length,
a ``stiffness`` a force on one unit of length, a ``temperature`` in degrees Celsius. A ``percent`` is a number that a
file has in percent. A ``choice`` is one word of a few, ``shares`` are words, each with its share of the whole. A
``part`` is a table of its own, ``parts`` are a list of such.
"""

REQUIRED: Final = object()
"""The default of a key that a file has to have."""


@dataclass(frozen=True, slots=True)
class Bound:
    """What one field of a job may be.

    ``key`` is its name in a job file, where that is not the field's own. ``default`` is what stands in for it where a
    file leaves it out; one that is ``optional`` may be None, not stated, and is so where it has no default. ``sign`` is
    that of lengths, angles and forces; ``least`` and ``most`` bound it, or how long a text or a list is; ``words`` are
    those to choose from, ``parts`` the dataclasses that it may be.
    """

    kind: FieldKind
    _: KW_ONLY
    key: str = ""
    optional: bool = False
    default: Any = REQUIRED  # of the field's own type
    sign: Sign = "positive"
    least: Fraction | int = 0
    most: Fraction | int = 0
    words: tuple[str, ...] = ()
    parts: tuple[type, ...] = ()


_MOST_FORCE: Final = 10**9  # a slip of the keyboard: no strand, post or anchor is so stiff or strong
_MOST_POSTS: Final = 10_000
_ANGLE_CHANGES: Final = 1  # in one run: common practice, no source
_MOST_SETTLING: Final = Fraction(1, 100)  # several times what single strands are said to settle by
_MOST_TURN: Final = 180
_LARGEST_BEND: Final = 60  # what a pass-through fitting turns a strand is its maker's figure: until a job gives it

_LENGTH: Final = Bound("length")
_MAYBE: Final = Bound("length", optional=True)
_OR_NOTHING: Final = Bound("length", sign="nonnegative", default=0)
_WEIGHT: Final = Bound("weight", optional=True)
_STIFFNESS: Final = Bound("stiffness", optional=True, most=_MOST_FORCE)
_FORCE: Final = Bound("force", optional=True, most=_MOST_FORCE)
_NO: Final = Bound("flag", default=False)
_STATED: Final = Bound("flag", optional=True)
_STOCK: Final = Bound("lengths", default=(), most=100)
_TEMPERATURE: Final = Bound("temperature", least=Fraction("-273.15"), most=1000)  # no frame or strand is left above it
_MOISTURE: Final = Bound("number", most=Fraction(100))

_ANY_SURFACE: Final[Mapping[str, Bound]] = {
    "turn": Bound("angle", default=0, sign="any", most=_MOST_TURN),
    "rail_height": _MAYBE,
    "posts": Bound("lengths", optional=True, most=_MOST_POSTS),
    "start_post": Bound("length", optional=True, sign="any"),
}
_ANY_FLIGHT: Final[Mapping[str, Bound]] = {
    "nosing": _OR_NOTHING,
    "tread": _OR_NOTHING,
    "open_risers": _NO,
    "down": _NO,
    **_ANY_SURFACE,
}


def _words(literal: object, default: object = REQUIRED, key: str = "") -> Bound:
    """One of the words of a literal type."""
    return Bound("choice", key=key, default=default, words=get_args(literal))


BOUNDS: Final[Mapping[type, Mapping[str, Bound]]] = {
    Job: {
        "title": Bound("text", default="Stair guard", most=500),
        "unit": _words(Unit),
        "mark": _LENGTH,
        "rules": Bound("text", default="", most=4096),
        "rail": Bound("part", parts=(Rail,)),
        "strand": Bound("part", parts=(Strand,)),
        "post": Bound("part", parts=(Post,)),
        "surfaces": Bound("parts", key="surface", parts=get_args(Surface), least=1, most=5000),
        "start": _words(Ending, "post", key="ends.start"),
        "end": _words(Ending, "post", key="ends.end"),
        "stock": Bound("part", parts=(Stock,)),
        "push": Bound("part", parts=(Push,)),
        "climate": Bound("part", optional=True, parts=(Climate,)),
        "site": Bound("part", parts=(Site,)),
        "handrail": Bound("part", parts=(Handrail,)),
        "closed": Bound("flag", key="ends.closed", default=False),
    },
    Rail: {
        "height": _LENGTH,
        "landing_height": _LENGTH,
        "depth": _LENGTH,
        "width": _LENGTH,
        "meet": _words(RailsMeet, "as-given"),
        "weight": _WEIGHT,
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
        "construction": _words(Construction, "1x19"),
        "material": _words(StrandMaterial, "316"),
        "stiffness": _FORCE,
        "breaking_force": _FORCE,
        "weight": _WEIGHT,
        "tension": Bound("force", optional=True, sign="nonnegative", most=_MOST_FORCE),
        "source": _words(TensionSource, "assumed", key="tension_source"),
        "diameter": _LENGTH,
        "spacing": _LENGTH,
        "at_joints": _words(Crossing, "through"),
        "terminal_take_up": _OR_NOTHING,
        "tensioner_take_up": _OR_NOTHING,
        "longest_run": _MAYBE,
        "angle_changes": Bound("whole", optional=True, default=_ANGLE_CHANGES, most=10_000),
        "largest_bend": Bound("angle", default=_LARGEST_BEND, most=_MOST_TURN),
        "tensioner_travel": _OR_NOTHING,
        "lead": _MAYBE,
        "lower": _OR_NOTHING,
        "shortest": _MAYBE,
    },
    Post: {
        "width": _LENGTH,
        "max_gap": _LENGTH,
        "setback": Bound("length", sign="nonnegative"),
        "mount": _words(Mount, "surface"),
        "corner": _words(CornerPosts, "one"),
        "drop": _OR_NOTHING,
        "offset": _OR_NOTHING,
        "corner_offset": _OR_NOTHING,
        "sleeves": _NO,
        "weight": _WEIGHT,
        "sleeve_diameter": _MAYBE,
        "corner_square": _words(CornerSquare, "halving line"),
        "bearing": Bound("choice", optional=True, words=get_args(BearingFace)),
        "hand": Bound("choice", optional=True, words=get_args(Hand)),
    },
    Push: {
        "force": _FORCE,
        "probe": _words(ProbeKind, "sphere"),
        "sphere": _MAYBE,
        "friction": Bound("number", default=0, most=Fraction(49, 100)),
        "post_stiffness": _STIFFNESS,
        "anchor_stiffness": _STIFFNESS,
    },
    Climate: {
        "now": _TEMPERATURE,
        "coldest": _TEMPERATURE,
        "warmest": _TEMPERATURE,
        "frame": Bound("shares", least=1, most=10 * len(get_args(Frame)), words=get_args(Frame)),
        "wood": Bound("choice", optional=True, words=get_args(WoodSpecies)),
        "grain": _words(Grain, "tangential"),
        "seated": _words(Seated, "inner face"),
        "moisture_from": _MOISTURE,
        "moisture_to": _MOISTURE,
        "settling": Bound("percent", default=0, most=_MOST_SETTLING),
    },
    Stock: {"rail": _STOCK, "post": _STOCK, "strand": _STOCK, "kerf": _OR_NOTHING},
    Landing: {
        "length": Bound("length", sign="nonnegative"),
        **_ANY_SURFACE,
        "level_piece": Bound("flag", default=True),
        "depth": _MAYBE,
    },
    Flight: {"risers": Bound("whole", least=2, most=MOST_RISERS), "rise": _LENGTH, "run": _LENGTH, **_ANY_FLIGHT},
    MeasuredFlight: {
        "nosings": Bound("points", least=2, most=10_000),
        **_ANY_FLIGHT,
        "last_rise": _MAYBE,
    },
    Ramp: {"length": _LENGTH, "rise": Bound("length", sign="any"), **_ANY_SURFACE},
    Site: {
        "dwelling": _STATED,
        "top_is_handrail": _STATED,
        "public": _STATED,
        "children": _STATED,
        "exterior": _STATED,
        "accessible": _STATED,
        "temporary": _STATED,
        "egress": _STATED,
        "occupancy": Bound("text", optional=True, least=1, most=100),
        "storeys": Bound("whole", optional=True, least=1, most=1000),
        "installed": Bound("whole", optional=True, least=1, most=9999),  # a year
        "drop": Bound("length", key="greatest_drop", optional=True, sign="nonnegative"),
        "reach": Bound("length", key="drop_reach", optional=True, sign="nonnegative"),
        "own_handrail": _STATED,  # what a job has no key for says so by its own name
    },
}
"""Of each dataclass of a job, its fields."""


def keys(kind: type, *names: str) -> tuple[str, ...]:
    """The job file's keys of a dataclass, or of some fields of it."""
    return tuple(bound.key or name for name, bound in BOUNDS[kind].items() if not names or name in names)
