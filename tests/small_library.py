"""A library for tests of code: the shipped questions, tables and recipes, and not one of its sentences.

Every word that a reader sees is spelt by its own key and the places that are filled in it: `applies-to`, `gutter-first
message`, `row of dates: start date`. Clauses are a handful, or a test's own. So a sentence of the shipped clauses or
templates can change, or a question be added, and no test of code fails for it.
"""

from __future__ import annotations

import functools
import re
from collections.abc import Mapping
from typing import Any, Final, TypeVar

from jobs import shipped

from generator import pipeline
from generator.document.template import Paper, PaperPart, Shown
from generator.files.errors import Mark
from generator.files.shapes import Shape
from generator.files.shaping import read_as
from generator.files.source import read_bytes
from generator.job.job import Job
from generator.job.numbers import Register
from generator.library.entries import Clause, Part
from generator.library.model import Conditioned, Library
from generator.library.needed import needing
from generator.library.tables import Table
from generator.questionnaire.names import Name, Names
from generator.questionnaire.parsing import parse
from generator.questionnaire.questions import Choice
from generator.values import replace

Entry = TypeVar("Entry", bound=Shape)

PARTS: Final = ("first", "second")
# Choices whose words are data: they set papers out.
SET_OUT: Final = ("language", "paper", "currency", "date_form")
# What a reader sees of each kind of entry, and is spelt by its key; left out where it says nothing.
SENTENCES: Final = {
    "findings": ("message", "action", "instruction"),
    "items": ("description", "includes"),
    "operations": ("text", "shows"),
    "hold_points": ("what", "released_by", "notice"),
    "recipes": ("name", "used", "water", "signs", "because"),
    "materials": ("name", "short", "box", "order_because"),
}
_HOLE: Final = re.compile(r"\{\{.*?\}\}|\{[a-z_]+\}")


def clause(id_: str, **fields: object) -> Clause:
    """A clause of a test's own; its part is the first word of its id."""
    told = {"title": f"Title of {id_}", "text": f"Text of {id_}.", "cost": "information"}
    made = {"id": id_, **told, "sources": ("common-practice",), **fields}
    return read_as(Clause, made)


HANDFUL: Final = (
    clause("first.job"),
    clause("first.walls", per="element", text="Walls of {{ masonry }}."),
    clause("first.depth", per="work", when="work == 'repoint'", text="Rake to {{ rake_depth_mm }}.", check="A gauge."),
    clause("second.damp", per="coat", text="Damp for {{ damp_days }}, as [](clause:first.job) says."),
    clause("second.people", if_unknown="include", when="lived_in", because="People."),
)


def spelt(key: str, text: str) -> str:
    """A text of a key: the key, and the places of the text that it stands for, in their order; "" for none."""
    return " ".join([key, *_HOLE.findall(text)]) if text else ""


def plain(key: str) -> str:
    """A key as a word in a sentence: `nhl-3.5` as `nhl 3.5`, `rake_depth_mm` as `rake depth mm`."""
    return re.sub(r"[-_]", " ", key)


@functools.cache
def small() -> Library:
    """The small library, with the handful of clauses."""
    return library_of(*HANDFUL)


def library_of(*clauses: Clause) -> Library:
    """The small library with these clauses, in two parts."""
    library = unworded()
    conditions = dict(library.conditions)
    for item in clauses:
        conditions["clause", item.id] = Conditioned(parse(item.when, item.per, library.names) if item.when else None)
    marks = {("clause", item.id): Mark("own.yaml", 1, 1) for item in clauses}
    return replace(
        library,
        clauses={item.id: item for item in clauses},
        part_of={item.id: item.id.split(".")[0] for item in clauses},
        conditions=conditions,
        marks={**library.marks, **marks},
    )


@functools.lru_cache(maxsize=64)
def job(text: str) -> Job:
    """The job of an answers text by the small library."""
    return _settled(text, small())


def job_of(text: str, *clauses: Clause, last: Register | None = None) -> Job:
    """The job of an answers text in the words of these clauses."""
    return _settled(text, library_of(*clauses), last)


