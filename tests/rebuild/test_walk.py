"""The same guard walked from its other end and built on the other hand."""

from __future__ import annotations

import pytest

from tests.rebuild.jobs import EXAMPLES, KINDS, backwards, load, mirrored, toml_text
from tests.rebuild.laid import laid, laid_out
from tests.rebuild.walk import other_end, other_hand


def differences(job, result):
    back, other = laid_out(backwards(job)), laid_out(mirrored(job))
    assert back is not None
    assert other is not None
    return [*other_end(result, back), *other_hand(result, other)]


@pytest.mark.parametrize("path", [path for path in EXAMPLES if path.stem != "tower"], ids=lambda path: path.stem)
def test_examples_walked_back_and_mirrored(path):
    job = load(path)
    result = laid_out(job)
    assert result is not None
    assert differences(job, result) == []


@pytest.mark.parametrize("kind", KINDS)
def test_ordinary_jobs_walked_back_and_mirrored(kind, request):
    # a third of them: each is laid out thrice
    found = {
        name: differences(job, result)
        for name, job, result in laid(kind, request.config.getoption("--rebuild-jobs") // 3)
    }
    assert {name: words for name, words in found.items() if words} == {}


def test_turning_a_job_round_twice_gives_it_back():
    for path in EXAMPLES:
        job = load(path)
        assert mirrored(mirrored(job)) == job
        again = laid_out(backwards(backwards(job))) if path.stem != "tower" else None
        if again is not None:
            first = laid_out(job)
            assert first is not None
            assert [p["station"] for p in again["posts"]] == pytest.approx([p["station"] for p in first["posts"]])
        assert toml_text(job)
