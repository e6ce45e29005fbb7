"""Labour: published hours for lime work, as ranges, each with its source.

Most are old or single cases: new, flat house work at trade pace, or one owner's log. They check a price or
a programme; they never set one. Confidence of a source: R read, Rt read on a supplier's or contractor's
page, M from memory, X computed from the figures named.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, Literal

from generator.lime.limits import checked
from generator.values import Range, Struct

DAY_HOURS: Final = 8.0  # stated for three-coat and two-coat plaster; assumed where a source says only a day
M2_PER_YD2: Final = 0.83612736  # exact
M2_PER_FT2: Final = 0.09290304  # exact
LATHS_PER_M2: Final = 1500.0 / (100.0 * M2_PER_YD2)  # 1500 laths in 100 square yards, estimating handbook (R)

Quantity = Literal["m2", "batch"]


class Task(Struct, frozen=True):
    """Published hours of work for one square metre or one batch, from whom, and how sure."""

    hours_per_unit: Range[float]
    unit: Quantity
    source: str
    confidence: str


def _one(hours: float) -> Range[float]:
    return Range(hours, hours, hours)


def _between(low: float, high: float) -> Range[float]:
    return Range(low, (low + high) / 2.0, high)


def _day_output(people: int, least_m2: float, most_m2: float) -> Range[float]:
    """Hours a square metre from what so many people do in a day."""
    return _between(people * DAY_HOURS / most_m2, people * DAY_HOURS / least_m2)


_LOG: Final = "one barn owner's log, 2008, 70 m2 of rubble"
_HANDBOOK: Final = "Cyclopedia of Architecture, Carpentry and Building (about 1907), flat new work"
_PER_100_YD2: Final = DAY_HOURS / (100.0 * M2_PER_YD2)
_BY_HAND: Final = 1.0 / (14.0 * M2_PER_FT2)

TASKS: Final[Mapping[str, Task]] = MappingProxyType({
    "rubble: raking out": Task(_one(1.0), "m2", _LOG, "R"),
    "rubble: pointing": Task(_one(0.75), "m2", _LOG, "R"),
    "rubble: finishing": Task(_one(0.25), "m2", _LOG, "R"),
    "rubble: mixing": Task(_one(0.15), "m2", f"{_LOG}: 1 hour to 5 of pointing", "R"),
    "brick: raking and pointing, mason": Task(
        Range(_BY_HAND, DAY_HOURS / 3.5, DAY_HOURS / 2.0),
        "m2",
        "low: contractor's cost page, loose mortar, 14 ft2 an hour (Rt); high: 2 m2 a day, and likely "
        "3.5 m2, common practice, no published source",
        "Rt to M",
    ),
    "brick: raking and pointing, labourer": Task(_one(0.38), "m2", "contractor's cost page", "Rt"),
    "laths: fixing": Task(_day_output(1, 1200 / LATHS_PER_M2, 1500 / LATHS_PER_M2), "m2", _HANDBOOK, "R, X"),
    "three-coat plaster: plasterer": Task(
        Range(3.25 * _PER_100_YD2, 2 * DAY_HOURS / (45 * M2_PER_YD2), 2 * DAY_HOURS / (40 * M2_PER_YD2)),
        "m2",
        f"low: American estimating text, about 1900, 3 1/4 days for 100 yd2; else {_HANDBOOK}",
        "R, X",
    ),
    "three-coat plaster: helper": Task(
        _day_output(1, 40 * M2_PER_YD2, 50 * M2_PER_YD2), "m2", _HANDBOOK, "R, X"
    ),
    "two-coat plaster: plasterer": Task(
        _day_output(2, 60 * M2_PER_YD2, 70 * M2_PER_YD2), "m2", _HANDBOOK, "R, X"
    ),
    "two-coat plaster: helper": Task(
        _day_output(1, 60 * M2_PER_YD2, 70 * M2_PER_YD2), "m2", _HANDBOOK, "R, X"
    ),
    "thick undercoat by hand": Task(_day_output(1, 15.0, 20.0), "m2", "plasterers' page, cement work", "Rt"),
    "sprayed NHL render": Task(_one(DAY_HOURS / 100.0), "m2", "NHL producer: 100 m2 a man-day", "Rt"),
    "mixing NHL mortar": Task(
        _between(10 / 60, 25 / 60), "batch", "importer, 10 min or more; trade guide, 5 and 20 min", "Rt"
    ),
    "knocking up premixed mortar": Task(_between(20 / 60, 30 / 60), "batch", "supplier, bell mixer", "Rt"),
})  # fmt: skip


def labour_hours(task: str, quantity: float) -> Range[float]:
    """The hours of work for a quantity of a task of `TASKS`.

        hours = quantity * published hours

    Hours of one person, for m2 or batches as the task says. The sources are trade pace on plain work; what
    conservation work takes more is judgement without a source, and the caller's. Valid for quantities from 0
    up; ValueError below. Source: as each task names. Worked: 70 m2 of rubble pointing at 0.75 are 52.5 hours.

    >>> labour_hours("rubble: pointing", 70.0).likely
    52.5
    """
    if task not in TASKS:
        raise ValueError(f"task is {task}: valid {'; '.join(TASKS)}")
    return TASKS[task].hours_per_unit.times(checked("quantity", quantity, 0.0))
