from math import atan2, degrees, hypot

import pytest
import shapely

from stairguard.reports.drawing.elevation.guard_lines import post_outline, rail_outline
from tests.reports import guards


def _rails(checked):
    return [shapely.Polygon(rail_outline(checked.layout, i)) for i in range(len(checked.layout.rails))]


@pytest.mark.parametrize("down", [False, True])
def test_rails_meet_in_a_mitre_and_do_not_overlap(down):
    """A true mitre halves the bend: Euclid, angles at equal widths (shapely for areas)."""
    checked = guards.checked(guards.job(down=down))
    assert not any(j.jog for j in checked.layout.joints)
    rails = _rails(checked)
    for joint in checked.layout.joints:
        one, two = (rails[i] for i in joint.between)
        shared = one.intersection(two)
        assert shared.area == pytest.approx(0, abs=1e-6)
        corners = [
            p for p in one.exterior.coords for q in two.exterior.coords if hypot(p[0] - q[0], p[1] - q[1]) < 1e-6
        ]
        (s0, z0), (s1, z1) = sorted(set(corners), key=lambda p: p[1])
        tilt = abs(90 - degrees(atan2(z1 - z0, s1 - s0)))  # of the cut from plumb; the landing rail is level
        assert tilt == pytest.approx(joint.mitre_deg, abs=1e-6)


def test_posts_reach_the_rails_underside_and_no_further():
    for seed in range(40):
        checked = guards.laid_out(seed)
        if checked is None or any(j.jog for j in checked.layout.joints):
            continue
        rails = shapely.union_all([r.buffer(1e-6) for r in _rails(checked)])
        for post in checked.layout.posts:
            outline = shapely.Polygon(post_outline(post))
            assert outline.intersection(rails).area < 1e-3 * float(post.width), (seed, post.label)
            lifted = shapely.affinity.translate(outline, 0, 0.01 * float(post.width))
            assert lifted.intersection(rails).area > 0, (seed, post.label)
