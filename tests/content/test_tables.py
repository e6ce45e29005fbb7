"""Every figure of the tables entered a second time, so that none changes by a slip; and every row with its source.

`tables.txt` is the second entry. Who changes a figure on purpose runs `python tests/content/test_tables.py`, reads the
difference, and commits both.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml

ROOT = Path(__file__).resolve().parent.parent.parent
SECOND_ENTRY = Path(__file__).with_name("tables.txt")
TABLES = sorted((ROOT / "clauses" / "tables").glob("*.yaml"))


def spelt(path: Path) -> Iterator[str]:
    """A line for each value of a table: its id, the keys of its row, the value's name and the value as spelt."""
    table = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.CBaseLoader)
    for row in table["rows"]:
        keys = " ".join(f"{name}={_cell(cell)}" for name, cell in (row["keys"] or {}).items())
        for name, value in row["values"].items():
            yield f"{table['id']} | {keys} | {name} = {_cell(value)}"


def _cell(cell: object) -> str:
    return "/".join(map(str, cell)) if isinstance(cell, list) else str(cell)


def every_line() -> list[str]:
    return [line for path in TABLES for line in spelt(path)]


def test_every_figure_equals_its_second_entry() -> None:
    assert every_line() == SECOND_ENTRY.read_text(encoding="utf-8").splitlines()


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.stem)
def test_every_row_says_why_by_which_source_and_how_sure(path: Path) -> None:
    table = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.CBaseLoader)
    assert path.stem == table["id"]
    for row in table["rows"]:
        assert row["because"].strip().endswith((".", ")")), row
        assert row["sources"]
        assert row["confidence"] in {"read", "read-trade", "read-second-hand", "derived", "memory", "judgement"}


if __name__ == "__main__":
    SECOND_ENTRY.write_text("".join(f"{line}\n" for line in every_line()), encoding="utf-8")
