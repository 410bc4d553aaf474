import re
from dataclasses import replace
from fractions import Fraction as F
from functools import cache
from itertools import combinations, pairwise

import numpy as np
import pytest
import shapely

import stairguard
from stairguard.model.job import Flight, Landing, Ramp
from stairguard.reports.drawing.key_plan.plan_key import plan_key
from stairguard.reports.drawing.paper.drafting import CAP
from stairguard.reports.drawing.paper.scene import Arc, Circle, Line, Polygon, Rect, Sheet, Text
from tests.reports.lines import EXAMPLES, checked
from tests.solve.jobs import BASE

# The record is read back: directions by numpy, distances and overlaps by shapely.

NAMES = [path.stem for path in EXAMPLES] + [f"line {seed}" for seed in range(8)] + ["two posts", "hip", "side"]
ROOMS = {"wide": Rect(20, 30, 124, 100), "low": Rect(300, 150, 404, 205), "least": Rect(10, 10, 70, 50)}
MOST = 14


def steps(turn=0.0):
    return Flight(
        risers=7, rise=F(29, 4), run=F(21, 2), nosing=F(1), tread=F(5, 4), open_risers=False, down=False, turn=turn
    )


def laid_out(*surfaces, **changed):
    return stairguard.lay_out(replace(BASE, rules="none", surfaces=surfaces, **changed)).layout


def landing(turn=0.0, length=48):
    return Landing(length=F(length), turn=turn)


@cache
def made(name):
    """Lines that lie over themselves, each in its own way."""
    up = [steps(), landing()]
    if name == "three flights":
        return laid_out(landing(), *up, landing(180.0), *up, landing(180.0), *up)
    if name == "to and fro":
        return laid_out(landing(), *up, landing(180.0), *up, landing(-180.0), *up)
    if name == "sharp":
        return laid_out(landing(), landing(170.0, 90), landing(-170.0, 90), landing(-135.0))
    if name == "square spiral":
        return laid_out(landing(), steps(), *(s for _ in range(5) for s in (landing(90.0), steps())), landing())
    if name == "long straight":
        return laid_out(*(s for _ in range(20) for s in (landing(), steps())), landing())
    found = checked(name)
    return None if found is None else found.layout


MADE = ["three flights", "to and fro", "sharp", "square spiral", "long straight"]


@pytest.fixture(scope="module", params=[(name, room) for name in NAMES + MADE for room in ROOMS], ids=str)
def key(request):
    return keyed(*request.param)


@cache
def keyed(name, room):
    """A line's layout, its room, and its key as a sheet; None where there is no such guard or no key for it."""
    layout = made(name)
    parts = () if layout is None else plan_key(layout, ROOMS[room])
    return (
        (layout, ROOMS[room], Sheet(name="key", width=420, height=297, scale_text="", parts=parts)) if parts else None
    )


def texts(sheet):
    return [(text, shapely.Polygon(text.corners())) for text in sheet.texts()]


def drawn(sheet):
    """Lines of surfaces in order, as (kind, number, start, end)."""
    found = []
    for mark in sheet.marks():
        match = re.fullmatch(r"(landing|flight|ramp) (\d+)", mark.what) if isinstance(mark, Line) else None
        if match:
            found.append((match[1], int(match[2]), np.array(mark.points[0]), np.array(mark.points[-1])))
    return found


def direction(start, end):
    return np.degrees(np.arctan2(end[1] - start[1], end[0] - start[0]))


def between(a, b):
    return abs((a - b + 180) % 360 - 180)


def polygon(sheet, what):
    return [np.array(m.points) for m in sheet.marks() if isinstance(m, Polygon) and m.what == what]


def test_nearly_every_line_is_drawn_whole_where_there_is_room():
    whole = []
    for name in NAMES:
        layout = made(name)
        if layout is not None and any(s.given.turn for s in layout.line.surfaces[1:]):
            whole.append(len(drawn(keyed(name, "wide")[2])) == len(layout.line.surfaces))
    assert len(whole) >= 10
    assert sum(whole) >= 0.9 * len(whole)


