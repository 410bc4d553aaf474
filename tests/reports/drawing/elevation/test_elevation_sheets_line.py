"""The sheets of whole guard lines: every example, random lines, corners of two posts, hips, walls and newels.

What is checked is the record; no picture is painted. Geometry of overlaps: shapely.
"""

import math
from dataclasses import replace
from fractions import Fraction as F
from functools import cache

import numpy as np
import pytest
import shapely

import stairguard
from stairguard.reports.drawing.detail.survey_detail import gap_scale
from stairguard.reports.drawing.elevation.elevation_sheets import elevation
from stairguard.reports.drawing.paper.lettering import outline_of
from stairguard.reports.drawing.paper.scene import Circle, Line, Polygon
from tests.reports import lines
from tests.reports.drawing.legible import boxes, outside, overlapping
from tests.reports.guards import formatter

NAMES = (*lines.NAMES, *(f"line {seed}" for seed in range(8, 14)))


@cache
def drawn(name):
    """A line with its sheets, or None where no such guard exists."""
    checked = lines.checked(name)
    if checked is None:
        return None
    told = stairguard.tell(checked, fixes=False, named=False)
    return checked, elevation(told, "2026-02-03", formatter(checked.layout.job))


@pytest.fixture(params=NAMES)
def line(request):
    found = drawn(request.param)
    if found is None:
        assert request.param.startswith("line "), "only random lines may be impossible"
    return found


def test_enough_lines_are_guards():
    assert sum(drawn(name) is not None for name in NAMES) >= 30


def test_no_word_overlaps_another_or_leaves_the_frame(line):
    for sheet in line[1] if line else ():
        assert (overlapping(sheet), outside(sheet, 10)) == ([], []), sheet.name


def test_nothing_drawn_leaves_the_frame(line):
    for sheet in line[1] if line else ():
        for mark in sheet.marks():
            xs, ys = zip(*outline_of(mark), strict=True)
            assert 9.9 <= min(xs) <= max(xs) <= sheet.width - 9.9, (sheet.name, mark.what)
            assert 9.9 <= min(ys) <= max(ys) <= sheet.height - 9.9, (sheet.name, mark.what)


def _bare_lines(marks):
    """Lines as they show: those under a filled shape drawn later are cut away where it covers them."""
    shown = []
    for mark in marks:
        if isinstance(mark, Line):
            shown.append(shapely.LineString(mark.points))
        elif isinstance(mark, Circle) and mark.fill:
            disc = shapely.Point(mark.centre).buffer(mark.radius)
            shown = [line.difference(disc) if line.intersects(disc) else line for line in shown]
    return shown


def test_no_line_crosses_words_that_have_no_paper_of_their_own(line):
    for sheet in line[1] if line else ():
        drawing = _bare_lines(sheet.marks())
        tree = shapely.STRtree(drawing)
        for text, shape in boxes(sheet):
            core = shape.buffer(-0.3)  # the box is drawn round accents and tails; a rule may run under the words
            if not text.box:
                crossing = [k for k in tree.query(core) if drawing[k].intersects(core)]
                assert not crossing, (sheet.name, text.words)


def test_words_on_an_elevation_never_cover_the_guard(line):
    """Notes' boxes of white paper stay off posts, rails and strands; a break's words stand in its gap."""
    if line is None:
        return
    for sheet in (s for s in line[1] if s.name.startswith("elevation")):
        view = sheet.views[0]
        rails = [m for m in sheet.marks() if isinstance(m, Polygon) and m.what.startswith(("rail over", "post "))]
        inside = [m for m in rails if view.to_model(m.points[0]) is not None]
        guard = shapely.union_all([shapely.Polygon(m.points).buffer(-0.6) for m in inside])
        for text, shape in boxes(sheet):
            if text.box and text.what.startswith(("joint", "strands", "elevation of", "largest")):
                covered = guard.intersection(shape).area
                assert covered < 0.05, (sheet.name, text.words)


