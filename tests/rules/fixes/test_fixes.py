"""Every fix that is told is carried out on the file it is about, read off what is printed of it, and judged again."""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import asdict

import pytest

from tests.rules.fixes.fixing import Tally, try_job
from tests.rules.fixes.fixjobs import random_job, random_survey
from tests.rules.fixes.retaking import try_survey

JOBS, INSPECTIONS = 10, 16
"""So many run every day; ``--fix-jobs`` asks for more."""


def pytest_generate_tests(metafunc):
    asked = metafunc.config.getoption("--fix-jobs")
    for name, few in (("job_seed", JOBS), ("survey_seed", INSPECTIONS)):
        if name in metafunc.fixturenames:
            metafunc.parametrize(name, range(asked or few))


_SO_FAR: Counter[str] = Counter()


@pytest.fixture
def tally(record_property, request):
    """Counts what is carried out; the figures go to a report of the run, and so far to a file, where asked for."""
    tally = Tally()
    yield tally
    counts = {name: value if isinstance(value, int) else len(value) for name, value in asdict(tally).items()}
    for name, value in counts.items():
        record_property(name, value)
    _SO_FAR.update(jobs=1, **counts)
    progress = request.config.getoption("--fix-progress")
    if progress:
        with open(progress, "a", encoding="utf-8") as file:
            file.write("".join([json.dumps(_SO_FAR), *(f"\n  {one}" for one in tally.wrong), "\n"]))


def test_fixes_of_a_random_job_work_as_printed(job_seed, tally, tmp_path):
    try_job(random_job(job_seed), tmp_path / "job.toml", tally)
    assert tally.wrong == []


def test_fixes_of_a_random_inspection_work_as_printed(survey_seed, tally, tmp_path):
    try_survey(random_survey(survey_seed), tmp_path / "found.toml", tally)
    assert tally.wrong == []
