"""What is kept whole: pages, data and drawings of a few jobs, each a function that makes it anew.

A golden text says only that nothing has changed unnoticed; that it is right is for the other tests to say.
"""

from __future__ import annotations

import contextlib
import functools
import io
import json
import re
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Final

import stairguard
from figures import draw
from stairguard.api.deflection import pictures
from stairguard.cli.main import main
from stairguard.io.parse.exact_lengths import format_length
from stairguard.io.read.job_file import read_job, starter_text
from stairguard.model.guard.solved_layout import CheckedLayout
from stairguard.reports.data.csv_lists import cuts_csv, holes_csv
from stairguard.reports.drawing.chart.chart_sheet import chart_sheet
from stairguard.reports.drawing.elevation.elevation_sheets import elevation
from stairguard.reports.drawing.paper.scene import Sheet, as_record
from tests.golden import refused, solved, words
from tests.places import ROOT
from tests.reports.drawing.chart.test_chart_sheet import random_chart
from tests.reports.drawing.opening.openings import random_sheet
from tests.reports.drawing.probe.test_probe_section import drawn, random_picture

KEPT: Final = Path(__file__).parent / "kept"

_GUARDS: Final = ("quarter-turn", "half-turn", "surveyed", "workshop-break", "belvedere-taut", "deck-ramp", "down-up")
_INSPECTION: Final = "shared/inspections/orchard-back-stair.toml"
_BAY: Final = (
    "give", "--diameter", "1/8in", "--spacing", "3in", "--bay", "42in", "--run-length", "20ft", "--tension", "200lbf",
    "--force", "8lbf", "--friction", "0.1", "--lead", "1/20in", "--at", "12in",
)  # fmt: skip
_FRAME: Final = (
    "--frame", "wood", "--now", "68F", "--coldest", "-10F", "--warmest", "100F", "--wood", "Douglas-fir, coast",
    "--moisture-from", "15", "--moisture-to", "12", "--post-width", "3.5in",
)  # fmt: skip
_SIDES: Final = (
    "opening", "--sides", "4-13/16in+-1/16in,4-3/16in+-1/16in,4-3/4in+-1/16in,3-7/8in+-1/16in",
    "--diagonal", "6-5/16in+-1/16in", "--strand-edges", "3", "--strand-diameter", "3/16in", "--limit", "4in",
)  # fmt: skip
_STEP: Final = ("opening", "--rise", "7-3/4in", "--run", "10in", "--nosing", "1in", "--tread", "1in")

_COMMANDS: Final[dict[str, tuple[str, ...]]] = {
    "layout-built-in": ("layout",),
    "layout-built-in-data": ("layout", "--json"),
    "layout-built-in-findings": ("layout", "--csv"),
    **{f"layout-{name}": ("layout", f"shared/examples/{name}.toml") for name in _GUARDS},
    "layout-surveyed-data": ("layout", "shared/examples/surveyed.toml", "--json"),
    "layout-crossing": ("layout", "tests/golden/jobs/crossing.toml"),
    "layout-porch-data": ("layout", "tests/golden/jobs/porch.toml", "--json"),
    "layout-wrong-findings": ("layout", "tests/golden/jobs/wrong.toml", "--csv"),
    "layout-wrong-side-findings": ("layout", "tests/golden/jobs/wrong-side.toml", "--csv"),
    "inspect": ("inspect", _INSPECTION),
    "inspect-found": ("inspect", "tests/golden/jobs/found.toml"),
    "inspect-data": ("inspect", _INSPECTION, "--json"),
    "inspect-scotland": ("inspect", _INSPECTION, "--rules", "scotland-1999"),
    "compare-rules": ("compare-rules", "shared/examples/duplex.toml", "irc-2021", "nz-f4as1", "scotland-1999"),
    "compare-rules-data": ("compare-rules", "tests/golden/jobs/porch.toml", "nz-f4as1", "--json"),
    "compare-rules-inspection": ("compare-rules", _INSPECTION, "irc-2021", "ncc-australia"),
    "give-bay": _BAY,
    "give-bay-data": (*_BAY, "--json"),
    "give-bay-frame": (*_BAY, *_FRAME, "--compare", "diameter=3/16in"),
    "give-bay-yielding": (
        *_BAY, "--post-stiffness", "2000", "--anchor-stiffness", "1000", "--hang", "5 lb", "--sinks", "0.5",
    ),
    "give-bay-edge": (
        "give", "--diameter", "4mm", "--edge", "70mm", "--bay", "1m", "--tension", "700 N", "--unit", "mm",
    ),
    "give-guard": ("give", "shared/examples/belvedere-taut.toml"),
    "give-guard-data": ("give", "shared/examples/belvedere-taut.toml", "--json"),
    "opening-step": (*_STEP, "--lift", "0in", "--limit", "6in"),
    "opening-step-open": (*_STEP, "--open-riser", "--lift", "1in+-1/16in", "--limit", "4in"),
    "opening-sides": _SIDES,
    "opening-sides-data": (*_SIDES, "--json"),
    "opening-move": (*_SIDES[:-1], "3.5in", "--move", "2"),
    "transition-top": (
        "transition", "--rise", "7.25in", "--run", "10.5in", "--flight-height", "36in", "--landing-height", "42in",
        "--at", "top", "--post-at", "0.75in",
    ),
    "transition-bottom": (
        "transition", "--rise", "180mm", "--run", "270mm", "--flight-height", "900mm", "--landing-height", "1000mm",
        "--at", "bottom", "--unit", "mm",
    ),
    "relations": ("relation",),
    "relation-step-sphere": ("relation", "step-sphere"),
    "relation-solved": (
        "relation", "step-sphere", "rise=7.5in", "run=10in", "nosing=0in", "sphere=6in", "--find", "lift",
    ),
    "rules": ("rules",),
    "rules-irc-2021": ("rules", "irc-2021"),
    "rules-osha-1926-data": ("rules", "osha-1926", "--json"),
    "rules-ncc-australia": ("rules", "ncc-australia"),
    "rules-nbc-canada": ("rules", "nbc-canada"),
}  # fmt: skip


