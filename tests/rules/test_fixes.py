"""Every fix that is printed is carried out on the file it is about, as a person would, and judged again."""

from __future__ import annotations

from dataclasses import asdict

import pytest

from tests.rules.fixing import Tally, try_job, try_survey
from tests.rules.fixjobs import random_job, random_survey

JOBS, INSPECTIONS = 16, 24
"""So many run every day; ``--fix-jobs`` asks for more."""


def pytest_generate_tests(metafunc):
    asked = metafunc.config.getoption("--fix-jobs")
    for name, few in (("job_seed", JOBS), ("survey_seed", INSPECTIONS)):
        if name in metafunc.fixturenames:
            metafunc.parametrize(name, range(asked or few))


@pytest.fixture
def tally(record_property):
    """Counts what is carried out; the figures go to a report of the run, where one is asked for."""
    tally = Tally()
    yield tally
    for name, value in asdict(tally).items():
        record_property(name, value if isinstance(value, int) else len(value))


def test_fixes_of_a_random_job_work_as_printed(job_seed, tally, tmp_path):
    try_job(random_job(job_seed), tmp_path / "job.toml", tally)
    assert tally.wrong == []


def test_fixes_of_a_random_inspection_work_as_printed(survey_seed, tally, tmp_path):
    try_survey(random_survey(survey_seed), tmp_path / "found.toml", tally)
    assert tally.wrong == []
