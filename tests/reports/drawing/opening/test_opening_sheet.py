import json
from collections import Counter
from fractions import Fraction as F
from math import hypot

import pytest
import shapely

from stairguard.geometry.clearance.pockets import compare, pockets
from stairguard.geometry.clearance.polygon import polygon
from stairguard.reports.drawing.paper.lettering import Panel
from stairguard.reports.drawing.paper.scene import ACCENT, INK, PENS, Circle, Line, Place, Rect, Text, as_record
from stairguard.reports.words.general_cautions import ALWAYS
from stairguard.solve.sphere.outlined import between_strands
from stairguard.solve.sphere.step_pockets import cell_pockets
from stairguard.solve.sphere.step_profile import Member, Profile
from tests.reports.drawing.legible import boxes, outside, overlapping
from tests.reports.drawing.opening import openings
from tests.reports.drawing.opening.openings import drawn, points

# What is checked here is the record; no picture is painted. Geometry of overlaps: shapely.

SEEDS = range(242)  # of which some bound nothing: random points whose edges cross, strands that fill the gap


@pytest.fixture(scope="module")
def sheets():
    """Random openings of every kind, each with its sheet."""
    return {seed: found for seed in SEEDS if (found := openings.random_sheet(seed)) is not None}


def test_enough_random_openings_of_every_kind(sheets):
    kinds = Counter(found[0] for found in sheets.values())
    assert sum(kinds.values()) >= 200
    assert all(kinds[kind] >= 12 for kind in openings.KINDS), kinds


def test_no_word_overlaps_another(sheets):
    for seed, (kind, *_, sheet) in sheets.items():
        assert overlapping(sheet) == [], (seed, kind)


def test_no_word_leaves_the_frame(sheets):
    for seed, (kind, *_, sheet) in sheets.items():
        assert outside(sheet, 8) == [], (seed, kind)


def test_nothing_drawn_leaves_the_frame(sheets):
    for seed, (kind, *_, sheet) in sheets.items():
        for mark in sheet.marks():
            for x, y in () if isinstance(mark, Text) else _points(mark):
                assert 8 - 1e-6 <= x <= sheet.width - 8 + 1e-6, (seed, kind, mark)
                assert 8 - 1e-6 <= y <= sheet.height - 8 + 1e-6, (seed, kind, mark)


def _points(mark):
    if hasattr(mark, "points"):
        return mark.points
    if isinstance(mark, Circle):
        (x, y), r = mark.centre, mark.radius
        return ((x - r, y - r), (x + r, y + r))
    return ()


def test_no_solid_line_crosses_words(sheets):
    for seed, (kind, *_, sheet) in sheets.items():
        solid = [m for m in sheet.marks() if isinstance(m, Line) and m.pen in ("outline", "radius", "cut", "frame")]
        lines = [shapely.LineString(m.points) for m in solid if len(set(m.points)) > 1]
        tree = shapely.STRtree(lines)
        for text, shape in boxes(sheet):
            core = shape.buffer(-0.3)  # the box is drawn round accents and tails
            hit = [k for k in tree.query(core) if lines[k].intersects(core)]
            assert not hit, (seed, kind, text.words)


def test_lettering_is_never_smaller_than_the_least(sheets):
    assert all(text.cap >= 2.5 for *_, sheet in sheets.values() for text in sheet.texts())


def test_the_sphere_and_its_contacts_are_drawn_where_they_are(sheets):
    for seed, (kind, _, pocket, _, sheet) in sheets.items():
        view = sheet.views[-1]
        spheres = [m for m in sheet.marks() if isinstance(m, Circle) and m.what == "largest sphere"]
        assert spheres, (seed, kind)
        sphere = spheres[-1]
        grain = 1e-6 * (1 + view.scale * max(map(abs, pocket.centre)) * 1e-8)
        assert sphere.radius == pytest.approx(view.scale * pocket.diameter / 2)
        assert view.to_paper(*pocket.centre) == pytest.approx(sphere.centre, abs=grain)
        touching = [m for m in sheet.marks() if isinstance(m, Circle) and m.what.startswith("contact with")]
        assert len(touching) >= len(pocket.contacts)
        for contact in touching[-len(pocket.contacts) :]:
            away = hypot(contact.centre.x - sphere.centre.x, contact.centre.y - sphere.centre.y)
            assert away == pytest.approx(sphere.radius, rel=1e-4), (seed, kind)


