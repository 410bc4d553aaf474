"""Strands too short to be made: told which, where and by how much, and long enough once that is done.

What can be made, 6 in or 150 mm of strand, is common practice, no source: a hand's breadth to hold it by, and an inch
at each end in the jaws of a press tool.
"""

from dataclasses import replace
from fractions import Fraction as F

import pytest

import stairguard
from stairguard.api.layout import report
from stairguard.errors import JobError
from stairguard.geometry.marks import tape_text
from stairguard.io.read.job_file import read_job, starter_text
from stairguard.model.fixes import Farther, TapeMark
from stairguard.rules.findings.checks import check
from stairguard.rules.fixes.measured_advice import apart
from stairguard.rules.pack.reader import read_rules
from stairguard.solve.lay_out import lay_out
from tests.solve.jobs import BASE
from tests.solve.lines import land, up

STRAND = replace(BASE.strand, terminal_take_up=F(1), tensioner_take_up=F(2), shortest=F(6))
NARROW = replace(BASE, rules="none", strand=STRAND)


def checked(job):
    return check(lay_out(job, read_rules(job.rules, job.unit)))


def short(found):
    return [f for f in stairguard.result(found)["findings"] if f["quantity"] == "strand length"]


@pytest.mark.parametrize(("length", "fails"), [(8, True), (F(143, 16), True), (9, False), (12, False)])
def test_a_deck_of_one_short_bay(length, fails):
    """8 in over posts of 1-1/2, outer face to outer face, less 3 of fittings: 5 in to cut, where 6 can be made."""
    found = checked(replace(NARROW, surfaces=(land(length),)))
    told = short(found)
    assert bool(told) is fails
    if fails:
        (one,) = told
        count = len(found.layout.fields[0].heights)
        assert one["verdict"] not in ("pass", "complies")
        assert (one["value"], one["limit"]) == (float(length) - 3, 6)
        assert f"strands 1 to {count} from P1 to P2" in one["what"]
        assert not found.passes
        more = tape_text(9 - F(length), "in", F(1, 16))
        assert one["fix"] == f"surface[1].length = 9 ({more} more)"
        assert one["margin"] == float(length) - 9  # by how much
        page = " ".join(report(found).split())
        assert f"strands 1 to {count} from P1 to P2, cut to fit between their fittings" in page
        assert not short(checked(replace(NARROW, surfaces=(land(9),))))
        assert short(checked(replace(NARROW, surfaces=(land(9 - F(1, 16)),))))


def test_between_the_two_posts_of_a_narrow_landing():
    """Ended at joints, 7.5 in between faces less 3: 4.5 in to cut; the fix, carried out, leaves no short strand."""

    def job(at):
        steps = up(6, start_post=-F(1))
        return replace(
            NARROW, strand=replace(STRAND, at_joints="break"), surfaces=(up(6), land(40, start_post=at), steps)
        )

    found = checked(job(F(30)))
    (one,) = short(found)
    posts = {p.label: p for p in found.layout.posts}
    first, last = one["what"].split(",")[0].split(" from ")[1].split(" to ")
    apart = posts[last].station - posts[first].station
    assert apart == 9
    assert one["value"] == pytest.approx(float(apart) - 1.5 - 3)
    assert one["fix"] == 'surface[2].start_post = "28-1/2 in" (1-1/2" less)'
    assert not short(checked(job(F(57, 2))))
    assert short(checked(job(F(57, 2) + F(1, 16))))


def test_where_no_key_sets_the_posts_apart_their_distance_is_told():
    """A deck of one bay between a wall's plate and a newel would need another deck: how much farther apart."""
    assert apart(F(13, 10), TapeMark("in", F(1, 16))).advice == Farther(F(21, 16), TapeMark("in", F(1, 16)))


def test_fittings_longer_than_a_strand_are_refused_with_where_it_is():
    strand = replace(STRAND, terminal_take_up=F(4), tensioner_take_up=F(4))
    with pytest.raises(
        JobError, match=r"than the 8 that strand 1 has from P1 to P2 between bearing faces; or those two"
    ):
        checked(replace(NARROW, strand=strand, surfaces=(land(8),)))


def test_the_job_file_has_a_default_and_a_key(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text(starter_text())
    assert read_job(path).strand.shortest == 6
    path.write_text(starter_text().replace("# shortest = 4 ", "shortest = 4 "))
    assert read_job(path).strand.shortest == 4
