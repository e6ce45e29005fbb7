"""A drawing as SVG text."""

from __future__ import annotations

from html import escape
from typing import Final

from generator.drawing.hatch import hatch_marks
from generator.drawing.model import (
    BLACK,
    Circle,
    Drawing,
    Label,
    Line,
    Point,
    Polygon,
    Polyline,
    Primitive,
    Rect,
    Rgb,
    grey,
)
from generator.drawing.text import POINTS_PER_MM

TITLE_LIMIT: Final = 80
_FACE: Final = "Arial, 'Liberation Sans', Helvetica, sans-serif"


def svg(drawing: Drawing) -> str:
    """The drawing as an SVG document at its true size; the same drawing gives the same text."""
    width, height = _number(drawing.width_mm), _number(drawing.height_mm)
    body = "\n".join(_element(primitive) for primitive in drawing.primitives)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}" role="img" aria-labelledby="title desc">\n'
        f'<title id="title">{escape(_title(drawing.alt))}</title>\n'
        f'<desc id="desc">{escape(drawing.alt)}</desc>\n'
        f'<rect width="{width}" height="{height}" fill="{grey(1.0)}"/>\n'
        f'<g stroke-linecap="butt" stroke-linejoin="round" font-family="{_FACE}" '
        f'style="font-kerning:none">\n{body}\n</g>\n</svg>\n'
    )


def _title(alt: str) -> str:
    """The first sentence of the alternative text, or as much of it as a title holds."""
    first = alt.split(". ")[0].rstrip(".")
    return first if len(first) <= TITLE_LIMIT else first[: TITLE_LIMIT - 1].rstrip() + "…"


def _element(primitive: Primitive) -> str:
    match primitive:
        case Line(x1=x1, y1=y1, x2=x2, y2=y2):
            ends = f'x1="{_number(x1)}" y1="{_number(y1)}" x2="{_number(x2)}" y2="{_number(y2)}"'
            return f"<line {ends}{_stroke(primitive.weight_mm, primitive.dash)}/>"
        case Polyline(points=points, weight_mm=weight, dash=dash):
            return f'<polyline points="{_points(points)}" fill="none"{_stroke(weight, dash)}/>'
        case Polygon():
            return _polygon(primitive)
        case Rect():
            return _polygon(primitive.polygon)
        case Circle(x=x, y=y, radius=radius, weight_mm=weight, fill=fill):
            place = f'cx="{_number(x)}" cy="{_number(y)}" r="{_number(radius)}"'
            return f"<circle {place}{_fill(fill)}{_stroke(weight)}/>"
        case Label():
            return _label(primitive)


def _polygon(shape: Polygon) -> str:
    points = f'<polygon points="{_points(shape.points)}"'
    edge = _stroke(shape.weight_mm, rgb=shape.rgb)
    if shape.hatch == "none":
        return f"{points}{_fill(shape.fill)}{edge}/>"
    # the ground lies under the hatch, the edge over it
    ground = f"{points}{_fill(shape.fill)}/>" if shape.fill is not None else ""
    marks = "".join(map(_element, hatch_marks(shape)))
    return f'<g>{ground}{marks}{points} fill="none"{edge}/></g>'


def _label(label: Label) -> str:
    anchor = "" if label.anchor == "start" else f' text-anchor="{label.anchor}"'
    weight = ' font-weight="bold"' if label.bold else ""
    size = _number(label.size_pt / POINTS_PER_MM)
    place = f'x="{_number(label.x)}" y="{_number(label.y)}" font-size="{size}"'
    return f"<text {place}{anchor}{weight}>{escape(label.text)}</text>"


def _stroke(weight: float, dash: tuple[float, ...] = (), rgb: Rgb | None = None) -> str:
    if weight <= 0:
        return ""
    ink = "#{:02x}{:02x}{:02x}".format(*rgb) if rgb else BLACK
    dashes = f' stroke-dasharray="{" ".join(map(_number, dash))}"' if dash else ""
    return f' stroke="{ink}" stroke-width="{_number(weight)}"{dashes}'


def _fill(level: float | None) -> str:
    return f' fill="{"none" if level is None else grey(level)}"'


def _points(points: tuple[Point, ...]) -> str:
    return " ".join(f"{_number(x)},{_number(y)}" for x, y in points)


def _number(value: float) -> str:
    # a hundredth of a hair: enough for any printer, and free of the dust of binary fractions
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
