"""One bay under a push as facts, in figures that are easily read; nothing of it is solved."""

from dataclasses import replace
from fractions import Fraction as F

from stairguard.model.guard.strand_deflection import (
    BayAnswer,
    BayReport,
    HeldAndFree,
    Holding,
    ProbePlace,
)
from stairguard.model.published.strand_materials import strand_steel
from tests.solve.load.bay import bay

STEEL = replace(strand_steel("1x19", "316", F(1, 8), "in"), breaking=2000.0)
NONE = HeldAndFree(None, None)
HOLDING = Holding(
    place=ProbePlace(bay=42.0, run=240.0, clear=1.5, strands=2, probe=4.0),
    push=HeldAndFree(7.5, 6.75),
    breaking=NONE,
    contact_deg=HeldAndFree(24.0, 25.5),
    deflection=HeldAndFree(0.42, 0.4),
    tension=HeldAndFree(235.0, 205.5),
    needed=HeldAndFree(210.0, 237.954),
    verdict="gives way",
)
QUESTION = bay(STEEL, source="measured")
ANSWER = BayAnswer(
    asked=QUESTION,
    gap=F(23, 8),
    holding=HOLDING,
    elongation=0.25,
    sag=0.003,
    widest=HeldAndFree(2.97, 2.87876),
    longest=HeldAndFree(40.5, 35.6249),
    weakest_at=21.0,
    weakest=6.75,
    settles=(0.25, 0.6),
    loses=(175.0, 200.0),
)
REPORT = BayReport(answer=ANSWER, turns=None, hung=None, upkeep=None, compared=())


def asked(**changed):
    """The bay asked about otherwise."""
    return replace(QUESTION, **changed)


def pushed(**changed):
    """The bay asked about under another push."""
    return asked(push=replace(QUESTION.push, **changed))


def answered(question=QUESTION, verdict=HOLDING.verdict, **changed):
    """The same figures in answer to another question."""
    return replace(ANSWER, **{"asked": question, "holding": replace(HOLDING, verdict=verdict)} | changed)
