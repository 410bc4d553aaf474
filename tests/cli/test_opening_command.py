"""The command ``opening`` and its functions in every way an opening can be given."""

import json
import re
from fractions import Fraction as F
from xml.etree import ElementTree

import pytest
import shapely

import stairguard
from stairguard.cli.main import main
from stairguard.io.write.opening_drawing import opening_drawing
from stairguard.reports.words.rules.verdict_words import LIST_VERDICTS, UNJUDGED, outcome_head
from tests.reports.words import as_printed

STEP = ["opening", "--rise", "7-3/4in", "--run", "10in", "--nosing", "1in", "--tread", "1in", "--lift", "0.47in"]
AGREED = {"unit", "sphere", "touches", "centre", "limit", "passes"}


@pytest.fixture
def run(capsys, tmp_path, monkeypatch):
    """Give a function that runs a command line in a folder of its own: status, output, lines of errors."""
    monkeypatch.chdir(tmp_path)

    def call(*arguments):
        status = main(list(map(str, arguments)))
        out, err = capsys.readouterr()
        assert "Traceback" not in err
        return status, out, err.splitlines()

    return call


@pytest.fixture
def ask(run):
    """Give a function for the JSON of a command line that is answered."""

    def call(*arguments):
        status, out, lines = run("opening", *arguments, "--json")
        assert lines == []
        answer = json.loads(out)
        statuses = {None: 0, "complies": 0, "does not comply": 1, "too close to call": 3}
        assert status == statuses[answer["outcome"]]
        assert answer["passes"] is (None if answer["outcome"] is None else status == 0)
        assert set(answer) >= AGREED | {"contacts", "uncertainty", "inverse"}
        return answer

    return call


@pytest.fixture
def refuse(run, tmp_path):
    """Give a function for a command line that must be refused: its lines; nothing written."""

    def call(*arguments):
        before = sorted(tmp_path.rglob("*"))
        status, out, lines = run("opening", *arguments)
        assert (status, out) == (2, "")
        assert lines
        assert all(": must be " in line and len(line) < 400 for line in lines)
        assert sorted(tmp_path.rglob("*")) == before
        return lines

    return call


@pytest.fixture
def csv(tmp_path):
    """Give a function that writes a CSV file and returns its name."""

    def write(text, name="gap.csv"):
        (tmp_path / name).write_text(text, encoding="utf-8")
        return name

    return write


# --- points -------------------------------------------------------------------------------------------------

L_SHAPE = [(0, 0), (10, 0), (10, 4), (5, 4), (5, 9), (0, 9)]


def test_points_against_shapely(ask, csv):
    # shapely.maximum_inscribed_circle of the same ring
    name = csv("x,z\n# an L on its side\n\n" + "".join(f"{x},{z}\n" for x, z in L_SHAPE))
    answer = ask("--points", name)
    theirs = 2 * shapely.maximum_inscribed_circle(shapely.Polygon(L_SHAPE), tolerance=1e-10).length
    assert answer["sphere"] == pytest.approx(theirs, abs=1e-8)
    assert set(answer["touches"]) == {"edge 1", "edge 6", "corner 4"}
    assert answer["pockets"][0] == {
        "sphere": answer["sphere"], "centre": answer["centre"], "touches": answer["touches"], "ridge": None,
    }  # fmt: skip
    spheres = [pocket["sphere"] for pocket in answer["pockets"]]
    assert spheres == sorted(spheres, reverse=True)


@pytest.mark.parametrize("turn", [1, -1])
def test_points_keep_their_numbers_either_way_round(ask, csv, turn):
    # the 3-4-5 triangle: its incircle of 2 touches all edges, at 1, 2 and 3 from its corners
    ring = [(0, 0), (4, 0), (4, 3)][::turn]
    answer = ask("--points", csv("".join(f"{x},{z}\n" for x, z in ring)), "--limit", "2")
    assert answer["sphere"] == 2
    assert answer["passes"] is False
    assert dict(zip(answer["touches"], map(tuple, answer["contacts"]), strict=True))["edge 2"] == (
        pytest.approx((4, 1)) if turn == 1 else pytest.approx((3, 0))
    )


def test_points_with_units_marks_and_strands(ask, csv):
    # a 10 by 4 opening whose top edge is the axis of a 1/2 in strand: 3-3/4 high; lengths in mixed units
    name = csv('0,0\n254mm,0\n10in,4 +- 1/16\n0",10.16cm\n')
    answer = ask(
        "--points", name, "--strand-diameter", "1/2in", "--strand-edges", "3", "--limit", "4in", "--tape", "none"
    )
    assert answer["sphere"] == 3.75
    assert answer["pockets"][0]["ridge"] is not None
    # half of the 1/16 in at one end, rectangular
    assert answer["uncertainty"]["standard"] == pytest.approx(0.5 / 16 / 3**0.5)
    assert answer["uncertainty"]["contact_may_change"] is True


