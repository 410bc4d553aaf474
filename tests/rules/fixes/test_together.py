"""Fixes of one page go together: one key is told one value, all of them done leave nothing they are told at."""

from __future__ import annotations

from fractions import Fraction as F
from typing import Any

import pytest

from stairguard.model.fixes import Advice, Change, Fix
from stairguard.model.guard.opening_kinds import Where
from stairguard.rules.findings.designed import inspect_layout
from tests.rules.fixes.fixing import all_done, carried, judged, keys_set


def _job(rules: str, rail: float, **flight: Any) -> dict[str, Any]:
    steps = {"kind": "flight", "nosing": 1, "tread": 1.25, **flight}
    return {
        "title": "job", "unit": "in", "rules": rules,
        "rail": {"depth": 1.5, "width": 3.5, "height": rail},
        "strand": {"diameter": "1/8 in", "spacing": 3},
        "post": {"width": 1.5, "max_gap": 48, "setback": 5},
        "surface": [{"kind": "landing", "length": 48}, steps, {"kind": "landing", "length": 48}],
    }  # fmt: skip


TWO_KEYS = _job("ibc-2021", 42, risers=7, rise=7.25, run=10.5)
STEEP = _job("irc-2021", 36, risers=7, rise=8.25, run=9, nosing=2)
THICK = _job("ada-2010", 36, risers=6, rise="113/16 in", run=11, nosing="9/8 in", tread="9/8 in", open_risers=True)
"""Treads thick enough to close the risers alone are thicker than the rise that the same page asks for."""
OPEN = _job("irc-2021", 36, risers=8, rise=7.25, run=10.5, tread=2, open_risers=True)


def _told(job, path):
    found, _ = judged(job, path)
    return [one for one in inspect_layout(found).findings if one.verdict == "fail"]


def _through(findings, kind):
    return [one for one in findings if isinstance(one.place.where, Where) and one.place.where.kind == kind]


@pytest.fixture(scope="module")
def told_two(tmp_path_factory):
    return _told(TWO_KEYS, tmp_path_factory.mktemp("two") / "job.toml")


@pytest.mark.parametrize("job", [TWO_KEYS, STEEP, OPEN, THICK], ids=["two keys", "steep", "open risers", "thick"])
def test_a_key_is_told_one_value_and_all_done_leave_nothing(job, tmp_path, request):
    told = request.getfixturevalue("told_two") if job is TWO_KEYS else _told(job, tmp_path / "job.toml")
    values: dict[Any, set[Any]] = {}
    for one in told:
        for key, value in (set_to for fix in one.fixes for set_to in keys_set(fix)):
            values.setdefault(key, set()).add(value)
    assert {key: found for key, found in values.items() if len(found) > 1} == {}
    assert all_done(job, tmp_path / "job.toml", told) == ""


def test_the_length_told_of_a_flight_is_that_with_its_risers_and_its_run_done(told_two):
    changed = TWO_KEYS
    for one in told_two:
        changed = carried(changed, one.fixes[0])
    flight = changed["surface"][1]
    assert (flight["risers"], flight["run"]) == (8, "11 in")
    assert [[fix.long.level for fix in one.fixes if fix.long] for one in told_two] == [[7 * 11]] * len(told_two)


def test_a_rise_told_gives_the_whole_rise_back(told_two):
    rises = [step for step in told_two[0].fixes[0].steps if isinstance(step, Change) and step.key == "rise"]
    assert [(step.value, step.by) for step in rises] == [(F(203, 32), F(-29, 32))]  # 7 x 7-1/4 is 50-3/4, and 8 x it


def test_where_each_way_breaks_another_rule_filling_in_is_told_too(tmp_path):
    """A sphere of 100 mm at rises of 200: steps that stop it are too low for the going, by the same publication."""
    job = {
        "title": "job", "unit": "mm", "rules": "england-adk-2013",
        "rail": {"depth": 40, "width": 70, "height": 900}, "strand": {"diameter": 4, "spacing": 80},
        "post": {"width": 50, "max_gap": 1200, "setback": 130},
        "surface": [
            {"kind": "landing", "length": 1500},
            {"kind": "flight", "risers": 2, "rise": 200, "run": 230, "nosing": 20, "tread": 40},
            {"kind": "landing", "length": 1500},
        ],
    }  # fmt: skip
    triangles = _through(_told(job, tmp_path / "job.toml"), "step triangle")
    assert triangles
    for one in triangles:
        *told, last = one.fixes
        assert all(fix.breaks for fix in told)
        assert last == Fix((), advice=Advice.FILL_TRIANGLE)


def test_a_way_taken_in_place_of_another_is_told_at_each_breach_it_mends(tmp_path):
    """Open risers of one flight, at its foot and above: closed at both, as treads thick enough fit no riser told."""
    boards = _through(_told(THICK, tmp_path / "job.toml"), "open riser")
    assert len(boards) == 2
    assert {one.fixes[0] for one in boards} == {Fix((Change("surface", "open_risers", value=False, surfaces=(1,)),))}
