"""One bay read from a caller or a command line, by the keys of a job file: every fault at once, all figures exact."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Any, Final

from stairguard.errors import Fault, InputError, nearest
from stairguard.io.parse.arguments import read_unit
from stairguard.io.parse.types import texts
from stairguard.io.read.strand_tables import CLIMATE_KEYS, PUSH_KEYS, STEEL_KEYS, read_climate, read_push, read_steel
from stairguard.io.read.toml_table import Table

if TYPE_CHECKING:
    from stairguard.model.guard.strand_deflection import BayQuestion, Hung
    from stairguard.model.job import Climate, Unit

_SIZES: Final = ("diameter", "spacing", "edge", "bay", "run_length", "at")

_BESIDES: Final = ("hang", "sinks", "lead", "post_width")

KEYS: Final = (*_SIZES, *STEEL_KEYS, *PUSH_KEYS, *CLIMATE_KEYS, *_BESIDES)
"""All that one bay may be asked by."""

_CHANGED: Final = (
    "diameter", "spacing", "bay", "run_length", "tension", "tension_source", "construction", "material", "sphere",
    "force", "friction",
)  # fmt: skip
"""What one bay may be compared by."""

_SPHERES: Final[dict[Unit, str]] = {"in": "4 in", "mm": "100 mm"}


@dataclass(frozen=True, slots=True, kw_only=True)
class BayAsked:
    """One bay, and what is asked about it besides; each None where it is not.

    ``compared`` are the bays otherwise, each by the text of its changes; ``hung`` is a mass at mid-bay, ``lead`` what
    one turn of the tensioner draws in, ``post_width`` that of the end posts, whose wood shrinks.
    """

    bay: BayQuestion
    compared: tuple[tuple[str, BayQuestion], ...]
    hung: Hung | None
    climate: Climate | None
    lead: Fraction | None
    post_width: Fraction | None


def read_asked(given: Mapping[str, object], unit: object, compare: Sequence[str] = ()) -> BayAsked:
    """Read all that one bay is asked by, by `KEYS`.

    Raises
    ------
    InputError
        One fault for every value that is unknown, missing or cannot be used.
    """
    faults = [
        Fault(key, f'a known name (the nearest is "{nearest(key, KEYS)}")', "an unknown one")
        for key in given
        if key not in KEYS
    ]
    bay = _gathered(faults, _bay, given, unit)
    hung = _gathered(faults, _hung, given, unit)
    climate = _gathered(faults, _weather, given, unit)
    named = texts(compare, "compare", 'a list of texts, each "key=value,key=value"')
    compared = [(text.strip(), _gathered(faults, _changed, text, given, unit)) for text in named]
    besides = _table(given, ("lead", "post_width"), read_unit(unit), faults)
    lead, width = besides.length_if_given("lead"), besides.length_if_given("post_width")
    if climate is not None and climate.wood is not None and width is None and not faults:
        faults.append(Fault("post_width", "the end posts' width, whose wood shrinks", ""))
    if faults:
        raise InputError(*faults)
    return BayAsked(bay=bay, compared=tuple(compared), hung=hung, climate=climate, lead=lead, post_width=width)


def _changed(text: str, given: Mapping[str, object], unit: object) -> BayQuestion:
    return _bay(read_changes(text, given), unit)


def _gathered(faults: list[Fault], read: Any, *args: Any) -> Any:  # any of the readers, each of its own type
    try:
        return read(*args)
    except InputError as error:
        faults += [fault for fault in error.faults if fault not in faults]
        return None


def _table(given: Mapping[str, object], keys: tuple[str, ...], unit: Unit, faults: list[Fault]) -> Table:
    return Table({key: given[key] for key in keys if given.get(key) is not None}, "", unit, faults)


def _bay(given: Mapping[str, object], unit: object) -> BayQuestion:
    """Read the bay itself; None is not given.

    Raises
    ------
    InputError
        One fault for every value that is missing or cannot be used.
    """
    from stairguard.model.guard.strand_deflection import BayQuestion, Taut
    from stairguard.solve.load.strand_properties import steel

    of, faults = read_unit(unit), list[Fault]()
    sizes = _table(given, _SIZES, of, faults)
    diameter, bay = sizes.length("diameter"), sizes.length("bay")
    run, at = sizes.length_if_given("run_length"), sizes.length_if_given("at")
    strands = 1 if sizes.has("edge") else 2
    if strands == 1:
        sizes.forbid("spacing", "left out where an edge is given")
    spacing = sizes.length("edge" if strands == 1 else "spacing")
    made = _table(given, STEEL_KEYS, of, faults)
    strand = read_steel(made)
    if strand.tension is None and not made.has("tension"):
        made.refuse("tension", "a force such as 200 lbf or 890 N", None)
    cone = str(given.get("probe")).strip() == "cone"
    push = read_push(_table({"sphere": None if cone else _SPHERES[of], **_set(given)}, PUSH_KEYS, of, faults))
    if not faults:
        _fit(sizes, diameter, spacing, bay, run, at, push.sphere or Fraction(0), strands)
    if faults:
        raise InputError(*faults)
    taut = Taut(steel(strand, diameter, of), strand.tension or Fraction(0), strand.source)
    return BayQuestion(
        unit=of,
        diameter=diameter,
        spacing=spacing,
        strands=strands,
        bay=bay,
        run=run or bay,
        at=at,
        taut=taut,
        push=push,
    )


def _set(given: Mapping[str, object]) -> dict[str, object]:
    return {key: value for key, value in given.items() if value is not None}


def _fit(
    sizes: Table, diameter: Fraction, spacing: Fraction, bay: Fraction, run: Fraction | None, at: Fraction | None,
    probe: Fraction, strands: int,
) -> None:  # fmt: skip
    """Refuse sizes that contradict each other."""
    if strands == 2 and spacing <= diameter:
        sizes.refuse("spacing", f"more than the diameter ({float(diameter):.6g})", float(spacing))
    if strands == 1 and 2 * spacing <= max(probe, diameter):
        most = float(max(probe, diameter)) / 2
        sizes.refuse("edge", f"more than half the sphere, and half the strand ({most:.6g})", float(spacing))
    if run is not None and run < bay:
        sizes.refuse("run_length", f"the bay ({float(bay):.6g}) or more", float(run))
    if at is not None and not probe / 2 <= at <= bay - probe / 2:
        must = f"half the sphere ({float(probe) / 2:.6g}) or more from both posts of the bay ({float(bay):.6g})"
        sizes.refuse("at", must, float(at))


def read_changes(text: str, given: Mapping[str, object], keys: Sequence[str] = _CHANGED) -> dict[str, object]:
    """Read ``key=value,key=value`` over what was asked by; InputError for another key than ``keys``."""
    changed, faults = dict(given), list[Fault]()
    named = {part.partition("=")[0].strip() for part in text.split(",")}
    if "tension" in named:  # what is said of the tension asked about is not said of another
        changed["tension_source"] = "assumed"
    for part in text.split(","):
        key, equals, value = part.partition("=")
        key = key.strip().replace("-", "_")
        if not equals or key not in keys:
            near = nearest(key, keys)
            must = f'KEY=VALUE, the key one of {", ".join(keys)} (the nearest is "{near}")'
            faults.append(Fault("compare", must, part))
        changed[key] = value.strip()
    if faults:
        raise InputError(*faults)
    return changed


def _weather(given: Mapping[str, object], unit: object) -> Climate | None:
    """Read what slackens the strand, by `CLIMATE_KEYS`; None where none of them is given."""
    of, faults = read_unit(unit), list[Fault]()
    if all(given.get(key) is None for key in CLIMATE_KEYS):
        return None
    climate = read_climate(_table(given, CLIMATE_KEYS, of, faults))
    if faults:
        raise InputError(*faults)
    return climate


def _hung(given: Mapping[str, object], unit: object) -> Hung | None:
    """Read a mass hung at mid-bay, and how far the strand went down where that was measured; None without a mass."""
    from stairguard.model.guard.strand_deflection import Hung

    of, faults = read_unit(unit), list[Fault]()
    table = _table(given, ("hang", "sinks"), of, faults)
    weight, sinks = table.mass_if_given("hang"), table.length_if_given("sinks")
    if weight is None and table.has("sinks") and not faults:
        table.refuse("sinks", "left out unless a mass is hung", given["sinks"])
    bay = _table(given, ("bay",), of, []).length_if_given("bay")
    if sinks is not None and bay is not None and 4 * sinks > bay and not faults:
        table.refuse("sinks", f"no more than a quarter of the bay ({float(bay):.6g})", float(sinks))
    if faults:
        raise InputError(*faults)
    return None if weight is None else Hung(weight, sinks)