def test_points_in_millimetres_are_the_same(ask, csv):
    inches = ask("--points", csv("0,0\n9,1\n7,8\n", "a.csv"))
    millimetres = ask("--points", csv("x (mm),z (mm)\n0,0\n228.6,25.4\n177.8,203.2\n", "b.csv"), "--unit", "mm")
    assert millimetres["sphere"] == pytest.approx(25.4 * inches["sphere"], rel=1e-14)


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("1,2\n", ["--points: must be at least 3 corners, got 1"]),
        ("", ["--points: must be rows of x,z, got none"]),
        ("x,z\n", ["--points: must be rows of x,z, got none"]),
        ("0,0\n1,nan\n1,1\n", ["gap.csv line 2, z: must be a length"]),
        ("nan,nan\n0,0\n1,1\n", ["gap.csv line 1, x: must be a length", "gap.csv line 1, z: must be a length"]),
        ("0,0\n1,inf\n1,x\n", ["gap.csv line 2, z: must be a length", "gap.csv line 3, z: must be a length"]),
        ("0,0\n1\n1,1\n", ["gap.csv line 2: must be x,z: 2 cells, got 1 cells"]),
        ("0,0\n1,2,3\n1,1\n", ["gap.csv line 2: must be x,z: 2 cells, got 3 cells"]),
        ("0,0\n4,4\n4,0\n0,4\n", ["edges 1 and 3: must be without a point in common"]),
        ("0,0\n4,4\n4,4\n0,4\n", ["points 2 and 3: must be two different places"]),
        ("0,0\n1,1\n2,2\n", ["edges 2 and 3: must be apart", "edges 3 and 1: must be apart"]),
        ("".join(f"{k},{k * k}\n" for k in range(100_000)), ["--points: must be at most 2,000 rows, got more"]),
        ("x\n" * 9, ["gap.csv line 1: must be x,z: 2 cells, got 1 cells"]),
        ("0,x\n" * 500, [f"gap.csv line {k}, z: must be a length" for k in range(1, 9)]),
    ],
    ids=range(14),
)
def test_points_refused(refuse, csv, text, lines):
    got = refuse("--points", csv(text))
    assert len(got) == len(lines)
    assert all(line.startswith(start) for line, start in zip(got, lines, strict=True))


def test_files_refused(refuse, tmp_path):
    for name in ("missing.csv", "."):
        (line,) = refuse("--points", name)
        assert line.startswith(f"--points, {name}: must be a CSV file that can be read, got ")
        (line,) = refuse("--lengths", name)
        assert line.startswith(f"--lengths, {name}: must be a CSV file that can be read, got ")
    (tmp_path / "bytes.csv").write_bytes(b"\xff\xfe\x00")
    (line,) = refuse("--points", "bytes.csv")
    assert line.startswith("--points, bytes.csv: must be a CSV file in UTF-8")


@pytest.mark.parametrize(
    ("options", "start"),
    [
        (["--strand-edges", "1"], "--strand-diameter: must be given where"),
        (["--strand-diameter", "1/8"], "--strand-edges: must be given where"),
        (["--strand-edges", "9", "--strand-diameter", "1/8"], "strand edge: must be an edge's number, 1 to 3, got 9"),
        (
            ["--strand-edges", "1,x", "--strand-diameter", "1/8"],
            "--strand-edges: must be an edge's number, from 1, got x",
        ),
        (["--strand-edges", "1", "--strand-diameter", "0"], "--strand-diameter: must be a length"),
        (["--move", "1"], "--limit: must be given with --move"),
        (["--move", "4", "--limit", "1"], "--move: must be an edge's number, 1 to 3, got 4"),
        (["--move", "-1", "--limit", "1"], "--move: must be an edge's number"),
        (["--diagonal", "3"], "--diagonal: must be left out with --points"),
        (["--rise", "3"], "the opening: must be given one way only"),
        (["--sides", "3,4,5"], "the opening: must be given one way only"),
        (["--lengths", "gap.csv"], "the opening: must be given one way only"),
        (["--spacing", "3"], "the opening: must be given one way only"),
        (["--open-riser"], "the opening: must be given one way only"),
        (["--tape", "cloth"], "--tape: must be one of us, eu-1, eu-2, eu-3 or none, got cloth"),
        (["--guard-band", "-1"], "--guard-band: must be the ratio"),
        (["--guard-band", "nan"], "--guard-band: must be the ratio"),
        (["--limit", "2in +- 1/8in"], "--limit: must be without a +-"),
        (["--draw", "out.bmp"], "--draw: must be a new file, ending in .svg, .png or .pdf"),
        (["--draw", "no/out.svg"], "--draw: must be a new file"),
        (["--draw", "gap.csv.svg/out.svg"], "--draw: must be a new file"),
    ],
)
def test_options_refused(refuse, csv, options, start):
    (line,) = refuse("--points", csv("0,0\n4,0\n4,3\n"), *options)
    assert line.startswith(start)


