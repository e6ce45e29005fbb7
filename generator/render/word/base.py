"""The base document every Word paper starts from: package, settings, properties, as text.

The body goes in afterwards.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Sequence
from typing import Final

from generator.document.model import Identity, Picture
from generator.drawing.model import Drawing
from generator.render.word.look import Look
from generator.render.word.numbering import Numbering
from generator.render.word.package import DECLARATION, EARLIEST_DATE, FORMAT, RELATIONS, ROOT, Package
from generator.render.word.styles import FONT
from generator.render.word.xml import NAMESPACES, escaped, fit_text, paragraph

MAIN: Final = "word/document.xml"
_CORE: Final = "docProps/core.xml"
IMAGE: Final = f"{RELATIONS}/image"
WORD: Final = "application/vnd.openxmlformats-officedocument.wordprocessingml"
# Word cuts a core property that is longer.
PROPERTY_LIMIT: Final = 255
METRIC_TWIN: Final = "Liberation Sans"
_PNG: Final = ("png", "image/png")
_JPEG: Final = ("jpg", "image/jpeg")

_PARTS: Final = (
    ("styles", f"{WORD}.styles+xml"),
    ("numbering", f"{WORD}.numbering+xml"),
    ("settings", f"{WORD}.settings+xml"),
    ("fontTable", f"{WORD}.fontTable+xml"),
    ("theme", "application/vnd.openxmlformats-officedocument.theme+xml"),
)
_FILES: Final = {
    "styles": "styles.xml",
    "numbering": "numbering.xml",
    "settings": "settings.xml",
    "fontTable": "fontTable.xml",
    "theme": "theme/theme1.xml",
}


def base_document(identity: Identity, look: Look) -> Package:
    """A package whose body goes in afterwards: styles, settings and the properties of this paper.

    Created and modified are the issue date at midnight UTC. Raises ValueError for a date that is not ISO.
    """
    package = Package()
    package.related(f"{RELATIONS}/officeDocument", ROOT, MAIN)
    package.related(f"{FORMAT}/relationships/metadata/core-properties", ROOT, _CORE)
    package.add(_CORE, "application/vnd.openxmlformats-package.core-properties+xml", _properties(identity))
    texts = {
        "styles": look.styles_in(identity.language),
        "numbering": f"<w:numbering {NAMESPACES}/>",
        "settings": _settings(identity.language),
        "fontTable": _fonts(look.faces),
        "theme": _theme(look.faces[0]),
    }
    for kind, content in _PARTS:
        add_related(package, kind, _FILES[kind], content, texts[kind])
    return package


def add_related(package: Package, kind: str, file: str, content: str, text: str) -> str:
    """Adds a part that the body is related to, and gives its relation."""
    package.add(f"word/{file}", content, text)
    return package.related(f"{RELATIONS}/{kind}", MAIN, f"word/{file}")


def add_comments(package: Package, comments: Sequence[str], identity: Identity) -> None:
    """Adds the comments whose marks stand in the body, numbered from 0, dated with the issue."""
    if not comments:
        return
    initials = "".join(word[0] for word in identity.notes_by.split()).upper()
    when = issue_moment(identity).strftime("%Y-%m-%dT%H:%M:%SZ")
    by = f'w:author="{escaped(identity.notes_by)}" w:initials="{escaped(initials)}" w:date="{when}"'
    told = "".join(
        f'<w:comment w:id="{number}" {by}>{_comment(text)}</w:comment>' for number, text in enumerate(comments)
    )
    text = f"<w:comments {NAMESPACES}>{told}</w:comments>"
    add_related(package, "comments", "comments.xml", f"{WORD}.comments+xml", text)


def _comment(text: str) -> str:
    content = '<w:r><w:rPr><w:rStyle w:val="CommentReference"/></w:rPr><w:annotationRef/></w:r>'
    told = ""
    for line in text.split("\n"):
        content += f'<w:r><w:t xml:space="preserve">{escaped(line)}</w:t></w:r>'
        told, content = told + paragraph("CommentText", content), ""
    return told


def pictures(package: Package) -> Callable[[Drawing | Picture], str]:
    """A function giving the relation of a picture or drawing, which is drawn once however often it is shown."""
    from generator.drawing.png import paper_dpi, png

    known: dict[Drawing | Picture, str] = {}

    def relation_of(drawing: Drawing | Picture) -> str:
        relation = known.get(drawing)  # looked up once: what a drawing is known by takes all of its parts
        if relation is None:
            if isinstance(drawing, Picture):
                name = package.add_picture(drawing.jpeg, *_JPEG)
            else:
                name = package.add_picture(png(drawing, paper_dpi(drawing)), *_PNG)
            known[drawing] = relation = package.related(IMAGE, MAIN, name)
        return relation

    return relation_of


def saved(package: Package, body: Sequence[bytes]) -> bytes:
    """The package with its body (paragraphs, tables, last page set-up) as bytes that depend on its content alone.

    The body comes in pieces and is never put together: that of a thousand walls would take 80 MB once more.
    Raises ValueError for a part that is not sound XML.
    """
    begin = f"{DECLARATION}<w:document {NAMESPACES}><w:body>".encode()
    package.add_pieces(MAIN, f"{WORD}.document.main+xml", (begin, *body, b"</w:body></w:document>"))
    for name, part in package.texts():
        _require_sound(name, part)
    return package.packed()


def _require_sound(name: str, part: Sequence[bytes]) -> None:
    from xml.parsers import expat

    parser = expat.ParserCreate()
    try:
        for piece in part:
            parser.Parse(piece)
        parser.Parse(b"", True)
    except expat.ExpatError as error:
        raise ValueError(f"{name} is not sound XML: {error}") from None


def set_numbering(package: Package, numbering: Numbering) -> None:
    """Puts the lists a paper uses into its package."""
    package.set("word/numbering.xml", numbering.part())


def issue_moment(identity: Identity) -> datetime.datetime:
    """The issue date at midnight UTC, the only moment a paper knows; without one, the earliest a package can tell."""
    day = datetime.date.fromisoformat(identity.date) if identity.date else datetime.date(*EARLIEST_DATE[:3])
    return datetime.datetime(day.year, day.month, day.day, tzinfo=datetime.UTC)


def _properties(identity: Identity) -> str:
    when = f"{issue_moment(identity):%Y-%m-%dT%H:%M:%SZ}"
    told = (
        ("dc:title", identity.title), ("dc:subject", identity.subject), ("dc:creator", identity.author),
        ("cp:lastModifiedBy", identity.author),
        ("cp:keywords", ", ".join(filter(None, (identity.reference, identity.revision)))),
        ("dc:language", identity.language),
    )  # fmt: skip
    texts = "".join(f"<{name}>{escaped(_property(text))}</{name}>" for name, text in told)
    dates = "".join(
        f'<dcterms:{name} xsi:type="dcterms:W3CDTF">{when}</dcterms:{name}>' for name in ("created", "modified")
    )
    return (
        f'<cp:coreProperties xmlns:cp="{FORMAT}/metadata/core-properties"'
        ' xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:dcterms="http://purl.org/dc/terms/"'
        f' xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">{texts}{dates}</cp:coreProperties>'
    )


def _property(text: str) -> str:
    return fit_text(text)[:PROPERTY_LIMIT]


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
