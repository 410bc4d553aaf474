import random
from fractions import Fraction as F
from math import cos, degrees, hypot, nan, radians, sin

import pytest
import shapely

from stairguard.errors import InputError
from stairguard.io.parse.exact_lengths import format_length
from stairguard.reports.drawing.paper.scene import Arc, Circle, Line, Polygon, Text
from stairguard.reports.drawing.probe.probe_section import PushPicture, push_section
from stairguard.reports.words.general_cautions import ALWAYS
from stairguard.statics import probe_force as statics
from tests.reports.drawing.legible import boxes, outside, overlapping

# What is checked is the record; no picture is painted. Geometry of overlaps and contacts: shapely.

DATE = "2026-02-03"
SEEDS = range(24)


def _fmt(unit):
    return lambda value: format_length(value, unit, F(1, 32) if unit == "in" else F(1, 2))


def drawn(picture, unit="in", title="Push at mid-bay"):
    return push_section(picture, title=title, unit=unit, fmt=_fmt(unit), date=DATE)


def hardest(probe, sphere, diameter, given, strands, friction=0.0, **said):
    """Return the picture of a push at its hardest place, as the statics find it."""
    made = (statics.sphere if probe == "sphere" else statics.cone)(sphere, diameter)
    clear = given / 2 if strands == 2 else given
    found = statics.push(statics.Bay(12 * sphere, 200.0, 1e5, 12 * sphere), made, clear, strands, friction)
    f = float(found.contact)
    turned = f + degrees(statics.np.arctan(friction))
    words = f"{float(found.force):.1f} lbf"
    return PushPicture(
        probe=probe,
        sphere=sphere,
        diameter=diameter,
        spacing_or_clear=given,
        strands=strands,
        angle_deg=f,
        deflection=float(found.deflection),
        force_angle_deg=turned,
        push=words,
        **said,
    )


def random_picture(seed):
    rng = random.Random(seed)
    unit, probe, strands = ("in", "mm")[seed % 2], rng.choice(("sphere", "cone")), rng.choice((1, 2))
    sphere = rng.choice((4.0, 4.375, 6.0) if unit == "in" else (100.0, 125.0, 99.0))
    diameter = sphere * rng.uniform(0.01, 0.15)
    clear = (sphere + diameter) / 2 * rng.uniform(0.35, 0.995)
    said = {
        "edge": rng.choice(("top rail", "rigid edge", "W" * 50, "")),
        "edge_below": rng.random() < 0.5,
        "rows": tuple(
            (rng.choice(("tension", "W" * 40)), rng.choice(("200 lbf", "a " * 50))) for _ in range(seed % 14)
        ),
    }
    return unit, hardest(probe, sphere, diameter, clear * strands, strands, rng.choice((0, 0.1, 0.25)), **said)


@pytest.fixture(scope="module")
def sheets():
    made = [(seed, *random_picture(seed)) for seed in SEEDS]
    return [(seed, picture, drawn(picture, unit)) for seed, unit, picture in made]


def test_no_word_overlaps_another_or_leaves_the_frame(sheets):
    for seed, _, sheet in sheets:
        assert (overlapping(sheet), outside(sheet, 8)) == ([], []), seed


def _outline(mark):
    if isinstance(mark, Circle):
        return shapely.Point(mark.centre).buffer(mark.radius, 64).exterior
    return shapely.LineString(mark.points)


def test_no_line_but_faint_ones_crosses_words(sheets):
    faint = ("fine", "hatch", "chain")
    for seed, _, sheet in sheets:
        marks = [m for m in sheet.marks() if isinstance(m, Line | Circle) and m.pen not in (*faint, None)]
        lines = [_outline(m) for m in marks if isinstance(m, Circle) or len(set(m.points)) > 1]
        tree = shapely.STRtree(lines)
        for text, box in boxes(sheet):
            core = box.buffer(-0.2)
            hit = [marks[k] for k in tree.query(core) if lines[k].intersects(core)]
            assert not hit, (seed, text.words, hit)


