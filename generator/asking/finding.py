"""Finds questions by words: of the wall, of the label, or of the name that answers spell."""

from __future__ import annotations

from collections.abc import Iterator

from generator.asking.order import NAME, Place, level_of, paths
from generator.library.model import Library
from generator.questionnaire.facts import Facts


def places(facts: Facts, library: Library, words: str) -> Iterator[tuple[Place, str]]:
    """The questions that apply and hold all of some words, each with its place and how it is told there.

    An element comes first where the words are of its name alone.
    """
    wanted, asked = words.lower().split(), library.questionnaire
    for path in paths(facts):
        level = level_of(path)
        title = facts.title(path) if path else library.phrase("whole-job")
        if level == "element" and _holds(title, wanted):
            yield (path, NAME), library.phrase("ask-name-of", name=title)
        for question in asked.of(level):
            told = f"{title}: {question.label.rstrip('?')}"
            if question.kind == "photographs" or question.name == "work":
                continue
            if _holds(f"{told} {question.name}", wanted) and asked.applies(facts, path, question.name):
                yield (path, question.name), told


def _holds(text: str, wanted: list[str]) -> bool:
    return all(word in text.lower() for word in wanted)
