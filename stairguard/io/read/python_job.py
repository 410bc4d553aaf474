"""Jobs made in Python, held to all that a job file is held to: the same bounds, the same contradictions."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import is_dataclass
from fractions import Fraction
from typing import Any, Final

from stairguard.errors import Fault, JobError
from stairguard.geometry.marks import figure_text
from stairguard.io.parse.exact_lengths import LARGEST
from stairguard.io.parse.weights import most_weight
from stairguard.model.job import Job, Sign, Unit
from stairguard.model.soundness.job_bounds import BOUNDS, Bound, FieldKind
from stairguard.model.soundness.job_checks import contradictions
from stairguard.model.soundness.table_checks import (
    of_climate,
    of_handrail,
    of_post,
    of_push,
    of_site,
    of_stock,
    of_surface,
    placed,
)

_SIGNS: Final[dict[Sign, str]] = {"any": "", "nonnegative": ", not negative", "positive": ", more than zero"}


def check_job(job: Job) -> None:
    """Raise JobError unless a job could have been read from a file: one fault a mistake, each naming the file's key."""
    if not isinstance(job, Job):
        raise JobError(Fault("job", "a stairguard.Job", _got(job)))
    unit: Unit = "mm" if job.unit == "mm" else "in"
    faults = list(_part(job, "", unit))
    bad = {fault.where.partition(".")[0].partition("[")[0] for fault in faults}
    faults += _within(job, bad)
    faults += contradictions(
        unit,
        None if bad & {"unit", "mark"} else job.mark,
        None if "rail" in bad else job.rail,
        None if "strand" in bad else job.strand,
        None if "post" in bad else job.post,
        () if "surface" in bad else job.surfaces,
        "post" if "ends" in bad else job.start,
        "ends" not in bad and job.closed,
    )
    if faults:
        raise JobError(*faults)


def _within(job: Job, bad: set[str]) -> Iterator[Fault]:
    """File what its tables cannot hold, of those whose figures are sound."""
    tables: list[tuple[str, Callable[[Any], Iterator[Fault]], Any]] = [
        ("post", of_post, job.post),
        ("stock", of_stock, job.stock),
        ("push", of_push, job.push),
    ]
    if job.climate is not None:
        tables.append(("climate", of_climate, job.climate))
    if not bad & {"site", "handrail"}:
        tables.append(("handrail", lambda handrail: of_handrail(handrail, job.site.top_is_handrail), job.handrail))
        tables.append(("site", lambda site: of_site(site, job.handrail), job.site))
    for name, check, table in tables:
        if name not in bad:
            yield from placed(name, check(table))
    for number, surface in enumerate(job.surfaces if "surface" not in bad else (), start=1):
        yield from placed(f"surface[{number}]", of_surface(surface))


def _part(part: object, place: str, unit: Unit) -> Iterator[Fault]:
    """File the figures of one dataclass that are out of their bounds."""
    for name, bound in BOUNDS[type(part)].items():
        key = bound.key or name
        yield from _field(getattr(part, name), bound, f"{place}.{key}" if place else key, unit)


def _field(value: Any, bound: Bound, where: str, unit: Unit) -> Iterator[Fault]:
    if value is None and bound.optional:
        return
    if bound.kind == "part":
        yield from _one_part(value, where, unit, bound.parts)
    elif bound.kind in _ITEMS:
        yield from _several(value, bound, where, unit)
    elif not _holds(value, bound, unit):
        yield Fault(where, _must(bound, unit), _got(value))


def _one_part(value: object, where: str, unit: Unit, kinds: tuple[type, ...]) -> Iterator[Fault]:
    if type(value) in kinds:
        yield from _part(value, where, unit)
    else:
        yield Fault(where, " or ".join(f"a {kind.__name__}" for kind in kinds), _got(value))


def _several(value: Any, bound: Bound, where: str, unit: Unit) -> Iterator[Fault]:
    """File what is no tuple of so many, and of its items those that are wrong."""
    what, item = _ITEMS[bound.kind]
    least, most = bound.least, bound.most
    if not isinstance(value, tuple) or not least <= len(value) <= most:
        got = f"one of {len(value):,}" if isinstance(value, tuple) else _got(value)
        yield Fault(where, f"a tuple of from {least} to {most:,} {what}", got)
        return
    for number, one in enumerate(value, start=1):
        yield from item(one, bound, f"{where}[{number}]", unit)


def _surface(one: object, bound: Bound, where: str, unit: Unit) -> Iterator[Fault]:
    return _one_part(one, where, unit, bound.parts)


