"""How much frames grow along the guard as they warm: posts stand on it, or rails hold them apart."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from stairguard.model.job import Frame
from stairguard.model.published.known_figure import Figure, one_of

_PER_K: Final = "1e-6/K"
_CALLISTER: Final = "Callister, Materials Science and Engineering, Table B.6; pdfslide.us thermal-expansion-data-table"
_CALLISTER_3E: Final = "Callister, 3rd edition, appendix B, p. 816; issuhub.com/view/index/5550?pageIndex=844"
_WOOD: Final = (
    "Wood Handbook, ch. 4, oven-dry wood of all species, as remembered; check before relying on it. Record, The "
    "Mechanical Properties of Wood (1914), read at s-twc.com, has 4.92 for oak, just past it"
)
_CONCRETE: Final = "usual range by aggregate, as remembered; check before relying on it"

FRAMES: Final[Mapping[Frame, Figure]] = MappingProxyType(
    {
        "steel": Figure(
            value=Fraction("11.7"), unit=_PER_K, status="read", source=_CALLISTER, what="thermal expansion of A36 steel"
        ),
        "stainless": Figure(
            value=Fraction("15.9"),
            unit=_PER_K,
            status="read",
            source=_CALLISTER,
            what="thermal expansion of 316 stainless steel",
        ),
        "aluminium": Figure(
            value=Fraction("23.6"),
            unit=_PER_K,
            status="read",
            source=_CALLISTER_3E,
            what="thermal expansion of aluminium 6061",
        ),
        "wood": Figure(
            value=Fraction("3.8"),
            unit=_PER_K,
            status="from memory",
            source=_WOOD,
            what="thermal expansion of wood along the grain",
            low=Fraction("3.1"),
            high=Fraction("4.5"),
        ),
        "concrete": Figure(
            value=Fraction(10),
            unit=_PER_K,
            status="from memory",
            source=_CONCRETE,
            what="thermal expansion of concrete",
            low=Fraction(7),
            high=Fraction(13),
        ),
        "rigid": Figure(
            value=Fraction(0),
            unit=_PER_K,
            status="assumed",
            source="it keeps its length",
            what="thermal expansion of a rigid frame",
        ),
    }
)
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
