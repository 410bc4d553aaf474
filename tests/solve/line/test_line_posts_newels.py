"""Corners of landings where flights start or end: newels with the risers lined up at them, half landings, deck corners.

Expected stations, elevations and heights are worked here by hand from rise and run; what is refused is laid out again
with each way that the message prints.
"""

from dataclasses import replace
from fractions import Fraction as F

import pytest
from shapely.affinity import rotate
from shapely.geometry import box

from stairguard.errors import JobError
from stairguard.io.read.job_file import read_job
from stairguard.model.fixes import BrokenClause
from stairguard.model.guard.opening_kinds import Where
from stairguard.model.job import Landing
from stairguard.model.reasons import DepthStatedBy
from stairguard.model.subjects import AtPost
from stairguard.rules.findings.checks import check
from stairguard.rules.findings.designed import inspect_layout
from stairguard.rules.pack.reader import read_rules
from stairguard.solve.lay_out import lay_out
from tests.rules.fixes.brief import brief
from tests.solve.jobs import BASE, reversed_job
from tests.solve.lines import CROSSED, EXAMPLES, down, land, ramp, up

POST = replace(BASE.post, width=F(7, 2))
TWO = replace(POST, corner="two", corner_offset=F(7, 2))
RAIL = replace(BASE.rail, height=F(36))
WIDE = replace(BASE, rail=RAIL, post=POST)


def guard(*surfaces, post=POST, rules="irc-2021"):
    job = replace(WIDE, surfaces=surfaces, post=post, rules=rules)
    return lay_out(job, read_rules(job.rules, job.unit))


def findings(layout, quantity):
    return [f for f in inspect_layout(check(layout)).findings if f.quantity == quantity]


def newel(layout):
    return next(p for p in layout.posts if p.joint == 0)


def lined_up(way, turn, **landing):
    """Two flights whose risers line up at the inner corner of a quarter landing: nothing of it lies along the line."""
    return way(6), land(0, **CROSSED, **landing), way(6, turn)


@pytest.mark.parametrize("turn", [90.0, -90.0])
@pytest.mark.parametrize("way", [up, down])
def test_a_newel_with_the_risers_lined_up_is_laid_out(way, turn):
    """Six risers of 7 either way: the landing is at 42, and half of the newel is over the tread below it, at 35."""
    layout = guard(*lined_up(way, turn))
    post = newel(layout)
    landing = 42 if way is up else -42
    assert post.station == 5 * 11
    assert (post.stands_on, post.step) == (1, None)
    assert post.base == landing - 7
    assert check(layout).passes
    # the strands of both flights meet it above its foot, on the faces too
    for hole in post.holes:
        assert hole.low_face > 0
    (foot,) = findings(layout, "foot of post")[:1]
    assert (foot.verdict, foot.value) == ("needs a decision", -1.75)


@pytest.mark.parametrize("turn", [90.0, -90.0, 60.0])
@pytest.mark.parametrize("way", [up, down])
def test_the_landing_may_be_left_out_of_the_line(way, turn):
    """Flight, turn, flight: the same guard, told to stand on the landing between them."""
    with_it, without = guard(*lined_up(way, turn)), guard(way(6), way(6, turn))
    alike = [[(p.station, p.base, p.length, p.edges, p.clear) for p in one.posts] for one in (with_it, without)]
    assert alike[0] == alike[1]
    assert newel(without).step is None
    assert check(without).passes


@pytest.mark.parametrize("way", [up, down])
def test_mirrored_and_walked_backwards_it_is_the_same_guard(way):
    layout = guard(*lined_up(way, 90.0))
    mirror = guard(*lined_up(way, -90.0))
    assert mirror.posts == layout.posts
    assert [r.cut_length for r in mirror.runs] == [r.cut_length for r in layout.runs]
    back = reversed_job(layout.job)
    other = lay_out(back, layout.rules)
    end, drop = layout.line.surfaces[-1].end
    here = [(p.station, p.base, p.length, [h.height for h in p.holes]) for p in layout.posts]
    there = [(end - p.station, p.base + drop, p.length, [h.height for h in p.holes]) for p in reversed(other.posts)]
    assert here == there
    assert sorted(r.cut_length for r in other.runs) == pytest.approx(sorted(r.cut_length for r in layout.runs))


