"""A whole guard's give: the page of the command, and its plain data."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

from stairguard.model.guard.guard_loads import BayGive, EndLoad, FittingLoad, GuardReport, Variant
from stairguard.model.guard.solved_layout import Check, CheckedLayout
from stairguard.model.published.known_figure import force_unit
from stairguard.reports.data.deflection_data import (
    bounds_data,
    holding_data,
    opening_give_data,
    push_data,
    strand_data,
    upkeep_data,
)
from stairguard.reports.drawing.paper.metrics import clean
from stairguard.reports.page.deflection.deflection_head import guard_head
from stairguard.reports.page.deflection.deflection_list import (
    bay_list,
    give_list,
    load_list,
    named_list,
    upkeep_list,
    variant_list,
)
from stairguard.reports.page.page_text import Figures, figure, heading, listed, paragraph, table, underlined
from stairguard.reports.words.deflection_words import NO_TABLE, give_cautions, strand_words
from stairguard.rules.findings.designed import push_fixes
from stairguard.rules.measures.wire_checks import CLAUSE
from stairguard.solve.load.strand_properties import steel

if TYPE_CHECKING:
    from stairguard.model.published.strand_materials import StrandSteel

__all__ = ["guard_data", "guard_text", "tables"]


def guard_text(checked: CheckedLayout, report: GuardReport) -> str:
    """Write a guard's give as one plain page."""
    layout = checked.layout
    figures = Figures(layout.job.unit, layout.job.mark)
    asked = layout.give is not None and layout.give.push.force is not None
    lines = [
        *guard_head(checked, report, tables(checked), push_fixes(checked)),
        *underlined(f"Strand give: {clean(layout.job.title) or 'stair guard'}"),
        *paragraph(_verdict(report, tables(checked))),
        *give_list(layout, figures),
        *(named_list(layout) if asked else []),
        *_tables(checked),
        *bay_list(layout, report, figures),
        *load_list(layout, report),
        *upkeep_list(layout, report),
        *variant_list(report.compared, layout.job.unit),
        *heading("THE STRAND"),
        *strand_words(_steel(layout.job)),
        *heading("CAUTIONS"),
        *listed(clean(caution) for caution in dict.fromkeys((*checked.cautions, *give_cautions(_steel(layout.job))))),
    ]
    return "\n".join(lines) + "\n"


def tables(checked: CheckedLayout) -> tuple[Check, ...]:
    """The checks by a published table of tensions."""
    return tuple(check for check in checked.checks if check.clause == CLAUSE)


def _tables(checked: CheckedLayout) -> Iterator[str]:
    found, force = tables(checked), force_unit(checked.layout.job.unit)
    if not found:
        if checked.layout.job.push.probe == "cone" and checked.layout.job.push.force is not None:
            yield from [*heading("BY A PUBLISHED TABLE"), *paragraph(NO_TABLE)]
        return
    yield from heading("BY A PUBLISHED TABLE")
    yield from paragraph(
        f"{CLAUSE}, calibrated by pulling this cone through; strands on a slope are not in it. Hold to the greater of "
        "what it asks and what the push needs."
    )
    rows = [
        ["passes" if c.passes else "FAILS", figure(c.value, force, c.limit, 5), f"{c.limit:.5g} {force}", c.what]
        for c in found
    ]
    yield from table(["verdict", "tension", "at least", "what"], rows, words=True)


def _steel(job: Any) -> StrandSteel:
    return steel(job.strand, job.strand.diameter, job.unit)


def _verdict(report: GuardReport, tabled: Sequence[Check]) -> str:
    if report.passes is None:
        return (
            "Nothing is judged: that takes a force ([push] force), a tension ([strand] tension), and a rule on "
            "openings or a probe's size ([push] sphere)."
        )
    if report.passes and not all(check.passes for check in tabled):
        return "Verdict under the push: FAILS by a published table; by the model it passes."
    if report.give.passes and not report.passes:
        return "Verdict under the push: FAILS at the lowest tension to come; it passes at the tension as set."
    return f"Verdict under the push: {'PASSES' if report.passes else 'FAILS'}."


def guard_data(checked: CheckedLayout, report: GuardReport) -> dict[str, Any]:
    """Put a guard's give into the plain data of the command's JSON; what every key holds is told in DEVELOPERS.md."""
    layout = checked.layout
    made = _steel(layout.job)
    return {
        "unit": layout.job.unit,
        "force_unit": force_unit(layout.job.unit),
        "title": layout.job.title,
        "rules": layout.rules.name,
        "passes": None if report.passes is None else report.passes and all(c.passes for c in tables(checked)),
        "give": push_data(report.give),
        "openings": [
            {
                "opening": one.opening,
                "where": layout.openings[one.opening].where,
                "surface": layout.openings[one.opening].surface,
                **opening_give_data(one),
            }
            for one in report.give.openings
        ],
        "hung_weight": report.mass,
        "bays": [_bay_data(bay) for bay in report.bays],
        "ends": [_end_data(end) for end in report.ends],
        "fittings": [_fitting_data(one) for one in report.fittings],
        "upkeep": None if report.upkeep is None else upkeep_data(report.upkeep),
        "loads_at_highest": report.loads_at_highest,
        "upkeep_run": None if report.upkeep_run is None else list(report.upkeep_run),
        "compared": [_variant_data(variant) for variant in report.compared],
        "strand": strand_data(made),
        "cautions": list(dict.fromkeys((*checked.cautions, *give_cautions(made)))),
    }


def _bay_data(bay: BayGive) -> dict[str, Any]:
    return {
        "surface": bay.surface,
        "posts": list(bay.posts),
        "strands": list(bay.numbers),
        "length": bay.length,
        "sag": bay.sag,
        "sinks": bounds_data(bay.sinks),
        "verdict": None if bay.holding is None else bay.holding.verdict,
        **holding_data(bay.holding),
        "run_length": bay.run,
    }


def _end_data(end: EndLoad) -> dict[str, Any]:
    return {
        "post": end.post,
        "side": end.side,
        "strands": list(end.numbers),
        "pull": end.pull,
        "level": end.level,
        "plumb": end.plumb,
        "height": end.height,
        "moment": end.moment,
        "rail_compression": end.compression,
    }


def _fitting_data(one: FittingLoad) -> dict[str, Any]:
    return {
        "post": one.post,
        "joint": one.joint,
        "strands": list(one.numbers),
        "bend_deg": one.bend_deg,
        "force": one.force,
        "edge_pressure": one.edge,
        "sleeve_pressure": one.sleeve,
    }


def _variant_data(v: Variant) -> dict[str, Any]:
    return {
        "changed": v.changed,
        "diameter": v.diameter,
        "construction": v.construction,
        "spacing": v.spacing,
        "max_gap": v.max_gap,
        "tension": v.tension,
        "source": v.source,
        "strands": v.strands,
        "largest_sphere": v.worst_sphere,
        "weakest_push": bounds_data(v.weakest),
        "tension_for_force": bounds_data(v.needed),
        "held": v.held,
        "openings": v.openings,
        "end_pull": v.end_pull,
        "weight": v.weight,
        "sag": v.sag,
        "passes": v.passes,
    }
