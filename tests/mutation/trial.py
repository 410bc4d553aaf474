"""One change tried: its module written into a copy of the tree, and the tests that may notice it run there.

What the tests import from elsewhere is loaded once, here; each trial is a fork that imports the package anew from its
copy. A fork is held to processor time, for the machine may be busy with others, and to memory.
"""

from __future__ import annotations

import contextlib
import importlib
import os
import resource
import shutil
import signal
import subprocess
import sys
import traceback
from collections.abc import Iterable
from pathlib import Path
from typing import Final

import pytest

from tests.mutation.changes import Change
from tests.mutation.reach import ARGUMENTS, ROOT, FewSeeds

LOADED: Final = (
    "hypothesis", "matplotlib.figure", "matplotlib.backends.backend_agg", "pint", "pyvoronoi", "scipy.optimize",
    "shapely", "sympy", "typer.testing", "_pytest.doctest",
)  # fmt: skip
MEMORY: Final = 6 << 30
QUICK: Final = 4.0
"""Seconds of tests tried first."""
SPARE: Final = 20.0
"""Seconds beyond three times what the tests took, before it is said that they do not end."""
NOTICED: Final = (pytest.ExitCode.TESTS_FAILED, pytest.ExitCode.INTERRUPTED)
"""A test failed, or could not be imported."""


class Chosen:
    """Keeps the tests chosen, in the order chosen."""

    def __init__(self, tests: Iterable[str]) -> None:
        self.place = {test: place for place, test in enumerate(tests)}

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        kept = [item for item in items if item.nodeid in self.place]
        items[:] = sorted(kept, key=lambda item: self.place[item.nodeid])


def load() -> None:
    """Import what does not change."""
    for name in LOADED:
        importlib.import_module(name)


def copy(folder: Path) -> Path:
    """A copy of what git tracks, compiled."""
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True)
    for name in filter(None, listed.stdout.split("\0")):
        target = folder / name
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copy2(ROOT / name, target)
    subprocess.run([sys.executable, "-m", "compileall", "-q", "stairguard"], cwd=folder, check=True)
    return folder


def _run(tree: Path, tests: list[str], said: Path) -> int:
    out = os.open(said, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
    os.dup2(out, 1)
    os.dup2(out, 2)
    os.chdir(tree)
    os.environ["PYTHONPATH"] = str(tree)
    sys.path[:] = [str(tree), *(part for part in sys.path if part not in ("", str(ROOT)))]
    for name in [name for name in sys.modules if name.partition(".")[0] in ("stairguard", "tests")]:
        del sys.modules[name]
    files = sorted({test.partition("::")[0] for test in tests})
    # hypothesis is loaded already, so its own assertions stay as they are written
    quiet = ("-W", "ignore::pytest.PytestAssertRewriteWarning")
    return int(pytest.main([*ARGUMENTS, *quiet, "-x", "--tb=line", *files], plugins=[FewSeeds(), Chosen(tests)]))


def _limited(tree: Path, tests: list[str], seconds: float, said: Path) -> int:
    """Exit code of the tests run in a fork; negative where a signal ended it, as one does that takes too long."""
    child = os.fork()
    if not child:
        code = 70
        try:
            os.setsid()  # what the tests start goes with them
            resource.setrlimit(resource.RLIMIT_CPU, (int(seconds), int(seconds)))
            resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
            code = _run(tree, tests, said)
        except BaseException:
            traceback.print_exc()  # into what it said
        finally:
            sys.stdout.flush()
            os._exit(code)
    _, status = os.waitpid(child, 0)
    with contextlib.suppress(ProcessLookupError):
        os.killpg(child, signal.SIGKILL)
    return os.waitstatus_to_exitcode(status)


def _rounds(tests: list[str], seconds: dict[str, float], most: float) -> list[list[str]]:
    """The first tests alone, for most changes are noticed by them; then the others, as far as the time goes."""
    ends = (min(QUICK, most), most)
    rounds: list[list[str]] = [[], []]
    total = 0.0
    for test in tests:
        total += seconds[test]
        if total > most and rounds[0]:
            break
        rounds[total > ends[0] and bool(rounds[0])].append(test)
    return [part for part in rounds if part]


def tried(tree: Path, change: Change, tests: list[str], seconds: dict[str, float], most: float) -> str:
    """What noticed a change, in a line; empty where nothing did."""
    module, said = tree / change.path, tree.with_suffix(".said")
    module.write_text(change.after, encoding="utf-8")
    try:
        for part in _rounds(tests, seconds, most):
            code = _limited(tree, part, SPARE + 3 * sum(seconds[test] for test in part), said)
            lines = said.read_text(encoding="utf-8", errors="replace").splitlines()
            if code < 0:
                return f"signal {-code}"
            if code in NOTICED:
                return next((line for line in lines if line.startswith(("FAILED", "ERROR"))), "not imported")
            if code != pytest.ExitCode.OK:
                raise RuntimeError("\n".join([f"pytest ended with {code}", *lines[-20:]]))
        return ""
    finally:
        shutil.copy2(ROOT / change.path, module)  # with the time that the compiled module was made for
