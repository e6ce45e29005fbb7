"""The programme's share of `write`, run by hand: `python tests/bench_programme.py [WALLS …]`.

The walls are those of an estate, all of the example with many walls: with gangs for each house, so that it can be
built, and with one of each trade for all, so that it cannot and ways out are reckoned. CPU seconds of the reckoning in
time (works, network, three runs, ways out, findings, orders), and of the whole of `write` in a process of its own. It
should be a tenth at most for a hundred walls that can be built. Never a timed test: machines differ.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

from bench import ROOT, cpu_seconds
from bench_estate import estate

sys.path.insert(0, str(ROOT))  # this checkout, whatever is installed

WALLS = (10, 100)
TRADES = ("masonry", "plaster", "wash", "scaffold", "enabling")


def manned(text: str) -> str:
    """An estate with as many gangs of each trade as it has houses."""
    from plain_yaml import as_yaml, from_yaml

    answers = from_yaml(text)
    houses = len({wall["id"].rsplit("-", 1)[1] for wall in answers["elements"]})
    answers["project"]["gangs"] = [{"trade": trade, "gangs_nr": houses} for trade in TRADES]
    return as_yaml(answers)


def reckoned(text: str) -> tuple[float, int, str]:
    """CPU seconds of the programme of an answers text, its tasks, and when it ends; a star where it passes limits."""
    from jobs import shipped

    from generator.decide.decide import decide
    from generator.files.source import read_bytes
    from generator.measure.measure import measure
    from generator.measure.photographs.survey import survey
    from generator.pipeline import read
    from generator.programme.plan import programme

    library = shipped()
    answers = read(read_bytes(text.encode(), "answers.yaml", typed=False), library)
    measured = measure(decide(survey(answers, library, None).facts, library), library)
    begun = time.process_time()
    found = programme(measured, library)
    seconds = time.process_time() - begun
    assert found.runs is not None
    late = "*" if found.runs.likely.short else ""
    return seconds, len(list(found.tasks())), f"{found.runs.likely.end}{late}"


def main(counts: list[int]) -> None:
    """Prints seconds of the programme and of `write`, and the share, for each number of walls."""
    print(f"{'walls':>7} {'tasks':>7} {'ends':>12} {'programme, s':>13} {'write, s':>9} {'share':>7}")
    with tempfile.TemporaryDirectory() as folder:
        for count in counts:
            for name, text in (("built", manned(estate(count))), ("late", estate(count))):
                path = Path(folder) / f"{count}-{name}.yaml"
                path.write_text(text, encoding="utf-8")
                seconds, tasks, end = reckoned(text)
                out = f"{folder}/{count}-{name}"
                whole = cpu_seconds([sys.executable, "-m", "generator", "write", str(path), "--out", out])
                print(f"{count:>7,} {tasks:>7,} {end:>12} {seconds:>13.2f} {whole:>9.2f} {seconds / whole:>7.1%}")


if __name__ == "__main__":
    main([int(count) for count in sys.argv[1:]] or list(WALLS))
