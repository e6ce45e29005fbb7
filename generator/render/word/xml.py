"""WordprocessingML as text: the small pieces every emitter is made of.

The order of children inside `w:pPr`, `w:rPr`, `w:tblPr` and `w:tcPr` is fixed by the format, so properties
are put together here and nowhere else.
"""

from __future__ import annotations

import hashlib
import re
from functools import lru_cache
from typing import Final

from generator.values import unparted

TWIPS_PER_MM: Final = 1440 / 25.4
TWIPS_PER_PT: Final = 20
EMU_PER_MM: Final = 36_000
COLUMN_GAP: Final = 340
"""Space between columns of text, in twips."""

BOOKMARK_LIMIT: Final = 40
TAG_LIMIT: Final = 64

NAMESPACES: Final = " ".join(
    f'xmlns:{prefix}="{address}"'
    for prefix, address in (
        ("w", "http://schemas.openxmlformats.org/wordprocessingml/2006/main"),
        ("r", "http://schemas.openxmlformats.org/officeDocument/2006/relationships"),
        ("wp", "http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing"),
        ("a", "http://schemas.openxmlformats.org/drawingml/2006/main"),
        ("pic", "http://schemas.openxmlformats.org/drawingml/2006/picture"),
    )
)

# What XML 1.0 cannot hold, lone surrogates included; input is refused before, so this is the last guard.
_UNFIT: Final = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff\ufffe\uffff]")
_LINE_OR_TAB: Final = re.compile("(\r\n|\n|\r|\t)")
_PLAIN_ANCHOR: Final = re.compile(r"[a-z0-9]+(?:[-.:][a-z0-9]+)*")
_SPELT: Final = str.maketrans({"-": "_", ".": "__", ":": "___"})


def twips(mm: float) -> int:
    """Millimetres in twentieths of a point."""
    return round(mm * TWIPS_PER_MM)


def fit_text(text: str) -> str:
    """The text with what XML cannot hold replaced by U+FFFD, so that it shows and harms nothing."""
    # what prints is fit: most texts are told so at once
    return text if text.isprintable() else _UNFIT.sub("�", text)


def escaped(text: str) -> str:
    """The text as XML character data or as the inside of a double-quoted attribute."""
    return fit_text(text).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace('"', "&quot;")


def unescaped(text: str) -> str:
    """The text that `escaped` gave."""
    if "&" not in text:
        return text
    return text.replace("&quot;", '"').replace("&gt;", ">").replace("&lt;", "<").replace("&amp;", "&")


@lru_cache(maxsize=8192)
def run(text: str, properties: str = "", before: str = "") -> str:
    """A run of text, in which no number is parted from its unit; line ends and tabs in it become breaks and tabs.

    `before` is the last character of the run before it. Empty for an empty text.
    """
    if not text:
        return ""
    return f"<w:r>{run_properties(properties)}{_run_content(unparted(text, before))}</w:r>"


def run_properties(inside: str) -> str:
    """The `w:rPr` element, or nothing where there is nothing in it."""
    return f"<w:rPr>{inside}</w:rPr>" if inside else ""


def _run_content(text: str) -> str:
    if "\n" not in text and "\t" not in text and "\r" not in text:
        return f'<w:t xml:space="preserve">{escaped(text)}</w:t>'
    return "".join(map(_piece, filter(None, _LINE_OR_TAB.split(text))))


def _piece(text: str) -> str:
    if text == "\t":
        return "<w:tab/>"
    if text in ("\n", "\r", "\r\n"):
        return "<w:br/>"
    return f'<w:t xml:space="preserve">{escaped(text)}</w:t>'


def paragraph(style: str, content: str, properties: str = "") -> str:
    """A paragraph in a style by its id; `properties` are further children of `w:pPr`, in schema order."""
    return f'<w:p><w:pPr><w:pStyle w:val="{style}"/>{properties}</w:pPr>{content}</w:p>'


TAB: Final = "<w:r><w:tab/></w:r>"
COLUMN_BREAK: Final = '<w:r><w:br w:type="column"/></w:r>'


def right_tab(position: int, leader: str = "none") -> str:
    """Tab stops of a paragraph: one to the right, `position` twips from the left margin."""
    return f'<w:tabs><w:tab w:val="right" w:leader="{leader}" w:pos="{position}"/></w:tabs>'


