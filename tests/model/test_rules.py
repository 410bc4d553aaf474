from fractions import Fraction as F

import pytest

from stairguard.model.rules import Rule, RuleSet


@pytest.mark.parametrize(
    ("band", "low", "high", "spans", "reached"),
    [
        ((None, None), F(0), None, True, True),
        ((None, F(36)), F(0), F(36), True, True),
        ((None, F(36)), F(0), F(37), False, True),
        ((None, F(36)), F(0), None, False, True),
        ((None, F(36)), F(36), F(40), False, False),
        ((F(4), None), F(4), None, True, True),
        ((F(4), None), F(3), F(40), False, True),
        ((F(4), None), F(0), F(4), False, False),
        ((F(4), F(36)), F(4), F(36), True, True),
        ((F(4), F(36)), F(5), F(36), True, True),
    ],
)
def test_a_band_of_heights_by_hand(band, low, high, spans, reached):
    rule = _opening("any", "4", *band)
    assert (rule.spans(low, high), rule.reached(low, high)) == (spans, reached)


def _opening(place, value, low=None, high=None, kind="stops", quantity="opening"):
    return Rule(
        quantity=quantity,
        place=place,
        kind=kind,
        value=F(value),
        clause=value,
        status="read",
        source="",
        note="",
        binding=True,
        from_height=low,
        to_height=high,
    )


ALL, LANDING, TRIANGLE = _opening("any", "5"), _opening("landing", "4"), _opening("step triangle", "6")
LOW = _opening("any", "2", high=F(4))  # stricter near the floor
HIGH = _opening("any", "8", low=F(34))  # laxer near the rail
TOP = _opening("landing", "7", low=F(30), high=F(36))
TIE = _opening("any", "4", low=F(10), high=F(12), kind="stops more than")
EDGE = _opening("any", "3", quantity="ramp edge")
WIDTH = _opening("any", "9", kind="at most", quantity="opening width")


@pytest.mark.parametrize(
    ("rules", "places", "low", "high", "edged", "asked"),
    [
        ((ALL, LANDING), ["landing"], 0, None, False, [LANDING]),
        ((ALL, LANDING), ["flight"], 0, None, False, [ALL]),
        ((ALL, LANDING), ["flight", "landing"], 0, None, False, [LANDING]),
        ((ALL, LANDING, TRIANGLE), ["step triangle", "flight"], 0, None, False, [TRIANGLE]),
        ((LANDING,), ["flight"], 0, None, False, []),
        # stricter: whatever reaches into the band
        ((ALL, LOW), ["flight"], 3, 9, False, [LOW, ALL]),
        ((ALL, LOW), ["flight"], 4, 9, False, [ALL]),
        ((LOW, ALL), ["flight"], 0, None, False, [LOW, ALL]),
        ((LOW,), ["flight"], 0, 9, False, [LOW]),
        # laxer: what lies wholly in it, and then alone
        ((ALL, HIGH), ["flight"], 34, 40, False, [HIGH]),
        ((ALL, HIGH), ["flight"], 33, 40, False, [ALL]),
        # a band of one place speaks there alone; where the general rule is another place's own, no band of others does
        ((ALL, TOP), ["landing"], 30, 36, False, [ALL]),
        ((LANDING, TOP), ["landing"], 30, 36, False, [TOP]),
        ((LANDING, TOP), ["landing"], 30, 37, False, [LANDING]),
        ((TOP,), ["flight"], 30, 36, False, []),
        ((TRIANGLE, LOW), ["step triangle", "flight"], 0, 4, False, [TRIANGLE]),
        # one of the same size is no stricter: it stands in for what lies wholly in it
        ((ALL, TIE, LANDING), ["landing"], 10, 12, False, [TIE]),
        # edges and widths are asked beside
        ((ALL, EDGE), ["ramp"], 0, 9, True, [EDGE, ALL]),
        ((ALL, EDGE), ["ramp"], 3, 9, True, [ALL]),
        ((ALL, EDGE), ["ramp"], 0, 9, False, [ALL]),
        ((WIDTH, ALL), ["flight"], 0, 9, False, [ALL, WIDTH]),
        ((WIDTH, ALL), ["open riser", "flight"], 0, 9, False, [ALL]),
    ],
)
def test_which_rules_speak_to_an_opening_the_strictest_first(rules, places, low, high, edged, asked):
    """By the docstring of `RuleSet.openings`, worked by hand."""
    kept = RuleSet(name="own", title="", rules=rules)
    span = {"low": F(low), "high": None if high is None else F(high), "edged": edged}
    assert list(kept.openings(*places, **span)) == asked
    assert kept.opening(*places, **span) == (asked[0] if asked else None)


def test_of_one_size_the_rule_that_stops_the_tie_comes_first():
    tie, same = _opening("any", "4", kind="stops more than", high=F(9)), _opening("landing", "4", quantity="ramp edge")
    assert RuleSet(name="own", title="", rules=(tie, same)).openings("landing", edged=True) == (same, tie)


def test_an_opening_of_a_band_is_no_rule_for_all_heights():
    band, whole = _opening("any", "35/8", F(36), F(42)), _opening("any", "4")
    pack = RuleSet(name="p", title="P", rules=(band, whole))
    assert pack.opening("flight") is whole
    # 4-3/8 is laxer than 4: only what lies wholly within the band may be so large
    assert pack.opening("flight", low=F(36), high=F(42)) is band
    assert pack.opening("flight", low=F(35), high=F(42)) is whole
    assert pack.opening("flight", low=F(37), high=F(43)) is whole
    assert pack.opening("flight", low=F(37)) is whole


def test_spheres_widths_and_edges_each_speak_for_themselves():
    whole, lax = _opening("any", "21"), _opening("any", "30", F(36))
    width = _opening("ramp", "19", kind="at most", quantity="opening width")
    edge = _opening("ramp", "4", quantity="ramp edge")
    pack = RuleSet(name="p", title="P", rules=(edge, lax, width, whole))
    assert pack.openings("ramp", edged=True) == (edge, width, whole)  # the strictest first
    assert pack.openings("ramp", low=F(4), edged=True) == (width, whole)
    # the laxer band in place of the general rule only
    assert pack.openings("ramp", low=F(40), high=F(44), edged=True) == (width, lax)
    assert pack.openings("landing") == (whole,)
    assert pack.openings("open riser", "ramp") == (whole,)  # widths are the guard's own
