"""One post at a turn, rebuilt in space from the result as it is printed: its prism, strands through it, rails to it.

Nothing is taken from the solver but JSON. The post's square in plan is shapely's; planes and lines are numpy's.
"""

from dataclasses import replace
from fractions import Fraction as F
from itertools import pairwise, product
from math import cos, hypot, radians, sin, tan

import numpy as np
import pytest
from shapely.affinity import rotate, translate
from shapely.geometry import LineString, box

from stairguard.solve.joint.corner_posts import clear_between, least_offset
from stairguard.solve.sphere.verdicts import over
from tests.solve.jobs import BASE
from tests.solve.lines import CROSSED, land, printed, ramp, solved, up
from tests.solve.test_lay_out_walk import Walk
from tests.solve.twoposts import two_posts

TURNS = (15, 30, 45, 60, 88, 90, 120)
LINES = {
    "deck": lambda turn: (land(90), land(90, turn)),
    "deck, rails of two heights": lambda turn: (land(90), land(90, turn, rail_height=F(39))),
    "flight, then a landing turned": lambda turn: (up(6), land(90, turn)),
    "landing, then a flight turned": lambda turn: (land(90), up(6, turn)),
    "turn half way over a landing": lambda turn: (up(6), land(12, **CROSSED), land(12, turn, **CROSSED), up(6)),
    "ramps, up and down": lambda turn: (ramp(120, 10), ramp(120, -10, turn)),
    "ramp, then level": lambda turn: (ramp(120, 10), land(90, turn)),
}
MITRED = {"deck", "ramps, up and down"}
"""Rails that run on to the corner."""

CASES = [(name, sign * turn, ended) for name, turn, sign, ended in product(LINES, TURNS, (1, -1), ("through", "break"))]


def corner_job(name, turn, ended="through", **post):
    return replace(
        BASE,
        rules="none",
        surfaces=LINES[name](float(turn)),
        strand=replace(BASE.strand, at_joints=ended, largest_bend=150.0),
        post=replace(BASE.post, sleeves=True, **post),
    )


class Corner:
    """The corner's post in space, and what comes to it."""

    def __init__(self, found):
        self.walk = Walk(found)
        (self.joint,) = (j for j in found["joints"] if j["turn_deg"])
        (self.post,) = (p for p in found["posts"] if p["label"] == self.joint["post"])
        (_, _, before), (_, self.at, after) = self.walk.legs
        self.headings = before, after
        self.slopes = [tan(radians(self.walk.surfaces[i]["pitch_deg"])) for i in self.joint["between"]]
        half = self.post["width"] / 2
        square = rotate(box(-half, -half, half, half), self.post["turned_deg"], origin=(0, 0))
        self.square = translate(rotate(square, before, origin=(0, 0), use_radians=True), *self.at)

    def out(self, side):
        """Level from the centre to where what comes from a side meets the post, and the plumb plane's normal there."""
        way = -1 if side == 0 else 1
        u = np.array([cos(self.headings[side]), sin(self.headings[side])])
        ray = LineString([self.at, self.at + way * 4 * self.post["width"] * u])
        reach = ray.intersection(self.square).length
        corners = np.array(self.square.exterior.coords)
        hit = self.at + way * reach * u
        for p, q in pairwise(corners):
            if abs(np.cross([*(q - p), 0], [*(hit - p), 0])[2]) < 1e-9:
                normal = np.array([(q - p)[1], -(q - p)[0], 0.0]) / hypot(*(q - p))
                return reach, normal * np.sign(normal[:2] @ (hit - self.at))
        raise AssertionError("no face there")


