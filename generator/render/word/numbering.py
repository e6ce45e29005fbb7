"""Automatic numbers: which list numbers a heading so that Word's number equals the number given.

A part is level 0 of a multilevel list, a clause level 1, a clause added between two level 2 with a letter
(2.2A). Where the numbers of a paper jump, one paragraph uses a list of its own that starts there; where a
part is not plainly numbered (7A), it has a series of its own with its label spelt out.
"""

from __future__ import annotations

import re
from typing import Final

from generator.render.word.xml import NAMESPACES, escaped, run_properties, twips
from generator.values import Struct, field

COUNTED_STEP: Final = twips(8)
TEXT_INDENT: Final = twips(13)
"""Where text begins, in twips from the left margin: the column of the hanging numbers."""

LIST_STEP: Final = twips(5)
STEP_INDENT: Final = twips(6)
"""Where the text of a step begins, in twips from its number's edge."""
HEADING_LIST: Final = 1
BULLET_LIST: Final = 2
CELL_BULLET_LIST: Final = 3
_BULLETS: Final = 1
_COUNTED: Final = 2
_CELL_BULLETS: Final = 3
_STEPS: Final = 4
_LEVELS: Final = 3
_BOUND_LEVELS: Final = 2  # Heading 1 and Heading 2; lettered clauses are Heading 2 too

_PLAIN: Final = re.compile(r"[1-9][0-9]*")
_PART: Final = re.compile(r"[A-Za-z0-9]+")
_CLAUSE: Final = re.compile(r"([A-Za-z0-9]+)\.([1-9][0-9]*)([A-Z]?)")


def list_properties(list_id: int, level: int = 0) -> str:
    """The `w:numPr` that puts a paragraph into a list."""
    return f'<w:numPr><w:ilvl w:val="{level}"/><w:numId w:val="{list_id}"/></w:numPr>'


class _Series(Struct):
    """One multilevel list with the counts it stands at: part, clause, letter."""

    abstract: int
    list_id: int
    counts: list[int] = field(default_factory=lambda: [0, 0, 0])

    def next_is(self, level: int, value: int) -> bool:
        return self.counts[level] + 1 == value

    def stand_at(self, level: int, value: int) -> None:
        self.counts[level:] = [value] + [0] * (_LEVELS - 1 - level)


class Numbering:
    """The lists of one document, made as its paragraphs are written, in order."""

    def __init__(self) -> None:
        self._abstracts = [_headings(0, ""), _bullets(), _counted(), _cell_bullets(), _steps()]
        self._lists = [_list(1, 0), _list(BULLET_LIST, _BULLETS), _list(CELL_BULLET_LIST, _CELL_BULLETS)]
        self._main = _Series(0, HEADING_LIST)
        self._spelt: dict[str, _Series] = {}
        self._steps_list = 0

    def heading(self, number: str, style_level: int) -> str:
        """The `w:numPr` that gives a heading its number, or nothing where its style gives it already.

        `style_level` is the list level its style is bound to.
        """
        series, level, value = self._place(number)
        fits = series.next_is(level, value)
        series.stand_at(level, value)
        if not fits:
            return list_properties(self._start(series.abstract, level, value), level)
        if series is self._main and level == style_level < _BOUND_LEVELS:
            return ""
        return list_properties(series.list_id, level)

    def counted_list(self) -> int:
        """The id of a fresh numbered list that counts (1), (2) … from one."""
        return self._start(_COUNTED, 0, 1)

    def steps(self, first: int) -> int:
        """The id of the list of steps that count from one, or of the one that they go on in."""
        if first == 1 or not self._steps_list:
            self._steps_list = self._start(_STEPS, 0, first)
        return self._steps_list

    def part(self) -> str:
        """The numbering part of the package, as XML."""
        return f"<w:numbering {NAMESPACES}>{''.join(self._abstracts)}{''.join(self._lists)}</w:numbering>"

    def _place(self, number: str) -> tuple[_Series, int, int]:
        if _PLAIN.fullmatch(number):
            return self._main, 0, int(number)
        clause = _CLAUSE.fullmatch(number)
        if clause:
            label, count, letter = clause.groups()
            series = self._series_of(label)
            if not letter:
                return series, 1, int(count)
            if series.counts[1] == int(count):
                return series, 2, ord(letter) - ord("A") + 1
        elif _PART.fullmatch(number):
            return self._spelt_series(number), 0, 1
        return self._fresh_series(number), 0, 1

    def _series_of(self, label: str) -> _Series:
        if label == str(self._main.counts[0]):
            return self._main
        return self._spelt_series(label)

    def _spelt_series(self, label: str) -> _Series:
        if label not in self._spelt:
            self._spelt[label] = self._fresh_series(label)
        return self._spelt[label]

    def _fresh_series(self, label: str) -> _Series:
        abstract = len(self._abstracts)
        self._abstracts.append(_headings(abstract, label))
        list_id = len(self._lists) + 1
        self._lists.append(_list(list_id, abstract))
        return _Series(abstract, list_id)

    def _start(self, abstract: int, level: int, value: int) -> int:
        list_id = len(self._lists) + 1
        self._lists.append(_list(list_id, abstract, level, value))
        return list_id