def section_end(setup: str) -> str:
    """The paragraph that closes a section with its page set-up; it takes no room."""
    return paragraph("SectionEnd", "", setup)


def field(instruction: str, shown: str, properties: str = "") -> str:
    """A field with the result it shows until it is refreshed."""
    return f'<w:fldSimple w:instr=" {escaped(instruction)} ">{run(shown, properties)}</w:fldSimple>'


def field_begin(instruction: str) -> str:
    """The runs before the result of a field that spans paragraphs."""
    return (
        '<w:r><w:fldChar w:fldCharType="begin"/></w:r>'
        f'<w:r><w:instrText xml:space="preserve"> {escaped(instruction)} </w:instrText></w:r>'
        '<w:r><w:fldChar w:fldCharType="separate"/></w:r>'
    )


FIELD_END: Final = '<w:r><w:fldChar w:fldCharType="end"/></w:r>'


def bookmark_name(anchor: str) -> str:
    """The name of an anchor's bookmark: letters, digits, underscores, at most 40; the same in every issue.

    Anchors of small letters and digits parted by single hyphens, points and colons keep their spelling (as
    one, two and three underscores); others, and those too long, are cut and carry a hash, so that no two
    anchors share a name.
    """
    spelt = "_Ref_" + anchor.lower().translate(_SPELT)
    if _PLAIN_ANCHOR.fullmatch(anchor) and len(spelt) <= BOOKMARK_LIMIT:
        return spelt
    digest = hashlib.sha256(anchor.encode("utf-8", "surrogatepass")).hexdigest()[:10]
    return re.sub("[^A-Za-z0-9_]", "_", spelt)[: BOOKMARK_LIMIT - 11] + "_" + digest


def bookmark(number: int, name: str, content: str) -> str:
    """The content between the two ends of a bookmark; `number` is unique in the document."""
    return f'<w:bookmarkStart w:id="{number}" w:name="{name}"/>{content}<w:bookmarkEnd w:id="{number}"/>'


def link(name: str, content: str) -> str:
    """A link to a bookmark of this document."""
    return f'<w:hyperlink w:anchor="{name}" w:history="1">{content}</w:hyperlink>'


def clause_tag(clause_id: str) -> str:
    """The tag of the control round a clause: `clause:ID`, at most 64 characters, with a hash when cut."""
    tag = "clause:" + clause_id
    if len(tag) <= TAG_LIMIT:
        return tag
    return tag[: TAG_LIMIT - 11] + "~" + hashlib.sha256(clause_id.encode()).hexdigest()[:10]


def control(number: int, alias: str, tag: str, content: str) -> str:
    """A content control round whole paragraphs and tables."""
    return (
        f'<w:sdt><w:sdtPr><w:alias w:val="{escaped(alias[:TAG_LIMIT])}"/><w:tag w:val="{escaped(tag)}"/>'
        f'<w:id w:val="{number}"/></w:sdtPr><w:sdtContent>{content}</w:sdtContent></w:sdt>'
    )


def contents_control(number: int, alias: str, content: str) -> str:
    """The control by which Word knows a contents list."""
    return (
        f'<w:sdt><w:sdtPr><w:alias w:val="{escaped(alias[:TAG_LIMIT])}"/><w:id w:val="{number}"/>'
        '<w:docPartObj><w:docPartGallery w:val="Table of Contents"/><w:docPartUnique/></w:docPartObj>'
        f"</w:sdtPr><w:sdtContent>{content}</w:sdtContent></w:sdt>"
    )


def comment_marks(number: int, content: str) -> str:
    """The content with a comment hung on it."""
    return (
        f'<w:commentRangeStart w:id="{number}"/>{content}<w:commentRangeEnd w:id="{number}"/>'
        f'<w:r><w:rPr><w:rStyle w:val="CommentReference"/></w:rPr><w:commentReference w:id="{number}"/></w:r>'
    )


TABLE_END: Final = "</w:tbl>"


def table(
    columns: tuple[int, ...], rows: str, *, indent: int, caption: str, description: str,
    header: bool = True, style: str = "RuledTable",
) -> str:  # fmt: skip
    """A table of fixed columns, widths in twips; caption and description are its alternative text."""
    start = table_start(columns, indent=indent, caption=caption, description=description, header=header, style=style)
    return f"{start}{rows}{TABLE_END}"


