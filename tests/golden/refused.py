"""What a command line says of itself, and what it refuses: each with its words and status."""

from __future__ import annotations

import contextlib
import functools
import io
import os
import re
import shlex
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final

import typer.main

from stairguard.cli.main import main
from stairguard.io.read.job_file import starter_text
from tests.places import ROOT

_COMMANDS: Final = (
    "layout", "opening", "give", "rules", "inspect", "compare-rules", "transition", "relation", "starter",
)  # fmt: skip


@contextlib.contextmanager
def _parser_built_once() -> Iterator[None]:
    """Building it anew is most of what a refused command line takes."""
    whole = typer.main.get_command
    typer.main.get_command = functools.cache(whole)
    try:
        yield
    finally:
        typer.main.get_command = whole


def _ran(arguments: Sequence[str]) -> str:
    out = io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(out):
        status = main(list(arguments))
    return f"{out.getvalue()}status {status}\n".replace(f"{Path.cwd()}{os.sep}", "")


def helped() -> str:
    """The help of every command: what is asked for, a line an option, however its parser breaks lines."""
    texts = (_ran([*command, "--help"]) for command in ([], *([name] for name in _COMMANDS)))
    return "\n".join(
        re.sub(r" (--|Commands:|Usage:|Options:)", r"\n\1", " ".join(text.split())) + "\n" for text in texts
    )


