"""What is printed: all that the package calls and nothing else, as the declarations have it."""

import inspect
import re
import subprocess
import sys
from pathlib import Path

import pytest

import stairguard
from stairguard.relations import printer
from stairguard.relations.compiled import on_arrays, on_numbers
from stairguard.relations.printed import arrays, by_slope, scalars
from stairguard.relations.printed.catalogue import RELATIONS
from stairguard.relations.printer import printed

FOLDER = Path(scalars.__file__).parent
PACKAGE = Path(stairguard.__file__).parent
MADE = {scalars: on_numbers, arrays: on_arrays}
PRINTED = [(module, name) for module in MADE for name in module.__all__]


def test_committed_modules_are_what_the_declarations_print() -> None:
    texts = printed()
    assert {path.name for path in FOLDER.glob("*.py")} == {"__init__.py", *texts}
    for name, text in texts.items():
        assert (FOLDER / name).read_text(encoding="utf-8") == text, "run python -m stairguard.relations.printer"


def test_the_printer_writes_each_module_where_they_are(monkeypatch, tmp_path) -> None:
    monkeypatch.setattr(printer, "printed", lambda: {"one.py": "x = '\N{DEGREE SIGN}'\n", "two.py": "y = 2\n"})
    monkeypatch.setattr(printer, "__file__", str(tmp_path / "printer.py"))
    (tmp_path / "printed").mkdir()
    printer.main()
    written = {path.name: path.read_text(encoding="utf-8") for path in (tmp_path / "printed").iterdir()}
    assert written == {"one.py": "x = '\N{DEGREE SIGN}'\n", "two.py": "y = 2\n"}


@pytest.mark.parametrize("module", [scalars, arrays, by_slope])
def test_what_the_package_calls_is_printed_and_what_is_printed_is_called(module) -> None:
    """By the words of its source, where the printer goes by its grammar."""
    name = module.__name__.rpartition(".")[2]
    used = re.compile(rf"(?<![\w.]){name}\.([a-z_]+)|relations\.printed\.{name} import ([\w, ]+)")
    found = set()
    for path in PACKAGE.rglob("*.py"):
        if PACKAGE / "relations" not in path.parents:
            for attribute, imported in used.findall(path.read_text(encoding="utf-8")):
                found.update([attribute] if attribute else imported.split(", "))
    assert found == set(module.__all__)
    listed = {function for info in RELATIONS.values() for function in info.functions}
    assert found <= listed


@pytest.mark.parametrize(("module", "name"), PRINTED)
def test_a_printed_function_is_the_one_made_when_asked_for(module, name) -> None:
    ours, theirs = getattr(module, name), MADE[module](name)
    assert ours.__code__.co_code == theirs.__code__.co_code
    assert ours.__code__.co_consts == theirs.__code__.co_consts
    assert ours.__doc__ == theirs.__doc__
    assert inspect.signature(ours) == inspect.signature(theirs)


@pytest.mark.parametrize(
    "statement",
    [
        "import stairguard.relations.printed.scalars as m; m.step_sphere(7.5, 10, 0, 1.2)",
        "import stairguard.relations.printed.arrays as m; m.strand_force(200, 1e6, 42, [42], 1)",
        "import stairguard.relations.printed.by_slope as m; m.plumb_of_square(3, 1.25)",
        "import stairguard.relations.engine as m; m.names(); m.describe('step-sphere')",
        "import stairguard.relations.compiled",
    ],
)
def test_numbers_and_lists_load_no_sympy(statement: str) -> None:
    heavy = ("sympy", "matplotlib", "pint", "typer")
    code = f"import sys; {statement}; print([name for name in {heavy} if name in sys.modules])"
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "[]"


@pytest.mark.parametrize("module", ["printed.scalars", "printed.by_slope", "printed.catalogue"])
def test_scalars_and_the_catalogue_load_no_numpy(module) -> None:
    code = f"import sys, stairguard.relations.{module}; print('numpy' in sys.modules)"
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "False"
