import numpy as np
import pytest
from PIL import Image

from stairguard.io.write.png import indexed, write_png

# The outside witness is Pillow, which reads back what was written.

ACCENT = (179, 64, 31)


def _mixed(share):
    return [round(255 + (c - 255) * share) for c in ACCENT]


def test_colours_come_back_within_a_step(tmp_path):
    greys = [[g, g, g] for g in range(256)]
    accents = [_mixed(s / 100) for s in range(5, 101)]
    rgba = np.array([[*c, 255] for c in greys + accents], np.uint8)[None, :, :]
    write_png(tmp_path / "a.png", *indexed(rgba, ACCENT), 10.0)
    back = np.asarray(Image.open(tmp_path / "a.png").convert("RGB")).astype(int)
    assert back.shape == (1, len(rgba[0]), 3)
    assert abs(back[0] - rgba[0, :, :3].astype(int)).max() <= 3
    assert back[0, 0].tolist() == [0, 0, 0]
    assert back[0, 255].tolist() == [255, 255, 255]


def test_rows_and_size_in_print(tmp_path):
    rgba = np.full((3, 5, 4), 255, np.uint8)
    rgba[1, 4, :3] = 0
    write_png(tmp_path / "a.png", *indexed(rgba, ACCENT), 100 / 25.4)
    image = Image.open(tmp_path / "a.png")
    assert np.argwhere(np.asarray(image.convert("L")) == 0).tolist() == [[1, 4]]
    assert image.info["dpi"] == pytest.approx((100, 100), abs=0.05)
