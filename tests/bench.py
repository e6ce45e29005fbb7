"""Whole-process times, run by hand: `python tests/bench.py`. Never a timed test: machines differ."""

from __future__ import annotations

import os
import shutil
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
RUNS = 5
PAIRS = 11
LARGEST = "mill-house"


def cpu_seconds(arguments: list[str]) -> float:
    """User and system seconds of one run."""
    before = os.times()
    subprocess.run(arguments, check=False, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, cwd=ROOT)
    after = os.times()
    return (after.children_user - before.children_user) + (after.children_system - before.children_system)


def measured(label: str, arguments: list[str]) -> None:
    times = sorted(cpu_seconds(arguments) for _ in range(RUNS))
    print(f"{label:<34} {times[0]:.2f}  {statistics.median(times):.2f}  {times[-1]:.2f}")


def beside_pandoc(folder: Path) -> None:
    """`write` of the largest example, all its files, beside a copy of its specification alone by pandoc, in turn."""
    if shutil.which("pandoc") is None:
        print("beside pandoc: not run, pandoc is not installed")
        return
    out = folder / "paired"
    answers = ROOT / "examples" / LARGEST / "answers.yaml"
    write = [sys.executable, "-m", "generator", "write", str(answers), "--out", str(out)]
    cpu_seconds(write)
    paper = shutil.copy(out / "specification.docx", folder / "paper.docx")
    copy = ["pandoc", str(paper), "-o", str(folder / "copy.docx")]
    pairs = [(cpu_seconds(write), cpu_seconds(copy)) for _ in range(PAIRS)]
    ours, theirs = zip(*pairs, strict=True)
    for label, times in ((f"write {LARGEST}, {PAIRS} in turn", ours), ("pandoc, its specification alone", theirs)):
        print(f"{label:<34} {min(times):.2f}  {statistics.median(times):.2f}  {max(times):.2f}")
    ratios = min(ours) / min(theirs), statistics.median(ours) / statistics.median(theirs)
    print(f"{'share of pandoc':<34} {ratios[0]:.2f}  {ratios[1]:.2f}")


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
    """Prints least, middle and most CPU seconds of start-up, check and write; `pandoc` alone sets a write beside it."""
    # Python keeps what it compiled, and the program its library, only where this is not set
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    program = [sys.executable, "-m", "generator"]
    print(f"{'CPU s of ' + str(RUNS) + ' runs':<34} least middle most")
    if sys.argv[1:] == ["pandoc"]:
        with tempfile.TemporaryDirectory() as folder:
            beside_pandoc(Path(folder))
        return
    measured("python -c pass", [sys.executable, "-c", "pass"])
    measured("gaugebox --help", [*program, "--help"])
    with tempfile.TemporaryDirectory() as folder:
        for answers in sorted((ROOT / "examples").glob("*/answers.yaml")):
            name = answers.parent.name
            measured(f"check {name}", [*program, "check", str(answers)])
            measured(f"write {name}", [*program, "write", str(answers), "--out", f"{folder}/{name}"])
        beside_pandoc(Path(folder))
        large_libraries(Path(folder))


if __name__ == "__main__":
    main()
