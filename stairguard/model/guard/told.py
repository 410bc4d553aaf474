"""A guard with all that is told of it: the last stage of a layout, which all that is written of it is made from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from stairguard.model.findings import Inspection
    from stairguard.model.guard.solved_layout import CheckedLayout, Layout
    from stairguard.model.guard.strand_deflection import NamedTension


@dataclass(frozen=True, slots=True)
class ToldLayout:
    """A checked layout and, in ``inspection``, what came of every rule, with what mends each breach if asked for.

    ``named`` is what would hold the pushes that publications name; none where it was not asked for, or the job itself
    names a push.
    """

    checked: CheckedLayout
    inspection: Inspection
    named: tuple[NamedTension, ...] = ()

    @property
    def layout(self) -> Layout:
        """The guard itself."""
        return self.checked.layout
