"""Jogs and their remedies: measured where the rails end, carried out as the page prints them, and read again.

The witness lays the changed job out and measures the jog from the heights, the faces of the post and the surfaces'
own definition: nothing is taken from the remedy but what the page says to type.
"""

import re
from dataclasses import replace
from fractions import Fraction as F
from random import Random

import pytest

import stairguard
from stairguard.errors import StairguardError
from stairguard.io.parse.exact_lengths import parse_length
from stairguard.model.cautions import JogLeft
from stairguard.model.guard.jogs import JogElsewhere
from stairguard.reports.words.remedy_words import effects_data, reason_words, setting_words
from stairguard.reports.words.rules.finding_words import subject_words
from stairguard.rules.findings.checks import check
from stairguard.rules.fixes import jog_remedies
from stairguard.rules.pack.reader import read_rules
from stairguard.solve.lay_out import lay_out
from tests.solve.jobs import BASE
from tests.solve.lines import CROSSED, down, land, ramp, up
from tests.solve.squares import half_of
from tests.solve.test_line import line_of, rail_top

IRC = read_rules("irc-2021", "in")
PRINTED = re.compile(r"surface\[(\d+)\]\.(\w+) = (\"[^\"]*\"|true|false|-?\d+)")


def laid_out(job):
    return check(lay_out(job, read_rules(job.rules, job.unit)))


def heights(flight, landing, **rail):
    return replace(BASE, rail=replace(BASE.rail, height=F(flight), landing_height=F(landing), **rail))


def measured_jog(layout, joint):
    """How far apart the rails end: nothing if their tops come within half a mark of one another over the post.

    Rails that turn in plan cross at the corner alone; if no mitre can join them there, they climb at the post no more
    than an unbroken line does.
    """
    (post,) = (p for p in layout.posts if p.label == joint.post)
    half, least = half_of(layout, post), layout.job.mark / 2
    faces = (joint.station - half, joint.station + half)
    if joint.second_post:
        (second,) = (p for p in layout.posts if p.label == joint.second_post)
        faces = (post.station + half, second.station - half)

    def apart(s):
        return rail_top(layout, joint.between[1], s) - rail_top(layout, joint.between[0], s)

    step = rail_top(layout, joint.between[1], faces[1]) - rail_top(layout, joint.between[0], faces[0])
    slopes = [line_of(layout, i)[1] for i in joint.between]
    if abs(step) < least or abs(apart(joint.station)) < least:
        return F(0)
    if not joint.turn_deg:
        ends = [apart(s) for s in faces]
        return F(0) if min(map(abs, ends)) < least or ends[0] * ends[1] < 0 else step
    if abs(joint.turn_deg) != 180 and slopes[0] == -slopes[1]:
        return step
    climb = slopes[0] * (joint.station - faces[0]) + slopes[1] * (faces[1] - joint.station)
    return F(0) if min(climb, 0) - least < step < max(climb, 0) + least else step


def signed(layout, joint):
    """A jog by the result's convention: the gentler one's rail above the other's; of two alike the second's."""
    jog = measured_jog(layout, joint)
    first, second = (abs(line_of(layout, i)[1]) for i in joint.between)
    return -jog if first < second else jog


def typed(job, words):
    """The job with the keys set that a line of the page prints."""
    surfaces = list(job.surfaces)
    for place, name, value in PRINTED.findall(words):
        set_to = value == "true" if value in ("true", "false") else parse_length(value.strip('"'), job.unit)
        surfaces[int(place) - 1] = replace(surfaces[int(place) - 1], **{name: set_to})
    return replace(job, surfaces=tuple(surfaces))


SHAPES = (
    lambda rnd: (land(60), up(rnd.randint(2, 4)), land(60)),
    lambda rnd: (land(60), down(rnd.randint(2, 4)), land(60)),
    lambda rnd: (up(3), land(48, rnd.choice([0.0, 30.0, 45.0, 90.0]))),
    lambda rnd: (land(60), ramp(72, rnd.choice([6, -6])), land(60)),
    lambda rnd: (ramp(72, 6), ramp(72, rnd.choice([-6, -4, 4]), rnd.choice([0.0, 0.0, 60.0]))),
    lambda rnd: (land(60), land(60, rnd.choice([30.0, 45.0, 88.0, 90.0, -60.0]))),
    lambda rnd: (up(3), land(6, **CROSSED), land(6, rnd.choice([90.0, 180.0]), **CROSSED), up(3)),
    lambda rnd: (up(3), land(rnd.randint(8, 20), **CROSSED), up(3)),
    lambda rnd: (up(3), up(3)),
)


