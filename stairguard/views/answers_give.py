"""One bay's give: the plain data of the command's JSON, and words that say why the figures are right."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from typing import TYPE_CHECKING, Any, Final

from stairguard.model.cautions import ALWAYS
from stairguard.model.give import Asked, BayAnswer, BayQuestion, BayReport, Bounds, HungAnswer, Upkeep, Verdict
from stairguard.views.pagetext import figure, heading, listed, paragraph, table, underlined

if TYPE_CHECKING:
    from stairguard.model.figures import Figure
    from stairguard.model.job import Climate, Push, TensionSource, Unit
    from stairguard.model.materials import StrandSteel

__all__ = [
    "NO_TABLE", "SOURCES", "VERDICTS", "bounds_data", "force_unit", "frame_words", "give_cautions", "give_data",
    "give_text", "known_words", "strand_data", "strand_words", "upkeep_data", "upkeep_words",
]  # fmt: skip

SOURCES: Final[dict[TensionSource, str]] = {
    "measured": "measured",
    "set": "to be set by the installer, and measured then",
    "assumed": "assumed: measure it before relying on what follows",
}
VERDICTS: Final[dict[Verdict, str]] = {
    "holds": "HOLDS, even if the strand slides through every hole of its run",
    "between": "FAILS unless every post holds the strand: it holds so, and does not if the strand slides",
    "gives way": "FAILS: the strands give way",
    "passes untouched": "FAILS: the probe passes between strands at rest, so that no tension stops it",
    "turned aside": "the strand leads the probe to the next opening",
    "no answer": "FAILS: with this friction the strand would be dragged along, and no figure is given",
    "rigid": "rigid parts alone stop it",
}
NO_TABLE: Final = (
    "Australia's wire table has no cell for this: another strand, spacing, bay, slope or probe. By the model alone, "
    "which asks less than that table in many cells where the strand is held: no pass under that code."
)
_OURS: Final = (
    "Push figures are for a probe pressed square to the guard with nothing else moving: no impact, no person's weight. "
    "Strand gives more where posts, rail or anchors give: put their stiffness in."
)
_HOLES: Final = (
    "Holes wider than the strand let it move before it stretches: the gap is then larger at a post's own hole."
)


def force_unit(unit: Unit) -> str:
    """The unit of force that goes with a unit of length."""
    return "lbf" if unit == "in" else "N"


def bounds_data(bounds: Bounds) -> dict[str, float | None]:
    """Two bounds as plain data."""
    return {"held": bounds.held, "free": bounds.free}


def strand_data(steel: StrandSteel) -> dict[str, Any]:
    """What a strand is made of, with the source and status of every figure."""
    return {
        "diameter": float(steel.diameter),
        "construction": steel.construction,
        "material": steel.material,
        "area": steel.area,
        "stiffness": steel.stiffness,
        "stiffness_low": steel.stiffness_low,
        "stiffness_high": steel.stiffness_high,
        "breaking_force": steel.breaking,
        "weight": steel.weight,
        "expansion": steel.expansion,
        "figures": [
            {"what": f.what, "value": float(f.value), "unit": f.unit, "status": f.status, "source": f.source}
            for f in steel.figures
        ],
    }


def give_data(report: BayReport) -> dict[str, Any]:
    """Put one bay into the plain data of the command's JSON; what every key holds is told in DEVELOPERS.md."""
    answer, asked = report.answer, report.answer.asked
    return {
        **_answer_data(answer),
        "turns": report.turns,
        "table": None if report.table is None else _table_data(report.table),
        "hung": None if report.hung is None else _hung_data(report.hung),
        "upkeep": None if report.upkeep is None else upkeep_data(report.upkeep),
        "strand": strand_data(asked.taut.steel),
        "compared": [{"changed": changed, **_answer_data(other)} for changed, other in report.compared],
        "cautions": list(give_cautions(asked.taut.steel)),
    }


def _answer_data(answer: BayAnswer) -> dict[str, Any]:
    asked, found = answer.asked, answer.holding
    force = asked.push.force
    return {
        "unit": asked.unit,
        "force_unit": force_unit(asked.unit),
        "gap": float(answer.gap),
        "push": bounds_data(found.push),
        "tension_for_force": None if force is None else bounds_data(found.needed),
        "elongation": answer.elongation,
        "sag": answer.sag,
        "verdict": found.verdict,
        "force": None if force is None else float(force),
        "sphere": found.place.probe,
        "probe": asked.push.probe,
        "strands": asked.strands,
        "spacing": float(asked.spacing),
        "bay": float(asked.bay),
        "run_length": float(asked.run),
        "tension": {"value": float(asked.taut.tension), "source": asked.taut.source},
        "breaking_push": bounds_data(found.breaking),
        "contact_deg": bounds_data(found.contact_deg),
        "deflection": bounds_data(found.deflection),
        "tension_then": bounds_data(found.tension),
        "widest_spacing": bounds_data(answer.widest),
        "longest_bay": bounds_data(answer.longest),
        "weakest_at": answer.weakest_at,
        "weakest_push": answer.weakest,
        "settles": list(answer.settles),
    }


