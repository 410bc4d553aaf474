"""Cells of outlines of many sites: no circle that three sites hold is lost, and few trios are left to try.

Circles by trying every trio, each against shapely's distance to the whole outline.
"""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
import shapely

from stairguard.geometry.clearance.cells import cells
from stairguard.geometry.clearance.outline import Vec
from stairguard.geometry.clearance.rigid_parts import rigid, thirds
from stairguard.geometry.clearance.sites import sites
from tests.geometry.clearance.rings import outline, ring, usable


def rings(kind, sizes, count):
    """Simple rings by seed, with so many corners."""
    rng = np.random.default_rng([17, len(kind)])
    while count:
        points = ring(kind, rng, most=sizes[1])
        whole = usable(points)
        if whole is not None and len(points) >= sizes[0]:
            count -= 1
            yield outline(points), whole


def held(drawn, whole):
    """Every circle inside, held by three sites: its centre, radius and the sites."""
    parts = rigid(drawn, (), Vec(0, 0)).parts
    many = len(drawn.edges) + len(drawn.corners)
    shapely.prepare(whole)
    for trio in combinations(range(many), 3):
        for circle in thirds(*(parts[site] for site in trio)):
            if not 0 < circle.r < 2 or any(parts[s].beyond(circle, 1e-9) for s in trio):
                continue
            centre = shapely.Point(circle.x, circle.z)
            if not whole.contains(centre) or whole.exterior.distance(centre) < circle.r - 1e-9:
                continue
            ways = np.array([parts[s].outward(circle) for s in trio])
            matrix = np.r_[ways.T, [[1, 1, 1]]]
            if abs(np.linalg.det(matrix)) > 1e-6 and np.linalg.solve(matrix, [0, 0, 1]).min() > 1e-6:
                yield circle, trio


@pytest.mark.parametrize("kind", ["convex", "star"])
def test_no_held_circle_is_lost(kind):
    met = 0
    for drawn, whole in rings(kind, (13, 20), 8):
        circles = list(held(drawn, whole))
        largest = max(circle.r for circle, _ in circles)
        for only_largest in (False, True):
            found = cells(sites(drawn), only_largest)
            near = found.half * (1 + 1e-9)
            for circle, trio in circles:
                if only_largest and circle.r < largest:
                    continue
                there = (abs(found.x - circle.x) <= near) & (abs(found.z - circle.z) <= near)
                assert any(set(trio) <= set(row) for row in found.sites[there].tolist()), (circle, trio)
                met += 1
    assert met >= 16  # a convex outline has one, met twice


@pytest.mark.parametrize("kind", ["convex", "star", "comb"])
def test_few_trios_are_left(kind):
    for drawn, _ in rings(kind, (30, 40), 6):
        many = len(drawn.edges) + len(drawn.corners)
        for only_largest in (False, True):
            found = (cells(sites(drawn), only_largest).sites >= 0).sum(axis=1)
            trios = int((found * (found - 1) * (found - 2) // 6).sum())
            # as seen, with half as many again to spare: as many to a site whatever the number of sites, not its square
            assert trios < (15 if only_largest else 45) * many
