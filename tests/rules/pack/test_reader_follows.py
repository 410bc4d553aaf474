"""A pack that follows another edition: its rules taken over, renumbered, and its own in their place."""

from __future__ import annotations

import pytest

from stairguard.errors import PackError
from stairguard.rules.pack.reader import read_rules

HEAD = """
name = "{name}"
title = "Made up"
edition = "{edition}"
unit = "in"
jurisdiction = "nowhere"
{more}
"""
RULE = """
[[rule]]
quantity = "guard height"
place = "landing"
kind = "at least"
value = "{value}"
clause = "{clause}"
status = "from memory"
source = "from memory"
note = "made up for a test"
"""


@pytest.fixture
def write(tmp_path):
    def put(name, more="", rules="", edition="1"):
        path = tmp_path / f"{name}.toml"
        path.write_text(HEAD.format(name=name, edition=edition, more=more) + rules, encoding="utf-8")
        return str(path)

    return put


def test_rules_are_taken_over_renumbered_and_in_order(write):
    ramp = RULE.format(value=30, clause="1.2").replace('place = "landing"', 'place = "ramp"')
    write("old", rules=RULE.format(value=36, clause="1.1") + ramp)
    path = write("new", 'follows = "old.toml"\nrenumbers = { "1." = "7.", "1.2" = "9.2" }', edition="2")
    new = read_rules(path, "in")
    assert [(r.clause, r.value) for r in new.rules] == [("7.1", 36), ("9.2", 30)]  # the longest beginning counts
    assert (new.name, new.edition, new.amended) == ("new", "2", ())


def test_own_rules_stand_in_for_those_on_the_same_matter_and_others_are_added(write):
    write("old", rules=RULE.format(value=36, clause="1.1"))
    own = RULE.format(value=42, clause="5") + RULE.format(value=38, clause="6").replace("at least", "at most")
    new = read_rules(write("new", 'follows = "old.toml"', own), "in")
    assert [(r.clause, r.kind, r.value) for r in new.rules] == [("5", "at least", 42), ("6", "at most", 38)]
    assert new.amended == ()  # another edition is no amendment


def test_a_local_file_may_amend_a_pack_that_follows_another(write):
    local = write("local", 'amends = "irc-2024"', RULE.format(value=42, clause="L 1"))
    rules = read_rules(local, "in")
    (one,) = rules.amended
    assert (one.local, one.base, one.old.clause, one.new.clause) == ("local", "irc-2024", "R321.1.2", "L 1")
    assert (one.old.value, one.new.value) == (36, 42)


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ("follows = 3", "follows: must be text"),
        ('follows = "irc-1912"', "follows: rules: must be a pack's name"),
        ('follows = "old.toml"\namends = "irc-2021"', "follows: must be left out where the pack amends another"),
        ('follows = "irc-2018"\nrenumbers = { "R3" = 3 }', "renumbers: must be a table"),
        ('renumbers = { "R3" = "R4" }', "renumbers: must be given with follows"),
        ('follows = "bad.toml"', "follows: must be a pack that follows no more than 5 others in turn"),
    ],
)
def test_what_is_wrong_is_told(write, more, words):
    write("old", rules=RULE.format(value=36, clause="1.1"))
    path = write("bad", more)
    with pytest.raises(PackError) as caught:
        read_rules(path, "in")
    assert any(words in str(fault) for fault in caught.value.faults), str(caught.value)
