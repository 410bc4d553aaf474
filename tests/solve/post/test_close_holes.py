"""Pairs of holes that come too close, found again among all pairs of every post."""

from itertools import combinations

import pytest

from tests.solve.lines import JOBS, solved
from tests.solve.twoposts import TWO

ALL = JOBS | {f"two posts, {name}": job for name, job in TWO.items()}


def gap(one, other):
    """How near two strands come in their post: at both centres, on each face, or on the faces back to back."""
    apart = [abs(one.height - other.height)]
    faces = [(a, b) for a, b in zip(one.faces, other.faces, strict=True) if a and b]
    faces = faces or [(a, b) for a in one.faces for b in other.faces if a and b]
    return min(apart + [abs(a.height - b.height) for a, b in faces])


@pytest.mark.parametrize("name", ALL)
def test_every_pair_too_close_is_told_once(name):
    layout = solved(ALL[name])
    least = layout.job.strand.diameter + layout.job.mark
    for post in layout.posts:
        pairs = [(a, b) for a, b in combinations(post.holes, 2) if a.strand != b.strand or not (a.broken and b.broken)]
        found = {(a, b): gap(a, b) for a, b in pairs if gap(a, b) < least}
        assert {(pair.first, pair.second): pair.gap for pair in post.close} == found
