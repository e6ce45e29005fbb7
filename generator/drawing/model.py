"""A drawing as a list of primitives on paper, before it is SVG or PNG.

Coordinates are millimetres of paper from the top left corner, y downward; weights of lines are millimetres,
sizes of lettering points. Greys run from 0 (black) to 1 (white).
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable
from functools import cache
from typing import Final, Literal

from generator.drawing.text import POINTS_PER_MM, text_width_pt
from generator.values import Struct

Point = tuple[float, float]
Rgb = tuple[int, int, int]
Hatch = Literal["none", "diagonal", "level", "dots", "cross"]
Anchor = Literal["start", "middle", "end"]

ROOM_MM: Final = 149.0
"""Width of the text column of an upright A4 page: a wider drawing would be shrunk and lose its scale."""

BLACK: Final = "#000000"
FINE: Final = 0.13
THIN: Final = 0.18
MEDIUM: Final = 0.25
THICK: Final = 0.5
DASHED: Final = (1.6, 1.0)

LETTER_PT: Final = 8.0
_RISE: Final = 0.74
_FALL: Final = 0.22


class Line(Struct, frozen=True):
    """A straight line. `dash` is lengths drawn and left out in turn, in mm."""

    x1: float
    y1: float
    x2: float
    y2: float
    weight_mm: float = MEDIUM
    dash: tuple[float, ...] = ()


class Polyline(Struct, frozen=True):
    """A line through points, open at its ends."""

    points: tuple[Point, ...]
    weight_mm: float = MEDIUM
    dash: tuple[float, ...] = ()


class Polygon(Struct, frozen=True):
    """A closed shape: `weight_mm` 0 leaves its edge out, `fill` is a grey or None, `rgb` inks the edge."""

    points: tuple[Point, ...]
    weight_mm: float = MEDIUM
    fill: float | None = None
    hatch: Hatch = "none"
    rgb: Rgb | None = None


class Rect(Struct, frozen=True):
    """An upright rectangle from its top left corner, with edge, fill and hatch as a `Polygon` has."""

    x: float
    y: float
    width: float
    height: float
    weight_mm: float = MEDIUM
    fill: float | None = None
    hatch: Hatch = "none"

    @property
    def polygon(self) -> Polygon:
        """The same shape by its corners."""
        corners = rectangle(self.x, self.y, self.x + self.width, self.y + self.height)
        return Polygon(corners, self.weight_mm, self.fill, self.hatch)


class Circle(Struct, frozen=True):
    """A circle with edge and fill."""

    x: float
    y: float
    radius: float
    weight_mm: float = MEDIUM
    fill: float | None = None


class Label(Struct, frozen=True):
    """Lettering on one line; y is its baseline, `anchor` the part of it that stands at x.

    ValueError for characters that XML forbids or that do not print.
    """

    x: float
    y: float
    text: str
    size_pt: float = LETTER_PT
    anchor: Anchor = "start"
    bold: bool = False

    def __post_init__(self) -> None:
        checked_text(self.text)

    @property
    def width_mm(self) -> float:
        """Its width by the advances of the document's face."""
        return text_width_pt(self.text, self.size_pt, self.bold) / POINTS_PER_MM


Primitive = Line | Polyline | Polygon | Rect | Circle | Label
Primitives = tuple[Primitive, ...]


class Drawing(Struct, frozen=True):
    """A drawing: its size on paper, its alternative text, and what is drawn, the first lowest.

    ValueError for a size that is not above 0 and for an alternative text that is blank or does not print.
    """

    width_mm: float
    height_mm: float
    alt: str
    primitives: Primitives = ()

    def __post_init__(self) -> None:
        if not (self.width_mm > 0 and self.height_mm > 0):
            raise ValueError(f"a drawing is {self.width_mm} by {self.height_mm} mm: valid above 0")
        if not checked_text(self.alt).strip():
            raise ValueError("a drawing lacks its alternative text")


