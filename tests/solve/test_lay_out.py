"""The whole layout: what must hold for any job, and figures reasoned by hand for a few."""

import csv
import io
from dataclasses import replace
from fractions import Fraction as F
from math import atan, cos, degrees, radians, tan

import pytest
import shapely

from stairguard.api.layout import report, result
from stairguard.errors import JobError
from stairguard.model.guard.jogs import Altered
from stairguard.model.guard.opening_kinds import Touch
from stairguard.model.rules import RuleSet
from stairguard.reports.data.csv_lists import holes_csv
from stairguard.rules.findings.checks import check
from stairguard.rules.pack.reader import read_rules
from stairguard.solve.lay_out import lay_out
from stairguard.solve.sphere import below_lowest
from stairguard.solve.sphere.step_opening import step_opening
from tests.relations.formulas import scalars
from tests.solve.jobs import BASE, mirrored, random_job, with_flight

IRC = read_rules("irc-2021", "in")
NONE = RuleSet(name="none", title="", rules=())


@pytest.fixture(scope="module")
def base():
    return lay_out(BASE, IRC)


@pytest.mark.parametrize("seed", range(40))
def test_what_holds_for_any_job(seed):
    job = random_job(seed)
    layout = lay_out(job, read_rules(job.rules, job.unit))
    for joint in layout.joints:
        for strand in joint.strands:
            lines = [
                layout.line.surfaces[i].datum(joint.station) + layout.fields[i].heights[strand.number - 1]
                for i in strand.surfaces
            ]
            assert all(z == strand.elevation for z in lines), "a strand's lines meet at the post, exactly"
            assert strand.whole == (len(strand.surfaces) == 2)
        before, after = (layout.rails[i] for i in joint.between)
        if joint.mitred:
            assert before.end.s == after.start.s
            assert abs(after.start.z - before.end.z) < job.mark / 2
        else:
            assert after.start.s - before.end.s == job.post.width
            assert len(joint.remedies) == 3
    for field, rail, surface in zip(layout.fields, layout.rails, layout.line.surfaces, strict=True):
        assert all(a > b for a, b in zip(field.heights, field.heights[1:], strict=False))
        assert field.heights[0] < rail.underside
        assert field.heights[-1] > 0
        assert field.square_spacing <= float(job.strand.spacing) * (1 + 1e-15)
        assert len({a - b for a, b in zip(field.heights, field.heights[1:], strict=False)}) <= 1
        assert field.square_spacing == pytest.approx(
            float(field.plumb_spacing) * cos(radians(surface.pitch_deg)), rel=1e-12
        )
    for a, b in zip(layout.posts, layout.posts[1:], strict=False):
        clear = float(b.station - a.station - job.post.width)
        on_flight = layout.line.surfaces[1].start.s <= a.station <= layout.line.surfaces[1].end.s
        assert 0 < clear <= float(job.post.max_gap) * (1 + 1e-12)
        if on_flight:
            assert clear / cos(radians(layout.line.surfaces[1].pitch_deg)) <= float(job.post.max_gap) * (1 + 1e-12)


@pytest.mark.parametrize("seed", range(12))
def test_down_is_the_mirror_image_of_up(seed):
    job = random_job(seed)
    rules = read_rules(job.rules, job.unit)
    there, back = lay_out(job, rules), lay_out(mirrored(job), rules)
    total = there.line.surfaces[-1].end.s
    for p, q in zip(there.posts, reversed(back.posts), strict=True):
        assert p.station == total - q.station
        assert p.length == q.length
        assert [(h.strand, h.height, h.low_face, h.high_face) for h in p.holes] == [
            (h.strand, h.height, h.low_face, h.high_face) for h in q.holes
        ]
        assert p.bevels_deg == pytest.approx([-b for b in reversed(q.bevels_deg)])
    assert sorted(o.sphere for o in there.openings) == pytest.approx(sorted(o.sphere for o in back.openings), rel=1e-12)
    assert sorted(r.cut_length for r in there.runs) == pytest.approx(sorted(r.cut_length for r in back.runs), rel=1e-12)
    assert there.cuts.rail_total == pytest.approx(back.cuts.rail_total, rel=1e-12)