@pytest.mark.parametrize(("name", "turn", "ended"), CASES)
def test_holes_and_sleeves_follow_the_strand_through_the_prism(name, turn, ended):
    found = printed(corner_job(name, turn, ended))
    corner = Corner(found)
    sleeves = [(strand, s["length"]) for s in found["cuts"]["sleeves"] for strand in s["strands"]]
    for hole in corner.post["holes"]:
        sides = [k for k in (0, 1) if corner.joint["between"][k] in hole["surfaces"]]
        reaches = {k: corner.out(k)[0] for k in sides}
        heights = [hole["height"] + (1 if k else -1) * reaches[k] * corner.slopes[k] for k in sides]
        bends = len(sides) == 2 and abs(corner.slopes[0] - corner.slopes[1]) > 1e-12
        heights += [hole["height"]] if bends else []
        assert (hole["low_face"], hole["high_face"]) == pytest.approx((min(heights), max(heights)), abs=1e-9)
        held = f"{hole['strand']} ({corner.post['label']})"
        if len(sides) < 2:
            continue  # what ends at the face it comes to goes through no hole
        length = sum(reaches[k] * hypot(1, corner.slopes[k]) for k in sides)
        assert any(sleeve == pytest.approx(length, abs=1e-9) for s, sleeve in sleeves if s == held)


@pytest.mark.parametrize(("name", "turn", "ended"), CASES)
def test_bays_and_strand_lengths_end_at_the_posts_sides(name, turn, ended):
    found = printed(corner_job(name, turn, ended))
    corner = Corner(found)
    label = corner.post["label"]
    for run in found["runs"]:
        points = [corner.walk.hole(post, run["strand"], run["surfaces"]) for post in run["posts"]]
        if label not in (run["posts"][0], run["posts"][-1]):
            continue
        side = 0 if run["posts"][-1] == label else 1
        if side == 1:
            points = points[::-1]
        before = points[-2]
        sec = hypot(1, corner.slopes[side])
        other = corner.walk.posts[run["posts"][0 if side == 0 else -1]]
        whole = sum(float(np.linalg.norm(b - a)) for a, b in pairwise(points))
        outer = other["width"] / 2 * sec  # bears on the outer face at the line's end
        assert other["role"] == "end"
        assert run["length"] == pytest.approx(whole + outer - corner.out(side)[0] * sec, abs=1e-9)
        bay = float(np.linalg.norm(points[-1] - before)) - corner.out(side)[0] * sec - other["width"] / 2 * sec
        if len(points) == 2:
            assert run["longest_bay"] == pytest.approx(bay, abs=1e-9)


def saw_plane(cut, slope, side):
    """Unit normal of an end's plane from the saw's settings as the page states them, in the frame of the rail's leg.

    The long point's side and edge say which way it leans.
    """
    axis = np.array([1, 0, slope]) / hypot(1, slope)
    left = np.array([0.0, 1.0, 0.0])
    top = np.cross(axis, left)
    if cut["kind"] == "square":
        return axis
    mitre, tilt = radians(cut["angle_deg"]), radians(cut["tilt_deg"])
    if cut["kind"] == "plumb":
        mitre, tilt = 0.0, mitre
    long = 1 if side == 0 else -1  # the long point reaches on at an end, back at a start
    lean = {"left": -1, "right": 1, None: 0}[cut["side"]] * long
    edge = cut["edge"] or (cut["long_point"] if not cut["side"] else "")
    rise = {"top": -1, "underside": 1, "": 0, "neither": 0}[edge] * long
    normal = axis * cos(mitre) * cos(tilt) + left * lean * sin(mitre) * cos(tilt) + top * rise * sin(tilt)
    return normal / np.linalg.norm(normal)