def test_options_that_have_nothing_to_go_with(refuse):
    (line,) = refuse("--move", "1", "--limit", "4")
    assert line.startswith("the opening: must be given: as a step, by --height")
    (line,) = refuse(*STEP[1:], "--move", "1", "--limit", "4")
    assert line.startswith("--move: must be left out with a step")
    (line,) = refuse("--spacing", "3", "--strand-diameter", "1/8", "--strand-edges", "1")
    assert line.startswith("--strand-edges: must be left out with --spacing")


# --- sides and lengths --------------------------------------------------------------------------------------


def test_sides_of_a_triangle(ask):
    # 5, 5, 6: area 12, half the perimeter 8, so an incircle of 2 * 12 / 8 = 3 (Euclid IV.4, Heron)
    answer = ask("--sides", "5,5,6", "--limit", "3", "--move", "3")
    assert answer["sphere"] == 3
    assert answer["passes"] is False
    assert answer["inverse"]["what"] == "move of edge 3"
    assert answer["inverse"]["greatest"] == pytest.approx(0, abs=1e-12)
    assert ask("--sides", "5,5,6", "--limit", "3.000000000000001")["passes"] is True


def test_only_a_plus_minus_of_the_askers_own_makes_it_too_close_to_call(ask, csv):
    square = csv("0,0\n4,0\n4,4\n0,4\n")
    for limit, outcome in (("4in", "does not comply"), ("4.001in", "complies")):
        plain = ask("--points", square, "--limit", limit)
        assert (plain["outcome"], plain["uncertainty"]["verdict"]) == (outcome, "too close to call")
        assert ask("--points", square, "--limit", limit, "--tape", "us")["outcome"] == "too close to call"
    assert ask("--sides", "5 +- 1/16in,5,6", "--limit", "3in")["outcome"] == "too close to call"


def test_four_sides_and_a_diagonal(ask):
    # a 3 by 4 rectangle has a diagonal of 5; the sphere between its long sides is 3
    answer = ask("--sides", "4in +- 1/16in,3in,4in,3in", "--diagonal", "5in")
    assert answer["sphere"] == 3
    assert set(answer["touches"]) == {"edge 1", "edge 3"}
    assert answer["uncertainty"]["contact_may_change"] is True
    assert [s["plus_minus"] for s in answer["uncertainty"]["shares"] if s["measurement"] == "side 2"] == [1 / 32]


def test_a_corner_in_the_middle_of_a_side(ask, csv):
    # a square in five points is a square: four contacts, two of them the halves of one side
    square = csv("0,0\n2,0\n4,0\n4,4\n0,4\n")
    found = ask("--points", square, "--limit", "5in", "--move", "1")
    assert (found["sphere"], found["passes"]) == (4, True)
    assert re.findall(r"\d+", found["inverse"]["what"]) == ["1", "2"]
    # taller than wide is no larger a sphere, however far that side moves
    assert "may move outwards" in found["inverse"]["why"]


def test_sides_with_strands_that_end_in_a_wedge(ask):
    # the strands' bodies cut off the figure by shapely: 1.764; outside there is a circle of 18.75 that touches no edge
    found = ask("--sides", "8.625,5.9375,3,3.5625", "--diagonal", "2.75", "--strand-diameter", "3/16in",
                "--strand-edges", "1,3")  # fmt: skip
    assert found["sphere"] == pytest.approx(1.764, abs=5e-4)
    assert max(p["sphere"] for p in found["pockets"]) == found["sphere"]


@pytest.mark.parametrize("edge", [1, 2, 3, 4])
def test_an_edge_of_a_figure_made_of_lengths_is_moved(ask, csv, edge):
    # the same figure by its corners, which are no rationals: to 1e-9
    sides = ask("--sides", "10.25,4,9.5,4.125", "--diagonal", "11", "--limit", "3.5in", "--move", edge)
    rows = "A,B,10.25\nB,C,4\nC,D,9.5\nD,A,4.125\nA,C,11\n"
    lengths = ask("--lengths", csv(rows), "--limit", "3.5in", "--move", edge)
    assert sides["inverse"] == lengths["inverse"]
    assert sides["inverse"]["what"] == f"move of edge {edge}"
    assert sides["inverse"]["greatest"] is None or sides["inverse"]["sphere"] == pytest.approx(3.5, rel=1e-9)


