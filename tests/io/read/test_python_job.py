"""Jobs made in Python: held to what a job file is held to, field by field, whatever the dataclasses hold tomorrow.

What a field may not be is worked out here from its type and two short lists, not from the table of bounds.
"""

import types
from dataclasses import fields, is_dataclass, replace
from decimal import Decimal
from fractions import Fraction as F
from typing import Literal, Union, get_args, get_origin, get_type_hints

import pytest

import stairguard
from stairguard.errors import JobError
from stairguard.io.read.job_file import built_in_job, read_job
from stairguard.io.read.python_job import _part
from stairguard.model import job as model
from stairguard.model.job import Climate, Flight, Handrail, Job, Landing, MeasuredFlight, Ramp
from stairguard.model.site import Site
from stairguard.model.soundness.job_bounds import BOUNDS
from stairguard.model.soundness.job_checks import contradictions

CLASSES = [
    one
    for one in vars(model).values()
    if isinstance(one, type) and is_dataclass(one) and one.__module__.startswith("stairguard.model")
]

MAY_BE_ZERO = {
    ("Strand", key) for key in ("terminal_take_up", "tensioner_take_up", "tensioner_travel", "lower", "tension")
} | {
    ("Post", "setback"), ("Post", "drop"), ("Post", "offset"), ("Post", "corner_offset"), ("Push", "friction"),
    ("Climate", "moisture_from"), ("Climate", "moisture_to"), ("Climate", "settling"), ("Stock", "kerf"),
    ("Flight", "nosing"), ("Flight", "tread"), ("MeasuredFlight", "nosing"), ("MeasuredFlight", "tread"),
    ("Site", "drop"), ("Site", "reach"), ("Strand", "angle_changes"),
}  # fmt: skip
SIGNED = {
    ("Climate", "now"), ("Climate", "coldest"), ("Climate", "warmest"), ("Ramp", "rise"),
    *((kind, key) for kind in ("Landing", "Flight", "MeasuredFlight", "Ramp") for key in ("start_post", "turn")),
}  # fmt: skip
"""What may be negative, and then zero too, but for a ramp's rise."""

CLIMATE = Climate(now=F(15), coldest=F(-20), warmest=F(40), frame=(("steel", F(1)),))
RAMP = Ramp(length=F(120), rise=F(10), turn=0.0)
MEASURED = MeasuredFlight(
    nosings=((F(0), F(7)), (F(10), F(14))), nosing=F(0), tread=F(0), open_risers=False, down=False, turn=0.0
)
HAND = Handrail(height=F(36), landing_height=F(36), diameter=F(3, 2), perimeter=F(5), across=F(2), clearance=F(2))


def sound():
    """A job with one of each dataclass in it, all of them sound."""
    job = built_in_job()
    landing, flight, last = job.surfaces
    return replace(
        job,
        climate=CLIMATE,
        handrail=HAND,
        site=Site(own_handrail=True, top_is_handrail=False),
        surfaces=(
            landing,
            flight,
            last,
            RAMP,
            Landing(length=F(48), turn=0.0),
            MEASURED,
            Landing(length=F(48), turn=0.0),
        ),
    )


def within(kind, key, value):
    """The sound job with one field of its first part of a kind changed, and what a fault about it must name."""
    job = sound()
    named = BOUNDS[kind][key].key or key
    if kind is Job:
        return replace(job, **{key: value}), named
    for number, surface in enumerate(job.surfaces):
        if type(surface) is kind:
            changed = replace(surface, **{key: value})
            surfaces = (*job.surfaces[:number], changed, *job.surfaces[number + 1 :])
            return replace(job, surfaces=surfaces), f"surface[{number + 1}].{named}"
    part = next(f.name for f in fields(Job) if type(getattr(job, f.name)) is kind)
    return replace(job, **{part: replace(getattr(job, part), **{key: value})}), f"{part}.{named}"


