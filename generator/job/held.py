"""Holds the numbers of lines to price from issue to issue, as those of clauses are held.

A section that is new takes the next number that no issue has had; a new line the number before it and a letter.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from typing import Final

from generator.job import numbers
from generator.library.findings import Raised
from generator.measure.model import Item, ItemSection, Measured
from generator.values import replace

_SECTION: Final = "section:"
_LINE: Final = "line:"
_KINDS: Final = (_SECTION, _LINE)
_LINES: Final = re.compile(r"[0-9]+\.[0-9]+[A-Z]*")
"""A number of a line, as it stands among words."""


def held(measured: Measured, last: Mapping[str, str] | None = None) -> tuple[Measured, dict[str, str]]:
    """What was measured with the last issue's numbers, and the register of its sections and lines."""
    sections = _sections(measured.sections, last or {})
    lines = [(key, _lines(section)) for key, section in zip(sections, measured.sections, strict=True)]
    known = {**(last or {}), **{_SECTION + key: text for key, text in sections.items()}}
    register = numbers.register(numbers.number([(key, list(items)) for key, items in lines], known, _KINDS), _KINDS)
    made = tuple(
        replace(section, number=int(sections[key]), items=_numbered(items, register))
        for (key, items), section in zip(lines, measured.sections, strict=True)
    )
    fresh = {item.ref: register[_LINE + key] for _, items in lines for key, item in items.items()}
    raised = tuple(_renumbered(item, fresh) for item in measured.raised)
    return replace(measured, sections=made, raised=raised), register


def _sections(sections: tuple[ItemSection, ...], last: Mapping[str, str]) -> dict[str, str]:
    """The number of each section by its key."""
    known = {key.removeprefix(_SECTION): text for key, text in last.items() if key.startswith(_SECTION)}
    following = max((number for text in known.values() for number, _ in numbers.order(text)), default=0)
    found: dict[str, str] = {}
    for section in sections:
        key = "/".join((section.key, *section.path))
        if key not in known:
            following += 1
        found[key] = known.get(key) or str(following)
    return found


def _lines(section: ItemSection) -> dict[str, Item]:
    """The lines by a key that stays the same while their rule and place do; equal ones are counted."""
    seen: Counter[str] = Counter()
    found = {}
    for item in section.items:
        key = "/".join((item.entry.id, *item.path))
        seen[key] += 1
        found[key if seen[key] == 1 else f"{key}#{seen[key]}"] = item
    return found


def _numbered(lines: Mapping[str, Item], register: Mapping[str, str]) -> tuple[Item, ...]:
    return tuple(replace(item, ref=register[_LINE + key]) for key, item in lines.items())


def _renumbered(raised: Raised, fresh: Mapping[str, str]) -> Raised:
    fills = tuple(
        (name, _LINES.sub(lambda found: fresh.get(found[0], found[0]), text) if name in ("item", "items") else text)
        for name, text in raised.fills
    )
    return raised if fills == raised.fills else replace(raised, fills=fills)
