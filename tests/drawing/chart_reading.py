"""Reading a drawn programme: its parts by kind and place, what must be so of every one, and copies of it."""

from __future__ import annotations

import io

from drawing.charts import pages_of
from PIL import Image

from generator.drawing.model import Box, Drawing, Label, Line, Polygon, Primitive, Rect, bounds
from generator.drawing.png import png
from generator.drawing.programme_model import Chart, Page, Task

NEAR_MM = 0.2


def drawn(chart: Chart, width: float = 265.0, height: float = 2000.0) -> tuple[Page, Drawing]:
    """A programme on one page."""
    (page,) = pages_of(chart, width_mm=width, height_mm=height)
    return page, page.drawing("A programme.")


def touch(a: Box, b: Box, by: float = 0.01) -> bool:
    return a.left < b.right - by and b.left < a.right - by and a.top < b.bottom - by and b.top < a.bottom - by


def name(primitive: Primitive) -> str:
    return primitive.text if isinstance(primitive, Label) else type(primitive).__name__


def assert_sound(drawing: Drawing) -> None:
    """Fails unless all lies on the page, and nothing touches lettering: lettering, what is drawn after it, solid signs.

    What lies under lettering is kept off it by the white ground drawn with the lettering.
    """
    placed = [(part, bounds(part)) for part in drawing.primitives]
    page = Box(0.0, 0.0, drawing.width_mm, drawing.height_mm)
    assert [name(part) for part, box in placed if not within(box, page)] == []
    solid = [(part, box) for part, box in placed if isinstance(part, Polygon) or getattr(part, "fill", 1.0) == 0.0]
    for place, (part, box) in enumerate(placed):
        if isinstance(part, Label):
            over = [name(other) for other, its in placed[place + 1 :] if touch(box, its)]
            assert (part.text, over) == (part.text, [])
            assert (part.text, [name(other) for other, its in solid if touch(box, its)]) == (part.text, [])


def within(inner: Box, outer: Box) -> bool:
    across = outer.left <= inner.left and inner.right <= outer.right
    return across and outer.top <= inner.top and inner.bottom <= outer.bottom


def rects(drawing: Drawing, fill: float | None) -> list[Rect]:
    return [part for part in drawing.primitives if isinstance(part, Rect) and part.fill == fill]


def lines(drawing: Drawing) -> list[Line]:
    return [part for part in drawing.primitives if isinstance(part, Line)]


def upright_lines(drawing: Drawing, x: float, weight: float | None = None) -> list[Line]:
    return [
        line for line in lines(drawing)
        if line.x1 == line.x2 and abs(line.x1 - x) < NEAR_MM and (weight is None or line.weight_mm == weight)
    ]  # fmt: skip


def diamonds(drawing: Drawing) -> list[Polygon]:
    return [part for part in drawing.primitives if isinstance(part, Polygon) and len(part.points) == 4]


def triangles(drawing: Drawing, fill: float) -> list[Polygon]:
    found = [part for part in drawing.primitives if isinstance(part, Polygon) and len(part.points) == 3]
    return [part for part in found if part.fill == fill]


def bar_of(task: Task, page: Page, drawing: Drawing) -> Rect:
    """The one bar of a task, found by where its days must lie."""
    left, right = page.scale.at(task.first), page.scale.after(task.last)
    fill = 0.0 if task.kind == "work" else 1.0
    (found,) = [
        rect for rect in rects(drawing, fill)
        if abs(rect.x - left) <= NEAR_MM and abs(rect.x + rect.width - right) <= NEAR_MM and rect.height > 4
    ]  # fmt: skip
    return found


def tasks_of(chart: Chart) -> list[Task]:
    return [task for wall in chart.walls for chain in wall.chains for task in chain.tasks]


def copied(drawing: Drawing, dpi: int) -> tuple[Image.Image, float]:
    """A copy in black and white at a threshold of 70 %, with its pixels to the mm."""
    with Image.open(io.BytesIO(png(drawing, dpi))) as image:
        return image.convert("L").point([0] * 179 + [255] * 77), dpi / 25.4


def copied_small(drawing: Drawing) -> tuple[Image.Image, float]:
    """The copy of a page looked at with a hundred dots to the inch, the picture made as for a paper."""
    scale = 100 / 25.4
    size = round(drawing.width_mm * scale), round(drawing.height_mm * scale)
    with Image.open(io.BytesIO(png(drawing))) as image:
        small = image.convert("L").resize(size, Image.Resampling.BILINEAR)
    return small.point([0] * 179 + [255] * 77), scale


def black_share(copy: tuple[Image.Image, float], x: float, y: float, width: float, height: float) -> float:
    """The share of black in a part of a copy."""
    image, scale = copy
    part = image.crop((round(x * scale), round(y * scale), round((x + width) * scale), round((y + height) * scale)))
    return part.histogram()[0] / (part.width * part.height)