def _printed(arguments: tuple[str, ...]) -> str:
    """What a command line prints, run from the root of the project."""
    out = io.StringIO()
    with contextlib.chdir(ROOT), contextlib.redirect_stdout(out):
        main(arguments)
    return out.getvalue()


def _written(name: str | None, file: str) -> str:
    """A list written beside a layout's drawings, without the drawings."""
    job = stairguard.built_in_job() if name is None else read_job(ROOT / f"shared/examples/{name}.toml")
    return {"holes": holes_csv, "cuts": cuts_csv}[file](stairguard.lay_out(job))


def _drawn(sheets: Callable[[], Iterator[Sheet] | tuple[Sheet, ...]]) -> str:
    """The record of every sheet, a line for each of its parts."""
    lines: list[str] = []
    for sheet in sheets():
        record: Any = as_record(sheet)
        parts = record.pop("parts")
        lines += [json.dumps(record), *(json.dumps(part) for part in parts)]
    return "\n".join(lines) + "\n"


def _elevation(checked: CheckedLayout) -> tuple[Sheet, ...]:
    job = checked.layout.job
    told = stairguard.tell(checked, fixes=False, named=False)
    return tuple(elevation(told, draw.DATE, lambda length: format_length(length, job.unit, job.mark)))


def _guard_sheets(name: str, folder: str = "shared/examples") -> tuple[Sheet, ...]:
    return _elevation(stairguard.lay_out(read_job(ROOT / folder / f"{name}.toml")))


@functools.cache
def _every_key() -> CheckedLayout:
    """The guard of the starter file with every key put to use."""
    text = re.sub(r"^# (?=\[|\w+ *= )", "", starter_text(), flags=re.MULTILINE)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "every.toml"
        path.write_text(text, encoding="utf-8")
        return stairguard.lay_out(read_job(path))


def _every_sheet() -> tuple[Sheet, ...]:
    return _elevation(_every_key())


def _opening_sheets() -> Iterator[Sheet]:
    """An opening of each kind, as random ones are drawn for the drawing's own tests."""
    for seed in range(10):
        found = random_sheet(seed)
        if found is not None:
            yield found[-1]


def _chart_sheets() -> Iterator[Sheet]:
    """Charts of few points with bands, marks, levels and notes."""
    for seed in (3, 7, 8, 10, 15, 16, 18):
        yield chart_sheet(random_chart(seed), draw.DATE, ("in", "mm")[seed % 2])


def _section_sheets() -> Iterator[Sheet]:
    """Pushes of sphere and cone between strands, and of a strand and an edge."""
    for seed in range(6):
        unit, picture = random_picture(seed)
        yield drawn(picture, unit)


def _give_sheets() -> tuple[Sheet, ...]:
    found = stairguard.strand_give(
        diameter="1/8in", spacing="3in", bay="42in", run_length="20ft", tension="200 lbf", tension_source="set",
        force="8 lbf", compare=["diameter=3/16in"], frame="wood", now="68 F", coldest="-10 F", warmest="100 F",
        wood="Douglas-fir, coast", moisture_from="15", moisture_to="12", post_width="3.5in",
    )  # fmt: skip
    return tuple(sheet for _, sheet in pictures(found, None, draw.DATE))


def _edge_sheets() -> tuple[Sheet, ...]:
    found = stairguard.strand_give(diameter="4mm", edge="70mm", bay="1m", tension="700 N", unit="mm")
    return tuple(sheet for name, sheet in pictures(found, None, draw.DATE) if name == "section")


CASES: Final[dict[str, Callable[[], str]]] = {
    **{name: functools.partial(_printed, arguments) for name, arguments in _COMMANDS.items()},
    "relations-solved": solved.relations,
    "figures": words.figures,
    "fixes": words.fixes,
    "help": refused.helped,
    "refused": refused.refused,
    "refused-files": refused.refused_files,
    "holes-built-in": functools.partial(_written, None, "holes"),
    "cuts-built-in": functools.partial(_written, None, "cuts"),
    "holes-quarter-turn": functools.partial(_written, "quarter-turn", "holes"),
    "cuts-quarter-turn": functools.partial(_written, "quarter-turn", "cuts"),
    **{
        f"drawing-{name}": functools.partial(_drawn, functools.partial(_guard_sheets, name))
        for name in ("quarter-turn", "surveyed", "workshop-break")
    },
    "drawing-porch": functools.partial(_drawn, functools.partial(_guard_sheets, "porch", "tests/golden/jobs")),
    "drawing-push-edge": functools.partial(_drawn, _edge_sheets),
    "drawing-gap": functools.partial(_drawn, lambda: (draw.sheet("gap"),)),
    "every-key": lambda: stairguard.report(_every_key()),
    "every-key-lists": lambda: cuts_csv(_every_key()) + holes_csv(_every_key()),
    "drawing-every-key": functools.partial(_drawn, _every_sheet),
    "drawing-openings": functools.partial(_drawn, _opening_sheets),
    "drawing-charts": functools.partial(_drawn, _chart_sheets),
    "drawing-sections": functools.partial(_drawn, _section_sheets),
    "drawing-give": functools.partial(_drawn, _give_sheets),
}
"""By the name of the kept file, without its ending."""
