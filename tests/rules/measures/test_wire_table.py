"""The Australian table of level wires, held against a second writing-out of it, row by row."""

from fractions import Fraction as F

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stairguard.model.guard.strand_deflection import Taut
from stairguard.model.job import Push, Strand
from stairguard.rules.measures import wire_table
from stairguard.rules.measures.wire_checks import tabled
from stairguard.rules.measures.wire_table import asked, table
from stairguard.solve.load.strand_properties import steel

GAPS = (600, 800, 900, 1000, 1200, 1500, 1800, 2000, 2500)

# BCA/NCC Volume One, Table D2.16a, as re-hosted at vdocuments.site ("table D2.16a wire balustrade construction"), no
# edition printed; read. Clear gap between posts across, as GAPS; X: not permitted.
ROWS = """
2.5 7x7  60   55  190  263  415  478  823 1080 1139    X
2.5 7x7  80  382  630  730  824 1025 1288    X    X    X
2.5 7x7  100 869 1218 1368    X    X    X    X    X    X
2.5 1x19 60   35  218  310  402  585  810 1125 1325    X
2.5 1x19 80  420  630  735  840 1050 1400 1750    X    X
2.5 1x19 100 1140 1565   X    X    X    X    X    X    X
3.0 7x7  60   15  178  270  314  506  660  965 1168 1491
3.0 7x7  80  250  413  500  741  818 1083 1370 1565    X
3.0 7x7  100 865 1278 1390 1639    X    X    X    X    X
3.0 1x19 60   25  183  261  340  520  790 1025 1180    X
3.0 1x19 80  325  555  670  785 1015 1330 1725 1980    X
3.0 1x19 100 1090 1500 1705 1910   X    X    X    X    X
4.0 7x7  60    5   73   97  122  235  440  664  813 1178
4.0 7x7  80  196  422  480  524  760 1100 1358 1530 2130
4.0 7x7  100 835 1182 1360 1528 1837 2381 2811 3098    X
4.0 1x19 60    5    5   10   15   20  147  593  890 1280
4.0 1x19 80   30  192  300  415  593 1105 1303 1435 1844
4.0 1x19 100 853 1308 1487 1610 2048 2608 3094 3418 3849
4.0 7x19 60  155  290  358  425  599  860 1080 1285 1540
4.0 7x19 80  394  654  785  915 1143 1485 1860 2105 2615
4.0 7x19 100 1038 1412 1598 1785 2165 2735   X    X    X
""".strip().splitlines()


def cells():
    for row in ROWS:
        diameter, lay, spacing, *tensions = row.split()
        for gap, tension in zip(GAPS, tensions, strict=True):
            yield F(diameter), lay, F(spacing), F(gap), None if tension == "X" else F(tension)


def test_every_cell_of_the_table():
    ours = [(c.diameter_mm, c.lay, c.spacing_mm, c.gap_mm, c.tension_N) for c in table()]
    assert sorted(ours, key=lambda c: c[:4]) == sorted(cells(), key=lambda c: c[:4])
    assert len(ours) == 189


@pytest.mark.parametrize(("diameter", "spacing", "tension"), [("3.0", 60, 1491), ("4.0", 80, 2130)])
def test_two_cells_quoted_elsewhere(diameter, spacing, tension):
    """A thread of renovateforum.com, "Balustrate options ?", quotes these two; read."""
    assert asked(F(diameter), "7x7", F(spacing), F(2500)).tension_N == tension


def test_each_cell_answers_for_itself():
    for diameter, lay, spacing, gap, tension in cells():
        assert asked(diameter, lay, spacing, gap).tension_N == tension


@given(st.sampled_from(list(cells())), st.integers(0, 99), st.integers(0, 99))
def test_between_cells_the_next_holds_and_nothing_is_interpolated(cell, less_spacing, less_gap):
    diameter, lay, spacing, gap, _ = cell
    below = max((g for g in GAPS if g < gap), default=0)
    found = asked(diameter, lay, spacing - F(20 * less_spacing, 100), gap - (gap - below) * F(less_gap, 100))
    assert (found.spacing_mm, found.gap_mm) == (spacing, gap)