@pytest.mark.parametrize("name", NAMES + MADE)
def test_only_short_straight_lines_have_no_key(name):
    layout = made(name)
    if layout is not None:
        surfaces = layout.line.surfaces
        trivial = len(surfaces) < 4 and not any(s.given.turn for s in surfaces[1:])
        for room in ROOMS:
            assert (keyed(name, room) is None) == trivial


def test_no_word_overlaps_another_or_leaves_the_room(key):
    if key is None:
        return
    _, room, sheet = key
    inside = shapely.box(*room).buffer(1e-9)
    for text, shape in texts(sheet):
        assert inside.contains(shape), text.words
        assert text.cap >= CAP
    for (a, one), (b, other) in combinations(texts(sheet), 2):
        assert not one.intersects(other), (a.words, b.words)


def test_nothing_drawn_leaves_the_room(key):
    if key is None:
        return
    _, room, sheet = key
    inside = shapely.box(*room).buffer(1e-9)
    shapely.prepare(inside)
    for mark in sheet.marks():
        if isinstance(mark, Line | Polygon):
            assert inside.contains(shapely.MultiPoint(mark.points)), mark
        elif isinstance(mark, Circle):
            assert inside.contains(shapely.Point(mark.centre).buffer(mark.radius)), mark
        elif isinstance(mark, Arc):
            sweep = np.radians(np.linspace(mark.start, mark.end, 30))
            arc = np.array(mark.centre) + mark.radius * np.column_stack((np.cos(sweep), np.sin(sweep)))
            assert inside.buffer(0.05).contains(shapely.MultiPoint(arc)), mark  # 0.05: its bulge between chords


def test_words_cover_nothing(key):
    """Words with paper of their own hide what lies under them: no line, arrow head, post or number may."""
    if key is None:
        return
    _, _, sheet = key
    marks = [
        (m, shapely.LineString(m.points) if isinstance(m, Line) else shapely.Polygon(m.points))
        for m in sheet.marks()
        if isinstance(m, Line | Polygon)
    ]
    marks += [(m, shapely.Point(m.centre).buffer(m.radius)) for m in sheet.marks() if isinstance(m, Circle)]
    tree = shapely.STRtree([outline for _, outline in marks])
    for text, shape in texts(sheet):
        if not text.what.startswith("number of surface"):
            for mark, outline in (marks[i] for i in tree.query(shape)):
                shared = shape.intersection(outline)
                assert shared.length < 1e-6, (text.words, mark.what)


def test_every_surface_drawn_has_its_number_on_it_and_the_others_are_told(key):
    if key is None:
        return
    layout, _, sheet = key
    surfaces, lines = layout.line.surfaces, drawn(sheet)
    assert [number for _, number, _, _ in lines] == list(range(1, len(lines) + 1))
    assert [kind for kind, _, _, _ in lines] == [s.kind for s in surfaces[: len(lines)]]
    assert 2 <= len(lines) <= MOST
    for _, number, start, end in lines:
        (text,) = (t for t in sheet.texts() if t.what == f"number of surface {number}")
        assert text.words == str(number)
        assert np.hypot(*(np.array([text.at.x, text.at.y + text.cap / 2]) - (start + end) / 2)) < 1e-9
    page = " ".join(t.words for t in sheet.texts())
    told = re.search(r"And so on, (\d+) surfaces?: (\d+)(?: to (\d+))?\.", page)
    if told is None:
        assert len(lines) == len(surfaces)
    else:
        first, last = int(told[2]), int(told[3] or told[2])
        assert (first, last) == (len(lines) + 1, len(surfaces))
        assert int(told[1]) == last - first + 1
        assert f"to {first}" in {t.words for t in sheet.texts()}


