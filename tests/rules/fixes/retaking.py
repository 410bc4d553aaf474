"""Fixes of an inspection carried out on its file, and the guard so mended inspected again.

As of jobs (`fixing`): steps go in, and what is printed of each is read back.
"""

from __future__ import annotations

import copy
import math
import re
from fractions import Fraction
from typing import Any

from stairguard.errors import StairguardError
from stairguard.io.parse.exact_lengths import parse_length
from stairguard.io.read.survey_file import read_survey
from stairguard.model.fixes import Evened, Fix, Moved, Reshaped, Retaken, Settle, SideEffect
from stairguard.reports.words.fix_words import fixes_words
from stairguard.reports.words.rules.finding_words import spot_words
from stairguard.rules.findings.surveyed import inspect_survey
from stairguard.rules.pack.reader import read_rules
from tests.reports.words import as_printed
from tests.rules.fixes.fixing import Tally, carried, misprinted, toml


def inspected(content: dict[str, Any], path: Any, fixes: bool = False) -> Any:
    """Hold a guard as measured to its rules, from its file."""
    path.write_text(toml(content), encoding="utf-8")
    survey = read_survey(path)
    return inspect_survey(survey, read_rules(survey.rules, survey.unit), fixes=fixes)


def _row_of(content: dict[str, Any], one: Any) -> dict[str, Any] | None:
    """The row that a finding is about, by what a page says of it."""
    found = [
        row
        for row in content.get("measured", [])
        if row["what"] == ("opening" if one.quantity in ("opening", "opening width", "ramp edge") else one.quantity)
        and row.get("at", "") == spot_words(one.place.where)
        and (row.get("surface") or 0) - 1 == (-1 if one.place.surface is None else one.place.surface)
    ]
    return found[0] if len(found) == 1 else None


def retaken(content: dict[str, Any], one: Any, fix: Fix, sure: bool) -> dict[str, Any] | None:
    """An inspection's content with one way carried out; None where it names nothing to change, or no such row."""
    row = _row_of(content, one)
    match fix.steps:
        case (Retaken(way="even") as step,):
            out = copy.deepcopy(content)
            for each in out["measured"]:
                if each["what"] == step.quantity and (each.get("surface") or 0) - 1 == one.place.surface:
                    each["value"] = _again(each["value"], step.value, step.tape.unit)
            return out
        case (Retaken() as step,) if row is not None:
            return _with_row(content, row, {"value": _again(row["value"], told_of(step, sure), step.tape.unit)})
        case (Reshaped() as step,) if row is not None:
            sizes = dict(zip((name for name, _, _ in step.sizes), told_of(step, sure), strict=True))
            new = {
                key: _again(row.get(key, _of_flight(content, row, key)), size, step.tape.unit)
                for key, size in sizes.items()
            }
            return _with_row(content, row, new)
        case (Moved() as step,) if row is not None:
            return _with_row(content, row, _moved(row, step.edge, told_of(step, sure), step.tape.unit))
        case (Retaken() | Reshaped() | Moved(), *_):
            return None
    return carried(content, fix)


def told_of(step: Retaken | Reshaped | Moved, sure: bool) -> Any:
    """The figures told: the first, or those to be sure where any are told besides."""
    if sure and step.told_sure:
        return step.told_sure
    match step:
        case Retaken():
            return step.value
        case Reshaped():
            return tuple(value for _, _, value in step.sizes)
        case Moved():
            return step.by


def _with_row(content: dict[str, Any], row: dict[str, Any], new: dict[str, Any]) -> dict[str, Any]:
    rows = [{**each, **new} if each is row else copy.deepcopy(each) for each in content["measured"]]
    return {**copy.deepcopy(content), "measured": rows}


def _of_flight(content: dict[str, Any], row: dict[str, Any], key: str) -> Any:
    return content["surface"][row["surface"] - 1].get(key, 0)


def _again(old: Any, new: Fraction | float, unit: str) -> str:
    """A new figure, measured as well as the old one was."""
    _, plus, error = str(old).partition("+-")
    exact = str(new) if isinstance(new, Fraction) and new.denominator < 10_000 else f"{float(new):.15f}"
    return f"{exact} {unit}" + (f" +- {error.strip()}" if plus else "")


