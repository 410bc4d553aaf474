"""The command ``opening`` where strands stand out from the stair or an edge: answered, refused, what it tells done."""

import json
import re
from fractions import Fraction as F
from math import hypot

import pytest

import stairguard
from stairguard.cli.main import main
from stairguard.io.parse.exact_lengths import parse_length
from stairguard.io.write.opening_drawing import opening_drawing
from stairguard.reports.drawing.paper.scene import Text
from tests.reports.words import as_printed

STEP = {"rise": "7-3/4in", "run": "10in", "nosing": "1in", "tread": "1in", "lift": "0in"}
BESIDE = {**STEP, "offset": "3-3/4in", "strand-diameter": "1/8in"}
EDGE = {"height": "2.790in", "offset": "3-3/4in", "strand-diameter": "1/8in"}


@pytest.fixture
def run(capsys):
    def call(given, *more):
        status = main(["opening", *(f"--{name}={value}" for name, value in given.items()), *more])
        out, err = capsys.readouterr()
        return status, out, err.splitlines()

    return call


def flat(page):
    return re.sub(r"\s+", " ", page)


# --- answered -----------------------------------------------------------------------------------------------


def test_an_edge_by_hand(run):
    # 3-3/4 out and 2.790 up, 1/8 thick: 4.61 goes through where the elevation alone shows 2.73
    status, out, _ = run({**EDGE, "limit": "4in"}, "--json")
    answer = json.loads(out)
    assert status == 1
    assert answer["sphere"] == pytest.approx((3.75**2 + 2.79**2) ** 0.5 - 1 / 16)
    assert round(answer["sphere"], 2) == 4.61
    assert answer["touches"] == ["edge", "strand"]
    # halfway from the edge to the strand's surface
    share = answer["sphere"] / (answer["sphere"] + 1 / 16) / 2
    assert (answer["out"], answer["centre"][1]) == pytest.approx((3.75 * share, 2.79 * share))
    assert answer["contacts_out"] == pytest.approx([0, 7.5 * share])
    assert answer["error"] == 0
    assert answer["inverse"]["greatest"] == 1.5625  # 4.0625^2 - 3.75^2 = 1.5625^2
    assert answer["inverse"]["instead"][0]["what"] == "offset"
    assert answer["inverse"]["instead"][0]["lift"] is None


def test_a_step_from_the_command_and_from_python(run):
    status, out, _ = run({**BESIDE, "limit": "6in"}, "--json")
    answer = json.loads(out)
    keys = {name.replace("-", "_"): value for name, value in BESIDE.items()}
    found = stairguard.step_opening(**keys)
    assert (status, answer["sphere"]) == (1, found.sphere)
    assert found.sphere == pytest.approx(6.71425, abs=1e-5)
    assert answer["out"] == found.beside.out
    assert answer["contacts_out"][:2] == [0, 0]
    plane = stairguard.step_opening(**{name: keys[name] for name in STEP})
    assert plane.beside is None
    assert found.sphere > plane.sphere + 1
    assert "out" not in stairguard.opening_result(plane)


def test_no_offset_is_the_plane_to_the_last_byte(run):
    plane = run({**STEP, "limit": "6in"}, "--json")
    assert run({**STEP, "limit": "6in", "offset": "0in", "strand-diameter": "1/8in"}, "--json") == plane


def test_a_member_below_the_nosing_line(run):
    page = flat(run({**BESIDE, "lift": "-2in"})[1])
    assert "underside of the lowest member 2 in below the nosing line, square" in page
    assert "its middle 3.75 in out from the stair's side" in page


def test_uncertainty_says_which_measurement_matters_most(run):
    given = {**EDGE, "height": "1-1/2in +- 1/16in", "offset": "3-3/4in +- 1/8in", "limit": "4in"}
    status, out, _ = run(given, "--json", "--tape=none")
    answer = json.loads(out)
    sure = answer["uncertainty"]
    assert (status, sure["verdict"]) == (3, "too close to call")
    # by hand: hyp of 1.5 and 3.75 is 4.0389; o/hyp / 8 and h/hyp / 16, over sqrt(3)
    hyp = (1.5**2 + 3.75**2) ** 0.5
    parts = 3.75 / hyp / 8, 1.5 / hyp / 16
    assert sure["standard"] == pytest.approx(((parts[0] ** 2 + parts[1] ** 2) / 3) ** 0.5)
    assert sure["shares"][0]["measurement"] == "offset"
    assert sure["shares"][0]["share"] == pytest.approx(100 * parts[0] ** 2 / (parts[0] ** 2 + parts[1] ** 2))


@pytest.mark.parametrize("given", [BESIDE, EDGE])
def test_it_is_drawn_and_says_what_is_not_shown(run, tmp_path, given):
    assert run({**given, "limit": "4in", "draw": str(tmp_path / "gap.svg")})[0] == 1
    assert (tmp_path / "gap.svg").exists()
    keys = {name.replace("-", "_"): value for name, value in given.items()}
    found = (stairguard.edge_opening if given is EDGE else stairguard.step_opening)(**keys, limit="4in")
    words = [part.words for part in opening_drawing(found, "2026-11-29").parts if isinstance(part, Text)]
    assert ("NOT SHOWN" in words) is (given is BESIDE)
    assert ("OPENING, SECTION SQUARE TO THE GUARD" in words) is (given is EDGE)
    assert ("OPENING, SEEN SQUARE TO THE GUARD" in words) is (given is BESIDE)


