"""Cautions in English: what is said with every result first, then what one gives reason to say, alike ones together."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import fields
from fractions import Fraction
from functools import singledispatch
from typing import TYPE_CHECKING, Any, Final

from stairguard.model.apart_from_place import apart_from_place
from stairguard.model.cautions import (
    AcrossNosing,
    Amended,
    Caution,
    CornerPulled,
    Crossed,
    FootAtCorner,
    FootOverhangs,
    HoleOverEdge,
    JogLeft,
    LastRiseAssumed,
    LeaveUsed,
    LowerNotReached,
    LowNeighbour,
    MustBear,
    NotRead,
    OptionUnmet,
    PackSays,
    PlainCaution,
    PostCaution,
    PracticeUnmet,
    RailsLap,
    SurfaceCaution,
    TooLong,
    UnguardedEnd,
    UnmetFigure,
    Unread,
)
from stairguard.model.guard.solved_layout import CheckedLayout
from stairguard.model.published.strand_materials import StrandSteel
from stairguard.model.rules import OtherOccupancy
from stairguard.reports.words.general_cautions import ALWAYS, LARGER_SPHERE
from stairguard.reports.words.grouping import groups, labels
from stairguard.reports.words.lengths import brief, solved
from stairguard.reports.words.names import surfaces_words
from stairguard.reports.words.opening_words import where_words
from stairguard.reports.words.rules.finding_words import alike_words, subject_words
from stairguard.reports.words.rules.reason_words import reasons_words
from stairguard.reports.words.rules.rule_words import amendment_words

if TYPE_CHECKING:  # most guards are asked nothing of loads
    from stairguard.model.guard.guard_loads import GuardReport

_PLAIN: Final[Mapping[PlainCaution, str]] = {
    PlainCaution.NO_RULES: "No rule pack was asked for: nothing was checked but the job's own limits.",
    PlainCaution.LARGER_SPHERE: LARGER_SPHERE,
    PlainCaution.NO_TAKE_UPS: "Take-ups are zero: strand lengths run between bearing faces, with nothing deducted for "
    "fittings.",
    PlainCaution.TAKEN_AS_EXACT: "Figures without a +- are taken as exact, so a verdict near its limit says more than "
    "a tape can.",
    PlainCaution.ONLY_MEASURED: "Only what was measured is held to the rules: places between may be worse.",
}
_NOT_READ: Final[Mapping[Unread, str]] = {
    "from memory": "From memory, no document read",
    "secondary": "Read in a copy, a quotation or an earlier edition",
}
_OURS: Final = (
    "Push figures are for a probe pressed square to the guard with nothing else moving: no impact, no person's weight. "
    "Strand gives more where posts, rail or anchors give: put their stiffness in."
)
_HOLES: Final = (
    "Holes wider than the strand let it move before it stretches: the gap is then larger at a post's own hole."
)


_PLACES: Final = ("post", "posts", "surface")
"""Fields that only say where a caution holds: alike ones differ in no other."""


def caution_texts(cautions: Iterable[Caution], unit: str) -> tuple[str, ...]:
    """Cautions in their order, the general ones first; lengths are in ``unit``."""
    alike = groups(cautions, lambda one: _key(one, unit))
    return tuple(dict.fromkeys((*ALWAYS, *(_words(same[0], same, unit) for same in alike))))


def deflection_cautions(steel: StrandSteel) -> Iterator[str]:
    """What is said with every figure of strand give, the general cautions first."""
    yield from ALWAYS
    yield _OURS
    yield _HOLES
    if steel.remembered:
        yield (
            f"From memory, no document read: {', '.join(steel.remembered)}. Put in the maker's own figures before "
            "relying on what rests on them."
        )


def push_cautions(checked: CheckedLayout, report: GuardReport) -> tuple[str, ...]:
    """What is said of a guard under its push: its own cautions, and those of strand give, each once."""
    own = caution_texts(checked.cautions, checked.layout.job.unit)
    return tuple(dict.fromkeys((*own, *deflection_cautions(report.steel))))


def _key(one: Caution, unit: str) -> Hashable:
    """What is said but for the place; lengths as they are shown."""
    if isinstance(one, PlainCaution):
        return one
    told = (getattr(one, each.name) for each in fields(one) if each.name not in _PLACES)
    return type(one), *(solved(value, unit) if isinstance(value, Fraction | float) else value for value in told)


def _surfaces(same: Sequence[SurfaceCaution]) -> str:
    return surfaces_words(one.surface + 1 for one in same)


def _posts(same: Sequence[PostCaution]) -> str:
    return _labelled([one.post for one in same])


def _labelled(posts: Sequence[str]) -> str:
    return f"post{'s' if len(posts) > 1 else ''} {labels(posts)}"


@singledispatch
def _words(first: object, same: Sequence[Any], unit: str) -> str:
    raise TypeError(first, same, unit)


@_words.register(PlainCaution)
def _plain_caution_words(first: PlainCaution, same: Sequence[PlainCaution], unit: str) -> str:
    return _PLAIN[first]


@_words.register(Amended)
def _amended_words(first: Amended, same: Sequence[Amended], unit: str) -> str:
    return f"Amended locally: {amendment_words(first.change)}."


@_words.register(PackSays)
def _pack_says_words(first: PackSays, same: Sequence[PackSays], unit: str) -> str:
    return first.text


@_words.register(OtherOccupancy)
def _other_occupancy_words(first: OtherOccupancy, same: Sequence[OtherOccupancy], unit: str) -> str:
    known = ", ".join(first.known)
    return f"No rule of {first.rules} turns on the occupancy {first.stated!r}; it speaks of {known}."


@_words.register(NotRead)
def _not_read_words(first: NotRead, same: Sequence[NotRead], unit: str) -> str:
    clauses = "; ".join(first.clauses)
    return f"{_NOT_READ[first.status]}: {clauses}. Compare with the code in force before relying on it."


@_words.register(LeaveUsed)
def _leave_used_words(first: LeaveUsed, same: Sequence[LeaveUsed], unit: str) -> str:
    return (
        f"By leave of {'; '.join(first.clauses)} spheres under the lowest strand are larger than others may be: "
        "whether a strand may be that lowest edge is for the authority to say."
    )


@_words.register(OptionUnmet)
def _option_unmet_words(first: OptionUnmet, same: Sequence[OptionUnmet], unit: str) -> str:
    alike = groups(first.figures, lambda one: (apart_from_place(one.what), _figures(one)))
    texts = "; ".join(f"{alike_words([one.what for one in found])} {_figures(found[0])}" for found in alike)
    return f"{first.clause} would not be met, if it applies here: {texts}."


def _figures(one: UnmetFigure) -> str:
    return f"is {solved(one.value, one.unit)}, {one.kind} {solved(one.limit, one.unit)}"


@_words.register(PracticeUnmet)
def _practice_unmet_words(first: PracticeUnmet, same: Sequence[PracticeUnmet], unit: str) -> str:
    one = first.figure
    figures = f"{solved(one.value, one.unit)}, by common practice {one.kind} {solved(one.limit, one.unit)}"
    return f"The {subject_words(one.what)}, is {figures} ({reasons_words(first.why)})."


@_words.register(LowNeighbour)
def _low_neighbour_words(first: LowNeighbour, same: Sequence[LowNeighbour], unit: str) -> str:
    return (
        f"At a joint the neighbour's rail runs on over {_surfaces(same)} ({first.kind}), as low as "
        f"{solved(first.least, unit)} where {first.clause} asks {solved(first.asked, unit)}: ask whether the "
        "neighbour's own height may hold as far as the post."
    )


@_words.register(JogLeft)
def _jog_left_words(first: JogLeft, same: Sequence[JogLeft], unit: str) -> str:
    jog = solved(first.jog, unit)
    return f"At {_posts(same)} the rails do not meet: a plumb jog of {jog} is left (see remedies)."


@_words.register(RailsLap)
def _rails_lap_words(first: RailsLap, same: Sequence[RailsLap], unit: str) -> str:
    sides = "no saw cuts the mitre: the rails would lie side by side"
    if not first.mitred:
        sides = "the rails lie in one another"
    return (
        f"At {_posts(same)} the turn is so sharp that {sides} as far as {solved(first.far, unit)} from the corner. "
        "Make it in two turns of half as much each, with a landing between."
    )


@_words.register(Crossed)
def _crossed_words(first: Crossed, same: Sequence[Crossed], unit: str) -> str:
    return (
        f"No level piece of rail lies over {_surfaces(same)} (landing): the neighbours' rails run on at their slopes, "
        f"{solved(first.height, unit)} above it at the lowest, and so do the strands: ask whether that may guard a "
        "landing."
    )


@_words.register(LowerNotReached)
def _lower_not_reached_words(first: LowerNotReached, same: Sequence[LowerNotReached], unit: str) -> str:
    return (
        f"strand.lower = {brief(first.asked, unit)} is not reached over surface {first.flight + 1}: the lowest "
        f"strand stops {brief(first.by, unit)} lower, square, where its hole meets the nosing line."
    )


@_words.register(HoleOverEdge)
def _hole_over_edge_words(first: HoleOverEdge, same: Sequence[HoleOverEdge], unit: str) -> str:
    return (
        f"At {_posts(same)} holes come out over the edge of the post's face, so askew it stands to the rails: turn it "
        'nearly square to both ([post] corner_square = "rails"), or make the corner with two posts.'
    )


@_words.register(TooLong)
def _too_long_words(first: TooLong, same: Sequence[TooLong], unit: str) -> str:
    names = ", ".join(first.labels)
    return f"No {first.what} stock is long enough for {names}: splice, or buy longer; the stock plan leaves them out."


@_words.register(FootAtCorner)
def _foot_at_corner_words(first: FootAtCorner, same: Sequence[FootAtCorner], unit: str) -> str:
    its, it = ("Its length counts", "it") if len(same) == 1 else ("Their lengths count", "them")
    return (
        f"At the corner of a landing and steps ({_posts(same)}) part of the post stands beyond the landing: notch it "
        "over the edge and fix it to the landing's side, or let it into the steps. "
        f"{its} from the lowest tread under {it}."
    )


@_words.register(FootOverhangs)
def _foot_overhangs_words(first: FootOverhangs, same: Sequence[FootOverhangs], unit: str) -> str:
    return (
        f"The foot of {_posts(same)} overhangs its tread or surface by {solved(first.by, unit)}, level: mount it at "
        "the stair's side, notch it, or move it."
    )


@_words.register(AcrossNosing)
def _across_nosing_words(first: AcrossNosing, same: Sequence[AcrossNosing], unit: str) -> str:
    start = (
        f"Beside the stair {_posts(same)} stand{'s' if len(same) == 1 else ''} across a nosing: post.drop counts from "
        "the tread or surface at the post's centre, and the foot"
    )
    if first.below > 0:
        return f"{start} is {solved(first.below, unit)} below the lower tread there: see that the side is deep enough."
    ends = f"ends {solved(-first.below, unit)} above" if first.below else "is level with"
    return (
        f"{start} {ends} the lower tread there: the side may give it no hold under the nosing. Make post.drop "
        "larger, or move the post."
    )


@_words.register(MustBear)
def _must_bear_words(first: MustBear, same: Sequence[MustBear], unit: str) -> str:
    supports = " and the ".join(first.supports)
    return f"The {supports} at the end of the line must bear the pull of all strands: a licensed engineer decides."


@_words.register(CornerPulled)
def _corner_pulled_words(first: CornerPulled, same: Sequence[CornerPulled], unit: str) -> str:
    posts = _labelled([label for one in same for label in one.posts])
    return (
        f"At the plan turn{'s' if len(same) > 1 else ''} ({posts}) the strands of both sides pull the corner inwards, "
        "and nothing on the other side holds against them: brace it, or have a licensed engineer size it."
    )


@_words.register(UnguardedEnd)
def _unguarded_end_words(first: UnguardedEnd, same: Sequence[UnguardedEnd], unit: str) -> str:
    one = first.stretch
    high = f"{solved(one.drop, unit)} up" if one.drop > 0 else "at the lowest level of the line"
    return (
        f"Surface {one.surface + 1} ({first.kind}) is {where_words(one.where)}, for {solved(one.length, unit)} level, "
        f"{high}: what stands there must close it, or the guard go on."
    )


@_words.register(LastRiseAssumed)
def _last_rise_assumed_words(first: LastRiseAssumed, same: Sequence[LastRiseAssumed], unit: str) -> str:
    return (
        f"The lowest rise of {_surfaces(same)} (flight), measured going down, was not given: it is taken as the mean "
        "of the others. Measure it."
    )
