"""The command ``transition`` and its function: the page's first line, and figures far from any rail's."""

import re
from fractions import Fraction as F

import pytest

import stairguard
from stairguard.cli.main import main

AT = ["transition", "--rise", "7in", "--run", "10.5in", "--flight-height", "36in", "--at", "bottom"]
ABOVE = (
    "JOG of {} at the post: the landing's rail stands above the flight's. For none, move the post to where they meet, "
    '1-1/2" level {} of nosing 1{}.'
)
HIGH = "; or make the landing's rail 3' 7\" high, plumb"
NONE = "NO JOG to make at the post, at nosing 1: the 0.02 in left is less than half a mark."


@pytest.mark.parametrize(
    ("landing", "post", "result"),
    [
        # bottom: x = (hl - hf - R) G / R, by hand (44 - 36 - 7) 10.5 / 7 = 1.5; at x the flight's rail is at 43 + 2x/3
        ("44in", [], 'NO JOG with a post 1-1/2" level uphill of nosing 1: there the two rails meet.'),
        ("44in", ["--post-at", "1.5in"], 'NO JOG: the two rails meet at the post, 1-1/2" level uphill of nosing 1.'),
        ("43in", ["--post-at", "0in"], "NO JOG: the two rails meet at the post, at nosing 1."),
        ("44in", ["--post-at", "0in"], ABOVE.format('1"', "uphill", HIGH)),
        ("42in", ["--post-at", "0in"], ABOVE.replace("above", "below").format('1"', "downhill", HIGH)),
        ("43.02in", ["--post-at", "0in"], NONE),
        # so far down that no landing rail meets it: the one figure to set is the post's place
        ("44in", ["--post-at=-120in"], ABOVE.format("6' 9\"", "uphill", "")),
    ],
)  # fmt: skip
def test_the_page_starts_with_the_jog_and_what_to_set(capsys, landing, post, result):
    """0.6.0 began with a title and told the jog last."""
    assert main([*AT, "--landing-height", landing, *post]) == 0
    out = capsys.readouterr().out
    assert " ".join(out.partition("\n==")[0].split()) == result


def test_what_the_first_line_says_to_set_leaves_no_jog(capsys):
    given = {"rise": "7-3/16in", "run": "10-5/8in", "flight_height": "36in", "landing_height": "42in", "at": "top"}
    options = [part for key, value in given.items() for part in (f"--{key.replace('_', '-')}", value)]
    assert main(["transition", *options, "--post-at", "3/4in"]) == 0
    told = " ".join(capsys.readouterr().out.partition("\n==")[0].split())
    place, height = re.findall(r"([0-9'/ -]+\") at the nearest mark \(([0-9.]+) in\)", told)[1:]
    for text in place:
        assert abs(stairguard.transition(**given, post_at=text.strip()).jog) < F(1, 32)
    for text in height:
        assert abs(stairguard.transition(**{**given, "landing_height": text.strip()}, post_at="3/4in").jog) < F(1, 32)


@pytest.mark.parametrize(("landing", "higher"), [("44in", "landing"), ("42in", "flight"), ("43in", None)])
def test_whose_rail_stands_higher_is_told_with_the_answer(landing, higher):
    found = stairguard.transition("7in", "10.5in", "36in", landing, "bottom", post_at="0in")
    assert found.higher == higher


@pytest.mark.parametrize(
    ("landing", "made"),
    [(F(43), False), (F("43.031"), False), (F("43.03125"), True), (F("42.9"), True)],
)
def test_a_jog_is_one_to_make_from_half_a_mark(landing, made):
    """Half of 1/16 in is 0.03125; the page's start and its end say the same of it."""
    found = stairguard.transition(7, 10.5, 36, landing, "bottom", post_at=0)
    assert found.made is made
    words = stairguard.transition_report(found)
    assert words.startswith("JOG" if made else "NO JOG")
    assert ("no jog to make" in " ".join(words.split())) is (not made and found.jog != 0)
