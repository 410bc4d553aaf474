"""The command line as people and programs meet it: the contract's commands, exit status and JSON."""

import json
import os
import subprocess
import sys

import pytest

from stairguard import starter_text

STEP = ["opening", "--rise", "7-3/4in", "--run", "10in"]


# --- opening ---------------------------------------------------------------------------------------


def test_opening_of_the_brief(run):
    # 5.60826098 in: the closed form of the step triangle worked by hand; see also tests/published
    status, out, _ = run(*STEP, "--nosing", "1in", "--tread", "1in", "--lift", "0in", "--json")
    answer = json.loads(out)
    assert status == 0
    assert answer["sphere"] == pytest.approx(5.60826098, abs=5e-9)
    assert {"unit", "sphere", "touches", "centre", "limit", "passes"} <= set(answer)
    assert (answer["unit"], answer["limit"], answer["passes"]) == ("in", None, None)
    assert set(answer["touches"]) == {"tread", "riser", "member"}


def test_a_sphere_of_exactly_the_limit_fails_and_the_least_less_passes(run):
    step = ["opening", "--rise", "7.5in", "--run", "10in", "--nosing", "0in", "--limit", "6in", "--json"]
    status, out, _ = run(*step, "--lift", "1.2in")
    assert (status, json.loads(out)["sphere"], json.loads(out)["passes"]) == (1, 6.0, False)
    status, out, _ = run(*step, "--lift", "1.1999999999999in")
    assert (status, json.loads(out)["passes"]) == (0, True)
    status, out, _ = run(*step[:-1], "--lift", "1.1999999999999in")
    assert "diameter 6 in" not in out  # words must not say 6 is less than 6


def test_millimetres_are_the_same_step(run):
    inches = json.loads(run(*STEP, "--lift", "1in", "--json")[1])
    millimetres = json.loads(run(*STEP, "--lift", "1in", "--unit", "mm", "--json")[1])
    assert millimetres["unit"] == "mm"
    assert millimetres["sphere"] == pytest.approx(25.4 * inches["sphere"], rel=1e-14)


def test_bare_numbers_take_the_unit_in_force(run):
    bare = run("opening", "--rise", "180", "--run", "260", "--lift", "20", "--unit", "mm", "--json")
    named = run("opening", "--rise", "18cm", "--run", "0.26m", "--lift", "20mm", "--unit", "mm", "--json")
    assert bare == named


def test_open_risers_and_words(run):
    status, out, _ = run(*STEP, "--tread", "1", "--lift", "1", "--open-riser", "--limit", "4in")
    assert status == 1
    assert "open riser" in out
    assert "DOES NOT COMPLY" in out
    assert "square" in out
    assert "plumb" in out


@pytest.mark.parametrize("value", ["0", "-1", "nan", "inf", "1e999", "1e9", "", "x", "7--3/4", "1/0", "3 furlongs"])
@pytest.mark.parametrize("option", ["--rise", "--run"])
def test_opening_refuses(refuse, option, value):
    sizes = {"--rise": "7in", "--run": "10in", "--lift": "0"} | {option: value}
    (line,) = refuse("opening", *[word for pair in sizes.items() for word in pair], "--json")
    assert line.startswith(f"{option}: must be ")


@pytest.mark.parametrize(
    ("option", "value"),
    [
        ("--nosing", "-1"),
        ("--nosing", "10in"),
        ("--tread", "7-3/4in"),
        ("--tread", "-0.001"),
        ("--lift", "-1"),
        ("--limit", "0"),
        ("--unit", "yd"),
    ],
)
def test_opening_refuses_what_its_step_cannot_have(refuse, option, value):
    lift = [] if option == "--lift" else ["--lift", "0"]
    (line,) = refuse(*STEP, *lift, option, value)
    assert line.startswith(f"{option}: must be ")


def test_one_line_for_every_fault(refuse):
    lines = refuse("opening", "--rise", "x", "--run", "0", "--unit", "yd", "--limit", "-1")
    assert [line.split(":")[0] for line in lines] == ["--unit", "--rise", "--run", "--lift", "--limit"]


def test_nothing_typed_is_evaluated(refuse):
    (line,) = refuse("opening", "--rise", "__import__('os').getcwd()", "--run", "10", "--lift", "0")
    assert line.startswith("--rise")
    (line,) = refuse("relation", "pitch", "rise=1+1", "run=10", "--find", "pitch")
    assert line.startswith("rise: must be a length")


