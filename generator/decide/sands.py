"""The blend of the sands on offer that comes nearest to the sand of the old mortar, in whole boxes."""

from __future__ import annotations

import re
from typing import Final

from generator.decide.model import Outcome, Reason, marks_of
from generator.errors import Raised
from generator.library.model import Library
from generator.lime.blending import Blend, SandOnOffer, choose_blend
from generator.lime.sand import Grading
from generator.questionnaire.facts import Facts, ScopePath

BOXES_AT_MOST: Final = 6
_POINT: Final = re.compile(r"([0-9]+(?:\.[0-9]+)?)\s*(?:mm)?\s*[: ]\s*([0-9]+(?:\.[0-9]+)?)\s*%?\Z")


def blend(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The boxes of each sand on offer that best fit the old mortar's grading, with the largest misfit."""
    wanted, offered = facts.get(path, "old_sand_passing"), facts.get(path, "sands_on_offer")
    if not isinstance(wanted, str) or not isinstance(offered, tuple) or not offered:
        return Outcome()
    try:
        target = grading(wanted)
        listed = [item for item in offered if isinstance(item, dict)]
        sands = [SandOnOffer(str(item["name"]), grading(str(item["passing"]))) for item in listed]
        choice = choose_blend(sands, target, boxes_at_most=BOXES_AT_MOST)
    except ValueError as error:
        marks = marks_of(facts, path, "old_sand_passing", "sands_on_offer")
        return Outcome(raised=(Raised("grading-not-read", path, (("why", str(error)),), (), marks),))
    worst = max(choice.by_grading.residuals, key=lambda item: abs(item.residual_per_cent))
    text = library.phrase(
        "sand-blend", boxes=_boxes(choice.by_grading, library), misfit=f"{abs(worst.residual_per_cent):.0f}",
        sieve=f"{worst.sieve_mm:g}",
    )  # fmt: skip
    reason = Reason("sand-blend", library.phrase("sand-blend-because"), ("common-practice",), "derived", "", (wanted,))
    return Outcome({"sand_blend": text}, reason)


def grading(text: str) -> Grading:
    """The grading in a text such as `4 100, 2 92, 1 74`. Raises ValueError for what is none."""
    found: dict[float, float] = {}
    for part in text.split(","):
        match = _POINT.match(part.strip())
        if match is None:
            raise ValueError(f"'{part.strip()}' is not a sieve in mm and a per cent, such as 2 92")
        found[float(match[1])] = float(match[2])
    return Grading.of(found)


def _boxes(chosen: Blend, library: Library) -> str:
    used = [(name, count) for name, count in zip(chosen.names, chosen.boxes, strict=True) if count]
    return " + ".join(
        library.phrase("box-of" if count == 1 else "boxes-of", count=str(count), what=name) for name, count in used
    )
