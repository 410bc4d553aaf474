"""What pieces are called."""

from stairguard.model.guard.pieces import StrandPiece
from stairguard.reports.words.names import piece_name


def test_a_piece_is_named_by_its_strand_and_posts():
    assert piece_name(StrandPiece(7, ("P1", "P5"))) == "7 (P1-P5)"
    assert piece_name(StrandPiece(7, ("P3",))) == "7 (P3)"
