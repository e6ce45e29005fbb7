"""The shipped library as a whole: no mistake in it, and nothing that nobody reads."""

from __future__ import annotations

import functools
import itertools
from collections.abc import Iterator

from code_reading import patterns, texts
from jobs import shipped

from generator.library.lint import problems
from generator.library.tables import Table, TableRow, fits
from generator.questionnaire.condition import Both, Compare, Node, Not, Within
from generator.questionnaire.questions import Question

FIELDS = {
    "clause": ("title", "text", "check", "because", "advice"),
    "finding": ("message", "action", "instruction"),
    "item": ("description", "includes"),
    "operation": ("text",),
}
DECIDING = (
    "decide/", "measure/", "programme/", "document/", "library/", "job/", "papers/", "questionnaire/", "asking/",
    "record/record", "lime/", "values",
)  # fmt: skip
# What printed days and dates are reckoned from: on a paper beside them they would be a second figure.
BASES = {"damp_days", "frost_cover_days", "rain_cover_days"}
# Choices that change nothing by themselves, and why they are offered all the same.
NO_CONSEQUENCE = {
    ("decay_causes", "cement"): "what follows hangs on its area and hold (cement_area_m2, cement_hold, removed)",
    ("decay_causes", "salts"): "what follows hangs on how heavy they are (salts)",
}


def test_the_lint_finds_nothing() -> None:
    library = shipped()
    assert [str(problem) for problem in problems(library)] == []


@functools.cache
def compared() -> dict[str, set[str]]:
    """The literals that conditions hold each name against; a name that is read without one is there all the same."""
    found: dict[str, set[str]] = {}
    library = shipped()
    conditions = [part for held in library.conditions.values() for part in (held.when, held.provisional_when)]
    conditions += [when for wanted in library.look_ups for _, when in wanted.rows]
    for condition in filter(None, conditions):
        for name, literals in _leaves(condition.node):
            found.setdefault(name, set()).update(literals)
    return found


def _leaves(node: Node) -> Iterator[tuple[str, set[str]]]:
    if isinstance(node, Both):
        for part in node.parts:
            yield from _leaves(part)
    elif isinstance(node, Not | Within):
        yield from _leaves(node.part)
    else:
        literal = node.literal if isinstance(node, Compare) else ()
        yield node.name, set(map(str, literal)) if isinstance(literal, tuple) else {str(literal)}


@functools.cache
def keyed() -> dict[str, set[str]]:
    """The cells that tables hold under each key."""
    found: dict[str, set[str]] = {}
    for table in shipped().tables.values():
        for row, name in itertools.product(table.rows, table.keys):
            cell = row.keys.get(name, "any")
            found.setdefault(name, set()).update(cell if isinstance(cell, list | tuple) else [cell])
    return found


def weighed(name: str) -> set[str]:
    """What the tables of binders list, against which the binder asked for is weighed."""
    tables = shipped().tables
    rows = itertools.chain(tables["binder-by-wall"].rows, tables["binder-by-coat"].rows)
    listed = {binder for row in rows for binder in (*row.values["binders"], *row.values["with_reason"])}
    return listed if name == "asked_binder" else set()


@functools.cache
def printed() -> frozenset[str]:
    """The names that texts are filled with and lines take their quantity from."""
    library = shipped()
    entries = {
        "clause": library.clauses, "finding": library.findings,
        "item": library.items, "operation": library.operations,
    }  # fmt: skip
    filled = {
        name
        for kind, fields in FIELDS.items()
        for key, field in itertools.product(entries[kind], fields)
        for name in library.texts.template(kind, key, field).names()
    }
    return frozenset(filled | {item.quantity for item in library.items.values()})


@functools.cache
def shown() -> frozenset[str]:
    """The names of which the templates say that a paper shows them."""
    parts = [part for paper in shipped().templates.values() for part in paper.parts_within()]
    rows = [row for part in parts for row in (*part.rows, *part.columns)]
    return frozenset({*(row.shows for row in rows), *(name for row in rows for name in row.by_work.values())})


@functools.cache
def timed() -> frozenset[str]:
    """The names that the programme's tasks take days, a number of times or a day from."""
    tasks = shipped().tasks.values()
    return frozenset({name for task in tasks for name in (task.days, task.times, task.not_before)})


def coded(name: str) -> bool:
    """Whether the code of deciding and telling names a question."""
    return name in texts(*DECIDING) or any(pattern.match(name) for pattern in patterns(*DECIDING))


QUESTIONS = shipped().questionnaire.questions


def test_every_question_is_read_by_a_condition_a_text_a_table_or_a_rule() -> None:
    looked_up = {name for wanted in shipped().look_ups for name in wanted.rests_on}
    read = compared().keys() | keyed().keys() | printed() | shown() | looked_up | timed()
    assert [name for name in QUESTIONS if name not in read and not coded(name)] == []


