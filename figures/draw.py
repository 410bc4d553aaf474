"""Draws the pictures of README.md: ``python figures/draw.py``, where stairguard is installed.

Beside every picture stands a record, ``NAME.json``: the digest of the drawing's primitives, and of each file
painted from them. A test compares both, so a drawing that changes without its picture is noticed.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from fractions import Fraction
from functools import partial
from pathlib import Path
from typing import Final

from stairguard import sides_opening, strand_give
from stairguard.api.deflection import pictures
from stairguard.io.parse.exact_lengths import format_length
from stairguard.io.read.job_file import built_in_job, read_job
from stairguard.reports.drawing.elevation.elevation_sheets import elevation
from stairguard.reports.drawing.opening.opening_sheet import opening_sheet
from stairguard.reports.drawing.paper.scene import Sheet, as_record
from stairguard.reports.words.uncertainty_words import rule_words, sure_words
from stairguard.rules.findings.checks import check
from stairguard.rules.findings.designed import tell
from stairguard.rules.pack.reader import read_rules
from stairguard.solve.lay_out import lay_out

HERE: Final = Path(__file__).parent
DATE: Final = "2026-01-15"
"""On every picture, so that a picture drawn again is the same."""

EXAMPLES: Final = HERE.parent / "shared" / "examples"
ENDINGS: Final = (".png", ".svg")


def _guard(path: Path | None, name: str = "elevation") -> Sheet:
    """Return one sheet of a job's drawing; of the job that ships with the package without a path."""
    job = built_in_job() if path is None else read_job(path)

    def fmt(length: Fraction | float) -> str:
        return format_length(length, job.unit, job.mark)

    checked = check(lay_out(job, read_rules(job.rules, job.unit)))
    return next(drawn for drawn in elevation(tell(checked, fixes=False), DATE, fmt) if drawn.name == name)


def _gap() -> Sheet:
    """Return the sheet of a four-sided gap beside a newel, by its sides and one diagonal as a tape gave them."""
    within = "1/16in"
    sides = ("4-13/16in", "4-3/16in", "4-3/4in", "3-7/8in")
    measured = [(side, within) for side in sides]
    found = sides_opening(
        measured, diagonal=("6-1/4in", within), strand_diameter="3/16in", strand_edges=[3], limit="4in"
    )
    sure = found.uncertainty
    assert sure is not None  # every side has a +-
    return opening_sheet(
        found.outline,
        found.pockets[0],
        limit=found.limit,
        outcome=sure.verdict,
        labels={k: f'{side.removesuffix("in")}" ± 1/16"' for k, side in enumerate(sides)},
        title="Gap beside a newel",
        unit=found.unit,
        fmt=lambda length: format_length(length, found.unit, "1/16in"),
        date=DATE,
        rule=f'A sphere of 4" must not pass; decided with a {rule_words(sure, found.unit)}.',
        uncertainty=sure_words(sure, found.unit),
        others=found.pockets[1:],
    )


def _give(stem: str) -> Sheet:
    """Return a picture of one bay's give, beside the same with thicker strand."""
    found = strand_give(
        diameter="1/8in", spacing="3in", bay="42in", run_length="20ft", tension="200 lbf", tension_source="set",
        force="8 lbf", compare=["diameter=3/16in"], frame="wood", now="68 F", coldest="-10 F", warmest="100 F",
        wood="Douglas-fir, coast", moisture_from="15", moisture_to="12", post_width="3.5in",
    )  # fmt: skip
    return dict(pictures(found, None, DATE))[stem]


JOBS: Final[dict[str, Callable[[], Sheet]]] = {
    "quarry": partial(_guard, None),
    "duplex": partial(_guard, EXAMPLES / "duplex.toml"),
    "quarter-turn": partial(_guard, EXAMPLES / "quarter-turn.toml"),
    "half-turn": partial(_guard, EXAMPLES / "half-turn.toml"),
    "deck": partial(_guard, EXAMPLES / "deck-fascia.toml"),
    "deck-sections": partial(_guard, EXAMPLES / "deck-fascia.toml", "sections 1"),
    "joints": partial(_guard, EXAMPLES / "quarter-turn.toml", "joints 1"),
    "gap": _gap,
    "push": partial(_give, "push"),
    "section": partial(_give, "section"),
    "temperature": partial(_give, "temperature"),
}
"""What each picture shows."""


def sheet(name: str) -> Sheet:
    """Return the record of a picture."""
    return JOBS[name]()


def digest(drawing: Sheet) -> str:
    """Return a digest of a drawing's primitives."""
    text = json.dumps(as_record(drawing), ensure_ascii=True, sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()


def file_digest(path: Path) -> str:
    """Return a digest of a file's bytes."""
    return hashlib.sha256(path.read_bytes()).hexdigest()


def draw(name: str) -> tuple[Path, ...]:
    """Paint a picture and write its record."""
    from stairguard.io.write.render import save  # here, so that comparing records needs no matplotlib

    drawing = sheet(name)
    for path in save((drawing,), HERE, name):
        if path.suffix not in ENDINGS:
            path.unlink()  # a README shows no PDF
    painted = tuple(HERE / f"{name}{ending}" for ending in ENDINGS)
    record = {"drawing": digest(drawing), **{path.name: file_digest(path) for path in painted}}
    written = HERE / f"{name}.json"
    written.write_text(json.dumps(record, indent=2) + "\n", encoding="utf-8", newline="\n")
    return (*painted, written)


if __name__ == "__main__":
    for each in JOBS:
        for file in draw(each):
            print(file)
