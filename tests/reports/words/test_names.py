"""What pieces are called."""

import pytest

from stairguard.model.guard.pieces import StrandPiece
from stairguard.reports.words.names import numbered, piece_name


def test_a_piece_is_named_by_its_strand_and_posts():
    assert piece_name(StrandPiece(7, ("P1", "P5"))) == "7 (P1-P5)"
    assert piece_name(StrandPiece(7, ("P3",))) == "7 (P3)"


@pytest.mark.parametrize(
    ("numbers", "text"),
    [([], ""), ([2, 1], "1, 2"), ([1, 2, 3, 5], "1 to 3, 5"), ([4, 4, 9, 8, 7], "4, 7 to 9")],
)
def test_numbers_in_rows(numbers, text):
    assert numbered(numbers) == text
