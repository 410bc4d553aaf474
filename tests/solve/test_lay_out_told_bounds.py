"""What a refused job is told to set is typed as printed: the key is then right, or wrong for another told reason.

Every kind is refused once here; each figure is read from the words of the refusal, by the reader of job files.
"""

import re
from dataclasses import replace
from fractions import Fraction as F

import pytest

from stairguard.errors import JobError
from stairguard.io.parse.exact_lengths import parse_length
from stairguard.model.soundness.job_checks import contradictions
from stairguard.rules.pack.reader import read_rules
from stairguard.solve.lay_out import lay_out
from tests.solve.jobs import BASE, with_flight
from tests.solve.lines import CROSSED, down, land, up

FIGURE = r"(-?\d+(?:\.\d+)?(?:/\d+)?)"
WIDE = replace(BASE.post, width=parse_length("40 mm", "in"))
"""A post of a width that no mark of an inch tape has: 1.574803 in."""


def rail(**changes):
    return replace(BASE.rail, **changes)


def post(**changes):
    return replace(BASE.post, **changes)


def strand(**changes):
    return replace(BASE.strand, **changes)


def line(*surfaces, **changes):
    return replace(BASE, surfaces=surfaces, **changes)


def on_third(**changes):
    lower, flight, upper = BASE.surfaces
    return replace(BASE, surfaces=(lower, flight, replace(upper, **changes)))


KINDS = [
    (replace(BASE, post=post(max_gap=F(9))), "post.max_gap", "at least F"),
    (replace(with_flight(BASE, run=F(341, 32)), post=post(max_gap=F(9))), "post.max_gap", "at least F"),
    (replace(BASE, strand=strand(longest_run=F(20))), "strand.longest_run", "at least F"),
    (replace(BASE, rail=rail(height=F(36), depth=F(30))), "rail.height", "at least F"),
    (
        with_flight(replace(BASE, rail=rail(height=F(40), depth=F(30))), rail_height=F(36)),
        "surface[2].rail_height", "at least F",
    ),
    (on_third(posts=(F(1),)), "surface[3].posts[1]", "from F to F"),
    (on_third(posts=(F(20), F(81, 4))), "surface[3].posts[1]", "from F to F"),
    (on_third(start_post=F(60)), "surface[3].start_post", "from F to F, on the surfaces"),
    (line(land(60, start_post=F(60))), "surface[1].start_post", "from F to F, on the surface"),
    (replace(BASE, surfaces=(land(4), *BASE.surfaces[1:]), post=WIDE), "surface[1].length", "at least F in"),
    (line(up(3), land(4), up(3), post=WIDE), "surface[2].length", "at least F in"),
    (line(land(60), land(3), up(3), post=WIDE), "surface[2].length", "at least F in"),
    (on_third(start_post=F(-20)), "surface[3].start_post", "from F to F, on the landing"),
    (line(up(3), land(1, **CROSSED), down(3), post=WIDE), "surface[2].length", "at least F in"),
    (
        line(land(60), land(60, 90.0), post=post(corner="two", corner_offset=F(1), width=F(5, 2))),
        "post.corner_offset", "at least F",
    ),
    (line(land(60), up(4, start_post=F(-30)), land()), "surface[2].start_post", "start_post F or more"),
    (line(land(60), down(4), land(90, start_post=F(31)), post=WIDE), "surface[3].start_post", "start_post F or less"),
    (line(down(6), land(30, **CROSSED), up(6)), "surface[2].length", "length F or less"),
    (line(up(4), land(40, **CROSSED), up(5), post=WIDE), "surface[2].length", "length F or less"),
    (line(land(60), strand=strand(terminal_take_up=F(40), tensioner_take_up=F(40))), "take_up", "no more than F"),
]  # fmt: skip


def set_key(job, key, value):
    """The job with a key set to what is typed."""
    if key == "take_up":
        return replace(job, strand=replace(job.strand, terminal_take_up=value, tensioner_take_up=F(0)))
    table, _, name = key.partition(".")
    found = re.fullmatch(r"surface\[(\d+)\]", table)
    if not found:
        return replace(job, **{table: replace(getattr(job, table), **{name: value})})
    surfaces, index = list(job.surfaces), int(found[1]) - 1
    of = re.fullmatch(r"posts\[(\d+)\]", name)
    given = surfaces[index]
    changed = {name: value}
    if of:
        changed = {"posts": tuple(value if k == int(of[1]) else at for k, at in enumerate(given.posts, 1))}
    surfaces[index] = replace(given, **changed)
    return replace(job, surfaces=tuple(surfaces))


def refusal(job):
    """The one fault that a job is refused for, or None."""
    try:
        lay_out(job, read_rules(job.rules, job.unit))
    except JobError as error:
        (fault,) = error.faults
        return fault
    return None


def _kind(fault):
    """What a refusal is for, whatever its figures."""
    return re.sub(FIGURE, "", fault.must).split(",")[-1]


@pytest.mark.parametrize(("job", "key", "words"), KINDS)
def test_a_figure_that_a_refusal_names_holds_when_it_is_typed(job, key, words):
    fault = refusal(job)
    assert fault is not None
    assert key in fault.where
    figures = re.search(words.replace("F", FIGURE), fault.must)
    assert figures, fault.must
    for text in figures.groups():
        typed = parse_length(text, job.unit)
        assert typed % job.mark == 0
        again = refusal(set_key(job, key, typed))
        assert again is None or (again.where, _kind(again)) != (fault.where, _kind(fault)), again


def test_a_landing_that_is_crossed_too_far_may_have_a_level_piece():
    """On 0.6.0 told only how near a face has to be, which no key of a crossed landing sets."""
    job = line(down(6), land(30, **CROSSED), up(6))
    assert "; or level_piece = true)" in refusal(job).must
    assert refusal(set_key(job, "surface[2].level_piece", True)) is None


@pytest.mark.parametrize("job", [
    replace(BASE, post=replace(WIDE, setback=F(1, 2))),
    replace(BASE, post=replace(WIDE, setback=F(10))),
    replace(BASE, post=replace(WIDE, corner="two", corner_offset=F(3, 4))),
    with_flight(replace(BASE, post=WIDE), run=F(3, 2)),
])  # fmt: skip
def test_a_figure_that_a_contradiction_names_holds_when_it_is_typed(job):
    def faults(job):
        return contradictions(job.unit, job.mark, job.rail, job.strand, job.post, job.surfaces, "post", closed=False)

    (fault,) = faults(job)
    figures = re.search(rf"\({FIGURE}\)", fault.must) or re.search(f"from {FIGURE} to {FIGURE}", fault.must)
    assert figures, fault.must
    for text in figures.groups():
        assert fault.where not in {f.where for f in faults(set_key(job, fault.where, parse_length(text, job.unit)))}
