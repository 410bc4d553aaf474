"""Sheets of lines that close: the corner where they do shows both its sides, each post is told once.

What is checked is the record; the frame's edge is 10 mm in from the paper's.
"""

from dataclasses import replace
from fractions import Fraction as F

import pytest

from stairguard.api.layout import result
from stairguard.reports.drawing.detail.joint_detail import joint_detail
from stairguard.reports.drawing.elevation.elevation_sheets import elevation
from stairguard.reports.drawing.paper.lettering import outline_of
from stairguard.reports.drawing.paper.scene import Line, Rect
from stairguard.rules.findings.checks import check
from stairguard.rules.findings.designed import tell
from stairguard.rules.pack.reader import read_rules
from stairguard.solve.lay_out import lay_out
from tests.reports.guards import formatter
from tests.solve.jobs import BASE
from tests.solve.lines import land

ONE = replace(BASE.post, width=F(7, 2))
TWO = replace(ONE, corner="two", corner_offset=F(7, 2))
WELL = land(120), land(84, 90.0), land(120, 90.0), land(84, 90.0)
HEXAGON = land(90), *(land(90, 60.0) for _ in range(5))
HIGHER = *WELL[:3], replace(WELL[3], rail_height=F(38))


@pytest.fixture(
    params=[(s, p) for s in (WELL, HEXAGON, HIGHER) for p in (ONE, TWO)],
    ids=[f"{s}, {p}" for s in ("well", "hexagon", "jog") for p in ("one post", "two posts")],
)
def closed(request):
    surfaces, post = request.param
    rail = replace(BASE.rail, height=F(36))
    job = replace(BASE, rail=rail, surfaces=surfaces, post=post, closed=True)
    return check(lay_out(job, read_rules(job.rules, job.unit)))


def test_nothing_leaves_the_frame_and_the_start_is_named_once(closed):
    sheets = elevation(tell(closed, fixes=False, named=False), "2026-02-03", formatter(closed.layout.job))
    for sheet in sheets:
        for mark in sheet.marks():
            xs, ys = zip(*outline_of(mark), strict=True)
            assert 9.9 <= min(xs) <= max(xs) <= sheet.width - 9.9, (sheet.name, mark.what)
            assert 9.9 <= min(ys) <= max(ys) <= sheet.height - 9.9, (sheet.name, mark.what)
    said = [t.words for sheet in sheets for t in sheet.texts() if "of the line" in t.what]
    assert [words for words in said if words.startswith("start")] == ["start and end"]
    assert "end" not in said


def test_the_closing_corner_has_both_its_sides_in_its_picture(closed):
    layout = closed.layout
    parts, view = joint_detail(layout, (layout.joints[-1],), Rect(10, 10, 130, 190), formatter(layout.job))
    last = len(layout.line.surfaces)
    strands = {part.what for part in parts if isinstance(part, Line) and part.pen == "strand"}
    assert {"strand 1, surface 1", f"strand 1, surface {last}"} <= strands
    window = view.windows[0]
    assert window.first < layout.joints[-1].station < window.last
    drawn = {part.what for part in parts}
    assert {"rail over surface 1", f"rail over surface {last}"} <= drawn


def test_the_result_has_each_post_once(closed):
    told = result(closed)
    labels = [post["label"] for post in told["posts"]]
    assert len(labels) == len(set(labels))
    assert told["joints"][-1]["between"] == [len(told["surfaces"]) - 1, 0]
    assert told["joints"][-1]["station"] == float(closed.layout.line.surfaces[-1].end.s)
    assert sum(run["posts"].count("P1") for run in told["runs"] if run["strand"] == 1) == (
        2 if told["joints"][-1]["second_post"] is None else 1
    )
    assert sum(cut["count"] for cut in told["cuts"]["posts"]) == len(labels)


def test_a_line_that_closes_in_the_middle_of_a_straight_landing_has_no_corner_there():
    surfaces = land(48), *(land(96, 90.0) for _ in range(3)), land(48, 90.0)
    job = replace(BASE, rail=replace(BASE.rail, height=F(36)), surfaces=surfaces, post=ONE, closed=True)
    told = result(check(lay_out(job, read_rules(job.rules, job.unit))))
    assert told["joints"][-1]["bend_deg"] == 0
    assert "the line closes there" in str(told)
    assert "corner" not in str(told["runs"])
