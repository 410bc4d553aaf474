"""Where two rails meet in English, how they turn and bend there, and where the post is.

A page tells it by stations, a drawing from the nosing, or else from the edge or corner.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from stairguard.model.guard.rail_joints import Joint
from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.words.drawing_words import first_few, surface_name
from stairguard.reports.words.grouping import label_rows
from stairguard.reports.words.joints.jog_words import jog_note
from stairguard.reports.words.lengths import Formatter, degrees_words, slight, stated, turned_words
from stairguard.reports.words.names import surface_names, surfaces_text


def joint_title(layout: Layout, joint: Joint, fmt: Formatter) -> str:
    """Name a joint by its posts and surfaces, what it crosses, and its plan turn, as a page does."""
    names = surface_names(layout)
    words = f"{' and '.join(joint.labels)}, between {names[joint.between[0]]} and {names[joint.between[1]]}"
    crossed = range(joint.between[0] + 1, joint.between[1])
    if crossed:
        words += f" with no level piece over {surfaces_text(layout, crossed)}"
    if joint.turn_deg:
        words += f", turn {turned_words(joint.turn_deg)} at station {fmt(joint.boundary)}"
    return words


def detail_title(joint: Joint) -> str:
    """Title a joint's detail by its posts."""
    return f"{'CORNER' if joint.second_post else 'JOINT'} {' and '.join(joint.labels)}"


def alike_joints(others: Sequence[Joint]) -> str:
    """Name the joints that one detail stands for too, the first few."""
    rest = label_rows(label for joint in others for label in joint.labels)
    return f"alike: {first_few(rest, _MOST_ALIKE)}{' in the lists' if len(rest) > _MOST_ALIKE else ''}"


_MOST_ALIKE: Final = 6


def and_more(name: str, others: int) -> str:
    """A name, and how many more it stands for."""
    return f"{name} and {others} more"


def between_note(layout: Layout, joint: Joint) -> str:
    """Name a joint's surfaces, how the line turns there, and how it is made, as a drawing does."""
    first, last = (_name(layout, index) for index in joint.between)
    words = [f"{first} to {last}"]
    if joint.between[1] > joint.between[0] + 1:
        words[0] += ", no level piece between"
    if joint.turn_deg:
        words.append(f"{_turn(joint)} in plan, drawn unrolled")
    if joint.second_post is not None:
        words.append(f"made by two posts{' that touch' if _touch(joint) else ''}")
    if not _level(joint):
        words.append(bend_words(joint))
    elif not joint.turn_deg:
        words.append("straight on")
    return ", ".join(words)


def _name(layout: Layout, index: int) -> str:
    return surface_name(layout, layout.line.surfaces[index])


def _turn(joint: Joint) -> str:
    """Say a plan turn as it is walked."""
    return f"turn {stated(abs(joint.turn_deg))}° {'left' if joint.turn_deg > 0 else 'right'}"


def _touch(joint: Joint) -> bool:
    """Whether a corner's two posts touch."""
    return joint.chord is not None and not joint.chord.clear


_SAME_ANGLE: Final = 1e-6


def _level(joint: Joint) -> bool:
    """Whether the rails bend by no more than the line turns."""
    return abs(joint.bend_deg - abs(joint.turn_deg)) <= _SAME_ANGLE


def bend_words(joint: Joint) -> str:
    """Say how far the rails bend, in plan and plumb together."""
    return f"bend {degrees_words(joint.bend_deg)}{' in space' if joint.turn_deg else ''}"


def stance_sentence(layout: Layout, joint: Joint) -> str:
    """How the one post of a turn stands, "" of any that stands square to both sides."""
    stance = layout.posts_of(joint)[0].stance
    if not joint.turn_deg or joint.second_post or not stance.askews_deg[0]:
        return ""
    return (
        f"The post's faces are turned {turned_words(stance.turned_deg)} from square to the line before: what comes to "
        f"it from either side comes {degrees_words(abs(stance.askews_deg[0]))} askew in plan."
    )


def meeting_words(layout: Layout, joint: Joint, fmt: Formatter) -> str:
    """Where the rails meet, and where the post is, by stations, as a page tells it."""
    post = "" if joint.second_post else f"; post centre at station {fmt(joint.station)}"
    if _touch(joint):
        post = "; the two posts touch"
    meets = joint.ends[0] if joint.mitred else joint.meets
    if meets is None:
        return f"the rails run parallel and never meet{post}"
    verb = "produced, the rails would meet at" if joint.jog else "the rails meet at"
    apart = ""
    if joint.apart:
        apart = f", of one height but for {slight(abs(joint.apart), layout.job.unit)}, less than half a mark"
    return f"{verb} station {fmt(meets.s)}{_past_nosing(layout, joint, fmt)}{apart}{post}"


def _past_nosing(layout: Layout, joint: Joint, fmt: Formatter) -> str:
    if joint.nosing is None or joint.from_nosing is None:
        return ""
    whose = f"surface {joint.nosing.surface + 1}'s" if _of_two_flights(layout, joint) else "the flight's"
    return f", {uphill_words(joint.from_nosing, f'{whose} nosing', fmt)}"


