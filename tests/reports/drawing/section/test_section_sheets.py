"""Sheets of sections, read back from the drawing's record; overlaps of words by shapely, no picture painted but one."""

from dataclasses import replace

import pytest
import shapely

from stairguard.io.write.render import save
from stairguard.reports.drawing.paper.scene import Circle, Line, Polygon
from stairguard.reports.drawing.section.corner_facts import side_corners
from stairguard.reports.drawing.section.section_facts import side_sections
from tests.reports import guards
from tests.reports.drawing.legible import outside, overlapping
from tests.reports.drawing.section import sides

NEAR = 1e-9


@pytest.fixture(params=sorted(sides.JOBS))
def name(request):
    return request.param


def drawn(name):
    """Each section of a guard with the sheet it is drawn on and its view."""
    sheets = [sheet for sheet in sides.sheets(name) if sheet.name.startswith("sections")]
    sections = side_sections(sides.checked(name).layout)
    views = [(sheet, view) for sheet in sheets for view in sheet.views if view.name == "SECTION"]
    assert len(views) == len(sections)
    return [(section, sheet, view) for section, (sheet, view) in zip(sections, views, strict=True)]


def within(view, place):
    window = view.windows[0]
    return window.dx + view.scale * window.first <= place.x <= window.dx + view.scale * window.last


def named(sheet, view, kind, what):
    return [
        mark for mark in sheet.marks()
        if isinstance(mark, kind) and mark.what == what
        and within(view, mark.centre if kind is Circle else mark.points[0])
    ]  # fmt: skip


def tips(sheet, view, what):
    """Where the arrow heads of a dimension point."""
    return [head.points[0] for head in named(sheet, view, Polygon, what)]


def test_a_guard_on_the_surface_has_no_sheet_and_no_mark():
    on_it = guards.inch_job()
    found = guards.sheets(guards.checked(replace(on_it, post=replace(on_it.post, mount="surface", drop=0))))
    assert not [sheet.name for sheet in found if sheet.name.startswith("sections")]
    assert not [text for sheet in found for text in sheet.texts() if text.what == "section"]


def test_the_sphere_and_its_centre_are_drawn_where_they_are(name):
    for section, sheet, view in drawn(name):
        (sphere,) = named(sheet, view, Circle, "largest sphere")
        assert view.to_model(sphere.centre) == pytest.approx(section.centre, abs=NEAR)
        assert sphere.radius == pytest.approx(section.opening.sphere / 2 * view.scale, abs=NEAR)


