"""The base document every Word paper starts from: package, settings, properties, as code.

The body goes in afterwards. Built from text and opened by python-docx, which carries the package from there.
"""

from __future__ import annotations

import datetime
import io
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any, Final

from generator.document.model import Identity, Picture
from generator.drawing.model import Drawing
from generator.render.word.look import Look
from generator.render.word.numbering import Numbering
from generator.render.word.package import packed
from generator.render.word.styles import FONT
from generator.render.word.xml import NAMESPACES, escaped, fit_text

if TYPE_CHECKING:
    from docx.document import Document as WordDocument

_DECLARATION: Final = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
RELATIONS: Final = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_MAIN: Final = "word/document.xml"
_PACKAGE: Final = "http://schemas.openxmlformats.org/package/2006"
_WORD: Final = "application/vnd.openxmlformats-officedocument.wordprocessingml"
# As strings of a core property longer than this are refused by python-docx and cut by Word.
PROPERTY_LIMIT: Final = 255
METRIC_TWIN: Final = "Liberation Sans"
_PNG: Final = ("png", "image/png")
_JPEG: Final = ("jpg", "image/jpeg")
_DATE_ATTRIBUTE: Final = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}date"

_PARTS: Final = (
    ("styles", f"{_WORD}.styles+xml"),
    ("numbering", f"{_WORD}.numbering+xml"),
    ("settings", f"{_WORD}.settings+xml"),
    ("fontTable", f"{_WORD}.fontTable+xml"),
    ("theme", "application/vnd.openxmlformats-officedocument.theme+xml"),
)
_FILES: Final = {
    "styles": "styles.xml",
    "numbering": "numbering.xml",
    "settings": "settings.xml",
    "fontTable": "fontTable.xml",
    "theme": "theme/theme1.xml",
}


def base_document(identity: Identity, look: Look) -> WordDocument:
    """A python-docx document without a body: styles, settings and the properties of this paper.

    Created and modified are the issue date at midnight UTC. Raises ValueError for a date that is not ISO.
    """
    import docx

    document = docx.Document(io.BytesIO(packed(_base_parts(identity.language, look))))
    _set_properties(document, identity)
    return document


def add_comments(document: WordDocument, comments: Sequence[str], identity: Identity) -> None:
    """Adds the comments whose marks stand in the body, numbered from 0, dated with the issue."""
    initials = "".join(word[0] for word in identity.notes_by.split()).upper()
    when = issue_moment(identity).strftime("%Y-%m-%dT%H:%M:%SZ")
    for text in comments:
        comment = document.comments.add_comment(fit_text(text), identity.notes_by, initials)
        comment._comment_elm.set(_DATE_ATTRIBUTE, when)  # python-docx dates comments by the clock


def pictures(document: WordDocument) -> Callable[[Drawing | Picture], str]:
    """A function giving the relation of a picture or drawing, which is drawn once however often it is shown."""
    from generator.drawing.png import paper_dpi, png

    known: dict[Drawing | Picture, str] = {}
    stored: dict[bytes, str] = {}

    def relation_of(drawing: Drawing | Picture) -> str:
        relation = known.get(drawing)  # looked up once: what a drawing is known by takes all of its parts
        if relation is None:
            if isinstance(drawing, Picture):
                data, kind = drawing.jpeg, _JPEG
            else:
                data, kind = png(drawing, paper_dpi(drawing)), _PNG
            if data not in stored:
                stored[data] = _added_image(document, data, *kind)
            known[drawing] = relation = stored[data]
        return relation

    return relation_of


def _added_image(document: WordDocument, data: bytes, ending: str, content: str) -> str:
    """Adds a picture to a package; its relation. The library would take the digest of every one before it each time."""
    from docx.opc.packuri import PackURI
    from docx.parts.image import ImagePart

    package: Any = document.part.package
    part = ImagePart(PackURI(f"/word/media/image{len(package.image_parts) + 1}.{ending}"), content, data)
    package.image_parts.append(part)
    return related(document.part, "image", part)


def related(document: Any, kind: str, part: Any) -> str:
    """The relation of a document to a part that is new to it. The library would look for a free name among all."""
    relation = f"rId{len(document.rels) + 1}"  # none is ever taken away
    document.rels.add_relationship(f"{RELATIONS}/{kind}", part, relation)
    return relation


