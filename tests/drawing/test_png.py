from __future__ import annotations

import io
import struct
from collections.abc import Iterator

import pytest
from PIL import Image

from generator.drawing.hazards import RED, exclamation
from generator.drawing.model import Circle, Drawing, Label, Line, Polygon, Primitive, Rect
from generator.drawing.png import LARGE_DPI, PAPER_DPI, SMALL_DPI, paper_dpi, png


def picture(*primitives: Primitive, dpi: int = 254) -> Image.Image:
    """A picture of 30 by 20 mm; at the usual 254 dpi a pixel is a tenth of a millimetre."""
    with Image.open(io.BytesIO(png(Drawing(30, 20, "A wall.", primitives), dpi))) as image:
        image.load()
        return image


def ink_box(image: Image.Image) -> tuple[int, int, int, int]:
    box = image.convert("L").point(lambda grey: 255 * (grey < 128)).getbbox()
    assert box is not None, "nothing is drawn"
    return box


def test_lengths_are_true() -> None:
    assert ink_box(picture(Rect(5, 4, 20, 10, 0.0, 0.0))) == pytest.approx((50, 40, 250, 140), abs=1)
    left, top, right, bottom = ink_box(picture(Line(5, 10, 25, 10, 0.6)))
    assert right - left == pytest.approx(200, abs=2)
    assert bottom - top == pytest.approx(6, abs=1)
    assert ink_box(picture(Circle(15, 10, 5, 0.0, 0.0))) == pytest.approx((100, 50, 200, 150), abs=2)


@pytest.mark.parametrize("anchor", ["start", "middle", "end"])
def test_labels_fill_no_more_than_their_measured_width(anchor: str) -> None:
    for bold in (False, True):
        label = Label(15, 10, "Joint 25 mm", 8, anchor, bold)  # type: ignore[arg-type]
        left, _, right, _ = ink_box(picture(label))
        assert 0.8 * label.width_mm * 10 < right - left <= label.width_mm * 10 + 2


def test_a_centred_label_is_centred() -> None:
    left, _, right, _ = ink_box(picture(Label(15, 10, "HOH", 12, "middle")))
    assert (left + right) / 2 == pytest.approx(150, abs=2)


def test_a_dash_leaves_gaps() -> None:
    solid = picture(Line(2, 10, 28, 10, 0.5)).histogram()[0]
    dashed = picture(Line(2, 10, 28, 10, 0.5, (1.0, 1.0))).histogram()[0]
    assert dashed == pytest.approx(solid / 2, rel=0.1)


def test_fills_keep_their_grey() -> None:
    assert picture(Rect(5, 5, 10, 10, 0.0, 0.8)).getpixel((100, 100)) == 204


def test_only_an_inked_edge_makes_a_coloured_picture() -> None:
    grey = picture(Rect(5, 5, 10, 10))
    assert grey.mode == "L"
    with Image.open(io.BytesIO(png(exclamation(20, "Dust."), 254))) as image:
        assert image.mode == "RGB"
        assert RED in {colour for _, colour in image.getcolors(100_000) or ()}


@pytest.mark.parametrize("rgb", [None, RED])
@pytest.mark.parametrize("width_mm", [1.0, 7.3, 60.0])
def test_rows_lie_below_one_another_dot_by_dot(width_mm: float, rgb: tuple[int, int, int] | None) -> None:
    edge = Polygon(((0, -1), (0.4, -1), (0.4, 9), (0, 9)), fill=0.0, weight_mm=0.2, rgb=rgb)
    with Image.open(io.BytesIO(png(Drawing(width_mm, 5, "x", (edge,))))) as image:
        dots, row = image.tobytes(), image.width * len(image.getbands())
    assert len(dots) == row * round(5 / 25.4 * PAPER_DPI)
    assert {dots[at : at + row] for at in range(0, len(dots), row)} == {dots[:row]}
    assert (dots[0], dots[row - 1]) == (0 if rgb is None else rgb[0], 255)


def test_the_file_holds_no_dates_and_no_words() -> None:
    def chunks(data: bytes) -> Iterator[bytes]:
        place = 8
        while place < len(data):
            (length,) = struct.unpack(">I", data[place : place + 4])
            yield data[place + 4 : place + 8]
            place += length + 12

    assert set(chunks(png(Drawing(30, 20, "A wall.")))) == {b"IHDR", b"pHYs", b"IDAT", b"IEND"}


@pytest.mark.parametrize("dpi", [0, 35, 1201])
def test_a_resolution_out_of_reason_is_refused(dpi: int) -> None:
    with pytest.raises(ValueError, match="valid 36 to 1200"):
        png(Drawing(30, 20, "A wall."), dpi)


def test_pixels_follow_the_resolution() -> None:
    assert picture(dpi=100).size == (118, 79)


@pytest.mark.parametrize("text", ["<b>&\"'", "🙂 漢 Ж", "Łódź ½ m²", "\u200d\u0301", ""])
def test_any_text_that_prints_can_be_lettered(text: str) -> None:
    assert picture(Label(2, 10, text)).size == (300, 200)


@pytest.mark.parametrize("text", ["Joint 25 mm", "½ “25–30” m²", "АЖЯ"])
def test_bold_letters_have_thicker_stems_and_not_smeared_ones(text: str) -> None:
    regular, bold = (picture(Label(2, 10, text, 12, bold=bold)) for bold in (False, True))
    assert bold.histogram()[0] > 1.2 * regular.histogram()[0]
    # the bold face's own outlines, at their own advances: a smear would be of the regular's length
    (_, _, plain, _), (_, _, heavy, _) = ink_box(regular), ink_box(bold)
    widths = [Label(2, 10, text, 12, bold=weight).width_mm for weight in (False, True)]
    assert heavy - plain == pytest.approx(10 * (widths[1] - widths[0]), abs=3)


def test_a_letter_is_as_high_as_the_face_has_it() -> None:
    # capitals of Liberation Sans are 1409 of 2048 units high
    _, top, _, bottom = ink_box(picture(Label(5, 15, "H", 24)))
    assert bottom - top == pytest.approx(1409 / 2048 * 24 / 72 * 254, abs=1.5)


def test_a_polygon_without_fill_lets_what_is_under_it_show() -> None:
    under = Rect(5, 5, 20, 10, 0.0, 0.5)
    over = Polygon(((5, 5), (25, 5), (25, 15), (5, 15)), 0.2)
    assert picture(under, over).getpixel((150, 100)) == 128


def test_a_drawing_has_fewer_dots_to_the_inch_the_larger_it_is() -> None:
    sizes = ((26.0, 26.0), (174.0, 60.0), (174.0, 160.0))
    drawn = [paper_dpi(Drawing(width, height, "A line.", ())) for width, height in sizes]
    assert drawn == [SMALL_DPI, PAPER_DPI, LARGE_DPI]