def test_rails_meet_where_the_published_offset_says(base):
    # 1 in of height difference at 7.25/10.5: 1 * 10.5/7.25 past the top nosing, (1 - 7.25) * 10.5/7.25 at the bottom
    lower, upper = base.joints
    assert upper.from_nosing == F(105, 10) / F(725, 100)
    assert lower.from_nosing == (1 - F(29, 4)) * F(21, 2) / F(29, 4)
    assert upper.jog == lower.jog == 0
    assert upper.meets.s == base.line.surfaces[1].end.s + upper.from_nosing


def test_heights_that_cannot_meet_state_the_jog_and_solve_each_remedy():
    job = replace(BASE, rail=replace(BASE.rail, height=F(37)))
    upper = check(lay_out(job, IRC)).layout.joints[1]
    # the flight's rail ends over the nosing, at the post's face, 1 in above the landing's
    assert upper.jog == -1
    station, landing, flight = upper.remedies
    assert (station.value, station.allowed) == (-F(42, 29), False)
    # to meet over the post's centre, half its width past the nosing
    assert landing.value == 37 + F(3, 4) * F(29, 42)
    assert flight.value == 36 - F(3, 4) * F(29, 42)
    assert landing.allowed
    assert flight.allowed  # 34 in is the least over a flight, R312.1.2 exception 1
    for remedy, change in ((landing, {"landing_height": landing.value}), (flight, {"height": flight.value})):
        fixed = lay_out(replace(job, rail=replace(job.rail, **change)), IRC)
        assert fixed.joints[1].jog == 0, remedy.what


def test_flight_height_solved_on_request():
    job = replace(BASE, rail=replace(BASE.rail, height=F(36), meet="flight-height"))
    layout = lay_out(job, IRC)
    assert [j.jog for j in layout.joints] == [0, 0]
    assert layout.rails[1].height == 36 - F(3, 4) * F(29, 42)


def test_a_rule_shuts_a_remedy_out():
    job = replace(BASE, rail=replace(BASE.rail, height=F(35), landing_height=F(34)))
    upper = check(lay_out(job, IRC)).layout.joints[1]
    flight = next(r for r in upper.remedies if r.what is Altered.FLIGHT_RAIL_HEIGHT)
    assert not flight.allowed
    assert "R312.1.2" in flight.why.breach.clause


def test_lowest_strand_is_one_mark_below_the_height_its_opening_allows(base):
    lowest, d = base.fields[1].heights[-1], BASE.strand.diameter
    c = cos(radians(base.line.surfaces[1].pitch_deg))
    for extra, passes in ((0, True), (0.999 / 16, True), (1.001 / 16, False)):
        lift = F((float(lowest) + extra) * c - float(d) / 2)
        assert step_opening(F(29, 4), F(21, 2), F(1), F(5, 4), lift, False, F(6)).passes is passes


def test_one_strand_fewer_would_break_the_spacing(base):
    for field, rail in zip(base.fields, base.rails, strict=True):
        roof = float(rail.underside) + 1 / 16 / cos(radians(base.line.surfaces[field.surface].pitch_deg))
        fewer = (roof - float(field.heights[-1])) / (len(field.heights) - 1)
        assert fewer > 3  # level spacing governs in through mode


def test_break_mode_saves_strands_and_costs_terminals(base):
    broken = lay_out(replace(BASE, strand=replace(BASE.strand, at_joints="break")), IRC)
    assert sum(len(f.heights) for f in broken.fields) < sum(len(f.heights) for f in base.fields)
    assert broken.cuts.terminals > base.cuts.terminals
    assert broken.cuts.angle_fittings == 0
    assert all(not s.whole for j in broken.joints for s in j.strands)
    # each landing strand alone: lowest as high as a 4 in sphere allows, less a mark
    assert broken.fields[0].heights[-1] == 4 + F(1, 16) - F(1, 16)


def test_landing_takes_on_strands_below_where_its_rail_is_higher():
    job = replace(
        BASE, rail=replace(BASE.rail, height=F(34), landing_height=F(42)), post=replace(BASE.post, width=F(1))
    )
    layout = lay_out(job, IRC)
    landing, flight = layout.fields[2], layout.fields[1]
    assert len(landing.heights) > len(flight.heights)
    ended = [s for s in layout.joints[1].strands if not s.whole]
    assert {s.surfaces for s in ended} == {(2,)}


