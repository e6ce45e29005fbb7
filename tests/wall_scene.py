"""A made brick wall of known sizes, and a made camera that photographs it with or without a lens that bends.

The wall is the plane z = 0 in mm from its top left corner, y down, points proud of it above 0. The camera is a
pinhole with the radial law r' = r (1 + k (r / R)^2), R to the frame's corner; nothing of the code under test
is used.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

Point = tuple[float, float]
Reals = NDArray[np.float64]
Pixels = NDArray[np.uint8]
MM_PER_TEXEL = 4.0
BRICK_MM = (215.0, 65.0)
JOINT_MM = 10.0
WALL_MM = (8000.0, 5200.0)
WINDOW_MM = (3400.0, 1200.0, 1000.0, 1500.0)
SKY = (205, 200, 190)


@dataclass(frozen=True)
class Camera:
    """Where a camera stands before a wall: what it looks at, how far off, turned aside and up, and its lens."""

    look_at_mm: Point = (4000.0, 2600.0)
    distance_mm: float = 8000.0
    yaw_degrees: float = 0.0
    pitch_degrees: float = 0.0
    focal_px: float = 3000.0
    width_px: int = 4032
    height_px: int = 3024
    k: float = 0.0

    @property
    def middle(self) -> Point:
        return self.width_px / 2, self.height_px / 2

    def seen(self, x_mm: float, y_mm: float, proud_mm: float = 0.0) -> Point:
        """Where a point of the wall falls, in pixels from the frame's top left corner."""
        axes, place = self._stand()
        across, down, depth = axes @ (np.array([x_mm, y_mm, -proud_mm]) - place)
        straight = self.focal_px * across / depth, self.focal_px * down / depth
        x, y = self._bent(*(np.array(value) for value in straight))
        return self.middle[0] + float(x), self.middle[1] + float(y)

    def photograph(self, wall: Pixels, box: tuple[int, int, int, int] | None = None, finer: int = 1) -> Pixels:
        """The photograph of a wall, or a box of it from left, top to right, bottom in pixels."""
        left, top, right, bottom = box or (0, 0, self.width_px, self.height_px)
        # pixels are looked at in their middles
        across = left + (np.arange((right - left) * finer) + 0.5) / finer - self.middle[0]
        down = top + (np.arange((bottom - top) * finer) + 0.5) / finer - self.middle[1]
        x, y = self._unbent(*np.meshgrid(across, down))
        axes, place = self._stand()
        way = np.tensordot(axes.T, np.stack([x, y, np.full_like(x, self.focal_px)]), 1)
        reach = -place[2] / way[2]
        places = [((place[i] + reach * way[i]) / MM_PER_TEXEL - 0.5).astype(np.float32) for i in (0, 1)]
        picture = cv2.remap(
            wall, places[0], places[1], cv2.INTER_LINEAR, borderMode=cv2.BORDER_CONSTANT, borderValue=SKY
        )
        if finer > 1:
            picture = cv2.resize(picture, None, fx=1 / finer, fy=1 / finer, interpolation=cv2.INTER_AREA)
        return picture.astype(np.uint8)

    def found(self, wall: Pixels, x_mm: float, y_mm: float, reach_px: int = 24) -> Point:
        """Where opencv finds the corner near a point of the wall, in a photograph of the wall round it."""
        x, y = self.seen(x_mm, y_mm)
        left, top = round(x) - reach_px, round(y) - reach_px
        patch = self.photograph(wall, (left, top, left + 2 * reach_px, top + 2 * reach_px), finer=3)
        grey = cv2.cvtColor(patch, cv2.COLOR_RGB2GRAY)
        # opencv counts from the middle of the first pixel
        start = np.array([[[x - left - 0.5, y - top - 0.5]]], np.float32)
        stop = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_MAX_ITER, 50, 0.001)
        corner = cv2.cornerSubPix(grey, start, (7, 7), (-1, -1), stop)[0, 0]
        return left + float(corner[0]) + 0.5, top + float(corner[1]) + 0.5

    def _stand(self) -> tuple[Reals, Reals]:
        """Its axes (right, down, ahead) as rows, and its place."""
        yaw, pitch = math.radians(self.yaw_degrees), math.radians(self.pitch_degrees)
        ahead = np.array([math.sin(yaw) * math.cos(pitch), math.sin(pitch), math.cos(yaw) * math.cos(pitch)])
        right = np.array([math.cos(yaw), 0.0, -math.sin(yaw)])
        axes = np.stack([right, np.cross(ahead, right), ahead])
        return axes, np.array([*self.look_at_mm, 0.0]) - self.distance_mm * ahead

    def _bent(self, x: Reals, y: Reals) -> tuple[Reals, Reals]:
        """The lens's law about the middle of the frame."""
        factor = 1.0 + self.k * (x**2 + y**2) / (self.middle[0] ** 2 + self.middle[1] ** 2)
        return x * factor, y * factor

    def _unbent(self, x: Reals, y: Reals) -> tuple[Reals, Reals]:
        straight_x, straight_y = x, y
        for _ in range(8 if self.k else 0):
            bent_x, bent_y = self._bent(straight_x, straight_y)
            straight_x, straight_y = straight_x + x - bent_x, straight_y + y - bent_y
        return straight_x, straight_y


