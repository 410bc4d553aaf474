"""Line posts against an exhaustive search: every choice of treads is tried, gaps measured between posts' faces."""

from dataclasses import replace
from fractions import Fraction as F
from itertools import combinations, pairwise
from random import Random

import pytest

from stairguard.errors import JobError
from stairguard.model.job import Flight, Landing, MeasuredFlight
from stairguard.rules.findings.checks import check
from stairguard.solve.lay_out import lay_out
from tests.solve.jobs import BASE, reversed_job
from tests.solve.lines import land, solved, up

SEEDS = range(60)


def flight(rnd):
    """Equal steps or surveyed ones, some with a winder or a half landing's depth among them."""
    if rnd.random() < 0.5:
        return Flight(
            risers=rnd.randint(2, 13),
            rise=F(7),
            run=F(rnd.randint(150, 190), 16),
            nosing=F(0),
            tread=F(1),
            open_risers=False,
            down=rnd.random() < 0.5,
            turn=0.0,
        )
    runs = [F(rnd.randint(150, 190), 16) * rnd.choice([1, 1, 1, 1, 2, 3]) for _ in range(rnd.randint(2, 11))]
    points, x, z = [], F(0), F(7)
    for run in (*runs, F(0)):
        points.append((x, z))
        x, z = x + run, z + run * F(2, 3)
    return MeasuredFlight(nosings=tuple(points), nosing=F(0), tread=F(1), open_risers=False, down=False, turn=0.0)


def job_of(seed):
    rnd = Random(seed)
    width = F(rnd.choice([24, 40, 56]), 16)
    post = replace(
        BASE.post, width=width, setback=width / 2 + F(rnd.randint(0, 60), 16), max_gap=F(rnd.randint(28, 72))
    )
    ends = [rnd.choice(["post", "wall", "newel"]) for _ in range(2)]
    lands = [Landing(length=F(rnd.randint(30, 90)), turn=0.0) for _ in range(2)]
    surfaces = (lands[0], flight(rnd), lands[1]) if rnd.random() < 0.6 else (flight(rnd),)
    return replace(BASE, rules="none", post=post, surfaces=surfaces, start=ends[0], end=ends[1])


def bays(layout):
    """Clear level gaps over the flight, from post to post, and the faces that bound it all."""
    (index,) = (s.index for s in layout.line.surfaces if s.kind == "flight")
    inside = [i for i, p in enumerate(layout.posts) if p.role == "line" and p.stands_on == index]
    ends = [
        i for i, p in enumerate(layout.posts) if index in {s for h in p.holes for s in h.surfaces} and i not in inside
    ]
    first, last = ends[0], ends[-1]
    posts = layout.posts[first : last + 1]
    return index, [q.station - q.width / 2 - p.station - p.width / 2 for p, q in pairwise(posts)], posts


def treads(layout, index, low, high):
    """Stations at which a line post stands at the job's setback on a tread, clear of both bounds."""
    surface, post = layout.line.surfaces[index], layout.job.post
    way = 1 if surface.slope > 0 else -1
    for nosing in surface.nosings[:-1] if way > 0 else surface.nosings[1:]:
        at = nosing.s + way * post.setback
        if low < at - post.width / 2 and at + post.width / 2 < high:
            yield at


def evenness(gaps):
    """What is kept least, in order: the widest, then how narrow the narrowest is, then the sum of squares."""
    return max(gaps), -min(gaps), sum(g * g for g in gaps)


def test_line_posts_are_as_few_and_as_even_as_any_choice_of_treads():
    tried = 0
    for seed in SEEDS:
        job = job_of(seed)
        try:
            layout = solved(job)
        except JobError:
            continue
        index, mine, posts = bays(layout)
        low, high = posts[0].station + posts[0].width / 2, posts[-1].station - posts[-1].width / 2
        width, most = job.post.width, job.post.max_gap**2 / (1 + layout.line.surfaces[index].slope ** 2)
        places = sorted(treads(layout, index, low, high))
        best = None
        for count in range(len(places) + 1):
            ways = []
            for chosen in combinations(places, count):
                faces = [low, *(x for at in chosen for x in (at - width / 2, at + width / 2)), high]
                gaps = [b - a for a, b in zip(faces[::2], faces[1::2], strict=True)]
                if all(gap**2 <= most for gap in gaps):
                    ways.append(evenness(gaps))
            if ways:
                best = count, min(ways)
                break
        assert (len(mine) - 1, evenness(mine)) == best, seed
        tried += len(places) > 3 and len(mine) > 2
    assert tried > 15


def test_one_bay_that_must_be_wide_leaves_the_others_even():
    """The upper joint's post 42 in out makes one bay wide; the rest is shared out, and no narrow one left among it."""
    surfaces = (land(), up(10), land(100, start_post=F(42)))
    _, gaps, _ = bays(solved(replace(BASE, rules="none", surfaces=surfaces, post=replace(BASE.post, max_gap=F(60)))))
    assert gaps[-1] == max(gaps) == F(93, 2)
    assert max(gaps[:-1]) - min(gaps) < 4


@pytest.mark.parametrize("seed", SEEDS)
def test_the_line_walked_backwards_has_the_same_posts_and_cuts(seed):
    job = job_of(seed)
    try:
        there = solved(job)
    except JobError:
        return
    back = solved(reversed_job(job))
    end = there.line.surfaces[-1].end.s
    assert [p.station for p in there.posts] == [end - p.station for p in reversed(back.posts)]
    for mine, theirs in ((there.cuts.posts, back.cuts.posts), (there.cuts.rails, back.cuts.rails)):
        assert sorted((round(float(c.length), 9), c.count) for c in mine) == sorted(
            (round(float(c.length), 9), c.count) for c in theirs
        )
    assert sorted(r.length for r in there.runs) == pytest.approx(sorted(r.length for r in back.runs), rel=1e-12)


@pytest.mark.parametrize("end", ["wall", "newel", "post"])
def test_the_jobs_gap_is_kept_up_to_a_wall_too(end):
    """A wall has no half a post to be measured from."""
    for most in range(29, 45):
        post = replace(BASE.post, width=F(7, 2), max_gap=F(most))
        layout = lay_out(
            replace(BASE, rules="none", surfaces=(up(9),), post=post, start=end, end=end), solved(BASE).rules
        )
        assert all(c.passes for c in check(layout).checks if c.quantity == "post gap"), most


@pytest.mark.parametrize(("down", "first"), [(False, 5), (True, 6)])
def test_line_posts_leave_a_tread_where_the_end_post_stands(down, first):
    """Posts of 1-1/2, each tread's ``first`` in from where the flight starts, 7 on 11: side by side they may not touch.

    From a post at 4 the next is on the second tread, 12 from it where it goes up: 10-1/2 clear, 12.445 along the slope.
    """
    flight = Flight(risers=7, rise=F(7), run=F(11), nosing=F(1), tread=F(1), open_risers=False, down=down, turn=0.0)

    def stand(at, most):
        post = replace(BASE.post, width=F(3, 2), setback=F(5), max_gap=F(most))
        asked = replace(BASE, rules="none", surfaces=(replace(flight, start_post=F(at)),), post=post)
        return [placed.station for placed in solved(asked).posts]

    treads = [first + 11 * k for k in range(6)]
    clear = F(first) - F(3, 2)
    assert stand(clear - F(1, 16), 13) == [clear - F(1, 16), *treads]
    assert stand(clear, 14) == [clear, *treads[1:]]
    with pytest.raises(JobError, match=r"post.max_gap: must be at least 12\.5, the clear gap along the strands"):
        stand(first - 1, F(49, 4))
