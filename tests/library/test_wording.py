"""The library as readers in the United States have it: what it lacks is told, and no text of it is parsed again."""

from __future__ import annotations

import pytest
from answers_text import one_wall
from jobs import americanised, shipped

from generator import pipeline
from generator.files.errors import InputInvalid
from generator.files.source import read_bytes
from generator.library import text
from generator.library.model import Library
from generator.library.wording import for_readers


def for_americans() -> Library:
    library, answers = shipped(), americanised(one_wall()).encode()
    return for_readers(library, pipeline.read(read_bytes(answers, "answers.yaml", typed=False), library))[0]


@pytest.mark.parametrize("kind", ["names", "tables", "materials", "findings", "words", "templates"])
def test_what_it_lacks_is_a_mistake_in_the_library(kind: str) -> None:
    with pytest.raises(InputInvalid, match=r"lacks the .* 'not-there', which the program asks for"):
        getattr(for_americans(), kind)["not-there"]


def test_texts_that_were_parsed_are_parsed_no_second_time(monkeypatch: pytest.MonkeyPatch) -> None:
    texts = for_americans().texts  # of a library that was checked, so that each was parsed
    monkeypatch.setattr(text, "parse", lambda _: pytest.fail("parsed again"))
    assert all(texts.template("finding", key, "message").markdown for key in texts.entries["finding"])


def test_the_names_of_clauses_that_a_text_refers_to_are_no_words_of_it() -> None:
    """A clause on render was looked for under the name of stucco."""
    texts = [clause.text for clause in for_americans().clauses.values()]
    assert any("(clause:render.lining)" in each for each in texts)
    assert not any("clause:stucco" in each for each in texts)