def test_more_gap_or_spacing_never_asks_for_less():
    """Also with what is not permitted as without limit."""
    most = F(10**9)
    of = {cell[:4]: most if cell[4] is None else cell[4] for cell in cells()}
    for (diameter, lay, spacing, gap), tension in of.items():
        for wider in (s for s in (60, 80, 100) if s >= spacing):
            assert all(of[diameter, lay, F(wider), F(longer)] >= tension for longer in GAPS if longer >= gap)


def test_wire_of_3_2_mm_has_the_figures_of_3_mm():
    """Note 3 of the table, read; every other diameter is exact."""
    assert asked(F("3.2"), "1x19", F(70), F(850)) == asked(F(3), "1x19", F(80), F(900))
    assert asked(F("3.175"), "1x19", F(80), F(900)) is None


@pytest.mark.parametrize(
    ("diameter", "lay", "spacing", "gap"),
    [(2, "1x19", 60, 600), (4, "1x7", 60, 600), (3, "7x19", 60, 600), (4, "1x19", 101, 600), (4, "1x19", 60, 2501)],
)
def test_nothing_is_asked_where_the_table_does_not_reach(diameter, lay, spacing, gap):
    assert asked(F(diameter), lay, F(spacing), F(gap)) is None


def test_not_permitted_is_not_the_same_as_out_of_reach():
    assert asked(F("2.5"), "7x7", F(81), F(950)).tension_N is None


def test_the_file_and_the_reader_name_the_source_and_the_probe():
    head = wire_table._FILE.read_text(encoding="utf-8")[:500]
    for words in ("D2.16a", "re-hosted copy", "125 mm probe"):
        assert words in head
    assert "150 N" in table.__doc__


@pytest.mark.parametrize(
    ("probe", "sphere", "asks"),
    [("cone", F(125), True), ("cone", F(126), True), ("cone", F(100), False), ("sphere", F(125), False)],
)
def test_the_table_is_asked_of_its_own_cone_alone(probe, sphere, asks):
    """Australia's cone ends in a cylinder of 125 mm, give or take a part in a hundred; no other probe has a table."""
    cell = next(c for c in table() if c.tension_N is not None)
    strand = Strand(
        diameter=cell.diameter_mm,
        spacing=F(80),
        at_joints="break",
        terminal_take_up=F(0),
        tensioner_take_up=F(0),
        construction=cell.lay,
        tension=F(2000),
    )
    taut = Taut(steel(strand, strand.diameter, "mm"), F(2000), "set")
    found = tabled(taut, cell.spacing_mm, cell.gap_mm, Push(force=F(150), probe=probe, sphere=sphere), "mm")
    assert (found is not None) is asks


def test_in_inches_the_table_asks_the_same_wire_the_same():
    """Millimetres to an inch 25.4, newtons to a pound-force 4.4482216152605 (NIST SP 811, from memory)."""
    cell = next(c for c in table() if c.tension_N is not None)
    inch, pound = F("25.4"), F("4.4482216152605")
    strand = Strand(
        diameter=cell.diameter_mm / inch,
        spacing=F(3),
        at_joints="break",
        terminal_take_up=F(0),
        tensioner_take_up=F(0),
        construction=cell.lay,
        tension=F(450),
    )
    taut = Taut(steel(strand, strand.diameter, "in"), F(450), "set")
    found = tabled(
        taut, cell.spacing_mm / inch, cell.gap_mm / inch, Push(force=F(30), probe="cone", sphere=F(125) / inch), "in"
    )
    assert (found.spacing, found.bay) == (cell.spacing_mm / inch, cell.gap_mm / inch)
    assert found.tension == cell.tension_N / pound
