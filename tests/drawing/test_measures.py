"""Measures and marks: counted and told apart in black and white, at 25 dots an inch and after a copier."""

from __future__ import annotations

import io
from decimal import Decimal
from itertools import combinations, groupby

import pytest
from drawing.samples import outside
from PIL import Image, ImageChops, ImageStat

from generator.drawing.measures import SIGNS, Fill, Ground, boxes, boxes_sketched, gauge_box, jug, jug_sketched, mark
from generator.drawing.model import Drawing, Polygon, bounds
from generator.drawing.png import png

DPI = 300
FAR_DPI = 25
"""At 25 dots an inch a dot is one minute of arc at 3.5 m."""

COPIER = 0.70 * 255
"""A copier that prints as black what is darker than this."""

FILLS: tuple[Fill, ...] = ("lime", "quicklime", "sand", "grit", "water", "pozzolan")
GROUNDS: tuple[Ground, ...] = ("putty", "hydraulic", "quicklime")


def picture(drawing: Drawing) -> Image.Image:
    return Image.open(io.BytesIO(png(drawing, DPI))).convert("L")


def from_afar(drawing: Drawing) -> Image.Image:
    """The drawing as it is seen at 25 dots an inch."""
    near = picture(drawing)
    return near.resize((near.width * FAR_DPI // DPI, near.height * FAR_DPI // DPI), Image.Resampling.BOX)


def dark_stretches(image: Image.Image, share_down: float, darker_than: int = 140) -> int:
    """How many dark stretches a level line through a picture meets."""
    row = int(image.height * share_down)
    pixels = image.crop((0, row, image.width, row + 1)).tobytes()
    return sum(dark for dark, _ in groupby(value < darker_than for value in pixels))


@pytest.mark.parametrize("count", [1, 2, 3, 5])
def test_full_boxes_of_lime_can_be_counted_from_afar(count: int) -> None:
    far = from_afar(boxes("lime", Decimal(count), 7.0, 60.0, "·"))
    assert dark_stretches(far, 0.5) == count


@pytest.mark.parametrize("fill", FILLS)
@pytest.mark.parametrize("count", [2, 5])
def test_boxes_do_not_run_together_from_afar(fill: Fill, count: int) -> None:
    far = from_afar(boxes(fill, Decimal(count), 7.0, 60.0, "·"))
    columns = [ImageStat.Stat(far.crop((x, 0, x + 1, far.height))).mean[0] for x in range(far.width)]
    paper = [white for white, _ in groupby(value > 190 for value in columns) if white]
    assert len(paper) >= count - 1


@pytest.mark.parametrize(("share", "full"), [("0.25", 0.25), ("0.5", 0.5), ("0.75", 0.75)])
def test_a_part_box_is_filled_to_its_line(share: str, full: float) -> None:
    image = picture(boxes("lime", Decimal(share), 8.0, 20.0, "·"))
    middle = image.width // 2
    lower = image.crop((middle, image.height // 8, middle + 1, image.height))  # below the dashed rim
    dark = (1 - ImageStat.Stat(lower).mean[0] / 255) * lower.height / image.height
    assert dark == pytest.approx(full, abs=0.06)


def test_black_white_and_dotted_boxes_are_told_apart_from_afar() -> None:
    shades = {fill: ImageStat.Stat(from_afar(boxes(fill, Decimal(1), 8.0, 20.0, "·"))).mean[0] for fill in FILLS}
    assert shades["lime"] < 60
    assert shades["quicklime"] - shades["lime"] > 25
    assert shades["sand"] - shades["quicklime"] > 60


@pytest.mark.parametrize("ground", GROUNDS)
def test_marks_on_one_ground_are_told_apart_from_afar(ground: Ground) -> None:
    seen = {name: from_afar(mark(name, ground, 10.0, name)) for name in SIGNS}
    for first, second in combinations(SIGNS, 2):
        assert ImageStat.Stat(ImageChops.difference(seen[first], seen[second])).mean[0] > 12, (first, second)


def middle(image: Image.Image, share: float) -> Image.Image:
    """The square in the middle of a mark, of so much of its height, at one size."""
    half, across, down = image.height * share / 2, image.width / 2, image.height / 2
    box = (round(across - half), round(down - half), round(across + half), round(down + half))
    return image.crop(box).resize((60, 60), Image.Resampling.BOX)


@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("name", SIGNS)
def test_the_sign_on_a_card_is_that_of_the_papers_dark_on_white_whatever_the_lime(name: str, ground: Ground) -> None:
    """A white disc on black would be read as the ring that the papers print for another mix."""
    seen = [middle(picture(mark(name, ground, 10.0, name)), hundredths / 100) for hundredths in range(76, 102, 2)]
    printed = {sign: middle(picture(mark(sign, "hydraulic", 10.0, sign)), 1.0) for sign in SIGNS}
    unlike = {
        sign: min(ImageStat.Stat(ImageChops.difference(each, plain)).mean[0] for each in seen)
        for sign, plain in printed.items()
    }
    assert min(unlike, key=unlike.__getitem__) == name


def edge(image: Image.Image) -> float:
    """The middle shade of what stands along the edges."""
    inside = Image.new("L", image.size, 255)
    inside.paste(0, (1, 1, image.width - 1, image.height - 1))
    return float(ImageStat.Stat(image, inside).median[0])


@pytest.mark.parametrize("name", SIGNS)
def test_the_ground_tells_the_lime_from_afar(name: str) -> None:
    putty, hydraulic, quicklime = (edge(from_afar(mark(name, ground, 10.0, name))) for ground in GROUNDS)
    assert putty + 30 < quicklime < hydraulic - 30


@pytest.mark.parametrize(
    "drawing",
    [boxes(fill, Decimal("1.25"), 7.0, 40.0, "·") for fill in FILLS]
    + [mark(name, ground, 10.0, name) for ground in GROUNDS for name in ("triangle", "ring")]
    + [jug(0.5, 10.0, "A jug."), gauge_box(12.5, "The box.")],
)
def test_a_copier_loses_nothing(drawing: Drawing) -> None:
    drawn = picture(drawing)
    copied, meant = (drawn.point(lambda value, limit=limit: 255 if value > limit else 0) for limit in (COPIER, 128))
    differing = ImageStat.Stat(ImageChops.difference(copied, meant)).mean[0] / 255
    assert differing < 0.03


def test_white_wider_than_a_dot_at_100_an_inch_stands_round_boxes() -> None:
    drawn = boxes("sand", Decimal(5), 10.0, 60.0, "five boxes")
    frames = [(bounds(part), part.weight_mm / 2) for part in drawn.primitives if isinstance(part, Polygon)]
    assert min(box.left - edge for box, edge in frames) > 25.4 / 100
    assert drawn.width_mm - max(box.right + edge for box, edge in frames) > 25.4 / 100


@pytest.mark.parametrize("count", ["0.25", "3.5", "7.5", "12"])
def test_boxes_stay_on_their_paper_and_keep_to_the_room(count: str) -> None:
    drawing = boxes("sand", Decimal(count), 7.5, 40.0, "·")
    assert outside(drawing) == []
    assert drawing.width_mm <= 40.0


@pytest.mark.parametrize(
    ("count", "box", "room"), [("0", 7.5, 40.0), ("41", 7.5, 400.0), ("1", 6.0, 40.0), ("1", 7.5, 5.0)]
)
def test_counts_and_sizes_that_cannot_be_read_are_refused(count: str, box: float, room: float) -> None:
    with pytest.raises(ValueError, match="valid 0 to 40"):
        boxes("sand", Decimal(count), box, room, "·")


@pytest.mark.parametrize("share", [0.5, 1.0])
def test_jug_box_and_marks_stay_on_their_paper(share: float) -> None:
    for drawing in (
        jug(share, 10.0, "A jug."),
        gauge_box(12.5, "The box."),
        *(mark(name, "quicklime", 10.0, name) for name in SIGNS),
    ):
        assert outside(drawing) == []


def test_each_mark_has_a_sign_of_its_own_in_print() -> None:
    assert len(set(SIGNS.values())) == len(SIGNS) >= 8


def test_squares_are_given_last_since_boxes_are_counted_in_squares() -> None:
    assert list(SIGNS)[-2:] == ["square", "frame"]


@pytest.mark.parametrize("count", ["0.5", "1", "3.75", "11", "40"])
@pytest.mark.parametrize("room_mm", [7.5, 30.0, 61.3])
def test_a_sketch_of_boxes_is_as_large_as_its_drawing(count: str, room_mm: float) -> None:
    sketch = boxes_sketched("sand", Decimal(count), 7.3, room_mm, "sand")
    assert sketch.drawing == boxes("sand", Decimal(count), 7.3, room_mm, "sand")
    assert (sketch.width_mm, sketch.height_mm) == (sketch.drawing.width_mm, sketch.drawing.height_mm)


def test_a_sketch_of_a_jug_is_as_large_as_its_drawing() -> None:
    sketch = jug_sketched(1.0, 13.37, "a jug")
    assert sketch.drawing == jug(1.0, 13.37, "a jug")
    assert (sketch.width_mm, sketch.height_mm) == (sketch.drawing.width_mm, sketch.drawing.height_mm)
