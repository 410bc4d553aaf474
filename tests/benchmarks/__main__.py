"""Start-up and growth, as ratios: each command against its baseline, in pairs, medians of the pairwise ratios."""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
import tracemalloc
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from functools import partial
from pathlib import Path

import numpy as np
import shapely

from stairguard import relation_arrays
from stairguard.geometry.clearance.pockets import largest, pockets
from stairguard.model.job import Job, Landing
from stairguard.relations.printed import arrays
from stairguard.rules.pack.reader import read_rules
from stairguard.solve.lay_out import lay_out
from stairguard.statics.probe_force import Bay, push, sphere, tension_for
from tests.geometry.clearance.rings import outline, usable
from tests.solve.jobs import BASE, with_flight
from tests.solve.lines import EXAMPLES

PAIRS = 9
TYPER = """
import numpy, typer
app = typer.Typer(add_completion=False)
@app.command()
def main(x: str = "1"): print(x)
app()
"""
PLOT = """
folder = "{folder}"
from matplotlib.figure import Figure
for kind in ("png", "svg", "pdf"):
    Figure().savefig(f"{folder}/empty.{kind}")
"""


def seconds(*command: str) -> float:
    """Wall time of one process."""
    start = time.perf_counter()
    subprocess.run(command, check=True, capture_output=True)
    return time.perf_counter() - start


def paired(name: str, limit: float, ours: list[str], *baselines: str) -> None:
    """Print the median ratio of a stairguard command to the sum of baseline scripts."""
    ratios = []
    for _ in range(PAIRS):
        with tempfile.TemporaryDirectory() as folder:
            mine = seconds(sys.executable, "-m", "stairguard", *(a.format(folder=folder) for a in ours))
            scripts = [b.replace("{folder}", folder) for b in baselines]
            theirs = sum(seconds(sys.executable, "-c", script) for script in scripts)
        ratios.append(mine / theirs)
    print(f"{name:34} {statistics.median(ratios):5.2f}  (goal {limit}; {min(ratios):.2f} to {max(ratios):.2f})")


def growth() -> None:
    """Print time and memory of a layout against the risers of its flight, per riser, relative to 16."""
    rules = read_rules("irc-2021", "in")
    lay_out(BASE, rules)
    for risers in (16, 160, 1600):
        job = with_flight(BASE, risers=risers)
        times = []
        for _ in range(5):
            start = time.perf_counter()
            lay_out(job, rules)
            times.append(time.perf_counter() - start)
        tracemalloc.start()
        lay_out(job, rules)
        peak = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        quickest = min(times)
        if risers == 16:
            base = quickest, peak
        print(
            f"layout of {risers:5} risers: time {quickest / base[0]:6.2f}, memory {peak / base[1]:6.2f}, of 16 risers'"
        )


def least(action: Callable[[], object], times: int = 7) -> float:
    """Seconds of the quickest of several runs in this process."""
    best = float("inf")
    for _ in range(times):
        start = time.perf_counter()
        action()
        best = min(best, time.perf_counter() - start)
    return best


def outlines() -> None:
    """Print pockets and the largest sphere of random outlines against GEOS's circle at 1e-6, by number of edges."""
    for edges in (3, 4, 6, 8, 12, 20, 30, 40):
        rng = np.random.default_rng(edges)
        every, largest_only = [], []
        while len(every) < 12:
            angle = np.sort(rng.uniform(0, 2 * np.pi, edges))
            radius = rng.uniform(0.4, 1, edges)
            points = np.c_[radius * np.cos(angle), radius * np.sin(angle)]
            region = usable(points)
            if region is None:
                continue
            shape = outline(points)
            theirs = least(partial(shapely.maximum_inscribed_circle, region, tolerance=1e-6))
            every.append(least(partial(pockets, shape)) / theirs)
            largest_only.append(least(partial(largest, shape)) / theirs)
        middle = statistics.median(largest_only), statistics.median(every)
        print(f"outline of {edges:3} edges / GEOS: largest sphere {middle[0]:6.2f}, every pocket {middle[1]:6.2f}")


def many_edges() -> None:
    """Print the growth of one outline's pockets from 100 to 1,000 edges, and the array form's rate against GEOS."""
    spent = {}
    for edges in (100, 300, 1000):
        rng = np.random.default_rng(1)
        angle, radius = np.sort(rng.uniform(0, 2 * np.pi, edges)), rng.uniform(0.4, 1, edges)
        shape = outline(np.c_[radius * np.cos(angle), radius * np.sin(angle)])
        spent[edges] = least(partial(pockets, shape), 3)
    print(f"pockets of 1,000 edges: {spent[1000]:.2f} s, {spent[1000] / spent[100]:.1f} times 100 edges'")
    rng = np.random.default_rng(2)
    rise, run = rng.uniform(5, 8, 10**6), rng.uniform(9, 13, 10**6)
    nosing, lift = rng.uniform(0, 1.5, 10**6), rng.uniform(0, 1, 10**6)
    ours = least(partial(relation_arrays("step_sphere"), rise, run, nosing, lift), 3) / 10**6
    step = shapely.Polygon([(0, 0), (11, 0), (11, 7.5), (10, 7.5), (0, 0.1)])
    theirs = least(partial(shapely.maximum_inscribed_circle, step, tolerance=1e-6))
    print(f"array step sphere: {theirs / ours:,.0f} times GEOS's rate for a step")


