"""What findings and checks are called in text: what a figure is of, and where it was found."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import singledispatch
from typing import Final

from stairguard.model.guard.opening_kinds import Where
from stairguard.model.guard.surfaces import SurfaceKind
from stairguard.model.subjects import (
    AtPost,
    AtPosts,
    AtStrand,
    BetweenFlights,
    BetweenPosts,
    Differences,
    Extension,
    Fall,
    Foot,
    Height,
    LevelWires,
    LowestHole,
    MeasuredDifferences,
    MeasuredSphere,
    MembersInBand,
    Nth,
    Numbered,
    OfOne,
    OfPosts,
    OfSurface,
    OfWhole,
    Openings,
    PastEnd,
    RailMeant,
    RuledLoad,
    RuledQuantity,
    ShortStrands,
    Size,
    Sphere,
    Spot,
    StrandsInBand,
    Subject,
    TakenAt,
    TakenFigure,
    WholeGuard,
)
from stairguard.reports.words.grouping import in_steps, labels, spans
from stairguard.reports.words.lengths import stated
from stairguard.reports.words.names import surfaces_words
from stairguard.reports.words.opening_words import where_words

_SIZES: Final[Mapping[OfOne, str]] = {
    "landing length": "length of {place}",
    "landing depth": "depth of {place}",
    "ramp slope": "rise over level length of {place}",
    "ramp rise": "rise of {place}",
    "riser": "riser{number} of {place}",
    "run": "run{number} of {place}",
    "step comfort": "two rises and a run{number} of {place}",
    "nosing projection": "nosing projection of {place}",
    "pitch": "pitch of {place}",
    "flight rise": "total rise of {place}",
    "post gap": "widest clear gap between posts over {place}, along the strands",
    "strand spacing": "strand spacing over {place}, square, centre to centre",
    "lowest edge": "lowest edge over {place}, plumb above its nosing line and parallel",
    "handrail height": "handrail height stated of {place}",
}
_RAILS: Final[Mapping[RailMeant, str]] = {
    "top rail": "rail height",
    "top rail as handrail": "rail as handrail",
    "handrail": "handrail",
}
_DATUMS: Final[Mapping[SurfaceKind, str]] = {
    "landing": "the walking surface",
    "flight": "the nosing line",
    "ramp": "the surface",
}
_WHOLE: Final[Mapping[OfWhole, str]] = {
    "handrail size": "outside diameter of the round handrail",
    "handrail perimeter": "perimeter of the handrail's section, which is not round",
    "handrail across": "greatest width of the handrail's section, which is not round",
    "handrail clearance": "clear space between the handrail and what stands beside it",
    "handrail heights": "largest difference of the handrail's heights over flights and ramps",
    "push": "every opening under the push the job asks for (see give)",
    "post gap": "widest clear gap between posts, along the strands",
    "strand spacing": "widest strand spacing, square",
}
_BETWEEN: Final[Mapping[OfPosts, str]] = {
    "corner gap": "clear gap between {} of a corner, along the strands",
    "corner spacing": "strand spacing between {}, square, centre to centre",
    "longest run": "longest strand on one set of fittings, {}",
    "most bends": "most changes of angle in one run, {}",
}
_ABOVE: Final = "above the surface or nosing line"


def _numbered(surfaces: Sequence[Numbered]) -> str:
    """Surfaces of one kind, by their numbers and that kind."""
    return f"{surfaces_words(one.index + 1 for one in surfaces)} ({surfaces[0].kind})"


def subject_words(subject: Subject) -> str:
    """What a figure is of."""
    return alike_words([subject])


def alike_words(same: Sequence[Subject]) -> str:
    """What figures that are alike but for their places are of: as of the first, the surfaces or posts of all named."""
    place = _place(same)
    spheres = [one for one in same if isinstance(one, Sphere)]
    return _spheres(spheres, place) if spheres else _words(same[0], place)


def _place(same: Sequence[Subject]) -> str:
    """The surfaces or the posts that alike figures are of; "" of what has none."""
    surfaces = [one.surface for one in same if isinstance(one, OfSurface) and one.surface is not None]
    if surfaces:
        return _numbered(surfaces)
    between = [one for one in same if isinstance(one, BetweenPosts)]
    if between:
        joined = " to " if between[0].of in ("longest run", "most bends") else " and "
        return f"posts {_paired([one.posts for one in between], joined)}"
    short = [one for one in same if isinstance(one, ShortStrands)]
    return _short(short) if short else spots_words([one.post for one in same if isinstance(one, Foot | LowestHole)])


def spot_words(spot: Spot) -> str:
    """Where on its surface, or on the guard, a figure was found; "" where nothing is said."""
    return spots_words([spot])


def spots_words(same: Sequence[Spot]) -> str:
    """Where figures were found that are alike but for their places: as of the first, the posts of all named."""
    if not same or same[0] == "":
        return ""
    posts = [spot.post for spot in same if isinstance(spot, AtPost)]
    if posts:
        return f"post{'s' if len(set(posts)) > 1 else ''} {labels(posts)}"
    pairs = [spot for spot in same if isinstance(spot, AtPosts)]
    if pairs:
        return f"posts {_paired(pairs, ' and ')}"
    short = [spot for spot in same if isinstance(spot, ShortStrands)]
    return _short(short) if short else _spot(same[0])


def _short(same: Sequence[ShortStrands]) -> str:
    numbers = same[0].strands
    strands = f"strand{'s' if len(numbers) > 1 else ''} {in_steps(numbers)}"
    return f"{strands} from {_paired([one.posts for one in same], ' to ')}"


def _paired(same: Sequence[AtPosts], joined: str) -> str:
    """Posts two by two: those of one pair ``joined``, of several with a dash."""
    pairs = list(dict.fromkeys((each.first, each.last) for each in same))
    return joined.join(pairs[0]) if len(pairs) == 1 else spans(pairs)


@singledispatch
def _spot(spot: object) -> str:
    raise TypeError(f"no words for a {type(spot).__name__}")


@_spot.register(Where)
def _opening(spot: Where) -> str:
    return where_words(spot)


@_spot.register(Nth)
def _nth(spot: Nth) -> str:
    return f"{spot.each} {spot.number}"


@_spot.register(AtStrand)
def _strand(spot: AtStrand) -> str:
    return f"strand {spot.number}"


@_spot.register(TakenAt)
def _taken_at(spot: TakenAt) -> str:
    return " and ".join(spot.places).strip()


@_spot.register(BetweenFlights)
def _flights(spot: BetweenFlights) -> str:
    return f"between surfaces {spot.first + 1} and {spot.second + 1}"


@singledispatch
def _words(subject: object, place: str) -> str:
    raise TypeError(subject, place)


@_words.register(Size)
def _size(subject: Size, place: str) -> str:
    of = " of step" if subject.quantity == "step comfort" else ""
    number = "" if subject.number is None else f"{of} {subject.number}"
    return _SIZES[subject.quantity].format(number=number, place=place)


@_words.register(Height)
def _height(subject: Height, place: str) -> str:
    assert subject.surface is not None  # a rail stands over one
    datum = _DATUMS[subject.surface.kind] if subject.nosing is None else f"nosing {subject.nosing}"
    return f"{_RAILS[subject.rail]} over {place}, plumb from {datum} to the top of the rail"


@_words.register(Differences)
def _differences(subject: Differences, place: str) -> str:
    words = f"largest difference of {subject.each}s of {place}"
    if subject.between is None:
        return f"{words}, given as equal"
    one, other = subject.between
    return f"{words} (numbers {one} and {other})"


@_words.register(Extension)
def _extension(subject: Extension, place: str) -> str:
    manner = "at the slope, level distance" if subject.sloping else "level"
    return f"rail's extension past the {'top' if subject.top else 'bottom'} of {place}, {manner}"


def _spheres(same: Sequence[Sphere], place: str) -> str:
    """Spheres alike over one surface or several: where the first is, and how many there are in all."""
    once = len({one.where for one in same}) == 1 and all(one.count == 1 for one in same)
    count = 1 if once else sum(one.count for one in same)
    more = f", and {count - 1} like it" if count > 1 else ""
    return f"largest sphere {sphere_place(same)}{more}, of {place}"


def sphere_place(same: Sequence[Sphere]) -> str:
    """Where the first of alike spheres is: with its surface, where it is told by a step that others have not."""
    first = same[0]
    elsewhere = first.where.step is not None and any(one.where != first.where for one in same)
    of = f" of {surfaces_words([first.surface.index + 1])}" if elsewhere and first.surface is not None else ""
    return f"{spot_words(first.where)}{of}"


@_words.register(PastEnd)
def _past_end(subject: PastEnd, place: str) -> str:
    return f"{where_words(subject.where)}, for {stated(subject.length)} {subject.unit} level, of {place}"


@_words.register(MeasuredSphere)
def _measured_sphere(subject: MeasuredSphere, place: str) -> str:
    kind = "" if subject.place == "any" else f", {subject.place}"
    of = f", of {place}" if place else ""
    return f"largest sphere through the opening{kind}, {subject.at or 'no place told'}{of}"


@_words.register(TakenFigure)
def _taken(subject: TakenFigure, place: str) -> str:
    of = f" of {place}" if place else ""
    return f"{', '.join(filter(None, (subject.quantity, subject.place)))}{of}{f', {subject.at}' if subject.at else ''}"


@_words.register(MeasuredDifferences)
def _measured_differences(subject: MeasuredDifferences, place: str) -> str:
    return f"largest difference of {subject.each}s measured of {place}"


@_words.register(WholeGuard)
def _whole(subject: WholeGuard, _: str) -> str:
    return _WHOLE[subject.of]


@_words.register(BetweenPosts)
def _between_posts(subject: BetweenPosts, place: str) -> str:
    return _BETWEEN[subject.of].format(place)


@_words.register(Foot)
def _foot(subject: Foot, place: str) -> str:
    if subject.corner:
        return f"foot of {place}, at the corner of a landing: inside it, level"
    return f"foot of {place}, nearest of all to an edge: inside its tread or surface, level"


@_words.register(LowestHole)
def _hole(subject: LowestHole, place: str) -> str:
    return f"lowest hole of {place}, plumb above its foot"


@_words.register(BetweenFlights)
def _between_flights(subject: BetweenFlights, _: str) -> str:
    return f"level depth {spot_words(subject)} (flight), a tread's at least"


@_words.register(ShortStrands)
def _short_strands(subject: ShortStrands, place: str) -> str:
    return f"{place}, cut to fit between their fittings"


@_words.register(LevelWires)
def _level_wires(subject: LevelWires, _: str) -> str:
    size = f"spacing to {stated(subject.spacing)}, bay to {stated(subject.bay)} {subject.unit}"
    return f"tension of level strands, {size}{'' if subject.permitted else ': the table does not permit them'}"


@_words.register(StrandsInBand)
def _strands_in_band(subject: StrandsInBand, _: str) -> str:
    low = "the surface" if subject.low is None else f"{stated(subject.low)}"
    told = (f"{count} over {surfaces_words(i + 1 for i in indices)}" for count, indices in subject.within)
    return f"strands from {low} to {_top(subject)} {_ABOVE}: {', '.join(told) or 'none'}"


@_words.register(MembersInBand)
def _members_in_band(subject: MembersInBand, _: str) -> str:
    words = f"members from {stated(subject.low)} to {_top(subject)} {_ABOVE}"
    told = (f"{stated(height)} {at}".rstrip() for height, at in subject.within)
    return f"{words}: {', '.join(told)}" if subject.within else words


def _top(band: StrandsInBand | MembersInBand) -> str:
    return "the rail" if band.high is None else f"{stated(band.high)} {band.unit}"


@_words.register(Fall)
def _fall(subject: Fall, _: str) -> str:
    return f"plumb fall beside the guard{f', {subject.at}' if subject.at else ''}"


@_words.register(Openings)
def _openings(subject: Openings, _: str) -> str:
    return "openings between and around strands" if subject.place == "any" else f"opening, {subject.place}"


@_words.register(RuledQuantity)
def _ruled_quantity(subject: RuledQuantity, _: str) -> str:
    return subject.quantity if subject.place == "any" else f"{subject.quantity}, {subject.place}"


@_words.register(RuledLoad)
def _ruled_load(subject: RuledLoad, _: str) -> str:
    return f"load: {subject.note}"
