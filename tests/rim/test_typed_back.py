"""Figures that ``opening`` and ``give`` print are typed back as printed, and do what is said of them."""

import json
import re
from fractions import Fraction as F

import pytest

# rise, run, nosing, lift and the sphere to stop, in one unit: over none of them a member on the nosing line is enough
STEPS = [
    ("180", "250", "0", "60", "100", "mm"), ("180", "250", "25", "0", "100", "mm"),
    ("190", "254", "25", "15", "100", "mm"),
    ("170", "280", "20", "10", "89", "mm"), ("7.75", "10", "1.25", "2", "4", "in"), ("7", "11", "0", "1", "4", "in"),
]  # fmt: skip
SIZE = re.compile(r"the (rise|run|nosing) is less than ([\d.]+) (?:in|mm)")
LIFT = re.compile(
    r"With the lift (?:as given|([\d.]+) (?:in|mm)) it is stopped while (.+?), the other lengths as given\."
)


def flat(text):
    return " ".join(text.split())


def options(given):
    return [word for key, value in given.items() for word in (f"--{key}", value)]


@pytest.mark.parametrize(("rise", "run_", "nosing", "lift", "limit", "unit"), STEPS)
def test_another_step_as_printed_stops_the_sphere(run, rise, run_, nosing, lift, limit, unit):
    """A figure printed as "less than" is typed one of its last digits less; it holds only with the lift beside it."""
    given = {"rise": rise, "run": run_, "nosing": nosing, "lift": lift, "limit": limit, "unit": unit}
    status, page, _ = ask(run, given)
    (beside, sizes) = LIFT.search(flat(page)).groups()
    told = SIZE.findall(sizes)
    assert status == 1
    assert told
    for what, text in told:
        digit = F(1, 10 ** len(text.partition(".")[2]))
        made = given | {"lift": beside or lift, what: str(F(text) - digit)}
        assert ask(run, made)[0] == 0, (what, text)
        assert ask(run, made | {what: str(F(text) + digit)})[0] == 1
    data = json.loads(ask(run, given, "--json")[1])["inverse"]
    assert [one["what"] for one in data["instead"]] == [what for what, _ in told]
    assert all(one["lift"] == float(beside or lift) for one in data["instead"])


def ask(run, given, *more):
    return run("opening", *options(given), *more)


def test_a_lift_below_the_nosing_line_is_told_for_what_it_is(run):
    """Over the treads no member can be there: told on 0.6.0 as a lift of less than -1.03, which cannot be typed."""
    _, page, _ = ask(run, {"rise": "180mm", "run": "250mm", "lift": "60mm", "limit": "100mm"})
    assert "lift, square, is less than" not in page
    # by the closed form: (100 (k + 1 + R/G) / 2 - R) / k, in inches, below nothing
    below = re.search(r"more than ([\d.]+) in below the nosing line, square", flat(page))[1]
    k = (1 + (180 / 250) ** 2) ** 0.5
    assert float(below) == pytest.approx((180 - 50 * (k + 1 + 180 / 250)) / k / 25.4, abs=1e-7)
    assert "Over the treads no member can be there" in flat(page)


TOLD = {"widest_spacing": "spacing", "longest_bay": "bay", "tension_for_force": "tension"}


def test_what_would_hold_holds_at_full_precision(run):
    """See ``tests/solve/test_onebay.py`` for more bays: here as the command prints and reads them."""
    given = {"diameter": "1/8", "spacing": "3", "bay": "42", "run-length": "240", "tension": "200", "force": "11"}
    told = json.loads(run("give", *options(given), "--json")[1])
    for key, option in TOLD.items():
        again = json.loads(run("give", *options(given | {option: repr(told[key]["free"])}), "--json")[1])
        assert again["push"]["free"] >= 11, key
        assert again["verdict"] == "holds"
