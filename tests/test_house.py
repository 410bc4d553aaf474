"""The house itself: no circles, no room too full, no two modules of one name, every arrow down, tests as it is."""

import ast
import re
import tomllib
from collections import Counter
from collections.abc import Iterator, Mapping
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

from tests.places import ROOT

PACKAGE = ROOT / "stairguard"
MOST_MODULES = 15
"""In one folder: as many names as can be taken in at a look."""


def _name(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


TESTS = ROOT / "tests"
OTHERWISE = ("published", "rebuild", "golden", "benchmarks", "mutation")
"""Rooms of tests that mirror none: one file a source, the witness, kept pages, ratios, changes to the code."""
BESIDE = ("test_examples.py", "test_figures.py", "test_house.py")
"""Tests of what stands beside the package, and of the house."""

MODULES = {_name(path): path for path in sorted(PACKAGE.rglob("*.py"))}


def _imported(tree: ast.AST, modules: Mapping[str, object]) -> Iterator[str]:
    """Modules imported anywhere within: at the top, for type checkers only, or within a function."""
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module:
            for alias in node.names:
                inner = f"{node.module}.{alias.name}"
                yield inner if inner in modules else node.module
        elif isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)


def circle(sources: Mapping[str, str]) -> list[str]:
    """Modules that import one another in a circle; none where there is none. The root only hands on what is below."""
    graph = {
        name: {one for one in _imported(ast.parse(text), sources) if one in sources and one != "stairguard"}
        for name, text in sources.items()
        if name != "stairguard"
    }
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as error:
        return list(error.args[1])
    return []


def test_no_module_imports_itself_by_way_of_others():
    assert circle({name: path.read_text(encoding="utf-8") for name, path in MODULES.items()}) == []


@pytest.mark.parametrize(
    "back",
    [
        "import stairguard.b",
        "from stairguard import b",
        "from stairguard.b import x",
        "if TYPE_CHECKING:\n    from stairguard.b import X",
        "def late():\n    from stairguard.b import x",
    ],
)
def test_a_circle_is_found_however_it_is_imported(back):
    sources = {"stairguard": "", "stairguard.a": back, "stairguard.b": "from stairguard.a import y"}
    assert set(circle(sources)) == {"stairguard.a", "stairguard.b"}
    assert circle({**sources, "stairguard.a": "import math"}) == []


def test_no_folder_is_too_full():
    full = Counter(path.parent.relative_to(ROOT).as_posix() for path in MODULES.values() if path.stem != "__init__")
    assert {folder: count for folder, count in full.items() if count > MOST_MODULES} == {}


def test_no_two_modules_have_one_name():
    names = Counter(path.stem for path in MODULES.values() if not path.stem.startswith("__"))
    assert [name for name, count in names.items() if count > 1] == []


def public_types(text: str) -> list[str]:
    """Public classes and type aliases that a module's text defines."""
    names = []
    for node in ast.parse(text).body:
        if isinstance(node, ast.ClassDef):
            names.append(node.name)
        elif isinstance(node, ast.AnnAssign) and ast.unparse(node.annotation) == "TypeAlias":
            names.append(ast.unparse(node.target))
    return [name for name in names if not name.startswith("_")]


def test_no_two_types_have_one_name():
    names = Counter(name for path in MODULES.values() for name in public_types(path.read_text(encoding="utf-8")))
    assert [name for name, count in names.items() if count > 1] == []


def test_public_types_are_found():
    assert public_types("class A: ...\nclass _B: ...\nC: TypeAlias = int\nd: int = 1\nE = F()") == ["A", "C"]


def _of_no_module(tests: Path, package: Path) -> list[str]:
    """Test files that are named after no module or room where they stand.

    A file of ``tests/a/b`` is named after a module or a room within ``a/b``, or after the room ``b`` itself; where one
    module has several files, what each is about follows the name.
    """
    wrong = []
    for path in sorted(tests.rglob("test_*.py")):
        room = path.parent.relative_to(tests)
        if path.name in BESIDE or (room.parts and room.parts[0] in OTHERWISE):
            continue
        here = package / room
        names = {one.stem for one in here.glob("*") if one.suffix == ".py" or one.is_dir()}
        if not any(f"{path.stem}_".startswith(f"test_{name}_") for name in {*names, room.name} - {""}):
            wrong.append(path.relative_to(tests).as_posix())
    return wrong


def test_tests_are_named_after_what_they_test():
    assert _of_no_module(TESTS, PACKAGE) == []


