"""Files that are read whole: regular ones, of a size that is sensible; never one that would be waited for."""

from __future__ import annotations

import os
import stat
from dataclasses import dataclass
from pathlib import Path
from typing import TypeAlias


@dataclass(frozen=True, slots=True)
class AlreadyRead:
    """What was read already, and what to call it: standard input can be read once only."""

    name: str
    content: bytes


Source: TypeAlias = str | Path | AlreadyRead


class UnreadableError(Exception):
    """A file that cannot be read; the text says why."""


class TooLargeError(UnreadableError):
    """A file of more bytes than asked for."""


def name_of(source: Source) -> str:
    """What to call a source where it is refused."""
    return source.name if isinstance(source, AlreadyRead) else str(source)


def read_bytes(source: Source, most: int) -> bytes:
    """Read a file of at most so many bytes.

    Raises
    ------
    UnreadableError
        There is no such file, it is none, or it may not be read.
    TooLargeError
        It is larger.
    """
    try:
        content = source.content if isinstance(source, AlreadyRead) else _read(Path(source), most)
    except TypeError:
        raise UnreadableError("no path") from None
    if len(content) > most:
        raise TooLargeError("a larger one")
    return content


def _read(path: Path, most: int) -> bytes:
    try:
        _refuse(path.stat().st_mode)  # before it is opened: opening a device may set it going
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
        with open(handle, "rb") as file:
            _refuse(os.fstat(handle).st_mode)  # it may have become another
            return file.read(most + 1)
    except (OSError, ValueError) as error:  # ValueError: a null byte in the path
        raise UnreadableError(getattr(error, "strerror", None) or str(error)) from None


def _refuse(mode: int) -> None:
    if stat.S_ISDIR(mode):
        raise UnreadableError("a folder")
    if not stat.S_ISREG(mode):
        what = "a named pipe" if stat.S_ISFIFO(mode) else "a socket" if stat.S_ISSOCK(mode) else "a device"
        raise UnreadableError(f"{what}, which is no file")
