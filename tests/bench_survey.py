"""How long an answer takes until the page shows what it changes: whole requests, on demand, never a timed test.

python tests/bench_survey.py [EXAMPLE] [REQUESTS]
"""

from __future__ import annotations

import shutil
import statistics
import sys
import tempfile
import time
from pathlib import Path

from survey_pages import Browser, app_of

from generator.asking.survey.serving import spare_garbage

ROOT = Path(__file__).resolve().parent.parent
TURNS = {
    "exposure": ("severe", "moderate", "sheltered"),
    "hardness": ("medium", "soft"),
    "height_m": ("6", "7", "8"),
    "joint_finish": ("brushed-flush", "slightly-recessed"),
}
"""What is answered in turn, so that each request changes something."""


def main(example: str, requests: int = 100) -> None:
    """Answers questions of the first wall in turn, and prints the times."""
    with tempfile.TemporaryDirectory() as folder:
        shutil.copytree(ROOT / "examples" / example, Path(folder) / example)
        browser = Browser(app_of(Path(folder) / example / "answers.yaml"))
        spare_garbage()  # as it is served
        took = [_one(browser, turn) for turn in range(requests + 1)][1:]
    whole = sorted(wall for wall, _ in took)
    busy = sorted(cpu for _, cpu in took)
    for name, found in (("whole requests", whole), ("of them busy", busy)):
        middle, late = statistics.median(found), found[int(len(found) * 0.95) - 1]
        print(
            f"{example}: {requests} {name}: middle {middle:.0f} ms, 95th of 100 {late:.0f} ms, most {found[-1]:.0f} ms"
        )


def _one(browser: Browser, turn: int) -> tuple[float, float]:
    name = list(TURNS)[turn % len(TURNS)]
    where = ("front", "repoint") if name == "joint_finish" else ("front",)
    values = TURNS[name]
    fields = {
        **browser.filled(browser.ask(name, *where)),
        "answer": values[turn // len(TURNS) % len(values)],
        "do": "save",
    }
    began, cpu = time.perf_counter(), time.process_time()
    page = browser.post("/answer", fields, **{"X-Survey-Script": "yes"})
    assert page.status == 200, page.text
    return (time.perf_counter() - began) * 1000, (time.process_time() - cpu) * 1000


if __name__ == "__main__":
    main((sys.argv[1:] or ["mill-house"])[0], int((sys.argv[2:] or ["100"])[0]))
