import re
from dataclasses import replace
from fractions import Fraction

import pytest

from stairguard.errors import JobError, OutputError
from stairguard.io.read import job_file, survey_file, toml_table
from stairguard.io.read.job_file import built_in_job, read_job, starter_text, write_starter
from stairguard.io.read.survey_file import read_survey
from stairguard.io.read.toml_table import nearest
from stairguard.model.job import (
    Climate,
    Flight,
    Handrail,
    Landing,
    MeasuredFlight,
    Post,
    Push,
    Rail,
    Ramp,
    Stock,
    Strand,
)
from stairguard.model.site import Site
from stairguard.model.soundness.job_bounds import MOST_RISERS


def faults(path):
    with pytest.raises(JobError) as caught:
        read_job(path)
    lines = str(caught.value).split("\n")
    assert len(lines) == len(caught.value.faults)
    return lines


def only_fault(path):
    lines = faults(path)
    assert len(lines) == 1, lines
    return lines[0]


def test_the_built_in_job_is_exact():
    job = built_in_job()
    assert job.unit == "in"
    assert job.strand.diameter == Fraction(1, 8)
    assert [type(surface) for surface in job.surfaces] == [Landing, Flight, Landing]
    assert job.surfaces[1] == Flight(
        risers=7,
        rise=Fraction(29, 4),
        run=Fraction(21, 2),
        nosing=Fraction(1),
        tread=Fraction(5, 4),
        open_risers=False,
        down=False,
        turn=0,
    )


def test_the_starter_is_the_built_in_job_with_its_comments(write_job):
    job = built_in_job()
    assert replace(read_job(write_job()), title=job.title) == job


KEY_LINE = re.compile(r"^# (?=\[|\w+ *= )", re.MULTILINE)


def test_the_starter_explains_every_key_it_reads(tmp_path):
    """A key the reader knows and the starter does not show would be a key nobody can find.

    The tables are stood in for by ones that tell which keys they were asked for.
    """
    shown = set(re.findall(r"^(?:# )?(\w+) *= ", starter_text(), re.MULTILINE))
    shown |= set(re.findall(r"^(?:# )?\[+(\w+)\]", starter_text(), re.MULTILINE))
    asked = set()

    class Recorder(toml_table.Table):
        def close(self):
            asked.update(self._asked)
            super().close()

    path = tmp_path / "all.toml"
    path.write_text(KEY_LINE.sub("", starter_text()), encoding="utf-8")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(toml_table, "Table", Recorder)
        patch.setattr(job_file, "Table", Recorder)
        patch.setattr(survey_file, "Table", Recorder)
        read_job(path)
        read_survey(path)
    assert asked == shown


def test_every_key_the_starter_holds_back_works_once_it_is_put_to_use(tmp_path):
    path = tmp_path / "all.toml"
    path.write_text(KEY_LINE.sub("", starter_text()), encoding="utf-8")
    job = read_job(path)
    assert (job.rail.weight, job.start, job.end) == (Fraction(1, 5), "newel", "wall")
    assert job.stock == Stock((Fraction(144), Fraction(192)), (Fraction(240),), (Fraction(3000),), Fraction(1, 8))
    limits = job.strand.longest_run, job.strand.angle_changes, job.strand.largest_bend, job.strand.tensioner_travel
    assert limits == (720, 2, 45.0, 2)
    assert job.post == Post(
        width=Fraction(3, 2),
        max_gap=Fraction(48),
        setback=Fraction(5),
        mount="side",
        drop=Fraction(8),
        offset=Fraction(2),
        corner="two",
        corner_offset=Fraction(4),
        sleeves=True,
        weight=Fraction(27, 120),
        sleeve_diameter=Fraction(1, 4),
        bearing="inner face",
        corner_square="rails",
        hand="left",
    )
    steel = job.strand.construction, job.strand.material, job.strand.stiffness, job.strand.breaking_force
    assert steel == ("7x7", "304", 170_000, 1900)
    assert (job.strand.tension, job.strand.source, job.strand.lead) == (200, "set", Fraction(1, 8))
    assert job.strand.weight == Fraction(34, 12_000)
    assert job.push == Push(
        force=Fraction(33, 2),
        probe="cone",
        sphere=Fraction(4),
        friction=Fraction(1, 10),
        post_stiffness=Fraction(2000),
        anchor_stiffness=Fraction(1000),
    )
    assert job.handrail == Handrail(
        height=Fraction(36),
        landing_height=Fraction(36),
        diameter=Fraction(3, 2),
        perimeter=Fraction(19, 4),
        across=Fraction(3, 2),
        clearance=Fraction(9, 4),
    )
    survey = read_survey(path)
    assert (survey.plus_minus, survey.ratio, survey.site) == (Fraction(1, 16), 1, job.site)
    assert [row.what for row in survey.taken] == ["handrail extension", "drop", *["opening"] * 6]
    assert [row.opened.form for row in survey.taken if row.opened] == [
        "closed step",
        "edge",
        "points",
        "sides",
        "strands",
    ]
    assert job.site == Site(
        occupancy="R-3", dwelling=True, storeys=2, top_is_handrail=False, drop=Fraction(96), reach=Fraction(24),
        public=False, children=True, exterior=True, accessible=True, temporary=False, installed=2025, egress=True,
        own_handrail=True,
    )  # fmt: skip
    assert job.climate == Climate(
        now=Fraction(140, 9),
        coldest=Fraction(-210, 9),
        warmest=Fraction(340, 9),
        frame=(("steel", Fraction(1)),),
        wood="white oak",
        grain="radial",
        moisture_from=Fraction(16),
        moisture_to=Fraction(9),
        seated="centre",
        settling=Fraction(1, 1000),
    )
    first, flight, _, carried, ramp, surveyed = job.surfaces
    assert first == Landing(length=Fraction(48), turn=0.0, rail_height=Fraction(37), posts=(Fraction(20), Fraction(34)))
    assert (flight.start_post, flight.turn) == (-7, 0)
    assert carried == Landing(length=Fraction(21, 4), turn=0.0, level_piece=False, depth=Fraction(36))
    assert ramp == Ramp(length=Fraction(120), rise=Fraction(10), turn=90.0)
    nosings = ((Fraction(0), Fraction(0)), (Fraction(21, 2), Fraction(-29, 4)), (Fraction(85, 4), Fraction(-57, 4)))
    none = Fraction(0)
    assert surveyed == MeasuredFlight(
        nosings=nosings, nosing=none, tread=none, open_risers=False, down=True, turn=0, last_rise=Fraction(15, 2)
    )


