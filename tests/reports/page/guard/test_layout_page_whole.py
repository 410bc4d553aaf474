"""The page of a whole guard line, read as its reader would; figures worked out anew from surfaces and heights."""

import csv
import io
import json
import math
import re
from collections import Counter
from fractions import Fraction as F

import numpy as np
import pytest
from scipy.optimize import linprog

from stairguard.api.layout import report, result
from stairguard.geometry.marks import tape_text
from stairguard.io.parse.exact_lengths import parse_length
from stairguard.model.guard.jogs import Altered
from stairguard.reports.data.csv_lists import cuts_csv, holes_csv
from stairguard.reports.page.page_text import WIDTH
from stairguard.reports.words.joints.jog_words import jog_sentence, remedy_sentences
from stairguard.reports.words.joints.joint_words import fitting_words
from stairguard.reports.words.joints.rail_cut_words import cut_sentences
from stairguard.reports.words.lengths import Figures
from stairguard.reports.words.lists.run_words import travel_words
from stairguard.reports.words.lists.survey_words import band_words, difference_words
from tests.reports.lines import NAMES, checked
from tests.reports.words.test_grouping import read_back
from tests.texts import flat


@pytest.fixture(scope="module", params=NAMES)
def line(request):
    found = checked(request.param)
    if found is None:
        assert request.param.startswith("line "), "only random lines may be impossible"
    return found


@pytest.fixture(scope="module")
def page(line):
    return None if line is None else report(line)


def section(page, head):
    """The text of a section of the page, in one line."""
    lines = page.splitlines()
    start = lines.index(head)
    rest = lines[start + 1 :]
    return flat("\n".join(rest[: next((i for i, row in enumerate(rest) if row[:1].strip()), len(rest))]))


def tape(line, length):
    return tape_text(F(length), line.layout.job.unit, line.layout.job.mark)


def test_enough_lines_can_be_laid_out():
    assert sum(checked(name) is not None for name in NAMES) >= 20


def test_the_page_fits_and_is_text(page):
    if page is not None:
        assert max(map(len, page.splitlines())) <= WIDTH
        assert all(c.isprintable() for c in page if c != "\n")
        assert "None" not in page
        assert "Fraction" not in page


def test_the_result_is_plain_json(line):
    if line is not None:
        data = result(line)
        assert json.loads(json.dumps(data, allow_nan=False)) == data


def test_every_post_is_told_with_its_place(line, page):
    """Rows tell posts one by one; of a series the first, and how far farther on and higher each next one is."""
    if line is None:
        return
    layout, posts = line.layout, section(page, "POSTS")
    place = {post.label: (post.station, post.base) for post in layout.posts}
    told = set()
    for label, (station, base) in place.items():
        if re.search(rf"(?:^|[ ]){label} (?:end|line|joint|wall|newel) {re.escape(tape(line, station))} ", posts):
            assert f"{tape(line, station)} {tape(line, base)}" in posts
            told.add(label)
    unit = layout.job.unit
    for level, plumb, way, texts in re.findall(
        r"Alike, each (.+?) level farther on(?: and (.+?) plumb (higher|lower))? than the one before: (.+?)\.", posts
    ):
        rise = parse_length(plumb, unit) * (1 if way == "higher" else -1) if plumb else 0
        for numbers, count in re.findall(r"(P\d+ to P\d+ in steps of \d+), (\d+) in all", texts):
            labels = [f"P{n}" for n in sorted(read_back(numbers, "P"))]
            assert len(labels) == int(count)
            first = place[labels[0]]
            for k, label in enumerate(labels):
                expected = first[0] + k * parse_length(level, unit), first[1] + k * rise
                assert [float(v) for v in expected] == pytest.approx([float(v) for v in place[label]], abs=1e-4)
            told |= set(labels)
    assert told == set(place)


def labels_in(text):
    return {f"P{n}" for n in read_back(text, "P")}


