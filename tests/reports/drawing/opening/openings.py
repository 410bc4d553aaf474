"""Openings for the drawing's tests: every way an outline is given, and random ones of each kind."""

from __future__ import annotations

import random
from fractions import Fraction as F
from math import cos, pi, sin

from stairguard.errors import OutlineError, StairguardError
from stairguard.geometry.clearance.outline import Vec
from stairguard.geometry.clearance.pockets import Pocket, pockets
from stairguard.geometry.clearance.polygon import polygon
from stairguard.geometry.survey.triangulated import Diagonal, figure
from stairguard.io.parse.exact_lengths import format_length
from stairguard.reports.drawing.opening.opening_sheet import opening_sheet
from stairguard.solve.sphere.outlined import between_strands
from stairguard.solve.sphere.step_pockets import cell_pockets
from stairguard.solve.sphere.step_profile import Member, Profile

DATE = "2026-02-03"
TITLES = (
    "Gap beside the newel",
    "",
    "$\\frac{1}{2}$ & <b>bold</b> _{x} ^2 % # \\n",
    "Ångström Łódź Žižkov ﷽ 楼梯栏杆 درج سلم",
    "W" * 300,
    "the opening between the last strand and the wall of the house by the river " * 4,
    "line\nbreak\ttab \u202eright to left\u202c \u200b zero",
)
OUTCOMES = (None, "complies", *("does not comply",) * 2, "too close to call", "complies")
LONG = "the sphere is known to 0.04; the strand's height, taken better, would settle it " * 6


def points(*pairs):
    return [Vec(F(str(x)), F(str(z))) for x, z in pairs]


def formatter(unit):
    return lambda value: format_length(value, unit, F(1, 32) if unit == "in" else F(1))


def drawn(outline, pocket, *, unit="mm", **said):
    given = {"limit": F(100), "outcome": "complies", "labels": {}, "title": "Test", "date": DATE}
    return opening_sheet(outline, pocket, unit=unit, fmt=formatter(unit), **(given | said))


def _scaled(rng, pairs):
    """Moved, turned over and sized: from hundredths of a unit to far larger than any guard, far from the origin."""
    size = rng.choice((0.01, 1, 1, 1, 30, 1000))
    away = rng.choice((0, 0, 0, 1e4 * size))
    pairs = [(round(away + size * x, 6), round(size * z - away, 6)) for x, z in pairs]
    return pairs[::-1] if rng.random() < 0.3 else pairs


def _star(rng, count, low):
    turns = sorted(rng.uniform(0, 2 * pi) for _ in range(count))
    return [(r * cos(t), r * sin(t)) for t, r in ((t, rng.uniform(low, 1) * 4) for t in turns)]


def _egg(rng, count):
    turns = sorted(rng.uniform(0, 2 * pi) for _ in range(count))
    wide = rng.uniform(1, 4)
    return [(wide * cos(t), 2 * sin(t)) for t in turns]


def _sliver(rng, count):
    tall = 10 ** -rng.uniform(0.5, 4)
    low = [(k, rng.uniform(0, 0.3) * tall) for k in range(count)]
    high = [(k, rng.uniform(0.7, 1) * tall) for k in range(count)]
    pairs = [*low, *high[::-1]]
    return pairs if rng.random() < 0.5 else [(z, -x) for x, z in pairs]


def _comb(rng, count):
    teeth = [(k + d, 1 + 2 * (d == 0.5)) for k in range(count) for d in (0, 0.5)]
    return [(-0.5, 0), (count, 0), *teeth[::-1]]


def _closed(rng, kind):
    pairs = {
        "triangle": lambda: _star(rng, 3, 0.4),
        "four-sided": lambda: _star(rng, 4, 0.6),
        "convex": lambda: _egg(rng, rng.randrange(5, 49)),
        "star": lambda: _star(rng, rng.randrange(5, 60), rng.choice((0.2, 0.7))),
        "rectangle": lambda: [(0, 0), (rng.uniform(1, 8), 0), (0, 0), (0, rng.uniform(1, 8))],
        "sliver": lambda: _sliver(rng, rng.randrange(2, 12)),
        "comb": lambda: _comb(rng, rng.randrange(2, 15)),
    }[kind]()
    if kind == "rectangle":
        (wide, _), (_, tall) = pairs[1], pairs[3]
        pairs = [(0, 0), (wide, 0), (wide, tall), (0, tall)]
    pairs = _scaled(rng, pairs)
    size = max(abs(a - pairs[0][k]) for pair in pairs for k, a in enumerate(pair))
    strands = frozenset(k for k in range(1, len(pairs) + 1) if rng.random() < rng.choice((0, 0.2)))
    inner = [(sum(x for x, _ in pairs) / len(pairs), sum(z for _, z in pairs) / len(pairs))]
    posts = points(*inner) if rng.random() < 0.15 else ()
    outline = polygon(points(*pairs), strands, F(str(round(size * rng.choice((0.01, 0.03)), 8))), posts)
    found = pockets(outline)
    return (outline, found[0], {}) if found else None


