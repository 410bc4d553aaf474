"""Under the lowest strand of a flight: every pocket along it, each under the rule for what it touches."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal, TypeAlias

from stairguard.model.rules import Rule, RuleSet
from stairguard.relations.printed import scalars
from stairguard.relations.printed.by_slope import plumb_of_square
from stairguard.solve.sphere.step_pockets import cell_pockets
from stairguard.solve.sphere.step_profile import Found, Member, Profile

PocketPlace: TypeAlias = Literal["step triangle", "flight", "landing", "ramp", "tread"]
"""What a pocket counts as, by a pack's names for places: over steps the first two, the rest over what they end on."""
TRIANGLE: Final = "step triangle"
STEPS: Final[tuple[PocketPlace, ...]] = (TRIANGLE, "flight")
"""Over the steps, as against over a landing."""
_CONFORMS: Final = 1e-3  # any excess that is clear of rounding


@dataclass(frozen=True, slots=True, kw_only=True)
class Pocketed:
    """Pockets of one cell at one place, largest first, moved into the flight's frame by ``dx, dz``, and their rule."""

    cell: int
    every: tuple[Found, ...]
    dx: Fraction
    dz: Fraction
    place: PocketPlace
    rule: Rule | None

    @property
    def found(self) -> Found:
        """The largest."""
        return self.every[0]


def _rule(
    rules: RuleSet, profile: Profile, names: tuple[str, ...], cell: int, high: Fraction
) -> tuple[PocketPlace, Rule | None]:
    """The place a pocket counts as, by what it touches, and the rule there, up to the member ``high`` over the line.

    Tread (or floor), riser and strand make the step triangle. A post that stands in one cuts it: what is left on
    either side lies within it, stops a smaller sphere, and answers as it does, whether or not it reaches the riser.
    Without a riser it is an opening like any other of the flight or, over a landing, of the landing.
    """
    if cell < (profile.risers or 0) and not profile.open_risers:
        return TRIANGLE, rules.opening(TRIANGLE, "flight", high=high)
    floor = profile.high_floor if cell == profile.risers else profile.low_floor
    level = cell == profile.risers or (cell == 0 and "post" in names)
    place: PocketPlace = floor if level else "flight"
    return place, rules.opening(place, high=high)


def _kinds(profile: Profile) -> Iterator[tuple[int, int]]:
    """Each cell with the cell whose outline it repeats; of measured steps every cell is its own."""
    first, last = profile.cells
    carry: dict[int, tuple[Fraction, ...]] = {}
    for tread, x in profile.posts:
        carry[tread] = (*carry.get(tread, ()), x - profile.x(tread))
    seen: dict[tuple[object, ...], int] = {}
    for cell in range(first, last + 1):
        end: object = "between"
        if profile.xs:
            end = cell
        elif cell <= first + 1:
            end = ("bottom", cell)
        elif cell >= last - 1:
            end = ("top", cell)
        key = (end, *(carry.get(k) for k in (cell - 1, cell, cell + 1)))
        yield cell, seen.setdefault(key, cell)


def along(profile: Profile, member: Member, rules: RuleSet, cells: Container[int] | None = None) -> Iterator[Pocketed]:
    """Every pocket under the member from post to post, cell by cell (or in ``cells``); like cells are solved once.

    Those of one cell that answer to one rule at one place come together.
    """
    solved: dict[int, list[tuple[tuple[Found, ...], PocketPlace, Rule | None]]] = {}
    for cell, like in _kinds(profile):
        if cells is not None and cell not in cells:
            continue
        if like not in solved:
            places: dict[PocketPlace, tuple[list[Found], Rule | None]] = {}
            for found in cell_pockets(profile, member, like):
                place, rule = _rule(rules, profile, found.names, like, member.plumb)
                places.setdefault(place, ([], rule))[0].append(found)
            solved[like] = [(tuple(there), place, rule) for place, (there, rule) in places.items()]
        # equal steps only: a measured cell is like no other
        dx, dz = (cell - like) * profile.run, (cell - like) * profile.rise
        for there, place, rule in solved[like]:
            yield Pocketed(cell=cell, every=there, dx=dx, dz=dz, place=place, rule=rule)


