import math
import random
from itertools import pairwise

import pytest
import shapely

from stairguard.reports.drawing.chart.chart_lines import _dashes
from stairguard.reports.drawing.chart.chart_record import Band, Chart, ChartMark, Curve, Level
from stairguard.reports.drawing.chart.chart_sheet import chart_sheet
from stairguard.reports.drawing.paper.scene import ACCENT, Circle, Line, Place, Polygon, Text
from stairguard.reports.words.general_cautions import ALWAYS
from tests.reports.drawing.legible import boxes, outside, overlapping

# Geometry of overlaps: shapely. What is checked is the record; no picture is painted.

DATE = "2026-02-03"
SEEDS = range(36)
WORDS = ("", "steel frame", "strand held at both posts of every bay", "W" * 70, "$x^2$ \u202e<b>\n楼梯", "a " * 60, "é")


def _series(rng, name):
    count = rng.choice((0, 1, 2, 2, 9, 40, 200))
    size, off = 10 ** rng.uniform(-8, 9), rng.choice((0, 0, 1, -30))
    x = sorted(rng.uniform(-1, 1) * size for _ in range(count))
    shape = rng.choice((lambda t: t, lambda t: off, lambda t: t * t + off, lambda t: rng.uniform(-1, 1), math.sin))
    return Curve(name, tuple(x), tuple(size * float(shape(v / size)) for v in x), rng.random() < 0.5)


def random_chart(seed):
    rng = random.Random(seed)
    series = tuple(_series(rng, rng.choice(WORDS)) for _ in range(rng.choice((0, 1, 2, 3, 3, 6, 7))))
    points = [(x, y) for s in series for x, y in zip(s.x, s.y, strict=True)] or [(0.0, 0.0)]
    marks = tuple(ChartMark(rng.choice(WORDS), *rng.choice(points)) for _ in range(rng.choice((0, 0, 1, 2, 5))))
    reach = max(abs(y) for _, y in points) or 1.0
    levels = tuple(
        Level(rng.choice(WORDS), rng.choice((0.0, 1, -1, 0.4, 30)) * reach) for _ in range(rng.choice((0, 1, 3)))
    )
    bands = ()
    if series and rng.random() < 0.5:
        s = series[0]
        bands = (Band(rng.choice(WORDS), s.x, tuple(y - reach / 9 for y in s.y), s.y),)
    notes = tuple(rng.choice(WORDS) for _ in range(rng.choice((0, 1, 4, 30))))
    title, x_name, y_name = (rng.choice(WORDS) for _ in range(3))
    return Chart(
        title=title,
        x_name=x_name,
        y_name=y_name,
        series=series,
        levels=levels,
        marks=marks,
        bands=bands,
        notes=notes,
        x_unit="°F",
        y_unit=rng.choice(("", "lbf")),
    )


@pytest.fixture(scope="module")
def sheets():
    return [(seed, random_chart(seed), chart_sheet(random_chart(seed), DATE, ("in", "mm")[seed % 2])) for seed in SEEDS]


def test_no_word_overlaps_another_or_leaves_the_frame(sheets):
    for seed, _, sheet in sheets:
        assert (overlapping(sheet), outside(sheet, 8)) == ([], []), seed


def test_no_line_but_the_grid_crosses_words(sheets):
    for seed, chart, sheet in sheets:
        lines = [m.points for m in sheet.marks() if isinstance(m, Line) and m.pen != "fine"]
        lines += [_whole(sheet, s) for s in chart.series if len(s.x) > 1]  # gaps between dashes too
        shapes = [shapely.LineString(points) for points in lines if len(set(points)) > 1]
        tree = shapely.STRtree(shapes)
        for text, box in boxes(sheet):
            core = box.buffer(-0.2)
            hit = [shapes[k] for k in tree.query(core) if shapes[k].intersects(core)]
            assert not hit, (seed, text.words, hit)


def _axis(sheet, what, upright):
    """Return the map from a value to paper that the axis' own numbers tell."""
    texts = [t for t in sheet.texts() if t.what == what]
    name = next(t.words for t in sheet.texts() if t.what == f"{what} name")
    unit = 10.0 ** int(name.partition("in units of 1e")[2] or 0)
    grid = [m.points for m in sheet.marks() if isinstance(m, Line) and m.what == "grid"]
    at = sorted(p[0][upright] for p in grid if p[0][upright] == p[1][upright])
    (a, b), (first, last) = (at[0], at[-1]), (float(texts[k].words) * unit for k in (0, -1))
    return lambda value: a + (value / unit - first / unit) / (last / unit - first / unit) * (b - a)