def test_every_joint_is_told(line, page):
    if line is None or not line.layout.joints:
        return
    joints = section(page, "JOINTS")
    told = labels_in(" ".join(re.findall(r"(P\d+)(?: and (?:P\d+))?, between", joints)))
    for alike in re.findall(r"Alike: (.+?)\.", joints):
        told |= labels_in(alike)
    assert {joint.post for joint in line.layout.joints} <= told


def rail_top(layout, index, station):
    return layout.line.surfaces[index].datum(station) + layout.rails[index].height


def paragraph_of(page, joint):
    posts = joint.post if joint.second_post is None else f"{joint.post} and {joint.second_post}"
    joints = page.split("\nJOINTS\n")[1].split("\n\nPOSTS\n")[0]
    return next((flat(text) for text in joints.split("\n\n") if flat(text).startswith(f"{posts}, ")), None)


def test_a_jog_says_which_rail_stands_above_which(line, page):
    if line is None:
        return
    layout = line.layout
    for joint in layout.joints:
        if joint.jog:
            # where they end, on the post's faces
            ends = {index: end.s for index, end in zip(joint.between, joint.ends, strict=True)}
            high, low = (rail_top(layout, index, ends[index]) for index in joint.by_height)
            assert high > low
            assert tape(line, high - low) == tape(line, abs(joint.jog))
        text = paragraph_of(page, joint)
        if text is None:
            continue  # told as alike with another
        assert ("JOG" in text) is bool(joint.jog)
        if joint.jog:
            assert flat(jog_sentence(layout, joint, lambda length: tape(line, length))) in text


HEIGHTS = {
    Altered.LANDING_RAIL_HEIGHT: "landing", Altered.FLIGHT_RAIL_HEIGHT: "flight", Altered.RAMP_RAIL_HEIGHT: "ramp",
}  # fmt: skip


def test_each_height_remedy_names_the_surface_it_would_level(line, page):
    if line is None:
        return
    layout, figures = line.layout, Figures(line.layout.job.unit, line.layout.job.mark)
    for joint in layout.joints:
        for remedy in joint.remedies:
            if remedy.what in HEIGHTS:
                (other,) = set(joint.between) - {remedy.surface}
                assert layout.line.surfaces[remedy.surface].kind == HEIGHTS[remedy.what]
                lifted = layout.line.surfaces[remedy.surface].datum(joint.station) + remedy.value
                assert float(lifted) == pytest.approx(float(rail_top(layout, other, joint.station)), abs=1e-9)
        text = paragraph_of(page, joint)
        assert text is None or all(flat(words) in text for words in remedy_sentences(joint, figures))


def unit_vector(surface, heading):
    slope, turn = float(surface.slope), math.radians(heading)
    vector = np.array([math.cos(turn), math.sin(turn), slope])
    return vector / np.linalg.norm(vector)


def test_saw_settings_are_those_of_the_mirror_plane(line, page):
    """The joint plane's normal is the sum of the two directions: angles to it in each piece's own frame, by numpy."""
    if line is None:
        return
    for joint in line.layout.joints:
        text = paragraph_of(page, joint)
        assert text is None or flat(cut_sentences(line.layout, joint)) in text
        if joint.cut is None or not joint.turn_deg:
            continue
        surfaces = [line.layout.line.surfaces[i] for i in joint.between]
        u, v = unit_vector(surfaces[0], 0), unit_vector(surfaces[1], joint.turn_deg)
        normal = (u + v) / np.linalg.norm(u + v)
        for saw, axis in zip((joint.cut.first, joint.cut.second), (u, v), strict=True):
            side = np.cross([0, 0, 1], axis)
            side /= np.linalg.norm(side)
            up = np.cross(axis, side)
            mitre, tilt = math.degrees(math.atan2(normal @ side, normal @ axis)), math.degrees(math.asin(normal @ up))
            assert abs(saw.flat_mitre) == pytest.approx(abs(mitre), abs=1e-6)
            assert abs(saw.flat_tilt) == pytest.approx(abs(tilt), abs=1e-6)


