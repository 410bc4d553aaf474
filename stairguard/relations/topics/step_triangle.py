"""The step triangle: what passes between tread, riser and the lowest member of the guard."""

from __future__ import annotations

import sympy as sp

from stairguard.relations.declare import ANY, NOT_NEGATIVE, Closed, Relation, Validity, length

_RISE = length("rise", "rise of a step")
_RUN = length("run", "run of a step, nosing to nosing, level")
_NOSING = length("nosing", "nosing projection beyond the riser's face below it", NOT_NEGATIVE)
_LIFT = length("lift", "square, from the nosing line up to the underside of the lowest member", ANY)
_SPHERE = length("sphere", "diameter of the largest sphere that passes")

_R, _G, _P, _L, _D = (item.symbol for item in (_RISE, _RUN, _NOSING, _LIFT, _SPHERE))
_K = sp.sqrt(1 + (_R / _G) ** 2)

RELATIONS = (
    Relation(
        name="step-sphere",
        title="Largest sphere through the step triangle",
        equation=sp.Eq(_D, 2 * (_R * (1 + _P / _G) + _L * _K) / (_K + 1 + _R / _G)),
        symbols=(_RISE, _RUN, _NOSING, _LIFT, _SPHERE),
        closed=(
            Closed("step_sphere", "sphere"),
            Closed("step_lift", "lift"),
            Closed("step_nosing", "nosing"),
        ),
        validity=(
            "closed riser; the circle touches tread, riser face and member. Tread thickness is unknown here: "
            "a thick tread or a long nosing may be touched first, and then the true outline decides"
        ),
        source=(
            "derived: a circle tangent to tread, riser face and the member's straight underside; "
            "checked against the largest circle found by brute force and by a general geometry library"
        ),
        status="derived",
        conditions=(
            Validity(2 * _R - _D, "the circle stands higher than the riser it should touch"),
            Validity(2 * (_G + _P) - _D, "the circle reaches out past the tread it should touch"),
            Validity(
                sp.Max(_D / 2 - _P, 0) ** 2 + (_R - _D / 2) ** 2 - (_D / 2) ** 2,
                "the circle touches the nosing above it before the riser face",
            ),
        ),
    ),
)
