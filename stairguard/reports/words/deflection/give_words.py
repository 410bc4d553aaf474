"""A whole guard's give in words: what was asked, what its tables tell, and why an opening holds or does not."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Final

from stairguard.model.guard.solved_layout import WIRE_TABLE
from stairguard.model.guard.strand_deflection import PushVerdict
from stairguard.model.published.known_figure import force_unit
from stairguard.reports.words.deflection.bay_words import probe_words
from stairguard.reports.words.deflection.deflection_words import SOURCES, closer_words
from stairguard.reports.words.lengths import UNIT_WORDS, at_least, brief, figure, rough, solved, stated
from stairguard.reports.words.names import alike_openings_words
from stairguard.reports.words.rules.verdict_words import FAILS, UNSOLVED

if TYPE_CHECKING:
    from stairguard.model.guard.guard_loads import GuardReport
    from stairguard.model.guard.solved_layout import Layout
    from stairguard.model.guard.strand_deflection import GuardGive, NamedTension, OpeningGive, Taut
    from stairguard.model.job import Push, Unit
    from stairguard.reports.words.lengths import Figures

VERDICTS_BRIEFLY: Final[dict[PushVerdict | None, str]] = {
    "holds": "holds",
    "between": FAILS,
    "gives way": FAILS,
    "passes untouched": FAILS,
    "no answer": FAILS,
    "not solved": UNSOLVED,
    "turned aside": "holds",
    "rigid": "rigid",
    None: "not judged",
}
_WHY: Final[dict[PushVerdict | None, str]] = {
    "between": "it holds only where every post grips the strand",
    "passes untouched": "the probe passes strands at rest",
    "no answer": "friction would drag the strand along",
    "not solved": "the strand stands out from the stair, and the probe's way past both is not in one plane",
    "turned aside": "the strand leads the probe to the next opening",
    "rigid": "rigid parts alone stop it",
}
NO_TENSION: Final = (
    "No tension is given, so the verdicts on openings above are RIGID; the table says what tension would hold."
)
NOTHING_TO_PUSH_AT: Final = "Nothing to push at: no rule sizes an opening, and the job gives no probe ([push] sphere)."
GIVE_TABLE_NOTE: Final = (
    "Push: the greatest force on the probe's way, with the strand held at both posts and sliding over its run; the "
    "verdict goes by the strand that slides. Tension: what would hold the force asked for; none where no tension short "
    "of breaking does. Openings as the tape marks make them, each in its weakest bay."
)
NAMED_FORCES_NOTE: Final = (
    "Forces that publications name, and the tension at which strands would hold them: for the openings that a "
    "tension can hold, with the strand sliding, but for so many that none short of breaking does. "
    "A cone is reckoned as a sphere here but for Australia's, whose shape is known."
)
TABLE_NOTE: Final = (
    f"{WIRE_TABLE}, calibrated by pulling this cone through; strands on a slope are not in it. Hold to the greater "
    "of what it asks and what the push needs."
)


def rigid_words(taut: Taut | None, unit: Unit) -> str:
    """That the verdicts on openings are of strands at rest, with the tension where there is one."""
    known = "" if taut is None else known_tension(taut, unit)
    return (
        f"The verdicts on openings above are RIGID: strands at rest, nothing pushing. No force was asked for. {known}"
    )


def known_tension(taut: Taut, unit: Unit) -> str:
    """The tension at rest with its source."""
    return f"Tension at rest {figure(taut.tension, force_unit(unit))}, {SOURCES[taut.source]}."


def asked_of_guard(push: Push, unit: Unit) -> str:
    """What push was asked for."""
    rub = f", friction {stated(push.friction)}" if push.friction else ""
    force = "" if push.force is None else figure(push.force, force_unit(unit))
    probe = probe_words(push, unit)
    return f"Asked for: {force} on a {probe}, square to the guard{rub}. No single force is the law everywhere."


def alike_words(layout: Layout, same: Sequence[OpeningGive], figures: Figures) -> str:
    """Where openings are that give alike, and why they hold or do not."""
    one = same[0]
    words = alike_openings_words(layout, [layout.openings[each.opening] for each in same])
    words += f"; probe {stated(one.probe)}"
    if one.posts:
        words += f", bay {one.posts[0]}-{one.posts[1]}"
    if one.verdict in _WHY:
        words += f"; {_WHY[one.verdict]}"
    closer = closer_words(one, figures)
    return f"{words}; {closer}" if closer else words


def tension_needed(one: NamedTension, force: str) -> str:
    """The tension that would hold a push that a publication names, and for how many openings none does."""
    if not one.sized:
        return "no size to hold to"
    unsolved = f"; {one.unsolved} not solved" if one.unsolved else ""
    if one.tension is None:
        return ("none does" if one.beyond else "none needed" if not one.unsolved else "no other") + unsolved
    return f"{at_least(one.tension, 4)} {force}" + (f", but for {one.beyond}" if one.beyond else "") + unsolved


def bays_note(report: GuardReport, unit: Unit) -> str:
    """What the table of bays tells."""
    force = force_unit(unit)
    return (
        f"Clear length along the strand and its run, in {UNIT_WORDS[unit]}; forces in {force}. Push: of "
        "the probe between two strands at mid-bay. Sinks: how far a mass that weighs "
        f"{figure(report.mass, force)}, hung at mid-bay, takes the strand down, square to it, held and "
        "sliding: a check of the tension without a gauge."
    )


def loads_note(unit: Unit) -> str:
    """What the table of loads on posts and rail tells."""
    force = force_unit(unit)
    return (
        f"For the engineer: sizing posts, rails and anchors is licensed work. Forces in {force}, heights in "
        f"{UNIT_WORDS[unit]}, plumb above the post's base, moments in {force} {unit}. Strands come to the post "
        "from the side before or after it as stations increase; where both have strands their level pulls oppose "
        "each other. Rail: what it takes, level, if the post may turn at its base; less if it is fixed there. A "
        "push adds to these, and so does cold weather."
    )


def loads_at_highest(report: GuardReport, unit: Unit) -> Iterator[str]:
    """How much more all loads are at the highest tension to come: they grow with it."""
    times, greatest = report.loads_at_highest, report.greatest_at_highest
    if report.upkeep is None or times is None or greatest is None:
        return
    pull, moment = greatest
    yield (
        f"At the highest tension to come, {brief(report.upkeep.highest.most, force_unit(unit))} a strand, every load "
        f"is {rough(times)} times this: the greatest pull {solved(pull)}, the greatest moment {solved(moment)}."
    )


def turned_strands_note(unit: Unit) -> str:
    """What the table of strands that are turned tells."""
    return (
        f"Each strand that is turned, and what it presses on a wooden hole with, {force_unit(unit)} on a square "
        f"{unit}: on the bare edges, taken over one strand diameter of each (no source: wood gives until more of it "
        "bears), and with a sleeve, its mean over the post's width."
    )


def lowest_run_words(give: GuardGive, run: tuple[str, str]) -> Iterator[str]:
    """Of which run and which openings the upkeep is told."""
    passing = sum(one.verdict == "passes untouched" for one in give.openings)
    if passing:
        yield f"{passing} openings let the probe pass strands at rest: what follows is of the others."
    first, last = run
    yield f"Of the run that comes down lowest, {first} to {last}; the weakest opening is held to what it has left."