def test_lengths_of_any_figure(ask, csv):
    # an L of 10, 4, 5, 5, 5, 9 cut into triangles by diagonals measured with Pythagoras
    rows = ["A,B,10", "B,C,4", "C,D,5", "D,E,5", "E,F,5", "F,A,9"]
    ring = dict(zip("ABCDEF", L_SHAPE, strict=True))
    cuts = [f"{a},{b},{shapely.Point(ring[a]).distance(shapely.Point(ring[b])):.15f}" for a, b in ("AD", "BD", "DF")]
    answer = ask("--lengths", csv("from,to,length\n" + "\n".join(rows + cuts)))
    theirs = 2 * shapely.maximum_inscribed_circle(shapely.Polygon(L_SHAPE), tolerance=1e-10).length
    assert answer["sphere"] == pytest.approx(theirs, abs=1e-8)
    assert set(answer["touches"]) == {"edge 1", "edge 6", "corner 4"}


@pytest.mark.parametrize(
    ("sides", "more", "start"),
    [
        (
            "1,2,5",
            [],
            "triangle A-B-C: must be with side A-C shorter than the two others together (3), got 5, too long by 2",
        ),
        ("3,4", [], "--sides: must be three, or four with a diagonal"),
        ("3,4,5,6", [], "--diagonal: must be given with four sides"),
        ("3,4,5", ["--diagonal", "4"], "--diagonal: must be left out with three sides"),
        ("3,4,5,4", ["--diagonal", "8"], "triangle A-B-C: must be with diagonal A-C shorter"),
        ("3,4,x", [], "--sides: must be a length"),
        ("3,4,0", [], "--sides: must be a length"),
        ("3,,4", [], "--sides: must be a length"),
        ("3,4,5 +- 1mm", [], "--sides: must be with a unit on both sides"),
    ],
)
def test_sides_refused(refuse, sides, more, start):
    (line,) = refuse("--sides", sides, *more)
    assert line.startswith(start)


@pytest.mark.parametrize(
    ("text", "start"),
    [
        ("A,B,3\nB,C,4\nC,D,5\n", "--lengths: must be sides that come round to A again, got an end at D"),
        ("A,B,3\nB,C,4\nC,D,5\nD,A,6\n", "diagonals: must be 1 for 4 sides"),
        ("A,B,3\nB,C,4\nC,D,5\nD,A,6\nA,X,3\n", "gap.csv line 5: must be between corners of the sides"),
        ("A,B,3\nC,D,4\n", "gap.csv line 2: must be a side from B"),
        ("A,B,3\nB,C,4\nC,B,5\n", "--lengths: must be sides that come round to A again, got an end at B"),
        ("A,B,3\nB,C,4\nC,B,5\nB,D,3\n", "gap.csv line 4: must be a side to a corner not yet reached"),
        ("A,B,-3\nB,C,4\nC,A,5\n", "gap.csv line 1, length: must be a length"),
        (",B,3\nB,C,4\nC,,5\n", "gap.csv line 1: must be a corner's name"),
        ("A,B,1\nB,C,1\nC,D,1\nD,E,1\nE,A,1\nA,C,1.5\nB,D,1.5\n", "diagonals A-C and B-D: must be without crossing"),
    ],
)
def test_lengths_refused(refuse, csv, text, start):
    lines = refuse("--lengths", csv(text))
    assert lines[0].startswith(start)


# --- strands, steps, uncertainty ----------------------------------------------------------------------------


def test_strands(ask, refuse):
    answer = ask("--spacing", "3in +- 1/16in", "--strand-diameter", "1/8in", "--limit", "3in")
    assert (answer["sphere"], answer["touches"]) == (2.875, ["lower strand", "upper strand"])
    assert answer["inverse"]["greatest"] == 3.125
    assert answer["uncertainty"]["standard"] == pytest.approx(1 / 16 / 3**0.5)
    assert answer["uncertainty"]["contact_may_change"] is False
    (line,) = refuse("--spacing", "1/8in", "--strand-diameter", "1/8in")
    assert line.startswith("--spacing: must be more than the strand's diameter")
    (line,) = refuse("--spacing", "3in")
    assert line.startswith("--strand-diameter: must be a length")


def test_a_plain_step_has_no_uncertainty(ask):
    answer = ask(*STEP[1:], "--limit", "6in")
    assert answer["uncertainty"] is None
    # 0.47067: the closed form solved for the lift by hand; see also tests/published
    assert answer["inverse"]["what"] == "lift"
    assert answer["inverse"]["greatest"] == pytest.approx(0.4706718, abs=5e-8)
    assert "pockets" not in answer


