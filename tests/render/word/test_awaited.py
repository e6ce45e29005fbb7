"""What waits in a text for the pages of headings, and what takes its place."""

from __future__ import annotations

from generator.render.word.awaited import as_measured, awaits, either, page_of, told

WAITING = (
    "Contents"
    + either(f", page {page_of('a')}", "")
    + either(f", page {page_of('b')}", " (no page)")
    + either("", "bare")
)


def test_each_page_stands_in_its_place() -> None:
    assert told(WAITING, {"a": 3, "b": 12}) == "Contents, page 3, page 12"


def test_where_no_pages_are_told_all_of_it_is_bare() -> None:
    assert told(WAITING, None) == "Contents (no page)bare"


def test_what_has_no_page_among_those_told_is_bare_alone() -> None:
    assert told(WAITING, {"a": 3}) == "Contents, page 3 (no page)"


def test_it_is_laid_out_with_pages_of_two_digits() -> None:
    assert as_measured(WAITING) == "Contents, page 00, page 00"


def test_a_text_tells_whether_it_waits() -> None:
    assert awaits(WAITING.encode())
    assert not awaits(told(WAITING, None).encode())