def test_nothing_drawn_leaves_the_frame(sheets):
    for seed, _, sheet in sheets:
        frame = shapely.box(8, 8, sheet.width - 8, sheet.height - 8).buffer(1e-6)
        for mark in sheet.marks():
            if isinstance(mark, Line | Circle | Polygon) and mark.what not in ("frame", "title block"):
                assert frame.covers(_outline(mark)), (seed, mark)


def test_lettering_is_never_smaller_than_on_other_sheets(sheets):
    assert all(text.cap >= 2.5 for *_, sheet in sheets for text in sheet.texts())


def _circles(sheet, what):
    return [m for m in sheet.marks() if isinstance(m, Circle) and m.what == what]


def test_strands_pushed_aside_touch_the_probe_and_do_not_enter_it(sheets):
    for seed, picture, sheet in sheets:
        moved = _circles(sheet, "strand pushed aside")
        assert len(moved) == picture.strands
        if picture.probe == "sphere":
            (ball,) = _circles(sheet, "sphere")
            body = shapely.Point(ball.centre).buffer(ball.radius, 512)
        else:
            body = shapely.Polygon(next(m for m in sheet.marks() if isinstance(m, Line) and m.what == "cone").points)
        for strand, contact in zip(moved, _circles(sheet, "contact"), strict=True):
            away = body.distance(shapely.Point(strand.centre))
            assert away == pytest.approx(strand.radius, abs=2e-3), (seed, picture)
            at = shapely.Point(contact.centre)
            assert body.exterior.distance(at) < 2e-3
            assert hypot(*(a - b for a, b in zip(contact.centre, strand.centre, strict=True))) == pytest.approx(
                strand.radius
            )


def test_strands_move_along_the_force_by_the_deflection(sheets):
    for seed, picture, sheet in sheets:
        scale = sheet.views[0].scale
        pairs = zip(_circles(sheet, "strand at rest"), _circles(sheet, "strand pushed aside"), strict=True)
        for rest, moved in pairs:
            dx, dy = ((m - r) / scale for m, r in zip(moved.centre, rest.centre, strict=True))
            p = radians(picture.force_angle_deg)
            assert (dx, abs(dy)) == pytest.approx((picture.deflection * sin(p), picture.deflection * cos(p)), abs=1e-6)
            assert dy * (rest.centre.y - sheet.views[0].to_paper(0, 0).y) >= 0, seed  # away from the probe
        heights = [c.centre.y / scale for c in _circles(sheet, "strand at rest")]
        if picture.strands == 2:
            assert abs(heights[0] - heights[1]) == pytest.approx(picture.spacing_or_clear)


def test_a_rigid_edge_touches_the_probe():
    for below in (False, True):
        sheet = drawn(hardest("sphere", 4.0, 0.125, 1.6, 1, edge="top rail", edge_below=below))
        (ball,) = _circles(sheet, "sphere")
        edge = next(m for m in sheet.marks() if isinstance(m, Line) and m.what == "top rail")
        (strand,) = _circles(sheet, "strand at rest")
        assert abs(edge.points[0].y - ball.centre.y) == pytest.approx(ball.radius)
        assert (edge.points[0].y < ball.centre.y) is below
        assert (strand.centre.y > ball.centre.y) is below
        solid = [m for m in sheet.marks() if isinstance(m, Line) and m.what == "top rail hatching"]
        assert solid
        assert all((m.points[1].y < m.points[0].y) is below for m in solid)


def test_words_and_dimensions():
    sheet = drawn(hardest("sphere", 4.0, 0.125, 3.0, 2, rows=(("tension at rest", "200 lbf, as set"),)))
    words = [t.words for t in sheet.texts()]
    assert {'at rest 3" square', 'opening needed 4"', "strand pushed aside", "at rest", 'sphere ⌀4"'} <= set(words)
    assert {"tension at rest", "200 lbf, as set", "gap at rest", '2-7/8" square', '⌀1/8"', DATE} <= set(words)
    assert all(c in " ".join(t.words for t in sheet.texts() if t.what == "caution") for c in ALWAYS)
    for what, long in (('at rest 3" square', 3.0), ('opening needed 4"', 4.0)):
        shaft = next(m for m in sheet.marks() if isinstance(m, Line) and m.what == what and m.pen == "thin")
        assert abs(shaft.points[0].y - shaft.points[1].y) / sheet.views[0].scale == pytest.approx(long)
        assert shaft.points[0].x == shaft.points[1].x