def brick_wall(mean: float = 110.0, targets_mm: Iterable[Point] = (), seed: int = 1) -> Pixels:
    """A wall of stretchers with a white-edged window, in colour (R G B), its bricks about so bright.

    Targets are chequers of four black and white fields of 100 mm about a point.
    """
    draw = np.random.default_rng(seed)
    wide, high = (round(size / MM_PER_TEXEL) for size in WALL_MM)
    course_mm, brick_mm = BRICK_MM[1] + JOINT_MM, BRICK_MM[0] + JOINT_MM
    down, across = np.arange(high) * MM_PER_TEXEL, np.arange(wide) * MM_PER_TEXEL
    course = (down // course_mm).astype(int)
    along = across[None, :] + (course % 2)[:, None] * brick_mm / 2
    tones = draw.normal(1.0, 0.12, (course.max() + 1, int(along.max() // brick_mm) + 1))
    tone = tones[course[:, None], (along // brick_mm).astype(int)]
    wall = tone[..., None] * np.array([1.35, 0.85, 0.65]) * mean
    wall[(along % brick_mm < JOINT_MM) | (down % course_mm < JOINT_MM)[:, None]] = np.array([1.5, 1.4, 1.25]) * mean
    wall += draw.normal(0.0, 0.09 * mean, wall.shape[:2])[..., None]
    left, top, width, height = WINDOW_MM
    _fill(wall, left, top, width, height, 235.0)
    _fill(wall, left + 60.0, top + 60.0, width - 120.0, height - 120.0, 50.0)
    for x, y in targets_mm:
        _fill(wall, x - 100.0, y - 100.0, 200.0, 200.0, 245.0)
        _fill(wall, x - 100.0, y - 100.0, 100.0, 100.0, 15.0)
        _fill(wall, x, y, 100.0, 100.0, 15.0)
    levels: Pixels = np.clip(wall, 0, 255).astype(np.uint8)
    return levels


def window_corners() -> tuple[Point, Point, Point, Point]:
    """The corners of the window's white edge, clockwise from the top left."""
    left, top, width, height = WINDOW_MM
    return (left, top), (left + width, top), (left + width, top + height), (left, top + height)


def _fill(wall: Reals, left: float, top: float, width: float, height: float, level: float) -> None:
    rows, columns = (
        slice(round(start / MM_PER_TEXEL), round((start + size) / MM_PER_TEXEL))
        for start, size in ((top, height), (left, width))
    )
    wall[rows, columns] = level
