"""Rails of both legs of a sharp turn, as bodies in space: every point of a fine grid is asked whether it is in both."""

from dataclasses import replace
from fractions import Fraction as F
from math import cos, hypot, radians, sin, tan

import numpy as np
import pytest

from stairguard.model.cautions import RailsLap
from stairguard.rules.findings.checks import check
from stairguard.rules.pack.reader import read_rules
from stairguard.solve.lay_out import lay_out
from tests.solve.jobs import BASE
from tests.solve.lines import land, ramp, up

STEP = 0.03
LINES = {
    "deck": lambda turn: (land(90), land(90, turn)),
    "rails of two heights": lambda turn: (land(90), land(90, turn, rail_height=F(37))),
    "rails a rail's depth apart": lambda turn: (land(90), land(90, turn, rail_height=F(75, 2))),
    "ramp, then level": lambda turn: (ramp(120, 10), land(90, turn)),
    "ramps": lambda turn: (ramp(120, -8), ramp(120, -10, turn)),
    "landing, then a flight": lambda turn: (land(90), up(6, turn)),
}


def laid(name, turn):
    return lay_out(replace(BASE, rules="none", surfaces=LINES[name](float(turn))), read_rules("none", "in"))


def in_both(layout, joint):
    """The greatest distance along either leg of what is in both rails, both ended where the result ends them."""
    rail, turn = layout.job.rail, radians(180 - abs(joint.turn_deg))
    half, corner = float(rail.width) / 2, float(joint.station)
    x, y = np.meshgrid(np.arange(0, 60, STEP), np.arange(-3 * half, 3 * half, STEP))
    there = np.ones_like(x, dtype=bool)
    low, high = np.full_like(x, -np.inf), np.full_like(x, np.inf)
    reach = np.zeros_like(x)
    for side, (ux, uy) in enumerate([(1.0, 0.0), (cos(turn), sin(turn))]):
        along, aside = x * ux + y * uy, x * uy - y * ux
        end, slope = joint.ends[side], float(layout.line.surfaces[joint.between[side]].slope) * (1 if side else -1)
        starts = (float(end.s) - corner) * (1 if side else -1)
        top = float(end.z) + slope * (along - starts)
        there &= (np.abs(aside) <= half) & (along >= starts)
        low = np.maximum(low, top - float(rail.depth) * hypot(1, slope))
        high, reach = np.minimum(high, top), np.maximum(reach, along)
    return float(np.max(reach[there & (low < high)], initial=0.0))


@pytest.mark.parametrize("name", [name for name in LINES if name != "deck"])
@pytest.mark.parametrize("turn", [90, 135, -160])
def test_rails_that_end_at_the_joint_lie_in_one_another_so_far(name, turn):
    """On 0.6.0 nothing told of it."""
    layout = laid(name, turn)
    (joint,) = (j for j in layout.joints if j.turn_deg)
    assert not joint.mitred
    found, width = in_both(layout, joint), float(layout.job.rail.width)
    assert (joint.lap > 0) is (found > width / 2 + float(layout.job.mark))
    assert joint.lap == 0 or joint.lap == pytest.approx(found, abs=4 * STEP)
    assert joint.lap == 0 or abs(turn) > 90


@pytest.mark.parametrize(("turn", "told"), [(45, False), (90, False), (120, False), (135, True), (-170, True)])
def test_a_mitre_that_no_saw_cuts_is_told_with_how_far_it_goes(turn, told):
    layout = laid("deck", turn)
    (joint,) = layout.joints
    assert joint.mitred
    assert joint.lap == (pytest.approx(3.5 / 2 * tan(radians(abs(turn) / 2))) if told else 0)


@pytest.mark.parametrize("name", ["deck", "rails of two heights"])
def test_what_is_told_to_do_parts_them(name):
    layout = laid(name, 150)
    assert sum(isinstance(one, RailsLap) for one in check(layout).cautions) == 1
    last = layout.job.surfaces[1]
    twice = replace(layout.job, surfaces=(layout.job.surfaces[0], land(20, 75.0), replace(last, turn=75.0)))
    again = lay_out(twice, read_rules("none", "in"))
    assert [joint.lap for joint in again.joints] == [0, 0]
