"""Command lines run and refused, job files written; and options for more random jobs than run every day.

``--exhaustive`` runs what is marked exhaustive too: the rest of random jobs of which a few hundred run every day.
``--fix-jobs N`` carries out the fixes of N random jobs and as many inspections; ``--junitxml`` then has the figures.
``--fix-progress FILE`` adds a line to that file as each is done, with the figures so far.
``--rebuild-jobs N`` has the witness in ``tests/rebuild`` build N ordinary jobs again from their results.

Options stand here, not in a room of the tests, because pytest takes options only from the conftest of the folder it is
started on, and of ``tests`` where it is started on none.
"""

from __future__ import annotations

import functools
from typing import Any

import pytest
import typer.main

from stairguard.cli.main import main
from stairguard.io.read.job_file import starter_text

collect_ignore = ["mutation"]  # no tests: started by hand, with packages that the tests do without


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--exhaustive", action="store_true", help="run every random case, not a few hundred of each")
    parser.addoption("--fix-jobs", type=int, default=0, help="so many random jobs whose fixes are carried out")
    parser.addoption("--fix-progress", default="", help="file to which fixes carried out so far are written")
    parser.addoption("--rebuild-jobs", type=int, default=204, help="so many ordinary jobs rebuilt from their results")


def pytest_configure(config: pytest.Config) -> None:
    config.addinivalue_line("markers", "exhaustive: run only with --exhaustive")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if config.getoption("--exhaustive"):
        return
    left = [item for item in items if item.get_closest_marker("exhaustive")]
    items[:] = [item for item in items if not item.get_closest_marker("exhaustive")]
    config.hook.pytest_deselected(items=left)


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """Each file's tests on one worker: what a file lays out once, two workers would lay out twice.

    The files of ``tests/rebuild`` look at the same jobs: there it is the kind of job, or the example, that goes to one.
    """
    from xdist.scheduler import LoadFileScheduling

    class ByFileOrJob(LoadFileScheduling):
        def _split_scope(self, nodeid: str) -> str:
            path, _, test = nodeid.partition("::")
            _, _, of = test.partition("[")
            return f"tests/rebuild of {of}" if of and "tests/rebuild/" in path else path

    return ByFileOrJob(config, log)


@pytest.fixture(scope="session", autouse=True)
def _commands_built_once():
    """Keep the parser from one command line to the next: building it anew is most of what a refused one takes."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(typer.main, "get_command", functools.cache(typer.main.get_command))
        yield


@pytest.fixture
def run(capsys):
    """Give a function that runs a command line: status, standard output, lines of standard error."""

    def call(*arguments):
        status = main(list(arguments))
        out, err = capsys.readouterr()
        assert "Traceback" not in err
        return status, out, err.splitlines()

    return call


@pytest.fixture
def refuse(run, tmp_path, monkeypatch):
    """Give a function for a command line that must be refused: its lines; nothing printed or written."""
    monkeypatch.chdir(tmp_path)

    def call(*arguments):
        before = _tree(tmp_path)
        status, out, lines = run(*arguments)
        assert status == 2
        assert out == ""
        assert lines
        assert all(": " in line and len(line) < 600 for line in lines)
        assert _tree(tmp_path) == before
        return lines

    return call


def _tree(folder):
    return {path: path.read_bytes() if path.is_file() else None for path in folder.rglob("*")}


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