def _table_data(found: Asked) -> dict[str, Any]:
    return {
        "clause": found.clause,
        "spacing": float(found.spacing),
        "bay": float(found.bay),
        "tension": None if found.tension is None else float(found.tension),
        "met": found.met,
    }


def _hung_data(found: HungAnswer) -> dict[str, Any]:
    sinks = found.hung.sinks
    return {
        "weight": float(found.hung.weight),
        "expected": bounds_data(found.expected),
        "measured": None if sinks is None else float(sinks),
        "tension": bounds_data(found.tension),
    }


def upkeep_data(upkeep: Upkeep) -> dict[str, Any]:
    """What temperature, drying and settling do, as plain data; temperatures in degrees Celsius."""
    return {
        "frame": [{"of": name, "share": float(share)} for name, share in upkeep.climate.frame],
        "wood": upkeep.climate.wood,
        "shortening": upkeep.shortening,
        "drop": upkeep.drop,
        "lowest": {"temperature_C": upkeep.lowest.temperature, "tension": upkeep.lowest.least},
        "highest": {"temperature_C": upkeep.highest.temperature, "tension": upkeep.highest.most},
        "slack": upkeep.slack,
        "breaks": upkeep.breaks,
        "push": bounds_data(upkeep.holding.push),
        "verdict": upkeep.holding.verdict,
        "tension_to_set": bounds_data(upkeep.to_set),
        "otherwise": {name: list(line) for name, line in upkeep.otherwise},
        "points": [{"temperature_C": p.temperature, "most": p.most, "least": p.least} for p in upkeep.points],
    }


def give_cautions(steel: StrandSteel) -> Iterator[str]:
    """What is said with every figure of give."""
    yield from ALWAYS
    yield _OURS
    yield _HOLES
    remembered = list(dict.fromkeys(f.what for f in steel.figures if f.status == "from memory"))
    if remembered:
        yield (
            f"From memory, no document read: {', '.join(remembered)}. Put in the maker's own figures before relying "
            "on what rests on them."
        )


def give_text(report: BayReport) -> str:
    """Write one bay for people: the push that opens it, between its bounds, and all that was asked besides."""
    answer, asked = report.answer, report.answer.asked
    lines = [
        *underlined("Strand give: one bay"),
        *_asked_words(answer),
        *table(["", "held at both posts", "sliding over its run"], list(_rows(answer)), left=1),
        *paragraph(_between(asked)),
        *_along(answer),
        *_why(answer),
        *_verdict(answer),
        *_table_words(report),
        *heading("Tension"),
        *_tension(report),
    ]
    if report.hung is not None:
        lines += [*heading("A mass hung at mid-bay"), *_hung_words(report.hung, asked)]
    if report.upkeep is not None:
        lines += [*heading("Upkeep"), *upkeep_words(report.upkeep, asked.unit, asked.push)]
    if report.compared:
        lines += [*heading("Side by side"), *_compared(report)]
    lines += [*heading("The strand"), *strand_words(asked.taut.steel)]
    lines += [*heading("Cautions"), *listed(give_cautions(asked.taut.steel))]
    return "\n".join(lines) + "\n"


def _between(asked: BayQuestion) -> str:
    if asked.run == asked.bay:
        return "The run is taken as this bay alone, so both are one: in a longer run the strand slides and gives more."
    return "The truth lies between: posts grip a strand, but not wholly. The verdict goes by the strand that slides."


