"""Every rule of every pack against the table of its document; sources are named at the head of each table's file."""

from __future__ import annotations

import pytest

from stairguard.rules.pack.reader import available
from tests.published import (
    test_ada_2010,
    test_england_adk_2013,
    test_ibc,
    test_irc,
    test_nbc_canada,
    test_ncc_australia,
    test_nz_f4as1,
    test_osha_1910,
    test_osha_1926,
    test_scotland_1999,
)

TABLES = {
    table.pack: table
    for file in (
        test_ada_2010,
        test_england_adk_2013,
        test_ibc,
        test_irc,
        test_nbc_canada,
        test_ncc_australia,
        test_nz_f4as1,
        test_osha_1910,
        test_osha_1926,
        test_scotland_1999,
    )
    for table in file.TABLES
}
ROWS = [(pack, number) for pack, table in TABLES.items() for number in range(len(table.rows))]


def test_every_pack_has_a_table_and_every_rule_its_row():
    assert sorted(TABLES) == sorted(available())
    for table in TABLES.values():
        assert len(table.rows) == len(table.rules)


@pytest.mark.parametrize(("pack", "number"), ROWS)
def test_a_rule_is_as_its_row_says(pack, number):
    table = TABLES[pack]
    table.hold(table.rules[number], table.rows[number])