def saved(document: WordDocument, body: Sequence[bytes]) -> bytes:
    """The document with its body (paragraphs, tables, last page set-up) as bytes that depend on its content alone.

    The body comes in pieces and is never put together: that of a thousand walls would take 80 MB once more.
    Raises ValueError for a body that is not sound XML.
    """
    # python-docx would make an object of every element, and take longer the longer the paper
    begin = f"{_DECLARATION}<w:document {NAMESPACES}><w:body>".encode()
    main = (begin, *body, b"</w:body></w:document>")
    _require_sound(main)
    return packed({**_parts(document), _MAIN: main})


def _parts(document: WordDocument) -> dict[str, bytes]:
    """The parts of a package by name. Saved by the library they would be packed, unpacked and packed again."""
    package: Any = document.part.package
    parts = package.parts
    found = {"[Content_Types].xml": _types_of(parts), "_rels/.rels": package.rels.xml}
    for part in parts:
        found[part.partname.membername] = part.blob
        if part.rels:
            found[part.partname.rels_uri.membername] = part.rels.xml
    return found


def _types_of(parts: Sequence[Any]) -> bytes:
    """The types of parts: of relations, pictures and plain XML by their ending, of others by their name."""
    from docx.opc import oxml
    from docx.opc.constants import CONTENT_TYPE

    package: Any = oxml  # which tells no types
    pictures_ = {part.partname.ext: part.content_type for part in parts if _is_picture(part)}
    endings = {"rels": CONTENT_TYPE.OPC_RELATIONSHIPS, "xml": CONTENT_TYPE.XML, **pictures_}
    others = {part.partname: part.content_type for part in parts if not _is_picture(part)}
    types = package.CT_Types.new()
    for ending, told in sorted(endings.items()):
        types.add_default(ending, told)
    for name, told in sorted(others.items()):
        types.add_override(name, told)
    return bytes(package.serialize_part_xml(types))


def _is_picture(part: Any) -> bool:
    return bool(part.content_type.startswith("image/"))


def _require_sound(part: Sequence[bytes]) -> None:
    from xml.parsers import expat

    parser = expat.ParserCreate()
    try:
        for piece in part:
            parser.Parse(piece)
        parser.Parse(b"", True)
    except expat.ExpatError as error:
        raise ValueError(f"the body of a paper is not sound XML: {error}") from None


def set_numbering(document: WordDocument, numbering: Numbering) -> None:
    """Puts the lists a paper uses into its package."""
    from docx.oxml import parse_xml

    element = document.part.numbering_part.element
    element.extend(list(parse_xml(numbering.part())))


def issue_moment(identity: Identity) -> datetime.datetime:
    """The issue date at midnight UTC: the only moment a paper knows."""
    day = datetime.date.fromisoformat(identity.date)
    return datetime.datetime(day.year, day.month, day.day, tzinfo=datetime.UTC)


def _set_properties(document: WordDocument, identity: Identity) -> None:
    properties = document.core_properties
    properties.title = _property(identity.title)
    properties.subject = _property(identity.subject)
    properties.author = _property(identity.author)
    properties.last_modified_by = _property(identity.author)
    properties.keywords = _property(", ".join(filter(None, (identity.reference, identity.revision))))
    properties.language = identity.language
    properties.created = properties.modified = issue_moment(identity).replace(tzinfo=None)


def _property(text: str) -> str:
    return fit_text(text)[:PROPERTY_LIMIT]


def _base_parts(language: str, look: Look) -> dict[str, bytes]:
    texts = {
        "[Content_Types].xml": _content_types(),
        "_rels/.rels": _root_relations(),
        "docProps/core.xml": _core(),
        _MAIN: f"<w:document {NAMESPACES}><w:body><w:sectPr/></w:body></w:document>",
        "word/_rels/document.xml.rels": _document_relations(),
        "word/styles.xml": look.styles_in(language),
        "word/numbering.xml": f"<w:numbering {NAMESPACES}/>",
        "word/settings.xml": _settings(language),
        "word/fontTable.xml": _fonts(look.faces),
        "word/theme/theme1.xml": _theme(look.faces[0]),
    }
    return {name: (_DECLARATION + text).encode() for name, text in texts.items()}


