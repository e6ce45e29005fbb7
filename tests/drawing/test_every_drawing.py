"""What holds for every drawing, whatever it shows."""

from __future__ import annotations

import io

import pytest
from drawing.samples import DRAWINGS, assert_sound, labels, texts
from lxml import etree
from PIL import Image

from generator.drawing.model import Circle, Drawing, Polygon, Rect
from generator.drawing.png import PAPER_DPI, png
from generator.drawing.svg import svg

SVG = "{http://www.w3.org/2000/svg}"
every = pytest.mark.parametrize("drawing", DRAWINGS.values(), ids=DRAWINGS)


@every
def test_everything_lies_on_the_paper_and_no_labels_touch(drawing: Drawing) -> None:
    assert_sound(drawing)


@every
def test_lettering_is_of_a_size_that_can_be_read(drawing: Drawing) -> None:
    assert all(label.size_pt >= 5.5 for label in labels(drawing))


@every
def test_the_svg_is_well_formed_and_says_all_that_is_written(drawing: Drawing) -> None:
    root = etree.fromstring(svg(drawing).encode())
    assert [element.text for element in root.iter(f"{SVG}text")] == texts(drawing)
    assert root.findtext(f"{SVG}desc") == drawing.alt
    assert drawing.alt.startswith(root.findtext(f"{SVG}title", "").rstrip("…"))


@every
def test_the_svg_has_the_size_of_the_paper(drawing: Drawing) -> None:
    root = etree.fromstring(svg(drawing).encode())
    assert root.get("width") == f"{drawing.width_mm:g}mm"
    assert root.get("viewBox") == f"0 0 {drawing.width_mm:g} {drawing.height_mm:g}"


@every
def test_the_png_has_the_pixels_and_the_resolution_of_the_paper(drawing: Drawing) -> None:
    with Image.open(io.BytesIO(png(drawing))) as image:
        assert image.size == tuple(round(side / 25.4 * PAPER_DPI) for side in (drawing.width_mm, drawing.height_mm))
        assert image.info["dpi"] == pytest.approx((PAPER_DPI, PAPER_DPI), abs=0.1)


@every
def test_the_same_drawing_gives_the_same_bytes(drawing: Drawing) -> None:
    assert svg(drawing) == svg(drawing)
    assert png(drawing) == png(drawing)


@every
def test_the_margin_of_the_picture_is_white_and_its_middle_is_not(drawing: Drawing) -> None:
    with Image.open(io.BytesIO(png(drawing))) as image:
        grey = image.convert("L")
    assert {grey.getpixel((x, y)) for x in (0, grey.width - 1) for y in (0, grey.height - 1)} == {255}
    assert grey.getextrema()[0] == 0


@pytest.mark.parametrize("name", [name for name in DRAWINGS if "joint" in name or "coats" in name])
def test_sections_tell_nothing_by_a_grey_that_a_copy_in_black_and_white_would_lose(name: str) -> None:
    shapes = [part for part in DRAWINGS[name].primitives if isinstance(part, Polygon | Rect | Circle)]
    assert {shape.fill for shape in shapes} <= {None, 0.0, 1.0}
    hatches = {shape.hatch for shape in shapes if isinstance(shape, Polygon)} - {"none"}
    # one hatch has one sense in all sections: dots are new mortar, level lines the old that stays
    assert hatches == {"diagonal", "dots"} | ({"level"} if "joint" in name else set())
