"""Options for more random jobs than run every day.

``--exhaustive`` runs what is marked exhaustive too: the rest of random jobs of which a few hundred run every day.
``--fix-jobs N`` carries out the fixes of N random jobs and as many inspections; ``--junitxml`` then has the figures.
``--fix-progress FILE`` adds a line to that file as each is done, with the figures so far.
``--rebuild-jobs N`` has the witness in ``tests/rebuild`` build N ordinary jobs again from their results.

It stands here, not in a room of the tests, because pytest takes options only from the conftest of the folder it is
started on, and of ``tests`` where it is started on none.
"""

from __future__ import annotations

from typing import Any

import pytest

collect_ignore = ["mutation"]  # no tests: started by hand, with packages that the tests do without


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--exhaustive", action="store_true", help="run every random case, not a few hundred of each")
    parser.addoption("--fix-jobs", type=int, default=0, help="so many random jobs whose fixes are carried out")
    parser.addoption("--fix-progress", default="", help="file to which fixes carried out so far are written")
    parser.addoption("--rebuild-jobs", type=int, default=306, help="so many ordinary jobs rebuilt from their results")


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
