"""Job files for the tests: the shipped starter with lines changed, as a person would change them."""

import pytest

from stairguard.rim.jobfile import starter_text


@pytest.fixture
def write_job(tmp_path):
    """Give a function that writes the starter with (old, new) swaps made, and returns its path."""

    def write(*swaps, name="job.toml"):
        text = starter_text()
        for old, new in swaps:
            assert old in text, old  # a swap that finds nothing is a mistake in the test
            text = text.replace(old, new, 1)
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return path

    return write
