"""How the program ends: its exit status, and what it leaves behind where it is stopped or cannot go on."""

import errno
import io
import json
import os
import resource
import signal
import subprocess
import sys
import time
from functools import partial
from pathlib import Path

import pytest

import stairguard
from stairguard.cli import main
from stairguard.cli.signals import StoppedError, stoppable
from stairguard.model.outcome import OUTCOMES, of_passes, worst
from tests.places import ROOT

STAIRGUARD = [sys.executable, "-m", "stairguard"]
EXAMPLES = ROOT / "shared" / "examples"
PATIENCE = 120  # seconds: more than a slow machine takes, and nothing when all is well


def _unmuted():
    """Have the signals that end a program heard, as from a terminal: what starts the tests may ignore some."""
    for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
        signal.signal(number, signal.SIG_DFL)


@pytest.fixture(scope="module")
def landing(tmp_path_factory):
    """A job that is soon laid out: one landing, held to a push."""
    before, between, surfaces = (EXAMPLES / "belvedere-taut.toml").read_text(encoding="utf-8").partition("[[surface]]")
    path = tmp_path_factory.mktemp("landing") / "landing.toml"
    path.write_text(before + between + surfaces.partition("[[surface]]")[0], encoding="utf-8")
    return path


def start(*arguments, cwd, **more):
    environment = os.environ | {"PYTHONPATH": str(ROOT)}
    return subprocess.Popen(
        [*STAIRGUARD, *map(str, arguments)], cwd=cwd, env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        text=True, **({"preexec_fn": _unmuted} | more),
    )  # fmt: skip


def end(process):
    out, err = process.communicate(timeout=PATIENCE)
    assert "Traceback" not in err
    return process.returncode, out, err.splitlines()


def test_the_gravest_outcome_is_first():
    assert worst(OUTCOMES) == "does not comply"
    assert worst(["complies", "incomplete", "too close to call"]) == "too close to call"
    assert worst(["complies", "incomplete"]) == "incomplete"
    assert worst([]) == "complies"
    assert [of_passes(passes) for passes in (True, None, False)] == ["complies", "complies", "does not comply"]


# Rise 7.25, run 10.5, lift 1: the sphere is 5.82664 by the closed form; a sixteenth on the rise moves it by 0.03.
STEP = ("opening", "--rise", "7.25in +- 1/16in", "--run", "10.5in", "--lift", "1in")


@pytest.mark.parametrize(
    ("limit", "status", "outcome", "exact"),
    [
        ("6.5in", 0, "complies", "it would be stopped"),
        ("5.83in", 3, "too close to call", "it would be stopped"),
        ("5.82in", 3, "too close to call", "it would go through"),
        ("5in", 1, "does not comply", "it would go through"),
        (None, 0, None, None),
    ],
)
def test_an_opening_too_close_to_call_is_status_3(run, limit, status, outcome, exact):
    limited = () if limit is None else ("--limit", limit)
    got, out, lines = run(*STEP, *limited, "--json")
    data = json.loads(out)
    assert (got, lines, data["outcome"]) == (status, [], outcome)
    assert data["passes"] is (None if limit is None else status == 0)
    got, page, _ = run(*STEP, *limited)
    assert got == status
    assert exact is None or f"Were the figures exact, {exact}." in " ".join(page.split())
    assert page.startswith("Largest sphere" if outcome is None else outcome.upper())


SURVEY = """
unit = "in"
rules = "irc-2021"

[inspection]
plus_minus = "1/16 in"

[[surface]]
kind = "landing"
length = 60

[[measured]]
what = "guard height"
surface = 1
value = "{height}"
"""
OPENING = """
[[measured]]
what = "opening"
surface = 1
value = "3-1/2 in"
"""


@pytest.mark.parametrize(
    ("text", "status", "outcome"),
    [
        (SURVEY.format(height="36-1/2 in") + OPENING, 0, "complies"),
        (SURVEY.format(height="36-1/32 in") + OPENING, 3, "too close to call"),
        (SURVEY.format(height="36-1/2 in"), 3, "incomplete"),
        (SURVEY.format(height="36-1/2 in").partition("[[measured]]")[0] + OPENING, 3, "incomplete"),
        (SURVEY.format(height="35 in"), 1, "does not comply"),
        (SURVEY.format(height="36-1/32 in"), 3, "too close to call"),
    ],
)
def test_a_guard_not_measured_enough_is_status_3(run, tmp_path, text, status, outcome):
    """No height, or no opening, of a surface whose rules ask for one: nothing fails, and nothing can be said."""
    path = tmp_path / "found.toml"
    path.write_text(text, encoding="utf-8")
    for form in ((), ("--csv",), ("--json",)):
        got, out, lines = run("inspect", str(path), *form)
        assert (got, lines) == (status, [])
    data = json.loads(out)
    assert (data["outcome"], data["passes"]) == (outcome, status == 0)
    got, out, _ = run("compare-rules", str(path), "irc-2021", "none", "--json")
    assert got == status
    assert [pack["outcome"] for pack in json.loads(out)["packs"]] == [outcome, "complies"]
    assert stairguard.inspect(path).passes is (status == 0)


