"""What give's page says would hold is typed as printed and asked again; a last digit past it does not hold.

The push itself is held against the strand's own equations in ``tests/solve/load/test_single_bay.py``.
"""

import re
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction as F

import pytest

from stairguard.errors import JobError
from stairguard.model.guard.strand_deflection import BayReport
from stairguard.reports.page.deflection.deflection_head import bay_head
from stairguard.solve.load.single_bay import answer
from tests.solve.load.test_single_bay import BAY, EDGE, HELD, with_force

TOLD = re.compile(r"(rest|spacing|edge|bay) (?:of|by) ([\d.]+) (?:lbf|in) or (more|less)")


def set_to(asked, what, value):
    """The bay with what is told of typed."""
    if what == "rest":
        return replace(asked, taut=replace(asked.taut, tension=value))
    if what == "bay":
        return replace(asked, bay=value, run=value if asked.run == asked.bay else asked.run)
    return replace(asked, spacing=value)


@pytest.mark.parametrize("asked", [BAY, EDGE, HELD])
@pytest.mark.parametrize("force", ["11", "15"])
def test_each_figure_that_would_hold_holds_as_printed(asked, force):
    asked = with_force(asked, force)
    page = " ".join(
        " ".join(bay_head(BayReport(answer=answer(asked), turns=None, hung=None, upkeep=None, compared=()))).split()
    )
    told = TOLD.findall(page)
    assert len(told) == 3, page
    for what, text, more in told:
        digit = F(10) ** int(Decimal(text).as_tuple().exponent)
        past = F(text) + (-digit if more == "more" else digit)
        assert answer(set_to(asked, what, F(text))).holding.verdict == "holds", (what, text)
        assert answer(set_to(asked, what, past)).holding.verdict != "holds", (what, past)


def test_the_breaking_force_that_a_refusal_names_can_be_set():
    steel = replace(BAY.taut.steel, breaking=1868.0479999)
    broken = replace(BAY, taut=replace(BAY.taut, steel=steel, tension=F(1869)))
    with pytest.raises(JobError) as caught:
        answer(broken)
    most = re.search(r"\(([\d.]+) at most\)", caught.value.faults[0].must)
    assert most[1] == "1868.04"
    answer(replace(broken, taut=replace(broken.taut, tension=F(most[1]))))
