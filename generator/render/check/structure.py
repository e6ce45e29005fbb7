"""What is structurally wrong with a Word paper: what makes Word refuse it, repair it, or show `Error!`."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from functools import cache
from typing import Any, Final

from generator.render.check.opened import MAIN, Fault, Opened, R, W

_WP: Final = "{http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing}"
_A: Final = "{http://schemas.openxmlformats.org/drawingml/2006/main}"
_LAST_COPY: Final = "go back to the last copy that Word opens without repair"
ORDER: Final = {
    "pPr": (
        "pStyle keepNext keepLines pageBreakBefore framePr widowControl numPr suppressLineNumbers pBdr shd tabs"
        " suppressAutoHyphens kinsoku wordWrap overflowPunct topLinePunct autoSpaceDE autoSpaceDN bidi adjustRightInd"
        " snapToGrid spacing ind contextualSpacing mirrorIndents suppressOverlap jc textDirection textAlignment"
        " textboxTightWrap outlineLvl divId cnfStyle rPr sectPr pPrChange"
    ),
    "tblPr": (
        "tblStyle tblpPr tblOverlap bidiVisual tblStyleRowBandSize tblStyleColBandSize tblW jc tblCellSpacing tblInd"
        " tblBorders shd tblLayout tblCellMar tblLook tblCaption tblDescription tblPrChange"
    ),
    "tcPr": "cnfStyle tcW gridSpan hMerge vMerge tcBorders shd noWrap tcMar textDirection tcFitText vAlign hideMark",
    "sectPr": (
        "headerReference footerReference footnotePr endnotePr type pgSz pgMar paperSrc pgBorders lnNumType pgNumType"
        " cols formProt vAlign noEndnote titlePg textDirection bidi rtlGutter docGrid printerSettings sectPrChange"
    ),
}  # fmt: skip
_SETTINGS: Final = (
    "zoom", "trackRevisions", "defaultTabStop", "evenAndOddHeaders", "characterSpacingControl", "footnotePr",
    "endnotePr", "compat", "rsids", "themeFontLang", "clrSchemeMapping", "decimalSymbol", "listSeparator",
)  # fmt: skip
_VALUES: Final = {
    "jc": {"left", "start", "center", "right", "end", "both", "distribute", "mediumKashida", "highKashida",
           "lowKashida", "numTab", "thaiDistribute"},
    "vAlign": {"top", "center", "bottom", "both"},
    "vMerge": {"restart", "continue"},
}  # fmt: skip
_REVISIONS: Final = ("ins", "del", "moveFrom", "moveTo", "rPrChange", "pPrChange")


def structural_faults(paper: Opened) -> Iterator[Fault]:
    """Every structural fault, by the part it lies in, in the order of the checks."""
    yield from _package(paper)
    for name, tree in paper.stories():
        yield from _bookmarks(name, tree)
        yield from _controls(name, tree)
        yield from _tables(name, tree)
        yield from _fields(name, tree)
        yield from _properties(name, tree)
        yield from _revisions(name, tree)
    yield from _references(paper)
    yield from _named(paper)
    yield from _notes(paper)
    yield from _ids(paper)
    yield from _ends(paper)


def value(element: Any, path: str = "", name: str = "val") -> str:
    """A `w:` attribute of an element, or of the one at a path in it, by the first of each step; empty for none."""
    found = element
    for tag in _tags(path):
        found = next(found.iterchildren(tag), None)
        if found is None:
            return ""
    return str(found.get(W + name, ""))


@cache
def _tags(path: str) -> tuple[str, ...]:
    return tuple(W + step for step in path.split("/")) if path else ()


def whole(text: str, otherwise: int) -> int:
    """A number as a file spells it; another where it spells none."""
    return int(text) if text.isascii() and text.isdigit() and len(text) < 6 else otherwise


def _twice(values: Iterable[str]) -> list[str]:
    return [item for item, count in Counter(values).items() if count > 1]


def _package(paper: Opened) -> Iterator[Fault]:
    for name in paper.untyped():
        yield Fault("W18", f"the file does not say what its part {name} is", "insert that picture or part again")
    for name in [*paper.trees]:
        for target, outside in paper.relations(name).values():
            if not outside and target not in paper.parts:
                yield Fault("W24", f"{name} leads to {target}, which is not in the file", _LAST_COPY)


def _bookmarks(name: str, tree: Any) -> Iterator[Fault]:
    starts = list(tree.iter(f"{W}bookmarkStart"))
    ends = {value(item, name="id") for item in tree.iter(f"{W}bookmarkEnd")}
    for number in _twice(value(item, name="id") for item in starts):
        yield Fault("W01", f"two bookmarks of {name} have the number {number}", "delete one of the two")
    for title in _twice(value(item, name="name") for item in starts):
        yield Fault("W06", f"two bookmarks are called '{title}'", "rename one; clauses copied whole bring theirs along")
    for item in starts:
        if value(item, name="id") not in ends:
            yield Fault("W07", f"the bookmark '{value(item, name='name')}' has no end", "delete it and set it again")


def _controls(name: str, tree: Any) -> Iterator[Fault]:
    controls = list(tree.iter(f"{W}sdt"))
    if any(item.find(f"{W}sdtContent") is None for item in controls):
        yield Fault("W05", f"a content control of {name} holds nothing", "delete the control and put its text back")
    numbers = (value(item, "sdtPr/id") for item in controls)
    for number in _twice(item for item in numbers if item):
        yield Fault("W09", f"two content controls have the number {number}", "delete the copied control, keep its text")


def _tables(name: str, tree: Any) -> Iterator[Fault]:
    for number, item in enumerate(tree.iter(f"{W}tbl"), 1):
        where = f"table {number} of {name}"
        if len(item.findall(f"{W}tblPr")) > 1:
            yield Fault("W25", f"{where} has its properties twice", _LAST_COPY)
        columns = len(item.findall(f"{W}tblGrid/{W}gridCol"))
        widths = [_spanned(row) for row in item.findall(f"{W}tr")]
        if any(spanning > columns and spans for spanning, spans in widths):
            yield Fault("W22", f"a cell of {where} spans more columns than there are", "split that cell")
        elif any(spanning != columns for spanning, _ in widths):
            yield Fault("W04", f"{where} has {columns} columns and a row of another number", "make the rows alike")
        for cell in item.iterfind(f"{W}tr/{W}tc"):
            if not len(cell) or cell[-1].tag not in (f"{W}p", f"{W}sdt"):
                yield Fault("W11", f"a cell of {where} does not end with a paragraph", "put an empty line in that cell")
                break


def _spanned(row: Any) -> tuple[int, bool]:
    """The columns a row takes, and whether a cell of it spans several."""
    spans = [whole(value(cell, "tcPr/gridSpan"), 1) for cell in row.iter(f"{W}tc") if _row_of(cell) is row]
    before = whole(value(row, "trPr/gridBefore"), 0) + whole(value(row, "trPr/gridAfter"), 0)
    return sum(spans) + before, any(span > 1 for span in spans)


def _row_of(cell: Any) -> Any:
    return next(cell.iterancestors(f"{W}tr"), None)


def _fields(name: str, tree: Any) -> Iterator[Fault]:
    open_fields = 0
    for item in tree.iter(f"{W}fldChar"):
        kind = value(item, name="fldCharType")
        open_fields += {"begin": 1, "end": -1}.get(kind, 0)
    if open_fields:
        yield Fault("W12", f"a field of {name} has no end or no beginning", "delete the field and insert it again")


def _properties(name: str, tree: Any) -> Iterator[Fault]:
    for kind, listed in ORDER.items():
        order = {W + tag: place for place, tag in enumerate(listed.split())}
        for item in tree.iter(W + kind):
            places = [order[child.tag] for child in item if child.tag in order]
            if places != sorted(places):
                yield Fault("W02", f"properties ({kind}) of {name} stand in the wrong order", _LAST_COPY)
                break
    for kind, valid in _VALUES.items():
        for item in tree.iter(W + kind):
            if value(item) and value(item) not in valid:
                what = f"{name} says {kind} '{value(item)}', which Word does not know"
                yield Fault("W17", what, "set it again in Word")


def _local(element: Any) -> str:
    return str(element.tag).rpartition("}")[2]


def _revisions(name: str, tree: Any) -> Iterator[Fault]:
    changes = [
        item
        for kind in _REVISIONS
        for item in tree.iter(W + kind)
        if item.get(f"{W}id") is not None or item.get(f"{W}author") is not None or _local(item) in ("ins", "del")
    ]
    for number in _twice(found for item in changes if (found := value(item, name="id"))):
        yield Fault("W19", f"two tracked changes of {name} have the number {number}", "accept or reject one of them")
    if any(not value(item, name="author") for item in changes):
        yield Fault("W21", f"a tracked change of {name} has no author", "accept or reject it")
    if any(item.find(f".//{W}t") is not None for item in tree.iter(f"{W}del")):
        yield Fault("W23", f"text struck out in {name} still counts as text", "accept or reject that change")


def _references(paper: Opened) -> Iterator[Fault]:
    names = {value(item, name="name") for _, tree in paper.stories() for item in tree.iter(f"{W}bookmarkStart")}
    for name, tree in paper.stories():
        codes = [value(item, name="instr") for item in tree.iter(f"{W}fldSimple")]
        codes += ["".join(item.itertext()) for item in tree.iter(f"{W}instrText")]
        for code in codes:
            target = re.match(r"\s*(?:REF|PAGEREF)\s+(\S+)", code)
            if target and target[1] not in names:
                yield Fault("W08", f"{name} refers to '{target[1]}', which is gone", "insert the cross-reference again")
        for item in tree.iter(f"{W}hyperlink"):
            anchor = value(item, name="anchor")
            if anchor and anchor not in names:
                yield Fault("W26", f"{name} links to '{anchor}', which is gone", "link it again, or remove the link")


def _named(paper: Opened) -> Iterator[Fault]:
    styles, numbering = paper.trees.get("word/styles.xml"), paper.trees.get("word/numbering.xml")
    known = set() if styles is None else {value(item, name="styleId") for item in styles.iter(f"{W}style")}
    lists = {"0"} if numbering is None else {"0", *(value(item, name="numId") for item in numbering.iter(f"{W}num"))}
    for name, tree in paper.stories():
        used = {value(item) for kind in ("pStyle", "rStyle", "tblStyle") for item in tree.iter(W + kind)}
        for style in sorted(used - known):
            yield Fault("W15", f"{name} uses the style '{style}', which is not there", "give that text another style")
        for number in sorted({value(item) for item in tree.iter(f"{W}numId")} - lists):
            yield Fault("W16", f"{name} uses the list {number}, which is not there", "number that list again")


def _notes(paper: Opened) -> Iterator[Fault]:
    for kind, part, code in (
        ("comment", "comments", "W13"),
        ("footnote", "footnotes", "W14"),
        ("endnote", "endnotes", "W14"),
    ):
        held = paper.trees.get(f"word/{part}.xml")
        known = set() if held is None else {value(item, name="id") for item in held.iter(W + kind)}
        used = {value(item, name="id") for item in paper.body.iter(f"{W}{kind}Reference")}
        for number in sorted(used - known):
            yield Fault(code, f"the {kind} {number} has no text", "delete its mark in the text")


def _ids(paper: Opened) -> Iterator[Fault]:
    for name, tree in paper.stories():
        for number in _twice(str(item.get("id")) for item in tree.iter(f"{_WP}docPr")):
            yield Fault("W10", f"two pictures of {name} have the number {number}", "insert one of them again")
        relations = paper.relations(name)
        used = {str(item.get(f"{R}embed")) for item in tree.iter(f"{_A}blip") if item.get(f"{R}embed")}
        used |= {str(item.get(f"{R}id")) for item in tree.iter() if item.get(f"{R}id")}
        for number in sorted(used - set(relations)):
            yield Fault("W03", f"{name} uses the part {number}, which is not in the file", "insert that picture again")


def _ends(paper: Opened) -> Iterator[Fault]:
    children = [_local(item) for item in paper.trees[MAIN].find(f"{W}body")]
    if "sectPr" in children and children.index("sectPr") != len(children) - 1:
        yield Fault("W20", "text stands after the end of the document", _LAST_COPY)
    settings = paper.trees.get("word/settings.xml")
    if settings is not None:
        places = [_SETTINGS.index(tag) for item in settings if (tag := _local(item)) in _SETTINGS]
        if places != sorted(places):
            yield Fault("W27", "the settings stand in the wrong order", _LAST_COPY)