def test_lettering_is_never_smaller_than_the_least(line):
    for sheet in line[1] if line else ():
        assert all(t.cap >= 2.5 for t in sheet.texts())


def test_no_two_stations_have_one_name(line):
    for sheet in line[1] if line else ():
        said = [t.words.rsplit("   ", 1)[0] for t in sheet.texts() if t.what.startswith("station of")]
        assert len(said) == len(set(said)), sheet.name


def test_every_surface_is_drawn_or_said_to_be_like_one_that_is(line):
    if line is None:
        return
    checked, sheets = line
    told = set()
    for sheet in (s for s in sheets if s.name.startswith("elevation")):
        view = sheet.views[0]
        for surface in checked.layout.line.surfaces:
            inner = float(surface.start.s + surface.end.s) / 2, float(surface.start.s), float(surface.end.s)
            if any(w.first <= s <= w.last for w in view.windows for s in inner):
                told.add(surface.index + 1)
        words = " ".join(t.words for t in sheet.texts() if t.what == "ALSO" and t.words != "-")
        if words:
            listed = words.partition("not drawn again: surfaces ")[2].partition(".")[0]
            for part in listed.split(", "):
                first, _, last = part.partition(" to ")
                told |= set(range(int(first), int(last or first) + 1))
    assert told == {s.index + 1 for s in checked.layout.line.surfaces}


def test_every_joint_is_named_on_the_sheets(line):
    if line is None:
        return
    checked, sheets = line
    said = {label.strip(",") for s in sheets for t in s.texts() for label in t.words.split()}
    hidden = any(t.what == "ALSO" for s in sheets for t in s.texts())
    for joint in checked.layout.joints:
        assert hidden or joint.post in said


def test_stairs_and_guard_keep_their_proportion(line):
    """Every step outline on paper, scaled back, passes through the nosings (numpy)."""
    if line is None:
        return
    checked, sheets = line
    for sheet in (s for s in sheets if s.name.startswith("elevation")):
        view = sheet.views[0]
        for surface in checked.layout.line.surfaces:
            for point in surface.nosings:
                s, z = float(point.s), float(point.z)
                at = view.to_paper(s, z)
                if at is None:
                    continue
                near = [
                    p for m in sheet.marks() if isinstance(m, Line) and m.what.startswith("step ") for p in m.points
                ]
                away = np.min(np.hypot(*(np.array(near) - np.array(at)).T))
                assert away < 1e-6, (sheet.name, surface.index)


def test_sheets_of_a_broken_line_share_their_joint_posts():
    """Each match line names a post that both sheets show, and the sheet it names is there."""
    for name in NAMES:
        found = drawn(name)
        if found is None:
            continue
        sheets = [s for s in found[1] if s.name.startswith("elevation")]
        for sheet in sheets:
            labels = {t.words for t in sheet.texts() if t.what.startswith("label of")}
            for text in (t for t in sheet.texts() if t.what == "match line"):
                post = next(word.strip(":") for word in text.words.split() if word.strip(":") in labels)
                assert any(post == joint.post for joint in found[0].layout.joints), (name, text.words)
                number = text.words.partition(": sheet ")[2]
                assert 1 <= int(number) <= len(sheets) if number else "on this sheet" in text.words


def test_a_wall_is_a_heavy_line_at_the_end_of_the_rail_and_a_newel_a_dashed_outline_beyond_it():
    checked, sheets = drawn("half-turn")
    layout, sheet = checked.layout, sheets[0]
    view = sheet.views[0]
    end = view.to_paper(float(layout.rails[-1].end.s), float(layout.rails[-1].end.z))
    walls = [m for m in sheet.marks() if isinstance(m, Line) and m.what == "wall W2"]  # the plan key has one too
    (wall,) = [m for m in walls if {p.x for p in m.points} == {end.x}]
    low, high = sorted(p.y for p in wall.points)
    assert low < end.y < high
    (newel,) = [m for m in sheet.marks() if isinstance(m, Line) and m.pen == "dashed" and m.what == "newel N1"]
    start = view.to_paper(float(layout.rails[0].start.s), float(layout.rails[0].start.z))
    assert max(p.x for p in newel.points) == start.x
    assert not [m for m in sheet.marks() if isinstance(m, Polygon) and m.what in ("post N1", "post W2")]


