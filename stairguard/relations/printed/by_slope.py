"""The closed forms that the package calls, by a slope.

Printed from the declarations by ``python -m stairguard.relations.printer``: change those, not this file.

In place of its angle each takes the angle's slope, its secant, or both. What is rational in them is exact for every
kind of exact number, all arguments of one kind. Lengths are in any one unit. Domains are not checked.
"""
# Laid out by the printer and compared byte for byte.
# fmt: off

from __future__ import annotations

from typing import Protocol, Self, TypeVar

__all__ = [
    "plumb_of_square",
    "rail_plumb_depth",
    "square_of_plumb",
    "strand_ellipse",
]


class Exact(Protocol):
    """A Fraction, a float, or any number with their arithmetic."""

    def __neg__(self) -> Self: ...

    def __add__(self, other: Self | int, /) -> Self: ...

    def __sub__(self, other: Self | int, /) -> Self: ...

    def __mul__(self, other: Self | int, /) -> Self: ...

    def __truediv__(self, other: Self | int, /) -> Self: ...


Number = TypeVar("Number", bound=Exact)


def plumb_of_square(square: Number, sec: Number) -> Number:
    """Find ``plumb``: plumb (vertical) distance between two lines.

    From ``square = plumb*cos(pitch)`` (``plumb-square``).

    Parameters
    ----------
    square : length
        Distance between the same two lines, square (perpendicular) to the slope. Any finite value.
    sec : number
        Length along the slope for one of level run. 1 or more.

    Returns
    -------
    plumb : length
        Plumb (vertical) distance between two lines. Any finite value.

    Notes
    -----
    Valid for: between two lines of one pitch.
    Source: derived: right triangle.
    """
    return sec*square


def rail_plumb_depth(depth: Number, sec: Number) -> Number:
    """Find ``plumb_depth``: of the rail, plumb.

    From ``plumb_depth = depth/cos(pitch)`` (``rail-plumb-depth``).

    Parameters
    ----------
    depth : length
        Of the rail, square to it. More than 0.
    sec : number
        Length along the slope for one of level run. 1 or more.

    Returns
    -------
    plumb_depth : length
        Of the rail, plumb. More than 0.

    Notes
    -----
    Valid for: straight rail of one depth.
    Source: derived: right triangle.
    """
    return depth*sec


def square_of_plumb(plumb: Number, sec: Number) -> Number:
    """Find ``square``: distance between the same two lines, square (perpendicular) to the slope.

    From ``square = plumb*cos(pitch)`` (``plumb-square``).

    Parameters
    ----------
    plumb : length
        Plumb (vertical) distance between two lines. Any finite value.
    sec : number
        Length along the slope for one of level run. 1 or more.

    Returns
    -------
    square : length
        Distance between the same two lines, square (perpendicular) to the slope. Any finite value.

    Notes
    -----
    Valid for: between two lines of one pitch.
    Source: derived: right triangle.
    """
    return plumb/sec


def strand_ellipse(diameter: Number, sec: Number) -> Number:
    """Find ``long_axis``: of the hole's ellipse on the face, plumb.

    From ``long_axis = diameter/cos(pitch)`` (``strand-ellipse``).

    Parameters
    ----------
    diameter : length
        Of the strand. More than 0.
    sec : number
        Length along the slope for one of level run. 1 or more.

    Returns
    -------
    long_axis : length
        Of the hole's ellipse on the face, plumb. More than 0.

    Notes
    -----
    Valid for: round strand; the short axis is the diameter.
    Source: derived: a plane section of a cylinder; so also mathforum.org, Dr. Math 63463.
    """
    return diameter*sec
