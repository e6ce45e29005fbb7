"""Reads a .docx as a reader sees it: plain lines, automatic numbers worked out, controls opened.

Written apart from the renderer, from the format alone, so that the two can disagree.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass, field

from lxml import etree

W = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
WP = "http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing"
NAMES = {"w": W, "wp": WP}
SHORT = {
    "BodyText": "Body", "TextAcross": "Body", "ListBullet": "Bullet", "BulletAcross": "Bullet", "ListNumber": "Item",
    "SmallAcross": "SmallText",
}  # fmt: skip


def parts(data: bytes) -> dict[str, bytes]:
    """The parts of the package by name."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def part(data: bytes, name: str = "word/document.xml") -> etree._Element:
    """One part, parsed."""
    return etree.fromstring(parts(data)[name], etree.XMLParser(resolve_entities=False, no_network=True))


def outline(data: bytes) -> list[str]:
    """Every paragraph and table of the body in order.

    Lines are like `Heading1 "1 Materials"`, `Clause 2.1 "Sand"`, `Body "Sharp."`, `Table 3x2`. Tables
    are rows x columns, their heading row included. Section ends, which hold nothing, are left out.
    """
    numbers = Numbers(data)
    blocks = _blocks(only(part(data), "w:body"), "")
    return [line for block, control in blocks if (line := _line(block, control, numbers))]


def tables(data: bytes) -> list[list[list[str]]]:
    """The words of every table: tables of rows of cells."""
    return [
        [[_cell_text(cell) for cell in row.findall("w:tc", NAMES)] for row in table.findall("w:tr", NAMES)]
        for table in part(data).iter(f"{{{W}}}tbl")
    ]


def text_of(element: etree._Element) -> str:
    """The words a reader sees in an element: tabs as one blank, line breaks as line ends, no field codes.

    What keeps a number by its unit, or a range whole, is not seen.
    """
    seen = {f"{{{W}}}t": "", f"{{{W}}}tab": " ", f"{{{W}}}br": "\n"}
    parents = ((node, node.getparent()) for node in element.iter(*seen))
    shown = (node for node, parent in parents if parent is not None and parent.tag == f"{{{W}}}r")
    text = "".join(seen[node.tag] or node.text or "" for node in shown)
    return unbound(text)


def unbound(text: str) -> str:
    """A text without what keeps a number by its unit, a range whole or a day by its month."""
    return text.replace("\N{WORD JOINER}", "").replace("\N{NO-BREAK SPACE}", " ")


def words_of(element: etree._Element) -> str:
    """All text in an element, whether it is shown or not."""
    return "".join(map(str, element.itertext()))


def only(element: etree._Element, path: str) -> etree._Element:
    """The element at a path, which is there."""
    found = element.find(path, NAMES)
    assert found is not None, path
    return found


def own(element: etree._Element, name: str) -> str:
    """A `w:` attribute of the element itself, `""` where there is none."""
    return element.get(f"{{{W}}}{name}", "")


def attribute(element: etree._Element, path: str, name: str = "val") -> str:
    """A `w:` attribute of the element at a path, `""` where there is none."""
    found = element.find(path, NAMES)
    return "" if found is None else own(found, name)


def _blocks(parent: etree._Element, control: str) -> Iterator[tuple[etree._Element, str]]:
    for child in parent:
        if child.tag == f"{{{W}}}sdt":
            tag = attribute(child, "w:sdtPr/w:tag")
            yield from _blocks(only(child, "w:sdtContent"), tag)
        elif child.tag in (f"{{{W}}}p", f"{{{W}}}tbl"):
            yield child, control


def _line(block: etree._Element, control: str, numbers: Numbers) -> str:
    if block.tag == f"{{{W}}}tbl":
        return f"Table {len(block.findall('w:tr', NAMES))}x{len(block.findall('w:tblGrid/w:gridCol', NAMES))}"
    style = attribute(block, "w:pPr/w:pStyle") or "Normal"
    number = numbers.next(block, style)
    text = text_of(block)
    picture = block.find(".//wp:docPr", NAMES)
    if picture is not None:
        return f'{style} "{picture.get("descr")}"'
    if style == "SectionEnd" and not text:
        return ""
    if style == "Heading2" and control.startswith("clause:"):
        return f'Clause {number} "{text}"'
    return f'{SHORT.get(style, style)} "{" ".join(filter(None, (number, text)))}"'


def _cell_text(cell: etree._Element) -> str:
    return "\n".join(text_of(paragraph) for paragraph in cell.findall("w:p", NAMES))


@dataclass
class _Level:
    start: int
    form: str
    text: str


@dataclass
class Numbers:
    """The automatic numbers of a document: lists of one kind share counts, an override restarts them."""

    data: bytes
    levels: dict[str, dict[int, _Level]] = field(init=False, default_factory=dict)
    lists: dict[str, tuple[str, dict[int, int]]] = field(init=False, default_factory=dict)
    styles: dict[str, tuple[str, int]] = field(init=False, default_factory=dict)
    counts: dict[str, dict[int, int]] = field(init=False, default_factory=dict)
    begun: set[tuple[str, int]] = field(init=False, default_factory=set)

    def __post_init__(self) -> None:
        numbering = part(self.data, "word/numbering.xml")
        for abstract in numbering.findall("w:abstractNum", NAMES):
            self.levels[own(abstract, "abstractNumId")] = {
                int(own(level, "ilvl")): _Level(
                    int(attribute(level, "w:start")),
                    attribute(level, "w:numFmt"),
                    attribute(level, "w:lvlText"),
                )
                for level in abstract.findall("w:lvl", NAMES)
            }
        for number in numbering.findall("w:num", NAMES):
            starts = {
                int(own(override, "ilvl")): int(attribute(override, "w:startOverride"))
                for override in number.findall("w:lvlOverride", NAMES)
            }
            self.lists[own(number, "numId")] = (attribute(number, "w:abstractNumId"), starts)
        for style in part(self.data, "word/styles.xml").findall("w:style", NAMES):
            list_id = attribute(style, "w:pPr/w:numPr/w:numId")
            if list_id:
                level = int(attribute(style, "w:pPr/w:numPr/w:ilvl") or 0)
                self.styles[own(style, "styleId")] = (list_id, level)

    def next(self, paragraph: etree._Element, style: str) -> str:
        """The number of the next paragraph of the body, `""` for one without."""
        list_id = attribute(paragraph, "w:pPr/w:numPr/w:numId")
        level = int(attribute(paragraph, "w:pPr/w:numPr/w:ilvl") or 0)
        if not list_id:
            if style not in self.styles:
                return ""
            list_id, level = self.styles[style]
        abstract, starts = self.lists[list_id]
        counts = self.counts.setdefault(abstract, {})
        first_use = (list_id, level) not in self.begun
        self.begun.add((list_id, level))
        if first_use and level in starts:
            counts[level] = starts[level]
        else:
            counts[level] = counts.get(level, self.levels[abstract][level].start - 1) + 1
        for deeper in [key for key in counts if key > level]:
            del counts[deeper]
        return self._shown(abstract, level)

    def _shown(self, abstract: str, level: int) -> str:
        levels, counts = self.levels[abstract], self.counts[abstract]
        if levels[level].form == "bullet":
            return ""

        def count(match: re.Match[str]) -> str:
            at = int(match.group(1)) - 1
            value = counts.get(at, levels[at].start)
            return chr(ord("A") + value - 1) if levels[at].form == "upperLetter" else str(value)

        return re.sub("%([1-9])", count, levels[level].text)