def random_jogs(seed):
    """A short line with rails of any heights, at marks and between them, on thin posts or thick."""
    rnd = Random(seed)

    def height():
        return F(36) + F(rnd.randint(0, 96), rnd.choice([16, 16, 32, 7]))

    surfaces = tuple(
        replace(s, rail_height=height()) if rnd.random() < 0.5 and getattr(s, "level_piece", True) else s
        for s in SHAPES[seed % len(SHAPES)](rnd)
    )
    rail = replace(BASE.rail, height=height(), landing_height=height())
    post = replace(BASE.post, width=F(rnd.choice([24, 56]), 16), setback=F(5))
    return replace(BASE, rail=rail, post=post, surfaces=surfaces)


def tried(seed):
    """Every remedy of a random line, with the words that the page prints of it."""
    job = random_jogs(seed)
    try:
        checked = laid_out(job)
    except StairguardError:
        return
    layout, page = checked.layout, re.sub(r"\s+", " ", stairguard.report(checked))
    for joint in layout.joints:
        assert float(joint.jog) == pytest.approx(float(signed(layout, joint)), abs=1e-12)
        assert bool(joint.remedies) == bool(joint.jog)
        assert (joint.higher is None) == (joint.jog == 0)
        for remedy in joint.remedies:
            words = "; ".join(setting_words(setting, job.unit) for setting in remedy.settings)
            assert all(setting_words(setting, job.unit) in page for setting in remedy.settings)
            yield job, layout, joint, remedy, words


def carried_out(job, layout, joint, remedy, words):
    """Carry one out as printed and hold it to what is told of it."""
    try:
        after = laid_out(typed(job, words))
    except StairguardError:
        assert not remedy.allowed
        return "refused"
    here = [j for j in after.layout.joints if joint.between[0] <= j.between[0] and j.between[1] <= joint.between[1]]
    gone = all(measured_jog(after.layout, j) == 0 for j in here)
    if remedy.allowed:
        assert gone, (remedy, words)
    old = {j.between: j for j in layout.joints}
    told = {e.post: e.size for e in remedy.effects if isinstance(e, JogElsewhere)}
    changed = {
        old[j.between].post: abs(j.jog)
        for j in after.layout.joints
        if j.between in old and j.between != joint.between and j.jog != old[j.between].jog
    }
    assert told == changed, (remedy, words)
    if remedy.allowed:
        was = {(c.clause, subject_words(c.what).split(",")[0]) for c in check(layout).checks if not c.passes}
        assert {(c.clause, subject_words(c.what).split(",")[0]) for c in after.checks if not c.passes} <= was
    return "cleared" if gone else "left"


def hold(seed):
    found = []
    for job, layout, joint, remedy, words in tried(seed):
        if remedy.settings:
            found.append((remedy.allowed, carried_out(job, layout, joint, remedy, words)))
        else:
            assert remedy.allowed is False
            assert remedy.why
    return found


@pytest.mark.parametrize("seed", range(27))
def test_a_remedy_carried_out_as_printed_clears_its_jog_and_does_elsewhere_what_is_told(seed):
    hold(seed)


def test_rails_of_one_height_meet_at_the_nosing_where_the_posts_face_is():
    """36 on flight and landings: 1/2 in apart on the centre line, where no rail is; 0 at the faces: one mitre."""
    lower, upper = laid_out(heights(36, 36)).layout.joints
    for joint in (lower, upper):
        assert (joint.jog, joint.mitred, joint.remedies) == (0, True, ())
        assert joint.ends[0].s == joint.meets.s
    assert upper.ends[0].s == upper.boundary == upper.station - F(3, 4)


