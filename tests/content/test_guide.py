"""The guide from a question to the papers holds: done in a copy, what it says is in the papers, and no code changes."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from textwrap import dedent

import pytest
from answers_text import ELEMENT, answers, wall
from jobs import ROOT
from recorded import in_full

from generator import pipeline
from generator.document.outline import outline
from generator.files.source import read_bytes
from generator.job.job import Job
from generator.library.lint import problems
from generator.library.load import read_library
from generator.library.model import Library
from generator.papers.assemble import assemble
from generator.papers.companions import companions
from generator.record.record import record

GUIDE = (ROOT / "clauses" / "README.md").read_text(encoding="utf-8")
BLOCK = re.compile(r"^ *```yaml\n(?P<text>.*?)^ *```$", re.DOTALL | re.MULTILINE)
PLACE = re.compile(r"# (?P<file>\S+), (?P<how>a new file|at the end|(?P<side>above|below) `(?P<line>.*)`)\n")
HEADING = "## From a question to the papers, worked through\n"


@dataclass(frozen=True)
class Step:
    """An entry of the guide: the file it goes into, the place there, and its lines."""

    file: str
    how: str
    side: str
    line: str
    text: str

    def done_to(self, held: str) -> str:
        """The text of the file with the entry in its place."""
        if self.line:
            assert held.count(f"{self.line}\n") == 1, f"{self.file} has no one line `{self.line}`"
            both = (self.text, f"{self.line}\n") if self.side == "above" else (f"{self.line}\n", self.text)
            return held.replace(f"{self.line}\n", "".join(both))
        return f"{held.rstrip()}\n{self.text}" if held else self.text


def steps() -> Iterator[Step]:
    section = GUIDE.partition(HEADING)[2].partition("\n## ")[0]
    for block in BLOCK.finditer(section):
        text = dedent(block["text"])
        place = PLACE.match(text)
        assert place is not None, text
        yield Step(place["file"], place["how"], place["side"] or "", place["line"] or "", text[place.end() :])


STEPS = list(steps())


def followed(top: Path) -> Path:
    """The guide followed in a folder that holds `clauses` and `templates`."""
    for step in STEPS:
        path = top / step.file
        assert path.exists() == (step.how != "a new file"), step.file
        path.write_text(step.done_to(path.read_text(encoding="utf-8") if path.exists() else ""), encoding="utf-8")
    return top


@pytest.fixture(scope="module")
def library(tmp_path_factory: pytest.TempPathFactory) -> Library:
    """The shipped library and templates, copied, with what the guide adds."""
    top = tmp_path_factory.mktemp("guide")
    for name in ("clauses", "templates"):
        shutil.copytree(ROOT / name, top / name)
    followed(top)
    return read_library(top / "clauses", templates=top / "templates")


def job(library: Library, *walls: str) -> Job:
    source = read_bytes(answers(*walls).encode(), "answers.yaml", typed=False)
    return pipeline.settled(pipeline.read(source, library), library)


def test_it_goes_from_question_to_sheet_through_data_alone() -> None:
    tops = ["questions", "tables", "names.yaml", "parts", "items", "operations"]
    assert [step.file.split("/")[1] for step in STEPS[:-1]] == tops
    assert STEPS[-1].file.startswith("templates/")
    assert not any(step.file.endswith(".py") for step in STEPS)


def test_the_library_it_leads_to_has_no_mistakes(library: Library) -> None:
    assert [str(problem) for problem in problems(library)] == []


def test_the_question_is_asked_and_stands_on_the_survey_sheet(library: Library) -> None:
    question = library.questionnaire.questions["air_bricks_nr"]
    (survey,) = companions(job(library, wall()), ["survey"]).values()
    assert question.label in outline(survey)


@pytest.fixture(scope="module")
def made(library: Library) -> Job:
    """The job of one dry wall with three air bricks."""
    return job(library, wall(air_bricks_nr="3", wall_wet="dry"))


def test_the_specification_has_the_fact_the_step_and_the_clause_with_the_value_looked_up(made: Job) -> None:
    text = outline(assemble(made).specification)
    number = made.numbers["clause:site.vents"]
    assert "Air bricks in it: 3" in text
    assert f"Mask every air brick; open all of them again before leaving. ({number})" in text
    assert f"\n{number} Air bricks and vents\n" in text
    assert "Keep none covered for longer than 8 hours in a day" in text
    assert "The foreman counts the vents at the end of each day; 3 are open." in text


def test_the_schedule_prices_it_in_the_specification_and_in_the_workbook(made: Job) -> None:
    papers = assemble(made)
    (row,) = [row for part in papers.book.sections for row in part.rows if row.description.startswith("Mask air")]
    assert (row.quantity, row.unit, row.where, row.clauses) == (
        Decimal(3), "nr", "Front wall (D-1)", made.numbers["clause:site.vents"],
    )  # fmt: skip
    assert row.description in outline(papers.specification)


def test_the_record_tells_the_answer_the_value_with_its_reason_the_line_and_the_clause(made: Job) -> None:
    data = in_full(record(made, "answers.yaml", b"", {}))
    assert data["answers"]["given"]["front"]["air_bricks_nr"] == "3 nr"
    value = data["works"][0]["values"]["vent_covered_hours"]
    assert (value["value"], value["reason"]["sources"]) == ("8 hours", ["common-practice"])
    assert value["reason"]["because"] == "A working day without air does a dry floor no harm."
    assert [item["quantity"] for item in data["items"] if item["rule"] == "prelims.vents"] == ["3"]
    (clause,) = [clause for clause in data["clauses"] if clause["id"] == "site.vents"]
    assert (clause["included"], clause["elements"]) == (True, ["front"])


def test_where_walls_differ_the_clause_has_its_phrase_and_a_table(library: Library) -> None:
    dry, damp = (
        wall(id_=wet, name=f"{wet.capitalize()} wall", air_bricks_nr="2", wall_wet=wet) for wet in ("dry", "damp")
    )
    text = outline(assemble(job(library, dry, damp)).specification)
    assert "Keep none covered for longer than the time given below in a day" in text
    assert "Dry wall | 8 hours" in text
    assert "Damp wall | 4 hours" in text


@pytest.mark.parametrize("answer", [None, "0"])
def test_where_there_are_none_no_paper_names_them(answer: str | None, library: Library) -> None:
    assert "air_bricks_nr" not in ELEMENT
    made = job(library, wall(air_bricks_nr=answer))
    assert "site.vents" not in [clause.clause_id for part in made.parts for clause in part.clauses]
    assert "Mask" not in [row.description[:4] for part in assemble(made).book.sections for row in part.rows]


@pytest.mark.slow
def test_the_checks_of_content_hold_in_a_copy_of_the_checkout_that_followed_it(tmp_path: Path) -> None:
    kept = ("clauses", "templates", "generator", "tests", "examples", "README.md", "DEVELOPERS.md", "pyproject.toml")
    for name in kept:
        copy = shutil.copytree if (ROOT / name).is_dir() else shutil.copy
        copy(ROOT / name, tmp_path / name)
    followed(tmp_path)
    environment = {"PYTHONPATH": f"{tmp_path}:{tmp_path / 'tests'}", "PYTHONDONTWRITEBYTECODE": "1"}
    wanted = [f"test_{name}.py" for name in ("library", "reachable", "tables", "wording", "words", "topics", "golden")]
    for command in (
        [sys.executable, "tests/content/test_tables.py"],
        [sys.executable, "tests/golden.py"],
        [
            sys.executable,
            "-m",
            "pytest",
            "-q",
            "-n0",
            "-p",
            "no:cacheprovider",
            *(f"tests/content/{n}" for n in wanted),
        ],
    ):
        done = subprocess.run(command, cwd=tmp_path, env=environment, capture_output=True, text=True, check=False)
        assert done.returncode == 0, done.stdout[-3000:] + done.stderr[-3000:]
