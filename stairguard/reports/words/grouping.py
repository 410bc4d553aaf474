"""Things that are alike, told once: series with one step from each to the next, and numbers in steps."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Generic, TypeAlias, TypeVar

from stairguard.model.guard.placed_posts import label_parts

T = TypeVar("T")
SeriesPlace: TypeAlias = tuple[Fraction | int, ...]

_FEWEST: Final = 4  # that are told by their step; fewer are told one by one
_ROW: Final = 3  # whole numbers one after the other that are told by their ends


@dataclass(frozen=True, slots=True)
class Series(Generic[T]):
    """Things alike in all but their places, and the same ``step`` from each place to the next; one alone has none."""

    members: tuple[T, ...]
    step: SeriesPlace

    @property
    def first(self) -> T:
        """The one that stands for all."""
        return self.members[0]


def groups(items: Iterable[T], key: Callable[[T], Hashable]) -> list[list[T]]:
    """Gather items of one key, in the order in which each key first comes."""
    found: dict[Hashable, list[T]] = {}
    for item in items:
        found.setdefault(key(item), []).append(item)
    return list(found.values())


def series(
    items: Sequence[T], key: Callable[[T], Hashable], place: Callable[[T], SeriesPlace], fewest: int = _FEWEST
) -> list[Series[T]]:
    """Split items into series of at least ``fewest`` and single ones, in the order of their first members."""
    order = {id(item): number for number, item in enumerate(items)}
    found = [one for group in groups(items, key) for one in _split(group, place, fewest)]
    return sorted(found, key=lambda one: order[id(one.first)])


def _split(group: Sequence[T], place: Callable[[T], SeriesPlace], fewest: int) -> Iterator[Series[T]]:
    places = [place(item) for item in group]
    start = 0
    while start < len(group):
        end = _end(places, start)
        if end - start < fewest:
            end = start + 1
        step = _step(places[start], places[start + 1]) if end - start > 1 else ()
        yield Series(tuple(group[start:end]), step)
        start = end


def _end(places: Sequence[SeriesPlace], start: int) -> int:
    """Where the steps from ``start`` on stop being equal."""
    end = start + 1
    while end < len(places) and _step(places[start], places[start + 1]) == _step(places[end - 1], places[end]):
        end += 1
    return end


def _step(one: SeriesPlace, other: SeriesPlace) -> SeriesPlace:
    return tuple(b - a for a, b in zip(one, other, strict=True))


def in_steps(numbers: Iterable[int], prefix: str = "") -> str:
    """Write whole numbers in order, each once: rows by their ends, four or more rows of one step by that step.

    >>> in_steps([2, 6, 10, 14, 20])
    '2 to 14 in steps of 4, 20'
    >>> in_steps([3, 4, 5, 15, 16, 17, 27, 28, 29, 39, 40, 41], "P")
    'P3 to P5, and so on in steps of 12, to P39 to P41'
    """
    return ", ".join(_rows(numbers, prefix))


def _rows(numbers: Iterable[int], prefix: str) -> Iterator[str]:
    """Numbers by rows and steps, each of them, and each number that is in none, a text of its own."""
    rows: list[tuple[int, int]] = []
    for number in sorted(set(numbers)):
        if rows and number == rows[-1][1] + 1:
            rows[-1] = (rows[-1][0], number)
        else:
            rows.append((number, number))
    for one in series(rows, lambda row: row[1] - row[0], lambda row: row):
        first, last = (_ends(row, prefix) for row in (one.first, one.members[-1]))
        if len(one.members) == 1:
            yield from first
        elif one.first[0] == one.first[1]:
            yield f"{first[0]} to {last[0]} in steps of {one.step[0]}"
        else:
            yield f"{', '.join(first)}, and so on in steps of {one.step[0]}, to {', '.join(last)}"


def _ends(row: tuple[int, int], prefix: str) -> list[str]:
    """A row by its ends, or the few numbers in it one by one."""
    low, high = row
    if high - low + 1 >= _ROW:
        return [f"{prefix}{low} to {prefix}{high}"]
    return [f"{prefix}{number}" for number in range(low, high + 1)]


def spans(found: Sequence[tuple[str, ...]]) -> str:
    """Write posts, or first and last ones, in steps if they have one: ``P1-P5, and so on in steps of 4, to P9-P13``."""
    if len(found[0]) == 1:
        return labels(post for (post,) in found)
    stepped = series(
        found,
        lambda span: tuple(label_parts(post).letter for post in span),
        lambda span: tuple(label_parts(post).number for post in span),
    )
    words = []
    for one in stepped:
        words.append("-".join(one.first))
        if len(one.members) > 1:
            words[-1] += f", and so on in steps of {one.step[0]}, to {'-'.join(one.members[-1])}"
    return ", ".join(words)


def labels(texts: Iterable[str]) -> str:
    """Write posts' labels: those with numbers by rows and steps, each letter on its own, as they come."""
    return ", ".join(label_rows(texts))


def label_rows(texts: Iterable[str]) -> list[str]:
    """Posts' labels as `labels` writes them, a text for each row."""
    found: dict[str, list[int]] = {}
    for text in texts:
        letter, number = label_parts(text)
        found.setdefault(letter, []).append(number)
    return [row for letter, numbers in found.items() for row in _rows(numbers, letter)]
