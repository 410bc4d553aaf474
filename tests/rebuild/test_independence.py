"""The witness shares nothing with what it watches: no module here imports the rooms that solve, judge or show."""

from __future__ import annotations

import ast
import sys
from pathlib import Path

import pytest

import stairguard

HERE = sorted(Path(__file__).parent.glob("*.py"))
ALLOWED = {"numpy", "scipy", "shapely", "pytest", "tests", "stairguard"}


def imports(path):
    """Every module a file imports, whole names."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports are whole"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


@pytest.mark.parametrize("path", HERE, ids=lambda path: path.name)
def test_nothing_of_the_package_but_its_public_face(path):
    for name in imports(path):
        first, _, rest = name.partition(".")
        assert first in ALLOWED or first in sys.stdlib_module_names, name
        if first == "stairguard":
            assert not rest, f"{name}: only the package itself"
        if first == "tests":
            assert rest.startswith("rebuild"), f"{name}: nothing of the other tests"


def test_what_is_called_of_the_package():
    """Only what a program outside would call: read, lay out, and take the result."""
    called = {
        node.attr
        for path in HERE
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id == "stairguard"
    }
    assert (
        called - {"__all__", "__file__"}
        == {"read_job", "lay_out", "result", "StairguardError"}
        <= set(stairguard.__all__)
    )
