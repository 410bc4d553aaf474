"""Runs of strands against brute force: every way to break a stretch is tried, lengths measured from points in space.

Limits on one run are common practice, no source (75 ft, one change of angle); the jobs here set their own.
"""

from dataclasses import replace
from fractions import Fraction as F
from itertools import combinations, pairwise
from math import comb

import numpy as np
import pytest

from stairguard.errors import JobError
from stairguard.solve.lay_out import lay_out
from tests.solve.jobs import BASE
from tests.solve.lines import JOBS, land, odd, printed, solved, up
from tests.solve.test_lay_out_walk import Walk

every_line = pytest.mark.parametrize("name", JOBS)
MOST_WAYS = 20_000


class Stretch:
    """A strand from where it must start to where it must end, runs joined again where they are only broken."""

    def __init__(self, walk, layout, runs):
        self.runs, self.layout = runs, layout
        self.labels = [runs[0].posts[0], *(label for run in runs for label in run.posts[1:])]
        over = {i for run in runs for i in run.surfaces}
        self.points = [walk.hole(label, runs[0].strand, over) for label in self.labels]
        self.posts = [walk.posts[label] for label in self.labels]
        self.halves = [walk.halves[label] for label in self.labels]
        joints = {label: j for j in layout.joints for label in (j.post, j.second_post) if label}
        inner = self.labels[1:-1]
        self.bends = [False, *(label in joints and self._bends(joints[label]) for label in inner), False]

    @staticmethod
    def _bends(joint):
        return bool(joint.second_post) or joint.bend_deg > 1e-9

    def length(self, a, b):
        """Between bearing faces of a run from support a to b."""
        points = self.points[a : b + 1]
        total = sum(float(np.linalg.norm(q - p)) for p, q in pairwise(points))
        for k, (p, q) in ((a, points[:2]), (b, points[-2:])):
            half = self.halves[k] * float(np.linalg.norm(q - p) / np.linalg.norm((q - p)[:2]))
            total += half if self.posts[k]["role"] == "end" else -half
        return total

    def allowed(self, a, b):
        strand = self.layout.job.strand
        bends = sum(self.bends[a + 1 : b])
        if strand.angle_changes is not None and bends > strand.angle_changes:
            return False
        return strand.longest_run is None or self.length(a, b) <= float(strand.longest_run) + 1e-9

    def value(self, breaks):
        """What is kept least: runs, breaks at joints, squares of lengths; None where a limit is exceeded."""
        places = (0, *breaks, len(self.points) - 1)
        if not all(self.allowed(a, b) for a, b in pairwise(places)):
            return None
        squares = sum(self.length(a, b) ** 2 for a, b in pairwise(places))
        return len(places) - 1, sum(self.bends[k] for k in breaks), squares

    def least(self):
        """The least of all ways, None where there are too many to try."""
        inner = range(1, len(self.points) - 1)
        for count in range(len(inner) + 1):
            if comb(len(inner), count) > MOST_WAYS:
                return None
            found = [v for breaks in combinations(inner, count) if (v := self.value(breaks)) is not None]
            if found:
                return min(found)
        raise AssertionError("no way at all")


def stretches(layout):
    walk = Walk(printed(layout.job))
    posts = {p.label: p for p in layout.posts}
    at = {p.label: k for k, p in enumerate(layout.posts)}
    seen = set()
    for number in sorted({r.strand for r in layout.runs}):
        chain = []
        for run in sorted((r for r in layout.runs if r.strand == number), key=lambda r: at[r.posts[0]]):
            first = run.posts[0]
            goes_on = chain and chain[-1].posts[-1] == first
            if not (goes_on and any(h.broken and h.strand == number for h in posts[first].holes)):
                yield from _once(walk, layout, chain, seen)
                chain = []
            chain.append(run)
        yield from _once(walk, layout, chain, seen)


def _once(walk, layout, chain, seen):
    """Strands that run alike are tried once."""
    key = tuple(run.posts for run in chain)
    if chain and key not in seen:
        seen.add(key)
        yield Stretch(walk, layout, chain)


