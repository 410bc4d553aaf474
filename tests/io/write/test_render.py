import re
import subprocess
import sys
import zlib

import matplotlib as mpl
import numpy as np
import pytest
from PIL import Image

from stairguard.io.write.render import WIDTH_PX, save
from stairguard.reports.drawing.paper.scene import Circle, Line, Place, Polygon, Sheet, Text
from tests.reports import guards

# Pictures are read back with Pillow, PDF and SVG as the bytes they are.


def _sheet(*parts, name="a", width=420.0, height=297.0):
    return Sheet(name=name, width=width, height=height, scale_text="1:1", parts=parts)


def _pixels(path):
    return np.asarray(Image.open(path).convert("L"))


def _at(pixels, x, y, sheet):
    scale = pixels.shape[1] / sheet.width
    return pixels[round((sheet.height - y) * scale - 0.5), round(x * scale - 0.5)]


def test_ink_is_where_the_record_says(tmp_path):
    sheet = _sheet(
        Line("cut", (Place(50, 100), Place(350, 100))),
        Polygon((Place(100, 200), Place(140, 200), Place(140, 240), Place(100, 240)), None, "#000000"),
        Circle(Place(250, 200), 20.0, "cut"),
    )
    png, *_ = save((sheet,), tmp_path, "a")
    pixels = _pixels(png)
    assert pixels.shape == (round(297 / 420 * WIDTH_PX), WIDTH_PX)
    assert _at(pixels, 200, 100, sheet) < 80
    assert _at(pixels, 120, 220, sheet) < 10
    assert _at(pixels, 270, 200, sheet) < 80
    for x, y in ((200, 101), (200, 99), (98, 220), (142, 220), (120, 242), (120, 198), (250, 200), (40, 100)):
        assert _at(pixels, x, y, sheet) == 255


def test_words_fill_the_width_the_record_gives_them(tmp_path):
    text = Text("H" * 20, Place(60, 100), 5.0)
    sheet = _sheet(text)
    pixels = _pixels(save((sheet,), tmp_path, "a")[0])
    rows, columns = np.nonzero(pixels < 128)
    scale = pixels.shape[1] / sheet.width
    side = 201 / 1493 * 5.0  # H in DejaVu Sans stands 201 units in from its edges
    assert columns.min() / scale == pytest.approx(60 + side, abs=0.2)
    assert (columns.max() + 1) / scale == pytest.approx(text.bounds().right - side, abs=0.2)
    assert (rows.max() - rows.min() + 1) / scale == pytest.approx(5.0, abs=0.3)


def test_words_turned_and_anchored_run_where_their_box_is(tmp_path):
    text = Text("plumb 7-1/4", Place(200, 150), 4.0, "middle", 90.0)
    sheet = _sheet(text)
    pixels = _pixels(save((sheet,), tmp_path, "a")[0])
    rows, columns = np.nonzero(pixels < 128)
    scale, box = pixels.shape[1] / sheet.width, text.bounds()
    assert box.left <= columns.min() / scale <= columns.max() / scale <= box.right
    assert box.bottom <= sheet.height - rows.max() / scale <= sheet.height - rows.min() / scale <= box.top


def test_white_paper_behind_words_hides_lines(tmp_path):
    parts = (Text("nnn", Place(100, 100), 5.0, box=True), Line("cut", (Place(50, 106), Place(200, 106))))
    pixels = _pixels(save((_sheet(*parts),), tmp_path, "a")[0])
    assert _at(pixels, 104, 106, _sheet()) == 255
    assert _at(pixels, 90, 106, _sheet()) < 80


def test_markup_and_mathematics_are_words(tmp_path):
    plain, maths = (_sheet(Text(words, Place(60, 100), 2.5)) for words in ("x", "$\\frac{1}{2}$ <b>&amp;</b>"))
    one, two = save((plain,), tmp_path, "x"), save((maths,), tmp_path, "y")
    assert _pixels(two[0]).min() < 128
    assert (_pixels(two[0]) < 128).sum() > 10 * (_pixels(one[0]) < 128).sum()
    assert "<b>" not in two[1].read_text()


def test_characters_the_face_lacks_are_drawn_and_warn_of_nothing(tmp_path):
    files = save((_sheet(Text("楼 stair \U0001f9ff", Place(60, 100), 2.5)),), tmp_path, "a")  # warnings are errors here
    assert _pixels(files[0]).min() < 128


