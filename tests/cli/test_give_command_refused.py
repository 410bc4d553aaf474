"""What the command ``give`` refuses: a line a fault with option or key, what it must be and what was got; no file."""

import pytest

BAY = {"--diameter": "1/8in", "--spacing": "3", "--bay": "42", "--tension": "200"}
CLIMATE = {"--now": "20C", "--frame": "steel"}
NONE = ("nan", "-1", "", "3 psi")
ZERO = (*NONE, "0")
MORE = ("inf", "x", "1/0", "1e999")

VALUES = {
    "--diameter": (*ZERO, *MORE), "--spacing": ZERO, "--bay": ZERO, "--run-length": ZERO, "--at": ZERO,
    "--sphere": ZERO, "--lead": ZERO, "--post-width": ZERO, "--tension": (*NONE, *MORE), "--force": (*NONE, "5 kg"),
    "--stiffness": ZERO,
    "--breaking-force": ZERO, "--friction": (*NONE, "0.5"), "--weight": (*ZERO, "10001"), "--hang": (*ZERO, "5 lbf"),
    "--post-stiffness": (*ZERO, "500 lbf"), "--anchor-stiffness": (*ZERO, "500 lbf"),
    "--tension-source": ("", "x", "guessed"), "--probe": ("", "x", "Cone"), "--construction": ("", "x", "7x37"),
    "--material": ("", "x", "brass"), "--unit": ("", "x", "cm", "IN"), "--date": ("", "x", "2025-02-30"),
}  # fmt: skip
WEATHER = {
    "--now": ("nan", "", "x", "-300C", "5 K"), "--coldest": ("nan", "", "x", "-300C"), "--warmest": ("nan", "", "x"),
    "--frame": (
        "", " ", "x", "steel, wood", "steel 50 %", "steel 60 %, wood 50 %", "steel 150 %, wood -50 %", "steel 100 %, x",
        "steel nan %", "steel " * 40,
    ),
    "--wood": ("", "x", "balsa"), "--grain": ("", "x"), "--seated": ("", "x"),
    "--settling": ("nan", "", "x", "-1", "2"),
}  # fmt: skip


def line_of(asked, *more):
    return ["give", *(word for option, value in asked.items() if value is not None for word in (option, value)), *more]


@pytest.mark.parametrize("option", VALUES)
def test_values_that_are_none(refuse, option):
    for value in VALUES[option]:
        (line,) = refuse(*line_of(BAY | {option: value}, "--json", "--out", "out"))
        assert line.startswith(f"{option}: must be ")
        assert line.endswith(f"got {value or 'nothing'}")


@pytest.mark.parametrize("option", WEATHER)
def test_weather_that_is_none(refuse, option):
    for value in WEATHER[option]:
        lines = refuse(*line_of(BAY | CLIMATE | {option: value}))
        assert lines[0].startswith(f"{option}: must be ")
        # wood that is no species still lacks its moistures
        assert len(lines) == (3 if option == "--wood" else 1)


TOGETHER = [
    ({"--edge": "3"}, "--spacing", "left out where an edge is given"),
    ({"--spacing": None, "--edge": "2"}, "--edge", "more than half the sphere"),
    ({"--spacing": "1/8"}, "--spacing", "more than the diameter (0.125)"),
    ({"--run-length": "41.99"}, "--run-length", "the bay (42) or more"),
    ({"--at": "42"}, "--at", "half the sphere (2) or more from both posts of the bay (42)"),
    ({"--probe": "cone"}, "--sphere", "the diameter of the cylinder"),
    ({"--probe": " cone "}, "--sphere", "the diameter of the cylinder"),
    ({"--sinks": "1"}, "--sinks", "left out unless a mass is hung"),
    ({"--now": "20C"}, "--frame", "one of steel, stainless, aluminium"),
    ({"--frame": "steel"}, "--now", "a temperature such as"),
    (CLIMATE | {"--coldest": "21C"}, "--now", "from the coldest to the warmest"),
    (CLIMATE | {"--warmest": "66"}, "--now", "from the coldest to the warmest"),
    (CLIMATE | {"--moisture-from": "12"}, "--moisture-from", "left out unless wood names a species"),
    (CLIMATE | {"--wood": "ipe", "--moisture-from": "12", "--moisture-to": "8"}, "--post-width", "the end posts'"),
    ({"--tension": None}, "--tension", "a force such as"),
    ({"--spacing": None}, "--spacing", "a length"),
    ({"--breaking-force": "200"}, "--tension", "less than the strand's breaking force (199.999 at most)"),
    ({"--tension": "1868"}, "--tension", "less than the strand's breaking force"),
    ({"--tension": "1e8"}, "--tension", "less than the strand's breaking force"),
    ({"--tension": "1e50"}, "--tension", "no more than 1,000,000,000 lbf"),
]  # fmt: skip


