"""What the commands share: their answer, their options, and words made fit to print."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, Final, TypeAlias

import typer

from stairguard.errors import Fault, InputError, StairguardError
from stairguard.model.outcome import Outcome
from stairguard.reading import AlreadyRead

_MOST_INPUT: Final = 16_000_000  # the largest file that any command reads
_SELDOM: Final = 200_000  # objects made, less those gone, before the next look for dead cycles among them

Words: TypeAlias = str | None
Unit = Annotated[str, typer.Option(metavar="in|mm", help="The unit of bare lengths and of the answer.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON object.")]
AsCsv = Annotated[bool, typer.Option("--csv", help="Print comma-separated values, a line a finding.")]


def option(help_text: str, name: str | None = None, metavar: str = "LENGTH") -> Any:  # Typer's own type
    """Declare an option that takes a length, or what ``metavar`` says."""
    names = () if name is None else (name,)
    return typer.Option(*names, help=help_text, metavar=metavar, show_default=False)


@dataclass(frozen=True, slots=True)
class Answer:
    """What a command has to say: for standard output, and what came of all that was judged."""

    text: str
    outcome: Outcome = "complies"


def renamed_call(function: Any, *arguments: Any, **named: Any) -> Any:  # any public function, or reader
    """Call a function whose faults name arguments, and have them name the options instead."""
    try:
        return function(*arguments, **named)
    except StairguardError as error:
        raise type(error)(
            *(Fault("--" + fault.where.replace("_", "-"), fault.must, fault.got) for fault in error.faults)
        ) from None


def check_unit(unit: str) -> None:
    """Raise InputError for a unit that is none, before anything is read by it."""
    from stairguard.io.parse.arguments import read_unit

    renamed_call(read_unit, unit)


def one_form(as_json: bool, as_csv: bool) -> None:
    """Refuse two forms of one answer."""
    if as_json and as_csv:
        raise InputError(Fault("--csv", "left out with --json", "both"))


def plain(text: str) -> str:
    """Put text on one line, without what could move a terminal's cursor or turn its direction."""
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())


def source(name: str) -> str | AlreadyRead:
    """The file of a name, or what stands on standard input where the name is ``-``, which is read at once."""
    if name != "-":
        return name
    stream = getattr(sys.stdin, "buffer", None)
    if stream is None:
        raise InputError(Fault("-", "standard input that is open", "a closed one"))
    try:
        return AlreadyRead("standard input", stream.read(_MOST_INPUT + 1))
    except OSError as error:  # a folder, for one
        raise InputError(Fault("-", "standard input that can be read", error.strerror or error)) from None


def check_out(out: str | None) -> None:
    """Raise OutputError unless a result may be written to a folder asked for."""
    if out is not None:
        from stairguard.io.write.folder import check_folder

        check_folder(Path(os.path.abspath(out)))


def written_words(paths: Iterable[Path], out: str) -> str:
    """What was written, and where."""
    return "\n  ".join([f"\nWritten to {plain(out)}:", *(path.name for path in paths)]) + "\n"


@contextmanager
def seldom_collecting(to_the_end: bool = False) -> Iterator[None]:
    """Look for dead cycles seldom: what a command loads and makes lives to its end, and the looks delay its answer.

    Where the process goes ``to_the_end`` with it, what there is then is not looked through on the way out either.
    """
    before = gc.get_threshold()
    gc.set_threshold(_SELDOM, *before[1:])
    try:
        yield
    finally:
        if to_the_end:
            gc.freeze()
        gc.set_threshold(*before)
