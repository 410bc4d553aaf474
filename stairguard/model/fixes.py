"""What would mend a breach: which figures to change, to what, and what else comes of it. Words are made here alone.

A fix is a fact first. Its figures are those that are printed: on the tape, on the safe side of what was solved for.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Final, TypeAlias

from stairguard.geometry.marks import mark_above, tape_text, typed_text

__all__ = [
    "FINEST", "Change", "Divided", "Evened", "Fix", "Given", "Inserted", "Long", "Measure", "Moved", "Reshaped",
    "Retaken", "Step", "words", "written",
]  # fmt: skip

_DOUBT: Final = ", and it is still too close to call"
FINEST: Final = 64
"""Of an inch: what is a fraction of it is told as one, off the tape or not."""
_ROW: Final = 4  # surfaces in equal steps that are told by their step

Given: TypeAlias = Fraction | int | bool | str | None


def written(value: Fraction, unit: str, mark: Fraction) -> str:
    """Write a figure so that it can be read back as it is: off the tape where a mark is there, else in decimals."""
    if unit in ("in", "mm") and value % mark == 0:
        return tape_text(value, "in" if unit == "in" else "mm", mark)
    if unit == "in" and (value * FINEST).denominator == 1:
        return tape_text(value, "in", Fraction(1, FINEST))
    return f"{float(value):.10g} {unit}".rstrip()


def _about(value: Fraction, unit: str, mark: Fraction) -> str:
    """Write by how much a figure changes, where the figure itself stands beside it."""
    exact = value % mark == 0 or (value * FINEST).denominator == 1
    return written(value if exact else Fraction(f"{float(value):.4f}"), unit, mark)


def _numbered(surfaces: Sequence[int]) -> str:
    """Surfaces counted from 1; four or more of one step by that step."""
    numbers = [index + 1 for index in surfaces]
    steps = {after - before for before, after in pairwise(numbers)}
    if len(numbers) < _ROW or len(steps) > 1:
        return ", ".join(map(str, numbers))
    step = steps.pop()
    return f"{numbers[0]} to {numbers[-1]}" + ("" if step == 1 else f" in steps of {step}")


@dataclass(frozen=True, slots=True)
class Change:
    """One key of the job file to set, told as it is typed there: ``value`` None leaves it out.

    ``by`` is how much more that is than now.

    ``key`` is as in the file; of surfaces without their number, which ``surfaces`` has, counted from 0.
    """

    key: str
    value: Given
    by: Fraction | None = None
    unit: str = ""
    mark: Fraction = Fraction(1)
    surfaces: tuple[int, ...] = ()

    @property
    def name(self) -> str:
        """The key with the numbers of its surfaces, counted from 1 as in the file."""
        table, _, key = self.key.partition(".")
        numbers = f"[{_numbered(self.surfaces)}]" if self.surfaces else ""
        return f"{table}{numbers}.{key}" if key else f"{table}{numbers}"

    def __str__(self) -> str:
        if self.value is None:
            return f"{self.name} left out"
        return f"{self.name} = {self._value()}{self._by()}"

    def _value(self) -> str:
        if isinstance(self.value, bool):
            return str(self.value).lower()
        if isinstance(self.value, str):
            return f'"{self.value}"'
        return typed_text(self.value, self.unit) if isinstance(self.value, Fraction) else str(self.value)

    def _by(self) -> str:
        if not self.by:
            return ""
        return f" ({_about(abs(self.by), self.unit, self.mark)} {'more' if self.by > 0 else 'less'})"


@dataclass(frozen=True, slots=True)
class Divided:
    """A flight of equal steps, or a ramp, divided by landings of this length: into flights of so many risers each.

    A ramp is divided into as many equal ones as there are ``parts``, which then count for nothing but that.
    """

    surface: int
    parts: tuple[int, ...]
    landing: Fraction
    ramp: bool
    unit: str
    mark: Fraction

    def __str__(self) -> str:
        landing = written(self.landing, self.unit, self.mark)
        if self.ramp:
            into = f"{len(self.parts)} equal ramps"
        else:
            into = f"flights of {', '.join(map(str, self.parts[:-1]))} and {self.parts[-1]} risers"
        return f"divide surface {self.surface + 1} into {into}, with landings of {landing} between"


@dataclass(frozen=True, slots=True)
class Inserted:
    """A landing put between two surfaces, before the one of this index, with a level piece of rail or without."""

    before: int
    length: Fraction
    level_piece: bool
    unit: str
    mark: Fraction

    def __str__(self) -> str:
        length = written(self.length, self.unit, self.mark)
        rail = "" if self.level_piece else ", with level_piece = false,"
        return f"put a landing of {length}{rail} between surfaces {self.before} and {self.before + 1}"


@dataclass(frozen=True, slots=True)
class Evened:
    """Steps of a measured flight made equal between the same ends: its risers, or its runs, each of ``size``."""

    surface: int
    what: str
    size: Fraction
    unit: str
    mark: Fraction

    def __str__(self) -> str:
        each = written(self.size, self.unit, self.mark)
        return f"even out the {self.what} of surface {self.surface + 1} between its ends, to {each} each"


@dataclass(frozen=True, slots=True)
class Retaken:
    """Figures taken on a guard that stands, made ``value``; ``sure`` is what clears the guard band of their +- too.

    ``rows`` are the figures' places among those taken, from 0; ``how`` says what to do.
    """

    how: str
    rows: tuple[int, ...]
    now: Fraction
    value: Fraction
    sure: Fraction | None
    unit: str
    mark: Fraction

    def __str__(self) -> str:
        def to(value: Fraction) -> str:
            return f"by {self._written(abs(value - self.now))}, to {self._written(value)}"

        doubt = "" if self.told_sure is None else f" ({to(self.told_sure)}, to be sure)"
        return f"{self.how} {to(self.value)}{doubt}"

    @property
    def told_sure(self) -> Fraction | None:
        """What is to be told besides: nothing where the first figure is sure itself."""
        return None if self.sure == self.value else self.sure

    def _written(self, value: Fraction) -> str:
        return written(value, self.unit, self.mark)


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
    unit: str
    mark: Fraction

    def __str__(self) -> str:
        made = (self._made(*size) for size in self.sizes)
        doubt = " and ".join(
            f"{name} {written(value, self.unit, self.mark)}"
            for (name, _, _), value in zip(self.sizes, self.told_sure, strict=False)
        )
        return " and ".join(made) + (f"; to be sure, {doubt}" if doubt else _DOUBT * self.doubtful)

    @property
    def told_sure(self) -> tuple[Fraction, ...]:
        """What is to be told besides: nothing where the first figures are sure themselves."""
        own = tuple(value for _, _, value in self.sizes)
        return () if self.sure is None or self.sure == own else self.sure

    def _made(self, name: str, now: Fraction, value: Fraction) -> str:
        by = f"{written(abs(value - now), self.unit, self.mark)} {'more' if value > now else 'less'}"
        return f"{name} {written(value, self.unit, self.mark)} ({by})"


@dataclass(frozen=True, slots=True)
class Moved:
    """An edge of a measured outline to be moved in, square to itself, by so much; the rest as of `Reshaped`."""

    row: int
    edge: int
    strand: bool
    by: Fraction
    sure: Fraction | None
    doubtful: bool
    unit: str
    mark: Fraction

    def __str__(self) -> str:
        doubt = f" ({written(self.told_sure, self.unit, self.mark)} to be sure)" if self.told_sure else ""
        what = f"the strand on edge {self.edge}" if self.strand else f"edge {self.edge}"
        by = written(self.by, self.unit, self.mark)
        return f"move {what} in by {by}{doubt}, square to itself{_DOUBT * (self.doubtful and not doubt)}"

    @property
    def told_sure(self) -> Fraction | None:
        """What is to be told besides: nothing where the first figure is sure itself."""
        return None if self.sure == self.by else self.sure


@dataclass(frozen=True, slots=True)
class Measure:
    """Something to be measured, on each of ``surfaces`` or, without any, of the whole guard: what a rule waits for.

    ``what`` and ``place`` are as a [[measured]] table has them, ``place`` "" where it needs none.
    """

    what: str
    surfaces: tuple[int, ...] = ()
    place: str = ""

    def __str__(self) -> str:
        keys = [f'what = "{self.what}"', *([f'place = "{self.place}"'] if self.place else [])]
        each, where = "", ""
        if self.surfaces:
            several = len(self.surfaces) > 1
            each = "one each of " if several else ""
            where = f" on surface{'s' if several else ''} {_numbered(self.surfaces)}"
            keys.append(f"surface = {'its number' if several else self.surfaces[0] + 1}")
        noun = f"{self.what}, {self.place}," if self.place else self.what
        return f"measure the {noun}{where} ({each}[[measured]] with {', '.join(keys)})"


Step: TypeAlias = Change | Divided | Inserted | Evened | Measure | Retaken | Reshaped | Moved


@dataclass(frozen=True, slots=True)
class Long:
    """How long flights are then, level from first nosing to last; ``with_others`` that are told done too, or alone."""

    surfaces: tuple[int, ...]
    level: Fraction
    unit: str
    mark: Fraction
    with_others: bool = False

    def __str__(self) -> str:
        flights = "the flight is" if len(self.surfaces) == 1 else "each of these flights is"
        level = written(mark_above(self.level, self.mark), self.unit, self.mark)
        others = "with the other changes told done too, " if self.with_others else ""
        return f"{others}{flights} then {level} long, nosing to nosing"


@dataclass(frozen=True, slots=True)
class Fix:
    """What to do about one breach: all of ``steps`` together.

    ``also`` and ``long`` say what else changes with it, ``breaks`` which clauses it leaves unkept that were kept
    before. Without any steps ``advice`` says what can be done that no figure of the job, or of the survey, would show,
    or why nothing.
    """

    steps: tuple[Step, ...]
    also: str = ""
    breaks: tuple[str, ...] = ()
    advice: str = ""
    long: Long | None = None

    @property
    def to_be_sure(self) -> bool:
        """Whether it tells two figures: one that keeps the limit, and one that clears the guard band too."""
        figured = (step for step in self.steps if isinstance(step, Retaken | Reshaped | Moved))
        return any(step.told_sure for step in figured)

    def __str__(self) -> str:
        if not self.steps:
            return self.advice
        text = " and ".join(map(str, self.steps))
        if self.long is not None:
            text += f"; {self.long}"
        if self.also:
            text += f"; {self.also}"
        if self.breaks:
            text += f"; then {', '.join(self.breaks)} fail{'s' if len(self.breaks) == 1 else ''}"
        return text


def words(fixes: Sequence[Fix]) -> str:
    """Ways to mend one breach, in words; "" where there is none to tell."""
    return "; or ".join(map(str, fixes))
