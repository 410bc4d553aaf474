"""Results on disk: a folder that is complete or not there."""

from __future__ import annotations

import os
from collections.abc import Callable
from contextlib import suppress
from datetime import date as calendar
from pathlib import Path
from typing import TYPE_CHECKING

from stairguard.errors import Fault, InputError, OutputError

if TYPE_CHECKING:
    from stairguard.model.guard.told import ToldLayout

_FREE = "a new or empty folder in one that can be written"


def read_date(text: str | None) -> str:
    """Read the date for the title block, ``YYYY-MM-DD``; today where none is given."""
    if text is None:
        return calendar.today().isoformat()
    try:
        return calendar.fromisoformat(text).isoformat()
    except ValueError:
        raise InputError(Fault("date", "a date such as 2025-03-31", text)) from None


def check_folder(folder: Path) -> None:
    """Raise OutputError unless a result may be written there; writes nothing."""
    try:
        if "\0" in str(folder):
            raise ValueError("a null character in its name")
        if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
            raise OutputError(Fault(str(folder), _FREE, "something that is no folder"))
        if folder.is_dir() and any(folder.iterdir()):
            raise OutputError(Fault(str(folder), _FREE, "a folder that is not empty"))
        if not folder.parent.is_dir():
            raise OutputError(Fault(str(folder), _FREE, f"no folder {folder.parent}"))
        if not os.access(folder.parent, os.W_OK | os.X_OK):
            raise OutputError(Fault(str(folder), _FREE, f"no leave to write in {folder.parent}"))
    except (OSError, ValueError) as error:
        raise _unwritable(folder, error) from None


def write_layout(told: ToldLayout, folder: Path, date: str | None, example: bool = False) -> tuple[Path, ...]:
    """Write a layout; see `stairguard.write`."""
    day = read_date(date)
    return write_folder(folder, lambda part: _fill(told, part, day, example))


def write_folder(folder: Path, fill: Callable[[Path], None]) -> tuple[Path, ...]:
    """Have a folder filled beside the one asked for, then give it that name; its files, sorted by name.

    Whatever stops it half-way, a full disk or a signal (`stairguard.cli.signals`), leaves nothing behind.

    Raises
    ------
    OutputError
        The folder is in use or cannot be written; nothing was left behind.
    """
    folder = Path(os.path.abspath(folder))
    check_folder(folder)
    part = folder.with_name(f".{folder.name[:100]}.{os.getpid()}.{os.urandom(4).hex()}.part")  # nobody else's
    try:
        part.mkdir()  # within: a signal may come as soon as it is there
        fill(part)
        part.rename(folder)  # over an empty folder too, and never over one that has filled meanwhile
    except OSError as error:
        raise _unwritable(folder, error) from None
    finally:
        if part.exists():
            import shutil  # only after a failure

            shutil.rmtree(part, ignore_errors=True)
    return tuple(sorted(folder.iterdir()))


def write_new(target: Path, content: bytes) -> None:
    """Write a file where none is yet; whatever stops it half-way, none is left. OSError where it cannot be written."""
    try:
        with target.open("xb") as file:
            file.write(content)
    except FileExistsError:
        raise
    except BaseException:  # a signal too
        with suppress(OSError, ValueError):  # where it could not even be made
            target.unlink()
        raise


def _fill(told: ToldLayout, folder: Path, day: str, example: bool) -> None:
    # Here and not above: who wants only JSON or a date checked should not wait for these, matplotlib least.
    from stairguard.io.write.render import save
    from stairguard.reports.data.csv_lists import cuts_csv, holes_csv
    from stairguard.reports.data.encode import json_text
    from stairguard.reports.data.finding_data import findings_csv
    from stairguard.reports.data.layout_data import result
    from stairguard.reports.drawing.elevation.elevation_sheets import elevation
    from stairguard.reports.page.guard.layout_page import report
    from stairguard.reports.words.lengths import Figures

    checked, job = told.checked, told.layout.job

    save(elevation(told, day, Figures(job.unit, job.mark).tape), folder, "elevation")
    texts = {
        "cuts.csv": cuts_csv(checked),
        "holes.csv": holes_csv(checked),
        "findings.csv": findings_csv(told.inspection),
        "report.txt": report(told, example=example),
        "result.json": json_text(result(told)),
    }
    for name, text in texts.items():
        folder.joinpath(name).write_text(text, encoding="utf-8", newline="\n")


def _unwritable(folder: Path, error: OSError | ValueError) -> OutputError:
    return OutputError(Fault(str(folder), _FREE, getattr(error, "strerror", None) or str(error)))
