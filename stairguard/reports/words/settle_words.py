"""What no clause fails and yet is to be settled before building, in words: jogs, strands that end, decisions."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from stairguard.model.findings import Finding, Inspection
from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.words.grouping import labels
from stairguard.reports.words.lengths import Figures
from stairguard.reports.words.rules.alike_findings import brief_words, status_words

_MOST_NAMED: Final = 4


def left_open(layout: Layout) -> tuple[str, ...]:
    """Of a guard as designed: jogs left at its joints, and strands that end, holes that meet."""
    return (*_jogs(layout), *_ended(layout), *_crowded(layout))


def _jogs(layout: Layout) -> Iterator[str]:
    jogged = [joint for joint in layout.joints if joint.jog]
    if not jogged:
        return
    worst = max(jogged, key=lambda joint: abs(joint.jog))
    high = Figures(layout.job.unit, layout.job.mark).tape(abs(worst.jog))
    if len(jogged) == 1:
        yield f"a jog of {high} plumb is left in the rail at {worst.post}: see JOINTS"
    else:
        at = _places([joint.post for joint in jogged])
        yield f"{len(jogged)} jogs are left in the rail, at {at}, the largest {high} plumb at {worst.post}: see JOINTS"


def _ended(layout: Layout) -> Iterator[str]:
    """Strands broken by what one run may be, and those that a joint does not let through."""
    ended = {post.label: post.kept_back for post in layout.posts if post.kept_back}
    if ended and layout.job.strand.at_joints == "through":
        yield f"strands that are to pass end at {_most(ended)}: see RUNS"


def _crowded(layout: Layout) -> Iterator[str]:
    """Plan turns of one post where holes of both sides meet in it."""
    corners = {joint.post for joint in layout.joints if joint.turn_deg and not joint.second_post}
    posts = [post.label for post in layout.posts if post.label in corners and post.close]
    if posts:
        yield (
            f"holes of both sides meet in the corner's one post, at {_places(posts)}: see HOLES. Have the fittings' "
            'maker agree to it, or try post.corner = "two"'
        )


def _most(ended: Mapping[str, int]) -> str:
    worst = max(ended, key=lambda label: ended[label])
    if len(ended) == 1:
        return f"{worst} ({ended[worst]} of them)"
    same = len(set(ended.values())) == 1
    return f"{_places(list(ended))} ({f'{ended[worst]} at each' if same else f'most at {worst}, {ended[worst]}'})"


def _places(posts: list[str]) -> str:
    return labels(posts) if len(posts) <= _MOST_NAMED else f"{len(posts)} posts"


def decisions(inspection: Inspection) -> Iterator[str]:
    """What the authority, or the reader, is to decide: the gravest in full, of others the clauses."""
    found = [one for one in inspection.findings if one.verdict == "needs a decision"]
    if not found:
        return
    first, many = found[0], len(found)
    others = list(dict.fromkeys(_clause(one) for one in found if one.clause != first.clause))
    also = f"; also {', '.join(others[:_MOST_NAMED])}" if others else ""
    also += f" and {len(others) - _MOST_NAMED} more" if len(others) > _MOST_NAMED else ""
    words = f"{status_words(first)}: {brief_words([first])}{also}"
    yield f"{many} for the authority or you to decide, under FINDINGS, {'first ' if many > 1 else ''}{words}"


def _clause(one: Finding) -> str:
    return one.clause if one.clause != one.status else status_words(one)
