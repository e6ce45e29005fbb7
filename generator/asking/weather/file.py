"""Weather files as services publish them: the heading is found, columns are known by name, values by their units."""

from __future__ import annotations

import csv
import datetime
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from generator.asking.weather.columns import FACTORS, QUANTITIES, UNITS, Column, Quantity, column_of, units_of
from generator.files.errors import InputInvalid, Mark, Problem
from generator.files.limits import MOST_WEATHER_BYTES
from generator.values import Struct

_SEPARATORS: Final = ",;\t|"
_MOST_PREFACE: Final = 400
"""Lines before the heading: what services write about the station and the licence."""

MISSING: Final = ("", "-999", "-999.0", "-9999", "-9999.0", "na", "nan", "null", "none", "m")
_TRACE: Final = ("t", "trace")
_DIGITS: Final = re.compile(r"(\d{4})(\d{2})(\d{2}):?(\d{2})?(\d{2})?\Z")


class BadRow(Struct, frozen=True):
    """A row of a weather file that was left out: its number in the file, the first being 1, and why."""

    row: int
    why: str


@dataclass(frozen=True, slots=True)
class WeatherFile:
    """A file as it was read: its columns by what they hold, and the cells of each row in the order of its columns."""

    path: Path
    columns: Mapping[Quantity, Column]
    separator: str
    heading: int
    headings: tuple[str, ...]
    rows: tuple[tuple[int, tuple[str, ...]], ...]
    _places: dict[Quantity, int] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        # asked of every cell of a century of hours
        object.__setattr__(self, "_places", {quantity: place for place, quantity in enumerate(self.columns)})

    def cell(self, cells: tuple[str, ...], quantity: Quantity) -> str:
        """What stands in a row under a column; "" where the file has none."""
        place = self._places.get(quantity)
        return "" if place is None else cells[place].strip()

    def value(self, cells: tuple[str, ...], quantity: Quantity) -> float | None:
        """A cell in m/s, mm or degrees C; None where nothing was recorded. ValueError for what is no figure."""
        text = self.cell(cells, quantity)
        spelt = text.casefold()
        if spelt in MISSING:
            return None
        if quantity == "rain" and spelt in _TRACE:
            return 0.0
        factor, added = FACTORS[self.columns[quantity].unit]
        try:
            return float(spelt.replace(",", ".")) * factor + added
        except ValueError:
            raise ValueError(f"{quantity} is '{text}': valid as a number") from None

    def when(self, cells: tuple[str, ...]) -> datetime.datetime:
        """The time of a row, without its zone. ValueError where it cannot be read in one way."""
        day, hour = self.cell(cells, "time"), self.cell(cells, "hour")
        return _when(f"{day} {hour.zfill(2)}:00" if hour.isdigit() else day)


def refused(path: Path, what: str, to_do: str) -> InputInvalid:
    """The mistake of a weather file as a whole."""
    return InputInvalid([Problem(Mark(str(path)), what, to_do)])


def weather_text(path: Path) -> str:
    """The text of a weather file. Raises `InputInvalid` where it cannot be read or is too large."""
    try:
        with path.open("rb") as stream:
            raw = stream.read(MOST_WEATHER_BYTES + 1)
        if len(raw) > MOST_WEATHER_BYTES:
            raise refused(path, f"is larger than {MOST_WEATHER_BYTES:,} bytes, a century of hours", "part it by years")
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise refused(path, "is not UTF-8 text", "save it as CSV in UTF-8") from None
    except OSError as error:
        reason = f"cannot be read ({error.strerror or error})"
        raise refused(path, reason, "check the path and its permissions") from None


def read_file(path: Path, named: Sequence[Column] = ()) -> WeatherFile:
    """A weather file; columns that are `named` are taken for what they are said to be, others by their names.

    Raises `InputInvalid` where it has no heading that can be known, or a column named is not there.
    """
    lines = weather_text(path).splitlines()
    at, separator, headings = _heading(path, lines, named)
    columns = _columns(path, headings, named)
    places = [headings.index(column.name) for column in columns.values()]
    try:
        rows = tuple(_rows(lines[at + 1 :], at + 2, separator, places))
    except csv.Error as error:
        raise refused(path, f"is not text parted by '{separator}' ({error})", "save it as CSV in UTF-8") from None
    return WeatherFile(path, columns, separator, at + 1, headings, rows)


def _rows(
    lines: Sequence[str], first: int, separator: str, places: Sequence[int]
) -> Iterator[tuple[int, tuple[str, ...]]]:
    read = csv.reader(lines, delimiter=separator, skipinitialspace=True)
    for cells in read:
        if any(cell.strip() for cell in cells) and not cells[0].startswith("#"):
            yield first + read.line_num - 1, tuple(cells[at] if at < len(cells) else "" for at in places)


