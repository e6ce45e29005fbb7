"""The face of a wall as its elevation is drawn from the answers: outline, openings, zone and placed areas, in metres.

Places are told from the left edge and from the ground, as somebody sees them who stands before the wall.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Final

from generator.questionnaire.facts import Record, View
from generator.values import Struct

Spot = tuple[Decimal, Decimal]
_ZERO: Final = Decimal(0)
MOST_PARTS: Final = 150
"""Openings of a face, and parts that a work is placed on, that are drawn; of more a finding tells."""


class Rectangle(Struct, frozen=True):
    """An upright rectangle by its lower left corner and its size."""

    left: Decimal
    foot: Decimal
    width: Decimal
    height: Decimal

    @property
    def right(self) -> Decimal:
        """How far its right edge lies from the left of the wall."""
        return self.left + self.width

    @property
    def head(self) -> Decimal:
        """How high its top lies above the ground."""
        return self.foot + self.height

    @property
    def area_m2(self) -> Decimal:
        """Its area."""
        return self.width * self.height

    def shared_m2(self, other: Rectangle) -> Decimal:
        """The area that two rectangles have in common."""
        across = min(self.right, other.right) - max(self.left, other.left)
        up = min(self.head, other.head) - max(self.foot, other.foot)
        return max(across, _ZERO) * max(up, _ZERO)


class Opening(Struct, frozen=True):
    """An opening: what it is, its size, and where it is, if that was told. `number` is its place in the answers."""

    number: int
    kind: str
    name: str
    width: Decimal
    height: Decimal
    place: Rectangle | None

    @property
    def area_m2(self) -> Decimal:
        """Its area, placed or not."""
        return self.width * self.height


class Face(Struct, frozen=True):
    """A face that can be drawn. `head` is the height of its level top, or of the lower ends of a sloping one.

    `peak` is the greatest height. `zone` is the part of it, from one height to another, that its works lie in.
    """

    width: Decimal
    head: Decimal
    peak: Decimal
    top: str
    openings: tuple[Opening, ...]
    zone: tuple[Decimal, Decimal]

    @property
    def outline(self) -> tuple[Spot, ...]:
        """Its corners from the lower left, counter-clockwise."""
        foot, right = (_ZERO, _ZERO), self.width
        tops: dict[str, tuple[Spot, ...]] = {
            "level": ((right, self.head), (_ZERO, self.head)),
            "gable": ((right, self.head), (right / 2, self.peak), (_ZERO, self.head)),
            "rising-left": ((right, self.head), (_ZERO, self.peak)),
            "rising-right": ((right, self.peak), (_ZERO, self.head)),
        }
        return (foot, (right, _ZERO), *tops[self.top])

    @property
    def area_m2(self) -> Decimal:
        """Its whole area, openings and all."""
        return self._between(_ZERO, self.peak)

    @property
    def zone_m2(self) -> Decimal:
        """The area of its zone, openings and all; of a face without zones its whole area."""
        low, high = self.zone
        return self._between(low, max(low, min(high, self.peak)))

    def _between(self, low: Decimal, high: Decimal) -> Decimal:
        """Its area from one height to another: as wide throughout up to its head, and narrowing evenly above."""
        bend = min(max(low, self.head), high)
        steps = ((low, bend), (bend, high))
        return sum(((self.span(below) + self.span(above)) / 2 * (above - below) for below, above in steps), _ZERO)

    @property
    def is_zoned(self) -> bool:
        """Whether the works lie in a part of it."""
        return self.zone != (_ZERO, self.peak)

    @property
    def zone_openings_m2(self) -> Decimal:
        """The area of the openings, of those that are placed what lies in the zone."""
        low, high = self.zone
        band = Rectangle(_ZERO, low, self.width, max(high - low, _ZERO))
        return sum((it.area_m2 if it.place is None else it.place.shared_m2(band) for it in self.openings), _ZERO)

    def span(self, height: Decimal) -> Decimal:
        """How wide the face is at a height."""
        if height <= self.head or self.top == "level":
            return self.width
        return self.width * (self.peak - height) / (self.peak - self.head)

    def holds(self, part: Rectangle) -> bool:
        """Whether a rectangle lies in the face whole."""
        if part.left < 0 or part.foot < 0 or part.right > self.width:
            return False
        return all(part.head <= self._top_at(x) for x in (part.left, part.right))

    def _top_at(self, x: Decimal) -> Decimal:
        rise = self.peak - self.head
        shares = {
            "level": _ZERO,
            "gable": 1 - abs(2 * x / self.width - 1),
            "rising-left": 1 - x / self.width,
            "rising-right": x / self.width,
        }
        return self.head + rise * shares[self.top]


def face_of(wall: View) -> Face | None:
    """The face of a wall; None where its width or height was not answered, or its point is no higher than its sides."""
    width, head = wall.number("face_width_m"), wall.number("face_height_m")
    if not width or not head:
        return None
    top = wall.text("face_top") or "level"
    peak = head if top == "level" else wall.number("face_peak_m")
    if peak is None or (top != "level" and peak <= head):
        return None
    low, high = wall.number("zone_from_m"), wall.number("zone_to_m")
    listed = wall.records("wall_openings")[:MOST_PARTS]
    openings = tuple(_opening(number, item) for number, item in enumerate(listed, 1))
    return Face(width, head, peak, top, openings, (low or _ZERO, peak if high is None else high))


def _opening(number: int, item: Record) -> Opening:
    width, height = item.number("width_m") or _ZERO, item.number("height_m") or _ZERO
    left, sill = item.number("left_m"), item.number("sill_m")
    place = None if left is None or sill is None else Rectangle(left, sill, width, height)
    return Opening(number, item.text("kind"), item.text("name"), width, height, place)


def areas_of(work: View) -> tuple[Rectangle, ...]:
    """The parts of the face that a work was placed on."""
    names = ("left_m", "bottom_m", "width_m", "height_m")
    found = ([item.number(name) or _ZERO for name in names] for item in work.records("areas_placed")[:MOST_PARTS])
    return tuple(Rectangle(*sides) for sides in found)


def placed_m2(work: View, face: Face) -> Decimal:
    """The area that a work was placed on, without the openings in it."""
    areas, openings = areas_of(work), [it.place for it in face.openings if it.place is not None]
    return sum((area.area_m2 - sum((area.shared_m2(it) for it in openings), _ZERO) for area in areas), _ZERO)