def test_same_sheets_same_bytes_and_one_file_a_sheet(tmp_path):
    sheets = guards.sheets(guards.checked(guards.job(risers=60)))
    first, second = tmp_path / "1", tmp_path / "2"
    first.mkdir()
    second.mkdir()
    names = [path.name for path in save(sheets, first, "elevation")]
    save(sheets, second, "elevation")
    assert len(sheets) > 1
    expected = [f"elevation-{n}.{e}" for n in range(1, len(sheets) + 1) for e in ("png", "svg")]
    assert names == [*expected, "elevation.pdf"]
    for name in names:
        assert (first / name).read_bytes() == (second / name).read_bytes()
        assert b"CreationDate" not in (first / name).read_bytes()
    pdf = (first / "elevation.pdf").read_bytes()
    assert len(re.findall(rb"/Type /Page\b", pdf)) == len(sheets)


def _outline_box(numbers):
    xs, ys = numbers[::2], numbers[1::2]
    return min(xs), min(ys), max(xs), max(ys)


def test_svg_and_pdf_hold_the_same_letters_as_outlines(tmp_path):
    text = Text("HEH", Place(60, 100), 5.0)
    _, svg, pdf = save((_sheet(text),), tmp_path, "a")
    number = r"-?\d+(?:\.\d+)?"
    path = max(re.findall(r'<path d="([^"]*)"', svg.read_text()), key=len)
    left, _, right, _ = _outline_box([float(n) for n in re.findall(number, path)])
    streams = re.findall(rb"stream\r?\n(.*?)\r?\nendstream", pdf.read_bytes(), re.DOTALL)
    plain = b"".join(zlib.decompress(s) for s in streams if s[:1] == b"\x78").decode()
    drawn = re.findall(rf"({number}) ({number}) [ml]\n", plain.partition(" g ")[2])
    letters = [float(x) for x, y in drawn if 0 < float(x) < 1190]
    assert b"/FontFile" not in pdf.read_bytes()
    side = 201 / 1493 * 5.0  # H in DejaVu Sans stands 201 units in from its edges
    for edge, found in ((60 + side, (left, min(letters))), (text.bounds().right - side, (right, max(letters)))):
        assert [x * 25.4 / 72 for x in found] == pytest.approx([edge, edge], abs=0.01)


def test_svg_and_pdf_are_the_size_of_the_paper(tmp_path):
    _, svg, pdf = save((_sheet(Text("A", Place(60, 100), 2.5), width=431.8, height=279.4),), tmp_path, "a")
    size = re.search(r'width="([\d.]+)pt" height="([\d.]+)pt"', svg.read_text())
    assert [float(g) / 72 for g in size.groups()] == pytest.approx([17, 11])
    box = re.search(rb"/MediaBox \[ ?0 0 ([\d.]+) ([\d.]+) ?\]", pdf.read_bytes())
    assert [float(g) / 72 for g in box.groups()] == pytest.approx([17, 11])


def test_settings_of_matplotlib_neither_matter_nor_change(tmp_path):
    sheet = _sheet(Text("rail 900 mm", Place(60, 100), 2.5), Line("chain", (Place(0, 0), Place(100, 100))))
    files = save((sheet,), tmp_path, "a")
    odd = {
        "font.family": "serif",
        "lines.dash_capstyle": "round",
        "savefig.bbox": "tight",
        "savefig.dpi": 30,
        "figure.dpi": 55,
        "pdf.fonttype": 3,
        "svg.fonttype": "none",
        "lines.scale_dashes": False,
    }
    with mpl.rc_context(odd):
        before = dict(mpl.rcParams)
        again = save((sheet,), tmp_path, "b")
        assert dict(mpl.rcParams) == before
    for one, two in zip(files, again, strict=True):
        assert one.read_bytes() == two.read_bytes()


def test_pyplot_is_not_loaded():
    code = "import stairguard.io.write.render, sys; print('matplotlib.pyplot' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


def test_a_folder_that_cannot_be_written_is_an_os_error(tmp_path):
    with pytest.raises(OSError, match="missing"):
        save((_sheet(),), tmp_path / "missing", "a")
