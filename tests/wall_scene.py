"""A made brick wall of known sizes, and a made camera that photographs it with or without a lens that bends.

The wall is the plane z = 0 in mm from its top left corner, y down, points proud of it above 0. The camera is a
pinhole with the radial law r' = r (1 + k (r / R)^2), R to the frame's corner; nothing of the code under test
is used.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

Point = tuple[float, float]
MM_PER_TEXEL = 2.0
BRICK_MM = (215.0, 65.0)
JOINT_MM = 10.0
WINDOW_MM = (3400.0, 1200.0, 1010.0, 1490.0)
WALL_MM = (8000.0, 5200.0)


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

    def seen(self, x_mm: float, y_mm: float, proud_mm: float = 0.0) -> Point:
        """Where a point of the wall falls, in pixels from the frame's top left corner."""
        x, y = self._bent(*self._straight(np.array(x_mm), np.array(y_mm), np.array(proud_mm)))
        return float(x), float(y)

    def _axes(self) -> NDArray[np.float64]:
        yaw, pitch = math.radians(self.yaw_degrees), math.radians(self.pitch_degrees)
        ahead = np.array([math.sin(yaw) * math.cos(pitch), math.sin(pitch), math.cos(yaw) * math.cos(pitch)])
        right = np.array([math.cos(yaw), 0.0, -math.sin(yaw)])
        return np.stack([right, np.cross(ahead, right), ahead])

    def _straight(
        self, x: NDArray[np.float64], y: NDArray[np.float64], proud: NDArray[np.float64]
    ) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        axes = self._axes()
        place = np.array([*self.look_at_mm, 0.0]) - self.distance_mm * axes[2]
        away = np.stack([x - place[0], y - place[1], -proud - place[2]])
        across, down, depth = np.tensordot(axes, away, 1)
        return self.width_px / 2 + self.focal_px * across / depth, self.height_px / 2 + self.focal_px * down / depth

    def _bent(self, x: NDArray[np.float64], y: NDArray[np.float64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        away_x, away_y = x - self.width_px / 2, y - self.height_px / 2
        factor = 1.0 + self.k * (away_x**2 + away_y**2) / (self.width_px**2 + self.height_px**2) * 4.0
        return self.width_px / 2 + away_x * factor, self.height_px / 2 + away_y * factor

    def _unbent(
        self, x: NDArray[np.float64], y: NDArray[np.float64]
    ) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        straight_x, straight_y = x, y
        for _ in range(12):
            bent_x, bent_y = self._bent(straight_x, straight_y)
            straight_x, straight_y = straight_x + x - bent_x, straight_y + y - bent_y
        return straight_x, straight_y

    def photograph(
        self, texture: NDArray[np.uint8], box: tuple[int, int, int, int] | None = None, finer: int = 1
    ) -> NDArray[np.uint8]:
        """The photograph of a texture of the wall, or the box of it from left, top to right, bottom in pixels."""
        left, top, right, bottom = box or (0, 0, self.width_px, self.height_px)
        count = np.array([right - left, bottom - top]) * finer
        # pixels are looked at in their middles
        x, y = np.meshgrid(*(start + (np.arange(n) + 0.5) / finer for start, n in zip((left, top), count, strict=True)))
        x, y = self._unbent(x, y)
        axes = self._axes()
        place = np.array([*self.look_at_mm, 0.0]) - self.distance_mm * axes[2]
        rays = np.stack(
            [(x - self.width_px / 2) / self.focal_px, (y - self.height_px / 2) / self.focal_px, np.ones_like(x)]
        )
        way = np.tensordot(axes.T, rays, 1)
        reach = -place[2] / way[2]
        on_wall = [((place[i] + reach * way[i]) / MM_PER_TEXEL - 0.5).astype(np.float32) for i in (0, 1)]
        picture = cv2.remap(
            texture, *on_wall, cv2.INTER_LINEAR, borderMode=cv2.BORDER_CONSTANT, borderValue=(205, 200, 190)
        )
        if finer > 1:
            picture = cv2.resize(picture, None, fx=1 / finer, fy=1 / finer, interpolation=cv2.INTER_AREA)
        return picture


def brick_wall(mean: float = 110.0, seed: int = 1) -> NDArray[np.uint8]:
    """A wall of stretchers with a white-edged window, in colour (R G B), its bricks about so bright."""
    draw = np.random.default_rng(seed)
    wide, high = (round(size / MM_PER_TEXEL) for size in WALL_MM)
    y, x = np.mgrid[0:high, 0:wide].astype(np.float32) * MM_PER_TEXEL
    course = np.floor(y / (BRICK_MM[1] + JOINT_MM)).astype(int)
    along = x + (course % 2) * (BRICK_MM[0] + JOINT_MM) / 2
    place = np.floor(along / (BRICK_MM[0] + JOINT_MM)).astype(int)
    tones = draw.normal(1.0, 0.12, (course.max() + 1, place.max() + 1)).astype(np.float32)
    tone = tones[course, place]
    joint = (along % (BRICK_MM[0] + JOINT_MM) < JOINT_MM) | (y % (BRICK_MM[1] + JOINT_MM) < JOINT_MM)
    colour = np.array([1.35, 0.85, 0.65], np.float32) * mean
    wall = tone[..., None] * colour
    wall[joint] = np.array([1.5, 1.4, 1.25], np.float32) * mean
    grain = draw.normal(0.0, 0.09 * mean, wall.shape[:2]).astype(np.float32)
    wall += grain[..., None]
    left, top, width, height = (round(value / MM_PER_TEXEL) for value in WINDOW_MM)
    wall[top : top + height, left : left + width] = 235.0
    inside = slice(top + 30, top + height - 30), slice(left + 30, left + width - 30)
    wall[inside] = 50.0
    return np.clip(wall, 0, 255).astype(np.uint8)
