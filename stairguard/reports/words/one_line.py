"""Anybody's text, as a job's title, made safe to print or draw on one line."""

from __future__ import annotations

import unicodedata
from typing import Final

_DROPPED: Final = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Mn", "Me"})


def clean(words: str) -> str:
    """Make any text safe to show on one line.

    Composed accents are kept; control characters, direction marks, loose combining marks and everything
    unassigned is dropped; runs of white space become one space.
    """
    spaced = " ".join(words.split())
    kept = (c for c in unicodedata.normalize("NFC", spaced) if unicodedata.category(c) not in _DROPPED)
    return " ".join("".join(kept).split())