def test_the_contact_angle_is_drawn_as_it_is_written():
    for picture in (
        hardest("sphere", 4.0, 0.125, 2.0, 2, 0.2),
        hardest("cone", 125.0, 3.0, 80.0, 2),
        hardest("sphere", 4.0, 0.125, 1.2, 1),
    ):
        sheet = drawn(picture)
        (arc,) = [m for m in sheet.marks() if isinstance(m, Arc)]
        assert arc.end - arc.start == pytest.approx(picture.angle_deg)
        assert f"{picture.angle_deg:.1f}°" in [t.words for t in sheet.texts() if t.what == "contact angle"]


def test_the_push_points_along_the_way():
    sheet = drawn(hardest("cone", 125.0, 3.2, 80.0, 2), "mm")
    (arrow,) = [m for m in sheet.marks() if isinstance(m, Polygon) and m.what == "push"]
    cone = next(m for m in sheet.marks() if isinstance(m, Line) and m.what == "cone")
    assert max(x for x, _ in arrow.points) < min(x for x, _ in cone.points)
    (tip,) = [p for p in arrow.points if p.x == max(x for x, _ in arrow.points)]
    assert tip.y == pytest.approx(sheet.views[0].to_paper(0, 0).y)


def test_a_cone_is_the_probe_of_the_verification_test():
    """National Construction Code of Australia, wire guards: 105 mm of cone from a tip of 20 mm to a cylinder of 125."""
    picture = hardest("cone", 125.0, 3.2, 80.0, 2)
    back, shoulder, tip, *_ = picture.cone()
    assert (2 * shoulder[1], 2 * tip[1], tip[0] - shoulder[0]) == pytest.approx((125, 20, 105))
    assert back[1] == shoulder[1]


GOOD = {"probe": "sphere", "sphere": 4.0, "diameter": 0.25, "spacing_or_clear": 3.0, "strands": 2}
STATE = {"angle_deg": 30.0, "force_angle_deg": 30.0, "push": "9 N"}
Q = (2.125 * cos(radians(30)) - 1.5) / cos(radians(30))  # by hand: (B cos f - clear)/cos p


def test_only_a_state_of_the_push_is_drawn():
    assert PushPicture(**GOOD, **STATE, deflection=Q)
    with pytest.raises(InputError, match=r"deflection: must be 0 or more, and at these angles 0\.39294"):
        PushPicture(**GOOD, **STATE, deflection=Q + 1e-3)


@pytest.mark.parametrize(
    ("said", "where"),
    [
        ({"sphere": nan}, "sphere"),
        ({"diameter": 0.0}, "diameter"),
        ({"spacing_or_clear": -1.0}, "spacing_or_clear"),
        ({"angle_deg": nan}, "angle_deg"),
        ({"angle_deg": 91.0}, "angle_deg"),
        ({"probe": "cone", "angle_deg": 27.0}, "angle_deg"),  # a cone's side is at 26.57 degrees
        ({"force_angle_deg": 20.0}, "force_angle_deg"),
        ({"force_angle_deg": 90.0}, "force_angle_deg"),
        ({"deflection": nan}, "deflection"),
        ({"spacing_or_clear": 5.0, "deflection": -0.43}, "deflection"),
    ],
)
def test_what_is_no_picture_is_refused(said, where):
    with pytest.raises(InputError, match=f"push picture, {where}: must be"):
        PushPicture(**(GOOD | STATE | {"deflection": Q} | said))


def test_text_is_drawn_as_text():
    sheet = drawn(hardest("sphere", 4.0, 0.125, 3.0, 2), title="$x^2$ \x1b[31m <b>\u202e")
    assert "$x^2$ [31m <b>" in [t.words for t in sheet.texts() if isinstance(t, Text)]