def test_post_lengths_and_faces(base):
    pitch = radians(base.line.surfaces[1].pitch_deg)
    line = next(p for p in base.posts if p.role == "line" and p.step)
    assert float(line.length) == pytest.approx(5 * tan(pitch) + 35 - 1.5 / cos(pitch), rel=1e-14)
    for hole in line.holes:
        assert float(hole.high_face - hole.low_face) == pytest.approx(1.5 * tan(pitch), rel=1e-14)
        assert hole.drill_deg == pytest.approx(base.line.surfaces[1].pitch_deg)
        assert abs(hole.marked - hole.height) <= F(1, 32)
        assert hole.marked % F(1, 16) == 0
    top = base.posts[3]
    assert top.role == "joint"
    assert float(top.length) == pytest.approx(36 - 1.5 / cos(pitch), rel=1e-14)


def test_strand_length_by_an_independent_walk(base):
    """Developed length from outer face to outer face: level, along the pitch, level."""
    lower, upper = base.joints
    total = float(base.line.surfaces[-1].end.s)
    slope = float(upper.station - lower.station) / cos(radians(base.line.surfaces[1].pitch_deg))
    level = float(lower.station) + total - float(upper.station)
    for run in base.runs:
        assert run.length == pytest.approx(slope + level, rel=1e-14)
        assert run.angle_changes == 2
    taken = lay_out(replace(BASE, strand=replace(BASE.strand, terminal_take_up=F(1), tensioner_take_up=F(2))), IRC)
    assert [r.length - r.cut_length for r in taken.runs] == pytest.approx([3.0] * len(taken.runs))


def test_rail_pieces_close_at_the_mitres(base):
    # each mitre trades D tan(bend/2) between the undersides of the two pieces that meet in it
    rails = base.cuts.rails
    pitch = radians(base.line.surfaces[1].pitch_deg)
    trade = 1.5 * tan(pitch / 2)
    assert [r.underside - r.length for r in rails] == pytest.approx([trade, 0, -trade], abs=1e-12)
    assert [r.end_cut.angle_deg for r in rails[:2]] == pytest.approx([base.joints[0].mitre_deg] * 2)


def test_as_marked_openings_stay_within_a_mark(base):
    for opening in base.openings:
        assert abs(opening.sphere_as_marked - opening.sphere) <= 1 / 16 + 1e-12
        assert opening.passes is not None


def test_exact_tie_is_settled_by_the_kind_of_rule():
    """A 3-4-5 stair with open risers: the slot between treads is exactly rise less tread, 6-1/4 in."""
    job = with_flight(BASE, rise=F(15, 2), run=F(10), open_risers=True)
    verdicts = []
    for kind in ("stops more than", "stops"):
        rules = tuple(replace(r, kind=kind, value=F(25, 4)) if r.place == "open riser" else r for r in IRC.rules)
        layout = lay_out(job, replace(IRC, rules=rules))
        slots = [o for o in layout.openings if o.where.kind == "open riser"]
        assert {o.sphere for o in slots} == {6.25}
        assert {o.touches for o in slots} == {(Touch("landing"), Touch("nosing")), (Touch("tread"), Touch("nosing"))}
        verdicts.append({o.passes for o in slots})
    assert verdicts == [{True}, {False}]


def test_no_rules_spread_the_strands_from_the_nosing_line():
    layout = lay_out(BASE, NONE)
    field = layout.fields[1]
    assert field.heights[-1] == field.plumb_spacing
    assert all(o.passes is None for o in layout.openings)


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ({"rail": replace(BASE.rail, height=F(2), landing_height=F(2))}, "rail.height"),
        ({"post": replace(BASE.post, max_gap=F(5))}, "post.max_gap"),
        ({"surfaces": (replace(BASE.surfaces[0], length=F(4)), *BASE.surfaces[1:])}, "surface[1].length"),
    ],
)
def test_figures_that_cannot_be_laid_out_name_their_key(change, key):
    with pytest.raises(JobError) as caught:
        lay_out(replace(BASE, **change), IRC)
    assert key in caught.value.faults[0].where


