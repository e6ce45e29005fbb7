"""The contents list: complete when the paper is opened, and one that Word can refresh."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from generator.document.model import Contents
from generator.render.word import xml
from generator.render.word.awaited import either, page_of
from generator.render.word.paper import Entry, Paper

_BOUND: Final = "\u00a0"
BETWEEN: Final = f"{_BOUND}· "
"""No line begins with the point between two entries, and none with a page."""

_RUN_ON_PAGE: Final = f"{_BOUND}(", ")"
"""In a line of many, a page stands in brackets: the number of the next part follows it."""


def contents(item: Contents, paper: Paper) -> str:
    """The list of headings and clauses down to its depth, each a link: a line a part, its clauses run on below.

    What stands before the first part runs on too, what stands after the last has lines like a part. Run on, a long
    list stays a page. Word makes a line an entry of it when the list is refreshed. Page numbers stand at all but
    clauses, and wait for `awaited.told`: a wrong one is worse than none.
    """
    title = paper.paragraph("TOCHeading", xml.run(item.title)) if item.title else ""
    entries = [entry for entry in paper.entries if entry.level <= item.depth]
    lines = list(_run_on(entries) if item.runs_on else _lines(entries))
    if not lines:
        return title
    hidden = either("", "\\n ")
    styles, texts = [style for style, _ in lines], [text for _, text in lines]
    texts[0] = xml.field_begin(f'TOC \\o "1-{item.depth}" {hidden}\\h \\z \\u') + texts[0]
    texts[-1] += xml.FIELD_END
    tabs = either(xml.right_tab(paper.line, "dot"), "")
    listed = "".join(
        paper.paragraph(style, text, tabs=tabs if style == "TOC1" else "")
        for style, text in zip(styles, texts, strict=True)
    )
    return title + xml.contents_control(paper.new_id(), item.title or paper.entries[0].title, listed)


def listed(entries: Iterable[Entry]) -> str:
    """What a list of parts says, run on, with room for their pages."""
    return BETWEEN.join(
        f"{entry.number} {entry.title}{'0'.join(_RUN_ON_PAGE)}" for entry in entries if entry.level == 1
    )


def _run_on(entries: list[Entry]) -> Iterator[tuple[str, str]]:
    """All in one line, however often it breaks."""
    if entries:
        yield "TOC2", xml.run(BETWEEN).join(_link(entry, _BOUND) + _page(entry, _RUN_ON_PAGE) for entry in entries)


def _lines(entries: list[Entry]) -> Iterator[tuple[str, str]]:
    """Style and content of each line: parts alone, the clauses of one run on in a line of its own."""
    run_on: list[str] = []
    parts = False
    for entry in entries:
        parts = parts or bool(entry.number)
        if entry.level > 1 or not parts:
            run_on.append(_link(entry, _BOUND) + (_page(entry, _RUN_ON_PAGE) if entry.level == 1 else ""))
            continue
        if run_on:
            yield "TOC2", xml.run(BETWEEN).join(run_on)
            run_on = []
        # what has no number stands under the titles of what has
        yield "TOC1", ("" if entry.number else xml.TAB) + _link(entry, xml.TAB) + _page(entry)
    if run_on:
        yield "TOC2", xml.run(BETWEEN).join(run_on)


def _link(entry: Entry, after_number: str) -> str:
    gap = after_number if after_number == xml.TAB else xml.run(after_number)
    number = xml.run(entry.number) + gap if entry.number else ""
    return xml.link(entry.bookmark, number + xml.run(entry.title))


def _page(entry: Entry, around: tuple[str, str] | None = None) -> str:
    page = xml.field(f"PAGEREF {entry.bookmark} \\h", page_of(entry.bookmark))
    told = xml.run(around[0]) + page + xml.run(around[1]) if around else xml.TAB + page
    return either(xml.link(entry.bookmark, told), "")
