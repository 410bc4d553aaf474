"""Which tests reach which lines, and what each costs.

Every test runs once under coverage, with its own name as the context. One that takes longer than `MOST`, or fails, is
not used; of a test with many cases the first are, until they have taken `ENOUGH`. Each folder of tests is measured
alone, and has two files: the lines, as coverage keeps them, and the seconds.
"""

from __future__ import annotations

import json
import os
import signal
import sys
from collections import defaultdict
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, Final

import coverage
import pytest

from tests.mutation.changes import Change
from tests.places import ROOT

MOST: Final = 30.0
"""Seconds of processor time under coverage, of one test."""
ENOUGH: Final = 1.5
"""Seconds, of all cases of one test."""
FEW: Final = 10
"""Seeds of a file that names its own in `SEEDS`."""
DECLARED: Final = "tests/relations/test_declared.py"
"""Compares what modules declare when they are imported."""
EVERY_CASE: Final = "tests/golden/"
"""Where each case is a fact of its own."""


class _TooLong(BaseException):
    """Not an `Exception`, for what the tests start would take it for theirs."""


ARGUMENTS: Final = ("-q", "-p", "no:cacheprovider", "--rebuild-jobs", "8")
"""To pytest, here and where changes are tried: few random jobs."""


def _files(kept: Path, tests: str) -> tuple[Path, Path]:
    name = tests.removesuffix(".py").replace("/", "-")
    return kept / f"{name}.lines", kept / f"{name}.seconds"


def _too_long(*_: Any) -> None:
    raise _TooLong


def spent() -> float:
    """Processor time so far, of this process and of those it has waited for: the machine may be busy with others."""
    return sum(os.times()[:4])


class FewSeeds:
    """Leaves the first seeds of each file that has random cases made once for all of its tests."""

    @pytest.hookimpl(tryfirst=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        for module in {item.module for item in items if isinstance(item, pytest.Function)}:
            if hasattr(module, "SEEDS"):
                module.SEEDS = tuple(module.SEEDS)[:FEW]


class Reach:
    """Switches coverage to each test's name while it runs, and keeps its seconds if it passed."""

    def __init__(self, measured: coverage.Coverage) -> None:
        self.measured = measured
        self.seconds: dict[str, float] = {}
        self.failed: set[str] = set()
        self._of_function: dict[str, float] = defaultdict(float)

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtest_setup(self, item: pytest.Item) -> None:
        if self._of_function[item.nodeid.partition("[")[0]] > ENOUGH and not item.nodeid.startswith(EVERY_CASE):
            pytest.skip("enough cases")

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        self.measured.switch_context(item.nodeid)
        before = spent()
        signal.setitimer(signal.ITIMER_PROF, MOST)
        try:
            return (yield)
        finally:
            signal.setitimer(signal.ITIMER_PROF, 0)
            self.seconds[item.nodeid] = round(spent() - before, 3)
            self._of_function[item.nodeid.partition("[")[0]] += self.seconds[item.nodeid]
            self.measured.switch_context("")

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if not report.passed:
            self.failed.add(report.nodeid)


def _measure(kept: Path, tests: str) -> None:
    lines, seconds = _files(kept, tests)
    measured = coverage.Coverage(data_file=str(lines), source=[str(ROOT / "stairguard")], config_file=False)
    seen = Reach(measured)
    signal.signal(signal.SIGPROF, _too_long)
    measured.erase()
    measured.start()
    pytest.main([*ARGUMENTS, tests], plugins=[FewSeeds(), seen])
    measured.stop()
    measured.save()
    passed = {test: spent for test, spent in seen.seconds.items() if test not in seen.failed}
    seconds.write_text(json.dumps(passed), encoding="utf-8")


def measure(kept: Path, tests: str) -> None:
    """Measure one folder of tests into the folder `kept`, unless it is there."""
    if _files(kept, tests)[1].exists():
        return
    kept.mkdir(parents=True, exist_ok=True)
    child = os.fork()  # the package is imported anew, and what it caches is forgotten
    if not child:
        os.chdir(ROOT)
        _measure(kept.resolve(), tests)
        os._exit(0)
    os.waitpid(child, 0)


class Reached:
    """What was measured, of several folders of tests."""

    def __init__(self, kept: Path, tests: Iterable[str]) -> None:
        self.seconds: dict[str, float] = {}
        self._measured: list[coverage.CoverageData] = []
        for folder in tests:
            lines, seconds = _files(kept, folder)
            self.seconds |= json.loads(seconds.read_text(encoding="utf-8"))
            data = coverage.CoverageData(str(lines))
            data.read()
            self._measured.append(data)
        self._of_module: dict[str, dict[int, set[str]]] = {}

    def _module(self, path: str) -> dict[int, set[str]]:
        """Tests by line; '' among them is the import."""
        if path not in self._of_module:
            lines: dict[int, set[str]] = defaultdict(set)
            for data in self._measured:
                for file in data.measured_files():
                    if file.endswith(f"/{path}"):  # wherever the tree stood when it was measured
                        for line, tests in data.contexts_by_lineno(file).items():
                            lines[line].update(tests)
            self._of_module[path] = lines
        return self._of_module[path]

    def tests(self, change: Change) -> list[str]:
        """Tests that may notice a change: those of its own room and kept pages first, then by their cost.

        They reach its lines, or failing that the function it stands in, whose first line alone may be counted. Where no
        more do than may have been the first to import the module, all tests of the room and all kept pages follow,
        first those that compare what it declares. Last come the others of the same files, which may share what the
        first of them made.
        """
        module = self._module(change.path)

        def reach(lines: Iterable[int]) -> set[str]:
            return set().union(*(module[line] for line in lines if line in module)) & self.seconds.keys()

        own = f"tests/{change.room}/"

        def order(tests: Iterable[str]) -> list[str]:
            return sorted(tests, key=lambda test: (not test.startswith((own, EVERY_CASE)), self.seconds[test], test))

        found = reach(change.lines) or reach(change.around)
        files = {test.partition("::")[0] for test in found}
        room: list[str] = []
        if len(found) <= len(self._measured):
            room = order(test for test in self.seconds if test.startswith((own, EVERY_CASE)) and test not in found)
            room.sort(key=lambda test: not test.startswith(DECLARED))
        taken = found.union(room)
        beside = (test for test in self.seconds if test.partition("::")[0] in files and test not in taken)
        return [*order(found), *room, *order(beside)]


if __name__ == "__main__":  # for several at a time
    for part in sys.argv[2:]:
        measure(Path(sys.argv[1]), part)
