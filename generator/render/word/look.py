"""The look of a set of Word papers: pages, styles, faces, and the headers and footers of a practice's own."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from generator.render.word.geometry import Geometry, geometry
from generator.render.word.styles import FONT, styles_part
from generator.render.word.xml import escaped
from generator.values import Struct, field

LANGUAGE: Final = "[language]"
"""Stands for the tag of the language in the text of the styles."""

COVER, UPRIGHT, TURNED = "cover", "upright", "turned"
HEADER, FOOTER = "hdr", "ftr"
FIELDS: Final = ("reference", "revision", "section", "title", "subject", "date", "practice")
"""What headers and footers tell of a paper."""

PLACE: Final = re.compile(r"\[([a-z]+)\]")
"""Stands for a field in the words of a header or footer: `[reference]`. Words outlive every office program."""


class Story(Struct, frozen=True):
    """A header or footer as XML: `[FIELD]` where a field goes, `image-N` for the relation of picture N."""

    content: str
    images: tuple[bytes, ...] = ()

    def filled(self, told: Mapping[str, str]) -> str:
        """The XML with every field filled; what fills one is never searched for another."""
        return PLACE.sub(lambda found: escaped(told.get(found[1], found[0])), self.content)


class Look(Struct, frozen=True):
    """What a paper looks like; `stories` by kind and page are empty where the papers have their own."""

    geometry: Geometry
    styles: str
    faces: tuple[str, ...]
    stories: Mapping[tuple[str, str], Story] = field(default_factory=dict)

    def styles_in(self, language: str) -> str:
        """The styles part, for a paper in a language."""
        return self.styles.replace(LANGUAGE, escaped(language))


def plain_look(paper: str) -> Look:
    """Our own look, on a paper."""
    return Look(geometry(paper), styles_part(LANGUAGE), (FONT,))
