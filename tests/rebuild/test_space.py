"""The line, strands, holes, joints, rails and post tops of every job, found again along the line and in space."""

from __future__ import annotations

import pytest

from tests.rebuild.jobs import EXAMPLES, KINDS, load, ordinary
from tests.rebuild.laid import laid, laid_out
from tests.rebuild.witness import placed


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_pieces_of_examples(path):
    job = load(path)
    result = laid_out(job)
    assert result is not None
    assert list(placed(job, result)) == []


@pytest.mark.parametrize("kind", KINDS)
def test_pieces_of_ordinary_jobs(kind, request):
    found = {
        name: list(placed(job, result)) for name, job, result in laid(kind, request.config.getoption("--rebuild-jobs"))
    }
    assert {name: words for name, words in found.items() if words} == {}


def bearing_outside(seed):
    job = ordinary(seed)[1]
    job["post"]["bearing"] = "outer face"
    return job


ONCE_WRONG = {
    "under a crossed landing's rails the one was taken to run on past their mitre": ordinary(150)[1],
    "fittings that pass clear of each other, askew in a corner's post, kept to the near faces": bearing_outside(50008),
    "fittings that come nearer than a strand and a mark, square to them, went through the post": bearing_outside(82),
}


@pytest.mark.parametrize("job", ONCE_WRONG.values(), ids=ONCE_WRONG.keys())
def test_what_once_was_wrong(job):
    result = laid_out(job)
    assert result is not None
    assert list(placed(job, result)) == []