def _asked_words(answer: BayAnswer) -> Iterator[str]:
    asked, unit = answer.asked, answer.asked.unit
    steel, push = asked.taut.steel, asked.push
    between = (
        f"two strands {figure(asked.spacing, unit)} apart, centre to centre, square"
        if asked.strands == 2
        else f"a rigid edge and a strand whose centre is {figure(asked.spacing, unit)} from it, square"
    )
    where = "mid-bay" if asked.at is None else f"{figure(asked.at, unit)} from a post"
    yield from paragraph(
        f"{_probe(push, unit)} pushed at {where}, square to the guard, between {between}: a clear gap of "
        f"{figure(answer.gap, unit)} at rest. Strand {figure(steel.diameter, unit)}, {steel.construction}, "
        f"{steel.material}; bay {figure(asked.bay, unit)} clear along the strand; run {figure(asked.run, unit)}."
    )
    yield from paragraph(known_words(asked))
    if push.friction:
        yield from paragraph(f"Friction {figure(push.friction, '')}: each contact rubs.")
    for what, value in (("posts", push.post_stiffness), ("anchors", push.anchor_stiffness)):
        if value is not None:
            yield from paragraph(f"Stiffness of {what}: {figure(value, force_unit(unit))} for one {unit}.")


def known_words(asked: BayQuestion) -> str:
    """The tension at rest with its source."""
    force = figure(asked.taut.tension, force_unit(asked.unit))
    share = 100 * float(asked.taut.tension) / asked.taut.steel.breaking
    return f"Tension at rest {force} ({share:.1f} % of the breaking force), {SOURCES[asked.taut.source]}."


def _probe(push: Push, unit: Unit) -> str:
    size = "" if push.sphere is None else figure(push.sphere, unit)
    return f"A sphere of {size}" if push.probe == "sphere" else f"A cone that ends in a cylinder of {size}"


def _rows(answer: BayAnswer) -> Iterator[list[str]]:
    asked, found = answer.asked, answer.holding
    unit, force = asked.unit, force_unit(asked.unit)
    yield ["greatest push on its way", *_pair(found.push, force)]
    if found.breaking != Bounds(None, None):
        yield ["the strand breaks at a push of", *_pair(found.breaking, force)]
    yield ["there: strand moved by", *_pair(found.deflection, unit)]
    yield ["there: contact, from the strands' plane", *_pair(found.contact_deg, "deg")]
    yield ["there: tension in the strand", *_pair(found.tension, force)]
    if asked.push.force is not None:
        yield [f"tension at rest for {figure(asked.push.force, force)}", *_pair(found.needed, force)]
        what = "spacing" if asked.strands == 2 else "distance from the edge"
        yield [f"widest {what} for it", *_pair(answer.widest, unit)]
        yield ["longest bay for it", *_pair(answer.longest, unit)]


def _pair(bounds: Bounds, unit: str) -> list[str]:
    return ["none" if value is None else f"{value:.5g} {unit}" for value in (bounds.held, bounds.free)]


def _along(answer: BayAnswer) -> list[str]:
    """Where along the bay the sphere passes most easily."""
    unit, force = answer.asked.unit, force_unit(answer.asked.unit)
    if not answer.weakest:
        return []
    middle = answer.weakest_at == float(answer.asked.bay) / 2
    where = "mid-bay" if middle else f"{answer.weakest_at:.4g} {unit} from a post"
    wanted = answer.asked.push.force
    fails = answer.asked.at is not None and wanted is not None and answer.weakest < wanted
    return paragraph(
        f"The weakest place along the bay is {where}: {answer.weakest:.4g} {force}, sliding"
        f"{', which FAILS: a probe will find it' if fails else ''}."
    )


def _why(answer: BayAnswer) -> Iterator[str]:
    """The working at the hardest place of the way, for the strand that slides."""
    asked, found = answer.asked, answer.holding
    unit, force = asked.unit, force_unit(asked.unit)
    push, contact, q, tension = (b.free for b in (found.push, found.contact_deg, found.deflection, found.tension))
    if push is None or not push or contact is None or q is None or tension is None:
        return
    reach = (found.place.probe + float(asked.diameter)) / 2
    about = "" if asked.push.probe == "sphere" else " (the cone's shoulder)"
    rub = ", turned on by the friction's angle" if asked.push.friction else ""
    several = "both strands" if asked.strands == 2 else "the strand"
    yield from paragraph(
        f"Why, sliding: probe and strand reach {figure(reach, unit)}{about}. Where it is hardest they touch at "
        f"{contact:.4g} deg from the strands' plane and the strand has moved {q:.4g} {unit} along the contact{rub}. "
        f"Its two straight parts are longer than the bay; over the run that stretches it from "
        f"{figure(asked.taut.tension, force)} to {tension:.5g} {force}. The parts' pull across the strand, of "
        f"{several}, along the probe's way: {push:.4g} {force}."
    )


