"""Where strands' ends bear: every length again by plain vectors, from where posts, holes and faces are in the result.

Which face an end bears on is the job's choice (``[post] bearing``). Nothing is taken from the solver but the result as
it is printed, and the take-ups from the job. Common practice, no source: a fitting through a post wants a hole of its
own.
"""

import csv
import io
import json
from dataclasses import replace
from fractions import Fraction as F
from itertools import pairwise

import numpy as np
import pytest
from scipy.optimize import lsq_linear

import stairguard
from stairguard.api.layout import report
from stairguard.reports.data.csv_lists import holes_csv
from stairguard.reports.words.lists.run_words import HOW_RUNS_ARE_TOLD, kept_inside_words
from stairguard.rules.findings.checks import check
from stairguard.solve.load.reactions import guard_report
from tests.solve.jobs import BASE, reversed_job
from tests.solve.lines import JOBS, land, odd, printed, solved, up
from tests.solve.load.pushed import climate

SETTINGS = (None, "outer face", "inner face")
WALKED = (
    "belvedere-taut", "deck-ramp", "down-up", "half-turn", "office-half-turn", "precast", "quarter-turn", "quay-down",
    "ramp-between", "terrace-open", "workshop-break", "ended at joints", "short straight runs",
    "walls at a flight's ends", "corners of two posts", "half-turn, one run", "random 3", "random 7", "random 12",
)  # fmt: skip
every = pytest.mark.parametrize("setting", SETTINGS)


def borne(job, setting):
    return replace(job, post=replace(job.post, bearing=setting))


def ways(found):
    """Of each leg between turns its first station, where that is in plan, and its direction."""
    legs = [(-np.inf, 0.0, np.zeros(2), 0.0)]
    for joint in found["joints"]:
        if joint["turn_deg"]:
            _, start, at, heading = legs[-1]
            corner = at + (joint["station"] - start) * direction(heading)
            legs.append((joint["station"], joint["station"], corner, heading + np.radians(joint["turn_deg"])))
    return legs


def direction(heading):
    return np.array([np.cos(heading), np.sin(heading)])


class Guard:
    """Posts and holes as points in space."""

    def __init__(self, found):
        self.found, self.legs = found, ways(found)
        self.posts = {post["label"]: post for post in found["posts"]}
        self.turns = {j["station"]: j["turn_deg"] for j in found["joints"] if not j["second_post"]}

    def foot(self, label):
        station = self.posts[label]["station"]
        _, start, at, heading = [leg for leg in self.legs if leg[0] < station][-1]
        return at + (station - start) * direction(heading)

    def hole(self, label, run):
        """The hole of a run's strand on the post's centre line."""
        post = self.posts[label]
        mine = [h for h in post["holes"] if h["strand"] == run["strand"]]
        if len(mine) > 1:
            mine = [h for h in mine if set(h["surfaces"]) & set(run["surfaces"])]
        assert len({h["height"] for h in mine}) == 1
        return np.array([*self.foot(label), post["base"] + mine[0]["height"]])

    def past(self, label, way):
        """From a post's centre to its face, along a strand that goes ``way``: through a plane half the width off.

        A post of a turn that is no quarter or half one stands square to the line that halves it.
        """
        turn = self.turns.get(self.posts[label]["station"], 0.0)
        askew = 0.0 if turn % 90 == 0 else np.radians(abs(turn) / 2)
        level = np.hypot(*way[:2]) / np.linalg.norm(way)
        return self.posts[label]["width"] / 2 / np.cos(askew) / level

    def length(self, run):
        """Between the faces it bears on."""
        points = [self.hole(label, run) for label in run["posts"]]
        total = sum(np.linalg.norm(q - p) for p, q in pairwise(points))
        for label, face, (p, q) in zip(
            (run["posts"][0], run["posts"][-1]), run["bears"], (points[:2], points[-2:]), strict=True
        ):
            total += {"outer face": 1, "inner face": -1, "wall": 0, "newel": 0}[face] * self.past(label, q - p)
        return total

    def ends(self):
        """Every end of a run: post, run, which end, and where its axis, drawn out, crosses the post's two faces."""
        for run in self.found["runs"]:
            for end, (near, far) in ((0, run["posts"][:2]), (1, run["posts"][:-3:-1])):
                p, q = self.hole(near, run), self.hole(far, run)
                way = (q - p) / np.linalg.norm(q - p)
                yield near, run, end, (p - self.past(near, way) * way, p, p + self.past(near, way) * way)