@pytest.mark.parametrize(("job", "status"), [("quarter-turn", 0), ("precast", 1)])
def test_a_layout_tells_its_outcome(run, job, status):
    got, out, _ = run("layout", str(EXAMPLES / f"{job}.toml"), "--json")
    data = json.loads(out)
    assert got == status
    assert (data["outcome"], data["passes"]) == (("complies", "does not comply")[status], status == 0)


COMMANDS = [
    ("layout",), ("layout", "--json"), ("give", str(EXAMPLES / "belvedere-taut.toml")),
    ("inspect", str(ROOT / "shared/inspections/orchard-back-stair.toml")), ("opening", "--spacing", "3"),
    ("compare-rules", str(EXAMPLES / "precast.toml"), "irc-2021"), ("rules",), ("relation",),
    ("transition", "--rise", "7", "--run", "10", "--flight-height", "36", "--landing-height", "36", "--at", "top"),
]  # fmt: skip


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: " ".join(map(str, command[:1])))
@pytest.mark.parametrize("error", [TypeError("unsupported"), ZeroDivisionError(), RecursionError(), KeyError("a\nb")])
def test_a_fault_of_the_program_is_status_70_and_one_line(run, monkeypatch, command, error):
    def broken(*arguments, **named):
        raise error

    monkeypatch.setattr(main, "_line", broken)
    status, out, (line,) = run(*command)
    assert (status, out) == (70, "")
    assert "a fault of the program" in line
    assert type(error).__name__ in line
    assert "test_main_ending.py" in line or ".py line" in line
    assert "report it" in line
    assert stairguard.__version__ in line


def test_a_fault_deep_in_the_program_names_its_place(run, monkeypatch):
    monkeypatch.setattr("stairguard.reports.page.guard.layout_page.surface_list", lambda *_: 1 / 0)
    status, _, (line,) = run("layout")
    assert status == 70
    assert "ZeroDivisionError: division by zero" in line


def test_the_version(run):
    assert run("--version") == (0, f"stairguard {stairguard.__version__}\n", [])


def stdin_of(monkeypatch, content):
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(content)))


def test_a_name_of_a_dash_is_standard_input(run, monkeypatch, tmp_path, landing):
    survey = ROOT / "shared/inspections/orchard-back-stair.toml"
    outline = tmp_path / "outline.csv"
    outline.write_text("x,z\n0,0\n4,0\n4,3\n0,3\n")
    lengths = tmp_path / "lengths.csv"
    lengths.write_text("A,B,4\nB,C,3\nC,A,5\n")
    for path, before, after in [
        (landing, ("layout",), ("--json",)),
        (landing, ("give",), ("--compare", "spacing=2.5in", "--json")),
        (survey, ("inspect",), ("--json",)),
        (landing, ("compare-rules",), ("irc-2021", "nz-f4as1", "--json")),
        (survey, ("compare-rules",), ("irc-2021", "nz-f4as1", "--json")),
        (outline, ("opening", "--points"), ("--json",)),
        (lengths, ("opening", "--lengths"), ("--json",)),
    ]:
        expected = run(*before, str(path), *after)
        stdin_of(monkeypatch, path.read_bytes())
        assert run(*before, "-", *after) == expected


def test_standard_input_that_is_no_job(run, monkeypatch):
    for content, said in [(b"title = ", "valid TOML"), (b"\xff", "UTF-8"), (b"#" * 1_000_001, "at most a megabyte")]:
        stdin_of(monkeypatch, content)
        status, out, (line,) = run("layout", "-")
        assert (status, out) == (2, "")
        assert line.startswith("standard input: must be ")
        assert said in line
    monkeypatch.setattr(sys, "stdin", None)
    status, _, (line,) = run("layout", "-")
    assert status == 2
    assert "standard input" in line


@pytest.mark.parametrize("kind", ["pipe", "device", "folder"])
@pytest.mark.parametrize(
    "command",
    [
        ("layout", "{}"), ("give", "{}"), ("inspect", "{}"), ("compare-rules", "{}", "irc-2021"), ("rules", "{}"),
        ("opening", "--points", "{}"), ("opening", "--lengths", "{}"),
    ],
    ids=" ".join,
)  # fmt: skip
def test_what_is_no_file_is_refused_and_not_waited_for(run, tmp_path, kind, command):
    path = tmp_path / "job.toml"
    if kind == "pipe":
        os.mkfifo(path)
    elif kind == "folder":
        path.mkdir()
    else:
        path.symlink_to("/dev/zero")
    status, out, (line,) = run(*(word.format(path) for word in command))
    assert (status, out) == (2, "")
    assert {"pipe": "a named pipe", "device": "a device", "folder": "a folder"}[kind] in line
    assert str(path) in line


def test_a_reader_who_has_gone_is_no_error(tmp_path):
    for arguments in (("layout",), ("--help",), ("give", "--help"), ("layout", "--json")):
        process = start(*arguments, cwd=tmp_path)
        process.stdout.close()
        err = process.stderr.read()
        assert (process.wait(timeout=PATIENCE), err) == (0, "")
        process.stderr.close()


