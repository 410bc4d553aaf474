"""Margins of a pocket's contacts against the definition: slack of the others, weights of those that hold it.

Their partials against central differences of the margins found so, on outlines moved by hand.
"""

from __future__ import annotations

from fractions import Fraction as F

import numpy as np
import pytest

from stairguard.errors import OutlineError
from stairguard.geometry.clearance.pockets import pockets
from stairguard.geometry.clearance.polygon import polygon
from stairguard.geometry.clearance.sensitivity import sensitivity
from tests.geometry.clearance.test_sensitivity import by_points, exact, random_ring


def nearest(outline, site, centre):
    """The point of a site nearest to a centre, the radius before it, and whether it is an edge's own end."""
    few = len(outline.edges)
    if site >= few:
        corner = outline.corners[site - few]
        return np.array(corner.at, dtype=float), float(corner.radius), True
    edge = outline.edges[site]
    a, b = np.array(edge.a, dtype=float), np.array(edge.b, dtype=float)
    t = float((centre - a) @ (b - a) / ((b - a) @ (b - a)))
    return a + np.clip(t, 0, 1) * (b - a), float(edge.radius), not 0 <= t <= 1


def margins(outline, pocket):
    """By site: for each of three contacts its weight, for each other site that may be touched its slack."""
    centre = np.array(pocket.centre)
    ways = []
    for site in pocket.sites:
        point, _, _ = nearest(outline, site, centre)
        away = centre - point
        ways.append(away / np.linalg.norm(away))
    weights = np.linalg.solve(np.r_[np.array(ways).T, [[1, 1, 1]]], [0, 0, 1])
    found = dict(zip(pocket.sites, weights, strict=True))
    for site in range(len(outline.edges) + len(outline.corners)):
        if site in found:
            continue
        point, radius, ended = nearest(outline, site, centre)
        behind = False
        if site < len(outline.edges):
            if ended:
                continue
            edge = outline.edges[site]
            along, away = np.array(edge.b, dtype=float) - np.array(edge.a, dtype=float), centre - point
            behind = along[0] * away[1] - along[1] * away[0] < 0
        if not behind:
            found[site] = (np.linalg.norm(centre - point) - radius - pocket.diameter / 2) / pocket.diameter
    return found


def cases(count):
    """Random rings with a strand, whose largest sphere is held by three contacts well away from a change."""
    rng = np.random.default_rng(72)
    while count:
        ring = random_ring(rng)
        strands = frozenset(int(k) for k in rng.integers(1, len(ring) + 1, 1))
        try:
            outline, motion = by_points(exact(ring), strands, F(1, 16))
        except OutlineError:  # a random ring may cross itself
            continue
        found = pockets(outline)
        if not found or found[0].diameter < 1 or len(found[0].sites) != 3:
            continue
        expected = margins(outline, found[0])
        if min(expected.values()) < 1e-3 or (len(found) > 1 and found[0].diameter - found[1].diameter < 1e-2):
            continue
        count -= 1
        yield ring, strands, outline, found[0], sensitivity(outline, found[0], motion), expected


def test_slack_of_the_others_and_weights_of_the_contacts():
    for _, _, _, pocket, found, expected in cases(40):
        weights = [expected.pop(site) for site in pocket.sites]
        assert found.margins[-3:] == pytest.approx(weights, abs=1e-9)
        assert found.margins[:-3] == pytest.approx(sorted(expected.values()), abs=1e-9)  # the nearest first


def test_partials_against_central_differences():
    step, with_corner = 1e-6, 0
    for ring, strands, outline, pocket, found, expected in cases(12):
        with_corner += max(pocket.sites) >= len(outline.edges)
        others = sorted(expected.keys() - set(pocket.sites), key=expected.__getitem__)
        order = [*others, *pocket.sites]
        for place in range(2 * len(ring) + 1):
            sides = []
            for by in (step, -step):
                moved, thick = ring.copy().ravel(), 1 / 16
                if place < len(moved):
                    moved[place] += by
                else:
                    thick += by
                there = polygon(exact(moved.reshape(-1, 2)), strands, F(thick))
                sides.append(margins(there, pockets(there)[0]))
            # a foot may pass an edge's end on the way
            kept = [k for k, site in enumerate(order) if site in sides[0] and site in sides[1]]
            numeric = [(sides[0][order[k]] - sides[1][order[k]]) / (2 * step) for k in kept]
            scaled = found.margin_partials[kept, place].copy()
            slack = np.array([k < len(others) for k in kept])
            # slack is counted in diameters as they are, so its partials leave out the diameter's own change
            scaled[slack] -= (
                found.margins[[k for k in kept if k < len(others)]] * found.diameter[place] / pocket.diameter
            )
            assert scaled == pytest.approx(numeric, rel=1e-4, abs=1e-5)
    assert with_corner
