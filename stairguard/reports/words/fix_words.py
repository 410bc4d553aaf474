"""Fixes in English: figures to change, what else comes of it, and what to do where no figure would show it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import singledispatch
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from stairguard.geometry.marks import mark_above, tape_text, typed_text
from stairguard.model.fixes import (
    FINEST,
    Advice,
    BrokenClause,
    Change,
    Divided,
    Evened,
    Farther,
    Fix,
    Inserted,
    JogsThen,
    KeptBound,
    LineLonger,
    Long,
    Moved,
    Reshaped,
    Retaken,
    Settle,
    SideEffect,
    TapeMark,
    ToMeasure,
)
from stairguard.reports.words.lengths import fixed, slight, typed

if TYPE_CHECKING:
    from stairguard.model.outcome import Settling
    from stairguard.model.rules import Quantity

_DOUBT: Final = ", and it is still too close to call"
_ROW: Final = 4
"""So many surfaces in equal steps are told by their step."""
_NAMED: Final = 4
"""So many lengths to measure again are told by name."""

_ADVICE: Final[Mapping[Advice, str]] = {
    Advice.UPRIGHT_INFILL: "upright infill there, or a solid panel, where the authority asks for it",
    Advice.ANOTHER_GUARD: "no one figure changed mends it: the guard itself has to be another",
    Advice.LAY_OUT_ANEW: "no one figure changed mends it here: lay it out by these rules and see what that says",
    Advice.MEND: "no tape tells a figure so near its limit: mend it",
    Advice.FILL_TRIANGLE: "a solid piece in the triangle, or a bar under the strands: the job file has no key for it",
    Advice.FILL_BESIDE: (
        "a rigid member between the stair's side and the strands, or a solid piece there: the job file has no key for "
        "it"
    ),
    Advice.SOLID_PIECE: "a solid piece under the member",
    Advice.SOLID_PIECE_AND_GAP: "a solid piece under the member and the gap between the treads closed as well",
    Advice.FILL_IN: "no edge moved alone closes it: fill it in",
}
_EFFECTS: Final[Mapping[SideEffect, str]] = {
    SideEffect.OWN_HANDRAIL: "a handrail of its own, beside the guard",
    SideEffect.JOBS_OWN_LIMIT: "the limit is the job's own",
    SideEffect.NEWEL_OR_LANDING: "where one stands there; else the line goes on over a landing",
    SideEffect.BUILT_ANEW: "built anew with equal steps",
    SideEffect.MEASURE_AGAIN: "then measure the openings over the steps again",
    SideEffect.LAY_OUT_AGAIN: "by itself: with all else that is told done too, lay it out again and see what that says",
    SideEffect.BY_ITSELF: "by itself: not with what else is told of the same figures",
}
# by quantity: what to do where there is too little of it, and where there is too much
_HOW: Final[Mapping[Quantity, tuple[str, str]]] = {
    "guard height": ("raise the rail", "lower the rail"),
    "handrail height": ("raise the handrail", "lower the handrail"),
    "riser": ("make this riser higher", "make this riser lower"),
    "run": ("make this run longer", "make this run shorter"),
    "nosing projection": ("let the nosing project more,", "cut the nosing's projection"),
    "landing length": ("make the landing longer", "make the landing shorter"),
    "handrail extension": ("run the rail farther on", ""),
    "handrail size": ("a round rail thicker", "a round rail thinner"),
    "handrail perimeter": ("a section more around", "a section less around"),
    "handrail across": ("a section wider", "a section narrower"),
    "handrail clearance": ("set the handrail farther out", ""),
    "opening": ("", "bring what bounds it nearer"),
    "lowest edge": ("", "lower the lowest edge, plumb,"),
    "post gap": ("", "stand the posts nearer"),
    "strand spacing": ("", "set the strands nearer"),
    "strand run": ("", "divide the run"),
}


def fixes_words(fixes: Sequence[Fix]) -> str:
    """Ways to mend one breach; "" where there is none to tell."""
    return "; or ".join(map(_fix_words, fixes))


def fixes_words_anywhere(fixes: Sequence[Fix]) -> str:
    """Ways to mend one breach, as told of any surface and post: the same of breaches that are alike but for those."""
    return fixes_words([_anywhere(fix) for fix in fixes])


def how_words(quantity: Quantity, way: KeptBound) -> str:
    """What to do about a figure that is past its bound; "" where nothing general can be said."""
    if way == "even":
        return f"even out the {quantity}s measured, each"
    words = _HOW.get(quantity)
    return "" if words is None else words[0 if way == "at least" else 1]


def settling_words(found: Settling, unit: str) -> str:
    """What to measure again, and to what +-; else what to do instead."""
    if not found.again:
        return _ADVICE[Advice.MEND]
    # cut short, never rounded up: what is printed has to be enough, and a hair less than it is for the tie
    digits = 2 - math.ceil(math.log10(found.plus_minus))
    enough = math.floor(found.plus_minus * 10**digits * (1 - 1e-12)) / 10**digits
    *first, last = found.again if len(found.again) <= _NAMED else ("each length",)
    names = f"{', '.join(first)} and {last}, each" if first else last
    return f"measure {names} to +- {slight(enough, unit)} to settle it"


def _fix_words(fix: Fix) -> str:
    if fix.advice is not None:
        return _words(fix.advice)
    text = " and ".join(map(_words, fix.steps))
    if fix.long is not None:
        text += f"; {_words(fix.long)}"
    if fix.also:
        text += f"; {'; '.join(map(_words, fix.also))}"
    if fix.breaks:
        text += f"; then {', '.join(map(_words, fix.breaks))} fail{'s' if len(fix.breaks) == 1 else ''}"
    return text


def _anywhere(fix: Fix) -> Fix:
    steps = tuple(replace(step, surface=0) if isinstance(step, Divided | Evened) else step for step in fix.steps)
    also = tuple(
        replace(one, posts=tuple(post.rstrip("0123456789") for post in one.posts)) if isinstance(one, JogsThen) else one
        for one in fix.also
    )
    return replace(fix, steps=steps, also=also)


def _written(value: Fraction, tape: TapeMark) -> str:
    """Write a figure so that it can be read back as it is: off the tape where a mark is there, else in decimals."""
    unit = tape.unit
    if unit in ("in", "mm") and value % tape.mark == 0:
        return tape_text(value, "in" if unit == "in" else "mm", tape.mark)
    if unit == "in" and (value * FINEST).denominator == 1:
        return tape_text(value, "in", Fraction(1, FINEST))
    return f"{typed(value)} {unit}".rstrip()


def _about(value: Fraction, tape: TapeMark) -> str:
    """Write by how much a figure changes, where the figure itself stands beside it."""
    exact = value % tape.mark == 0 or (value * FINEST).denominator == 1
    return _written(value if exact else Fraction(fixed(value, 4)), tape)


def _numbered(surfaces: Sequence[int]) -> str:
    """Surfaces counted from 1; four or more of one step by that step."""
    numbers = [index + 1 for index in surfaces]
    steps = {after - before for before, after in pairwise(numbers)}
    if len(numbers) < _ROW or len(steps) > 1:
        return ", ".join(map(str, numbers))
    step = steps.pop()
    return f"{numbers[0]} to {numbers[-1]}" + ("" if step == 1 else f" in steps of {step}")


@singledispatch
def _words(fact: object) -> str:
    raise TypeError(fact)


@_words.register(Advice)
def _advice_words(fact: Advice) -> str:
    return _ADVICE[fact]


@_words.register(Farther)
def _farther_words(fact: Farther) -> str:
    more = _written(fact.by, fact.tape)
    return f"set the two posts {more} farther apart, or fill between them with something rigid"


@_words.register(Settle)
def _settle_words(fact: Settle) -> str:
    return settling_words(fact.settling, fact.unit)


@_words.register(SideEffect)
def _side_effect_words(fact: SideEffect) -> str:
    return _EFFECTS[fact]


@_words.register(LineLonger)
def _line_longer_words(fact: LineLonger) -> str:
    return f"the line is then {_written(fact.by, fact.tape)} longer"


@_words.register(JogsThen)
def _jogs_then_words(fact: JogsThen) -> str:
    return f"the rails then no longer meet at {', '.join(fact.posts)} (see joints)"


@_words.register(BrokenClause)
def _broken_clause_words(fact: BrokenClause) -> str:
    if fact.own:
        return f"the job's own limit of {fact.own}"
    return f"{fact.clause} (an option)" if fact.option else fact.clause


@_words.register(Change)
def _change_words(step: Change) -> str:
    numbers = f"[{_numbered(step.surfaces)}]" if step.surfaces else ""
    name = f"{step.table}{numbers}.{step.key}" if step.key else f"{step.table}{numbers}"
    return f"{name} left out" if step.value is None else f"{name} = {_value(step)}{_by(step)}"


def _value(step: Change) -> str:
    if isinstance(step.value, bool):
        return str(step.value).lower()
    if isinstance(step.value, str):
        return f'"{step.value}"'
    return typed_text(step.value, step.tape.unit) if isinstance(step.value, Fraction) else str(step.value)


def _by(step: Change) -> str:
    if not step.by:
        return ""
    return f" ({_about(abs(step.by), step.tape)} {'more' if step.by > 0 else 'less'})"


@_words.register(Divided)
def _divided_words(step: Divided) -> str:
    landing = _written(step.landing, step.tape)
    if step.ramp:
        into = f"{len(step.parts)} equal ramps"
    else:
        into = f"flights of {', '.join(map(str, step.parts[:-1]))} and {step.parts[-1]} risers"
    return f"divide surface {step.surface + 1} into {into}, with landings of {landing} between"


@_words.register(Inserted)
def _inserted_words(step: Inserted) -> str:
    length = _written(step.length, step.tape)
    rail = "" if step.level_piece else ", with level_piece = false,"
    return f"put a landing of {length}{rail} between surfaces {step.before} and {step.before + 1}"


@_words.register(Evened)
def _evened_words(step: Evened) -> str:
    each = _written(step.size, step.tape)
    return f"even out the {step.what} of surface {step.surface + 1} between its ends, to {each} each"


@_words.register(Retaken)
def _retaken_words(step: Retaken) -> str:
    def to(value: Fraction) -> str:
        by = _written(abs(value - step.now), step.tape)
        return f"by {by}, to {_written(value, step.tape)}"

    doubt = "" if step.told_sure is None else f" ({to(step.told_sure)}, to be sure)"
    return f"{how_words(step.quantity, step.way)} {to(step.value)}{doubt}"


@_words.register(Reshaped)
def _reshaped_words(step: Reshaped) -> str:
    def made(name: str, now: Fraction, value: Fraction) -> str:
        by = f"{_written(abs(value - now), step.tape)} {'more' if value > now else 'less'}"
        return f"{name} {_written(value, step.tape)} ({by})"

    doubt = " and ".join(
        f"{name} {_written(value, step.tape)}" for (name, _, _), value in zip(step.sizes, step.told_sure, strict=False)
    )
    sizes = " and ".join(made(*size) for size in step.sizes)
    return sizes + (f"; to be sure, {doubt}" if doubt else _DOUBT * step.doubtful)


@_words.register(Moved)
def _moved_words(step: Moved) -> str:
    doubt = f" ({_written(step.told_sure, step.tape)} to be sure)" if step.told_sure else ""
    what = f"the strand on edge {step.edge}" if step.strand else f"edge {step.edge}"
    by = _written(step.by, step.tape)
    return f"move {what} in by {by}{doubt}, square to itself{_DOUBT * (step.doubtful and not doubt)}"


@_words.register(ToMeasure)
def _to_measure_words(step: ToMeasure) -> str:
    keys = [f'what = "{step.what}"', *([f'place = "{step.place}"'] if step.place else [])]
    each, where = "", ""
    if step.surfaces:
        several = len(step.surfaces) > 1
        each = "one each of " if several else ""
        where = f" on surface{'s' if several else ''} {_numbered(step.surfaces)}"
        keys.append(f"surface = {'its number' if several else step.surfaces[0] + 1}")
    noun = f"{step.what}, {step.place}," if step.place else step.what
    return f"measure the {noun}{where} ({each}[[measured]] with {', '.join(keys)})"


@_words.register(Long)
def _long_words(fact: Long) -> str:
    flights = "the flight is" if len(fact.surfaces) == 1 else "each of these flights is"
    level = _written(mark_above(fact.level, fact.tape.mark), fact.tape)
    others = "with the other changes told done too, " if fact.with_others else ""
    return f"{others}{flights} then {level} long, nosing to nosing"
