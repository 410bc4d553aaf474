"""Jogs in English: by how much rails miss each other where they end, and the ways to be rid of that.

A page tells of each way all there is, a schedule more briefly, a detail what to set.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from stairguard.model.guard.jogs import Altered, Remedy
from stairguard.model.guard.rail_joints import Joint
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.job import Unit
from stairguard.reports.words.drawing_words import count
from stairguard.reports.words.lengths import Figures, Formatter
from stairguard.reports.words.names import surface_names
from stairguard.reports.words.one_line import clean
from stairguard.reports.words.remedy_words import (
    altered_words,
    effects_words,
    measured_words,
    reason_words,
    setting_words,
)


def jog_note(layout: Layout, joint: Joint, fmt: Formatter) -> str:
    """Say by how much the rails miss each other, and which stands above which, as a drawing tells it."""
    high, low = (layout.line.surfaces[index] for index in joint.by_height)
    which = f"{high.kind} rail above {low.kind} rail"
    if high.kind == low.kind:
        which = f"rail over surface {high.index + 1} above that over surface {low.index + 1}"
    return f"JOG {fmt(abs(joint.jog))} plumb, {which}"


def jog_size_note(joint: Joint, fmt: Formatter) -> str:
    """Say by how much the rails miss each other, beside its dimension."""
    return f"jog {fmt(abs(joint.jog))} plumb"


def jog_sentence(layout: Layout, joint: Joint, fmt: Formatter) -> str:
    """Say by how much the rails miss each other, where, and which stands above which, before the ways on a page."""
    high, low = (surface_names(layout)[index] for index in joint.by_height)
    where = "beyond the two posts" if joint.second_post else "at the post's faces"
    return (
        f"JOG: where they end, {where}, the rail of {high} stands {fmt(abs(joint.jog))} plumb above that of {low}. "
        "Ways to be rid of it, each tried on this job:"
    )


def remedy_sentences(joint: Joint, figures: Figures) -> Iterator[str]:
    """Each way to be rid of a jog, as a page tells it: what to set and how it is measured, and all that comes of it."""
    for remedy in joint.remedies:
        what = altered_words(remedy)
        if remedy.surface is not None:
            what += f" over surface {remedy.surface + 1}"
        exact = _exact(remedy, joint).format(f"{figures.decimal(remedy.value)} {figures.unit}")
        keys = "; ".join(f"{setting_words(one, figures.unit)}, {measured_words(one)}" for one in remedy.settings)
        words = [
            f"{what}: {keys} ({exact})" if keys else f"{what}: {exact}",
            "allowed" if remedy.allowed else "not allowed",
            clean(reason_words(remedy)),
        ]
        others = clean(effects_words(remedy, figures.tape))
        yield ": ".join(filter(None, words)) + (f". Besides, it {others}" if others else "")


_EXACT: Final[Mapping[Altered, str]] = {
    Altered.POST_STATION: "exactly {} level from the nosing, uphill positive",
    Altered.RISER_OFFSET: "exactly {} more, level, between the edges of both sides",
    Altered.LEVEL_PIECE: "{} of it, level",
}


def _exact(remedy: Remedy, joint: Joint) -> str:
    """How the exact figure is told, which no tape has."""
    if remedy.what is Altered.POST_STATION and joint.from_nosing is None:
        return "exactly {} level from the edge, on along the line positive"
    return _EXACT.get(remedy.what, "exactly {}")


def remedy_rows(joint: Joint, unit: Unit, fmt: Formatter) -> Iterator[str]:
    """Each way to be rid of a jog, as a schedule tells it."""
    for remedy in joint.remedies:
        allowed = "" if remedy.allowed else "NOT ALLOWED: "
        more = "; ".join(filter(None, (reason_words(remedy), effects_words(remedy, fmt))))
        keys = _settings(remedy, unit) or fmt(remedy.value)
        yield f"{allowed}{altered_words(remedy)}: {keys}" + (f" ({more})" if more else "")


def remedy_notes(joint: Joint, unit: Unit) -> Iterator[str]:
    """What to set to be rid of a jog, and how many ways are not allowed, as a detail tells it."""
    ways = [f"{altered_words(one)} ({_settings(one, unit)})" for one in joint.remedies if one.allowed]
    barred = len(joint.remedies) - len(ways)
    if ways:
        yield f"to be rid of it: {' or '.join(ways)}"
    if barred:
        yield f"{count(barred, 'way')} not allowed: see the lists"


def _settings(remedy: Remedy, unit: Unit) -> str:
    return ", ".join(setting_words(one, unit) for one in remedy.settings)
