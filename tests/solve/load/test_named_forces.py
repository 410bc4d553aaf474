"""Pushes that publications name: the tension told holds what it says it holds, and little less does not."""

from dataclasses import replace
from fractions import Fraction as F

import pytest

import stairguard
from stairguard.model.guard.strand_deflection import Taut
from stairguard.model.published.probe_forces import NAMED_PUSHES
from stairguard.solve.load.guard_deflection import under, under_each
from stairguard.solve.load.named_forces import named_tensions
from stairguard.solve.load.strand_properties import steel


@pytest.fixture(scope="module")
def layout():
    return stairguard.lay_out(stairguard.built_in_job()).layout


def test_every_publication_is_answered_in_its_order(layout):
    found = named_tensions(layout)
    assert [one.push for one in found] == list(NAMED_PUSHES.values())
    assert [one.force for one in found] == [name.force_in("in") for name in NAMED_PUSHES.values()]
    idle = next(one for one in found if not one.force)
    assert (idle.sized, idle.tension, idle.beyond) == (True, None, 0)


def test_the_tension_told_holds_and_little_less_does_not(layout):
    job = layout.job
    made = steel(job.strand, job.strand.diameter, job.unit)
    tried = [one for one in named_tensions(layout) if one.tension is not None]
    assert tried
    for one in tried:
        cone = one.push is NAMED_PUSHES["australia"]
        sphere = one.push.sphere_in(job.unit) if cone else None
        push = replace(job.push, force=one.force, probe="cone" if cone else "sphere", sphere=sphere)
        weak = []
        for share in (F(10001, 10000), F(9999, 10000)):
            found = under(layout, Taut(made, F(one.tension) * share, "assumed"), push)
            weak.append(sum(o.verdict in ("between", "gives way", "passes untouched", "no answer") for o in found))
        assert weak[0] == one.beyond < weak[1], one.push.title


def test_where_nothing_has_a_size_only_a_probe_of_its_own_is_answered():
    bare = stairguard.lay_out(replace(stairguard.built_in_job(), rules="none")).layout
    sized = {one.push.title for one in named_tensions(bare) if one.sized and one.force}
    assert sized == {NAMED_PUSHES["australia"].title}


def test_several_pushes_at_once_are_each_as_alone(layout):
    job = layout.job
    slack = Taut(steel(job.strand, job.strand.diameter, job.unit), F(0), "assumed")
    pushes = [replace(job.push, force=F(force), sphere=size) for force, size in ((5, None), (20, None), (20, F(5)))]
    assert under_each(layout, slack, pushes) == [under(layout, slack, push) for push in pushes]