def _excess(
    profile: Profile, member: Member, rules: RuleSet, cells: Container[int] | None
) -> dict[tuple[int, PocketPlace], float]:
    """By how much each pocket exceeds its limit, relative to it; negative where it conforms."""
    return {
        (p.cell, p.place): p.found.pocket.diameter / float(p.rule.value) - 1
        for p in along(profile, member, rules, cells)
        if p.rule is not None
    }


def highest(
    profile: Profile,
    radius: Fraction,
    sec: Fraction,
    rules: RuleSet,
    within: tuple[Fraction, Fraction],
    close: Fraction,
) -> Fraction | None:
    """How high the lowest strand's centre may be, plumb above the nosing line, for every pocket to meet its rule.

    Starts from the closed form of the step triangle, and where other contacts govern closes in on the height.
    ``within`` are the least and greatest heights to try, and the answer is at most ``close`` too low. None where no
    rule limits it. A pocket too large even at the least has no say while any other has: lowering the strand cannot
    mend it.
    """
    floors = {profile.low_floor, profile.high_floor}
    places = ((TRIANGLE, "flight"), ("flight",), *((floor,) for floor in sorted(floors)))
    limits = [rule.value for rule in (rules.opening(*place) for place in places) if rule is not None]
    if not limits:
        return None
    least, most = within
    unlike = {like for _, like in _kinds(profile)}

    def excess(v: float, cells: Container[int] = unlike) -> dict[tuple[int, PocketPlace], float]:
        found = _excess(profile, Member("strand", Fraction(v), radius), rules, cells)
        if leave is not None and v <= leave:  # so low that what is under it over the steps may be what it is
            found = {key: min(by, -_CONFORMS) if key[1] in STEPS else by for key, by in found.items()}
        return found

    # a strand a whole sphere above the nosing line lets it pass over any nosing: no need to look higher
    most = max(min(most, plumb_of_square(max(limits) + radius, sec)), least)
    triangle, v = rules.opening(TRIANGLE, "flight"), most
    edge = rules.leave_by_edge(apart=bool(profile.offset))
    leave = None if edge is None else edge.value + plumb_of_square(radius, sec)
    if triangle is not None and not profile.xs:
        if profile.offset:
            from stairguard.solve.sphere.beside_step import start_lift  # only where strands stand out from the stair

            lift = start_lift(profile, triangle.value, radius)
        else:
            lift = scalars.step_lift(profile.rise, profile.run, profile.nosing, triangle.value)
        v = min(max(plumb_of_square(Fraction(lift) + radius, sec), least), most)
    at_v = excess(float(v))
    worst = max(at_v.values(), default=-1.0)
    if abs(worst) < 1e-9 or (v == most and worst < 0):
        return v
    asked: Container[int] = {cell for (cell, _), by in at_v.items() if by > 0}
    beyond_help = {key for key, by in excess(float(least), asked).items() if by > 0} if worst > 0 else set()
    rest = [by for key, by in at_v.items() if key not in beyond_help]
    if beyond_help and not rest:
        return least
    if worst > 0 and max(rest) > 0:
        low, high = least, v
    else:
        low, high, asked = v, most, unlike

    def rising(at: float) -> float:
        return max((by for key, by in excess(at, asked).items() if key not in beyond_help), default=-1.0)

    found = rising_zero(rising, float(low), float(high), float(close))
    return min(max(Fraction(found), least), most)


def rising_zero(rising: Callable[[float], float], low: float, high: float, close: float) -> float:
    """Zero of a rising function, which may jump, or the end nearest to it; never above it by more than rounding.

    Regula falsi, with a bisection whenever that fails to halve the bracket; done when it is ``close``.
    """
    at_low, at_high = rising(low), rising(high)
    if at_low > 0 or at_high < 0:
        return low if at_low > 0 else high
    falsi = True
    while high - low > close:
        span = high - low
        middle = low + span * at_low / (at_low - at_high) if falsi else low + span / 2
        at_middle = rising(middle)
        if abs(at_middle) < 1e-10:
            return middle
        if at_middle > 0:
            high, at_high = middle, at_middle
        else:
            low, at_low = middle, at_middle
        falsi = high - low < span / 2
    return low
