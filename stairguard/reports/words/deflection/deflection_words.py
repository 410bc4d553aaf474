"""What is said of strand give on pages and charts: sources of a tension, verdicts, frames."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from stairguard.model.guard.strand_deflection import PushVerdict, StrandBound
from stairguard.reports.words.lengths import stated

if TYPE_CHECKING:
    from stairguard.model.guard.strand_deflection import OpeningGive
    from stairguard.model.job import Climate, TensionSource
    from stairguard.reports.words.lengths import Figures

SOURCES: Final[dict[TensionSource, str]] = {
    "measured": "measured",
    "set": "to be set by the installer, and measured then",
    "assumed": "assumed: measure it before relying on what follows",
}
VERDICTS: Final[dict[PushVerdict, str]] = {
    "holds": "HOLDS, even if the strand slides through every hole of its run",
    "between": "FAILS unless every post holds the strand: it holds so, and does not if the strand slides",
    "gives way": "FAILS: the strands give way",
    "passes untouched": "FAILS: the probe passes between strands at rest, so that no tension stops it",
    "turned aside": "the strand leads the probe to the next opening",
    "no answer": "FAILS: with this friction the strand would be dragged along, and no figure is given",
    "not solved": "NOT SOLVED: the strand stands out from the stair, and the probe's way past both is not in one plane",
    "rigid": "rigid parts alone stop it",
}
WAYS: Final[dict[StrandBound, str]] = {"held": "held at both posts", "free": "sliding over its run"}
"""How a strand is reckoned on its posts, for each bound of what it does."""
NO_TABLE: Final = (
    "Australia's wire table has no cell for this: another strand, spacing, bay, slope or probe. By the model alone, "
    "which asks less than that table in many cells where the strand is held: no pass under that code."
)


def closer_words(one: OpeningGive, figures: Figures) -> str:
    """By how much strands are too far from the probe to hold it, whether or not they can be moved; "" if not told."""
    if one.too_wide is None:
        return ""
    by = f"{figures.enough(one.too_wide)} {figures.unit}"
    return f"strands stand {by} too far apart, square" if one.between else f"the strand is {by} too far off, square"


def frame_words(climate: Climate) -> str:
    """What the frame is of along the guard."""
    if len(climate.frame) == 1:
        return climate.frame[0][0]
    return ", ".join(f"{stated(100 * share)} % {name}" for name, share in climate.frame)
