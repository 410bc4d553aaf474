"""A local file laid over a pack changes the clauses it names, and every change is told."""

from __future__ import annotations

from fractions import Fraction as F

import pytest

from stairguard import lay_out, report
from stairguard.errors import PackError
from stairguard.io.read.job_file import built_in_job
from stairguard.model.rules import Amendment
from stairguard.rules.pack.reader import read_rules

HEAD = """
name = "harbour"
title = "Harbour County, amendments"
edition = "2026"
unit = "{unit}"
jurisdiction = "Harbour County"
amends = "{base}"
removes = [{removes}]
"""
RULE = """
[[rule]]
quantity = "guard height"
place = "landing"
kind = "at least"
value = "{value}"
clause = "HC 12-3"
status = "from memory"
source = "from memory"
note = "made up for a test"
"""


@pytest.fixture
def local(tmp_path):
    def write(value="42", base="irc-2021", removes="", unit="in", name="harbour.toml", rules=RULE):
        path = tmp_path / name
        path.write_text(HEAD.format(base=base, removes=removes, unit=unit) + rules.format(value=value))
        return str(path)

    return write


def test_one_clause_is_changed_and_all_others_stay(local):
    base, ours = read_rules("irc-2021", "in"), read_rules(local(), "in")
    assert len(ours.rules) == len(base.rules)
    changed = [(b, o) for b, o in zip(base.rules, ours.rules, strict=True) if b != o]
    ((old, new),) = changed
    assert (old.quantity, old.place, old.value, new.value) == ("guard height", "landing", 36, 42)
    assert ours.amended == (Amendment("harbour", "irc-2021", old, new),)
    assert set(base.cautions) <= set(ours.cautions)


def test_units_may_differ_from_the_packs(local):
    ours = read_rules(local(value="1000", unit="mm"), "in")
    (height,) = (r for r in ours.rules if r.clause == "HC 12-3")
    assert height.value == F(10000, 254)


def test_a_clause_taken_out_and_one_added(local):
    added = RULE.replace("landing", "any").replace("at least", "at most")
    ours = read_rules(local(value="60", removes='"R311.7.3"', rules=added), "in")
    assert not any(r.clause == "R311.7.3" for r in ours.rules)
    out, more = ours.amended
    assert (out.old.clause, out.new) == ("R311.7.3", None)
    assert (more.old, more.new.clause, more.new.value) == (None, "HC 12-3", 60)


def test_an_amendment_of_an_amendment(local, tmp_path):
    local()
    second = local(value="48", base="harbour.toml", name="town.toml")
    ours = read_rules(second, "in")
    assert [r.value for r in ours.rules if r.clause == "HC 12-3"] == [48]
    assert len(ours.amended) == 2


def test_the_report_says_what_was_amended(local):
    from dataclasses import replace

    page = report(lay_out(replace(built_in_job(), rules=local())))
    flat = " ".join(page.split())
    assert "Amended locally in 1 clauses: see the cautions." in flat
    assert "harbour on irc-2021: HC 12-3 (guard height, landing): at least 42 in place of 36 by R312.1.2" in flat


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"base": "irc-2012"}, "a pack's name"),
        ({"removes": '"R999"'}, "a clause of irc-2021"),
        ({"removes": "7"}, "a list of clauses"),
        ({"base": "harbour.toml"}, "amends no more than"),
    ],
)
def test_what_cannot_be_amended(local, changes, words):
    with pytest.raises(PackError, match=words):
        read_rules(local(**changes), "in")
