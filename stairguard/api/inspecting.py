"""Inspections and comparisons of rule packs: read, solve, hold to the rules, write."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from stairguard.errors import GeometryError, JobError
from stairguard.io.parse.types import texts
from stairguard.io.read.job_file import read_job
from stairguard.io.read.survey_file import read_survey
from stairguard.io.read.toml_file import load
from stairguard.io.write.folder import write_folder
from stairguard.model.comparison import Anew, RulesCompared, Strung
from stairguard.model.findings import Inspection
from stairguard.model.guard.solved_layout import CheckedLayout
from stairguard.reading import Source

__all__ = ["compare_rules", "inspect", "write_inspection"]


def inspect(path: Source, rules: str | None = None) -> Inspection:
    """Hold a guard as measured to its rules; see `stairguard.inspect`."""
    from stairguard.rules.findings.surveyed import inspect_survey
    from stairguard.rules.pack.reader import read_rules

    survey = read_survey(path, rules)
    return inspect_survey(survey, read_rules(survey.rules, survey.unit))


def compare_rules(path: Source, packs: Sequence[str], designed: bool = False) -> RulesCompared:
    """Hold one guard to several packs; see `stairguard.compare_rules`."""
    names = texts(packs, "packs", "a list of names or paths of packs")
    measured = not designed and "measured" in load(path)
    return _measured(path, names) if measured else _designed(path, names)


def _measured(path: Source, packs: Sequence[str]) -> RulesCompared:
    from stairguard.rules.findings.surveyed import inspect_survey
    from stairguard.rules.pack.reader import read_rules

    survey = read_survey(path)
    found = tuple(inspect_survey(survey, read_rules(name, survey.unit)) for name in packs)
    return RulesCompared(title=survey.title, unit=survey.unit, made_by="", inspections=found, anew=())


def _designed(path: Source, packs: Sequence[str]) -> RulesCompared:
    from stairguard.rules.findings.checks import check
    from stairguard.rules.findings.designed import inspect_layout
    from stairguard.rules.pack.reader import read_rules
    from stairguard.solve.lay_out import lay_out_under

    job = read_job(path)
    rules = [read_rules(name, job.unit) for name in packs]
    layouts = lay_out_under(job, read_rules(job.rules, job.unit), rules)
    found = tuple(inspect_layout(check(layout)) for layout in layouts)
    return RulesCompared(
        title=job.title,
        unit=job.unit,
        made_by=job.rules,
        inspections=found,
        anew=tuple(_anew(path, name) for name in packs),
    )


def _anew(path: Source, pack: str) -> Anew:
    """The job laid out from the start under a pack, or why it cannot be."""
    from stairguard.rules.findings.checks import check
    from stairguard.rules.pack.reader import read_rules
    from stairguard.solve.lay_out import lay_out

    try:
        job = read_job(path, {"rules": pack})
        checked = check(lay_out(job, read_rules(pack, job.unit)))
    except (JobError, GeometryError) as error:
        return Anew(pack, False, (), str(error))
    return Anew(pack, checked.passes, _strung(checked))


def _strung(checked: CheckedLayout) -> tuple[Strung, ...]:
    layout = checked.layout
    return tuple(
        Strung(
            surface=surface.index,
            kind=surface.kind,
            rail_height=float(rail.height),
            count=len(field.heights),
            spacing=field.square_spacing,
            lowest=float(field.heights[-1]),
        )
        for surface, rail, field in zip(layout.line.surfaces, layout.rails, layout.fields, strict=True)
        if field.heights
    )


def write_inspection(inspection: Inspection, folder: Path) -> tuple[Path, ...]:
    """Write an inspection's page, table and data; see `stairguard.write_inspection`."""
    from stairguard.reports.data.encode import json_text
    from stairguard.reports.data.finding_data import findings_csv, inspection_data
    from stairguard.reports.page.rules.inspection_page import inspection_text

    texts = {
        "findings.csv": findings_csv(inspection),
        "inspection.json": json_text(inspection_data(inspection)),
        "report.txt": inspection_text(inspection),
    }

    def fill(part: Path) -> None:
        for name, text in texts.items():
            part.joinpath(name).write_text(text, encoding="utf-8", newline="\n")

    return write_folder(folder, fill)