def wrong(kind, key):
    """Values that a field must not take, by its type."""
    hint = get_type_hints(kind)[key]
    options = get_args(hint) if get_origin(hint) in (Union, types.UnionType) else (hint,)
    optional = type(None) in options
    of = [option for option in options if option is not type(None)]
    found = [object(), b"x", [1], {}, float("nan"), float("inf"), Decimal("NaN"), ["x"]]
    found += [] if optional else [None]
    if of == [F]:
        found += [1.5, "3", True, 3, Decimal("1.5"), 10**8 * F(10**60) if key not in ("now",) else "x"]
        found += [] if (kind.__name__, key) in SIGNED else [F(-1)]
        zero = (kind.__name__, key) in MAY_BE_ZERO | SIGNED and (kind, key) != (Ramp, "rise")
        found += [] if zero else [F(0)]
    elif of == [float]:
        found += ["3", True, float("-inf"), 181.0, F(1), Decimal(1)]
        found += [] if (kind.__name__, key) in SIGNED else [-1.0, 0.0]
    elif of == [int]:
        found += [1.0, True, "3", -1, 10**9]
        found += [] if (kind.__name__, key) in MAY_BE_ZERO else [0]
    elif of == [bool]:
        found += [1, 0, "yes"]
    elif of == [str]:
        found += [3, "x" * 5000, "\ud800"]
    elif get_origin(of[0]) is Literal:
        found += ["unknown", "", 3, get_args(of[0])[0].upper() + "x"]
    elif get_origin(of[0]) is tuple:
        found += [3, "x", (3.5,), (None,), ("x", "y"), (F(-1),) if key not in ("nosings", "frame") else ((F(1), 1.5),)]
    else:  # a part, or surfaces of several kinds
        found += [3, "x", (), built_in_job()]
    return found


CASES = [(kind, field.name) for kind in CLASSES for field in fields(kind)]


def test_every_dataclass_of_a_job_is_here():
    names = {kind.__name__ for kind in CLASSES}
    assert names == {
        "Rail", "Handrail", "Strand", "Post", "Push", "Climate", "Stock", "Landing", "Flight", "MeasuredFlight", "Ramp",
        "Job", "Site",
    }  # fmt: skip
    assert set(CLASSES) == set(BOUNDS)


@pytest.mark.parametrize("kind", CLASSES, ids=lambda kind: kind.__name__)
def test_every_field_has_a_bound(kind):
    assert set(BOUNDS[kind]) == {field.name for field in fields(kind)}


def test_the_job_they_are_tried_in_is_sound():
    assert stairguard.lay_out(sound()).layout.posts


@pytest.mark.parametrize(("kind", "key"), CASES, ids=lambda part: getattr(part, "__name__", part))
def test_a_field_that_cannot_be_is_refused_by_its_key(kind, key):
    for value in wrong(kind, key):
        job, named = within(kind, key, value)
        with pytest.raises(JobError) as caught:
            stairguard.lay_out(job)
        assert any(fault.where.startswith(named) for fault in caught.value.faults), (value, str(caught.value))


HAIR = F(1, 10**9)


def parts(job):
    return [*(getattr(job, field.name) for field in fields(job)), *job.surfaces]


@pytest.mark.parametrize(
    ("kind", "key", "sound_values", "wrong_values"),
    [
        (model.Push, "post_stiffness", [HAIR, F(10**9)], [F(0), -HAIR, 10**9 + HAIR]),
        (model.Push, "force", [HAIR, F(10**9)], [F(0), 10**9 + HAIR]),
        (model.Strand, "tension", [F(0), F(10**9)], [-HAIR, 10**9 + HAIR]),
        (model.Rail, "weight", [HAIR], [F(0)]),
        (Climate, "now", [F(-27315, 100), F(1000)], [F(-27316, 100), 1000 + HAIR]),  # absolute zero, in Celsius
        (model.Push, "friction", [F(0), F(49, 100)], [-HAIR, F(49, 100) + HAIR]),
        (Climate, "settling", [F(0), F(1, 100)], [-HAIR, F(1, 100) + HAIR]),
        (Flight, "risers", [2, 100_000], [1, 100_001]),
        (Flight, "rise", [HAIR, F(10_000_000)], [F(0), 10_000_000 + HAIR]),
        (Ramp, "rise", [F(-10_000_000), F(10_000_000)], [-10_000_000 - HAIR]),
        (Landing, "length", [F(0)], [-HAIR]),
        (Landing, "turn", [-180.0, 180.0, 0, 45], [180.1, -180.1, True]),
        (model.Strand, "largest_bend", [0.001, 180.0], [0.0, -1.0, 180.1]),
        (Site, "occupancy", ["a", "a" * 100], ["", "a" * 101]),
        (Site, "storeys", [1, 1000], [0, 1001]),
        (Climate, "frame", [(("wood", F(1, 2)), ("steel", F(1, 2))), (("wood", F(1)),)],
         [(("wood", F(0)), ("steel", F(1))), (("wood", 1 + HAIR),), ()]),
        (MeasuredFlight, "nosings", [((F(0), F(7)), (F(10), F(14)))],
         [((F(0), F(7)),), ((F(0), F(7)), (F(0), F(7), F(1)))]),
        (model.Stock, "rail", [(), (F(96),) * 100], [(F(96),) * 101, (F(0),)]),
    ],
    ids=lambda part: getattr(part, "__name__", part if isinstance(part, str) else ""),
)  # fmt: skip
def test_each_bound_lets_its_ends_through_and_no_more(kind, key, sound_values, wrong_values):
    """Of one part alone: what contradicts within a job is another matter."""
    part = next(p for p in parts(sound()) if type(p) is kind)
    for value in sound_values:
        assert list(_part(replace(part, **{key: value}), "", "in")) == [], value
    for value in wrong_values:
        (fault,) = _part(replace(part, **{key: value}), "", "in")
        assert fault.where.partition("[")[0] == key, value


