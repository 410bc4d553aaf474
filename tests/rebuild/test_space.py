"""The line, strands, holes, joints, rails and post tops of every job, found again along the line and in space."""

from __future__ import annotations

import pytest

from tests.rebuild.jobs import EXAMPLES, KINDS, load
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
