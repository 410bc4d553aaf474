"""The job's tables on strand give: what strands are, the push that they must hold, what slackens them."""

from __future__ import annotations

from fractions import Fraction
from typing import Final, NamedTuple

from stairguard.model.job import (
    Climate,
    Construction,
    Frame,
    Grain,
    ProbeKind,
    Push,
    Seated,
    StrandMaterial,
    TensionSource,
)
from stairguard.model.woods import SPECIES
from stairguard.rim.exact import from_text
from stairguard.rim.tables import Table

__all__ = ["CLIMATE_KEYS", "PUSH_KEYS", "STEEL_KEYS", "Steel", "read_climate", "read_push", "read_steel"]

_CONSTRUCTIONS: Final[dict[str, Construction]] = {"1x19": "1x19", "7x7": "7x7", "7x19": "7x19"}
_MATERIALS: Final[dict[str, StrandMaterial]] = {"316": "316", "304": "304", "galvanized": "galvanized"}
_SOURCES: Final[dict[str, TensionSource]] = {"measured": "measured", "set": "set", "assumed": "assumed"}
_PROBES: Final[dict[str, ProbeKind]] = {"sphere": "sphere", "cone": "cone"}
_FRAMES: Final[dict[str, Frame]] = {
    "steel": "steel", "stainless": "stainless", "aluminium": "aluminium", "wood": "wood", "concrete": "concrete",
    "rigid": "rigid",
}  # fmt: skip
_GRAINS: Final[dict[str, Grain]] = {"radial": "radial", "tangential": "tangential"}
_SEATED: Final[dict[str, Seated]] = {"inner face": "inner face", "centre": "centre"}
STEEL_KEYS: Final = (
    "construction", "material", "stiffness", "breaking_force", "weight", "tension", "tension_source",
)  # fmt: skip
PUSH_KEYS: Final = ("force", "probe", "sphere", "friction", "post_stiffness", "anchor_stiffness")
CLIMATE_KEYS: Final = (
    "now", "coldest", "warmest", "frame", "wood", "grain", "seated", "moisture_from", "moisture_to", "settling",
)  # fmt: skip
_NONE: Final = "none"
_LONGEST_FRAME: Final = 200
_DRY: Final = Fraction(100)
_MOST_SETTLING: Final = 1  # per cent: several times what single strands are said to settle by


class Steel(NamedTuple):
    """What a strand table says of the strand's make and its tension."""

    construction: Construction
    material: StrandMaterial
    stiffness: Fraction | None
    breaking_force: Fraction | None
    weight: Fraction | None
    tension: Fraction | None
    source: TensionSource


def read_steel(table: Table) -> Steel:
    """Read construction, material, figures that stand in for theirs, and the tension with its source."""
    steel = Steel(
        _CONSTRUCTIONS[table.choice("construction", tuple(_CONSTRUCTIONS), default="1x19")],
        _MATERIALS[table.choice("material", tuple(_MATERIALS), default="316")],
        table.force_if_given("stiffness", least_open=True),
        table.force_if_given("breaking_force", least_open=True),
        table.weight_if_given("weight"),
        table.force_if_given("tension"),
        _SOURCES[table.choice("tension_source", tuple(_SOURCES), default="assumed")],
    )
    if table.has("tension_source") and not table.has("tension"):
        table.refuse("tension_source", "left out unless tension is given", steel.source)
    return steel


def read_push(table: Table) -> Push:
    """Read the push that openings must hold."""
    push = Push(
        table.force_if_given("force") or None,  # no force is no push: strands at rest
        _PROBES[table.choice("probe", tuple(_PROBES), default="sphere")],
        table.length_if_given("sphere"),
        table.number("friction", 0, Fraction(49, 100), default=0),
        table.stiffness_if_given("post_stiffness"),
        table.stiffness_if_given("anchor_stiffness"),
    )
    if push.probe == "cone" and push.sphere is None and table.sound:
        table.refuse("sphere", "the diameter of the cylinder that the cone ends in", None)
    table.close()
    return push


def _read_frame(table: Table) -> tuple[tuple[Frame, Fraction], ...]:
    """Read what a frame is of: one material, or several with their shares: ``aluminium 60 %, concrete 40 %``."""
    must = f'one of {", ".join(_FRAMES)}, or several with shares that come to 100 %: "aluminium 60 %, concrete 40 %"'
    text = table.text("frame", _LONGEST_FRAME, must=must)
    if not text:
        return ()
    if text.strip() in _FRAMES:
        return ((_FRAMES[text.strip()], Fraction(1)),)
    found: list[tuple[Frame, Fraction]] = []
    for part in text.split(","):
        words = part.replace("%", " ").split()
        share = from_text(words[1]) if len(words) == 2 else None
        if not words or words[0] not in _FRAMES or share is None or not share > 0:
            table.refuse("frame", must, text)
            return ()
        found.append((_FRAMES[words[0]], share / 100))
    if sum(share for _, share in found) != 1:
        table.refuse("frame", must, text)
    return tuple(found)


def read_climate(table: Table) -> Climate | None:
    """Read what slackens strands; None where the table is not sound."""
    now = table.temperature("now")
    coldest, warmest = table.temperature("coldest", default=now), table.temperature("warmest", default=now)
    frame = _read_frame(table)
    wood = table.choice("wood", (*SPECIES, _NONE), default=_NONE)
    moist = wood != _NONE
    grain = _GRAINS[table.choice("grain", tuple(_GRAINS), default="tangential")]
    seated = _SEATED[table.choice("seated", tuple(_SEATED), default="inner face")]
    before, after = Fraction(0), Fraction(0)
    if moist:
        before, after = table.number("moisture_from", 0, _DRY), table.number("moisture_to", 0, _DRY)
    else:
        for key in ("moisture_from", "moisture_to"):
            table.forbid(key, "left out unless wood names a species")
    settling = table.number("settling", 0, _MOST_SETTLING, default=0) / 100
    if table.sound and not coldest <= now <= warmest:
        must = "from the coldest to the warmest of the three temperatures"
        table.refuse("now", must, f"{float(now):.6g} °C")
    table.close()
    if not table.sound:
        return None
    return Climate(now, coldest, warmest, frame, wood if moist else None, grain, before, after, seated, settling)
