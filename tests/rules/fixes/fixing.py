"""Fixes read from the printed words as a person would, and carried out on the job or inspection file itself.

Nothing here knows how a fix was found: words go in, a changed file comes out, and the program is asked again.
"""

from __future__ import annotations

import copy
import json
import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

import stairguard
from stairguard.errors import StairguardError
from stairguard.io.parse.exact_lengths import parse_length
from stairguard.io.read.job_file import read_job
from stairguard.io.read.survey_file import read_survey
from stairguard.model.subjects import Extension
from stairguard.reports.words.fix_words import fixes_words
from stairguard.reports.words.rules.finding_words import spot_words
from stairguard.rules.findings.checks import check
from stairguard.rules.findings.designed import inspect_layout
from stairguard.rules.findings.surveyed import inspect_survey
from stairguard.rules.pack.reader import read_rules
from stairguard.solve.lay_out import lay_out

SET = re.compile(
    r"(?P<key>(?:surface\[[^\]]+\]|rail|strand|post|handrail|site|ends|rules)(?:\.\w+)?) = "
    r"(?P<value>\"[^\"]*\"|[^\s\"]+?)(?= \(|;| and |$)"
)
UNSET = re.compile(r"(?P<key>surface\[[^\]]+\]\.\w+) left out")
DIVIDE = re.compile(
    r"divide surface (\d+) into (?:flights of (.+?) risers|(\d+) equal ramps), with landings of (.+?) between"
)
INSERT = re.compile(r"put a landing of (.+?)(, with level_piece = false,)? between surfaces (\d+) and (\d+)")
EVEN = re.compile(r"even out the (risers|runs) of surface (\d+)")
TO = re.compile(r"by [^,()]+, to (?P<value>[^,();]+?)(?: \(by [^,()]+, to (?P<sure>[^,()]+), to be sure\))?$")
SIZE = re.compile(r"(lift|rise|run|nosing|spacing) ((?:\d[^();,]*?))(?= \(|;|,| and |$)")
MOVE = re.compile(r"move (?:the strand on )?edge (\d+) in by ([^()]+?)(?: \(([^()]+) to be sure\))?, square to itself")
JOG = re.compile(
    r"^  P[^\n]*?between\s+surface\s+(?P<first>\d+)\s[^,:]*?surface\s+(?P<last>\d+)\s(?P<rest>(?:(?!\n\n).)*)",
    re.DOTALL | re.MULTILINE,
)
REMEDY = re.compile(r"surface\[(\d+)\]\.(\w+) = (\"[^\"]*\"|true|false|-?\d+)")
SETTLE = re.compile(r"measure (.+) to \+- (\S+) (?:in|mm) to settle it")


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


def length(text: str, unit: str) -> Fraction:
    """A length as printed, by the reader of job files."""
    return parse_length(text.strip(), unit)


def ways(words: str) -> list[str]:
    """The ways that one fix names."""
    return words.split("; or ")


def broken(words: str) -> str:
    """What a way says that it breaks."""
    found = re.search(r"; then (.+?) fails?$", words)
    return found[1] if found else ""


# --- jobs -------------------------------------------------------------------------------------------------------------


def carried(content: dict[str, Any], words: str) -> dict[str, Any] | None:
    """A job's content with one way carried out; None where the words name nothing to change."""
    out, unit, done = copy.deepcopy(content), content["unit"], False
    for found in SET.finditer(words):
        _set(out, found["key"], found["value"])
        done = True
    for found in UNSET.finditer(words):
        for table, key in _tables(out, found["key"]):
            del table[key]
        done = True
    for found in EVEN.finditer(words):
        _even(out["surface"][int(found[2]) - 1], found[1], unit)
        done = True
    for found in DIVIDE.finditer(words):
        _divide(out, found, unit)
        done = True
    for found in INSERT.finditer(words):
        piece = {"level_piece": False} if found[2] else {}
        out["surface"].insert(int(found[3]), {"kind": "landing", "length": found[1], **piece})
        done = True
    return out if done else None


def _tables(content: dict[str, Any], name: str) -> list[tuple[dict[str, Any], str]]:
    """The tables, and the key in each, that a key as printed stands for."""
    found = re.match(r"surface\[(.+)\]\.(\w+)$", name)
    if found:
        return [(content["surface"][number - 1], found[2]) for number in _numbers(found[1])]
    table, _, key = name.partition(".")
    return [(content.setdefault(table, {}), key)] if key else [(content, table)]


