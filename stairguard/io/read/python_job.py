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
from stairguard.model.job import Job, Sign, Surface, Unit
from stairguard.model.soundness import job_bounds
from stairguard.model.soundness.job_bounds import BOUNDS, Bound
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
    if isinstance(bound, job_bounds.OwnTable):
        if type(value) is bound.kind:
            yield from _part(value, where, unit)
        else:
            yield Fault(where, f"a {bound.kind.__name__}", _got(value))
        return
    if isinstance(bound, (job_bounds.Parts, job_bounds.Lengths, job_bounds.Points, job_bounds.Shares)):
        yield from _several(value, bound, where, unit)
        return
    must, holds = _ONE[type(bound)](bound, unit)
    if not holds(value):
        yield Fault(where, must, _got(value))


def _several(value: Any, bound: Bound, where: str, unit: Unit) -> Iterator[Fault]:
    """File what is no tuple of so many, and of its items those that are wrong."""
    least, most, what, item = _ITEMS[type(bound)](bound)
    if not isinstance(value, tuple) or not least <= len(value) <= most:
        got = f"one of {len(value):,}" if isinstance(value, tuple) else _got(value)
        yield Fault(where, f"a tuple of from {least} to {most:,} {what}", got)
        return
    for number, one in enumerate(value, start=1):
        yield from item(one, f"{where}[{number}]", unit)


def _surfaces(bound: job_bounds.Parts) -> tuple[int, int, str, Callable[..., Iterator[Fault]]]:
    def item(one: Surface, where: str, unit: Unit) -> Iterator[Fault]:
        if type(one) in bound.kinds:
            yield from _part(one, where, unit)
        else:
            yield Fault(where, " or ".join(f"a {kind.__name__}" for kind in bound.kinds), _got(one))

    return 1, bound.most, "surfaces", item


def _lengths(bound: job_bounds.Lengths) -> tuple[int, int, str, Callable[..., Iterator[Fault]]]:
    def item(one: object, where: str, unit: Unit) -> Iterator[Fault]:
        return _field(one, job_bounds.Length(bound.sign), where, unit)

    return 0, bound.most, "lengths", item


def _points(bound: job_bounds.Points) -> tuple[int, int, str, Callable[..., Iterator[Fault]]]:
    def item(one: object, where: str, unit: Unit) -> Iterator[Fault]:
        must, holds = _length(job_bounds.Length("any"), unit)
        if not (isinstance(one, tuple) and len(one) == 2 and all(map(holds, one))):
            yield Fault(where, f"a tuple of two, level and plumb, each {must}", _got(one))

    return bound.least, bound.most, "nosings", item


def _shares(bound: job_bounds.Shares) -> tuple[int, int, str, Callable[..., Iterator[Fault]]]:
    def item(one: object, where: str, unit: Unit) -> Iterator[Fault]:
        sound = isinstance(one, tuple) and len(one) == 2 and one[0] in bound.words and isinstance(one[1], Fraction)
        if not (sound and 0 < one[1] <= 1):  # type: ignore[index]  # as just seen
            must = f"one of {', '.join(bound.words)} with its share, a Fraction of more than 0 and no more than 1"
            yield Fault(where, must, _got(one))

    return 1, 10 * len(bound.words), "materials", item


_ITEMS: Final[Mapping[type, Callable[[Any], tuple[int, int, str, Callable[..., Iterator[Fault]]]]]] = {
    job_bounds.Parts: _surfaces,
    job_bounds.Lengths: _lengths,
    job_bounds.Points: _points,
    job_bounds.Shares: _shares,
}

_Holds = tuple[str, Callable[[Any], bool]]


def _signed(value: Any, sign: Sign) -> bool:
    return sign == "any" or value > 0 or (sign == "nonnegative" and value == 0)


def _length(bound: job_bounds.Length, unit: Unit) -> _Holds:
    must = f"a Fraction of the job's unit{_SIGNS[bound.sign]} and no more than {LARGEST:,} {unit}"
    return must, lambda v: isinstance(v, Fraction) and _signed(v, bound.sign) and abs(v) <= LARGEST