def test_a_compound_cut_is_told_in_the_cut_list_too():
    # up 1 in 4 to a square turn and down as steeply: the plane of the cut is plumb and halves the turn, so that laid
    # flat the mitre is atan(tan(45) / cos p), the tilt asin(sin p cos 45); plane geometry, p the pitch
    line, p = checked("hip"), math.atan(1 / 4)
    mitre, tilt = (math.degrees(a) for a in (math.atan(1 / math.cos(p)), math.asin(math.sin(p) * math.sqrt(0.5))))
    page = report(line)
    assert f"Each piece, laid flat: mitre {mitre:.1f}° across its top, blade tilted {tilt:.1f}°" in flat(page)
    assert f"flat {mitre:.1f}° / {tilt:.1f}°" in section(page, "CUT LIST: RAILS")
    rails = [row for row in rows_of(cuts_csv(line)) if row["part"] == "rail"]
    assert {row["start_cut"] for row in rails} | {row["end_cut"] for row in rails} == {"plumb", "compound"}
    for row in rails:
        for end in ("start", "end"):
            if row[f"{end}_cut"] == "compound":
                assert float(row[f"{end}_deg"]) == pytest.approx(mitre, abs=1e-9)
                assert float(row[f"{end}_tilt_deg"]) == pytest.approx(tilt, abs=1e-9)


def test_runs_are_all_told(line, page):
    if line is None:
        return
    runs = section(page, "RUNS").split("why it ends there ")[1]
    count = 0
    for numbers, rest in re.findall(
        r"(?:^| )((?:\d+(?: to \d+)?(?:, )?)+) ([PWN]\d+-[PWN]\d+ .*?)(?= (?:\d+(?: to \d+)?(?:, )?)+ [PWN]\d+-|$)",
        runs,
    ):
        alike = re.search(r"; (\d+) alike, in steps of", rest)
        count += len(read_back(numbers)) * (int(alike[1]) if alike else 1)
    assert count == len(line.layout.runs)


def test_fittings_are_those_at_posts_and_ends(line, page):
    if line is None:
        return
    layout, text = line.layout, section(page, "FITTINGS")
    counted = Counter()
    for joint in layout.joints:
        for strand in joint.strands:
            # at each of two posts a fitting of its own
            if strand.whole:
                counted[strand.fitting] += 2 if joint.second_post else 1
            elif strand.passed:
                counted[strand.passed] += 1
    ends = 2 * len(layout.runs)
    assert f"terminal {ends // 2} tensioner {ends // 2}" in text
    for kind, count in counted.items():
        if kind != "straight":
            assert f"{fitting_words(kind)} {count}" in text
    holes = sum(len(post.holes) for post in layout.posts)
    anchors = sum(len(post.holes) for post in layout.posts if post.support != "post")
    assert f"{holes} holes" in text
    assert (f"{anchors} of them anchors" in text) is bool(anchors)


def rows_of(text):
    return list(csv.DictReader(io.StringIO(text)))


def test_lists_have_every_hole_and_every_piece(line):
    if line is None:
        return
    layout, holes, cuts = line.layout, rows_of(holes_csv(line)), rows_of(cuts_csv(line))
    assert Counter(row["post"] for row in holes) == {post.label: len(post.holes) for post in layout.posts}
    supports = {post.label: post.support for post in layout.posts}
    assert all(row["support"] == supports[row["post"]] for row in holes)
    pieces = Counter()
    for row in cuts:
        pieces[row["part"]] += int(row["count"])
    assert pieces["post"] == sum(support == "post" for support in supports.values())
    assert pieces["strand"] == len(layout.runs)
    assert pieces["rail"] == sum(surface.carries for surface in layout.line.surfaces)
    own = [hole for post in layout.posts if post.support == "post" for hole in post.holes]
    # no strand goes through where its fitting bears on the face it comes to
    assert pieces["sleeve"] == (sum("inner face" not in h.bears for h in own) if layout.job.post.sleeves else 0)
    assert pieces["fitting"] == sum(fitting.count for fitting in layout.cuts.fittings)
    named = " ".join(row["for"] for row in cuts if row["part"] == "post").split()
    assert sorted(named) == sorted(label for label, support in supports.items() if support == "post")


