import ast
import inspect
import tomllib
from fractions import Fraction
from itertools import pairwise

import pint
import pytest

import stairguard
from stairguard.errors import InputError, PackError
from tests.places import ROOT

UNITS = pint.UnitRegistry()
EXAMPLE = ROOT / "shared" / "examples" / "down-up.toml"


def test_the_public_names_are_sorted_and_all_there():
    assert stairguard.__all__ == sorted(stairguard.__all__)
    for name in stairguard.__all__:
        assert getattr(stairguard, name).__doc__
        assert name in dir(stairguard)


def test_type_checkers_and_python_read_the_same_names_from_the_same_modules():
    """Both tables of `stairguard/__init__.py`: what type checkers import, and where names are loaded from."""
    tree = ast.parse((ROOT / "stairguard" / "__init__.py").read_text(encoding="utf-8"))
    (checked,) = (node for node in tree.body if isinstance(node, ast.If))
    read = [(node.module, [(one.name, one.asname) for one in node.names]) for node in checked.body]
    homes = [(f"stairguard.{home}", name) for home, names in stairguard._HOMES.items() for name in names]
    assert [(module, name) for module, names in read for name, _ in names] == homes
    assert all(name == again for _, names in read for name, again in names)
    assert len(homes) == len(stairguard.__all__)
    assert list(stairguard._HOMES) == sorted(stairguard._HOMES)
    assert all(list(names) == sorted(names) for names in stairguard._HOMES.values())


def _sections(text):
    """Of a numpydoc docstring: each section's lines that are not indented, by its title."""
    sections, title = {}, ""
    lines = inspect.cleandoc(text).splitlines()
    for line, under in pairwise([*lines, ""]):
        if under and set(under) == {"-"}:
            title = line
            sections[title] = []
        elif line and line[0] not in " -":
            sections.setdefault(title, []).append(line)
    return sections


FUNCTIONS = [name for name in stairguard.__all__ if inspect.isfunction(getattr(stairguard, name))]


@pytest.mark.parametrize("name", FUNCTIONS)
def test_every_public_function_tells_what_it_takes_and_gives(name):
    function = getattr(stairguard, name)
    signature, sections = inspect.signature(function), _sections(function.__doc__)
    told = [one.strip() for line in sections.get("Parameters", ()) for one in line.partition(" : ")[0].split(",")]
    assert sorted(told) == sorted(signature.parameters)
    assert ("Returns" in sections) == (signature.return_annotation != "None")


def test_other_names_are_an_attribute_error():
    with pytest.raises(AttributeError, match="no attribute 'solv'"):
        _ = stairguard.solv


def test_the_version_is_the_project_s():
    project = ROOT / "pyproject.toml"
    assert tomllib.loads(project.read_text())["project"]["version"] == stairguard.__version__


# The same step in every form a length may take: 7-1/2 in by 10 in, a member 1.2 in up, is the 3-4-5
# triangle in which the closed form gives exactly 6 in.
FORMS = [
    ("7.5", "10", "1.2", "in"),
    (7.5, 10, 1.2, "in"),
    (Fraction(15, 2), Fraction(10), Fraction(6, 5), "in"),
    ("7-1/2in", "0.254m", "1.2in", "mm"),
    (7.5 * UNITS.inch, 25.4 * UNITS.cm, 1.2 * UNITS.inch, "in"),
    (190.5, 254 * UNITS.mm, "30.48 mm", "mm"),
]


@pytest.mark.parametrize(("rise", "run", "lift", "unit"), FORMS)
def test_lengths_in_any_form(rise, run, lift, unit):
    limit = "6in" if unit == "in" else 152.4
    found = stairguard.step_opening(rise, run, lift, limit=limit, unit=unit)
    assert found.sphere == (6 if unit == "in" else 152.4)
    assert found.passes is False


def test_transition_with_quantities():
    found = stairguard.transition(7.5 * UNITS.inch, "10in", 34, "37", "top", post_at=2 * UNITS.inch)
    assert (found.meets, found.landing_height_for_post, found.jog) == (4, Fraction(71, 2), Fraction(3, 2))


def test_relations_with_quantities():
    known = {"pitch_in": 30 * UNITS.degree, "pitch_out": "0", "turn": 0}
    assert stairguard.solve_relation("bend", "bend", known).value == pytest.approx(30)
    assert "bend" in stairguard.relation_names()
    assert stairguard.describe_relation("bend").name == "bend"


@pytest.mark.parametrize(
    "call",
    [
        lambda: stairguard.step_opening(3 * UNITS.kilogram, 10, 0),
        lambda: stairguard.step_opening(7, 10, 0, unit="yd"),
        lambda: stairguard.transition(7, 10, 34, 36, "middle"),
        lambda: stairguard.solve_relation("bend", "bend", {"turn": "x"}),
        lambda: stairguard.read_rules("none", "yd"),
        lambda: stairguard.parse_force("3 lbf", "kgf"),
        lambda: stairguard.parse_temperature("3 °C", "K"),
        lambda: stairguard.parse_temperature(3, "degC", bare="K"),
    ],
)
def test_bad_arguments(call):
    with pytest.raises(InputError) as caught:
        call()
    assert caught.value.faults


def test_the_unit_of_a_bare_temperature_is_told_by_its_own_name():
    with pytest.raises(InputError, match=r"^bare: must be"):
        stairguard.parse_temperature(3, "degC", bare="K")


def test_rules():
    assert stairguard.read_rules("irc-2021").name == "irc-2021"
    with pytest.raises(PackError):
        stairguard.read_rules("no such pack")


def test_the_built_in_job_passes_and_can_be_written(tmp_path):
    checked = stairguard.lay_out(stairguard.built_in_job())
    assert checked.passes
    assert stairguard.result(checked)["passes"]
    assert stairguard.report(checked)
    assert stairguard.write(checked, tmp_path / "out", date="2025-03-31")


BAD = (None, 1.5, object(), True, [None], [["x"]], {1: 2}, {"x": object()})


@pytest.mark.parametrize(
    "call",
    [
        lambda bad: stairguard.built_in_job(bad or 1),
        lambda bad: stairguard.compare_rules(EXAMPLE, bad),
        lambda bad: stairguard.describe_relation(bad),
        lambda bad: stairguard.inspect(bad),
        lambda bad: stairguard.lengths_opening(bad),
        lambda bad: stairguard.points_opening(bad),
        lambda bad: stairguard.read_job(bad),
        lambda bad: stairguard.sides_opening(bad),
        lambda bad: stairguard.solve_relation(bad, "bend", {}),
        lambda bad: stairguard.solve_relation("bend", bad, {"pitch_in": 30, "pitch_out": 0, "turn": 0}),
        lambda bad: stairguard.solve_relation("bend", "bend", bad),
        lambda bad: stairguard.strand_give(diameter="1/8in", spacing=3, bay=42, tension="200 lbf", compare=bad),
    ],
)
@pytest.mark.parametrize("bad", BAD, ids=range(len(BAD)))
def test_what_is_of_a_wrong_kind_is_told_as_a_file_s_mistakes_are(call, bad):
    with pytest.raises(InputError) as caught:
        call(bad)
    assert all(fault.where and fault.must for fault in caught.value.faults)


def test_one_text_is_no_list_of_texts():
    with pytest.raises(InputError, match="packs: must be a list of names or paths of packs, got irc-2021"):
        stairguard.compare_rules(EXAMPLE, "irc-2021")
