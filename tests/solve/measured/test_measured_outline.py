"""Outlines whose strands differ in diameter: the sphere against distances by GEOS, uncertainty against differences."""

from __future__ import annotations

from fractions import Fraction as F

import pytest
import shapely
from scipy.optimize import minimize

import stairguard
from stairguard.errors import InputError

RING = [(0, 0), (9, 1), (8, 6), (1, 5)]
OWN = {1: F(1, 8), 2: F(3, 2), 4: F(1, 2)}


def widest(ring, own):
    """The largest circle clear of all sides, each as thick as it is, from many starts by a simplex search over GEOS."""
    sides = [shapely.LineString([ring[k], ring[(k + 1) % len(ring)]]) for k in range(len(ring))]

    def narrow(at):
        point = shapely.Point(*at)
        if not shapely.Polygon(ring).contains(point):
            return 1.0
        return -min(shapely.distance(side, point) - float(own.get(k, 0)) / 2 for k, side in enumerate(sides, 1))

    starts = [(x, z) for x in (2.5, 4, 5.5) for z in (2.5, 3.5)]
    best = min((minimize(narrow, at, method="Nelder-Mead", options={"xatol": 1e-10, "fatol": 1e-12}) for at in starts),
               key=lambda found: found.fun)  # fmt: skip
    return -2 * best.fun


def test_edges_of_different_diameters():
    found = stairguard.points_opening(RING, strand_edges=OWN)
    assert found.sphere == pytest.approx(widest(RING, OWN), abs=1e-7)
    told = stairguard.points_opening(RING, strand_edges="1:1/8in,2:1-1/2in,4:0.5in")
    assert told.sphere == found.sphere
    some = stairguard.points_opening(RING, strand_diameter="1/8in", strand_edges=[1, "2:1-1/2", "4:1/2"])
    assert some.sphere == found.sphere
    # all alike is the old form, to the last digit
    old = stairguard.points_opening(RING, strand_diameter="1/8in", strand_edges="1,2")
    assert stairguard.points_opening(RING, strand_edges={1: "1/8in", 2: "1/8in"}).sphere == old.sphere


def test_each_diameter_has_its_own_share():
    """A thicker strand takes of the sphere as a difference says; those not touched take nothing."""
    given = {1: "1/8in +- 1/100in", 2: "1-1/2in +- 1/16in", 4: "1/2in +- 1/50in"}
    found = stairguard.points_opening(RING, strand_edges=given, tape="none")
    shares = {share.measurement.name: share.derivative for share in found.uncertainty.shares}
    for edge in OWN:
        up, down = (stairguard.points_opening(RING, strand_edges=OWN | {edge: OWN[edge] + d}).sphere
                    for d in (F(1, 10**5), -F(1, 10**5)))  # fmt: skip
        assert shares[f"diameter of edge {edge}"] == pytest.approx((up - down) * 1e5 / 2, abs=1e-6)
    assert sum(shares[f"diameter of edge {edge}"] for edge in OWN) < 0


def test_an_edge_moves_with_its_own_thickness():
    asked = {"strand_edges": OWN, "limit": "3in", "move": 1, "inverse": True, "tape": "none"}
    found = stairguard.points_opening(RING, **asked)
    assert found.inverse.greatest < 0
    (x0, z0), (x1, z1) = RING[:2]
    # moved in square to itself, its neighbours keep their lines
    line = shapely.LineString([(x0, z0), (x1, z1)]).offset_curve(-found.inverse.greatest)
    (ax, az), (bx, bz) = line.coords
    on = [crossing((ax, az), (bx, bz), RING[0], RING[3]), crossing((ax, az), (bx, bz), RING[1], RING[2])]
    assert widest([on[0], on[1], *RING[2:]], OWN) == pytest.approx(3, abs=1e-6)


def crossing(a, b, c, d):
    """Where two lines cross, by Cramer's rule."""
    (ax, az), (bx, bz), (cx, cz), (dx, dz) = a, b, c, d
    ux, uz, vx, vz = bx - ax, bz - az, dx - cx, dz - cz
    t = ((cx - ax) * vz - (cz - az) * vx) / (ux * vz - uz * vx)
    return ax + t * ux, az + t * uz


def test_every_fix_keeps_the_diameters():
    found = stairguard.points_opening(RING, strand_edges=OWN, limit="3in", inverse=True, tape="none")
    ((fix,),) = [one.steps for one in found.fixes]
    assert fix.strand
    assert fix.edge in OWN


@pytest.mark.parametrize(
    ("edges", "diameter", "where", "must"),
    [
        ("1:x", None, "strand_edges", "a length"),
        ("1:0in", None, "strand_edges", "more than zero"),
        ("0:1/8in", None, "strand_edges", "an edge's number"),
        ("1:1/8in,1:1/4in", None, "strand_edges", "once"),
        ("1,2:1/8in", None, "strand_diameter", "given where the other"),
        ("2:1/8in", "1/8in", "strand_edges", "given where the other"),
        ({9: "1/8in"}, None, "strand edge", "1 to 4"),
    ],
)
def test_diameters_that_cannot_be_used(edges, diameter, where, must):
    with pytest.raises(InputError) as raised:
        stairguard.points_opening(RING, strand_edges=edges, strand_diameter=diameter)
    assert raised.value.faults[0].where == where
    assert must in raised.value.faults[0].must