# --- what it tells to do, done ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("given", "limit", "tape"),
    [
        (BESIDE, "6in", "none"),
        (BESIDE, "4in", "none"),
        ({**BESIDE, "lift": "-1in", "offset": "2in"}, "4in", "us"),
        (EDGE, "4in", "us"),
        ({**EDGE, "height": "80mm", "offset": "90mm", "unit": "mm"}, "100mm", "eu-2"),
    ],
)
def test_every_fix_as_printed_stops_the_sphere(run, given, limit, tape):
    unit = given.get("unit", "in")
    status, page, _ = run({**given, "limit": limit, "tape": tape})
    assert status == 1
    (told,) = re.findall(r"Fix: (.*?)\. =", flat(page))
    ways = told.split("; or ")
    for words in ways:
        kind, sizes, sure, _ = as_printed.read(words, unit)
        assert kind == "Reshaped"
        ((name, value, by),) = sizes
        assert parse_length(given[name], unit) + by == pytest.approx(value, abs=1e-4)
        made = {**given, name: f"{float(value)}", "limit": limit}
        assert run({**made, "tape": "none"})[0] == 0, words
        if tape != "none":
            (surely,) = sure or (value,)
            assert run({**made, name: f"{float(surely)}", "tape": tape})[0] == 0, words
    assert {words.split()[0] for words in ways} <= {"lift", "offset", "height"}


@pytest.mark.parametrize(("given", "limit"), [(BESIDE, "6in"), ({**BESIDE, "lift": "1in"}, "6.5in"), (EDGE, "4in")])
def test_what_is_told_the_other_way_round_is_so(run, given, limit):
    page = flat(run({**given, "limit": limit})[1])
    for name, text in re.findall(
        r"(lift|offset|height) (?:of|is|as given it is stopped while the offset is) less than (-?[\d.]+) in", page
    ):
        digit = F(1, 10 ** len(text.partition(".")[2]))
        name = "offset" if "offset is less than " + text in page else name
        assert run({**given, name: str(F(text) - digit), "limit": limit, "unit": "in"})[0] == 0
        assert run({**given, name: str(F(text) + digit), "limit": limit, "unit": "in"})[0] == 1
    assert "less than" in page


# --- refused ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("given", "lines"),
    [
        ({**STEP, "lift": "-1in"}, ["--lift: must be a length such as"]),
        ({**STEP, "offset": "2in"}, ["--strand-diameter: must be given with an offset"]),
        ({**STEP, "strand-diameter": "1/8in"}, ["--strand-diameter: must be left out where no offset is given"]),
        ({**BESIDE, "offset": "-2in"}, ["--offset: must be a length such as"]),
        ({**BESIDE, "lift": "9999999in"}, ["--lift: must be no more than"]),
        ({**EDGE, "offset": "no"}, ["--offset: must be a length such as"]),
        ({"height": "2in", "offset": "2in"}, ["--strand-diameter: must be a length such as"]),
        ({"height": "2in", "strand-diameter": "1/8in"}, ["--offset: must be a length such as"]),
        ({"offset": "2in"}, ["the opening: must be given: as a step, by --height,"]),
        ({**EDGE, "rise": "7in"}, ["the opening: must be given one way only: as a step, by --height,"]),
        ({**EDGE, "height": "0in", "offset": "1/16in"}, ["--height: must be high enough, or the offset wide enough"]),
    ],
)
def test_what_cannot_be_answered_says_where_and_what_must_be(run, given, lines):
    status, out, told = run(given)
    assert (status, out) == (2, "")
    assert len(told) == len(lines)
    assert all(line.startswith(start) for line, start in zip(told, lines, strict=True)), told


def test_points_in_two_planes_from_a_file(run, tmp_path):
    """A landing as an inspector measures it: the edge, posts' faces and the strand, x,z,y a line."""
    table = tmp_path / "gap.csv"
    table.write_text("x, z, y\n0,0,0\n48,0,0\n48,0,3.75\n48,2.79,3.75\n0,2.79,3.75\n0,0,3.75\n", encoding="utf-8")
    status, out, _ = run({"points": str(table), "strand-edges": "4:1/8in", "limit": "4in"}, "--json")
    answer = json.loads(out)
    assert status == 1
    assert round(answer["sphere"], 2) == 4.61
    assert answer["contacts_out"][:2] == pytest.approx([0, 3.75 * (1 - 1 / 16 / hypot(2.79, 3.75))])
    assert answer["uncertainty"]["shares"][0]["measurement"].startswith("y of point")
    page = flat(run({"points": str(table), "strand-edges": "4:1/8in", "limit": "4in"})[1])
    assert "Its edges stand in two planes" in page
    table.write_text("0,0,0\n48,0,0\n48,2.79\n", encoding="utf-8")
    status, out, told = run({"points": str(table)})
    assert (status, out) == (2, "")
    assert told == ["gap.csv line 3: must be x,z,y: 3 cells, got 2 cells"]