# --- layout ----------------------------------------------------------------------------------------


def test_layout_of_the_built_in_job(run):
    status, out, lines = run("layout", "--json")
    assert (status, lines) == (0, [])
    assert json.loads(out)["passes"] is True
    status, out, _ = run("layout")
    assert status == 0
    assert "Verdict: PASSES." in out


def test_layout_of_the_starter(run, write_job):
    assert run("layout", str(write_job()), "--json")[0] == 0


def test_layout_that_fails_its_rules(run, write_job):
    status, out, _ = run("layout", str(write_job(("landing_height = 36", "landing_height = 35.5"))), "--json")
    assert (status, json.loads(out)["passes"]) == (1, False)


def test_layout_writes_a_folder(run, tmp_path):
    status, out, _ = run("layout", "--out", str(tmp_path / "out"), "--date", "2025-03-31")
    assert status == 0
    assert all(path.name in out for path in (tmp_path / "out").iterdir())
    status, out, _ = run("layout", "--out", str(tmp_path / "again"), "--date", "2025-03-31", "--json")
    assert json.loads(out) == json.loads((tmp_path / "again/result.json").read_text())


@pytest.mark.parametrize("title", ["$\\\\frac{1}{0}$ <b>&amp;", "a\\u0000\\u001b[31m\\nb", "\\u202eabc", "=cmd()"])
def test_titles_are_text_wherever_they_go(run, write_job, tmp_path, title):
    job = write_job(('"Stair guard"', f'"{title}"'))
    status, _, lines = run("layout", str(job), "--out", str(tmp_path / "out"), "--date", "2025-03-31")
    assert (status, lines) == (0, [])
    assert "\x1b" not in (tmp_path / "out/report.txt").read_text(encoding="utf-8")


IMPOSSIBLE = {
    "strand thicker than its spacing": [('diameter = "1/8 in"', "diameter = 4")],
    "rail below the lowest strand": [("landing_height = 36", "landing_height = 1.6")],
    "flight too short for a post": [("run    = 10.5", "run = 1.4")],
    "landing too short for its posts": [("length = 48 ", "length = 2 ")],
    "nosing longer than its run": [("nosing = 1.0", "nosing = 12")],
    "zero": [("rise   = 7.25", "rise = 0")],
    "negative": [("rise   = 7.25", "rise = -7.25")],
    "not a number": [("rise   = 7.25", "rise = nan")],
    "infinite": [("rise   = 7.25", "rise = inf")],
    "absurd": [("rise   = 7.25", "rise = 1e9")],
    "a million risers": [("risers = 7", "risers = 1000000")],
    "text": [("rise   = 7.25", 'rise = "tall"')],
    "no rule pack": [('"irc-2021"', '"irc-2012"')],
    "not TOML": [("[rail]", "[rail")],
}


@pytest.mark.parametrize("case", IMPOSSIBLE)
def test_what_cannot_be_laid_out(refuse, write_job, case):
    job = write_job(*IMPOSSIBLE[case])
    for more in ([], ["--json"], ["--out", "out"]):
        assert len(refuse("layout", str(job), *more)) == 1


def test_layout_refuses_its_files(refuse, tmp_path):
    (tmp_path / "full").mkdir()
    (tmp_path / "full/mine").write_text("mine")
    assert "a job file that can be read" in refuse("layout", "none.toml")[0]
    assert "a job file that can be read" in refuse("layout", str(tmp_path))[0]
    assert "a folder that is not empty" in refuse("layout", "--out", "full")[0]
    assert "no folder" in refuse("layout", "--out", "none/out")[0]
    assert refuse("layout", "--date", "soon")[0].startswith("--date: must be a date")


# --- transition ------------------------------------------------------------------------------------