NEEDS = {
    "drop": "mount", "offset": "mount", "hand": "mount", "mount": "drop", "corner_offset": "corner",
    "tension_source": "tension", "sleeve_diameter": "sleeves",
}  # fmt: skip


def test_each_key_the_starter_holds_back_works_on_its_own(tmp_path, write_job):
    """But for those that need another, as their lines say."""
    lines = starter_text().split("\n")
    # what has a table of its own commented out with it comes last, or from [ends] to [climate]
    last = next(i for i, line in enumerate(lines) if line.startswith("# settling "))
    tables_held_back = lines.index("# [ends]"), last
    end = next(i for i, line in enumerate(lines) if line.startswith("# [[surface]]"))
    tried, plain = [], read_job(write_job())
    for number, line in enumerate(lines[:end]):
        key = re.match(r"# (\w+) *= ", line)
        if key is None or tables_held_back[0] <= number <= tables_held_back[1]:
            continue
        wanted = {number}
        if key[1] in NEEDS:
            wanted |= {i for i, other in enumerate(lines) if other.startswith(f"# {NEEDS[key[1]]} ")}
            wanted |= {
                i for i, other in enumerate(lines) if key[1] in ("offset", "hand") and other.startswith("# drop ")
            }
        path = tmp_path / f"{number}.toml"
        text = "\n".join(other[2:] if i in wanted else other for i, other in enumerate(lines))
        path.write_text(text, encoding="utf-8")
        changed = read_job(path) != plain
        assert changed or key[1] == "turn", key[1]
        tried.append(key[1])
    assert len(tried) >= 17


def test_what_may_be_left_out_has_its_documented_default(tmp_path):
    path = tmp_path / "short.toml"
    path.write_text(
        'unit = "mm"\nrules = "none"\n[rail]\nheight = 900\ndepth = 40\nwidth = 90\n'
        "[strand]\ndiameter = 4\nspacing = 75\n[post]\nwidth = 40\nmax_gap = 1200\nsetback = 120\n"
        '[[surface]]\nkind = "landing"\nlength = 1000\n'
        '[[surface]]\nkind = "flight"\nrisers = 3\nrise = 180\nrun = 260\n'
        '[[surface]]\nkind = "landing"\nlength = 1000\n'
    )
    job = read_job(path)
    assert (job.title, job.mark) == ("Stair guard", 1)
    assert job.rail == Rail(
        height=Fraction(900), landing_height=Fraction(900), depth=Fraction(40), width=Fraction(90), meet="as-given"
    )
    # common practice, no source: 75 ft = 22,860 mm between terminals, one change of angle
    none = Fraction(0)
    assert job.strand == Strand(
        diameter=Fraction(4),
        spacing=Fraction(75),
        at_joints="through",
        terminal_take_up=none,
        tensioner_take_up=none,
        longest_run=Fraction(22_860),
        angle_changes=1,
        largest_bend=60.0,
        tensioner_travel=none,
        shortest=Fraction(150),
    )
    assert job.post == Post(width=Fraction(40), max_gap=Fraction(1200), setback=Fraction(120))
    assert (job.start, job.end, job.stock) == ("post", "post", Stock())
    assert job.surfaces[1] == Flight(
        risers=3,
        rise=Fraction(180),
        run=Fraction(260),
        nosing=none,
        tread=none,
        open_risers=False,
        down=False,
        turn=0,
    )


