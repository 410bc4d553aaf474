"""Remedies of jogs as plain data, ready for JSON; every key is told by `stairguard.reports.data.layout_data.result`."""

from __future__ import annotations

from typing import Any, Final

from stairguard.model.guard.jogs import Remedy, Setting
from stairguard.reports.data.encode import Encoder, Keys, Topic
from stairguard.reports.words.remedy_words import altered_words, effects_data, key_words, reason_words

REMEDIES: Final[Topic] = {
    Remedy: Keys(made={"what": altered_words, "why": reason_words, "effects": effects_data}, left_out="tried_at"),
    Setting: Keys("key value", made={"key": key_words}, left_out="surface"),
}

_encode: Final = Encoder(REMEDIES)


def remedy_data(remedy: Remedy) -> dict[str, Any]:
    """One remedy with the words of why it is allowed or not, and of what else comes of it."""
    return _encode.record(remedy)