def _length(one: object, bound: Bound, where: str, unit: Unit) -> Iterator[Fault]:
    return _field(one, Bound("length", sign=bound.sign), where, unit)


def _point(one: object, _bound: Bound, where: str, unit: Unit) -> Iterator[Fault]:
    each = Bound("length", sign="any")
    if not (isinstance(one, tuple) and len(one) == 2 and all(_holds(value, each, unit) for value in one)):
        yield Fault(where, f"a tuple of two, level and plumb, each {_must(each, unit)}", _got(one))


def _share(one: object, bound: Bound, where: str, _unit: Unit) -> Iterator[Fault]:
    sound = isinstance(one, tuple) and len(one) == 2 and one[0] in bound.words and isinstance(one[1], Fraction)
    if not (sound and 0 < one[1] <= 1):  # type: ignore[index]  # as just seen
        must = f"one of {', '.join(bound.words)} with its share, a Fraction of more than 0 and no more than 1"
        yield Fault(where, must, _got(one))


_ITEMS: Final[Mapping[FieldKind, tuple[str, Callable[[object, Bound, str, Unit], Iterator[Fault]]]]] = {
    "parts": ("surfaces", _surface),
    "lengths": ("lengths", _length),
    "points": ("nosings", _point),
    "shares": ("materials", _share),
}
"""Of what is a tuple of several, what they are called, and what each is held to."""


_MUST: Final[Mapping[FieldKind, str]] = {
    "length": "a Fraction of the job's unit{sign} and no more than {largest:,} {unit}",
    "angle": "a float of degrees{sign} and no more than {most} either way",
    "force": "a Fraction of the job's unit of force{sign} and no more than {most:,}",
    "weight": "a Fraction, pounds of an inch or kilograms of a millimetre, more than zero and no more than {heaviest}",
    "stiffness": "a Fraction, force on a unit of length, more than zero and no more than {most:,}",
    "temperature": "a Fraction of degrees Celsius from {low} to {most:,}",
    "number": "a Fraction from {low} to {high}",
    "percent": "a Fraction from {low} to {high}",
    "whole": "a whole number from {least:,} to {most:,}",
    "text": "text of {least} to {most:,} characters",
    "flag": "True or False",
    "choice": "{words}",
}


def _must(bound: Bound, unit: Unit) -> str:
    """What a field has to be, as a fault says it."""
    return _MUST[bound.kind].format(
        sign=_SIGNS[bound.sign],
        least=bound.least,
        most=bound.most,
        low=figure_text(Fraction(bound.least)),
        high=figure_text(Fraction(bound.most)),
        largest=LARGEST,
        heaviest=most_weight(unit),
        unit=unit,
        words=" or ".join(f'"{word}"' for word in bound.words),
    )


def _holds(value: Any, bound: Bound, unit: Unit) -> bool:
    """Whether a field is what it has to be."""
    if bound.kind == "flag":
        return isinstance(value, bool)
    if bound.kind == "choice":
        return isinstance(value, str) and value in bound.words
    if bound.kind == "text":
        return isinstance(value, str) and bound.least <= len(value) <= bound.most and _encodes(value)
    if bound.kind == "whole":
        return isinstance(value, int) and not isinstance(value, bool) and bound.least <= value <= bound.most
    if bound.kind == "angle":
        number = isinstance(value, (float, int)) and not isinstance(value, bool) and math.isfinite(value)
        return number and _signed(value, bound.sign) and abs(value) <= bound.most
    return isinstance(value, Fraction) and _within_bounds(value, bound, unit)


def _within_bounds(value: Fraction, bound: Bound, unit: Unit) -> bool:
    if bound.kind in ("temperature", "number", "percent"):
        return bound.least <= value <= bound.most
    most = LARGEST if bound.kind == "length" else most_weight(unit) if bound.kind == "weight" else bound.most
    return _signed(value, bound.sign) and abs(value) <= most


def _signed(value: float | Fraction, sign: Sign) -> bool:
    return sign == "any" or value > 0 or (sign == "nonnegative" and value == 0)


def _encodes(text: str) -> bool:
    """Whether text can be written: half a surrogate pair cannot."""
    return text.isascii() or not any("\ud800" <= letter <= "\udfff" for letter in text)


def _got(value: object) -> str:
    """What was got, with its type, which may be what is wrong with it."""
    kind = type(value).__name__
    if value is None or is_dataclass(value) or (isinstance(value, Sequence) and not isinstance(value, str)):
        return "None" if value is None else f"a {kind}"
    try:
        return f"{value} ({kind})"
    except Exception:  # whatever a stranger's class raises where it should tell what it is
        return f"a {kind}"