@pytest.mark.parametrize("bare", [False, True])
def test_an_output_with_no_room_is_told_in_one_line(tmp_path, bare):
    """In a bare environment too, where what was not written is still in the buffer at the end."""
    around = {"PATH": os.environ["PATH"]} if bare else os.environ
    for arguments in (("layout",), ("--help",), ("--version",)):
        with open("/dev/full", "w") as full:
            done = subprocess.run(
                [*STAIRGUARD, *arguments], cwd=tmp_path, stdout=full, stderr=subprocess.PIPE, text=True, check=False,
                env={**around, "PYTHONPATH": str(ROOT)}, timeout=PATIENCE,
            )  # fmt: skip
        assert done.returncode == 2
        (line,) = done.stderr.splitlines()
        assert "No space left on device" in line


BAY = ("give", "--diameter", "1/8", "--spacing", "3", "--bay", "42", "--tension", "200")
WRITING = [
    ("layout", "landing", "--out", "out"),
    ("give", "landing", "--out", "out"),
    ("inspect", ROOT / "shared/inspections/orchard-back-stair.toml", "--out", "out"),
    (*BAY, "--out", "out"),
    ("opening", "--spacing", "3", "--strand-diameter", "1/8", "--draw", "out.svg"),
    ("starter", "out"),
]


@pytest.mark.parametrize("command", WRITING, ids=lambda command: f"{command[0]} {Path(command[1]).stem}")
def test_a_full_disk_leaves_nothing_behind(tmp_path, landing, command):
    """A limit on the size of files stands in for the disk: the system refuses the write in its midst."""

    def little_room():
        resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))

    named = [landing if word == landing.stem else word for word in command]
    process = start(*named, cwd=tmp_path, preexec_fn=little_room)
    status, _, lines = end(process)
    assert status == 2
    assert len(lines) == 1
    assert "File too large" in lines[0]
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EIO, errno.EDQUOT])
def test_a_write_that_fails_half_way_leaves_nothing_behind(refuse, tmp_path, monkeypatch, code):
    real = Path.write_text

    def full(path, text, **more):
        real(path, text[: len(text) // 2], **more)
        raise OSError(code, os.strerror(code))

    monkeypatch.setattr(Path, "write_text", full)
    (line,) = refuse("layout", "--out", str(tmp_path / "out"))
    assert line.endswith(f"got {os.strerror(code)}")


SIGNALS = [(signal.SIGINT, 130), (signal.SIGTERM, 143), (signal.SIGHUP, 129)]


@pytest.mark.parametrize(("number", "status"), SIGNALS, ids=lambda part: getattr(part, "name", ""))
def test_a_signal_in_the_middle_of_writing_leaves_nothing_behind(tmp_path, number, status):
    process = start("layout", EXAMPLES / "belvedere-taut.toml", "--out", "out", cwd=tmp_path)
    until = time.monotonic() + PATIENCE
    while not any(tmp_path.iterdir()) and process.poll() is None and time.monotonic() < until:
        time.sleep(0.002)
    assert [path.name[:5] for path in tmp_path.iterdir()] == [".out."]  # it has begun, and is not done
    time.sleep(0.1)
    process.send_signal(number)
    process.send_signal(number)  # one more does not cut the cleaning up short
    assert end(process) == (status, "", [])
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(("number", "status"), SIGNALS, ids=lambda part: getattr(part, "name", ""))
def test_a_signal_is_heard_once_and_handlers_come_back(number, status, request):
    for one, _ in SIGNALS:
        request.addfinalizer(partial(signal.signal, one, signal.signal(one, signal.SIG_DFL)))
    before = [signal.getsignal(one) for one, _ in SIGNALS]

    def stopped():
        with stoppable():
            try:
                signal.raise_signal(number)
            finally:
                signal.raise_signal(number)  # while cleaning up

    with pytest.raises(StoppedError) as caught:
        stopped()
    assert caught.value.status == status
    assert [signal.getsignal(one) for one, _ in SIGNALS] == before


def test_a_signal_that_a_library_makes_another_error_of_is_still_one():
    def stopped():
        with stoppable():
            try:
                signal.raise_signal(signal.SIGTERM)
            except BaseException as error:
                raise ImportError("half-way") from error

    with pytest.raises(StoppedError) as caught:
        stopped()
    assert caught.value.status == 143


def test_a_signal_ignored_from_the_start_stays_so(monkeypatch):
    before = signal.signal(signal.SIGHUP, signal.SIG_IGN)
    try:
        with stoppable():
            signal.raise_signal(signal.SIGHUP)
        assert signal.getsignal(signal.SIGHUP) == signal.SIG_IGN
    finally:
        signal.signal(signal.SIGHUP, before)


def test_a_stopped_command_is_no_fault_of_the_program(run, monkeypatch):
    monkeypatch.setattr(stairguard, "lay_out", lambda job: signal.raise_signal(signal.SIGTERM))
    assert run("layout") == (143, "", [])
