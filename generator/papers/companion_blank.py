"""The survey sheet before there is a job: a sheet for each kind of wall that is going to be seen."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from generator.document.model import Document, Identity
from generator.library.model import Library
from generator.library.wording import for_readers
from generator.papers.companion_survey import Sheets, sheets
from generator.questionnaire.facts import Facts
from generator.questionnaire.scopes import PROJECT, Held, Scope, ScopePath, Scopes
from generator.values import Struct, capital

_OF_JOB: Final = Scope(PROJECT, "project", "")


class Kinds(Struct, frozen=True):
    """The kinds of wall to be seen, by the choices of the questions `position`, `masonry` and `work`.

    Without masonry all that any of it calls for is asked; without works, what the works usual there find at the wall.
    """

    positions: Sequence[str]
    masonry: str = ""
    works: Sequence[str] = ()


def blank_survey(library: Library, kinds: Kinds, readers: Mapping[str, str]) -> Document:
    """The sheets for some kinds of wall, in the `language`, `units` and `paper` of their readers where these are told.

    Raises `InputInvalid` where the library lacks what is asked of it.
    """
    told = {name: Held(value) for name, value in readers.items()}
    library, nothing = for_readers(library, Facts(library.names, Scopes({PROJECT: _OF_JOB}), {PROJECT: told}))
    scopes, values = {PROJECT: _OF_JOB}, {**nothing.values}
    for path, scope, held in _walls(library, kinds):
        scopes[path] = scope
        values[path] = held
    facts = Facts(library.names, Scopes(scopes), values)
    asked = Sheets(library, facts, before_a_job=True, any_work=not kinds.works)
    return sheets(asked, lambda title: _identity(asked, title))


def _walls(library: Library, kinds: Kinds) -> Iterator[tuple[ScopePath, Scope, dict[str, Held]]]:
    """Each kind of wall and each work on it, with all that is known of them."""
    made_of = {"masonry": Held(kinds.masonry)} if kinds.masonry else {}
    for position in dict.fromkeys(kinds.positions):
        name = ", ".join(filter(None, (_said(library, "position", position), _said(library, "masonry", kinds.masonry))))
        path: ScopePath = (position,)
        yield path, Scope(path, "element", capital(name)), {"position": Held(position), **made_of}
        for work in dict.fromkeys(kinds.works or _usual(library, position)):
            path = (position, work)
            yield path, Scope(path, "work", _said(library, "work", work)), {"work": Held(work)}


def _usual(library: Library, position: str) -> list[str]:
    """The works usual at a kind of wall; all that there are, where a library of a practice's own names none."""
    told = library.words.get(f"survey-works-{position}", "")
    return told.replace(",", " ").split() or [one.is_ for one in library.questionnaire.questions["work"].choices]


def _said(library: Library, question: str, choice: str) -> str:
    """A choice of a question as it stands in a sentence; nothing of one that it has not."""
    choices = library.questionnaire.questions[question].choices
    return next((one.says for one in choices if one.is_ == choice), "")


def _identity(asked: Sheets, title: str) -> Identity:
    """What the pages say of themselves: that they are of no job, with room to write of which they come to be."""
    facts, word = asked.facts, asked.word
    return Identity(
        title=title, subject="", reference=word("survey-no-job"), revision=word("survey-no-revision"), date="",
        author="", draft=word("survey-whose"),
        language=facts.spoken(PROJECT, "language") or asked.library.language,
        paper="letter" if facts.at_scope(PROJECT).text("paper") == "letter" else "a4",
        page_words=(word("page"), word("of")), caption_words=(word("table"), word("figure")),
    )  # fmt: skip