def _numbers(text: str) -> list[int]:
    row = re.match(r"(\d+) to (\d+)(?: in steps of (\d+))?$", text)
    return list(range(int(row[1]), int(row[2]) + 1, int(row[3] or 1))) if row else [int(n) for n in text.split(", ")]


def _set(content: dict[str, Any], name: str, value: str) -> None:
    read = tomllib.loads(f"key = {value}")["key"]
    for table, key in _tables(content, name):
        if "nosings" in table and key in ("risers", "rise", "run"):  # built anew with equal steps
            for gone in ("nosings", "last_rise"):
                table.pop(gone, None)
        table[key] = read


def _even(surface: dict[str, Any], what: str, unit: str) -> None:
    points = [[length(str(c), unit) for c in pair] for pair in surface["nosings"]]
    n, axis = len(points), 0 if what == "runs" else 1
    first, last = points[0][axis], points[-1][axis]
    if what == "risers" and not surface.get("down"):
        first, step = last / n, last / n
    else:
        step = (last - first) / (n - 1)
        if what == "risers":
            low = length(str(surface["last_rise"]), unit) if "last_rise" in surface else -step
            step = (last - first - low) / n
            surface["last_rise"] = str(-step)
    for k, point in enumerate(points):
        point[axis] = first + k * step
    surface["nosings"] = [[f"{c} {unit}" for c in point] for point in points]


def _divide(content: dict[str, Any], found: re.Match[str], unit: str) -> None:
    index, landing = int(found[1]) - 1, {"kind": "landing", "length": found[4]}
    whole = content["surface"][index]
    counts = [int(n) for n in re.findall(r"\d+", found[2])] if found[2] else [0] * int(found[3])
    parts: list[dict[str, Any]] = []
    for k, count in enumerate(counts):
        part = {
            key: value
            for key, value in whole.items()
            if key not in ("posts", "start_post") and (k == 0 or key != "turn")
        }
        if found[2]:
            part["risers"] = count
        else:
            part |= {key: f"{length(str(whole[key]), unit) / len(counts)} {unit}" for key in ("length", "rise")}
        parts += [landing] * (k > 0) + [part]
    content["surface"][index : index + 1] = parts


def judged(content: dict[str, Any], path: Any) -> tuple[Any, dict[tuple[Any, ...], float]]:
    """Lay a job out from its file: the checked layout, and what of it fails, by clause, matter and surface."""
    path.write_text(toml(content), encoding="utf-8")
    job = read_job(path)
    found = check(lay_out(job, read_rules(job.rules, job.unit)))
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
    found, before = judged(content, path)
    for one in inspect_layout(found).findings:
        if one.verdict != "fail":
            continue
        about = _about(one)
        tally.wrong += [] if about in before else [f"{about} of a finding is not among the failures of {content}"]
        for words in ways(fixes_words(one.fixes)) or [""]:
            changed = carried(content, words)
            if changed is None:
                tally.advice.append(f"{one.quantity}: {words}")
                tally.wrong += [] if words else [f"nothing said of {about}"]
                continue
            tally.printed += 1
            wrong = _job_wrong(content, changed, path, about, before, words)
            tally.cleared += not wrong
            if wrong:
                tally.wrong.append(
                    f"{wrong}: {spot_words(one.place.where) or one.place.surface}: {words!r} on {toml(content)!r}"
                )
    told = [one for one in inspect_layout(found).findings if one.verdict == "fail"]
    wrong = all_done(content, path, told)
    tally.wrong += [f"{wrong}: all together on {toml(content)!r}"] if wrong else []
    if any(joint.jog for joint in found.layout.joints):
        _try_remedies(content, path, tally, stairguard.report(found), before)


def all_done(content: dict[str, Any], path: Any, told: list[Any]) -> str:
    """What is wrong with a page's fixes all carried out, the first way of each: a breach left that one is told at.

    What divides surfaces or puts some in numbers the others anew, and stands for itself, as does what says so.
    """
    changed, done, given = content, [], {}
    for one in told:
        words = ways(fixes_words(one.fixes))[0]
        if re.search("divide surface|put a landing|by itself: with all else", words) or carried(content, words) is None:
            continue
        for found in SET.finditer(words):
            if given.setdefault(found["key"], found["value"]) != found["value"]:
                return f"{found['key']} is set twice"
        changed, done = carried(changed, words) or changed, [*done, _about(one)]
    try:
        _, after = judged(changed, path)
    except StairguardError as error:
        return f"cannot be done ({error})"
    left = [key for key in done if key in after]
    return f"left {left}" if left else ""