LENGTH = "a Fraction of the job's unit{}and no more than 10,000,000 in"
POSITIVE = LENGTH.format(", more than zero ")
FORCE = "a Fraction{}, more than zero and no more than 1,000,000,000"
FRAMES = "steel, stainless, aluminium, wood, concrete, rigid"


@pytest.mark.parametrize(
    ("kind", "key", "value", "must", "got"),
    [
        (model.Rail, "height", None, POSITIVE, "None"),
        (model.Rail, "height", F(-3), POSITIVE, "-3 (Fraction)"),
        (model.Rail, "height", RAMP, POSITIVE, "a Ramp"),
        (model.Rail, "height", "36", POSITIVE, "36 (str)"),
        (model.Post, "setback", F(-3), LENGTH.format(", not negative "), "-3 (Fraction)"),
        (Ramp, "rise", 3, LENGTH.format(" "), "3 (int)"),
        (Landing, "turn", 200.0, "a float of degrees and no more than 180 either way", "200.0 (float)"),
        (model.Strand, "largest_bend", 0.0, "a float of degrees, more than zero and no more than 180 either way",
         "0.0 (float)"),
        (model.Push, "force", F(0), FORCE.format(" of the job's unit of force"), "0 (Fraction)"),
        (model.Push, "post_stiffness", 5, FORCE.format(", force on a unit of length"), "5 (int)"),
        (model.Push, "friction", F(1), "a Fraction from 0 to 0.49", "1 (Fraction)"),
        (Climate, "now", F(-300), "a Fraction of degrees Celsius from -273.15 to 1,000", "-300 (Fraction)"),
        (Climate, "frame", (("wood", 1),),
         f"one of {FRAMES} with its share, a Fraction of more than 0 and no more than 1", "a tuple"),
        (Climate, "frame", (), "a tuple of from 1 to 60 materials", "one of 0"),
        (Flight, "risers", 1, "a whole number from 2 to 100,000", "1 (int)"),
        (Flight, "open_risers", 1, "True or False", "1 (int)"),
        (model.Post, "mount", "roof", '"surface" or "side"', "roof (str)"),
        (Site, "occupancy", "", "text of 1 to 100 characters", "(str)"),
        (MeasuredFlight, "nosings", ((F(0), F(7)),), "a tuple of from 2 to 10,000 nosings", "one of 1"),
        (MeasuredFlight, "nosings", (F(7), (F(10), F(14))),
         f"a tuple of two, level and plumb, each {LENGTH.format(' ')}", "7 (Fraction)"),
        (model.Stock, "rail", (F(96),) * 1001, "a tuple of from 0 to 100 lengths", "one of 1,001"),
        (model.Stock, "rail", [F(96)], "a tuple of from 0 to 100 lengths", "a list"),
        (Job, "surfaces", (), "a tuple of from 1 to 5,000 surfaces", "one of 0"),
        (Job, "surfaces", (HAND,), "a Landing or a Flight or a MeasuredFlight or a Ramp", "a Handrail"),
        (Job, "rail", None, "a Rail", "None"),
    ],
)  # fmt: skip
def test_what_a_fault_says_that_it_must_be_and_what_it_got(kind, key, value, must, got):
    part = next(p for p in (sound(), *parts(sound())) if type(p) is kind)
    (fault,) = _part(replace(part, **{key: value}), "", "in")
    named = BOUNDS[kind][key].key or key
    assert fault.where in (named, f"{named}[1]")
    assert str(fault) == f"{fault.where}: must be {must}, got {got}"