def test_every_edge_is_drawn_true_to_proportion(sheets):
    for seed, (kind, outline, pocket, _, sheet) in sheets.items():
        if kind not in openings.CLOSED:
            continue
        view = sheet.views[0]
        grain = 1e-5 + view.scale * 1e-15 * 1e7
        lines = {m.what: m for m in sheet.marks() if isinstance(m, Line) and m.pen in ("outline", "chain")}
        if len(sheet.views) > 1:  # the detail comes after: keep the first of each
            lines = {}
            for m in sheet.marks():
                if isinstance(m, Line) and m.pen in ("outline", "chain"):
                    lines.setdefault(m.what, m)
        for edge in outline.sides:
            line = lines[f"axis of {edge.name}" if edge.radius else edge.name]
            wanted = [view.to_paper(float(p.x), float(p.z)) for p in (edge.a, edge.b)]
            for have, want in zip((line.points[0], line.points[-1]), wanted, strict=True):
                assert hypot(have.x - want.x, have.y - want.y) < grain, (seed, kind, edge.name, pocket.diameter)


def test_every_length_is_on_the_picture_or_listed(sheets):
    for seed, (kind, outline, _, said, sheet) in sheets.items():
        if kind not in openings.CLOSED or said.get("labels"):
            continue
        listed = [t.words for t in sheet.texts() if t.what.startswith("LENGTHS NOT ON THE PICTURE")]
        more = [int(w.split()[1]) for w in listed if w.startswith("and ")]
        told = {t.what for t in sheet.texts() if t.what.startswith("edge ") and t.words.endswith(('"', " mm"))}
        names = {w.partition(" (")[0] for w in listed if w.startswith("edge")}
        assert not told & names, (seed, kind)
        missing = {edge.name for edge in outline.edges} - told - names
        if listed:
            assert len(missing) == sum(more), (seed, kind, missing)
        elif missing:  # only a column that is full leaves them out
            column = [t for t in sheet.texts() if t.at.x > sheet.width - 90 and t.at.y > 50]
            assert min(t.at.y for t in column) < 74, (seed, kind, missing)


def test_what_is_touched_goes_first(sheets):
    for seed, (kind, outline, pocket, said, sheet) in sheets.items():
        if kind not in ("star", "comb") or said.get("labels") or len(pocket.sites) > 4:
            continue
        words = [t.what for t in sheet.texts()]
        for site in pocket.sites:
            name = outline.name(site)
            assert name in words or name in ("point 1",) or any(w.endswith(name) for w in words), (seed, kind, name)


def test_cautions_are_printed_whole(sheets):
    for *_, sheet in sheets.values():
        printed = " ".join(t.words for t in sheet.texts() if t.what == "caution")
        assert all(caution in printed for caution in ALWAYS)


def _words(sheet):
    return [t.words for t in sheet.texts()]


def test_a_triangle_of_sides_3_4_5_holds_a_sphere_of_2():
    """The inradius of the 3-4-5 triangle is 1: Heron's area 6 over the half perimeter 6."""
    outline = polygon(points((0, 0), (4, 0), (4, 3)))
    sheet = drawn(outline, pockets(outline)[0], unit="in", limit=F(2), outcome="does not comply")
    words = _words(sheet)
    assert {'edge 1   4"', 'edge 2   3"', 'edge 3   5"', "1", "2", "3"} <= set(words)
    assert 'largest sphere ⌀2.00"' in words
    assert "sphere just as large" in words
    assert compare(outline, pockets(outline)[0], F(2)) == 0
    assert "DOES NOT COMPLY" in words
    assert {t.ink for t in sheet.texts() if t.what == "verdict"} == {ACCENT}


def test_the_limit_is_dashed_about_the_same_centre():
    outline = polygon(points((0, 0), (200, 10), (190, 200), (-10, 180)))
    pocket = pockets(outline)[0]
    sheet = drawn(outline, pocket, limit=F(150))
    limit, sphere = (next(m for m in sheet.marks() if m.what == what) for what in ("limit", "largest sphere"))
    assert limit.centre == sphere.centre
    assert PENS[limit.pen].dash
    assert limit.radius / sphere.radius == pytest.approx(150 / pocket.diameter)


