"""Whole-process times, run by hand: `python tests/bench.py`. Never a timed test: machines differ."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
RUNS = 5


def cpu_seconds(arguments: list[str]) -> float:
    """User and system seconds of one run."""
    before = os.times()
    subprocess.run(arguments, check=False, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, cwd=ROOT)
    after = os.times()
    return (after.children_user - before.children_user) + (after.children_system - before.children_system)


def measured(label: str, arguments: list[str]) -> None:
    times = sorted(cpu_seconds(arguments) for _ in range(RUNS))
    print(f"{label:<34} {times[0]:.2f}  {statistics.median(times):.2f}  {times[-1]:.2f}")


def large_libraries(folder: Path) -> None:
    """Reads and checks a layer of many house clauses over the shipped library; growth should be in line."""
    clause = (ROOT / "clauses" / "parts" / "09-pointing.yaml").read_text("utf-8").split("clauses:\n", 1)[1]
    one = "- id:" + clause.split("- id:")[1]
    name = one.split("\n", 1)[0].removeprefix("- id: ")
    for count in (2_500, 5_000, 10_000):
        layer = folder / str(count)
        (layer / "clauses").mkdir(parents=True)
        (layer / "layer.yaml").write_text("{name: many, edition: '1'}\n", encoding="utf-8")
        for number in range(count):
            text = one.replace(f"- id: {name}\n", f"- id: many.c{number}\n  part: pointing\n", 1)
            (layer / "clauses" / f"c{number}.yaml").write_text("clauses:\n" + text, encoding="utf-8")
        program = [sys.executable, "-m", "generator", "clauses", "check", "--layer", str(layer)]
        measured(f"clauses check, {count:,} more", program)


def main() -> None:
    """Prints least, middle and most CPU seconds of start-up, check and write."""
    program = [sys.executable, "-m", "generator"]
    print(f"{'CPU s of ' + str(RUNS) + ' runs':<34} least middle most")
    measured("python -c pass", [sys.executable, "-c", "pass"])
    measured("gaugebox --help", [*program, "--help"])
    with tempfile.TemporaryDirectory() as folder:
        for answers in sorted((ROOT / "examples").glob("*/answers.yaml")):
            name = answers.parent.name
            measured(f"check {name}", [*program, "check", str(answers)])
            measured(f"write {name}", [*program, "write", str(answers), "--out", f"{folder}/{name}"])
        large_libraries(Path(folder))


if __name__ == "__main__":
    main()
