"""One opening that is asked about, solved: its sphere, how sure that is, and what limit it could keep.

Nothing of uncertainty is loaded for a plain question.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from math import isclose
from typing import TYPE_CHECKING, Final

from stairguard.model.asked.asked_opening import Inverse, Opened, StepMend, Uncertainty
from stairguard.model.asked.opening_question import (
    EdgeQuestion,
    OpeningQuestion,
    OutlineQuestion,
    StepQuestion,
    StrandsQuestion,
)

if TYPE_CHECKING:  # numpy comes with it
    from stairguard.solve.measured.measured_outline import Measured
    from stairguard.solve.sphere.step_opening import StepOpening

_IN_TRIANGLE: Final = {"tread", "riser", "member"}


def answer_opening(asked: OpeningQuestion) -> Opened:
    """Find the largest sphere through an opening, its uncertainty, and its inverse where that is asked for.

    Raises
    ------
    OutlineError
        Points or lengths bound no region.
    GeometryError
        The member lies too low, or the strands too near each other, to leave an opening.
    """
    if isinstance(asked, StepQuestion):
        return _step(asked)
    if isinstance(asked, EdgeQuestion):
        return _edge(asked)
    return _strands(asked) if isinstance(asked, StrandsQuestion) else _outline(asked)


def _step(asked: StepQuestion) -> Opened:
    from stairguard.solve.sphere.step_opening import step_opening
    from stairguard.solve.sphere.step_outline import step_figure

    terms, sizes = asked.terms, asked.sizes
    answer = step_opening(**sizes, open_riser=asked.open_riser, limit=terms.limit)
    figure = step_figure(sizes, asked.open_riser)
    inverse, mends = _step_inverse(asked, answer)
    return Opened(
        form="open step" if asked.open_riser else "closed step",
        unit=terms.unit,
        sphere=answer.sphere,
        touches=answer.touches,
        contacts=answer.contacts,
        centre=answer.centre,
        limit=answer.limit,
        stops=answer.passes,
        outline=figure.outline,
        pockets=(figure.pocket,),
        measurements=asked.lengths,
        assumed=terms.assumed,
        uncertainty=_step_uncertainty(asked, answer),
        inverse=inverse,
        mends=mends,
        closed_form=answer.beside is None and _closed_form(sizes, answer),
        beside=answer.beside,
    )


def _closed_form(sizes: Mapping[str, Fraction], answer: StepOpening) -> bool:
    """Whether the formula for a sphere that touches tread, riser and member gives this one."""
    if set(answer.touches) != _IN_TRIANGLE:
        return False
    from stairguard.relations.printed.scalars import step_sphere

    closed = step_sphere(*(float(sizes[name]) for name in ("rise", "run", "nosing", "lift")))
    return isclose(closed, answer.sphere, rel_tol=1e-9)


def _step_uncertainty(asked: StepQuestion, answer: StepOpening) -> Uncertainty | None:
    if not asked.terms.uncertain:
        return None
    from stairguard.solve.measured.uncertainty import FINEST_READING

    if answer.beside is not None:
        from stairguard.solve.measured.measured_way import way_uncertainty

        finest = FINEST_READING[asked.terms.unit]
        return way_uncertainty(answer, asked.lengths, asked.open_riser, asked.terms.ratio, finest)
    from stairguard.solve.measured.measured_step import step_uncertainty

    measured = {length.name: length for length in asked.lengths}
    return step_uncertainty(answer, measured, asked.open_riser, asked.terms.ratio, FINEST_READING[asked.terms.unit])


def _step_inverse(asked: StepQuestion, answer: StepOpening) -> tuple[Inverse | None, tuple[StepMend, ...]]:
    """The greatest lift for the limit; where the treads leave none, other lengths of the step that do."""
    limit = asked.terms.limit
    if limit is None or not asked.terms.inverse:
        return None, ()
    if answer.beside is not None:
        from stairguard.solve.sphere.beside_limits import beside_mends, greatest_lift_beside

        inverse = greatest_lift_beside(asked.sizes, asked.open_riser, limit)
        return inverse, () if answer.passes else beside_mends(asked.sizes, asked.open_riser, limit)
    from stairguard.solve.sphere.inverse_opening import greatest_lift

    sizes = (asked.rise.value, asked.run.value, asked.nosing.value, asked.tread.value)
    inverse = greatest_lift(*sizes, asked.open_riser, limit)
    if answer.passes is not False or (inverse.greatest or 0) > 0:
        return inverse, ()
    from stairguard.solve.sphere.step_ways import step_mends

    return inverse, step_mends(*sizes, asked.open_riser, asked.lift.value, Fraction(0), limit)


def _edge(asked: EdgeQuestion) -> Opened:
    from stairguard.solve.sphere.edge_opening import edge_opening, greatest_height, offset_mend

    terms, height, offset, diameter = asked.terms, asked.height.value, asked.offset.value, asked.diameter.value
    answer = edge_opening(height, offset, diameter, terms.limit)
    inverse = uncertainty = None
    mends: tuple[StepMend, ...] = ()
    if terms.inverse and terms.limit is not None:
        inverse = greatest_height(offset, diameter, terms.limit)
        mends = offset_mend(height, offset, diameter, terms.limit)
    if terms.uncertain:
        from stairguard.solve.measured.measured_way import edge_uncertainty
        from stairguard.solve.measured.uncertainty import FINEST_READING

        uncertainty = edge_uncertainty(answer, asked.lengths, terms.ratio, FINEST_READING[terms.unit])
    return Opened(
        form="edge",
        unit=terms.unit,
        sphere=answer.sphere,
        touches=answer.touches,
        contacts=answer.contacts,
        centre=answer.centre,
        limit=answer.limit,
        stops=answer.passes,
        outline=answer.outline,
        pockets=(answer.pocket,),
        measurements=asked.lengths,
        assumed=terms.assumed,
        uncertainty=uncertainty,
        inverse=inverse,
        binding=terms.binding,
        mends=mends,
        beside=answer.beside,
    )


def _strands(asked: StrandsQuestion) -> Opened:
    from stairguard.solve.sphere.outlined import between_strands

    terms = asked.terms
    opening = between_strands(asked.spacing.value, asked.diameter.value, terms.limit)
    inverse = uncertainty = None
    if terms.inverse and terms.limit is not None:
        from stairguard.solve.sphere.inverse_opening import greatest_spacing

        inverse = greatest_spacing(asked.diameter.value, terms.limit)
    if terms.uncertain:
        from stairguard.solve.measured.measured_outline import by_strands, outline_uncertainty
        from stairguard.solve.measured.uncertainty import FINEST_READING

        drawn = by_strands(opening, asked.spacing, asked.diameter)
        uncertainty = outline_uncertainty(opening, drawn, terms.ratio, FINEST_READING[terms.unit])
    pocket = opening.pockets[0]
    return Opened(
        form="strands",
        unit=terms.unit,
        sphere=opening.sphere,
        touches=opening.outline.names(pocket.sites),
        contacts=pocket.contacts,
        centre=pocket.centre,
        limit=opening.limit,
        stops=opening.passes,
        outline=opening.outline,
        pockets=opening.pockets,
        measurements=(asked.spacing, asked.diameter),
        assumed=terms.assumed,
        uncertainty=uncertainty,
        inverse=inverse,
        binding=terms.binding,
    )


def _drawn(asked: OutlineQuestion) -> Measured:
    from stairguard.solve.measured import measured_outline

    if asked.form == "points":
        return measured_outline.by_points(asked.corners, asked.diameter, asked.strand_edges, dict(asked.own))
    return measured_outline.by_lengths(
        asked.sides, asked.diagonals, asked.names, asked.diameter, asked.strand_edges, dict(asked.own)
    )


def _planes(asked: OutlineQuestion) -> Opened:
    """An outline whose edges stand in two planes."""
    from stairguard.geometry.clearance.outline import Vec
    from stairguard.geometry.clearance.pockets import compare
    from stairguard.solve.sphere.two_planes import TwoPlanes, planes_opening

    terms, radii = asked.terms, asked.radii
    points = [Vec(x.value, z.value) for x, z in asked.corners]
    given = TwoPlanes.of(points, [out.value for out in asked.outs], radii)
    answer = planes_opening(given)
    pocket = answer.pocket
    stops = None if terms.limit is None else compare(given.outline, pocket, terms.limit) < 0
    uncertainty = None
    if terms.uncertain:
        from stairguard.solve.measured.measured_planes import planes_uncertainty
        from stairguard.solve.measured.uncertainty import FINEST_READING

        uncertainty = planes_uncertainty(asked, given, answer, stops, FINEST_READING[terms.unit])
    return Opened(
        form=asked.form,
        unit=terms.unit,
        sphere=pocket.diameter,
        touches=answer.touches,
        contacts=pocket.contacts,
        centre=pocket.centre,
        limit=terms.limit,
        stops=stops,
        outline=given.outline,
        pockets=(pocket,),
        measurements=asked.measured,
        assumed=terms.assumed,
        uncertainty=uncertainty,
        inverse=None,
        points=given.points,
        binding=terms.binding,
        beside=answer.beside,
        own_diameters=asked.own,
    )


def _outline(asked: OutlineQuestion) -> Opened:
    if asked.outs:
        return _planes(asked)
    from stairguard.solve.measured.measured_outline import outline_uncertainty
    from stairguard.solve.measured.uncertainty import FINEST_READING
    from stairguard.solve.sphere.outlined import outline_opening

    terms, drawn = asked.terms, _drawn(asked)
    opening = outline_opening(drawn.outline, terms.limit, drawn.grain)
    inverse = uncertainty = None
    if asked.move is not None and terms.limit is not None:
        from stairguard.solve.measured.measured_outline import thickness
        from stairguard.solve.sphere.inverse_opening import edge_move

        radius = thickness(asked.diameter, asked.strand_edges, dict(asked.own))
        inverse = edge_move(drawn.points, asked.strand_edges, radius, asked.move, terms.limit)
    if terms.uncertain:
        uncertainty = outline_uncertainty(opening, drawn, terms.ratio, FINEST_READING[terms.unit])
    first = opening.pockets[0]
    return Opened(
        form=asked.form,
        unit=terms.unit,
        sphere=opening.sphere,
        touches=opening.outline.names(first.sites),
        contacts=first.contacts,
        centre=first.centre,
        limit=opening.limit,
        stops=opening.passes,
        outline=opening.outline,
        pockets=opening.pockets,
        measurements=drawn.measurements,
        assumed=terms.assumed,
        uncertainty=uncertainty,
        inverse=inverse,
        points=drawn.points,
        binding=terms.binding,
        own_diameters=asked.own,
    )
