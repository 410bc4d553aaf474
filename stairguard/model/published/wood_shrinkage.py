"""How wood shrinks as it dries: figures of species, and the part of a size lost between two moistures."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import Final, Literal, TypeAlias

from stairguard.errors import Fault, InputError
from stairguard.model.published.known_figure import Figure, FigureStatus, one_of

Direction: TypeAlias = Literal["radial", "tangential", "along"]
"""Of the size that changes: across the growth rings, with them, or along the grain."""

_DIRECTIONS: Final = ("radial", "tangential", "along")
_TOTAL: Final = "Wood Handbook, FPL-GTR-190, Table 4-3; issuhub.com/view/index/5801?pageIndex=85"
_CHANGE: Final = "Wood Handbook, FPL-GTR-190, Table 13-5; issuhub.com/view/index/5801?pageIndex=307"
_TOTAL_MEMORY: Final = "Wood Handbook, FPL-GTR-190, Table 4-3, as remembered; check before relying on it"
_CHANGE_MEMORY: Final = "Wood Handbook, FPL-GTR-190, Table 13-5, as remembered; check before relying on it"
_QUOTED: Final = "USDA Forest Service sheet on Tabebuia, quoted at plyseas.com/bolger-group-archive/topic/8472"

FIBRE_SATURATION: Final = Figure(
    value=Fraction(30),
    unit="%",
    status="from memory",
    source="where the Wood Handbook's linear estimate starts; FPL R1424 (studylib.net/doc/11330410), read, "
    "has 25 to 30 %",
    what="moisture above which wood does not shrink",
    low=Fraction(25),
    high=Fraction(30),
)
ALONG: Final = Figure(
    value=Fraction(2, 10),
    unit="%",
    status="read",
    source="FPL 1093; studylib.net/doc/13646897; abnormal wood shrinks far more",
    what="shrinkage along the grain, green to oven-dry",
    low=Fraction(1, 10),
    high=Fraction(3, 10),
)
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


def _total(species: str, grain: Direction, value: str, status: FigureStatus) -> Figure:
    source = {"read": _TOTAL, "secondary": _QUOTED}.get(status, _TOTAL_MEMORY)
    return Figure(
        value=Fraction(value),
        unit="%",
        status=status,
        source=source,
        what=f"{grain} shrinkage of {species}, green to oven-dry",
    )


def _change(species: str, grain: Direction, value: str, status: FigureStatus) -> Figure | None:
    if not value:
        return None
    source = _CHANGE if status == "read" else _CHANGE_MEMORY
    return Figure(
        value=Fraction(value),
        unit="1/%",
        status=status,
        source=source,
        what=f"{grain} change coefficient of {species}, 6 to 14 %",
    )


# totals radial and tangential, how known; coefficients radial and tangential, how known
_ROWS: Final[Mapping[str, tuple[str, str, FigureStatus, str, str, FigureStatus]]] = {
    "white oak": ("5.6", "10.5", "read", "0.00180", "0.00365", "read"),
    "Douglas-fir, coast": ("4.8", "7.6", "read", "0.00165", "0.00267", "from memory"),
    "Douglas-fir, interior north": ("3.8", "6.9", "read", "0.00130", "0.00241", "from memory"),
    "Douglas-fir, interior west": ("4.8", "7.5", "read", "0.00165", "0.00263", "from memory"),
    "western redcedar": ("2.4", "5.0", "read", "0.00111", "0.00234", "from memory"),
    "loblolly pine": ("4.8", "7.4", "from memory", "0.00165", "0.00259", "from memory"),
    "longleaf pine": ("5.1", "7.5", "from memory", "0.00176", "0.00263", "from memory"),
    "shortleaf pine": ("4.6", "7.7", "from memory", "0.00158", "0.00271", "from memory"),
    "slash pine": ("5.4", "7.6", "from memory", "0.00187", "0.00267", "from memory"),
    "ipe": ("6.6", "8.0", "secondary", "", "", "from memory"),
}

_NOTES: Final[Mapping[str, str]] = {
    "white oak": "the coefficients are those of commercial white oak",
    "western redcedar": (
        "its two rows do not agree: the remembered coefficients are 40 % more than the total shrinkage makes them, "
        "where other species' are within a tenth; within 6 to 14 % the larger are used"
    ),
    "ipe": "no coefficients known: the linear estimate serves at every moisture",
}


def _species(name: str) -> Species:
    radial, tangential, status, radial_change, tangential_change, known = _ROWS[name]
    return Species(
        radial=_total(name, "radial", radial, status),
        tangential=_total(name, "tangential", tangential, status),
        radial_change=_change(name, "radial", radial_change, known),
        tangential_change=_change(name, "tangential", tangential_change, known),
        note=_NOTES.get(name, ""),
    )


SPECIES: Final[Mapping[str, Species]] = MappingProxyType({name: _species(name) for name in _ROWS})


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