_STEP: Final = "opening --rise 7.75in --run 10in"
_BAY: Final = "give --diameter 1/8in --spacing 3 --bay 42 --tension 200"
_WARM: Final = f"{_BAY} --now 20C --frame steel"
_JOB: Final = "give shared/examples/belvedere-taut.toml"
_REFUSED: Final = (
    "opnin", "--bogus", "opening --rize 7", "layout none.toml", "layout shared", "layout --out shared",
    "layout --out none/out", "layout --date soon",
    "layout --date 2025-02-30", "layout --out out --csv --json", "layout --csv --json",
    "opening --rise x --run 0 --unit yd --limit -1", "opening", f"{_STEP}", f"{_STEP} --lift -1",
    f"{_STEP} --lift 0 --nosing 10in", f"{_STEP} --lift 0 --nosing -1", f"{_STEP} --lift 0 --tread 7.75in",
    f"{_STEP} --lift 0 --limit 0", f"{_STEP} --lift 0 --unit yd", f"{_STEP} --lift 3in +- x",
    f"{_STEP} --lift 0 --move 1 --limit 4", f"{_STEP} --lift 0 --spacing 3", f"{_STEP} --lift 0 --tape cloth",
    f"{_STEP} --lift 0 --guard-band -1", f"{_STEP} --lift 0 --guard-band nan", f"{_STEP} --lift 0 --draw out.bmp",
    f"{_STEP} --lift 0 --limit '2in +- 1/8in'", f"{_STEP} --lift 0 --draw no/out.svg", f"{_STEP} --lift nan",
    f"{_STEP} --lift inf", f"{_STEP} --lift 1/0", f"{_STEP} --lift 1e9", f"{_STEP} --lift '3 furlongs'",
    f"{_STEP} --lift ''", f"{_STEP} --lift 1+1", f"{_STEP} --lift '1 +- -1'",
    "opening --move 1 --limit 4", "opening --points none.csv", "opening --points shared", "opening --lengths none.csv",
    "opening --spacing 3", "opening --strand-diameter 1/8", "opening --spacing 1/8in --strand-diameter 1/8in",
    "opening --spacing 3 --strand-diameter 1/8 --strand-edges 1", "opening --sides 3,4", "opening --sides 3,4,5,6",
    "opening --sides 3,4,5 --diagonal 4", "opening --sides 3,4,5,4 --diagonal 8", "opening --sides 3,4,x",
    "opening --sides 3,4,9", "opening --sides 3,,4", "opening --sides 3,4,0",
    "opening --sides 300ft,400ft,500ft+-1in --tape us",
    "opening --sides '3,4,5 +- 1mm'",
    "opening --sides 3,4,5 --strand-edges 4 --strand-diameter 1/8", "opening --sides 3,4,5 --strand-edges 1",
    "opening --sides 3,4,5 --strand-edges x --strand-diameter 1/8", "opening --sides 3,4,5 --strand-diameter 1/8",
    "opening --sides 3,4,5 --move 4 --limit 1", "opening --sides 3,4,5 --move 1", "opening --sides 3,4,5 --open-riser",
    "transition --rise 0 --run 10 --flight-height 34 --at middle", "transition", "transition --rise 7 --run 10",
    "transition --rise 7 --run 10 --flight-height 34 --landing-height -1 --at top",
    "transition --rise 7 --run 10 --flight-height 34 --landing-height 36 --at top --post-at x",
    "relation step-sphre", "relation pitch rise=1 run=2", "relation pitch rise=1 run --find pitch",
    "relation pitch rise=1 rise=2 --find pitch", "relation pitch rise=1 --find pitch",
    "relation pitch rise=1 run=0 --find pitch", "relation pitch rise=1 run=2 --find pitsch",
    "relation pitch rise=1 run=2 rum=x --find pitch", "relation pitch rise=1 run=2 --find pitch --unit yd",
    "relation pitch rise=1+1 run=10 --find pitch", "relation pitch rise=1e20 run=10 --find pitch",
    "relation pitch pitch=91 run=10 --find rise", "relation pitch pitch=1rad run=10 --find rise",
    "relation pitch rise=1 run=2 pitch=3 --find pitch", "relation strand-sag --find sag weight=x bay=1 tension=1",
    "relation step-sphere rise=7 run=11 nosing=4 lift=20 --find sphere",
    "relation strand-area diameter=1 fill=2 --find area", "relation strand-gap diameter=1/8 gap=-3 --find spacing",
    "relation bend pitch_in=35 pitch_out=5 bend=29 --find turn",
    *(f"relation rail-meets-top rise=7 flight_height=36 landing_height=36 station={at} --find run" for at in (0, 1)),
    "rules irc-2012", "rules none.toml", "rules shared", "rules irc-2021 nz-f4as1",
    "inspect", "inspect none.toml", "inspect --rules irc-2012",
    "inspect shared/inspections/orchard-back-stair.toml --rules irc-2012",
    "inspect shared/inspections/orchard-back-stair.toml --json --csv",
    "compare-rules", "compare-rules shared/examples/tower.toml", "compare-rules none.toml irc-2021",
    "compare-rules shared/examples/tower.toml irc-2012 nz-f4as1",
    "give", "give none.toml", "give --diameter 1/8in", f"{_BAY} --edge 3", f"{_BAY} --run-length 41.99",
    f"{_BAY} --at 42", f"{_BAY} --probe cone", f"{_BAY} --probe ball", f"{_BAY} --sinks 1", f"{_BAY} --now 20C",
    f"{_BAY} --frame steel", f"{_BAY} --friction 0.5", f"{_BAY} --force '5 kg'", f"{_BAY} --hang '5 lbf'",
    f"{_BAY} --post-stiffness '500 lbf'", f"{_BAY} --tension-source guessed", f"{_BAY} --construction 7x37",
    f"{_BAY} --material brass", f"{_BAY} --unit cm", f"{_BAY} --weight 10001", f"{_BAY} --tension 1868",
    f"{_BAY} --tension 1e50", f"{_BAY} --breaking-force 200", f"{_BAY} --stiffness 0", f"{_BAY} --lead 0",
    f"{_BAY} --compare x", f"{_BAY} --compare colour=red", f"{_BAY} --compare diameter=0", f"{_BAY} --compare bay=",
    f"{_BAY} --spacing 1/8", f"{_BAY} --table", f"{_BAY} --draw", f"{_BAY} --out shared", f"{_BAY} --date soon --out o",
    f"{_WARM} --coldest 21C", f"{_WARM} --warmest 66", f"{_WARM} --moisture-from 12", f"{_WARM} --wood balsa",
    f"{_WARM} --wood ipe --moisture-from 12 --moisture-to 8", f"{_WARM} --now -300C", f"{_WARM} --now '5 K'",
    f"{_WARM} --frame 'steel, wood'", f"{_WARM} --frame 'steel 60 %, wood 50 %'", f"{_WARM} --frame 'steel 100 %, x'",
    f"{_WARM} --grain x", f"{_WARM} --seated x", f"{_WARM} --settling 2", f"{_WARM} --settling x",
    f"{_WARM} --wood ipe --moisture-from 200 --moisture-to 8 --post-width 3.5",
    f"{_JOB} --diameter 1/4in --spacing 0", f"{_JOB} --bay 0", f"{_JOB} --tension 1e6", f"{_JOB} --run-length 9",
    f"{_JOB} --edge 2", f"{_JOB} --hang 5", f"{_JOB} --compare x=1",
)  # fmt: skip


