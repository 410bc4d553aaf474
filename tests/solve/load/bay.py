"""One bay under a push, in figures that are easily read: 42 in, two strands of 1/8 in, 3 in apart."""

from __future__ import annotations

from fractions import Fraction as F

from stairguard.model.guard.strand_deflection import BayQuestion, Taut
from stairguard.model.job import Push, TensionSource
from stairguard.model.published.strand_materials import StrandSteel


def bay(steel: StrandSteel, force: int = 8, source: TensionSource = "set") -> BayQuestion:
    """The bay with strands of ``steel`` at 200 lbf, a 4 in sphere pushed by ``force`` lbf at mid-bay."""
    return BayQuestion(
        unit="in",
        diameter=F(1, 8),
        spacing=F(3),
        strands=2,
        bay=F(42),
        run=F(240),
        at=None,
        taut=Taut(steel, F(200), source),
        push=Push(force=F(force), sphere=F(4)),
    )