def test_steps_alike_are_solved_once(monkeypatch):
    """Work on openings does not grow with the number of steps."""
    solved = []
    once = below_lowest.cell_pockets
    monkeypatch.setattr(below_lowest, "cell_pockets", lambda *a: solved.append(a) or once(*a))
    counts = []
    for risers in (60, 600):
        solved.clear()
        layout = lay_out(with_flight(BASE, risers=risers), IRC)
        counts.append(len(solved))
        assert sum(o.where.kind == "step triangle" for o in layout.openings) == risers - 1
    assert counts[0] == counts[1]


@pytest.mark.parametrize("rules", [IRC, NONE])
@pytest.mark.parametrize("crossing", ["through", "break"])
def test_a_spacing_wider_than_the_guard_leaves_one_strand(rules, crossing):
    job = replace(BASE, strand=replace(BASE.strand, spacing=F(4000), at_joints=crossing))
    layout = lay_out(
        job,
        replace(rules, rules=tuple(r for r in rules.rules if r.quantity != "opening" or r.place == "step triangle")),
    )
    assert [len(f.heights) for f in layout.fields] == [1, 1, 1]
    assert all(f.heights[0] > 0 for f in layout.fields)


@pytest.mark.parametrize("crossing", ["through", "break"])
@pytest.mark.parametrize("diameter", [F(14, 5), F(299, 100)])
def test_strands_thicker_than_the_spacing_that_fits_are_refused(diameter, crossing):
    job = replace(BASE, strand=replace(BASE.strand, diameter=diameter, at_joints=crossing))
    with pytest.raises(JobError) as caught:
        lay_out(job, IRC)
    assert caught.value.faults[0].where == "strand.diameter"


def test_without_rules_no_landing_opening_is_wider_than_the_spacing():
    for rail in (F(36), F(35)):
        job = replace(BASE, rail=replace(BASE.rail, height=rail, landing_height=F(44)))
        layout = lay_out(job, NONE)
        assert all(o.sphere <= 3 for o in layout.openings if o.where.kind == "under lowest strand")


@pytest.mark.parametrize("landing", [F(34), F(36), F(38)])
def test_a_joint_post_with_a_jog_reaches_both_rails_tops(landing):
    job = replace(BASE, rail=replace(BASE.rail, height=F(37), landing_height=landing))
    layout = lay_out(job, NONE)
    for joint in layout.joints:
        if joint.jog:
            post = next(p for p in layout.posts if p.label == joint.post)
            ends = [layout.rails[joint.between[0]].end, layout.rails[joint.between[1]].start]
            assert post.base + post.length == max(end.z for end in ends)


def test_take_ups_longer_than_a_strand_are_refused():
    with pytest.raises(JobError, match="take-ups"):
        lay_out(replace(BASE, strand=replace(BASE.strand, terminal_take_up=F(500))), IRC)


def test_a_pack_with_a_landing_rule_only_still_governs_the_wedges():
    landing = tuple(replace(r, place="landing") for r in IRC.rules if r.quantity == "opening" and r.place == "any")
    layout = lay_out(BASE, replace(IRC, rules=landing))
    assert all(o.passes is not False for o in layout.openings)


def inscribed(layout, marked=False):
    """Largest sphere of each clear bay under the flight's lowest strand, by shapely: post to post, as drawn."""
    surface, flight = layout.line.surfaces[1], layout.line.surfaces[1].given
    way = -1 if flight.down else 1
    origin = surface.origin.s

    def x_of(station):
        return float(way * (station - origin))

    rise, run, nosing, tread, n = (
        float(v) for v in (flight.rise, flight.run, flight.nosing, flight.tread, flight.risers)
    )
    n = int(n)
    half = float(layout.job.post.width) / 2
    on_flight = [p for p in layout.posts if 1 in {i for h in p.holes for i in h.surfaces}]
    posts = sorted((x_of(p.station), float(p.base - surface.origin.z)) for p in on_flight)
    low, high = posts[0][0], posts[-1][0]
    line = [(low, -rise), (nosing, -rise)]
    for i in range(n):
        x, z = i * run, i * rise
        line += [(x + nosing, z - tread if nosing else z), (x, z - tread if nosing else z), (x, z)]
        if i < n - 1:
            line += [(x + run + nosing, z)]
    line += [(high, (n - 1) * rise)]
    slope, radius = rise / run, float(layout.job.strand.diameter) / 2
    under = float(layout.fields[1].heights[-1]) - radius * (1 + slope**2) ** 0.5
    ring = [*line, (high, high * slope + under), (low, low * slope + under)]
    region = shapely.Polygon(ring).buffer(0)
    for x, base in posts:
        region = region.difference(shapely.box(x - half, base - 1e-9, x + half, 2 * n * rise + 99))
    parts = getattr(region, "geoms", [region])
    return [2 * shapely.maximum_inscribed_circle(p, tolerance=1e-6).length for p in parts if p.area > 1e-6]