def jogs(page: str) -> Iterator[tuple[tuple[int, int], list[str]]]:
    """Joints at which a page tells of a jog: the surfaces there, counted from 1, and the remedies it allows."""
    for found in JOG.finditer(page.partition("\nJOINTS\n")[2].partition("\nPOSTS\n")[0]):
        body = re.sub(r"\s+", " ", found["rest"])
        if " JOG: " in body:
            told = body.partition("each tried on this job: ")[2].removeprefix("- ").split(" - ")
            yield (int(found["first"]), int(found["last"])), [one for one in told if "): allowed: " in one]


def _try_remedies(
    content: dict[str, Any], path: Any, tally: Tally, page: str, before: dict[tuple[Any, ...], float]
) -> None:
    """Type every remedy that a page allows, and look whether its jog is gone and no more is broken."""
    for between, remedies in jogs(page):
        for words in remedies:
            changed = copy.deepcopy(content)
            for number, key, value in REMEDY.findall(words.partition(" (")[0] if "(" in words else words):
                changed["surface"][int(number) - 1][key] = json.loads(value)
            tally.remedies += 1
            wrong = _remedy_wrong(changed, path, between, before)
            tally.gone += not wrong
            if wrong:
                tally.wrong.append(f"{wrong}: {words!r} at {between} on {toml(content)!r}")


def _remedy_wrong(
    changed: dict[str, Any], path: Any, between: tuple[int, int], before: dict[tuple[Any, ...], float]
) -> str:
    try:
        found, after = judged(changed, path)
    except StairguardError as error:
        return f"cannot be done ({error})"
    left = [pair for pair, _ in jogs(stairguard.report(found)) if between[0] <= pair[0] and pair[1] <= between[1]]
    new = sorted({str(key[0]) for key in after.keys() - before.keys()})
    return f"jog left at {left}" if left else f"breaks {new}" if new else ""


