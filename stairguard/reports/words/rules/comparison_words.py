"""Rule packs compared, in English: what each comes to, how a limit is kept, and what a job becomes under each."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from stairguard.model.comparison import Anew, RulesCompared
from stairguard.model.findings import Finding, Inspection
from stairguard.reports.words.lengths import UNIT_WORDS, brief, margin_words
from stairguard.reports.words.one_line import clean
from stairguard.reports.words.rules.matter_words import matters
from stairguard.reports.words.rules.verdict_words import COLUMN_VERDICTS, outcome_head

LAID_OUT_ANEW: Final = (
    "What the same job becomes where the pack sets the limits; rail heights change where it leaves them to it."
)
_SIGNS: Final = {
    "at least": ">=", "at most": "<=", "stops": "<", "stops more than": "<=", "where more than": ">",
    "where at least": ">=", "requires": "=",
}  # fmt: skip


def compared_words(compared: RulesCompared) -> str:
    """What is compared, and how the comparison is read."""
    made = f"as laid out by {clean(compared.made_by)}" if compared.made_by else "as measured"
    return (
        f"The same guard, {made}, under {len(compared.inspections)} rule packs. Lengths in "
        f"{UNIT_WORDS[compared.unit]}. Of each matter the gravest finding: its limit, and by how much it is kept "
        "(+) or missed (-). A blank: the pack says nothing of it here."
    )


def results_words(inspections: Sequence[Inspection]) -> str:
    """What the guard comes to under each pack, and what to do then."""
    told = [f"{clean(each.rules.name)} {outcome_head(each.outcome)}" for each in inspections]
    listed_first = any(matters(each) for each in inspections)
    then = "Do what is told at each, for the pack in force." if listed_first else "The authority decides which holds."
    return f"{'; '.join(told)}. {then}"


def under_pack(head: str, pack: str) -> str:
    """A matter's head, with the pack it is of."""
    return f"{head} under {clean(pack)}"


def of_pack(pack: str, text: str) -> str:
    """What holds under one pack."""
    return f"{clean(pack)}: {clean(text)}"


def limit_kept(one: Finding | None) -> str:
    """A finding's verdict, its limit, and by how much that is kept or missed; "" where there is none."""
    if one is None:
        return ""
    limit = "" if not one.limit else f" {_SIGNS.get(one.kind, '')}{brief(one.limit)}"
    margin = "" if one.margin is None else f" ({margin_words(one.margin, digits=3)})"
    return f"{COLUMN_VERDICTS[one.verdict]}{limit}{margin}"


def not_laid_out(one: Anew) -> str:
    """Why the job cannot be laid out under a pack."""
    return f"{clean(one.rules)}: cannot be laid out: {clean(one.why)}"