def test_lengths_may_mix_units_and_stay_exact(write_job):
    job = read_job(
        write_job(
            ("rise   = 7.25", 'rise = "184.15 mm"'),
            ("run    = 10.5", 'run = "0.2667 m"'),
            ("max_gap = 48", 'max_gap = "4\'"'),
        )
    )
    flight = job.surfaces[1]
    assert (flight.rise, flight.run, job.post.max_gap) == (Fraction(29, 4), Fraction(21, 2), 48)


def test_decimals_are_never_binary(write_job):
    assert read_job(write_job(("rise   = 7.25", "rise = 7.1"))).surfaces[1].rise == Fraction(71, 10)


def test_a_flight_down_keeps_its_rise_positive(write_job):
    flight = read_job(write_job(("down   = false", "down = true"))).surfaces[1]
    assert (flight.down, flight.rise) == (True, Fraction(29, 4))


@pytest.mark.parametrize("words", ['"as given"', '"as-given"', '"flight height"', '"flight-height"'])
def test_meet_with_blank_or_hyphen(write_job, words):
    meet = read_job(write_job(('meet   = "as given"', f"meet = {words}"))).rail.meet
    assert meet == words.strip('"').replace(" ", "-")


def test_tension_is_read_and_checked(write_job):
    read_job(write_job(('# tension = "200 lbf"', 'tension = "200 lbf"')))
    line = only_fault(write_job(('# tension = "200 lbf"', 'tension = "200 furlongs"')))
    assert line.startswith("strand.tension: must be a force")


