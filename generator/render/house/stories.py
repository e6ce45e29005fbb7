"""The headers and footers of a house style: read, held to what papers can take over, their fields found."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any, Final

from generator.render.check.opened import MAIN, Opened, R, W
from generator.render.check.structure import value
from generator.render.house.props import PARAGRAPH, RUN, Told, properties, put, theme_faces
from generator.render.word import xml
from generator.render.word.look import COVER, FIELDS, FOOTER, HEADER, PLACE, TURNED, UPRIGHT, Story
from generator.values import Struct

LARGEST_PICTURE: Final = 4_000_000
_WP: Final = "{http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing}"
_A: Final = "{http://schemas.openxmlformats.org/drawingml/2006/main}"
_COUNTED: Final = ("PAGE", "NUMPAGES", "SECTIONPAGES")
_NEEDED: Final = ("reference", "revision")
_LEFT_OUT: Final = ("bookmarkStart", "bookmarkEnd", "proofErr", "lastRenderedPageBreak", "permStart", "permEnd", "rPr")
_CHANGED: Final = ("ins", "del", "moveFrom", "moveTo")
_WORDS: Final = re.compile(r'<w:r>((?:<w:rPr>.*</w:rPr>)?)<w:t xml:space="preserve">([^<]*)</w:t></w:r>')
_FIRST_PICTURE: Final = 9000
_KIND_WORD: Final = {HEADER: "header", FOOTER: "footer"}
_PAGE_WORD: Final = {UPRIGHT: "upright", TURNED: "turned"}
_SAID: Final = {
    "tbl": "a table: set its words out with tab stops",
    "pict": "an old drawing: insert it again as a picture",
    "object": "an embedded object: insert it again as a picture",
    "AlternateContent": "a shape or text box: use words and pictures in line with the text",
}


class Sections(Struct, frozen=True):
    """The sections of a file, counted from 0, that cover, upright and turned pages take after."""

    cover: int
    upright: int
    turned: int


class Stories:
    """The headers and footers of a file, made anew; `own_id` gives the style that stands for one of the file's."""

    def __init__(self, file: Opened, own_id: Callable[[str], str], told: Told) -> None:
        self._file = file
        self._own_id = own_id
        self._told = told
        self._pictures = 0
        self._setups = list(file.body.iter(f"{W}sectPr"))

    def of(self, sections: Sections) -> Mapping[tuple[str, str], Story]:
        """The stories of the cover, of upright and of turned pages."""
        first = self._setups[sections.cover].find(f"{W}titlePg") is not None
        found = {
            (kind, where): self._story(kind, number, form)
            for kind in (HEADER, FOOTER)
            for where, number, form in (
                (COVER, sections.cover, "first" if first else "default"),
                (UPRIGHT, sections.upright, "default"), (TURNED, sections.turned, "default"),
            )
        }  # fmt: skip
        for where in (UPRIGHT, TURNED):
            self._complete(where, "".join(found[kind, where].content for kind in (HEADER, FOOTER)))
        return found

    def _complete(self, where: str, content: str) -> None:
        """A loose page is traced by its reference, revision and number."""
        for name in _NEEDED:
            if f"[{name}]" not in content:
                self._told(f"has no [{name}] in the headers or footers of {_PAGE_WORD[where]} pages: write it there")
        if 'instr=" PAGE ' not in content:
            self._told(f"has no page number in the headers or footers of {_PAGE_WORD[where]} pages: insert one in Word")

    def _story(self, kind: str, section: int, form: str) -> Story:
        part = self._part(kind, section, form)
        tree = self._file.trees.get(part)
        if tree is None:
            return Story(xml.paragraph(_KIND_WORD[kind].capitalize(), ""))
        return _Reader(self._file, part, self._own_id, self._told, self._next_picture).story(tree, kind)

    def _part(self, kind: str, section: int, form: str) -> str:
        """The part with a header or footer: of the section, or of the nearest one before it that has one."""
        for number in range(section, -1, -1):
            for item in self._setups[number].iter(f"{W}{_KIND_WORD[kind]}Reference"):
                if (value(item, name="type") or "default") == form:
                    return self._file.relations(MAIN).get(item.get(f"{R}id", ""), ("", False))[0]
        return ""

    def _next_picture(self) -> int:
        self._pictures += 1
        return _FIRST_PICTURE + self._pictures


