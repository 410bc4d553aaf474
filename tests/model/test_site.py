"""Rules that bind under conditions: met, not met, not stated; the more particular stands in for the general."""

from __future__ import annotations

from fractions import Fraction as F

import pytest

from stairguard.model.rules import Rule, RuleSet
from stairguard.model.site import NOWHERE, Condition, Site


def rule(value, *when, quantity="guard height", kind="at least", binding=True, clause="C"):
    return Rule(
        quantity=quantity,
        place="landing",
        kind=kind,
        value=F(value),
        clause=clause,
        status="from memory",
        source="",
        note="",
        binding=binding,
        when=when,
    )


DWELLING = Condition("dwelling", True)
LOW = Condition("storeys_at_most", 3)
GROUPS = Condition("occupancy", ("R-2", "R-3"))


@pytest.mark.parametrize(
    ("condition", "site", "met"),
    [
        (DWELLING, Site(dwelling=True), True),
        (DWELLING, Site(dwelling=False), False),
        (DWELLING, NOWHERE, None),
        (Condition("public", False), Site(public=False), True),
        (GROUPS, Site(occupancy="R-3"), True),
        (GROUPS, Site(occupancy="B"), False),
        (GROUPS, NOWHERE, None),
        (LOW, Site(storeys=3), True),
        (LOW, Site(storeys=4), False),
        (Condition("drop_more_than", F(30)), Site(drop=F(30)), False),
        (Condition("drop_more_than", F(30)), Site(drop=F(31)), True),
        (Condition("drop_at_most", F(30)), Site(drop=F(30)), True),
        (Condition("drop_at_most", F(30)), Site(drop=F(31)), False),
        (Condition("installed_after", 2017), Site(installed=2017), False),
        (Condition("installed_after", 2017), Site(installed=2018), True),
    ],
)
def test_condition(condition, site, met):
    assert condition.met(site) is met


def test_the_more_particular_rule_stands_in_for_the_general_one():
    pack = RuleSet(name="p", title="P", rules=(rule(42), rule(36, GROUPS), rule(34, GROUPS, LOW)))

    def asked(**stated):
        return [r.value for r in pack.at(Site(**stated)).rules]

    assert asked() == [42]
    assert asked(occupancy="B") == [42]
    assert asked(occupancy="R-3") == [36]
    assert asked(occupancy="R-3", storeys=2) == [34]
    assert asked(occupancy="R-3", storeys=5) == [36]
    assert asked(storeys=2) == [42]


def test_what_a_site_does_not_say_is_asked_and_what_it_denies_is_not():
    exception = rule(36, GROUPS, LOW)
    pack = RuleSet(name="p", title="P", rules=(rule(42), exception))
    assert pack.at(NOWHERE).asking == (exception,)
    assert pack.at(Site(occupancy="R-2")).asking == (exception,)
    assert pack.at(Site(occupancy="B")).asking == ()
    assert pack.at(Site(occupancy="R-2", storeys=1)).asking == ()


def test_other_matters_are_left_alone():
    other = rule(38, kind="at most"), rule(4, quantity="opening", kind="stops")
    pack = RuleSet(name="p", title="P", rules=(rule(42), *other, rule(36, DWELLING)))
    assert set(pack.at(Site(dwelling=True)).rules) == {*other, rule(36, DWELLING)}


def test_an_option_is_not_told_beside_the_same_figure_that_binds():
    option, bound = rule(38, binding=False, kind="at most"), rule(38, DWELLING, kind="at most")
    pack = RuleSet(name="p", title="P", rules=(option, bound))
    assert pack.at(NOWHERE).rules == (option,)
    assert pack.at(Site(dwelling=True)).rules == (bound,)