@every
@pytest.mark.parametrize("name", WALKED)
def test_lengths_between_bearing_faces(name, setting):
    job = borne(JOBS[name], setting)
    found = printed(job)
    guard, take_ups = Guard(found), float(job.strand.terminal_take_up + job.strand.tensioner_take_up)
    for run in found["runs"]:
        assert run["length"] == pytest.approx(guard.length(run), rel=1e-12, abs=1e-9)
        assert run["cut_length"] == pytest.approx(guard.length(run) - take_ups, rel=1e-12, abs=1e-9)
    chosen = found["comparison"]["through" if job.strand.at_joints == "through" else "break"]
    assert chosen["strand_total"] == pytest.approx(found["cuts"]["totals"]["strand"], rel=1e-12)


@every
@pytest.mark.parametrize("name", WALKED)
def test_every_end_bears_where_the_job_asks(name, setting):
    """Through the post only where no other end comes within a strand and a mark of it, measured from their points."""
    job = borne(JOBS[name], setting)
    guard = Guard(printed(job))
    least = float(job.strand.diameter + job.mark)
    ends = list(guard.ends())
    for label, run, end, points in ends:
        post, got = guard.posts[label], run["bears"][end]
        if post["support"] in ("wall", "newel"):
            assert got == post["support"]
            continue
        broken = any(h["broken"] for h in post["holes"] if h["strand"] == run["strand"])
        if setting is None:
            assert got == ("outer face" if post["role"] == "end" else "inner face")
        elif setting == "inner face" or broken:
            assert got == "inner face"
        else:
            others = [other for at, one, which, other in ends if at == label and (one, which) != (run, end)]
            others = [other for other in others if facing(points, other)]
            others.sort(key=lambda other: abs(other[1][2] - points[1][2]))  # two of one side lie next above and below
            near = min((apart(points, other) for other in others[:4]), default=least + 1)
            assert got == ("inner face" if near < least - 1e-9 else "outer face")


def facing(points, other):
    """Whether two ends come from two sides: those of one side are parallel, and far enough apart."""
    return np.linalg.norm((points[2] - points[0]) - (other[2] - other[0])) > 1e-9


def apart(points, other):
    """How near two axes come to each other within the post: a bounded least-squares problem, as scipy solves it."""
    ways = np.column_stack([points[2] - points[0], other[0] - other[2]])
    return float(np.sqrt(2 * lsq_linear(ways, other[0] - points[0], (0, 1)).cost))


def test_at_joints_some_fittings_go_through_and_some_find_another_in_the_way():
    found = [
        run["bears"][end]
        for name in WALKED
        for guard in [Guard(printed(borne(JOBS[name], "outer face")))]
        for label, run, end, _ in guard.ends()
        if guard.posts[label]["role"] == "joint"
        and not any(h["broken"] for h in guard.posts[label]["holes"] if h["strand"] == run["strand"])
    ]
    assert min(found.count("outer face"), found.count("inner face")) > 20


@every
@pytest.mark.parametrize("name", WALKED)
def test_holes_page_and_lists_say_the_same_of_every_end(name, setting):
    job = borne(JOBS[name], setting)
    checked = check(solved(job))
    found = json.loads(json.dumps(stairguard.result(checked)))
    said = sorted(
        (p["label"], h["strand"], face) for p in found["posts"] for h in p["holes"] for face in h["bears"] if face
    )
    told = sorted((label, r["strand"], face) for r in found["runs"]
                  for label, face in zip((r["posts"][0], r["posts"][-1]), r["bears"], strict=True))  # fmt: skip
    assert said == told
    rows = list(csv.DictReader(io.StringIO(holes_csv(checked))))
    listed = sorted((row["post"], int(row["strand"]), row[way]) for row in rows
                    for way in ("before_bears_on", "after_bears_on") if row[way])  # fmt: skip
    assert listed == told
    page = " ".join(report(checked).split())
    assert HOW_RUNS_ARE_TOLD in page
    ends = {label for label, _, face in told if face == "inner face"}
    kept = [post["label"] for post in found["posts"] if post["label"] in ends]
    if setting == "outer face" and kept:
        assert kept_inside_words(kept) in page


