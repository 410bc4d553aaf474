"""Labels of posts are taken apart as they were put together."""

import pytest

from stairguard.model.guard.placed_posts import label_parts, post_label


@pytest.mark.parametrize(("support", "letter"), [("post", "P"), ("wall", "W"), ("newel", "N")])
def test_a_label_is_its_letter_and_number(support, letter):
    for number in (1, 2, 10, 123):
        label = post_label(support, number)
        assert label == f"{letter}{number}"
        assert label_parts(label) == (letter, number)
