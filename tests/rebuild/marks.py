"""What is marked: each to the nearest mark from one datum, and lists that add up to what they count."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Any

from tests.rebuild.differ import differ, unlike
from tests.rebuild.jobs import length

CLOSE = 1e-9
Table = dict[str, Any]


def _marked(what: str, told: float, true: float, mark: float, least: float | None = None) -> Iterator[str]:
    """A told mark is one of the tape's, the nearest to a length; of a piece at ``least`` one."""
    if abs(told / mark - round(told / mark)) > CLOSE:
        yield f"{what}: {told} is between two marks"
    if abs(told - (true if least is None else max(true, least))) > mark / 2 + CLOSE:
        yield f"{what}: {told} is not the mark nearest to {true}"


def marked_holes(result: Table) -> Iterator[str]:
    """Every hole's mark is the tape's nearest to its height above the post's own base: none is taken from another."""
    for post in result["posts"]:
        for hole in post["holes"]:
            yield from _marked(
                f"{post['label']} strand {hole['strand']}", hole["marked"], hole["height"], result["mark"]
            )


def lists(result: Table) -> Iterator[str]:
    """Every rail, post and strand is cut once, as long as it stands, and marked by its longest."""
    cuts, mark = result["cuts"], result["mark"]
    own = {p["label"]: p for p in result["posts"] if p["support"] == "post"}
    yield from unlike("posts cut", sorted(label for cut in cuts["posts"] for label in cut["posts"]), sorted(own))
    for cut in cuts["posts"]:
        yield from unlike(f"{cut['label']}, count", cut["count"], len(cut["posts"]))
        yield from _marked(cut["label"], cut["marked"], cut["long_edge"], mark, mark)
        for label in cut["posts"]:
            for key in ("length", "edges", "top_bevels_deg", "top_bevel_deg", "bevel_break"):
                yield from differ(f"{cut['label']}, {key} of {label}", cut[key], own[label][key])
    for cut in cuts["rails"]:
        yield from unlike(f"{cut['label']}, count", cut["count"], len(cut["surfaces"]))
        yield from _marked(cut["label"], cut["marked"], cut["longest"], mark, mark)
    named = {f"{run['strand']} ({run['posts'][0]}-{run['posts'][-1]})": run["cut_length"] for run in result["runs"]}
    yield from unlike("strands cut", sorted(name for cut in cuts["strands"] for name in cut["strands"]), sorted(named))
    for cut in cuts["strands"]:
        yield from unlike(f"{cut['label']}, count", cut["count"], len(cut["strands"]))
        yield from _marked(cut["label"], cut["marked"], cut["length"], mark, mark)
        for name in cut["strands"]:
            yield from differ(f"{cut['label']}, length of {name}", cut["length"], named.get(name, 0.0), 1e-8)
    for cut in cuts["sleeves"]:
        yield from unlike(f"{cut['label']}, count", cut["count"], len(cut["strands"]))
        yield from _marked(cut["label"], cut["marked"], cut["length"], mark, mark)


def totals(job: Table, result: Table) -> Iterator[str]:
    """Totals add up the marked pieces, and weights are so much of a length."""
    cuts = result["cuts"]
    told, sums = cuts["totals"], {}
    for key, pieces in (("rail", "rails"), ("post", "posts"), ("strand", "strands"), ("sleeve", "sleeves")):
        sums[key] = sum(cut["count"] * cut["marked"] for cut in cuts[pieces])
        yield from differ(f"total of {key}", told[key], sums[key], CLOSE)
    # a bare weight is pounds per foot, or kilograms per metre
    of_unit = {"in": 12.0, "mm": 1000.0}[job["unit"]]
    for key in ("rail", "post"):
        given = job[key].get("weight")
        if isinstance(given, int | float):
            yield from differ(f"weight of {key}", cuts["weights"][key], given / of_unit * sums[key])
        elif given is None:
            yield from unlike(f"weight of {key}", cuts["weights"][key], None)


def fittings(result: Table) -> Iterator[str]:
    """Two fittings end every run; each hole between them is a straight pass, or turns the strand at a joint's post."""
    told = result["cuts"]["totals"]
    joints = {label: j for j in result["joints"] for label in (j["post"], j["second_post"]) if label}
    runs, counted, turned = result["runs"], Counter({"terminal": 0, "tensioner": 0}), 0
    for run in runs:
        through = run["posts"][1:-1]
        # at each of two posts of a corner one
        bends = [label for label in through if label in joints and joints[label]["bend_deg"] > CLOSE]
        yield from unlike(f"strand {run['strand']}, changes of angle", run["angle_changes"], len(bends))
        turned += len(bends)
        middle = (run["bays"].index(max(run["bays"])) + 0.5) / len(run["bays"])
        if abs(middle - 0.5) > CLOSE and sum(abs(b - max(run["bays"])) < 1e-6 for b in run["bays"]) == 1:
            near = run["posts"][0 if middle < 0.5 else -1]
            yield from unlike(f"strand {run['strand']} {run['posts']}, tensioner", run["tensioner"], near)
        counted.update(["terminal", "tensioner"])
        counted.update("angle" if label in bends else "straight pass" for label in through)
    listed = Counter({"terminal": 0, "tensioner": 0})
    for fitting in result["cuts"]["fittings"]:
        listed["angle" if fitting["kind"] in _TURNS else fitting["kind"]] += fitting["count"]
    yield from unlike("fittings", +listed, +counted)
    counts = [len(runs), len(runs), turned, sum(len(post["holes"]) for post in result["posts"])]
    for key, count in zip(("terminals", "tensioners", "angle_fittings", "holes"), counts, strict=True):
        yield from unlike(key, told[key], count)


