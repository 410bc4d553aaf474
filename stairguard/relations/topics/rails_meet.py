"""Where the rails of a flight and a landing meet, and the jog where they cannot."""

from __future__ import annotations

import sympy as sp

from stairguard.relations.declare import ANY, Closed, Declared, Expr, Relation, length

_RISE = length("rise", "rise of a step")
_RUN = length("run", "run of a step, level")
_FLIGHT = length("flight_height", "rail over the flight, plumb above the nosing line")
_LANDING = length("landing_height", "rail over the landing, plumb above it, to the same line of the rail")
_TOP = length("station", "level, from the top nosing onto the upper landing positive", ANY)
_BOTTOM = length("station", "level, from nosing 1 uphill positive, out over the lower landing negative", ANY)
_JOG = length("jog", "how far the landing's rail stands above the flight's at the station, plumb", ANY)
_LOWER = length("lower", "run of the lower flight's rail past its top nosing, to the turn", ANY)
_UPPER = length("upper", "run of the upper flight's rail before its nosing 1, from the turn", ANY)

_VALIDITY = "level landing, straight flight of equal steps, both heights to the same line of the rail"
_SOURCE = "derived: the flight's rail is its nosing line moved up plumb"


def _jog_top() -> Expr:
    """Landing's rail less flight's rail; the top nosing lies level with the landing."""
    return _LANDING.symbol - _FLIGHT.symbol - _TOP.symbol * _RISE.symbol / _RUN.symbol


def _jog_bottom() -> Expr:
    """Landing's rail less flight's rail; nosing 1 lies one rise above the landing."""
    return _LANDING.symbol - _FLIGHT.symbol - _RISE.symbol - _BOTTOM.symbol * _RISE.symbol / _RUN.symbol


def _pair(at: str, station: Declared, jog: Expr) -> tuple[Relation, Relation]:
    """Make the jog at one end of a flight, and the place where it vanishes."""
    meets = jog.subs(station.symbol, 0) * _RUN.symbol / _RISE.symbol  # closed at the slope's rate
    given = (_RISE, _RUN, _FLIGHT, _LANDING, station)
    return (
        Relation(
            name=f"rail-meets-{at}",
            title=f"Where a flight's rail meets the rail of its {at} landing",
            equation=sp.Eq(station.symbol, meets),
            symbols=given,
            closed=(
                Closed(f"rail_meets_{at}", "station"),
                Closed(f"landing_height_at_{at}", "landing_height"),
                Closed(f"flight_height_at_{at}", "flight_height"),
            ),
            validity=_VALIDITY,
            source=_SOURCE,
            status="derived",
        ),
        Relation(
            name=f"jog-{at}",
            title=f"Jog of the rail at a post near the {at} of a flight",
            equation=sp.Eq(_JOG.symbol, jog),
            symbols=(*given, _JOG),
            closed=(Closed(f"jog_{at}", "jog"),),
            validity=_VALIDITY,
            source=_SOURCE,
            status="derived",
        ),
    )


RELATIONS = (
    *_pair("top", _TOP, _jog_top()),
    *_pair("bottom", _BOTTOM, _jog_bottom()),
    Relation(
        name="half-turn",
        title="Rails of two flights meeting at a half-turn without a level piece",
        equation=sp.Eq(_LOWER.symbol + _UPPER.symbol, _RUN.symbol),
        symbols=(_RUN, _LOWER, _UPPER),
        closed=(Closed("half_turn_upper", "upper"), Closed("half_turn_lower", "lower")),
        validity="equal rise and run, rails at one height, no level piece; half each where risers line up",
        source=(
            f"{_SOURCE}; risers in line it is the half-a-tread rule of the International Correspondence "
            "Schools' Building Construction, vol. 3, section 44"
        ),
        status="derived",
    ),
)
