"""Strands, holes, joints, rails and post tops of every job, found again in space."""

from __future__ import annotations

from itertools import chain

import pytest

from tests.rebuild.jobs import EXAMPLES, KINDS, load
from tests.rebuild.laid import cut_off, laid, laid_out
from tests.rebuild.pieces import holes, joints, rails, strands, tops
from tests.rebuild.space import Space


def differences(job, result):
    space = Space(job, result)
    found = strands(space, job, cut_off(job)), holes(space), joints(space), rails(space), tops(space)
    return list(chain.from_iterable(found))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_pieces_of_examples(path):
    job = load(path)
    result = laid_out(job)
    assert result is not None
    assert differences(job, result) == []


@pytest.mark.parametrize("kind", KINDS)
def test_pieces_of_ordinary_jobs(kind, request):
    found = {
        name: differences(job, result) for name, job, result in laid(kind, request.config.getoption("--rebuild-jobs"))
    }
    assert {name: words for name, words in found.items() if words} == {}