def refused() -> str:
    """Command lines that are refused, from the root of the project."""
    with contextlib.chdir(ROOT), _parser_built_once():
        return "\n".join(f"$ {line}\n{_ran(shlex.split(line))}" for line in _REFUSED)


_SWAPS: Final = (
    ("height = 35 ", "heigth = 35 "), ('unit  = "in"', 'unit = "yd"'), ('unit  = "in"', "unit = 3"),
    ('mark  = "1/16 in"', "mark = 0"), ('mark  = "1/16 in"', "mark = 2"), ('title = "Stair guard"', "title = 3"),
    ('title = "Stair guard"', f'title = "{"W" * 501}"'), ('rules = "irc-2021"', "rules = 3"),
    ('rules = "irc-2021"', 'rules = "irc-2012"'), ("depth  = 1.5", "depth = 0"), ("depth  = 1.5", "depth = nan"),
    ("depth  = 1.5", "depth = [1]"), ("depth  = 1.5", "depth = 1000000000"), ("depth  = 1.5", "depth = 35"),
    ('meet   = "as given"', 'meet = "x"'), ('diameter = "1/8 in"', "diameter = 3"),
    ("spacing  = 3", "spacing = 0.0001"),
    ('at_joints = "through"', 'at_joints = "thru"'), ("terminal_take_up = 0", "terminal_take_up = -1"),
    ("setback = 5", "setback = 0.5"), ("setback = 5", "setback = 10"), ("width   = 1.5", "width = 11"),
    ("max_gap = 48", "max_gap = 0"), ("max_gap = 48", "max_gap = 0.01"), ("risers = 7", "risers = 0"),
    ("risers = 7", "risers = 7.5"), ("risers = 7", "risers = 1000000"), ("rise   = 7.25", "rise = 0"),
    ("nosing = 1.0", "nosing = 10.5"), ("tread  = 1.25", "tread = 8"), ("open_risers = false", "open_risers = 1"),
    ("# turn = 0 ", "turn = 181 "), ("# turn = 0 ", "turn = nan "), ('kind = "flight"', 'kind = "stair"'),
    ("# weight = 2.4", "weight = 0"), ("# weight = 2.4", "weight = 10001"), ("# weight = 2.7", 'weight = "2 lb"'),
    ('# longest_run = "60 ft"', "longest_run = 0"), ("# angle_changes = 2", "angle_changes = -1"),
    ("# largest_bend = 45", "largest_bend = 0"), ("# largest_bend = 45", "largest_bend = 181"),
    ("# tensioner_travel = 2", "tensioner_travel = -2"), ("# shortest = 4", "shortest = 0"),
    ('# tension = "200 lbf"', 'tension = "200 furlongs"'),
    ('# tension_source = "set"', 'tension_source = "set"'), ('# mount = "side"', 'mount = "side"'),
    ('# mount = "side"', 'mount = "top"'), ("# drop = 8", "drop = 8"), ("# offset = 2", "offset = 2"),
    ("# corner_offset = 4", "corner_offset = 4"), ('# corner = "two"', 'corner = "three"'),
    ('# corner = "two"', 'corner = "two"\ncorner_offset = 0.7'), ('# corner_square = "rails"', 'corner_square = "x"'),
    ("# sleeves = true", 'sleeves = "yes"'), ('# sleeve_diameter = "1/4 in"', "sleeve_diameter = 1"),
    ('# bearing = "inner face"', 'bearing = "x"'), ("# [ends]", '[ends]\nstart = "tree"'),
    ("# [ends]", "[ends]\nstrat = 1"), ("# [ends]", '[ends]\nclosed = true\nstart = "wall"'),
    ("# [ends]", "[ends]\nclosed = true"), ("# [site]", "[site]\nstoreys = 0"), ("# [site]", "[site]\ndwelling = 1"),
    ("# [site]", "[site]\ngreatest_drop = -1"),
    ("# [handrail]", "[handrail]\nlanding_height = 36"),
    ("# [stock]", "[stock]\nrail = 240"),
    ("# [stock]", "[stock]\nrail = [240, 0]"), ("# [stock]", "[stock]\npost = [90]\nkerf = 90"),
    ("# [stock]", "[stock]\nkerf = -1"), ('title = "Stair guard"', "stock = 3"),
    ("# [push]", '[push]\nforce = "-1 lbf"'), ("# [push]", '[push]\nprobe = "cone"\nforce = 9'),
    ("# [push]", "[push]\nfriction = 0.6"), ("# [push]", "[push]\nsphere = 0"), ("# [climate]", "[climate]\nnow = 60"),
    ("# [climate]", '[climate]\nnow = "60 F"\nframe = "steel"\nwood = "white oak"'),
    ("# rail_height = 37", "rail_height = 0"), ("# rail_height = 37", "rail_height = 1.5"),
    ("# rail_height = 37", "rail_height = 1.6"), ("# posts = [20, 34]", "posts = [20, 20]"),
    ("# posts = [20, 34]", "posts = [20, 49]"), ("# posts = [20, 34]", "posts = [0]"),
    ("# posts = [20, 34]", "posts = 20"), ("# posts = [20, 34]", "posts = [20, 21]"),
    ("# posts = [20, 34] ", "turn = 90 "), ("# posts = [20, 34] ", "level_piece = false "),
    ("down   = false ", "last_rise = 7 "), ("down   = false ", "posts = [63.5] "),
    ("down   = false ", "level_piece = true "),
    ("length = 48 ", "length = 2 "), ("length = 48 ", "depth = 3 "), ("run    = 10.5", "run = 1.4"),
    ("landing_height = 36", "landing_height = 1.6"), ("[rail]", "[rail"), ("[post]", "[pots]"), ("[strand]", "[rail]"),
)  # fmt: skip
"""Lines of the starter file, and what somebody makes of them."""

