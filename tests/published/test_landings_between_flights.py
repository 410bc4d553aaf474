"""Where risers stand at a landing so that a rail keeps its pitch: two old books on handrails.

* Quarter-turn: International Correspondence Schools, Building Construction, vol. 3, section 44: the two landing risers
  half a tread from where the rails' centre lines cross, and the rail keeps the common pitch of both flights, no ramp
  (chestofbooks.com/architecture/Building-Construction-V3/Special-Forms-Of-Stairways-44-Quarter-Platform.html).
* Half-turn: The American House Carpenter, article 271: the developed pitch-boards of the lower and the upper flight lie
  in one straight line. With level landings that puts one run between the two landing risers along the developed guard.

The jobs are ours; the rules are the books'.
"""

from dataclasses import replace
from fractions import Fraction as F

import pytest

from stairguard.model.guard.jogs import Altered
from stairguard.model.job import Flight, Job, Landing, Post, Rail, Strand
from stairguard.rules.pack.reader import read_rules
from stairguard.solve.lay_out import lay_out

STEPS = [(F(31, 4), F(10)), (F(7), F(11)), (F(13, 2), F(12))]


def job(rise, run, lower, upper, turn):
    """Two like flights and the guard's way over the landing between: ``lower`` to the turn, ``upper`` after it."""
    flight = Flight(risers=6, rise=rise, run=run, nosing=F(0), tread=F(1), open_risers=False, down=False, turn=0.0)
    over = (Landing(length=lower, turn=0.0, level_piece=False), Landing(length=upper, turn=turn, level_piece=False))
    return Job(
        title="Two flights",
        unit="in",
        mark=F(1, 16),
        rules="irc-2021",
        rail=Rail(height=F(36), landing_height=F(36), depth=F(3, 2), width=F(7, 2), meet="as-given"),
        strand=Strand(
            diameter=F(1, 8), spacing=F(3), at_joints="through", terminal_take_up=F(0), tensioner_take_up=F(0)
        ),
        post=Post(width=F(3, 2), max_gap=F(48), setback=F(5)),
        surfaces=(flight, *over, flight),
    )


def joint_of(given):
    layout = lay_out(given, read_rules(given.rules, given.unit))
    (joint,) = layout.joints
    return layout, joint


@pytest.mark.parametrize("turn", [90.0, -90.0, 180.0])
@pytest.mark.parametrize(("rise", "run"), STEPS)
def test_half_a_tread_either_side_keeps_the_pitch(rise, run, turn):
    layout, joint = joint_of(job(rise, run, run / 2, run / 2, turn))
    assert joint.jog == 0
    assert not joint.remedies
    first, last = layout.line.surfaces[0], layout.line.surfaces[-1]
    assert joint.between == (0, 3)
    # one straight line in the developed elevation: any two of its points give the pitch of both flights
    tops = [(r.start, r.end) for r in (layout.rails[0], layout.rails[3])]
    slopes = {(b.z - a.z) / (b.s - a.s) for a, b in (*tops, (tops[0][0], tops[1][1]))}
    assert slopes == {rise / run} == {first.slope} == {last.slope}
    # over the landing at the turn: half a rise above the height over the nosings
    at_turn = first.datum(joint.station) + layout.rails[0].height
    assert joint.station == first.end.s + run / 2
    assert at_turn == first.end.z + 36 + rise / 2
    # the least height over the landing, a rail without a level piece having none of its own, is at its lower edge
    assert layout.rails[1].height == 36
    assert layout.rails[2].height == 36 + rise / 2


@pytest.mark.parametrize("out", [F(1), F(-2), F(5, 2)])
@pytest.mark.parametrize("turn", [90.0, 180.0])
@pytest.mark.parametrize(("rise", "run"), STEPS)
def test_any_other_place_cripples_the_rail_and_the_riser_offset_mends_it(rise, run, turn, out):
    given = job(rise, run, run / 2 + out, run / 2 + out, turn)
    _, joint = joint_of(given)
    # each side's rail has gone the slope times what it is out too far; they end on the faces of a post of 1-1/2 in,
    # between which an unbroken rail would have climbed
    assert joint.jog == -2 * out * rise / run + F(3, 2) * rise / run
    assert joint.meets is None
    (offset,) = (r for r in joint.remedies if r.what is Altered.RISER_OFFSET)
    assert offset.value == -2 * out
    surfaces = list(given.surfaces)
    surfaces[2] = replace(surfaces[2], length=surfaces[2].length + offset.value)
    assert joint_of(replace(given, surfaces=tuple(surfaces)))[1].jog == 0


@pytest.mark.parametrize("share", [F(1, 4), F(2, 3), F(9, 10)])
def test_a_half_turn_keeps_its_pitch_wherever_the_turn_is_if_one_run_lies_between_the_risers(share):
    rise, run = F(7), F(11)
    _, joint = joint_of(job(rise, run, run * share, run * (1 - share), 180.0))
    assert joint.jog == 0


def test_a_longer_landing_leaves_room_for_a_level_piece_of_what_is_over():
    rise, run, over = F(7), F(11), F(6)
    _, joint = joint_of(job(rise, run, run / 2, run / 2 + over, 90.0))
    (level,) = (r for r in joint.remedies if r.what is Altered.LEVEL_PIECE)
    # the lower rail would run level over what the landing has more than one run
    assert level.value == over
