import re
from dataclasses import replace
from fractions import Fraction

import pytest

from stairguard.errors import JobError, OutputError
from stairguard.model.job import Flight, Landing, Rail, Strand
from stairguard.rim.jobfile import MOST_RISERS, built_in_job, read_job, starter_text, write_starter
from stairguard.rim.tables import nearest


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
    sizes = (Fraction(29, 4), Fraction(21, 2), Fraction(1), Fraction(5, 4))
    assert job.surfaces[1] == Flight(7, *sizes, open_risers=False, down=False, turn=0)


def test_the_starter_is_the_built_in_job_with_its_comments(write_job):
    job = built_in_job()
    assert replace(read_job(write_job()), title=job.title) == job


def test_the_starter_explains_every_key_it_reads(write_job):
    """A key the reader knows and the starter does not show would be a key nobody can find."""
    path = write_job(("[rail]\n", "[rail]\nzzz = 1\n"), ("[strand]\n", "[strand]\nzzz = 1\n"))
    assert len(faults(path)) == 2
    for key in ("meet", "landing_height", "at_joints", "terminal_take_up", "tensioner_take_up", "tension"):
        assert re.search(rf"^(# )?{key}\b", starter_text(), re.MULTILINE), key
    for key in ("open_risers", "down", "turn", "mark", "title", "setback", "max_gap"):
        assert re.search(rf"^(# )?{key}\b", starter_text(), re.MULTILINE), key


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
    assert job.rail == Rail(Fraction(900), Fraction(900), Fraction(40), Fraction(90), "as-given")
    assert job.strand == Strand(Fraction(4), Fraction(75), "through", Fraction(0), Fraction(0))
    sizes = (Fraction(180), Fraction(260), Fraction(0), Fraction(0))
    assert job.surfaces[1] == Flight(3, *sizes, open_risers=False, down=False, turn=0)


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
    ("height = 35 ", "heigth = 35 ", "rail.height: must be a length", "got nothing"),
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
    ("depth  = 1.5", "depth = true", "rail.depth: must be a length", "got True"),
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
    ("width   = 1.5", "width = 30", "surface[1].length: must be at least three post widths (90)", "got 48"),
    ("max_gap = 48", "max_gap = 0", "post.max_gap: must be a length", "got 0"),
    ("risers = 7", "risers = 0", "surface[2].risers: must be a whole number from 2 to 100,000", "got 0"),
    ("risers = 7", "risers = 1000000", "surface[2].risers: must be a whole number", "got 1000000"),
    ("risers = 7", "risers = 7.5", "surface[2].risers: must be a whole number", "got 7.5"),
    ("risers = 7", 'risers = "seven"', "surface[2].risers: must be a whole number", "got seven"),
    ("rise   = 7.25", "rise = 0", "surface[2].rise: must be a length", "more than zero"),
    ("nosing = 1.0", "nosing = 10.5", "surface[2].nosing: must be less than the run (10.5)", "got 10.5"),
    ("tread  = 1.25", "tread = 8", "surface[2].tread: must be less than the rise (7.25)", "got 8"),
    ("open_risers = false", "open_risers = 1", "surface[2].open_risers: must be true or false", "got 1"),
    ("# turn = 0 ", "turn = 90 ", "surface[2].turn: must be 0 or left out", "one straight flight"),
    ("# turn = 0 ", "turn = nan ", "surface[2].turn: must be an angle", "got NaN"),
    ('kind = "flight"', 'kind = "stair"', "surface[2].kind: must be", "got stair"),
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
        "rail.height",
        "rail.heigth",
        "strand.spacing",
        "post.setback",
        "surface[2].risers",
        "surface[2].thread",
    ]
    assert '(the nearest is "height")' in lines[1]
    assert '(the nearest is "tread")' in lines[5]


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


def test_valid_jobs_beyond_this_version_say_so_in_one_line(write_job):
    cases = {
        "ramp": [(LANDING, RAMP)],
        "landing, landing": [("[[surface]]", f"{LANDING}\n[[surface]]")],
        "flight by measured nosings": [
            ("risers = 7 ", "nosings = [[0, 7], [10, '14 in']] "),
            ("rise   = 7.25", ""),
            ("run    = 10.5", ""),
        ],
    }
    for words, swaps in cases.items():
        line = only_fault(write_job(*swaps))
        assert line.startswith("surface: must be a landing, a flight and a landing: this version lays out")
        assert words in line


def test_nosings_and_risers_contradict(write_job):
    lines = faults(write_job(("risers = 7 ", "nosings = [[0, 7], [10, 14]] ")))
    assert lines[0] == "surface[2].rise: must be left out where nosings are given, got 7.25"
    assert lines[1].startswith("surface[2].run: ")


@pytest.mark.parametrize("nosings", ["[]", "3", "[[0]]", "[[0, 'x']]", "[[0, nan]]", "['00']", "[[0, 1, 2]]"])
def test_nosings_that_are_none(write_job, nosings):
    swaps = [("risers = 7 ", f"nosings = {nosings} "), ("rise   = 7.25", ""), ("run    = 10.5", "")]
    assert any(line.startswith("surface[2].nosings") for line in faults(write_job(*swaps)))


def test_a_level_ramp(write_job):
    assert "surface[1].rise" in faults(write_job((LANDING, RAMP.replace("rise = 4", "rise = 0"))))[0]


def test_absurd_numbers_of_strands_and_posts_are_refused_before_they_are_made(write_job):
    tiny = write_job(("spacing  = 3", "spacing = 0.001"), ('diameter = "1/8 in"', "diameter = 0.0001"))
    assert only_fault(tiny).startswith("strand.spacing: must be so large that")
    many = write_job(("max_gap = 48", "max_gap = 0.001"), ("length = 48 ", "length = 10000000 "))
    assert only_fault(many).startswith("post.max_gap: must be so large that")


def test_the_most_risers_are_read(write_job):
    assert read_job(write_job(("risers = 7", f"risers = {MOST_RISERS}"))).surfaces[1].risers == MOST_RISERS


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