def _content_types() -> str:
    overrides = "".join(
        f'<Override PartName="/word/{_FILES[part]}" ContentType="{content}"/>' for part, content in _PARTS
    )
    return (
        f'<Types xmlns="{_PACKAGE}/content-types"><Default Extension="xml" ContentType="application/xml"/>'
        '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        f'<Override PartName="/word/document.xml" ContentType="{_WORD}.document.main+xml"/>{overrides}'
        '<Override PartName="/docProps/core.xml"'
        ' ContentType="application/vnd.openxmlformats-package.core-properties+xml"/></Types>'
    )


def _root_relations() -> str:
    return (
        f'<Relationships xmlns="{_PACKAGE}/relationships">'
        f'<Relationship Id="rId1" Type="{RELATIONS}/officeDocument" Target="word/document.xml"/>'
        f'<Relationship Id="rId2" Type="{_PACKAGE}/relationships/metadata/core-properties"'
        ' Target="docProps/core.xml"/></Relationships>'
    )


def _document_relations() -> str:
    relations = "".join(
        f'<Relationship Id="rId{number}" Type="{RELATIONS}/{part}" Target="{_FILES[part]}"/>'
        for number, (part, _) in enumerate(_PARTS, 1)
    )
    return f'<Relationships xmlns="{_PACKAGE}/relationships">{relations}</Relationships>'


def _core() -> str:
    return (
        f'<cp:coreProperties xmlns:cp="{_PACKAGE}/metadata/core-properties"'
        ' xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:dcterms="http://purl.org/dc/terms/"'
        ' xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"/>'
    )


def _settings(language: str) -> str:
    # Mode 15 keeps Word from its compatibility layouts; fields are never refreshed on opening, which asks
    return (
        f'<w:settings {NAMESPACES}><w:defaultTabStop w:val="720"/>'
        '<w:characterSpacingControl w:val="doNotCompress"/><w:compat>'
        '<w:compatSetting w:name="compatibilityMode" w:uri="http://schemas.microsoft.com/office/word"'
        ' w:val="15"/>'
        f'</w:compat><w:themeFontLang w:val="{escaped(language)}"/>'
        '<w:decimalSymbol w:val="."/><w:listSeparator w:val=","/></w:settings>'
    )


def _fonts(faces: Sequence[str]) -> str:
    return f"<w:fonts {NAMESPACES}>{''.join(map(_font, faces))}</w:fonts>"


def _font(face: str) -> str:
    if face != FONT:
        return f'<w:font w:name="{escaped(face)}"/>'
    # The face with the same widths is named for systems that lack the first
    return (
        f'<w:font w:name="{FONT}"><w:altName w:val="{METRIC_TWIN}"/>'
        '<w:panose1 w:val="020B0604020202020204"/><w:charset w:val="00"/><w:family w:val="swiss"/>'
        '<w:pitch w:val="variable"/></w:font>'
    )


def _theme(face: str) -> str:
    """A theme of black, white and greys in the papers' face; Word makes its own where there is none."""
    ink = "".join(
        f'<a:{name}><a:srgbClr val="{value}"/></a:{name}>'
        for name, value in (
            ("dk1", "000000"), ("lt1", "FFFFFF"), ("dk2", "404040"), ("lt2", "EDEDED"),
            ("accent1", "404040"), ("accent2", "595959"), ("accent3", "737373"),
            ("accent4", "7F7F7F"), ("accent5", "A6A6A6"), ("accent6", "BFBFBF"),
            ("hlink", "000000"), ("folHlink", "404040"),
        )
    )  # fmt: skip
    faces = f'<a:latin typeface="{escaped(face)}"/><a:ea typeface=""/><a:cs typeface=""/>'
    fill = '<a:solidFill><a:schemeClr val="phClr"/></a:solidFill>'
    effect = "<a:effectStyle><a:effectLst/></a:effectStyle>"
    line = f'<a:ln w="6350">{fill}</a:ln>'
    return (
        '<a:theme xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" name="Plain">'
        f'<a:themeElements><a:clrScheme name="Plain">{ink}</a:clrScheme><a:fontScheme name="Plain">'
        f"<a:majorFont>{faces}</a:majorFont><a:minorFont>{faces}</a:minorFont></a:fontScheme>"
        f'<a:fmtScheme name="Plain"><a:fillStyleLst>{fill * 3}</a:fillStyleLst><a:lnStyleLst>{line * 3}'
        f"</a:lnStyleLst><a:effectStyleLst>{effect * 3}</a:effectStyleLst><a:bgFillStyleLst>{fill * 3}"
        "</a:bgFillStyleLst></a:fmtScheme></a:themeElements></a:theme>"
    )
