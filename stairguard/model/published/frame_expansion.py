"""How much frames grow along the guard as they warm: posts stand on it, or rails hold them apart."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from stairguard.model.job import Frame
from stairguard.model.published.figure_file import figures, table
from stairguard.model.published.known_figure import Figure, one_of

FRAMES: Final[Mapping[Frame, Figure]] = figures(table("strand", "frame_expansion"))
"""Thermal expansion along the guard by the frame's material, in millionths per kelvin."""


def frame_expansion(frame: Frame | str) -> Figure:
    """A frame's thermal expansion along the guard, in millionths per kelvin.

    Raises
    ------
    InputError
        No such frame.
    """
    for name, figure in FRAMES.items():
        if name == frame:
            return figure
    raise one_of("frame", frame, tuple(FRAMES))