def test_a_measured_step(ask):
    answer = ask(*STEP[1:-1], "0.47in +- 1/8in", "--limit", "6in")
    u = answer["uncertainty"]
    assert (answer["passes"], answer["outcome"]) == (False, "too close to call")  # though the figures as given pass
    assert u["verdict"] == "too close to call"
    assert 0.5 < u["probability"] < 0.6
    assert u["shares"][0]["measurement"] == "lift"
    assert sum(s["share"] for s in u["shares"]) == pytest.approx(100)
    assert {"measurement", "value", "plus_minus", "standard", "derivative", "share"} <= set(u["shares"][0])
    assert u["guard_band"] == pytest.approx(2 * u["standard"])
    simple = ask(*STEP[1:-1], "0.47in +- 1/8in", "--limit", "6in", "--guard-band", "0")["uncertainty"]
    assert (simple["verdict"], simple["guard_band"]) == ("complies", 0)


def test_plus_minus_nothing_is_the_exact_verdict(ask):
    tie = ["--rise", "7.5 +- 0", "--run", "10 +- 0", "--lift", "1.2 +- 0", "--limit", "6"]
    u = ask(*tie)["uncertainty"]
    assert (u["standard"], u["verdict"], u["probability"]) == (0, "does not comply", 0)


def test_what_would_settle_it(ask, run):
    step = ["--rise", "7.5", "--run", "10", "--lift", "1.1 +- 1/2", "--limit", "6", "--tape", "none"]
    u = ask(*step)["uncertainty"]
    assert u["settle"] == "lift"
    better = ["--rise", "7.5", "--run", "10", "--lift", f"1.1 +- {u['settle_plus_minus']!r}", "--limit", "6"]
    assert ask(*better, "--tape", "none")["uncertainty"]["verdict"] == "complies"
    out = run("opening", *step)[1]
    # the closed form by hand: k = 5/4, D = 2 (7.5 + 1.1 k) / 3 = 5.9167, a gap of 1/12, 5/6 of it by each of the lift:
    # 2 u = 2 (5/6) p / sqrt(3) < 1/12 is p < 0.0866
    assert first_lines(out).startswith(outcome_head("too close to call"))
    assert " 5.9167 in" in first_lines(out)
    assert "lift to +- 0.086 in" in first_lines(out)


def test_words(run, csv):
    name = csv("0,0\n10,0\n10,4\n6,4\n6,5\n10,5\n10,9\n0,9\n")
    status, out, _ = run("opening", "--points", name, "--limit", "4in", "--tape", "us", "--move", "1")
    assert status == 1
    assert max(map(len, out.splitlines())) <= 100
    for words in (
        outcome_head("does not comply"), "square", "Other pockets", "JCGM 106", "NIST Handbook 44",
        "secondary", "independent", "share of variance", "x of point 1",
    ):  # fmt: skip
        assert words in " ".join(out.split())
    status, out, _ = run("opening", "--sides", "3,4,3,4", "--diagonal", "5", "--tape", "eu-2")
    assert "only indicative" in " ".join(out.split())
    assert "from memory" in " ".join(out.split())
    assert status == 0


def test_impossible_tie_is_no_traceback(ask):
    # a rhombus touches its circle on all four sides at once: its width is the height of two equilateral triangles
    answer = ask("--sides", "2,2,2,2", "--diagonal", "2", "--limit", "1.7320508075688772")
    assert answer["sphere"] == pytest.approx(3**0.5, rel=1e-15)
    assert answer["passes"] is False


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_drawings(run, tmp_path, csv, unit):
    ways = {
        "step": ["--rise", "7", "--run", "10", "--nosing", "1", "--tread", "1", "--lift", "1"],
        "points": ["--points", csv("0,0\n10,0\n10,6\n0,7\n"), "--strand-edges", "3", "--strand-diameter", "0.2"],
        "sides": ["--sides", "4 +- 0.1,3,4,3", "--diagonal", "5.1"],
        "strands": ["--spacing", "3", "--strand-diameter", "0.2"],
    }
    for name, options in ways.items():
        status, out, _ = run("opening", *options, "--limit", "4", "--unit", unit, "--draw", f"{name}.svg")
        assert f"Drawn: {name}.svg" in out
        ElementTree.parse(tmp_path / f"{name}.svg")
        again = run("opening", *options, "--unit", unit, "--draw", f"{name}.svg")
        assert again[0] == 2
        assert again[2][0].startswith("--draw: must be a new file")
        assert status in (0, 1)
    assert sorted(p.suffix for p in tmp_path.iterdir()) == [".csv"] + [".svg"] * 4