@every_line
def test_runs_keep_their_limits_with_fewest_breaks(name):
    layout = solved(JOBS[name])
    for stretch in stretches(layout):
        places = [stretch.labels.index(run.posts[-1]) for run in stretch.runs]
        mine = stretch.value(places[:-1])
        assert mine is not None, "a limit is exceeded"
        for run in stretch.runs:
            a, b = (stretch.labels.index(run.posts[k]) for k in (0, -1))
            assert run.length == pytest.approx(stretch.length(a, b), rel=1e-12)
            assert run.angle_changes == sum(stretch.bends[a + 1 : b])
        least = stretch.least()
        if least is not None:
            assert mine[:2] == least[:2]
            assert mine[2] == pytest.approx(least[2], rel=1e-9)


@every_line
def test_the_tensioner_is_at_the_end_nearer_the_longest_bay(name):
    layout = solved(JOBS[name])
    walk = Walk(printed(layout.job))
    for run in layout.runs:
        points = [walk.hole(label, run.strand, run.surfaces) for label in run.posts]
        bays = []
        for (a, p), (b, q) in pairwise(zip(run.posts, points, strict=True)):
            sec = float(np.linalg.norm(q - p) / np.linalg.norm((q - p)[:2]))
            halves = (walk.halves[a] + walk.halves[b]) * sec
            bays.append(float(np.linalg.norm(q - p)) - halves)
        assert run.longest_bay == pytest.approx(max(bays), rel=1e-12)
        longest = [k for k, bay in enumerate(bays) if bay > max(bays) - 1e-9]
        passed = {run.posts[0]: min(longest), run.posts[-1]: len(bays) - 1 - max(longest)}
        # of several longest bays any may be meant
        other = {run.posts[0]: len(bays) - 1 - min(longest), run.posts[-1]: max(longest)}
        assert passed[run.tensioner] <= other[run.tensioner]


def test_a_run_no_longer_than_the_job_allows_is_not_broken():
    whole = solved(BASE)
    length = max(r.length for r in whole.runs)
    for off, runs in ((F(1, 1000), 1), (F(-1, 1000), 2)):
        strand = replace(BASE.strand, longest_run=F(length) + off)
        layout = lay_out(replace(BASE, strand=strand), whole.rules)
        assert len(layout.runs) == runs * len(whole.runs)
        if runs == 2:
            assert {end for run in layout.runs for end in run.ends} == {"last post", "longest run"}


@pytest.mark.parametrize(("changes", "runs"), [(0, 3), (1, 2), (2, 1), (3, 1), (None, 1)])
def test_changes_of_angle_break_runs(changes, runs):
    # a flight between two landings turns a strand twice
    layout = lay_out(replace(BASE, strand=replace(BASE.strand, angle_changes=changes)), solved(BASE).rules)
    first = [r for r in layout.runs if r.strand == 1]
    assert len(first) == runs
    assert max(r.angle_changes for r in layout.runs) <= (9 if changes is None else changes)


def test_a_bay_longer_than_the_longest_run_is_refused_with_what_would_do():
    job = replace(BASE, strand=replace(BASE.strand, longest_run=F(20)))
    with pytest.raises(JobError, match=r"strand.longest_run: must be at least [\d.]+, the longest bay") as caught:
        lay_out(job, solved(BASE).rules)
    least = F(str(caught.value.faults[0].must).split()[2].rstrip(","))
    enough = lay_out(replace(job, strand=replace(job.strand, longest_run=least + F(1, 1000))), solved(BASE).rules)
    assert enough.runs


def test_the_comparison_is_what_the_other_way_comes_to():
    """Strands through joints beside strands that end: each side counted from a layout of its own."""
    for surfaces in (
        (land(), up(6), land(60)),
        odd("steps, ramp, steps").surfaces,
        odd("three turned landings").surfaces,
    ):
        job = replace(BASE, surfaces=surfaces)
        both = {way: lay_out(replace(job, strand=replace(job.strand, at_joints=way)), solved(BASE).rules)
                for way in ("through", "break")}  # fmt: skip
        for layout in both.values():
            said = {"through": layout.comparison.through, "break": layout.comparison.ended}
            assert layout.comparison.chosen == layout.job.strand.at_joints
            for way, choice in said.items():
                other = both[way]
                counted = (
                    len(other.runs), len(other.runs), sum(r.angle_changes for r in other.runs),
                    sum(len(p.holes) for p in other.posts), max(len(f.heights) for f in other.fields),
                )  # fmt: skip
                assert counted == (
                    choice.runs, choice.terminals, choice.angle_fittings, choice.holes, choice.strands,
                )  # fmt: skip
                marks = sum(round(round(r.cut_length, 9) / float(job.mark)) for r in other.runs)
                assert choice.strand_total == marks * job.mark
