"""What a guard line ends on that is not ours to make: a wall, a newel that stands."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, assert_never

from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.drawing.paper.scene import Line, Place, View

_OVER: Final = 5.0
_UNDER: Final = 3.0
"""How far a wall is drawn past the rail's top and under the guard's foot, millimetres on paper."""

_THICK: Final = 3.0
_HATCH: Final = 2.4
_LEAST: Final = 1.6
_MOST: Final = 4.0
"""Width of a newel on paper: the job does not give it, so it is a post and a half, within these."""


def draw_supports(layout: Layout, view: View) -> Iterator[Line]:
    """Draw the wall or newel at either end of the line that is in view, outside the guard's own length."""
    carriers = [layout.rails[s.index] for s in layout.line.surfaces if s.carries]
    ends = (layout.posts[0], carriers[0].start, -1.0), (layout.posts[-1], carriers[-1].end, 1.0)
    for post, rail_end, outward in ends:
        foot = view.to_paper(float(post.station), float(post.base))
        if foot is None:
            continue
        top = foot.y + view.scale * float(rail_end.z - post.base)
        match post.support:
            case "post":
                continue
            case "wall":
                yield from _wall(foot, top, outward, post.label)
            case "newel":
                wide = min(max(1.5 * view.scale * float(layout.job.post.width), _LEAST), _MOST)
                yield _newel(foot, top, outward * wide, post.label)
            case _:
                assert_never(post.support)


def _wall(foot: Place, top: float, outward: float, label: str) -> Iterator[Line]:
    """Its face in the heaviest pen, hatched behind."""
    low, high = foot.y - _UNDER, top + _OVER
    yield Line("cut", (Place(foot.x, low), Place(foot.x, high)), f"wall {label}")
    y = low + _THICK
    while y <= high:
        behind = Place(foot.x + outward * _THICK, y - _THICK if outward < 0 else y)
        face = Place(foot.x, y if outward < 0 else y - _THICK)
        yield Line("hatch", (face, behind), f"wall {label} hatching")
        y += _HATCH


def _newel(foot: Place, top: float, wide: float, label: str) -> Line:
    """Return its outline, dashed as what stands already, a little higher than the rail."""
    far, head = foot.x + wide, top + _OVER / 2
    around = (foot, Place(far, foot.y), Place(far, head), Place(foot.x, head), foot)
    return Line("dashed", around, f"newel {label}")
