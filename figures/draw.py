"""Draws the pictures of README.md: ``python figures/draw.py``, where stairguard is installed.

Beside every picture stands a record, ``NAME.json``: the digest of the drawing's primitives, and of each file
painted from them. A test compares both, so a drawing that changes without its picture is noticed.
"""

from __future__ import annotations

import hashlib
import json
from fractions import Fraction
from pathlib import Path
from typing import Final

from stairguard.rim.jobfile import built_in_job, read_job
from stairguard.rim.lengths import format_length
from stairguard.rules.checks import check
from stairguard.rules.read import read_rules
from stairguard.solve.layout import lay_out
from stairguard.views.elevation import elevation
from stairguard.views.scene import Sheet, as_record

HERE: Final = Path(__file__).parent
DATE: Final = "2026-01-15"
"""On every picture, so that a picture drawn again is the same."""

EXAMPLES: Final = HERE.parent / "shared" / "examples"
JOBS: Final[dict[str, Path | None]] = {  # None: the job that ships with the package
    "quarry": None,
    "duplex": EXAMPLES / "duplex.toml",
}
ENDINGS: Final = (".png", ".svg")


def sheet(name: str) -> Sheet:
    """Return the record of a picture: the first sheet of its job's elevation."""
    path = JOBS[name]
    job = built_in_job() if path is None else read_job(path)

    def fmt(length: Fraction | float) -> str:
        return format_length(length, job.unit, job.mark)

    checked = check(lay_out(job, read_rules(job.rules, job.unit)))
    return elevation(checked, DATE, fmt)[0]


def digest(drawing: Sheet) -> str:
    """Return a digest of a drawing's primitives."""
    text = json.dumps(as_record(drawing), ensure_ascii=True, sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()


def file_digest(path: Path) -> str:
    """Return a digest of a file's bytes."""
    return hashlib.sha256(path.read_bytes()).hexdigest()


def draw(name: str) -> tuple[Path, ...]:
    """Paint a picture and write its record."""
    from stairguard.rim.plot import save  # here, so that comparing records needs no matplotlib

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
