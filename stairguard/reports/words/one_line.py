"""Text on lines: anybody's, as a job's title, made safe to print or draw on one; ours broken into several."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable
from typing import Final

_ONE_FIGURE: Final = re.compile(r"(?<=[0-9]') (?=[0-9])|(?<=[0-9]) (?=(?:in|mm|deg)\b)")
_DROPPED: Final = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Mn", "Me"})


def clean(words: str) -> str:
    """Make any text safe to show on one line.

    Composed accents are kept; control characters, direction marks, loose combining marks and everything
    unassigned is dropped; runs of white space become one space.
    """
    spaced = " ".join(words.split())
    kept = (c for c in unicodedata.normalize("NFC", spaced) if unicodedata.category(c) not in _DROPPED)
    return " ".join("".join(kept).split())


def broken(text: str, into: Callable[[str], Iterable[str]], glue: str) -> list[str]:
    """Break text into lines, never between feet and inches or a number and its unit.

    ``into`` breaks it at its spaces; ``glue`` is no space, as wide as one, and in no text here.
    """
    return [line.replace(glue, " ") for line in into(_ONE_FIGURE.sub(glue, text))]