def _list(list_id: int, abstract: int, level: int = 0, start: int = 0) -> str:
    override = f'<w:lvlOverride w:ilvl="{level}"><w:startOverride w:val="{start}"/></w:lvlOverride>' if start else ""
    return f'<w:num w:numId="{list_id}"><w:abstractNumId w:val="{abstract}"/>{override}</w:num>'


def _headings(abstract: int, label: str) -> str:
    """The multilevel list of headings; with a label, a series whose part number is spelt out."""
    part = escaped(label) or "%1"
    styles = ("Heading1", "Heading2", "") if not label else ("", "", "")
    texts = (part, f"{part}.%2", f"{part}.%2%3")
    formats = ("decimal", "decimal", "upperLetter")
    levels = map(_heading_level, range(_LEVELS), formats, styles, texts)
    return _abstract(abstract, "multilevel", "".join(levels))


def _heading_level(level: int, number_format: str, style: str, text: str) -> str:
    return _level(level, number_format, text, TEXT_INDENT, TEXT_INDENT, style=style)


def _bullets() -> str:
    return _abstract(_BULLETS, "singleLevel", _level(0, "bullet", "•", LIST_STEP, LIST_STEP))


def _cell_bullets() -> str:
    step = twips(4)
    return _abstract(_CELL_BULLETS, "singleLevel", _level(0, "bullet", "•", step, step))


def _counted() -> str:
    return _abstract(_COUNTED, "singleLevel", _level(0, "decimal", "(%1)", COUNTED_STEP, COUNTED_STEP))


def _steps() -> str:
    return _abstract(_STEPS, "singleLevel", _level(0, "decimal", "%1", STEP_INDENT, STEP_INDENT, run="<w:b/><w:bCs/>"))


def _abstract(abstract: int, kind: str, levels: str) -> str:
    # nsid and tmpl tell lists apart when text is pasted between papers; counted, never random
    return (
        f'<w:abstractNum w:abstractNumId="{abstract}"><w:nsid w:val="{0x47420000 + abstract:08X}"/>'
        f'<w:multiLevelType w:val="{kind}"/><w:tmpl w:val="{0x47430000 + abstract:08X}"/>'
        f"{levels}</w:abstractNum>"
    )


def _level(
    level: int, number_format: str, text: str, left: int, hanging: int, *, style: str = "", run: str = ""
) -> str:  # fmt: skip
    bound = f'<w:pStyle w:val="{style}"/>' if style else ""
    return (
        f'<w:lvl w:ilvl="{level}"><w:start w:val="1"/><w:numFmt w:val="{number_format}"/>{bound}'
        f'<w:lvlText w:val="{text}"/><w:lvlJc w:val="left"/>'
        f'<w:pPr><w:ind w:left="{left}" w:hanging="{hanging}"/></w:pPr>{run_properties(run)}</w:lvl>'
    )
