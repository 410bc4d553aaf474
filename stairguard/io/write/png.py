"""PNG files of few colours: one byte a pixel, written with the standard library alone.

A drawing has one grey scale and one accent ink, so a palette loses next to nothing, and packs and loads
several times faster than four channels. Layout of the file: W3C, Portable Network Graphics (PNG)
Specification, second edition, sections 5 and 11 (from memory).
"""

from __future__ import annotations

import struct
import zlib
from pathlib import Path
from typing import Any, Final

import numpy as np

__all__ = ["indexed", "write_png"]

_STEPS: Final = 128
_COLOURED: Final = 2
"""Red over blue by more than this is the accent ink's doing, not rounding."""


def indexed(rgba: Any, accent: tuple[int, int, int]) -> tuple[Any, bytes]:
    """Reduce a picture of black, white and one accent ink to a palette.

    Parameters
    ----------
    rgba : array of uint8, shape (height, width, 4)
    accent
        Red, green and blue of the ink; more red than blue.

    Returns
    -------
    tuple
        Palette indices, uint8, shape (height, width); the palette, three bytes an entry: 128 greys, then 128
        mixtures of the accent ink with white.
    """
    red, blue = rgba[..., 0], rgba[..., 2]
    coloured = red.astype(np.int16) - blue > _COLOURED
    indices = np.where(coloured, _STEPS + (blue >> 1), red >> 1).astype(np.uint8)
    levels = np.arange(_STEPS) * 255 // (_STEPS - 1)
    share = np.clip((levels - accent[2]) / (255 - accent[2]), 0.0, 1.0)[:, None]
    mixtures = np.asarray(accent) + share * (255 - np.asarray(accent))
    palette = np.concatenate((np.repeat(levels[:, None], 3, axis=1), np.rint(mixtures)))
    return indices, palette.astype(np.uint8).tobytes()


def write_png(path: Path, indices: Any, palette: bytes, pixels_per_mm: float) -> None:
    """Write palette indices as a PNG that knows its size in print.

    Raises
    ------
    OSError
        The file cannot be written.
    """
    height, width = indices.shape
    rows = np.zeros((height, width + 1), np.uint8)  # every row starts with a 0: no filter
    rows[:, 1:] = indices
    density = round(pixels_per_mm * 1000)
    chunks = (
        (b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 3, 0, 0, 0)),
        (b"pHYs", struct.pack(">IIB", density, density, 1)),
        (b"PLTE", palette),
        (b"IDAT", zlib.compress(rows.tobytes(), 3)),
        (b"IEND", b""),
    )
    framed = (
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data)) for kind, data in chunks
    )
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + b"".join(framed))
