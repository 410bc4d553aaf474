"""Every fix that is printed is carried out on the file it is about, as a person would, and judged again."""

from __future__ import annotations

import pytest

from tests.rules.fixing import Tally, try_job, try_survey
from tests.rules.fixjobs import random_job, random_survey


@pytest.mark.parametrize("seed", range(16))
def test_fixes_of_a_random_job_work_as_printed(seed, tmp_path):
    tally = Tally()
    try_job(random_job(seed), tmp_path / "job.toml", tally)
    assert tally.wrong == []


@pytest.mark.parametrize("seed", range(24))
def test_fixes_of_a_random_inspection_work_as_printed(seed, tmp_path):
    tally = Tally()
    try_survey(random_survey(seed), tmp_path / "found.toml", tally)
    assert tally.wrong == []