def test_other_formats(run, tmp_path):
    for ending, start in ((".png", b"\x89PNG"), (".pdf", b"%PDF")):
        assert run("opening", "--sides", "3,4,5", "--draw", f"out{ending}", "--json")[0] == 0
        assert (tmp_path / f"out{ending}").read_bytes().startswith(start)


# --- the functions ------------------------------------------------------------------------------------------


def test_functions_and_command_agree(ask, csv):
    ring = [(0, 0), (10, "1 +- 1/4"), ("8", 7.5)]
    name = csv("0,0\n10,1 +- 1/4\n8,7.5\n")
    found = stairguard.points_opening(ring, strand_diameter="1/8", strand_edges=[2], limit=6, move=1)
    command = ask("--points", name, "--strand-diameter", "1/8", "--strand-edges", "2", "--limit", "6", "--move", "1")
    assert stairguard.opening_result(found) == command
    assert stairguard.points_opening(name).sphere == stairguard.points_opening([(0, 0), (10, 1), (8, 7.5)]).sphere
    assert stairguard.opening_report(found).startswith(outcome_head("complies"))
    assert found.sphere == pytest.approx(4.7867, abs=5e-5)


def test_functions_take_pairs_for_a_plus_minus():
    found = stairguard.sides_opening([(5, F(1, 16)), 5, 6], tape="none", limit=4)
    assert found.uncertainty.shares[0].measurement.plus_minus == F(1, 16)
    # d(2 area / half perimeter) / da of the isosceles triangle, by hand: 0.28125
    assert found.uncertainty.shares[0].derivative == pytest.approx(0.28125)
    assert stairguard.lengths_opening([("a", "b", 5), ("b", "c", 5), ("c", "a", "6in")]).sphere == 3


def test_bad_arguments_are_faults():
    for call in (
        lambda: stairguard.points_opening([1, 2, 3]),
        lambda: stairguard.points_opening("no such file"),
        lambda: stairguard.sides_opening(7),
        lambda: stairguard.lengths_opening([("a", "b")]),
        lambda: stairguard.strands_opening(3, None),
        lambda: stairguard.step_opening(7, 10, 0, guard_band="x"),
        lambda: stairguard.points_opening([(0, 0), (1, 0), (1, 1)], move=True, limit=1),
    ):
        with pytest.raises(stairguard.InputError) as caught:
            call()
        assert caught.value.faults


# --- the page -----------------------------------------------------------------------------------------------

COMPLIES = outcome_head("complies")
PLAIN = ["opening", "--rise", "7-3/4in", "--run", "10in", "--nosing", "1in", "--tread", "1in"]
OPEN = [*PLAIN, "--open-riser", "--lift", "1in+-1/16in", "--limit", "4in"]
PAIR = ["opening", "--strand-diameter", "1/8in", "--tape", "none", "--limit", "4in", "--spacing"]
SIDES = ["opening", "--sides", "4-13/16+-1/16,4-3/16+-1/16,4-3/4+-1/16,3-7/8+-1/16", "--diagonal", "6-5/16+-1/16",
         "--strand-edges", "3", "--strand-diameter", "3/16in", "--limit"]  # fmt: skip


def first_lines(out):
    """The result: all before the line under it."""
    return " ".join(out.partition("\n==")[0].split())


def reshaped(*sizes, sure=()):
    """The step of a fix: names, what they are to be, and by how much that is more."""
    return "Reshaped", tuple((name, F(to), F(by)) for name, to, by in sizes), tuple(map(F, sure)), False


def moved(edge, by, sure, strand=False):
    return "Moved", edge, strand, F(by), F(sure), False