def _verdict(answer: BayAnswer) -> list[str]:
    asked, found = answer.asked, answer.holding
    if asked.push.force is None:
        if found.verdict == "passes untouched":
            return paragraph("The probe passes between strands at rest: no tension stops it.")
        return paragraph(
            "No force was asked for (--force), so nothing is judged. No single force is the law everywhere: "
            "stairguard says which publications name one with a guard's page."
        )
    verdict = "" if found.verdict is None else VERDICTS[found.verdict]
    return paragraph(f"Force asked for: {figure(asked.push.force, force_unit(asked.unit))}. {verdict}.")


def _table_words(report: BayReport) -> Iterator[str]:
    """What a published table asks, beside the model."""
    found, unit = report.table, report.answer.asked.unit
    if found is None:
        if report.answer.asked.push.probe == "cone" and report.answer.asked.push.force is not None:
            yield from paragraph(NO_TABLE)
        return
    size = f"up to a spacing of {figure(found.spacing, unit)} and a bay of {figure(found.bay, unit)}"
    if found.tension is None:
        yield from paragraph(f"{found.clause}: FAILS: {size} the table does not permit this strand, at any tension.")
        return
    met = "met" if found.met else "FAILS"
    yield from paragraph(
        f"{found.clause} asks at least {figure(found.tension, force_unit(unit))} {size}: {met}. It was calibrated by "
        "pulling this cone through; by the model, strand held at every post would often do with less. Hold to the "
        "greater."
    )


def _tension(report: BayReport) -> Iterator[str]:
    answer, asked = report.answer, report.answer.asked
    unit = asked.unit
    turns = "" if report.turns is None else f", {report.turns:.2f} turns of the tensioner"
    yield from paragraph(
        f"To reach it the strand is stretched by {answer.elongation:.4g} {unit} over its run{turns}. A new strand "
        f"settles besides, once, by {answer.settles[0]:.3g} to {answer.settles[1]:.3g} {unit} (from memory), and loses "
        f"{_lost(answer)} unless it is drawn in again: do so after the first days."
    )
    if answer.sag is None:
        yield from paragraph("A slack strand hangs: no sag is given.")
    else:
        yield from paragraph(
            f"It sags under its own weight by {answer.sag:.3g} {unit} at mid-bay, plumb, on any pitch."
        )


def _lost(answer: BayAnswer) -> str:
    """How much tension settling takes, of what there is."""
    asked, force = answer.asked, force_unit(answer.asked.unit)
    tension, ea = float(asked.taut.tension), asked.taut.steel.stiffness
    least, most = (min(tension, ea * part / float(asked.run)) for part in answer.settles)
    return "all of it" if least == tension else f"{least:.3g} to {most:.3g} {force}"


def _hung_words(found: HungAnswer, asked: BayQuestion) -> Iterator[str]:
    unit, force = asked.unit, force_unit(asked.unit)
    low, high = (f"{value or 0.0:.4g} {unit}" for value in (found.expected.held, found.expected.free))
    yield from paragraph(
        f"A mass that weighs {figure(found.hung.weight, force)}, hung at mid-bay of a level strand, takes it down "
        f"there by {low} if both posts hold it, by {high} if it slides: a check of the tension without a gauge."
    )
    if found.hung.sinks is not None:
        held, free = found.tension.held or 0.0, found.tension.free or 0.0
        slack = " Less than nothing says that it was slack." if min(held, free) < 0 else ""
        yield from paragraph(
            f"Measured {figure(found.hung.sinks, unit)}: a tension at rest of {held:.4g} {force} if held, {free:.4g} "
            f"{force} if it slides. Reckon with the lower.{slack}"
        )


