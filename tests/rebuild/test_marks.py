"""Marks and lists of every job add up."""

from __future__ import annotations

import pytest

from tests.rebuild.jobs import EXAMPLES, KINDS, load
from tests.rebuild.laid import laid, laid_out
from tests.rebuild.marks import lists, marked_holes


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_marks_of_examples(path):
    result = laid_out(load(path))
    assert result is not None
    assert [*marked_holes(result), *lists(result)] == []


@pytest.mark.parametrize("kind", KINDS)
def test_marks_of_ordinary_jobs(kind, request):
    for name, _, result in laid(kind, request.config.getoption("--rebuild-jobs")):
        assert [*marked_holes(result), *lists(result)] == [], name
