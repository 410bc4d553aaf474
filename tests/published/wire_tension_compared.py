"""Australia's wire tensions beside the model's, cell by cell: ``python -m tests.published.wire_tension_compared``.

The assumptions in `HEADER` were set down before any figure was looked at, and none was fitted.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from stairguard.model.published.probe_forces import NAMED_PUSHES
from stairguard.model.published.strand_materials import strand_steel
from stairguard.rules.measures.wire_table import WireTension, table
from stairguard.statics.probe_force import Bay, cone, tension_for
from tests.places import ROOT

COMPARED: Final = ROOT / "shared" / "wire_tension_compared.csv"
HEADER: Final = """\
# Tension that Australia's code asks of level stainless wires (BCA/NCC Volume One, Table D2.16a), beside the model's.
# The table was read in a re-hosted copy with no edition printed: compare with a current copy before relying on it.
# Model: a cone of half-angle atan 1/2 that ends in a cylinder of 125 mm is pulled with 150 N between two wires, amid a
# bay as long as the clear gap. EA is the nominal metal area (fill 19/25, 49/81, 133/225) times 130 kN/mm2 (1x19) or 90
# (7x7, 7x19), both from memory. Wire settled, terminals and posts rigid, no weight.
# Least tension at rest, N; 0 says that stretch alone holds the cone:
#   least_N  held at both posts, friction 0.25
#   held_N   held at both posts, friction 0; put in after the other two were seen
#   most_N   sliding freely in a run without end, friction 0
# verdict, of table_N: below least_N, between, or above most_N (the model's most careful figure would be unsafe there);
# or not permitted by the table. Both bounds are one model's: neither has been proved on a guard.
diameter_mm,lay,spacing_mm,clear_post_gap_mm,table_N,least_N,held_N,most_N,verdict
"""
Verdict: TypeAlias = Literal["below", "between", "above", "not permitted"]
HOW: Final = {"least": (True, 0.25), "held": (True, 0.0), "most": (False, 0.0)}
"""Whether the posts hold the wire, and the friction."""
_PULL: Final = NAMED_PUSHES["australia"]
PULL_N: Final = float(_PULL.newtons())
CYLINDER_MM: Final = float(_PULL.sphere_in("mm"))


@dataclass(frozen=True, slots=True)
class Compared:
    """A cell, and the model's tensions in newtons: ``least``, ``held`` without friction, ``most``."""

    cell: WireTension
    least: float
    held: float
    most: float

    @property
    def verdict(self) -> Verdict:
        asked = self.cell.tension_N
        if asked is None:
            return "not permitted"
        if asked < self.least:
            return "below"
        return "between" if asked <= self.most else "above"


def compared() -> list[Compared]:
    """Every cell, in the table's order."""
    return [Compared(cell, *(_needed(cell, *how) for how in HOW.values())) for cell in table()]


def _needed(cell: WireTension, held: bool, friction: float) -> float:
    gap = float(cell.gap_mm)
    stiffness = strand_steel(cell.lay, "316", cell.diameter_mm, "mm").stiffness
    bay = Bay(gap, 0.0, stiffness, gap if held else float("inf"))
    probe = cone(CYLINDER_MM, float(cell.diameter_mm))
    return float(tension_for(PULL_N, bay, probe, float(cell.spacing_mm) / 2, 2, friction))


def written(rows: list[Compared]) -> str:
    """The file's text; the model's tensions to whole newtons."""
    lines = []
    for row in rows:
        cell = row.cell
        asked = "" if cell.tension_N is None else f"{float(cell.tension_N):g}"
        ours = ",".join(f"{tension:.0f}" for tension in (row.least, row.held, row.most))
        sizes = f"{float(cell.diameter_mm):.1f},{cell.lay},{float(cell.spacing_mm):g},{float(cell.gap_mm):g}"
        lines.append(f"{sizes},{asked},{ours},{row.verdict}\n")
    return HEADER + "".join(lines)


if __name__ == "__main__":
    COMPARED.write_text(written(compared()), encoding="utf-8")
