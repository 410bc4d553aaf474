"""A figure beside its limit shows the digits that decide: what fails never reads as the limit itself."""

import re
from dataclasses import replace

import stairguard
from stairguard.reports.data.finding_data import findings_csv
from stairguard.reports.page.guard.page_head import inspection_head
from stairguard.reports.page.rules.finding_list import findings_list
from stairguard.rules.findings.designed import inspect_layout


def test_a_rail_short_by_a_trillionth_reads_so():
    """Told on 0.5.0 as "36 at least 36 FAILS"."""
    found = inspect_layout(stairguard.lay_out(stairguard.built_in_job()))
    height = next(one for one in found.findings if one.quantity == "guard height" and one.limit == 36)
    short = replace(height, verdict="fail", value=36 - 1e-12, margin=-1e-12)
    told = replace(found, findings=(short,))
    for text in ("\n".join(findings_list(told)), findings_csv(told), "\n".join(inspection_head(told, designed=True))):
        assert re.search(r"35\.99999999999|less than 36 (in )?by <0\.000001", text)
