"""Numbers and posts told in rows and steps are read back one by one."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stairguard.reports.words.grouping import groups, in_steps, labels, series


def read_back(text, prefix=""):
    """Every number a reader would make of the words."""
    found = set()
    number = rf"{prefix}(\d+)"
    rows = rf"{number}(?: to {number})?"
    # a row or pair, "and so on in steps of n, to" its last
    for match in re.finditer(
        rf"{rows}(?:, {number})?, and so on in steps of (\d+), to {rows}(?:, {number})?"
        rf"|{number} to {number} in steps of (\d+)|{rows}",
        text,
    ):
        a, b, pair, step, c, d, last, low, high, by, one, other = (int(g) if g else None for g in match.groups())
        if step:
            first, end = a, b or pair or a
            assert (d or last or c) - c == end - first
            for start in range(first, c + 1, step):
                found |= set(range(start, start + end - first + 1))
        elif by:
            found |= set(range(low, high + 1, by))
        else:
            found |= set(range(one, (other or one) + 1))
    return found


@pytest.mark.parametrize(
    ("numbers", "text"),
    [
        ([], ""),
        ([3], "3"),
        ([1, 2], "1, 2"),
        ([1, 2, 3], "1 to 3"),
        ([2, 6, 10], "2, 6, 10"),
        ([2, 6, 10, 14], "2 to 14 in steps of 4"),
        ([1, 2, 5, 6, 9, 10, 13, 14], "1, 2, and so on in steps of 4, to 13, 14"),
        ([5, 1, 1, 9, 13, 20], "1 to 13 in steps of 4, 20"),
    ],
)
def test_words(numbers, text):
    assert in_steps(numbers) == text


@given(st.sets(st.integers(1, 60)))
def test_every_number_is_read_back(numbers):
    assert read_back(in_steps(numbers)) == numbers


@given(st.integers(1, 20), st.integers(1, 4), st.integers(5, 12), st.integers(1, 12))
def test_rows_in_steps_are_read_back(first, row, step, count):
    numbers = {first + k * step + j for k in range(count) for j in range(row)}
    assert read_back(in_steps(numbers, "P"), "P") == numbers


def test_labels_keep_their_letters():
    assert labels(["W1", "P1", "P2", "P3", "N2"]) == "W1, P1 to P3, N2"


def test_a_series_has_one_step_and_single_ones_none():
    found = series([0, 5, 10, 15, 17], lambda _: 0, lambda n: (n,))
    assert [(one.members, one.step) for one in found] == [((0, 5, 10, 15), (5,)), ((17,), ())]


def test_groups_keep_the_order_of_their_first():
    assert groups("abcab", lambda letter: letter) == [["a", "a"], ["b", "b"], ["c"]]
