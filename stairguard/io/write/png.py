"""PNG files of few colours, one byte a pixel, written by the imaging library that matplotlib needs itself.

A drawing has one grey scale and one accent ink, so a palette loses next to nothing, and packs and loads
several times faster than four channels. That library's own palettes are slower to find, or take white for less.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

import numpy as np
from PIL import Image

from stairguard.model.published.known_figure import MM_PER_INCH

_STEPS: Final = 128
_COLOURED: Final = 2
"""Red over blue by more than this is the accent ink's doing, not rounding."""
_PACKING: Final = 3
"""Of nine: more takes far longer for a few parts in a hundred."""


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
    image = Image.fromarray(indices)
    image.putpalette(palette)
    image.save(path, dpi=(pixels_per_mm * float(MM_PER_INCH),) * 2, compress_level=_PACKING)
