"""The index of walls: each work with its own clauses, lines and mixes."""

from __future__ import annotations

from answers_text import one_wall
from jobs import ROOT, job, part

from generator.document.model import Block, Table, plain_text
from generator.job.job import Job
from generator.papers.index import wall_index

MILL = (ROOT / "examples" / "mill-house" / "answers.yaml").read_text(encoding="utf-8")


def index(made: Job) -> list[Block]:
    return list(wall_index(made, part(made, "wall-index")))


def test_one_work_needs_no_index() -> None:
    assert index(job(one_wall())) == []


def test_each_work_names_the_clauses_that_speak_to_it_and_no_others() -> None:
    made = job(MILL)
    table = next(block for block in index(made) if isinstance(block, Table))
    rows = {plain_text(row.cells[0]): [plain_text(cell) for cell in row.cells[1:]] for row in table.rows}
    assert len(rows) == len(made.facts.at("work"))
    clauses, lines, mixes = rows["Rear wall, limewashing"]
    washing = made.numbers["part:limewash"]
    assert any(number.startswith(f"{washing}.") for number in clauses.split(", "))
    assert not any(number.startswith(f"{made.numbers['part:pointing']}.") for number in clauses.split(", "))
    assert (lines, mixes) == ("5.7", "M7")
    assert made.numbers["clause:tendering.return"] not in clauses.split(", ")


def test_a_work_without_mortar_has_no_mix() -> None:
    made = job(MILL)
    table = next(block for block in index(made) if isinstance(block, Table))
    gutters = next(row for row in table.rows if plain_text(row.cells[0]) == "Front wall, enabling work")
    assert plain_text(gutters.cells[3]) == made.word("nothing")