def _moved(row: dict[str, Any], edge: int, by: Fraction, unit: str) -> dict[str, Any]:
    """What is measured anew of an outline whose edge has been moved in: its neighbours keep their lines."""
    corners = row.get("points") or _drawn(row, unit)
    points = [tuple(float(parse_length(str(c).partition("+-")[0], unit)) for c in pair) for pair in corners]
    n, k = len(points), edge - 1
    new = list(points)
    a, b = points[k], points[(k + 1) % n]
    area = sum(p[0] * q[1] - q[0] * p[1] for p, q in zip(points, points[1:] + points[:1], strict=True))
    ux, uz = b[0] - a[0], b[1] - a[1]
    size = (ux * ux + uz * uz) ** 0.5
    way = 1 if area > 0 else -1  # inwards is left of an edge of a figure drawn anticlockwise
    nx, nz = -uz / size * way, ux / size * way
    for end, other in ((k, points[k - 1]), ((k + 1) % n, points[(k + 2) % n])):
        p = points[end]
        vx, vz = other[0] - p[0], other[1] - p[1]
        t = float(by) / (vx * nx + vz * nz)
        new[end] = (p[0] + t * vx, p[1] + t * vz)
    if "points" in row:
        pairs = zip(row["points"], new, strict=True)
        return {"points": [[_again(old, value, unit) for old, value in zip(*pair, strict=True)] for pair in pairs]}
    sides = [_again(old, math.dist(new[i], new[(i + 1) % n]), unit) for i, old in enumerate(row["sides"])]
    if "diagonal" in row:
        return {"sides": sides, "diagonal": _again(row["diagonal"], math.dist(new[0], new[2]), unit)}
    return {"sides": sides}


def _drawn(row: dict[str, Any], unit: str) -> list[list[str]]:
    """Corners of a figure given by its sides, side 1 level."""
    sides = [float(parse_length(str(s).partition("+-")[0], unit)) for s in row["sides"]]
    d = float(parse_length(str(row["diagonal"]).partition("+-")[0], unit)) if "diagonal" in row else sides[2]
    x = (sides[0] ** 2 + d * d - sides[1] ** 2) / (2 * sides[0])
    points = [(0.0, 0.0), (sides[0], 0.0), (x, (d * d - x * x) ** 0.5)]
    if "diagonal" in row:
        cx, cz = points[2]
        along = (sides[3] ** 2 + d * d - sides[2] ** 2) / (2 * d)
        off = (sides[3] ** 2 - along * along) ** 0.5
        points.append((along * cx / d - off * cz / d, along * cz / d + off * cx / d))
    return [[f"{a:.15f} {unit}", f"{b:.15f} {unit}"] for a, b in points]


def settled(content: dict[str, Any], one: Any, settle: Settle) -> dict[str, Any] | None:
    """An inspection in which one figure is measured as well as is printed; None where it is not one of a row."""
    out, unit = copy.deepcopy(content), content["unit"]
    read = as_printed.SETTLE.fullmatch(fixes_words([Fix((), advice=settle)]))
    if read is None:
        return None
    what, better = read["what"], read["better"]
    assert settle.settling.again != (what,) or 0 < settle.settling.plus_minus - float(better) < 0.1 * float(better)
    row = _row_of(out, one)
    if row is None:
        if (
            what != "it"
            or one.quantity.startswith("handrail")
            or any(r["what"] == one.quantity for r in out.get("measured", []))
        ):
            return None
        out.setdefault("inspection", {})["plus_minus"] = f"{better} {unit}"
        return out
    key = {"it": "value", "opening": "value"}.get(what, what)
    side = re.match(r"side (\d+)$", what)
    if side:
        row["sides"][int(side[1]) - 1] = _better(row["sides"][int(side[1]) - 1], better, unit)
    elif key in row:
        row[key] = _better(row[key], better, unit)
    elif key in ("rise", "run", "nosing", "tread"):
        row[key] = _better(_of_flight(out, row, key), better, unit)
    else:
        return None
    return out


