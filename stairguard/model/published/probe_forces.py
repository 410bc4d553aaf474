"""The forces that publications push a probe with. None of them is the law everywhere: each is a choice to be named."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import Final, Literal, TypeAlias

from stairguard.model.job import ProbeKind, Unit
from stairguard.model.published.known_figure import MM_PER_INCH, MM_PER_UNIT, NEWTONS_PER_FORCE, Figure, one_of

Standing: TypeAlias = Literal["in force", "proposed"]
"""Whether the publication was adopted: ``proposed`` where that was not seen."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedPush:
    """A force that a publication names, and what it is applied with.

    ``force`` is in lbf or N, ``sphere`` the diameter of the sphere, or of the cylinder a cone ends in, in inches or
    millimetres. ``note`` says what is not in those two.
    """

    title: str
    force: Figure
    probe: ProbeKind
    sphere: Figure
    standing: Standing
    note: str

    def newtons(self) -> Fraction:
        """The force in newtons."""
        return self.force.value * NEWTONS_PER_FORCE["in" if self.force.unit == "lbf" else "mm"]

    def force_in(self, unit: Unit) -> Fraction:
        """The force in lbf or N, by the job's unit; exact."""
        return self.newtons() / NEWTONS_PER_FORCE[unit]

    def sphere_in(self, unit: Unit) -> Fraction:
        """The probe's diameter in the job's unit; exact."""
        mm = self.sphere.value * (MM_PER_INCH if self.sphere.unit == "in" else 1)
        return mm / MM_PER_UNIT[unit]


_TRADE: Final = "stairways.org/blog/opening-limitations, a trade body's notice"
_S72: Final = (
    "ICC Code Technology Committee, Climbable Guards, 2007/08; "
    "businessdocbox.com/Construction/90810728-Code-technology-committee-area-of-study-climbable-guards.html"
)
_NC: Final = (
    "thebuildingcodeforum.com/forum/threads/nc-ibc-2018-proposed-code-modification-1015-4.15622, a forum that quotes it"
)
_NCC: Final = (
    "NCC 2016, DV1 (Volume One) and V2.5.1 (Volume Two); ncc.abcb.gov.au/editions/2016/ncc-2016-volume-one/"
    "section-d-access-and-egress"
)
_IBC: Final = "IBC 2018, 1015.4"


def _lbf(value: str, source: str, status: Literal["read", "secondary", "derived"] = "secondary") -> Figure:
    return Figure(value=Fraction(value), unit="lbf", status=status, source=source, what="push")


def _four_inches(source: str, status: Literal["read", "secondary"] = "secondary") -> Figure:
    return Figure(value=Fraction(4), unit="in", status=status, source=source, what="sphere")


NAMED_PUSHES: Final[Mapping[str, NamedPush]] = MappingProxyType(
    {
        "none": NamedPush(
            title="model building codes of the United States",
            force=_lbf("0", _TRADE),
            probe="sphere",
            sphere=_four_inches(_IBC, "read"),
            standing="in force",
            note="no force is stated for the sphere; the 50 lbf on infill is a check of strength, apart from openings",
        ),
        "north-carolina-2018": NamedPush(
            title="North Carolina, draft of 1015.4, 2018",
            # 50 psf on the sphere's circle of 4 in: 50 pi 2^2/144, to the hundredth
            force=_lbf("4.36", _NC + "; 50 pounds on the square foot, on the circle of a 4 in sphere", "derived"),
            probe="sphere",
            sphere=_four_inches(_NC),
            standing="proposed",
            note="pushed level from the walking side; adoption not seen",
        ),
        "cone-proposal": NamedPush(
            title="proposal for the 2027 International Building Code",
            force=_lbf("16.5", _TRADE),
            probe="cone",
            sphere=_four_inches(_TRADE),
            standing="proposed",
            note="by ASTM E935-00, test method D, whose cone was not read: its slope is not known here; "
            "outcome not seen",
        ),
        "icc-s72": NamedPush(
            title="ICC proposal S72-07/08, to IBC 1607 and IRC R312.2",
            force=_lbf("50", _S72, "read"),
            probe="sphere",
            sphere=_four_inches(_S72, "read"),
            standing="proposed",
            note="balusters and cables must stop the sphere unless more than this acts on it, any way; "
            "not seen adopted",
        ),
        "australia": NamedPush(
            title="Australia, National Construction Code, verification test of wire guards",
            force=Figure(value=Fraction(150), unit="N", status="read", source=_NCC, what="push"),
            probe="cone",
            sphere=Figure(value=Fraction(125), unit="mm", status="read", source=_NCC, what="cylinder"),
            standing="in force",
            note="a cone of 105 mm from a flat tip of 20 mm to a cylinder of 125 mm, pulled through level",
        ),
    }
)


def named_push(name: str) -> NamedPush:
    """One of `NAMED_PUSHES`.

    Raises
    ------
    InputError
        No such name.
    """
    if name not in NAMED_PUSHES:
        raise one_of("push", name, tuple(NAMED_PUSHES))
    return NAMED_PUSHES[name]
