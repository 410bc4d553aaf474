"""The job's tables on strand give: what strands are, the push that they must hold, what slackens them."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any, Final, NamedTuple, cast, get_args

from stairguard.io.parse.numbers import from_text
from stairguard.io.read.toml_table import Table
from stairguard.model.job import Climate, Construction, Frame, Push, Strand, StrandMaterial, TensionSource, WoodSpecies
from stairguard.model.soundness.job_bounds import BOUNDS, keys
from stairguard.model.soundness.table_checks import of_climate, of_push

_NONE: Final = "none"
_MOISTURES: Final = ("moisture_from", "moisture_to")
_LONGEST_FRAME: Final = 200  # of its text


class Steel(NamedTuple):
    """What a strand table says of the strand's make and its tension."""

    construction: Construction
    material: StrandMaterial
    stiffness: Fraction | None
    breaking_force: Fraction | None
    weight: Fraction | None
    tension: Fraction | None
    source: TensionSource


STEEL_KEYS: Final = keys(Strand, *Steel._fields)
PUSH_KEYS: Final = keys(Push)
CLIMATE_KEYS: Final = keys(Climate)
_ANY_FORCE: Final = replace(BOUNDS[Push]["force"], sign="nonnegative")


def read_steel(table: Table) -> Steel:
    """Read construction, material, figures that stand in for theirs, and the tension with its source."""
    steel = Steel(**table.fields(Strand, only=Steel._fields))
    if table.has("tension_source") and not table.has("tension"):  # though it were the one that stands in for none
        table.refuse("tension_source", "left out unless tension is given", steel.source)
    return steel


def read_push(table: Table) -> Push:
    """Read the push that openings must hold."""
    force = table.force("force", _ANY_FORCE) or None  # no force is no push: strands at rest
    push = Push(force=force, **table.fields(Push, but=("force",)))
    if table.sound:
        table.file_within(of_push(push))
    table.close()
    return push


def _read_frame(table: Table) -> tuple[tuple[Frame, Fraction], ...]:
    """Read what a frame is of: one material, or several with their shares: ``aluminium 60 %, concrete 40 %``."""
    frames: dict[str, Frame] = {word: cast(Frame, word) for word in BOUNDS[Climate]["frame"].words}
    must = f'one of {", ".join(frames)}, or several with shares that come to 100 %: "aluminium 60 %, concrete 40 %"'
    text = table.text("frame", _LONGEST_FRAME, must=must)
    if not text:
        return ()
    if text.strip() in frames:
        return ((frames[text.strip()], Fraction(1)),)
    found: list[tuple[Frame, Fraction]] = []
    for part in text.split(","):
        words = part.replace("%", " ").split()
        share = from_text(words[1]) if len(words) == 2 else None
        if not words or words[0] not in frames or share is None or not share > 0:
            table.refuse("frame", must, text)
            return ()
        found.append((frames[words[0]], share / 100))
    if sum(share for _, share in found) != 1:
        table.refuse("frame", must, text)
    return tuple(found)


def read_climate(table: Table) -> Climate | None:
    """Read what slackens strands; None where the table is not sound."""
    now = table.field(Climate, "now")
    climate: dict[str, Any] = table.fields(Climate, only=("coldest", "warmest"), coldest=now, warmest=now)
    climate["frame"] = _read_frame(table)
    wood = table.choice("wood", (*get_args(WoodSpecies), _NONE), default=_NONE)
    climate |= table.fields(Climate, only=("grain", "seated"))
    if wood != _NONE:
        climate |= {"wood": wood, **table.fields(Climate, only=_MOISTURES)}
    else:
        for key in _MOISTURES:
            table.forbid(key, "left out unless wood names a species")
    found = Climate(now=now, **climate, settling=table.field(Climate, "settling"))
    if table.sound:
        table.file_within(of_climate(found))
    table.close()
    return found if table.sound else None