def test_gaps_under_a_straightedge_are_drawn_to_their_scale():
    """Depth of each dot over its gap is one scale; gaps worked out anew from the nosing line (numpy)."""
    checked, sheets = drawn("surveyed")
    (sheet,) = [s for s in sheets if s.name.startswith("survey")]
    (surface,) = [s for s in checked.layout.line.surfaces if s.nosings]
    (edge,) = [m for m in sheet.marks() if isinstance(m, Line) and m.what == "straightedge"]
    dots = sorted(
        (m for m in sheet.marks() if isinstance(m, Circle) and m.what.startswith("nosing ")), key=lambda m: m.centre.x
    )
    stations, levels = np.array([[float(p.s), float(p.z)] for p in surface.nosings]).T
    slope = math.tan(math.radians(surface.pitch_deg))
    line = float(surface.origin.z) + slope * (stations - float(surface.origin.s))
    depths = np.array([edge.points[0].y - m.centre.y for m in dots])
    said = next(t.words for t in sheet.texts() if t.what == "view scale" and t.words.startswith("gaps drawn"))
    times = int(said.split()[2])
    np.testing.assert_allclose(depths, times * 25.4 * (line - levels), atol=1e-6)
    assert F(min(map(float, line - levels))).limit_denominator(10**6) == 0  # it rests on a nosing


def test_every_measured_flight_has_its_straightedge():
    job = drawn("surveyed")[0].layout.job
    twice = replace(job, surfaces=(*job.surfaces, *job.surfaces[1:]))  # flight and landing once more
    sheets = elevation(
        stairguard.tell(stairguard.lay_out(twice), fixes=False, named=False), "2026-02-03", formatter(twice)
    )
    marks = [mark for sheet in sheets if sheet.name.startswith("survey") for mark in sheet.marks()]
    assert len([m for m in marks if m.what == "straightedge"]) == 2
    assert len([m for m in marks if isinstance(m, Circle) and m.what.startswith("nosing ")]) == 2 * 9


@pytest.mark.parametrize(
    ("widest", "unit", "scale", "words"),
    [
        (F(12), "in", F(1, 20), "1:20"),  # 304.8 mm: 15.24 on paper; 1:10 would take 30.48
        (F(5, 16), "in", F(2), "2 times full size"),  # 7.9 mm
        (F(18), "mm", F(1), "full size"),  # just fits
        (F(0), "mm", F(100), "100 times full size"),
    ],
)
def test_gaps_are_drawn_as_large_as_eighteen_millimetres_of_paper_hold(widest, unit, scale, words):
    assert gap_scale(widest, unit) == (scale, words)


def _over_steps(sheets):
    """Words of a step's detail that stand over an edge of the steps; the pieces of such edges by shapely."""
    for sheet in sheets:
        edges = [m for m in sheet.marks() if isinstance(m, Line) and m.pen == "cut" and m.what.startswith("step ")]
        edges = [shapely.LineString(line.points) for line in edges]
        for text, shape in boxes(sheet):
            if text.what in ("plumb spacing", "square spacing", "lift", "largest sphere"):
                yield from (text.words for edge in edges if edge.intersection(shape).length > 1e-6)


@pytest.mark.parametrize("name", ["half-turn", "office-lower", "precast", "quay-down", "ramp-between", "line 4"])
def test_words_of_a_step_s_detail_stand_clear_of_the_steps(name):
    """Where at the largest scale there is room for them clear of steps and sphere both."""
    _, sheets = drawn(name)
    assert any(text.what == "plumb spacing" for sheet in sheets for text in sheet.texts())
    assert not list(_over_steps(sheets))
