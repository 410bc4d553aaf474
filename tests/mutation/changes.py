"""The small changes that can be made to a room's code, each as the whole text of the module it is made in."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import libcst as cst
from libcst.metadata import MetadataWrapper, PositionProvider
from mutmut.mutation.file_mutation import Mutation, create_mutations, deep_replace, group_by_top_level_node
from mutmut.mutation.trampoline_templates import mangle_function_name
from mutmut.utils.format_utils import get_mutant_name

PRINTED: Final = "printed"
"""Folder left out: a test compares its modules with what prints them."""


_LENGTHS: Final = re.compile(r"strict=\w+|[,\s]")


def _asserts_only(mutation: Mutation) -> bool:
    """Whether it changes nothing but ``strict``, by which `zip` asserts equal lengths: no figure hangs on it."""
    before, after = (
        _LENGTHS.sub("", cst.Module([]).code_for_node(node)) for node in (mutation.original_node, mutation.mutated_node)
    )
    return before == after


@dataclass(frozen=True, slots=True)
class Change:
    """One change.

    Attributes
    ----------
    name : str
        Module, function and number, as mutmut names it.
    path : str
        Of the module, from the root of the project.
    lines : frozenset of int
        Those of the expression or statement that is changed.
    around : frozenset of int
        Those of the function that it stands in.
    before, after : str
        Text of the module.
    """

    name: str
    path: str
    lines: frozenset[int]
    around: frozenset[int]
    before: str
    after: str

    @property
    def room(self) -> str:
        """Folder of the package that it is made in."""
        return Path(self.path).parts[1]

    @property
    def difference(self) -> str:
        """What changes, as lines taken away and added, with two around them."""
        lines = difflib.unified_diff(
            self.before.splitlines(), self.after.splitlines(), self.path, self.name, n=2, lineterm=""
        )
        return "\n".join(lines)


def _methods(module: cst.Module) -> Iterator[tuple[cst.CSTNode, str]]:
    """Every function that mutmut changes, and its mangled name."""
    for statement in module.body:
        if isinstance(statement, cst.FunctionDef):
            yield statement, mangle_function_name(name=statement.name.value, class_name=None)
        elif isinstance(statement, cst.ClassDef) and isinstance(statement.body, cst.IndentedBlock):
            for part in statement.body.body:
                if isinstance(part, cst.FunctionDef):
                    yield part, mangle_function_name(name=part.name.value, class_name=statement.name.value)


@dataclass(frozen=True, slots=True)
class Possible:
    """A change that mutmut knows of, not made yet."""

    path: str
    text: str
    name: str
    module: cst.Module
    method: cst.CSTNode
    mutation: Mutation

    def made(self) -> Change:
        """The change, made."""
        places = MetadataWrapper(self.module, unsafe_skip_copy=True).resolve(PositionProvider)
        node = self.mutation.original_node
        changed = deep_replace(self.module, node, self.mutation.mutated_node)
        assert isinstance(changed, cst.Module)
        around = places[self.method]
        here = places.get(node, around)
        spans = (frozenset(range(at.start.line, at.end.line + 1)) for at in (here, around))
        return Change(self.name, self.path, *spans, self.text, changed.code)


def possible(root: Path, room: str) -> list[Possible]:
    """Every change that can be made in a room."""
    found: list[Possible] = []
    for path in sorted((root / "stairguard" / room).rglob("*.py")):
        if path.parent.name != PRINTED:
            inside, text = path.relative_to(root), path.read_text(encoding="utf-8")
            module, mutations, _, _ = create_mutations(str(inside), text)
            grouped = group_by_top_level_node(mutations)
            for method, mangled in _methods(module):
                for number, mutation in enumerate(grouped.get(method, ()), 1):
                    if _asserts_only(mutation):
                        continue
                    name = get_mutant_name(inside, f"{mangled}__mutmut_{number}")
                    found.append(Possible(str(inside), text, name, module, method, mutation))
    return found
