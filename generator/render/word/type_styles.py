"""What the paragraph styles of a look say of type, space and keeping together, read from its styles part."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Final
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from generator.drawing.text import line_height_in, line_height_pt, text_width_pt, wrap
from generator.render.word.xml import TWIPS_PER_PT
from generator.values import Struct, replace

W: Final = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
_SINGLE: Final = 240
"""Single spacing, as the format counts lines."""


class TypeStyle(Struct, frozen=True):
    """Points of the type; in twips space above and below and the indents; the pitch of lines in 240ths of single.

    With `exact` the pitch is a height in twips. `rule` is what the rule between such paragraphs, and under the last of
    them, takes below the words; `box` what a side of the box round such paragraphs takes, above the first of them and
    below the last.
    """

    size: float = 10.0
    bold: bool = False
    before: int = 0
    after: int = 0
    pitch: int = _SINGLE
    exact: bool = False
    left: int = 0
    right: int = 0
    keeps_next: bool = False
    keeps_lines: bool = False
    rule: int = 0
    box: int = 0

    def height(self, texts: Iterable[str], room: float) -> float:
        """Of a paragraph whose lines are told, or of one text wrapped to a room, in twips."""
        wide = max(room - self.left, 400) / TWIPS_PER_PT
        return self.before + self.after + sum(self.lines(text, wide) for text in texts) * self.line

    def lines(self, text: str, wide_pt: float) -> int:
        """How many lines a text takes; most take one, which is told without breaking it."""
        if "\n" not in text and text_width_pt(text, self.size, self.bold) <= wide_pt:
            return 1
        return len(wrap(text, wide_pt, self.size, self.bold))

    @property
    def line(self) -> float:
        """From line to line, in twips."""
        return line_height_pt(self.size) * TWIPS_PER_PT * self.pitch / _SINGLE

    def line_height(self, size: float) -> int:
        """From line to line in a size, in the whole twips and hundredths of single that LibreOffice reckons in."""
        if self.exact:
            return self.pitch
        return line_height_in(size, TWIPS_PER_PT) * round(self.pitch * 100 / _SINGLE) // 100

    def indented(self, left: int) -> TypeStyle:
        """The style with its text further in."""
        return replace(self, left=left)


class TypeStyles(Struct, frozen=True):
    """The styles of a look by their ids: those of paragraphs, and the sizes of those that words in them have."""

    paragraphs: Mapping[str, TypeStyle]
    sizes: Mapping[str, float]


def type_styles(styles: str) -> TypeStyles:
    """The styles of a styles part."""
    root = ElementTree.fromstring(styles)
    listed = {style.get(f"{W}styleId", ""): style for style in root.iter(f"{W}style")}
    size = root.find(f"{W}docDefaults//{W}sz")
    plain = TypeStyle(_number(size, "val", 20) / 2)
    sizes = {
        name: _number(own, "val", 0) / 2
        for name, style in listed.items()
        if style.get(f"{W}type") == "character" and (own := style.find(f"{W}rPr/{W}sz")) is not None
    }
    return TypeStyles({name: _read(name, listed, plain) for name in listed}, sizes)


def changed(style: TypeStyle, own: Element) -> TypeStyle:
    """The style with what a paragraph's own properties say otherwise."""
    spacing, inset = own.find(f"{W}spacing"), own.find(f"{W}ind")
    keeps_next, keeps_lines = own.find(f"{W}keepNext"), own.find(f"{W}keepLines")
    top = own.find(f"{W}pBdr/{W}top")
    if spacing is None and inset is None and keeps_next is None and keeps_lines is None and top is None:
        return style
    return replace(
        style,
        before=_number(spacing, "before", style.before),
        after=_number(spacing, "after", style.after),
        pitch=_number(spacing, "line", style.pitch),
        exact=style.exact if spacing is None or spacing.get(f"{W}line") is None else _is_exact(spacing),
        left=_number(inset, "left", style.left),
        right=_number(inset, "right", style.right),
        keeps_next=style.keeps_next if keeps_next is None else is_on(keeps_next),
        keeps_lines=style.keeps_lines if keeps_lines is None else is_on(keeps_lines),
        box=style.box if top is None else _rule(top),
    )


def is_on(item: Element) -> bool:
    """Whether a property that is on or off is on."""
    return item.get(f"{W}val") not in ("0", "false")


def _read(name: str, listed: Mapping[str, Element], plain: TypeStyle) -> TypeStyle:
    style = listed[name]
    based = style.find(f"{W}basedOn")
    base = "" if based is None else based.get(f"{W}val", "")
    start = _read(base, listed, plain) if base in listed and base != name else plain
    own, size, bold = style.find(f"{W}pPr"), style.find(f"{W}rPr/{W}sz"), style.find(f"{W}rPr/{W}b")
    between = style.find(f"{W}pPr/{W}pBdr/{W}between")
    typed = replace(
        start, size=_number(size, "val", round(start.size * 2)) / 2, bold=start.bold if bold is None else is_on(bold),
        rule=start.rule if between is None else _rule(between),
    )  # fmt: skip
    return typed if own is None else changed(typed, own)


def _rule(border: Element) -> int:
    """The height of a rule with the space above it; the format counts it in eighths of a point, and that in points."""
    return round((_number(border, "sz", 0) / 8 + _number(border, "space", 0)) * TWIPS_PER_PT)


def _is_exact(spacing: Element) -> bool:
    return spacing.get(f"{W}lineRule") == "exact"


def _number(item: Element | None, name: str, other: int) -> int:
    return other if item is None else int(item.get(f"{W}{name}", other))