def _job_wrong(
    content: dict[str, Any], changed: dict[str, Any], path: Any, about: tuple[Any, ...],
    before: dict[tuple[Any, ...], float], words: str,
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
    told = broken(words)
    untold = [clause for clause in new if clause not in told and not (clause == "job" and "own limit" in told)]
    return f"breaks {untold}, untold" if untold else ""


# --- inspections ------------------------------------------------------------------------------------------------------


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


def retaken(content: dict[str, Any], one: Any, words: str, sure: bool) -> dict[str, Any] | None:
    """An inspection's content with one way carried out; None where the words name nothing to change, or no such row."""
    out, unit = copy.deepcopy(content), content["unit"]
    if words.startswith("even out the") and "measured, each" in words:
        value = TO.search(words)
        assert value is not None, words
        what = re.search(r"even out the (.+?)s measured", words)
        assert what is not None
        for row in out["measured"]:
            if row["what"] == what[1] and (row.get("surface") or 0) - 1 == one.place.surface:
                row["value"] = _again(row["value"], value["value"], unit)
        return out
    row = _row_of(out, one)
    move = MOVE.search(words)
    if move is not None:
        return _moved(out, row, move, sure, unit)
    value = TO.search(words)
    if value is not None and row is not None:
        row["value"] = _again(row["value"], value["sure"] if sure and value["sure"] else value["value"], unit)
        return out
    if row is not None and ("lift" in row or "spacing" in row):
        now, _, certain = words.partition("; to be sure, ")
        sizes = SIZE.findall(certain if sure and certain else now)
        for key, size in sizes:
            row[key] = _again(row.get(key, _of_flight(out, row, key)), size, unit)
        return out if sizes else None
    return carried(content, words)


def _of_flight(content: dict[str, Any], row: dict[str, Any], key: str) -> Any:
    return content["surface"][row["surface"] - 1].get(key, 0)


def _again(old: Any, new: str, unit: str) -> str:
    """A new figure, measured as well as the old one was."""
    _, plus, error = str(old).partition("+-")
    value = length(new, unit)
    exact = str(value) if value.denominator < 10_000 else f"{float(value):.15g}"
    return f"{exact} {unit}" + (f" +- {error.strip()}" if plus else "")


def _moved(
    out: dict[str, Any], row: dict[str, Any] | None, move: re.Match[str], sure: bool, unit: str
) -> dict[str, Any] | None:
    """An outline whose edge has been moved in: its neighbours keep their lines; measured again as it was."""
    if row is None:
        return None
    by = length(move[3] if sure and move[3] else move[2], unit)
    corners = row.get("points") or _drawn(row, unit)
    points = [tuple(float(length(str(c).partition("+-")[0], unit)) for c in pair) for pair in corners]
    n, k = len(points), int(move[1]) - 1
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
        row["points"] = [
            [_again(old, f"{value:.15f} {unit}", unit) for old, value in zip(pair, point, strict=True)]
            for pair, point in zip(row["points"], new, strict=True)
        ]
        return out
    apart = lambda i, j: ((new[i][0] - new[j][0]) ** 2 + (new[i][1] - new[j][1]) ** 2) ** 0.5  # noqa: E731  # one distance, asked for below
    row["sides"] = [_again(old, f"{apart(i, (i + 1) % n):.15f} {unit}", unit) for i, old in enumerate(row["sides"])]
    if "diagonal" in row:
        row["diagonal"] = _again(row["diagonal"], f"{apart(0, 2):.15f} {unit}", unit)
    return out


def _drawn(row: dict[str, Any], unit: str) -> list[list[str]]:
    """Corners of a figure given by its sides, side 1 level."""
    sides = [float(length(str(s).partition("+-")[0], unit)) for s in row["sides"]]
    d = float(length(str(row["diagonal"]).partition("+-")[0], unit)) if "diagonal" in row else sides[2]
    x = (sides[0] ** 2 + d * d - sides[1] ** 2) / (2 * sides[0])
    points = [(0.0, 0.0), (sides[0], 0.0), (x, (d * d - x * x) ** 0.5)]
    if "diagonal" in row:
        cx, cz = points[2]
        along = (sides[3] ** 2 + d * d - sides[2] ** 2) / (2 * d)
        off = (sides[3] ** 2 - along * along) ** 0.5
        points.append((along * cx / d - off * cz / d, along * cz / d + off * cx / d))
    return [[f"{a:.15f} {unit}", f"{b:.15f} {unit}"] for a, b in points]


def settled(content: dict[str, Any], one: Any, found: re.Match[str]) -> dict[str, Any] | None:
    """An inspection in which one figure is measured as well as it says."""
    out, (what, better), unit = copy.deepcopy(content), (found[1], found[2]), content["unit"]
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
    value = length(str(old).partition("+-")[0], unit)
    return f"{value} {unit} +- {plus_minus} {unit}"


def _same(one: Any) -> tuple[Any, ...]:
    return one.clause, one.quantity, one.kind, one.scope, one.place.surface, one.place.where


def try_survey(content: dict[str, Any], path: Any, tally: Tally) -> None:
    """Inspect, carry every way that is printed out on the file, and inspect again."""
    found = inspected(content, path, fixes=True)
    failing = {_same(f)[:5] for f in found.findings if f.verdict == "fail"}
    for one in found.findings:
        settle = SETTLE.fullmatch(fixes_words(one.fixes))
        if settle is not None:
            _try_settling(content, path, tally, one, settle)
        elif one.verdict in ("fail", "needs a decision") and fixes_words(one.fixes) and one.margin is not None:
            for words in ways(fixes_words(one.fixes)):
                for sure in (False, True)[: 1 if "still too close to call" in words else 2]:
                    _try_way(content, path, tally, one, words, sure, failing)


def _try_settling(content: dict[str, Any], path: Any, tally: Tally, one: Any, settle: re.Match[str]) -> None:
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
    content: dict[str, Any], path: Any, tally: Tally, one: Any, words: str, sure: bool, failing: set[tuple[Any, ...]]
) -> None:
    changed = retaken(content, one, words, sure)
    if changed is None:
        tally.advice += [] if sure else [f"{one.quantity}: {words}"]
        return
    tally.printed += 1
    wrong = _survey_wrong(content, changed, path, one, words, sure, failing)
    tally.cleared += not wrong
    if wrong:
        tally.wrong.append(f"{wrong}: {'sure ' * sure}{_same(one)}: {words!r} on {toml(content)!r}")


def _survey_wrong(
    content: dict[str, Any], changed: dict[str, Any], path: Any, one: Any, words: str, sure: bool,
    failing: set[tuple[Any, ...]],
) -> str:  # fmt: skip
    try:
        again = inspected(changed, path)
    except StairguardError as error:
        return f"cannot be done ({error})"
    moved = len(changed["surface"]) != len(content["surface"])
    row = _row_of(content, one) is not None and "even out" not in words
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
    again_told = "measure the openings over the steps again" in words
    new = {
        f.clause
        for f in again.findings
        if f.verdict == "fail"
        and _same(f)[:5] not in failing
        and not moved
        and not (again_told and f.quantity == "opening")
    }
    untold = [clause for clause in new if clause not in broken(words) and clause != one.clause]
    return f"breaks {untold}, untold" if untold else ""
