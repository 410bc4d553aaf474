"""Rule packs as plain data, ready for JSON."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from stairguard.model.rules import Rule, RuleSet
from stairguard.reports.data.encode import Encoder, Keys, Topic
from stairguard.reports.words.rules.rule_words import amendments_words, condition_words

PACK: Final[Topic] = {
    RuleSet: Keys(
        "name title edition jurisdiction numbering amended unit rules cautions",
        left_out="asking unspoken",
        given="unit",
        made={"amended": amendments_words},
    ),
    Rule: Keys(
        "clause quantity place kind value load_unit in_runs datum from_height to_height within when when_run_below "
        "serves binding checked status source address note",
        or_null="load_unit datum serves address",
        made={
            "when": lambda rule: list(map(condition_words, rule.when)),
            "checked": lambda rule: rule.quantity != "load",  # which is for the engineer
        },
    ),
}
PACKS: Final[Topic] = {
    RuleSet: Keys(
        "name title edition jurisdiction rules",
        made={"rules": lambda pack: len(pack.rules)},
        left_out="cautions numbering asking amended unspoken",
    ),
}

_encode: Final = Encoder(PACK)
_encode_briefly: Final = Encoder(PACKS)


def pack_data(pack: RuleSet, unit: str) -> dict[str, Any]:
    """Show one pack as plain data.

    Returns
    -------
    dict
        ``name, title, edition, jurisdiction``; the ``numbering`` of its clauses; what is ``amended``; the ``unit`` of
        its lengths; ``cautions``; and its ``rules``: ``clause, quantity, place, kind, value`` (in a load's
        ``load_unit``; of a number of runs where ``in_runs``); the ``datum`` heights are measured from, the band
        ``from_height`` ``to_height`` it covers, the reach ``within`` which a drop counts; ``when`` it binds, in words,
        or ``when_run_below`` a length, and which slopes its landings ``serves``; whether it is ``binding``, and
        ``checked`` or left to an engineer; its ``status``, ``source`` and ``address``, and a ``note``.
    """
    return _encode.record(pack, unit=unit)


def packs_data(packs: Sequence[RuleSet]) -> dict[str, Any]:
    """List packs as plain data: of each ``name, title, edition, jurisdiction`` and how many ``rules``."""
    return {"packs": _encode_briefly(tuple(packs))}