def test_a_jog_is_as_far_as_the_rails_end_apart():
    """Up from a landing 2 in lower to the flight's end half a post on; down 2 in from its other end, at the nosing.

    Post 1-1/2 in wide, slope 29/42, the lower post's centre at 10-1/2 in, where the nosing line comes to the landing.
    """
    lower, upper = laid_out(heights(36, 34)).layout.joints
    assert (lower.jog, upper.jog) == (-2 - F(3, 4) * F(29, 42), -2)
    assert (lower.higher, upper.higher) == (1, 1)
    assert [end.z for end in lower.ends] == [34, 36 + F(3, 4) * F(29, 42)]
    assert [end.z for end in upper.ends] == [F(203, 4) + 36, F(203, 4) + 34]


@pytest.mark.parametrize("over", [F(1, 10_000), F(-1, 40), F(1, 10**14)])
@pytest.mark.parametrize("turn", [0.0, 45.0, 90.0])
def test_heights_that_no_mark_tells_apart_are_one(over, turn):
    """35 and 35.0001: the same pieces, the same words but for the small difference."""
    even, off = (
        laid_out(replace(BASE, surfaces=(land(60, rail_height=F(35)), land(60, turn, rail_height=F(35) + by))))
        for by in (F(0), over)
    )
    (joint,), (like,) = off.layout.joints, even.layout.joints
    assert (joint.jog, joint.mitred, joint.remedies) == (0, True, ())
    assert joint.apart == over
    assert [(r.length, r.start_cut, r.end_cut) for r in off.layout.cuts.rails] == [
        (r.length, r.start_cut, r.end_cut) for r in even.layout.cuts.rails
    ]
    assert like.apart == 0
    assert not [one for one in off.cautions if isinstance(one, JogLeft)]
    assert "less than half a mark" in re.sub(r"\s+", " ", stairguard.report(off))


def test_half_a_mark_is_a_jog():
    job = replace(BASE, surfaces=(land(60, rail_height=F(36)), land(60, rail_height=F(36) + F(1, 32))))
    (joint,) = laid_out(job).layout.joints
    assert (joint.jog, joint.mitred) == (F(1, 32), False)
    # the second rail may come to a mark; the first cannot come to half of one
    assert [(r.allowed, [s.value for s in r.settings]) for r in joint.remedies if r.surface == 1] == [(True, [F(36)])]


def test_what_a_remedy_breaks_is_told_as_of_the_joint_where_it_was_tried():
    """Four flights alike: surfaces that words name are those of the first of alike joints, which is named with them."""
    flight, landing = up(7), land(48)
    job = replace(heights("34.5", 42), rules="ibc-2021", surfaces=(landing, *(flight, landing) * 4))
    joints = laid_out(job).layout.joints
    seen = set()
    for joint in joints:
        own = {index + 1 for index in joint.between}
        for remedy in joint.remedies:
            breaks = [told["where"] for told in effects_data(remedy) if told["what"] == "breaks"]
            for words in [reason_words(remedy), *breaks]:
                named = {int(n) for n in re.findall(r"surface(?: |\[)(\d+)", words)}
                at = re.search(r"\(as tried at (P\d+), which is alike\)", words)
                assert at or named <= own, (joint.post, words)
                seen |= {joint.post} if at and not named <= own else set()
    assert seen == {"P8"}  # the third flight's, alike the second's


def test_what_comes_of_a_remedy_elsewhere_is_told_as_beside_each_of_joints_alike():
    """A landing's rail ends at the foot of the next flight, and a flight's at its own foot, whichever flight it is."""
    layout = lay_out(replace(heights(40, 36), surfaces=(land(48), *(up(2), land(20)) * 4)), read_rules("none", "in"))
    posts = [joint.post for joint in layout.joints]
    alike = {posts.index(post) for post in ("P5", "P7")}  # heads of the second flight and the third
    only = tuple(j if k in alike else replace(j, remedies=()) for k, j in enumerate(layout.joints))
    found = jog_remedies.tried(check(replace(layout, joints=only)), check)
    sizes = set()
    for k in alike:
        assert all(remedy.allowed is not None for remedy in found[k].remedies)
        told = {r.surface: [e.post for e in r.effects] for r in found[k].remedies if r.surface is not None}
        assert told == {k + 1: [posts[k + 1]], k: [posts[k - 1]]}
        sizes.add(tuple(effect.size for remedy in found[k].remedies for effect in remedy.effects))
    assert len(sizes) == 1
