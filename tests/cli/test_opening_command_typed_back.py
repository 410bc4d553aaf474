"""Figures that ``opening`` and ``give`` print are typed back as printed, and do what is said of them."""

import json
import re
from fractions import Fraction as F

import pytest

from tests.texts import flat

# rise, run, nosing, lift and the sphere to stop, in one unit: over none of them a member on the nosing line is enough
STEPS = [
    ("180", "250", "0", "60", "100", "mm"), ("180", "250", "25", "0", "100", "mm"),
    ("190", "254", "25", "15", "100", "mm"),
    ("170", "280", "20", "10", "89", "mm"), ("7.75", "10", "1.25", "2", "4", "in"), ("7", "11", "0", "1", "4", "in"),
]  # fmt: skip
SIZE = re.compile(r"the (rise|run|nosing) is less than ([\d.]+) (?:in|mm)")
LIFT = re.compile(
    r"With the lift (?:as given|([\d.]+) (?:in|mm)) it is stopped while (.+?), the other lengths as given\."
)


def options(given):
    return [word for key, value in given.items() for word in (f"--{key}", value)]


@pytest.mark.parametrize(("rise", "run_", "nosing", "lift", "limit", "unit"), STEPS)
def test_another_step_as_printed_stops_the_sphere(run, rise, run_, nosing, lift, limit, unit):
    """A figure printed as "less than" is typed one of its last digits less; it holds only with the lift beside it."""
    given = {"rise": rise, "run": run_, "nosing": nosing, "lift": lift, "limit": limit, "unit": unit}
    status, page, _ = ask(run, given)
    (beside, sizes) = LIFT.search(flat(page)).groups()
    told = SIZE.findall(sizes)
    assert status == 1
    assert told
    for what, text in told:
        digit = F(1, 10 ** len(text.partition(".")[2]))
        made = given | {"lift": beside or lift, what: str(F(text) - digit)}
        assert ask(run, made)[0] == 0, (what, text)
        assert ask(run, made | {what: str(F(text) + digit)})[0] == 1
    data = json.loads(ask(run, given, "--json")[1])["inverse"]
    assert [one["what"] for one in data["instead"]] == [what for what, _ in told]
    assert all(one["lift"] == float(beside or lift) for one in data["instead"])


def ask(run, given, *more):
    return run("opening", *options(given), *more)


def test_a_lift_below_the_nosing_line_is_told_for_what_it_is(run):
    """Over the treads no member can be there: told on 0.6.0 as a lift of less than -1.03, which cannot be typed."""
    _, page, _ = ask(run, {"rise": "180mm", "run": "250mm", "lift": "60mm", "limit": "100mm"})
    assert "lift, square, is less than" not in page
    # by the closed form: (100 (k + 1 + R/G) / 2 - R) / k, in inches, below nothing
    below = re.search(r"more than ([\d.]+) in below the nosing line, square", flat(page))[1]
    k = (1 + (180 / 250) ** 2) ** 0.5
    assert float(below) == pytest.approx((180 - 50 * (k + 1 + 180 / 250)) / k / 25.4, abs=1e-7)
    assert "Over the treads no member can be there" in flat(page)


# --- edges moved ------------------------------------------------------------------------------------------------------

MOVE = re.compile(
    r"(?:Edge (\d)|The side of edges (\d) and \d) (?:may move out|must move in)wards, square to itself, by "
    r"(less|more) than ([\d.]+) (?:in|mm)"
)
SQUARE = [(0, 0), (10, 0), (10, 5), (0, "4.5")]
# corners, more of the question, how it is typed
OUTLINES = {
    "corners, in": (SQUARE, {"move": "3", "limit": "4"}, "points"),
    "corners, outwards": (SQUARE, {"move": "1", "limit": "5.25"}, "points"),
    "corners, the other way round, mm": (
        [(0, 0), (0, 118), (251, 131), (250, 3)], {"move": "2", "limit": "100", "unit": "mm"}, "points",
    ),
    "a strand, mm": (
        [(0, 0), (300, 0), (300, 125), (0, 121)],
        {"move": "3", "limit": "100", "unit": "mm", "strand-edges": "3", "strand-diameter": "3"}, "points",
    ),
    "a side in two pieces": ([(0, 0), (4, 0), (10, 0), (10, 5), (0, "4.5")], {"move": "2", "limit": "4"}, "points"),
    "three sides": ([(0, 0), (12, 0), (5, 9)], {"move": "2", "limit": "4"}, "sides"),
    "four sides, mm": ([(0, 0), (260, 0), (254, 121), (-3, 118)], {"move": "1", "limit": "99", "unit": "mm"}, "sides"),
    "five sides": ([(0, 0), (9, 0), (10, 4), (5, 7), (0, 5)], {"move": "1", "limit": "4"}, "lengths"),
}  # fmt: skip


@pytest.mark.parametrize("name", OUTLINES)
def test_an_edge_moved_as_printed_does_what_is_said(run, tmp_path, name):
    """Moved by hand: its ends along its neighbours' lines; a last digit less, and more, than is printed."""
    ring, more, form = OUTLINES[name]
    ring = [(F(x), F(z)) for x, z in ring]
    page = flat(run("opening", *typed(ring, form, tmp_path), *options(more))[1])
    page = page.replace("itself, however little, to", "itself, by more than 0 in to")  # at the tie
    edge, pieces, way, text = MOVE.search(page).groups()
    out = 1 if way == "less" else -1
    digit = F(1, 10 ** len(text.partition(".")[2]))
    if pieces:
        ring, edge = [ring[0], *ring[2:]], "1"
    asked = {key: value for key, value in more.items() if key != "move"}
    for by, status in ((out * F(text) - digit, 0), (out * F(text) + digit, 1)):
        again = typed(shifted(ring, int(edge), by), form, tmp_path)
        assert run("opening", *again, *options(asked), "--tape", "none")[0] == status, (name, float(by))


