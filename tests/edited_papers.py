"""A specification as somebody edits it by hand: a clause put in, a step moved, a line added and renumbered."""

from __future__ import annotations

import copy
import re
from collections.abc import Iterator

from docx_reading import NAMES, Numbers, W, attribute, only, own, part, parts, text_of
from lxml import etree

from generator.render.word.package import packed

PUT_IN = "A clause put in by hand"
LINE = "A line put in by hand"
BODY = "word/document.xml"


class Edited:
    """A paper with its body open to be edited."""

    def __init__(self, data: bytes) -> None:
        self._parts = parts(data)
        self.tree = part(data)

    @property
    def saved(self) -> bytes:
        """The paper as it stands."""
        return packed({**self._parts, BODY: etree.tostring(self.tree, xml_declaration=True, encoding="UTF-8")})

    def put_in_clause(self, before: str, paragraphs: int) -> None:
        """A clause of so many paragraphs before another, as copying one in an office program makes it."""
        control = self.clause(before)
        new = bare(copy.deepcopy(control))
        for name in ("id", "tag", "alias"):
            for item in only(new, "w:sdtPr").findall(f"w:{name}", NAMES):
                only(new, "w:sdtPr").remove(item)
        content = only(new, "w:sdtContent")
        head, *rest = content.findall("w:p", NAMES)
        said(head, PUT_IN)
        text = next(item for item in rest if attribute(item, "w:pPr/w:pStyle") == "ClauseText")
        for _ in range(paragraphs):
            content.append(copy.deepcopy(text))
        control.addprevious(new)

    def clause(self, clause_id: str) -> etree._Element:
        """The control round a clause."""
        controls = self.tree.iter(f"{{{W}}}sdt")
        return next(item for item in controls if attribute(item, "w:sdtPr/w:tag") == f"clause:{clause_id}")

    @property
    def steps(self) -> list[etree._Element]:
        """The steps of all sheets."""
        found = self.tree.iter(f"{{{W}}}p")
        return [item for item in found if attribute(item, "w:pPr/w:pStyle") == "Step"]

    def put_in_line(self, after: str) -> None:
        """A line of the schedule behind another, as copying a row makes it."""
        row = self.line(after)
        new = bare(copy.deepcopy(row))
        cells = [only(cell, "w:p") for cell in new.findall("w:tc", NAMES)]
        said(cells[0], f"{after}A")
        said(cells[1], LINE)
        row.addnext(new)

    def renumber(self, line: str, number: str) -> None:
        """The number of a line where it stands, typed over."""
        cell = only(self.line(line), "w:tc/w:p")
        only(cell, ".//w:t").text = number

    def line(self, number: str) -> etree._Element:
        """The row of a line to price."""
        rows = self.tree.iter(f"{{{W}}}tr")
        return next(row for row in rows if text_of(only(row, "w:tc/w:p")) == number)


def bare(element: etree._Element) -> etree._Element:
    """A copy without the bookmarks of what it was copied from."""
    for item in list(element.iter(f"{{{W}}}bookmarkStart", f"{{{W}}}bookmarkEnd")):
        item.getparent().remove(item)  # type: ignore[union-attr]
    return element


def said(paragraph: etree._Element, text: str) -> None:
    """Other words in a paragraph, in the look of its first."""
    first, *others = paragraph.iter(f"{{{W}}}t")
    first.text = text
    for item in others:
        item.text = ""


def numbers_by_bookmark(data: bytes) -> dict[str, str]:
    """The number that each bookmarked heading has by its list, or the number that stands in a bookmark of a line."""
    numbers, found = Numbers(data), {}
    for paragraph in part(data).iter(f"{{{W}}}p"):
        number = numbers.next(paragraph, attribute(paragraph, "w:pPr/w:pStyle"))
        for mark in paragraph.findall("w:bookmarkStart", NAMES):
            name = own(mark, "name")
            found[name] = text_of(paragraph) if name.startswith("_Ref_line") else number
    return found


def shown_by_references(data: bytes) -> Iterator[tuple[str, str]]:
    """The bookmark that each reference leads to, and what it shows, whichever form its field has."""
    for paragraph in part(data).iter(f"{{{W}}}p"):
        for item in paragraph.iter(f"{{{W}}}fldSimple"):
            yield from _reference(own(item, "instr"), text_of(item))
        code = shown = ""
        state = "outside"
        for run in paragraph.iter(f"{{{W}}}r"):
            mark = run.find("w:fldChar", NAMES)
            if mark is not None:
                state = own(mark, "fldCharType")
                if state == "end":
                    yield from _reference(code, shown)
                    code = shown = ""
            elif state == "begin":
                code += "".join(item.text or "" for item in run.iter(f"{{{W}}}instrText"))
            elif state == "separate":
                shown += text_of(run)


def _reference(code: str, shown: str) -> Iterator[tuple[str, str]]:
    found = re.match(r"\s*REF (_Ref_(?:clause|line|part)\S*)", code)
    if found:
        yield found[1], shown.strip()