_HEAD: Final = 'name = "own"\ntitle = "Own"\nedition = "1"\nunit = "in"\njurisdiction = "here"\n'
_RULE: Final = (
    '[[rule]]\nquantity = "guard height"\nplace = "landing"\nkind = "at least"\nvalue = "36"\nclause = "1"\n'
    'status = "read"\nsource = "a"\nnote = "b"\n'
)
_PACKS: Final = (
    "", _HEAD, f"{_HEAD}[[rule]]\n", "rule = 3\n", f"{_HEAD}colour = 1\n{_RULE}", f"{_HEAD}cautions = 3\n{_RULE}",
    f"{_HEAD}removes = 3\n{_RULE}", f'{_HEAD}amends = "irc-2012"\n{_RULE}', f'{_HEAD}removes = ["1"]\n{_RULE}',
    f'{_HEAD}amends = "irc-2021"\nremoves = ["none"]\n{_RULE}', f'{_HEAD}renumbers = {{a = "b"}}\n{_RULE}',
    f'{_HEAD}follows = "irc-2021"\namends = "irc-2021"\n{_RULE}',
    f'{_HEAD}follows = "irc-2021"\nrenumbers = 3\n{_RULE}',
    _HEAD.replace('"in"', '"yd"') + _RULE, _HEAD + _RULE.replace('"landing"', '"step triangle"'),
    _HEAD + _RULE.replace('"at least"', '"stops"'), _HEAD + _RULE.replace('"36"', '"0"'),
    _HEAD + _RULE.replace('"36"', "true"), _HEAD + _RULE.replace("guard height", "gaurd height"),
    _HEAD + _RULE.replace('"read"', '"heard"'), _HEAD + _RULE.replace('"b"', '""'),
    *(_HEAD + _RULE + line + "\n" for line in (
        "binding = 1", "in_runs = 1", "in_runs = true", "when_run_below = 0", 'when_run_below = "11"',
        "from_height = 0",
        'from_height = "3"', 'within = "36"', 'datum = "floor"', 'address = ""', 'load_unit = "lbf"', 'serves = "ramp"',
        'serves = "x"', "when = 3", "when = {dwelling = 1}", "when = {storeys_at_most = 0}", "when = {occupancy = []}",
        'when = {drop_more_than = "x"}', "when = {colour = 1}", 'rule = "x"',
    )),
    _HEAD + _RULE.replace("guard height", "pitch").replace("landing", "flight").replace('"36"', '"90"'),
    _HEAD + _RULE.replace("guard height", "load").replace("landing", "any").replace("at least", "requires"),
    _HEAD + 2 * _RULE.replace("guard height", "opening").replace("at least", "stops"),
    _HEAD + _RULE.replace("guard height", "opening").replace("at least", "stops") + "binding = false\n",
    _HEAD + _RULE.replace("guard height", "climbable band").replace("landing", "any").replace("at least", "avoid"),
)  # fmt: skip
_MEASURED: Final = (
    'what = "x"', 'what = "opening"', 'what = "opening"\nsurface = 9\nvalue = 4', 'what = "opening"\nsurface = 1',
    'what = "opening"\nsurface = 1\nvalue = 4\nspacing = 3', 'what = "guard height"\nvalue = 36',
    'what = "guard height"\nsurface = 1\nvalue = 0', 'what = "guard height"\nsurface = 1\nvalue = "36 +- x"',
    'what = "guard height"\nsurface = 1\nvalue = 36\nplace = "x"', 'what = "drop"\nvalue = "x"', "what = 3",
    'what = "handrail extension"\nsurface = 2\nvalue = 12',
    'what = "opening"\nsurface = 2\nstep = 2', 'what = "opening"\nsurface = 2\nstep = 0\nlift = 1',
    'what = "opening"\nsurface = 1\nspacing = 3', 'what = "opening"\nsurface = 1\npoints = [[0, 0]]',
    'what = "opening"\nsurface = 1\npoints = [[0, 0], [4, 0], [4, 3]]\nstrand_edges = [5]',
    'what = "opening"\nsurface = 1\nsides = [3, 4, 9]', 'what = "opening"\nsurface = 1\nsides = [3, 4, 5, 6]',
    'what = "opening"\nsurface = 1\nvalue = 4\nfrom_height = 9\nto_height = 4',
    'what = "opening"\nsurface = 1\nvalue = 4\ncolour = 1', 'what = "opening"\nsurface = 1.5\nvalue = 4',
)  # fmt: skip
"""Of what an inspector took."""
_POINTS: Final = (
    "", "0,0\n", "0,0\n1\n1,1\n", "0,0\n1,2,3\n1,1\n", "0,0\n4,4\n4,0\n0,4\n", "0,0\n4,4\n4,4\n0,4\n",
    "0,0\n1,1\n2,2\n",
    "0,x\n" * 9, "x\n",
)  # fmt: skip
_LENGTHS: Final = (
    "", "A,B,3\nB,C,4\nC,D,5\n", "A,B,3\nB,C,4\nC,D,5\nD,A,6\n", "A,B,3\nB,C,4\nC,D,5\nD,A,6\nA,X,3\n",
    "A,B,3\nC,D,4\n",
    "A,B,3\nB,C,4\nC,B,5\n", "A,B,3\nB,C,4\nC,B,5\nB,D,3\n", "A,B,-3\nB,C,4\nC,A,5\n", ",B,3\nB,C,4\nC,,5\n",
    "A,B,1\nB,C,1\nC,D,1\nD,E,1\nE,A,1\nA,C,1.5\nB,D,1.5\n", "A,B,3\nB,C,4\nC,A,9\n", "A,B\n",
)  # fmt: skip


