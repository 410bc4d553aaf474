"""Every opening of the placed parts, found again on the whole elevation, both ways."""

from __future__ import annotations

from pathlib import Path

import pytest

import stairguard
from tests.rebuild.bodies import rebuild
from tests.rebuild.jobs import EXAMPLES, KINDS, load, ordinary
from tests.rebuild.laid import laid, laid_out
from tests.rebuild.openings import compare


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_openings_of_examples(path):
    job = load(path)
    result = laid_out(job)
    assert result is not None
    assert compare(job, rebuild(job, result), result).wrong == []


@pytest.mark.parametrize("kind", KINDS)
def test_openings_of_ordinary_jobs(kind, request):
    wrong = {}
    for name, job, result in laid(kind, request.config.getoption("--rebuild-jobs")):
        found = compare(job, rebuild(job, result), result).wrong
        if found:
            wrong[name] = found
    assert wrong == {}


ONCE_WRONG = {
    "the riser at the head of a flight was dropped, and a post drawn down to the tread": 3,
    "of a side-mounted post in the plane of the last riser the step triangle was not told": 64,
    "a sphere beside the first post was told that the first tread cuts": 28,
    "a sphere beside the first post was told that the first tread cuts, of two risers": 49,
    "between the posts of a corner a sphere was told larger than the posts leave": 57,
    "between the posts of a corner that touch a sphere was told": 430,
    "an opening alike all along a surface was shown inside a post": 12,
    "the slot between a post and a riser, under a nosing without thickness, was not told": 75,
    "the wedge at a post over a top nosing without thickness was not told": 32,
    "past a thin post's face the neighbour's deep rail left more room under it than was told": 124,
    "under open boards a sphere was told that leads on to their open riser, and a strand pierced it": 216,
}


@pytest.mark.parametrize("seed", ONCE_WRONG.values(), ids=ONCE_WRONG.keys())
def test_what_once_was_wrong(seed):
    _, job = ordinary(seed)
    result = laid_out(job)
    assert result is not None
    assert compare(job, rebuild(job, result), result).wrong == []


def test_round_a_corner_it_is_told_no_less_than_past_the_edges():
    """Outside a turn, two posts off the corner: all other openings are found again too."""
    _, job = ordinary(22)
    job["post"] |= {"mount": "side", "drop": 8, "offset": 1.5, "hand": "left"}
    result = laid_out(job)
    assert result is not None
    round_it = [o for o in result["openings"] if o["where"].startswith("round the corner")]
    assert round_it
    assert compare(job, rebuild(job, result), result).wrong == []
    round_it[0]["sphere"] = min(o["sphere"] for o in result["openings"] if o["where"] == "under the lowest strand") / 2
    assert compare(job, rebuild(job, result), result).wrong != []


PACKS = sorted(path.stem for path in (Path(stairguard.__file__).parent / "rules" / "packs").glob("*.toml"))


@pytest.mark.parametrize("pack", PACKS)
def test_openings_under_every_pack(pack):
    """Strands are placed by the pack's own rules: other openings, the same geometry."""
    checked = 0
    for seed in range(4):
        job = ordinary(seed)[1] | {"rules": pack}
        result = laid_out(job)
        if result is not None:
            checked += 1
            assert compare(job, rebuild(job, result), result).wrong == [], seed
    assert checked >= 3
