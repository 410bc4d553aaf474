"""What is printed of one step of a fix, read as a person reads it: what to change, and to what.

The patterns know the words and nothing else; `legible` gives of a step what has to be read off its words.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from fractions import Fraction
from typing import Any

from stairguard.io.parse.exact_lengths import parse_length
from stairguard.model.fixes import Change, Divided, Evened, Inserted, Moved, Reshaped, Retaken, Step, ToMeasure

Read = tuple[Any, ...]
DOUBT = ", and it is still too close to call"
KEY = r"(?P<table>\w+)(?:\[(?P<numbers>[^\]]+)\])?(?:\.(?P<key>\w+))?"
SIZE = re.compile(r"(\w+) (-?\d.*?) \(([^()]+) (more|less)\)")
SETTLE = re.compile(r"measure (?P<what>.+) to \+- (?P<better>\S+) (?:in|mm) to settle it")
SETTING = re.compile(rf"{KEY} = (?P<value>\"[^\"]*\"|true|false|-?[\d.]+)")


def length(text: str, unit: str) -> Fraction:
    """A length as printed, by the reader of job files."""
    return parse_length(text.strip(), unit)


def setting(words: str) -> tuple[int, str, Any]:
    """Surface counted from 1, key and value of the job file, of words that give them as they are typed."""
    found = SETTING.search(words)
    assert found, words
    _, key, (surface,) = _key(found)
    return surface, key, tomllib.loads(f"key = {found['value']}")["key"]


def legible(step: Step) -> Read:
    """What is to be read off the words of a step: indices as printed, counted from 1."""
    match step:
        case Change(value=value, by=by):
            more = _off_by(by, step.tape.mark) if by else None
            return (*_kind(step), step.table, step.key, _from_one(step.surfaces), value, more)
        case Divided(ramp=ramp):
            return (*_kind(step), step.surface + 1, len(step.parts) if ramp else step.parts, step.landing)
        case Inserted():
            return (*_kind(step), step.before, step.before + 1, step.length, step.level_piece)
        case Evened():
            return (*_kind(step), step.what, step.surface + 1, step.size)
        case ToMeasure():
            return (*_kind(step), step.what, step.place, _from_one(step.surfaces))
        case Retaken(value=value, now=now):
            sure = () if step.told_sure is None else (abs(step.told_sure - now), step.told_sure)
            return (*_kind(step), abs(value - now), value, *sure)
        case Reshaped():
            sizes = tuple((name, value, value - now) for name, now, value in step.sizes)
            return (*_kind(step), sizes, step.told_sure, step.doubtful and not step.told_sure)
        case Moved():
            return (*_kind(step), step.edge, step.strand, step.by, step.told_sure, step.doubtful and not step.told_sure)


def read(words: str, unit: str) -> Read:
    """The same of the words of one step, in a job or survey of this unit."""
    found = [
        (kind, match, then) for kind, pattern, then in PATTERNS if (match := re.fullmatch(pattern, words)) is not None
    ]
    assert len(found) == 1, (words, [kind for kind, _, _ in found])
    ((kind, match, then),) = found
    return (kind.__name__, *then(match, unit))


def _off_by(by: Fraction, mark: Fraction) -> Fraction:
    """By how much a figure changes, which stands beside it: off the tape a ten-thousandth is near enough."""
    return by if by % mark == 0 or 64 % by.denominator == 0 else round(by, 4)


def _kind(step: Step) -> tuple[str]:
    return (type(step).__name__,)


def _from_one(surfaces: tuple[int, ...]) -> tuple[int, ...]:
    return tuple(index + 1 for index in surfaces)


def _numbers(text: str) -> tuple[int, ...]:
    row = re.fullmatch(r"(\d+) to (\d+)(?: in steps of (\d+))?", text)
    if row:
        return tuple(range(int(row[1]), int(row[2]) + 1, int(row[3] or 1)))
    return tuple(int(n) for n in re.findall(r"\d+", text))


def _key(found: re.Match[str]) -> tuple[str, str, tuple[int, ...]]:
    return found["table"], found["key"] or "", _numbers(found["numbers"] or "")


def _change(found: re.Match[str], unit: str) -> Read:
    value = tomllib.loads(f"key = {found['value']}", parse_float=Fraction)["key"]
    if not isinstance(value, bool) and re.match(r"-?\d", str(value)):
        value = _figure(str(value), unit)
    by = _figure(found["by"], unit) * (1 if found["way"] == "more" else -1) if found["by"] else None
    return *_key(found), value, by


def _figure(text: str, unit: str) -> Fraction:
    """A figure as typed in a job file: a length, or what is in a unit of its own."""
    size = re.fullmatch(r"(?P<size>[-\d./]+) (?!in$|mm$)[A-Za-z]+", text)
    return Fraction(size["size"]) if size else length(text, unit)


def _unset(found: re.Match[str], unit: str) -> Read:
    return *_key(found), None, None


def _divided(found: re.Match[str], unit: str) -> Read:
    parts = tuple(int(n) for n in re.findall(r"\d+", found["flights"] or "")) or int(found["ramps"])
    return int(found["surface"]), parts, length(found["landing"], unit)


def _inserted(found: re.Match[str], unit: str) -> Read:
    return int(found["before"]), int(found["after"]), length(found["length"], unit), not found["without"]


def _evened(found: re.Match[str], unit: str) -> Read:
    return found["what"], int(found["surface"]), length(found["size"], unit)


def _measure(found: re.Match[str], unit: str) -> Read:
    return found["what"], found["place"] or "", _numbers(found["numbers"] or "")


def _retaken(found: re.Match[str], unit: str) -> Read:
    return tuple(length(found[name], unit) for name in ("by", "value", "more", "sure") if found[name])


def _reshaped(found: re.Match[str], unit: str) -> Read:
    sizes = tuple(
        (name, length(value, unit), length(by, unit) * (1 if way == "more" else -1))
        for name, value, by, way in SIZE.findall(found["sizes"])
    )
    sure = tuple(length(one.partition(" ")[2], unit) for one in (found["sure"] or "").split(" and ") if one)
    return sizes, sure, bool(found["doubt"])


def _moved(found: re.Match[str], unit: str) -> Read:
    sure = length(found["sure"], unit) if found["sure"] else None
    return int(found["edge"]), bool(found["strand"]), length(found["by"], unit), sure, bool(found["doubt"])


_DIVIDE = (
    r"divide surface (?P<surface>\d+) into (?:flights of (?P<flights>.+?) risers|(?P<ramps>\d+) equal ramps),"
    r" with landings of (?P<landing>.+?) between"
)
_INSERT = (
    r"put a landing of (?P<length>.+?)(?P<without>, with level_piece = false,)?"
    r" between surfaces (?P<before>\d+) and (?P<after>\d+)"
)
_EVEN = r"even out the (?P<what>risers|runs) of surface (?P<surface>\d+) between its ends, to (?P<size>.+?) each"
_MEASURE = (
    r"measure the (?P<what>[^,]+?)(?:, (?P<place>[^,]+),)?(?: on surfaces? (?P<numbers>[^()]+))?"
    r" \(.*\[\[measured\]\].*\)"
)
_RETAKE = (
    r"[a-z][^()]*? by (?P<by>[^,()]+), to (?P<value>[^,();]+?)"
    r"(?: \(by (?P<more>[^,()]+), to (?P<sure>[^,()]+), to be sure\))?"
)
_RESHAPE = (
    r"(?P<sizes>(?:(?: and )?\w+ -?\d[^()]*? \([^()]+ (?:more|less)\))+)"
    rf"(?:; to be sure, (?P<sure>.+)|(?P<doubt>{DOUBT}))?"
)
_MOVE = (
    r"move (?P<strand>the strand on )?edge (?P<edge>\d+) in by (?P<by>[^()]+?)"
    rf"(?: \((?P<sure>[^()]+) to be sure\))?, square to itself(?P<doubt>{DOUBT})?"
)
PATTERNS: tuple[tuple[type, str, Callable[[re.Match[str], str], Read]], ...] = (
    (Change, rf"{KEY} = (?P<value>\"[^\"]*\"|\S+)(?: \((?P<by>[^()]+) (?P<way>more|less)\))?", _change),
    (Change, rf"{KEY} left out", _unset),
    (Divided, _DIVIDE, _divided),
    (Inserted, _INSERT, _inserted),
    (Evened, _EVEN, _evened),
    (ToMeasure, _MEASURE, _measure),
    (Retaken, _RETAKE, _retaken),
    (Reshaped, _RESHAPE, _reshaped),
    (Moved, _MOVE, _moved),
)
"""How each kind of step is printed, and what is read off each."""
