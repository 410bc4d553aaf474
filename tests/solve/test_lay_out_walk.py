"""An independent walk over the result as it is printed: every length measured again from points in space.

From the JSON alone: turns and their stations give the plan, posts and holes the points. Nothing of the package is
used but the result itself; the take-ups are the job's.
"""

from itertools import pairwise
from math import atan2, degrees, hypot

import numpy as np
import pytest

from tests.solve.lines import JOBS, printed
from tests.solve.squares import half_along

every_line = pytest.mark.parametrize("name", JOBS)


def printed_with_take_ups(name):
    """The result as another program reads it, and the take-ups of one strand."""
    strand = JOBS[name].strand
    return printed(JOBS[name]), float(strand.terminal_take_up + strand.tensioner_take_up)


class Walk:
    """Points in space of a developed line: each leg runs on from the turn before it."""

    def __init__(self, found):
        self.found = found
        self.posts = {p["label"]: p for p in found["posts"]}
        self.surfaces = {s["index"]: s for s in found["surfaces"]}
        turns = {j["post"]: j["turn_deg"] for j in found["joints"] if not j["second_post"]}
        self.halves = {label: half_along(p["width"], turns.get(label, 0.0)) for label, p in self.posts.items()}
        self.legs = [(0.0, np.zeros(2), 0.0)]
        for joint in found["joints"]:
            if joint["turn_deg"]:
                start, at, heading = self.legs[-1]
                corner = at + (joint["station"] - start) * unit(heading)
                self.legs.append((joint["station"], corner, heading + np.radians(joint["turn_deg"])))

    def plan(self, station, arriving):
        """Place in plan; at a turn both legs have it."""
        legs = [leg for leg in self.legs if leg[0] < station or (leg[0] == station and not arriving)]
        start, at, heading = legs[-1] if legs else self.legs[0]
        return at + (station - start) * unit(heading)

    def hole(self, label, strand, surfaces):
        """Point on a post's centre line where a strand over some surfaces passes or ends."""
        post = self.posts[label]
        heights = {h["height"] for h in post["holes"] if h["strand"] == strand and set(h["surfaces"]) & set(surfaces)}
        assert len(heights) == 1, (label, strand, surfaces)
        return np.array([*self.plan(post["station"], True), post["base"] + heights.pop()])

    def reach(self, label, surface):
        """How far past a post's centre, along the strand, its bearing face is: the outer one at a line's end."""
        post = self.posts[label]
        half = self.halves[label] / np.cos(np.radians(self.surfaces[surface]["pitch_deg"]))
        return half if post["role"] == "end" else -half

    def run(self, run):
        """Length of one run between its bearing faces."""
        points = [self.hole(label, run["strand"], run["surfaces"]) for label in run["posts"]]
        length = sum(float(np.linalg.norm(b - a)) for a, b in pairwise(points))
        first, last = run["posts"][0], run["posts"][-1]
        return length + self.reach(first, run["surfaces"][0]) + self.reach(last, run["surfaces"][-1])


def unit(heading):
    return np.array([np.cos(heading), np.sin(heading)])


def marks(length, mark):
    """How many tape marks a length comes to; a last digit does not decide half a mark."""
    return max(round(round(length, 9) / mark), 1)


@every_line
def test_strands_cut_are_the_developed_length_less_take_ups(name):
    found, take_up = printed_with_take_ups(name)
    walk = Walk(found)
    walked = []
    for run in found["runs"]:
        length = walk.run(run)
        assert run["length"] == pytest.approx(length, rel=1e-12, abs=1e-9)
        assert run["cut_length"] == pytest.approx(length - take_up, rel=1e-12, abs=1e-9)
        walked.append(length - take_up)
    cuts = found["cuts"]
    listed = [s["length"] for s in cuts["strands"] for _ in range(s["count"])]
    assert sorted(listed) == pytest.approx(sorted(walked), rel=1e-12, abs=1e-9)
    assert sum(listed) == pytest.approx(sum(walked), rel=1e-12)
    marked = [marks(length, found["mark"]) for length in walked]
    assert cuts["totals"]["strand"] == pytest.approx(sum(marked) * found["mark"], rel=1e-12)
    assert cuts["totals"]["terminals"] == cuts["totals"]["tensioners"] == len(walked)