def test_every_strand_in_the_picture_is_drawn_where_it_is_cut(name):
    for section, sheet, view in drawn(name):
        seen = 0
        for number, z in section.strands:
            round_ = named(sheet, view, Circle, f"strand {number}")
            tall = [m for m in named(sheet, view, Polygon, f"strand {number}") if len(m.points) > 8]
            assert len(round_) + len(tall) <= 1
            for mark in round_:
                assert section.sec == 1
                assert view.to_model(mark.centre) == pytest.approx((section.out, z), abs=NEAR)
                assert mark.radius == pytest.approx(section.radius * view.scale, abs=NEAR)
            for mark in tall:
                high, low = (f(p.y for p in mark.points) for f in (max, min))
                middle = (mark.points[0].x + mark.points[len(mark.points) // 2].x) / 2, (high + low) / 2
                assert (high - low) / view.scale == pytest.approx(2 * section.radius * section.sec, abs=NEAR)
                assert view.to_model(type(mark.points[0])(*middle)) == pytest.approx((section.out, z), abs=NEAR)
            seen += len(round_) + len(tall)
        assert seen >= 2


def test_at_a_landing_the_drawn_circles_touch(name):
    for section, sheet, view in drawn(name):
        if section.surface.kind != "landing":
            continue
        (sphere,) = named(sheet, view, Circle, "largest sphere")
        (strand,) = named(sheet, view, Circle, f"strand {section.strands[0][0]}")
        (edge,) = named(sheet, view, Line, "edge and side")
        _, corner, down = edge.points
        apart = ((sphere.centre.x - strand.centre.x) ** 2 + (sphere.centre.y - strand.centre.y) ** 2) ** 0.5
        assert apart == pytest.approx(sphere.radius + strand.radius, abs=1e-6)
        below = min(max(sphere.centre.y, down.y), corner.y)
        off = ((sphere.centre.x - corner.x) ** 2 + (sphere.centre.y - below) ** 2) ** 0.5
        assert off == pytest.approx(sphere.radius, abs=1e-6)


def test_dimensions_say_what_they_span(name):
    job = sides.JOBS[name]
    fmt = guards.formatter(job)
    for section, sheet, view in drawn(name):
        one, other = tips(sheet, view, "offset")
        assert abs(one.x - other.x) == pytest.approx(float(job.post.offset) * view.scale, abs=1e-6)
        assert f"{fmt(job.post.offset)} out, level" in [text.words for text in sheet.texts()]
        (height,) = [line for line in named(sheet, view, Line, "height of the lowest strand") if line.pen == "thin"]
        assert height.points[0].x == height.points[-1].x
        over = float(sides.checked(name).layout.fields[section.surface.index].heights[-1])
        said = [text.words for text in sheet.texts() if text.what == f"height of strand {len(section.strands)}"]
        assert f"{fmt(abs(over))} plumb" in said
        if section.post is not None:
            one, other = tips(sheet, view, "drop")
            assert abs(one.y - other.y) / view.scale == pytest.approx(section.edge - float(section.post.base), abs=1e-6)


def test_every_sheet_is_legible(name):
    for sheet in sides.sheets(name):
        assert overlapping(sheet) == []
        assert outside(sheet, 10.0) == []


def test_no_line_crosses_words_without_paper_of_their_own(name):

    for _, sheet, _ in drawn(name):
        bare = [(t, shapely.Polygon(t.corners())) for t in sheet.texts() if t.words and not t.box]
        for line in (m for m in sheet.marks() if isinstance(m, Line) and m.pen != "rule"):
            path = shapely.LineString(line.points)
            for text, shape in bare:
                assert path.intersection(shape).length < 1e-6, (line.what, text.words)


def test_sections_are_said_on_the_elevation_and_cut_at_their_stations(name):
    (elevation,) = [sheet for sheet in sides.sheets(name) if sheet.name == "elevation"]
    words = " ".join(text.words for text in elevation.texts() if text.what == "BESIDE THE STAIR")
    fmt = guards.formatter(sides.JOBS[name])
    assert f"{fmt(sides.JOBS[name].post.offset)} level out from the stair's side" in words
    for section, _, _ in drawn(name):
        letters = [t for t in elevation.texts() if t.what == "section" and t.words == section.letter]
        at = elevation.views[0].to_paper(section.station, section.edge)
        assert len(letters) == 2
        assert [letter.at.x for letter in letters] == pytest.approx([at.x, at.x])
        assert letters[1].at.y < at.y < letters[0].at.y
        assert section.letter in words


@pytest.mark.parametrize("name", ["inside", "outside", "two posts"])
def test_a_corner_is_drawn_where_it_is(name):
    (corner,) = side_corners(sides.checked(name).layout)
    ((sheet, view),) = [(s, v) for s in sides.sheets(name) for v in s.views if v.name == "CORNER"]
    for post in corner.posts:
        (mark,) = named(sheet, view, Polygon, f"post {post.label}")
        assert [view.to_model(at) for at in mark.points] == [pytest.approx(at, abs=NEAR) for at in post.corners]
    for leg in corner.legs:
        number = leg.surface.index + 1
        (edge,) = named(sheet, view, Line, f"edge of surface {number}")
        (line,) = named(sheet, view, Line, f"guard's line beside surface {number}")
        assert view.to_model(edge.points[0]) == pytest.approx(leg.edge[0], abs=NEAR)
        apart = shapely.LineString(edge.points).distance(shapely.Point(line.points[1]))
        assert apart == pytest.approx(float(sides.JOBS[name].post.offset) * view.scale, abs=1e-6)
    words = [text.words for text in sheet.texts()]
    fmt = guards.formatter(sides.JOBS[name])
    assert f"{fmt(abs(corner.past))} {'past' if corner.outer else 'short of'}" in words


def test_painted_as_pdf_svg_and_png(tmp_path):
    (sheet,) = [sheet for sheet in sides.sheets("down") if sheet.name.startswith("sections")]
    found = save((sheet,), tmp_path, "sections")
    assert sorted(path.suffix for path in found) == [".pdf", ".png", ".svg"]
    assert all(path.stat().st_size > 1000 for path in found)
