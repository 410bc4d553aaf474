"""What both pages on strands under a push tell: upkeep of a tension, and what the strand's figures rest on."""

from __future__ import annotations

from collections.abc import Iterator

from stairguard.model.guard.strand_deflection import Upkeep
from stairguard.model.job import Push, Unit
from stairguard.model.published.known_figure import force_unit
from stairguard.model.published.strand_materials import StrandSteel
from stairguard.reports.page.page_text import listed, paragraph, paragraphs, table
from stairguard.reports.words.deflection.upkeep_words import (
    basis_figure_words,
    celsius_words,
    climate_words,
    steel_words,
    upkeep_words,
)
from stairguard.reports.words.lengths import brief


def upkeep_lines(upkeep: Upkeep, unit: Unit, push: Push) -> Iterator[str]:
    """What temperature, drying and settling do to a strand, in words and a table."""
    force = force_unit(unit)
    rows = [[celsius_words(p.temperature), brief(p.most, force), brief(p.least, force)] for p in upkeep.points]
    yield from paragraphs(climate_words(upkeep, unit))
    yield from table(["temperature", "most", "least"], rows, left=0)
    yield from paragraphs(upkeep_words(upkeep, unit, push))


def strand_lines(steel: StrandSteel) -> Iterator[str]:
    """Every figure the strand's stiffness, strength, weight and expansion rest on, with its status."""
    yield from paragraph(steel_words(steel))
    yield from listed(basis_figure_words(one) for one in steel.figures)
