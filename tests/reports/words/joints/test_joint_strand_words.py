"""What strands do at a joint, in words."""

from stairguard.reports.words.joints.joint_strand_words import carried_words
from tests.reports.words.joints.test_joint_words import FITTINGS
from tests.solve.lines import JOBS, solved
from tests.solve.twoposts import TWO


def test_what_carries_a_strand_through_or_ends_it():
    for job in (JOBS["quarter-turn"], TWO["broken at one post"], TWO["level"]):
        for joint in solved(job).joints:
            for strand in joint.strands:
                words = FITTINGS[strand.fitting]
                if strand.passed:
                    words += f" at {joint.end_post(strand)}, {FITTINGS[strand.passed]} at {joint.own_post(strand)}"
                elif strand.whole and joint.second_post:
                    words += ", at each of two posts"
                assert carried_words(joint, strand) == words
