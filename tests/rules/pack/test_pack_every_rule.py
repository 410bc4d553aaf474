"""Every rule of every pack on a guard as measured: just inside, exactly at and just outside its limit.

The cases are made from the packs themselves; what each kind of rule says at its limit is written here again, from its
words: "at least" and "at most" hold at the limit, a sphere of exactly the limit goes through unless only a larger one
must be stopped, a band to keep clear has its ends outside it.
"""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction

import pytest

from stairguard.model.asked.asked_opening import Measurement
from stairguard.model.job import Flight, Handrail, Landing, MeasuredFlight, Ramp
from stairguard.model.measured_guard import LENGTHS, Survey, Taken
from stairguard.model.reasons import Why
from stairguard.model.rules import Rule
from stairguard.model.site import Site
from stairguard.rules.findings.surveyed import inspect_survey
from stairguard.rules.pack.reader import available, read_rules
from tests.rules.pack.sites import site_of

HAIR = Fraction(1, 10**12)
ZERO = Fraction(0)
CASES = [
    pytest.param(pack, number, id=f"{pack}-{number}-{rule.quantity}-{rule.place}-{rule.kind}")
    for pack in available()
    for number, rule in enumerate(read_rules(pack, "mm").rules)
]


def _holds(rule: Rule, off: int) -> bool:
    """What a figure past the limit by ``off`` hairs (0: exactly at it) comes to by the words of the rule."""
    return {
        "at least": off >= 0,
        "at most": off <= 0,
        "stops": off < 0,
        "stops more than": off <= 0,
        "where more than": off > 0,
        "where at least": off >= 0,
    }[rule.kind]


def _flight(rise: Fraction = Fraction(170), run: Fraction = Fraction(280), **more: object) -> Flight:
    return Flight(
        risers=4,
        rise=rise,
        run=run,
        nosing=Fraction(20),
        tread=Fraction(30),
        open_risers=bool(more.get("open_risers")),
        down=False,
        turn=0.0,
    )


def _surfaces(rule: Rule, value: Fraction) -> tuple[object, ...]:
    """A landing, a flight and a ramp, one of them so that it has the value where surfaces decide."""
    flight, ramp, landing = (
        _flight(open_risers=rule.place == "open riser"),
        Ramp(length=Fraction(3000), rise=Fraction(200), turn=0.0),
        None,
    )
    landing = Landing(length=Fraction(2000), turn=0.0)
    if rule.when_run_below is not None:
        flight = replace(flight, run=rule.when_run_below * Fraction(99, 100))
    of_steps: dict[str, dict[str, object]] = {
        "riser": {"rise": value},
        "run": {"run": value},
        "nosing projection": {"nosing": value},
        "flight rise": {"risers": 20, "rise": value / 20},
        "step comfort": {"rise": value / 4, "run": value / 2},
    }
    flight = replace(flight, **of_steps.get(rule.quantity, {}))
    if rule.quantity == "landing length":
        landing = Landing(length=value, turn=0.0)
    elif rule.quantity == "ramp slope":
        ramp = Ramp(length=Fraction(12_000), rise=value * 12_000, turn=0.0)
    elif rule.quantity == "ramp rise":
        ramp = Ramp(length=Fraction(30_000), rise=value, turn=0.0)
    elif rule.quantity in ("riser difference", "run difference"):
        step = 20 * rule.value
        second = (step, step + value) if rule.quantity == "riser difference" else (step + value, step)
        nosings = (ZERO, step), (second[0], step + second[1]), (second[0] + step, 2 * step + second[1])
        return (
            landing,
            MeasuredFlight(
                nosings=nosings, nosing=Fraction(20), tread=Fraction(30), open_risers=False, down=False, turn=0.0
            ),
            ramp,
        )
    return (landing, ramp, flight) if rule.serves == "ramp" else (landing, flight, ramp)


def _rows(rule: Rule, value: Fraction) -> tuple[Taken, ...]:
    """What is taken on the guard for the rule, where a surface's own figures are not enough."""
    surface = {"landing": 0, "ramp": 2}.get(rule.place, 1)

    def row(what: str, length: Fraction, **more: object) -> Taken:
        return Taken(what=what, length=Measurement(what, length, ZERO), surface=surface, **more)

    if rule.quantity in ("opening", "opening width", "ramp edge"):
        low = rule.from_height or ZERO
        high = rule.to_height if rule.banded else low + Fraction(1)
        one = row("opening", value, place=_place(rule), low=low, high=high)
        # what is for any place is tried on an opening of no surface: each may have a rule of its own
        return (replace(one, surface=None) if rule.place == "any" else one,)
    if rule.quantity == "guard required":
        return (row("drop", value),)
    if rule.quantity == "nosing difference":
        return row("nosing projection", Fraction(20)), row("nosing projection", 20 + value)
    if rule.quantity == "handrail extension":
        asked = value * Fraction(280) if rule.in_runs else value
        return (replace(row(rule.quantity, asked), place=rule.place),)
    if rule.quantity in LENGTHS and rule.quantity not in ("riser", "run", "nosing projection", "landing length"):
        return (row(rule.quantity, value),)
    return ()


def _place(rule: Rule) -> str:
    return rule.place if rule.place in ("step triangle", "open riser") else "any"


def _inspect(pack: str, rule: Rule, value: Fraction, rows: tuple[Taken, ...]) -> list:
    survey = Survey(
        title="made up",
        unit="mm",
        rules=pack,
        surfaces=_surfaces(rule, value),
        site=site_of(rule),
        handrail=Handrail(),
        taken=rows,
    )
    found = inspect_survey(survey, read_rules(pack, "mm"))
    mine = [f for f in found.findings if (f.clause, f.quantity, f.scope) == (rule.clause, rule.quantity, rule.place)]
    return [f for f in mine if f.kind == rule.kind and (f.limit is None or math.isclose(f.limit, _limit(rule)))]


