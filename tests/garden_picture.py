"""Draws the photograph of the garden-front example: a made wall before a made camera; nothing in it was ever built.

    python tests/garden_picture.py

Its bytes hang on the libraries of the day, so the picture is kept. `seen` tells where points of the wall fall in it.
"""

from __future__ import annotations

from pathlib import Path

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image
from wall_scene import MM_PER_TEXEL, Camera, Pixels, Point, Reals

FILE = Path(__file__).resolve().parent.parent / "examples" / "garden-front" / "photographs" / "front.jpg"
AROUND_MM = (3200.0, 3600.0)
WALL_MM = (9800.0, 5500.0)
BRICK_MM, HEADER_MM, COURSE_MM, JOINT_MM = 225.0, 107.5, 74.0, 9.0
# left, top, width, height from the wall's top left corner
WINDOWS = ((1200.0, 700.0, 1000.0, 1400.0), (4400.0, 700.0, 1000.0, 1400.0), (7600.0, 700.0, 1000.0, 1400.0))
LOW_WINDOWS = ((1200.0, 3000.0, 1000.0, 1500.0), (7600.0, 3000.0, 1000.0, 1500.0))
DOOR = (4000.0, 3100.0, 1800.0, 2400.0)
WORN: dict[str, tuple[Point, ...]] = {
    "A": ((0.0, 4500.0), (3900.0, 4620.0), (3900.0, 5500.0), (0.0, 5500.0)),
    "B": ((5900.0, 4620.0), (9800.0, 4500.0), (9800.0, 5500.0), (5900.0, 5500.0)),
    "C": ((1050.0, 2150.0), (2350.0, 2150.0), (2250.0, 2760.0), (1150.0, 2760.0)),
    "D": ((4250.0, 2150.0), (5550.0, 2150.0), (5400.0, 2860.0), (4400.0, 2860.0)),
    "E": ((7450.0, 2150.0), (8750.0, 2150.0), (8650.0, 2760.0), (7550.0, 2760.0)),
}
CAMERA = Camera(
    look_at_mm=(8100.0, 6100.0), distance_mm=8800.0, yaw_degrees=9.0, pitch_degrees=-2.0, focal_px=1512.0,
    width_px=2016, height_px=1512, k=-0.004,
)  # fmt: skip


def wall() -> Pixels:
    """The wall with windows, door, worn joints, and ground and sky about it."""
    draw = np.random.default_rng(7)
    wide, high = (round((size + 2 * around) / MM_PER_TEXEL) for size, around in zip(WALL_MM, AROUND_MM, strict=True))
    down, across = (np.arange(count, dtype=np.float64) * MM_PER_TEXEL for count in (high, wide))
    x, y = across - AROUND_MM[0], down - AROUND_MM[1]
    course = np.floor(y / COURSE_MM).astype(int)
    pitch = BRICK_MM + HEADER_MM + 2 * JOINT_MM
    along = x[None, :] + 3000.0 + (course % 2)[:, None] * (pitch / 2)
    within = along % pitch
    header = within > BRICK_MM + JOINT_MM
    unit = (along // pitch).astype(int) * 2 + header
    tones = draw.normal(1.0, 0.10, (course.max() - course.min() + 1, int(unit.max()) + 1))
    tone = tones[course[:, None] - course.min(), unit]
    picture: Reals = tone[..., None] * np.array([166.0, 96.0, 72.0])
    edge = np.where(header, within - BRICK_MM - JOINT_MM, within)
    joint = (edge < JOINT_MM / 2) | (edge > np.where(header, HEADER_MM, BRICK_MM) + JOINT_MM / 2)
    joint |= (y % COURSE_MM < JOINT_MM)[:, None]
    picture[joint] = (198.0, 188.0, 166.0)
    _wear(picture, joint, draw)
    for box in (*WINDOWS, *LOW_WINDOWS, DOOR):
        _opening(picture, box, door=box is DOOR)
    _surroundings(picture, x, y)
    soft = cv2.GaussianBlur(picture, (0, 0), 1.0)
    levels: Pixels = np.clip(soft + draw.normal(0.0, 0.8, soft.shape), 0, 255).astype(np.uint8)
    return levels


def _wear(picture: Reals, joint: NDArray[np.bool_], draw: np.random.Generator) -> None:
    """Joints open and dark, bricks damp where they have failed."""
    for ring in WORN.values():
        mask = np.zeros(picture.shape[:2], np.uint8)
        points = [[round((a + b) / MM_PER_TEXEL) for a, b in zip(spot, AROUND_MM, strict=True)] for spot in ring]
        cv2.fillPoly(mask, [np.array(points, np.int32)], 1)
        worn = mask.astype(bool)
        picture[worn] *= 0.86
        picture[worn & joint & (draw.random(worn.shape) < 0.9)] = (58.0, 50.0, 44.0)


def _opening(picture: Reals, box: tuple[float, float, float, float], *, door: bool) -> None:
    left, top, width, height = box
    _fill(picture, left - 150, top - 230, width + 300, 230, (150.0, 74.0, 54.0))
    _fill(picture, left, top, width, height, (232.0, 228.0, 218.0))
    panes = 2 if door else 3
    wide, high = (width - 160) / panes, (height - 160) / 4
    for column in range(panes):
        for row in range(4):
            place = (left + 80 + column * wide + 18, top + 80 + row * high + 18, wide - 36, high - 36)
            _fill(picture, *place, (62.0, 76.0, 84.0) if not (door and row == 3) else (88.0, 98.0, 88.0))
    if not door:
        _fill(picture, left - 90, top + height, width + 180, 70, (205.0, 199.0, 186.0))


def _surroundings(picture: Reals, x: Reals, y: Reals) -> None:
    """Roof with its gutter, sky, lawn, and what stands on either side."""
    shape = picture.shape[:2]
    beside = np.broadcast_to(((x < 0.0) | (x > WALL_MM[0]))[None, :], shape)
    picture[beside] = (172.0, 178.0, 172.0)
    for least, most, colour in (
        (-9e9, -1500.0, (206.0, 214.0, 220.0)), (-1500.0, -120.0, (98.0, 98.0, 106.0)),
        (-120.0, 0.0, (44.0, 44.0, 48.0)), (WALL_MM[1], 9e9, (118.0, 128.0, 88.0)),
    ):  # fmt: skip
        picture[np.broadcast_to(((y >= least) & (y < most))[:, None], shape)] = colour


def _fill(picture: Reals, left: float, top: float, width: float, height: float, colour: tuple[float, ...]) -> None:
    (x0, y0), (x1, y1) = (
        tuple(round((value + around) / MM_PER_TEXEL) for value, around in zip(spot, AROUND_MM, strict=True))
        for spot in ((left, top), (left + width, top + height))
    )
    picture[y0:y1, x0:x1] = colour


def seen(x_mm: float, y_mm: float) -> list[float]:
    """Where a point of the wall falls, in shares of the picture."""
    x, y = CAMERA.seen(x_mm + AROUND_MM[0], y_mm + AROUND_MM[1])
    return [round(x / CAMERA.width_px, 4), round(y / CAMERA.height_px, 4)]


if __name__ == "__main__":
    FILE.parent.mkdir(exist_ok=True)
    Image.fromarray(CAMERA.photograph(wall(), finer=2)).save(
        FILE, quality=36, optimize=True, progressive=True, subsampling="4:2:0"
    )
