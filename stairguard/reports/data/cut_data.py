"""Cuts, stock, straight rails and the two ways at joints as plain data, ready for JSON."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from stairguard.geometry.survey.straight_rails import Reach
from stairguard.model.guard.pieces import Choice, Comparison, EndCut, PostCut, RailCut, StrandCut
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.stock import StockPlan
from stairguard.model.guard.straight import StraightBand, StraightRail
from stairguard.reports.data.joint_data import top_bevel

__all__ = ["comparison_data", "cuts_data", "stock_data", "straight_data"]


def cuts_data(layout: Layout) -> dict[str, Any]:
    """All pieces, counts, totals and weights."""
    cuts = layout.cuts
    return {
        "rails": [_rail(rail) for rail in cuts.rails],
        "posts": _posts(layout),
        "strands": [_strand(strand) for strand in cuts.strands],
        "sleeves": [_strand(sleeve) for sleeve in cuts.sleeves],
        "fittings": [{"kind": fitting.kind, "count": fitting.count} for fitting in cuts.fittings],
        "totals": {
            "strand": float(cuts.strand_total),
            "rail": float(cuts.rail_total),
            "post": float(cuts.post_total),
            "sleeve": float(cuts.sleeve_total),
            "terminals": cuts.terminals,
            "tensioners": cuts.tensioners,
            "angle_fittings": cuts.angle_fittings,
            "holes": cuts.holes,
        },
        "weights": {
            "unit": "lb" if layout.job.unit == "in" else "kg",
            "strand": cuts.strand_weight,
            "rail": cuts.rail_weight,
            "post": cuts.post_weight,
        },
    }


def _rail(rail: RailCut) -> dict[str, Any]:
    return {
        "label": rail.label,
        "count": rail.count,
        "length": rail.length,
        "start_cut": _end_cut(rail.start_cut),
        "end_cut": _end_cut(rail.end_cut),
        "underside": rail.underside,
        "longest": rail.longest,
        "marked": float(rail.marked),
        "surfaces": list(rail.surfaces),
    }


def _end_cut(cut: EndCut) -> dict[str, Any]:
    return {
        "kind": cut.kind,
        "angle_deg": cut.angle_deg,
        "long_point": cut.long_point,
        "tilt_deg": cut.tilt_deg,
        "side": cut.side or None,
        "edge": cut.edge or None,
    }


def _posts(layout: Layout) -> list[dict[str, Any]]:
    placed = {post.label: post for post in layout.posts}

    def data(cut: PostCut) -> dict[str, Any]:
        post = placed[cut.posts[0]]
        return {
            "label": cut.label,
            "count": cut.count,
            "length": float(cut.length),
            "top_bevel_deg": top_bevel(cut.bevels_deg),
            "posts": list(cut.posts),
            "top_bevels_deg": list(cut.bevels_deg),
            "bevel_break": float(post.bevel_break),
            "edges": [float(edge) for edge in post.edges],
            "long_edge": float(cut.long_edge),
            "short_edge": float(cut.short_edge),
            "marked": float(cut.marked),
        }

    return [data(cut) for cut in layout.cuts.posts]


def _strand(strand: StrandCut) -> dict[str, Any]:
    return {
        "label": strand.label,
        "count": strand.count,
        "length": strand.length,
        "marked": float(strand.marked),
        "strands": list(strand.strands),
    }


def comparison_data(both: Comparison) -> dict[str, Any]:
    """Strands whole through joints and strands that end there, side by side; null for a way that cannot be."""
    return {
        "through": _choice(both.through),
        "break": _choice(both.ended),
        "chosen": both.chosen,
        "why": both.why,
    }


def _choice(choice: Choice | None) -> dict[str, Any] | None:
    if choice is None:
        return None
    return {
        "strands": choice.strands,
        "runs": choice.runs,
        "terminals": choice.terminals,
        "tensioners": choice.tensioners,
        "angle_fittings": choice.angle_fittings,
        "holes": choice.holes,
        "strand_total": float(choice.strand_total),
    }


def straight_data(straight: StraightRail) -> dict[str, Any]:
    """The straight rails over one measured flight."""
    return {
        "surface": straight.surface,
        "required": _band(straight.required),
        "optional": None if straight.optional is None else _band(straight.optional),
    }


def _band(band: StraightBand) -> dict[str, Any]:
    rails = band.rails
    best, blocking = rails.best, rails.blocking
    return {
        "least": _known(rails.least),
        "most": _known(rails.most),
        "clauses": list(band.clauses),
        "exists": band.exists,
        "why": rails.why,
        "slopes": _reach(rails.slopes),
        "first": _reach(rails.first),
        "last": _reach(rails.last),
        "corners": [[float(first), float(last)] for first, last in rails.corners],
        "best": None
        if best is None
        else {
            "slope": float(best.line.slope),
            "heights": [float(height) for height in band.heights],
            "margin": float(best.margin),
            "at_least": list(best.at_least),
            "at_most": list(best.at_most),
        },
        "blocking": None
        if blocking is None
        else {"too_low": list(blocking.too_low), "too_high": list(blocking.too_high), "by": float(blocking.by)},
    }


def _known(value: Fraction | None) -> float | None:
    return None if value is None else float(value)


def _reach(reach: Reach | None) -> list[float | None] | None:
    return None if reach is None else [_known(value) for value in reach]


def stock_data(layout: Layout) -> dict[str, Any]:
    """The cutting plan of each kind of stock that the job gives lengths for."""
    return {what: _plan(plan) for what, plan in layout.stock}


def _plan(plan: StockPlan) -> dict[str, Any]:
    return {
        "bars": [
            {
                "length": float(bar.length),
                "count": bar.count,
                "pieces": [{"label": label, "count": count} for label, count in bar.pieces],
                "waste": float(bar.waste),
            }
            for bar in plan.bars
        ],
        "bought": float(plan.bought),
        "used": float(plan.used),
        "kerf_loss": float(plan.kerf_loss),
        "waste": float(plan.waste),
        "bound": float(plan.bound),
        "gap": float(plan.gap),
        "proven": plan.proven,
        "too_long": [{"label": p.label, "length": float(p.length), "count": p.count} for p in plan.too_long],
        "spliced": [
            {
                "label": one.label,
                "surface": one.surface,
                "posts": list(one.posts),
                "parts": [float(part) for part in one.parts],
            }
            for one in plan.spliced
        ],
    }
