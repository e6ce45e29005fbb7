"""Holds the numbers of lines to price from issue to issue, as those of clauses are held.

A section that is new takes the next number that no issue has had; a new line the number before it and a letter.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import replace

from generator.document import numbers
from generator.errors import Raised
from generator.measure.model import ItemSection, Measured


def held(measured: Measured, last: Mapping[str, str] | None = None) -> tuple[Measured, dict[str, str]]:
    """What was measured with the last issue's numbers, and the register of its sections and lines."""
    sections = _sections(measured.sections, last or {})
    keys = {key: _keys(section) for key, section in zip(sections, measured.sections, strict=True)}
    known = {f"part:{key}": number for key, number in sections.items()}
    for key, number in (last or {}).items():
        if key.startswith(("line:", "section:")):
            known[_turned(_turned(key, "line:", "clause:"), "section:", "part:")] = number
    found = numbers.register(numbers.number([(key, list(items)) for key, items in keys.items()], known))
    fresh: dict[str, str] = {}
    made = []
    for (key, items), section in zip(keys.items(), measured.sections, strict=True):
        lines = []
        for name, item in zip(items, section.items, strict=True):
            fresh[item.ref] = found[f"clause:{name}"]
            lines.append(replace(item, ref=fresh[item.ref]))
        made.append(replace(section, number=int(sections[key]), items=tuple(lines)))
    register = {_turned(_turned(key, "part:", "section:"), "clause:", "line:"): number for key, number in found.items()}
    raised = tuple(_renumbered(item, fresh) for item in measured.raised)
    return replace(measured, sections=tuple(made), raised=raised), register


def _turned(key: str, old: str, new: str) -> str:
    return f"{new}{key.removeprefix(old)}" if key.startswith(old) else key


def _sections(sections: tuple[ItemSection, ...], last: Mapping[str, str]) -> dict[str, str]:
    """The number of each section by its key."""
    known = {key.removeprefix("section:"): number for key, number in last.items() if key.startswith("section:")}
    following = max(map(int, known.values()), default=0)
    found: dict[str, str] = {}
    for section in sections:
        key = "/".join((section.key, *section.path))
        if key not in known:
            following += 1
        found[key] = known.get(key) or str(following)
    return found


def _keys(section: ItemSection) -> tuple[str, ...]:
    """A key for each line that stays the same while its rule and place do; equal ones are counted."""
    seen: Counter[str] = Counter()
    found = []
    for item in section.items:
        key = "/".join((item.entry.id, *item.path))
        seen[key] += 1
        found.append(key if seen[key] == 1 else f"{key}#{seen[key]}")
    return tuple(found)


def _renumbered(raised: Raised, fresh: Mapping[str, str]) -> Raised:
    fills = tuple((name, fresh.get(text, text) if name == "item" else text) for name, text in raised.fills)
    return raised if fills == raised.fills else replace(raised, fills=fills)