SINGLE_FAULTS = [
    # swap, start of the line, words in it
    ("height = 35 ", "heigth = 35 ", "rail.heigth: must be a known key", '"height"'),
    ('unit  = "in"', 'unit = "yd"', 'unit: must be "in" or "mm"', "got yd"),
    ('unit  = "in"', "unit = 3", 'unit: must be "in" or "mm"', "got 3"),
    ('mark  = "1/16 in"', "mark = 0", "mark: must be a length", "more than zero"),
    ('mark  = "1/16 in"', "mark = 2", "mark: must be no more than 1 in", "got 2"),
    ('title = "Stair guard"', "title = 3", "title: must be text", "got 3"),
    ('rules = "irc-2021"', "rules = 3", "rules: must be text", "got 3"),
    ("depth  = 1.5", "depth = -1.5", "rail.depth: must be a length", "more than zero, got -1.5"),
    ("depth  = 1.5", "depth = 0", "rail.depth: must be a length", "got 0"),
    ("depth  = 1.5", "depth = nan", "rail.depth: must be a length", "got NaN"),
    ("depth  = 1.5", "depth = inf", "rail.depth: must be a length", "got Infinity"),
    ("depth  = 1.5", "depth = 1e999", "rail.depth: must be a length", "got 1E+999"),
    ("depth  = 1.5", "depth = true", "rail.depth: must be a length", "got true"),
    ("depth  = 1.5", "depth = [1]", "rail.depth: must be a length", "got [1]"),
    ("depth  = 1.5", 'depth = ""', "rail.depth: must be a length", "got nothing"),
    ("depth  = 1.5", 'depth = "two"', "rail.depth: must be a length", "got two"),
    ("depth  = 1.5", "depth = 1000000000", "rail.depth: must be no more than 10,000,000 in", "got 1000"),
    ("depth  = 1.5", "depth = 0x" + "f" * 9000, "rail.depth: must be a length", "very many digits"),
    ("depth  = 1.5", "depth = 35", "rail.depth: must be less than rail.height (35)", "got 35"),
    ('diameter = "1/8 in"', "diameter = 3", "strand.diameter: must be less than strand.spacing", "got 3"),
    ("spacing  = 3", "spacing = 0.0001", "strand.diameter: must be less than strand.spacing", "got 0.125"),
    ('at_joints = "through"', 'at_joints = "thru"', "strand.at_joints: must be", "got thru"),
    ("terminal_take_up = 0", "terminal_take_up = -1", "strand.terminal_take_up: must be", "not negative"),
    (
        "setback = 5",
        "setback = 0.5",
        "post.setback: must be from 0.75 to 9.75",
        "wholly on its tread, got 0.5",
    ),
    ("setback = 5", "setback = 10", "post.setback: must be from 0.75 to 9.75", "got 10"),
    ("width   = 1.5", "width = 11", "surface[2].run: must be at least post.width (11)", "got 10.5"),
    ("max_gap = 48", "max_gap = 0", "post.max_gap: must be a length", "got 0"),
    ("risers = 7", "risers = 0", "surface[2].risers: must be a whole number from 2 to 100,000", "got 0"),
    ("risers = 7", "risers = 1000000", "surface[2].risers: must be a whole number", "got 1000000"),
    ("risers = 7", "risers = 7.5", "surface[2].risers: must be a whole number", "got 7.5"),
    ("risers = 7", 'risers = "seven"', "surface[2].risers: must be a whole number", "got seven"),
    ("rise   = 7.25", "rise = 0", "surface[2].rise: must be a length", "more than zero"),
    ("nosing = 1.0", "nosing = 10.5", "surface[2].nosing: must be less than the run (10.5)", "got 10.5"),
    ("tread  = 1.25", "tread = 8", "surface[2].tread: must be less than the rise (7.25)", "got 8"),
    ("open_risers = false", "open_risers = 1", "surface[2].open_risers: must be true or false", "got 1"),
    ("# turn = 0 ", "turn = 181 ", "surface[2].turn: must be an angle in degrees, from -180 to 180", "got 181"),
    ("# turn = 0 ", "turn = -180.5 ", "surface[2].turn: must be an angle in degrees, from -180", "got -180.5"),
    ("# turn = 0 ", "turn = 361 ", "surface[2].turn: must be an angle", "got 361"),
    ("# turn = 0 ", "turn = nan ", "surface[2].turn: must be an angle", "got NaN"),
    ('kind = "flight"', 'kind = "stair"', "surface[2].kind: must be", "got stair"),
    ("# weight = 2.4", "weight = 0", "rail.weight: must be a weight such as 3.2 lb/ft", "more than zero"),
    ("# weight = 2.4", "weight = 10001", "rail.weight: must be a weight", "no more than 10,000 lb/ft, got 10001"),
    ("# weight = 2.4", "weight = -1", "rail.weight: must be a weight", "got -1"),
    ("# weight = 2.4", "weight = nan", "rail.weight: must be a weight", "got NaN"),
    ("# weight = 2.4", "weight = true", "rail.weight: must be a weight", "got true"),
    ("# weight = 2.4", 'weight = ""', "rail.weight: must be a weight", "got nothing"),
    ("# weight = 2.7", 'weight = "2 lb"', "post.weight: must be a weight", "got 2 lb"),
    ("# weight = 2.7", 'weight = "heavy"', "post.weight: must be a weight", "got heavy"),
    ('# longest_run = "60 ft"', "longest_run = 0", "strand.longest_run: must be a length", "got 0"),
    ("# angle_changes = 2", "angle_changes = -1", "strand.angle_changes: must be a whole number from 0", "got -1"),
    ("# angle_changes = 2", "angle_changes = 0.5", "strand.angle_changes: must be a whole number from 0", "got 0.5"),
    ("# largest_bend = 45", "largest_bend = 0", "strand.largest_bend: must be an angle", "more than 0 and no more"),
    ("# largest_bend = 45", "largest_bend = 181", "strand.largest_bend: must be an angle", "no more than 180, got 181"),
    ("# largest_bend = 45", "largest_bend = -45", "strand.largest_bend: must be an angle", "got -45"),
    ("# tensioner_travel = 2", "tensioner_travel = -2", "strand.tensioner_travel: must be", "not negative, got -2"),
    ('# mount = "side"', 'mount = "side"', "post.drop: must be a length", "got nothing"),
    ('# mount = "side"', 'mount = "top"', 'post.mount: must be "surface" or "side"', "got top"),
    ("# drop = 8", "drop = 8", 'post.drop: must be left out unless mount is "side"', "got 8"),
    ("# offset = 2", "offset = 2", 'post.offset: must be left out unless mount is "side"', "got 2"),
    ('# hand = "left"', 'hand = "left"', 'post.hand: must be left out unless mount is "side"', "got left"),
    (
        "# corner_offset = 4",
        "corner_offset = 4",
        'post.corner_offset: must be left out unless corner is "two"',
        "got 4",
    ),
    ('# corner = "two"', 'corner = "three"', 'post.corner: must be "one" or "two"', "got three"),
    ('# corner = "two"', 'corner = "two"\ncorner_offset = 0.7', "post.corner_offset: must be at least half", "got 0.7"),
    ("# sleeves = true", 'sleeves = "yes"', "post.sleeves: must be true or false", "got yes"),
    ("# [ends]", '[ends]\nstart = "tree"', 'ends.start: must be "post" or "wall" or "newel"', "got tree"),
    ("# [ends]", "[ends]\nstrat = 1", 'ends.strat: must be a known key (the nearest is "start")', "unknown"),
    ("# [stock]", "[stock]\nrail = 240", "stock.rail: must be a list of at most 100 lengths", "got 240"),
    ("# [stock]", "[stock]\nrail = [240, 0]", "stock.rail[2]: must be a length", "got 0"),
    ("# [stock]", f"[stock]\nrail = {[240] * 101}", "stock.rail: must be a list of at most 100 lengths", "got 101"),
    ("# [stock]", "[stock]\npost = [90]\nkerf = 90", "stock.kerf: must be less than the shortest stock", "got 90"),
    ("# [stock]", "[stock]\nkerf = -1", "stock.kerf: must be", "not negative"),
    ('title = "Stair guard"', "stock = 3", "stock: must be a table [stock]", "got 3"),
    ('title = "Stair guard"', "ends = []", "ends: must be a table [ends]", "got []"),
    ("# rail_height = 37", "rail_height = 0", "surface[1].rail_height: must be a length", "got 0"),
    (
        "# rail_height = 37",
        "rail_height = 1.5",
        "surface[1].rail_height: must be more than rail.depth (1.5)",
        "got 1.5",
    ),
    ("# rail_height = 37", "rail_height = 1.6", "strand.diameter: must be less than the room", "(0.1), got 0.125"),
    ("# posts = [20, 34]", "posts = [20, 20]", "surface[1].posts[2]: must be more than 20", "(48), got 20"),
    ("# posts = [20, 34]", "posts = [20, 49]", "surface[1].posts[2]: must be more than 20", "(48), got 49"),
    ("# posts = [20, 34]", "posts = [0]", "surface[1].posts[1]: must be a length", "more than zero"),
    ("# posts = [20, 34]", "posts = 20", "surface[1].posts: must be a list", "got 20"),
    ("# posts = [20, 34]", "posts = ['x']", "surface[1].posts[1]: must be a length", "got x"),
    ("# start_post = -7 ", "start_post = 'x' ", "surface[2].start_post: must be a length", "got x"),
    ("# posts = [20, 34] ", "turn = 90 ", "surface[1].turn: must be 0 or left out on the first surface", "got 90"),
    ("# posts = [20, 34] ", "level_piece = false ", "surface[1].level_piece: must be true unless", "got false"),
    ("# posts = [20, 34] ", "level_piece = 0 ", "surface[1].level_piece: must be true or false", "got 0"),
    ("down   = false ", "last_rise = 7 ", "surface[2].last_rise: must be left out", "got 7"),
    ("down   = false ", "posts = [63.5] ", "surface[2].posts[1]: must be more than 0", "(63), got 63.5"),
    ("down   = false ", "level_piece = true ", "surface[2].level_piece: must be a known key", "unknown"),
]


