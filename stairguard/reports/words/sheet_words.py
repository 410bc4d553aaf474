"""What sheets say of their views: scales and titles, where a view goes on, the straightedge, and a push in place."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from stairguard.model.findings import Inspection
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Unit
from stairguard.reports.words.drawing_words import first_few
from stairguard.reports.words.lengths import exact_words
from stairguard.reports.words.one_line import clean
from stairguard.reports.words.rules.alike_findings import tally

VIEW_TITLE: Final = "ELEVATION, TRUE PROPORTION"
AT_REST: Final = "at rest"
PUSHED_ASIDE: Final = "strand pushed aside"
_MOST_TWINS: Final = 12
_UNIT: Final[dict[Unit, str]] = {"in": "feet and inches", "mm": "mm"}


def findings_note(inspection: Inspection) -> str:
    """Say where the findings are, and how many of each verdict."""
    return f"What came of every rule is in the report: {tally(inspection)}."


def alike_note(drawn: tuple[int, int], twins: Sequence[tuple[int, int]]) -> str:
    """Say which other stretches of surfaces one that is drawn stands for, each by its first and last index."""
    names = first_few([_stretch(*twin) for twin in twins], _MOST_TWINS)
    words = (
        f"Surfaces {_stretch(*drawn)} are drawn. Alike in all but their places, and not drawn again: surfaces {names}."
    )
    return f"{words} Their posts' stations are in the lists."


def _stretch(first: int, last: int) -> str:
    return f"{first + 1} to {last + 1}" if last > first else f"{first + 1}"


def match_words(label: str, sheet: int, here: int) -> str:
    """Say from where a guard that is broken off goes on, and on which sheet; ``here`` is the number of this one."""
    return f"from {label} on it goes as on this sheet" if sheet == here else f"goes on from {label}: sheet {sheet}"


def view_words(scale: str, unit: Unit, legend: str, step: int | None) -> str:
    """Say an elevation's scale and how its stations are told; every how manieth is shown, None where all are."""
    words = f"{scale}    stations in {_UNIT[unit]}, level from the datum"
    words += f"; {legend}" if legend else ""
    if step is None:
        return words
    thin = f", every {step}th line post shown" if step > 1 else ""
    return f"{words}{thin}; all posts in the table"


def enlarged_words(times: Fraction) -> str:
    """Say a scale by how many times full size it is."""
    return "full size" if times == 1 else f"{times} times full size" if times > 1 else f"1:{times.denominator}"


def straightedge_title(surface: PlacedSurface, part: tuple[int, int] | None) -> str:
    """Title the straightedge on a flight, or on a part of it by its first and last nosing."""
    nosings = "" if part is None else f", NOSINGS {part[0]} TO {part[1]}"
    return f"STRAIGHTEDGE ON THE NOSINGS OF SURFACE {surface.index + 1}{nosings}"


def straightedge_scale(size: str, *, blocking: bool) -> str:
    """Say how gaps under the straightedge are drawn; ``blocking`` where nosings that no rail suits are coloured."""
    words = f"gaps drawn {size}, nosings evenly apart; the straightedge, in truth at the pitch, is drawn level"
    return f"{words}; no straight rail suits the coloured nosings together" if blocking else words


def rest_words(size: str) -> str:
    """Say how wide an opening is before the push."""
    return f"{AT_REST} {size}"


def needed_words(sphere: float | Fraction, unit: Unit) -> str:
    """Say how wide an opening the probe needs."""
    return f"opening needed {exact_words(Fraction(sphere), unit)}"


def push_words(push: str) -> str:
    """Name the push."""
    return f"push {clean(push)}"


def probe_words(probe: str, sphere: float | Fraction, unit: Unit) -> str:
    """Name the probe with its diameter."""
    return f"{probe} ⌀{exact_words(Fraction(sphere), unit)}"
