"""The job's tables on strand give: what strands are, the push that they must hold, what slackens them."""

from __future__ import annotations

from fractions import Fraction
from typing import Final, NamedTuple, cast

from stairguard.io.parse.numbers import from_text
from stairguard.io.read.toml_table import Table
from stairguard.model.job import Climate, Construction, Frame, Push, Strand, StrandMaterial, TensionSource
from stairguard.model.published.wood_shrinkage import SPECIES
from stairguard.model.soundness.job_bounds import FreeText, Shares
from stairguard.model.soundness.table_checks import of_climate, of_push

STEEL_KEYS: Final = (
    "construction", "material", "stiffness", "breaking_force", "weight", "tension", "tension_source",
)  # fmt: skip
PUSH_KEYS: Final = ("force", "probe", "sphere", "friction", "post_stiffness", "anchor_stiffness")
CLIMATE_KEYS: Final = (
    "now", "coldest", "warmest", "frame", "wood", "grain", "seated", "moisture_from", "moisture_to", "settling",
)  # fmt: skip
_NONE: Final = "none"
_FRAME_TEXT: Final = FreeText(200)


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
    table.go_by(Strand)
    steel = Steel(
        table.word("construction", default="1x19"),
        table.word("material", default="316"),
        table.force_if_given("stiffness"),
        table.force_if_given("breaking_force"),
        table.weight_if_given("weight"),
        table.force_if_given("tension"),
        table.word("tension_source", default="assumed"),
    )
    if table.has("tension_source") and not table.has("tension"):  # though it were the one that stands in for none
        table.refuse("tension_source", "left out unless tension is given", steel.source)
    return steel


def read_push(table: Table) -> Push:
    """Read the push that openings must hold."""
    table.go_by(Push)
    push = Push(
        force=table.force_if_given("force", "nonnegative") or None,  # no force is no push: strands at rest
        probe=table.word("probe", default="sphere"),
        sphere=table.length_if_given("sphere"),
        friction=table.number("friction", default=0),
        post_stiffness=table.stiffness_if_given("post_stiffness"),
        anchor_stiffness=table.stiffness_if_given("anchor_stiffness"),
    )
    if table.sound:
        table.file_within(of_push(push))
    table.close()
    return push


def _read_frame(table: Table) -> tuple[tuple[Frame, Fraction], ...]:
    """Read what a frame is of: one material, or several with their shares: ``aluminium 60 %, concrete 40 %``."""
    frames: dict[str, Frame] = {word: cast(Frame, word) for word in table.bound("frame", Shares).words}
    must = f'one of {", ".join(frames)}, or several with shares that come to 100 %: "aluminium 60 %, concrete 40 %"'
    text = table.text("frame", must=must, bound=_FRAME_TEXT)
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
    table.go_by(Climate)
    now = table.temperature("now")
    coldest, warmest = table.temperature("coldest", default=now), table.temperature("warmest", default=now)
    frame = _read_frame(table)
    wood = table.choice("wood", (*SPECIES, _NONE), default=_NONE)
    moist = wood != _NONE
    grain, seated = table.word("grain", default="tangential"), table.word("seated", default="inner face")
    before, after = Fraction(0), Fraction(0)
    if moist:
        before, after = table.number("moisture_from"), table.number("moisture_to")
    else:
        for key in ("moisture_from", "moisture_to"):
            table.forbid(key, "left out unless wood names a species")
    settling = table.percent("settling", default=0)
    climate = Climate(
        now=now,
        coldest=coldest,
        warmest=warmest,
        frame=frame,
        wood=wood if moist else None,
        grain=grain,
        moisture_from=before,
        moisture_to=after,
        seated=seated,
        settling=settling,
    )
    if table.sound:
        table.file_within(of_climate(climate))
    table.close()
    return climate if table.sound else None