def test_transition(run):
    # x = (hl - hf) G/R at the top and (hl - hf - R) G/R at the bottom, worked by hand
    words = ["transition", "--rise", "7.5", "--run", "10", "--flight-height", "34", "--landing-height", "37"]
    top = json.loads(run(*words, "--at", "top", "--json")[1])
    bottom = json.loads(run(*words, "--at", "bottom", "--post-at", "-3", "--json")[1])
    assert set(top) == {"unit", "at", "meets", "bend_deg", "mitre_deg", "landing_height_for_post", "jog"}
    assert (top["meets"], bottom["meets"]) == (4.0, -6.0)
    assert (top["landing_height_for_post"], top["jog"]) == (None, None)
    # the flight's rail, produced, is 34 + 7.5 - 3 * 0.75 above the landing at 3 in downhill of nosing 1
    assert (bottom["landing_height_for_post"], bottom["jog"]) == (39.25, -2.25)
    assert top["bend_deg"] == pytest.approx(36.8698976458, abs=1e-9)  # 3-4-5
    assert top["mitre_deg"] == top["bend_deg"] / 2
    status, out, _ = run(*words, "--at", "bottom", "--post-at", "-3")
    assert status == 0
    assert "3' 3-1/4\"" in out


def test_transition_refuses(refuse):
    lines = refuse("transition", "--rise", "0", "--run", "10", "--flight-height", "34", "--at", "middle")
    assert [line.split(":")[0] for line in lines] == ["--rise", "--landing-height", "--at"]


# --- relation --------------------------------------------------------------------------------------


def test_relation_solves_exactly(run):
    known = ["rise=7.5in", "run=10in", "nosing=0in", "sphere=6in"]
    status, out, _ = run("relation", "step-sphere", *known, "--find", "lift", "--json")
    answer = json.loads(out)
    assert status == 0
    assert {key: answer[key] for key in ("name", "find", "value", "unit", "exact")} == {
        "name": "step-sphere",
        "find": "lift",
        "value": 1.2,
        "unit": "in",
        "exact": "6/5",
    }
    assert "lift = 6/5 in, exact" in run("relation", "step-sphere", *known, "--find", "lift")[1]


def test_relation_reads_units_by_kind(run):
    known = ["rise=190.5mm", "run=10in"]
    answer = json.loads(run("relation", "pitch", *known, "--find", "pitch", "--json")[1])
    assert answer["unit"] == "deg"
    assert answer["value"] == pytest.approx(36.8698976458, abs=1e-9)
    bend = json.loads(
        run("relation", "bend", "pitch_in=30", "pitch_out=0°", "turn=0 deg", "--find", "bend", "--json")[1]
    )
    assert bend["value"] == pytest.approx(30)


def test_relation_lists_and_describes(run):
    for name in ("step-sphere", "rail-meets-top", "rail-meets-bottom", "half-turn", "bend"):
        assert name in run("relation")[1]
        shown = run("relation", name)[1]
        assert "Valid:" in shown
        assert "Source:" in shown
        assert json.loads(run("relation", name, "--json")[1])["name"] == name
    assert len(json.loads(run("relation", "--json")[1])["relations"]) >= 5


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["step-sphre"], '(the nearest is "step-sphere")'),
        (["pitch", "rise=1", "run=2"], "--find: must be a symbol of pitch"),
        (["pitch", "rise=1", "run", "--find", "pitch"], "argument: must be SYMBOL=VALUE, got run"),
        (["pitch", "rise=1", "rise=2", "--find", "pitch"], "rise: must be given once"),
        (["pitch", "rise=1", "--find", "pitch"], "run: must be a length"),
        (["pitch", "rise=1", "run=0", "--find", "pitch"], "run: must be a length, more than 0"),
        (["pitch", "rise=1", "run=2", "--find", "pitsch"], '(the nearest is "pitch")'),
        (["pitch", "rise=1", "run=2", "rum=2", "--find", "pitch"], '(the nearest is "run")'),
        (["pitch", "rise=1", "run=2", "rum=x", "--find", "pitch"], "rum: must be a symbol of the formula"),
        (
            ["step-sphere", "rise=7", "run=10", "nosing=0", "lift=nan", "--find", "sphere"],
            "lift: must be a length",
        ),
        (["pitch", "rise=1", "run=2", "--find", "pitch", "--unit", "yd"], "--unit: must be"),
    ],
)
def test_relation_refuses(refuse, arguments, words):
    (line,) = refuse("relation", *arguments)
    assert words in line


