"""The look of the Word papers: every style, as text, in one place.

Arial, black on white, black rules. Text begins at the edge of its column, so that a house style's indents are its own;
numbers hang before titles, so that a reader finds a clause by running an eye down them.
"""

from __future__ import annotations

from typing import Final

from generator.render.word.numbering import (
    BULLET_LIST,
    HEADING_LIST,
    LIST_STEP,
    STEP_INDENT,
    TEXT_INDENT,
    list_properties,
)
from generator.render.word.xml import NAMESPACES, escaped, shading, twips

FONT: Final = "Arial"
RULE: Final = "000000"
QUIET: Final = "404040"
FACTS_INSET: Final = twips(44)
"""What keeps the facts of a wall, which stand across the page, to a line of 80 characters."""

MARK_LINE: Final = 190
"""The height of the line that marks a draft over the header, in twips."""

_INSETS: Final = {"text": twips(48), "lead": twips(35), "small": twips(66)}
"""The same for other text across the page, by its size."""

CELL_MARGIN: Final = 85
"""Space between a column's edge and its text, in twips."""

NARROW_MARGIN: Final = 40
_NARROW: Final = twips(60)
_MANY_COLUMNS: Final = 6
_MARGIN_OF_MANY: Final = 57


def cell_margin(line: int, columns: int) -> int:
    """The space at both sides of a cell in a table: less where its words want the room."""
    if line < _NARROW:
        return NARROW_MARGIN
    return CELL_MARGIN if columns < _MANY_COLUMNS else _MARGIN_OF_MANY


BOLD: Final = "<w:b/><w:bCs/>"


def size(points: float) -> str:
    """Type size in points; Word counts in halves."""
    return f'<w:sz w:val="{round(points * 2)}"/><w:szCs w:val="{round(points * 2)}"/>'


def colour(value: str) -> str:
    """Type colour as six hexadecimal digits."""
    return f'<w:color w:val="{value}"/>'


def spacing(before: int = 0, after: int = 0, line: int = 0) -> str:
    """Space round a paragraph in twips; `line` in 240ths of a line, 0 as inherited."""
    lines = f' w:line="{line}" w:lineRule="auto"' if line else ""
    return f'<w:spacing w:before="{before}" w:after="{after}"{lines}/>'


def indent(left: int, hanging: int = 0, right: int = 0) -> str:
    """Indents in twips; `hanging` is how far the first line stands out to the left."""
    return f'<w:ind w:left="{left}" w:right="{right}" w:hanging="{hanging}"/>'


def edge(side: str, width: int, space: int = 0, ink: str = RULE) -> str:
    """One border: width in eighths of a point, space in points."""
    return f'<w:{side} w:val="single" w:sz="{width}" w:space="{space}" w:color="{ink}"/>'


ASKED_HANG: Final = twips(3)
"""How far what runs on below a question to be ticked or written on stands in: the next question is seen at once."""


def _style(
    style_id: str, name: str, paragraph: str = "", run: str = "", *,
    based: str = "Normal", then: str = "", listed: bool = True,
) -> str:  # fmt: skip
    following = f'<w:next w:val="{then}"/>' if then else ""
    base = f'<w:basedOn w:val="{based}"/>' if based else ""
    quick = "<w:qFormat/>" if listed else ""
    inside = f"<w:pPr>{paragraph}</w:pPr>" if paragraph else ""
    inside += f"<w:rPr>{run}</w:rPr>" if run else ""
    default = ' w:default="1"' if style_id == "Normal" else ""
    return (
        f'<w:style w:type="paragraph"{default} w:styleId="{style_id}"><w:name w:val="{name}"/>'
        f"{base}{following}{quick}{inside}</w:style>"
    )


def _headings() -> str:
    keep = "<w:keepNext/><w:keepLines/>"
    hang = indent(TEXT_INDENT, TEXT_INDENT)
    # Word wants numPr before spacing; the list itself says the level its style is bound to
    part, clause = (list_properties(HEADING_LIST, level) for level in (0, 1))
    level = [f'<w:outlineLvl w:val="{number}"/>' for number in range(3)]
    big, middle, low = BOLD + size(13), BOLD + size(9.5), BOLD + size(9.5)
    wide, close, closer = spacing(130, 20, 252), spacing(44, 0), spacing(60, 10)
    body = "BodyText"
    return "".join(
        (
            _style("Heading1", "heading 1", keep + part + wide + hang + level[0], BOLD + size(12), then=body),
            _style("Heading2", "heading 2", keep + clause + close + hang + level[1], middle, then=body),
            _style("Heading3", "heading 3", keep + closer + level[2], low, then=body),
            _style("FrontHeading1", "Front heading 1", keep + wide + level[0], big, then=body),
            _style("FrontHeading2", "Front heading 2", keep + close + level[1], middle, then=body),
            _style("PaperHeading", "Heading of a short paper", spacing(150, 30), based="FrontHeading2", then=body),
            _style("TOCHeading", "TOC Heading", keep + wide, big, then=body),
        )
    )


