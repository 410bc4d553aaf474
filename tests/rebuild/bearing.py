"""Which face of its post the fitting at a strand's end bears on, found again from where the strands are in space.

A fitting on the outer face is led straight on through the post. Two that come to one post from its two sides would then
meet if their middle lines come nearer than a strand and one mark, anywhere in the post.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tests.rebuild.differ import unlike
from tests.rebuild.jobs import length
from tests.rebuild.space import Space

Floats = NDArray[np.float64]


def bears(space: Space, job: dict[str, Any], run: dict[str, Any], what: str) -> Iterator[str]:
    """A run's fittings bear on what the job says: outer faces where the line ends, if it says nothing, else inner ones.

    Two that would meet on their ways through the post keep to the faces they come to.
    """
    near = length(job["strand"]["diameter"], job["unit"]) + space.found["mark"]
    for side, label in enumerate((run["posts"][0], run["posts"][-1])):
        post, hole, others = space.posts[label], _hole(space, run, side), _others(space, run, side)
        asked = job["post"].get("bearing", "outer face" if post["role"] == "end" else "inner face")
        face = post["support"] if post["support"] != "post" else asked
        if face == "outer face" and _nearest(space, run, side, others) < near:
            face = "inner face"
        yield from unlike(f"{what}, bears at {label}", (run["bears"][side], hole["bears"][1 - side]), (face, face))


def _hole(space: Space, run: dict[str, Any], side: int) -> dict[str, Any]:
    """The hole in which a run begins (0) or ends (1)."""
    here = [h for h in space.posts[run["posts"][-side]]["holes"] if h["strand"] == run["strand"]]
    mine = [h for h in here if set(h["surfaces"]) & set(run["surfaces"])] or here
    return mine[0] if len(mine) == 1 else next(h for h in mine if run["surfaces"][-side] in h["surfaces"])


def _others(space: Space, run: dict[str, Any], side: int) -> list[dict[str, Any]]:
    """The runs that end where a run begins, or begin where it ends."""
    return [other for other in space.found["runs"] if other["posts"][side - 1] == run["posts"][-side]]


def _nearest(space: Space, run: dict[str, Any], side: int, others: list[dict[str, Any]]) -> float:
    """From where a run ends, were it led on through its post, to the next that comes there from the other side."""
    mine = _through_post(space, run, side)
    return min((_apart(mine, _through_post(space, other, 1 - side)) for other in others), default=np.inf)


def _through_post(space: Space, run: dict[str, Any], side: int) -> tuple[Floats, Floats]:
    """Where a run's end comes to its post's face, and where it would leave the post straight on."""
    points, ways = space.ways(run)
    at, way = points[-side], ways[-side]
    half = space.exit(run["posts"][-side], way) * way
    return at - half, at + half


def _apart(one: tuple[Floats, Floats], other: tuple[Floats, Floats]) -> float:
    """The least distance of two straight stretches in space: from an end of either to the other, or square to both."""
    found = [_from(end, stretch) for stretch, ends in ((one, other), (other, one)) for end in ends]
    ways, gap = (one[1] - one[0], other[1] - other[0]), other[0] - one[0]
    both = np.cross(*ways)
    if (size := float(both @ both)) > 1e-12:
        places = [float(np.cross(gap, way) @ both) / size for way in reversed(ways)]
        if all(0 <= place <= 1 for place in places):
            found.append(abs(float(gap @ both)) / size**0.5)
    return min(found)


def _from(point: Floats, stretch: tuple[Floats, Floats]) -> float:
    way = stretch[1] - stretch[0]
    place = np.clip((point - stretch[0]) @ way / (way @ way), 0, 1)
    return float(np.linalg.norm(stretch[0] + place * way - point))
