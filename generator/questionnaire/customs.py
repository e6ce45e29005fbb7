"""How a name or a figure goes into customary units, as files tell it where its unit alone does not."""

from __future__ import annotations

from typing import Annotated, Final, Literal, get_args

from generator.files.shapes import FILLED, Confidence, Number, Shape
from generator.values import NO_CUSTOMS, Customs, field

Kind = Literal["", "measured", "run", "volume", "cups", "up", "down", "difference", "hair", "metric", "both", "sieve"]
KINDS: Final = frozenset(get_args(Kind))


class Published(Shape, frozen=True):
    """A figure of the country itself, spelt with its unit: `40 °F`; `of` is the metric one that it stands for."""

    is_: str = field(name="is")
    sources: Annotated[tuple[str, ...], FILLED]
    confidence: Confidence
    of: Number | None = None
    because: str = ""


class Customary(Shape, frozen=True):
    """How something goes into customary units.

    `kind` says what it is where its unit does not: measured on the wall, a run that is priced, a volume of mortar, the
    least (`up`) or the most (`down`) of anything, a difference of temperatures; or that it stays metric, or has the
    metric beside it, or is told by the sieve of the country. `published` takes the place of what would be reckoned;
    `step` of a size that is chosen lies between those made.
    """

    kind: Kind = ""
    published: tuple[Published, ...] = ()
    step: Number | None = None

    def customs(self) -> Customs:
        """It as values are spelt by it."""
        return Customs(self.kind, tuple((each.of, each.is_) for each in self.published), self.step)

    def sources(self) -> tuple[str, ...]:
        """Every source that it names."""
        return tuple(dict.fromkeys(source for each in self.published for source in each.sources))


def customs_of(declared: Customary | None, kind: str, unit: str, *, asked: bool) -> Customs:
    """The customs of a name: as declared; else lengths that are asked for were measured, and metres are a run."""
    if declared is not None:
        return declared.customs()
    if kind not in ("number", "range"):
        return NO_CUSTOMS
    if unit == "mm" and asked:
        return Customs("measured")
    return Customs("run") if unit == "m" else NO_CUSTOMS


def customs_told(told: str) -> Customs:
    """The customs of a figure that an entry has for itself: a kind, or what it is there with its unit."""
    return Customs(told) if told in KINDS else Customs("", ((None, told),))