def _texts() -> str:
    # no style is called by the name of a structure of PDF: LibreOffice would tag its paragraphs as one
    item = indent(LIST_STEP, LIST_STEP)
    across = indent(LIST_STEP, LIST_STEP, _INSETS["text"])
    subtitle = colour(QUIET) + size(14)
    keep = "<w:keepNext/><w:keepLines/>"
    ruled = f"<w:pBdr>{edge('bottom', 4, 1)}{edge('between', 4, 1)}</w:pBdr>"
    # of one height, since the boxes on it are larger than its words
    asked = '<w:spacing w:before="80" w:after="0" w:line="207" w:lineRule="exact"/>' + indent(ASKED_HANG, ASKED_HANG)
    return "".join(
        (
            _style("BodyText", "Body Text", spacing(0, 40, 241)),
            _style("TextAcross", "Text across the page", indent(0, 0, _INSETS["text"]), based="BodyText"),
            _style("Lead", "Lead", spacing(0, 80, 264) + indent(0, 0, _INSETS["lead"]), size(10.5), based="BodyText"),
            _style("ClauseText", "Text of a clause", spacing(0, 20, 241), size(9), based="BodyText"),
            _style("ClauseNumber", "Numbered line of a clause", spacing(0, 10, 241), size(9)),
            _style("Facts", "Facts of a wall", spacing(0, 100, 259) + indent(0, 0, FACTS_INSET), based="BodyText"),
            _style("Label", "Clause label", spacing(0, 30, 241), size(8), based="BodyText"),
            _style("SmallText", "Small text", spacing(0, 20, 245), size(8), based="BodyText"),
            _style("SmallAcross", "Small text across the page", indent(0, 0, _INSETS["small"]), based="SmallText"),
            _style("Asked", "Line to fill in", "<w:keepLines/>" + ruled + asked, size(9)),
            _style("Title", "Title", spacing(400, 160, 252), BOLD + size(26), then="Subtitle"),
            _style("Subtitle", "Subtitle", spacing(0, 120, 259), subtitle, then="BodyText"),
            _style("ListBullet", "List Bullet", list_properties(BULLET_LIST) + spacing(0, 10, 241) + item),
            _style("BulletAcross", "Bullet across the page", across, based="ListBullet"),
            _style("ClauseBullet", "Bullet of a clause", "", size(9), based="ListBullet"),
            _style("SmallBullet", "Small bullet", "", size(8), based="ListBullet"),
            _style("ListNumber", "List Number", spacing(0, 10, 241)),
            _style("Caption", "caption", "<w:keepLines/>" + spacing(100, 40), size(8.5)),
            _style("Figure", "Figure line", "<w:keepNext/>" + spacing(60, 0)),
            _style("Step", "Step", "<w:keepLines/>" + spacing(0, 6, 242) + indent(STEP_INDENT, STEP_INDENT)),
            _style("PairTitle", "Heading of a side list", keep + spacing(120, 20), BOLD + size(9.5)),
            _style("Pair", "Line of a side list", "<w:keepLines/>" + ruled + spacing(16, 16), size(8.5)),
            _style("Notice", "Notice", "<w:keepLines/>" + spacing(0, 80, 259)),
            _style("NoticeTitle", "Notice title", "<w:keepNext/>" + spacing(160, 60), BOLD, based="Notice"),
        )
    )  # fmt: skip


def _tables() -> str:
    tight = spacing(20, 20, 247)
    head = "<w:keepNext/>"
    return "".join(
        (
            _style("TableText", "Table text", tight, size(8.5)),
            _style("TableHead", "Table heading", head, BOLD, based="TableText"),
            _style("TableSmall", "Table text small", spacing(6, 6, 240), size(8), based="TableText"),
            _style("TableSmallHead", "Table heading small", head, BOLD, based="TableSmall"),
        )
    )


