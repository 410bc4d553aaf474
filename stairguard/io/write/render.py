"""Drawings on paper: matplotlib paints the record of a sheet and adds nothing to it.

Everything drawn goes out as one collection, and letters, in all three formats, as outlines of the face whose
advance widths the record was laid out with: to embed that face as a font would take a third of a second. No
global state of matplotlib is used or left changed, and the same sheet always gives the same bytes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from math import cos, radians, sin
from pathlib import Path as FilePath
from typing import Any, Final, TypeAlias

import matplotlib as mpl
import numpy as np
from matplotlib.artist import Artist
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.collections import PathCollection
from matplotlib.colors import to_rgb, to_rgba
from matplotlib.figure import Figure
from matplotlib.ft2font import FT2Font
from matplotlib.path import Path
from matplotlib.transforms import Affine2D, Transform

from stairguard.io.write.png import indexed, write_png
from stairguard.model.published.known_figure import MM_PER_INCH
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.scene import ACCENT, PENS, Arc, Circle, Line, Pen, Polygon, Sheet, Text

WIDTH_PX: Final = 2400
"""Width of a PNG, pixels."""

_MM: Final = float(MM_PER_INCH)
_POINTS: Final = 72 / _MM
_PAPER: Final = "#ffffff"
_SETTINGS: Final[Any] = {  # Any: the stubs ask for a literal of every key there is
    "savefig.bbox": None,
    "savefig.facecolor": _PAPER,
    "savefig.edgecolor": "none",
    "savefig.transparent": False,
    "svg.hashsalt": "stairguard",
    "path.simplify": False,
    "path.snap": True,
    "lines.scale_dashes": True,
    "patch.antialiased": True,
    "figure.dpi": 100.0,
    "savefig.dpi": "figure",
    "path.sketch": None,
    "path.effects": [],
    "agg.path.chunksize": 0,
    "pdf.compression": 3,
}
Drawable: TypeAlias = Line | Polygon | Circle | Arc


def save(sheets: Sequence[Sheet], folder: FilePath, stem: str) -> tuple[FilePath, ...]:
    """Write sheets as SVG, PNG and one PDF.

    Parameters
    ----------
    sheets
        One or more; each becomes an SVG, a PNG and a page of the PDF.
    folder
        An existing folder.
    stem
        File name without ending. With several sheets SVG and PNG names end in -1, -2 and so on.

    Returns
    -------
    tuple of Path
        The files written.

    Raises
    ------
    OSError
        A file cannot be written.
    """
    with mpl.rc_context(_SETTINGS):
        figures = [_figure(sheet) for sheet in sheets]
        written: list[FilePath] = []
        for number, figure in enumerate(figures, 1):
            name = stem if len(figures) == 1 else f"{stem}-{number}"
            png, svg = folder / f"{name}.png", folder / f"{name}.svg"
            _paint(figure, png)
            figure.savefig(svg, metadata={"Date": None, "Creator": None})
            written += [png, svg]
        pdf = folder / f"{stem}.pdf"
        with PdfPages(pdf, metadata={"CreationDate": None, "Creator": None, "Producer": None}) as pages:
            for figure in figures:
                pages.savefig(figure)
        return (*written, pdf)


def _paint(figure: Figure, path: FilePath) -> None:
    figure.set_dpi(WIDTH_PX / figure.get_figwidth())
    canvas: Any = FigureCanvasAgg(figure)  # Any: its methods have no annotations
    canvas.draw()
    red, green, blue = (round(255 * share) for share in to_rgb(ACCENT))
    indices, palette = indexed(np.asarray(canvas.buffer_rgba()), (red, green, blue))
    write_png(path, indices, palette, figure.dpi / _MM)
    figure.set_dpi(100)


def _figure(sheet: Sheet) -> Figure:
    figure = Figure(figsize=(sheet.width / _MM, sheet.height / _MM), facecolor=_PAPER, edgecolor="none")
    paper = Affine2D().scale(1 / _MM) + figure.dpi_scale_trans
    for artist in _artists(sheet, paper):
        figure.add_artist(artist)
    return figure


def _artists(sheet: Sheet, paper: Transform) -> Iterator[Artist]:
    """Return three kinds of artist: everything drawn, the paper behind words, the words of each ink."""
    face = _Face()
    marks = list(sheet.marks())
    words = sorted((m for m in marks if isinstance(m, Text)), key=lambda m: m.ink)
    boxes = [Polygon(m.corners(_HALO), None, _PAPER) for m in words if m.box]
    yield _collection([m for m in marks if not isinstance(m, Text)], paper, 0)
    yield _collection(boxes, paper, 1)
    for _, run in groupby(words, key=lambda m: m.ink):
        artist = _Words(tuple(run), face, paper)
        artist.set_zorder(2)
        yield artist


_HALO: Final = 0.2
_NONE: Final = (0.0, 0.0, 0.0, 0.0)


def _collection(marks: Sequence[Drawable], paper: Transform, order: int) -> PathCollection:
    """Everything but words in one artist, in painting order, each mark with its own pen and fill."""
    pens = [PENS[m.pen] if m.pen is not None else None for m in marks]
    fills = [None if isinstance(m, Line | Arc) else m.fill for m in marks]
    return PathCollection(
        [_outline(m) for m in marks],
        facecolors=[to_rgba(fill) if fill else _NONE for fill in fills],
        edgecolors=[to_rgba(pen.ink) if pen else _NONE for pen in pens],
        linewidths=[pen.weight * _POINTS if pen else 0.0 for pen in pens],
        linestyles=[_dash(pen) for pen in pens],
        capstyle="butt",
        joinstyle="miter",
        transform=paper,
        zorder=order,
    )


def _dash(pen: Pen | None) -> tuple[float, list[float] | None]:
    return (0.0, [d / pen.weight for d in pen.dash]) if pen and pen.dash else (0.0, None)


def _outline(mark: Drawable) -> Path:
    if isinstance(mark, Line):
        return Path(mark.points)
    if isinstance(mark, Polygon):
        return Path([*mark.points, mark.points[0]], closed=True)
    if isinstance(mark, Circle):
        return Path.circle(mark.centre, mark.radius)
    arc = Path.arc(mark.start, mark.end)
    return Path(np.asarray(arc.vertices) * mark.radius + np.asarray(mark.centre), arc.codes)


class _Face:
    """The face's letters as outlines in design units, each loaded once."""

    def __init__(self) -> None:
        self._font = FT2Font(str(FilePath(mpl.get_data_path()) / "fonts" / "ttf" / "DejaVuSans.ttf"))
        self._font.set_size(metrics.EM, 72)  # one pixel to the design unit: nothing left to hint
        self._known: dict[str, tuple[Any, Any]] = {}

    def letter(self, character: str) -> tuple[Any, Any]:
        """Vertices and path codes of one character; the face's own box for one it lacks."""
        if character not in self._known:
            self._font.load_glyph(self._font.get_char_index(ord(character)))
            self._known[character] = self._font.get_path()
        return self._known[character]

    def outline(self, texts: Sequence[Text]) -> Path:
        """Return the outlines of all words on paper, millimetres, as one path."""
        vertices, codes = [np.empty((0, 2))], [np.empty(0, Path.code_type)]
        for text in texts:
            along, size, start = 0, text.cap / metrics.CAP, text.start
            c, s = size * cos(radians(text.turn)), size * sin(radians(text.turn))
            for character in text.words:
                points, kinds = self.letter(character)
                if len(points):
                    vertices.append((points + np.array((along, 0))) @ ((c, s), (-s, c)) + start)
                    codes.append(kinds)
                along += metrics.ADVANCES.get(character, metrics.WIDEST)
        # a hundredth of a point: no eye sees it, and files are half as large
        return Path(np.round(np.concatenate(vertices) * _POINTS, 2) / _POINTS, np.concatenate(codes))


class _Words(Artist):
    """Many pieces of text of one ink, placed by the record alone."""

    def __init__(self, texts: Sequence[Text], face: _Face, paper: Transform) -> None:
        super().__init__()
        self._texts, self._face, self._paper = texts, face, paper
        self._ink = to_rgb(texts[0].ink)
        self._whole: Path | None = None

    def draw(self, renderer: Any) -> None:  # Any: renderers' own methods have no annotations
        """Paint all words as one outline."""
        if self._whole is None:
            self._whole = self._face.outline(self._texts)
        gc = renderer.new_gc()
        gc.set_foreground(self._ink)
        gc.set_linewidth(0.0)
        renderer.draw_path(gc, self._whole, self._paper, self._ink)
        gc.restore()