def shifted(ring, edge, by):
    """Corners of an outline, an edge moved outwards."""
    n, k = len(ring), edge - 1
    (ax, az), (bx, bz) = ring[k], ring[(k + 1) % n]
    turned = sum(p[0] * q[1] - p[1] * q[0] for p, q in zip(ring, ring[1:] + ring[:1], strict=True)) < 0
    long = float((bx - ax) ** 2 + (bz - az) ** 2) ** 0.5 * (-1 if turned else 1)
    out, new = (float(bz - az) / long, float(ax - bx) / long), list(ring)
    for end, other in ((k, ring[k - 1]), ((k + 1) % n, ring[(k + 2) % n])):
        (px, pz), (ox, oz) = ring[end], other
        t = by / F(float(px - ox) * out[0] + float(pz - oz) * out[1])
        new[end] = (px + t * (px - ox), pz + t * (pz - oz))
    return new


def typed(ring, form, folder):
    """An outline as it is typed: its corners or its sides and diagonals from the first corner."""
    n, path = len(ring), folder / "outline.csv"
    if form == "points":
        path.write_text("".join(f"{float(x):.15f},{float(z):.15f}\n" for x, z in ring), encoding="utf-8")
        return "--points", str(path)
    apart = {
        (i, j): f"{float((ring[i][0] - ring[j][0]) ** 2 + (ring[i][1] - ring[j][1]) ** 2) ** 0.5:.14g}"
        for i, j in [*((k, (k + 1) % n) for k in range(n)), *((0, k) for k in range(2, n - 1))]
    }
    if form == "sides":
        sides, across = list(apart.values())[:n], list(apart.values())[n:]
        return "--sides", ",".join(sides), *(("--diagonal", across[0]) if across else ())
    path.write_text("".join(f"{'ABCDE'[i]},{'ABCDE'[j]},{size}\n" for (i, j), size in apart.items()), encoding="utf-8")
    return "--lengths", str(path)


# --- what would hold --------------------------------------------------------------------------------------------------

TOLD = {"widest_spacing": "spacing", "longest_bay": "bay", "tension_for_force": "tension"}


def test_what_would_hold_holds_at_full_precision(run):
    """See ``tests/solve/load/test_single_bay.py`` for more bays: here as the command prints and reads them."""
    given = {"diameter": "1/8", "spacing": "3", "bay": "42", "run-length": "240", "tension": "200", "force": "11"}
    told = json.loads(run("give", *options(given), "--json")[1])
    for key, option in TOLD.items():
        again = json.loads(run("give", *options(given | {option: repr(told[key]["free"])}), "--json")[1])
        assert again["push"]["free"] >= 11, key
        assert again["verdict"] == "holds"


# --- one step, two commands -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("height", "nosing"), [("900 mm", "25 mm"), ("913 mm", "0 mm")])
def test_a_step_is_told_alike_by_layout_and_opening(run, tmp_path, height, nosing):
    """As designed with the lift of the lowest strand's own height, as marked with that of its highest hole."""
    path = tmp_path / "job.toml"
    path.write_text(
        f'title = "t"\nunit = "mm"\nrules = "none"\nmark = "1 mm"\n[rail]\nheight = "{height}"\ndepth = "40 mm"\n'
        'width = "90 mm"\n[strand]\ndiameter = "3 mm"\nspacing = "75 mm"\n[post]\nwidth = "40 mm"\n'
        'max_gap = "1200 mm"\nsetback = "127 mm"\n[[surface]]\nkind = "landing"\nlength = "1500 mm"\n[[surface]]\n'
        f'kind = "flight"\nrisers = 8\nrise = "190 mm"\nrun = "254 mm"\nnosing = "{nosing}"\ntread = "0 mm"\n'
        '[[surface]]\nkind = "landing"\nlength = "1500 mm"\n',
        encoding="utf-8",
    )
    laid = json.loads(run("layout", str(path), "--json")[1])
    told = max((o for o in laid["openings"] if o["where"].startswith("step triangle")), key=lambda o: o["sphere"])
    flight = laid["surfaces"][1]
    field = flight["strands"]
    start, sec = flight["nosings"][0], (1 + (190 / 254) ** 2) ** 0.5
    low = len(field["heights"])
    marked = max(
        hole["marked"] + post["base"] - start[1] - (post["station"] - start[0]) * 190 / 254
        for post in laid["posts"] for hole in post["holes"] if hole["strand"] == low and 1 in hole["surfaces"]
    )  # fmt: skip
    for plumb, sphere in ((field["heights"][-1], told["sphere"]), (marked, told["sphere_as_marked"])):
        given = {"rise": "190", "run": "254", "nosing": nosing, "lift": f"{plumb / sec - 1.5:.14f}", "unit": "mm"}
        assert json.loads(ask(run, given, "--json")[1])["sphere"] == pytest.approx(sphere, abs=1e-9)