class _Reader:
    """Reads one header or footer."""

    def __init__(
        self, file: Opened, part: str, own_id: Callable[[str], str], told: Told, next_picture: Callable[[], int]
    ) -> None:
        self._file = file
        self._part = part
        self._own_id = own_id
        self._next_picture = next_picture
        self._images: list[bytes] = []
        self._code: list[str] | None = None
        self._shown = False
        self._told: Told = lambda what: told(f"{part} {what}")
        self._faces = theme_faces(file)

    def story(self, tree: Any, kind: str) -> Story:
        """The whole of it, with at least one paragraph."""
        content = "".join(self._blocks(tree)) or xml.paragraph(_KIND_WORD[kind].capitalize(), "")
        return Story(content, tuple(self._images))

    def _blocks(self, parent: Any) -> Iterator[str]:
        for child in parent:
            name = _local(child)
            if name == "p":
                yield self._paragraph(child)
            elif name in ("sdt", "sdtContent"):
                yield from self._blocks(child)
            elif name not in (*_LEFT_OUT, "sdtPr", "sdtEndPr"):
                self._refuse(name)

    def _paragraph(self, item: Any) -> str:
        if item.find(f"{W}pPr/{W}numPr") is not None or item.find(f"{W}pPr/{W}framePr") is not None:
            self._told("has a list or a frame: use plain lines")
        style = self._own_id(value(item, "pPr/pStyle")) or "Normal"
        said = self._serialised("pPr", properties([item.find(f"{W}pPr")], PARAGRAPH, self._faces, self._told))
        content = "".join(_joined(self._inlines(item)))
        for name in PLACE.findall(content):
            if name not in FIELDS:
                self._told(f"says [{name[:30]}], which papers cannot fill: use one of {', '.join(FIELDS)}")
        if self._code is not None:
            self._told("has a field that does not end in its line: insert it again")
            self._code = None
        return xml.paragraph(style, content, said)

    def _inlines(self, parent: Any) -> Iterator[str]:
        for child in parent:
            name = _local(child)
            if name == "r":
                yield from self._run(child)
            elif name == "fldSimple":
                yield self._field(value(child, name="instr"), self._look(child.find(f"{W}r")))
            elif name in ("sdt", "sdtContent", "hyperlink", "smartTag"):
                yield from self._inlines(child)
            elif name not in (*_LEFT_OUT, "pPr", "sdtPr", "sdtEndPr"):
                self._refuse(name)

    def _run(self, item: Any) -> Iterator[str]:
        look = self._look(item)
        for child in item:
            name = _local(child)
            if name == "fldChar":
                yield from self._field_mark(value(child, name="fldCharType"), look)
            elif name == "instrText" and self._code is not None:
                self._code.append(child.text or "")
            elif self._code is not None and name not in _LEFT_OUT and name != "drawing":
                continue  # what the field showed last
            elif name == "t":
                yield xml.run(child.text or "", look)
            elif name in ("tab", "ptab"):
                yield xml.TAB
            elif name in ("br", "cr"):
                yield xml.run("\n", look)
            elif name == "noBreakHyphen":
                yield xml.run("‑", look)
            elif name == "drawing":
                yield from self._picture(child)
            elif name not in _LEFT_OUT:
                self._refuse(name)

    def _field_mark(self, kind: str, look: str) -> Iterator[str]:
        """A field is made anew at its end, whose look is that of its last mark."""
        if kind == "begin" and self._code is None:
            self._code = []
        elif kind == "end" and self._code is not None:
            code, self._code = "".join(self._code), None
            yield self._field(code, look)
        elif kind != "separate":
            self._told("has a field within a field: insert it again")

    def _field(self, code: str, look: str) -> str:
        word = (code.split() or [""])[0].upper()
        if word not in _COUNTED:
            self._told(f"has the field '{code.strip()[:30]}': papers take {', '.join(_COUNTED)} only")
            return ""
        return xml.field(word, "1", look)

    def _look(self, run: Any) -> str:
        if run is None:
            return ""
        said = properties([run.find(f"{W}rPr")], RUN, self._faces, self._told)
        style = self._own_id(value(run, "rPr/rStyle"))
        return (f'<w:rStyle w:val="{style}"/>' if style else "") + self._serialised("rPr", said)

    def _serialised(self, name: str, said: dict[str, Any]) -> str:
        from lxml import etree

        if not said:
            return ""
        parent = next(iter(said.values())).makeelement(W + name, nsmap={"w": W[1:-1]})
        put(parent, said)
        text = etree.tostring(parent, encoding="unicode")
        return str(text[text.index(">") + 1 : text.rindex("<")])

    def _picture(self, drawing: Any) -> Iterator[str]:
        inline = drawing.find(f"{_WP}inline")
        blip = drawing.find(f".//{_A}blip")
        if inline is None or blip is None:
            self._told("has a picture that floats, or a shape: set it in line with the text, as a picture")
            return
        image = self._image(self._file.relations(self._part).get(blip.get(f"{R}embed", ""), ("", False))[0])
        extent, named = ({} if item is None else item for item in map(inline.find, (f"{_WP}extent", f"{_WP}docPr")))
        sides = [_length(extent.get(side, "")) for side in ("cx", "cy")]
        if image is None or not all(sides):
            self._told("has a picture that papers cannot take over: insert it as PNG or JPEG, at most 4 MB")
            return
        alt = named.get("descr", "").strip()
        width, height = (side / xml.EMU_PER_MM for side in sides)
        relation = f"image-{len(self._images)}"
        self._images.append(image)
        yield xml.picture(self._next_picture(), relation, alt, width, height)

    def _image(self, part: str) -> bytes | None:
        """A picture that python-docx can tell the kind of; None for any other."""
        from docx.image.image import Image

        data = self._file.parts.get(part, b"")
        if not data or len(data) > LARGEST_PICTURE:
            return None
        try:
            Image.from_blob(data)
        except Exception:  # damaged pictures make its readers of formats fall over in many ways
            return None
        return data

    def _refuse(self, name: str) -> None:
        if name in _CHANGED:
            self._told("has tracked changes: accept them")
        else:
            self._told(f"has {_SAID.get(name, f'something that papers cannot take over ({name}): delete it')}")


def _length(text: str) -> int:
    """A length in EMU, 0 for one that is none or longer than a metre or two."""
    return int(text) if text.isascii() and text.isdigit() and len(text) < 9 else 0


def _joined(runs: Iterable[str]) -> list[str]:
    """Runs with neighbours of one look made one: programs part words as they were typed, fields among them."""
    found: list[str] = []
    for run in runs:
        last, this = _WORDS.fullmatch(found[-1]) if found else None, _WORDS.fullmatch(run)
        if last and this and last[1] == this[1]:
            found[-1] = f'<w:r>{this[1]}<w:t xml:space="preserve">{last[2]}{this[2]}</w:t></w:r>'
        else:
            found.append(run)
    return found


def _local(element: Any) -> str:
    return element.tag.rpartition("}")[2] if isinstance(element.tag, str) else "rPr"  # a comment says nothing
