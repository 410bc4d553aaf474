"""Words that few pages show: figures from outside with their sources, and fixes of every kind."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from stairguard.model.fixes import (
    NO_TAPE,
    Advice,
    BrokenClause,
    Change,
    Divided,
    Evened,
    Fix,
    Inserted,
    KeptBound,
    Moved,
    Reshaped,
    Retaken,
    SideEffect,
    TapeMark,
    ToMeasure,
)
from stairguard.model.published.constructions import CONSTRUCTIONS
from stairguard.model.published.frame_expansion import FRAMES
from stairguard.model.published.known_figure import Figure
from stairguard.model.published.probe_forces import NAMED_PUSHES
from stairguard.model.published.strand_materials import MATERIALS, strand_steel, with_given
from stairguard.model.published.wood_shrinkage import ALONG, FIBRE_SATURATION, SPECIES, wood_movement
from stairguard.reports.words.fix_words import fixes_words


def _figure(one: Figure | None) -> str:
    if one is None:
        return "  none"
    bounds = "" if one.low is None and one.high is None else f", {one.low} to {one.high}"
    return f"  {one.what}: {one.value} {one.unit}{bounds}; {one.status}: {one.source}"


def _woods() -> Iterator[str]:
    yield from map(_figure, (ALONG, FIBRE_SATURATION))
    for name, wood in SPECIES.items():
        yield f"{name}: {wood.note}"
        yield from map(_figure, (wood.radial, wood.tangential, wood.radial_change, wood.tangential_change))
    for grain in ("radial", "tangential", "along"):
        for before, after in ((14, 6), (6, 14), (15, 6), (14, 5), (40, 12), (12, 40), (100, 0)):
            moved = wood_movement("white oak", grain, Fraction(before), Fraction(after))
            yield f"white oak, {grain}, {before} to {after} %: {moved.part}, {moved.low} to {moved.high}, {moved.by}"


def _strands() -> Iterator[str]:
    for construction, made in CONSTRUCTIONS.items():
        yield construction
        yield from map(_figure, (made.fill, made.lay_take_up, made.settling, made.factor, *made.modulus.values()))
    for material, metal in MATERIALS.items():
        yield material
        yield from map(_figure, (metal.density, metal.expansion, metal.wire_strength))
    for construction in CONSTRUCTIONS:
        for material in MATERIALS:
            for sixteenths in ("2", "5/2", "3", "4", "6"):
                steel = strand_steel(construction, material, Fraction(sixteenths) / 16, "in")
                yield f"{construction} of {material}, {steel.diameter} in: breaks at {steel.breaking} lbf"
                yield from map(_figure, steel.basis.breaking)
    own = {"stiffness": 170_000, "breaking": 2000, "weight": Fraction(3, 1000), "expansion": Fraction(16, 10**6)}
    for unit in ("in", "mm"):
        given = with_given(strand_steel("1x19", "316", Fraction(4), unit), **{k: Fraction(v) for k, v in own.items()})
        yield from map(_figure, given.figures)


def figures() -> str:
    """Every figure from outside, with how it is known and its source."""
    lines = ["Frames", *map(_figure, FRAMES.values()), "Woods", *_woods(), "Strands", *_strands(), "Pushes"]
    for name, push in NAMED_PUSHES.items():
        lines += [f"{name}: {push.title}; {push.probe}; {push.standing}; {push.note}"]
        lines += map(_figure, (push.force, push.sphere))
        lines += [
            f"  {push.newtons()} N; {push.force_in('in')} lbf; {push.sphere_in('mm')} mm; {push.sphere_in('in')} in"
        ]
    return "\n".join(lines) + "\n"


_IN: Final = TapeMark("in", Fraction(1, 16))
_MM: Final = TapeMark("mm", Fraction(1))


def _retaken(way: KeptBound, rows: tuple[int, ...], now: Fraction, value: Fraction, sure: Fraction | None) -> Retaken:
    return Retaken(quantity="guard height", way=way, rows=rows, now=now, value=value, sure=sure, tape=_IN)


def _moved(edge: int, strand: bool, sure: Fraction | None, doubtful: bool) -> Moved:
    return Moved(row=0, edge=edge, strand=strand, by=Fraction(1, 4), sure=sure, doubtful=doubtful, tape=_IN)


def _fixes() -> Iterator[Fix]:
    height, size = Fraction(36), Fraction(29, 4)
    steps = (
        Change("rail", "height", height, Fraction(1, 2), _IN),
        Change("rail", "height", height, Fraction(-1, 2), _IN),
        Change("rail", "height", height, Fraction(1, 3), _IN),
        Change("rail", "height", height, Fraction(0), _IN),
        Change("rail", "height", height, Fraction(1, 32), TapeMark("in", Fraction(1, 32))),
        Change("rail", "height", Fraction(1, 3), None, _IN),
        Change("rail", "height", Fraction(901), Fraction(1), _MM),
        Change("post", "mount", "side"),
        Change("site", "dwelling", True),
        Change("surface", "open_risers", False, None, NO_TAPE, (1,)),
        Change("surface", "risers", 8, Fraction(1), NO_TAPE, (0, 2)),
        Change("surface", "rail_height", None, None, _IN, (0, 1, 2)),
        Change("surface", "rail_height", height, None, _IN, (0, 1, 2, 3)),
        Change("surface", "rail_height", height, None, _IN, (1, 3, 5, 7, 9)),
        Change("surface", "rail_height", height, None, _IN, (0, 1, 2, 4)),
        Change("handrail", "", None),
        Divided(0, (8, 8, 9), height, False, _IN),
        Divided(1, (1, 1), Fraction(915), True, _MM),
        Inserted(2, height, True, _IN),
        Inserted(1, height, False, _IN),
        Evened(0, "risers", size, _IN),
        Evened(2, "runs", size, _IN),
        _retaken("at least", (0,), size, height, None),
        _retaken("at least", (0,), size, height, height),
        _retaken("at most", (0, 1), height, size, Fraction(7)),
        Reshaped(0, (("lift", Fraction(1), Fraction(1, 2)), ("run", Fraction(9), Fraction(10))), None, False, _IN),
        Reshaped(0, (("lift", Fraction(1), Fraction(1, 2)), ("run", Fraction(9), Fraction(10))),
                 (Fraction(1, 4), Fraction(11)), False, _IN),
        Reshaped(0, (("lift", Fraction(1), Fraction(1, 2)),), None, True, _IN),
        _moved(3, True, None, False),
        _moved(3, False, Fraction(3, 8), True),
        _moved(2, False, None, True),
        ToMeasure("drop"),
        ToMeasure("opening", (0,), "step triangle"),
        ToMeasure("guard height", (1,)),
        ToMeasure("guard height", (0, 2)),
        ToMeasure("handrail extension", (0, 1, 2, 3), "flight top"),
    )  # fmt: skip
    yield from (Fix((step,)) for step in steps)
    yield Fix(steps[:2])
    yield Fix(steps[:1], (SideEffect.OWN_HANDRAIL,))
    yield Fix(steps[:1], breaks=(BrokenClause("R312.1.2"),))
    yield Fix(steps[:2], (SideEffect.OWN_HANDRAIL,), (BrokenClause("R312.1.2"), BrokenClause("R312.1.3")))
    yield Fix((), advice=Advice.ANOTHER_GUARD)


def fixes() -> str:
    """Every kind of fix in words, then several."""
    every = tuple(_fixes())
    each = "".join(f"{fixes_words([fix])}\n" for fix in every)
    return f"{each}{fixes_words(every[:3])}\n{fixes_words(())!r}\n"
