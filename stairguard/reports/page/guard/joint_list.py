"""What to do at each joint: where the rails meet, how they are cut, a jog and its remedies, the strands' fittings."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from typing import Final

from stairguard.geometry.mitre import MirrorJoint, SawCut
from stairguard.model.guard.jogs import Altered, Remedy
from stairguard.model.guard.pieces import EndCut
from stairguard.model.guard.rail_joints import Joint, JointStrand
from stairguard.model.guard.solved_layout import Layout
from stairguard.relations.printed import scalars
from stairguard.reports.page.page_text import heading, listed, paragraph
from stairguard.reports.words.grouping import groups, in_steps, labels
from stairguard.reports.words.joint_words import (
    carried_words,
    ended_words,
    fitting_words,
    onto_chord,
    passed_words,
    unmitred_words,
    uphill_words,
)
from stairguard.reports.words.lengths import Figures, degrees_words, fixed, slight
from stairguard.reports.words.names import surface_names, surfaces_text
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
    joint = same[0]
    sentences = [
        f"{_title(joint, layout, figures)}: {_meeting(joint, layout, figures)}.",
        f"Bend {degrees_words(joint.bend_deg)}{' in space' if joint.turn_deg else ''}."
        + _stands(joint, layout, figures),
        _cut(joint, layout, figures),
    ]
    if len(same) > 1:
        others = labels(post for other in same[1:] for post in (other.post, other.second_post) if post)
        sentences.append(f"Alike: {others}{_counted(same)}.")
    lines = paragraph(" ".join(sentences))
    if joint.jog:
        lines += paragraph(_jog(joint, layout, figures))
        lines += listed(_remedies(joint, layout, figures))
    return lines + listed(_strands(joint, layout, figures))


def _counted(same: Sequence[Joint]) -> str:
    """Of alike joints with a jog, from which surfaces the keys of the others' remedies count."""
    if not same[0].jog:
        return ""
    firsts = in_steps(joint.between[0] + 1 for joint in same[1:])
    return f", where the keys below count from surface {firsts} on instead of {same[0].between[0] + 1}"


def _title(joint: Joint, layout: Layout, figures: Figures) -> str:
    names = surface_names(layout)
    posts = joint.post if joint.second_post is None else f"{joint.post} and {joint.second_post}"
    words = f"{posts}, between {names[joint.between[0]]} and {names[joint.between[1]]}"
    crossed = range(joint.between[0] + 1, joint.between[1])
    if crossed:
        words += f" with no level piece over {surfaces_text(layout, crossed)}"
    if joint.turn_deg:
        way = "left" if joint.turn_deg > 0 else "right"
        words += f", turn {degrees_words(abs(joint.turn_deg))} {way} at station {figures.tape(joint.boundary)}"
    return words


def _meeting(joint: Joint, layout: Layout, figures: Figures) -> str:
    """Where the rails meet, and where the post is."""
    post = "" if joint.second_post else f"; post centre at station {figures.tape(joint.station)}"
    if joint.chord is not None and not joint.chord.clear:
        post = "; the two posts touch"
    if joint.mitred:
        apart = ""
        if joint.apart:
            small = slight(abs(joint.apart), figures.unit)
            apart = f", of one height but for {small}, less than half a mark"
        nosing = _past_nosing(joint, layout, figures)
        return f"the rails meet at station {figures.tape(joint.ends[0].s)}{nosing}{apart}{post}"
    if joint.meets is None:
        return f"the rails run parallel and never meet{post}"
    verb = "produced, the rails would meet at" if joint.jog else "the rails meet at"
    return f"{verb} station {figures.tape(joint.meets.s)}{_past_nosing(joint, layout, figures)}{post}"


def _past_nosing(joint: Joint, layout: Layout, figures: Figures) -> str:
    if joint.nosing is None or joint.from_nosing is None:
        return ""
    whose = "the flight's nosing"
    if all(layout.line.surfaces[i].kind == "flight" for i in joint.between):
        whose = f"surface {joint.nosing.surface + 1}'s nosing"
    return f", {uphill_words(joint.from_nosing, whose, figures.tape)}"


def _cut(joint: Joint, layout: Layout, figures: Figures) -> str:
    if not joint.mitred or joint.cut is None:
        advice = unmitred_words(joint)
        words = f"{_face_cuts(joint, layout, figures)} {advice[:1].upper()}{advice[1:]}."
        return words if joint.jog or joint.cut is None or joint.cut.flush else f"{words} {_askew(joint.cut, figures)}"
    if joint.bend_deg == 0:
        return "The rail runs straight on: square cuts, flush."
    if not joint.turn_deg:
        half = degrees_words(joint.mitre_deg)
        return (
            f"Mitre {half} on each piece, leaning in the rail's plumb plane (on edge: mitre {half}; laid flat: blade "
            f"tilted {half}); they meet flush."
        )
    first, second = (_saw(saw, figures) for saw in (joint.cut.first, joint.cut.second))
    if first == second:
        return f"Each piece, laid flat: {first}; they meet flush."
    return f"Laid flat, the piece before: {first}; the piece after: {second}; they meet flush."


def _askew(cut: MirrorJoint, figures: Figures) -> str:
    """The true mitre that leaves the sections twisted, for an easing cut from solid, say."""
    return (
        f"The true mitre, not flush, laid flat: the piece before {_saw(cut.first, figures)}; the piece after "
        f"{_saw(cut.second, figures)}."
    )


