"""The command ``transition``: where a flight's rail meets a landing's."""

from __future__ import annotations

from typing import Annotated

import typer

from stairguard.cli.options import Answer, AsJson, Unit, Words, option, renamed_call


def transition(
    rise: Annotated[Words, option("Rise of the steps, plumb. Needed.")] = None,
    run: Annotated[Words, option("Run, nosing to nosing, level. Needed.")] = None,
    flight_height: Annotated[Words, option("Top of rail above the nosing line, plumb. Needed.")] = None,
    landing_height: Annotated[Words, option("Top of rail above the landing, plumb. Needed.")] = None,
    at: Annotated[Words, typer.Option(metavar="top|bottom", help="Which end of the flight. Needed.")] = None,
    post_at: Annotated[Words, option("A post's level distance from that nosing, uphill positive.")] = None,
    unit: Unit = "in",
    as_json: AsJson = False,
) -> Answer:
    """Find where a flight's rail meets a landing's."""
    import stairguard
    from stairguard.reports.data.encode import json_text

    sizes = (rise, run, flight_height, landing_height)
    found = renamed_call(stairguard.transition, *sizes, at, post_at=post_at, unit=unit)
    if as_json:
        return Answer(json_text(stairguard.transition_result(found)))
    return Answer(stairguard.transition_report(found))
