import csv
import json
import os

import pytest

import stairguard
from stairguard.errors import Fault, InputError, OutputError
from stairguard.io.write import folder, render
from stairguard.io.write.folder import check_folder, read_date

DAY = "2025-03-31"


@pytest.fixture(scope="module")
def checked():
    return stairguard.lay_out(stairguard.built_in_job())


def test_a_folder_is_complete(checked, tmp_path):
    written = stairguard.write(checked, tmp_path / "out", date=DAY)
    names = [path.name for path in written]
    assert names == sorted(os.listdir(tmp_path / "out"))
    assert {"cuts.csv", "holes.csv", "report.txt", "result.json", "elevation.pdf"} <= set(names)
    assert {path.suffix for path in written} == {".csv", ".txt", ".json", ".pdf", ".png", ".svg"}
    assert all(path.stat().st_size for path in written)
    assert os.listdir(tmp_path) == ["out"]
    assert json.loads((tmp_path / "out/result.json").read_text()) == stairguard.result(checked)
    assert (tmp_path / "out/report.txt").read_text(encoding="utf-8") == stairguard.report(checked)


def test_equal_layouts_give_equal_bytes(checked, tmp_path):
    first, second = (stairguard.write(checked, tmp_path / name, date=DAY) for name in ("one", "two"))
    assert [path.read_bytes() for path in first] == [path.read_bytes() for path in second]


def test_the_lists_read_back(checked, tmp_path):
    stairguard.write(checked, tmp_path / "out", date=DAY)
    with (tmp_path / "out/holes.csv").open(encoding="utf-8", newline="") as file:
        holes = list(csv.DictReader(file))
    assert len(holes) == sum(len(post.holes) for post in checked.layout.posts)
    assert float(holes[0]["height_in"]) == float(checked.layout.posts[0].holes[0].height)
    with (tmp_path / "out/cuts.csv").open(encoding="utf-8", newline="") as file:
        cuts = list(csv.DictReader(file))
    assert {row["part"] for row in cuts} == {"rail", "post", "strand", "fitting"}
    assert all(row["job"] == checked.layout.job.title for row in cuts + holes)
    posts = [int(row["count"]) for row in cuts if row["part"] == "post"]
    assert sum(posts) == len(checked.layout.posts)


def test_an_empty_folder_may_be_filled(checked, tmp_path):
    (tmp_path / "out").mkdir()
    assert stairguard.write(checked, tmp_path / "out", date=DAY)


def test_where_nothing_may_be_written(tmp_path):
    full = tmp_path / "full"
    full.mkdir()
    (full / "mine.txt").write_text("mine")
    (tmp_path / "file").write_text("")
    (tmp_path / "link").symlink_to(tmp_path / "nowhere")
    for place in (full, tmp_path / "file", tmp_path / "link", tmp_path / "no/out", tmp_path / "no\0name"):
        with pytest.raises(OutputError, match="a new or empty folder"):
            check_folder(place)
    assert (full / "mine.txt").read_text() == "mine"


def test_a_parent_without_leave_to_write(tmp_path, monkeypatch):
    monkeypatch.setattr(os, "access", lambda path, mode: False)  # root may write anywhere, so the answer is staged
    with pytest.raises(OutputError, match="no leave to write"):
        check_folder(tmp_path / "out")


@pytest.mark.parametrize("error", [OSError(28, "No space left on device"), KeyboardInterrupt(), RuntimeError()])
def test_nothing_is_left_behind_by_a_failure(checked, tmp_path, monkeypatch, error):
    def fail(sheets, folder, stem):
        (folder / "half.svg").write_text("half")
        raise error

    monkeypatch.setattr(render, "save", fail)
    expected = OutputError if isinstance(error, OSError) else type(error)
    with pytest.raises(expected):
        stairguard.write(checked, tmp_path / "out", date=DAY)
    assert os.listdir(tmp_path) == []


def test_a_folder_that_fills_meanwhile_is_left_alone(checked, tmp_path, monkeypatch):
    def meanwhile(sheets, folder, stem):
        (tmp_path / "out").mkdir()
        (tmp_path / "out/theirs").write_text("theirs")

    monkeypatch.setattr(render, "save", meanwhile)
    with pytest.raises(OutputError):
        stairguard.write(checked, tmp_path / "out", date=DAY)
    assert os.listdir(tmp_path / "out") == ["theirs"]
    assert os.listdir(tmp_path) == ["out"]


def test_dates():
    assert read_date(DAY) == DAY
    assert len(read_date(None)) == len(DAY)
    for bad in ("today", "2025-02-30", "", "2025-03-31\n$x$"):
        with pytest.raises(InputError, match="a date such as"):
            read_date(bad)


def test_faults_name_the_folder(tmp_path):
    (tmp_path / "file").write_text("")
    with pytest.raises(OutputError) as caught:
        check_folder(tmp_path / "file")
    assert caught.value.faults == (Fault(str(tmp_path / "file"), folder._FREE, "something that is no folder"),)