def test_a_limit_far_larger_than_the_opening_is_not_said_to_be_drawn():
    outline = polygon(points((0, 0), (200, 0), (200, 200), (0, 200)))
    sheet = drawn(outline, pockets(outline)[0], limit=F(100000))
    assert not [m for m in sheet.marks() if getattr(m, "what", "") == "limit"]
    assert "limit ⌀100000 mm" in _words(sheet)


@pytest.mark.parametrize("clockwise", [False, True])
def test_corners_and_edges_keep_the_numbers_they_were_given(clockwise):
    given = points((0, 0), (120, 0), (120, 90), (60, 110), (0, 90))
    given = given[::-1] if clockwise else given
    outline = polygon(given)
    sheet = drawn(outline, pockets(outline)[0])
    view = sheet.views[0]
    for number, point in enumerate(given, 1):
        text = next(t for t in sheet.texts() if t.what == f"corner {number}")
        at = view.to_paper(float(point.x), float(point.z))
        assert hypot(text.at.x - at.x, text.at.y - at.y) < 6


def test_strands_are_drawn_by_axis_and_thickness_and_said():
    outline = polygon(points((0, 0), (5, 0), (5, 4), (0, 4)), frozenset({3}), F(3, 32))
    sheet = drawn(outline, pockets(outline)[0], unit="in", limit=F(4))
    view = sheet.views[0]
    band = next(m for m in sheet.marks() if getattr(m, "fill", None) == "#dcdcdc")
    heights = {round((y - view.windows[0].dy) / view.scale, 9) for _, y in band.points}
    assert heights == {4 - 3 / 32, 4 + 3 / 32}
    assert [t.words for t in sheet.texts() if t.what == "edge 3"] == ['edge 3 (strand ⌀3/16")   5"']
    assert any(t.words.startswith("edge 3 (a strand)") or "edge 3 (a strand)" in t.words for t in sheet.texts())


def test_a_ridge_shows_its_line_of_equal_centres():
    outline = polygon(points((0, 0), (300, 0), (300, 120), (0, 120)))
    sheet = drawn(outline, pockets(outline)[0])
    line = next(m for m in sheet.marks() if getattr(m, "what", "") == "line of equal centres")
    ends = sorted(sheet.views[0].to_model(p) for p in line.points)
    assert ends == [pytest.approx((60, 60)), pytest.approx((240, 60))]
    assert "180 mm" in " ".join(t.words for t in sheet.texts() if t.what == "LARGEST SPHERE")


def test_two_strands_run_on_past_the_picture():
    opening = between_strands(F(3), F(1, 8), F(4))
    sheet = drawn(opening.outline, opening.pockets[0], unit="in", limit=F(4), labels={1: 'spacing 3" square'})
    words = _words(sheet)
    assert 'upper strand ⌀1/8"   spacing 3" square' in words
    assert 'lower strand ⌀1/8"' in words
    assert "open at both ends" in " ".join(words)
    assert 'largest sphere ⌀2.88"' in words  # 3 less 1/8 is 2.875


def test_the_step_form_shows_lift_between_member_and_nosing_line():
    profile = Profile(rise=F("7.75"), run=F(10), nosing=F(1), tread=F(1), open_risers=False)
    found = next(cell_pockets(profile, Member("member", F(0), -F(1, 2)), 1))
    labels = {0: 'run 10" + nosing 1"', 4: 'lift 1/2" square'}
    sheet = drawn(found.outline, found.pocket, unit="in", limit=F(6), labels=labels, outcome="does not comply")
    words = _words(sheet)
    assert 'lift 1/2" square' in words
    assert '1/2" square' in _words(drawn(found.outline, found.pocket, unit="in", limit=F(6)))
    assert 'tread   run 10" + nosing 1"' in words
    assert "tread, riser, member" in words
    view = sheet.views[0]
    surface = next(m for m in sheet.marks() if isinstance(m, Line) and m.what == "member")
    for at in surface.points:  # 1/2 in square above the line through both nosings
        x, z = view.to_model(at)
        assert (10 * z - 7.75 * x) / hypot(10, 7.75) == pytest.approx(0.5, abs=1e-9)


