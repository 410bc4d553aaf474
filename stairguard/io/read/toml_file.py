"""TOML files read into plain tables, whose decimals stay decimals."""

from __future__ import annotations

import re
import tomllib
from decimal import Decimal
from typing import Final

from stairguard.errors import Fault, JobError
from stairguard.reading import Source, TooLargeError, UnreadableError, name_of, read_bytes

_AT: Final = re.compile(r"\(at line (?P<line>\d+), column (?P<column>\d+)\)")
_UNQUOTED: Final = re.compile(r"=\s*[-+]?\d[\d.]*\s*(?:-?\d*/\d|['\"a-z])")
_QUOTED: Final = ': a length with a fraction or a unit stands in quotes, as "7-1/4 in"'
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
        raise JobError(_not_toml(content, where, error)) from None


def _not_toml(content: bytes, where: str, error: Exception) -> Fault:
    """The line that is no TOML, and what most often is wrong with it; where no line is named, what the reader says."""
    at = _AT.search(str(error))
    if at is None:
        return Fault(where, "valid TOML", error)
    line = content.decode("utf-8-sig").splitlines()[int(at["line"]) - 1].strip()
    quoted = f"valid TOML ({str(error)[: at.start()].strip().lower()}){_QUOTED if _UNQUOTED.search(line) else ''}"
    return Fault(f"{where} line {at['line']}, column {at['column']}", quoted, line)
