"""Inline content as runs: words, emphasis, values, references."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final

from generator.document.model import (
    LINE_ANCHOR,
    LINE_NUMBERS,
    Inline,
    Inlines,
    Mark,
    Ref,
    Strong,
    Swatch,
    Text,
    Value,
    words_of,
)
from generator.drawing.measures import signed, tells_mixes
from generator.render.word.paper import Paper
from generator.render.word.styles import BOLD
from generator.render.word.xml import bookmark, field, link, picture, run
from generator.values import unparted

_MIXES: Final = frozenset({"mix_ref", "mix_used", "mix_name", "coarse_mix", "fine_mix", "coping_mix"})
"""The values that name a mix, behind whose reference its sign is set."""

_STYLED: Final = "<w:rStyle"
_BETWEEN: Final = re.compile("(, |–)")
_PLACE: Final = "element_name"
NO_BREAK: Final = "\N{NO-BREAK SPACE}"
_A_LINE: Final = 40
"""The letters of the shortest line that is set: what has fewer is never broken."""

_LAST_WORD: Final = re.compile(r"(?<=\S) (?=\S{1,9}\Z)")

VALUE_STYLE: Final = '<w:rStyle w:val="Value"/>'


def runs(content: Inlines, paper: Paper, properties: str = "", before: str = "") -> str:
    """The content as runs; `properties` apply to all of it. Raises TypeError for an unknown kind.

    `before` is the last character of what stands before it: a unit keeps to its number from run to run.
    """
    if _needs_no_paper(content):
        return _bare_runs(content, properties, before)
    if len(content) == 1:
        return _run(content[0], paper, properties, before)
    texts = []
    for item, following in zip(content, (*content[1:], None), strict=True):
        texts.append(_run(_kept(item, following), paper, properties, before))
        before = words_of(item)[-1:] or before
    return "".join(texts)


def _kept(item: Inline, following: Inline | None) -> Inline:
    """Words that keep to the number of a line to price behind them."""
    leads = isinstance(following, Value) and following.name == LINE_NUMBERS
    if leads and isinstance(item, Text) and item.text.endswith(" "):
        return Text(item.text[:-1] + NO_BREAK)
    return item


def last_kept(content: Inlines) -> Inlines:
    """The content, its last short word kept to the one before it: none ends a paragraph on a line alone.

    No paragraph takes another line for it: what goes down with the last word goes where that stood already.
    """
    if not content or not isinstance(last := content[-1], Text) or _letters(content) < _A_LINE:
        return content
    kept = _LAST_WORD.sub(NO_BREAK, last.text)
    return content if kept is last.text else (*content[:-1], Text(kept))


def _letters(content: Inlines) -> int:
    return sum(len(words_of(item)) for item in content)


def _needs_no_paper(content: Inlines) -> bool:
    """Whether all of a content is words and values that are spelt the same in every place of every paper."""
    for item in content:
        if not isinstance(item, Text) and (not isinstance(item, Value) or item.name == LINE_NUMBERS):
            return False
    return True


@lru_cache(maxsize=4096)
def _bare_runs(content: tuple[Text | Value, ...], properties: str, before: str) -> str:
    """Words and values as runs: many cells and facts of alike walls are the same."""
    texts = []
    for item in content:
        if isinstance(item, Value):
            texts.append(run(_marked(item), _valued(properties), before))
        else:
            texts.append(run(item.text, properties, before))
        before = item.text[-1:] or before
    return "".join(texts)


def _valued(properties: str) -> str:
    return properties if _STYLED in properties else VALUE_STYLE + properties


@lru_cache(maxsize=4096)
def printed(content: Inlines) -> str:
    """The content as it is printed: mixes with their signs, numbers bound to their units."""
    told = [_marked(item) if isinstance(item, Value) else words_of(item) for item in content]
    return unparted("".join(told))


def _marked(item: Value) -> str:
    """A value as it is printed: what names a mix, or tells mixes as places, with the sign of each."""
    is_marked = item.name in _MIXES or (item.name == _PLACE and tells_mixes(item.text))
    return signed(item.text) if is_marked else item.text


def _run(item: Inline, paper: Paper, properties: str, before: str) -> str:
    if isinstance(item, Text):
        return run(item.text, properties, before)
    if isinstance(item, Mark):
        return bookmark(paper.new_id(), paper.target(item.anchor).bookmark, run(item.text, properties, before))
    if isinstance(item, Value):
        styled = _valued(properties)
        is_lines = item.name == LINE_NUMBERS
        return _lines(item.text, paper, styled, before) if is_lines else run(_marked(item), styled, before)
    if isinstance(item, Strong):
        return runs(item.content, paper, _bold(properties), before)
    if isinstance(item, Ref):
        return _reference(item, paper, properties)
    if isinstance(item, Swatch):
        drawn = item.drawing
        return picture(paper.new_id(), paper.relation_of(drawn), drawn.alt, drawn.width_mm, drawn.height_mm)
    raise TypeError(f"no such inline content: {type(item).__name__}")


def _bold(properties: str) -> str:
    """Bold besides; a style of characters stands before all else, as the format wants."""
    if BOLD in properties:
        return properties
    style, end, rest = properties.partition("/>") if _STYLED in properties else ("", "", properties)
    return f"{style}{end}{BOLD}{rest}"


def _lines(told: str, paper: Paper, properties: str, before: str) -> str:
    """Numbers of lines to price, each live where its line stands in this paper."""
    texts = []
    for piece in _BETWEEN.split(told):
        target = paper.targets.get(f"{LINE_ANCHOR}{piece}")
        texts.append(field(target.field, piece, properties) if target else run(piece, properties, before))
        before = piece[-1:] or before
    return "".join(texts)


def _reference(ref: Ref, paper: Paper, properties: str) -> str:
    """A live number after the words before it: `clause 2.1`; without a number, a link of all its words."""
    target = paper.target(ref.anchor)
    last_word = ref.text.split()[-1] if ref.text.split() else ""
    if target.number and last_word == target.number:
        before = ref.text.removesuffix(target.number)
        if before.endswith(" "):
            before = before[:-1] + NO_BREAK  # no number of a clause stands on a line without its word
        return run(before, properties) + field(target.field, target.number, properties)
    if target.number and any(map(str.isdigit, last_word)):
        raise ValueError(f"a reference says '{ref.text}' of '{ref.anchor}', which is {target.number}")
    return link(target.bookmark, run(ref.text, properties))
