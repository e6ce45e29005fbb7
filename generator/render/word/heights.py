"""How high blocks stand, reckoned from the styles and the widths of the face, so that a sheet is laid out whole.

Lengths are twips. Words are measured as Arial; a house style's face may be wider, for which `_SPARE` leaves room.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property
from typing import Final

from generator.document.model import (
    Block,
    Contents,
    Figure,
    Heading,
    Inlines,
    ListBlock,
    Pairs,
    Paragraph,
    Section,
    Steps,
    Table,
)
from generator.drawing.text import text_width_pt, wrap
from generator.render.word.contents import BETWEEN
from generator.render.word.geometry import Geometry, beside
from generator.render.word.inline import printed
from generator.render.word.paper import ACROSS, OVER_TABLE, WidthsOf
from generator.render.word.styles import cell_margin
from generator.render.word.tables import head_of
from generator.render.word.type_styles import TypeStyle, type_styles
from generator.render.word.xml import TWIPS_PER_MM, TWIPS_PER_PT
from generator.values import Struct, replace

_SPARE: Final = 1.02
OVER_HEADS: Final = 100
"""The room over two heads side by side."""

_HEAD_SHARE: Final = 0.25
"""How much of a page a head fills at the most; what it leads begins below it, so that no page holds a head alone."""

_RULE: Final = 30
PARAGRAPHS: Final = {
    "body": "BodyText", "label": "Label", "facts": "Facts", "small": "SmallText", "lead": "Lead",
    "title": "Title", "subtitle": "Subtitle", "asked": "Asked",
}  # fmt: skip
"""The style of each kind of paragraph."""

_Group = tuple[Block, ...]
_PAIR_PT: Final = 8.5
_PAIR_GAP_PT: Final = 6.0
_STEP_PT: Final = 9.5
_LEAST_TAIL: Final = 8
"""The least letters of a step that stand on a line with its clauses."""

_EDGE_PT: Final = 4.5
"""What a bold word of a step is wider, and a blank; its clauses stand on its line where they fit it."""


def list_style(item: ListBlock) -> str:
    """The style of the items of a list."""
    return "ListNumber" if item.ordered else "SmallBullet" if item.small else "ListBullet"


def side_by_side(label: Inlines, told: Inlines, room: int, size: float = _PAIR_PT) -> bool:
    """Whether both of a pair fit on one line of a room; else the second stands below the first."""
    wide = text_width_pt(printed(label), size) + text_width_pt(printed(told), size)
    return wide <= room / TWIPS_PER_PT - _PAIR_GAP_PT


def told_lines(told: Inlines, room: int, size: float = _PAIR_PT) -> list[str]:
    """The lines that the second of a pair takes where it stands below the first, broken between words alone."""
    text = printed(told).replace("-", "\N{NON-BREAKING HYPHEN}")
    return [line.rstrip(" ") for line in wrap(text, room / TWIPS_PER_PT, size)]


def parted_before(text: str, rests_on: str, room: int, size: float = _STEP_PT) -> int:
    """Where the last line of a step begins, so that its clauses do not stand on a line alone; 0 where they do not.

    `room` is the width of its text in twips. It is parted behind a stop, else between words, as late as may be.
    """
    wide = room / TWIPS_PER_PT
    at_edge = text_width_pt(rests_on, size - 1) + _EDGE_PT
    if not rests_on or text_width_pt(text, size) > wide or text_width_pt(text, size) + at_edge <= wide:
        return 0
    starts = [at + 1 for at, letter in enumerate(text) if letter == " " and len(text) - at > _LEAST_TAIL]
    fits = [at for at in reversed(starts) if text_width_pt(text[at:], size) + at_edge <= wide]
    return next((at for at in fits if text[at - 2] in ",;:."), fits[0] if fits else 0)


def heads_abreast(section: Section) -> bool:
    """Whether both columns of a section begin with a head."""
    firsts = [content[0] for content in (section.blocks, section.side) if content]
    return len(firsts) > 1 and all(
        isinstance(one, Pairs) or (isinstance(one, Heading) and one.level == 2) for one in firsts
    )


class Heights:
    """The heights of blocks in the styles of a look; `entries` is what its contents list says, run on."""

    def __init__(self, styles: str, line: int, widths_of: WidthsOf, entries: str = "") -> None:
        self._styles = styles
        self._line = line
        self._widths_of = widths_of
        self._entries = entries

    @cached_property
    def _types(self) -> Mapping[str, TypeStyle]:
        return type_styles(self._styles).paragraphs  # most papers place nothing and need none

    def of(self, content: Iterable[Block], room: int) -> float:
        """Of blocks one below the other, in a column of a width."""
        return sum(self._block(item, room) for item in content) * _SPARE

    def abreast(self, section: Section, widths: tuple[int, int]) -> float:
        """Of a section with a column beside it, by the widths of both: the higher of them."""
        higher = max(map(self.of, (section.blocks, section.side), widths))
        if not heads_abreast(section):
            return higher
        heads = (section.blocks[0], section.side[0])
        own = min(self._types["PairTitle" if isinstance(one, Pairs) else "FrontHeading2"].before for one in heads)
        return higher + OVER_HEADS - own  # which they give up for it

    def _block(self, item: Block, room: int) -> float:
        if isinstance(item, Paragraph):
            return self._text(PARAGRAPHS[item.style], item.content, room)
        if isinstance(item, Heading):
            return self._text(f"{'Heading' if item.number else 'FrontHeading'}{item.level}", item.content, room)
        if isinstance(item, ListBlock):
            return sum(self._text(list_style(item), line, room - 283) for line in item.items) + 70
        if isinstance(item, Steps):
            return sum(self._step(printed(step.content), printed(step.rests_on), room) for step in item.steps)
        return self._set_off(item, room)

    def _set_off(self, item: Block, room: int) -> float:
        if isinstance(item, Pairs):
            return self._types["PairTitle"].height([item.title], room) + sum(
                self._pair(label, told, room) for label, told in item.rows
            )
        if isinstance(item, Figure):
            scale = min(1.0, room / (item.drawing.width_mm * TWIPS_PER_MM))
            words = f"Figure {item.number}: {item.caption}"
            caption = self._types["Caption"].height([words], room) if item.number or item.caption else 0.0
            return item.drawing.height_mm * TWIPS_PER_MM * scale + caption + self._types["Figure"].before + 100
        if isinstance(item, Contents):
            return self._contents(item, room)
        return self._table(item, room) if isinstance(item, Table) else 0.0

    def _contents(self, item: Contents, room: int) -> float:
        title = self._types["TOCHeading"].height([item.title], room)
        if item.runs_on:
            return title + self._types["TOC2"].height([self._entries], room)
        entry = self._types["TOC1"]
        return title + len(self._entries.split(BETWEEN)) * entry.height([""], room)

    def _text(self, style: str, content: Inlines, room: int) -> float:
        named = ACROSS.get(style, style) if room == self._line else style
        return self._types[named].height([printed(content)], room)

    def _step(self, text: str, rests_on: str, room: int) -> float:
        step = self._types["Step"]
        wide = (room - step.left) / TWIPS_PER_PT
        at_edge = text_width_pt(rests_on, step.size - 1) + _EDGE_PT if rests_on else 0.0
        if text_width_pt(text, step.size) + at_edge <= wide:
            return step.before + step.after + step.line
        lines = wrap(text, wide, step.size)
        more = 1 if text_width_pt(lines[-1], step.size) + at_edge > wide else 0
        return step.before + step.after + (len(lines) + more) * step.line

    def _pair(self, label: Inlines, told: Inlines, room: int) -> float:
        pair = self._types["Pair"]
        beside = side_by_side(label, told, room, pair.size)
        lines = 1 if beside else 1 + len(told_lines(told, room, pair.size))
        return pair.before + pair.after + pair.rule + pair.line * lines

    def _table(self, item: Table, room: int) -> float:
        body = self._types["TableSmall" if item.small else "TableText"]
        widths = self._widths_of(item, room)
        margin = cell_margin(room, len(widths))
        heads = [tuple(head_of(column) for column in item.columns)]
        rows = [tuple(printed(cell) for cell in row.cells) for row in item.rows]
        caption = self._types["Caption"].height([item.caption], room) if item.caption else OVER_TABLE
        return caption + sum(
            max(body.height([text], width - 2 * margin) for text, width in zip(row, widths, strict=True)) + _RULE
            for row in heads + rows
        )


def placed(sections: Iterable[Section], geometry: Geometry, heights: Heights) -> Iterator[Section]:
    """The sections, those that continue on a page only where they fit it whole, else on a page of their own.

    What is higher than a page with its narrow column goes on over pages work by work, each with what fits beside it;
    so does what fits a page and not the rest of one below a head.
    """
    used = 0.0
    held = list(sections)
    for section, following in zip(held, [*held[1:], None], strict=True):
        if not section.side and not (following and following.continues):
            yield section
            continue
        page = geometry.page(section.landscape)
        widths = beside(page.line, is_even=section.is_even)
        sheet = _Sheet(heights, widths, page.room)
        if not section.side:
            used = sheet.foot(section.blocks, page.line, used if section.continues else 0.0)
            yield section
            continue
        for part, needs in sheet.parted(section, used if section.continues else None):
            used = needs + (used if part.continues else 0.0)
            yield part


class _Sheet(Struct, frozen=True):
    """The page of a section with a narrow column: the widths of both, and how high it is."""

    heights: Heights
    widths: tuple[int, int]
    whole: float

    def needs(self, section: Section) -> float:
        """How high a section stands: the higher of its columns."""
        return self.heights.abreast(section, self.widths)

    def foot(self, blocks: Iterable[Block], width: int, used: float) -> float:
        """How far down its last page blocks across a page reach, from a height on: figures whole, all else broken."""
        for block in blocks:
            height = self.heights.of([block], width)
            if used + height <= self.whole:
                used += height
            else:
                used = height if isinstance(block, Figure) else (used + height) % self.whole
        return used

    def parted(self, section: Section, used: float | None) -> Iterator[tuple[Section, float]]:
        """A section as it stands on a page from a height on, or on the next; what no page holds whole, on several.

        So does what fits the page of its head but for a little. Each with how high it stands.
        """
        needs = self.needs(section)
        if used is not None and used + needs <= self.whole:
            yield section, needs
        elif needs <= self.whole and (used is None or used > _HEAD_SHARE * self.whole):
            yield replace(section, continues=False), needs
        else:
            yield from ((part, self.needs(part)) for part in self._over_pages(section, used or 0.0))

    def _over_pages(self, section: Section, above: float) -> Iterator[Section]:
        """Work by work, each page with what fits beside it; a work higher than a page has nothing that it runs into."""
        works, side = _works(section.blocks), _side_lists(section.side)
        while works or side:
            first, later = self._fitting(works, self.widths[0], self.whole - above)
            second, below = self._fitting(side, self.widths[1], self.whole - above)
            if works and not first and not above:
                yield replace(section, blocks=(*_run(works), *_run(side)), side=(), continues=False)
                return
            if first:
                works, side = later, below
                yield replace(section, blocks=first, side=second, continues=bool(above))
            elif not works:
                yield replace(section, blocks=_run(side), side=(), continues=bool(above))
                return
            above = 0.0

    def _fitting(self, groups: list[_Group], width: int, room: float) -> tuple[_Group, list[_Group]]:
        """The first groups, as many as fit a room whole, and those that are left."""
        count = 0
        while count < len(groups) and self.heights.of(_run(groups[: count + 1]), width) <= room:
            count += 1
        return _run(groups[:count]), groups[count:]


def _run(groups: Iterable[_Group]) -> _Group:
    return tuple(block for group in groups for block in group)


def _works(blocks: Iterable[Block]) -> list[_Group]:
    """Blocks by the headings that lead them."""
    groups: list[list[Block]] = [[]]
    for block in blocks:
        if isinstance(block, Heading) and groups[-1]:
            groups.append([])
        groups[-1].append(block)
    return [tuple(group) for group in groups if group]


def _side_lists(blocks: Iterable[Block]) -> list[_Group]:
    """What stands beside, in order: the title of a table goes with it."""
    groups: list[list[Block]] = []
    leads = False
    for block in blocks:
        if leads:
            groups[-1].append(block)
        else:
            groups.append([block])
        leads = isinstance(block, Pairs) and not block.rows
    return [tuple(group) for group in groups]
