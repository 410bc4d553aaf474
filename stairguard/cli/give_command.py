"""The command ``give``: one bay by options, or every bay of a job."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Annotated, Final

import typer

from stairguard.cli.options import (
    Answer,
    AsJson,
    Words,
    check_out,
    option,
    renamed_call,
    source,
    written_words,
)
from stairguard.errors import Fault, InputError

_FORCE: Final = "FORCE"


def give(
    job: Annotated[Words, typer.Argument(metavar="[JOB.toml]", show_default=False)] = None,
    diameter: Annotated[Words, option("Of the strands. One bay needs it.")] = None,
    spacing: Annotated[Words, option("Centre to centre, square. One bay needs it, or --edge.")] = None,
    edge: Annotated[Words, option("Instead of --spacing: from a rigid edge to the strand's centre, square.")] = None,
    bay: Annotated[Words, option("Clear between two posts, along the strand. One bay needs it.")] = None,
    run_length: Annotated[Words, option("Of the strand from anchor to anchor; else the bay.")] = None,
    at: Annotated[Words, option("Where it is pushed, from one post along the strand; else mid-bay.")] = None,
    tension: Annotated[Words, option("Of the strand at rest. One bay needs it.", None, _FORCE)] = None,
    tension_source: Annotated[Words, option("How that is known; else assumed.", None, "measured|set|assumed")] = None,
    sphere: Annotated[Words, option("Diameter of the probe; else 4 in, or 100 mm.")] = None,
    probe: Annotated[Words, option("A cone ends in a cylinder of that diameter.", None, "sphere|cone")] = None,
    force: Annotated[Words, option("Push to hold.", None, _FORCE)] = None,
    friction: Annotated[Words, option("Coefficient, from 0 to 0.49; else 0.", None, "NUMBER")] = None,
    construction: Annotated[Words, option("Of the strand; else 1x19.", None, "1x19|7x7|7x19")] = None,
    material: Annotated[Words, option("Of its wires; else 316.", None, "316|304|galvanized")] = None,
    stiffness: Annotated[Words, option("EA of the strand; else by construction and material.", None, _FORCE)] = None,
    breaking_force: Annotated[Words, option("Of the strand; else as the stiffness.", None, _FORCE)] = None,
    weight: Annotated[Words, option("Of the strand; else as the stiffness.", None, "WEIGHT")] = None,
    post_stiffness: Annotated[Words, option("Of one post, along the guard; else rigid.", None, "FORCE/LENGTH")] = None,
    anchor_stiffness: Annotated[Words, option("Of one anchor; else rigid.", None, "FORCE/LENGTH")] = None,
    hang: Annotated[Words, option("A mass hung at mid-bay, to check the tension.", None, "MASS")] = None,
    sinks: Annotated[Words, option("How far the strand went down there, if measured.")] = None,
    lead: Annotated[Words, option("What one turn of the tensioner draws in.")] = None,
    frame: Annotated[
        Words, option("What holds the posts apart.", None, "steel|stainless|aluminium|wood|concrete|rigid")
    ] = None,
    now: Annotated[Words, option("Temperature at which the tension is set.", None, "TEMPERATURE")] = None,
    coldest: Annotated[Words, option("Lowest temperature to come; else now.", None, "TEMPERATURE")] = None,
    warmest: Annotated[Words, option("Highest temperature to come; else now.", None, "TEMPERATURE")] = None,
    wood: Annotated[Words, option("Species of the end posts, which dry.", None, "SPECIES")] = None,
    grain: Annotated[Words, option("Along the guard; else tangential.", None, "tangential|radial")] = None,
    moisture_from: Annotated[Words, option("Of the posts when the tension is set.", None, "PERCENT")] = None,
    moisture_to: Annotated[Words, option("Of the posts at their driest.", None, "PERCENT")] = None,
    seated: Annotated[Words, option("What of an end post stays put.", None, "inner-face|centre")] = None,
    post_width: Annotated[Words, option("Of an end post, along the guard.")] = None,
    settling: Annotated[Words, option("Of a new strand, once, of its length; else 0.", None, "PERCENT")] = None,
    compare: Annotated[
        list[str] | None, typer.Option(metavar="KEY=VALUE[,..]", help="The same with this changed; may be repeated.")
    ] = None,
    out: Annotated[Words, typer.Option(metavar="FOLDER", help="Write page, pictures and result there.")] = None,
    date: Annotated[Words, typer.Option(metavar="YYYY-MM-DD", help="On the pictures; else today.")] = None,
    unit: Annotated[Words, typer.Option(metavar="in|mm", help="Of one bay's bare lengths; else in.")] = None,
    as_json: AsJson = False,
) -> Answer:
    """Find the push that opens a gap between strands, and the tension that stops it."""
    given = {
        "diameter": diameter, "spacing": spacing, "edge": edge, "bay": bay, "run_length": run_length, "at": at,
        "tension": tension, "tension_source": tension_source, "sphere": sphere, "probe": probe, "force": force,
        "friction": friction, "construction": construction, "material": material, "stiffness": stiffness,
        "breaking_force": breaking_force, "weight": weight, "post_stiffness": post_stiffness,
        "anchor_stiffness": anchor_stiffness, "hang": hang, "sinks": sinks, "lead": lead, "frame": frame, "now": now,
        "coldest": coldest, "warmest": warmest, "wood": wood, "grain": grain, "moisture_from": moisture_from,
        "moisture_to": moisture_to, "seated": seated, "post_width": post_width, "settling": settling,
    }  # fmt: skip
    asked = {key: value for key, value in given.items() if value is not None}
    if job is not None:
        return _of_job(job, {**asked, **({} if unit is None else {"unit": unit})}, compare or (), out, date, as_json)
    try:
        return _of_bay(asked, "in" if unit is None else unit, compare or (), out, date, as_json)
    except InputError as error:  # and none that names a folder
        raise type(error)(*(_as_option(fault) for fault in error.faults)) from None


def _of_bay(
    asked: Mapping[str, object], unit: str, compare: Sequence[str], out: str | None, date: str | None, as_json: bool
) -> Answer:
    import stairguard
    from stairguard.io.write.folder import read_date
    from stairguard.reports.data.encode import json_text

    day = read_date(date)
    check_out(out)
    report = stairguard.strand_give(unit=unit, compare=compare, **asked)
    written = "" if out is None else written_words(stairguard.write_give(report, out, date=day), out)
    text = json_text(stairguard.give_result(report)) if as_json else stairguard.give_report(report) + written
    return Answer(text, report.outcome)


def _of_job(
    path: str, asked: Mapping[str, object], compare: Sequence[str], out: str | None, date: str | None, as_json: bool
) -> Answer:
    import stairguard
    from stairguard.io.read.bay_arguments import read_changes
    from stairguard.io.read.job_file import CHANGES
    from stairguard.io.read.strand_tables import CLIMATE_KEYS
    from stairguard.io.write.folder import read_date
    from stairguard.reports.data.encode import json_text

    faults = [
        Fault(_dashed(key), "left out with a job file", value) for key, value in asked.items() if key not in CHANGES
    ]
    if faults:
        raise InputError(*faults)
    day = renamed_call(read_date, date)
    check_out(out)
    if "tension" in asked:  # what the file says of its own tension is not said of this one
        asked = {"tension_source": "assumed", **asked}
    file = source(path)
    checked = stairguard.lay_out(stairguard.read_job(file, asked))
    names = tuple(key for key in CHANGES if key not in CLIMATE_KEYS)
    changed = {text: renamed_call(read_changes, text, asked, names) for text in compare}
    others = {text.strip(): stairguard.lay_out(stairguard.read_job(file, changes)) for text, changes in changed.items()}
    paged = out is not None or not as_json
    guard = stairguard.guard_give(checked, others, fixes=paged, named=paged)
    written = "" if out is None else written_words(stairguard.write_give(checked, out, guard, date=day), out)
    if as_json:
        return Answer(json_text(stairguard.give_result(checked, guard)), guard.outcome)
    return Answer(stairguard.give_report(checked, guard) + written, guard.outcome)


def _as_option(fault: Fault) -> Fault:
    """Have a fault that names an argument name its option; one that names a job's key, as the tension's, too."""
    return Fault(_dashed(fault.where.removeprefix("strand.")), fault.must, fault.got)


def _dashed(name: str) -> str:
    return "--" + name.replace("_", "-")