def _better(old: Any, plus_minus: str, unit: str) -> str:
    value = parse_length(str(old).partition("+-")[0], unit)
    return f"{value} {unit} +- {plus_minus} {unit}"


def _same(one: Any) -> tuple[Any, ...]:
    return one.clause, one.quantity, one.kind, one.scope, one.place.surface, one.place.where


def try_survey(content: dict[str, Any], path: Any, tally: Tally) -> None:
    """Inspect, carry every way that is printed out on the file, and inspect again."""
    found = inspected(content, path, fixes=True)
    failing = {_same(f)[:5] for f in found.findings if f.verdict == "fail"}
    for one in found.findings:
        tally.wrong += misprinted(one.fixes, content["unit"])
        match one.fixes:
            case (Fix(advice=Settle() as settle),) if settle.settling.again:
                _try_settling(content, path, tally, one, settle)
            case (_, *_) if one.verdict in ("fail", "needs a decision") and one.margin is not None:
                for fix in one.fixes:
                    doubtful = any(
                        isinstance(s, Reshaped | Moved) and s.doubtful and not s.told_sure for s in fix.steps
                    )
                    for sure in (False, True)[: 1 if doubtful else 2]:
                        _try_way(content, path, tally, one, fix, sure, failing)


def _try_settling(content: dict[str, Any], path: Any, tally: Tally, one: Any, settle: Settle) -> None:
    changed = settled(content, one, settle)
    if changed is None:
        tally.advice.append(f"{one.quantity}: no one row for {fixes_words(one.fixes)}")
        return
    tally.printed += 1
    again = [f.verdict for f in inspected(changed, path).findings if _same(f) == _same(one)]
    wrong = not again or "too close to call" in again
    tally.cleared += not wrong
    tally.wrong += [f"still {again}: {fixes_words(one.fixes)} on {toml(content)!r}"] if wrong else []


def _try_way(
    content: dict[str, Any], path: Any, tally: Tally, one: Any, fix: Fix, sure: bool, failing: set[tuple[Any, ...]]
) -> None:
    changed = retaken(content, one, fix, sure)
    if changed is None:
        tally.advice += [] if sure else [f"{one.quantity}: {fixes_words([fix])}"]
        return
    tally.printed += 1
    wrong = _survey_wrong(content, changed, path, one, fix, sure, failing)
    tally.cleared += not wrong
    if wrong:
        tally.wrong.append(f"{wrong}: {'sure ' * sure}{_same(one)}: {fixes_words([fix])!r} on {toml(content)!r}")


def _survey_wrong(
    content: dict[str, Any], changed: dict[str, Any], path: Any, one: Any, fix: Fix, sure: bool,
    failing: set[tuple[Any, ...]],
) -> str:  # fmt: skip
    try:
        again = inspected(changed, path)
    except StairguardError as error:
        return f"cannot be done ({error})"
    moved = len(changed["surface"]) != len(content["surface"])
    even = any(isinstance(step, Evened) or (isinstance(step, Retaken) and step.way == "even") for step in fix.steps)
    row = _row_of(content, one) is not None and not even
    mine = [
        f
        for f in again.findings
        if _same(f)[:4] == _same(one)[:4]
        and (moved or f.place.surface == one.place.surface)
        and (not row or f.place.where == one.place.where)
    ]
    good = ("pass", "not checked") if sure or not one.guard_band else ("pass", "too close to call", "not checked")
    left = [(f.verdict, f.value, f.margin, f.guard_band) for f in mine if f.verdict not in good]
    if left:
        return f"left {left}"
    again_told = SideEffect.MEASURE_AGAIN in fix.also
    new = {
        f.clause
        for f in again.findings
        if f.verdict == "fail"
        and _same(f)[:5] not in failing
        and not moved
        and not (again_told and f.quantity == "opening")
    }
    untold = new - {one.clause} - {told.clause for told in fix.breaks}
    return f"breaks {sorted(untold)}, untold" if untold else ""