def _furniture() -> str:
    number_tab = f'<w:tab w:val="left" w:pos="{TEXT_INDENT}"/>'
    hang = indent(TEXT_INDENT, TEXT_INDENT)
    quiet = colour(QUIET) + size(8.5)
    entry = f"<w:tabs>{number_tab}</w:tabs>"
    mark = BOLD + colour("000000") + size(9.5)
    # no higher than its letters: the line of the header stands below it, and both above the page's first line
    mark_line = f'<w:spacing w:before="0" w:after="0" w:line="{MARK_LINE}" w:lineRule="exact"/>'
    no_height = '<w:spacing w:before="0" w:after="0" w:line="20" w:lineRule="exact"/>'
    sheet_title = spacing() + '<w:outlineLvl w:val="0"/>'
    return "".join(
        (
            _style("TOC1", "toc 1", "<w:keepNext/>" + entry + spacing(50, 0) + hang, BOLD + size(8.5), listed=False),
            _style(
                "TOC2", "toc 2", "<w:keepLines/>" + spacing(0, 20, 245), size(8), listed=False
            ),
            _style("Header", "header", spacing(), quiet, listed=False),
            _style("Footer", "footer", spacing(), quiet, listed=False),
            _style("DraftMark", "Draft mark", mark_line, mark, based="Header"),
            _style("SectionEnd", "Section end", no_height, size(1), listed=False),
            _style("CommentText", "annotation text", spacing(0, 60), listed=False),
            _style("SheetTitle", "Sheet title", sheet_title, BOLD),
            _style("SheetText", "Sheet text", spacing()),
        )
    )  # fmt: skip


def _characters() -> str:
    return (
        '<w:style w:type="character" w:default="1" w:styleId="DefaultParagraphFont">'
        '<w:name w:val="Default Paragraph Font"/><w:uiPriority w:val="1"/><w:semiHidden/></w:style>'
        '<w:style w:type="character" w:customStyle="1" w:styleId="Value"><w:name w:val="Value"/>'
        '<w:basedOn w:val="DefaultParagraphFont"/></w:style>'
        '<w:style w:type="character" w:styleId="CommentReference"><w:name w:val="annotation reference"/>'
        f'<w:basedOn w:val="DefaultParagraphFont"/><w:rPr>{size(8)}</w:rPr></w:style>'
        '<w:style w:type="character" w:customStyle="1" w:styleId="RestsOn"><w:name w:val="What a step rests on"/>'
        f'<w:basedOn w:val="DefaultParagraphFont"/><w:rPr>{size(8.5)}</w:rPr></w:style>'
        '<w:style w:type="character" w:customStyle="1" w:styleId="LabelRunOn"><w:name w:val="Clause label, run on"/>'
        f'<w:basedOn w:val="DefaultParagraphFont"/><w:rPr>{size(8)}</w:rPr></w:style>'
    )


def _table_styles() -> str:
    rules = edge("bottom", 6) + edge("insideH", 4)
    # said in both styles: LibreOffice does not hand it down
    heavy = f"<w:tcBorders>{edge('bottom', 6)}</w:tcBorders>{shading('auto')}"
    head = f'<w:tblStylePr w:type="firstRow"><w:tcPr>{heavy}</w:tcPr></w:tblStylePr>'
    margins = (
        f'<w:top w:w="0" w:type="dxa"/><w:left w:w="{CELL_MARGIN}" w:type="dxa"/>'
        f'<w:bottom w:w="0" w:type="dxa"/><w:right w:w="{CELL_MARGIN}" w:type="dxa"/>'
    )
    return (
        '<w:style w:type="table" w:default="1" w:styleId="TableNormal"><w:name w:val="Normal Table"/>'
        f'<w:semiHidden/><w:tblPr><w:tblInd w:w="0" w:type="dxa"/><w:tblCellMar>{margins}</w:tblCellMar>'
        "</w:tblPr></w:style>"
        '<w:style w:type="numbering" w:default="1" w:styleId="NoList"><w:name w:val="No List"/>'
        "<w:semiHidden/></w:style>"
        '<w:style w:type="table" w:customStyle="1" w:styleId="RuledTable"><w:name w:val="Ruled table"/>'
        f'<w:basedOn w:val="TableNormal"/><w:tblPr><w:tblBorders>{rules}</w:tblBorders>'
        f"<w:tblCellMar>{margins}</w:tblCellMar></w:tblPr>"
        f"{head}</w:style>"
        '<w:style w:type="table" w:customStyle="1" w:styleId="CardTable"><w:name w:val="Card table"/>'
        '<w:basedOn w:val="TableNormal"/></w:style>'
    )


def styles_part(language: str) -> str:
    """The styles part of the package, as XML; `language` is the tag of the papers' language."""
    fonts = f'<w:rFonts w:ascii="{FONT}" w:hAnsi="{FONT}" w:eastAsia="{FONT}" w:cs="{FONT}"/>'
    spoken = escaped(language)
    return (
        f"<w:styles {NAMESPACES}><w:docDefaults><w:rPrDefault><w:rPr>{fonts}{size(9.5)}"
        f'<w:lang w:val="{spoken}" w:eastAsia="{spoken}" w:bidi="ar-SA"/></w:rPr></w:rPrDefault>'
        f"<w:pPrDefault><w:pPr>{spacing()}</w:pPr></w:pPrDefault></w:docDefaults>"
        + _style("Normal", "Normal", based="")
        + _headings()
        + _texts()
        + _tables()
        + _furniture()
        + _characters()
        + _table_styles()
        + "</w:styles>"
    )
