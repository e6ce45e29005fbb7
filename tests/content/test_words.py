"""The fixed words of papers and terminal: each that the code asks for is there, and each that is there is asked for.

What papers say in their parts is asked for by the part: `tests/library/test_templates.py`.
"""

from __future__ import annotations

import ast
import functools
import re

import pytest
from code_reading import asked_with, nodes, pattern, patterns, rooms_but, texts
from jobs import ROOT, shipped

from generator.render.workbook.book import WORD_KEYS

WORDS = shipped().words
PAGES = {path.name: path.read_text(encoding="utf-8") for path in sorted((ROOT / "templates" / "survey").glob("*.html"))}
SAID = re.compile(r"""say\((?:'([a-z-]+)'(?! ~)|'([a-z-]+-)' ~|key(?: ~ '([a-z-]+)')?|frame\.deed)""")
"""A word that a page asks for: whole, as a beginning, or by a key that the program hands it."""
# The renderer knows nothing of the library: its keys are those of the workbook's book.
ASKING = rooms_but("render/")


@functools.cache
def keys_asked() -> tuple[ast.expr, ...]:
    """The keys that the code asks for words by."""
    return tuple(key for name in ("word", "phrase", "words") for key in asked_with(name, *ASKING))


def whole() -> list[str]:
    return sorted({str(key.value) for key in keys_asked() if isinstance(key, ast.Constant)})


def put_together() -> list[str]:
    return sorted({pattern(key).pattern for key in keys_asked() if isinstance(key, ast.JoinedStr)})


def said_by_pages(group: int) -> set[str]:
    """What pages ask for: whole words (1), beginnings (2), ends (3)."""
    return {found[group] for text in PAGES.values() for found in SAID.finditer(text) if found[group]}


def test_every_word_that_the_code_asks_for_is_there() -> None:
    assert [key for key in whole() if key not in WORDS] == []


def test_every_word_that_a_page_asks_for_is_there() -> None:
    assert sorted(said_by_pages(1) - WORDS.keys()) == []
    assert [start for start in said_by_pages(2) if not any(key.startswith(start) for key in WORDS)] == []


def test_pages_ask_for_words_in_ways_that_are_seen() -> None:
    asked = sum(text.count("say(") for text in PAGES.values())
    assert asked == sum(len(SAID.findall(text)) for text in PAGES.values()) > 100


def test_every_form_of_key_that_the_code_puts_together_fits_some_words() -> None:
    assert [form for form in put_together() if not any(re.match(form, key) for key in WORDS)] == []


def test_the_ways_in_which_words_are_asked_for_are_seen_at_all() -> None:
    assert len(whole()) > 40
    assert len(put_together()) > 5


def test_the_workbook_prints_the_words_written_for_it_and_has_all_it_prints() -> None:
    written = {key.removeprefix("workbook-") for key in WORDS if key.startswith("workbook-")}
    assert written | {"tax_note"} == set(WORD_KEYS)  # an answer may stand in its place


@functools.cache
def beginnings() -> tuple[str, ...]:
    """The beginnings by which the code takes whole groups of words: `key.startswith("rule-")`."""
    calls = (node for node in nodes(*ASKING) if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute))
    given = (call.args[0] for call in calls if call.func.attr == "startswith" and call.args)  # type: ignore[attr-defined]
    found = (arg.value for arg in given if isinstance(arg, ast.Constant) and isinstance(arg.value, str))
    return tuple(text for text in found if re.fullmatch(r"[a-z-]+-", text))


def is_asked_for_by_a_page(key: str) -> bool:
    begins = key.startswith(tuple(said_by_pages(2)))
    return begins or key in said_by_pages(1) or any(key.removesuffix(end) in texts(*ASKING) for end in said_by_pages(3))


def is_asked_for(key: str) -> bool:
    asked = key in texts(*ASKING) or any(form.match(key) for form in patterns(*ASKING))
    return asked or key.startswith(beginnings()) or is_asked_for_by_a_page(key)


def test_every_word_is_asked_for() -> None:
    assert [key for key in WORDS if not is_asked_for(key)] == []


def is_spelt_as_it_is_filled(word: str) -> bool:
    """`{place}` is filled by name; any other brace, or a name with a slip in it, would be printed."""
    places = re.findall(r"\{([^{}]*)\}", word)
    return word.count("{") == word.count("}") == len(places) and set(places) <= arguments() - {""}


def test_the_places_of_words_are_spelt_as_they_are_filled() -> None:
    assert [key for key, word in WORDS.items() if not is_spelt_as_it_is_filled(word)] == []


@pytest.mark.parametrize("word", ["a {plcae}", "a {{place}", "a {place", "a } b", "a {}"])
def test_a_place_with_a_slip_in_it_is_caught(word: str) -> None:
    assert not is_spelt_as_it_is_filled(word)


@functools.cache
def arguments() -> frozenset[str]:
    """The names by which the code fills words: of arguments, or of what it hands on as a mapping."""
    calls = (node for node in nodes(*ASKING) if isinstance(node, ast.Call))
    said = (call for text in PAGES.values() for call in re.findall(r"say\(([^()]*)", text))
    by_pages = {name for call in said for name in re.findall(r"(\w+)=", call)}
    return texts(*ASKING) | by_pages | {keyword.arg for call in calls for keyword in call.keywords if keyword.arg}