def _limit(rule: Rule) -> float:
    return float(rule.value * 280 if rule.in_runs else rule.value)


@pytest.mark.parametrize("off", [-1, 0, 1], ids=["under", "at", "over"])
@pytest.mark.parametrize(("pack", "number"), CASES)
def test_at_its_limit(pack, number, off):
    rule = read_rules(pack, "mm").rules[number]
    if rule.quantity in SPECIAL:
        SPECIAL[rule.quantity](pack, rule, off)
        return
    value = rule.value + off * HAIR
    if rule.quantity == "pitch":  # a whole number of degrees has no rational tangent (Niven), but for 45
        _pitch(pack, rule, off)
        return
    found = _inspect(pack, rule, value, _rows(rule, value))
    measured = [f for f in found if f.value is not None]
    assert measured, rule
    holds = _holds(rule, off)
    section = rule.quantity in ("handrail size", "handrail perimeter", "handrail across")
    binding = rule.binding or (rule.quantity.startswith("handrail") and not section)
    expected = "pass" if holds else "fail" if binding else "needs a decision"
    if rule.quantity == "guard required":
        expected = "pass" if holds else "needs a decision"
    assert {f.verdict for f in measured} == {expected}
    for one in measured:
        assert one.status == rule.status
        assert one.margin == pytest.approx(0, abs=1e-9)
        if expected == "fail":
            assert one.fixes


def _pitch(pack: str, rule: Rule, off: int) -> None:
    tangent = math.tan(math.radians(float(rule.value) + off * 1e-9))
    flight = Flight(
        risers=4,
        rise=Fraction(tangent) * 250,
        run=Fraction(250),
        nosing=ZERO,
        tread=ZERO,
        open_risers=False,
        down=False,
        turn=0.0,
    )
    if not off and rule.value != 45:
        return
    survey = Survey(
        title="made up", unit="mm", rules=pack, surfaces=(flight,), site=site_of(rule), handrail=Handrail(), taken=()
    )
    found = inspect_survey(survey, read_rules(pack, "mm")).findings
    (one,) = (f for f in found if f.quantity == "pitch" and f.clause == rule.clause and f.kind == rule.kind)
    holds = _holds(rule, off)
    assert one.verdict == ("pass" if holds else "fail" if rule.binding else "needs a decision")
    assert one.unit == "deg"


def _load(pack: str, rule: Rule, off: int) -> None:
    """A load is listed for the engineer, whatever the guard, and never verified."""
    found = [f for f in _inspect(pack, rule, ZERO, ()) if f.unit == rule.load_unit]
    assert found
    assert {f.verdict for f in found} == {"not checked"}
    assert all(f.why == (Why.ENGINEER,) for f in found)


def _band(pack: str, rule: Rule, off: int) -> None:
    """A member is in the band from a hair within its ends."""
    for end, inwards in ((rule.from_height, 1), (rule.to_height, -1)):
        if end is not None:
            rows = (Taken(what="member", length=Measurement("member", end + off * HAIR, ZERO), surface=0),)
            (one,) = _inspect(pack, rule, ZERO, rows)
            assert one.verdict == ("needs a decision" if off == inwards else "pass")
    (silent,) = _inspect(pack, rule, ZERO, ())
    assert silent.verdict == "not checked"
    if rule.from_height is None and rule.to_height is None:
        (any_height,) = _inspect(
            pack, rule, ZERO, (Taken(what="member", length=Measurement("member", Fraction(500), ZERO), surface=0),)
        )
        assert any_height.verdict == "needs a decision"


def _uniform(pack: str, rule: Rule, off: int) -> None:
    """Alike passes; any difference, having no tolerance, is for the authority."""
    heights = Fraction(900), 900 + off * HAIR
    rows = tuple(
        Taken(what="handrail height", length=Measurement("h", h, ZERO), surface=n)
        for n, h in zip((1, 2), heights, strict=True)
    )
    (one,) = _inspect(pack, rule, ZERO, rows)
    assert one.verdict == ("needs a decision" if off else "pass")


SPECIAL = {"load": _load, "climbable band": _band, "handrail uniformity": _uniform}


@pytest.mark.parametrize("pack", available())
def test_nothing_unchecked_reads_as_passed(pack):
    """A guard of which nothing was measured but its surfaces: every other rule that binds is told as not checked."""
    surfaces = (
        Landing(length=Fraction(2000), turn=0.0),
        _flight(),
        Ramp(length=Fraction(3000), rise=Fraction(200), turn=0.0),
    )
    survey = Survey(
        title="made up", unit="mm", rules=pack, surfaces=surfaces, site=Site(), handrail=Handrail(), taken=()
    )
    found = inspect_survey(survey, read_rules(pack, "mm"))
    passed = {f.quantity for f in found.findings if f.verdict == "pass"}
    assert passed <= {
        "riser", "run", "nosing projection", "pitch", "flight rise", "landing length", "ramp slope", "ramp rise",
        "step comfort",
    }  # fmt: skip
    told = {(f.clause, f.quantity) for f in found.findings}
    binding = [r for r in read_rules(pack, "mm").at(Site()).rules if r.binding and r.quantity != "ramp edge"]
    for rule in binding:
        if rule.quantity not in ("opening", "opening width") and rule.when_run_below is None:
            assert (rule.clause, rule.quantity) in told, rule
    assert all(f.why for f in found.findings if f.verdict == "not checked")
