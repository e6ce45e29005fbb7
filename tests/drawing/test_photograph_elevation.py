"""A photograph turned square on: lengths true to its scale, held against a rendered wall of known sizes."""

from __future__ import annotations

import io
from functools import cache

import cv2
import numpy as np
import pytest
from drawing.made_photographs import encoded
from PIL import Image
from wall_scene import WINDOW_MM, Camera, Point, brick_wall, window_corners

from generator.drawing.photograph import Photograph, read_photograph
from generator.drawing.photograph_elevation import MARGIN_MM, Elevation, ElevationRefused, elevation_jpeg
from generator.drawing.photograph_marks import MarkedArea
from generator.lime.plane import Quad
from generator.lime.plane_errors import Taped

# a smaller frame than a phone's, turned aside and up
CAMERA = Camera(yaw_degrees=20.0, pitch_degrees=-5.0, focal_px=1125.0, width_px=1512, height_px=1134)
TARGETS: tuple[Point, ...] = ((1500.0, 1000.0), (2800.0, 3000.0), (6000.0, 900.0))
AREA_MM: tuple[Point, ...] = ((4900.0, 1400.0), (6300.0, 1400.0), (6300.0, 3200.0), (4900.0, 3200.0))


@cache
def photograph() -> Photograph:
    picture = CAMERA.photograph(brick_wall(targets_mm=TARGETS), finer=1)
    return read_photograph(encoded(Image.fromarray(picture), quality=95), 1260)


def shares(points_mm: tuple[Point, ...], camera: Camera = CAMERA) -> tuple[Point, ...]:
    return tuple((x / camera.width_px, y / camera.height_px) for x, y in (camera.seen(*p) for p in points_mm))


def taped(camera: Camera = CAMERA) -> Taped:
    a, b, c, d = (camera.seen(*corner) for corner in window_corners())
    quad: Quad = (a, b, c, d)
    return Taped(quad, *WINDOW_MM[2:], 3.0)


@cache
def elevation(**settings: object) -> Elevation:
    areas = [
        MarkedArea("A", "rise", shares(AREA_MM)),
        MarkedArea("B", "dots", shares(((1300.0, 700.0), (1400.0, 700.0), (1350.0, 800.0)))),
    ]
    return elevation_jpeg(photograph(), taped(), areas, **settings)  # type: ignore[arg-type]


def opened(found: Elevation) -> np.ndarray:
    with Image.open(io.BytesIO(found.jpeg.data)) as image:
        return np.asarray(image)


def test_points_of_the_wall_lie_where_the_scale_puts_them() -> None:
    found = elevation()
    picture = opened(found)
    px_per_mm = found.jpeg.width_px / found.width_mm
    # the extent runs a margin beyond area B on the left and at the top
    left, top = 1300.0 - MARGIN_MM, 700.0 - MARGIN_MM
    for x, y in ((2800.0, 3000.0), (6000.0, 900.0)):
        start = np.array([[[(x - left) * px_per_mm - 0.5, (y - top) * px_per_mm - 0.5]]], np.float32)
        stop = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_MAX_ITER, 50, 0.001)
        corner = cv2.cornerSubPix(picture, start.copy(), (5, 5), (-1, -1), stop)
        assert np.abs(corner - start).max() < 0.6


def test_the_largest_scale_with_room_is_taken() -> None:
    found = elevation()
    assert [found.width_mm, found.height_mm] == pytest.approx([5600.0, 3100.0], abs=15.0)
    assert found.scale == 50
    assert found.jpeg.width_mm == pytest.approx(found.width_mm / 50.0)
    assert elevation(room_mm=(100.0, 100.0)).scale == 100
    assert elevation(room_mm=(290.0, 200.0)).scale == 20


def test_the_bar_is_as_long_as_it_says() -> None:
    found = elevation()
    strip = opened(found)[-12:-4]
    dark = (strip < 128).all(axis=0)
    # every other step of the bar is black right through
    runs = np.flatnonzero(np.diff(np.concatenate(([0], dark.astype(int), [0]))))
    lengths = [b - a for a, b in zip(runs[::2], runs[1::2], strict=True) if b - a > 10]
    step_px = found.step * 1000.0 * found.jpeg.width_px / found.width_mm
    assert len(lengths) == (found.steps + 1) // 2
    assert lengths == pytest.approx([step_px] * len(lengths), abs=2.5)


def test_a_reference_behind_the_face_makes_the_wall_smaller() -> None:
    assert elevation(face_factor=1.02).width_mm - 600.0 == pytest.approx((elevation().width_mm - 600.0) / 1.02)


def test_the_same_bytes_twice_and_facts_of_its_areas() -> None:
    assert elevation(face_factor=1.0) == elevation()
    assert [(fact.letter, fact.across) for fact in elevation().facts] == [("A", "right"), ("B", "left")]
    area_mm2 = elevation().facts[0].share_of_picture * elevation().width_mm * elevation().height_mm
    assert area_mm2 / 1e6 == pytest.approx(1.4 * 1.8, rel=0.005)


def test_a_photograph_with_few_pixels_is_not_enlarged() -> None:
    found = elevation()
    # f 1125 px at 8 m: 7.1 mm to the pixel
    assert 6.4 < found.width_mm / found.jpeg.width_px < 7.9


def test_what_cannot_be_turned_is_refused_with_its_code() -> None:
    def code(camera: Camera, points: tuple[Point, ...], room_mm: tuple[float, float] = (160.0, 200.0)) -> str:
        with pytest.raises(ElevationRefused) as caught:
            elevation_jpeg(photograph(), taped(camera), [MarkedArea("A", "rise", points)], room_mm=room_mm)
        return caught.value.code

    assert code(CAMERA, shares(AREA_MM), room_mm=(10.0, 10.0)) == "too-large"
    steep = Camera((4000.0, 2600.0), 5000.0, 62.0, 0.0, 1500.0, 2016, 1512)
    assert code(steep, ((0.02, 0.4), (0.06, 0.4), (0.04, 0.5))) == "scale-change"
    leaning = Taped(((900.0, 700.0), (1100.0, 700.0), (1050.0, 800.0), (950.0, 800.0)), 1000.0, 1500.0, 3.0)
    with pytest.raises(ElevationRefused, match="beyond-horizon"):
        elevation_jpeg(photograph(), leaning, [MarkedArea("A", "rise", ((0.4, 0.5), (0.6, 0.5), (0.5, 0.95)))])
    crossed = Taped(((900.0, 700.0), (1100.0, 800.0), (1100.0, 700.0), (900.0, 800.0)), 1000.0, 1500.0, 3.0)
    with pytest.raises(ElevationRefused, match="reference"):
        elevation_jpeg(photograph(), crossed, [MarkedArea("A", "rise", ((0.4, 0.5), (0.6, 0.5), (0.5, 0.9)))])
