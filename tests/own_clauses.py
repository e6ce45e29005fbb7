"""Jobs whose only clauses are a test's own, so that a test shows all the words it rests on."""

from __future__ import annotations

from dataclasses import replace

from jobs import shipped

from generator import pipeline
from generator.errors import Mark
from generator.files.source import read_bytes
from generator.job.job import Job
from generator.job.numbers import Register
from generator.library.model import Clause, Conditioned, Library, Part
from generator.questionnaire.parsing import parse

PARTS = ("first", "second")


def clause(id_: str, **fields: object) -> Clause:
    """A clause of a test's own; its part is the first word of its id."""
    made = {"id": id_, "title": f"Title of {id_}", "text": f"Text of {id_}.", "sources": ("common-practice",), **fields}
    return Clause.model_validate(made)


def library_of(*clauses: Clause) -> Library:
    """The shipped library with these clauses, in two parts, in place of its own."""
    library = shipped()
    conditions = {key: value for key, value in library.conditions.items() if key[0] != "clause"}
    for item in clauses:
        when = parse(item.when, item.per, library.names) if item.when else None
        conditions["clause", item.id] = Conditioned(when)
    operations = {key: entry.model_copy(update={"clauses": ()}) for key, entry in library.operations.items()}
    return replace(
        library,
        parts=tuple(Part(id=name, title=f"Part {name}") for name in PARTS),
        clauses={item.id: item for item in clauses},
        part_of={item.id: item.id.split(".")[0] for item in clauses},
        conditions=conditions,
        operations=operations,
        marks={**library.marks, **{("clause", item.id): Mark("own.yaml", 1, 1) for item in clauses}},
    )


def job_of(text: str, *clauses: Clause, last: Register | None = None) -> Job:
    """The job of an answers text in the words of these clauses."""
    library = library_of(*clauses)
    source = read_bytes(text.encode(), "answers.yaml", typed=False)
    return pipeline.settled(pipeline.read(source, library), library, last)