def _whole(sheet, series):
    across, up = _axis(sheet, "level axis", 0), _axis(sheet, "upright axis", 1)
    return tuple((across(x), up(y)) for x, y in zip(series.x, series.y, strict=True))


CHART = Chart(
    title="Push against tension",
    x_name="strand tension at rest, lbf",
    y_name="push to pass a 4 in sphere, lbf",
    series=(
        Curve("held", (0.0, 250.0, 500.0), (1.0, 9.0, 20.0)),
        Curve("sliding", (0.0, 250.0, 490.0), (0.0, 6.0, 13.0), True),
    ),
    levels=(Level("force to hold", 16.5), Level("breaking force", 1780)),
    marks=(ChartMark("as set", 200.0, 5.0),),
    bands=(Band("between", (0.0, 250.0, 490.0), (0.0, 6.0, 13.0), (1.0, 9.0, 19.5)),),
    notes=("No friction.",),
    x_unit="lbf",
    y_unit="lbf",
)


def _marks(sheet, what, kind=Line):
    return [m for m in sheet.marks() if isinstance(m, kind) and m.what == what]


def test_series_are_drawn_where_the_axes_say():
    sheet = chart_sheet(CHART, DATE)
    (line,) = _marks(sheet, "series held")
    for have, want in zip(line.points, _whole(sheet, CHART.series[0]), strict=True):
        assert have == pytest.approx(want)
    (dot,) = _marks(sheet, "mark as set", Circle)
    across, up = _axis(sheet, "level axis", 0), _axis(sheet, "upright axis", 1)
    assert dot.centre == pytest.approx((across(200), up(5)))
    (band,) = _marks(sheet, "band between", Polygon)
    assert len(band.points) == 6
    assert {round(y, 6) for _, y in band.points} == {round(up(y), 6) for y in (0, 6, 13, 1, 9, 19.5)}
    (level,) = _marks(sheet, "level force to hold")
    assert [y for _, y in level.points] == pytest.approx([up(16.5)] * 2)


def test_dashes_run_along_the_line_from_its_start():
    sheet = chart_sheet(CHART, DATE)
    path = shapely.LineString(_whole(sheet, CHART.series[1]))
    dashes = [m.points for m in _marks(sheet, "series sliding") if m.pen != "hatch"]
    assert len(dashes) > 5
    assert all(path.distance(shapely.Point(p)) < 1e-6 for dash in dashes for p in dash)
    ends = [path.project(shapely.Point(p)) for dash in dashes for p in (dash[0], dash[-1])]
    assert ends == sorted(ends)
    assert ends[0] == pytest.approx(0, abs=1e-6)
    drawn = sum(ends[1::2]) - sum(ends[::2])
    assert 0.4 * path.length < drawn < 0.8 * path.length


def test_lines_are_named_at_their_ends():
    sheet = chart_sheet(CHART, DATE)
    words = {t.what: t for t in sheet.texts()}
    right = max(x for x, _ in _marks(sheet, "level force to hold")[0].points)
    assert words["series held"].words == "held"
    assert words["level force to hold"].words == "force to hold: 16.5 lbf"
    for what in ("series held", "series sliding", "band between", "level force to hold"):
        assert words[what].at.x > right
        (leader,) = _marks(sheet, f"from {what} to its name")
        assert leader.points[-1].x < words[what].at.x
        assert abs(leader.points[-1].y - words[what].at.y) < 8
    for series in CHART.series:
        (leader,) = _marks(sheet, f"from series {series.name} to its name")
        assert leader.points[0] == pytest.approx(_whole(sheet, series)[-1])


def test_a_level_that_would_flatten_all_else_is_told_and_not_drawn():
    sheet = chart_sheet(CHART, DATE)
    assert not _marks(sheet, "level breaking force")
    said = " ".join(t.words for t in sheet.texts() if t.what == "level breaking force")
    assert said == "breaking force: 1780 lbf, above what is drawn"
    below = chart_sheet(
        Chart(title="", x_name="", y_name="", series=(Curve("", (0, 1), (5, 6)),), levels=(Level("slack", -900.0),)),
        DATE,
    )
    assert " ".join(t.words for t in below.texts() if t.what == "level slack") == "slack: -900, below what is drawn"


def test_a_mark_is_called_out_with_its_value():
    words = [t for t in chart_sheet(CHART, DATE).texts() if t.what == "mark as set"]
    assert [t.words for t in words] == ["as set", "5 lbf at 200 lbf"]
    assert {t.ink for t in words} == {ACCENT}


