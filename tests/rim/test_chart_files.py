import pytest

from stairguard.errors import OutputError
from stairguard.rim import plot
from stairguard.rim.chart_files import save_sheets, write_sheets
from stairguard.views.charts import Chart, Series, chart_sheet

SHEETS = {
    name: chart_sheet(Chart(name, "x", "y", (Series("a", (0.0, 1.0), (0.0, 1.0)),)), "2026-02-03")
    for name in ("push", "temperature")
}
NAMES = [f"{name}.{ending}" for name in ("push", "temperature") for ending in ("pdf", "png", "svg")]
HEADS = {".png": b"\x89PNG", ".pdf": b"%PDF", ".svg": b"<?xml"}


def test_each_sheet_becomes_three_files(tmp_path):
    folder = tmp_path / "out"
    written = write_sheets(SHEETS, folder)
    assert [path.name for path in written] == NAMES
    assert all(path.read_bytes().startswith(HEADS[path.suffix]) for path in written)
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def test_a_folder_with_something_in_it_is_left_alone(tmp_path):
    (tmp_path / "kept").write_text("kept")
    with pytest.raises(OutputError, match="must be a new or empty folder"):
        write_sheets(SHEETS, tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["kept"]


def test_half_a_folder_is_taken_away_again(tmp_path, monkeypatch):
    def full(sheets, folder, stem):
        (folder / stem).write_text("half")
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(plot, "save", full)
    with pytest.raises(OutputError, match="No space left"):
        write_sheets(SHEETS, tmp_path / "out")
    assert not list(tmp_path.iterdir())


def test_sheets_join_what_is_in_a_folder(tmp_path):
    (tmp_path / "report.txt").write_text("kept")
    assert sorted(path.name for path in save_sheets(SHEETS, tmp_path)) == NAMES
    assert (tmp_path / "report.txt").read_text() == "kept"
