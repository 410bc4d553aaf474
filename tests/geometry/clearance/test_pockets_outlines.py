"""Outlines against GEOS, pockets against a grid of clearances, and all against Boost's Voronoi diagram.

Ten thousand against GEOS with ``--exhaustive``; every day a quarter of the convex and star-shaped ones, of which
Boost's diagram sees 500 more, and all of the awkward ones.
"""

import numpy as np
import pytest
import pyvoronoi
import shapely
from scipy.optimize import minimize

from stairguard.errors import OutlineError
from stairguard.geometry.clearance.pockets import pockets
from tests.geometry.clearance.rings import KINDS, outline, ring, usable

# GEOS is slow where a ridge has no single highest point, so those kinds are fewer: 10,000 in all, 50 a batch
BATCHES = {"convex": 80, "star": 111, "sliver": 5, "near-parallel": 2, "comb": 2}
DAILY = {"convex": 20, "star": 28}


def batches(counts, daily=None):
    return [
        pytest.param(kind, batch, marks=[pytest.mark.exhaustive] * (batch >= (daily or counts).get(kind, count)))
        for kind, count in counts.items()
        for batch in range(count)
    ]


@pytest.mark.parametrize(("kind", "batch"), batches(BATCHES, DAILY))
def test_largest_sphere_against_geos(kind, batch):
    """shapely.maximum_inscribed_circle stops within its tolerance, 1e-9, of the true radius, or when out of patience.

    Where ours is larger by more, GEOS's own distance from our centre to the boundary must bear it out.
    """
    rng = np.random.default_rng([KINDS.index(kind), batch])
    done = 0
    while done < 50:
        points = ring(kind, rng)
        region = usable(points)
        if region is None:
            continue
        try:
            found = pockets(outline(points))
        except OutlineError:  # simple to GEOS, but with a corner laid on an edge: refused by name
            continue
        done += 1
        theirs = shapely.maximum_inscribed_circle(region, tolerance=1e-9).length
        ours = found[0].diameter / 2
        assert ours >= theirs * (1 - 1e-9)
        if ours > theirs + 1e-9:
            here = shapely.Point(found[0].centre)
            assert region.contains(here)
            assert region.exterior.distance(here) >= ours * (1 - 1e-9)


@pytest.mark.parametrize(
    ("kind", "batch"), batches({"convex": 8, "star": 9, "sliver": 1, "near-parallel": 1, "comb": 1})
)
def test_pockets_against_a_grid(kind, batch):
    """Ten outlines a batch: a search uphill from every local maximum of a clearance grid ends in one of the pockets.

    On the level floor of a passage, as combs and strips have, a search has nowhere to climb: there only the pockets
    themselves are held to GEOS's distances.
    """
    rng = np.random.default_rng([10 + KINDS.index(kind), batch])
    done = 0
    while done < 10:
        points = ring(kind, rng, most=14)
        region = usable(points)
        if region is None:
            continue
        done += 1
        found = pockets(outline(points))
        boundary = region.exterior
        for pocket in found:
            here = shapely.Point(pocket.centre)
            assert region.contains(here)
            assert boundary.distance(here) == pytest.approx(pocket.diameter / 2, rel=1e-9)
            around = [shapely.Point(np.array(pocket.centre) + pocket.diameter * 1e-4 * step) for step in _CIRCLE]
            assert all(boundary.distance(p) <= pocket.diameter / 2 * (1 + 1e-9) for p in around)
        for start in _grid_maxima(region) if kind in ("convex", "star") else ():
            end, clearance = _climbed(region, start)
            assert any(_reaches(pocket, end, clearance) for pocket in found)


_CIRCLE = [np.array([np.cos(a), np.sin(a)]) for a in np.linspace(0, 2 * np.pi, 16, endpoint=False)]


def _grid_maxima(region):
    """Grid points no lower than their eight neighbours, the highest dozen."""
    low_x, low_z, high_x, high_z = region.bounds
    x, z = np.meshgrid(np.linspace(low_x, high_x, 60), np.linspace(low_z, high_z, 60))
    points = shapely.points(x, z)
    clear = np.where(shapely.contains(region, points), shapely.distance(region.exterior, points), 0.0)
    padded = np.pad(clear, 1)
    shifts = [padded[1 + i : 61 + i, 1 + j : 61 + j] for i in (-1, 0, 1) for j in (-1, 0, 1) if i or j]
    peaks = (clear >= np.max(shifts, axis=0)) & (clear > 0)
    order = np.argsort(-clear[peaks])[:12]
    return np.c_[x[peaks], z[peaks]][order]


def _climbed(region, start):
    """Uphill from a start, by a search that needs no slopes; begun again while it gains, as creases stall it."""

    def depth(p):
        here = shapely.Point(p)
        return -region.exterior.distance(here) if region.contains(here) else 0.0

    best, gained = start, 1.0
    while gained > 1e-9 * np.ptp(region.bounds):
        found = minimize(depth, best, method="Nelder-Mead", options={"xatol": 1e-10, "fatol": 1e-13, "maxiter": 4000})
        best, gained = found.x, depth(best) - found.fun
    return best, -depth(best)


def _reaches(pocket, end, clearance):
    """Whether a climb stopped in this pocket; on a nearly level ridge it may stop early, but then as high."""
    close = np.hypot(*(np.array(pocket.centre) - end)) < 1e-3 * pocket.diameter
    return close or clearance == pytest.approx(pocket.diameter / 2, rel=2e-3)


@pytest.mark.parametrize("batch", range(10))
def test_against_boost_voronoi(batch):
    """50 outlines a batch on whole coordinates, exact in Boost.Polygon: its best vertex inside is largest."""
    rng = np.random.default_rng([20, batch])
    done = 0
    while done < 50:
        points = np.rint(ring(("star", "convex")[done % 2], rng, most=24) * 2**20)
        region = usable(points)
        if region is None:
            continue
        try:
            found = pockets(outline(points))
        except OutlineError:
            continue
        done += 1
        diagram = pyvoronoi.Pyvoronoi(1)
        for a, b in zip(points.astype(int).tolist(), np.roll(points, -1, axis=0).astype(int).tolist(), strict=True):
            diagram.AddSegment([a, b])
        diagram.Construct()
        corners = np.array([(v.X, v.Y) for v in diagram.GetVertices()])
        inside = shapely.contains_xy(region, corners[:, 0], corners[:, 1])
        radius = shapely.distance(region.exterior, shapely.points(corners[inside]))
        assert found[0].diameter / 2 == pytest.approx(radius.max(), rel=1e-9)
        for pocket in found:
            nearest = np.hypot(*(corners - np.array(pocket.centre)).T).min()
            assert pocket.ridge or nearest < 1e-6 * 2**20