@pytest.mark.parametrize(
    ("arguments", "outcome", "sphere", "limit", "step", "settle"),
    [
        ([*PLAIN, "--lift", "0", "--limit", "6"], "complies", 5.6083, 6, None, None),
        ([*PLAIN, "--lift", "1", "--limit", "6in"], "does not comply", 6.4406, 6,
         reshaped(("lift", "7/16", "-9/16")), None),
        ([*PLAIN, "--lift", "1+-1/16", "--limit", "6"], "does not comply", 6.4406, 6,
         reshaped(("lift", "7/16", "-9/16"), sure=["3/8"]), None),
        (OPEN, "does not comply", 7.0259, 4,
         reshaped(("rise", "75/16", "-49/16"), ("lift", 0, -1), sure=["37/8", 0]), None),
        ([*SIDES, "4in"], "too close to call", 3.9612, 4, None, ("side 2", "0.036")),
        ([*SIDES, "3.5in"], "does not comply", 3.9612, 3.5, moved(3, "1/2", "9/16", strand=True), None),
        ([*SIDES, "3.5in", "--move", "2"], "does not comply", 3.9612, 3.5, moved(2, "21/16", "23/16"), None),
        ([*PAIR, "4-1/8 +- 1/16"], "too close to call", 4, 4, reshaped(("spacing", 4, "-1/8")), None),
        ([*PAIR, "4-1/8"], "does not comply", 4, 4, reshaped(("spacing", "65/16", "-1/16")), None),
    ],
    ids=["complies", "fails", "fails with +-", "other step", "close", "sides", "that side", "tie with +-", "tie"],
)  # fmt: skip
def test_a_page_starts_with_its_result_and_what_to_do(run, arguments, outcome, sphere, limit, step, settle):
    """0.6.0 began with a title, told PASSES on the figures as given, and a page later the verdict of the +-."""
    out, answer = run(*arguments)[1], json.loads(run(*arguments, "--json")[1])
    told = first_lines(out)
    assert answer["outcome"] == outcome
    assert told.startswith(f"{outcome_head(outcome)}: ")
    assert re.search(rf" {sphere} in, .* {limit} in ", told)
    if step is not None:
        first, *others = answer["fix"].split("; or ")
        assert as_printed.read(first, "in") == step
        assert len(others) == (arguments is OPEN)  # there is another way there: a solid piece, and the gap closed
        assert answer["fix"] in told
    if settle is not None:
        what, enough = settle
        uncertainty = answer["uncertainty"]
        assert uncertainty["settle"] == what
        assert F(enough) <= F(uncertainty["settle_plus_minus"]) < F(enough) + F(1, 1000)
        assert f"{what} to +- {enough} in" in told
    else:
        assert "+- " not in told
    assert not any(word in out for word in ("PASSES", "FAILS", "onform"))
    verdicts = (COMPLIES, outcome_head("does not comply"), outcome_head("too close to call"))
    assert sum(out.count(word) for word in verdicts) == 1


def test_without_a_limit_the_largest_sphere_comes_first(run):
    out = run(*PLAIN, "--lift", "0")[1]
    sphere, _, verdict = first_lines(out).partition(". ")
    assert all(one in sphere for one in ("5.6083 in", "tread", "riser", "member"))
    assert verdict.startswith(f"{UNJUDGED}: ")


@pytest.mark.parametrize(
    ("arguments", "made"),
    [
        ([*PLAIN, "--lift", "1", "--limit", "6in"], [*PLAIN, "--lift", "7/16", "--limit", "6in"]),
        ([*PLAIN, "--lift", "1+-1/16", "--limit", "6"], [*PLAIN, "--lift", "3/8+-1/16", "--limit", "6"]),
        (OPEN, [*OPEN[:2], "4-5/8in", *OPEN[3:9], "--open-riser", "--lift", "0in+-1/16in", "--limit", "4in"]),
        ([*PAIR, "4-1/8 +- 1/16"], [*PAIR, "4 +- 1/16"]),
        ([*PAIR, "4-1/8"], [*PAIR, "4-1/16"]),
        ([*SIDES, "4in"], [*SIDES[:2], SIDES[2].replace("4-3/16+-1/16", "4-3/16+-0.036"), *SIDES[3:], "4in"]),
    ],
)
def test_what_a_page_says_to_do_does_it(run, arguments, made):
    assert run(*arguments)[0] in (1, 3)
    assert run(*made)[0] == 0


def test_a_usual_tape_is_told_beside_and_never_as_the_verdict(run, csv):
    """Without a +- of the asker's own the drawing of 0.6.0 said TOO CLOSE TO CALL where the page and status did not."""
    name = csv("0,0\n4,0\n4,4\n0,4\n")
    status, out, _ = run("opening", "--points", name, "--limit", "4.01in")
    assert (status, first_lines(out).partition(":")[0]) == (0, COMPLIES)
    assert "CAUTION: " in out
    assert "CAUTION: " not in run("opening", "--points", name, "--limit", "4.5in")[1]
    drawn = opening_drawing(stairguard.points_opening(name, limit="4.01in"), "2026-01-31")
    assert [text.words for text in drawn.texts() if text.what == "verdict"] == [COMPLIES]
    assert not any(LIST_VERDICTS["too close to call"] in text.words for text in drawn.texts())


def test_several_lengths_to_measure_again_are_told_by_name(run):
    """Three sides alike: 2 u of the incircle is within the gap only if all three are taken better, and then it is."""
    of = ["--limit", "3.48in", "--tape", "none"]
    out = run("opening", "--sides", "6+-1/8,6+-1/8,6+-1/8", *of)[1]
    told = first_lines(out)
    assert told.startswith(outcome_head("too close to call"))
    assert " 3.4641 in" in told
    assert "side 1, side 2 and side 3" in told
    better = told.rpartition("to +- ")[2].split()[0]
    assert run("opening", "--sides", ",".join([f"6+-{better}"] * 3), *of)[0] == 0


