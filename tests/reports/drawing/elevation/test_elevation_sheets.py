import json
from fractions import Fraction as F
from math import atan2, degrees, hypot

import pytest
import shapely

from stairguard.reports.drawing.elevation.framing import scales
from stairguard.reports.drawing.paper.lettering import outline_of
from stairguard.reports.drawing.paper.scene import PENS, Circle, Line, as_record
from stairguard.reports.words.caution_words import caution_texts
from stairguard.reports.words.lengths import given_words
from stairguard.reports.words.one_line import clean
from tests.reports import guards
from tests.reports.drawing.legible import boxes, outside, overlapping

# What is checked here is the record; no picture is painted. Geometry of overlaps: shapely.

SEEDS = (*range(60), 140)  # of which about one in seven is no guard at all, and the solver says so


@pytest.fixture(scope="module")
def drawn():
    """Random jobs that can be laid out, each with its sheets."""
    found = {}
    for seed in SEEDS:
        checked = guards.laid_out(seed)
        if checked is not None:
            found[seed] = checked, guards.sheets(checked)
    return found


def test_enough_random_jobs_are_guards(drawn):
    assert len(drawn) >= 45


def test_no_word_overlaps_another(drawn):
    for seed, (_, sheets) in drawn.items():
        for sheet in sheets:
            assert overlapping(sheet) == [], (seed, sheet.name)


def test_no_word_leaves_the_frame(drawn):
    for seed, (_, sheets) in drawn.items():
        for sheet in sheets:
            assert outside(sheet, 10) == [], (seed, sheet.name)


def test_nothing_drawn_leaves_the_frame(drawn):
    for seed, (_, sheets) in drawn.items():
        for sheet in sheets:
            for mark in sheet.marks():
                xs, ys = zip(*outline_of(mark), strict=True)
                assert 9.9 <= min(xs) <= max(xs) <= sheet.width - 9.9, (seed, sheet.name, mark.what)
                assert 9.9 <= min(ys) <= max(ys) <= sheet.height - 9.9, (seed, sheet.name, mark.what)


def test_no_line_crosses_words_that_have_no_paper_of_their_own(drawn):
    for seed, (_, sheets) in drawn.items():
        for sheet in sheets:
            bare = [(t, s) for t, s in boxes(sheet) if not t.box]
            lines = [shapely.LineString(m.points) for m in sheet.marks() if isinstance(m, Line)]
            tree = shapely.STRtree(lines)
            for text, shape in bare:
                # the box is drawn round accents and tails; a rule may run under the words
                core = shape.buffer(-0.3)
                hit = [k for k in tree.query(core) if lines[k].intersects(core)]
                assert not hit, (seed, sheet.name, text.words)


def test_lettering_is_never_smaller_than_the_least(drawn):
    assert all(t.cap >= 2.5 for _, sheets in drawn.values() for sheet in sheets for t in sheet.texts())


def test_every_post_is_labelled_with_its_station(drawn):
    for seed, (checked, sheets) in drawn.items():
        fmt = guards.formatter(checked.layout.job)
        words = [t.words for t in sheets[0].texts() if t.what.startswith("station of")]
        table = [t.words for sheet in sheets for t in sheet.texts() if t.what.startswith("POST CENTRES")]
        for post in checked.layout.posts:
            along = f"{post.label}   {fmt(post.station).removesuffix(' mm')}"
            assert along in words or (post.label in table and fmt(post.station) in table), (seed, post.label)
        shown = {t.words for t in sheets[0].texts() if t.what.startswith("label of")}
        if table:
            said = " ".join(t.words for t in sheets[0].texts() if t.what == "view scale")
            assert "all posts in the table" in said or said.endswith("…")
        assert shown <= {p.label for p in checked.layout.posts}


