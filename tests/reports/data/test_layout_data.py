"""The result's keys are the command contract's; figures are compared with the layout they come from."""

import json
import math
from dataclasses import replace
from fractions import Fraction

import pytest

import stairguard
from stairguard.api.layout import result
from stairguard.model.guard.solved_layout import CheckedLayout
from stairguard.reports.data import layout_data
from stairguard.reports.data.joint_data import top_bevel
from tests.reports.lines import checked as whole_line

CONTRACT = {
    "": "unit title rules passes surfaces joints posts openings runs cuts checks cautions",
    "surfaces": "index kind start end pitch_deg rail_height rail_underside strands",
    "joints": "between turn_deg bend_deg mitre_deg meets from_nosing post jog strands",
    "posts": "label station base length top_bevel_deg role holes",
    "openings": "where surface sphere sphere_as_marked limit clause inclusive passes touches centre",
    "runs": "strand posts angle_changes length cut_length",
    "checks": "clause what value limit passes",
}
NESTED = {
    ("surfaces", "strands"): "count plumb_spacing square_spacing heights",
    ("joints", "meets"): "station elevation",
    ("joints", "strands"): "number station elevation bend_deg whole",
    ("posts", "holes"): "strand height marked drill_deg low_face high_face",
}
CUTS = {
    "rails": "label count length start_cut end_cut",
    "posts": "label count length top_bevel_deg",
    "strands": "label count length",
}


LINES = ["quarter-turn", "half-turn", "surveyed", "two posts", "bad survey", "hip", "line 5"]


@pytest.fixture(scope="module", params=["built-in", "down", "break", "none", *LINES])
def checked(request):
    if request.param in LINES:
        return whole_line(request.param)
    job = stairguard.built_in_job()
    low, flight, high = job.surfaces
    if request.param == "down":
        job = replace(job, surfaces=(high, replace(flight, down=True), low))
    if request.param == "break":
        job = replace(job, strand=replace(job.strand, at_joints="break"))
    if request.param == "none":
        job = replace(job, rules="none")
    return stairguard.lay_out(job)


@pytest.fixture(scope="module")
def data(checked):
    return result(checked)


def numbers(value):
    if isinstance(value, dict):
        value = list(value.values())
    if isinstance(value, list):
        for item in value:
            yield from numbers(item)
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield value
    else:
        assert value is None or isinstance(value, str | bool), type(value)


def test_every_key_of_the_contract(data):
    for name, keys in CONTRACT.items():
        for entry in data[name] if name else [data]:
            assert set(keys.split()) <= set(entry), name
    for (outer, inner), keys in NESTED.items():
        for entry in data[outer]:
            if entry[inner] is None:
                assert inner == "meets"  # of rails that run parallel and apart
                continue
            for one in entry[inner] if isinstance(entry[inner], list) else [entry[inner]]:
                assert set(keys.split()) <= set(one), (outer, inner)
    for name, keys in CUTS.items():
        assert data["cuts"][name]
        for entry in data["cuts"][name]:
            assert set(keys.split()) <= set(entry)
    for rail in data["cuts"]["rails"]:
        assert {"kind", "angle_deg"} <= set(rail["start_cut"]) & set(rail["end_cut"])


def test_it_is_plain_finite_json(data):
    assert all(math.isfinite(number) for number in numbers(data))
    assert json.loads(json.dumps(data, allow_nan=False)) == data


def test_figures_are_the_layout_s(checked: CheckedLayout, data):
    layout = checked.layout
    assert data["passes"] is checked.passes
    for post, shown in zip(layout.posts, data["posts"], strict=True):
        assert Fraction(shown["station"]) == pytest.approx(post.station, abs=1e-12)
        assert [hole["strand"] for hole in shown["holes"]] == [hole.strand for hole in post.holes]
    for field in layout.fields:
        strands = data["surfaces"][field.surface]["strands"]
        assert strands["count"] == len(strands["heights"]) == len(field.heights)
        assert strands["heights"] == sorted(strands["heights"], reverse=True)
    counts = sum(post["count"] for post in data["cuts"]["posts"])
    assert counts == sum(post.support == "post" for post in layout.posts)


def test_what_the_contract_leaves_free_is_documented(data):
    words = layout_data.result.__doc__
    extra = {
        key
        for name, keys in CONTRACT.items()
        for key in ((data[name] or [{}])[0] if name else data)
        if key not in keys.split()
    }
    for (outer, inner), keys in NESTED.items():
        first = data[outer][0][inner] if data[outer] else None
        if not first:
            continue
        extra |= set(first[0] if isinstance(first, list) else first) - set(keys.split())
    for name, keys in CUTS.items():
        extra |= set(data["cuts"][name][0]) - set(keys.split())
    assert {"bevel_break", "edges", "top_bevels_deg"} <= extra
    for key in extra:
        assert f"``{key}``" in words, key


def test_without_rules_nothing_is_limited(checked, data):
    if data["rules"] != "none":
        assert all(opening["limit"] is None or opening["clause"] for opening in data["openings"])
        return
    assert data["passes"] is True
    assert all(opening["limit"] is opening["clause"] is opening["inclusive"] is None for opening in data["openings"])


@pytest.mark.parametrize(("bevels", "bevel"), [((0.0, 34.0), 34.0), ((-34.0, 0.0), -34.0), ((30.0, 30.0), 30.0)])
def test_one_bevel_of_two(bevels, bevel):
    assert top_bevel(bevels) == bevel


def test_the_new_keys_hold_the_layout_s_figures(checked: CheckedLayout, data):
    layout = checked.layout
    for surface, shown in zip(layout.line.surfaces, data["surfaces"], strict=True):
        assert shown["carries"] is surface.carries
        assert (shown["strands"]["count"] > 0) is surface.carries
        assert shown["nosings"] == [[float(s), float(z)] for s, z in surface.nosings]
        # in plan a surface is as long as its stations say, along its heading
        run = math.dist(shown["plan_start"], shown["plan_end"])
        assert run == pytest.approx(shown["end"][0] - shown["start"][0], abs=1e-9)
    for joint, shown in zip(layout.joints, data["joints"], strict=True):
        assert shown["mitred"] is joint.mitred
        assert (shown["advice"] == "") is joint.mitred
        assert (shown["meets"] is None) is (joint.meets is None)
        for strand in shown["strands"]:
            assert strand["fitting"]
            assert [slope is None for slope in strand["slopes_deg"]] == [
                i not in strand["surfaces"] for i in joint.between
            ]
    for post, shown in zip(layout.posts, data["posts"], strict=True):
        assert shown["support"] == post.support
        assert shown["joint"] == post.joint
        assert (shown["clear"] is None) is (post.clear is None)
    for run in data["runs"]:
        assert run["tensioner"] in (run["posts"][0], run["posts"][-1])
        assert 0 < run["longest_bay"] <= run["length"]
        assert all(run["ends"])
    kinds = {fitting["kind"]: fitting["count"] for fitting in data["cuts"]["fittings"]}
    assert kinds["terminal"] == kinds["tensioner"] == len(data["runs"])
    assert data["comparison"]["chosen"] == layout.job.strand.at_joints
    assert {straight["surface"] for straight in data["straight"]} == {s.surface for s in layout.straight}
    for straight in data["straight"]:
        band = straight["required"]
        assert band["exists"] is (band["blocking"] is None)
    assert set(data["stock"]) == {what for what, _ in layout.stock}
