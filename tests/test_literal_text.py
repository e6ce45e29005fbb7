"""Any text answer appears literally in the papers, and as text in the workbook; what cannot be shown is refused."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator
from typing import Any

import openpyxl
import pytest
from docx_reading import W, outline, part, text_of
from jobs import ROOT, job, shipped
from plain_yaml import as_yaml, from_yaml

from generator import pipeline
from generator.files.errors import InputInvalid

ANSWERS = (ROOT / "examples" / "toll-house" / "answers.yaml").read_text(encoding="utf-8")
HOSTILE = [
    "{{7*7}} # **x** <b>",
    "=1+1",
    "+49 & co. <script>",
    "قلعة الجير",
    "石灰の家 🧱",
    "Ω é ñ ½ ² – “q”",
    "- item [a](clause:b) \\ | x",
]


NOT_PRINTED = {"old_sand_passing"}  # a grading, which is reckoned with


def texts() -> Iterator[tuple[str, str]]:
    """The scope and name of every free text answered in the example."""
    answers = from_yaml(ANSWERS)
    questions = shipped().questionnaire.questions
    for name in answers["project"]:
        if questions[name].kind == "text":
            yield "project", name
    for name in answers["elements"][0]:
        if name in questions and questions[name].kind == "text" and name not in NOT_PRINTED:
            yield "element", name
    for name in answers["elements"][0]["works"][0]:
        if name in questions and questions[name].kind == "text":
            yield "work", name


def changed(scope: str, name: str, text: str) -> str:
    answers = from_yaml(ANSWERS)
    scope_of(answers, scope)[name] = text
    return as_yaml(answers)


def scope_of(answers: dict[str, Any], scope: str) -> dict[str, Any]:
    """The answers of the job, of its first wall, or of that wall's first work."""
    element = answers["elements"][0]
    found: dict[str, dict[str, Any]] = {"project": answers["project"], "element": element, "work": element["works"][0]}
    return found[scope]


def shown(text: str) -> str:
    """All that the three papers show of an answers text."""
    files = pipeline.papers(job(text))
    book = openpyxl.load_workbook(io.BytesIO(files["pricing-schedule.xlsx"]))
    cells = [str(cell.value) for sheet in book for row in sheet.iter_rows() for cell in row if cell.value is not None]
    return "\n".join([*paragraphs(files["specification.docx"]), *paragraphs(files["mix-schedule.docx"]), *cells])


def paragraphs(data: bytes) -> list[str]:
    """The text of every paragraph of a Word file, those in tables and controls too."""
    return [text_of(paragraph) for paragraph in part(data).iter(f"{{{W}}}p")]


@pytest.mark.parametrize("hostile", HOSTILE)
def test_the_title_appears_as_it_is_spelt_in_every_paper(hostile: str) -> None:
    files = pipeline.papers(job(changed("project", "title", hostile)))
    assert any(hostile in line for line in outline(files["specification.docx"]))
    book = openpyxl.load_workbook(io.BytesIO(files["pricing-schedule.xlsx"]))
    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row if cell.value == hostile]
    assert cells
    assert {cell.data_type for cell in cells} == {"s"}


def test_every_text_answer_appears_as_it_is_spelt() -> None:
    """All are made hostile at once, each with a mark of its own, so that none stands in for another."""
    questions = shipped().questionnaire.questions
    answers = from_yaml(ANSWERS)
    spelt = {}
    for mark, (scope, name) in enumerate(texts()):
        most = int(questions[name].most or 80)
        spelt[name] = f"#{mark}: {{{{7*7}}}} # **x** <b> =1+1"[:most].strip()
        scope_of(answers, scope)[name] = spelt[name]
    told = shown(as_yaml(answers))
    assert len(spelt) > 20
    assert [name for name, hostile in spelt.items() if hostile not in told] == []


def test_five_thousand_characters_are_shown_whole() -> None:
    long = "lime " * 999 + "end"
    assert long in shown(changed("project", "significance", long))


def test_more_than_can_be_shown_is_refused_with_its_line() -> None:
    with pytest.raises(InputInvalid) as caught:
        job(changed("project", "significance", "x" * 5_001))
    (problem,) = caught.value.problems
    assert problem.mark.line > 1


@pytest.mark.parametrize("control", ["\x00", "\x07", "\x1b", "\ufffe"])
def test_control_characters_are_refused_with_their_place(control: str) -> None:
    with pytest.raises(InputInvalid) as caught:
        job(ANSWERS.replace("Toll house, repointing", f"Toll{control} house, repointing"))
    (problem,) = caught.value.problems
    assert problem.mark.line == next(
        number for number, line in enumerate(ANSWERS.splitlines(), 1) if "Toll house, repointing in" in line
    )


def test_a_formula_in_an_answer_is_no_formula_in_the_workbook() -> None:
    files = pipeline.papers(job(changed("work", "extent", "=1+1")))
    with zipfile.ZipFile(io.BytesIO(files["pricing-schedule.xlsx"])) as book:
        formulas = "".join(book.read(name).decode() for name in book.namelist() if name.startswith("xl/worksheets/"))
    assert "<f>1+1</f>" not in formulas
