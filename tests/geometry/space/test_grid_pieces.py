"""Pieces of a grid, against scipy's labelling and dilation."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import ndimage

from stairguard.geometry.space.grid_pieces import grown, pieces


@pytest.mark.parametrize("seed", range(40))
def test_pieces_are_those_of_scipy(seed):
    rng = np.random.default_rng(seed)
    there = rng.random(rng.integers(1, 30, size=2)) < rng.uniform(0.2, 0.9)
    ours, most = pieces(there)
    theirs, count = ndimage.label(there)
    assert most >= ours.max(initial=0)
    assert ((ours > 0) == there).all()
    pairs = set(zip(ours[there].tolist(), theirs[there].tolist(), strict=True))
    assert len(pairs) == count  # one number of ours for each of theirs, and the other way round
    assert len({mine for mine, _ in pairs}) == count


@pytest.mark.parametrize("seed", range(10))
def test_grown_is_scipys_dilation(seed):
    there = np.random.default_rng(seed).random((17, 9)) < 0.1
    assert (grown(there) == ndimage.binary_dilation(there)).all()
