"""What single readers let through and refuse: TOML's own faults, bare numbers, an inspection's rows."""

import os
from decimal import Decimal
from fractions import Fraction as F

import pytest

from stairguard.errors import InputError, JobError, OutputError
from stairguard.io.parse.arguments import read_known
from stairguard.io.parse.weights import parse_stiffness, parse_weight
from stairguard.io.read.survey_file import read_survey
from stairguard.io.read.toml_file import parse
from stairguard.io.write.opening_drawing import check_drawing


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"a = " + b"[" * 100_000, "valid TOML, got brackets nested too deep"),
        (b"title = \xff", "UTF-8 text, got byte 0xff"),
        (b"a = ", "valid TOML, got Invalid value (at end of document)"),
        (b"a = " + b"1" * 5000, "valid TOML, got Exceeds the limit"),
    ],
)
def test_what_is_no_toml_is_told_what_it_is(content, says):
    with pytest.raises(JobError) as caught:
        parse(content, "job.toml")
    assert str(caught.value).startswith(f"job.toml: must be {says}")


@pytest.mark.parametrize(
    ("line", "column", "quotes"),
    [
        ('rise = 7-1/4"', 9, True), ("rise = 7-1/4", 9, True), ("rise = 3' 4", 9, True), ("rise = 1/4", 9, True),
        ("rise = 7 in", 10, True), ("rise 7", 6, False), ("rise = = 1", 8, False), ("day = 1979-05-32", 11, False),
    ],
)  # fmt: skip
def test_a_line_that_is_no_toml_is_told_with_what_is_often_wrong(line, column, quotes):
    """Columns are those of Python's own reader; a length typed as it is spoken wants quotes."""
    with pytest.raises(JobError) as caught:
        parse(f'unit = "in"\n{line}\n'.encode(), "job.toml")
    (fault,) = caught.value.faults
    assert (fault.where, fault.got) == (f"job.toml line 2, column {column}", line)
    assert fault.must.endswith('stands in quotes, as "7-1/4 in"') is quotes


def test_a_byte_order_mark_is_no_part_of_a_file():
    assert parse(b"\xef\xbb\xbfrise = 7.25", "job.toml") == {"rise": Decimal("7.25")}


@pytest.mark.parametrize("value", [1.5, "1.5", "3/2", F(3, 2), Decimal("1.5")])
def test_a_plain_number_is_read_however_it_is_given(value):
    assert read_known({"k": value}, {"k": "number"}, "in") == {"k": F(3, 2)}


def test_each_value_is_read_as_its_kind_asks():
    given = {"rise": "7 1/2", "pitch": "36.5 deg", "tension": "200 lbf", "share": 0.5}
    kinds = {"rise": "length", "pitch": "angle", "tension": "force", "share": "number"}
    assert read_known(given, kinds, "in") == {"rise": F(15, 2), "pitch": F(73, 2), "tension": F(200), "share": F(1, 2)}
    with pytest.raises(InputError) as caught:
        read_known({"rise": "x", "pitch": "y", "tension": "z", "share": True, "riser": None}, kinds, "in")
    assert [(fault.where, fault.got) for fault in caught.value.faults] == [
        ("rise", "x"), ("pitch", "y"), ("tension", "z"), ("share", "true"), ("riser", ""),
    ]  # fmt: skip
    assert caught.value.faults[-1].must == "a symbol of the formula: rise, pitch, tension, share"


@pytest.mark.parametrize("half", ["to", "magnitude"])
@pytest.mark.parametrize("read", [parse_stiffness, parse_weight])
def test_what_only_looks_like_a_quantity_is_refused_as_what_it_is(half, read):
    with pytest.raises(InputError, match="must be a"):
        read(type("Odd", (), {half: 3, "__str__": lambda self: "odd"})(), "in")


def test_a_folder_without_leave_to_write_takes_no_drawing(tmp_path, monkeypatch):
    monkeypatch.setattr(os, "access", lambda path, mode: False)  # root may write anywhere, so the answer is staged
    with pytest.raises(OutputError, match="got no leave to write in /"):
        check_drawing(tmp_path / "out.svg")


HEAD = """
unit = "in"
rules = "irc-2021"
[[surface]]
kind = "landing"
length = 48
[[surface]]
kind = "flight"
risers = 4
rise = 7
run = 11
[[measured]]
what = "opening"
surface = 2
"""


def survey(tmp_path, rows):
    path = tmp_path / "survey.toml"
    path.write_text(HEAD + rows, encoding="utf-8")
    return read_survey(path)


def test_an_inspection_without_a_title_is_of_a_stair_guard(tmp_path):
    found = survey(tmp_path, 'spacing = 3\nstrand_diameter = "1/8"\n')
    assert (found.title, found.rules, found.unit) == ("Stair guard", "irc-2021", "in")
    assert (found.plus_minus, found.ratio) == (0, 1)
    (row,) = found.taken
    assert (row.what, row.surface, row.length.value) == ("opening", 1, F(23, 8))


LENGTH = "a length such as 7-3/4in, 3' 4-1/2\", 194mm or 0.194 m"


@pytest.mark.parametrize(
    ("rows", "says"),
    [
        ('spacing = 0\nstrand_diameter = "1/8"\n', f"measured[1].spacing: must be {LENGTH}, more than zero, got 0"),
        ('spacing = -3\nstrand_diameter = "1/8"\n', f"measured[1].spacing: must be {LENGTH}, more than zero, got -3"),
        ("lift = -1\n", f"measured[1].lift: must be {LENGTH}, not negative, got -1"),
        ("value = 0\n", f"measured[1].value: must be {LENGTH}, more than zero, got 0"),
        ("sides = [3, 4, 5, 6]\ndiagonal = 0\n", f"measured[1].diagonal: must be {LENGTH}, more than zero, got 0"),
    ],
)
def test_a_length_of_the_wrong_sign_is_told_by_its_key(tmp_path, rows, says):
    with pytest.raises(JobError) as caught:
        survey(tmp_path, rows)
    assert says in str(caught.value).splitlines()


def test_what_was_got_is_told_as_files_have_it(tmp_path):
    """A list's figures and true as they are written; of many words to choose from, the nearest."""
    path = tmp_path / "job.toml"
    path.write_text(
        'unit = "in"\nrules = "irc-2021"\n[[surface]]\nkind = "flight"\nrisers = 7\nrise = [7.25, "7 in"]\nrun = 10\n'
        'nosing = true\n[[measured]]\nwhat = "gaurd height"\nsurface = 1\nvalue = 36\n'
    )
    with pytest.raises(JobError) as caught:
        read_survey(path)
    rise, nosing, what = caught.value.faults
    assert (rise.got, nosing.got) == ("[7.25, 7 in]", "true")
    assert what.must.endswith('or "opening" (the nearest is "guard height")')


def test_the_mark_of_an_inspection_is_the_file_s_or_none(tmp_path):
    path = tmp_path / "survey.toml"
    rows = 'spacing = 3\nstrand_diameter = "1/8"\n'
    path.write_text(f'mark = "1/8 in"\n{HEAD}{rows}', encoding="utf-8")
    assert read_survey(path).mark == F(1, 8)
    assert survey(tmp_path, rows).mark is None
