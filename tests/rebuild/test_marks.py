"""Marks and lists of every job add up, and openings as marked are those of the marks."""

from __future__ import annotations

import pytest

from tests.rebuild.asmarked import as_marked
from tests.rebuild.bodies import rebuild
from tests.rebuild.jobs import EXAMPLES, KINDS, load
from tests.rebuild.laid import laid, laid_out
from tests.rebuild.line import Line
from tests.rebuild.space import Space
from tests.rebuild.witness import counted


def differences(job, result):
    line = Line(job, Space(job, result))
    return [*counted(job, result), *as_marked(line, rebuild(job, result))]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_marks_of_examples(path):
    job = load(path)
    result = laid_out(job)
    assert result is not None
    assert differences(job, result) == []


@pytest.mark.parametrize("kind", KINDS)
def test_marks_of_ordinary_jobs(kind, request):
    for name, job, result in laid(kind, request.config.getoption("--rebuild-jobs")):
        assert differences(job, result) == [], name
