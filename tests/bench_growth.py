"""Growth, run by hand: `python tests/bench_growth.py [WORKS …]`. CPU seconds of `write` by the number of works.

Each job repeats one invented wall, on several workplaces of the same few mixes; growth should be in line with
the works. A workbook of a thousand lines is timed alone. Never a timed test: machines differ.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

from bench import ROOT, cpu_seconds

from generator.values import replace

sys.path.insert(0, str(ROOT))  # this checkout, whatever is installed

WORKS = (10, 100, 1_000)
LINES = (100, 1_000)
SORTS: tuple[dict[str, str], ...] = ({}, {"hardness": "medium"}, {"exposure": "severe"})
"""Walls that take a few different mixes."""


def many(count: int) -> str:
    """An answers text of so many walls with one work each."""
    from answers_text import answers, wall

    walls = (wall(id_=f"w{number}", name=f"Wall {number}", **SORTS[number % len(SORTS)]) for number in range(count))
    return answers(*walls)


def write_grows(counts: list[int]) -> None:
    print(f"{'write':<24} {'CPU s':>8} {'s a work':>10}")
    program = [sys.executable, "-m", "generator", "write"]
    with tempfile.TemporaryDirectory() as folder:
        for count in counts:
            path = Path(folder) / f"{count}.yaml"
            path.write_text(many(count), encoding="utf-8")
            seconds = cpu_seconds([*program, str(path), "--out", f"{folder}/{count}"])
            done = (Path(folder) / str(count) / "record.json").exists()
            print(f"{f'{count:,} works':<24} {seconds:>8.2f} {seconds / count:>10.4f}{'' if done else '  not written'}")


def workbook_grows() -> None:
    from answers_text import one_wall
    from jobs import job

    from generator.papers.assemble import assemble
    from generator.render.workbook.book import pricing_workbook

    print(f"\n{'workbook alone':<24} {'CPU s':>8} {'ms a line':>10}")
    book = assemble(job(one_wall())).book
    section = next(section for section in book.sections if section.rows)
    for count in LINES:
        rows = tuple(replace(section.rows[0], ref=f"{section.rows[0].ref}.{number}") for number in range(count))
        begun = time.process_time()
        pricing_workbook(replace(book, sections=(replace(section, rows=rows),)))
        seconds = time.process_time() - begun
        print(f"{f'{count:,} lines':<24} {seconds:>8.2f} {1000 * seconds / count:>10.3f}")


def main() -> None:
    """Prints the seconds of whole runs by the number of works, and of workbooks by the number of lines."""
    write_grows([int(word) for word in sys.argv[1:]] or list(WORKS))
    workbook_grows()


if __name__ == "__main__":
    main()