def _saw(saw: SawCut, figures: Figures) -> str:
    mitre, tilt = degrees_words(abs(saw.flat_mitre)), degrees_words(abs(saw.flat_tilt))
    upright = tilt == degrees_words(0)
    return f"mitre {mitre} across its top, blade {'upright' if upright else f'tilted {tilt}'}"


def _stands(joint: Joint, layout: Layout, figures: Figures) -> str:
    """How the one post of a turn stands."""
    stance = next(post.stance for post in layout.posts if post.label == joint.post)
    if not joint.turn_deg or joint.second_post or not stance.askews_deg[0]:
        return ""
    askew, turned = abs(stance.askews_deg[0]), abs(stance.turned_deg)
    way = "left" if stance.turned_deg > 0 else "right"
    return (
        f" The post's faces are turned {degrees_words(turned)} {way} from square to the line before: what comes to "
        f"it from either side comes {degrees_words(askew)} askew in plan."
    )


def _face_cuts(joint: Joint, layout: Layout, figures: Figures) -> str:
    """How rails that are not mitred end: plumb, on the post."""
    names = surface_names(layout)
    cuts = []
    for side, index in enumerate(joint.between):
        piece = next(cut for cut in layout.cuts.rails if index in cut.surfaces)
        cuts.append(f"that of {names[index]} {_face_cut(piece.start_cut if side else piece.end_cut, figures)}")
    where = "run on to the far faces of their own posts" if joint.second_post else "end on the post"
    return f"The pieces {where}, {' and '.join(cuts)}."


def _face_cut(cut: EndCut, figures: Figures) -> str:
    if cut.kind == "square":
        return "square"
    if not cut.side:
        return f"plumb ({degrees_words(cut.angle_deg)} from square)"
    tilt = f", blade tilted {degrees_words(cut.tilt_deg)}" if cut.tilt_deg else ""
    return f"plumb, askew (laid flat: mitre {degrees_words(cut.angle_deg)}{tilt}, long {cut.long_point} the turn)"


def _jog(joint: Joint, layout: Layout, figures: Figures) -> str:
    high, low = (surface_names(layout)[index] for index in joint.by_height)
    where = "beyond the two posts" if joint.second_post else "at the post's faces"
    return (
        f"JOG: where they end, {where}, the rail of {high} stands {figures.tape(abs(joint.jog))} plumb "
        f"above that of {low}. Ways to be rid of it, each tried on this job:"
    )


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


def _strands(joint: Joint, layout: Layout, figures: Figures) -> Iterator[str]:
    """Strands that pass whole and strands that end, each with its fitting."""
    whole = [s for s in joint.strands if s.whole]
    if not whole:
        posts = "both posts" if joint.second_post else "this post"
        because = "" if joint.through else f": {ended_words(joint.barred, layout.job.unit)}"
        yield f"Strands whole through {posts}: none{because}."
    for same in groups(whole, lambda s: (s.fitting, s.bend_deg, s.slopes_deg, s.skews_deg)):
        yield _whole(same, joint, figures)
    ended = [s for s in joint.strands if not s.whole]
    for same in groups(ended, lambda s: (s.surfaces, s.fitting, s.passed, s.bend_deg, s.slopes_deg, s.skews_deg)):
        strand, numbers = same[0], in_steps(s.number for s in same)
        side = 0 if strand.surfaces[0] == joint.between[0] else 1
        slope, skew = strand.slopes_deg[side], strand.skews_deg[side]
        askew = f", {degrees_words(abs(skew))} askew in plan" if skew else ""
        name = surface_names(layout)[strand.surfaces[0]]
        here = f"at {joint.end_post(strand)}" if joint.second_post else "here"
        words = f"{fitting_words(strand.fitting)}{passed_words(joint, strand)}"
        way = f"slope {degrees_words(slope or 0.0)}{askew}{onto_chord(joint, strand)}"
        yield f"Ended {here}: {numbers} of {name}: {words}, {way}."


def _across(joint: Joint, figures: Figures) -> str:
    """How strands run between the two posts of a corner."""
    chord = joint.chord
    if chord is None:
        return ""
    bends = [degrees_words(bend) for bend in chord.bends_deg]
    bent = f"{bends[0]} at each" if bends[0] == bends[1] else f"{bends[0]} at {joint.post} and {bends[1]} at the other"
    return (
        f"; bend {bent}; between them {figures.tape(chord.length)} from centre to centre, slope "
        f"{degrees_words(chord.pitch_deg)}, {degrees_words(chord.skew_deg)} askew in plan to their inner faces"
    )


def _whole(same: Sequence[JointStrand], joint: Joint, figures: Figures) -> str:
    strand, numbers = same[0], in_steps(s.number for s in same)
    before, after = (degrees_words(slope or 0.0) for slope in strand.slopes_deg)
    posts = "both posts" if joint.second_post else "this post"
    words = f"Strands whole through {posts}: {numbers}: {carried_words(joint, strand)}"
    if strand.bend_deg:
        in_all = " in all" if joint.second_post else ""
        words += f", bend {degrees_words(strand.bend_deg)}{in_all}, slope {before} before and {after} after"
        skew = strand.skews_deg[1]
        if skew:
            words += f", {degrees_words(abs(skew))} askew in plan to either face"
        if not joint.second_post:
            pull = scalars.fitting_force(1.0, strand.bend_deg)
            words += f"; each bears on the post with {fixed(pull, 2)} of its tension"
    return f"{words}{_across(joint, figures)}."
