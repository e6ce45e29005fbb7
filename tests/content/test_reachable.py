"""Everything in the library can come about: each clause, finding, line, step, recipe and hold point in some job.

The jobs are the examples, the open cases, and random valid answers; what none of them reaches is dead or unreachable.
"""

from __future__ import annotations

import functools
import itertools
from collections.abc import Iterator

import pytest
from jobs import EXAMPLES, ROOT, job, shipped
from random_answers import random_answers

from generator.decide.binder import recipe_for
from generator.document.job import Job
from generator.questionnaire.facts import PROJECT, Facts, Held, Scope

RANDOM_JOBS = 700
# Needs answers that random ones seldom give together; each has a test of its own or is plain from its condition.
SELDOM = {
    "finding": {"asked-gypsum-conditioned", "fine-brick-joints"},
}


def jobs() -> Iterator[Job]:
    for path in [*EXAMPLES, *sorted((ROOT / "tests" / "cases").glob("*.yaml"))]:
        yield job(path.read_text(encoding="utf-8"))
    for seed in range(RANDOM_JOBS):
        yield job(random_answers(seed))


@functools.cache
def reached() -> dict[str, set[str]]:
    """What some job reached, by kind."""
    found: dict[str, set[str]] = {kind: set() for kind in ("clause", "finding", "item", "operation", "hold")}
    library = shipped().library
    for made in jobs():
        found["clause"].update(key for key, chosen in made.selections.items() if chosen.included)
        found["finding"].update(item.code for item in made.findings)
        found["item"].update(item.entry.id for item in made.measured.items())
        for kind, entries in (("operation", library.operations), ("hold", library.hold_points)):
            for key, entry in entries.items():
                condition = library.condition(kind, key).when
                scopes = made.facts.at(entry.per) if entry.per != "project" else [made.facts.scopes[PROJECT]]
                if condition is None or any(condition.evaluate(made.facts, scope.path).holds for scope in scopes):
                    found[kind].add(key)
    return found


@pytest.mark.parametrize("kind", ["clause", "finding", "item", "operation", "hold"])
def test_nothing_in_the_library_is_out_of_reach(kind: str) -> None:
    library = shipped().library
    everything = {
        "clause": library.clauses, "finding": library.findings, "item": library.items,
        "operation": library.operations, "hold": library.hold_points,
    }[kind]  # fmt: skip
    assert set(everything) - reached()[kind] - SELDOM.get(kind, set()) == set()


def places() -> Iterator[dict[str, str]]:
    """Every work, masonry, position and coat that go together by the table of coats."""
    names, table = shipped().library.names, shipped().library.tables["coats"]
    coats = {(str(row.keys.get("work")), coat) for row in table.rows for coat in row.values["coats"]}
    for (work, coat), masonry, position in itertools.product(
        sorted(coats), names["masonry"].choices, names["position"].choices
    ):
        yield {"work": work, "coat": coat, "masonry": masonry, "position": position}


def test_every_recipe_is_the_closest_fit_somewhere_and_its_binder_stands_in_a_table() -> None:
    library = shipped().library
    binders = {
        binder
        for key in ("binder-by-wall", "binder-by-coat")
        for row in library.tables[key].rows
        for binder in [*row.values["binders"], *row.values["with_reason"]]
    }
    chosen: set[str] = set()
    for place in places():
        held = {name: Held(value) for name, value in place.items()}
        facts = Facts(library.names, {PROJECT: Scope(PROJECT, "project", "")}, {PROJECT: held})
        for binder in sorted(binders):
            recipe = recipe_for(facts, PROJECT, library, binder)
            if recipe is not None:
                chosen.add(recipe.id)
    assert set(library.recipes) - chosen == set()
    assert {recipe.binder for recipe in library.recipes.values()} <= binders


def test_every_question_is_read_by_a_condition_a_text_a_table_or_a_rule() -> None:
    words = shipped()
    library = words.library
    used: set[str] = set()
    for conditioned in library.conditions.values():
        for condition in (conditioned.when, conditioned.provisional_when):
            used |= condition.names() if condition is not None else set()
    for kind, entries, parts in (
        ("clause", library.clauses, ("title", "text", "check", "because")),
        ("finding", library.findings, ("message", "action", "instruction")),
        ("item", library.items, ("description", "includes")),
        ("operation", library.operations, ("text",)),
    ):
        for key in entries:
            for part in parts:
                used.update(words.texts.template(kind, key, part).names())
    used.update(name for table in library.tables.values() for name in table.keys)
    used.update(item.quantity for item in library.items.values())
    code = "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "generator").rglob("*.py"))
    assert {name for name in library.questionnaire.questions if name not in used and f'"{name}"' not in code} == set()


def test_every_table_is_read_by_the_program() -> None:
    code = "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "generator").rglob("*.py"))
    assert {key for key in shipped().library.tables if f'"{key}"' not in code} == set()
