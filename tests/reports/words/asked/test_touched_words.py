"""What an opening's largest sphere touches: each once, a row of numbered ones by its ends, a strand said to be one."""

from fractions import Fraction

import pytest

from stairguard.geometry.clearance.outline import Vec
from stairguard.geometry.clearance.polygon import polygon
from stairguard.reports.words.asked.touched_words import beside_limit, touched_words

RING = [Vec(Fraction(x), Fraction(z)) for x, z in ((0, 0), (4, 0), (6, 2), (6, 5), (3, 7), (0, 5))]


@pytest.mark.parametrize(
    ("sites", "strands", "words"),
    [
        ([0, 2, 2], (), "edge 1, edge 3"),
        ([3, 2, 1, 0], (), "edge 4, edge 3, edge 2, edge 1"),
        ([5, 0, 1, 2, 3], (), "edges 1 to 4, 6"),
        ([0, 1, 2, 3, 5], (2,), "edge 1, edge 2 (a strand), edge 3, edge 4, edge 6"),
    ],
)
def test_more_than_a_few_edges_are_a_row_unless_one_is_a_strand(sites, strands, words):
    assert touched_words(polygon(RING, frozenset(strands), Fraction(1, 16)), sites) == words


@pytest.mark.parametrize(
    ("diameter", "sign", "words"),
    [(4.5, 1, 'larger by 0.50"'), (3.5, -1, 'smaller by 0.50"'), (4.0, 1, "larger by less than can be written")],
)
def test_a_sphere_beside_its_limit(diameter, sign, words):
    assert beside_limit(diameter, Fraction(4), sign, "in") == f"sphere {words}"


def test_a_sphere_of_the_limit():
    assert beside_limit(4.0, Fraction(4), 0, "in") == "sphere just as large"
