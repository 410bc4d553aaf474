"""Opening rules of the packs, and of packs made up here, at the exact tie through the solver."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from stairguard.io.read.job_file import read_job
from stairguard.model.job import Flight
from stairguard.rules.findings.checks import check
from stairguard.rules.pack.reader import available, read_rules
from stairguard.solve.lay_out import lay_out
from stairguard.solve.sphere.step_opening import step_opening
from tests.places import ROOT

EXAMPLES = ROOT / "shared" / "examples"
HAIR = Fraction(1, 10**12)

PACK = """
name = "made-up"
title = "Made up"
edition = "none"
unit = "in"
jurisdiction = "nowhere"

[[rule]]
quantity = "opening"
place = "any"
kind = "stops"
value = "{any}"
clause = "T1"
status = "from memory"
source = "from memory"
note = "made up for a test"

[[rule]]
quantity = "opening"
place = "{place}"
kind = "{kind}"
value = "{value}"
clause = "T2"
status = "from memory"
source = "from memory"
note = "made up for a test"
"""


@pytest.fixture
def made_up(tmp_path):
    def read(place, kind, value, any_place="8"):
        path = tmp_path / "made-up.toml"
        path.write_text(PACK.format(place=place, kind=kind, value=value, any=any_place), encoding="utf-8")
        return read_rules(str(path), "in")

    return read


@pytest.mark.parametrize("off", [-HAIR, Fraction(0), HAIR], ids=["under", "at", "over"])
@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("pack", available())
def test_step_triangle_at_the_tie(pack, unit, off):
    # 7-1/2 over 10, no projection, lift 1.2: k = 5/4, D = 2 (7.5 + 1.2 x 1.25)/(1.25 + 1 + 0.75) = 6 exactly;
    # the same figure in proportion for any other sphere.
    rule = read_rules(pack, unit).opening("step triangle", "flight")
    if rule is None:
        assert read_rules(pack, unit).opening("any") is None
        return
    size = rule.value / 6
    rise, run, lift = (Fraction(v) * size for v in ("15/2", "10", "6/5"))
    found = step_opening(rise, run, Fraction(0), Fraction(1, 8) * size, lift + off, False, rule.value)
    # the figure asked about is always stopped at its own size; a pack may let exactly that pass
    assert found.passes is (off < 0)
    assert found.sphere == pytest.approx(float(rule.value), rel=1e-10)


def _open_stair(gap):
    """The example with open risers, its rise changed so that exactly this is left between treads."""
    job = read_job(EXAMPLES / "terrace-open.toml")
    lower, flight, upper = job.surfaces
    assert isinstance(flight, Flight)
    return replace(job, surfaces=(lower, replace(flight, rise=flight.tread + gap), upper))


@pytest.mark.parametrize(
    ("kind", "off", "passes"),
    [
        ("stops", -HAIR, True),
        ("stops", Fraction(0), False),
        ("stops", HAIR, False),
        ("stops more than", -HAIR, True),
        ("stops more than", Fraction(0), True),
        ("stops more than", HAIR, False),
    ],
)
def test_kinds_differ_at_the_tie(made_up, kind, off, passes):
    checked = check(lay_out(_open_stair(4 + off), made_up("open riser", kind, "4")))
    between = [o for o in checked.layout.openings if o.rule is not None and o.rule.clause == "T2"]
    assert between
    assert {o.passes for o in between} == {passes}
    assert checked.passes is passes


@pytest.mark.parametrize("pack", available())
@pytest.mark.parametrize("off", [-HAIR, Fraction(0), HAIR], ids=["under", "at", "over"])
def test_open_risers_of_each_pack(pack, off):
    # Between level treads the gap is what is left of the rise, whatever else the stair is.
    rules = read_rules(pack, "in")
    rule = rules.opening("open riser")
    if rule is None:
        return
    layout = lay_out(_open_stair(rule.value + off), rules)
    between = [o for o in layout.openings if o.where.kind == "open riser"]
    assert len(between) == layout.job.surfaces[1].risers
    assert {(o.rule, o.passes) for o in between} == {(rule, off < 0 or (off == 0 and rule.inclusive))}
