"""What a carpenter marks and cuts, worked out anew from the surfaces, the rails and the strands' heights."""

import csv
import io
import math
import re
from dataclasses import replace
from fractions import Fraction as F

import pytest

import stairguard
from stairguard.api.layout import report, result
from stairguard.geometry.marks import tape_text, to_mark
from stairguard.io.parse.exact_lengths import parse_length
from stairguard.reports.data.csv_lists import cuts_csv, holes_csv
from stairguard.reports.page.page_text import WIDTH
from stairguard.rules.findings.checks import check as check_rules
from stairguard.solve.post.close_holes import close_holes
from tests.reports.guards import checked as check_job
from tests.reports.guards import inch_job, job
from tests.solve.jobs import BASE
from tests.solve.lines import solved
from tests.texts import flat

EXTRA = {"landing_rail": "40", "lengths": ("60", "72"), "rules": "irc-2021"}  # a strand more on the landings
JOBS = {
    "break": inch_job(at_joints="break"),
    "break, down": inch_job(at_joints="break", down=True, landing_rail="37", post="2.375"),
    "break, mm": job(at_joints="break"),
    "extra": inch_job(**EXTRA),
    "extra, down, mm": job(rules="nz-f4as1", landing_rail="1100", lengths=("1800", "1900"), down=True),
    "jog": inch_job(landing_rail="34"),
    "whole": inch_job(landing_rail="37"),
    "whole, down": inch_job(landing_rail="37", down=True),
}


@pytest.fixture(scope="module", params=JOBS)
def checked(request):
    return check_job(JOBS[request.param])


def joint_posts(layout):
    """Each joint post with the labels of its neighbours and the surfaces before and after it."""
    for place, post in enumerate(layout.posts):
        if post.role == "joint":
            (joint,) = (joint for joint in layout.joints if joint.post == post.label)
            yield post, (layout.posts[place - 1].label, layout.posts[place + 1].label), joint.between


def face_height(layout, post, surface, number, way):
    """Height above the base at which a strand's line over a surface cuts the face before (-1) or after (1) a post."""
    return centre_height(layout, post, surface, number, way * post.width / 2)


def centre_height(layout, post, surface, number, offset=0):
    line = layout.line.surfaces[surface].datum(post.station + offset)
    return line + layout.fields[surface].heights[number - 1] - post.base


def section(page, head):
    """Give the lines of a section of the page."""
    lines = page.splitlines()
    start = next(i for i, line in enumerate(lines) if line.startswith(head))
    rest = lines[start + 1 :]
    return rest[: next((i for i, line in enumerate(rest) if line[:1].strip()), len(rest))]


def pole(page, label):
    """Give the lines of one post's part of the hole list."""
    parts = "\n".join(section(page, "HOLES")).split("\n\n")
    (part,) = (part for part in parts if re.match(rf" *{label}: ", part))
    return part


def rows(lines):
    """Read the rows of tables: the cells of lines that start with a strand's number."""
    return [re.split(r" {2,}", line.strip()) for line in lines.splitlines() if re.match(r" +\d+  ", line)]


def test_ended_strands_are_marked_on_the_face_they_come_to(checked):
    layout = checked.layout
    given = layout.job
    page = report(checked)
    for post, neighbours, between in joint_posts(layout):
        text = pole(page, post.label)
        for way, neighbour, surface in zip((-1, 1), neighbours, between, strict=True):
            ended = [hole.strand for hole in post.holes if hole.surfaces == (surface,)]
            words = f"face towards {neighbour}, where strands of surface {surface + 1} "
            assert (words in flat(text)) is bool(ended)
            if not ended:
                continue
            table = re.split(r" of\s+surface " + str(surface + 1), text)[1].split("  Marks ")[0]
            shown = rows(table)
            assert [int(row[0]) for row in shown] == ended
            for number, mark, drill in shown:
                face = face_height(layout, post, surface, int(number), way)
                assert parse_length(mark, given.unit) == to_mark(face, given.mark)
                slope = layout.line.surfaces[surface].slope
                assert risen(drill, *neighbours) == pytest.approx(math.degrees(math.atan(slope)), abs=0.05)


def risen(words, before, after):
    """A hole's angle as the page has it, positive where it rises toward the post after."""
    angle = float(words.split("°")[0])
    if angle == 0:
        return angle
    towards = words.split("° up toward ")[1]
    assert towards in (before, after)
    return angle if towards == after else -angle


