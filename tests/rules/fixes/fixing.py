"""Fixes carried out, step by step, on the job file itself, and judged again; of what is printed every word is read.

Nothing here knows how a fix was found: steps go in, a changed file comes out, and the program is asked again. That a
person reads the same steps off what is printed of them is held of each (`misprinted`).
"""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from stairguard.errors import StairguardError
from stairguard.io.parse.exact_lengths import parse_length
from stairguard.io.read.job_file import read_job
from stairguard.model.fixes import Change, Divided, Evened, Fix, Inserted, SideEffect, Step
from stairguard.model.subjects import Extension
from stairguard.reports.words.fix_words import fixes_words
from stairguard.reports.words.remedy_words import setting_words
from stairguard.reports.words.rules.finding_words import spot_words
from stairguard.rules.findings.checks import check, held
from stairguard.rules.findings.designed import inspect_layout
from stairguard.rules.pack.reader import read_rules
from stairguard.solve.lay_out import lay_out
from tests.reports.words import as_printed


def toml(content: dict[str, Any]) -> str:
    """Write a job file."""
    lines, tables = [], []
    for key, value in content.items():
        if isinstance(value, dict):
            tables += [f"[{key}]", *(f"{k} = {_cell(v)}" for k, v in value.items())]
        elif isinstance(value, list) and value and isinstance(value[0], dict):
            for one in value:
                tables += [f"[[{key}]]", *(f"{k} = {_cell(v)}" for k, v in one.items())]
        else:
            lines.append(f"{key} = {_cell(value)}")
    return "\n".join([*lines, *tables]) + "\n"


def _cell(value: Any) -> str:
    if isinstance(value, Fraction):
        return json.dumps(str(value))
    if isinstance(value, (list, tuple)):
        return "[" + ", ".join(map(_cell, value)) + "]"
    return json.dumps(value)


def misprinted(fixes: Sequence[Fix], unit: str) -> list[str]:
    """What is printed of fixes and cannot be read back as what they are, step by step, by a person."""
    printed = [fixes_words([fix]) for fix in fixes]
    wrong = [] if fixes_words(fixes) == "; or ".join(printed) else [f"{printed} run together"]
    for fix, words in zip(fixes, printed, strict=True):
        steps = [fixes_words([Fix((step,))]) for step in fix.steps]
        wrong += [] if words.startswith(" and ".join(steps)) else [f"{words!r} are not {steps}"]
        read = [as_printed.read(one, unit) for one in steps]
        wrong += [
            f"{told} is printed {one!r}"
            for told, one in zip(map(as_printed.legible, fix.steps), read, strict=True)
            if told != one
        ]
    return wrong


def carried(content: dict[str, Any], fix: Fix) -> dict[str, Any] | None:
    """A job's content with one way carried out; None where it names nothing to change."""
    out = copy.deepcopy(content)
    done = [_done(out, step) for step in fix.steps]
    return out if any(done) else None


def _done(out: dict[str, Any], step: Step) -> bool:
    """Whether a step is one of a job, carried out there."""
    match step:
        case Change():
            _set(out, step)
        case Evened():
            _even(out["surface"][step.surface], step.what, out["unit"])
        case Divided():
            _divide(out, step)
        case Inserted():
            piece = {} if step.level_piece else {"level_piece": False}
            out["surface"].insert(
                step.before, {"kind": "landing", "length": f"{step.length} {step.tape.unit}", **piece}
            )
        case _:
            return False
    return True


def _set(content: dict[str, Any], step: Change) -> None:
    if step.surfaces:
        tables = [content["surface"][index] for index in step.surfaces]
    else:
        tables = [content.setdefault(step.table, {})] if step.key else [content]
    for table in tables:
        if "nosings" in table and step.key in ("risers", "rise", "run"):  # built anew with equal steps
            for gone in ("nosings", "last_rise"):
                table.pop(gone, None)
        if step.value is None:
            del table[step.key]
        else:
            value = f"{step.value} {step.tape.unit}" if isinstance(step.value, Fraction) else step.value
            table[step.key or step.table] = value