def _heading(path: Path, lines: Sequence[str], named: Sequence[Column]) -> tuple[int, str, tuple[str, ...]]:
    """The line of the heading, its separator and its names: the first line that names a time beside another column."""
    times = {column.name.casefold() for column in named if column.quantity == "time"}
    for at, line in enumerate(lines[:_MOST_PREFACE]):
        separator = max(_SEPARATORS, key=line.count)
        cells = tuple(cell.strip().strip('"').strip() for cell in line.split(separator))
        if len(cells) > 1 and any(_is_time(cell, times) for cell in cells):
            return at, separator, cells
    to_do = "name it one of: date, day, time; or say --column time=NAME"
    raise refused(path, "has no column of dates or times that is known", to_do)


def _is_time(cell: str, times: set[str]) -> bool:
    found = column_of(cell)
    return cell.casefold() in times or (found is not None and found.quantity == "time")


def _columns(path: Path, headings: Sequence[str], named: Sequence[Column]) -> dict[Quantity, Column]:
    there = {heading.casefold(): heading for heading in headings}
    found: dict[Quantity, Column] = {}
    for asked in named:
        name = there.get(asked.name.strip().casefold())
        if name is None:
            raise refused(path, f"has no column '{asked.name}'; there are: {', '.join(headings)}", "name one of them")
        known = column_of(name)
        same = known if known is not None and known.quantity == asked.quantity else None
        found[asked.quantity] = Column(asked.quantity, name, asked.unit or (same.unit if same else ""))
    for heading in headings:
        known = column_of(heading)
        if known is not None and heading not in [column.name for column in found.values()]:
            found.setdefault(known.quantity, known)
    return found


def named_columns(texts: Sequence[str], usual: Quantity | None = None) -> list[Column]:
    """Columns as they were typed: `wind=FF:kn`; a name alone is the column of the usual quantity. ValueError."""
    return [_named(text, usual) for text in texts]


def _named(text: str, usual: Quantity | None) -> Column:
    kind, _, rest = text.partition("=") if "=" in text else (usual or "", "", text)
    quantity = next((one for one in QUANTITIES if one == kind.strip().casefold()), None)
    if quantity is None:
        known = ", ".join(QUANTITIES)
        raise ValueError(f"the column '{text}' does not say what it holds: write one of {known}, then =NAME")
    name, colon, unit = rest.rpartition(":")
    known_unit = UNITS.get(unit.strip().casefold(), "") if colon else ""
    if known_unit in units_of(quantity):
        return Column(quantity, name.strip(), known_unit)
    return Column(quantity, rest.strip(), "")


def lacking(read: WeatherFile, wanted: Sequence[Quantity]) -> InputInvalid | None:
    """What is wrong with a file of which some columns are wanted: one is not there, or does not tell its unit."""
    missing = [quantity for quantity in wanted if quantity not in read.columns]
    if missing:
        there = ", ".join(read.headings)
        what = f"has no column that is known as {', '.join(missing)}; there are: {there}"
        return refused(read.path, what, f"say which it is by --column {missing[0]}=NAME")
    for quantity in wanted:
        column = read.columns[quantity]
        if units_of(quantity) and not column.unit and quantity != "from":
            units = ", ".join(units_of(quantity))
            to_do = f"say it by --column '{quantity}={column.name}:UNIT', with one of {units}"
            return refused(read.path, f"does not say the unit of '{column.name}'", to_do)
    return None


def told_columns(read: WeatherFile, quantities: Sequence[Quantity], words: Mapping[str, str]) -> str:
    """How a file was read: from which columns what was taken, in which units."""
    parts = []
    for column in (read.columns[quantity] for quantity in quantities if quantity in read.columns):
        what, key = words[f"weather-{column.quantity}"], "weather-column-in" if column.unit else "weather-column"
        unit = words[f"weather-unit-{column.unit}"] if column.unit else ""
        parts.append(said(words[key], what=what, name=column.name, unit=unit))
    return said(
        words["weather-read"], columns="; ".join(parts), rows=f"{len(read.rows):,}", heading=str(read.heading),
        separator=words["weather-tab"] if read.separator == "\t" else f"'{read.separator}'",
    )  # fmt: skip


def said(text: str, **fills: str) -> str:
    """Words with their places filled."""
    for key, value in fills.items():
        text = text.replace(f"{{{key}}}", value)
    return text


def _when(text: str) -> datetime.datetime:
    spelt = text.strip()
    if found := _DIGITS.match(spelt):
        year, month, day, hour, minute = (int(part or 0) for part in found.groups())
        return datetime.datetime(year, month, day, hour, minute)
    try:
        when = datetime.datetime.fromisoformat(spelt.replace("/", "-"))
    except ValueError:
        raise ValueError(f"the time is '{spelt}': valid as 2013-01-31T13:00, 2013/01/31 13:00 or 2013013113") from None
    return when.replace(tzinfo=None)
