"""A measured figure: corner points from lengths alone, exact, and how each moves with each length.

A polygon cut into triangles by diagonals that do not cross is fixed by its sides and those diagonals: each triangle's
corners lie in boundary order, so none can be flipped. Over a side c from P to Q, with b from P and a from Q, the
third corner is ``P + along (Q - P) + up J (Q - P)``; J turns a quarter left, and

    along = (b^2 + c^2 - a^2) / (2 c^2),   up = sqrt(S) / (2 c^2),
    S = 16 area^2 = (a + b + c)(-a + b + c)(a - b + c)(a + b - c)

(Heron). ``along`` is rational and so is S: each triangle brings at most one root into the coordinates, which are
kept as sums of rational multiples of products of roots. Where there are more than a few different ones,
exact verdicts would take too long, and coordinates are rationals so close that only an exact tie could tell.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, cast

import numpy as np

from stairguard.errors import Fault, OutlineError
from stairguard.geometry.clearance.outline import Vec
from stairguard.geometry.exact.multiquadratic import Roots, RootSum, plus
from stairguard.geometry.marks import figure_text

if TYPE_CHECKING:  # numpy.typing costs more to import than all of the geometry
    from numpy.typing import NDArray

    _Array = NDArray[np.float64]

_LEFT = np.array([[0.0, -1.0], [1.0, 0.0]])


@dataclass(frozen=True, slots=True)
class Diagonal:
    """A measured line between two corners that are no neighbours, by their places in order from 0."""

    start: int
    end: int
    length: Fraction


@dataclass(frozen=True, slots=True, eq=False)
class MeasuredPolygon:
    """Corner points in boundary order, counter-clockwise: the first at the origin, the second level to its right.

    Coordinates are rational where they can be, else exact surds; if ``rounded``, rationals as close as `GRAIN` of
    `stairguard.geometry.exact.multiquadratic`, relative to the figure. ``partials`` has shape (corners, 2, lengths):
    x and z of each corner by each side in order, then by each diagonal.
    """

    points: tuple[Vec, ...]
    partials: _Array
    rounded: bool


@dataclass(frozen=True, slots=True)
class _Chord:
    """A side or diagonal: its length and its place among the measured ones."""

    length: Fraction
    place: int


@dataclass(frozen=True, slots=True, kw_only=True)
class _Triangle:
    """Corners p, q placed already, with r to the left of p to q; sides opposite p and q, and p to q."""

    p: int
    q: int
    r: int
    a: _Chord
    b: _Chord
    c: _Chord


def corner_names(count: int) -> tuple[str, ...]:
    """A, B, C ... for corners in order; numbers from the twenty-seventh."""
    return tuple(chr(ord("A") + k) if k < 26 else str(k + 1) for k in range(count))


def figure(
    sides: Sequence[Fraction], diagonals: Sequence[Diagonal] = (), names: Sequence[str] | None = None
) -> MeasuredPolygon:
    """Corner points of a polygon from its sides and the diagonals that cut it into triangles.

    Parameters
    ----------
    sides : at least three, positive, in order round the outline; side k from corner k to the next; any one unit
    diagonals : three fewer than the sides, none crossing another
    names : of the corners, for messages; A, B, C ... if not given

    Raises
    ------
    OutlineError
        Too few or too many lengths, diagonals that cross or repeat, or a triangle whose longest side is not
        shorter than the two others together: by how much is said.
    """
    called = tuple(names) if names is not None else corner_names(len(sides))
    faults = list(_count_faults(sides, diagonals, called))
    if faults:
        raise OutlineError(*faults)
    chords = _chords(sides, diagonals)
    triangles = list(_triangles(len(sides), chords))
    faults = [fault for t in triangles for fault in _too_long(t, called, len(sides))]
    if faults:
        raise OutlineError(*faults)
    return _placed(triangles, chords, len(sides))


def _count_faults(sides: Sequence[Fraction], diagonals: Sequence[Diagonal], names: Sequence[str]) -> Iterator[Fault]:
    n = len(sides)
    if n < 3:
        yield Fault("sides", "at least 3", n)
        return
    if len(diagonals) != n - 3:
        yield Fault("diagonals", f"{n - 3} for {n} sides, three fewer than those", len(diagonals))
    seen: dict[tuple[int, int], str] = {}
    for d in diagonals:
        low, high = sorted((d.start, d.end))
        name = f"{names[low]}-{names[high]}"
        if high - low < 2 or (low, high) == (0, n - 1):
            yield Fault(f"diagonal {name}", "between corners that are no neighbours", "a side, or one corner twice")
            continue
        for (i, j), other in seen.items():
            if (i, j) == (low, high):
                yield Fault(f"diagonal {name}", "given once", "given twice")
            elif i < low < j < high or low < i < high < j:
                yield Fault(f"diagonals {other} and {name}", "without crossing", "two that cross")
        seen[low, high] = name


def _chords(sides: Sequence[Fraction], diagonals: Sequence[Diagonal]) -> dict[tuple[int, int], _Chord]:
    """Each length by its pair of corners, both ways round."""
    n = len(sides)
    ends = [(k, (k + 1) % n) for k in range(n)] + [(d.start, d.end) for d in diagonals]
    lengths = [*sides, *(d.length for d in diagonals)]
    chords = {}
    for place, ((i, j), length) in enumerate(zip(ends, lengths, strict=True)):
        chords[i, j] = chords[j, i] = _Chord(length, place)
    return chords


def _triangles(n: int, chords: Mapping[tuple[int, int], _Chord]) -> Iterator[_Triangle]:
    """Each triangle once two of its corners are placed, from the first side on."""
    waiting = [(0, 1)]
    while waiting:
        p, q = waiting.pop()
        r = (q + 1) % n
        while r != p and ((q, r) not in chords or (r, p) not in chords):
            r = (r + 1) % n
        if r == p:  # a side: nothing lies beyond it
            continue
        yield _Triangle(p=p, q=q, r=r, a=chords[q, r], b=chords[r, p], c=chords[p, q])
        waiting += [(r, q), (p, r)]


def _too_long(t: _Triangle, names: Sequence[str], sides: int) -> Iterator[Fault]:
    ends = sorted(
        ((t.a, (t.q, t.r)), (t.b, (t.p, t.r)), (t.c, (t.p, t.q))), key=lambda pair: (pair[0].length, pair[0].place)
    )
    (first, _), (second, _), (longest, (i, j)) = ends
    others = first.length + second.length
    excess = longest.length - others
    if excess < 0:
        return
    called = "-".join(names[k] for k in sorted((t.p, t.q, t.r)))
    line = f"{names[min(i, j)]}-{names[max(i, j)]}"
    what = "diagonal" if longest.place >= sides else "side"
    by = (
        f"{_plain(longest.length)}, too long by {_plain(excess)}"
        if excess
        else f"{_plain(others)}: they lie in one line"
    )
    short = [f"{names[min(e)]}-{names[max(e)]}" for chord, e in ends[:2] if chord.place >= sides]
    hint = f" (or diagonal {' or '.join(short)} is too short)" if short and excess else ""
    yield Fault(
        f"triangle {called}", f"with {what} {line} shorter than the two others together ({_plain(others)})", by + hint
    )


def _plain(value: Fraction) -> str:
    return figure_text(value, 8)


def _placed(triangles: Sequence[_Triangle], chords: Mapping[tuple[int, int], _Chord], n: int) -> MeasuredPolygon:
    size = max(chord.length for chord in chords.values())
    roots = Roots(_heron(t) for t in triangles)
    base = chords[0, 1]
    at: dict[int, tuple[RootSum, RootSum]] = {0: ({0: Fraction(0)}, {0: Fraction(0)}), 1: ({0: base.length / size}, {})}
    for t, (factor, root) in zip(triangles, roots.of, strict=True):
        (px, pz), (qx, qz) = at[t.p], at[t.q]
        vx, vz = plus(qx, px, -1), plus(qz, pz, -1)
        along, up = _along(t), factor / (2 * t.c.length**2)
        x = plus(plus(px, roots.times(vx, along, None)), roots.times(vz, up, root), -1)
        z = plus(plus(pz, roots.times(vz, along, None)), roots.times(vx, up, root))
        at[t.r] = roots.tidy(x), roots.tidy(z)
    # surds add and multiply as fractions do, which is all that is asked of coordinates
    points = tuple(
        Vec(*(cast(Fraction, roots.number(roots.times(part, size, None))) for part in at[k])) for k in range(n)
    )
    return MeasuredPolygon(points, _partials(triangles, base, points), roots.rounded)


def _partials(triangles: Sequence[_Triangle], base: _Chord, points: Sequence[Vec]) -> _Array:
    n = len(points)
    partials = np.zeros((n, 2, 2 * n - 3))
    partials[1, 0, base.place] = 1
    places = np.array(points, dtype=np.float64)
    for t in triangles:
        along, up = float(_along(t)), float(_heron(t)) ** 0.5 / (2 * float(t.c.length) ** 2)
        v = places[t.q] - places[t.p]
        turn = along * np.eye(2) + up * _LEFT
        partials[t.r] = (np.eye(2) - turn) @ partials[t.p] + turn @ partials[t.q]
        for chord, by_along, by_up in _ratio_partials(t, along, up):
            partials[t.r, :, chord.place] += by_along * v + by_up * (_LEFT @ v)
    return partials


def _heron(t: _Triangle) -> Fraction:
    a, b, c = t.a.length, t.b.length, t.c.length
    return (a + b + c) * (-a + b + c) * (a - b + c) * (a + b - c)


def _along(t: _Triangle) -> Fraction:
    a, b, c = t.a.length, t.b.length, t.c.length
    return (b * b + c * c - a * a) / (2 * c * c)


def _ratio_partials(t: _Triangle, along: float, up: float) -> Iterator[tuple[_Chord, float, float]]:
    """d along and d up by each of the triangle's lengths."""
    a, b, c = float(t.a.length), float(t.b.length), float(t.c.length)
    area16 = float(_heron(t))
    # dS/da = 4 a (b^2 + c^2 - a^2), and up = sqrt(S) / (2 c^2)
    grows = [4 * x * (y * y + z * z - x * x) / (2 * area16) * up for x, y, z in ((a, b, c), (b, c, a), (c, a, b))]
    yield t.a, -a / (c * c), grows[0]
    yield t.b, b / (c * c), grows[1]
    yield t.c, (1 - 2 * along) / c, grows[2] - 2 * up / c