def test_measured_nosings_are_told_from_below(line, page):
    if line is None:
        return
    layout = line.layout
    assert ("MEASURED FLIGHTS" in page) is bool(layout.straight)
    for straight in layout.straight:
        surface = layout.line.surfaces[straight.surface]
        text = section(page, "MEASURED FLIGHTS").split(f"Surface {surface.index + 1} (flight): ")[1]
        uphill = sorted(surface.nosings, key=lambda nosing: nosing.z)
        for number, nosing in enumerate(uphill, 1):
            gap = float(surface.datum(nosing.s) - nosing.z)
            top = nosing.z + F(gap) + layout.rails[surface.index].height - nosing.z
            cells = rf" {number} {re.escape(tape(line, nosing.s))} {re.escape(tape(line, nosing.z))} "
            row = re.search(cells + r"(.+?)(?= \d+ \S+.*? \d|$)", text)
            assert row, cells
            places = 3 if layout.job.unit == "in" else 1
            assert f" {gap:.{places}f} {tape(line, top)}" in text
        low = min(surface.start.z, surface.end.z)
        rises = np.diff([float(z) for z in (low, *(nosing.z for nosing in uphill))])
        spread = straight.steps.spread.rises
        assert spread.between == (int(np.argmin(rises)), int(np.argmax(rises)))
        assert flat(difference_words("riser", spread, Figures(layout.job.unit, layout.job.mark))) in text


def feasible(nosings, least, most):
    """Whether a straight rail keeps the band over all these nosings, by scipy's linear programme."""
    s, z = (np.array([float(v) for v in axis]) for axis in zip(*nosings, strict=True))
    rows = np.column_stack([np.ones_like(s), s])
    found = linprog(
        [0, 0], A_ub=np.vstack([-rows, rows]), b_ub=np.concatenate([-(z + least), z + most]), bounds=[(None, None)] * 2
    )
    return found.status == 0


def test_nosings_that_forbid_a_straight_rail_are_named():
    line = checked("bad survey")
    text = section(report(line), "MEASURED FLIGHTS")
    surface = line.layout.line.surfaces[1]
    (straight,) = (one for one in line.layout.straight if one.surface == surface.index)
    band = straight.optional
    assert straight.required.exists
    assert not band.exists
    figures = Figures(line.layout.job.unit, line.layout.job.mark)
    assert flat(band_words(surface, band, straight.steps.tops, figures, optional=True)) in text
    least, most, forbidden = float(band.rails.least), float(band.rails.most), band.rails.blocking
    named = [surface.nosings[index] for index in (*forbidden.too_low, *forbidden.too_high)]
    assert len(named) == 3
    assert not feasible(surface.nosings, least, most)
    assert not feasible(named, least, most)
    assert all(feasible([n for n in named if n is not one], least, most) for one in named)
    wider = float(forbidden.by)
    assert feasible(surface.nosings, least, most + wider + 1e-4)
    assert not feasible(surface.nosings, least, most + wider - 1e-4)


def test_a_tower_stays_readable():
    line = checked("tower")
    page = report(line)
    assert len(line.layout.line.surfaces) > 150
    # forty flights take little more than one: each different thing is said once
    assert len(page.splitlines()) < 700
    assert "surfaces 2 to 158 in steps of 4 (flight), 40 in all" in section(page, "NOSING LINE")
    assert page.count("JOG") == 0


def test_both_ways_at_joints_stand_side_by_side():
    line = checked("quarter-turn")
    text = section(report(line), "THROUGH OR BREAK")
    both = line.layout.comparison
    assert f"terminals {both.through.terminals} {both.ended.terminals}" in text
    assert (
        f"strand to cut, in all {tape(line, both.through.strand_total)} {tape(line, both.ended.strand_total)}" in text
    )


