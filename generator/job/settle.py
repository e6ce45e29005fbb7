"""Settling: clauses chosen and numbered, findings in words, and the status, once everything is in."""

from __future__ import annotations

from collections.abc import Iterator

from generator.decide.model import Decisions
from generator.files.errors import Mark, Problem
from generator.job import numbers
from generator.job.duties import Payers, duties, misplaced, wanted
from generator.job.filling import Filling
from generator.job.findings import findings, status
from generator.job.job import Job
from generator.job.numbers import Register
from generator.job.one_place import crowded
from generator.job.select import Selection, select
from generator.library.findings import Raised
from generator.library.model import Library
from generator.library.referring import references
from generator.measure.model import Measured
from generator.programme.model import Programme
from generator.questionnaire.keeping import AFRESH, Kept


def settle(
    library: Library, decisions: Decisions, measured: Measured, programme: Programme, last: Register | None = None,
    kept: Kept = AFRESH,
) -> Job:  # fmt: skip
    """The job with its clauses chosen and numbered, its findings in words and its status settled."""
    facts = programme.facts
    chosen = select(facts, library)
    numbered = numbers.number(_wanted(library, chosen), last)
    register = numbers.register(numbered)
    filling = Filling(facts, library, register)
    together = tuple(crowded(measured, programme, library))
    raised: tuple[Raised, ...] = (*decisions.raised, *measured.raised, *programme.raised, *together)
    found = findings(raised, filling)
    payers = Payers(library, decisions, measured.items())
    asked = wanted(chosen)
    made = duties(asked, payers, kept)
    # lines hang on answers: only once none is open can one be missed
    if status(found) != "draft":
        missed = kept.of("misplaced", (payers.stand, asked), lambda: tuple(misplaced(made, payers)))
        found = findings((*raised, *missed), filling) if missed else found
    return Job(
        facts, library, decisions, measured, programme, chosen, numbered, register, found, status(found), filling,
        duties=made,
    )  # fmt: skip


def _wanted(library: Library, chosen: dict[str, Selection]) -> list[tuple[str, list[str]]]:
    """The clauses that are in, by part, and only the parts that have any."""
    found: dict[str, list[str]] = {part.id: [] for part in library.parts}
    for key, selection in chosen.items():
        if selection.included and library.part_of[key] in found:
            found[library.part_of[key]].append(key)
    return [(part, keys) for part, keys in found.items() if keys]


def unmet(job: Job) -> Iterator[Problem]:
    """A problem for each clause of these papers that refers to one that is not in them."""
    for key, selection in job.selections.items():
        if selection.included:
            for kind, target in references(selection.clause):
                if kind == "clause" and not job.in_papers(target):
                    what = f"clause '{key}' is in these papers and refers to '{target}', which is not"
                    mark = job.library.marks.get(("clause", key), Mark(key))
                    yield Problem(mark, what, "give the first a condition that holds only with both")