def far(name, of, unit="in"):
    """The faults of a call that must be refused."""
    with pytest.raises(stairguard.InputError) as caught:
        of()
    assert [fault.where for fault in caught.value.faults] == name
    assert all(unit in fault.must or "times the" in fault.must for fault in caught.value.faults)


@pytest.mark.parametrize("tiny", [1e-320, 5e-324, 1e-160, "1e-60"])
def test_figures_that_no_tape_knows_are_refused(tiny):
    """Of 0.6.0 these were OverflowError, ZeroDivisionError, ValueError and ArithmeticError of Python calls."""
    far(["run"], lambda: stairguard.step_opening(7, tiny, 1, limit=4, inverse=True))
    far(["rise", "run"], lambda: stairguard.step_opening(tiny, tiny, 1, limit=4, inverse=True))
    far(["lift, +-"], lambda: stairguard.step_opening(7, 10, (1, tiny), limit=4))
    far(["sides"], lambda: stairguard.sides_opening([4, 4, tiny], limit=2))
    far(["row 3, length"], lambda: stairguard.lengths_opening([("A", "B", 4), ("B", "C", 4), ("C", "A", tiny)]))
    far(["row 3, z"], lambda: stairguard.points_opening([(0, 0), (4, 0), (4, tiny)]))
    far(["limit"], lambda: stairguard.strands_opening(3, "1/8in", limit=tiny))
    far(["run"], lambda: stairguard.transition(7, tiny, 36, 42, "top", post_at=1))
    far(["post_at"], lambda: stairguard.transition(7, 10, 36, 42, "top", post_at=tiny))
    bay = {"diameter": "1/8in", "spacing": 3, "bay": 42, "tension": 200}
    for key in ("diameter", "spacing", "bay"):
        far([key], lambda key=key: stairguard.strand_give(**{**bay, key: tiny}))
    far(["stiffness"], lambda: stairguard.strand_give(**bay, stiffness=tiny), "lbf")
    far(["post_stiffness"], lambda: stairguard.strand_give(**bay, post_stiffness=tiny), "lbf")


def test_a_step_out_of_all_proportion_is_refused():
    """A run of 1e6 in ended in an ArithmeticError in 0.6.0."""
    far(["run"], lambda: stairguard.step_opening(7.25, 1e6, 1, nosing=1, tread=1, limit=4, inverse=True))
    far(["lift", "limit"], lambda: stairguard.step_opening(1e-10, 1e-10, 1, limit=4))
    assert stairguard.step_opening(1, 10_000, 1, limit=4).passes


@pytest.mark.parametrize(
    ("corners", "limit", "tape", "by", "made"),
    [
        # a square at the tie: either edge moved in closes it
        ("0,0 4,0 4,4 0,4", "4in", "none", F(1, 16), "0,1/16 4,1/16 4,4 0,4"),
        # kept on the bare figures by 0.004, and left open by the tape: u = sqrt(2) (1/32) / sqrt(3) = 0.0255, its band
        # doubled, 0.102, since the sphere may run along: moved by 1/16 there is 0.066 to spare, by 1/8 0.129
        ("0,0 5,0 5,3.99 0,4", "4in", "us", F(1, 8), "0,1/8 5,1/8 5,3.99 0,4"),
    ],
)  # fmt: skip
def test_an_outline_just_at_its_limit_is_closed_by_one_edge(ask, run, csv, corners, limit, tape, by, made):
    """At the tie no edge had to move at all, and the fix was to fill the opening in."""
    terms = ("--limit", limit, "--tape", tape)
    fix = ask("--points", csv(corners.replace(" ", "\n")), *terms)["fix"]
    assert as_printed.read(fix, "in") == ("Moved", 1, False, by, None, False)
    assert run("opening", "--points", csv(made.replace(" ", "\n"), "made.csv"), *terms)[0] == 0


def test_what_to_do_is_on_the_sheet_and_in_the_data(ask):
    found = stairguard.step_opening("7-3/4in", 10, 1, nosing=1, tread=1, limit=6, inverse=True)
    told = [text.words for text in opening_drawing(found, "2026-01-31").texts()]
    answer = ask(*PLAIN[1:], "--lift", "1", "--limit", "6")
    assert as_printed.read(answer["fix"], "in") == reshaped(("lift", "7/16", "-9/16"))
    assert any(answer["fix"] in words for words in told)
    assert ask(*PLAIN[1:], "--lift", "0", "--limit", "6")["fix"] is None
