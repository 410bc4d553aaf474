"""What a strand is made of: the figures of its construction and material, or the job's own in their place."""

from __future__ import annotations

from fractions import Fraction
from typing import Protocol

from stairguard.model.guard.strand_deflection import Taut
from stairguard.model.job import Construction, Job, StrandMaterial, Unit
from stairguard.model.published.known_figure import FORCE_PER_MASS
from stairguard.model.published.strand_materials import StrandSteel, strand_steel, with_given


class StrandMake(Protocol):
    """What a job or a question says of a strand's make; None where the published figure holds."""

    @property
    def construction(self) -> Construction: ...  # noqa: D102  # fields of the classes that fit, described there
    @property
    def material(self) -> StrandMaterial: ...  # noqa: D102  # likewise
    @property
    def stiffness(self) -> Fraction | None: ...  # noqa: D102  # likewise
    @property
    def breaking_force(self) -> Fraction | None: ...  # noqa: D102  # likewise
    @property
    def weight(self) -> Fraction | None: ...  # noqa: D102  # likewise


def steel(given: StrandMake, diameter: Fraction, unit: Unit) -> StrandSteel:
    """Figures of a strand; each one given stands in for the published one, and is said to be the job's."""
    weight = None if given.weight is None else given.weight * FORCE_PER_MASS[unit]
    made = strand_steel(given.construction, given.material, diameter, unit)
    return with_given(made, stiffness=given.stiffness, breaking=given.breaking_force, weight=weight)


def taut(job: Job) -> Taut | None:
    """The job's strand under its tension; None where nothing is known of that."""
    strand = job.strand
    if strand.tension is None:
        return None
    return Taut(steel(strand, strand.diameter, job.unit), strand.tension, strand.source)
