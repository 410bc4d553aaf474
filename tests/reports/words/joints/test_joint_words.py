"""What is said of joints and holes, each sentence once."""

from dataclasses import replace
from fractions import Fraction as F
from typing import get_args

import pytest

from stairguard.model.guard.passages import Bend, LineEnd, RailsApart, RunLimit
from stairguard.model.guard.placed_posts import CloseHoles
from stairguard.model.guard.rail_joints import Unmitred
from stairguard.reports.words.joints.joint_words import close_words, ended_words, fitting_words, unmitred_words
from tests.solve.lines import JOBS, solved

WHY = {
    None: "",
    "asked": "the job ends strands at joints",
    "line closes": "the line closes there: no strand goes through",
    "none beyond": "no strand of that number beyond",
    "angle changes": "more changes of angle than one run may have",
    "longest run": "longer than one run may be",
    "last post": "end of the line",
    "wall": "the wall",
    "newel": "the newel",
    Bend(64.25, 60.0): "bends 64.25 deg there, more than the 60 deg its fittings allow",
    RailsApart(2.5, in_the_way=True): "the rails' undersides stand 2.5 mm apart there, so one is in strand 1's way",
    RailsApart(2.5, in_the_way=False): "the rails' undersides stand 2.5 mm apart there, so the lowest strands could "
    "not keep their places",
}


@pytest.mark.parametrize("ended", WHY)
def test_why_a_strand_ends(ended):
    assert ended_words(ended, "mm") == WHY[ended]


def test_every_reason_has_words():
    assert {*get_args(RunLimit), *get_args(LineEnd)} < set(WHY)


@pytest.mark.parametrize(
    ("where", "turns", "words"),
    [
        ("one face", True, "on one face"),
        ("opposite faces", False, "on opposite faces"),
        ("opposite faces", True, "across the corner"),
        ("centre line", True, "on the centre line"),
    ],
)
def test_where_holes_come_too_close(where, turns, words):
    assert close_words(CloseHoles(None, None, F(0), where), turns=turns) == words


FITTINGS = {
    "straight": "straight pass",
    "one plane": "angle pass in one plane",
    "compound": "compound pass",
    "terminal": "terminal",
    "tensioner": "tensioner",
}


def test_what_fittings_are_called():
    assert {fitting: fitting_words(fitting) for fitting in FITTINGS} == FITTINGS


UNMITRED = {
    "turned back": "the rails turn back on themselves: each ends on the post",
    "different heights": "the rails arrive at different heights: each ends on the post",
    "different lines": "the rails come to the post's faces at one height, not to one line: each ends on the post",
    "half-turn": "a half-turn: each rail ends on the post, or a bent piece joins them",
    "twisted": "mitred, the sections would be twisted 12.3 deg: post, level piece or easing",
}


def test_why_rails_end_on_the_post():
    assert set(UNMITRED) == set(get_args(Unmitred))
    joint = next(joint for joint in solved(JOBS["quarter-turn"]).joints if joint.cut is not None)
    joint = replace(joint, cut=replace(joint.cut, twist_deg=-12.34))
    assert {why: unmitred_words(replace(joint, unmitred=why)) for why in UNMITRED} == UNMITRED
    assert unmitred_words(replace(joint, unmitred=None)) == ""