def _angle(bound: job_bounds.Angle, unit: Unit) -> _Holds:
    must = f"a float of degrees{_SIGNS[bound.sign]} and no more than {bound.most} either way"

    def holds(value: Any) -> bool:
        number = isinstance(value, (float, int)) and not isinstance(value, bool)
        return number and math.isfinite(value) and _signed(value, bound.sign) and abs(value) <= bound.most

    return must, holds


def _force(bound: job_bounds.Force, unit: Unit) -> _Holds:
    must = f"a Fraction of the job's unit of force{_SIGNS[bound.sign]} and no more than {bound.most:,}"
    return must, lambda v: isinstance(v, Fraction) and _signed(v, bound.sign) and v <= bound.most


def _weight(bound: job_bounds.Weight, unit: Unit) -> _Holds:
    most = most_weight(unit)
    must = f"a Fraction, pounds of an inch or kilograms of a millimetre, more than zero and no more than {most}"
    return must, lambda v: isinstance(v, Fraction) and 0 < v <= most


def _stiffness(bound: job_bounds.Stiffness, unit: Unit) -> _Holds:
    must = f"a Fraction, force on a unit of length, more than zero and no more than {bound.most:,}"
    return must, lambda v: isinstance(v, Fraction) and 0 < v <= bound.most


def _temperature(bound: job_bounds.Temperature, unit: Unit) -> _Holds:
    must = f"a Fraction of degrees Celsius from {figure_text(bound.least)} to {bound.most:,}"
    return must, lambda v: isinstance(v, Fraction) and bound.least <= v <= bound.most


def _number(bound: job_bounds.Number, unit: Unit) -> _Holds:
    must = f"a Fraction from {figure_text(bound.least)} to {figure_text(bound.most)}"
    return must, lambda v: isinstance(v, Fraction) and bound.least <= v <= bound.most


def _whole(bound: job_bounds.Whole, unit: Unit) -> _Holds:
    must = f"a whole number from {bound.least:,} to {bound.most:,}"
    return must, lambda v: isinstance(v, int) and not isinstance(v, bool) and bound.least <= v <= bound.most


def _text(bound: job_bounds.FreeText, unit: Unit) -> _Holds:
    must = f"text of {bound.least} to {bound.longest:,} characters"
    return must, lambda v: isinstance(v, str) and bound.least <= len(v) <= bound.longest and _encodes(v)


def _flag(bound: job_bounds.Flag, unit: Unit) -> _Holds:
    return "True or False", lambda v: isinstance(v, bool)


def _choice(bound: job_bounds.Choice, unit: Unit) -> _Holds:
    return " or ".join(f'"{word}"' for word in bound.words), lambda v: isinstance(v, str) and v in bound.words


def _encodes(text: str) -> bool:
    """Whether text can be written: half a surrogate pair cannot."""
    return text.isascii() or not any("\ud800" <= letter <= "\udfff" for letter in text)


_ONE: Final[Mapping[type, Callable[[Any, Unit], _Holds]]] = {
    job_bounds.Length: _length,
    job_bounds.Angle: _angle,
    job_bounds.Force: _force,
    job_bounds.Weight: _weight,
    job_bounds.Stiffness: _stiffness,
    job_bounds.Temperature: _temperature,
    job_bounds.Number: _number,
    job_bounds.Whole: _whole,
    job_bounds.FreeText: _text,
    job_bounds.Flag: _flag,
    job_bounds.Choice: _choice,
}


def _got(value: object) -> str:
    """What was got, with its type, which may be what is wrong with it."""
    kind = type(value).__name__
    if value is None or is_dataclass(value) or (isinstance(value, Sequence) and not isinstance(value, str)):
        return "None" if value is None else f"a {kind}"
    try:
        return f"{value} ({kind})"
    except Exception:  # whatever a stranger's class raises where it should tell what it is
        return f"a {kind}"