@pytest.mark.parametrize("turn", [90.0, -90.0, 180.0, 45.0])
def test_a_depth_that_the_line_does_not_show_is_not_checked(turn):
    """The landing goes on beyond the newel, away from the line: no length along the line says how deep it is."""
    found = findings(guard(*lined_up(up, turn), rules="ibc-2018"), "landing length")
    assert {f.verdict for f in found} == {"not checked"}
    assert all(f.why[-1] == DepthStatedBy(1) for f in found)
    between = next(f for f in found if f.clause == "job")
    assert between.limit == 11


@pytest.mark.parametrize(("depth", "verdict"), [(F(36), "pass"), (F(35), "needs a decision"), (F(8), "fail")])
def test_the_job_states_that_depth(depth, verdict):
    """36 in by R311.7.6, which binds only a whole landing; and less than a tread, 11, is none."""
    found = findings(guard(*lined_up(up, 90.0, depth=depth), rules="irc-2018"), "landing length")
    assert "not checked" not in {f.verdict for f in found}
    assert verdict in {f.verdict for f in found}
    assert all(f.value == depth for f in found)


@pytest.mark.parametrize("length", [F(4), F(43, 4)])
def test_a_landing_in_a_straight_line_shows_its_depth(length):
    """A flight, 4 in of landing, a flight: no tread is so shallow. Made longer by what the finding says, it is one."""
    job = guard(up(6), land(0, **CROSSED), up(6, 90.0)).job
    surfaces = up(6), replace(land(**CROSSED), length=length), up(6)
    layout = lay_out(replace(job, surfaces=surfaces), read_rules("none", "in"))
    assert not check(layout).passes
    (fault,) = [f for f in findings(layout, "landing length") if f.verdict == "fail"]
    assert (fault.value, fault.limit) == (float(length), 11)
    (change,) = fault.fixes[0].steps
    assert (change.key, change.surfaces, change.value, change.by) == ("length", (1,), 11, 11 - length)
    assert check(guard(surfaces[0], replace(surfaces[1], length=F(11)), surfaces[2])).passes


def test_flights_with_nothing_between_are_told_what_to_put_there():
    (fault,) = [f for f in findings(guard(up(6), up(6)), "landing length") if f.verdict == "fail"]
    (fix,) = fault.fixes
    assert brief(fix) == "1 | 11 (no level piece) | 2"
    assert fix.breaks == (BrokenClause("R311.7.6", option=True),)  # a tread, and no whole landing of the stair
    assert check(guard(up(6), land(11, **CROSSED), up(6))).passes
    assert not check(guard(up(6), land(11 - F(1, 16), **CROSSED), up(6))).passes


@pytest.mark.parametrize("turn", [90.0, -90.0])
@pytest.mark.parametrize("way", [up, down])
def test_two_posts_at_a_quarter_landing(way, turn):
    """Half a going to each side, 5-1/2, holds a post of 3-1/2 whose centre is 3-1/2 from the corner."""
    half = replace(land(**CROSSED), length=F(11, 2))
    layout = guard(way(6), half, replace(half, turn=turn), way(6), post=TWO)
    posts = [p for p in layout.posts if p.joint == 0]
    corner = 5 * 11 + F(11, 2)
    assert [p.station - corner for p in posts] == [F(-7, 2), F(7, 2)]
    assert {p.base for p in posts} == {42 if way is up else -42}
    assert {p.clear for p in posts} == {F(1, 4)}
    assert check(layout).passes
    back = lay_out(reversed_job(layout.job), layout.rules)
    assert [p.length for p in reversed(back.posts)] == [p.length for p in layout.posts]


