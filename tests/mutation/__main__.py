"""Random small changes to the code, each against the tests that should notice it.

``python -m tests.mutation ROOM... [--count N] [--seed K] [--reach FOLDER]``, with the ``mutation`` extra installed.
mutmut tells which changes can be made, of one operator, constant, argument, word or branch at a time. Each one chosen
is written into a copy of the tree, and the tests that reach the changed lines are run there, those of its own room
first and then the cheapest, until one fails. A change that cannot be imported or never ends is noticed too. Survivors
are printed with their difference: read each, and write the test that would have noticed, or see that the change has no
effect. Printed modules are left out: a test compares them with what prints them. So is ``strict`` of `zip`, which
asserts.

Which tests reach a line is measured first, and takes minutes; FOLDER keeps it for the next run. Measure anew where the
code has changed since. A change takes seconds, and nothing in the tree is touched.
"""

from __future__ import annotations

import argparse
import functools
import multiprocessing
import random
import tempfile
from pathlib import Path
from typing import Final

from tests.mutation import changes, reach, trial

ROOMS: Final = ("api", "cli", "geometry", "io", "model", "relations", "reports", "rules", "solve", "statics")
COMMON: Final = ("golden", "published", "rebuild", "test_examples.py")

_tree = Path()


def _own_tree(folder: Path) -> None:
    """Give each worker a copy of the tree."""
    global _tree
    _tree = trial.copy(Path(tempfile.mkdtemp(dir=folder)) / reach.ROOT.name)


def _tried(
    work: tuple[changes.Change, list[str]], seconds: dict[str, float], most: float
) -> tuple[changes.Change, str]:
    change, tests = work
    return change, trial.tried(_tree, change, tests, seconds, most)


def arguments() -> argparse.Namespace:
    """What is asked for."""
    asked = argparse.ArgumentParser(prog="python -m tests.mutation")
    asked.add_argument("rooms", nargs="+", choices=ROOMS, metavar="ROOM", help=f"of {', '.join(ROOMS)}")
    asked.add_argument("--count", type=int, default=40, help="how many changes of each, chosen at random (default 40)")
    asked.add_argument("--seed", type=int, default=0, help="of the choice (default 0)")
    asked.add_argument("--reach", type=Path, help="folder that keeps which tests reach which lines")
    asked.add_argument("--tests", nargs="*", help="below tests/; default the room's own and what all rooms share")
    asked.add_argument("--most", type=float, default=60, help="seconds of tests for one change (default 60)")
    asked.add_argument("--jobs", type=int, default=2, help="changes tried at a time (default 2)")
    return asked.parse_args()


def main() -> None:
    """Try a sample of each room's changes and print what nobody noticed."""
    given = arguments()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        kept = given.reach or folder / "reach"
        tests = [f"tests/{part}" for part in given.tests or (*given.rooms, *COMMON)]
        tests = [part for part in dict.fromkeys(tests) if (reach.ROOT / part).exists()]
        for part in tests:
            reach.measure(kept, part)
        reached = reach.Reached(kept, tests)
        trial.load()
        context = multiprocessing.get_context("fork")
        with context.Pool(given.jobs, _own_tree, (folder,)) as pool:
            for room in given.rooms:
                every = changes.possible(reach.ROOT, room)
                chosen = random.Random(given.seed).sample(every, min(given.count, len(every)))
                work = [(change, reached.tests(change)) for change in (one.made() for one in chosen)]
                trying = functools.partial(_tried, seconds=reached.seconds, most=given.most)
                noticed = 0
                for change, by in pool.imap_unordered(trying, work):
                    noticed += bool(by)
                    print(f"{change.name}: {by}" if by else f"SURVIVED {change.difference}", flush=True)
                print(f"{room}: {noticed} of {len(work)} noticed, {len(every)} possible, seed {given.seed}", flush=True)


if __name__ == "__main__":
    main()