@pytest.mark.parametrize(("asked", "option", "must"), TOGETHER, ids=lambda part: str(part)[:40])
def test_what_contradicts(refuse, asked, option, must):
    (line,) = refuse(*line_of(BAY | asked, "--out", "out"))
    assert line.startswith(f"{option}: must be ")
    assert must in line


def test_every_fault_at_once(refuse):
    lines = refuse("give", "--out", "out")
    assert [line.split(":")[0] for line in lines] == ["--diameter", "--bay", "--spacing", "--tension"]
    asked = {
        "--diameter": "x", "--bay": "-1", "--tension-source": "set", "--tension": None, "--friction": "2",
        "--hang": "5 m", "--coldest": "1e9C", "--wood": "ipe", "--lead": "0",
    }  # fmt: skip
    lines = refuse(*line_of(BAY | asked, "--compare", "colour=red", "--compare", "bay=0"))
    assert sorted(line.split(":")[0] for line in lines) == sorted([
        "--diameter", "--bay", "--tension-source", "--tension", "--friction", "--hang", "--now", "--coldest", "--frame",
        "--moisture-from", "--moisture-to", "--lead", "--compare", "--bay",
    ])  # fmt: skip
    assert len(set(lines)) == len(lines)


@pytest.mark.parametrize(
    ("text", "near"),
    [("colour=red", "tension_source"), ("edge=3", "sphere"), ("baby=3", "bay"), ("bay", "bay")],
)
def test_comparing_by_what_is_no_key(refuse, text, near):
    (line,) = refuse(*line_of(BAY, "--compare", text))
    assert line.startswith("--compare: must be KEY=VALUE, the key one of diameter, spacing, bay")
    assert f'(the nearest is "{near}")' in line


@pytest.mark.parametrize("text", ["bay=0", "bay=", "spacing=0.1", "run-length=3", "tension=2000", "diameter=4"])
def test_comparing_with_what_cannot_be(refuse, text):
    (line,) = refuse(*line_of(BAY, "--compare", "spacing=2.5", "--compare", text, "--out", "out"))
    assert ": must be " in line


def test_options_that_are_none(refuse):
    (line,) = refuse(*line_of(BAY, "--sphear", "4"))
    assert line == '--sphear: must be a known option (the nearest is "--sphere"), got an unknown one'


def test_folders(refuse, tmp_path):
    (tmp_path / "my_full").mkdir()
    (tmp_path / "my_full/mine").write_text("mine")
    for out, reason in (("my_full", "not empty"), ("no_ne/out", "no folder"), ("", "not empty")):
        (line,) = refuse(*line_of(BAY, "--out", out))
        assert line.startswith(f"{tmp_path / out}: must be a new or empty folder")
        assert reason in line
    assert (tmp_path / "my_full/mine").read_text() == "mine"


# --- with a job file -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("option", "value"),
    [
        ("--edge", "3"), ("--run-length", "300"), ("--at", "3"), ("--hang", "5lb"), ("--sinks", "1"), ("--unit", "in"),
        ("--post-width", "3"),
    ],
)  # fmt: skip
def test_options_that_a_job_file_rules_out(refuse, write_job, option, value):
    (line,) = refuse("give", str(write_job()), option, value)
    assert line == f"{option}: must be left out with a job file, got {value}"


