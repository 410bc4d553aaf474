"""What to do at each joint: where the rails meet, how they are cut, a jog and its remedies, the strands' fittings."""

from __future__ import annotations

from collections.abc import Hashable, Sequence

from stairguard.model.guard.rail_joints import Joint
from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.page.page_text import heading, listed, paragraph
from stairguard.reports.words.grouping import groups
from stairguard.reports.words.joints.jog_words import jog_sentence, remedy_sentences
from stairguard.reports.words.joints.joint_likeness import alike_sentence, apart_from_place
from stairguard.reports.words.joints.joint_strand_words import strand_sentences
from stairguard.reports.words.joints.meeting_words import bend_words, joint_title, meeting_words, stance_sentence
from stairguard.reports.words.joints.rail_cut_words import cut_sentences
from stairguard.reports.words.lengths import Figures


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
    return tuple(layout.line.surfaces[index].kind for index in joint.between), apart_from_place(joint)


def _joint(same: Sequence[Joint], layout: Layout, figures: Figures) -> list[str]:
    joint, tape = same[0], figures.tape
    sentences = [
        f"{joint_title(layout, joint, tape)}: {meeting_words(layout, joint, tape)}.",
        f"{bend_words(joint).capitalize()}.",
        stance_sentence(layout, joint),
        cut_sentences(layout, joint),
    ]
    if len(same) > 1:
        sentences.append(alike_sentence(same))
    lines = paragraph(" ".join(filter(None, sentences)))
    if joint.jog:
        lines += paragraph(jog_sentence(layout, joint, tape))
        lines += listed(remedy_sentences(joint, figures))
    return lines + listed(strand_sentences(layout, joint, tape))
