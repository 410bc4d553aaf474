"""Every pack on a guard beside the stair: the same rules speak to the same openings, judged in space."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F

import pytest

from stairguard.model.guard.solved_layout import Layout
from stairguard.model.rules import Rule
from stairguard.rules.pack.reader import available, read_rules
from stairguard.solve.lay_out import lay_out
from tests.solve.jobs import BASE
from tests.solve.lines import land, ramp, up

INCH = F(127, 5)
ON = replace(BASE, surfaces=(land(60), up(5, nosing=F(1)), land(48), ramp(120, 10), land(60)))
BESIDE = replace(ON.post, mount="side", offset=F(2), drop=F(8), setback=F(4))


def metric(job):
    def scaled(part):
        lengths = {name: getattr(part, name) for name in part.__slots__ if isinstance(getattr(part, name), F)}
        return replace(part, **{name: value * INCH for name, value in lengths.items()})

    parts = {name: scaled(getattr(job, name)) for name in ("rail", "strand", "post")}
    return replace(job, unit="mm", mark=F(1), surfaces=tuple(map(scaled, job.surfaces)), **parts)


def laid(pack: str, post) -> Layout:
    unit = "in" if pack.startswith(("irc", "ibc", "osha", "ada")) else "mm"
    job = replace(ON, rules=pack, post=post)
    job = job if unit == "in" else metric(job)
    return lay_out(job, read_rules(pack, job.unit))


def spoken(layout: Layout) -> dict[tuple[int, str], set[Rule]]:
    """The rules that speak to the openings of each kind on each surface."""
    found: dict[tuple[int, str], set[Rule]] = {}
    for one in layout.openings:
        rules = {rule for rule in (one.rule, *(rule for rule, _ in one.others)) if rule is not None}
        found.setdefault((one.surface, one.where.kind), set()).update(rules)
    return found


@pytest.mark.parametrize("pack", available())
def test_a_guard_beside_the_stair_is_held_to_the_rules_of_one_on_it(pack):
    on, beside = laid(pack, replace(ON.post, setback=F(4))), laid(pack, BESIDE)
    here, there = spoken(on), spoken(beside)
    common = here.keys() & there.keys()
    assert {(0, "under lowest strand"), (3, "under lowest strand"), (1, "step triangle")} <= common
    for place in common - {(surface, kind) for surface, kind in common if kind.startswith("between strands")}:
        assert there[place] == here[place], place
    for one in beside.openings:
        if not beside.apart(one) or one.where.kind == "past end":
            continue
        assert one.out > 0
        assert one.leave is None
        worst = max(one.sphere, one.sphere_as_marked)
        for rule, passes in ((one.rule, one.passes), *one.others):
            if rule is not None and abs(worst - float(rule.value)) > 1e-9:
                assert passes is (worst < rule.value)