def made_formulas() -> None:
    """Print arrays made from a declaration against the printed ones, and against numpy written by hand."""
    rng = np.random.default_rng(4)
    tension, stiffness, bay, run = (rng.uniform(low, 2 * low, 10**6) for low in (100, 1e5, 40, 40))
    deflection, rise, nosing = (rng.uniform(low, 2 * low, 10**6) for low in (0.5, 5, 0.5))
    given = tension, stiffness, bay, run, deflection
    ratios = ratio(partial(relation_arrays("strand_force"), *given), partial(arrays.strand_force, *given))
    print(f"strand force of a million bays, made at run time / printed: {ratios} (goal 1)")

    def by_hand() -> object:
        k = np.sqrt((rise / run) ** 2 + 1)
        return 2 * (rise * (1 + nosing / run) + deflection * k) / (k + 1 + rise / run)

    ratios = ratio(partial(relation_arrays("step_sphere"), rise, run, nosing, deflection), by_hand)
    print(f"step sphere of a million steps, made at run time / numpy by hand: {ratios}")


def ratio(mine: Callable[[], object], theirs: Callable[[], object]) -> str:
    """Tell the median of pairwise ratios of two actions' times in this process, and their range."""
    ratios = sorted(least(mine, 3) / least(theirs, 3) for _ in range(PAIRS))
    return f"{statistics.median(ratios):.2f} ({ratios[0]:.2f} to {ratios[-1]:.2f})"


def pushes() -> None:
    """Print the push of a million bays, and the tension for one, against a multiply-add of the same arrays."""
    rng = np.random.default_rng(3)
    length, tension = rng.uniform(20, 72, 10**6), rng.uniform(20, 600, 10**6)
    stiffness, clear = rng.uniform(1e5, 8e5, 10**6), rng.uniform(1.2, 1.9, 10**6)
    ball, bay = sphere(4, 0.125), Bay(length, tension, stiffness, length)
    plain = least(lambda: length * tension + clear)
    for friction in (0.0, 0.25):
        mine = least(partial(push, bay, ball, clear, friction=friction), 3)
        print(f"push of a million bays, friction {friction} / multiply-add: {mine / plain:,.0f}")
    some = Bay(*(part[: 10**5] for part in (length, tension, stiffness, length)))
    mine = 10 * least(partial(tension_for, 25.0, some, ball, clear[: 10**5]), 3)
    print(f"tension for a push, at that rate / multiply-add: {mine / plain:,.0f}")


def openings() -> None:
    """Print the time of a 200-riser flight's layout against a 20-riser one's."""
    rules = read_rules("irc-2021", "in")
    long, short = (least(partial(lay_out, with_flight(BASE, risers=n), rules), 5) for n in (200, 20))
    print(f"layout of 200 risers / 20 risers: {long / short:.2f} (goal 3)")


def tower(flights: int, distinct: bool) -> Job:
    """Flights and landings by turns; ``distinct`` ones all differ in their rise."""
    lower, flight, upper = BASE.surfaces
    surfaces = [lower]
    for k in range(flights):
        rise = flight.rise + Fraction(k, 1000 * flights) if distinct else flight.rise
        surfaces += [replace(flight, rise=rise), upper]
    strand = replace(BASE.strand, longest_run=Fraction(900), angle_changes=2)
    return replace(BASE, surfaces=tuple(surfaces), strand=strand)


def lines() -> None:
    """Print the growth of a line's layout with its flights, per flight, alike and all different."""
    rules = read_rules("irc-2021", "in")
    for distinct, counts in ((False, (100, 1000)), (True, (10, 100))):
        few, many = (least(partial(lay_out, tower(n, distinct), rules), 3) for n in counts)
        growth = many / few * counts[0] / counts[1]
        alike = "all different" if distinct else "alike"
        print(f"line of {counts[1]:5} flights, {alike}: {growth:.2f} of {counts[0]} flights' time a flight (goal 1.2)")


def corners() -> None:
    """Print what turns cost: a line turned at every landing against the same line straight."""
    rules = read_rules("irc-2021", "in")
    straight = tower(100, distinct=False)
    turned = tuple(
        replace(s, turn=90.0) if isinstance(s, Landing) and i else s for i, s in enumerate(straight.surfaces)
    )
    ours = least(partial(lay_out, replace(straight, surfaces=turned), rules), 3)
    theirs = least(partial(lay_out, straight, rules), 3)
    print(f"line of 100 flights turned at landings / straight: {ours / theirs:.2f}")


def beside() -> None:
    """Print the time of the command for the fascia-mounted example against the same job on the surface."""
    text = (EXAMPLES / "deck-fascia.toml").read_text(encoding="utf-8")
    off_the_side = ("mount = ", "drop = ", "offset = ", "hand = ")
    on_surface = "\n".join(line for line in text.splitlines() if not line.startswith(off_the_side))
    with tempfile.TemporaryDirectory() as folder:
        jobs = Path(folder) / "side.toml", Path(folder) / "surface.toml"
        for job, words in zip(jobs, (text, on_surface), strict=True):
            job.write_text(words, encoding="utf-8")
        command = sys.executable, "-m", "stairguard", "layout", "--json"
        pairs = [tuple(seconds(*command, str(job)) for job in jobs) for _ in range(PAIRS)]
    ratios = sorted(mine / theirs for mine, theirs in pairs)
    print(f"layout --json beside the stair / on it: {statistics.median(ratios):.2f} (goal 1.5)")


def main() -> None:
    """Print every ratio."""
    beside()
    outlines()
    many_edges()
    made_formulas()
    pushes()
    openings()
    lines()
    corners()
    step = ["--rise", "7-3/4in", "--run", "10in", "--nosing", "1in", "--tread", "1in", "--lift", "0in", "--json"]
    paired("opening / typer and numpy", 1.3, ["opening", *step], TYPER)
    paired("layout --json / typer and numpy", 1.6, ["layout", "--json"], TYPER)
    out = str(Path("{folder}") / "out")
    paired("layout --out / both scripts", 1.5, ["layout", "--out", out], TYPER, PLOT)
    growth()


if __name__ == "__main__":
    main()