_TURNS = ("angle pass in one plane", "compound pass")


def compared(job: Table, result: Table) -> Iterator[str]:
    """The way at joints that the job chose is told as it is laid out."""
    cuts, chosen = result["cuts"]["totals"], result["comparison"]["chosen"]
    yield from unlike("chosen at joints", chosen, job["strand"].get("at_joints", "through"))
    way = result["comparison"][chosen]
    yield from unlike("runs, as compared", way["runs"], len(result["runs"]))
    yield from differ("strand, as compared", way["strand_total"], cuts["strand"])
    for key in ("terminals", "tensioners", "angle_fittings", "holes"):
        yield from unlike(f"{key}, as compared", way[key], cuts[key])
    strands = [s["strands"]["count"] for s in result["surfaces"]]
    yield from unlike("strands, as compared", way["strands"], max(strands))


def stock(job: Table, result: Table) -> Iterator[str]:
    """Every piece that fits is cut once, and each bar holds its pieces, a kerf each, and its waste."""
    given, unit = job.get("stock", {}), job["unit"]
    kerf = length(given.get("kerf", 0), unit)
    for what, plan in result["stock"].items():
        lengths = [length(one, unit) for one in given[what]]
        cuts = {cut["label"]: cut for cut in result["cuts"][f"{what}s"]}
        long = {one["label"]: one for one in plan["too_long"]}
        for label, one in long.items():
            yield from unlike(f"{label}, too long", [one["length"], one["count"]], _of(cuts[label]))
            if one["length"] <= max(lengths):
                yield f"{label}: not too long"
        yield from _bars(what, plan, lengths, cuts, long, 0.0 if what == "strand" else kerf)  # shears waste nothing
        yield from _spliced(plan, cuts, max(lengths))


def _of(cut: Table) -> list[Any]:
    return [cut["marked"], cut["count"]]


def _bars(
    what: str, plan: Table, lengths: Sequence[float], cuts: dict[str, Table], long: dict[str, Any], kerf: float
) -> Iterator[str]:
    made: Counter[str] = Counter()
    lost = left = 0.0
    for bar in plan["bars"]:
        pieces = Counter({one["label"]: one["count"] for one in bar["pieces"]})
        used = sum(cuts[label]["marked"] * count for label, count in pieces.items())
        rest = bar["length"] - used
        if bar["length"] not in lengths or rest < -CLOSE:
            yield f"{what}: a bar of {bar['length']} for {used}"
        # the last cut is none where nothing is left
        saw = min(kerf * sum(pieces.values()), rest)
        yield from differ(f"{what}, waste of a bar", bar["waste"], rest - saw, CLOSE)
        for label, count in pieces.items():
            made[label] += count * bar["count"]
        lost, left = lost + saw * bar["count"], left + (rest - saw) * bar["count"]
    yield from unlike(f"{what} from bars", made, Counter({k: c["count"] for k, c in cuts.items() if k not in long}))
    used = sum(cuts[label]["marked"] * count for label, count in made.items())
    bought = sum(bar["length"] * bar["count"] for bar in plan["bars"])
    sums = [plan[key] for key in ("bought", "used", "kerf_loss", "waste")]
    yield from differ(f"{what}, bought, used, kerf and waste", sums, [bought, used, lost, left], CLOSE)
    yield from differ(f"{what}, above the bound", plan["gap"], bought - plan["bound"], CLOSE)
    if not used - CLOSE <= plan["bound"] <= bought + CLOSE:
        yield f"{what}: bound {plan['bound']} of {bought} for {used}"
    yield from unlike(f"{what}, proven", plan["proven"], plan["gap"] == 0 and not long)


def _spliced(plan: Table, cuts: dict[str, Table], longest: float) -> Iterator[str]:
    """Parts of a rail longer than stock come to the whole, and stock holds each."""
    for one in plan["spliced"]:
        if one["parts"]:
            yield from differ(f"parts of {one['label']}", sum(one["parts"]), cuts[one["label"]]["marked"], CLOSE)
            yield from unlike(f"splices of {one['label']}", len(one["posts"]), len(one["parts"]) - 1)
            if max(one["parts"]) > longest:
                yield f"{one['label']}: a part of {max(one['parts'])}"
        yield from unlike(f"{one['label']} over", one["surface"] in cuts[one["label"]]["surfaces"], True)