# --- the command line itself -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["opening", "--rize", "7"], 'a known option (the nearest is "--rise")'),
        (["layout", "--jsn"], 'a known option (the nearest is "--json")'),
        (["opnin"], '(the nearest is "opening")'),
        (["compare_rules"], 'starter (the nearest is "compare-rules")'),
        (["opening", "--rise"], "requires an argument"),
        (["starter"], "PATH"),
        (["opening", "extra"], "extra"),
        (["layout", "a.toml", "b.toml"], "b.toml"),
        (["--bogus"], "known option"),
    ],
)
def test_usage_errors_are_one_line(refuse, arguments, words):
    (line,) = refuse(*arguments)
    assert words in line


def test_help_and_no_arguments(run):
    for arguments in ([], ["--help"], ["layout", "--help"], ["opening", "--help"]):
        status, out, _ = run(*arguments)
        assert status == 0
        assert "Usage:" in out


def test_a_line_cannot_steer_the_terminal(refuse):
    (line,) = refuse("opening", "--rise", "7\x1b[31m\u202e\n\r8", "--run", "10", "--lift", "0")
    assert line.isprintable()


def test_starter(run, refuse, tmp_path):
    path = tmp_path / "job.toml"
    assert run("starter", str(path))[0] == 0
    assert "a new file" in refuse("starter", str(path))[0]
    assert "a new file" in refuse("starter", str(tmp_path / "none" / "job.toml"))[0]


def test_the_starter_on_standard_output(run, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    status, out, _ = run("starter", "-")
    assert (status, out) == (0, starter_text())
    assert not list(tmp_path.iterdir())


def _subprocess(*arguments, **options):
    command = [sys.executable, "-m", "stairguard", *arguments]
    return subprocess.run(command, capture_output=True, text=True, check=False, **options)


def test_in_a_process_of_its_own(tmp_path):
    good = _subprocess(*STEP, "--lift", "0", "--json")
    assert (good.returncode, good.stderr) == (0, "")
    json.loads(good.stdout)
    bad = _subprocess("layout", str(tmp_path / "none.toml"))
    assert (bad.returncode, bad.stdout, bad.stderr.count("\n")) == (2, "", 1)


def test_an_ascii_terminal_gets_all_it_can_show():
    done = _subprocess(*STEP, "--lift", "0", env=os.environ | {"PYTHONIOENCODING": "ascii"})
    assert (done.returncode, done.stderr) == (0, "")


def test_a_reader_who_has_gone_is_no_error():
    command = f"{sys.executable} -m stairguard relation | true"
    done = subprocess.run(["bash", "-o", "pipefail", "-c", command], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")


def test_a_command_seldom_looks_for_dead_cycles():
    program = "import gc\nfrom stairguard.cli.main import main\nlooks, usual = [], gc.get_threshold()\n"
    program += "gc.callbacks.append(lambda when, about: looks.append(when))\nmain(['layout', '--json'])\n"
    program += "import sys; print(len(looks) < 20, gc.get_threshold() == usual, file=sys.stderr)"
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=False)
    assert done.stderr.strip() == "True True"


def test_what_a_command_leaves_is_not_looked_through_on_the_way_out():
    program = "import gc, sys\nfrom stairguard.cli.main import main\nkept = []\n"
    program += "main(['--version']); kept.append(gc.get_freeze_count())\n"  # whoever calls it goes on
    program += (
        "sys.argv[1:] = ['--version']; main(); kept.append(gc.get_freeze_count() > 0)\nprint(kept, file=sys.stderr)"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=False)
    assert done.stderr.strip() == "[0, True]"


@pytest.mark.parametrize(
    ("arguments", "unwanted"),
    [
        ([], "typer click pint sympy matplotlib numpy stairguard.io stairguard.solve"),
        (
            [*STEP, "--lift", "0"],
            "pint sympy matplotlib rich stairguard.rules stairguard.io.read.job_file tomllib",
        ),
        (["relation"], "pint sympy matplotlib rich"),
        (
            ["layout", "--json"],
            "pint sympy matplotlib rich stairguard.statics stairguard.reports.drawing",
        ),
    ],
    ids=["import", "opening", "relation", "layout"],
)
def test_what_is_not_loaded(arguments, unwanted):
    program = "import sys, stairguard\n"
    if arguments:
        program += f"from stairguard.cli.main import main\nmain({arguments!r})\n"
    program += f"print([m for m in {unwanted.split()!r} if m in sys.modules], file=sys.stderr)"
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=False)
    assert done.stderr.strip() == "[]"
