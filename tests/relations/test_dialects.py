import math

import pytest
import sympy as sp

from stairguard.relations.dialects import TEXT

X, Y = sp.symbols("x y", positive=True)


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
