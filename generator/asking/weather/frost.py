"""First and last frosts from a file of daily or hourly temperatures, told to the specifier who has to answer them."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping, Sequence
from statistics import fmean
from typing import Final, Literal

from generator.asking.weather.columns import Quantity
from generator.asking.weather.file import BadRow, WeatherFile, refused, said
from generator.lime.frost import (
    LEAST_LIMITS_C,
    FrostSpread,
    Winter,
    early_frost,
    first_frosts,
    last_frosts,
    late_frost,
    winters,
)
from generator.lime.limits import checked
from generator.lime.season import Half
from generator.values import ISO, Struct, replace, rounded, spoken

Unit = Literal["c", "f", "tenths"]

MONTHS: Final = 12
LEAST_DAYS: Final = 28
LEAST_HOURS: Final = 20
"""A day of which fewer readings stand in an hourly file may hide its least (common practice)."""


class Minima(Struct, frozen=True):
    """The least temperature of each day of a file, with the column it was read from and the rows passed over.

    `month_means_c` are the means of the months, January first, where the file tells them.
    """

    days: tuple[tuple[datetime.date, float], ...]
    column: str
    unit: Unit
    bad: tuple[BadRow, ...]
    month_means_c: tuple[float, ...] = ()


def chosen(unit: str, half: str) -> tuple[Unit | None, Half]:
    """Unit and half of the world as they were typed. ValueError for others."""
    if unit not in ("", "c", "f", "tenths"):
        raise ValueError(f"unit is '{unit}': valid c, f, tenths")
    if half not in ("north", "south"):
        raise ValueError(f"half is '{half}': valid north, south")
    return (unit or None), half  # type: ignore[return-value]


def minima_of(read: WeatherFile, unit: Unit | None = None) -> Minima:
    """The least of each day: of its least temperatures, or of its readings where a whole day has them.

    Raises `InputInvalid` where the file has no temperatures, or does not tell their unit: it is never guessed.
    """
    quantity: Quantity = "least" if "least" in read.columns else "temperature"
    if quantity not in read.columns:
        there = ", ".join(read.headings)
        what = f"has no column of temperatures that is known; there are: {there}"
        raise refused(read.path, what, "name it by --column")
    taken = replace(read.columns[quantity], unit=unit or read.columns[quantity].unit)
    if not taken.unit:
        raise refused(read.path, f"does not say the unit of '{taken.name}'", "say it by --unit: c, f or tenths")
    return _least(replace(read, columns={**read.columns, quantity: taken}), quantity)


def _least(read: WeatherFile, quantity: Quantity) -> Minima:
    readings: dict[datetime.date, list[float]] = {}
    bad: list[BadRow] = []
    for number, cells in read.rows:
        try:
            value = read.value(cells, quantity)
            if value is not None:
                least = checked("least_c", value, *LEAST_LIMITS_C)
                readings.setdefault(read.when(cells).date(), []).append(least)
        except ValueError as error:
            bad.append(BadRow(number, str(error)))
    hourly = sum(map(len, readings.values())) > 2 * len(readings)
    whole = {date: found for date, found in readings.items() if not hourly or len(found) >= LEAST_HOURS}
    days = tuple((date, min(found)) for date, found in sorted(whole.items()))
    means = {date: fmean(found) for date, found in whole.items()} if hourly else _between(read, quantity, whole)
    column = read.columns[quantity]
    return Minima(days, column.name, column.unit, tuple(bad), _month_means(means))  # type: ignore[arg-type]


def _between(
    read: WeatherFile, quantity: Quantity, least: Mapping[datetime.date, Sequence[float]]
) -> dict[datetime.date, float]:
    """The mean of each day as half its least and greatest together (common practice), where both are recorded."""
    if quantity != "least" or "greatest" not in read.columns or not read.columns["greatest"].unit:
        return {}
    found: dict[datetime.date, float] = {}
    for _, cells in read.rows:
        try:
            day, greatest = read.when(cells).date(), read.value(cells, "greatest")
        except ValueError:
            continue
        if greatest is not None and day in least:
            found[day] = (min(least[day]) + greatest) / 2
    return found


def _month_means(means: Mapping[datetime.date, float]) -> tuple[float, ...]:
    """The mean of each month, January first; none where a month has less than a month of days."""
    by_month: dict[int, list[float]] = {}
    for day, mean in means.items():
        by_month.setdefault(day.month, []).append(mean)
    if len(by_month) < MONTHS or any(len(days) < LEAST_DAYS for days in by_month.values()):
        return ()
    return tuple(fmean(by_month[month]) for month in range(1, MONTHS + 1))


def told(
    read: Minima, words: Mapping[str, str], chance_per_cent: float = 10, colder_c: float = 0.0, half: Half = "north"
) -> list[str]:
    """What the record says, in sentences, with the two answers that it gives, or a range where winters are few.

    Raises ValueError for a chance or a difference of temperature outside its limits.
    """
    record = winters(read.days, colder_c, half)
    first, last = first_frosts(record, half), last_frosts(record, half)
    found = [_read(read, record, words)]
    if read.bad:
        why = read.bad[0]
        found.append(said(words["frost-bad"], count=f"{len(read.bad):,}", row=str(why.row), why=why.why))
    if not first.winters_nr or not last.winters_nr:
        return [*found, words["frost-no-winter"]]
    found += (
        _range(first, last, words)
        if first.few_winters or last.few_winters
        else _chance(first, last, words, chance_per_cent)
    )
    if read.month_means_c:
        means = ", ".join(f"{rounded(mean):f}" for mean in read.month_means_c)
        found.append(said(words["frost-means"], means=means))
    return [*found, words["frost-place"]]


def _read(read: Minima, record: Sequence[Winter], words: Mapping[str, str]) -> str:
    unit = words[f"weather-unit-{read.unit}"]
    begin, end = (spoken(day) for day in (read.days[0][0], read.days[-1][0])) if read.days else ("-", "-")
    return said(
        words["frost-read"], column=read.column, unit=unit, days=f"{len(read.days):,}", begin=begin, end=end,
        winters=str(len(record)),
    )  # fmt: skip


def _range(first: FrostSpread, last: FrostSpread, words: Mapping[str, str]) -> Iterator[str]:
    count = str(min(first.winters_nr, last.winters_nr))
    autumns, springs = first.range(), last.range()
    if autumns is None or springs is None:
        yield said(words["frost-none"], winters=count)
        return
    (first_least, first_most), (last_least, last_most) = autumns, springs
    spread = [spoken(day) for day in (first_least, first_most, last_least, last_most)]
    yield said(
        words["frost-few"], winters=count, a=spread[0], b=spread[1], c=spread[2], d=spread[3],
        early=spoken(first_least, spelling=ISO), late=spoken(last_most, spelling=ISO),
    )  # fmt: skip


def _chance(first: FrostSpread, last: FrostSpread, words: Mapping[str, str], per_cent: float) -> Iterator[str]:
    early, late = early_frost(first, per_cent / 100), late_frost(last, per_cent / 100)
    if early is None or late is None:
        yield said(words["frost-never"], chance=f"{per_cent:g}", winters=str(first.winters_nr))
        return
    told_days = {
        "early": spoken(early, spelling=ISO),
        "late": spoken(late, spelling=ISO),
        "a": spoken(early),
        "b": spoken(late),
    }
    yield said(words["frost-days"], chance=f"{per_cent:g}", winters=str(first.winters_nr), **told_days)