def test_no_paper_prints_what_its_days_and_dates_are_reckoned_from() -> None:
    assert {*shipped().names} >= BASES
    assert (printed() | shown()) & BASES == set()


def offered() -> Iterator[tuple[Question, str]]:
    """Every choice of every question that no text prints: its word must mean something by itself."""
    for question in QUESTIONS.values():
        if question.name not in printed():
            yield from ((question, choice.is_) for choice in question.choices)


def is_told_apart(question: Question, choice: str) -> bool:
    """Held against in a condition, a key or list of a table, named in code, or the one left where the rest are."""
    held = compared().get(question.name, set()) | keyed().get(question.name, set()) | weighed(question.name)
    told = {
        word.is_
        for word in question.choices
        if word.is_ in held
        or (coded(question.name) and word.is_ in texts(*DECIDING))
        or (question.name, word.is_) in NO_CONSEQUENCE
    }
    rest = {word.is_ for word in question.choices} - told
    return choice in told or (bool(told) and rest == {choice}) or spoken(question.name)


def test_every_choice_is_told_apart_from_the_others_somewhere() -> None:
    assert [(question.name, choice) for question, choice in offered() if not is_told_apart(question, choice)] == []


def spoken(name: str) -> bool:
    """Whether a paper prints an answer as it is said: in the fact table of a wall, on the cover, and so on."""
    return name in shown() or name in texts(
        "papers/front", "papers/sheets", "job/job", "papers/schedule", "measure/quantities"
    )


def test_nothing_is_said_to_be_without_consequence_that_is_not_there() -> None:
    known = {(question.name, choice.is_) for question in QUESTIONS.values() for choice in question.choices}
    assert set(NO_CONSEQUENCE) <= known


def test_every_table_is_read_by_the_program() -> None:
    looked_up = {row.table for wanted in shipped().look_ups for row, _ in wanted.rows}
    looked_up |= {task.table for task in shipped().tasks.values()}
    named = [key for key in shipped().tables if key not in texts() and key not in looked_up]
    formed = patterns()
    dead = (key for key in named if not any(form.match(key) for form in formed))
    assert list(dead) == []


def cells(table: Table, name: str) -> list[str]:
    """What a key can be: the choices of its name, else what the table itself holds; and not known."""
    known = shipped().names.get(name)
    words = list(known.choices) if known is not None and known.choices else sorted(keyed()[name] - {"any"})
    return [*words, ""]


def test_every_row_of_a_table_is_found_by_some_keys() -> None:
    """The first row that fits serves, so a row below one that fits all it fits would be dead."""
    tables = shipped().tables
    dead = ((key, row.keys) for key, table in tables.items() for row in table.rows if not is_found(table, row))
    assert list(dead) == []


def is_found(table: Table, row: TableRow) -> bool:
    """Whether some keys that fit a row fit none above it, those apart that are passed over without their quantity."""
    above = [other for other in table.rows[: table.rows.index(row)] if _quantity(other) == _quantity(row)]
    fitting = ([cell for cell in cells(table, name) if fits(row.keys.get(name, "any"), cell)] for name in table.keys)
    tries = (dict(zip(table.keys, values, strict=True)) for values in itertools.product(*fitting))
    return any(not any(_serves(other, keys) for other in above) for keys in tries)


def _quantity(row: TableRow) -> object:
    return row.values.get("quantity")


def _serves(row: TableRow, keys: dict[str, str]) -> bool:
    return all(fits(cell, keys[name]) for name, cell in row.keys.items())


def test_every_material_is_in_a_recipe_or_named_in_code() -> None:
    library = shipped()
    taken = {part for r in library.recipes.values() for part in (r.lime, r.sand, r.pozzolan, r.filler)}
    assert {key for key in library.materials if key not in taken and key not in texts()} == set()


def test_every_source_is_named_by_something() -> None:
    library = shipped()
    entries = (
        library.clauses, library.findings, library.items, library.recipes, library.materials,
    )  # fmt: skip
    named = {source for held in entries for entry in held.values() for source in entry.sources}
    named |= {source for table in library.tables.values() for row in table.rows for source in row.sources}
    for material in library.materials.values():
        named |= {source for spread in material.properties().values() for source in spread.sources}
    assert set(library.sources) - named == set()


def test_words_that_say_of_something_that_it_stands_elsewhere_are_said_by_a_text() -> None:
    library = shipped()
    entries = {"clause": library.clauses, "finding": library.findings, "operation": library.operations}
    told = [getattr(entry, name) for kind in entries for entry in entries[kind].values() for name in FIELDS[kind]]
    said = " ".join(" ".join(filter(None, told)).split())
    assert [words for entry in library.elsewhere.values() for words in entry.says if words not in said] == []
