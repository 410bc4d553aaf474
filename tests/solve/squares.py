"""A corner's one post in plan, by shapely: how far from its centre what comes to it meets its side."""

from fractions import Fraction as F
from functools import cache
from math import radians

import numpy as np
from shapely.affinity import rotate
from shapely.geometry import LineString, box


@cache
def half_along(width, turn, mark=1 / 16):
    """Half a post's width along what arrives at it: square to the line that halves a turn, square to a square turn."""
    if not turn:
        return float(width) / 2
    half = float(width) / 2
    off = abs(abs(turn) - 90)
    # under a carpenter's square laid across the post
    square = off < 45 and float(width) * np.tan(radians(off)) < float(mark) / 2
    turned = (turn - 90) / 2 if square else turn / 2
    post = rotate(box(-half, -half, half, half), turned, origin=(0, 0))
    return LineString([(0, 0), (-4 * half, 0)]).intersection(post).length


def half_of(layout, post):
    """The same of a post of a layout."""
    joint = None if post.joint is None else layout.joints[post.joint]
    turn = 0.0 if joint is None or joint.second_post else joint.turn_deg
    return F(half_along(float(post.width), turn, float(layout.job.mark))) if turn else post.width / 2
