"""The give of a whole job: ``give JOB.toml`` in its forms, its functions, and ``layout`` under a push."""

import json
import os

import pytest

import stairguard
from stairguard.io.write import render
from tests.cli.brute import Question, greatest

DAY = "2025-03-31"
SIZES = {"in": (3, 40, 2, "1/8 in", 48, 120), "mm": (80, 1000, 40, "3 mm", 1200, 3000)}
STRAND = {"in": (0.125, 175000), "mm": (3, 700000)}


@pytest.fixture
def level(tmp_path):
    """Give a function that writes a level guard of four posts with lines for its strands and its push; its path."""

    def write(strand="", push="", unit="mm", rules="none"):
        spacing, height, width, diameter, gap, length = SIZES[unit]
        text = (
            f'unit = "{unit}"\nrules = "{rules}"\n[rail]\nheight = {height}\ndepth = {width}\nwidth = {width}\n'
            f'[strand]\ndiameter = "{diameter}"\nspacing = {spacing}\nstiffness = {STRAND[unit][1]}\n{strand}\n'
            f"[post]\nwidth = {width}\nmax_gap = {gap}\nsetback = 5\n[push]\n{push}\n"
            f'[[surface]]\nkind = "landing"\nlength = {length}\n'
        )
        path = tmp_path / "job.toml"
        path.write_text(text, encoding="utf-8")
        return str(path)

    return write


@pytest.fixture
def answer(run):
    """Give a function for the JSON of a command that is answered with this exit status."""

    def call(*arguments, status=0):
        got, out, lines = run(*arguments, "--json")
        assert (got, lines) == (status, [])
        return json.loads(out)

    return call


@pytest.mark.parametrize(("unit", "tension"), [("mm", "tension = 900"), ("in", 'tension = "200 lbf"')])
def test_verdicts_and_exit_status(level, answer, unit, tension):
    sphere = f"sphere = {100 if unit == 'mm' else 4}"
    weakest = answer("give", level(tension, f"force = 1e-3\n{sphere}", unit))["openings"]
    push = min((one["push"] for one in weakest), key=lambda push: push["free"])
    forces = 0.99 * push["free"], (push["free"] + push["held"]) / 2, 1.01 * push["held"]
    for force, verdict in zip(forces, ("holds", "between", "gives way"), strict=True):
        job = level(tension, f"force = {force}\n{sphere}", unit)
        passes = verdict == "holds"
        for command in ("give", "layout"):
            found = answer(command, job, status=0 if passes else 1)
            assert found["passes"] is passes
            assert found["give"] == {
                "force": pytest.approx(force), "probe": "sphere", "sphere": 100 if unit == "mm" else 4, "friction": 0,
                "tension": {"value": 900 if unit == "mm" else 200, "source": "assumed"}, "passes": passes,
            }  # fmt: skip
        laid = [one["give"] for one in found["openings"]]
        assert verdict in [one["verdict"] for one in laid if one is not None]
        assert {"push", "tension_for_force", "strands", "posts", "bay"} <= set(laid[0])


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_every_bay_by_brute_force(level, answer, unit):
    tension, probe = (900, 100) if unit == "mm" else (200, 4)
    found = answer("give", level(f"tension = {tension}", f"sphere = {probe}\nforce = 1e-3", unit))
    spacing, _, width, _, _, length = SIZES[unit]
    clear = (length - width) / 3 - width  # three bays between four posts, the outer ones flush with the ends
    assert [bay["posts"] for bay in found["bays"]] == [["P1", "P2"], ["P2", "P3"], ["P3", "P4"]]
    for bay in found["bays"]:
        assert bay["length"] == pytest.approx(clear)
        assert 2 * bay["clear"] <= spacing
        diameter, stiffness = STRAND[unit]
        asked = Question(diameter, 2 * bay["clear"], clear, bay["run_length"], tension, stiffness, probe)
        assert (bay["push"]["held"], bay["push"]["free"]) == pytest.approx(greatest(asked), rel=1e-6)
        assert bay["sag"] == pytest.approx(found["strand"]["weight"] * clear**2 / (8 * tension), rel=1e-9)


def test_loads_handed_on_by_hand(level, answer):
    found = answer("give", level("tension = 900"))
    strands = len(found["bays"][0]["strands"])
    assert [end["post"] for end in found["ends"]] == ["P1", "P4"]
    holes = answer("layout", level("tension = 900"))["posts"][0]["holes"]
    for end in found["ends"]:
        assert (end["pull"], end["level"], end["plumb"]) == (900 * strands, 900 * strands, 0)
        # strands of one tension pull at their middle height, as bored
        assert end["height"] == pytest.approx(sum(hole["marked"] for hole in holes) / strands, abs=0.5)
        assert end["moment"] == pytest.approx(end["pull"] * end["height"])


