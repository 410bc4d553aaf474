"""How strand is laid up from wires: the figures of each construction, strands by wires."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal, TypeAlias

from stairguard.model.job import Construction
from stairguard.model.published.figure_file import figures, table
from stairguard.model.published.known_figure import Figure

Family: TypeAlias = Literal["stainless", "carbon"]
"""Of wire: what the modulus depends on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ConstructionFigures:
    """A construction: strands by wires.

    ``fill`` is the metal's part of the circle over the wires; ``lay_take_up`` how much longer wires are than the
    strand; ``settling`` the part of its length by which it stretches once for all under its first loads; ``factor`` K
    of the breaking force d^2 R K, of a wire strength R; ``modulus`` the effective one on metallic area, by
    family of wire.
    """

    fill: Figure
    lay_take_up: Figure
    settling: Figure
    factor: Figure
    modulus: Mapping[Family, Figure]


def _constructions() -> Iterator[tuple[Construction, ConstructionFigures]]:
    lay_take_up, settling = figures(table("strand", "lay_take_up")), figures(table("strand", "settling"))
    factor = figures(table("strand", "breaking_force_factor"))
    moduli = {family: figures(told) for family, told in table("strand", "modulus").items()}
    for name, fill in figures(table("strand", "fill")).items():
        yield (
            name,
            ConstructionFigures(
                fill=fill,
                lay_take_up=lay_take_up[name],
                settling=settling[name],
                factor=factor[name],
                modulus=MappingProxyType({family: modulus[name] for family, modulus in moduli.items()}),
            ),
        )


CONSTRUCTIONS: Final[Mapping[Construction, ConstructionFigures]] = MappingProxyType(dict(_constructions()))