def test_a_test_of_no_module_is_found(tmp_path):
    package, tests = tmp_path / "package", tmp_path / "tests"
    for name in ("a/post.py", "a/room/beam.py"):
        (package / name).parent.mkdir(parents=True, exist_ok=True)
        (package / name).touch()
    good = ("a/test_post.py", "a/test_post_width.py", "a/test_room.py", "a/test_a.py", "golden/test_kept.py")
    bad = ("a/room/test_post.py", "a/test_beam.py", "a/test_posts.py", "test_post.py")
    for name in (*good, *bad):
        (tests / name).parent.mkdir(parents=True, exist_ok=True)
        (tests / name).touch()
    assert _of_no_module(tests, package) == sorted(bad)


def _rooms() -> list[set[str]]:
    """Rooms from the top down, as the project's import contract has them; those of one set do not know each other."""
    contracts = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["importlinter"][
        "contracts"
    ]
    layers = next(one["layers"] for one in contracts if one["name"].startswith("Rooms"))
    return [{room.strip() for room in layer.split("|")} for layer in layers]


def test_every_arrow_between_rooms_points_down():
    depth = {room: level for level, rooms in enumerate(_rooms()) for room in rooms}
    wrong = []
    for name, path in MODULES.items():
        mine = ".".join(name.split(".")[:2])
        for other in _imported(ast.parse(path.read_text(encoding="utf-8")), MODULES):
            theirs = ".".join(other.split(".")[:2])
            if mine in depth and theirs in depth and mine != theirs and depth[theirs] <= depth[mine]:
                wrong.append((name, other))
    assert wrong == []


def test_every_room_stands_in_the_contract():
    rooms = set().union(*_rooms())
    beside = {"stairguard", "stairguard.__main__"}
    assert {".".join(name.split(".")[:2]) for name in MODULES} - beside == rooms


@pytest.mark.parametrize("document", ["DEVELOPERS.md", "README.md"])
def test_every_file_that_is_named_is_there(document):
    named = set(re.findall(r"`([\w./-]+\.(?:py|toml|md|csv))`", (ROOT / document).read_text(encoding="utf-8")))
    places = (ROOT, PACKAGE, PACKAGE / "relations", ROOT / "tests" / "relations")
    generated = {"holes.csv", "cuts.csv", "findings.csv", "job.toml", "JOB.toml"}
    assert [one for one in sorted(named - generated) if not any((place / one).exists() for place in places)] == []


_WORD = re.compile(r"[A-Za-z]{2,}")


def _texts(tree: ast.AST) -> Iterator[str]:
    """Texts written in a module, what stands in their braces as 0; without docstrings and what faults say."""
    skipped: set[int] = set()
    for node in ast.walk(tree):
        raised = isinstance(node, ast.Raise) or (isinstance(node, ast.Call) and ast.unparse(node.func) == "Fault")
        if raised:
            skipped.update(map(id, ast.walk(node)))
        elif isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            skipped.add(id(node.value))
        elif isinstance(node, ast.JoinedStr):
            skipped.update(map(id, node.values))
    for node in ast.walk(tree):
        if id(node) in skipped:
            continue
        if isinstance(node, ast.JoinedStr):
            yield "".join(str(one.value) if isinstance(one, ast.Constant) else "0" for one in node.values)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.value


def _sentences(tree: ast.AST) -> list[str]:
    """Texts of five words and more that end, or have within them, a full stop."""
    return [text for text in _texts(tree) if len(_WORD.findall(text)) >= 5 and re.search(r"[a-z0]\.(\s|$)", text)]


def test_sentences_are_told_from_labels():
    tree = ast.parse(
        '"""A docstring says what it does."""\nHEAD = "greatest push on its way"\n'
        'def f(x):\n    raise Wrong("one that nobody ever has seen.")\n    return f"It stands {x} out from there."\n'
    )
    assert _sentences(tree) == ["It stands 0 out from there."]


@pytest.mark.parametrize("room", ["solve", "rules", "geometry", "statics", "reports"])
def test_sentences_stand_in_words_alone(room):
    """But for docstrings, from which a command's help is made, and errors, worded where they are raised."""
    said = {
        name: found
        for name, path in MODULES.items()
        if name.startswith(f"stairguard.{room}.") and not name.startswith("stairguard.reports.words")
        if (found := _sentences(ast.parse(path.read_text(encoding="utf-8"))))
    }
    assert said == {}
