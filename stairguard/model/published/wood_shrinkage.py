"""How wood shrinks as it dries: figures of species, and the part of a size lost between two moistures."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import Final, Literal, TypeAlias

from stairguard.errors import Fault, InputError
from stairguard.model.published.figure_file import figure, figures, table
from stairguard.model.published.known_figure import Figure, one_of

Direction: TypeAlias = Literal["radial", "tangential", "along"]
"""Of the size that changes: across the growth rings, with them, or along the grain."""

_DIRECTIONS: Final = ("radial", "tangential", "along")

FIBRE_SATURATION: Final = figure(table("wood", "fibre_saturation"))
ALONG: Final = figure(table("wood", "shrinkage")["along"])
"""Of sound wood of any species."""

_LEAST_BY_COEFFICIENT: Final = 6
_MOST_BY_COEFFICIENT: Final = 14
_SOAKED: Final = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Species:
    """A species' shrinkage.

    ``radial`` and ``tangential`` are in percent of the green size, green to oven-dry; ``radial_change`` and
    ``tangential_change`` the part of the size for each percent of moisture, from 6 to 14 %, None where not known.
    """

    radial: Figure
    tangential: Figure
    radial_change: Figure | None
    tangential_change: Figure | None
    note: str = ""


def _species() -> Iterator[tuple[str, Species]]:
    radial, tangential = (figures(table("wood", "shrinkage")[grain]) for grain in ("radial", "tangential"))
    radial_change, tangential_change = (figures(table("wood", "change")[grain]) for grain in ("radial", "tangential"))
    notes = table("wood", "species_notes")
    for name in radial:
        yield (
            name,
            Species(
                radial=radial[name],
                tangential=tangential[name],
                radial_change=radial_change.get(name),
                tangential_change=tangential_change.get(name),
                note=notes.get(name, ""),
            ),
        )


SPECIES: Final[Mapping[str, Species]] = MappingProxyType(dict(_species()))


@dataclass(frozen=True, slots=True, kw_only=True)
class WoodMovement:
    """The part of its size that wood loses, negative where it swells, with bounds where its figure has them.

    ``by`` says which form gave it and ``figures`` what that rests on.
    """

    part: Fraction
    low: Fraction
    high: Fraction
    by: Literal["coefficient", "linear estimate"]
    figures: tuple[Figure, ...]


def shrinkage(species: str, grain: Direction | str, moisture_from: Fraction, moisture_to: Fraction) -> Fraction:
    """Part of a size lost between two moistures; see `wood_movement`."""
    return wood_movement(species, grain, moisture_from, moisture_to).part


def wood_movement(species: str, grain: Direction | str, moisture_from: Fraction, moisture_to: Fraction) -> WoodMovement:
    """Part of a size that is lost as wood goes from one moisture to another.

    Parameters
    ----------
    species : one of `SPECIES`
    grain : direction of the size, ``"radial"``, ``"tangential"`` or ``"along"``
    moisture_from, moisture_to : percent of the dry wood's weight, 0 to 100

    Raises
    ------
    InputError
        No such species or direction, or a moisture out of bounds: a fault for the first of them.

    Notes
    -----
    With both moistures from 6 to 14 % and a change coefficient C, the part is C (from - to). Else the linear estimate
    S(M) = S0 (30 - M)/30 of the green size, nothing above 30 %, counted on the size at the start:
    (S(to) - S(from)) / (1 - S(from)). Both forms from the Wood Handbook, as remembered; along the grain the second.
    """
    total, change = _figures(species, grain)
    for where, moisture in (("moisture before", moisture_from), ("moisture after", moisture_to)):
        if not 0 <= moisture <= _SOAKED:
            raise InputError(Fault(where, "from 0 to 100 % of the dry wood's weight", moisture))
    both = min(moisture_from, moisture_to), max(moisture_from, moisture_to)
    if change is not None and both[0] >= _LEAST_BY_COEFFICIENT and both[1] <= _MOST_BY_COEFFICIENT:
        part = change.value * Fraction(moisture_from - moisture_to)
        return WoodMovement(part=part, low=part, high=part, by="coefficient", figures=(change,))
    low, part, high = (
        _linear(percent / 100, Fraction(moisture_from), Fraction(moisture_to))
        for percent in (total.least, total.value, total.most)
    )
    return WoodMovement(
        part=part, low=min(low, high), high=max(low, high), by="linear estimate", figures=(total, FIBRE_SATURATION)
    )


def _figures(species: str, grain: str) -> tuple[Figure, Figure | None]:
    """Total shrinkage in a direction, and the change coefficient where one is known."""
    if species not in SPECIES:
        raise one_of("species", species, tuple(SPECIES))
    if grain not in _DIRECTIONS:
        raise one_of("grain", grain, _DIRECTIONS)
    wood = SPECIES[species]
    if grain == "radial":
        return wood.radial, wood.radial_change
    return (wood.tangential, wood.tangential_change) if grain == "tangential" else (ALONG, None)


def _linear(total: Fraction, before: Fraction, after: Fraction) -> Fraction:
    green = FIBRE_SATURATION.value
    lost_before, lost_after = (total * (green - min(moisture, green)) / green for moisture in (before, after))
    return (lost_after - lost_before) / (1 - lost_before)
