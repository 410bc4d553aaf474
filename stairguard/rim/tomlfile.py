"""TOML files read into plain tables, whose decimals stay decimals."""

from __future__ import annotations

import tomllib
from decimal import Decimal
from typing import Final

from stairguard.errors import Fault, JobError
from stairguard.reading import Source, TooLargeError, UnreadableError, name_of, read_bytes

__all__ = ["load", "parse"]

_LARGEST_FILE: Final = 1_000_000


def load(source: Source) -> dict[str, object]:
    """Read a TOML file; its decimals stay decimals.

    Raises
    ------
    JobError
        No such file, not a file, not readable, larger than a megabyte, not UTF-8, or not TOML.
    """
    where = name_of(source)
    try:
        content = read_bytes(source, _LARGEST_FILE)
    except TooLargeError as error:
        raise JobError(Fault(where, "a job file of at most a megabyte", error)) from None
    except UnreadableError as error:
        raise JobError(Fault(where, "a job file that can be read", error)) from None
    return parse(content, where)


def parse(content: bytes, where: str) -> dict[str, object]:
    """Parse TOML; ``where`` names its place in the JobError when it cannot be."""
    try:
        return tomllib.loads(content.decode("utf-8-sig"), parse_float=Decimal)
    except UnicodeDecodeError as error:
        raise JobError(Fault(where, "UTF-8 text", f"byte {content[error.start]:#04x}")) from None
    except RecursionError:
        raise JobError(Fault(where, "valid TOML", "brackets nested too deep")) from None
    except (ValueError, ArithmeticError) as error:  # not TOML; or a number too long to be read
        raise JobError(Fault(where, "valid TOML", error)) from None
