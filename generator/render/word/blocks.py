"""The body of a paper: one small function for each kind of block."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Any, Final

from generator.document.model import (
    Block,
    ClauseBlock,
    Contents,
    Figure,
    Heading,
    Inline,
    Inlines,
    ListBlock,
    Notice,
    PageBreak,
    Pairs,
    Paragraph,
    Step,
    Steps,
    Strong,
    Table,
    Text,
    Value,
    joined,
    plain_text,
    words_of,
)
from generator.drawing.text import POINTS_PER_MM, text_width_pt, wrap
from generator.render.word import xml
from generator.render.word.contents import contents
from generator.render.word.heights import PARAGRAPHS, list_style, parted_before, side_by_side, told_lines
from generator.render.word.inline import last_kept, printed, runs
from generator.render.word.numbering import (
    BULLET_LIST,
    LIST_STEP,
    STEP_INDENT,
    list_properties,
)
from generator.render.word.paper import Paper, heading_bookmark
from generator.render.word.styles import ASKED_HANG, QUIET, colour, edge, indent, size, spacing
from generator.render.word.tables import caption, table
from generator.values import Struct, replace

_NUMBERED: Final = ("Heading1", "Heading2", "Heading3")
_PLAIN: Final = ("FrontHeading1", "FrontHeading2", "Heading3")
_APART: Final = "PaperHeading"
_NOT_USED: Final = '<w:b w:val="0"/><w:bCs w:val="0"/>' + colour(QUIET)

# The words of a notice tell its level; the weight of its border only repeats it.
_BORDER_EIGHTHS: Final = {"note": 4, "warning": 8, "refusal": 8, "block": 18, "hazard": 18}
_UNBROKEN: Final = str.maketrans({" ": "\u00a0", "–": "\u2060–\u2060"})
RESTS_ON: Final = '<w:rStyle w:val="RestsOn"/>'
_EMPTY: Final = Text("□")
_BOX: Final = re.compile(f"({_EMPTY.text})")
_OPTION: Final = re.compile(rf"{_EMPTY.text}\u00a0[^{_EMPTY.text}\n\t]{{1,32}}(?=  {_EMPTY.text}|\n|\t|$)")
_OPTION_KEPT: Final = str.maketrans({" ": "\u00a0", "-": "\N{NON-BREAKING HYPHEN}"})
_ASKED_PT: Final = 9
_BOX_LOOK: Final = size(13)
"""Its line is a 27th of its size: half a point at 13, which a copier at 70 % keeps however it falls on its dots."""

_RUN_ON: Final = '<w:rStyle w:val="LabelRunOn"/>'
_WORDS: Final = re.compile(r"\S+")
_KEPT: Final = "\u00a0"
_BLANK: Final = Text(" ")
_NAMED: Final = Text(f":{_KEPT}")
_ROWS_IN_LINE: Final = 3
_WHERE_IN_LINE: Final = 60
_NOTICE_INSET: Final = 120
_NOTICE_END: Final = '<w:spacing w:after="200"/>'
_LIST_END: Final = '<w:spacing w:after="70"/>'


def blocks(content: Iterable[Block], paper: Paper) -> Iterator[str]:
    """The blocks as the inside of a body, in pieces: put together, a table of a thousand walls takes 140 MB.

    They are to be taken in order, as each changes what the paper counts. Raises TypeError for a kind that is not in
    the model.
    """
    return _written([[item] for item in content], paper)


def _written(groups: Sequence[Sequence[Block]], paper: Paper) -> Iterator[str]:
    """Blocks, those of a group in one paragraph."""
    followings = (*(group[0] for group in groups[1:]), None)
    before: Block | None = None
    for group, following in zip(groups, followings, strict=False):
        paper.leads = (
            _leads(group[-1], following) or _keeps(group[-1], following) or _opens(before, group[0], following)
        )
        before = group[-1]
        paper.over_table = _stands_over(group[-1], following)
        if len(group) == 1:
            yield from block(group[0], paper)
        else:
            yield _one_paragraph(group, paper)


def _leads(item: Block, following: Block | None) -> bool:
    """Whether a block leads to the next: a table to the picture beneath it, all else to lists and to tables.

    A table with a caption is led by that.
    """
    if isinstance(item, Table):
        return isinstance(following, Figure)
    return isinstance(following, ListBlock) or (isinstance(following, Table) and not following.caption)


def _opens(before: Block | None, item: Block, following: Block | None) -> bool:
    """Whether a block is the first of the lines to write on below a heading: it does not stand there alone."""
    lines = [isinstance(one, Paragraph) and one.style == "asked" for one in (item, following)]
    return isinstance(before, Heading) and all(lines)


def _stands_over(item: Block, following: Block | None) -> bool:
    """Whether a block is one paragraph right over a table: lists have air below them, a caption above it."""
    is_one = isinstance(item, Paragraph | Heading) or (isinstance(item, Pairs) and not item.rows)
    return is_one and isinstance(following, Table) and not (following.caption or following.number)


def _keeps(item: Block, following: Block | None) -> bool:
    """Whether a block keeps to the next: small print to what it stands over, any to the check that ends its clause."""
    if isinstance(following, Paragraph) and following.style == "label":
        return True
    stands_over = following is not None and not isinstance(following, Heading)
    return isinstance(item, Paragraph) and item.style == "small" and stands_over


def block(item: Block, paper: Paper) -> Iterable[str]:
    """One block, a table row by row.

    Raises TypeError for a kind not in the model, ValueError for one that is not sound.
    """
    emitter = _EMITTERS.get(type(item))
    if emitter is None:
        raise TypeError(f"no such block: {type(item).__name__}")
    told = emitter(item, paper)
    return (told,) if isinstance(told, str) else told


def _paragraph(item: Paragraph, paper: Paper) -> str:
    if item.style not in PARAGRAPHS:
        raise ValueError(f"no such paragraph style: {item.style}")
    style = PARAGRAPHS[item.style]
    if item.style == "asked":
        content = tuple(map(_ended, _with_room(item, paper)))
        asked, tabs = _with_boxes(content, paper), xml.right_tab(paper.line)
        return paper.paragraph(style, asked, keep_next=paper.leads, tabs=tabs)
    return paper.paragraph(style, runs(last_kept(item.content), paper), keep_next=paper.leads)


def _with_boxes(content: Inlines, paper: Paper) -> str:
    """Words with the boxes among them that are to be ticked, these so large that a copier keeps all four sides."""
    told = ""
    for item in content:
        pieces = _BOX.split(_options_kept(item.text)) if isinstance(item, Text) else []
        parts: list[Inline] = [Text(piece) for piece in pieces if piece]
        parts = parts or [item]
        told += "".join(runs((part,), paper, _BOX_LOOK if part == _EMPTY else "") for part in parts)
    return told


def _options_kept(text: str) -> str:
    """Words whose short options part neither from their boxes nor within."""
    return _OPTION.sub(lambda found: found[0].translate(_OPTION_KEPT), text)


def _with_room(item: Paragraph, paper: Paper) -> Inlines:
    """What a line to write on says, with a line more where its words leave less than its room before what ends it."""
    before, tab, at_end = plain_text(item.content).partition("\t")
    if not tab or not item.room_mm:
        return item.content
    is_bold = any(isinstance(one, Strong) for one in item.content)
    words, whole, hang = _options_kept(before), paper.line / xml.TWIPS_PER_PT, ASKED_HANG / xml.TWIPS_PER_PT
    if text_width_pt(words, _ASKED_PT, is_bold) > whole or "\n" in words:
        last, stands_in = wrap(words, whole - hang, _ASKED_PT, is_bold)[-1], hang
    else:
        last, stands_in = words, 0.0
    used = stands_in + text_width_pt(last, _ASKED_PT, is_bold) + text_width_pt(at_end, _ASKED_PT)
    if used / POINTS_PER_MM + item.room_mm <= paper.line_mm:
        return item.content
    return tuple(Text(one.text.replace("\t", "\n\t")) if isinstance(one, Text) else one for one in item.content)


def _ended(item: Inline) -> Inline:
    """Words whose part behind a tab stands unbroken at the end of the line."""
    if not isinstance(item, Text):
        return item
    asked, tab, at_end = item.text.partition("\t")
    return Text(asked + tab + at_end.translate(_UNBROKEN))


def _list(item: ListBlock, paper: Paper) -> str:
    style = list_style(item)
    numbering = list_properties(paper.numbering.counted_list()) if item.ordered else ""
    last = len(item.items) - 1
    return "".join(
        paper.paragraph(
            style,
            runs(last_kept(content), paper),
            # no item alone on a page
            keep_next=paper.leads if index == last else index in (0, last - 1),
            numbering=numbering,
            space=_LIST_END if index == last else "",
        )
        for index, content in enumerate(item.items)
    )


def _steps(item: Steps, paper: Paper) -> str:
    numbering = list_properties(paper.numbering.steps(item.first))
    last = len(item.steps) - 1
    return "".join(
        paper.paragraph(
            "Step",
            runs(_parted(step, paper), paper) + _at_edge(step, paper),
            keep_next=index != last and index in (0, last - 1),
            numbering=numbering,
            tabs=xml.right_tab(paper.line),
        )
        for index, step in enumerate(item.steps)
    )


def _parted(step: Step, paper: Paper) -> Inlines:
    """What a step says; where its clauses would stand on a line alone, its last words stand there with them."""
    text = printed(step.content)
    at = parted_before(text, printed(step.rests_on), paper.line - STEP_INDENT)
    return _broken(step.content, len(text) - at) if at else step.content


def _broken(content: Inlines, tail: int, by: str = "\n") -> Inlines:
    """The content, its last so many letters as they are printed on a line of their own."""
    for at in range(len(content) - 1, -1, -1):
        behind, item = printed(content[at:]), content[at]
        if len(behind) < tail:
            continue
        first = len(behind[: len(behind) - tail].split())
        starts = [found.start() for found in _WORDS.finditer(words_of(item))]
        if not first and at and isinstance(before := content[at - 1], Text) and before.text.endswith(" "):
            return (*content[: at - 1], Text(f"{before.text[:-1]}{by}"), *content[at:])
        if not isinstance(item, Text | Value) or not 0 < first < len(starts) == len(printed((item,)).split()):
            return content
        told = words_of(item)
        return (
            *content[:at],
            replace(item, text=f"{told[: starts[first] - 1]}{by}{told[starts[first] :]}"),
            *content[at + 1 :],
        )
    return content


def _at_edge(step: Step, paper: Paper) -> str:
    """What a step rests on, at the end of its line, unbroken."""
    bound = tuple(Text(item.text.translate(_UNBROKEN)) if isinstance(item, Text) else item for item in step.rests_on)
    return xml.TAB + runs(bound, paper, RESTS_ON) if bound else ""


def _pairs(item: Pairs, paper: Paper) -> str:
    title = paper.paragraph("PairTitle", xml.run(item.title)) if item.title else ""
    tabs = xml.right_tab(paper.line)
    last = len(item.rows) - 1
    return title + "".join(
        paper.paragraph(
            "Pair",
            runs(label, paper) + _told(label, told, paper),
            keep_next=index != last,
            tabs=tabs,
        )
        for index, (label, told) in enumerate(item.rows)
    )


def _told(label: Inlines, told: Inlines, paper: Paper) -> str:
    """The second of a pair, at the end of the line; of lines below it where the two do not fit side by side."""
    if side_by_side(label, told, paper.line):
        return xml.TAB + runs(told, paper)
    lines = told_lines(told, paper.line)
    for line in range(1, len(lines)):
        told = _broken(told, len(" ".join(lines[line:])), "\n\t")
    return xml.run("\n") + xml.TAB + runs(told, paper)


def _heading(item: Heading, paper: Paper) -> str:
    if item.level not in (1, 2, 3):
        raise ValueError(f"no such heading level: {item.level}")
    if item.starts_page:
        paper.breaks_page = True
    style = _APART if item.apart else (_NUMBERED if item.number else _PLAIN)[item.level - 1]
    return _titled(style, item.level - 1, item.number, item.anchor, runs(item.content, paper), paper)


def _titled(style: str, level: int, number: str, anchor: str, content: str, paper: Paper) -> str:
    name = heading_bookmark(anchor, number)
    marked = xml.bookmark(paper.new_id(), name, content) if name else content
    numbering = paper.numbering.heading(number, level) if number else ""
    return paper.paragraph(style, marked, numbering=numbering)


def _clause(item: ClauseBlock, paper: Paper) -> str:
    number = paper.new_id()
    title = runs(item.title, paper, "" if item.used else _NOT_USED)
    if item.advice and paper.draft:
        title = xml.comment_marks(len(paper.comments), title)
        paper.comments.append(item.advice)
    content = _titled("Heading2", 1, item.number, item.anchor, title, paper) + _run_on(item.blocks, paper)
    return xml.control(number, plain_text(item.title), xml.clause_tag(item.clause_id), content)


def _run_on(content: Iterable[Block], paper: Paper) -> str:
    """The blocks of a clause: what it applies to, its text and how it is checked run on in one paragraph.

    So no column begins with a check, and none ends where a whole clause would not fit.
    """
    groups: list[list[Block]] = []
    for item in map(_in_line, content):
        if groups and _goes_on(groups[-1][-1], item):
            groups[-1].append(item)
        else:
            groups.append([item])
    return "".join(_written(groups, paper))


def _goes_on(before: Block, item: Block) -> bool:
    if not isinstance(before, Paragraph) or not isinstance(item, Paragraph):
        return False
    return (before.style, item.style) in (("small", "body"), ("body", "label"), ("label", "label"))


def _in_line(item: Block) -> Block:
    """A table of one value in few rows as words that run on, led by the value's title: it would be mostly head.

    Rows of several places keep their table, since both are parted alike.
    """
    if not isinstance(item, Table) or not item.small or item.caption or len(item.columns) != 2:
        return item
    wheres = [plain_text(row.cells[0]) for row in item.rows]
    if len(wheres) > _ROWS_IN_LINE or any(";" in where or len(where) > _WHERE_IN_LINE for where in wheres):
        return item
    told = joined(((*where, _NAMED, *value) for where, value in (row.cells for row in item.rows)), "; ")
    return Paragraph((Strong((Text(f"{item.columns[1].title}:"),)), _BLANK, *told, Text(".")), "label")


def _one_paragraph(group: Sequence[Block], paper: Paper) -> str:
    told = ""
    for item in group:
        if isinstance(item, Paragraph):
            before = "" if not told else xml.run(" ")
            content = last_kept(item.content) if item is group[-1] else item.content
            told += before + runs(content, paper, "" if item.style == "body" else _RUN_ON)
    return paper.paragraph("BodyText", told, keep_next=paper.leads)


def _notice(item: Notice, paper: Paper) -> str:
    if item.level not in _BORDER_EIGHTHS:
        raise ValueError(f"no such level of notice: {item.level}")
    paper.notices += 1
    # boxes of equal borders and indents that touch become one; a twip keeps neighbours apart
    left = _NOTICE_INSET + paper.notices % 2
    eighths = _BORDER_EIGHTHS[item.level]
    lines = [_NoticeLine(xml.run(item.title), "NoticeTitle")] if item.title else []
    lines += [line for inner in item.blocks for line in _notice_lines(inner, paper)]
    last = len(lines) - 1
    return "".join(_boxed(line, eighths, left, paper, index < last) for index, line in enumerate(lines))


class _NoticeLine(Struct, frozen=True):
    """A paragraph of a box: its runs, its style and, for a list item, its list."""

    content: str
    style: str = "Notice"
    numbering: str = ""


def _notice_lines(item: Block, paper: Paper) -> list[_NoticeLine]:
    if isinstance(item, Paragraph):
        return [_NoticeLine(runs(last_kept(item.content), paper))]
    if isinstance(item, ListBlock):
        numbering = list_properties(paper.numbering.counted_list() if item.ordered else BULLET_LIST)
        return [_NoticeLine(runs(last_kept(content), paper), numbering=numbering) for content in item.items]
    raise TypeError(f"a notice holds paragraphs and lists, not {type(item).__name__}")


def _boxed(line: _NoticeLine, eighths: int, left: int, paper: Paper, keep_next: bool) -> str:
    # border and indents are the same in all paragraphs of a box, or it falls apart
    ink = "000000" if eighths > 8 else "595959"
    sides = "".join(edge(side, eighths, 5, ink) for side in ("top", "left", "bottom", "right"))
    return paper.paragraph(
        line.style,
        line.content,
        keep_next=keep_next,
        numbering=line.numbering,
        borders=f"<w:pBdr>{sides}</w:pBdr>",
        tabs=f'<w:tabs><w:tab w:val="left" w:pos="{left + LIST_STEP}"/></w:tabs>' if line.numbering else "",
        indents=indent(left, 0, _NOTICE_INSET),
        space="" if keep_next else _NOTICE_END,
    )


def _figure(item: Figure, paper: Paper) -> str:
    drawing = item.drawing
    scale = min(1.0, paper.line_mm / drawing.width_mm)
    picture = xml.picture(
        paper.new_id(),
        paper.relation_of(drawing),
        drawing.alt,
        drawing.width_mm * scale,
        drawing.height_mm * scale,
    )
    captioned = bool(item.caption or item.number)
    text = paper.paragraph("Figure", picture)
    if captioned:
        text += caption(
            "figure", item.number, item.anchor, item.caption, paper,
            keep_next=paper.leads, space=spacing(60, 100),
        )  # fmt: skip
    return text


def _page_break(item: PageBreak, paper: Paper) -> str:
    paper.breaks_page = True
    return ""


def _contents(item: Contents, paper: Paper) -> str:
    return contents(item, paper)


_EMITTERS: Final[dict[type, Callable[[Any, Paper], str | Iterable[str]]]] = {
    Paragraph: _paragraph,
    ListBlock: _list,
    Steps: _steps,
    Pairs: _pairs,
    Heading: _heading,
    ClauseBlock: _clause,
    Table: table,
    Notice: _notice,
    Figure: _figure,
    Contents: _contents,
    PageBreak: _page_break,
}