def test_proportion_is_true_and_one_scale_holds(drawn):
    for seed, (checked, sheets) in drawn.items():
        view = sheets[0].views[0]
        assert any(view.scale == pytest.approx(k) and view.scale_text == w for k, w in _first(checked))
        posts = {p.label: p for p in checked.layout.posts}
        outlines = [m for m in sheets[0].marks() if getattr(m, "what", "").startswith("post ") and hasattr(m, "fill")]
        for outline in outlines:
            post = posts[outline.what.removeprefix("post ")]
            if outline.pen is None:
                continue  # cut by a break
            stations, levels = zip(*(view.to_model(p) for p in outline.points), strict=True)
            half = float(post.width) / 2
            assert min(stations) == pytest.approx(float(post.station) - half, abs=1e-3), seed
            assert max(stations) == pytest.approx(float(post.station) + half, abs=1e-3)
            assert min(levels) == pytest.approx(float(post.base), abs=1e-3)
            tops = [(s, z) for s, z in zip(stations, levels, strict=True) if z > float(post.base) + 1e-6]
            for edge, face in zip(post.edges, (min(stations), max(stations)), strict=True):
                assert any(
                    s == pytest.approx(face, abs=1e-3) and z == pytest.approx(float(post.base) + float(edge), abs=1e-3)
                    for s, z in tops
                )


def _first(checked, count=40):
    series = scales(checked.layout.job.unit)
    return [next(series) for _ in range(count)]


def test_every_strand_in_view_has_its_pitch(drawn):
    for seed, (checked, sheets) in drawn.items():
        layout = checked.layout
        strands = [m for m in sheets[0].marks() if isinstance(m, Line) and m.what.startswith("strand ")]
        names = {m.what for m in strands}
        for field in layout.fields:
            for number in range(1, len(field.heights) + 1):
                assert f"strand {number}, surface {field.surface + 1}" in names, seed
        for line in strands:
            (x0, y0), (x1, y1) = line.points[0], line.points[-1]
            surface = layout.line.surfaces[int(line.what.rpartition(" ")[2]) - 1]
            if hypot(x1 - x0, y1 - y0) > 1e-3:
                assert degrees(atan2(y1 - y0, x1 - x0)) == pytest.approx(surface.pitch_deg, abs=1e-6)


def test_required_annotations_are_on_the_sheets(drawn):
    for seed, (checked, sheets) in drawn.items():
        job, fmt = checked.layout.job, guards.formatter(checked.layout.job)
        words = [t.words for sheet in sheets for t in sheet.texts()]
        said = " | ".join(words)
        assert f"{given_words(job, fmt)(job.rail.landing_height)} plumb" in said, seed
        flight = next(s for s in checked.layout.line.surfaces if s.kind == "flight")
        assert f"pitch {abs(flight.pitch_deg):.1f}°" in said, seed
        field = checked.layout.fields[flight.index]
        if len(field.heights) > 1:
            assert f"{fmt(field.plumb_spacing)} plumb, {fmt(field.square_spacing)} square" in said, seed
        assert guards.DATE in words
        assert {"UNIT", "RULES", "SCALE", "CHECKED", "SHEET"} <= set(words)
        assert any(w in words for w in ("PASSES", "FAILS", "NOTHING CHECKED"))
        assert any("LARGEST SPHERES" in w for w in words)
        for joint in checked.layout.joints:
            assert f"joint {joint.post}" in said, seed


def test_every_caution_is_printed_whole(drawn):
    for seed, (checked, sheets) in drawn.items():
        printed = " ".join(
            t.words
            for sheet in sheets
            for t in sheet.texts()
            if (t.what == "caution" or t.what.startswith("CAUTIONS")) and t.words != "-"
        )
        for caution in caution_texts(checked.cautions, checked.layout.job.unit):
            assert clean(caution) in printed, (seed, caution)