def test_too_small_a_sphere_is_shown_again_enlarged():
    outline = polygon(points((0, 0), (1000, 3), (1000, 9), (0, 7)))
    sheet = drawn(outline, pockets(outline)[0])
    whole, detail = sheet.views
    assert detail.scale > 5 * whole.scale
    assert sum(m.what == "largest sphere" and isinstance(m, Circle) for m in sheet.marks()) == 2


@pytest.mark.parametrize(
    ("verdict", "ink"),
    [("complies", INK), ("too close to call", INK), ("does not comply", ACCENT)],
)
def test_the_verdict_is_in_words_and_ink(verdict, ink):
    outline = polygon(points((0, 0), (90, 0), (90, 90), (0, 90)))
    sheet = drawn(
        outline, pockets(outline)[0], outcome=verdict, uncertainty="standard uncertainty 0.4 mm", rule="clause 7"
    )
    assert [(t.words, t.ink) for t in sheet.texts() if t.what == "verdict"] == [(verdict.upper(), ink)]
    assert {"clause 7", "standard uncertainty 0.4 mm", "UNCERTAINTY"} <= set(_words(sheet))


def test_what_just_fits_is_said_to_go_through_in_no_word_of_the_verdict():
    """A page says that a sphere of exactly the limit goes through; to call that passing would read as complying."""
    outline = polygon(points((0, 0), (100, 0), (100, 90), (0, 90)))
    sheet = drawn(outline, pockets(outline)[0], limit=F(90), outcome="does not comply")
    rule = " ".join(text.words for text in sheet.texts() if text.what == "rule")
    assert rule == "A sphere of 90 mm must not pass; one of exactly that size counts as going through."


def test_text_is_drawn_as_text():
    outline = polygon(points((0, 0), (90, 0), (90, 90), (0, 90)))
    sheet = drawn(outline, pockets(outline)[0], title="$x^2$ \x1b[31m <b>&amp;\u202e", labels={0: "$y$ \u202e90"})
    assert "$x^2$ [31m <b>&amp;" in _words(sheet)
    assert "edge 1   $y$ 90" in _words(sheet)


def test_metric_scales_are_a_drawing_offices():
    """Scale series 1:1, 2, 2.5, 4, 5, 10, 15, 20 and 2, 2.5, 4, 5, 10 to 1: GOST 2.302, from memory."""
    for size in (0.01, 1, 37, 220, 470, 1900, 40000):
        outline = polygon(points((0, 0), (size, 0), (size, size), (0, size)))
        sheet = drawn(outline, pockets(outline)[0], limit=None)
        above, below = map(float, sheet.scale_text.split(":"))
        assert sheet.views[0].scale == pytest.approx(above / below)
        first = max(above, below) / 10 ** (len(f"{max(above, below):.0f}") - 1)
        assert min(above, below) == 1
        assert first in (1, 1.5, 2, 2.5, 4, 5, 7.5, 8)
        assert 50 < size * sheet.views[0].scale < 150  # fills the picture


def test_sloping_words_keep_off_each_other_and_off_lines():
    panel = Panel(Rect(0, 0, 100, 100))
    first = panel.put(Text("along a slope", Place(50, 50), 2.5, "middle", 45.0))
    assert not panel.clear(Text("across it", Place(50, 50), 2.5, "middle", -45.0))
    beside = Text("along a slope", Place(56, 44), 2.5, "middle", 45.0)
    overlap = shapely.Polygon(first.corners()).intersection(shapely.Polygon(beside.corners()))
    assert overlap.is_empty
    assert panel.clear(beside)
    panel.draw((Line("dashed", (Place(0, 5), Place(100, 5))), Line("outline", (Place(0, 90), Place(100, 90)))))
    assert not panel.clear(Text("words", Place(50, 4), 2.5))
    assert panel.clear(Text("words", Place(50, 4), 2.5), over_faint=True)
    assert not panel.clear(Text("words", Place(50, 89), 2.5), over_faint=True)
    assert not panel.clear(Text("words", Place(99, 50), 2.5))


def test_the_record_is_plain_data():
    outline = polygon(points((0, 0), (90, 0), (90, 90), (0, 90)))
    sheet = drawn(outline, pockets(outline)[0])
    assert json.loads(json.dumps(as_record(sheet)))["kind"] == "sheet"
