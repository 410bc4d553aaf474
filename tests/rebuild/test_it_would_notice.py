"""The witness would notice: a good result in which one figure is changed is found wrong, whichever figure it is."""

from __future__ import annotations

import copy
from collections.abc import Iterator
from typing import Any

import pytest

from tests.rebuild.asmarked import as_marked
from tests.rebuild.beside import under_lowest
from tests.rebuild.bodies import rebuild
from tests.rebuild.jobs import EXAMPLES, load, ordinary
from tests.rebuild.laid import laid_out
from tests.rebuild.line import Line
from tests.rebuild.openings import compare
from tests.rebuild.space import Space
from tests.rebuild.witness import counted, placed

FASCIA = next(path for path in EXAMPLES if path.stem == "deck-fascia")
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


def told_of_fascia() -> tuple[dict[str, Any], dict[str, Any]]:
    """An example whose guard stands out from the stair's side, laid out anew."""
    job = load(FASCIA)
    result = laid_out(job)
    assert result is not None
    assert not noticed(job, result, False)
    assert not noticed(job, result, True)
    return job, copy.deepcopy(result)


def in_one_plane(job: dict[str, Any]) -> dict[tuple[str, int], dict[str, Any]]:
    """The same job's openings as if strands and stair lay in one plane, by place and surface."""
    flat = copy.deepcopy(job)
    for key in ("mount", "drop", "offset", "hand"):
        flat["post"].pop(key)
    result = laid_out(flat)
    assert result is not None
    return {(o["where"], o["surface"]): o for o in result["openings"]}


@pytest.mark.parametrize("keys", [("sphere",), ("sphere_as_marked",), ("sphere", "centre", "contacts", "touches")])
def test_openings_judged_in_the_plane_are_noticed(keys):
    """Each of them by itself."""
    job, result = told_of_fascia()
    plane, changed = in_one_plane(job), 0
    for opening in result["openings"]:
        flat = plane.get((opening["where"], opening["surface"]))
        if not under_lowest(opening) or flat is None or abs(flat["sphere"] - opening["sphere"]) < 0.01:
            continue
        kept = dict(opening)
        opening |= {key: flat[key] for key in keys}
        assert noticed(job, result, True), opening["where"]
        opening |= kept
        changed += 1
    assert changed >= 5


def test_an_opening_left_out_beside_the_stair_is_noticed():
    job, result = told_of_fascia()
    for k in (0, 2):
        told = result["openings"]
        most = max(o["sphere"] for o in told if o["surface"] == k and under_lowest(o))
        result["openings"] = [o for o in told if o["surface"] != k or o["sphere"] < most - 1e-6]
        assert noticed(job, result, True)
        result["openings"] = told


@pytest.mark.parametrize("said", ["offset forgotten", "other hand"])
def test_a_line_of_the_wrong_length_at_a_corner_is_noticed(said):
    """The guard as it would be on the edge itself, or inside the turn."""
    job, _ = told_of_fascia()
    wrong = copy.deepcopy(job)
    wrong["post"] |= {"offset": 0} if said == "offset forgotten" else {"hand": "right"}
    result = laid_out(wrong)
    assert result is not None
    assert noticed(job, result, False)
    assert any("start and end" in words for words in placed(job, result))


@pytest.mark.parametrize("by", [-0.01, 0.01])
def test_an_edge_told_elsewhere_is_noticed(by):
    job, result = told_of_fascia()
    for point in result["surfaces"][1]["edge"]:
        for axis in (0, 1):
            point[axis] += by
            assert noticed(job, result, False)
            point[axis] -= by