@pytest.mark.parametrize(("name", "turn", "ended"), [c for c in CASES if c[0] not in MITRED])
def test_rails_that_end_on_the_post_lie_flat_on_its_face(name, turn, ended):
    """All four corners of the sawn end in one plane with the face: no wedge."""
    found = printed(corner_job(name, turn, ended))
    corner = Corner(found)
    assert not corner.joint["mitred"]
    rail = BASE.rail
    for side, index in enumerate(corner.joint["between"]):
        slope, heading = corner.slopes[side], corner.headings[side]
        (piece,) = (c for c in found["cuts"]["rails"] if index in c["surfaces"])
        plane = saw_plane(piece["start_cut"] if side else piece["end_cut"], slope, side)
        axis = np.array([1, 0, slope]) / hypot(1, slope)
        top = np.cross(axis, [0.0, 1.0, 0.0])
        reach, face = corner.out(side)
        c, s = cos(heading), sin(heading)
        face = np.array([c * face[0] + s * face[1], -s * face[0] + c * face[1], 0.0])
        way = 1 if side else -1
        end = way * reach * np.array([1, 0, slope])
        for y, z in product((-0.5, 0.5), (0.0, -1.0)):
            start = end + y * float(rail.width) * np.array([0, 1.0, 0]) + z * float(rail.depth) * top
            point = start + axis * float((end - start) @ plane) / float(axis @ plane)
            assert float((point - end) @ face) == pytest.approx(0, abs=1e-9), (y, z)
        # the piece is as long as from the line's end to this face
        ends = [p for p in found["posts"] if p["role"] == "end"]
        outer = ends[1 if side else 0]
        level = abs(corner.post["station"] - outer["station"]) + outer["width"] / 2 - reach
        assert piece["length"] == pytest.approx(level * hypot(1, slope), abs=1e-9)


def test_a_wide_rail_at_45_degrees_leaves_no_wedge():
    """3-1/2 in wide, square to nothing but the face: cut square it would leave 3.5 tan 22.5 = 1.45 in."""
    found = printed(corner_job("deck, rails of two heights", 45))
    for piece, end in zip(found["cuts"]["rails"], ("end_cut", "start_cut"), strict=True):
        assert piece[end]["angle_deg"] == pytest.approx(22.5)
        assert 3.5 * tan(radians(piece[end]["angle_deg"])) == pytest.approx(1.45, abs=0.005)
        assert piece[end]["side"] == "right"  # outside of a left turn


def test_a_sleeve_at_88_degrees_is_as_long_as_the_askew_post():
    """1.5 / cos 44 / cos pitch in a flight's strand: 2.53 at 34.6 degrees, not 1.82."""
    flight = up(6, 88.0, rise=F(29, 4), run=F(21, 2))
    job = replace(corner_job("deck", 88), surfaces=(land(90), flight))
    ended = replace(job.strand, at_joints="break")
    found = printed(replace(job, strand=ended, post=replace(job.post, bearing="outer face")))
    lengths = {s["length"] for s in found["cuts"]["sleeves"]}
    assert any(length == pytest.approx(1.5 / cos(radians(44)) * hypot(1, 29 / 42), abs=1e-9) for length in lengths)
    assert 1.5 / cos(radians(44)) * hypot(1, 29 / 42) == pytest.approx(2.53, abs=0.005)


@pytest.mark.parametrize("turn", TURNS)
def test_a_post_square_to_the_rails_is_never_more_than_an_eighth_of_a_right_angle_off_a_quarter(turn):
    """As the job may ask: the least askew of the two ways to stand alike to both rails."""
    found = printed(corner_job("deck", turn, corner_square="rails"))
    corner = Corner(found)
    least = min(abs((turn / 2 + k * 45 + 45) % 90 - 45) for k in range(2))
    assert [abs(a) for a in corner.post["askews_deg"]] == pytest.approx([least, least], abs=1e-9)
    assert least <= 22.5
    assert [corner.out(k)[0] for k in (0, 1)] == pytest.approx([0.75 / cos(radians(least))] * 2, abs=1e-9)
    assert corner.post["half"] == pytest.approx(0.75 / cos(radians(least)), abs=1e-12)


@pytest.mark.parametrize("turn", [89.0, 89.9, 90.0, 90.1, -90.1])
def test_a_turn_that_a_tape_cannot_tell_from_square_is_square(turn):
    """Across 1-1/2 in, 1.19 degrees are half of 1/16 in."""
    found = printed(corner_job("deck", turn))
    corner = Corner(found)
    assert [abs(a) for a in corner.post["askews_deg"]] == pytest.approx([abs(abs(turn) - 90) / 2] * 2, abs=1e-9)
    assert corner.post["half"] == pytest.approx(0.75, abs=1e-4)