def test_directions_are_those_of_the_plan(key):
    """Against headings summed from the job's turns, and against the layout's plan points; upright or turned by 90."""
    if key is None:
        return
    layout, _, sheet = key
    lines = drawn(sheet)
    surfaces = layout.line.surfaces[: len(lines)]
    headings = np.cumsum([0.0] + [s.given.turn for s in surfaces[1:]])
    turned = direction(*lines[0][2:])
    assert min(abs(turned), abs(turned - 90)) < 1e-9
    for (_, _, start, end), heading, surface in zip(lines, headings, surfaces, strict=True):
        assert between(direction(start, end), heading + turned) < 1e-6
        assert between(direction(surface.plan_start, surface.plan_end), heading + headings[0]) < 1e-6


def test_surfaces_join_end_to_end_or_by_a_fold(key):
    if key is None:
        return
    layout, _, sheet = key
    folds = {m.what: m.points for m in sheet.marks() if isinstance(m, Line) and m.what.startswith("fold")}
    for (_, _, start, end), (_, number, after, _) in pairwise(drawn(sheet)):
        turn = layout.line.surfaces[number - 1].given.turn
        if abs(turn) < 150:
            assert np.hypot(*(after - end)) < 1e-9
            continue
        fold = folds[f"fold before surface {number}"]
        assert np.allclose(fold, (end, after))
        (ax, ay), (fx, fy) = end - start, after - end
        assert np.sign(ax * fy - ay * fx) == np.sign(turn), "a left turn folds to the left"


def test_lines_that_do_not_join_keep_apart(key):
    if key is None:
        return
    _, _, sheet = key
    pieces = [shapely.LineString((start, end)) for _, _, start, end in drawn(sheet)]
    for i, j in combinations(range(len(pieces)), 2):
        if j > i + 1:
            assert pieces[i].distance(pieces[j]) > 5.0, (i + 1, j + 1)


def climbs(given):
    if isinstance(given, Landing):
        return 0
    if isinstance(given, Ramp):
        return 1 if given.rise > 0 else -1
    return -1 if given.down else 1


def test_arrows_point_uphill_and_ticks_tell_a_flight_from_a_ramp(key):
    if key is None:
        return
    layout, _, sheet = key
    ticks = [shapely.LineString(m.points) for m in sheet.marks() if isinstance(m, Line) and m.what == "nosing"]
    numbers = [shapely.Point(m.centre).buffer(m.radius) for m in sheet.marks() if isinstance(m, Circle)]
    for kind, number, start, end in drawn(sheet):
        heads = polygon(sheet, f"{kind} {number} uphill")
        way = climbs(layout.line.surfaces[number - 1].given)
        assert len(heads) == abs(way)
        for head in heads:
            forward = (head[0] - head[1:].mean(axis=0)) @ (end - start)
            assert np.sign(forward) == way
            line = shapely.LineString((start, end))
            assert all(shapely.Point(corner).distance(line) < 1.5 for corner in head)
            assert not shapely.Polygon(head).intersects(shapely.MultiPolygon(numbers))
        across = [t for t in ticks if t.crosses(shapely.LineString((start, end)))]
        assert (len(across) >= 2) == (kind == "flight"), (kind, number, len(across))


def test_joint_posts_and_turns_are_where_their_surfaces_meet(key):
    if key is None:
        return
    layout, _, sheet = key
    lines, surfaces = drawn(sheet), layout.line.surfaces
    for (_, _, _, end), (_, number, after, _) in pairwise(lines):
        surface = surfaces[number - 1]
        joints = [j for j in layout.joints if j.boundary == surface.start.s]
        words = [f"{abs(surface.given.turn):g}°"] if surface.given.turn else []
        what = f"turn before surface {number}"
        for joint in joints:
            what = f"joint {joint.post}"
            both = [joint.post] + ([joint.second_post] if joint.second_post else [])
            words.insert(0, ", ".join(both))
            squares = polygon(sheet, what)
            assert len(squares) == len(both)
            for square in squares:
                assert np.hypot(*(square.mean(axis=0) - (end + after) / 2)) < (3 if len(both) > 1 else 1e-9)
        said = [t.words for t in sheet.texts() if t.what == what]
        assert ", ".join(said) == ", ".join(words)
    inside = [j for j in layout.joints if j.boundary < surfaces[len(lines) - 1].end.s]
    page = " ".join(t.words for t in sheet.texts())
    assert all(re.search(rf"\b{j.post}\b", page) for j in inside)


