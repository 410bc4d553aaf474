"""Cuts of rails, in words."""

from dataclasses import replace

import pytest

from stairguard.model.guard.pieces import EndCut
from stairguard.reports.words.joints.rail_cut_words import cut_in_list, cut_notes, cut_sentences, top_notes
from tests.solve.lines import JOBS, solved
from tests.solve.twoposts import TWO

CUTS = {
    "square": EndCut(kind="square", angle_deg=0.0, long_point="neither"),
    "plumb 34.6° under": EndCut(kind="plumb", angle_deg=34.62, long_point="underside"),
    "mitre 17.3° top": EndCut(kind="mitre", angle_deg=17.31, long_point="top"),
    "flat 45.0° / 0.0° left": EndCut(kind="plan mitre", angle_deg=45.0, long_point="outside", side="left"),
    "flat 40.0° / 5.0° right under": EndCut(
        kind="compound", angle_deg=40.0, long_point="outside", tilt_deg=5.0, side="right", edge="underside"
    ),
}


@pytest.mark.parametrize("words", CUTS)
def test_a_cut_in_a_list(words):
    assert cut_in_list(CUTS[words]) == words


NOTES = {
    "square": "square cut",
    "plumb 34.6° under": "plumb cut, laid flat: mitre 0.0°, tilt 34.6°, long at underside",
    "mitre 17.3° top": "mitre, laid flat: mitre 0.0°, tilt 17.3°, long at top",
    "flat 45.0° / 0.0° left": "mitre across its top, laid flat: mitre 45.0°, tilt 0.0°, long outside",
    "flat 40.0° / 5.0° right under": "compound cut, laid flat: mitre 40.0°, tilt 5.0°, long outside at underside",
}


@pytest.mark.parametrize("words", CUTS)
def test_a_cut_on_a_drawing(words):
    """Both pieces cut so: said once of both, and that they meet flush where they are mitred."""
    layout = solved(JOBS["quarter-turn"])
    joint = layout.joints[0]
    rails = tuple(replace(rail, start_cut=CUTS[words], end_cut=CUTS[words]) for rail in layout.cuts.rails)
    layout = replace(layout, cuts=replace(layout.cuts, rails=rails))
    pieces = dict.fromkeys(layout.cuts.rail_over(index).label for index in joint.between)
    said = f"{' and '.join(pieces)}: {NOTES[words]}"
    assert list(cut_notes(layout, replace(joint, unmitred=None))) == [f"{said}; they meet flush"]
    notes = list(cut_notes(layout, replace(joint, unmitred="half-turn")))
    assert notes == [said, "a half-turn: each rail ends on the post, or a bent piece joins them"]


@pytest.mark.parametrize("name", ["quarter-turn", "up, up", "ramp, then a turned flight", "level"])
def test_a_page_tells_the_cut_that_is_made(name):
    """Flush exactly where the rails are mitred; ends on faces with the reason for them; saw angles of both pieces."""
    layout = solved((JOBS | TWO)[name])
    for joint in layout.joints:
        said = cut_sentences(layout, joint)
        if not joint.mitred:
            assert said.startswith("The pieces ")
            assert ("The true mitre, not flush" in said) == bool(joint.cut and not joint.cut.flush and not joint.jog)
            continue
        assert "flush" in said
        assert "not flush" not in said
        if joint.turn_deg and joint.bend_deg:
            for saw in (joint.cut.first, joint.cut.second):
                tilt = f"{abs(saw.flat_tilt):.1f}°"
                blade = "upright" if tilt == "0.0°" else f"tilted {tilt}"
                assert f"mitre {abs(saw.flat_mitre):.1f}° across its top, blade {blade}" in said


def test_tops_of_posts_that_slope_alike_are_said_once():
    layout = solved(TWO["level"])
    posts = layout.posts_of(next(joint for joint in layout.joints if joint.second_post))
    names = " and ".join(post.label for post in posts)
    assert list(top_notes(posts)) == [f"top of {names}: level"]
    up, both = replace(posts[0], bevels_deg=(30.0, 30.0)), replace(posts[1], bevels_deg=(0.0, -12.5))
    assert list(top_notes((up, both))) == [
        f"top of {up.label}: 30.0° up", f"top of {both.label}: level before, 12.5° down after",
    ]  # fmt: skip