def _files() -> Iterator[tuple[str, str, list[str]]]:
    """What is told of each case, the file's text, and the command line that is given the file last."""
    starter = starter_text()
    for old, new in _SWAPS:
        assert old in starter, old
        yield f"{old.strip()} -> {new.strip()[:60]}", starter.replace(old, new, 1), ["layout"]
    for row in _MEASURED:
        text = f'{starter}\n[inspection]\nplus_minus = "1/16 in"\n[[measured]]\n{row}\n'
        yield f"[[measured]] {row}", text, ["inspect"]
    for head in ("plus_minus = -1", "guard_band = -1", "colour = 1", "plus_minus = 'x'"):
        yield f"[inspection] {head}", f"{starter}\n[inspection]\n{head}\n", ["inspect"]
    for pack in _PACKS:
        yield pack, pack, ["rules"]
    for points in _POINTS:
        yield points, points, ["opening", "--points"]
    for lengths in _LENGTHS:
        yield lengths, lengths, ["opening", "--lengths"]


def refused_files() -> str:
    """Job files, rule packs and tables that are refused."""
    told: list[str] = []
    with tempfile.TemporaryDirectory() as folder, contextlib.chdir(folder), _parser_built_once():
        for what, text, command in _files():
            name = "own.csv" if command[0] == "opening" else "own.toml"
            Path(name).write_text(text, encoding="utf-8")
            told.append(f"$ {' '.join(command)}\n{what}\n{_ran([*command, f'./{name}'])}")
    return "\n".join(told)
