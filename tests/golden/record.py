"""Writes the golden texts anew: ``python -m tests.golden.record``. Read the difference before you keep it."""

from tests.golden.cases import CASES, KEPT

if __name__ == "__main__":
    KEPT.mkdir(exist_ok=True)
    for old in KEPT.glob("*.txt"):
        if old.stem not in CASES:
            old.unlink()
    for name, make in CASES.items():
        KEPT.joinpath(f"{name}.txt").write_text(make(), encoding="utf-8", newline="\n")
