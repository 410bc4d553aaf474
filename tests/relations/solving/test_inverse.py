import sympy as sp

from stairguard.relations.declared import DECLARED
from stairguard.relations.solving.inverse import explicit


def test_a_form_kept_for_its_digits_equals_the_derived_one() -> None:
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
