"""What hangs together on a grid of cells, side by side: a few runs of cells a row, joined where they overlap.

Loading a library's labelling takes longer than all that is asked of it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray


def pieces(there: NDArray[np.bool_]) -> tuple[NDArray[np.intp], int]:
    """The number, from 1, of the piece that each cell of a grid belongs to, 0 where none is there; and the highest.

    Parameters
    ----------
    there : which cells are, shape (m, n)
    """
    rows, length = there.shape[0], there.shape[1] + 1
    flat = np.zeros((rows, length), np.int8)  # a column more, so that no run goes on in the next row
    flat[:, :-1] = there
    steps = np.diff(flat.ravel(), prepend=np.int8(0))
    starts, ends = np.flatnonzero(steps == 1), np.flatnonzero(steps == -1)
    first = np.searchsorted(ends, starts + length, side="right").tolist()
    last = np.searchsorted(starts, ends + length, side="left").tolist()
    root = list(range(len(starts)))
    for run, (low, high) in enumerate(zip(first, last, strict=True)):
        one = run
        while root[one] != one:
            one = root[one]
        for beside in range(low, high):
            other = beside
            while root[other] != other:
                other = root[other]
            if other < one:
                root[one] = one = other
            else:
                root[other] = one
    for run, of in enumerate(root):
        root[run] = root[of]  # that one comes before, and has its own already
    whole = np.array(root, np.intp)
    numbers = np.zeros(there.shape, np.intp)
    numbers[there] = np.repeat(whole + 1, ends - starts)
    return numbers, len(root)


def grown(there: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Those cells and the ones beside them, of shape (m, n)."""
    more = there.copy()
    more[1:] |= there[:-1]
    more[:-1] |= there[1:]
    more[:, 1:] |= there[:, :-1]
    more[:, :-1] |= there[:, 1:]
    return more