def test_all_faults_of_a_job_come_at_once():
    job = built_in_job()
    bad = replace(
        job, unit="m", rail=replace(job.rail, depth=1.5), strand=replace(job.strand, diameter=F(0)),
        surfaces=(*job.surfaces, replace(job.surfaces[1], rise=F(-7), tread=F(-1))),
    )  # fmt: skip
    with pytest.raises(JobError) as caught:
        stairguard.lay_out(bad)
    assert [fault.where for fault in caught.value.faults] == [
        "unit", "rail.depth", "strand.diameter", "surface[4].rise", "surface[4].tread",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("changes", "named"),
    [
        ({"post": {"drop": F(8)}}, "post.drop"),
        ({"post": {"mount": "side"}}, "post.drop"),
        ({"post": {"corner_offset": F(4)}}, "post.corner_offset"),
        ({"post": {"sleeve_diameter": F(1, 4)}}, "post.sleeve_diameter"),
        ({"post": {"corner": "two", "corner_offset": F(1, 4)}}, "post.corner_offset"),
        ({"strand": {"spacing": F(1, 8)}}, "strand.diameter"),
        ({"rail": {"depth": F(40)}}, "rail.depth"),
        ({"stock": {"rail": (F(100),), "kerf": F(100)}}, "stock.kerf"),
        ({"push": {"probe": "cone"}}, "push.sphere"),
        ({"handrail": {"height": F(36)}}, "site.own_handrail"),
        ({"handrail": {"landing_height": F(36)}}, "handrail.landing_height"),
    ],
)
def test_what_contradicts_within_a_job_made_by_hand(changes, named):
    job = built_in_job()
    for part, values in changes.items():
        job = replace(job, **{part: replace(getattr(job, part), **values)})
    with pytest.raises(JobError) as caught:
        stairguard.lay_out(job)
    assert named in [fault.where for fault in caught.value.faults]


@pytest.mark.parametrize("bad", [{"mark": F(0)}, {"mark": None}, {"unit": "yd"}])
@pytest.mark.parametrize(
    ("post", "named"),
    [
        ({"setback": F(0)}, "post.setback"),
        ({"corner": "two", "corner_offset": F(1, 100)}, "post.corner_offset"),
        ({"width": F(200), "setback": F(100)}, "surface[2].run"),
    ],
)
def test_what_contradicts_is_told_beside_a_mark_that_is_none(bad, post, named):
    job = built_in_job()
    with pytest.raises(JobError) as caught:
        stairguard.lay_out(replace(job, post=replace(job.post, **post), **bad))
    assert [fault.where for fault in caught.value.faults][:2] == [*bad, named]


@pytest.mark.parametrize(
    ("width", "setback", "named"),
    [
        ("1.5", "0.75", []), ("1.5", "9.75", []), ("1.5", "11/16", ["post.setback"]),
        ("1.5", "9.8125", ["post.setback"]),
        ("10.5", "5.25", []), ("10.5", "5.3125", ["post.setback"]), ("10.5625", "5.28125", ["surface[2].run"]),
    ],
)  # fmt: skip
def test_a_post_may_just_reach_to_both_edges_of_its_tread(width, setback, named):
    """Runs of 10-1/2: a post stands from half its width inside, and as wide as the run in the middle alone."""
    job = built_in_job()
    assert {steps.run for steps in job.surfaces if isinstance(steps, Flight)} == {F(21, 2)}
    post = replace(job.post, width=F(width), setback=F(setback))
    found = contradictions("in", job.mark, job.rail, job.strand, post, job.surfaces, job.start, job.closed)
    assert [fault.where for fault in found] == named


