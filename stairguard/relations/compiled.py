"""Any closed form of the catalogue as a function on numbers or arrays, made from its declaration when first asked for.

What is made is the text that `printer` writes for the functions of `printed`, so that the digits are the same. It loads
sympy and takes some hundredths of a second, or tenths, once a function; a function then runs as one written by hand.
"""

from __future__ import annotations

from collections.abc import Callable
from difflib import get_close_matches
from functools import cache
from typing import Any

from stairguard.errors import Fault, InputError
from stairguard.relations.printed.catalogue import RELATIONS


@cache
def on_numbers(function: str) -> Callable[..., Any]:
    """Make a function of the catalogue, on single numbers.

    Parameters
    ----------
    function : str
        Listed in ``functions`` of the relation that `stairguard.relations.engine.describe` tells.

    Returns
    -------
    callable
        Of the relation's other symbols, by name or in their order with angles last: lengths in any one unit, angles in
        degrees. It takes Fractions or floats; rational formulas answer Fractions in Fractions. One whose name ends in
        ``_partials`` answers with the derivative by each argument, angles per degree. Domains are not checked: outside
        them it raises ZeroDivisionError or ValueError, or gives a number without meaning. Its docstring has equation,
        validity and source.

    Raises
    ------
    InputError
        There is no function of that name; the nearest is suggested.
    """
    _check(function)
    from stairguard.relations.writing.functions import FORMS, scalars_module  # sympy: not before it is needed

    return _made(scalars_module([FORMS[function]], f"``{function}`` on single numbers."), function)


@cache
def on_arrays(function: str) -> Callable[..., Any]:
    """Make a function of the catalogue, on arrays.

    Parameters
    ----------
    function : str
        Listed in ``functions`` of the relation that `stairguard.relations.engine.describe` tells.

    Returns
    -------
    callable
        Of array_likes of floats, broadcast against each other; its answer is an array of the shape they have together,
        or a tuple of such, one an argument, where its name ends in ``_partials``. Arguments are those of `on_numbers`.
        Domains are not checked: outside them it gives nan or inf, with numpy's own warnings; nan gives nan.

    Raises
    ------
    InputError
        There is no function of that name; the nearest is suggested.
    """
    _check(function)
    from stairguard.relations.writing.functions import FORMS, arrays_module  # sympy: not before it is needed

    return _made(arrays_module([FORMS[function]], f"``{function}`` on arrays."), function)


def _check(function: str) -> None:
    names = [name for info in RELATIONS.values() for name in info.functions]
    if function not in names:
        (near,) = get_close_matches(function, names, 1, 0.0)
        raise InputError(Fault("function", f'a function that a relation lists (the nearest is "{near}")', function))


def _made(module: str, function: str) -> Callable[..., Any]:
    """Run the text of a module; its functions have the names and docstrings that a printed one has."""
    room: dict[str, Any] = {"__name__": f"{__name__}.{function}"}
    exec(compile(module, f"<{function}, made from its declaration>", "exec"), room)
    made: Callable[..., Any] = room[function]
    return made