@every
def test_a_level_strand_by_hand(setting):
    """200 in of deck, posts of 1-1/2 in: 200 between outer faces, 197 between inner ones."""
    job = borne(odd("a landing alone"), setting)
    assert {r.length for r in solved(job).runs} == {197.0 if setting == "inner face" else 200.0}


def test_two_runs_that_end_in_one_hole_keep_to_the_faces_they_come_to():
    """Broken at a line post, 200 in come to two lengths, less that post's width, each bearing on its own side."""
    job = borne(odd("a landing alone", strand=replace(BASE.strand, longest_run=F(120))), "outer face")
    for runs in zip(
        *(tuple(r for r in solved(job).runs if r.posts[0] == start) for start in ("P1", "P4")), strict=True
    ):
        assert [r.bears for r in runs] == [("outer face", "inner face"), ("inner face", "outer face")]
        assert sum(r.length for r in runs) == 200 - 1.5


def test_a_sleeve_lines_a_hole_that_a_strand_goes_through():
    for setting, less in ((None, 0), ("outer face", 0), ("inner face", 2)):
        job = borne(odd("a landing alone", post=replace(BASE.post, sleeves=True)), setting)
        layout = solved(job)
        strands = len(layout.fields[0].heights)
        assert sum(c.count for c in layout.cuts.sleeves) == sum(len(p.holes) for p in layout.posts) - less * strands


def test_drying_end_posts_slacken_only_strands_that_bear_on_outer_faces():
    """Inner faces fitted against a rail stay put: what bears on them comes no nearer."""
    dry = climate(frame=(("rigid", F(1)),), wood="white oak", moisture_from=F(12), moisture_to=F(8))
    base = odd("a landing alone", strand=replace(BASE.strand, tension=F(300), source="set"), climate=dry)
    lost = {s: guard_report(solved(borne(base, s))).upkeep.shortening for s in SETTINGS}
    assert lost["outer face"] == lost[None] == pytest.approx(2 * 1.5 * 4 * 0.00365, rel=1e-9)  # as in test_upkeep
    assert lost["inner face"] == 0
    centred = replace(base, climate=replace(dry, seated="centre"))
    moved = {s: guard_report(solved(borne(centred, s))).upkeep.shortening for s in SETTINGS}
    assert moved["outer face"] == pytest.approx(1.5 * 4 * 0.00365, rel=1e-9)
    assert moved["inner face"] == pytest.approx(-1.5 * 4 * 0.00365, rel=1e-9)  # they draw back, and tighten it


def test_faces_of_a_fitting_through_a_joint_post():
    """A strand of the landing alone goes on level through the joint's post; drilled from both faces."""
    job = borne(
        replace(BASE, rail=replace(BASE.rail, landing_height=F(42)), surfaces=(land(), up(6), land(60))), "outer face"
    )
    found = printed(job)
    inner = {s["index"]: s for s in found["surfaces"]}
    through = [
        (post, hole) for post in found["posts"] for hole in post["holes"]
        if post["role"] == "joint" and "outer face" in hole["bears"]
    ]  # fmt: skip
    assert through
    for post, hole in through:
        (index,) = hole["surfaces"]
        (s0, z0), (s1, z1) = inner[index]["start"], inner[index]["end"]
        slope = (
            (z1 - z0) / (s1 - s0)
            if inner[index]["kind"] == "landing"
            else np.tan(np.radians(inner[index]["pitch_deg"]))
        )
        off = abs(slope) * post["width"] / 2
        assert (hole["low_face"], hole["high_face"]) == pytest.approx((hole["height"] - off, hole["height"] + off))


@every
@pytest.mark.parametrize("name", WALKED)
def test_the_line_walked_backwards_bears_on_the_same_faces(name, setting):
    job = borne(JOBS[name], setting)
    there, back = solved(job), solved(reversed_job(job))

    def ends(layout, way):
        return sorted((run.strand, round(run.length, 9), run.bears[::way]) for run in layout.runs)

    if all(run.ends[0] != "longest run" for run in there.runs):  # of equals either may be meant
        assert ends(there, 1) == ends(back, -1)
    assert there.cuts.strand_total == back.cuts.strand_total
    assert there.cuts.rail_total == back.cuts.rail_total
    assert there.cuts.post_total == back.cuts.post_total
