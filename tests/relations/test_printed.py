import inspect
import math
import subprocess
import sys
from pathlib import Path

import pytest
import sympy as sp

from stairguard.relations import arrays, printer, scalars
from stairguard.relations.catalogue import RELATIONS
from stairguard.relations.declared import DECLARED
from stairguard.relations.dialects import TEXT
from stairguard.relations.printer import explicit, printed

FOLDER = Path(scalars.__file__).parent
X, Y = sp.symbols("x y", positive=True)


def test_committed_modules_are_what_the_declarations_print() -> None:
    texts = printed()
    assert list(texts) == ["scalars.py", "arrays.py", "catalogue.py"]
    for name, text in texts.items():
        assert (FOLDER / name).read_text(encoding="utf-8") == text, "run python -m stairguard.relations.printer"


def test_the_printer_writes_each_module_beside_itself(monkeypatch, tmp_path) -> None:
    monkeypatch.setattr(printer, "printed", lambda: {"one.py": "x = '\N{DEGREE SIGN}'\n", "two.py": "y = 2\n"})
    monkeypatch.setattr(printer, "__file__", str(tmp_path / "printer.py"))
    printer.main()
    written = {path.name: path.read_text(encoding="utf-8") for path in tmp_path.iterdir()}
    assert written == {"one.py": "x = '\N{DEGREE SIGN}'\n", "two.py": "y = 2\n"}


@pytest.mark.parametrize(
    "statement",
    [
        "import stairguard.relations.scalars as m; m.step_sphere(7.5, 10, 0, 1.2)",
        "import stairguard.relations.arrays as m; m.step_sphere([7.5], 10, 0, 1.2)",
        "import stairguard.relations.engine as m; m.names(); m.describe('step-sphere')",
    ],
)
def test_numbers_and_lists_load_no_sympy(statement: str) -> None:
    heavy = ("sympy", "matplotlib", "pint", "typer")
    code = f"import sys; {statement}; print([name for name in {heavy} if name in sys.modules])"
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "[]"


def test_scalars_load_no_numpy() -> None:
    code = "import sys, stairguard.relations.scalars; print('numpy' in sys.modules)"
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "False"


def test_both_modules_export_the_same_functions_as_the_catalogue() -> None:
    listed = sorted(name for info in RELATIONS.values() for name in info.functions)
    assert scalars.__all__ == arrays.__all__ == listed
    for name in listed:
        assert list(inspect.signature(getattr(scalars, name)).parameters) == list(
            inspect.signature(getattr(arrays, name)).parameters
        )


# Names that other programs may rely on: the contract's own list.
CONTRACT = {
    "step-sphere": ["rise", "run", "nosing", "lift", "sphere"],
    "rail-meets-top": ["rise", "run", "flight_height", "landing_height", "station"],
    "rail-meets-bottom": ["rise", "run", "flight_height", "landing_height", "station"],
    "half-turn": ["run", "lower", "upper"],
    "bend": ["pitch_in", "pitch_out", "turn", "bend"],
}


@pytest.mark.parametrize("name", CONTRACT)
def test_contract_names_and_symbols(name: str) -> None:
    assert [symbol.name for symbol in RELATIONS[name].symbols] == CONTRACT[name]


@pytest.mark.parametrize("name", DECLARED)
def test_equation_mentions_exactly_the_declared_symbols(name: str) -> None:
    relation = DECLARED[name]
    assert relation.equation.free_symbols == {item.symbol for item in relation.symbols}


@pytest.mark.parametrize("name", DECLARED)
def test_every_relation_says_what_it_means_where_it_holds_and_whence(name: str) -> None:
    info = RELATIONS[name]
    assert info.title
    assert info.validity
    assert info.source
    assert all(symbol.meaning for symbol in info.symbols)


def test_a_form_kept_for_its_digits_equals_the_derived_one() -> None:
    import sympy as sp

    for relation in DECLARED.values():
        for closed in relation.closed:
            if closed.form is None:
                continue
            target = relation.declared(closed.find).symbol
            points = [(35, 0, 45), (-20, 61, -133), (10, 10, 5), (3, -80, 179)]
            given = [item.symbol for item in relation.symbols if item.info.name != closed.find]
            for point in points:
                at = dict(zip(given, map(sp.Integer, point), strict=True))
                at[target] = sp.N(explicit(relation, closed).subs(at), 40)
                assert abs(sp.N((relation.equation.lhs - relation.equation.rhs).subs(at), 40)) < 1e-35


@pytest.mark.parametrize(
    "form",
    [
        180 * sp.asin(X) / sp.pi, sp.sin(sp.pi * X / 180), sp.pi * X / 180, sp.cos(sp.pi * (X + Y) / 180),
        sp.tan(sp.pi * X / 90), 360 * sp.atan(X / Y) / sp.pi, Y * sp.sin(sp.pi * X / 180),
        180 * (sp.asin(X) + sp.acos(Y)) / sp.pi, X * sp.atan(Y) / sp.pi, 180 * sp.atan2(X, Y) / sp.pi,
        180 * sp.asin(Y * sp.sin(sp.pi * X / 180)) / sp.pi, X**2 / sp.pi,
    ],
)  # fmt: skip
def test_what_a_reader_sees_holds_on_a_calculator_set_to_degrees(form):
    """Worked out as it reads, sines of degrees and inverses in degrees, it comes to what it is."""
    keys = {
        "sin": lambda of: math.sin(math.radians(of)), "asin": lambda of: math.degrees(math.asin(of)),
        "cos": lambda of: math.cos(math.radians(of)), "acos": lambda of: math.degrees(math.acos(of)),
        "tan": lambda of: math.tan(math.radians(of)), "atan": lambda of: math.degrees(math.atan(of)),
        "atan2": lambda up, along: math.degrees(math.atan2(up, along)), "pi": math.pi, "x": 0.3, "y": 0.7,
    }  # fmt: skip
    told = TEXT.doprint(form).replace("^", "**")
    assert eval(told, {"__builtins__": {}}, keys) == pytest.approx(float(form.subs({X: 0.3, Y: 0.7})), rel=1e-12)