def upkeep_words(upkeep: Upkeep, unit: Unit, push: Push) -> Iterator[str]:
    """What temperature, drying and settling do to a strand, in words and a table."""
    climate, force = upkeep.climate, force_unit(unit)
    yield from paragraph(f"Frame: {frame_words(climate)}. Strand set at {_celsius(climate.now)}.")
    if climate.wood is not None:
        yield from paragraph(
            f"Posts of {climate.wood} go from {float(climate.moisture_from):g} to {float(climate.moisture_to):g} % "
            f"moisture, {climate.grain} along the guard, with the {climate.seated} of each end post staying put"
            + (", and a wooden rail shortens along its grain" if any(n == "wood" for n, _ in climate.frame) else "")
            + f": the anchors' seats come {upkeep.shortening:.4g} {unit} nearer. Where line posts grip the strand, the "
            "bay beside an end post has that post's share all to itself: the lower of the two is told."
        )
    if upkeep.drop:
        yield from paragraph(
            f"Within those bounds, wood and settling take up to {_force(upkeep.drop, force)} off the tension."
        )
    rows = [[_celsius(p.temperature), _force(p.most, force), _force(p.least, force)] for p in upkeep.points]
    yield from table(["temperature", "most", "least"], rows, left=0)
    slack = " The strand goes SLACK." if upkeep.slack else ""
    slack += " The strand BREAKS at the highest: FAILS." if upkeep.breaks else ""
    settled = (
        f"{100 * float(climate.settling):g} % of its length" if climate.settling else "none: draw a new strand in again"
    )
    yield from paragraph(
        f"Most and least, within the bounds of EA, expansions and shrinkage, as set and once wood has moved. Settling "
        f"counted with: {settled}."
    )
    yield from paragraph(
        f"Lowest {_force(upkeep.lowest.least, force)}, at {_celsius(upkeep.lowest.temperature)}; highest "
        f"{_force(upkeep.highest.most, force)}, at {_celsius(upkeep.highest.temperature)}.{slack}"
    )
    if push.force is not None and upkeep.holding.verdict is not None:
        yield from paragraph(f"At the lowest, {figure(push.force, force)}: {VERDICTS[upkeep.holding.verdict]}.")
        if upkeep.to_set.free is not None:
            yield from paragraph(
                f"To hold it even then, wherever a tension can, set at least {_force(upkeep.to_set.free, force)} at "
                f"{_celsius(climate.now)}."
            )
        else:
            yield from paragraph("No tension short of breaking, set today, would hold it even then.")


def frame_words(climate: Climate) -> str:
    """What the frame is of along the guard."""
    if len(climate.frame) == 1:
        return climate.frame[0][0]
    return ", ".join(f"{100 * float(share):g} % {name}" for name, share in climate.frame)


def _celsius(value: Fraction | float) -> str:
    celsius = float(value)
    return f"{celsius:.4g} °C ({celsius * 9 / 5 + 32:.4g} °F)"


def _force(value: float, unit: str) -> str:
    return f"{value:.4g} {unit}"


_SIDE_BY_SIDE: Final[tuple[tuple[str, Callable[[BayAnswer], str]], ...]] = (
    ("strand", lambda a: f"{figure(a.asked.diameter, a.asked.unit)} {a.asked.taut.steel.construction}"),
    ("spacing", lambda a: figure(a.asked.spacing, a.asked.unit)),
    ("bay", lambda a: figure(a.asked.bay, a.asked.unit)),
    ("tension at rest", lambda a: figure(a.asked.taut.tension, force_unit(a.asked.unit))),
    ("how that is known", lambda a: a.asked.taut.source),
    ("clear gap", lambda a: figure(a.gap, a.asked.unit)),
    ("push, held", lambda a: _pair(a.holding.push, force_unit(a.asked.unit))[0]),
    ("push, sliding", lambda a: _pair(a.holding.push, force_unit(a.asked.unit))[1]),
    ("tension for the force", lambda a: _pair(a.holding.needed, force_unit(a.asked.unit))[1]),
    ("verdict", lambda a: "not judged" if a.holding.verdict is None else a.holding.verdict),
    ("pull on an end, per strand", lambda a: figure(a.asked.taut.tension, force_unit(a.asked.unit))),
    ("weight of the run", lambda a: f"{a.asked.taut.steel.weight * float(a.asked.run):.4g} {force_unit(a.asked.unit)}"),
    ("stretch", lambda a: f"{a.elongation:.4g} {a.asked.unit}"),
    ("sag", lambda a: "none" if a.sag is None else f"{a.sag:.4g} {a.asked.unit}"),
)


def _compared(report: BayReport) -> list[str]:
    answers = [report.answer, *(other for _, other in report.compared)]
    heads = ["", "as asked", *(changed for changed, _ in report.compared)]
    return table(heads, [[what, *(words(one) for one in answers)] for what, words in _SIDE_BY_SIDE])


def strand_words(steel: StrandSteel) -> Iterator[str]:
    """Every figure the strand's stiffness, strength, weight and expansion rest on, with its status."""
    unit = steel.unit
    force = force_unit(unit)
    yield from paragraph(
        f"EA {steel.stiffness:.5g} {force} (from {steel.stiffness_low:.5g} to {steel.stiffness_high:.5g}); breaking "
        f"force {steel.breaking:.5g} {force}; weight {steel.weight:.4g} {force}/{unit}. They rest on:"
    )
    yield from listed(_figure_words(one) for one in steel.figures)


def _figure_words(one: Figure) -> str:
    value = f"{float(one.value):.5g} {one.unit}".rstrip()
    source = one.source.split(";")[0]  # the address where it was read is in the data
    return f"{one.what}: {value} ({one.status}: {source})"
