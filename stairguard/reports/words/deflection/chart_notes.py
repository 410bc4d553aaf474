"""What is noted under the charts of strand give: how it was reckoned, and what a chart has no room for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from stairguard.model.published.known_figure import force_unit
from stairguard.reports.words.deflection.bay_words import between_briefly, probe_words
from stairguard.reports.words.deflection.deflection_words import SOURCES, frame_words
from stairguard.reports.words.lengths import figure, stated

if TYPE_CHECKING:
    from stairguard.model.guard.strand_deflection import BayQuestion
    from stairguard.model.job import Climate
    from stairguard.reports.words.lengths import Formatter


def push_notes(asked: BayQuestion, left_out: Sequence[str], tape: Formatter) -> Iterator[str]:
    """Under a push against a tension: what is not drawn, what was pushed and where, and the tension's source."""
    if left_out:
        yield f"Not drawn, for want of room: {'; '.join(left_out)}."
    yield (
        f"{probe_words(asked.push, asked.unit).capitalize()}, pushed slowly between {between_briefly(asked, tape)}; "
        f"bay {tape(asked.bay)}, run {tape(asked.run)}. The truth lies between the bounds; EA {_known(asked)}."
    )
    yield f"Tension {figure(asked.taut.tension, force_unit(asked.unit))}: {SOURCES[asked.taut.source]}."


def temperature_notes(climate: Climate) -> Iterator[str]:
    """Under a tension against temperature: what the frame is of, and how far its wood dries."""
    yield f"Frame: {frame_words(climate)}. Most and least within the bounds of every figure, some of them from memory."
    if climate.wood is not None:
        yield f"Posts of {climate.wood} dry from {stated(climate.moisture_from)} to {stated(climate.moisture_to)} %."


def _known(asked: BayQuestion) -> str:
    """How surely the strand's stiffness is known."""
    return "from memory" if any(f.status == "from memory" for f in asked.taut.steel.basis.stiffness) else "given"
