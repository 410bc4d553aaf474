"""The witness would notice: a good result in which one figure is changed is found wrong, whichever figure it is."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from tests.rebuild.asmarked import as_marked
from tests.rebuild.bodies import rebuild
from tests.rebuild.jobs import ordinary
from tests.rebuild.laid import laid_out
from tests.rebuild.line import Line
from tests.rebuild.openings import compare
from tests.rebuild.space import Space
from tests.rebuild.witness import counted, placed

JOBS = {"stair off a deck": 50000, "from stock, with sleeves": 70001, "rails that leave a jog": 31}

OUTSIDE = {
    "checks": "figures under a rule: tests/rules",
    "findings": "figures under a rule: tests/rules",
    "openings.limit": "a rule's figure: tests/rules and tests/published",
    "straight": "the band of rails over measured nosings: tests/solve",
    "give": "forces: tests/statics",
    "joints.remedies": "what would mend a jog is carried out in tests/rules",
    "cuts.weights.strand": "of a density: tests/solve",
}
"""Figures outside the witness's charge, by the start of their path, and why."""


def leaves(data: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[tuple[Any, ...], float]]:
    """Every number of a result and the way to it."""
    if isinstance(data, dict | list):
        for key, value in data.items() if isinstance(data, dict) else enumerate(data):
            yield from leaves(value, (*path, key))
    elif isinstance(data, int | float) and not isinstance(data, bool):
        yield path, data


def kind(path: tuple[Any, ...]) -> str:
    return ".".join(part for part in path if isinstance(part, str))


def noticed(job: dict[str, Any], result: dict[str, Any], opening: bool) -> bool:
    """Whether anything is found wrong; a result that cannot even be rebuilt is."""
    try:
        if opening:
            guard = rebuild(job, result)
            return bool([*as_marked(Line(job, Space(job, result)), guard)] or compare(job, guard, result).wrong)
        return any(True for found in (placed, counted) for _ in found(job, result))
    except (AssertionError, LookupError, StopIteration, ValueError, ZeroDivisionError, RuntimeError):
        return True


@pytest.mark.parametrize("seed", JOBS.values(), ids=JOBS.keys())
def test_one_changed_figure_is_noticed(seed):
    """Of every kind of figure the one in the middle, changed by a hundredth, or a count by one."""
    job = ordinary(seed)[1]
    result = laid_out(job)
    # the way at joints that is not built is no part of this guard
    outside = *OUTSIDE, f"comparison.{'break' if result['comparison']['chosen'] == 'through' else 'through'}"
    figures: dict[str, list[tuple[tuple[Any, ...], float]]] = {}
    for path, value in leaves(result):
        if abs(value) > 1e-6 and not kind(path).startswith(outside):
            figures.setdefault(kind(path), []).append((path, value))
    assert not noticed(job, result, False)
    assert not noticed(job, result, True)
    passed = []
    for name, found in figures.items():
        path, value = found[len(found) // 2]
        place = result
        for key in path[:-1]:
            place = place[key]
        place[path[-1]] = value + 1 if isinstance(value, int) else value * 1.01
        if not noticed(job, result, name.startswith("openings")):
            passed.append(name)
        place[path[-1]] = value
    assert passed == []
