"""What keeps people from a Word paper who hear it, enlarge it or go through it by keys (WCAG 2.2, PDF/UA-1)."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import lru_cache
from typing import Any, Final

from generator.render.check.opened import Fault, Opened, W
from generator.render.check.structure import value, whole

_WP: Final = "{http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing}"
_DC_TITLE: Final = "{http://purl.org/dc/elements/1.1/}title"
_DECORATIVE: Final = "{http://schemas.microsoft.com/office/drawing/2017/decorative}decorative"
_TYPED_BULLET: Final = re.compile(r"\s*([-–•·*]|\(?[a-z0-9]{1,2}\))\s+\S")
_BARE_ADDRESS: Final = re.compile(r"\s*(https?://|www\.)\S+\s*", re.IGNORECASE)
_NOWHERE: Final = {"here", "click here", "link", "more", "this"}
_HELD: Final = tuple(
    f"{W}{kind}"
    for kind in ("t", "drawing", "br", "fldSimple", "instrText", "sectPr", "pict", "object", "commentReference")
)
LEAST_CONTRAST: Final = 4.5
"""Contrast of text on its ground: WCAG 2.2, criterion 1.4.3."""

LONG_FROM_HEADINGS: Final = 20
_HEADING_LIKE: Final = 80


def access_faults(paper: Opened) -> Iterator[Fault]:
    """Every fault of accessibility, in the order of the checks."""
    yield from _told(paper)
    styles = _Styles(paper)
    yield from _headings(paper, styles)
    for name, tree in paper.stories():
        if "comments" in name:
            continue
        yield from _paragraphs(name, tree, styles)
        yield from _pictures(name, tree)
        yield from _tables(name, tree)
        yield from _links(name, tree)
        yield from _contrast(name, tree, styles)
        for item in tree.iter(f"{W}sdt"):
            if not value(item, "sdtPr/alias"):
                yield Fault("A12", f"a content control of {name} has no title", "give it a title in its properties")


class _Styles:
    """The styles of a paper by id, each asked for what it or one it rests on says."""

    def __init__(self, paper: Opened) -> None:
        tree = paper.trees.get("word/styles.xml")
        self.tree = tree
        self.by_id = {} if tree is None else {value(item, name="styleId"): item for item in tree.iter(f"{W}style")}
        self._kept: dict[str, dict[str, str]] = {}

    def said(self, style: str, path: str, name: str = "val") -> str:
        """What a style says at a path, looked up through the styles it rests on."""
        return self._nearest(style, f"{path} {name}", lambda item: value(item, path, name))

    def bold(self, style: str) -> bool:
        """Whether a style, or one it rests on, is bold itself."""
        return self._nearest(style, "bold", _boldness) == "bold"

    def _nearest(self, style: str, asked: str, say: Callable[[Any], str]) -> str:
        """What the first says that says anything, of a style and those it rests on; kept for all on the way.

        A paper asks at every run, and styles may rest on one another without end.
        """
        kept = self._kept.setdefault(asked, {})
        if style in kept or style not in self.by_id:
            return kept.get(style, "")
        way: dict[str, None] = {}
        found = ""
        while not found and style in self.by_id and style not in way:
            if style in kept:
                found = kept[style]
                break
            way[style] = None
            found = say(self.by_id[style])
            style = value(self.by_id[style], "basedOn")
        kept.update(dict.fromkeys(way, found))
        return found

    def level(self, paragraph: Any) -> int | None:
        """The outline level of a paragraph, 0 the highest; None for one that is no heading."""
        found = value(paragraph, "pPr/outlineLvl") or self.said(value(paragraph, "pPr/pStyle"), "pPr/outlineLvl")
        level = whole(found, 9)
        return level if level < 9 else None


def _words(element: Any) -> str:
    return "".join(item.text or "" for item in element.iter(f"{W}t"))


def _told(paper: Opened) -> Iterator[Fault]:
    core = paper.trees.get("docProps/core.xml")
    title = None if core is None else core.find(_DC_TITLE)
    if title is None or not (title.text or "").strip():
        yield Fault("A01", "the file has no title in its properties", "fill in File, Info, Title")
    styles = paper.trees.get("word/styles.xml")
    if styles is None or not value(styles, "docDefaults/rPrDefault/rPr/lang"):
        yield Fault("A02", "the file does not say its language", "set the proofing language as the default")


def _headings(paper: Opened, styles: _Styles) -> Iterator[Fault]:
    last, count = -1, 0
    for item in paper.body.iter(f"{W}p"):
        level = styles.level(item)
        if level is None:
            continue
        count += 1
        text = _words(item).strip()
        if not text:
            yield Fault("A03", "a heading is empty", "delete it, or give its line a text style")
        elif level > last + 1:
            yield Fault("A03", f"the heading '{text[:50]}' skips a level", "give it the next lower heading style")
        last = level
    fields = [value(item, name="instr") for item in paper.body.iter(f"{W}fldSimple")]
    fields += [item.text or "" for item in paper.body.iter(f"{W}instrText")]
    if count >= LONG_FROM_HEADINGS and not any(code.split()[:1] == ["TOC"] for code in fields):
        yield Fault("A13", f"a paper of {count} headings has no contents list", "insert a table of contents")


def _paragraphs(name: str, tree: Any, styles: _Styles) -> Iterator[Fault]:
    for item in tree.iter(f"{W}p"):
        text = _words(item)
        style = value(item, "pPr/pStyle")
        in_cell = next(item.iterancestors(f"{W}tc"), None) is not None
        in_text = not in_cell and styles.level(item) is None
        if in_text and not styles.bold(style) and _poses(item, text, styles, style):
            yield Fault("A04", f"the bold line '{text[:50]}' poses as a heading", "give it a heading style")
        if in_text and _TYPED_BULLET.match(text) and not _listed(item, style, styles):
            yield Fault("A05", f"the list mark before '{text.strip()[:50]}' is typed", "use a list style")
        if "    " in text or _fills(item):
            yield Fault("A06", f"empty lines or blanks stand for space in {name}", "use space before or after, or tabs")


def _listed(item: Any, style: str, styles: _Styles) -> bool:
    return bool(value(item, "pPr/numPr/numId") or styles.said(style, "pPr/numPr/numId"))


def _poses(item: Any, text: str, styles: _Styles, style: str) -> bool:
    """Whether a short line of bold runs alone stands where a heading would."""
    if len(text) >= _HEADING_LIKE or text.rstrip().endswith((".", ";", ",")):  # a sentence
        return False
    title = styles.said(style, "name").lower() in ("title", "subtitle", "caption", "header", "footer")
    if title or item.getparent().tag in (f"{W}hdr", f"{W}ftr"):
        return False
    runs = [run for run in item.iter(f"{W}r") if _words(run).strip()]
    return bool(runs) and all(map(_bold, runs))


def _bold(run: Any) -> bool:
    return run.find(f"{W}rPr/{W}b") is not None and value(run, "rPr/b") not in ("0", "false")


def _boldness(style: Any) -> str:
    """Whether a style is bold or not; empty where it does not say."""
    if style.find(f"{W}rPr/{W}b") is None:
        return ""
    return "plain" if value(style, "rPr/b") in ("0", "false") else "bold"


def _fills(item: Any) -> bool:
    """Whether an empty paragraph lies between two others with nothing to part."""
    return _empty(item) and any(
        other is not None and other.tag == f"{W}p" and _empty(other) for other in (item.getnext(), item.getprevious())
    )


def _empty(item: Any) -> bool:
    return next(item.iter(*_HELD), None) is None


def _pictures(name: str, tree: Any) -> Iterator[Fault]:
    for item in tree.iter(f"{_WP}docPr"):
        if not (item.get("descr") or "").strip() and not any(True for _ in item.iter(_DECORATIVE)):
            yield Fault("A07", f"a picture of {name} has no alternative text", "say in it what the picture shows")
    if any(True for _ in tree.iter(f"{_WP}anchor")):
        yield Fault("A08", f"a picture of {name} floats beside the text", "set it in line with the text")


def _tables(name: str, tree: Any) -> Iterator[Fault]:
    for number, item in enumerate(tree.iter(f"{W}tbl"), 1):
        where = f"table {number} of {name}"
        first = item.find(f"{W}tr")
        if first is None or first.find(f"{W}trPr/{W}tblHeader") is None:
            yield Fault("A09", f"{where} has no heading row that repeats", "mark its first row as a heading row")
        spans = any(whole(value(cell), 1) > 1 for cell in item.iter(f"{W}gridSpan"))
        if spans or any(True for _ in item.iter(f"{W}vMerge")) or any(True for _ in item.iterfind(f".//{W}tc//{W}tbl")):
            yield Fault("A09", f"{where} has merged cells or a table within it", "split the cells")
        if not value(item, "tblPr/tblCaption") and not value(item, "tblPr/tblDescription"):
            yield Fault("A09", f"{where} has no title or description", "fill them in under Table properties, Alt text")


def _links(name: str, tree: Any) -> Iterator[Fault]:
    for item in tree.iter(f"{W}hyperlink"):
        text = _words(item).strip()
        if text.lower() in _NOWHERE or _BARE_ADDRESS.fullmatch(text):
            yield Fault("A10", f"the link '{text[:50]}' does not say where it goes", "name what it leads to")


def _contrast(name: str, tree: Any, styles: _Styles) -> Iterator[Fault]:
    for item in tree.iter(f"{W}p"):
        style = value(item, "pPr/pStyle")
        cell = next(item.iterancestors(f"{W}tc"), None)
        ground = value(item, "pPr/shd", "fill") or ("" if cell is None else value(cell, "tcPr/shd", "fill"))
        ink = styles.said(style, "rPr/color")
        for run in item.iter(f"{W}r"):
            text = _words(run).strip()
            if text and contrast(_ink(run, styles) or ink, ground) < LEAST_CONTRAST:
                yield Fault("A11", f"the words '{text[:50]}' are too pale for their ground", "darken them")
                break


def _ink(run: Any, styles: _Styles) -> str:
    """The colour that a run gives itself, or its style does; empty where neither does."""
    if (said := next(run.iterchildren(f"{W}rPr"), None)) is None:
        return ""
    return value(said, "color") or styles.said(value(said, "rStyle"), "rPr/color")


@lru_cache(maxsize=1_000)
def contrast(ink: str, ground: str) -> float:
    """The contrast of two colours of six hexadecimal digits, 1 to 21, by WCAG 2.2; others are black on white."""
    lights = sorted((_light(ink, "000000"), _light(ground, "FFFFFF")))
    return (lights[1] + 0.05) / (lights[0] + 0.05)


def _light(colour: str, otherwise: str) -> float:
    """The relative luminance of a colour (WCAG 2.2)."""
    spelt = colour if re.fullmatch("[0-9A-Fa-f]{6}", colour) else otherwise
    shares = [int(spelt[place : place + 2], 16) / 255 for place in (0, 2, 4)]
    linear = [share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4 for share in shares]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
