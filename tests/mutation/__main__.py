"""Random small changes to one room's code, each against the tests that should notice it.

``python -m tests.mutation ROOM [--count N] [--seed K]``, with the ``mutation`` extra installed. In a copy of the tree
mutmut changes one operator, constant, argument, word or branch at a time, and runs those of the room's own tests, of
``tests/published``, ``tests/rebuild`` and ``tests/golden`` that reach the function. Survivors are printed with their
difference: read each, and write the test that would have noticed, or see that the change has no effect. Printed modules
are left out: a test compares them with what prints them. Takes minutes; nothing in the tree is touched.
"""

from __future__ import annotations

import argparse
import json
import random
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Final

from mutmut.mutation.file_mutation import mutate_file_contents
from mutmut.utils.format_utils import get_mutant_name

ROOT: Final = Path(__file__).parents[2]
PRINTED: Final = {"scalars.py", "arrays.py", "catalogue.py"}
COMMON: Final = ("tests/published", "tests/rebuild", "tests/golden")
UNNOTICED: Final = (0, 33, 34)
"""mutmut's exit codes of a change that survived, that no test reaches, or that was skipped."""


def mutants(room: str) -> list[str]:
    """Names of all changes that mutmut would make in a room."""
    names: list[str] = []
    for path in sorted((ROOT / "stairguard" / room).rglob("*.py")):
        if path.name not in PRINTED:
            inside = path.relative_to(ROOT)
            made = mutate_file_contents(str(inside), path.read_text(encoding="utf-8"))
            names += [get_mutant_name(inside, name) for name in made.mutant_names]
    return names


def copied(room: str, folder: Path, tests: list[str]) -> Path:
    """A copy of what git tracks, told what mutmut is to change and which tests to run."""
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True)
    tree = folder / ROOT.name
    for name in filter(None, listed.stdout.split("\0")):
        target = tree / name
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copy2(ROOT / name, target)
    lines = {
        "only_mutate": [f"stairguard/{room}/*"],
        "do_not_mutate": [f"stairguard/relations/{name}" for name in sorted(PRINTED)],
        "pytest_add_cli_args": ["-q", "-p", "no:cacheprovider"],
        "pytest_add_cli_args_test_selection": tests,
    }
    with (tree / "pyproject.toml").open("a", encoding="utf-8") as config:
        config.write("".join(f"{key} = {json.dumps(value)}\n" for key, value in lines.items()))
    return tree


def outcomes(tree: Path) -> dict[str, int]:
    """The exit code of every change that was tried."""
    found: dict[str, int] = {}
    for path in (tree / "mutants").rglob("*.meta"):
        codes = json.loads(path.read_text(encoding="utf-8"))["exit_code_by_key"]
        found |= {name: code for name, code in codes.items() if code is not None}
    return found


def main() -> None:
    """Try a sample of one room's changes and print what nobody noticed."""
    asked = argparse.ArgumentParser(prog="python -m tests.mutation")
    asked.add_argument("room", help="a folder of stairguard/")
    asked.add_argument("--count", type=int, default=40, help="how many changes, chosen at random (default 40)")
    asked.add_argument("--seed", type=int, default=0, help="of the choice (default 0)")
    asked.add_argument("--tests", nargs="*", help="in place of the room's own and the common ones")
    given = asked.parse_args()
    tests = given.tests or [t for t in (f"tests/{given.room}", *COMMON) if (ROOT / t).is_dir()]
    every = mutants(given.room)
    chosen = sorted(random.Random(given.seed).sample(every, min(given.count, len(every))))
    with tempfile.TemporaryDirectory() as folder:
        tree = copied(given.room, Path(folder), tests)
        command = [sys.executable, "-m", "mutmut", "run", "--max-children", "1", *chosen]
        ran = subprocess.run(
            command, cwd=tree, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, check=False
        )
        codes = outcomes(tree)
        tried = [name for name in chosen if name in codes]
        if len(tried) < len(chosen):
            print("\n".join(ran.stdout.replace("\r", "\n").splitlines()[-40:]))
        unnoticed = [name for name in tried if codes[name] in UNNOTICED]
        for name in unnoticed:
            shown = [sys.executable, "-m", "mutmut", "show", name]
            print(subprocess.run(shown, cwd=tree, capture_output=True, text=True, check=False).stdout)
    caught = len(tried) - len(unnoticed)
    print(f"{given.room}: {caught} of {len(tried)} noticed, {len(every)} possible, seed {given.seed}")
    sys.exit(len(tried) < len(chosen))


if __name__ == "__main__":
    main()
