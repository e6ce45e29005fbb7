"""A Word file from anybody, opened with care: parts, content types, relationships, and its XML by part."""

from __future__ import annotations

import io
import posixpath
import re
import zipfile
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Final

from generator.files.limits import (
    MOST_NESTED,
    MOST_OWN_PARAGRAPHS,
    MOST_OWN_XML_BYTES,
    MOST_OWN_XML_TAGS,
    MOST_PACKAGE_BYTES,
    MOST_PARAGRAPHS,
    MOST_PARTS,
    MOST_UNPACKED_BYTES,
    MOST_XML_BYTES,
    MOST_XML_TAGS,
)
from generator.values import Struct

MAIN: Final = "word/document.xml"
W: Final = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
R: Final = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}"
_RELATION: Final = "{http://schemas.openxmlformats.org/package/2006/relationships}Relationship"
_TYPES: Final = "{http://schemas.openxmlformats.org/package/2006/content-types}"
_TYPES_PART: Final = "[Content_Types].xml"
_XML: Final = (".xml", ".rels")
_ASK: Final = "do not open it; ask who sent it"
_LAST: Final = "go back to the last copy that opens"
_PIECE: Final = 1 << 16
_ENTRY: Final = b"PK\x01\x02"
_STORY: Final = re.compile(r"word/(?:(?:header|footer)\d*|footnotes|endnotes|comments)\.xml")
_CONTROL: Final = re.compile(
    rb"[\x00-\x08\x0b\x0c\x0e-\x1f]|&#(?:x0*(?:[0-8bcBCefEF]|1[0-9a-fA-F])|0*(?:[0-8]|1[124-9]|2\d|3[01]));"
)


class Fault(Struct, frozen=True):
    """A thing wrong with a paper: a code that stays the same, what it is, and what to do about it."""

    code: str
    what: str
    to_do: str


_TOO_MUCH: Final = Fault("W00", "unpacks to more than a paper can hold", _ASK)


class Unreadable(ValueError):
    """A file that cannot be opened as a Word document; carries the one fault that says why."""

    def __init__(self, fault: Fault) -> None:
        self.fault = fault
        super().__init__(fault.what)


class Bounds(Struct, frozen=True):
    """How much of a file is read: bytes of its XML, elements begun and ended, paragraphs and tables."""

    xml_bytes: int
    xml_tags: int
    paragraphs: int


ANYBODYS: Final = Bounds(MOST_XML_BYTES, MOST_XML_TAGS, MOST_PARAGRAPHS)
OUR_OWN: Final = Bounds(MOST_OWN_XML_BYTES, MOST_OWN_XML_TAGS, MOST_OWN_PARAGRAPHS)
"""Of what is known by its digest to be as it was written: the papers of an estate are large, and no bombs."""


class Opened(Struct, frozen=True):
    """The parts of a Word file and the trees of those that are XML.

    `broken` are the parts that cannot be read as XML, as faults. Trees are lxml elements.
    """

    parts: Mapping[str, bytes]
    trees: Mapping[str, Any]
    broken: tuple[Fault, ...]

    @property
    def body(self) -> Any:
        """The body of the document. KeyError or AttributeError never: it was there on opening."""
        return self.trees[MAIN].find(f"{W}body")

    def stories(self) -> Iterator[tuple[str, Any]]:
        """The parts that hold text: the document, headers, footers, notes and comments."""
        for name, tree in self.trees.items():
            if name == MAIN or _STORY.fullmatch(name):
                yield name, tree

    def relations(self, part: str) -> dict[str, tuple[str, bool]]:
        """The relationships of a part by id: what each leads to, and whether that lies outside the file."""
        folder, _, file = part.rpartition("/")
        tree = self.trees.get(f"{folder}/_rels/{file}.rels".lstrip("/"))
        if tree is None:
            return {}
        found: dict[str, tuple[str, bool]] = {}
        for item in tree.iter(_RELATION):
            outside = item.get("TargetMode") == "External"
            target = item.get("Target", "")
            found[item.get("Id", "")] = (target if outside else _within(folder, target), outside)
        return found

    def untyped(self) -> list[str]:
        """The parts of which the content types do not tell what they are."""
        tree = self.trees.get(_TYPES_PART)
        endings, named = (
            set() if tree is None else {item.get(name, "").lower() for item in tree.iter(_TYPES + kind)}
            for kind, name in (("Default", "Extension"), ("Override", "PartName"))
        )
        rest = (part for part in self.parts if part != _TYPES_PART and f"/{part}".lower() not in named)
        return [part for part in rest if part.rpartition(".")[2].lower() not in endings]