def test_whole_strands_are_marked_at_the_centre_and_both_faces(checked):
    layout = checked.layout
    given = layout.job
    page = report(checked)
    for post, neighbours, (before, after) in joint_posts(layout):
        whole = [hole.strand for hole in post.holes if len(hole.surfaces) == 2]
        table = pole(page, post.label).split("  Marks ")[0]
        head = f"strand  mark at centre  face to {neighbours[0]}  drill to {neighbours[0]}  face to {neighbours[1]}"
        assert (head in re.sub(" {2,}", "  ", table)) is bool(whole)
        shown = rows(table)
        assert [int(row[0]) for row in shown] == whole
        for number, centre, face, drill, other, other_drill in shown:
            lengths = [parse_length(mark, given.unit) for mark in (face, centre, other)]
            designed = (
                face_height(layout, post, before, int(number), -1),
                centre_height(layout, post, before, int(number)),
                face_height(layout, post, after, int(number), 1),
            )
            assert lengths == [to_mark(height, given.mark) for height in designed]
            for surface, tilt in ((before, drill), (after, other_drill)):
                slope = layout.line.surfaces[surface].slope
                assert risen(tilt, *neighbours) == pytest.approx(math.degrees(math.atan(slope)), abs=0.05)


def test_the_page_is_not_too_wide(checked):
    assert max(map(len, report(checked).splitlines())) <= WIDTH


def test_every_hole_is_listed_once(checked):
    page = report(checked)
    for post in checked.layout.posts:
        if post.role == "joint":
            assert len(rows(pole(page, post.label))) == len(post.holes)


def test_holes_as_rows_tell_surface_side_and_face(checked):
    layout = checked.layout
    unit, mark = layout.job.unit, layout.job.mark
    table = list(csv.DictReader(io.StringIO(holes_csv(checked))))
    assert len(table) == sum(len(post.holes) for post in layout.posts)
    posts = {post.label: post for post in layout.posts}
    between = {post.label: pair for post, _, pair in joint_posts(layout)}
    for row in table:
        post, surfaces = posts[row["post"]], [int(number) - 1 for number in row["surfaces"].split()]
        side = "whole"
        if row["role"] == "joint" and len(surfaces) == 1:
            side = "before" if surfaces[0] == between[post.label][0] else "after"
        assert row["side"] == side
        faces = {
            "before": face_height(layout, post, surfaces[0], int(row["strand"]), -1),
            "after": face_height(layout, post, surfaces[-1], int(row["strand"]), 1),
        }
        for name, height in faces.items():
            shown = row[f"{name}_face_{unit}"]
            if side in (name, "whole"):
                assert float(shown) == pytest.approx(float(height), abs=1e-9)
            else:
                assert shown == ""
        if side == "whole":
            assert row[f"face_marked_{unit}"] == row["face_marked"] == ""
        else:
            assert F(row[f"face_marked_{unit}"]) == to_mark(faces[side], mark)
            assert row["face_marked"] == tape_text(faces[side], unit, mark)
        for name, surface in (("before_deg", surfaces[0]), ("after_deg", surfaces[-1])):
            slope = layout.line.surfaces[surface].slope
            assert float(row[name]) == pytest.approx(math.degrees(math.atan(slope)), abs=1e-9)


def lifted(hole, by):
    faces = tuple(face and replace(face, height=face.height + by) for face in hole.faces)
    return replace(hole, height=hole.height + by, faces=faces)


def crowded(gap):
    """A break job whose highest strand over the flight comes ``gap`` above the landing's, face to face, at P2."""
    found = check_job(inch_job(at_joints="break", diameter="1/8"))
    layout = found.layout
    (post,) = (post for post in layout.posts if post.label == "P2")
    first = next(hole for hole in post.holes if hole.surfaces == (0,))
    other = next(hole for hole in post.holes if hole.surfaces == (1,))
    rise = first.low_face + gap - other.low_face
    far = [lifted(hole, F(-40)) for hole in post.holes if hole.surfaces == (1,) and hole is not other]
    near = [hole for hole in post.holes if hole.surfaces == (0,)]
    holes = tuple(sorted([*near, lifted(other, rise), *far], key=lambda hole: -hole.height))
    close = tuple(pair for _, _, pair in close_holes(holes, layout.job.strand.diameter + layout.job.mark))
    posts = tuple(replace(p, holes=holes, close=close) if p is post else p for p in layout.posts)
    return replace(found, layout=replace(layout, posts=posts))


@pytest.mark.parametrize(("gap", "told"), [(F(3, 16), False), (F(3, 16) - F(1, 1000), True), (F(0), True)])
def test_holes_nearer_than_a_strand_and_a_mark_are_told(gap, told):
    # a strand of 1/8 and a mark of 1/16
    text = flat(pole(report(crowded(gap)), "P2"))
    assert ("CAUTION" in text) is told
    if told:
        assert f"strand 1 of surface 1 and strand 1 of surface 2 {float(gap):.3f} in apart" in text