@every_line
def test_every_bay_has_every_strand_of_its_surface_once(name):
    found, _ = printed_with_take_ups(name)
    bays = {}
    for run in found["runs"]:
        for bay in pairwise(run["posts"]):
            assert run["strand"] not in bays.setdefault(bay, set()), (bay, run["strand"])
            bays[bay].add(run["strand"])
    labels = [p["label"] for p in found["posts"]]
    # between the two posts of a corner only strands that pass it
    corners = {(p["label"], q["label"]) for p, q in pairwise(found["posts"]) if p["role"] == q["role"] == "joint"}
    assert set(pairwise(labels)) - corners <= bays.keys() <= set(pairwise(labels))
    counts = {s["strands"]["count"] for s in found["surfaces"]}
    for bay, strands in bays.items():
        assert strands == set(range(1, len(strands) + 1))
        assert bay in corners or len(strands) in counts


@every_line
def test_strands_run_parallel_to_their_surface_from_hole_to_hole(name):
    found, _ = printed_with_take_ups(name)
    walk = Walk(found)
    for run in found["runs"]:
        for a, b in pairwise(run["posts"]):
            p, q = (walk.hole(label, run["strand"], run["surfaces"]) for label in (a, b))
            if walk.posts[a]["role"] == walk.posts[b]["role"] == "joint":
                continue  # of two posts that make a corner the strand between has a pitch of its own
            pitch = degrees(atan2(q[2] - p[2], hypot(*(q - p)[:2])))
            assert any(walk.surfaces[i]["pitch_deg"] == pytest.approx(pitch, abs=1e-9) for i in run["surfaces"])


@every_line
def test_rails_cut_are_the_length_along_their_tops(name):
    found, _ = printed_with_take_ups(name)
    walk = Walk(found)
    walked = []
    for surface in found["surfaces"]:
        (s0, z0), (s1, z1) = surface["rail"]["start"], surface["rail"]["end"]
        if surface["strands"]["count"] == 0:
            assert (s0, z0) == (s1, z1)
            continue
        a, b = (np.array([*walk.plan(s, arriving), z]) for s, z, arriving in ((s0, z0, False), (s1, z1, True)))
        walked.append(float(np.linalg.norm(b - a)))
        assert degrees(atan2(z1 - z0, s1 - s0)) == pytest.approx(surface["pitch_deg"], abs=1e-9)
    listed = [r["length"] for r in found["cuts"]["rails"] for _ in range(r["count"])]
    assert sorted(listed) == pytest.approx(sorted(walked), rel=1e-12, abs=1e-9)


@every_line
def test_holes_and_posts_cut_are_those_that_stand(name):
    found, _ = printed_with_take_ups(name)
    walls = [p for p in found["posts"] if p["label"][0] in "WN"]
    assert all(p["role"] == "end" and p["width"] == 0 for p in walls)
    own = [p for p in found["posts"] if p not in walls]
    cuts = found["cuts"]
    assert sorted(label for c in cuts["posts"] for label in c["posts"]) == sorted(p["label"] for p in own)
    lengths = {p["label"]: p["length"] for p in own}
    for cut in cuts["posts"]:
        assert cut["count"] == len(cut["posts"])
        assert {lengths[label] for label in cut["posts"]} == {cut["length"]}
    assert cuts["totals"]["holes"] == sum(len(p["holes"]) for p in found["posts"])
    # each run starts and ends in a hole and goes through one at every post between
    passed = sum(len(run["posts"]) for run in found["runs"])
    broken = sum(
        len({tuple(h["surfaces"]) for h in p["holes"] if h["strand"] == k}) == 1
        for p in own
        for k in {h["strand"] for h in p["holes"]}
        if sum(p["label"] in (r["posts"][0], r["posts"][-1]) and r["strand"] == k for r in found["runs"]) == 2
    )
    assert cuts["totals"]["holes"] == passed - broken