CHANGES = [
    (["--spacing", "0"], "strand.spacing"), (["--bay", "nan"], "post.max_gap"),
    (["--diameter", "4"], "strand.diameter"), (["--force", "-1"], "push.force"),
    (["--friction", "0.5"], "push.friction"),
    (["--probe", "cone"], "push.sphere"),
    (["--tension-source", "set"], "strand.tension_source"), (["--lead", "0"], "strand.lead"),
    (["--tension", "1868"], "strand.tension"), (["--now", "20C"], "climate.frame"),
    (["--frame", "steel"], "climate.now"),
    (["--now", "20C", "--frame", ""], "climate.frame"), (["--weight", "0"], "strand.weight"),
    (["--compare", "run_length=300"], "--compare"), (["--compare", "now=20C"], "--compare"),
    (["--compare", "bay=0"], "post.max_gap"), (["--date", "soon"], "--date"),
]  # fmt: skip


@pytest.mark.parametrize(("more", "where"), CHANGES, ids=lambda part: str(part))
def test_changes_that_a_job_cannot_have(refuse, write_job, more, where):
    (line,) = refuse("give", str(write_job()), *more, "--out", "out")
    assert line.startswith(f"{where}: must be ")


def test_every_fault_of_a_job_at_once(refuse, write_job):
    lines = refuse("give", str(write_job()), "--diameter", "x", "--bay", "y", "--force", "z", "--frame", "q")
    where = [line.split(":")[0] for line in lines]
    assert where == ["strand.diameter", "post.max_gap", "push.force", "climate.now", "climate.frame"]
    lines = refuse("give", str(write_job()), "--at", "1", "--hang", "2", "--bay", "y")
    assert [line.split(":")[0] for line in lines] == ["--at", "--hang"]


KEYS = [
    ('[strand]\n', '[strand]\ntension_source = "set"\n', "strand.tension_source", "left out unless tension is given"),
    ('[strand]\n', '[strand]\ntension = 200\ntension_source = "felt"\n', "strand.tension_source", '"measured" or'),
    ('[strand]\n', '[strand]\nconstruction = "1x7"\n', "strand.construction", '"1x19" or "7x7"'),
    ('[strand]\n', '[strand]\nstiffness = "3 mm"\n', "strand.stiffness", "a force such as"),
    ('[strand]\n', '[strand]\nbreaking_force = 0\n', "strand.breaking_force", "more than zero"),
    ('[strand]\n', '[strand]\ntension = 200\nbreaking_force = 200\n', "strand.tension", "force (199.999 at most)"),
    ('[rail]\n', '[push]\nforce = nan\n[rail]\n', "push.force", "a force such as"),
    ('[rail]\n', '[push]\nfource = 5\n[rail]\n', "push.fource", 'the nearest is "force"'),
    ('[rail]\n', '[push]\nprobe = "cone"\n[rail]\n', "push.sphere", "the cylinder that the cone ends in"),
    ('[rail]\n', '[push]\nfriction = true\n[rail]\n', "push.friction", "a number from 0 to 0.49"),
    ('[rail]\n', '[push]\npost_stiffness = "5 lbf"\n[rail]\n', "push.post_stiffness", "500 lbf/in"),
    ('[rail]\n', '[climate]\nnow = "20 °C"\n[rail]\n', "climate.frame", "one of steel, stainless"),
    ('[rail]\n', '[climate]\nnow = "20 °C"\nframe = ""\n[rail]\n', "climate.frame", "one of steel, stainless"),
    ('[rail]\n', '[climate]\nnow = "20 °C"\nframe = 3\n[rail]\n', "climate.frame", "one of steel, stainless"),
    ('[rail]\n', '[climate]\nframe = "steel"\n[rail]\n', "climate.now", "a temperature such as"),
    ('[rail]\n', '[climate]\nnow = 60\nframe = "wood"\nmoisture_to = 8\n[rail]\n', "climate.moisture_to", "left out"),
    ('[rail]\n', '[climate]\nnow = 60\nframe = "wood"\nwind = 8\n[rail]\n', "climate.wind", "a known key"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "where", "must"), KEYS, ids=lambda text: " ".join(text.split())[:40])
def test_keys_of_a_job_file(refuse, write_job, old, new, where, must):
    (line,) = refuse("layout", str(write_job((old, new))))
    assert line.startswith(f"{where}: must be ")
    assert must in line


def test_files_that_are_none(refuse, tmp_path):
    assert "a job file that can be read" in refuse("give", "none.toml")[0]
    assert "a job file that can be read" in refuse("give", str(tmp_path))[0]
    (tmp_path / "bad.toml").write_text("[rail")
    assert "valid TOML" in refuse("give", "bad.toml", "--json")[0]
