"""First and last frosts from a file of daily or hourly temperatures, told to the specifier who has to answer them."""

from __future__ import annotations

import csv
import datetime
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final, Literal

from generator.lime.driving_rain import BadRow
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
from generator.programme.weather import refused, said, weather_text
from generator.values import ISO, spoken

Unit = Literal["c", "f", "tenths"]

LEAST_HOURS: Final = 20
"""A day of which fewer readings stand in an hourly file may hide its least (common practice)."""

_DAYS: Final = ("date", "day", "time", "mess_datum", "datum")
_COLUMNS: Final[dict[str, Unit]] = {
    "min_c": "c", "tmin_c": "c", "temp_min": "c", "tnk": "c", "min_f": "f", "tmin_f": "f", "tn": "tenths",
    "temp_c": "c", "temperature_c": "c", "tt_tu": "c",
}  # fmt: skip
"""Columns whose unit their name or their publisher's own description tells (from memory for tn, tnk, tt_tu)."""

_MISSING: Final = ("", "-999", "-999.0", "-9999", "na", "nan")


@dataclass(frozen=True, slots=True)
class Minima:
    """The least temperature of each day of a file, with the column it was read from and the rows passed over."""

    days: tuple[tuple[datetime.date, float], ...]
    column: str
    unit: Unit
    bad: tuple[BadRow, ...]


def chosen(unit: str, half: str) -> tuple[Unit | None, Half]:
    """Unit and half of the world as they were typed. ValueError for others."""
    if unit not in ("", "c", "f", "tenths"):
        raise ValueError(f"unit is '{unit}': valid c, f, tenths")
    if half not in ("north", "south"):
        raise ValueError(f"half is '{half}': valid north, south")
    return (unit or None), half  # type: ignore[return-value]


def read_minima(path: Path, column: str = "", unit: Unit | None = None) -> Minima:
    """The least of each day in a comma-, semicolon- or tab-separated file with a heading.

    `column` and `unit` (C, F, or tenths of C) are taken where given, else known names. Raises `InputInvalid` where
    the file cannot be read, or its column or unit is not known: a unit is never guessed.
    """
    lines = [line for line in weather_text(path).splitlines() if line.strip() and not line.startswith("#")]
    heading = lines[0] if lines else ""
    separator = max(",;\t", key=heading.count)
    rows = csv.DictReader(lines, delimiter=separator, skipinitialspace=True)
    names = {name.strip().casefold(): name for name in rows.fieldnames or () if name}
    day = next((names[name] for name in _DAYS if name in names), None)
    if day is None:
        raise refused(path, "has no column of dates", f"name it one of: {', '.join(_DAYS)}")
    known = column.strip().casefold() or next((name for name in _COLUMNS if name in names), "")
    if known not in names:
        there = ", ".join(name.strip() for name in rows.fieldnames or ())
        raise refused(path, f"has no column of temperatures that is known; there are: {there}", "name it by --column")
    taken = unit or _COLUMNS.get(known)
    if taken is None:
        raise refused(path, f"does not say the unit of '{names[known].strip()}'", "say it by --unit: c, f or tenths")
    try:
        return _least(rows, day, names[known], taken)
    except (csv.Error, ValueError) as error:
        raise refused(path, f"row {rows.line_num}: {error}", "mend that row") from None


def _least(rows: csv.DictReader[str], day: str, column: str, unit: Unit) -> Minima:
    readings: dict[datetime.date, list[float]] = {}
    bad: list[BadRow] = []
    for row in rows:
        try:
            value = _degrees(row[column] or "", unit)
            if value is not None:
                readings.setdefault(_date(row[day] or ""), []).append(value)
        except ValueError as error:
            bad.append(BadRow(rows.line_num, str(error)))
    hourly = sum(map(len, readings.values())) > 2 * len(readings)
    whole = {date: found for date, found in readings.items() if not hourly or len(found) >= LEAST_HOURS}
    days = tuple((date, min(found)) for date, found in sorted(whole.items()))
    return Minima(days, column.strip(), unit, tuple(bad))


def _degrees(text: str, unit: Unit) -> float | None:
    plain = text.strip()
    if plain.casefold() in _MISSING:
        return None
    value = float(plain.replace(",", "."))
    celsius = (value - 32) / 1.8 if unit == "f" else value / 10 if unit == "tenths" else value
    return checked("least_c", celsius, *LEAST_LIMITS_C)


def _date(text: str) -> datetime.date:
    digits = text.strip()
    if digits.isdigit() and len(digits) in (8, 10):
        return datetime.datetime.strptime(digits[:8], "%Y%m%d").date()
    try:
        return datetime.date.fromisoformat(digits[:10].replace("/", "-"))
    except ValueError:
        raise ValueError(f"the date is '{digits}': valid as 2013-01-31, 2013/01/31 or 20130131") from None


def told(
    read: Minima, words: dict[str, str], chance_per_cent: float = 10, colder_c: float = 0.0, half: Half = "north"
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
    return [*found, words["frost-place"]]


def _read(read: Minima, record: Sequence[Winter], words: dict[str, str]) -> str:
    unit = words[f"frost-unit-{read.unit}"]
    begin, end = (spoken(day) for day in (read.days[0][0], read.days[-1][0])) if read.days else ("-", "-")
    return said(
        words["frost-read"], column=read.column, unit=unit, days=f"{len(read.days):,}", begin=begin, end=end,
        winters=str(len(record)),
    )  # fmt: skip


def _range(first: FrostSpread, last: FrostSpread, words: dict[str, str]) -> Iterator[str]:
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


def _chance(first: FrostSpread, last: FrostSpread, words: dict[str, str], per_cent: float) -> Iterator[str]:
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
