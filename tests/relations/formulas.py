"""Formulas as functions by name, made from their declarations: on single numbers, and on arrays."""

from collections.abc import Callable
from typing import Any

from stairguard.errors import InputError
from stairguard.relations.compiled import on_arrays, on_numbers


class _Formulas:
    def __init__(self, made: Callable[[str], Callable[..., Any]]) -> None:
        self._made = made

    def __getattr__(self, function: str) -> Callable[..., Any]:
        try:
            return self._made(function)
        except InputError as error:
            raise AttributeError(str(error)) from None


scalars = _Formulas(on_numbers)
arrays = _Formulas(on_arrays)