def _even(surface: dict[str, Any], what: str, unit: str) -> None:
    points = [[parse_length(str(c), unit) for c in pair] for pair in surface["nosings"]]
    n, axis = len(points), 0 if what == "runs" else 1
    first, last = points[0][axis], points[-1][axis]
    if what == "risers" and not surface.get("down"):
        first, step = last / n, last / n
    else:
        step = (last - first) / (n - 1)
        if what == "risers":
            low = parse_length(str(surface["last_rise"]), unit) if "last_rise" in surface else -step
            step = (last - first - low) / n
            surface["last_rise"] = str(-step)
    for k, point in enumerate(points):
        point[axis] = first + k * step
    surface["nosings"] = [[f"{c} {unit}" for c in point] for point in points]


def _divide(content: dict[str, Any], step: Divided) -> None:
    landing = {"kind": "landing", "length": f"{step.landing} {step.tape.unit}"}
    whole, unit = content["surface"][step.surface], content["unit"]
    parts: list[dict[str, Any]] = []
    for k, count in enumerate(step.parts):
        part = {
            key: value
            for key, value in whole.items()
            if key not in ("posts", "start_post") and (k == 0 or key != "turn")
        }
        if step.ramp:
            equal = {key: parse_length(str(whole[key]), unit) / len(step.parts) for key in ("length", "rise")}
            part |= {key: f"{size} {unit}" for key, size in equal.items()}
        else:
            part["risers"] = count
        parts += [landing] * (k > 0) + [part]
    content["surface"][step.surface : step.surface + 1] = parts


def judged(content: dict[str, Any], path: Any) -> tuple[Any, dict[tuple[Any, ...], float]]:
    """Lay a job out from its file: the checked layout, and what of it fails, by clause, matter and surface.

    Its jogs' remedies, which nothing here depends on, are left untried.
    """
    path.write_text(toml(content), encoding="utf-8")
    job = read_job(path)
    found = held(lay_out(job, read_rules(job.rules, job.unit)))
    fails: dict[tuple[Any, ...], float] = {}
    for one in found.checks:
        if not one.passes:
            fails[(one.clause, one.quantity, one.kind + _end(one.what), one.place.surface)] = one.value
    for one in found.layout.openings:
        for rule, passes in ((one.rule, one.passes), *one.others):
            if passes is False:
                kind = one.where.kind, one.where.end
                fails[(rule.clause, "opening", kind, one.surface)] = one.sphere_as_marked
    if found.layout.give is not None and found.layout.give.passes is False:
        fails[("job", "push", "", None)] = 0.0
    return found, fails


@dataclass
class Tally:
    """What came of fixes carried out."""

    printed: int = 0
    cleared: int = 0
    remedies: int = 0
    gone: int = 0
    advice: list[str] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)


def _end(what: Any) -> str:
    """Which end of a slope a handrail's extension is past."""
    return ("bottom", "top")[what.top] if isinstance(what, Extension) else ""


def _about(one: Any) -> tuple[Any, ...]:
    """How `judged` names what a finding is about."""
    if one.quantity in ("opening", "opening width", "ramp edge"):
        return one.clause, "opening", (one.place.where.kind, one.place.where.end), one.place.surface
    return one.clause, one.quantity, "" if one.quantity == "push" else one.kind + _end(one.what), one.place.surface


def try_job(content: dict[str, Any], path: Any, tally: Tally) -> None:
    """Lay a job out, carry every way that is printed out on its file, and lay it out again."""
    laid, before = judged(content, path)
    found = check(laid.layout)
    told = [one for one in inspect_layout(found).findings if one.verdict == "fail"]
    for one in told:
        about = _about(one)
        tally.wrong += [] if about in before else [f"{about} of a finding is not among the failures of {content}"]
        tally.wrong += misprinted(one.fixes, content["unit"])
        tally.wrong += [] if one.fixes and fixes_words(one.fixes) else [f"nothing said of {about}"]
        for fix in one.fixes:
            changed, words = carried(content, fix), fixes_words([fix])
            if changed is None:
                tally.advice.append(f"{one.quantity}: {words}")
                continue
            tally.printed += 1
            wrong = _job_wrong(content, changed, path, about, before, fix)
            tally.cleared += not wrong
            if wrong:
                tally.wrong.append(
                    f"{wrong}: {spot_words(one.place.where) or one.place.surface}: {words!r} on {toml(content)!r}"
                )
    wrong = all_done(content, path, told)
    tally.wrong += [f"{wrong}: all together on {toml(content)!r}"] if wrong else []
    _try_remedies(content, path, tally, found, before)


