"""The contents list: complete when the paper is opened, and one that Word can refresh."""

from __future__ import annotations

from typing import Final

from generator.document.model import Contents
from generator.render import xml
from generator.render.paper import Entry, Paper

TWO_COLUMNS_FROM: Final = 36
"""A list of so many lines runs in two columns."""


def contents(item: Contents, paper: Paper) -> str:
    """The list of numbered headings and clauses down to its depth, each a link; a long one in two columns.

    Page numbers stand only where the paper was given them: a wrong one is worse than none.
    """
    entries = [entry for entry in paper.entries if entry.level <= item.depth]
    title = paper.paragraph("TOCHeading", xml.run(item.title)) if item.title else ""
    if not entries:
        return title
    columns = 2 if len(entries) >= TWO_COLUMNS_FROM and paper.setup else 1
    listed = _list(entries, item, paper, columns)
    if columns == 1 or paper.setup is None:
        return title + listed
    before = xml.section_end(paper.setup(1, paper.continued))
    paper.continued = True
    return title + before + listed + xml.section_end(paper.setup(columns, True))


def _list(entries: list[Entry], item: Contents, paper: Paper, columns: int) -> str:
    numbered = paper.pages is not None
    numbers = "" if numbered else "\\n "
    lines = [_line(entry, paper) for entry in entries]
    lines[0] = xml.field_begin(f'TOC \\o "1-{item.depth}" {numbers}\\h \\z') + lines[0]
    lines[-1] += xml.FIELD_END
    width = (paper.line - (columns - 1) * xml.COLUMN_GAP) // columns
    tabs = xml.right_tab(width, "dot") if numbered else ""
    styled = zip(entries, lines, strict=True)
    text = "".join(paper.paragraph(f"TOC{entry.level}", line, tabs=tabs) for entry, line in styled)
    return xml.contents_control(paper.new_id(), item.title or "Contents", text)


def _line(entry: Entry, paper: Paper) -> str:
    content = xml.run(entry.number) + xml.TAB + xml.run(entry.title)
    page = (paper.pages or {}).get(entry.anchor)
    if page is not None:
        content += xml.TAB + xml.field(f"PAGEREF {entry.bookmark} \\h", str(page))
    return xml.link(entry.bookmark, content)
