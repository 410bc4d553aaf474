"""Layouts made by hand, so that the checks are tested without the solver that feeds them."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from fractions import Fraction

import pytest

from stairguard.geometry.survey.straightedge import nosing_line
from stairguard.model.guard.guard_openings import Opening
from stairguard.model.guard.pieces import Comparison, Cuts, StrandRun, WayTotals
from stairguard.model.guard.placed_posts import PlacedPost
from stairguard.model.guard.rail_joints import Joint
from stairguard.model.guard.rails_and_strands import Field, RailLine
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface, PlanPoint, Point, SurfaceLine
from stairguard.model.job import Flight, Job, Landing, MeasuredFlight, Post, Rail, Ramp, Strand, Surface, Unit
from stairguard.model.rules import RuleSet

ZERO = Fraction(0)
FLAT = {"heading_deg": 0.0, "plan_start": PlanPoint(0.0, 0.0), "plan_end": PlanPoint(0.0, 0.0)}


@dataclass
class Given:
    """What a hand-made layout is made from; sound under every pack unless a test changes something.

    With ``nosings`` (in the layout's unit, from the end of the first landing) the middle is a measured flight, and
    ``last_rise`` its last, in the same unit, where it goes down.
    """

    rules: RuleSet
    unit: Unit = "in"
    scale: Fraction = Fraction(1)
    middle: str = "flight"
    nosings: tuple[tuple[Fraction, Fraction], ...] = ()
    down: bool = False
    last_rise: Fraction = ZERO
    risers: int = 3
    rise: Fraction = Fraction(7)
    run: Fraction = Fraction(11)
    nosing: Fraction = Fraction(1)
    landing: Fraction = Fraction(48)
    ramp_length: Fraction = Fraction(120)
    ramp_rise: Fraction = Fraction(10)
    height: Fraction = Fraction(36)
    landing_height: Fraction = Fraction(40)
    spacing: Fraction = Fraction(3)
    strand_plumb: Fraction = Fraction(3)
    max_gap: Fraction = Fraction(48)
    posts: tuple[Fraction, ...] = ()
    jog: Fraction = ZERO
    take_up: Fraction = Fraction(1)
    openings: tuple[Opening, ...] = ()
    runs: tuple[StrandRun, ...] = ()
    over: dict[str, Fraction] = field(default_factory=dict)

    def __post_init__(self) -> None:
        if self.unit == "mm":
            self.scale = Fraction(254, 10)

    def size(self, name: str) -> Fraction:
        """A length in the layout's unit: as overridden, or the inch figure converted."""
        return self.over.get(name, getattr(self, name) * self.scale)


def _landing(index: int, landing: Landing, start: Point, end: Point) -> PlacedSurface:
    return PlacedSurface(
        index=index,
        kind="landing",
        given=landing,
        start=start,
        end=end,
        origin=start,
        slope=ZERO,
        pitch_deg=0.0,
        nosings=(),
        **FLAT,
    )


def _surfaces(given: Given) -> tuple[PlacedSurface, ...]:
    landing = Landing(length=given.size("landing"), turn=0.0)
    at = landing.length
    middle: Surface
    nosings: tuple[Point, ...] = ()
    if given.nosings:
        last_rise = given.size("last_rise")
        middle = MeasuredFlight(
            nosings=given.nosings,
            nosing=given.size("nosing"),
            tread=given.scale,
            open_risers=False,
            down=given.down,
            turn=0.0,
            last_rise=last_rise,
        )
        level, up = given.nosings[-1][0], given.nosings[-1][1] - last_rise
        line = nosing_line(given.nosings)
        slope, first = line.slope, line.elevation(ZERO)
        nosings = tuple(Point(at + s, z) for s, z in given.nosings)
    elif given.middle == "flight":
        rise, run = given.size("rise"), given.size("run")
        middle = Flight(
            risers=given.risers,
            rise=rise,
            run=run,
            nosing=given.size("nosing"),
            tread=given.scale,
            open_risers=False,
            down=False,
            turn=0.0,
        )
        level, up = (given.risers - 1) * run, given.risers * rise
        slope, first = rise / run, rise
    else:
        level, up = given.size("ramp_length"), given.size("ramp_rise")
        middle = Ramp(length=level, rise=up, turn=0.0)
        slope, first = up / level, ZERO
    ends = [Point(ZERO, ZERO), Point(at, ZERO), Point(at + level, up), Point(at + level + landing.length, up)]
    pitch = math.degrees(math.atan(slope))
    start = Point(at, first)
    return (
        _landing(0, landing, ends[0], ends[1]),
        PlacedSurface(
            index=1,
            kind=given.middle,  # type: ignore[arg-type]  # chosen by name
            given=middle,
            start=ends[1],
            end=ends[2],
            origin=start,
            slope=slope,
            pitch_deg=pitch,
            nosings=nosings,
            **FLAT,
        ),
        _landing(2, landing, ends[2], ends[3]),
    )


def _post(given: Given, label: str, station: Fraction) -> PlacedPost:
    width = Fraction(3, 2) * given.scale
    return PlacedPost(
        label=label,
        role="line",
        station=station,
        base=ZERO,
        width=width,
        length=given.scale,
        bevels_deg=(0.0, 0.0),
        bevel_break=ZERO,
        edges=(given.scale, given.scale),
        stands_on=0,
        step=None,
        holes=(),
    )


def _joint(given: Given, between: tuple[int, int], post: PlacedPost) -> Joint:
    return Joint(
        between=between,
        boundary=post.station,
        turn_deg=0.0,
        bend_deg=0.0,
        mitre_deg=0.0,
        meets=Point(post.station, ZERO),
        nosing=None,
        post=post.label,
        station=post.station,
        jog=given.size("jog"),
        cut=None,
        unmitred="different heights",
        remedies=(),
        barred=None,
        strands=(),
    )


def _make(given: Given) -> Layout:
    surfaces = _surfaces(given)
    scale = given.scale
    low, high = surfaces[1].start.s, surfaces[1].end.s
    stations = given.posts or (scale, low - scale, high + scale, surfaces[2].end.s - scale)
    posts = tuple(_post(given, f"P{n}", s) for n, s in enumerate(stations, 1))
    joints = (_joint(given, (0, 1), posts[1]), _joint(given, (1, 2), posts[-2]))
    heights = (given.size("landing_height"), given.size("height"), given.size("landing_height"))
    edges = (ZERO, posts[1].station, posts[-2].station, surfaces[2].end.s)
    rails = tuple(
        RailLine(surface=n, height=h, underside=h - scale, start=Point(edges[n], ZERO), end=Point(edges[n + 1], ZERO))
        for n, h in enumerate(heights)
    )
    plumb = given.size("strand_plumb")
    fields = tuple(
        Field(n, (3 * plumb, 2 * plumb, plumb), plumb, float(plumb) / math.hypot(1, s.slope))
        for n, s in enumerate(surfaces)
    )
    take_up = given.size("take_up")
    job = Job(
        title="By hand",
        unit=given.unit,
        mark=scale / 16,
        rules=given.rules.name,
        rail=Rail(height=heights[1], landing_height=heights[0], depth=scale, width=scale, meet="as-given"),
        strand=Strand(
            diameter=scale / 8,
            spacing=given.size("spacing"),
            at_joints="through",
            terminal_take_up=take_up,
            tensioner_take_up=take_up,
        ),
        post=Post(width=posts[0].width, max_gap=given.size("max_gap"), setback=5 * scale),
        surfaces=tuple(s.given for s in surfaces),
    )
    none = Fraction(0)
    cuts = Cuts(
        rails=(), posts=(), strands=(), strand_total=none, rail_total=none, post_total=none, terminals=0, tensioners=0,
        angle_fittings=0, holes=0, fittings=(), sleeves=(), sleeve_total=none, strand_weight=0.0, rail_weight=None,
        post_weight=None,
    )  # fmt: skip
    through = WayTotals(
        at_joints="through",
        strands=0,
        runs=0,
        terminals=0,
        tensioners=0,
        angle_fittings=0,
        holes=0,
        strand_total=Fraction(0),
    )
    return Layout(
        job=job,
        rules=given.rules,
        line=SurfaceLine(surfaces),
        rails=rails,
        fields=fields,
        joints=joints,
        posts=posts,
        openings=given.openings,
        runs=given.runs,
        cuts=cuts,
        comparison=Comparison(through, None, "through", "made by hand"),
        straight=(),
        stock=(),
    )


@pytest.fixture
def make_layout() -> Callable[..., Layout]:
    """Make a layout of two landings and a flight (or a ramp) between; sizes by name, in its own unit."""

    def make(rules: RuleSet, unit: Unit = "in", **changes: object) -> Layout:
        known = {k: v for k, v in changes.items() if not isinstance(v, Fraction)}
        over = {k: v for k, v in changes.items() if isinstance(v, Fraction)}
        return _make(Given(rules, unit, over=over, **known))  # type: ignore[arg-type]  # chosen by name

    return make
