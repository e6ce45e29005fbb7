"""How high blocks stand, reckoned from the styles and the widths of the face, so that a sheet is laid out whole.

Lengths are twips. Words are measured as Arial; a house style's face may be wider, for which `_SPARE` leaves room.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from generator.document.model import (
    Block,
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
from generator.render.word.geometry import Geometry, beside
from generator.render.word.inline import printed
from generator.render.word.paper import ACROSS
from generator.render.word.styles import CELL_MARGIN
from generator.render.word.tables import fitted_widths
from generator.render.word.type_styles import type_styles
from generator.render.word.xml import TWIPS_PER_MM, TWIPS_PER_PT
from generator.values import replace

_SPARE: Final = 1.02
_RULE: Final = 30
PARAGRAPHS: Final = {
    "body": "BodyText", "label": "Label", "facts": "Facts", "small": "SmallText", "lead": "Lead",
    "title": "Title", "subtitle": "Subtitle", "asked": "Asked",
}  # fmt: skip
"""The style of each kind of paragraph."""

_PAIR_PT: Final = 8.5
_PAIR_GAP_PT: Final = 6.0


def list_style(item: ListBlock) -> str:
    """The style of the items of a list."""
    return "ListNumber" if item.ordered else "SmallBullet" if item.small else "ListBullet"


def side_by_side(label: Inlines, told: Inlines, room: int, size: float = _PAIR_PT) -> bool:
    """Whether both of a pair fit on one line of a room; else the second stands below the first."""
    wide = text_width_pt(printed(label), size) + text_width_pt(printed(told), size)
    return wide <= room / TWIPS_PER_PT - _PAIR_GAP_PT


class Heights:
    """The heights of blocks in the styles of a look."""

    def __init__(self, styles: str, line: int) -> None:
        self._types = type_styles(styles).paragraphs
        self._line = line

    def of(self, content: Iterable[Block], room: int) -> float:
        """Of blocks one below the other, in a column of a width."""
        return sum(self._block(item, room) for item in content) * _SPARE

    def _block(self, item: Block, room: int) -> float:
        if isinstance(item, Paragraph):
            return self._text(PARAGRAPHS[item.style], item.content, room)
        if isinstance(item, Heading):
            return self._text(f"{'Heading' if item.number else 'FrontHeading'}{item.level}", item.content, room)
        if isinstance(item, ListBlock):
            return sum(self._text(list_style(item), line, room - 283) for line in item.items) + 120
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
        return self._table(item, room) if isinstance(item, Table) else 0.0

    def _text(self, style: str, content: Inlines, room: int) -> float:
        named = ACROSS.get(style, style) if room == self._line else style
        return self._types[named].height([printed(content)], room)

    def _step(self, text: str, rests_on: str, room: int) -> float:
        step = self._types["Step"]
        wide = (room - step.left) / TWIPS_PER_PT
        at_edge = text_width_pt(f"  {rests_on}", step.size - 1) if rests_on else 0.0
        if text_width_pt(text, step.size) + at_edge <= wide:
            return step.before + step.after + step.line
        lines = wrap(text, wide, step.size)
        more = 1 if text_width_pt(lines[-1], step.size) + at_edge > wide else 0
        return step.before + step.after + (len(lines) + more) * step.line

    def _pair(self, label: Inlines, told: Inlines, room: int) -> float:
        pair = self._types["Pair"]
        lines = 1 if side_by_side(label, told, room, pair.size) else 2
        return pair.before + pair.after + _RULE + pair.line * lines

    def _table(self, item: Table, room: int) -> float:
        body = self._types["TableSmall" if item.small else "TableText"]
        widths = fitted_widths(item, room)
        heads = [tuple(column.title for column in item.columns)]
        rows = [tuple(printed(cell) for cell in row.cells) for row in item.rows]
        caption = self._types["Caption"].height([item.caption], room) if item.caption else 0.0
        return caption + sum(
            max(body.height([text], width - 2 * CELL_MARGIN) for text, width in zip(row, widths, strict=True)) + _RULE
            for row in heads + rows
        )


def placed(sections: Iterable[Section], geometry: Geometry, styles: str) -> Iterator[Section]:
    """The sections, those that continue on a page only where they fit it whole, else on a page of their own.

    What is higher than a page with its narrow column has none: the two stand one below the other.
    """
    heights: Heights | None = None
    used = 0.0
    held = list(sections)
    for section, following in zip(held, [*held[1:], None], strict=True):
        if not section.side and not (following and following.continues):
            yield section
            continue
        page = geometry.page(section.landscape)
        heights = heights or Heights(styles, page.line)
        whole = page.height - page.margins.top - page.margins.bottom
        if not section.side:
            used = heights.of(section.blocks, page.line)
            yield section
            continue
        needs = max(map(heights.of, (section.blocks, section.side), beside(page.line)))
        if needs > whole:
            section = replace(section, blocks=(*section.blocks, *section.side), side=())
        fits = section.continues and used + needs <= whole
        used = used + needs if fits else needs
        yield section if fits else replace(section, continues=False)