def test_the_largest_sphere_touches_what_it_says():
    sheet = guards.sheets(guards.checked(guards.job(rules="nz-f4as1")))[0]
    circles = [m for m in sheet.marks() if isinstance(m, Circle)]
    sphere = next(c for c in circles if c.what == "largest sphere")
    contacts = [c for c in circles if c.what.startswith("contact with") and "," not in c.what]
    assert len(contacts) == 3
    for contact in contacts:
        away = hypot(contact.centre.x - sphere.centre.x, contact.centre.y - sphere.centre.y)
        assert away == pytest.approx(sphere.radius, abs=1e-6)
    limit = next(c for c in circles if c.what == "limit")
    assert limit.centre == sphere.centre
    assert limit.radius / sphere.radius == pytest.approx(150 / 149.342, rel=1e-4)  # F4/AS1: 150 mm
    assert PENS[limit.pen].dash


def test_a_failing_opening_is_flagged_in_words_and_ink():
    checked = guards.checked(guards.inch_job(rules="irc-2021", rise="7.75", setback="5", post="1.5"))
    assert checked.passes == all("FAILS" not in t.words for t in guards.sheets(checked)[0].texts())


def test_down_is_the_mirror_image_of_up():
    up = guards.checked(guards.job(lengths=("1200", "1500")))
    down = guards.checked(guards.job(lengths=("1500", "1200"), down=True))

    def outline(checked, sign):
        sheet = guards.sheets(checked)[0]
        view = sheet.views[0]
        edge = max(w.last for w in view.windows)
        level = 3100.0 if sign < 0 else 0.0
        points = set()
        for mark in sheet.marks():
            if isinstance(mark, Line) and (mark.what.startswith("step ") or mark.what.startswith("strand ")):
                for s, z in map(view.to_model, mark.points) if view.to_model(mark.points[0]) else ():
                    points.add((round(s if sign > 0 else edge - s, 3) + 0.0, round(z + level, 3) + 0.0))
        return points

    assert outline(up, 1) == outline(down, -1)


@pytest.mark.parametrize("risers", [16, 1600])
def test_a_long_flight_is_broken_and_says_how_much_is_missing(risers):
    checked = guards.checked(guards.job(risers=risers))
    sheets = guards.sheets(checked)
    view = sheets[0].views[0]
    said = [t.words for t in sheets[0].texts() if t.what == "break"]
    if risers == 16:
        assert len(view.windows) == 1
        assert not said
        return
    nosings = checked.layout.line.surfaces[1].nosings
    hidden = sum(view.window(float(n.s)) is None for n in nosings)
    assert said == [f"{hidden} risers not drawn"]
    first, last = view.windows
    # the nosing line carries straight on over the break
    rise = (last.dy + view.scale * 310000) - (first.dy + view.scale * 193.75)
    run = (last.dx + view.scale * float(nosings[-1].s)) - (first.dx + view.scale * float(nosings[0].s))
    assert rise / run == pytest.approx(193.75 / 250, rel=1e-9)


def test_titles_are_words_and_nothing_else():
    title = "$\\frac{1}{2}$ \x1b[31m <b>&amp;\u202e stair"
    sheet = guards.sheets(guards.checked(guards.job(title=title)))[0]
    assert "$\\frac{1}{2}$ [31m <b>&amp; stair" in [t.words for t in sheet.texts() if t.what == "title"]


def test_lengths_no_tape_shows_are_printed_as_given():
    sheet = guards.sheets(guards.checked(guards.job(mark="1")))[0]
    assert any("16 risers 193.75 mm" in t.words for t in sheet.texts())


def test_inch_scales_are_feet_to_the_inch():
    """An architect's 1/2\" = 1'-0\" is 1 to 24 (from memory, the usual drafting series)."""
    series = {words: k for k, words in _first(guards.checked(guards.inch_job()), 12)}
    for words, ratio in (('1/2" = 1\'-0"', 24), ('1-1/2" = 1\'-0"', 8), ('1/16" = 1\'-0"', 192)):
        assert series[words] == pytest.approx(25.4 / ratio)
        inches = words.split('"')[0].replace("-", " ")
        assert sum(map(F, inches.split())) / 12 == F(1, ratio)


def test_the_record_is_plain_data():
    sheet = guards.sheets(guards.checked(guards.job()))[0]
    assert json.loads(json.dumps(as_record(sheet)))["kind"] == "sheet"