def test_the_ends_say_what_they_are_and_the_way_walked(key):
    if key is None:
        return
    layout, _, sheet = key
    lines, job = drawn(sheet), layout.job
    (shaft,) = (m for m in sheet.marks() if isinstance(m, Line) and m.what == "walking direction")
    assert between(direction(*shaft.points), direction(*lines[0][2:])) < 1e-6
    assert np.hypot(*(np.array(shaft.points[-1]) - lines[0][2])) < 3
    whole = len(lines) == len(layout.line.surfaces)
    ends = [("start", job.start, layout.posts[0], lines[0][2])]
    ends += [("end", job.end, layout.posts[-1], lines[-1][3])] if whole else []
    for word, support, post, at in ends:
        said = ", ".join(t.words for t in sheet.texts() if t.what == f"{word} of the line")
        assert said == f"{word}, {post.label if support == 'post' else f'{support} {post.label}'}"
        marks = [m for m in sheet.marks() if m.what == f"{support} {post.label}" and not isinstance(m, Text)]
        assert [np.allclose(np.mean(m.points, axis=0), at) for m in marks] == [True]
    if not whole:
        assert not any(t.what == "end of the line" for t in sheet.texts())


def test_a_tower_is_drawn_one_storey():
    layout, _, sheet = keyed("tower", "wide")
    plan = [shapely.LineString((s.plan_start, s.plan_end)) for s in layout.line.surfaces]
    count = len(drawn(sheet))
    assert any(plan[count].intersection(earlier.buffer(1e-6)).length > 1 for earlier in plan[: count - 1]), (
        "the next repeats"
    )
    assert sum(s.kind == "flight" for s in layout.line.surfaces[:count]) == 2


def test_a_fold_is_said_in_the_title():
    words = {}
    for name in ("half-turn", "quarter-turn"):
        _, _, sheet = keyed(name, "wide")
        (words[name],) = (t.words for t in sheet.texts() if t.what == "view title")
    assert words["quarter-turn"] == "PLAN KEY, not to scale"
    assert words["half-turn"] == "PLAN KEY, not to scale; legs over one another side by side"


@pytest.mark.parametrize("hand", ["left", "right"])
def test_the_edge_of_a_stair_lies_beside_a_guard_that_stands_out_from_it(hand):
    """By shapely: on the other hand all along, its corners joined, the offset curve of the guard as it is drawn."""
    surfaces = landing(length=120), landing(-90.0, 90), steps(90.0), landing(30.0, 60)
    post = replace(BASE.post, mount="side", drop=F(8), offset=F(2), hand=hand)
    parts = plan_key(laid_out(*surfaces, post=post), ROOMS["wide"])
    lines = {p.what: p.points for p in parts if isinstance(p, Line)}
    guard = [lines[f"{'flight' if k == 2 else 'landing'} {k + 1}"] for k in range(4)]
    edges = [lines[f"edge of surface {k + 1}"] for k in range(4)]
    for one, other in pairwise(edges):
        assert one[-1] == pytest.approx(other[0], abs=1e-9)
    walked = shapely.LineString([guard[0][0], *(points[-1] for points in guard)])
    curve = walked.offset_curve(-2 if hand == "left" else 2, join_style="mitre", mitre_limit=10)
    drawn = shapely.LineString([edges[0][0], *(points[-1] for points in edges)])
    assert drawn.hausdorff_distance(curve) < 1e-6
    assert any("stair's edge" in p.words for p in parts if isinstance(p, Text))
    # straight down at the surface nothing stands apart
    flush = plan_key(laid_out(*surfaces, post=replace(post, offset=F(0))), ROOMS["wide"])
    assert not any("edge" in p.what for p in flush)
