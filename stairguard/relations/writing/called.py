"""Which printed functions a package calls, read from its own source."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path


def called(module: str, package: Path) -> tuple[str, ...]:
    """Names that the modules of a package take from ``module``, sorted.

    Parameters
    ----------
    module : str
        Full name of the module, of which functions are imported, or which is imported whole and then asked for them.
    package : Path
        Folder of the package's source.
    """
    found: set[str] = set()
    for path in package.rglob("*.py"):
        found.update(_taken(ast.parse(path.read_text(encoding="utf-8")), module))
    return tuple(sorted(found))


def _taken(tree: ast.Module, module: str) -> Iterator[str]:
    home, _, last = module.rpartition(".")
    whole: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module == module:
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module == home:
            whole.update(alias.asname or alias.name for alias in node.names if alias.name == last)
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id in whole:
            yield node.attr
