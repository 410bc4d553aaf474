"""Which joints are told for one another, and which the others are."""

from dataclasses import replace
from fractions import Fraction as F

from stairguard.reports.words.joints.joint_likeness import alike_sentence, apart_from_place
from tests.solve.lines import JOBS, solved


def moved(joint, post, by, surfaces):
    """The same joint farther along the line."""
    return replace(
        joint,
        post=post,
        between=tuple(index + surfaces for index in joint.between),
        station=joint.station + by,
        boundary=joint.boundary + by,
        meets=None if joint.meets is None else joint.meets._replace(s=joint.meets.s + by),
        nosing=None if joint.nosing is None else replace(joint.nosing, station=joint.nosing.station + by),
        remedies=(),
        strands=tuple(
            replace(strand, surfaces=tuple(index + surfaces for index in strand.surfaces)) for strand in joint.strands
        ),
    )


def test_a_joint_is_alike_wherever_it_is_and_by_nothing_else():
    joint = replace(solved(JOBS["quarter-turn"]).joints[0], remedies=())
    there = moved(joint, "P9", F(100), 2)
    assert apart_from_place(there) == apart_from_place(joint)
    for other in (
        replace(there, turn_deg=there.turn_deg + 1),
        replace(there, jog=F(1)),
        replace(there, boundary=there.boundary + 1),
        replace(there, barred="asked"),
        replace(there, unmitred="half-turn"),
        replace(there, strands=there.strands[1:]),
    ):
        assert apart_from_place(other) != apart_from_place(joint)


def test_keys_of_the_others_are_told_where_there_is_a_jog():
    joint = replace(solved(JOBS["quarter-turn"]).joints[0], post="P3", second_post=None, between=(0, 1), jog=F(0))
    same = [joint, moved(joint, "P7", F(100), 2), moved(joint, "P11", F(200), 4)]
    assert alike_sentence(same) == "Alike: P7, P11."
    assert alike_sentence([replace(one, jog=F(1)) for one in same]) == (
        "Alike: P7, P11, where the keys below count from surface 3, 5 on instead of 1."
    )
