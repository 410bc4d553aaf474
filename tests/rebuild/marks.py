"""What is marked: each to the nearest mark from one datum, and lists that add up to what they count."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

__all__ = ["lists", "marked_holes"]

CLOSE = 1e-9


def marked_holes(result: dict[str, Any]) -> Iterator[str]:
    """Every hole's mark is the tape's nearest to its height above the post's own base."""
    mark = result["mark"]
    for post in result["posts"]:
        for hole in post["holes"]:
            what = f"{post['label']} strand {hole['strand']}"
            if abs(hole["marked"] / mark - round(hole["marked"] / mark)) > CLOSE:
                yield f"{what}: {hole['marked']} is between two marks"
            if abs(hole["marked"] - hole["height"]) > mark / 2 + CLOSE:
                yield f"{what}: {hole['marked']} is not the mark nearest to {hole['height']}"


def lists(result: dict[str, Any]) -> Iterator[str]:
    """Every post and strand is cut once, as long as it stands; fittings and holes are as many as there are."""
    cuts, totals = result["cuts"], result["cuts"]["totals"]
    own = {p["label"]: p for p in result["posts"] if p["support"] == "post"}
    listed = sorted(label for cut in cuts["posts"] for label in cut["posts"])
    if listed != sorted(own):
        yield f"posts cut: {listed}"
    for cut in cuts["posts"]:
        if cut["count"] != len(cut["posts"]) or any(
            abs(own[p]["length"] - cut["length"]) > CLOSE for p in cut["posts"]
        ):
            yield f"{cut['label']}: {cut['count']} of {cut['length']} for {cut['posts']}"
    strands = sorted(cut["length"] for cut in cuts["strands"] for _ in range(cut["count"]))
    runs = sorted(run["cut_length"] for run in result["runs"])
    if len(strands) != len(runs) or any(abs(a - b) > 1e-6 for a, b in zip(strands, runs, strict=False)):
        yield f"{len(strands)} strands cut, {len(runs)} run"
    for key, count in (
        ("terminals", len(runs)), ("tensioners", len(runs)), ("holes", sum(len(p["holes"]) for p in result["posts"])),
    ):  # fmt: skip
        if totals[key] != count:
            yield f"{key}: {totals[key]} listed, there are {count}"
