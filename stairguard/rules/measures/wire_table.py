"""The tension that Australia's code asks of level wires, as a stepped table."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Final

from stairguard.model.job import Construction

_FILE: Final = Path(__file__).parents[2] / "data" / "wire_tension_au.csv"
_LAYS: Final[dict[str, Construction]] = {"1x19": "1x19", "7x7": "7x7", "7x19": "7x19"}
# the table's own note: of 3.2 mm wire, the figures of 3.0 mm
_SERVES: Final = {Fraction("3.2"): Fraction(3)}


@dataclass(frozen=True, slots=True)
class WireTension:
    """One cell: the least ``tension_N`` of level stainless wires, None where the table does not permit them.

    ``spacing_mm`` is between wires, ``gap_mm`` clear between posts.
    """

    diameter_mm: Fraction
    lay: Construction
    spacing_mm: Fraction
    gap_mm: Fraction
    tension_N: Fraction | None  # noqa: N815 - the newton's own letter


@cache
def table() -> tuple[WireTension, ...]:
    """All cells, in the order of the table.

    It holds a probe of 125 mm under 150 N, and says nothing of rules for 100 mm or 4 in. Source: BCA/NCC Volume One,
    Table D2.16a, the same as Volume Two, Table 3.9.2.1 to 2019, read in a re-hosted copy with no edition printed
    (vdocuments.site, "table D2.16a wire balustrade construction"): compare with a current copy before relying on it.
    """
    lines = (line for line in _FILE.read_text(encoding="utf-8").splitlines() if line and not line.startswith("#"))
    next(lines)  # names of the columns
    return tuple(_cell(*line.split(",")) for line in lines)


def asked(diameter_mm: Fraction, lay: str, spacing_mm: Fraction, gap_mm: Fraction) -> WireTension | None:
    """The cell that holds for wires of this diameter and lay, this spacing and this clear gap between posts, in mm.

    Diameter and lay are exact, but for 3.2 mm wire, which the table gives the figures of 3.0 mm. Spacing and gap go up
    to the next that the table has: it is stepped, so nothing is interpolated. None where the table does not reach. See
    `table` for what it is calibrated to.
    """
    diameter = _SERVES.get(diameter_mm, diameter_mm)
    reaching = (
        cell
        for cell in table()
        if (cell.diameter_mm, cell.lay) == (diameter, lay) and cell.spacing_mm >= spacing_mm and cell.gap_mm >= gap_mm
    )
    return min(reaching, key=lambda cell: (cell.spacing_mm, cell.gap_mm), default=None)


def _cell(diameter: str, lay: str, spacing: str, gap: str, tension: str) -> WireTension:
    asked_for = Fraction(tension) if tension else None
    return WireTension(Fraction(diameter), _LAYS[lay], Fraction(spacing), Fraction(gap), asked_for)
