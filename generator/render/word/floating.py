"""Sections that float: what stands across a page goes to the foot of the first page that has room for it whole."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from generator.document.model import Figure, Section
from generator.render.word.geometry import Page, beside
from generator.render.word.heights import Heights
from generator.render.word.xml import TWIPS_PER_MM
from generator.values import Struct, replace

OVER_PICTURE: Final = 60
"""The room over a picture that floats, whose lines would touch the rules of lists above it."""

_CLEAR: Final = 2 * TWIPS_PER_MM
"""What stays free at the foot: heights are reckoned, not measured."""


class _Foot(Struct):
    """The last page of a run of sections that go on: which section ends it, and what of its height is free."""

    last: int
    free: float


def floated(sections: Sequence[Section], page: Page, heights: Heights) -> list[Section]:
    """The sections, those that float where they come to stand on upright pages.

    What found no page stays where it was, together on one. A section that went on from what is no longer before it, or
    from columns, starts a page.
    """
    if not any(section.floats for section in sections):
        return list(sections)
    feet = _feet(sections, page, heights)
    stood: dict[int, int] = {}
    needs = {
        at: heights.of(one.blocks, page.line) + (OVER_PICTURE if floats_picture(one) else 0)
        for at, one in enumerate(sections)
        if one.floats
    }
    for at in sorted(needs, key=lambda at: -needs[at]):
        foot = next((foot for foot in feet if foot.last < at and foot.free >= needs[at]), None)
        if foot is not None:
            foot.free -= needs[at]
            stood[at] = foot.last
    told: list[Section] = []
    for at, section in enumerate(sections):
        if at not in stood:
            goes_on = section.floats and at > 0 and sections[at - 1].floats and at - 1 not in stood
            told.append(replace(section, continues=True) if goes_on else section)
        here = (sections[one] for one in sorted(stood) if stood[one] == at)
        told += (replace(one, continues=True, header=section.header) for one in here)
    return list(_joined(told))


def floats_picture(section: Section) -> bool:
    """Whether a section is a picture that floats."""
    return section.floats and isinstance(section.blocks[0], Figure)


def _joined(sections: Sequence[Section]) -> Iterable[Section]:
    """Sections that go on only from one that is no run of equal columns."""
    before: Section | None = None
    for section in sections:
        follows = before is not None and before.columns == 1
        yield section if follows or not section.continues else replace(section, continues=False)
        before = section


def _feet(sections: Sequence[Section], page: Page, heights: Heights) -> list[_Foot]:
    """The foot of each run of sections across an upright page that fits it whole."""
    whole = page.room - _CLEAR
    feet: list[_Foot] = []
    for at, section in enumerate(sections):
        if section.floats or section.landscape or section.columns > 1:
            continue
        needs = _needs(section, heights, page)
        if section.continues and feet and feet[-1].last == at - 1:
            feet[-1] = _Foot(at, feet[-1].free - needs)
        else:
            feet.append(_Foot(at, whole - needs))
    return feet


def _needs(section: Section, heights: Heights, page: Page) -> float:
    if not section.side:
        return heights.of(section.blocks, page.line)
    return heights.abreast(section, beside(page.line, is_even=section.is_even))
