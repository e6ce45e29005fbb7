"""The places where the cost of what a clause asks for can lie, as the clause tells it."""

from __future__ import annotations

from typing import Annotated, Any, Final

from generator.files.errors import did_you_mean, shown
from generator.files.shapes import Before, InJson, amiss

LINE, RATE, PRELIMINARIES, SUM = "line", "rate", "preliminaries", "sum"
PLACES: Final = (LINE, RATE, PRELIMINARIES, SUM)
"""Where a cost can lie: in a line of its own, inside the rate of a line, in the preliminaries, in a provisional sum."""

INFORMATION: Final = "information"
"""What costs nobody anything: it tells, or it says when something may begin."""

OPEN: Final = "open"
"""What nobody has said yet of a clause that was begun: papers with it are drafts."""

MEASURED_WORK: Final = "measured-work"
"""In the place of a line: every line of measured work, in whose rates it is."""

MIXED_WORK: Final = "mixed-work"
"""In the place of a line: every line of measured work that takes a mix."""

TOLD: Final = "'cost: {line: ITEM}', '{rate: ITEM}', '{preliminaries: ITEM}', '{sum: ITEM}' or 'cost: information'"
_WORDS: Final = (INFORMATION, OPEN)
ALL_RATES: Final = frozenset({MEASURED_WORK, MIXED_WORK})


def _cost(value: Any) -> str | dict[str, tuple[str, ...]]:
    if isinstance(value, str):
        if value not in _WORDS:
            raise amiss("cannot be {it}", f"say which line pays for it: {TOLD}")
        return value
    if not isinstance(value, dict) or not value:
        raise amiss("is {it}, where the place of a cost is wanted", f"write {TOLD}")
    if len(value) > 1:
        told = " and ".join(f"'{shown(str(key))}'" for key in value)
        raise amiss(f"lies in {len(value)} places, {told}", "leave one; what another line pays is a clause of its own")
    (place, lines), *_ = value.items()
    if place not in PLACES:
        raise amiss(f"lies in '{shown(str(place))}', which is no place", did_you_mean(str(place), PLACES))
    named = [lines] if isinstance(lines, str) else lines
    if not isinstance(named, list | tuple) or not named or not all(isinstance(name, str) for name in named):
        raise amiss(f"names no line under '{place}'", "name one line by its id, or several as [a, b]")
    return {place: tuple(named)}


_ITEMS: Final = {"anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}, "minItems": 1}]}
Cost = Annotated[
    str | dict[str, tuple[str, ...]],
    Before(_cost),
    InJson(
        {
            "anyOf": [
                {"enum": list(_WORDS)},
                {
                    "type": "object",
                    "properties": dict.fromkeys(PLACES, _ITEMS),
                    "additionalProperties": False,
                    "minProperties": 1,
                    "maxProperties": 1,
                },
            ]
        }
    ),
]
"""The place of a cost: `information`, `open`, or one of `PLACES` with the ids of the lines that pay."""
