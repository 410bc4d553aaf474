"""The largest sphere through an outline by halving squares: nothing of the package, nothing solved.

The free space is the region the corners enclose less a round-ended body about the axis of every strand. A point's
clearance is its distance to the nearest edge, less the strand's radius where that edge is one. A square is kept while
something in it might have more than the best found, and cut into four.

Two bounds on what a square may hold, both true of any point q no farther than h from the middle c. Clearance grows no
faster than one moves, so it is at most that of c and h. And of an edge with its nearest point to c at distance d > h,
c in the direction n of it, q's distance is at most d + n . (q - c) + h^2 / (2 (d - h)); the last term is nothing where
every q stands squarely before the edge. The lesser of two edges' clearances is at most the mean of both, so at most
the mean of these bounds, where h |n1 + n2| / 2 is all that n . (q - c) can add: tight between parallel edges, where
the first bound would have to cut the whole ridge into dust. Where strands touch the edges opposite and leave nothing
at all, dust is all that either bound comes to: the search ends there, with what is then proven.
"""

from collections.abc import Collection, Sequence

import numpy as np

_MOST = 4096
"""Squares looked at in one go."""
_MANY = 200_000
"""So many squares left, and none with any clearance to speak of: strands touch the edges all along."""
_TOP = 64
"""Of those, so many are tried again a little off their middles, as far from the second edge as from the first."""


def largest_sphere(
    corners: Sequence[tuple[float, float]], strands: Collection[int] = (), radius: float = 0.0, *, within: float = 4e-10
) -> tuple[float, float]:
    """The largest diameter from below, at a point that has it, and from above.

    Parameters
    ----------
    corners : in order round the region, either way
    strands : numbers of edges, from 1, that are axes of strands
    radius : of the strands
    within : how far above the first figure the second may be, relative to it
    """
    a = np.array(corners, dtype=np.float64)
    b = np.roll(a, -1, axis=0)
    thick = np.array([radius if k in strands else 0.0 for k in range(1, len(a) + 1)])
    low, high = a.min(axis=0), a.max(axis=0)
    half = (high - low).max() / 2
    squares = ((low + high) / 2)[None]
    best = proven = 0.0
    while len(squares):
        reach = half * 2**0.5
        bounds = []
        for part in np.array_split(squares, -(-len(squares) // _MOST)):
            clear, bound, midway = _clearance(part, a, b, thick, reach)
            top = np.argsort(-bound)[:_TOP]
            again = _clearance(midway[top], a, b, thick, 0.0)[0]
            best = max(best, float(clear.max()), float(again.max()))
            bounds.append(bound)
        bound = np.concatenate(bounds)
        kept = bound > best * (1 + within)
        proven = max(proven, float(bound[~kept].max(initial=0.0)))
        half /= 2
        nothing = kept.sum() > _MANY and best < 1e-9 * (high - low).max()
        if nothing or half < 1e-13 * np.abs([low, high]).max():
            proven = max(proven, float(bound[kept].max(initial=0.0)))
            break
        steps = half * np.array([(-1, -1), (1, -1), (-1, 1), (1, 1)])
        squares = (squares[kept][:, None] + steps).reshape(-1, 2)
    return 2 * best, 2 * max(best, proven)


def _clearance(
    c: np.ndarray, a: np.ndarray, b: np.ndarray, thick: np.ndarray, h: float
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Clearance of points, less than nothing outside; what none within h of each exceeds; points amid two edges."""
    span = b - a
    length = np.hypot(*span.T)
    along = ((c[:, None] - a) * span).sum(axis=2) / length**2
    away = c[:, None] - (a + np.clip(along, 0, 1)[..., None] * span)
    far = np.hypot(away[..., 0], away[..., 1])
    gaps = far - thick
    inside = _inside(c, a, b)
    edge = far.min(axis=1)
    least = gaps.min(axis=1)
    bound = np.where(inside, least, np.minimum(least, -edge)) + h
    # the mean of the nearest edge's bound and any other's
    first = gaps.argmin(axis=1)
    row = np.arange(len(c))
    with np.errstate(divide="ignore", invalid="ignore"):
        n = np.nan_to_num(away / far[..., None])
        curved = np.where(far > h, h * h / (2 * (far - h)), np.inf)
    squarely = (along * length > h) & ((1 - along) * length > h) & (far > h)
    curved = np.where(squarely, 0.0, curved)
    lean = np.hypot(*np.moveaxis(n + n[row, first][:, None], 2, 0))
    mean = (least[:, None] + gaps + curved + curved[row, first][:, None] + h * lean) / 2
    mean = np.nan_to_num(mean, nan=np.inf, posinf=np.inf)
    second = mean.argmin(axis=1)
    midway = c + n[row, first] * ((gaps[row, second] - least) / 2)[:, None]
    return np.where(inside, least, -edge), np.minimum(bound, mean[row, second]), midway


def _inside(c: np.ndarray, a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """Whether a ray to the right crosses the edges an odd number of times."""
    x, z = c[:, :1], c[:, 1:]
    crosses = (a[:, 1] > z) != (b[:, 1] > z)
    with np.errstate(divide="ignore", invalid="ignore"):
        at = a[:, 0] + (z - a[:, 1]) / (b[:, 1] - a[:, 1]) * (b[:, 0] - a[:, 0])
    return (crosses & (x < at)).sum(axis=1) % 2 == 1