def _step(rng):
    rise, run = F(rng.randrange(50, 250)), F(rng.randrange(150, 450))
    nosing, tread = F(rng.choice((0, 10, 25, 60))), F(rng.choice((0, 20, 40)))
    profile = Profile(rise=rise, run=run, nosing=nosing, tread=tread, open_risers=rng.random() < 0.3)
    if rng.random() < 0.4:
        profile = Profile(
            rise=rise,
            run=run,
            nosing=nosing,
            tread=tread,
            open_risers=False,
            risers=5,
            low_face=F(-300),
            high_face=4 * run + 300,
            posts=((2, 3 * run / 2),),
            post_width=F(40),
        )
    member = Member("member", F(0), -F(rng.randrange(0, 60)))
    found = next(cell_pockets(profile, member, rng.choice((0, 1, 1, 2)) if profile.risers else 1), None)
    labels = {0: "run 250 mm + nosing 25 mm", len(found.outline.edges) - 1: "lift 12 mm square"} if found else {}
    return (found.outline, found.pocket, {"labels": labels}) if found else None


def _regular(rng):
    """A polygon that its largest circle touches on every side; the circle is known without being looked for."""
    count = rng.randrange(3, 60)
    turns = [2 * pi * k / count for k in range(count)]
    outline = polygon(points(*((round(80 * cos(t), 9), round(80 * sin(t), 9)) for t in turns)))
    r = 80 * cos(pi / count)
    contacts = tuple((r * cos(t + pi / count), r * sin(t + pi / count)) for t in turns)
    return outline, Pocket(2 * r, (0.0, 0.0), tuple(range(count)), contacts, None), {"others": ()}


def _two(rng):
    opening = between_strands(F(rng.randrange(10, 200)), F(rng.randrange(1, 9)))
    return opening.outline, opening.pockets[0], {"labels": {1: "spacing, square"} if rng.random() < 0.5 else {}}


def _measured(rng):
    """Sides and diagonals off a drawing, rounded: coordinates with roots in them."""
    count = rng.randrange(3, 9)
    pairs = [(r * cos(t), r * sin(t)) for t, r in ((2 * pi * k / count, rng.uniform(80, 120)) for k in range(count))]

    def length(i, j):
        (x0, z0), (x1, z1) = pairs[i % count], pairs[j % count]
        return F(round(((x1 - x0) ** 2 + (z1 - z0) ** 2) ** 0.5))

    diagonals = [Diagonal(0, k, length(0, k)) for k in range(2, count - 1)]
    corners = figure([length(k, k + 1) for k in range(count)], diagonals).points
    outline = polygon(corners)
    labels = {k: f"{length(k, k + 1)} ± 1 mm" for k in range(count)}
    return outline, pockets(outline)[0], {"labels": labels, "marks": "ABCDEFGHI"[:count]}


CLOSED = ("triangle", "four-sided", "convex", "star", "rectangle", "sliver", "comb")
KINDS = (*CLOSED, "regular", "step", "two strands", "measured")


_OTHERWISE = {"regular": _regular, "step": _step, "two strands": _two, "measured": _measured}


def random_sheet(seed):
    """Any opening, drawn, with its kind, outline and pocket; None where the numbers drawn bound none."""
    rng = random.Random(seed)
    kind = KINDS[seed % len(KINDS)]
    try:
        made = _OTHERWISE.get(kind, lambda r: _closed(r, kind))(rng)
    except (OutlineError, StairguardError):
        return None
    if made is None:
        return None
    outline, pocket, said = made
    share = rng.choice((None, 0.01, 0.5, 0.98, 1, 1.02, 1.5, 4, 100))
    said |= {
        "limit": None if share is None else F(str(round(share * pocket.diameter, 6))) or F(1, 10**6),
        "outcome": rng.choice(OUTCOMES),
        "title": rng.choice(TITLES),
        "rule": rng.choice(("", "", "no sphere of that size may pass, clause 1.2.3", LONG)),
        "uncertainty": rng.choice(("", "", "standard uncertainty 0.4 mm", LONG)),
    }
    if rng.random() < 0.1:
        said["labels"] = {k: rng.choice(("", "W" * 60, "12 ± 1", "$x^2$ \u202e")) for k in range(len(outline.edges))}
    unit = rng.choice(("mm", "in"))
    return kind, outline, pocket, said, drawn(outline, pocket, unit=unit, **said)
