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
from collections.abc import Iterable, Sequence
from contextlib import suppress
from typing import Annotated, Any, Final, NoReturn, TextIO, cast

import typer

from stairguard import __version__
from stairguard.cli.give_command import give
from stairguard.cli.inspect_command import AsCsv, compare_rules, inspect, one_form
from stairguard.cli.opening_command import opening
from stairguard.cli.options import (
    Answer,
    AsJson,
    Unit,
    Words,
    check_out,
    option,
    plain,
    renamed_call,
    seldom_collecting,
    source,
    written_words,
)
from stairguard.cli.rules_command import rules
from stairguard.cli.signals import StoppedError, stoppable
from stairguard.errors import Fault, InputError, OutputError, StairguardError
from stairguard.model.outcome import Outcome, of_passes

__all__ = ["app", "main"]

BAD_INPUT, PROGRAM_FAULT = 2, 70

_STATUS: Final[dict[Outcome, int]] = {"complies": 0, "does not comply": 1, "too close to call": 3, "incomplete": 3}

_LONGEST_SAID: Final = 200
_NO_ROOM: Final = (errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC))

# The class is not exported where Typer carries its own parser, and not there where it does not.
_ParserError: Final = cast(type[Exception], typer.BadParameter.__mro__[2])

app = typer.Typer(
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="Geometry of stair guards filled with tensioned strands. Codes and engineers decide the rest.",
)


def _version(asked: bool) -> None:
    if asked:
        typer.echo(f"stairguard {__version__}")
        raise typer.Exit


@app.callback()
def _of_all(
    version: Annotated[
        bool, typer.Option("--version", help="Tell the version.", callback=_version, is_eager=True)
    ] = False,
) -> None:
    """Take what goes before a command."""


@app.command()
def layout(
    job: Annotated[Words, typer.Argument(metavar="[JOB.toml]", show_default=False)] = None,
    out: Annotated[Words, typer.Option(metavar="FOLDER", help="Write drawings and lists there.")] = None,
    date: Annotated[Words, typer.Option(metavar="YYYY-MM-DD", help="In the title block; else today.")] = None,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
) -> Answer:
    """Lay out a guard from a job file, or the one that ships with the package."""
    import stairguard
    from stairguard.io.write import folder
    from stairguard.reports.data.encode import json_text

    one_form(as_json, as_csv)
    day = renamed_call(folder.read_date, date)
    check_out(out)
    checked = stairguard.lay_out(stairguard.built_in_job() if job is None else stairguard.read_job(source(job)))
    told, outcome = stairguard.tell(checked), of_passes(checked.passes)
    example = job is None
    written = () if out is None else stairguard.write(told, out, date=day, example=example)
    if as_json:
        return Answer(json_text(stairguard.result(told)), outcome)
    if as_csv:
        return Answer(stairguard.findings_table(told), outcome)
    if out is None:
        return Answer(stairguard.report(told, example=example), outcome)
    from stairguard.reports.page.guard.layout_page import report_head

    return Answer(f"{report_head(told, example=example)}{written_words(written, out)}", outcome)


app.command()(opening)
app.command()(give)
app.command()(rules)
app.command()(inspect)
app.command()(compare_rules)


@app.command()
def transition(
    rise: Annotated[Words, option("Rise of the steps, plumb. Needed.")] = None,
    run: Annotated[Words, option("Run, nosing to nosing, level. Needed.")] = None,
    flight_height: Annotated[Words, option("Top of rail above the nosing line, plumb. Needed.")] = None,
    landing_height: Annotated[Words, option("Top of rail above the landing, plumb. Needed.")] = None,
    at: Annotated[Words, typer.Option(metavar="top|bottom", help="Which end of the flight. Needed.")] = None,
    post_at: Annotated[Words, option("A post's level distance from that nosing, uphill positive.")] = None,
    unit: Unit = "in",
    as_json: AsJson = False,
) -> Answer:
    """Find where a flight's rail meets a landing's."""
    from stairguard.io.parse.arguments import read_transition
    from stairguard.reports.data.encode import json_text
    from stairguard.reports.data.relation_data import transition_data
    from stairguard.reports.page.asked import relation_page
    from stairguard.solve.joint.transition import transition as solve

    given = {
        "rise": rise,
        "run": run,
        "flight_height": flight_height,
        "landing_height": landing_height,
        "post_at": post_at,
    }
    of, asked, end = renamed_call(read_transition, given, at, unit)
    sizes = (asked[key] for key in ("rise", "run", "flight_height", "landing_height"))
    answer = renamed_call(solve, *sizes, end, asked.get("post_at"))
    if as_json:
        return Answer(json_text(transition_data(answer, of)))
    return Answer(relation_page.transition_text(answer, asked, of))


