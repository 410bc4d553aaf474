"""Findings told together: what is alike is told once, and names all its places."""

from stairguard.model.findings import Finding, Location
from stairguard.model.subjects import AtPost, AtPosts, Foot, Numbered, Size
from stairguard.reports.words.rules.alike_findings import alike, brief_words, place_words


def of_job(quantity, what, place):
    return Finding(clause="job", status="job", quantity=quantity, verdict="fail", what=what, place=place)


def test_gaps_alike_over_several_surfaces_name_the_posts_of_each():
    pairs = {0: AtPosts("P1", "P2"), 2: AtPosts("P5", "P6")}
    gaps = [
        of_job("post gap", Size(Numbered(at, "landing"), "post gap"), Location(at, pair)) for at, pair in pairs.items()
    ]
    (same,) = alike(gaps)
    assert place_words(same) == (
        "widest clear gap between posts over surfaces 1, 3 (landing), along the strands at posts P1-P2, P5-P6"
    )
    assert brief_words(same) == "post gap, posts P1-P2, P5-P6, surfaces 1, 3"
    assert place_words(gaps[:1]).endswith("along the strands at posts P1 and P2")


def test_feet_alike_name_the_post_of_each():
    posts = {1: AtPost("P2"), 4: AtPost("P7")}
    feet = [of_job("foot of post", Foot(post), Location(at, post)) for at, post in posts.items()]
    (same,) = alike(feet)
    assert brief_words(same) == "foot of post, P2, P7, surfaces 2, 5"
    assert place_words(same).startswith("foot of posts P2, P7, ")
