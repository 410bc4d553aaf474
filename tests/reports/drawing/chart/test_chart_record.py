import math

import pytest

from stairguard.errors import InputError
from stairguard.reports.drawing.chart.chart_record import MOST_LINES, Band, Chart, ChartMark, Curve, Level


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf, 1e301])
def test_what_is_no_number_is_refused(bad):
    for said in (
        {"series": (Curve("a", (0.0, bad), (0.0, 1.0)),)},
        {"series": (Curve("a", (0.0, 1.0), (bad, 1.0)),)},
        {"levels": (Level("a", bad),)},
        {"marks": (ChartMark("a", 0.0, bad),)},
        {"bands": (Band("a", (0.0,), (bad,), (1.0,)),)},
    ):
        with pytest.raises(InputError, match=r"chart 'T', .* 'a': must be a number"):
            Chart(title="T", x_name="x", y_name="y", **said)


def test_rows_of_different_length_and_too_many_lines_are_refused():
    with pytest.raises(InputError, match="got 1 and 2"):
        Chart(title="T", x_name="x", y_name="y", series=(Curve("a", (0.0,), (0.0, 1.0)),))
    many = tuple(Curve(f"{k}", (0.0,), (0.0,)) for k in range(MOST_LINES + 1))
    with pytest.raises(InputError, match="got 13"):
        Chart(title="T", x_name="x", y_name="y", series=many)
