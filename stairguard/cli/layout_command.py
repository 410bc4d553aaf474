"""The command ``layout``: a guard from its job file, or the one that ships with the package."""

from __future__ import annotations

from typing import Annotated

import typer

from stairguard.cli.options import (
    Answer,
    AsCsv,
    AsJson,
    Words,
    check_out,
    one_form,
    renamed_call,
    source,
    written_words,
)


def layout(
    job: Annotated[Words, typer.Argument(metavar="[JOB.toml]", show_default=False)] = None,
    out: Annotated[Words, typer.Option(metavar="FOLDER", help="Write drawings and lists there.")] = None,
    date: Annotated[Words, typer.Option(metavar="YYYY-MM-DD", help="In the title block; else today.")] = None,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
) -> Answer:
    """Lay out a guard from a job file, or the one that ships with the package."""
    import stairguard
    from stairguard.io.write.folder import read_date
    from stairguard.reports.data.encode import json_text

    one_form(as_json, as_csv)
    day = renamed_call(read_date, date)
    check_out(out)
    checked = stairguard.lay_out(stairguard.built_in_job() if job is None else stairguard.read_job(source(job)))
    told = stairguard.tell(checked, named=out is not None or not (as_json or as_csv))
    outcome, example = told.inspection.outcome, job is None
    written = () if out is None else stairguard.write(told, out, date=day, example=example)
    if as_json:
        return Answer(json_text(stairguard.result(told)), outcome)
    if as_csv:
        return Answer(stairguard.findings_table(told), outcome)
    if out is None:
        return Answer(stairguard.report(told, example=example), outcome)
    head = stairguard.report(told, example=example, head=True)
    return Answer(f"{head}{written_words(written, out)}", outcome)