def test_a_contradiction_that_flights_of_one_size_share_is_told_once():
    job = built_in_job()
    steps = next(surface for surface in job.surfaces if isinstance(surface, Flight))
    with pytest.raises(JobError) as caught:
        stairguard.lay_out(replace(job, surfaces=(*job.surfaces, steps), post=replace(job.post, setback=F(0))))
    assert [fault.where for fault in caught.value.faults] == ["post.setback"]


@pytest.mark.parametrize(
    ("climate", "named"),
    [
        ({"now": F(50)}, "climate.now"),
        ({"frame": (("steel", F(1, 2)),)}, "climate.frame"),
        ({"frame": (("brass", F(1)),)}, "climate.frame[1]"),
        ({"moisture_from": F(12)}, "climate.moisture_from"),
        ({"wood": "teak of a kind nobody listed"}, "climate.wood"),
    ],
)
def test_a_climate_that_cannot_be(climate, named):
    with pytest.raises(JobError) as caught:
        stairguard.lay_out(replace(built_in_job(), climate=replace(CLIMATE, **climate)))
    assert [fault.where for fault in caught.value.faults] == [named]


@pytest.mark.parametrize(
    ("surface", "named"),
    [
        (replace(RAMP, rise=F(0)), "rise"),
        (replace(RAMP, posts=(F(50), F(40))), "posts[2]"),
        (replace(RAMP, posts=(F(121),)), "posts[1]"),
        (Landing(length=F(48), turn=0.0, posts=(F(4),), level_piece=False), "posts"),
        (replace(MEASURED, down=True), "down"),
        (replace(MEASURED, last_rise=F(7)), "last_rise"),
        (replace(MEASURED, nosings=((F(0), F(7)), (F(10), F(14)), (F(10), F(15)))), "nosings[3]"),
        (replace(MEASURED, nosings=((F(0), F(7)), (F(10), F(14)), (F(20), F(13)))), "nosings[3]"),
        (replace(MEASURED, nosings=((F(-1), F(7)), (F(10), F(14)))), "nosings[1]"),
        (replace(MEASURED, nosings=((F(0), F(1)), (F(10), F(-14))), down=True), "nosings[1]"),
        (replace(MEASURED, nosings=((F(0), F(0)), (F(10), F(14)))), "nosings[1]"),
        (
            Flight(risers=7, rise=F(7), run=F(10), nosing=F(11), tread=F(0), open_risers=False, down=False, turn=0.0),
            "nosing",
        ),
    ],
)
def test_a_surface_that_cannot_be(surface, named):
    job = built_in_job()
    with pytest.raises(JobError) as caught:
        stairguard.lay_out(replace(job, surfaces=(*job.surfaces, surface, Landing(length=F(48), turn=0.0))))
    assert f"surface[4].{named}" in [fault.where for fault in caught.value.faults]


@pytest.mark.parametrize("job", [None, 3, "job.toml", {}])
def test_what_is_no_job(job):
    with pytest.raises(JobError, match=r"^job: must be a stairguard\.Job, got "):
        stairguard.lay_out(job)


def test_what_a_file_gives_is_held_sound(tmp_path):
    """Every job that the reader lets through passes the check of one made by hand: the two go by the same bounds."""
    path = tmp_path / "job.toml"
    stairguard.write_starter(path)
    assert stairguard.lay_out(read_job(path)).passes


@pytest.mark.parametrize(("name", "near"), [("spacings", "spacing"), ("hight", "weight"), ("rule", "rules")])
def test_a_change_nobody_knows(tmp_path, name, near):
    path = tmp_path / "job.toml"
    stairguard.write_starter(path)
    for read in (lambda changes: stairguard.read_job(path, changes), stairguard.built_in_job):
        with pytest.raises(JobError) as caught:
            read({name: 3, "diameter": "1/8 in"})
        (fault,) = caught.value.faults
        assert fault.where == f"changes, {name}"
        assert f'the nearest is "{near}"' in fault.must


def test_a_post_set_at_a_line_s_start_where_that_is_a_wall_is_refused():
    job = built_in_job()
    first = replace(job.surfaces[0], start_post=F(3))
    with pytest.raises(JobError, match=r"surface\[1\].start_post: must be left out where the line starts at a wall"):
        stairguard.lay_out(replace(job, start="wall", surfaces=(first, *job.surfaces[1:])))