def test_stock_tells_bound_or_proof():
    line = checked("quarter-turn")
    page = report(line)
    for what, plan in line.layout.stock:
        text = section(page, f"STOCK: {what.upper()}")
        bought = sum(bar.length * bar.count for bar in plan.bars)
        assert f"Bought {tape(line, bought)}" in text
        assert ("proven" in text) is plan.proven
        pieces = Counter()
        for bar in plan.bars:
            for label, count in bar.pieces:
                assert f"{count} x {label}" in text
                pieces[label] += count * bar.count
        cuts = {"rail": line.layout.cuts.rails, "post": line.layout.cuts.posts, "strand": line.layout.cuts.strands}
        assert pieces == {cut.label: cut.count for cut in cuts[what]}


def test_travel_is_held_against_the_longest_run():
    line = checked("quarter-turn")
    longest = max(run.length for run in line.layout.runs)
    part = 100 * float(line.layout.job.strand.tensioner_travel) / longest
    assert (line.layout.travel.run.length, line.layout.travel.percent) == pytest.approx((longest, part))
    (travel,) = travel_words(line.layout, Figures(line.layout.job.unit, line.layout.job.mark))
    assert flat(travel) in section(report(line), "RUNS")


def test_weights_are_told_where_known():
    with_weights, without = (section(report(checked(name)), "FITTINGS") for name in ("quarter-turn", "tower"))
    assert re.search(r"\(\S+ lb\) of rail, .* \(\S+ lb\) of posts", with_weights)
    assert re.search(r"\(\S+ kg\) of strand, \d+ mm of rail, \d+ mm of posts", without)


def test_walls_and_newels_have_anchors_and_nothing_to_cut():
    line = checked("half-turn")
    page = report(line)
    assert {post.label for post in line.layout.posts} >= {"N1", "W2"}
    assert "N1: newel; anchors, above the surface at its foot" in section(page, "HOLES")
    assert re.search(r"W2 wall .* - - - ", section(page, "POSTS"))
    assert "N1" not in section(page, "CUT LIST: POSTS (plumb)").split("): top ")[0]
    assert not any("W2" in row["for"].split() for row in rows_of(cuts_csv(line)) if row["part"] == "post")


def test_side_mounted_posts_are_said_to_be():
    text = section(report(checked("side")), "POSTS")
    assert "Mounted on the stair's side: feet 8\" plumb below the tread or surface named" in text
    assert "OVERHANGS" not in text


def plan_point(surface, station):
    """A point of the guard line in plan, from the surface's ends there."""
    part = float((station - surface.start.s) / (surface.end.s - surface.start.s))
    ends = np.array(surface.plan_start), np.array(surface.plan_end)
    return ends[0] + part * (ends[1] - ends[0])


def test_strands_between_the_two_posts_of_a_corner_cross_their_faces_where_numpy_says():
    line = checked("two posts")
    layout = line.layout
    (joint,) = (joint for joint in layout.joints if joint.second_post)
    posts = [next(p for p in layout.posts if p.label == label) for label in (joint.post, joint.second_post)]
    surfaces = [layout.line.surfaces[i] for i in joint.between]
    holes = {}
    for strand in (1, 5):
        ends = []
        for post, surface in zip(posts, surfaces, strict=True):
            hole = next(h for h in post.holes if h.strand == strand)
            holes[post.label] = hole
            z = float(surface.datum(post.station) + layout.fields[surface.index].heights[strand - 1])
            ends.append(np.array([*plan_point(surface, post.station), z]))
        along = ends[1] - ends[0]
        for post, surface, end, way in zip(posts, surfaces, ends, (1, -1), strict=True):
            hole = holes[post.label]
            assert hole.passage.side == "both"
            # the face towards the other post is square to the post's own leg, half a width from its centre
            heading = math.radians(surface.heading_deg)
            leg = np.array([math.cos(heading), math.sin(heading), 0.0])
            reach = float(post.width) / 2 / abs(leg @ along)
            crossing = (end + way * reach * along)[2] - float(post.base)
            face = hole.faces[1 if way == 1 else 0]
            assert float(face.height) == pytest.approx(crossing, abs=1e-9)
            assert math.tan(math.radians(face.tilt_deg)) == pytest.approx(along[2] / np.hypot(*along[:2]), abs=1e-9)
