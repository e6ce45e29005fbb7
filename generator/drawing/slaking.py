"""The pictures of a hot mix, each by what it shows of the lime; water on bare lime cannot be drawn."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final, Literal

from generator.drawing.annotate import arc, arrow
from generator.drawing.model import THIN, Circle, Line, Polygon, Polyline
from generator.drawing.scene import (
    FRAME,
    GROUND,
    OUTLINE,
    Picture,
    can,
    drops,
    ground,
    lump,
    lumps,
    mound,
    sand,
    sheet,
)
from generator.values import Struct

_MIDDLE: Final = FRAME[0] / 2
_HEAPS: Final = {"cover": mound(5.0, 27.0, 9.6), "sprinkle": mound(3.0, 21.0, 7.0), "leave": mound(5.0, 24.0, 7.6)}


class Scene(Struct, frozen=True):
    """What a picture of slaking shows: the lime, and whether water falls, heat leaves, time passes.

    `lime` is `none`, `bare`, `covered` (sand lies over all of it) or `slaked`. ValueError for water on bare lime,
    which spits and burns (safety.slaking): it is never drawn.
    """

    lime: Literal["none", "bare", "covered", "slaked"]
    water: bool = False
    steam: bool = False

    def __post_init__(self) -> None:
        if self.water and self.lime == "bare":
            raise ValueError("water on bare quicklime is the forbidden act: it is not drawn")


SCENES: Final[Mapping[str, Scene]] = {
    "ring": Scene("none"),
    "lime": Scene("bare"),
    "cover": Scene("covered"),
    "sprinkle": Scene("covered", water=True),
    "leave": Scene("covered", steam=True),
    "turn": Scene("slaked"),
    "screen": Scene("slaked"),
    "bank": Scene("slaked"),
}


def slaking(key: str) -> Picture:
    """A picture of a hot mix by its key in `SCENES`."""
    scene = SCENES[key]
    if scene.lime == "none":
        yield from _ring()
    elif scene.lime == "bare":
        yield from _ring()
        yield from lumps(_MIDDLE)
    elif scene.lime == "covered":
        yield from sand(_HEAPS[key])
        yield from _over(scene)
    else:
        yield from _LATER[key]()
    yield ground()


def _ring() -> Picture:
    """The ring of sand cut through: a heap on either side of a hollow."""
    yield from sand(mound(3.0, 12.0, 6.2))
    yield from sand(mound(20.0, 29.0, 6.2))


def _over(scene: Scene) -> Picture:
    """What happens to a covered heap: water, or steam and time, or the sand being drawn over the lime."""
    if scene.water:
        yield from can(17.0, 3.6)
        yield from drops(14.4, 4.2, 8.2)
    elif scene.steam:
        for x in (10.5, 14.5, 18.5):
            yield Polyline((*arc((x, 4.2), 0.9, 90, -90, 6), *arc((x, 2.4), 0.9, 90, 270, 6)), OUTLINE)
    else:
        # cut open: the lime lies low, with sand on every side
        yield from lumps(_MIDDLE)
        yield from arrow(arc((11.6, 8.6), 6.4, 190, 270, 10))
        yield from arrow(arc((20.4, 8.6), 6.4, -10, -90, 10))


def _turned() -> Picture:
    # from one heap to another, and back
    yield from sand(mound(2.4, 12.4, 5.6))
    yield from sand(mound(19.6, 29.6, 5.6))
    yield from arrow(arc((16.0, 8.8), 7.0, 215, 325, 14))
    yield from arrow(tuple((x, y + 3.6) for x, y in arc((16.0, 11.0), 6.4, 312, 228, 14)))


def _screened() -> Picture:
    # a screen leant on a prop: what passes lies behind it, what does not in front
    foot, head = (13.0, GROUND), (19.4, 1.8)
    yield Line(*head, 25.8, GROUND, OUTLINE)
    yield from sand(mound(15.8, 29.6, 5.2))
    steps = [(foot[0] + share * (head[0] - foot[0]), foot[1] + share * (head[1] - foot[1])) for share in _SHARES]
    for start, end in zip(steps[::2], steps[1::2], strict=True):
        yield Line(*start, *end, 1.1)
    for x, y in ((21.0, 5.6), (22.8, 6.6), (21.6, 7.6)):
        yield Circle(x, y, 0.3, 0.0, 0.0)
    for x, y, size in ((10.6, 1.0, 0.95), (8.2, 0.9, 0.85), (6.2, 0.8, 0.75), (9.4, 2.5, 0.8)):
        yield Polygon(lump(x, GROUND - y, size).points, THIN, 1.0)
    yield from arrow(((8.6, 6.6), (12.0, 5.2), (15.4, 5.8)))


def _banked() -> Picture:
    yield from sand(mound(6.5, 25.5, 7.4))
    yield from sheet(4.5, 27.5, 9.6)


_SHARES: Final = tuple(step / 15 for step in range(16))
_LATER: Final = {"turn": _turned, "screen": _screened, "bank": _banked}
