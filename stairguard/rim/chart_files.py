"""Charts and sections on disk: each as SVG, PNG and PDF, in a folder that is complete or not there."""

from __future__ import annotations

import os
import shutil
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from stairguard.errors import Fault, OutputError
from stairguard.rim.files import check_folder

if TYPE_CHECKING:
    from stairguard.views.scene import Sheet

__all__ = ["save_sheets", "write_sheets"]


def save_sheets(sheets: Mapping[str, Sheet], folder: Path) -> tuple[Path, ...]:
    """Paint sheets into a folder that is there.

    Parameters
    ----------
    sheets
        By file name without ending.
    folder
        An existing one; files of the same names are written over.

    Returns
    -------
    tuple of Path
        The files written: three a sheet.

    Raises
    ------
    OSError
        A file cannot be written.
    """
    from stairguard.rim.plot import save  # who asks for no picture should not wait for matplotlib

    return tuple(path for name, sheet in sheets.items() for path in save((sheet,), folder, name))


def write_sheets(sheets: Mapping[str, Sheet], folder: Path) -> tuple[Path, ...]:
    """Paint sheets into a new or empty folder: all of them or none.

    Raises
    ------
    OutputError
        The folder holds something, or cannot be written.
    """
    folder = Path(os.path.abspath(folder))
    check_folder(folder)
    part = folder.with_name(f".{folder.name[:100]}.{os.getpid()}.part")
    try:
        part.mkdir()
        save_sheets(sheets, part)
        part.rename(folder)  # over an empty folder too, and never over one that has filled meanwhile
    except OSError as error:
        raise OutputError(Fault(str(folder), "a folder that can be written", error.strerror or str(error))) from None
    finally:
        shutil.rmtree(part, ignore_errors=True)  # nothing is left of it where it was renamed
    return tuple(sorted(folder.iterdir()))