class Sketch(Struct, frozen=True):
    """A drawing that is not drawn yet: its size, what draws it, and of what. A layout tries many and shows few."""

    width_mm: float
    height_mm: float
    draw: Callable[..., Drawing]
    of: tuple[object, ...]

    @property
    def drawing(self) -> Drawing:
        """The drawing."""
        return self.draw(*self.of)


class Box(Struct, frozen=True):
    """The upright rectangle that something fills."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box, apart: float = 0.0) -> bool:
        """Whether it lies over another, or nearer to it than that both across and down."""
        return (
            self.left < other.right + apart and other.left < self.right + apart
            and self.top < other.bottom + apart and other.top < self.bottom + apart
        )  # fmt: skip


def checked_text(text: str) -> str:
    """The text itself. ValueError where it holds a control character, a surrogate or a non-character."""
    for character in text:
        if unicodedata.category(character) in ("Cc", "Cs") or ord(character) & 0xFFFE == 0xFFFE:
            raise ValueError(f"U+{ord(character):04X} cannot be drawn: leave it out of the text")
    return text


def one_line(text: str) -> str:
    """The text with every run of white space, line ends among them, as one space."""
    return " ".join(text.split())


@cache  # of few levels, for thousands of dots
def grey(level: float) -> str:
    """A grey, 0 black to 1 white, as pictures spell it."""
    return "#" + f"{round(255 * level):02x}" * 3


def filled(words: str, **values: str) -> str:
    """Words with each `{name}` replaced by its value; nothing else in braces has a meaning."""
    for name, value in values.items():
        words = words.replace(f"{{{name}}}", value)
    return words


def rectangle(left: float, top: float, right: float, bottom: float) -> tuple[Point, ...]:
    """The corners of an upright rectangle from its edges."""
    return (left, top), (right, top), (right, bottom), (left, bottom)


def moved(part: Primitive, right: float = 0.0, down: float = 0.0, share: float = 1.0) -> Primitive:
    """A part of a picture at a share of its size, then set off. TypeError for rectangles and labels."""

    def at(*points: Point) -> tuple[Point, ...]:
        return tuple([(x * share + right, y * share + down) for x, y in points])

    # made by name: a page of mixes moves thousands of dots, and `replace` takes twice the time
    match part:
        case Circle():
            x, y = part.x * share + right, part.y * share + down
            return Circle(x, y, part.radius * share, part.weight_mm * share, part.fill)
        case Line():
            (x1, y1), (x2, y2) = at((part.x1, part.y1), (part.x2, part.y2))
            return Line(x1, y1, x2, y2, part.weight_mm * share, part.dash)
        case Polyline():
            return Polyline(at(*part.points), part.weight_mm * share, part.dash)
        case Polygon():
            return Polygon(at(*part.points), part.weight_mm * share, part.fill, part.hatch, part.rgb)
        case _:
            raise TypeError(f"a {type(part).__name__} is not moved")


def bounds(primitive: Primitive) -> Box:
    """The room a primitive takes, the weight of its lines left out."""
    match primitive:
        case Line():
            return _around(((primitive.x1, primitive.y1), (primitive.x2, primitive.y2)))
        case Rect():
            return _around(primitive.polygon.points)
        case Circle(x=x, y=y, radius=radius):
            return Box(x - radius, y - radius, x + radius, y + radius)
        case Label():
            return _label_bounds(primitive)
        case _:
            return _around(primitive.points)


def _around(points: tuple[Point, ...]) -> Box:
    across, down = zip(*points, strict=True)
    return Box(min(across), min(down), max(across), max(down))


def _label_bounds(label: Label) -> Box:
    width, em = label.width_mm, label.size_pt / POINTS_PER_MM
    left = label.x - {"start": 0.0, "middle": width / 2, "end": width}[label.anchor]
    return Box(left, label.y - _RISE * em, left + width, label.y + _FALL * em)