@pytest.mark.parametrize("seed", range(24))
def test_no_opening_under_the_flight_is_left_out(seed):
    """The largest sphere of every bay, by GEOS on one polygon of the whole stair, is among the openings."""
    # a nosing of no thickness is a line, which GEOS would drop from a polygon
    job = with_flight(random_job(seed), open_risers=False, tread=F(5, 4))
    if seed % 3 == 0:  # the joint post far out over the upper landing
        job = replace(
            job, rail=replace(job.rail, height=F(34), landing_height=F(46)), post=replace(job.post, max_gap=F(400))
        )
        job = replace(
            job, surfaces=tuple(replace(s, length=F(300)) if i != 1 else s for i, s in enumerate(job.surfaces))
        )
    layout = lay_out(job, read_rules(job.rules, job.unit))
    spheres = [
        o.sphere for o in layout.openings if o.surface == 1 and o.where.kind not in ("under rail", "between strands")
    ]
    for theirs in inscribed(layout):
        assert any(s == pytest.approx(theirs, abs=1e-5) for s in spheres), theirs


def test_open_risers_do_not_hide_the_wedge_over_the_upper_landing():
    job = replace(with_flight(BASE, open_risers=True), rail=replace(BASE.rail, height=F(34), landing_height=F(44)))
    closed = lay_out(with_flight(job, open_risers=False), IRC)
    found = lay_out(job, IRC)
    assert any(o.where.kind == "wedge at post" for o in found.openings)
    assert any(o.where.kind == "wedge at post" for o in closed.openings)


def test_what_the_layout_computes_is_what_the_formulas_say(base):
    """Exact figures of the layout against the printed relations, in floats."""
    surface, rail, field = base.line.surfaces[1], base.rails[1], base.fields[1]
    pitch, d = surface.pitch_deg, float(BASE.strand.diameter)
    depth = float(rail.height - rail.underside)
    assert depth == pytest.approx(scalars.rail_plumb_depth(1.5, pitch), rel=1e-14)
    square = scalars.square_of_plumb(float(field.plumb_spacing), pitch)
    assert field.square_spacing == pytest.approx(square, rel=1e-14)
    gaps = {o.where.kind: o.sphere for o in base.openings if o.surface == 1}
    assert gaps["between strands"] == pytest.approx(scalars.strand_gap(square, d), rel=1e-13)
    plumb = float(rail.underside - field.heights[0])
    assert gaps["under rail"] == pytest.approx(scalars.rail_gap(plumb, d, pitch), rel=1e-13)
    line = next(p for p in base.posts if p.step)
    assert float(line.edges[1] - line.edges[0]) == pytest.approx(scalars.post_bevel(1.5, pitch), rel=1e-13)


@pytest.mark.parametrize("down", [False, True])
def test_the_drill_falls_where_the_strand_falls(down):
    """Signed like the slope it follows: up along stations positive, in JSON and holes.csv alike."""
    flight = replace(BASE.surfaces[1], down=down)
    checked = check(lay_out(replace(BASE, surfaces=(flight,)), NONE))
    pitch = degrees(atan(flight.rise / flight.run)) * (-1 if down else 1)
    holes = [hole for post in result(checked)["posts"] for hole in post["holes"]]
    assert [hole["drill_deg"] for hole in holes] == pytest.approx([pitch] * len(holes))
    listed = csv.DictReader(io.StringIO(holes_csv(checked)))
    assert [float(row["drill_deg"]) for row in listed] == pytest.approx([pitch] * len(holes))
    assert f"{abs(pitch):.1f}° {'down' if down else 'up'} the line" in report(checked)