def test_what_is_not_known_is_not_judged(level, answer, run):
    bare = answer("layout", level())
    assert bare["give"] is None
    assert [one["give"] for one in bare["openings"]] == [None] * len(bare["openings"])
    assert "RIGID" in run("layout", level())[1]
    tension = answer("give", level("tension = 900"))
    assert (tension["passes"], tension["give"]["force"], tension["give"]["tension"]["value"]) == (None, None, 900)
    assert "RIGID" in run("layout", level("tension = 900"))[1]
    force = answer("layout", level(push="force = 60\nsphere = 100"))
    assert force["passes"] is True
    assert (force["give"]["passes"], force["give"]["tension"]) == (None, None)
    needed = [one["give"]["tension_for_force"]["free"] for one in force["openings"]]
    assert max(needed) > 0
    text = run("layout", level(push="force = 60\nsphere = 100"))[1]
    assert "RIGID" in text
    assert "not judged" in text
    # and that tension, put in, holds
    enough = level(f"tension = {1.0001 * max(needed)}", "force = 60\nsphere = 100")
    assert answer("layout", enough)["give"]["passes"] is True
    assert "RIGID" not in run("layout", enough)[1]


def test_a_slope_and_rules_of_a_pack(run, answer, write_job):
    job = str(write_job())
    assert answer("give", job)["passes"] is None  # no force asked for
    found = answer("give", job, "--tension", "200", "--force", "5", "--tension-source", "set", status=1)
    assert (found["rules"], found["give"]["tension"]) == ("irc-2021", {"value": 200, "source": "set"})
    spheres = {one["probe"] for one in found["openings"]}
    assert spheres == {4, 4.375, 6}  # each opening's own limit: IRC R312.1.3 and its exceptions
    pushed = ("[rail]\n", "[push]\nforce = 5\n[rail]\n"), ("[strand]\n", "[strand]\ntension = 200\n")
    laid = answer("layout", str(write_job(*pushed)), status=1)
    for one in found["openings"]:
        assert laid["openings"][one["opening"]]["give"]["verdict"] == one["verdict"]


def test_what_is_to_come_can_fail_a_guard(level, answer, run):
    # in a frame that does not move 3 mm type 316 strand loses some 11 N a kelvin (700 kN at 15.9e-6)
    job, weather = level("tension = 900", "force = 30\nsphere = 100"), ("--now", "20C", "--frame", "rigid")
    assert answer("give", job, *weather, "--warmest", "30C")["passes"] is True
    hot = answer("give", job, *weather, "--warmest", "95C", status=1)
    assert (hot["passes"], hot["give"]["passes"]) == (False, True)
    assert hot["upkeep"]["lowest"]["tension"] == pytest.approx(
        900 - 700000 * 15.9e-6 * 75, abs=2
    )  # and its sag a newton
    enough = repr(hot["upkeep"]["tension_to_set"]["free"])
    assert answer("give", job, *weather, "--warmest", "95C", "--tension", enough)["passes"] is True


def test_a_guard_is_held_to_the_published_table_of_its_cone(level, run):
    # NCC wire table: 3 mm 1x19 at up to 80 mm in bays to 1000 mm asks 785 N
    cone = 'force = "150 N"\nprobe = "cone"\nsphere = 125'
    for tension, status in ((784, 1), (1500, 0)):
        for command in ("layout", "give"):
            got, out, _ = run(command, level(f"tension = {tension}", cone))
            assert got == status
            assert "at least 785" in out or "785 N" in out


def test_options_stand_in_for_a_file_s_keys(level, answer):
    written = answer("give", level("tension = 900", "force = 20\nsphere = 100"))
    changed = answer("give", level("tension = 300"), "--tension", "900", "--force", "20", "--sphere", "100")
    assert changed == written
    assert len(answer("give", level("tension = 900"), "--bay", "700")["bays"]) == 4


def test_compared_are_jobs_of_their_own(level, answer, run):
    job = level("tension = 900", "force = 20\nsphere = 100")
    found = answer("give", job, "--compare", "spacing=60mm", "--compare", "bay=700, tension=500", status=0)
    asked, closer, shorter = found["compared"]
    assert [one["changed"] for one in (asked, closer, shorter)] == ["as asked", "spacing=60mm", "bay=700, tension=500"]
    assert (closer["spacing"], shorter["max_gap"], shorter["tension"]) == (60, 700, 500)
    assert closer["strands"] > asked["strands"]
    for one in (asked, closer, shorter):
        assert one["end_pull"] == pytest.approx(one["tension"] * one["strands"])
    alone = answer("give", job, "--spacing", "60mm", "--compare", "tension=900")["compared"][0]
    assert {**alone, "changed": ""} == {**closer, "changed": ""}
    assert "spacing=60mm" in run("give", job, "--compare", "spacing=60mm")[1]


