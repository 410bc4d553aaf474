"""Lists of runs, in words: where ends keep to inner faces though the outer ones are asked for."""

from stairguard.reports.words.lists.run_words import kept_inside_words


def test_which_ends_keep_to_inner_faces_and_why():
    assert kept_inside_words(["P4", "P5", "P9"]) == (
        "The job asks for outer faces. Ends at P4, P5, P9 that are told as inner bear on the faces they come to, not "
        "the outer ones: another strand ends in the same hole, or too near it for two fittings through the post."
    )
