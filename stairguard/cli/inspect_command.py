"""The commands ``inspect`` and ``compare-rules``: a guard as it stands, and one guard under several packs."""

from __future__ import annotations

from typing import Annotated

import typer

from stairguard.cli.options import Answer, AsCsv, AsJson, Words, check_out, one_form, source, written_words
from stairguard.model.outcome import worst


def inspect(
    job: Annotated[str, typer.Argument(metavar="JOB.toml", show_default=False)],
    rules: Annotated[Words, typer.Option(metavar="PACK", help="In place of the file's.")] = None,
    out: Annotated[Words, typer.Option(metavar="FOLDER", help="Write report, table and data there.")] = None,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
) -> Answer:
    """Hold a guard as measured, by [[measured]] in its file, to its rules."""
    import stairguard
    from stairguard.reports.data.encode import json_text

    one_form(as_json, as_csv)
    check_out(out)
    found = stairguard.inspect(source(job), rules=rules)
    written = "" if out is None else written_words(stairguard.write_inspection(found, out), out)
    if as_json:
        return Answer(json_text(stairguard.inspection_result(found)), found.outcome)
    return Answer(
        stairguard.findings_table(found) if as_csv else stairguard.inspection_report(found) + written, found.outcome
    )


def compare_rules(
    job: Annotated[str, typer.Argument(metavar="JOB.toml", show_default=False)],
    packs: Annotated[list[str], typer.Argument(metavar="PACK PACK...", show_default=False)],
    designed: Annotated[
        bool, typer.Option("--designed", help="The guard as laid out, where it was measured too.")
    ] = False,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
) -> Answer:
    """Hold the same guard to several rule packs, and lay the job out anew under each."""
    import stairguard
    from stairguard.reports.data.encode import json_text

    one_form(as_json, as_csv)
    found = stairguard.compare_rules(source(job), packs, designed=designed)
    outcome = worst(each.outcome for each in found.inspections)
    if as_json:
        return Answer(json_text(stairguard.comparison_result(found)), outcome)
    return Answer(stairguard.comparison_table(found) if as_csv else stairguard.comparison_report(found), outcome)
