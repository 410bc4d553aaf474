"""Jobs laid out by the program, in process, and their results as another program reads them."""

from __future__ import annotations

import json
import tempfile
from functools import lru_cache
from pathlib import Path
from typing import Any

import stairguard
from tests.rebuild.jobs import length, ordinary, seeds, toml_text


def laid_out(job: dict[str, Any]) -> dict[str, Any] | None:
    """The job's result, None where the program says that it cannot be laid out."""
    return _laid_out(toml_text(job))


@lru_cache(maxsize=2000)
def _laid_out(text: str) -> dict[str, Any] | None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "job.toml"
        path.write_text(text, encoding="utf-8")
        try:
            checked = stairguard.lay_out(stairguard.read_job(path))
        except stairguard.StairguardError:
            return None
    found: dict[str, Any] = json.loads(json.dumps(stairguard.result(checked, fixes=False), allow_nan=False))
    return found


def cut_off(job: dict[str, Any]) -> float:
    """What the two fittings of a strand take off its length."""
    keys = ("terminal_take_up", "tensioner_take_up")
    return sum(length(job["strand"].get(key, 0), job["unit"]) for key in keys)


def laid(kind: str, count: int) -> list[tuple[str, dict[str, Any], dict[str, Any]]]:
    """The jobs of one kind that can be laid out, each with a name and its result; most must be."""
    found = []
    asked = seeds(kind, count)
    for seed in asked:
        _, job = ordinary(seed)
        result = laid_out(job)
        if result is not None:
            found.append((f"job {seed}", job, result))
    assert len(found) >= 0.8 * len(asked) - 1, f"only {len(found)} of {len(asked)} jobs can be laid out"
    return found
