"""Estates, run by hand: `python tests/bench_estate.py [WALLS …]`. CPU and memory of `write` by the number of walls.

Then of writing the set over once more, and of `papers check` of its specification. Each wall is answered in full: those
of an example with many walls, one after another. The last line holds the most walls against a tenth of them: growth in
line gives ten. Never a timed test: machines differ.
"""

from __future__ import annotations

import copy
import os
import subprocess
import sys
import tempfile
from pathlib import Path

from bench import ROOT

sys.path.insert(0, str(ROOT))  # this checkout, whatever is installed

WALLS = (10, 100, 300, 1_000, 3_000)
MODEL = ROOT / "examples" / "mill-house" / "answers.yaml"
_KIB_PER_MB = 1_000_000 / 1_024


def estate(count: int, model: Path = MODEL) -> str:
    """An answers text of so many walls, each one of the model's under an id and a name of its own, without pictures."""
    from plain_yaml import as_yaml, from_yaml

    answers = from_yaml(model.read_text(encoding="utf-8"))
    models = answers["elements"]
    walls = []
    for number in range(count):
        house, place = divmod(number, len(models))
        wall = copy.deepcopy(models[place])
        wall["id"], wall["name"] = f"{wall['id']}-{house}", f"{wall['name']}, house {house}"
        if "cured_on" in wall:  # by a wall of the same house
            wall["cured_on"] = [f"{cure}-{house}" for cure in wall["cured_on"]]
        walls.append(wall)
    answers["project"].pop("photographs", None)
    return as_yaml({**answers, "elements": walls})


def run(arguments: list[str]) -> tuple[float, float, str]:
    """User and system seconds of a process, the most memory it held in MB, and what it told of a mistake."""
    with tempfile.TemporaryFile() as told:
        child = subprocess.Popen(arguments, stdout=subprocess.DEVNULL, stderr=told, cwd=ROOT)
        _, _, used = os.wait4(child.pid, 0)
        told.seek(0)
        words = told.read(200).decode(errors="replace")
    return used.ru_utime + used.ru_stime, used.ru_maxrss / _KIB_PER_MB, words


def main(counts: list[int]) -> None:
    """Prints seconds, memory and the size of the record for each number of walls."""
    heads = f"{'over, s':>9} {'MB':>7} {'check, s':>9} {'MB':>7}"
    print(f"{'walls':>7} {'CPU s':>8} {'ms a wall':>10} {'MB':>7} {'record, kB a wall':>18} {heads}")
    seconds: dict[int, float] = {}
    with tempfile.TemporaryDirectory() as folder:
        for count in counts:
            path, out = Path(folder) / f"{count}.yaml", Path(folder) / str(count)
            path.write_text(estate(count), encoding="utf-8")
            writes = [sys.executable, "-m", "generator", "write", str(path), "--out", str(out)]
            seconds[count], memory, told = run(writes)
            file = out / "record.json"
            size = f"{file.stat().st_size / 1000 / count:.1f}" if file.exists() else f"not written: {told}"
            per_wall = 1000 * seconds[count] / count
            over, room, _ = run(writes)
            checks = [sys.executable, "-m", "generator", "papers", "check", str(out / "specification.docx")]
            looked, held, _ = run(checks)
            more = f"{over:>9.2f} {room:>7.0f} {looked:>9.2f} {held:>7.0f}"
            print(f"{count:>7,} {seconds[count]:>8.2f} {per_wall:>10.1f} {memory:>7.0f} {size:>18} {more}", flush=True)
    for most in sorted(count for count in counts if count // 10 in seconds):
        print(f"{most:,} walls take {seconds[most] / seconds[most // 10]:.1f} times as long as {most // 10:,}")


if __name__ == "__main__":
    main([int(count) for count in sys.argv[1:]] or list(WALLS))