@pytest.mark.parametrize(("width", "turn"), [(F(3, 2), 90), (F(7, 2), -45), (F(7, 2), 120), (F(1), 165)])
def test_clear_between_two_corner_posts_is_what_geos_finds(width, turn):
    """Squares turned each to its own leg, at unlike distances from the corner, as marks leave them."""
    least = least_offset(width, turn)
    for more, beyond in product((F(0), F(1, 32), F(2), F(7)), repeat=2):
        half = float(width) / 2
        square = box(-half, -half, half, half)
        first = translate(square, -float(least + more), 0)
        second = rotate(translate(square, float(least + beyond), 0), turn, origin=(0, 0))
        found = clear_between(width, turn, least + more, least + beyond)
        assert found == pytest.approx(first.distance(second), abs=1e-12)


@pytest.mark.parametrize(("length", "passes"), [(F(9020, 100), True), (F(8993, 100), False)])
def test_posts_of_a_corner_are_judged_as_marked(length, passes):
    """Hand-worked: inner corners 6.32 - 3.5 from the corner each way, 3.988; the nearest quarters leave 6.2 or 6.43."""
    post = replace(BASE.post, width=F(7, 2), corner="two", corner_offset=F(632, 100))
    strand = replace(BASE.strand, at_joints="break")
    surfaces = (replace(land(90), length=length), land(90, 90))
    layout = solved(replace(BASE, mark=F(1, 4), surfaces=surfaces, post=post, strand=strand))
    (told,) = (o for o in layout.openings if o.where.kind == "between corner posts")
    before, after = (F(620, 100), F(630, 100)) if passes else (F(643, 100), F(632, 100))
    assert told.sphere == pytest.approx(hypot(2.82, 2.82), abs=1e-12)
    assert told.sphere_as_marked == pytest.approx(hypot(before - F(7, 2), after - F(7, 2)), abs=1e-12)
    assert told.passes is passes


def test_an_opening_over_two_surfaces_is_held_to_the_stricter_rule_of_both():
    rules = solved(BASE).rules
    (four,) = (rule for rule in rules.rules if rule.quantity == "opening" and rule.place == "any")
    looser = replace(four, place="landing", value=F(9))
    landing, on_ramp = solved(replace(BASE, surfaces=(land(90), ramp(120, 10)))).line.surfaces
    both = replace(rules, rules=(four, looser))
    assert over(both, (landing, on_ramp)) == over(both, (on_ramp, landing)) == four
    assert over(both, (landing,)) == looser
    assert over(replace(rules, rules=()), (landing, on_ramp)) is None


def test_holes_across_a_corner_as_marked_are_at_their_marks():
    # level, so that what is left is told by the holes alone: the lowest mark, and the widest between two, less strands
    rail, strand = replace(BASE.rail, height=F("37.875"), depth=F("1.5")), replace(BASE.strand, spacing=F("4.12"))
    surfaces = (land(96), land(100, 45.0))
    job = two_posts(replace(BASE, rules="irc-2021", rail=rail, strand=strand, surfaces=surfaces))
    layout = solved(job)
    (joint,) = layout.joints
    pair = [post for post in layout.posts if post.label in (joint.post, joint.second_post)]
    marks = [sorted((hole.marked for hole in post.holes), reverse=True) for post in pair]
    size = job.strand.diameter
    told = {one.where.kind: one for one in layout.openings if one.corner is not None}
    under, across = told["under lowest strand at corner"], told["between strands at corner"]
    assert any(touch.part == "strand" for touch in under.touches)
    assert under.sphere_as_marked == pytest.approx(float(max(post[-1] for post in marks) - size / 2))
    widest = max(a - b for post in marks for a, b in pairwise(post))
    assert across.sphere_as_marked == pytest.approx(float(widest - size))
