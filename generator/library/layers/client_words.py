"""Finds the words of a client's answers in clauses that are to be handed on: names of people, places and papers."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Final

from generator.files.shapes import written
from generator.library.model import Library
from generator.values import Struct

# Kinds of questions whose answers are chosen or counted, so that they name nobody.
_NAMELESS: Final = frozenset({"choice", "choices", "number", "range", "date", "yes_no"})
_ID_KEYS: Final = frozenset({"id", "layers"})
_WORD: Final = re.compile(r"[^\W_]+(?:['’-][^\W_]+)*")
_INITIALS: Final = r"(?:[^\W\d_]\.\s?){0,4}"
# A run of words that begin with a capital: `A. Sample`, `Lower Sallow`.
_NAME: Final = re.compile(rf"{_INITIALS}(?=[^\W\d_])[A-ZÀ-Þ][\w'’-]*(?:\s+{_INITIALS}[A-ZÀ-Þ][\w'’-]*)*")
_ARTICLE: Final = re.compile(r"(?:The|A|An)\s+(?=\w{2})")
# E-mail addresses, telephone numbers, and references of capitals and figures.
_MARKED: Final = re.compile(
    r"[\w.+-]+@[\w-]+\.[\w.-]*\w|(?:\+|\b0)\d[\d ()-]{5,}\d|\b(?=\S*[A-Z])(?=\S*\d)\w[\w/-]{3,}\w"
)
_SENTENCE_ENDS: Final = ".!?:"
# A name shorter than this, or an answer of fewer words, may stand in any clause by chance.
_LEAST_LETTERS: Final = 4
_LONGEST: Final = 100
_LEAST_WORDS: Final = {True: 3, False: 6}


class ClientWords(Struct, frozen=True):
    """What may not be handed on: phrases, and single names as they are spelt."""

    phrases: tuple[str, ...]
    names: frozenset[str]

    def found_in(self, text: str) -> str:
        """The longest of them that a text holds; empty where it holds none."""
        spaced = " ".join(text.split()).casefold()
        for phrase in self.phrases:
            if phrase.casefold() in spaced and re.search(rf"(?<!\w){re.escape(phrase.casefold())}(?!\w)", spaced):
                return phrase
        return next((word for word in _WORD.findall(text) if word in self.names), "")


def client_words(answers: Iterable[Any], library: Library, allowed: Iterable[str] = ()) -> ClientWords:
    """The words of answers files, as read, that are theirs alone: not those that the shipped library itself uses."""
    known = {word.casefold() for text in _said_by(library) for word in _WORD.findall(text)}
    free = {" ".join(word.split()).casefold() for word in allowed}
    phrases: set[str] = set()
    names: set[str] = set()
    for text, of_project in (found for data in answers for found in _texts(data, "", False, library)):
        words = text.split()
        # no name is so long; looked for as it stands, for within it everything would be compared with everything
        phrases.update(word for word in words if len(word) > _LONGEST)
        whole = " ".join(word for word in words if len(word) <= _LONGEST).rstrip(".")
        phrases.update(_MARKED.findall(whole))
        if len(whole.split()) >= _LEAST_WORDS[of_project]:
            phrases.add(whole)
        for run in _runs(whole, of_project):
            own = [word for word in _WORD.findall(run) if len(word) >= _LEAST_LETTERS and word.casefold() not in known]
            names.update(own)
            if " " in run and (own or "." in run):
                phrases.add(run)
    kept = (phrase for phrase in phrases if phrase.casefold() not in free)
    longest_first = sorted(kept, key=lambda phrase: (-len(phrase), phrase))
    return ClientWords(tuple(longest_first), frozenset(name for name in names if name.casefold() not in free))


def _runs(text: str, of_project: bool) -> Iterator[str]:
    """Runs of words that begin with a capital; not a single one that the start of a sentence explains."""
    for match in _NAME.finditer(text):
        before = text[: match.start()].rstrip()
        opens = not before or before[-1] in _SENTENCE_ENDS
        if " " in match[0] or not opens or of_project:
            yield _ARTICLE.sub("", match[0], count=1)


def _texts(data: Any, name: str, of_project: bool, library: Library) -> Iterator[tuple[str, bool]]:
    """The texts of an answers file but the answers to questions of other kinds, and whether they are of the project."""
    if isinstance(data, Mapping):
        for key, inner in data.items():
            yield from _texts(inner, str(key), of_project or key == "project", library)
    elif isinstance(data, list):
        for inner in data:
            yield from _texts(inner, name, of_project, library)
    elif isinstance(data, str) and name not in _ID_KEYS:
        known = library.names.get(name)
        if known is None or known.kind not in _NAMELESS:
            yield data, of_project


def _said_by(library: Library) -> Iterator[str]:
    """All that the shipped library says, without the layers over it."""
    clauses = [clause for key, clause in library.clauses.items() if key not in library.origins]
    clauses += [origin.base for origin in library.origins.values() if origin.base is not None]
    entries = (
        library.questionnaire.questions, library.recipes, library.materials, library.findings, library.items,
        library.operations, library.hold_points, library.sources,
    )  # fmt: skip
    yield from (str(written(clause)) for clause in clauses)
    yield from (str(written(entry)) for group in entries for entry in group.values())
    yield from library.words.values()
    yield from (text for paper in library.templates.values() for text in paper.said())
