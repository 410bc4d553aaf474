"""Where the rail of one flight meets the rail of one landing, as a designer asks it."""

from __future__ import annotations

from fractions import Fraction

from stairguard.model.asked.rail_transition import FlightEnd, Transition, TransitionQuestion
from stairguard.relations.printed import scalars


def meets_at(
    at: FlightEnd, rise: Fraction, run: Fraction, flight_height: Fraction, landing_height: Fraction
) -> Fraction:
    """Level distance from the top nosing, or from nosing 1, uphill positive, to where the rails meet."""
    meets = scalars.rail_meets_top if at == "top" else scalars.rail_meets_bottom
    return meets(rise, run, flight_height, landing_height)


def landing_height_at(at: FlightEnd, rise: Fraction, run: Fraction, flight_height: Fraction, x: Fraction) -> Fraction:
    """Height of the flight's rail over the landing, plumb, at a post ``x`` uphill of the same nosing."""
    height = scalars.landing_height_at_top if at == "top" else scalars.landing_height_at_bottom
    return height(rise, run, flight_height, x)


def jog_at(
    at: FlightEnd, rise: Fraction, run: Fraction, flight_height: Fraction, landing_height: Fraction, x: Fraction
) -> Fraction:
    """How far the landing's rail stands above the flight's, plumb, at a post ``x`` uphill of the same nosing."""
    jog = scalars.jog_top if at == "top" else scalars.jog_bottom
    return jog(rise, run, flight_height, landing_height, x)


def transition(asked: TransitionQuestion) -> Transition:
    """Solve one joint of flight and landing rails."""
    rise, run, flight_height, landing_height = asked.rise, asked.run, asked.flight_height, asked.landing_height
    bend = scalars.bend(scalars.pitch(rise, run), 0, 0)
    height = jog = None
    if asked.post_at is not None:
        height = landing_height_at(asked.at, rise, run, flight_height, asked.post_at)
        jog = jog_at(asked.at, rise, run, flight_height, landing_height, asked.post_at)
    return Transition(
        asked=asked,
        meets=meets_at(asked.at, rise, run, flight_height, landing_height),
        bend_deg=bend,
        mitre_deg=scalars.mitre(bend),
        landing_height_for_post=height,
        jog=jog,
    )