@pytest.mark.parametrize("surfaces", [lined_up(up, 90.0), (up(6), up(6, -90.0)), (land(120), down(6, 90.0))])
def test_two_posts_that_have_no_landing_are_refused_with_the_ways_that_work(surfaces):
    with pytest.raises(JobError) as caught:
        guard(*surfaces, post=TWO)
    (fault,) = caught.value.faults
    assert fault.where == "post.corner_offset"
    assert "surface[2].turn" in fault.must or "surface[3].turn" in fault.must
    assert "5.25 in of it on each side" in fault.must
    assert 'or post.corner = "one"' in fault.must
    assert check(guard(*surfaces, post=POST)).passes
    leg = replace(land(**CROSSED), length=F(21, 4))
    turned, last = replace(leg, turn=surfaces[-1].turn), replace(surfaces[-1], turn=0.0)
    legs = (turned,) if isinstance(surfaces[0], Landing) else (leg, turned)
    assert check(guard(surfaces[0], *legs, last, post=TWO)).passes


def test_an_offset_at_which_two_posts_would_touch_names_the_surface():
    close = replace(TWO, corner_offset=F(7, 4))
    with pytest.raises(JobError, match=r"surface\[3\]\.turn") as caught:
        guard(land(60), land(60), land(60, 60.0), post=close)
    assert caught.value.faults[0].where == "post.corner_offset"


@pytest.mark.parametrize("share", [F(1, 2), F(3, 4), F(1)])
@pytest.mark.parametrize("turn", [180.0, -180.0])
def test_a_half_landing_with_risers_offset(share, turn):
    """Riser offsets of none, half a going and one going: the legs differ by it and add up to a going, and no jog."""
    out = replace(land(**CROSSED), length=11 * share)
    legs = (out, replace(out, length=11 - out.length, turn=turn), up(6)) if share < 1 else (out, up(6, turn))
    layout = guard(up(6), *legs)
    (joint,) = layout.joints
    offset = joint.station - 55 - (11 - (joint.station - 55))
    assert offset == 11 * (2 * share - 1)
    assert joint.jog == 0
    assert all(f.verdict != "fail" for f in findings(layout, "landing length"))
    failing = [(o.where, o.rule.value) for o in check(layout).layout.openings if o.passes is False]
    # a whole going out over the landing the strands have climbed a rise: there a sphere of 4 goes under them
    assert failing == ([(Where("wedge at post", post="P3"), 4)] if share == 1 else [])
    if share == 1:  # a level piece over the landing has strands of its own
        (fault,) = findings(layout, "opening")[:1]
        assert (fault.verdict, *map(brief, fault.fixes)) == ("fail", "surface[2].level_piece = True")
        assert check(guard(up(6), land(11), up(6, turn))).passes
    back = lay_out(reversed_job(layout.job), layout.rules)
    assert [p.length for p in reversed(back.posts)] == [p.length for p in layout.posts]


@pytest.mark.parametrize("turn", [90.0, -90.0, 45.0])
def test_a_stair_that_turns_off_a_decks_edge_at_its_corner(turn):
    """The corner post is half over the first tread, 7 below: notched over the edge, it comes down to it."""
    layout = guard(land(120), down(7, turn))
    post = newel(layout)
    assert (post.station, post.base) == (120, -7)
    # under the landing's rail, which ends at its near face, 36 above the deck
    assert post.length == 36 + 7
    assert min(h.marked for h in post.holes) > 0
    assert check(layout).passes
    (foot,) = [f for f in findings(layout, "foot of post") if f.verdict == "needs a decision"]
    assert foot.what.post == AtPost(post.label)


