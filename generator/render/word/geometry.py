"""The page: paper sizes, margins, and the width of the line between them; all lengths in twips."""

from __future__ import annotations

from typing import Final

from generator.render.word.xml import COLUMN_GAP, TWIPS_PER_MM, twips
from generator.values import Struct

PAPERS: Final = {"a4": (11906, 16838), "letter": (12240, 15840)}
"""Width and height of upright paper: ISO 216 A4, ANSI A."""

MARGIN_LEFT_MM: Final = 20
MARGIN_MM: Final = 16


class Margins(Struct, frozen=True):
    """Margins of a page; header and footer are how far those stand from the paper's edge."""

    top: int
    right: int
    bottom: int
    left: int
    header: int
    footer: int
    gutter: int = 0

    @classmethod
    def mm(cls, top: float, right: float, bottom: float, left: float, header: float, footer: float) -> Margins:
        """Margins given in millimetres."""
        return cls(*map(twips, (top, right, bottom, left, header, footer)))


class Page(Struct, frozen=True):
    """A page as it lies before the reader: a turned one is wider than high."""

    width: int
    height: int
    margins: Margins

    @property
    def line(self) -> int:
        """Width of the line between the margins."""
        return self.width - self.margins.left - self.margins.right - self.margins.gutter

    @property
    def line_mm(self) -> float:
        """Width of the line between the margins, in mm."""
        return self.line / TWIPS_PER_MM

    @property
    def room(self) -> int:
        """Height between the margins."""
        return self.height - self.margins.top - self.margins.bottom

    def setup(self) -> str:
        """Size, turn and margins, as children of `w:sectPr`."""
        turned = ' w:orient="landscape"' if self.width > self.height else ""
        sides = " ".join(f'w:{name}="{getattr(self.margins, name)}"' for name in Margins.__struct_fields__)
        return f'<w:pgSz w:w="{self.width}" w:h="{self.height}"{turned}/><w:pgMar {sides}/>'


class Geometry(Struct, frozen=True):
    """The two pages of a paper: upright, and turned for wide tables."""

    upright: Page
    turned: Page

    def page(self, landscape: bool) -> Page:
        """The page of a section."""
        return self.turned if landscape else self.upright


_UPRIGHT: Final = Margins.mm(15, MARGIN_MM, 12.6, MARGIN_LEFT_MM, 6, 6)
_SIDE_SHARE: Final = 54 / 168
_TURNED: Final = Margins.mm(16, MARGIN_MM, 13, MARGIN_MM, 7, 6)


def beside(line: int, *, is_even: bool = False) -> tuple[int, int]:
    """The widths of text and of the column beside it, on a line: 114 and 54 mm of 174, or 84 each."""
    side = round((line - COLUMN_GAP) * (0.5 if is_even else _SIDE_SHARE))
    return line - COLUMN_GAP - side, side


def turned(paper: str, margins: Margins) -> Page:
    """A page of the paper lying on its side."""
    width, height = PAPERS[paper]
    return Page(height, width, margins)


def geometry(paper: str) -> Geometry:
    """The pages of the papers in our own look."""
    return Geometry(Page(*PAPERS[paper], _UPRIGHT), turned(paper, _TURNED))