@app.command()
def relation(
    name: Annotated[Words, typer.Argument(metavar="[NAME]", show_default=False)] = None,
    known: Annotated[list[str] | None, typer.Argument(metavar="[KEY=VALUE]...", show_default=False)] = None,
    find: Annotated[Words, typer.Option(metavar="SYMBOL", help="The symbol to solve for.")] = None,
    unit: Unit = "in",
    as_json: AsJson = False,
) -> Answer:
    """List the formulas, show one, or solve one for any of its symbols."""
    import stairguard
    from stairguard.io.parse.arguments import read_unit
    from stairguard.reports.data.encode import json_text
    from stairguard.reports.data.relation_data import relation_data, relations_data, solution_data
    from stairguard.reports.page.asked import relation_page

    of = renamed_call(read_unit, unit)
    if name is None:
        all_of_them = [stairguard.describe_relation(each) for each in stairguard.relation_names()]
        if as_json:
            return Answer(json_text(relations_data(all_of_them)))
        return Answer(relation_page.relations_text(all_of_them))
    one = stairguard.describe_relation(name)
    if not known and find is None:
        return Answer(json_text(relation_data(one)) if as_json else relation_page.relation_text(one, of))
    if find is None:
        raise InputError(Fault("--find", f"a symbol of {name}: {', '.join(s.name for s in one.symbols)}", ""))
    found = stairguard.solve_relation(name, find, _pairs(known or ()), unit=of)
    kind = next(symbol.kind for symbol in one.symbols if symbol.name == find)
    if as_json:
        return Answer(json_text(solution_data(found, kind, of)))
    return Answer(relation_page.solution_text(found, kind, of))


@app.command()
def starter(path: Annotated[str, typer.Argument(metavar="PATH", show_default=False)]) -> Answer:
    """Write a commented job file, to standard output where PATH is "-"; it never overwrites."""
    from stairguard import starter_text, write_starter

    if path == "-":
        return Answer(starter_text())
    write_starter(path)
    return Answer(f"Written: {plain(path)}\n")


def _pairs(texts: Iterable[str]) -> dict[str, object]:
    """Split ``key=value`` arguments, every bad one a fault."""
    pairs: dict[str, object] = {}
    faults: list[Fault] = []
    for text in texts:
        key, equals, value = text.partition("=")
        if not equals or not key:
            faults.append(Fault("argument", "SYMBOL=VALUE", text))
        elif key in pairs:
            faults.append(Fault(key, "given once", f"{pairs[key]} and {value}"))
        else:
            pairs[key] = value
    if faults:
        raise InputError(*faults)
    return pairs


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit status; the one place where errors end."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    try:
        with stoppable(), seldom_collecting():
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
        answer = app(given or ["--help"], prog_name="stairguard", standalone_mode=False)
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
    from stairguard.io.read.toml_table import nearest

    option, context = str(getattr(error, "option_name", "")), getattr(error, "ctx", None)
    if type(error).__name__ == "NoSuchOption" and context is not None:
        known = [name for parameter in context.command.params for name in parameter.opts if name[0] == "-"]
        near = nearest(option, [*known, "--help"])
        return str(Fault(option, f'a known option (the nearest is "{near}")', "an unknown one"))
    message = error.format_message()
    if "No such command" in message:
        functions = (command.callback for command in app.registered_commands)
        commands = [function.__name__.replace("_", "-") for function in functions if function]
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
