"""Every remedy of a jog carried out as set, on the job, and read from the guard that comes of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Hashable, Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Final

from stairguard.errors import StairguardError
from stairguard.model.guard.jogs import (
    Breach,
    Breaks,
    CheckFails,
    Effect,
    JogElsewhere,
    JogStays,
    NoSuchGuard,
    OpeningFails,
    PushFails,
    Remedy,
    Setting,
    Within,
)
from stairguard.model.guard.rail_joints import Joint
from stairguard.model.guard.solved_layout import CheckedLayout, Layout
from stairguard.model.job import Job, Stock
from stairguard.solve.joint.jog_ways import with_settings
from stairguard.solve.lay_out import lay_out

_NEAR: Final = 2
"""So many surfaces to each side of a joint are looked at to tell whether a remedy there was tried before."""

_Held = Callable[[Layout], CheckedLayout]
_Known = dict[Hashable, tuple[Joint, tuple[Remedy, ...]]]


def tried(checked: CheckedLayout, hold: _Held) -> tuple[Joint, ...]:
    """Joints with their remedies tried; those of alike joints are tried once.

    Parameters
    ----------
    checked : the guard as it is, held to its rules
    hold : holds another guard to them
    """
    known: _Known = {}
    return tuple(_joint(checked, hold, index, known) for index in range(len(checked.layout.joints)))


def _joint(checked: CheckedLayout, hold: _Held, index: int, known: _Known) -> Joint:
    joint = checked.layout.joints[index]
    if not joint.remedies:
        return joint
    key = _place(checked.layout, joint)
    if key not in known:
        known[key] = joint, tuple(_remedy(checked, hold, index, remedy) for remedy in joint.remedies)
    first, remedies = known[key]
    along = checked.layout.joints.index(first)
    shifted = (
        replace(own, allowed=of.allowed, why=of.why, settings=_moved(of.settings, own.settings),
                tried_at="" if joint is first or not _placed(of) else first.post,
                effects=tuple(_shifted(checked.layout, effect, index - along) for effect in of.effects))
        for own, of in zip(joint.remedies, remedies, strict=True)
    )  # fmt: skip
    return replace(joint, remedies=tuple(shifted))


def _place(layout: Layout, joint: Joint) -> Hashable:
    """What a joint's remedies depend on: itself and what stands near, told apart from no other place."""
    first, last = joint.between
    near = range(max(first - _NEAR, 0), min(last + _NEAR + 1, len(layout.rails)))
    return (
        joint.jog, joint.station - joint.boundary, joint.turn_deg, first - max(first - _NEAR, 0), len(near),
        tuple((layout.job.surfaces[i], layout.rails[i].height) for i in near),
    )  # fmt: skip


def _moved(values: tuple[Setting, ...], keys: tuple[Setting, ...]) -> tuple[Setting, ...]:
    return tuple(key._replace(value=value.value) for key, value in zip(keys, values, strict=True))


def _placed(tried: Remedy) -> bool:
    """Whether what is broken, or cannot be, is told by surfaces and posts: those of the joint where it was tried."""
    return isinstance(tried.why, NoSuchGuard) or any(isinstance(effect, Breaks) for effect in tried.effects)


def _shifted(layout: Layout, effect: Effect, by: int) -> Effect:
    """What a remedy does elsewhere, as seen from another joint, so many joints farther on."""
    if isinstance(effect, Breaks):
        return effect
    labels = [joint.post for joint in layout.joints]
    return replace(effect, post=labels[labels.index(effect.post) + by])


def _remedy(checked: CheckedLayout, hold: _Held, index: int, remedy: Remedy) -> Remedy:
    """Carry one out at its mark; if a jog less than a mark is then left, at one of the two marks beside it."""
    if remedy.allowed is not None:
        return remedy
    first, left = _carried_out(checked, hold, index, remedy)
    if not 0 < left < checked.layout.job.mark:
        return first
    for settings in _beside(checked.layout.job, remedy):
        found, left = _carried_out(checked, hold, index, replace(remedy, settings=settings))
        if not left:
            return found
    return first


def _beside(job: Job, remedy: Remedy) -> Iterator[tuple[Setting, ...]]:
    only = remedy.settings[0]
    if len(remedy.settings) == 1 and not isinstance(only.value, bool):
        exact = remedy.value if only.key == "rail_height" else only.value
        beside = sorted((-job.mark, job.mark), key=lambda by: abs(only.value + by - exact))
        yield from ((only._replace(value=only.value + by),) for by in beside)


def _carried_out(checked: CheckedLayout, hold: _Held, index: int, remedy: Remedy) -> tuple[Remedy, Fraction]:
    """One remedy as set, and the jog that it leaves."""
    layout = checked.layout
    job = replace(with_settings(layout.job, remedy.settings), stock=Stock())
    try:
        after = hold(lay_out(job, layout.rules))
    except StairguardError as error:
        return replace(remedy, allowed=False, why=NoSuchGuard(str(error))), Fraction(0)
    effects = (*_jogs(layout, after.layout, index), *_broken(checked, after))
    left = [j.jog for j in _here(layout.joints[index], after.layout) if j.jog]
    if left:
        stays = JogStays(abs(left[0]), layout.job.unit)
        return replace(remedy, allowed=False, why=stays, effects=effects), abs(left[0])
    broken = [effect for effect in effects if isinstance(effect, Breaks)]
    if broken:
        return replace(remedy, allowed=False, why=broken[0], effects=effects), Fraction(0)
    within = Within(layout.rules.name if layout.rules.rules else "")
    return replace(remedy, allowed=True, why=within, effects=effects), Fraction(0)


def _here(joint: Joint, after: Layout) -> list[Joint]:
    """What a joint has become: itself, or with a level piece all that lies between its two surfaces."""
    first, last = joint.between
    return [j for j in after.joints if first <= j.between[0] and j.between[1] <= last]


def _jogs(before: Layout, after: Layout, index: int) -> Iterator[Effect]:
    """Jogs at other joints that were not there before, or are of another size."""
    here = before.joints[index].between
    found = {j.between: j.jog for j in after.joints}
    for joint in before.joints:
        jog = found.get(joint.between, joint.jog)
        if joint.between != here and jog != joint.jog:
            yield JogElsewhere(joint.post, abs(jog))


def _broken(before: CheckedLayout, after: CheckedLayout) -> Iterator[Effect]:
    """What fails that did not before, each once."""
    known = Counter(matter for matter, _ in _failing(before))
    new: dict[Breach, None] = {}
    for matter, breach in _failing(after):
        if known[matter]:
            known[matter] -= 1
        else:
            new[breach] = None
    yield from map(Breaks, new)


def _failing(checked: CheckedLayout) -> Iterator[tuple[Hashable, Breach]]:
    """What fails, each with the rule and place that it is about."""
    for c in checked.checks:
        if not c.passes:
            found = CheckFails(c.clause, c.what, c.value, c.kind, c.limit)
            yield (c.clause, c.quantity, c.kind, c.place.surface), found
    for o in checked.layout.openings:
        if o.rule is not None and o.passes is False:
            wide = OpeningFails(o.rule.clause, o.where, o.sphere_as_marked)
            yield (o.rule.clause, o.where.at_any_step, o.surface), wide
    if checked.layout.give is not None and checked.layout.give.passes is False:
        yield "push", PushFails()