@pytest.mark.parametrize(("old", "new", "start", "words"), SINGLE_FAULTS, ids=lambda text: text[:24])
def test_each_mistake_has_its_line(write_job, old, new, start, words):
    lines = faults(write_job((old, new)))
    assert any(line.startswith(start) and words in line for line in lines), lines
    assert all(len(line) < 260 for line in lines)


def test_every_mistake_at_once(write_job):
    lines = faults(
        write_job(
            ("height = 35 ", "heigth = 35 "),
            ("spacing  = 3", "spacing = nan"),
            ("setback = 5", 'setback = "five"'),
            ("risers = 7", "risers = 0"),
            ("tread  = 1.25", "thread = 1.25"),
        )
    )
    assert [line.split(":")[0] for line in lines] == [
        "rail.heigth",
        "strand.spacing",
        "post.setback",
        "surface[2].risers",
        "surface[2].thread",
    ]
    assert '(the nearest is "height")' in lines[0]
    assert '(the nearest is "tread")' in lines[4]


def test_a_file_with_nothing_in_it_is_told_all_that_it_lacks(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text("")
    lines = faults(path)
    assert [line.split(":")[0] for line in lines] == ["unit", "rules", "rail", "strand", "post", "surface"]
    assert "irc-2021" in lines[1]


def test_rules_that_cannot_be_read_are_told_with_the_other_mistakes(write_job):
    mistakes = ('rules = "irc-2021"', 'rules = "irc-1912"'), ("spacing  = 3", "spacing = nan")
    for more in ((), (("height = 35 ", "# height "), ("landing_height = 36", "# landing_height"))):
        assert [line.split(":")[0] for line in faults(write_job(*mistakes, *more))] == ["rules", "strand.spacing"]


@pytest.mark.parametrize("mark", ["0", '"abc"', "2", "nan"])
def test_other_mistakes_are_told_to_a_mark_that_is_one(write_job, mark):
    sound = faults(write_job(("setback = 5", "setback = 0")))
    lines = faults(write_job(('mark  = "1/16 in"', f"mark = {mark}"), ("setback = 5", "setback = 0")))
    assert any("0.75" in line for line in sound)  # half a post, off the tape
    assert [line for line in lines if not line.startswith("mark:")] == sound


def test_missing_and_misspelt_tables_are_one_line_each_not_one_a_key(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text('unit = "in"\nrules = "none"\n[rial]\nheight = 3\n')
    lines = faults(path)
    assert [line.split(":")[0] for line in lines] == ["rail", "strand", "post", "surface", "rial"]
    assert '"rail"' in lines[-1]


@pytest.mark.parametrize("surfaces", ["surface = []", "surface = 3", "surface = [1, 2]", "surface = {}"])
def test_surfaces_that_are_none(tmp_path, surfaces):
    path = tmp_path / "job.toml"
    path.write_text(f'unit = "in"\nrules = "none"\n{surfaces}\n')
    assert any(line.startswith("surface") for line in faults(path))


LANDING = '[[surface]]\nkind = "landing"\nlength = 48 '
RAMP = '[[surface]]\nkind = "ramp"\nlength = 48\nrise = 4 '


@pytest.mark.parametrize("turn", [-180, -90, 22.5, 180])
def test_turns(write_job, turn):
    assert read_job(write_job(("# turn = 0 ", f"turn = {turn} "))).surfaces[1].turn == turn


@pytest.mark.parametrize("sense", ["in", "mm"])
def test_weights_are_kept_by_unit_of_length(write_job, sense):
    # The pound is 0.45359237 kg, the foot 304.8 mm, both by definition.
    texts = {"in": ("2.4", '"2.4 lb/ft"', '"0.2 lb/in"'), "mm": ('"3 kg/m"', "3", "3.0")}[sense]
    swaps = [('unit  = "in"', f'unit = "{sense}"')]
    if sense == "mm":
        swaps += [("height = 35 ", "height = 900 "), ("landing_height = 36 ", "landing_height = 900 "),
                  ("spacing  = 3 ", "spacing = 75 ")]  # fmt: skip
        swaps += [("rise   = 7.25", "rise = 180"), ("run    = 10.5", "run = 270")]
        swaps += [("max_gap = 48", "max_gap = 1200")]
    kept = [read_job(write_job(*swaps, ("# weight = 2.4", f"weight = {text}"))).rail.weight for text in texts]
    assert kept == [{"in": Fraction(1, 5), "mm": Fraction(3, 1000)}[sense]] * 3
    other = {"in": '"1 kg/m"', "mm": '"1 lb/ft"'}[sense]
    crossed = {
        "in": Fraction(254, 10) / (Fraction("0.45359237") * 1000),
        "mm": Fraction("0.45359237") / Fraction("304.8"),
    }
    assert read_job(write_job(*swaps, ("# weight = 2.7", f"weight = {other}"))).post.weight == crossed[sense]


def test_line_posts_may_be_forbidden_and_the_first_post_set(write_job):
    landing = read_job(
        write_job(("# posts = [20, 34]", "posts = []"), ("# rail_height = 37", "start_post = 1"))
    ).surfaces[0]
    assert (landing.posts, landing.start_post) == ((), 1)


def test_a_line_from_a_wall_has_no_post_to_set(write_job):
    wall = ("# [ends]", '[ends]\nstart = "wall"')
    line = only_fault(write_job(wall, ("# rail_height = 37", "start_post = 1")))
    assert line == "surface[1].start_post: must be left out where the line starts at a wall (ends.start), got 1"


def test_two_posts_at_a_corner_stand_their_width_from_it(write_job):
    assert read_job(write_job(('# corner = "two"', 'corner = "two"'))).post.corner_offset == Fraction(3, 2)


def test_a_post_at_the_side_need_not_fit_its_tread(write_job):
    side = ('# mount = "side"', 'mount = "side"'), ("# drop = 8", "drop = 8"), ("setback = 5", "setback = 0")
    assert read_job(write_job(*side)).post.mount == "side"


CARRIED = f"{LANDING}\nlevel_piece = false\n"


def test_a_landing_without_a_level_piece_lies_between_rails(write_job):
    between = write_job(("down   = false ", f"down = false\n{CARRIED}{CARRIED}"))
    assert [s.level_piece for s in read_job(between).surfaces if isinstance(s, Landing)] == [True, False, False, True]
    first = write_job(("[[surface]]", f"{CARRIED}{CARRIED}[[surface]]"))
    assert [line.split(": ")[0] for line in faults(first)] == ["surface[1].level_piece", "surface[2].level_piece"]
    last = write_job(
        ('kind = "landing"\nlength = 48\n\n# A landing', 'kind = "landing"\nlength = 48\nlevel_piece = false\n#')
    )
    assert only_fault(last).startswith("surface[3].level_piece: must be true unless")


@pytest.mark.parametrize("key", ["rail_height = 36", "posts = []", "start_post = 1"])
def test_a_landing_without_a_level_piece_has_nothing_of_its_own(write_job, key):
    line = only_fault(write_job(("down   = false ", f"down = false\n{CARRIED}{key}\n")))
    assert line.startswith(f"surface[3].{key.split()[0]}: must be left out where level_piece is false")


def surveyed(nosings, *more):
    """Swaps that put a surveyed flight in the starter."""
    keys = "\n".join((f"nosings = {nosings}", *more))
    return ("risers = 7 ", keys + " "), ("rise   = 7.25", ""), ("run    = 10.5", ""), ("down   = false", "")


def test_a_surveyed_flight_goes_as_its_points_go(write_job):
    up = read_job(write_job(*surveyed("[[0, 7], [10, '14-1/8 in'], [20.5, 21]]"))).surfaces[1]
    assert up.nosings == ((0, 7), (10, Fraction(113, 8)), (Fraction(41, 2), 21))
    assert (up.down, up.last_rise, up.nosing, up.tread) == (False, None, 1, Fraction(5, 4))
    down = read_job(write_job(*surveyed("[[2, 0], [12, -7]]", "last_rise = 7.5", "down = true"))).surfaces[1]
    assert (down.down, down.last_rise) == (True, Fraction(15, 2))


@pytest.mark.parametrize(
    ("nosings", "more", "start", "words"),
    [
        ("[[0, 7]]", "", "nosings: must be from 2 to 10,000 pairs", "got 1"),
        ("[[0, 7], [0, 14]]", "", "nosings[2]: must be at a station of more than", "0, got 0"),
        ("[[0, 7], [10, 14], [9, 21]]", "", "nosings[3]: must be at a station of more than", "10, got 9"),
        ("[[0, 7], [10, 14], [20, 14]]", "", "nosings[3]: must be above the one before, at 14", "got 14"),
        ("[[0, 0], [10, -7], [20, -6]]", "", "nosings[3]: must be below the one before, at -7", "got -6"),
        ("[[0, 7], [10, 7]]", "", "nosings[2]: must be above the one before", "got 7"),
        ("[[-1, 7], [10, 14]]", "", "nosings[1]: must be at a station of zero or more", "got -1"),
        ("[[0, 0], [10, 7]]", "", "nosings[1]: must be at an elevation of more than zero", "got 0"),
        ("[[0, -7], [10, -14]]", "", "nosings[1]: must be at elevation 0 where the flight goes down", "got -7"),
        ("[[0, 7], [10, 14]]", "down = true", "down: must be false or left out: its nosings go up", "got true"),
        ("[[0, 0], [10, -7]]", "down = false", "down: must be true or left out", "got false"),
        ("[[0, 7], [10, 14]]", "last_rise = 7", "last_rise: must be left out where the flight goes up", "got 7"),
        ("[[0, 0], [10, -7]]", "last_rise = 0", "last_rise: must be a length", "more than zero"),
        ("[[0, 0], [10, -7]]", "last_rise = 1.2", "tread: must be less than the smallest rise (1.2)", "got 1.25"),
        ("[[0, 1.2], [10, 7]]", "", "tread: must be less than the smallest rise (1.2)", "got 1.25"),
        ("[[0, 7], [10, 8.25]]", "", "tread: must be less than the smallest rise (1.25)", "got 1.25"),
        ("[[0, 7], [10, 14], [11.2, 21]]", "", "nosings: must be at least post.width", "smallest run 1.2"),
        ("[[0, 7], [10, 14]]", "turn = 200", "turn: must be an angle in degrees, from -180", "got 200"),
        ("[[0, 7], [10, 14]]", "posts = [5, 11]", "posts[2]: must be more than 5", "(10), got 11"),
    ],
)
def test_surveyed_flights_that_are_none(write_job, nosings, more, start, words):
    line = only_fault(write_job(*surveyed(nosings, more)))
    assert line.startswith(f"surface[2].{start}")
    assert words in line


def test_a_surveyed_nosing_is_shorter_than_every_run(write_job):
    side = ('# mount = "side"', 'mount = "side"'), ("# drop = 8", "drop = 8")
    line = only_fault(write_job(*surveyed("[[0, 7], [9, 14], [10, 21]]"), *side))
    assert line == "surface[2].nosing: must be less than the smallest run (1), got 1"


def test_a_post_clears_the_smallest_tread_of_a_surveyed_flight(write_job):
    line = only_fault(write_job(*surveyed("[[0, 7], [10, 14], [15.5, 21]]")))
    assert line.startswith("post.setback: must be from 0.75 to 4.75")


def test_nosings_and_risers_contradict(write_job):
    lines = faults(write_job(("risers = 7 ", "nosings = [[0, 7], [10, 14]] ")))
    assert lines[0] == "surface[2].rise: must be left out where nosings are given, got 7.25"
    assert lines[1].startswith("surface[2].run: ")


@pytest.mark.parametrize("nosings", ["[]", "3", "[[0]]", "[[0, 'x']]", "[[0, nan]]", "['00']", "[[0, 1, 2]]"])
def test_nosings_that_are_none(write_job, nosings):
    assert any(line.startswith("surface[2].nosings") for line in faults(write_job(*surveyed(nosings))))


def test_one_surface_is_a_job_and_none_is_not(tmp_path):
    path = tmp_path / "job.toml"
    head = (
        'unit = "in"\nrules = "none"\n[rail]\nheight = 36\ndepth = 1\nwidth = 2\n'
        "[strand]\ndiameter = 0.125\nspacing = 3\n[post]\nwidth = 1\nmax_gap = 48\nsetback = 4\n"
    )
    path.write_text(head + RAMP)
    assert [type(surface) for surface in read_job(path).surfaces] == [Ramp]
    path.write_text(head)
    assert only_fault(path) == "surface: must be from 1 to 5,000 tables [[surface]], got nothing"
    path.write_text(head + (RAMP + "\n") * 5000)
    assert len(read_job(path).surfaces) == 5000
    path.write_text(head + (RAMP + "\n") * 5001)
    assert only_fault(path) == "surface: must be from 1 to 5,000 tables [[surface]], got 5001"


def test_a_level_ramp(write_job):
    assert "surface[1].rise" in faults(write_job((LANDING, RAMP.replace("rise = 4", "rise = 0"))))[0]


def test_absurd_numbers_of_strands_and_posts_are_refused_before_they_are_made(write_job):
    tiny = write_job(("spacing  = 3", "spacing = 0.001"), ('diameter = "1/8 in"', "diameter = 0.0001"))
    assert only_fault(tiny).startswith("strand.spacing: must be so large that")
    many = write_job(("max_gap = 48", "max_gap = 0.001"), ("length = 48 ", "length = 10000000 "))
    assert only_fault(many).startswith("post.max_gap: must be so large that")


def test_the_most_risers_are_read(write_job):
    most = ("risers = 7", f"risers = {MOST_RISERS}")
    assert read_job(write_job(most)).surfaces[1].risers == MOST_RISERS
    flight = '[[surface]]\nkind = "flight"\nrisers = 2\nrise = 7\nrun = 11\n'
    assert only_fault(write_job(most, ("[[surface]]", f"{flight}[[surface]]"))).startswith("surface: must be at most")


@pytest.mark.parametrize(
    "content",
    [
        b"a = \n",
        b"a = 1\na = 2\n",
        b"\xff\xfe",
        b"title = 'caf\xe9'",
        b"x = " + b"1" * 5000,
        b"x = " + b"[" * 5000,
        b"x" * 1_000_001,
        b"\0",
        b"[[surface]\n",
    ],
    ids=range(9),
)
def test_what_is_no_toml_is_one_line(tmp_path, content):
    path = tmp_path / "bad.toml"
    path.write_bytes(content)
    line = only_fault(path)
    assert line.startswith(str(path))
    assert "Traceback" not in line


def test_no_file_and_no_plain_file(tmp_path):
    for path in (tmp_path / "none.toml", tmp_path, tmp_path / "no\0name", tmp_path / ("n" * 400)):
        assert "a job file that can be read" in only_fault(path)


def test_a_byte_order_mark_and_carriage_returns_are_no_matter(tmp_path, write_job):
    path = tmp_path / "windows.toml"
    path.write_bytes(b"\xef\xbb\xbf" + starter_text().replace("\n", "\r\n").encode())
    assert read_job(path) == read_job(write_job())


def test_the_starter_never_overwrites(tmp_path):
    path = tmp_path / "mine.toml"
    write_starter(path)
    assert path.read_text(encoding="utf-8") == starter_text()
    path.write_text("mine")
    for taken in (path, tmp_path, tmp_path / "no folder" / "mine.toml", tmp_path / "no\0name"):
        with pytest.raises(OutputError, match="a new file"):
            write_starter(taken)
    assert path.read_text() == "mine"


def test_nearest_of_nothing():
    assert nearest("x", ()) is None