def test_a_mark_without_room_is_told_in_the_notes():
    x = tuple(k / 400 for k in range(401))
    noise = tuple(math.sin(1e4 * k) for k in x)
    chart = Chart(
        title="",
        x_name="",
        y_name="",
        series=(Curve("", x, noise),),
        marks=(ChartMark("the thing to see", 0.5, noise[200]),),
    )
    sheet = chart_sheet(chart, DATE)
    notes = " ".join(t.words for t in sheet.texts() if t.what == "note")
    assert "Not named on the chart: the thing to see:" in notes
    assert [m for m in sheet.marks() if isinstance(m, Circle)]


def _strokes(series):
    """Return the lengths on paper of a level series' first dashes and gaps, with its weight."""
    sheet = chart_sheet(Chart(title="", x_name="", y_name="", series=series), DATE)
    out = []
    for s in series:
        dashes = _marks(sheet, f"series {s.name}")[:4]
        xs = [x for d in dashes for x, _ in (d.points[0], d.points[-1])]
        out.append((dashes[0].pen, tuple(round(b - a, 3) for a, b in pairwise(xs))[:5]))
    return out


def test_series_are_told_apart_without_colour():
    series = tuple(Curve(f"s{k}", (0.0, 9.0), (float(k), float(k)), dashed=k % 2 == 1) for k in range(12))
    found = _strokes(series)
    assert len(set(found)) == 12
    assert all(len(lengths) > 1 for (_, lengths), s in zip(found, series, strict=True) if s.dashed)
    assert len(found[0][1]) == 1  # the first is unbroken


def test_two_bounds_of_one_thing_are_solid_and_dashed():
    (_, held), (_, sliding) = _strokes(tuple(Curve(n, (0, 1), (0, 0), n == "b") for n in "ab"))
    assert len(held) == 1
    assert len(sliding) > 1


@pytest.mark.parametrize(
    "y", [(), (3.0,), (7.0, 7.0, 7.0), (0.0, 0.0), (1e-250, 2e-250), (-1e299, 1e299), (1e6, 1e6 + 1e-9)]
)
def test_odd_series_are_drawn(y):
    x = tuple(float(k) for k in range(len(y)))
    sheet = chart_sheet(Chart(title="", x_name="time, h", y_name="force, N", series=(Curve("only", x, y),)), DATE)
    drawn = [m for m in sheet.marks() if getattr(m, "what", "") == "series only" and not isinstance(m, Text)]
    assert len(drawn) == bool(y)
    inside = shapely.box(*shapely.LineString(_marks(sheet, "axes")[0].points).bounds).buffer(1e-6)
    for mark in drawn:
        for at in (mark.centre,) if isinstance(mark, Circle) else mark.points:
            assert inside.covers(shapely.Point(at))
    notes = [t.words for t in sheet.texts() if t.what == "note"]
    assert notes == ([] if y else ["only: no values"])


def test_the_sheet_says_what_every_sheet_says():
    sheet = chart_sheet(CHART, DATE, "in")
    assert (sheet.width, sheet.height) == (279.4, 215.9)
    words = [t.words for t in sheet.texts()]
    assert {DATE, "Push against tension", "No friction.", "strand tension at rest, lbf"} <= set(words)
    printed = " ".join(t.words for t in sheet.texts() if t.what == "caution")
    assert all(caution in printed for caution in ALWAYS)


def test_lettering_is_never_smaller_than_on_other_sheets(sheets):
    assert all(text.cap >= 2.5 for *_, sheet in sheets for text in sheet.texts())


def test_a_line_has_dashes_as_drawn_until_it_has_too_many():
    """Of 3 on and 1 off, 100 along: a dash every 4, to the end; of a line that long that there would be more than the
    most, as many as that, all longer alike."""
    drawn = list(_dashes((Place(0.0, 0.0), Place(100.0, 0.0)), (3.0, 1.0)))
    assert [x for a, b in drawn for x in (a.x, b.x)] == pytest.approx(
        [4.0 * k + on for k in range(25) for on in (0, 3)]
    )
    long = list(_dashes((Place(0.0, 0.0), Place(100_000.0, 0.0)), (3.0, 1.0)))
    assert len(long) in (3000, 3001)  # sums of lengths that are no binary fractions may fall short of the end
    assert (long[0][1].x, long[1][0].x) == pytest.approx((25.0, 100_000 / 3000))
