"""Small inputs for tests, so that each test shows all that it rests on: trees, questions, names, facts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal
from pathlib import Path
from textwrap import dedent
from typing import Any

import pytest

from generator.files.shaping import shaped
from generator.files.source import Source, read_bytes
from generator.questionnaire.facts import Facts
from generator.questionnaire.names import SCOPES, Name, Names
from generator.questionnaire.parsing import parse
from generator.questionnaire.questions import Question, Questionnaire
from generator.questionnaire.scopes import Held, Scope, ScopePath, Scopes
from generator.values import Range, Value


def build_tree(root: Path, files: Mapping[str, str | bytes]) -> Path:
    """The root, with files written below it by their path; a text loses its common indentation."""
    for name, content in files.items():
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content if isinstance(content, bytes) else dedent(content).encode())
    return root


def slow_but(few: int, values: Iterable[object]) -> list[Any]:
    """Parameters of a test of which the first few are tried in every run, and the others only where all is."""
    return [pytest.param(value, marks=[pytest.mark.slow] * (index >= few)) for index, value in enumerate(values)]


def read(text: str, typed: bool = False) -> Source:
    """A text as the source `answers.yaml`, without its common indentation."""
    return read_bytes(dedent(text).encode(), "answers.yaml", typed)


def told(problems: Iterable[object]) -> list[str]:
    """Problems as a reader sees them, in the order of the file."""
    return [str(problem) for problem in sorted(problems)]  # type: ignore[type-var]


def names(*declared: Name) -> Names:
    """A register of names."""
    return Names({name.name: name for name in declared})


def choice(name: str, scope: str, *choices: str) -> Name:
    """A name with one of some choices."""
    return Name(name, scope, "choice", name.capitalize(), choices={word: word for word in choices})


def of_kind(kind: str, name: str, scope: str = "element", **more: object) -> Name:
    """A name of any kind."""
    return Name(name, scope, kind, name.capitalize(), **more)  # type: ignore[arg-type]


def low_high(low: str, high: str, likely: str | None = None) -> Range[Decimal]:
    """A range of numbers as spelt."""
    middle = Decimal(likely) if likely else (Decimal(low) + Decimal(high)) / 2
    return Range(Decimal(low), middle, Decimal(high))


def facts(known: Names, values: Mapping[ScopePath, Mapping[str, Value]]) -> Facts:
    """Facts of scopes by path: `()` the project, `("front",)` an element, and so on inward."""
    paths = [(), *values] if () not in values else list(values)
    scopes = {path: Scope(path, SCOPES[len(path)], path[-1] if path else "job") for path in paths}
    held = {path: {name: Held(value) for name, value in values.get(path, {}).items()} for path in paths}
    return Facts(known, Scopes(scopes), held)


def questions(text: str) -> tuple[Questionnaire, Names]:
    """A questionnaire from the list of questions as a library file spells it, and the names it declares."""
    source = read_bytes(dedent(text).encode(), "questions.yaml")
    found: dict[str, Question] = {}
    for index, data in enumerate(source.data):
        question = shaped(Question, data, source, (index,))
        assert question is not None, told(source.problems)
        found[question.name] = question
    known = Names({question.name: question.as_name() for question in found.values()})
    asked = {q.name: parse(q.when, q.scope, known) for q in found.values() if q.when}
    needed = {q.name: parse(q.needed_when, q.scope, known) for q in found.values() if q.needed_when}
    return Questionnaire(found, asked, needed), known


# The least that is a library: one question that must be answered, and nothing to say.
LIBRARY: Mapping[str, str] = {
    "library.yaml": "{name: Small, edition: '1', language: en-GB}\n",
    "questions/10-project.yaml": """\
        questions:
        - {name: title, scope: project, kind: text, label: Title, why: It names the job., need: required}
        - {name: lived_in, scope: project, kind: yes_no, label: Lived in, why: People.}
        """,
    "questions/20-element.yaml": """\
        questions:
        - name: masonry
          scope: element
          kind: choice
          label: Masonry
          why: All follows from it.
          choices: [{is: brick, says: brick}, {is: rubble, says: rubble}]
        - {name: joint_width_mm, scope: element, kind: range, label: Joint width, why: Grain.}
        """,
    "questions/30-work.yaml": """\
        questions:
        - name: work
          scope: work
          kind: choice
          label: Work
          why: What is done.
          choices: [{is: repoint, says: repointing}, {is: render, says: rendering}]
          need: required
        """,
}


def library_tree(root: Path, changes: Mapping[str, str | None] | None = None) -> Path:
    """A folder with the small library, files added or replaced by path, or left out where None is given."""
    files = {**LIBRARY, **(changes or {})}
    return build_tree(root, {name: text for name, text in files.items() if text is not None})
