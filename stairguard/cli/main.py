"""The command line, a client of the public functions: each command reads, calls one, and hands back text.

`main` prints it. Exit status: 0 all that was to be judged complies; 1 something does not; 2 bad input, or nowhere to
write; 3 nothing fails, but something is too close to call or was not measured; 70 a fault of the program; 128 and the
signal's number where it was stopped.
"""

from __future__ import annotations

import atexit
import errno
import os
import sys
from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from typing import Annotated, Any, Final, NoReturn, TextIO, cast

import typer

from stairguard import __version__
from stairguard.cli.give_command import give
from stairguard.cli.inspect_command import compare_rules, inspect
from stairguard.cli.layout_command import layout
from stairguard.cli.opening_command import opening
from stairguard.cli.options import Answer, plain, seldom_collecting
from stairguard.cli.relation_command import relation
from stairguard.cli.rules_command import rules
from stairguard.cli.signals import StoppedError, stoppable
from stairguard.cli.starter_command import starter
from stairguard.cli.transition_command import transition
from stairguard.errors import Fault, OutputError, StairguardError, nearest
from stairguard.model.outcome import Outcome

BAD_INPUT, PROGRAM_FAULT = 2, 70

_STATUS: Final[dict[Outcome, int]] = {"complies": 0, "does not comply": 1, "too close to call": 3, "incomplete": 3}

_LONGEST_SAID: Final = 200
_NO_ROOM: Final = (errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC))

# The class is not exported where Typer carries its own parser, and not there where it does not.
_ParserError: Final = cast(type[Exception], typer.BadParameter.__mro__[2])

_COMMANDS: Final[dict[str, Callable[..., Answer]]] = {
    command.__name__.replace("_", "-"): command
    for command in (layout, opening, give, rules, inspect, compare_rules, transition, relation, starter)
}
"""In the order in which help lists them."""


def _version(asked: bool) -> None:
    if asked:
        typer.echo(f"stairguard {__version__}")
        raise typer.Exit


def _of_all(
    version: Annotated[
        bool, typer.Option("--version", help="Tell the version.", callback=_version, is_eager=True)
    ] = False,
) -> None:
    """Take what goes before a command."""


def _line(given: Sequence[str]) -> typer.Typer:
    """The command line of the one command that is asked for, or of all: to build each of them takes time."""
    line = typer.Typer(
        add_completion=False,
        pretty_exceptions_enable=False,
        rich_markup_mode=None,
        help="Geometry of stair guards filled with tensioned strands. Codes and engineers decide the rest.",
    )
    line.callback()(_of_all)
    asked = _COMMANDS.get(given[0])
    for command in _COMMANDS.values() if asked is None else (asked,):
        line.command()(command)
    return line


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit status; the one place where errors end."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    try:
        with stoppable(), seldom_collecting(to_the_end=arguments is None):
            return _run(given)
    except StoppedError as stopped:
        if arguments is None:
            _leave(stopped.status)
        return stopped.status
    except SystemExit:  # the parser ends so where the reader of its help has gone
        return 0
    except Exception as error:  # whatever it is, the person who runs this can do nothing about it
        if isinstance(error, OSError) and error.errno in _NO_ROOM:
            with suppress(OutputError):
                _print("")  # what help has left in the buffer would be tried again at exit, and end with another status
            _complain([str(Fault("what is written", "somewhere with room for it", error.strerror))])
            return BAD_INPUT
        _complain([_fault_of_the_program(error)])
        return PROGRAM_FAULT


def _run(given: list[str]) -> int:
    try:
        typed = given or ["--help"]
        answer = _line(typed)(typed, prog_name="stairguard", standalone_mode=False)
        if not isinstance(answer, Answer):
            return int(answer or 0)  # --help and --version print for themselves
        _print(answer.text)
        return _STATUS[answer.outcome]
    except StairguardError as error:
        _complain(str(fault) for fault in error.faults)
    except _ParserError as error:
        _complain([_usage(error)])
    return BAD_INPUT


def _leave(status: int) -> NoReturn:
    """End the process where it stands, all that was begun cleaned up.

    A library that was stopped in the middle of being loaded may not bear to be taken down as usual: the interpreter
    then ends with a fatal error instead of the status.
    """
    atexit._run_exitfuncs()
    for stream in (sys.stdout, sys.stderr):
        with suppress(AttributeError, OSError, ValueError):  # closed, or nobody there
            stream.flush()
    os._exit(status)


def _fault_of_the_program(error: Exception) -> str:
    """One line: that it is no fault of the job, where in the program it is, and how to report it."""
    import traceback

    frames = traceback.extract_tb(error.__traceback__)
    own = [frame for frame in frames if f"{os.sep}stairguard{os.sep}" in frame.filename] or frames
    at = f"{own[-1].filename.rpartition(f'{os.sep}stairguard{os.sep}')[2]} line {own[-1].lineno}" if own else "no line"
    said = f"{type(error).__name__}: {str(error)[:_LONGEST_SAID]}".rstrip(": ")
    return (
        f"stairguard {__version__}: a fault of the program, not of what was asked ({said}, in {at}). No result may be "
        "relied on. Please report it: give this line, the command as typed, and the job file."
    )


def _usage(error: Any) -> str:  # the parser's classes are not public
    """One line for what the parser refused; an unknown option or command names the nearest."""
    option, context = str(getattr(error, "option_name", "")), getattr(error, "ctx", None)
    if type(error).__name__ == "NoSuchOption" and context is not None:
        known = [name for parameter in context.command.params for name in parameter.opts if name[0] == "-"]
        near = nearest(option, [*known, "--help"])
        return str(Fault(option, f'a known option (the nearest is "{near}")', "an unknown one"))
    message = error.format_message()
    if "No such command" in message:
        commands = list(_COMMANDS)
        word = message.split("'")[1] if "'" in message else message
        must = f'one of {", ".join(commands)} (the nearest is "{nearest(word, commands)}")'
        return str(Fault("command", must, word))
    return f"command line: {message}"


def _complain(lines: Iterable[str]) -> None:
    if sys.stderr is None:  # closed from the start
        return
    try:
        for line in lines:
            print(plain(line), file=sys.stderr)  # noqa: T201  # this is where errors are shown
    except OSError:  # nobody there to be told
        _drop(sys.stderr)


def _print(text: str) -> None:
    """Write to standard output, whatever its encoding; a reader who has gone is no error.

    Raises
    ------
    OutputError
        It takes no more: a full disk.
    """
    if sys.stdout is None:  # closed from the start: nobody asked to read
        return
    try:
        if hasattr(sys.stdout, "reconfigure"):
            sys.stdout.reconfigure(errors="replace")
        sys.stdout.write(text)
        sys.stdout.flush()
    except BrokenPipeError:
        _drop(sys.stdout)
    except OSError as error:
        _drop(sys.stdout)
        raise OutputError(Fault("standard output", "somewhere with room to write", error.strerror or error)) from None


def _drop(stream: TextIO) -> None:
    """Let a stream lead nowhere, or Python flushes it again at exit, and complains."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
