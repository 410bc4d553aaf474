"""What would mend a breach: which figures to change, to what, and what else comes of it.

Figures are those that are told: on the tape, on the safe side of what was solved for.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from fractions import Fraction
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

from stairguard.model.outcome import Settling

if TYPE_CHECKING:  # names alone
    from stairguard.model.rules import Quantity, What

FINEST: Final = 64
"""Of an inch: what is a fraction of it is told as one, off the tape or not."""

KeptBound: TypeAlias = Literal["at least", "at most", "even"]
SameSteps: TypeAlias = Literal["risers", "runs"]
JobTable: TypeAlias = Literal["ends", "rail", "post", "strand", "surface", "handrail", "site", "rules"]
SetValue: TypeAlias = Fraction | int | bool | str | None


@dataclass(frozen=True, slots=True)
class TapeMark:
    """In which unit figures are told, and at which mark of its tape; a tension's is the step that it is set to."""

    unit: str
    mark: Fraction


NO_TAPE: Final = TapeMark("", Fraction(1))
"""Of words, flags and counts."""


@dataclass(frozen=True, slots=True)
class Change:
    """One key of the job file to set, told as it is typed there: ``value`` None leaves it out.

    ``by`` is how much more that is than now.

    ``table`` and ``key`` are as in the file, but those of either end of the line, which stand at its top and are of
    "ends" here, and "rules", which has no key: another pack. ``surfaces`` are those whose key it is, counted from 0.
    """

    table: JobTable
    key: str
    value: SetValue
    by: Fraction | None = None
    tape: TapeMark = NO_TAPE
    surfaces: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Divided:
    """A flight of equal steps, or a ramp, divided by landings of this length: into flights of so many risers each.

    A ramp is divided into as many equal ones as there are ``parts``, which then count for nothing but that.
    """

    surface: int
    parts: tuple[int, ...]
    landing: Fraction
    ramp: bool
    tape: TapeMark


@dataclass(frozen=True, slots=True)
class Inserted:
    """A landing put between two surfaces, before the one of this index, with a level piece of rail or without."""

    before: int
    length: Fraction
    level_piece: bool
    tape: TapeMark


@dataclass(frozen=True, slots=True)
class Evened:
    """Steps of a measured flight made equal between the same ends: its risers, or its runs, each of ``size``."""

    surface: int
    what: SameSteps
    size: Fraction
    tape: TapeMark


@dataclass(frozen=True, slots=True, kw_only=True)
class Retaken:
    """Figures taken on a guard that stands, made ``value``; ``sure`` is what clears the guard band of their +- too.

    ``quantity`` is a rule's, ``way`` the kind of bound that it then keeps, or ``"even"`` of several made one. ``rows``
    are the figures' places among those taken, from 0.
    """

    quantity: Quantity
    way: KeptBound
    rows: tuple[int, ...]
    now: Fraction
    value: Fraction
    sure: Fraction | None
    tape: TapeMark

    @property
    def told_sure(self) -> Fraction | None:
        """What is to be told besides: nothing where the first figure is sure itself."""
        return None if self.sure == self.value else self.sure


@dataclass(frozen=True, slots=True)
class Reshaped:
    """Lengths that a measured opening was given by, made others: ``sizes`` are name, now, and what to make it.

    ``sure`` is, in the same order, what clears the guard band of their +- too; None where there is no band, or, where
    it is left ``doubtful``, nothing that does.
    """

    row: int
    sizes: tuple[tuple[str, Fraction, Fraction], ...]
    sure: tuple[Fraction, ...] | None
    doubtful: bool
    tape: TapeMark

    @property
    def told_sure(self) -> tuple[Fraction, ...]:
        """What is to be told besides: nothing where the first figures are sure themselves."""
        own = tuple(value for _, _, value in self.sizes)
        return () if self.sure is None or self.sure == own else self.sure


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """An edge of a measured outline to be moved in, square to itself, by so much; the rest as of `Reshaped`."""

    row: int
    edge: int
    strand: bool
    by: Fraction
    sure: Fraction | None
    doubtful: bool
    tape: TapeMark

    @property
    def told_sure(self) -> Fraction | None:
        """What is to be told besides: nothing where the first figure is sure itself."""
        return None if self.sure == self.by else self.sure