def opened(data: bytes, bounds: Bounds = ANYBODYS) -> Opened:
    """The file opened, nothing outside it looked at. Raises `Unreadable` for what is no sound Word package."""
    parts = _parts(data, bounds)
    if _tags(parts) > bounds.xml_tags:
        raise Unreadable(Fault("W00", "holds more elements than a paper can", _ASK))
    trees: dict[str, Any] = {}
    broken: list[Fault] = []
    for name, content in parts.items():
        if name.endswith(_XML):
            tree, fault = _tree(name, content)
            if fault is None:
                trees[name] = tree
            else:
                broken.append(fault)
    if MAIN not in parts:
        raise Unreadable(Fault("W00", "is not a Word document: it has no body", "save it from Word as .docx"))
    if sum(1 for tree in trees.values() for _ in tree.iter(f"{W}p", f"{W}tbl")) > bounds.paragraphs:
        raise Unreadable(Fault("W00", f"has more than {bounds.paragraphs:,} paragraphs and tables", _ASK))
    if any(map(_nested, trees.values())):
        raise Unreadable(Fault("W00", f"has more than {MOST_NESTED} paragraphs, runs or tables in one another", _ASK))
    if MAIN in trees and trees[MAIN].find(f"{W}body") is None:
        raise Unreadable(Fault("W00", "its document has no body", _LAST))
    return Opened(parts, trees, tuple(broken))


def sound_xml(data: bytes) -> None:
    """Looks a package of another kind over first; raises `Unreadable` for what no reader is safe of."""
    parts = _parts(data, ANYBODYS)
    if _tags(parts) > ANYBODYS.xml_tags:
        raise Unreadable(_TOO_MUCH)
    for name, content in parts.items():
        fault = _tree(name, content)[1] if name.endswith(_XML) else None
        if fault is not None:
            raise Unreadable(fault)


def _tags(parts: Mapping[str, bytes]) -> int:
    """The elements begun and ended in the XML of a package, counted before any tree is made."""
    return sum(content.count(b"<") for name, content in parts.items() if name.endswith(_XML))


def _parts(data: bytes, bounds: Bounds) -> dict[str, bytes]:
    # a list of entries without end is seen before it is read: each begins with a mark
    if len(data) > MOST_PACKAGE_BYTES or data.count(_ENTRY) > 2 * MOST_PARTS:
        raise Unreadable(_TOO_MUCH)
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            entries = archive.infolist()
            if len(entries) > MOST_PARTS:
                raise Unreadable(_TOO_MUCH)
            return dict(_unpacked(archive, [entry for entry in entries if not entry.is_dir()], bounds))
    except (zipfile.BadZipFile, OSError, RuntimeError, NotImplementedError, ValueError, EOFError) as error:
        if isinstance(error, Unreadable):
            raise
        raise Unreadable(Fault("W00", "is not a Word file, or is damaged", "save it from Word as .docx")) from None
    except Exception as error:  # zlib has an error of its own, which is no subclass of these
        if type(error).__module__ != "zlib":
            raise
        raise Unreadable(Fault("W00", "is damaged and cannot be unpacked", _LAST)) from None


def _unpacked(
    archive: zipfile.ZipFile, entries: Iterable[zipfile.ZipInfo], bounds: Bounds
) -> Iterator[tuple[str, bytes]]:
    """Each part by name. What an archive says of sizes is not believed: each is unpacked piece by piece."""
    left = {True: bounds.xml_bytes, False: MOST_UNPACKED_BYTES}
    for entry in entries:
        text = entry.filename.endswith(_XML)
        if entry.file_size > left[text]:
            raise Unreadable(_TOO_MUCH)
        with archive.open(entry) as stream:
            pieces = []
            while piece := stream.read(_PIECE):
                pieces.append(piece)
                left[text] -= len(piece)
                if left[text] < 0:
                    raise Unreadable(_TOO_MUCH)
        yield entry.filename, b"".join(pieces)


def _tree(name: str, content: bytes) -> tuple[Any, Fault | None]:
    from lxml import etree

    if b"<!DOCTYPE" in content or b"<!ENTITY" in content:
        return None, Fault("W05", f"{name} declares a document type, which no paper needs", _ASK)
    parser = etree.XMLParser(resolve_entities=False, no_network=True, load_dtd=False, huge_tree=False)
    try:
        tree: Any = etree.fromstring(content, parser)
        if tree.getroottree().docinfo.doctype:  # in an encoding that hid it
            return None, Fault("W05", f"{name} declares a document type, which no paper needs", _ASK)
        return tree, None
    except etree.XMLSyntaxError as error:
        if _CONTROL.search(content):
            return None, Fault("W28", f"{name} holds a control character", "take out what was pasted there last")
        return None, Fault("W05", f"{name} is not sound XML ({error.msg})", _LAST)


def _nested(tree: Any) -> bool:
    """Whether paragraphs, runs or tables lie deeper in one another than in any paper."""
    return any(
        # by this axis alone: what `//` goes through besides may be more than lxml holds of a large paper of ours
        tree.xpath(f"boolean(descendant::w:{kind}[ancestor::w:{kind}[{MOST_NESTED}]])", namespaces={"w": W[1:-1]})
        for kind in ("p", "r", "tbl")
    )


def _within(folder: str, target: str) -> str:
    if target.startswith("/"):
        return target[1:]
    return posixpath.normpath(posixpath.join(folder, target))
