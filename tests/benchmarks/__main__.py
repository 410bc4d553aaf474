"""Start-up and growth, as ratios: each command against its baseline, in pairs, medians of the pairwise ratios."""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
import tracemalloc
from pathlib import Path

from stairguard.rules.read import read_rules
from stairguard.solve.layout import lay_out
from tests.solve.jobs import BASE, with_flight

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
        least = min(times)
        if risers == 16:
            base = least, peak
        print(f"layout of {risers:5} risers: time {least / base[0]:6.2f}, memory {peak / base[1]:6.2f}, of 16 risers'")


def main() -> None:
    """Print every ratio."""
    step = ["--rise", "7-3/4in", "--run", "10in", "--nosing", "1in", "--tread", "1in", "--lift", "0in", "--json"]
    paired("opening / typer and numpy", 1.3, ["opening", *step], TYPER)
    paired("layout --json / typer and numpy", 1.6, ["layout", "--json"], TYPER)
    out = str(Path("{folder}") / "out")
    paired("layout --out / both scripts", 1.5, ["layout", "--out", out], TYPER, PLOT)
    growth()


if __name__ == "__main__":
    main()