def table_start(
    columns: tuple[int, ...], *, indent: int, caption: str, description: str,
    header: bool = True, style: str = "RuledTable", margin: int = 0,
) -> str:  # fmt: skip
    """What stands before the rows of a table; `margin` is that of its cells at both sides where it is its own."""
    grid = "".join(f'<w:gridCol w:w="{width}"/>' for width in columns)
    told = f'<w:tblCaption w:val="{escaped(caption)}"/>' if caption else ""
    told += f'<w:tblDescription w:val="{escaped(description)}"/>' if description else ""
    own = "".join(f'<w:{side} w:w="{margin}" w:type="dxa"/>' for side in ("left", "right")) if margin else ""
    margins = f"<w:tblCellMar>{own}</w:tblCellMar>" if own else ""
    return (
        f'<w:tbl><w:tblPr><w:tblStyle w:val="{style}"/><w:tblW w:w="{sum(columns)}" w:type="dxa"/>'
        f'<w:tblInd w:w="{indent}" w:type="dxa"/><w:tblLayout w:type="fixed"/>{margins}'
        f'<w:tblLook w:val="{"0620" if header else "0600"}" w:firstRow="{int(header)}" w:lastRow="0" '
        f'w:firstColumn="0" w:lastColumn="0" w:noHBand="1" w:noVBand="1"/>{told}</w:tblPr>'
        f"<w:tblGrid>{grid}</w:tblGrid>"
    )


def row(cells: str, *, header: bool = False, height: int = 0, exact: bool = False) -> str:
    """A table row that does not split over pages; a header row repeats. `height` in twips is a least or exact one."""
    properties = "<w:cantSplit/>"
    rule = "exact" if exact else "atLeast"
    properties += f'<w:trHeight w:val="{height}" w:hRule="{rule}"/>' if height else ""
    properties += "<w:tblHeader/>" if header else ""
    return f"<w:tr><w:trPr>{properties}</w:trPr>{cells}</w:tr>"


def cell(width: int, content: str, properties: str = "") -> str:
    """A table cell; its content must end with a paragraph. `properties` follow the width in `w:tcPr`."""
    return f'<w:tc><w:tcPr><w:tcW w:w="{width}" w:type="dxa"/>{properties}</w:tcPr>{content}</w:tc>'


def shading(fill: str) -> str:
    """A cell's or a paragraph's ground, as six hexadecimal digits."""
    return f'<w:shd w:val="clear" w:color="auto" w:fill="{fill}"/>'


_DECORATION: Final = (
    '<a:extLst><a:ext uri="{C183D7F6-B498-43B3-948B-1728B52AA6E4}">'
    '<adec:decorative xmlns:adec="http://schemas.microsoft.com/office/drawing/2017/decorative" val="1"/>'
    "</a:ext></a:extLst>"
)


def picture(number: int, relation: str, alt: str, width_mm: float, height_mm: float) -> str:
    """A run with a picture in line with the text, sizes in mm; one without alternative text is decoration."""
    extent = f'cx="{round(width_mm * EMU_PER_MM)}" cy="{round(height_mm * EMU_PER_MM)}"'
    told = f'id="{number}" name="p{number}" descr="{escaped(alt)}"'
    return (
        f'<w:r><w:drawing><wp:inline distT="0" distB="0" distL="0" distR="0"><wp:extent {extent}/>'
        f"<wp:docPr {told}>{'' if alt else _DECORATION}</wp:docPr><wp:cNvGraphicFramePr>"
        '<a:graphicFrameLocks noChangeAspect="1"/></wp:cNvGraphicFramePr><a:graphic>'
        '<a:graphicData uri="http://schemas.openxmlformats.org/drawingml/2006/picture"><pic:pic>'
        f"<pic:nvPicPr><pic:cNvPr {told}/><pic:cNvPicPr/></pic:nvPicPr>"
        f'<pic:blipFill><a:blip r:embed="{relation}"/>'
        "<a:stretch><a:fillRect/></a:stretch></pic:blipFill><pic:spPr>"
        f'<a:xfrm><a:off x="0" y="0"/><a:ext {extent}/></a:xfrm>'
        '<a:prstGeom prst="rect"><a:avLst/></a:prstGeom>'
        "</pic:spPr></pic:pic></a:graphicData></a:graphic></wp:inline></w:drawing></w:r>"
    )