# --- folders ---------------------------------------------------------------------------------------

ONE_BAY = (
    "give", "--diameter", "1/8in", "--spacing", "3", "--bay", "42", "--tension", "200", "--now", "20C", "--warmest",
    "40C", "--frame", "steel", "--date", DAY,
)  # fmt: skip


def test_a_folder_of_one_bay_is_complete_and_the_same_again(run, tmp_path):
    status, out, lines = run(*ONE_BAY, "--out", str(tmp_path / "one"))
    assert (status, lines) == (0, [])
    names = sorted(os.listdir(tmp_path / "one"))
    sheets = ("push", "section", "temperature")
    assert names == sorted(
        ["give.txt", "give.json", *(f"{name}.{end}" for name in sheets for end in ("pdf", "png", "svg"))]
    )
    assert all(name in out for name in names)
    page = (tmp_path / "one/give.txt").read_text(encoding="utf-8")
    assert out.startswith(page)
    _, out, _ = run(*ONE_BAY, "--json", "--out", str(tmp_path / "two"))
    assert json.loads(out) == json.loads((tmp_path / "one/give.json").read_text(encoding="utf-8"))
    for name in names:
        assert (tmp_path / "one" / name).read_bytes() == (tmp_path / "two" / name).read_bytes()
    assert sorted(os.listdir(tmp_path)) == ["one", "two"]


def test_a_folder_of_a_job(level, tmp_path, monkeypatch):
    drawn = []
    monkeypatch.setattr(render, "save", lambda sheets, folder, stem: drawn.append(stem))
    job = level("tension = 900", "force = 20\nsphere = 100")
    checked = stairguard.lay_out(stairguard.read_job(job, {"now": "20 °C", "frame": "steel"}))
    guard = stairguard.guard_give(checked)
    written = stairguard.write_give(checked, tmp_path / "out", guard, date=DAY)
    assert [path.name for path in written] == ["give.json", "give.txt"]
    assert drawn == ["push", "section", "temperature"]
    assert written[1].read_text(encoding="utf-8") == stairguard.give_report(checked, guard)
    assert json.loads(written[0].read_text(encoding="utf-8")) == stairguard.give_result(checked, guard)


@pytest.mark.parametrize("error", [OSError(28, "No space left on device"), KeyboardInterrupt()])
def test_nothing_is_left_behind_by_a_failure(run, tmp_path, monkeypatch, error):
    def fail(sheets, folder, stem):
        (folder / "half.svg").write_text("half")
        raise error

    monkeypatch.setattr(render, "save", fail)
    status, out, lines = run(*ONE_BAY, "--out", str(tmp_path / "out"))
    if isinstance(error, OSError):
        assert (status, out) == (2, "")
        assert "No space left" in lines[0]
    else:
        assert status == 130
    assert os.listdir(tmp_path) == []


def test_a_folder_in_use_is_left_alone(refuse, level, tmp_path):
    (tmp_path / "full").mkdir()
    (tmp_path / "full/mine").write_text("mine")
    (line,) = refuse("give", level("tension = 900"), "--out", "full")
    assert "a folder that is not empty" in line


# --- the functions ---------------------------------------------------------------------------------


def test_the_built_in_job_with_changes():
    changes = {"tension": "200 lbf", "tension_source": "measured", "force": 0.01, "now": 68, "frame": "steel"}
    checked = stairguard.lay_out(stairguard.built_in_job(changes))
    guard = stairguard.guard_give(checked)
    assert guard.give.passes is checked.passes is True
    found = stairguard.give_result(checked, guard)
    assert stairguard.give_result(checked) == found
    assert found["give"]["tension"] == {"value": 200, "source": "measured"}
    assert found["upkeep"]["lowest"]["tension"] == pytest.approx(200)
    assert guard.passes
    assert "measured" in stairguard.give_report(checked)


def test_faults_of_changes_are_those_of_a_file():
    with pytest.raises(stairguard.JobError) as caught:
        stairguard.built_in_job({"tension": "x", "force": -1, "bay": "wide"})
    assert [fault.where for fault in caught.value.faults] == ["strand.tension", "post.max_gap", "push.force"]
