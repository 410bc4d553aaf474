"""A guard judged without looking for fixes: the same in all but them and what only a trial can tell."""

from dataclasses import replace
from fractions import Fraction as F

import stairguard
from tests.solve.jobs import BASE


def test_without_fixes_a_result_is_the_same_but_for_them():
    checked = stairguard.lay_out(replace(BASE, rail=replace(BASE.rail, height=F(33))))
    whole, plain = stairguard.result(checked), stairguard.result(checked, fixes=False)
    assert not whole["passes"]
    assert any(one["fix"] for one in whole["findings"] if one["verdict"] == "fail")
    assert not any(one.pop("fix") for one in plain["findings"])
    for one in whole["findings"]:
        del one["fix"]
    assert set(plain.pop("conflicts")) <= set(whole.pop("conflicts"))
    assert plain == whole
