"""Fixes of one page go together: one key is told one value, all of them done leave nothing they are told at."""

from __future__ import annotations

import re
from typing import Any

import pytest

from stairguard.model.guard.opening_kinds import Where
from stairguard.reports.words.fix_words import fixes_words
from stairguard.rules.findings.designed import inspect_layout
from tests.rules.fixes.fixing import SET, all_done, carried, judged, ways


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
    values: dict[str, set[str]] = {}
    for one in told:
        for found in SET.finditer(fixes_words(one.fixes)):
            values.setdefault(found["key"], set()).add(found["value"])
    assert {key: found for key, found in values.items() if len(found) > 1} == {}
    assert all_done(job, tmp_path / "job.toml", told) == ""


def test_the_length_told_of_a_flight_is_that_with_its_risers_and_its_run_done(told_two):
    changed = TWO_KEYS
    for one in told_two:
        changed = carried(changed, ways(fixes_words(one.fixes))[0])
    flight = changed["surface"][1]
    level = (flight["risers"] - 1) * flight["run"]  # 7 runs of 11 in: 6' 5"
    assert [re.search(r"(\d+)' (\d+)\" long", fixes_words(one.fixes)).groups() for one in told_two] == [
        (str(level // 12), str(level % 12))
    ] * len(told_two)


def test_a_rise_told_gives_the_whole_rise_back(told_two):
    assert '.rise = "6-11/32 in" (29/32" less)' in fixes_words(
        told_two[0].fixes
    )  # 7 x 7-1/4 is 50-3/4, and 8 x 6-11/32


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
        *told, last = ways(fixes_words(one.fixes))
        assert all(re.search("; then .* fails?$", way) for way in told)
        assert last.startswith("a solid piece in the triangle")


def test_a_way_taken_in_place_of_another_is_told_at_each_breach_it_mends(tmp_path):
    """Open risers of one flight, at its foot and above: closed at both, as treads thick enough fit no riser told."""
    boards = _through(_told(THICK, tmp_path / "job.toml"), "open riser")
    assert len(boards) == 2
    assert {ways(fixes_words(one.fixes))[0] for one in boards} == {"surface[2].open_risers = false"}