@dataclass(frozen=True, slots=True)
class ToMeasure:
    """Something to be measured, on each of ``surfaces`` or, without any, of the whole guard: what a rule waits for.

    ``what`` and ``place`` are as a [[measured]] table has them, ``place`` "" where it needs none.
    """

    what: What
    surfaces: tuple[int, ...] = ()
    place: str = ""


Step: TypeAlias = Change | Divided | Inserted | Evened | ToMeasure | Retaken | Reshaped | Moved


@dataclass(frozen=True, slots=True)
class Long:
    """How long flights are then, level from first nosing to last; ``with_others`` that are told done too, or alone."""

    surfaces: tuple[int, ...]
    level: Fraction
    tape: TapeMark
    with_others: bool = False


class SideEffect(Enum):
    """What else is to be said of a fix, that needs no figure."""

    OWN_HANDRAIL = auto()
    """A handrail of its own comes beside the guard."""
    JOBS_OWN_LIMIT = auto()
    NEWEL_OR_LANDING = auto()
    """The line ends on a newel where one stands there; else it goes on over a landing."""
    BUILT_ANEW = auto()
    """A flight as surveyed is built anew with equal steps."""
    MEASURE_AGAIN = auto()
    """Openings over steps that become others are to be measured again."""
    LAY_OUT_AGAIN = auto()
    """It mends its breach by itself, and not with all else that is told."""
    BY_ITSELF = auto()
    """The same of a survey: others told set the same figures otherwise."""


@dataclass(frozen=True, slots=True)
class LineLonger:
    """By how much the whole line is then longer."""

    by: Fraction
    tape: TapeMark


@dataclass(frozen=True, slots=True)
class JogsThen:
    """Posts where rails then no longer meet."""

    posts: tuple[str, ...]


Also: TypeAlias = SideEffect | LineLonger | JogsThen


@dataclass(frozen=True, slots=True)
class BrokenClause:
    """A clause that a fix leaves unkept, or an option's; or, by its quantity, a limit of the job's ``own``."""

    clause: str
    option: bool = False
    own: str = ""


class Advice(Enum):
    """What can be done that no figure of the job, or of the survey, would show, or that nothing can."""

    UPRIGHT_INFILL = auto()
    ANOTHER_GUARD = auto()
    """No one figure changed mends it."""
    LAY_OUT_ANEW = auto()
    """Nor of a guard laid out by other rules: by the rules it is held to it may come out otherwise."""
    MEND = auto()
    """A figure so near its limit that no tape tells it."""
    FILL_TRIANGLE = auto()
    FILL_BESIDE = auto()
    """Between the stair and strands that stand out from it."""
    SOLID_PIECE = auto()
    """Under the member that leaves an opening over a step."""
    SOLID_PIECE_AND_GAP = auto()
    """The same, and the gap between the treads closed as well."""
    FILL_IN = auto()


@dataclass(frozen=True, slots=True)
class Farther:
    """Two posts to be set farther apart by so much, or what is between them filled with something rigid."""

    by: Fraction
    tape: TapeMark


@dataclass(frozen=True, slots=True)
class Settle:
    """What to measure again, and how well, to settle what is too close to call."""

    settling: Settling
    unit: str


@dataclass(frozen=True, slots=True)
class Fix:
    """What to do about one breach: all of ``steps`` together.

    ``also`` and ``long`` say what else changes with it, ``breaks`` what it leaves unkept that was kept before. Without
    any steps ``advice`` says what to do instead.
    """

    steps: tuple[Step, ...]
    also: tuple[Also, ...] = ()
    breaks: tuple[BrokenClause, ...] = ()
    advice: Advice | Farther | Settle | None = None
    long: Long | None = None

    @property
    def to_be_sure(self) -> bool:
        """Whether it tells two figures: one that keeps the limit, and one that clears the guard band too."""
        figured = (step for step in self.steps if isinstance(step, Retaken | Reshaped | Moved))
        return any(step.told_sure for step in figured)