def test_holes_apart_are_not_cautioned():
    assert "CAUTION:" not in report(check_job(JOBS["whole"]))


def underside_meeting(layout, post, before, after):
    """Level distance from the post's centre at which the undersides of two rails, produced, meet."""
    lines = [layout.line.surfaces[index] for index in (before, after)]
    heights = [
        line.datum(post.station) + layout.rails[index].underside
        for line, index in zip(lines, (before, after), strict=True)
    ]
    return float((heights[1] - heights[0]) / (lines[0].slope - lines[1].slope))


@pytest.fixture(scope="module", params=["whole", "whole, down", "break, mm", "extra"])
def mitred(request):
    return check_job(JOBS[request.param])


def test_a_mitred_top_is_told_by_its_turn_and_edges(mitred):
    layout = mitred.layout
    unit, mark = layout.job.unit, layout.job.mark
    posts = flat("\n".join(section(report(mitred), "POSTS")))
    for post, neighbours, (before, after) in joint_posts(layout):
        turn = underside_meeting(layout, post, before, after)
        assert 0 < abs(turn) < post.width / 2
        edges = [
            layout.line.surfaces[index].datum(post.station + way * post.width / 2)
            + layout.rails[index].underside
            - post.base
            for index, way in ((before, -1), (after, 1))
        ]
        off = tape_text(F(abs(turn)), unit, mark)
        words = f"turns {off} from the centre line towards {neighbours[turn > 0]}"
        shown = [tape_text(edge, unit, mark) for edge in edges]
        (sentence,) = re.findall(rf"{post.label}: (top .*?)\.(?: P\d|$)", posts)
        assert words in sentence
        assert f"{shown[0]} high at the face towards {neighbours[0]}" in sentence
        assert f"{shown[1]} at the face towards {neighbours[1]}" in sentence


def cut_rows(checked, part):
    return [row for row in csv.DictReader(io.StringIO(cuts_csv(checked))) if row["part"] == part]


def test_a_mitred_top_in_the_cut_list(mitred):
    layout = mitred.layout
    unit = layout.job.unit
    shown = {label: row for row in cut_rows(mitred, "post") for label in row["for"].split()}
    for post, _, (before, after) in joint_posts(layout):
        row = shown[post.label]
        turn = underside_meeting(layout, post, before, after)
        assert (row["end_cut"], row["end_deg"]) == ("two bevels", "")
        assert float(row[f"top_break_{unit}"]) == pytest.approx(turn, abs=1e-9)
        for name, index in (("top_before_deg", before), ("top_after_deg", after)):
            slope = layout.line.surfaces[index].slope
            assert float(row[name]) == pytest.approx(math.degrees(math.atan(slope)), abs=1e-9)
        assert float(row[f"edge_before_{unit}"]) == float(post.edges[0])
        assert float(row[f"edge_after_{unit}"]) == float(post.edges[1])


def test_other_tops_are_square_or_one_bevel(mitred):
    layout = mitred.layout
    posts = {post.label: post for post in layout.posts}
    for row in cut_rows(mitred, "post"):
        post = posts[row["for"].split()[0]]
        if post.role != "joint":
            slope = layout.line.surfaces[post.stands_on].slope
            assert row["end_cut"] == ("bevel" if slope else "square")
            assert float(row["end_deg"]) == pytest.approx(math.degrees(math.atan(slope)), abs=1e-9)
            assert row[f"top_break_{layout.job.unit}"] == ""


def test_the_cut_list_on_the_page_tells_two_slopes(mitred):
    layout = mitred.layout
    text = flat("\n".join(section(report(mitred), "CUT LIST: POSTS")))
    for post, neighbours, (before, after) in joint_posts(layout):
        turn = underside_meeting(layout, post, before, after)
        off = tape_text(F(abs(turn)), layout.job.unit, layout.job.mark)
        assert f"({post.label}): top " in text
        assert f"turns {off} from the centre line towards {neighbours[turn > 0]}" in text


def test_a_post_at_a_jog_is_told_where_the_rails_end():
    found = check_job(JOBS["jog"])
    layout = found.layout
    posts = flat("\n".join(section(report(found), "POSTS")))
    for post, neighbours, (before, after) in joint_posts(layout):
        tops = [
            layout.line.surfaces[index].datum(post.station + way * post.width / 2)
            + layout.rails[index].height
            - post.base
            for index, way in ((before, -1), (after, 1))
        ]
        shown = [tape_text(top, layout.job.unit, layout.job.mark) for top in tops]
        words = f"tops {shown[0]} high at the face towards {neighbours[0]}, {shown[1]} at the face towards"
        assert f"{post.label}: the rails end on its faces" in posts
        assert words in posts


