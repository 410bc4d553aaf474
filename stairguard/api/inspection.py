"""Public functions: guards as measured, and one guard under several packs."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from stairguard.errors import GeometryError, JobError
from stairguard.io.parse.types import texts

if TYPE_CHECKING:
    from stairguard.model.comparison import Anew, RulesCompared, SurfaceStrands
    from stairguard.model.findings import Inspection
    from stairguard.model.guard.solved_layout import CheckedLayout
    from stairguard.reading import Source


def inspect(path: Source, *, rules: str | None = None) -> Inspection:
    """Hold a guard as measured to the rules.

    Parameters
    ----------
    path
        A job file with ``[[measured]]``, a table a figure taken on the guard; `starter_text` shows the keys.
    rules
        A pack, by name or path, in place of the file's.

    Returns
    -------
    Inspection
        A finding a rule and place, the gravest first, lengths in the file's unit. ``passes``: nothing that binds
        fails, and nothing of it is too close to call.

    Raises
    ------
    JobError, PackError
        The file or the rules cannot be read: one fault a mistake.
    """
    from stairguard.io.read.survey_file import read_survey
    from stairguard.rules.findings.surveyed import inspect_survey
    from stairguard.rules.pack.reader import read_rules

    survey = read_survey(path, rules)
    return inspect_survey(survey, read_rules(survey.rules, survey.unit))


def write_inspection(inspection: Inspection, folder: str | Path) -> tuple[Path, ...]:
    """Write an inspection's page, table and data into a folder, complete or not at all.

    Parameters
    ----------
    inspection
        From `inspect`.
    folder
        Must not exist, or be empty; the folder it goes into must exist.

    Returns
    -------
    tuple of Path
        The files, sorted by name.

    Raises
    ------
    OutputError
        The folder is in use or cannot be written; nothing was left behind.
    """
    from stairguard.io.write.folder import write_folder
    from stairguard.reports.data.encode import json_text
    from stairguard.reports.data.finding_data import findings_csv, inspection_result
    from stairguard.reports.page.rules.inspection_page import inspection_report

    files = {
        "findings.csv": findings_csv(inspection),
        "inspection.json": json_text(inspection_result(inspection)),
        "report.txt": inspection_report(inspection),
    }

    def fill(part: Path) -> None:
        for name, text in files.items():
            part.joinpath(name).write_text(text, encoding="utf-8", newline="\n")

    return write_folder(Path(folder), fill)


def compare_rules(path: Source, packs: Sequence[str], *, designed: bool = False) -> RulesCompared:
    """Hold one guard to several packs, and lay it out anew under each.

    Parameters
    ----------
    path
        A job file. With ``[[measured]]`` the guard is taken as measured, and not laid out.
    packs
        Their names or paths.
    designed
        Take the guard as the file's own rules lay it out, though it was measured too.

    Returns
    -------
    RulesCompared
        An inspection a pack, and of a guard that was laid out how it comes out anew under each, or why it cannot.

    Raises
    ------
    JobError, PackError, GeometryError
        As `lay_out` and `inspect`.
    """
    from stairguard.io.read.toml_file import load

    names = texts(packs, "packs", "a list of names or paths of packs")
    measured = not designed and "measured" in load(path)
    return _measured(path, names) if measured else _designed(path, names)


def _measured(path: Source, packs: Sequence[str]) -> RulesCompared:
    from stairguard.io.read.survey_file import read_survey
    from stairguard.model.comparison import RulesCompared
    from stairguard.rules.findings.surveyed import inspect_survey
    from stairguard.rules.pack.reader import read_rules

    survey = read_survey(path)
    found = tuple(inspect_survey(survey, read_rules(name, survey.unit)) for name in packs)
    return RulesCompared(title=survey.title, unit=survey.unit, made_by="", inspections=found, anew=())


def _designed(path: Source, packs: Sequence[str]) -> RulesCompared:
    from stairguard.io.read.job_file import read_job
    from stairguard.model.comparison import RulesCompared
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
    from stairguard.io.read.job_file import read_job
    from stairguard.model.comparison import Anew
    from stairguard.rules.findings.checks import check
    from stairguard.rules.pack.reader import read_rules
    from stairguard.solve.lay_out import lay_out

    try:
        job = read_job(path, {"rules": pack})
        checked = check(lay_out(job, read_rules(pack, job.unit)))
    except (JobError, GeometryError) as error:
        return Anew(pack, False, (), str(error))
    return Anew(pack, checked.passes, _strung(checked))


def _strung(checked: CheckedLayout) -> tuple[SurfaceStrands, ...]:
    from stairguard.model.comparison import SurfaceStrands

    layout = checked.layout
    return tuple(
        SurfaceStrands(
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