def test_on_a_piece_of_deck_beyond_the_corner_the_post_stands_on_the_deck():
    turned = replace(land(0, 90.0, **CROSSED), length=F(7, 4))
    layout = guard(land(120), turned, down(7))
    post = newel(layout)
    assert (post.station, post.base, post.clear) == (120, 0, 0)
    assert check(layout).passes


def test_a_post_beside_the_stair_whose_foot_is_too_high_is_told_the_drop_that_works():
    side = replace(POST, width=F(11, 2), mount="side", drop=F(1, 16))
    layout = guard(land(120), down(7, 90.0), post=side)
    (fault,) = [f for f in findings(layout, "hole") if f.verdict == "fail"]
    (change,) = fault.fixes[0].steps
    drop = change.value
    assert check(guard(land(120), down(7, 90.0), post=replace(side, drop=drop))).passes


def test_a_job_file_says_so(tmp_path):
    """A landing of which nothing lies along the line, its depth stated; with a level piece it has to have a length."""
    text = (EXAMPLES / "half-turn.toml").read_text()
    legs = "length = 145                   # half a going\nlevel_piece = false"
    assert legs in text
    file = tmp_path / "job.toml"
    file.write_text(text.replace(legs, "length = 0\nlevel_piece = false\ndepth = 900"))
    landing = read_job(file).surfaces[2]
    assert (landing.length, landing.depth) == (0, 900)
    file.write_text(text.replace(legs, "length = 0"))
    with pytest.raises(JobError, match=r"surface\[3\]\.length: must be more than zero unless level_piece is false"):
        read_job(file)


@pytest.mark.parametrize("turn", [20.0, -45.0, 60.0, 90.0, -120.0])
def test_two_posts_of_a_turn_never_overlap(turn):
    """By GEOS: the squares of both posts in plan at the least offset told, and a mark nearer."""

    def shared(offset):
        post = box(-1.75 - offset, -1.75, 1.75 - offset, 1.75)
        other = box(offset - 1.75, -1.75, offset + 1.75, 1.75)
        return post.intersection(rotate(other, turn, origin=(0, 0))).area

    def corner(offset):
        return guard(land(60), land(60, turn), post=replace(TWO, width=F(7, 2), corner_offset=offset))

    with pytest.raises(JobError) as caught:
        corner(F(7, 4))
    least = F(caught.value.faults[0].must.split()[2].rstrip(","))
    assert shared(float(least)) < 1e-9
    assert shared(float(least) - 1 / 16) > 0
    corner(least)
    with pytest.raises(JobError, match=r"surface\[2\]\.turn"):
        corner(least - F(1, 16))


@pytest.mark.parametrize("ended", ["through", "break"])
@pytest.mark.parametrize("after", [ramp(120, 10, 60.0), land(90, 60.0)])
def test_what_a_ramp_s_edge_asks_is_asked_between_the_two_posts_of_its_turn_too(after, ended):
    """ADA 405.9.2 asks it along the whole edge, and the corner is part of that."""
    strand = replace(BASE.strand, at_joints=ended, largest_bend=95.0)
    job = replace(WIDE, surfaces=(ramp(120, 10), after), post=replace(TWO, corner_offset=F(8)), strand=strand)
    layout = lay_out(job, read_rules("ada-2010", job.unit))
    kinds = ("under lowest strand at corner", "between corner posts")
    (low,) = [o for o in layout.openings if o.where.kind in kinds]
    assert low.rule is not None
    assert low.rule.quantity == "ramp edge"
    assert low.passes is (low.sphere_as_marked < low.rule.value)


def test_a_corner_post_stands_on_its_own_leg_not_on_what_lies_beyond():
    """The leg after the turn is 8 long, and level ground goes on past it: 12 from the corner is no place on it."""
    surfaces = land(60), land(8, 90.0), land(60, level_piece=True)
    with pytest.raises(JobError, match="of it on each side of the corner") as caught:
        guard(*surfaces, post=replace(TWO, corner_offset=F(12)))
    assert caught.value.faults[0].where == "post.corner_offset"
