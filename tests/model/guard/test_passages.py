"""Which strands end though their line goes on."""

import pytest

from stairguard.model.guard.passages import Bend, Passage, RailsApart


@pytest.mark.parametrize("ended", ["asked", Bend(50.0, 45.0), RailsApart(3.0, False), "angle changes", "longest run"])
def test_a_strand_is_kept_back_by_a_joint_or_by_what_one_run_may_be(ended):
    assert Passage("both", ended).kept_back


@pytest.mark.parametrize("ended", [None, "line closes", "last post", "wall", "newel", "none beyond"])
def test_a_strand_is_not_kept_back_where_it_passes_or_there_is_nothing_to_go_on_to(ended):
    assert not Passage("before", ended).kept_back
