"""Cuts, stock, straight rails and the two ways at joints as plain data, ready for JSON.

Every key is told by `stairguard.reports.data.layout_data.result`.
"""

from __future__ import annotations

from typing import Any, Final

from stairguard.model.guard.pieces import Comparison, Cuts, EndCut, FittingCount, PostCut, RailCut, StrandCut, WayTotals
from stairguard.model.guard.placed_posts import PlacedPost
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.stock import StockBar, StockPlan
from stairguard.model.guard.straight import StraightBand, StraightRail
from stairguard.reports.data.encode import Encoder, Keys, Topic
from stairguard.reports.data.joint_data import top_bevel
from stairguard.reports.words.joints.joint_words import fitting_words
from stairguard.reports.words.lists.survey_words import why_no_best
from stairguard.reports.words.names import piece_name


def _best(band: StraightBand) -> dict[str, object] | None:
    best = band.rails.best
    if best is None:
        return None
    return {
        "slope": best.line.slope,
        "heights": band.heights,
        "margin": best.margin,
        "at_least": best.at_least,
        "at_most": best.at_most,
    }


def _pieces(bar: StockBar) -> list[dict[str, object]]:
    return [{"label": label, "count": count} for label, count in bar.pieces]


CUTS: Final[Topic] = {
    Cuts: Keys(
        "rails posts strands sleeves fittings totals weights",
        parts={
            "totals": "strand=strand_total rail=rail_total post=post_total sleeve=sleeve_total "
            "terminals tensioners angle_fittings holes",
        },
        left_out="strand_weight rail_weight post_weight",  # told among the weights, with their unit
        given="posts weights",
    ),
    RailCut: Keys("label count length start_cut end_cut underside longest marked surfaces"),
    EndCut: Keys(or_null="side edge"),
    PostCut: Keys(
        "label count length top_bevel_deg posts top_bevels_deg=bevels_deg bevel_break edges long_edge short_edge "
        "marked",
        made={"top_bevel_deg": lambda cut: top_bevel(cut.bevels_deg)},
        given="bevel_break edges",
    ),
    FittingCount: Keys(made={"kind": lambda fitting: fitting_words(fitting.kind)}),
    StrandCut: Keys(
        "label count length marked strands",
        made={"strands": lambda cut: [piece_name(piece) for piece in cut.strands]},
    ),
    Comparison: Keys("through break=ended chosen why"),
    WayTotals: Keys(left_out="at_joints"),
    StraightRail: Keys(left_out="steps"),
    StraightBand: Keys(
        "least=rails.least most=rails.most clauses exists why slopes=rails.slopes first=rails.first "
        "last=rails.last corners=rails.corners best blocking=rails.blocking",
        made={"best": _best, "why": lambda band: why_no_best(band.rails)},
        left_out="heights",  # told of the best rail
    ),
    StockPlan: Keys("bars bought used kerf_loss waste bound gap proven too_long spliced", left_out="longest_run"),
    StockBar: Keys(made={"pieces": _pieces}),
}

_encode: Final = Encoder(CUTS)


def cuts_data(layout: Layout) -> dict[str, Any]:
    """All pieces, counts, totals and weights."""
    cuts, placed = layout.cuts, {post.label: post for post in layout.posts}
    posts = [_post(cut, placed[cut.posts[0]]) for cut in cuts.posts]
    weights = {
        "unit": "lb" if layout.job.unit == "in" else "kg",
        "strand": cuts.strand_weight,
        "rail": cuts.rail_weight,
        "post": cuts.post_weight,
    }
    return _encode.record(cuts, posts=posts, weights=weights)


def _post(cut: PostCut, post: PlacedPost) -> dict[str, Any]:
    return _encode.record(cut, bevel_break=_encode(post.bevel_break), edges=_encode(post.edges))
