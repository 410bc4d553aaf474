"""Rule packs: found by name or path, held to the schema, their lengths exact in the job's unit."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any, Final

from stairguard.errors import Fault, PackError
from stairguard.model.job import Unit
from stairguard.model.published.known_figure import MM_PER_INCH
from stairguard.model.rules import NOT_LENGTHS, Rule, RuleSet
from stairguard.model.site import Condition
from stairguard.reading import TooLargeError, UnreadableError, read_bytes
from stairguard.rules.pack import schema
from stairguard.rules.pack.amendments import amended, followed

NONE: Final = "none"
"""The name that asks for no rules at all."""

# By path and not through importlib.resources, whose import alone costs a tenth of the start-up allowed.
_PACKS: Final = Path(__file__).parents[1] / "packs"
_PRACTICE: Final = Path(__file__).parents[1] / "practice.toml"
_SUFFIX: Final = ".toml"
_LARGEST_FILE: Final = 1_000_000
_DEEPEST: Final = 5


def available() -> tuple[str, ...]:
    """Names of the packs that ship with the package, sorted."""
    return tuple(sorted(path.stem for path in _PACKS.glob(f"*{_SUFFIX}")))


def read_rules(name_or_path: str, unit: Unit) -> RuleSet:
    """Read a rule pack into the job's unit.

    Parameters
    ----------
    name_or_path
        A shipped pack's name, ``"none"``, or the path of a pack of the user's own (relative to the working
        directory). A shipped name wins over a file of that name; ``./name`` is always a path.
    unit
        ``"in"`` or ``"mm"``; the pack's lengths are converted exactly.

    Raises
    ------
    PackError
        No such pack, or one that breaks the schema: a fault for every mistake, naming the rule.
    """
    return _read(name_or_path, unit, 0)


def read_practice(unit: Unit) -> RuleSet:
    """Read what fabricators commonly keep to, which no pack contains and no document says."""
    return _read(str(_PRACTICE), unit, 0)


def _read(name_or_path: str, unit: Unit, depth: int) -> RuleSet:
    if name_or_path == NONE:
        return RuleSet(name=NONE, title="No rules", rules=())
    path = _find(name_or_path)
    where = path.name
    text = _text(path, where)
    pack = _parse(text, where)
    faults = list(schema.head_faults(where, pack))
    tables = [table for table in _list(pack.get("rule")) if isinstance(table, dict)]
    places = _places(where, text, len(tables))
    for place, table in zip(places, tables, strict=True):
        faults += schema.rule_faults(place, table)
    faults += schema.twin_faults(places, tables)
    if faults:
        raise PackError(*faults)
    built = _build(pack, unit)
    key = next((key for key in ("amends", "follows") if key in pack), None)
    if key is None:
        return built
    if depth >= _DEEPEST:
        raise PackError(
            Fault(f"{where}, {key}", f"a pack that {key} no more than {_DEEPEST} others in turn", pack[key])
        )
    base = _base(f"{where}, {key}", path, pack[key], unit, depth)
    if key == "follows":
        return followed(base, built, pack.get("renumbers", {}))
    return amended(base, built, tuple(pack.get("removes", ())), where)


def _base(where: str, path: Path, name: str, unit: Unit, depth: int) -> RuleSet:
    """The pack that another amends or follows: shipped, or beside it."""
    beside = path.parent / name
    try:
        return _read(name if name in available() or not beside.exists() else str(beside), unit, depth + 1)
    except PackError as error:
        raise PackError(*(Fault(f"{where}: {f.where}", f.must, f.got) for f in error.faults)) from None


def _list(value: object) -> list[Any]:
    return value if isinstance(value, list) else []


def _find(name_or_path: str) -> Path:
    if name_or_path in available():
        return _PACKS / (name_or_path + _SUFFIX)
    if name_or_path.endswith(_SUFFIX) or "/" in name_or_path or "\\" in name_or_path:
        return Path(name_or_path)
    names = (*available(), NONE)
    raise PackError(
        Fault(
            "rules",
            f"a pack's name or the path of a .toml ({schema.nearest(name_or_path, names)})",
            name_or_path,
        )
    )


def _text(path: Path, where: str) -> str:
    try:
        content = read_bytes(path, _LARGEST_FILE)
    except TooLargeError as error:
        raise PackError(Fault(where, "a rule pack of at most a megabyte", error)) from None
    except UnreadableError as error:
        raise PackError(Fault(f"rules {path}", "a rule pack that can be read", error)) from None
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise PackError(Fault(where, "UTF-8 text", f"byte {content[error.start]:#04x}")) from None


def _parse(text: str, where: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text, parse_float=schema.Decimal)
    except (ValueError, RecursionError) as error:  # ValueError: also whole numbers too long to convert
        raise PackError(Fault(where, "valid TOML", error)) from None


def _places(where: str, text: str, count: int) -> list[str]:
    """Name each rule for a fault, with its line where the headings found are as many as the rules."""
    lines = [n for n, line in enumerate(text.splitlines(), 1) if "".join(line.split()).startswith("[[rule]]")]
    if len(lines) != count:
        return [f"{where}, rule {n}" for n in range(1, count + 1)]
    return [f"{where}, rule {n} (line {line})" for n, line in enumerate(lines, 1)]


def _build(pack: Mapping[str, Any], unit: Unit) -> RuleSet:
    factor = Fraction(1)
    if pack["unit"] != unit:
        factor = MM_PER_INCH if unit == "mm" else 1 / MM_PER_INCH
    return RuleSet(
        name=pack["name"],
        title=pack["title"],
        rules=tuple(_rule(table, factor) for table in pack.get("rule", ())),
        edition=pack["edition"],
        jurisdiction=pack["jurisdiction"],
        cautions=tuple(pack.get("cautions", ())),
        numbering=pack.get("numbering", ""),
    )


def _rule(table: Mapping[str, Any], factor: Fraction) -> Rule:
    below = schema.exact(table.get("when_run_below"))
    value = schema.exact(table.get("value")) or Fraction(0)  # a band to climb by, and what is to be uniform, have none
    heights = {key: schema.exact(table[key]) for key in schema.HEIGHTS if key in table}
    return Rule(
        quantity=table["quantity"],
        place=table["place"],
        kind=table["kind"],
        value=value if table["quantity"] in NOT_LENGTHS or table.get("in_runs") else value * factor,
        clause=table["clause"],
        status=table["status"],
        source=table["source"],
        note=table["note"],
        binding=table.get("binding", True),
        when_run_below=None if below is None else below * factor,
        in_runs=table.get("in_runs", False),
        address=table.get("address", ""),
        datum=table.get("datum", ""),
        when=tuple(_condition(key, given, factor) for key, given in table.get("when", {}).items()),
        load_unit=table.get("load_unit", ""),
        serves=table.get("serves", ""),
        **{key: height * factor for key, height in heights.items() if height is not None},
    )


def _condition(key: Any, given: Any, factor: Fraction) -> Condition:  # the schema has been held to already
    if schema.CONDITIONS[key] == "length":
        length = schema.exact(given)
        return Condition(key, Fraction(0) if length is None else length * factor)
    return Condition(key, tuple(given) if isinstance(given, list) else given)
