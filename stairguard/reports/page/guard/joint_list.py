"""What to do at each joint: where the rails meet, how they are cut, a jog and its remedies, the strands' fittings."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from typing import Final

from stairguard.model.guard.jogs import Altered, Remedy
from stairguard.model.guard.rail_joints import Joint
from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.page.page_text import heading, listed, paragraph
from stairguard.reports.words.grouping import groups, in_steps, labels
from stairguard.reports.words.joints.joint_strand_words import strand_sentences
from stairguard.reports.words.joints.joint_words import ended_words
from stairguard.reports.words.joints.meeting_words import (
    bend_words,
    jog_sentence,
    joint_title,
    meeting_words,
    stance_sentence,
)
from stairguard.reports.words.joints.rail_cut_words import cut_sentences
from stairguard.reports.words.lengths import Figures
from stairguard.reports.words.names import surface_names
from stairguard.reports.words.one_line import clean
from stairguard.reports.words.remedy_words import (
    altered_words,
    effects_words,
    measured_words,
    reason_words,
    remedies_here,
    setting_words,
)


def joint_list(layout: Layout, figures: Figures) -> list[str]:
    """Tell every joint, alike ones once."""
    if not layout.joints:
        return []
    lines = heading("JOINTS")
    for number, same in enumerate(groups(layout.joints, lambda joint: _alike(layout, joint))):
        lines += [""] * (number > 0)
        lines += _joint(same, layout, figures)
    return lines


def _alike(layout: Layout, joint: Joint) -> Hashable:
    """All that is said of a joint but its place."""
    first = joint.between[0]
    meets = None if joint.meets is None else joint.meets.s - joint.station
    strands = tuple(
        (s.number, s.bend_deg, tuple(i - first for i in s.surfaces), s.fitting, s.passed, s.slopes_deg, s.skews_deg)
        for s in joint.strands
    )
    kinds = tuple(layout.line.surfaces[index].kind for index in joint.between)
    return (
        kinds, joint.between[1] - first, joint.turn_deg, joint.bend_deg, meets, joint.from_nosing,
        joint.station - joint.boundary, joint.jog, joint.cut, joint.unmitred, remedies_here(joint),
        ended_words(joint.barred, layout.job.unit), strands, joint.chord,
    )  # fmt: skip


def _joint(same: Sequence[Joint], layout: Layout, figures: Figures) -> list[str]:
    joint, tape = same[0], figures.tape
    sentences = [
        f"{joint_title(layout, joint, tape)}: {meeting_words(layout, joint, tape)}.",
        f"{bend_words(joint).capitalize()}.",
        stance_sentence(layout, joint),
        cut_sentences(layout, joint),
    ]
    if len(same) > 1:
        others = labels(label for other in same[1:] for label in other.labels)
        sentences.append(f"Alike: {others}{_counted(same)}.")
    lines = paragraph(" ".join(filter(None, sentences)))
    if joint.jog:
        lines += paragraph(f"{jog_sentence(layout, joint, tape)} Ways to be rid of it, each tried on this job:")
        lines += listed(_remedies(joint, layout, figures))
    return lines + listed(strand_sentences(layout, joint, tape))


def _counted(same: Sequence[Joint]) -> str:
    """Of alike joints with a jog, from which surfaces the keys of the others' remedies count."""
    if not same[0].jog:
        return ""
    firsts = in_steps(joint.between[0] + 1 for joint in same[1:])
    return f", where the keys below count from surface {firsts} on instead of {same[0].between[0] + 1}"


def _remedies(joint: Joint, layout: Layout, figures: Figures) -> Iterator[str]:
    names = surface_names(layout)
    for remedy in joint.remedies:
        what = altered_words(remedy)
        if remedy.surface is not None:
            what = f"{what} over {names[remedy.surface].split(' (')[0]}"
        yield _remedy(what, remedy, joint, layout, figures)


_EXACT: Final = {
    Altered.POST_STATION: "exactly {} level from the nosing, uphill positive",
    Altered.RISER_OFFSET: "exactly {} more, level, between the edges of both sides",
    Altered.LEVEL_PIECE: "{} of it, level",
}


def _remedy(what: str, remedy: Remedy, joint: Joint, layout: Layout, figures: Figures) -> str:
    verdict = "allowed" if remedy.allowed else "not allowed"
    exact = _EXACT.get(remedy.what, "exactly {}").format(f"{figures.decimal(remedy.value)} {figures.unit}")
    if remedy.what is Altered.POST_STATION and joint.from_nosing is None:
        exact = exact.replace("the nosing, uphill positive", "the edge, on along the line positive")
    keys = "; ".join(f"{setting_words(s, layout.job.unit)}, {measured_words(s)}" for s in remedy.settings)
    words = f"{what}: {keys} ({exact}): {verdict}" if keys else f"{what}: {exact}: {verdict}"
    others = effects_words(remedy, figures.tape)
    text = ": ".join(filter(None, (words, clean(reason_words(remedy)))))
    return f"{text}. Besides, it {clean(others)}" if others else text
