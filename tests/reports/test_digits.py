"""A figure beside its limit shows the digits that decide: what fails never reads as the limit itself."""

import re
from dataclasses import replace

import pytest

import stairguard
from stairguard.reports.data.finding_data import findings_csv
from stairguard.reports.page.guard.page_head import inspection_head
from stairguard.reports.page.page_text import figure
from stairguard.reports.page.rules.finding_list import findings_list
from stairguard.rules.findings.designed import inspect_layout


@pytest.mark.parametrize(
    ("value", "limit", "shown"),
    [(36.0, 36.0, "36"), (35.75, 36.0, "35.75"), (6.66093750001, 6.0, "6.6609"), (36 - 1e-5, 36.0, "35.99999"),
     (36 - 2.4e-6, 36.0, "35.999998")],
)  # fmt: skip
def test_as_many_digits_as_tell_it_from_its_limit(value, limit, shown):
    text = figure(value, "", limit, 5)
    assert text.startswith(shown)
    assert (float(text) == limit) is (value == limit)


@pytest.mark.parametrize(
    ("value", "limit", "shown"),
    [(36 - 1e-12, 36.0, "less than 36 in by <0.000001 in"), (6 + 4e-15, 6.0, "more than 6 in by <0.000001 in"),
     (100 - 5.9e-7, 100.0, "less than 100 in by <0.000001 in")],
)  # fmt: skip
def test_what_is_next_to_its_limit_is_told_by_its_side(value, limit, shown):
    """Told on 0.6.0 as "99.999999407311719"."""
    assert figure(value, "in", limit, 5) == shown


def test_a_rail_short_by_a_trillionth_reads_so():
    """Told on 0.5.0 as "36 at least 36 FAILS"."""
    found = inspect_layout(stairguard.lay_out(stairguard.built_in_job()))
    height = next(one for one in found.findings if one.quantity == "guard height" and one.limit == 36)
    short = replace(height, verdict="fail", value=36 - 1e-12, margin=-1e-12)
    told = replace(found, findings=(short,))
    for text in ("\n".join(findings_list(told)), findings_csv(told), "\n".join(inspection_head(told, designed=True))):
        assert re.search(r"35\.99999999999|less than 36 (in )?by <0\.000001", text)
