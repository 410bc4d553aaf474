"""What is written for the saw and the drill agrees with the result in JSON, which `tests/rebuild` finds again.

The lists are read as a spreadsheet reads them, the page as a carpenter does: each figure against the same one of the
result.
"""

from __future__ import annotations

import csv
import io
import json
import re

import pytest

import stairguard
from stairguard.reports.data.csv_lists import cuts_csv, holes_csv
from tests.rebuild.jobs import ordinary, toml_text

SEEDS = (0, 21, 6, 7, 10, 13, 31, 10001, 20001, 30001, 50000, 70001)
"""Of flights, corners, ramps, side-mounted posts, jogs, wells, newels and sleeves; in inches and in millimetres."""


@pytest.fixture(scope="module", params=SEEDS)
def written(request, tmp_path_factory):
    """The result, the two lists as rows, and the page of an ordinary job."""
    path = tmp_path_factory.mktemp("job") / "job.toml"
    path.write_text(toml_text(ordinary(request.param)[1]), encoding="utf-8")
    checked = stairguard.lay_out(stairguard.read_job(path))
    result = json.loads(json.dumps(stairguard.result(checked, fixes=False)))
    lists = [list(csv.DictReader(io.StringIO(text(checked)))) for text in (holes_csv, cuts_csv)]
    return result, *lists, stairguard.report(checked)


def test_every_hole_is_written_as_it_is_told(written):
    result, rows, _, _ = written
    unit = result["unit"]
    told = [(post, hole) for post in result["posts"] for hole in post["holes"]]
    assert len(rows) == len(told)
    for row, (post, hole) in zip(rows, told, strict=True):
        assert (row["post"], row["role"], row["support"]) == (post["label"], post["role"], post["support"])
        assert int(row["strand"]) == hole["strand"]
        assert float(row[f"station_{unit}"]) == post["station"]
        for key in ("height", "marked", "low_face", "high_face"):
            assert float(row[f"{key}_{unit}"]) == hole[key]
        for key in ("drill_deg", "before_deg", "after_deg"):
            assert float(row[key]) == pytest.approx(hole[key], abs=1e-9)
        assert [int(k) - 1 for k in row["surfaces"].split()] == hole["surfaces"]
        assert [row["before_bears_on"] or None, row["after_bears_on"] or None] == hole["bears"]
        assert (row["broken"] == "yes") == hole["broken"]


def test_every_piece_is_written_as_it_is_told(written):
    result, _, rows, _ = written
    unit, cuts = result["unit"], result["cuts"]
    of = {
        part: {row["label"]: row for row in rows if row["part"] == part}
        for part in ("rail", "post", "strand", "sleeve")
    }
    for part, listed in of.items():
        assert sorted(listed) == sorted(cut["label"] for cut in cuts[f"{part}s"])
    for cut in (cut for part in of for cut in cuts[f"{part}s"]):
        row = next(listed[cut["label"]] for listed in of.values() if cut["label"] in listed)
        assert int(row["count"]) == cut["count"]
        assert float(row[f"length_{unit}"]) == cut["length"]
        assert float(row[f"marked_{unit}"]) == cut["marked"]
    for cut in cuts["rails"]:
        row = of["rail"][cut["label"]]
        assert [float(row[f"{key}_{unit}"]) for key in ("long", "underside")] == [cut["longest"], cut["underside"]]
        for end in ("start", "end"):
            told = cut[f"{end}_cut"]
            assert row[f"{end}_cut"] == told["kind"]
            assert [float(row[f"{end}_{key}"]) for key in ("deg", "tilt_deg")] == [told["angle_deg"], told["tilt_deg"]]
            assert all(word in row[f"{end}_long_point"].split() for word in (told["side"], told["edge"]) if word)
    for cut in cuts["posts"]:
        row = of["post"][cut["label"]]
        assert row["for"].split() == cut["posts"]
        assert [float(row[f"{key}_{unit}"]) for key in ("long", "short")] == [cut["long_edge"], cut["short_edge"]]
        edges = [float(row[f"{key}_{unit}"]) for key in ("edge_before", "edge_after")]
        assert edges == cut["edges"]
        assert [float(row[key]) for key in ("top_before_deg", "top_after_deg")] == cut["top_bevels_deg"]


def test_the_page_sets_the_saw_as_the_result_does(written):
    """Degrees to a tenth; of a compound cut the mitre with the piece laid flat, the blade's tilt, and the long side."""
    result, _, _, page = written
    for cut in result["cuts"]["rails"]:
        line = re.search(rf"^ +{cut['label']} +{cut['count']} .*(?:\n {{20,}}.*)*", page, re.MULTILINE)
        assert line, cut["label"]
        start, end, over = (" ".join(words.split()) for words in line[0].split(";"))
        assert start.endswith(setting(cut["start_cut"]))
        assert end == setting(cut["end_cut"])
        assert [int(k) - 1 for k in re.findall(r"\d+", over)] == cut["surfaces"]


def setting(cut):
    """In the page's words, how the saw is set for a cut."""
    if cut["kind"] == "square":
        return "square"
    if cut["kind"] in ("plumb", "mitre"):
        return f"{cut['kind']} {cut['angle_deg']:.1f}° {cut['long_point'].replace('underside', 'under')}"
    flat = f"flat {cut['angle_deg']:.1f}° / {cut['tilt_deg']:.1f}° {cut['side']}"
    return flat if cut["edge"] is None else f"{flat} {cut['edge'].replace('underside', 'under')}"
