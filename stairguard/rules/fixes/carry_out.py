"""Fixes carried out: the job, or the survey, as it is once the figures of a fix are changed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import cast

from stairguard.model.fixes import Change, Divided, Evened, Fix, Inserted, Moved, Reshaped, Retaken, SameSteps, Step
from stairguard.model.job import Flight, Handrail, Job, Landing, MeasuredFlight, Ramp, Surface
from stairguard.model.measured_guard import Survey, Taken
from stairguard.model.site import Site


def carried_out(job: Job, fix: Fix) -> Job:
    """A job with a fix's figures in place of its own."""
    for step in fix.steps:
        if isinstance(step, Change) and not step.surfaces:
            job = _keyed(job, step)
        else:
            job = replace(job, surfaces=_surfaced(job.surfaces, step))
    return job


def _keyed(job: Job, change: Change) -> Job:
    if change.table == "rules":  # which are no part of a job: whoever carries a fix out picks them
        return job
    if change.table == "ends":
        return replace(job, **{change.key: change.value})  # type: ignore[arg-type]  # by its own key
    job = replace(job, **{change.table: replace(getattr(job, change.table), **{change.key: change.value})})
    return replace(job, site=_sited(job.site, job.handrail))


def _sited(site: Site, handrail: Handrail) -> Site:
    """A handrail of its own says that the top rail is none."""
    return site if handrail.height is None else replace(site, top_is_handrail=False, own_handrail=True)


def retaken(survey: Survey, fix: Fix, sure: bool = False) -> Survey:
    """A survey with a fix's figures in place of its own; ``sure`` takes those that clear the guard band."""
    for step in fix.steps:
        if isinstance(step, Retaken):
            value = step.sure if sure and step.sure is not None else step.value
            rows = tuple(_set(row, value) if i in step.rows else row for i, row in enumerate(survey.taken))
            survey = replace(survey, taken=rows)
        elif isinstance(step, (Reshaped, Moved)):
            continue  # solved as an opening is, and held to its own rule there
        elif isinstance(step, Change) and not step.surfaces:
            handrail = replace(survey.handrail, **{step.key: step.value})  # type: ignore[arg-type]  # by its own key
            survey = replace(survey, handrail=handrail, site=_sited(survey.site, handrail))
        else:
            rows = tuple(replace(row, surface=_later(step, row.surface)) for row in survey.taken)
            survey = replace(survey, surfaces=_surfaced(survey.surfaces, step), taken=rows)
    return survey


def _set(row: Taken, value: Fraction) -> Taken:
    return replace(row, length=replace(row.length, value=value))


def _surfaced(surfaces: Sequence[Surface], step: Step) -> tuple[Surface, ...]:
    """Surfaces with one step of a fix taken."""
    if isinstance(step, Inserted):
        return (
            *surfaces[: step.before],
            Landing(length=step.length, turn=0.0, level_piece=step.level_piece),
            *surfaces[step.before :],
        )
    if isinstance(step, Divided):
        parts = _divided(surfaces[step.surface], step)
        return (*surfaces[: step.surface], *parts, *surfaces[step.surface + 1 :])
    if isinstance(step, Evened):
        given = cast(MeasuredFlight, surfaces[step.surface])
        return (*surfaces[: step.surface], _evened(given, step.what), *surfaces[step.surface + 1 :])
    assert isinstance(step, Change)
    return tuple(_changed(s, step) if index in step.surfaces else s for index, s in enumerate(surfaces))


def _changed(surface: Surface, change: Change) -> Surface:
    """A surface with one key set; a flight as surveyed takes equal steps once it is given any of their keys."""
    if isinstance(surface, MeasuredFlight) and change.key in ("risers", "rise", "run"):
        surface = equal_steps(surface)
    return replace(surface, **{change.key: change.value})  # type: ignore[arg-type]  # by its own key


def equal_steps(given: MeasuredFlight) -> Flight:
    """A surveyed flight built anew with equal steps, as many and between the same ends."""
    count = len(given.nosings)
    run = (given.nosings[-1][0] - given.nosings[0][0]) / (count - 1)
    return Flight(
        risers=count,
        rise=_climb(given) / count,
        run=run,
        nosing=given.nosing,
        tread=given.tread,
        open_risers=given.open_risers,
        down=given.down,
        turn=given.turn,
        rail_height=given.rail_height,
    )


def _climb(given: MeasuredFlight) -> Fraction:
    """The whole rise of a surveyed flight."""
    between = abs(given.nosings[-1][1] - given.nosings[0][1])
    if not given.down:
        return given.nosings[-1][1]
    last = given.last_rise
    return between + (between / (len(given.nosings) - 1) if last is None else last)


def _evened(given: MeasuredFlight, what: SameSteps) -> MeasuredFlight:
    count = len(given.nosings)
    stations, heights = ([nosing[axis] for nosing in given.nosings] for axis in (0, 1))
    if what == "runs":
        run = (stations[-1] - stations[0]) / (count - 1)
        stations = [stations[0] + k * run for k in range(count)]
        return replace(given, nosings=tuple(zip(stations, heights, strict=True)))
    rise = _climb(given) / count
    if given.down:
        heights = [-k * rise for k in range(count)]
        return replace(given, nosings=tuple(zip(stations, heights, strict=True)), last_rise=rise)
    heights = [(k + 1) * rise for k in range(count)]
    return replace(given, nosings=tuple(zip(stations, heights, strict=True)))


def _divided(given: Surface, step: Divided) -> list[Surface]:
    parts: list[Surface] = []
    for k, risers in enumerate(step.parts):
        turn = given.turn if k == 0 else 0.0
        if k:
            parts.append(Landing(length=step.landing, turn=0.0))
        if isinstance(given, Flight):
            parts.append(replace(given, risers=risers, turn=turn, posts=None, start_post=None))
        else:
            ramp = cast(Ramp, given)
            share = len(step.parts)
            parts.append(
                replace(
                    ramp, length=ramp.length / share, rise=ramp.rise / share, turn=turn, posts=None, start_post=None
                )
            )
    return parts


def _later(step: Step, surface: int | None) -> int | None:
    """The index that a surface has once a step is taken."""
    if surface is None or not isinstance(step, (Inserted, Divided)):
        return surface
    if isinstance(step, Inserted):
        return surface + (surface >= step.before)
    return surface + (2 * (len(step.parts) - 1) if surface > step.surface else 0)


def earlier(fix: Fix, surface: int | None) -> int | None:
    """The index that a surface had before a fix; None of a surface that is new."""
    if surface is None:
        return None
    for step in reversed(fix.steps):
        if isinstance(step, Inserted):
            if surface == step.before:
                return None
            surface -= surface > step.before
        elif isinstance(step, Divided):
            last = step.surface + 2 * (len(step.parts) - 1)
            if step.surface <= surface <= last:
                if (surface - step.surface) % 2:
                    return None
                surface = step.surface
            elif surface > last:
                surface -= last - step.surface
    return surface
