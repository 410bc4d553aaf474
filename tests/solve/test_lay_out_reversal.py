"""Round trip: surfaces from the last, down for up, turns negated, give the same openings, posts and cuts."""

from dataclasses import replace

import pytest

from stairguard.rules.pack.reader import read_rules
from stairguard.solve.lay_out import lay_out
from tests.solve.jobs import reversed_job
from tests.solve.lines import JOBS, solved

every_line = pytest.mark.parametrize("name", JOBS)


def turned_back(job):
    """The reversed job, posts forced from a surface's start measured from its other end."""
    back = reversed_job(job)
    levels = [s.end.s - s.start.s for s in solved(job).line.surfaces]
    surfaces = list(back.surfaces)
    last = len(surfaces) - 1
    for i, surface in enumerate(job.surfaces):
        changes = {}
        if surface.posts is not None:
            changes["posts"] = tuple(levels[i] - at for at in reversed(surface.posts))
        surfaces[last - i] = replace(surfaces[last - i], **changes, start_post=None)
    for i, surface in enumerate(job.surfaces):
        if surface.start_post is not None and i:
            # the boundary with the surface before, which comes after it now
            surfaces[last - i + 1] = replace(surfaces[last - i + 1], start_post=-surface.start_post)
    return replace(back, surfaces=tuple(surfaces))


@pytest.fixture(params=JOBS)
def both(request):
    job = JOBS[request.param]
    if job.surfaces[0].start_post is not None:
        pytest.fail("an end post forced at the start has no counterpart at the end")
    there = solved(job)
    return there, lay_out(turned_back(job), read_rules(job.rules, job.unit))


def test_posts_are_the_same(both):
    there, back = both
    if there.job == back.job:
        return  # the same either way: where two places are as good, one was taken
    total, last = there.line.surfaces[-1].end.s, len(there.line.surfaces) - 1
    rise = there.line.surfaces[-1].end.z
    assert len(there.posts) == len(back.posts)
    for p, q in zip(there.posts, reversed(back.posts), strict=True):
        assert (p.role, p.support, p.width) == (q.role, q.support, q.width)
        assert p.station == total - q.station
        assert p.base == q.base + rise
        assert (p.length, p.edges, p.bevel_break) == (q.length, q.edges[::-1], -q.bevel_break)
        if p.stands_on == last - q.stands_on:  # on the edge of two surfaces the first is said to carry it
            assert p.clear == q.clear
        assert p.bevels_deg == pytest.approx([-b for b in reversed(q.bevels_deg)], abs=1e-12)
        mine = sorted((h.strand, h.height, h.marked, h.low_face, h.high_face, h.surfaces) for h in p.holes)
        theirs = sorted(
            (h.strand, h.height, h.marked, h.low_face, h.high_face, tuple(last - i for i in reversed(h.surfaces)))
            for h in q.holes
        )
        assert mine == theirs


def test_openings_are_the_same(both):
    """Spheres as designed; as marked they may differ, stations being marked from one end of the line."""
    there, back = both

    def listed(layout):
        """Spheres rule by rule: rounding may change the order of equal ones, not of rules."""
        found = {}
        for o in layout.openings:
            found.setdefault("" if o.rule is None else o.rule.clause, []).append(o.sphere)
        return {clause: sorted(spheres) for clause, spheres in found.items()}

    mine, theirs = listed(there), listed(back)
    assert mine.keys() == theirs.keys()
    for clause, spheres in mine.items():
        assert spheres == pytest.approx(theirs[clause], rel=1e-12, abs=1e-12)
    if (there.line.surfaces[-1].end.s / there.job.mark).denominator == 1:
        assert sorted(str(o.passes) for o in there.openings) == sorted(str(o.passes) for o in back.openings)
        marked = [sorted(o.sphere_as_marked for o in x.openings) for x in both]
        assert marked[0] == pytest.approx(marked[1], rel=1e-12, abs=1e-12)


def test_joints_are_the_same(both):
    there, back = both
    for j, k in zip(there.joints, reversed(back.joints), strict=True):
        assert j.turn_deg == -k.turn_deg
        assert j.bend_deg == pytest.approx(k.bend_deg, abs=1e-12)
        assert (j.mitred, j.through, abs(j.jog)) == (k.mitred, k.through, abs(k.jog))
        assert sorted((r.what.name, r.value) for r in j.remedies if r.surface is not None) == sorted(
            (r.what.name, r.value) for r in k.remedies if r.surface is not None
        )
        assert sorted((s.number, s.whole) for s in j.strands) == sorted((s.number, s.whole) for s in k.strands)


def test_cuts_are_the_same(both):
    there, back = both
    a, b = there.cuts, back.cuts

    def ends(cut):
        """How the two ends are cut, in either order."""
        return sorted((c.kind, c.long_point, round(c.angle_deg, 9), round(c.tilt_deg, 9)) for c in cut)

    def rails(cuts):
        return sorted(
            (round(r.length, 9), round(r.underside, 9), round(r.longest, 9), ends((r.start_cut, r.end_cut)))
            for r in cuts.rails
            for _ in range(r.count)
        )

    def pieces(cuts):
        return sorted(round(s.length, 9) for s in cuts.strands for _ in range(s.count))

    def posts(cuts):
        return sorted((p.length, p.long_edge, p.short_edge) for p in cuts.posts for _ in range(p.count))

    assert pieces(a) == pytest.approx(pieces(b), rel=1e-12, abs=2e-9)
    assert posts(a) == posts(b)
    for p, q in zip(rails(a), rails(b), strict=True):
        assert p[:3] == pytest.approx(q[:3], abs=2e-9)
        assert [e[:2] for e in p[3]] == [e[:2] for e in q[3]]
        assert [x for e in p[3] for x in e[2:]] == pytest.approx([x for e in q[3] for x in e[2:]], abs=2e-9)
    for count in ("terminals", "tensioners", "angle_fittings", "holes"):
        assert getattr(a, count) == getattr(b, count)
    assert a.strand_total == pytest.approx(b.strand_total, rel=1e-12)
    assert a.rail_total == pytest.approx(b.rail_total, rel=1e-12)
    assert a.post_total == pytest.approx(b.post_total, rel=1e-12)
    assert {f.kind: f.count for f in a.fittings} == {f.kind: f.count for f in b.fittings}
    assert sorted((round(s.length, 9), s.count) for s in a.sleeves) == sorted(
        (round(s.length, 9), s.count) for s in b.sleeves
    )
