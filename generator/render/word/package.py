"""Office packages as bytes that depend on their parts alone: fixed order, dates, system and packing.

A library for them is not asked: to come to it, read what was just written and give it back took longer than all this.
"""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterable, Mapping, Sequence
from typing import Final

DECLARATION: Final = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
FORMAT: Final = "http://schemas.openxmlformats.org/package/2006"
RELATIONS: Final = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
ROOT: Final = ""
"""What the package as a whole is called among those that have relations."""

FIRST_PARTS: Final = ("[Content_Types].xml", "_rels/.rels")
EARLIEST_DATE: Final = (1980, 1, 1, 0, 0, 0)
_PACKED: Final = (".png", ".jpg", ".jpeg")
"""The endings of pictures, which are packed in themselves."""

_COMPRESSION: Final = 3
"""Parts come out a thirtieth larger than at the usual 6, in half of the time."""

_UNIX: Final = 3
_PLAIN_FILE: Final = 0o600 << 16


class Package:
    """The parts of a package by name as they are added, what each is, and what it is related to."""

    def __init__(self) -> None:
        self._texts: dict[str, Sequence[bytes]] = {}
        self._types: dict[str, str] = {}
        self._endings = {"rels": "application/vnd.openxmlformats-package.relationships+xml", "xml": "application/xml"}
        self._relations: dict[str, dict[tuple[str, str], str]] = {}
        self._pictures: dict[bytes, str] = {}

    def add(self, name: str, content: str, text: str) -> None:
        """Adds a part of XML, whose content is of a type."""
        self.add_pieces(name, content, ((DECLARATION + text).encode(),))

    def add_pieces(self, name: str, content: str, pieces: Sequence[bytes]) -> None:
        """As `add`, for a long part in pieces, its declaration the first, which are never put together."""
        self._types[name] = content
        self._texts[name] = pieces

    def set(self, name: str, text: str) -> None:
        """Gives a part another text."""
        self.add(name, self._types[name], text)

    def texts(self) -> Iterable[tuple[str, Sequence[bytes]]]:
        """The parts of XML by name, each in pieces."""
        return self._texts.items()

    def add_picture(self, data: bytes, ending: str, content: str) -> str:
        """Adds a picture and gives its name: that of the same picture where there is one."""
        self._endings[ending] = content
        return self._pictures.setdefault(data, f"word/media/image{len(self._pictures) + 1}.{ending}")

    def related(self, kind: str, to: str, name: str) -> str:
        """The relation of a part, or of the package, to the part of a name: a new one, or that which there is."""
        relations = self._relations.setdefault(to, {})
        return relations.setdefault((kind, name), f"rId{len(relations) + 1}")

    def packed(self) -> bytes:
        """The package."""
        told = {_relations_name(to): _relations(to, found) for to, found in self._relations.items()}
        texts = {"[Content_Types].xml": self._types_told(), **told}
        pictures = {name: data for data, name in self._pictures.items()}
        return packed(
            {**self._texts, **pictures, **{name: (DECLARATION + text).encode() for name, text in texts.items()}}
        )

    def _types_told(self) -> str:
        """The types of relations, pictures and plain XML by their ending, of other parts by their name."""
        endings = "".join(
            f'<Default Extension="{ending}" ContentType="{content}"/>'
            for ending, content in sorted(self._endings.items())
        )
        names = "".join(
            f'<Override PartName="/{name}" ContentType="{content}"/>' for name, content in sorted(self._types.items())
        )
        return f'<Types xmlns="{FORMAT}/content-types">{endings}{names}</Types>'


def _relations_name(to: str) -> str:
    folder, _, name = to.rpartition("/")
    return f"{folder}/_rels/{name}.rels".removeprefix("/")


def _relations(to: str, found: Mapping[tuple[str, str], str]) -> str:
    folder = to.rpartition("/")[0] + "/"
    told = "".join(
        f'<Relationship Id="{relation}" Type="{kind}" Target="{name.removeprefix(folder)}"/>'
        for (kind, name), relation in found.items()
    )
    return f'<Relationships xmlns="{FORMAT}/relationships">{told}</Relationships>'


def packed(parts: Mapping[str, bytes | Sequence[bytes]]) -> bytes:
    """A zip package of the parts by name: content types and root relations first, the rest sorted.

    A large part comes in pieces, which are never put together.
    """
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as archive:
        for name in sorted(parts, key=_position):
            entry = zipfile.ZipInfo(name, EARLIEST_DATE)
            entry.create_system = _UNIX
            entry.external_attr = _PLAIN_FILE
            entry.compress_type = zipfile.ZIP_STORED if name.endswith(_PACKED) else zipfile.ZIP_DEFLATED
            entry._compresslevel = _COMPRESSION  # type: ignore[attr-defined]  # later Pythons name it otherwise too
            with archive.open(entry, "w") as stored:
                for piece in _pieces(parts[name]):
                    stored.write(piece)
    return stream.getvalue()


def _pieces(part: bytes | Sequence[bytes]) -> Sequence[bytes]:
    return (part,) if isinstance(part, bytes) else part


def _position(name: str) -> tuple[int, str]:
    return (FIRST_PARTS.index(name) if name in FIRST_PARTS else len(FIRST_PARTS), name)
