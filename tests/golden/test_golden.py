"""Regressions: pages, data and drawings as they were when someone last read them; see `tests.golden.record`."""

import math
import re

import pytest

from tests.golden.cases import CASES, KEPT

_NUMBER = re.compile(r"-?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?")


def differences(kept: str, made: str) -> list[str]:
    """Lines that differ in more than the last digits of a computed number; machines round those differently."""
    old, new = kept.split("\n"), made.split("\n")  # which tells other ends of lines too
    found = [f"{len(old)} lines kept, {len(new)} made"] if len(old) != len(new) else []
    for number, (a, b) in enumerate(zip(old, new, strict=False), 1):
        if a != b and not (_NUMBER.sub("#", a) == _NUMBER.sub("#", b) and _close(a, b)):
            found.append(f"line {number}:\n  kept {a}\n  made {b}")
    return found


def _close(a: str, b: str) -> bool:
    pairs = zip(_NUMBER.findall(a), _NUMBER.findall(b), strict=True)
    return all(x == y or _noise(x, y) for x, y in pairs)


def _noise(x: str, y: str) -> bool:
    """Whether two numbers of many digits are one: a tape mark or a printed figure has to be the same to the letter."""
    return min(len(x), len(y)) > 9 and math.isclose(float(x), float(y), rel_tol=1e-8, abs_tol=1e-12)


@pytest.mark.parametrize("name", sorted(CASES))
def test_it_reads_as_it_was_kept(name):
    kept = KEPT.joinpath(f"{name}.txt").read_text(encoding="utf-8")
    found = differences(kept, CASES[name]())
    assert not found, "read the difference, then python -m tests.golden.record\n" + "\n".join(found[:5])


def test_nothing_is_kept_that_nobody_makes():
    assert {path.stem for path in KEPT.iterdir()} == set(CASES)


@pytest.mark.parametrize(
    ("kept", "made"),
    [
        ('3" square', '4" square'),
        ("passes", "fails"),
        ("a\nb", "a"),
        ("2.123456789", "2.123456889"),
        ("x 7", "x 7 in"),
        ("a\nb\n", "a\r\nb\r\n"),
    ],
)
def test_a_difference_is_noticed(kept, made):
    assert differences(kept, made)


def test_rounding_of_another_machine_is_none():
    assert not differences('"value": 2.12345678901234', '"value": 2.12345678901239')
