"""A whole guard's give in words: what was asked, what its tables tell, and why an opening holds or does not."""

from __future__ import annotations

from typing import Final

from stairguard.model.guard.solved_layout import WIRE_TABLE

TABLE_NOTE: Final = (
    f"{WIRE_TABLE}, calibrated by pulling this cone through; strands on a slope are not in it. Hold to the greater "
    "of what it asks and what the push needs."
)