def all_done(content: dict[str, Any], path: Any, told: list[Any]) -> str:
    """What is wrong with a page's fixes all carried out, the first way of each: a breach left that one is told at.

    What divides surfaces or puts some in numbers the others anew, and stands for itself, as does what says so.
    """
    changed, done, given = content, [], {}
    for one in told:
        fix = one.fixes[0]
        apart = any(isinstance(step, Divided | Inserted) for step in fix.steps) or SideEffect.LAY_OUT_AGAIN in fix.also
        if apart or carried(content, fix) is None:
            continue
        for key, value in keys_set(fix):
            if given.setdefault(key, value) != value:
                return f"{key} is set twice"
        changed, done = carried(changed, fix) or changed, [*done, _about(one)]
    try:
        _, after = judged(changed, path)
    except StairguardError as error:
        return f"cannot be done ({error})"
    left = [key for key in done if key in after]
    return f"left {left}" if left else ""


def keys_set(fix: Fix) -> Iterator[tuple[tuple[str, str, tuple[int, ...]], Any]]:
    """Keys that a fix sets, of which surfaces, and to what."""
    for step in fix.steps:
        if isinstance(step, Change) and step.value is not None:
            yield (step.table, step.key, step.surfaces), step.value


def _try_remedies(
    content: dict[str, Any], path: Any, tally: Tally, found: Any, before: dict[tuple[Any, ...], float]
) -> None:
    """Type every remedy that is allowed as it is told, and look whether its jog is gone and no more is broken."""
    for joint in found.layout.joints:
        for remedy in joint.remedies:
            if not remedy.allowed:
                continue
            words = [setting_words(setting, content["unit"]) for setting in remedy.settings]
            changed = copy.deepcopy(content)
            for one in words:
                number, key, value = as_printed.setting(one)
                changed["surface"][number - 1][key] = value
            tally.remedies += 1
            wrong = _remedy_wrong(changed, path, joint.between, before)
            tally.gone += not wrong
            if wrong:
                tally.wrong.append(f"{wrong}: {words!r} at {joint.between} on {toml(content)!r}")


def _remedy_wrong(
    changed: dict[str, Any], path: Any, between: tuple[int, int], before: dict[tuple[Any, ...], float]
) -> str:
    try:
        found, after = judged(changed, path)
    except StairguardError as error:
        return f"cannot be done ({error})"
    there = [j for j in found.layout.joints if between[0] <= j.between[0] and j.between[1] <= between[1]]
    left = [joint.between for joint in there if joint.jog]
    new = sorted({str(key[0]) for key in after.keys() - before.keys()})
    return f"jog left at {left}" if left else f"breaks {new}" if new else ""


def _job_wrong(
    content: dict[str, Any], changed: dict[str, Any], path: Any, about: tuple[Any, ...],
    before: dict[tuple[Any, ...], float], fix: Fix,
) -> str:  # fmt: skip
    """What is wrong with a way carried out: it cannot be done, leaves the breach, or breaks more than it says."""
    try:
        _, after = judged(changed, path)
    except StairguardError as error:
        return f"cannot be done ({error})"
    moved = len(changed["surface"]) != len(content["surface"])
    left = [key for key in after if key[:-1] == about[:-1] and (moved or key[-1] == about[-1])]
    if moved and len(left) < sum(key[:-1] == about[:-1] for key in before):
        left = []  # other surfaces had it too
    if left:
        return f"left {[(key, after[key]) for key in left]}"
    new = {key[0] for key in after} - {key[0] for key in before}
    new |= set() if moved else {key[0] for key in after.keys() - before.keys()}
    untold = new - {one.clause for one in fix.breaks}
    return f"breaks {sorted(untold)}, untold" if untold else ""