def _of_two_flights(layout: Layout, joint: Joint) -> bool:
    return all(layout.line.surfaces[index].kind == "flight" for index in joint.between)


def uphill_words(uphill: Fraction, of: str, fmt: Formatter) -> str:
    """Say how far uphill of a nosing something is, level, or downhill."""
    if uphill == 0:
        return f"plumb over {of}"
    return f"{fmt(abs(uphill))} level {'uphill' if uphill > 0 else 'downhill'} of {of}"


def heights_note(layout: Layout, joint: Joint, fmt: Formatter) -> str:
    """How high the tops of both rails are, and over what, as a drawing tells it."""
    heights = []
    for index in joint.between:
        line = "nosing line of " if layout.line.surfaces[index].nosings else ""
        heights.append(f"{fmt(layout.rails[index].height)} over {line}{_name(layout, index)}")
    return f"rail tops, plumb: {', '.join(heights)}"


def meeting_note(layout: Layout, joint: Joint, fmt: Formatter) -> str:
    """Where the rails meet and the post stands, as a drawing tells it."""
    post = f"post centre {_place(layout, joint, joint.station, fmt)}"
    if joint.second_post is not None:
        post = "the corner is between the posts"
    if not joint.mitred:
        if joint.meets is None:
            return f"rails parallel, never meet; {post}"
        return f"rails produced would meet {_place(layout, joint, joint.meets.s, fmt)}; {post}"
    apart = ""
    if joint.apart:
        apart = f" (what is left, {slight(abs(joint.apart), layout.job.unit)}, is less than half a mark)"
    place = _place(layout, joint, joint.ends[0].s, fmt)
    if joint.ends[0].s != joint.station:
        return f"rails meet over the post, {place}; {post}{apart}"
    over = "at the corner" if joint.second_post is not None else "over the post's centre"
    return f"rails meet {over}{'' if place == over else f', {place}'}{apart}"


def _place(layout: Layout, joint: Joint, station: Fraction, fmt: Formatter) -> str:
    """Say where a station is: level and uphill or downhill of the nosing, or past the edge or corner."""
    nosing = joint.nosing
    if nosing is None:
        past = station - joint.edge
        where = f"the {edge_name(joint)}"
        return f"{fmt(abs(past))} level {'past' if past > 0 else 'before'} {where}" if past else f"at {where}"
    name = f"nosing {nosing.number}"
    if _of_two_flights(layout, joint):
        name += f" of {_name(layout, nosing.surface)}"
    return uphill_words(nosing.uphill(station), name, fmt)


def edge_name(joint: Joint) -> str:
    """Name what a drawing measures a joint from."""
    return "nosing" if joint.nosing is not None else "corner" if joint.turn_deg else "edge"


def from_edge_note(joint: Joint, fmt: Formatter) -> str:
    """How far level the post's centre, or the corner, is from the nosing there, or from the edge or corner."""
    of = f"the {edge_name(joint)}" if joint.nosing is None else f"nosing {joint.nosing.number}"
    return f"{fmt(abs(joint.station - joint.edge))} level from {of}"


def joint_notes(layout: Layout, joint: Joint, fmt: Formatter) -> tuple[str, ...]:
    """Where the rails meet and the post stands, from the nosing, and how they turn and bend, beside an elevation."""
    turn = (_turn(joint),) if joint.jog and joint.turn_deg else ()
    return (*_from_nosing(joint, fmt), *turn, jog_or_bend_note(layout, joint, fmt))


def _from_nosing(joint: Joint, fmt: Formatter) -> tuple[str, ...]:
    nosing = joint.nosing
    if nosing is None or joint.from_nosing is None:
        return ()
    name = f"nosing {nosing.number}"
    stands = uphill_words(nosing.uphill(joint.station), name, fmt)
    meets = joint.ends[0] if joint.mitred else joint.meets
    if meets is not None and meets.s == joint.station:
        return (f"rails meet over its centre, {stands}",)
    return f"rails meet {uphill_words(joint.from_nosing, name, fmt)}", f"post centre {stands}"


def jog_or_bend_note(layout: Layout, joint: Joint, fmt: Formatter) -> str:
    """The jog, or else how far the rails turn and bend and how they are cut for it, as a drawing tells it."""
    return jog_note(layout, joint, fmt) if joint.jog else _bend_note(joint)


def _bend_note(joint: Joint) -> str:
    """Say how far the rails turn, in plan and in all, and how they are cut for it."""
    if joint.mitred and not joint.bend_deg:
        return "rails straight on"
    words = f"bend {degrees_words(joint.bend_deg)}"
    if joint.turn_deg:
        words = _turn(joint) if _level(joint) else f"{_turn(joint)}, {words}"
    if not joint.mitred:
        return f"{words}, rails end on the post"
    return f"{words}, mitre {degrees_words(joint.mitre_deg)} each"
