"""Packs of the user's own, and every way one can be wrong."""

from __future__ import annotations

from fractions import Fraction

import pytest

from stairguard.errors import PackError
from stairguard.rules.pack.reader import available, read_rules

HEAD = """
name = "cabin"
title = "Cabin rules"
edition = "first"
unit = "mm"
jurisdiction = "one cabin"
cautions = ["Mind the bear."]
"""
RULE = """
[[rule]]
quantity = "opening"
place = "any"
kind = "stops more than"
value = "99-1/2"
clause = "C1"
status = "from memory"
source = "from memory"
note = "made up for a test"
"""
HEIGHT = """
[[rule]]
quantity = "guard height"
place = "landing"
kind = "at least"
value = "900"
clause = "C2"
status = "from memory"
source = "from memory"
note = "made up for a test"
"""


@pytest.fixture
def pack(tmp_path):
    def write(text):
        path = tmp_path / "cabin.toml"
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
        return str(path)

    return write


def _faults(path):
    with pytest.raises(PackError) as caught:
        read_rules(path, "in")
    for fault in caught.value.faults:
        assert "\n" not in str(fault)
    return [str(fault) for fault in caught.value.faults]


def test_a_pack_by_path(pack):
    rules = read_rules(pack(HEAD + RULE + HEIGHT), "in")
    assert (rules.name, rules.title, rules.edition) == ("cabin", "Cabin rules", "first")
    assert rules.cautions == ("Mind the bear.",)
    rule = rules.opening("flight")
    assert rule is not None
    assert rule.value == Fraction(995, 254)
    assert rule.binding
    assert rule.inclusive


@pytest.mark.parametrize(
    ("written", "value"),
    [
        ('"99.5"', Fraction(199, 2)),
        ("99.5", Fraction(199, 2)),
        ("0.1", Fraction(1, 10)),
        ("4", Fraction(4)),
        ('"4 3/8"', Fraction(35, 8)),
        ('"4-3/8"', Fraction(35, 8)),
        ('"3/8"', Fraction(3, 8)),
    ],
)
def test_values_are_exact(pack, written, value):
    (rule,) = read_rules(pack(HEAD + RULE.replace('"99-1/2"', written)), "mm").rules
    assert rule.value == value


@pytest.mark.parametrize(
    "written",
    ['""', '"0"', '"-1"', "-1", "0", "nan", "inf", "true", '"4-3/0"', '"four"', "[4]", '"1e3"', '"4 in"',
     '"99999999"', '"4-4/3/8"', '"٤"', "1979-05-27", "9" * 5000, '"' + "9" * 5000 + '"'],
)  # fmt: skip
def test_values_that_are_none(pack, written):
    (fault,) = _faults(pack(HEAD + RULE.replace('"99-1/2"', written)))
    assert fault.startswith("cabin.toml")


@pytest.mark.parametrize(
    ("old", "new", "where", "must"),
    [
        ('kind = "stops more than"', 'kind = "at most"', "kind", "'stops', 'stops more than' for opening"),
        ('kind = "stops more than"', "kind = 3", "kind", "one of"),
        ('quantity = "opening"', 'quantity = "openin"', "quantity", "one of"),
        ('place = "any"', 'place = "attic"', "place", "'step triangle'"),
        ('status = "from memory"', 'status = "read somewhere"', "status", "'read'"),
        ('clause = "C1"', 'clause = " "', "clause", "text"),
        ('note = "made up for a test"', "note = 3.5", "note", "text"),
        ('source = "from memory"', "", "source", "text"),
        ('clause = "C1"', 'clause = "C1"\nklause = 1', "klause", "nearest is 'clause'"),
        ('clause = "C1"', 'clause = "C1"\nbinding = "no"', "binding", "true or false"),
        ('clause = "C1"', 'clause = "C1"\nbinding = false', "binding", "true for an opening"),
        ('clause = "C1"', 'clause = "C1"\nwhen_run_below = "11"', "when_run_below", "steps of a flight"),
    ],
)
def test_a_mistake_names_its_rule_key_and_line(pack, old, new, where, must):
    text = HEAD + HEIGHT + RULE.replace(old, new, 1)
    assert text != HEAD + HEIGHT + RULE
    line = text[: text.rindex("[[rule]]")].count("\n") + 1
    (fault,) = _faults(pack(text))
    assert fault.startswith(f"cabin.toml, rule 2 (line {line}), {where}: must be ")
    assert must in fault


@pytest.mark.parametrize(
    ("old", "new", "where"),
    [
        ('unit = "mm"', 'unit = "cm"', "unit"),
        ('name = "cabin"', "", "name"),
        ('title = "Cabin rules"', "title = 7", "title"),
        ('cautions = ["Mind the bear."]', 'cautions = "Mind"', "cautions"),
        ('cautions = ["Mind the bear."]', "cautions = [1]", "cautions"),
        ('edition = "first"', 'edition = "first"\nedtion = "x"', "edtion"),
    ],
)
def test_a_mistake_in_the_head(pack, old, new, where):
    (fault,) = _faults(pack(HEAD.replace(old, new) + RULE))
    assert fault.startswith(f"cabin.toml, {where}: must be ")


@pytest.mark.parametrize("rules", ["", "rule = 3", "rule = []", "rule = [1, 2]"])
def test_a_pack_without_rules(pack, rules):
    (fault,) = _faults(pack(HEAD + rules))
    assert fault.startswith("cabin.toml, rule: must be one [[rule]] table or more")


def test_every_mistake_is_told_at_once(pack):
    text = HEAD.replace('"mm"', '"cm"') + RULE.replace('"C1"', "1") + HEIGHT.replace('"900"', '"tall"')
    assert len(_faults(pack(text))) == 3


def test_two_opening_rules_for_one_place(pack):
    (fault,) = _faults(pack(HEAD + RULE + RULE))
    assert "rule 2" in fault
    assert "rule 1" in fault


def test_a_pitch_is_less_than_plumb(pack):
    steep = HEIGHT.replace('"guard height"', '"pitch"').replace('"landing"', '"flight"').replace("900", "90")
    (fault,) = _faults(pack(HEAD + steep))
    assert "90 degrees" in fault


def test_a_difference_has_no_least(pack):
    least = HEIGHT.replace('"guard height"', '"run difference"').replace('"landing"', '"flight"')
    (fault,) = _faults(pack(HEAD + least))
    assert "one of 'at most' for run difference" in fault


@pytest.mark.parametrize("text", ["name = ", b"\xff\xfe", "a = [" * 5000, "x" * 1_000_001, 'name = "a"\nname = "b"'])
def test_what_is_no_toml(pack, text):
    (fault,) = _faults(pack(text))
    assert fault.startswith("cabin.toml: must be ")


def test_names_that_no_pack_has(tmp_path):
    (fault,) = _faults("irc-2012")
    assert "nearest is 'irc-20" in fault
    (fault,) = _faults("zzz")
    assert all(name in fault for name in (*available(), "none"))
    for path in (str(tmp_path), str(tmp_path / "missing.toml"), "a\0b.toml", "x/" + "y" * 5000):
        (fault,) = _faults(path)
        assert fault.startswith("rules ")


def test_no_rules():
    rules = read_rules("none", "mm")
    assert rules.rules == ()
    assert rules.opening("flight") is None
    assert rules.of("riser", "flight") == ()


def test_shipped_packs():
    assert {"irc-2021", "nz-f4as1"} <= set(available())
    for name in available():
        assert read_rules(name, "in").name == name