def _settled(text: str, library: Library, last: Register | None = None) -> Job:
    source = read_bytes(text.encode(), "answers.yaml", typed=False)
    return pipeline.settled(pipeline.read(source, library), library, last)


# --- every sentence spelt by its key ------------------------------------------------------------------------


@functools.cache
def unworded() -> Library:
    """The shipped library without its clauses, every sentence of it spelt by its key."""
    library = shipped()
    worded: dict[str, Any] = {
        kind: {key: _spelt(key, entry, fields) for key, entry in getattr(library, kind).items()}
        for kind, fields in SENTENCES.items()
    }
    worded["operations"] = {key: replace(entry, clauses=(), steps=()) for key, entry in worded["operations"].items()}
    worded["findings"] = {key: replace(entry, clauses=()) for key, entry in worded["findings"].items()}
    return needing(
        replace(
            library,
            **worded,
            name="Small",
            edition="1",
            tables={key: _table(table) for key, table in library.tables.items()},
            names=_names(library.names),
            questionnaire=replace(library.questionnaire, questions=_questions(library)),
            parts=tuple(Part(id=name, title=f"Part {name}") for name in PARTS),
            clauses={},
            part_of={},
            conditions={key: value for key, value in library.conditions.items() if key[0] != "clause"},
            words={key: spelt(key, word) for key, word in library.words.items()},
            templates={key: _paper(key, paper) for key, paper in library.templates.items()},
        )
    )


def _spelt(key: str, entry: Entry, fields: tuple[str, ...]) -> Entry:
    return replace(entry, **{field: spelt(f"{key} {field}", getattr(entry, field)) for field in fields})


def _table(table: Table) -> Table:
    """A table whose reasons are told by their row alone."""
    rows = (
        replace(row, because=spelt(f"{table.id} {number} because", row.because))
        for number, row in enumerate(table.rows, start=1)
    )
    return replace(table, rows=tuple(rows))


def _names(names: Mapping[str, Name]) -> Names:
    """The register, each name called by itself and each choice said as it is written."""
    return Names({key: _name(name) for key, name in names.items()})


def _name(name: Name) -> Name:
    return replace(
        name,
        label=plain(name.name).capitalize(),
        phrase=f"the {plain(name.name)} tabled" if name.phrase else "",
        choices={word: said if name.name in SET_OUT else plain(word) for word, said in name.choices.items()},
        columns=_names(name.columns) if name.columns else None,
    )


def _questions(library: Library) -> dict[str, Any]:
    asked = library.questionnaire.questions
    return {
        key: replace(
            question,
            label=plain(key).capitalize(),
            why=f"Why {plain(key)}.",
            how=f"How {plain(key)}." if question.how else "",
            phrase=f"the {plain(key)} tabled" if question.phrase else "",
            choices=tuple(_choice(key, choice) for choice in question.choices),
        )
        for key, question in asked.items()
    }


def _choice(question: str, choice: Choice) -> Choice:
    says = choice.says if question in SET_OUT else plain(choice.is_)
    return Choice(choice.is_, says)


def _paper(key: str, paper: Paper) -> Paper:
    return Paper(spelt(f"title of {key}", paper.title), tuple(map(_part, paper.parts)))


def _part(part: PaperPart) -> PaperPart:
    told = ("heading", "label", "header", "caption", "about", "text", "if_none")
    return replace(
        part,
        **{field: spelt(f"{field} of {part.part}", getattr(part, field)) for field in told},
        lines={key: spelt(f"{part.part}: {key}", line) for key, line in part.lines.items()},
        rows=tuple(_shown("row", part.part, row) for row in part.rows),
        columns=tuple(_shown("column", part.part, column) for column in part.columns),
        parts=tuple(map(_part, part.parts)),
    )


def _shown(what: str, part: str, shown: Shown) -> Shown:
    return replace(shown, label=spelt(f"{what} of {part}: {plain(shown.shows) or 'blank'}", shown.label))