def test_rails_have_a_section_and_their_long_points():
    given = inch_job(landing_rail="37")
    found = check_job(replace(given, rail=replace(given.rail, width=F(7, 2))))
    page = report(found)
    for head in ("RAIL", "CUT LIST: RAILS"):
        assert '1-1/2" x 3-1/2"' in flat("\n".join(section(page, head))), head
    first, second, third = cut_rows(found, "rail")
    assert {row["section"] for row in (first, second, third)} == {'1-1/2" x 3-1/2"'}
    # at the foot the rail bends up: an underside that is longer; at the head it bends level: a longer top
    assert [first["start_long_point"], first["end_long_point"]] == ["neither", "underside"]
    assert [second["start_long_point"], second["end_long_point"]] == ["underside", "top"]
    assert [third["start_long_point"], third["end_long_point"]] == ["top", "neither"]


def test_rail_lengths_between_points():
    # A mitre by half the pitch leans over depth * tan(half the pitch), once out and once in.
    found = check_job(inch_job(landing_rail="37"))
    lean = 1.5 * math.tan(math.atan(7.25 / 10.5) / 2)
    _, flight, _ = cut_rows(found, "rail")
    top = float(flight["length_in"])
    assert float(flight["underside_in"]) == pytest.approx(top, abs=1e-9)
    assert float(flight["long_in"]) == pytest.approx(top + lean, abs=1e-9)
    assert float(flight["short_in"]) == pytest.approx(top - lean, abs=1e-9)


def test_one_surface_or_several():
    # square ends against jogs: both landings' pieces are equal when one is 9-3/4 in longer than the other,
    # since the lower post stands one run, 10-1/2 in, before the nosing and the upper half its width, 3/4, past it
    found = check_job(inch_job(landing_rail="34", lengths=("57.75", "48")))
    names = {row["label"]: row["for"] for row in cut_rows(found, "rail")}
    assert sorted(names.values()) == ["surface 2", "surfaces 1 3"]


@pytest.mark.parametrize("name", ["irc-2021", "nz-f4as1"])
def test_the_rules_line_has_edition_and_jurisdiction(name):
    found = check_job(replace(stairguard.built_in_job(), rules=name))
    page = flat(report(found))
    rules = found.layout.rules
    assert rules.edition
    assert f"Rules: {name} ({rules.title})." in page
    assert f"Edition: {rules.edition}." in page
    assert f"Jurisdiction: {rules.jurisdiction}." in page


def test_no_rules_have_no_edition():
    page = report(check_job(inch_job()))
    assert "Edition" not in page
    assert "Jurisdiction" not in page


def test_ended_strands_are_told_by_surface_at_a_joint():
    found = check_job(inch_job(**EXTRA))
    joints = flat("\n".join(section(report(found), "JOINTS")))
    for joint in found.layout.joints:
        landing = next(i for i in joint.between if i != 1)
        ended = [s.number for s in joint.strands if not s.whole]
        assert ended == [13]
        (fitting,) = (s.fitting for s in joint.strands if not s.whole)
        assert f"Ended here: 13 of surface {landing + 1} (landing): {fitting}, slope 0.0°." in joints


def test_posts_to_cut_have_their_break_and_edges_in_the_result(mitred):
    layout = mitred.layout
    posts = {post.label: post for post in layout.posts}
    for cut in result(mitred)["cuts"]["posts"]:
        for label in cut["posts"]:
            assert cut["bevel_break"] == float(posts[label].bevel_break)
            assert cut["edges"] == [float(edge) for edge in posts[label].edges]


def test_ended_strands_with_fittings_on_the_far_face_are_marked_at_the_centre_and_both_faces():
    given = replace(BASE, post=replace(BASE.post, bearing="outer face"), strand=replace(BASE.strand, at_joints="break"))
    checked = check_rules(solved(given))
    (post,) = (post for post in checked.layout.posts if post.label == "P2")
    there = [hole for hole in post.holes if hole.surfaces == (0,) and "outer face" in hole.bears]
    assert there
    text = pole(report(checked), "P2").split("their fittings through the post:")[1]
    shown = rows(text)[: len(there)]
    for hole, (number, centre, *marks) in zip(there, shown, strict=True):  # level: one height all through
        assert (int(number), parse_length(centre, "in")) == (hole.strand, hole.marked)
        assert marks == [centre, "0.0°", centre, "0.0°"]
