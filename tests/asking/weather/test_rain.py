"""Driving rain told to the specifier: the worked wall of the reference data, and what limits the figure."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest
from jobs import shipped

from generator.asking.weather.file import read_file
from generator.asking.weather.rain import HOURS_OF_A_YEAR, WallPlace, WeatherRows, hours_of, rows_of, told
from generator.files.errors import InputInvalid
from generator.values import replace

WORDS = dict(shipped().words)
PLACE = WallPlace(90.0, "III", 8.0, 0.0, 0.0, 20.0, "two-storey gable")


HEADING = "time,wind_m_per_s,from_deg,rain_mm"


def weather_rows(lines: list[str]) -> WeatherRows:
    """The rows of a file of these lines."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "weather.csv"
        path.write_text("\n".join(lines), encoding="utf-8")
        return rows_of(read_file(path))


def rows(hours: int = 48) -> list[str]:
    days = [f"2013-01-{1 + hour // 24:02d}T{hour % 24:02d}:00,5.0,90,1.0" for hour in range(hours)]
    return [HEADING, *days]


def test_the_class_and_the_limits_of_the_record_are_told() -> None:
    # 48 hours of 1 mm at 5 m/s head-on are 48 x 1.1111 l/m2 at the airfield (EN ISO 15927-3 kernel)
    lines = told(weather_rows(rows()), PLACE, WORDS)
    assert "53.3 l/m²" in lines[0]
    # times C_R 0.7224, O 0.4, W 0.4
    assert "6.2 l/m²" in lines[1]
    assert "sheltered" in lines[1]
    assert lines[2].startswith("Only 48 hours of record. A year has 8,760")
    assert "Ten are wanted" in lines[3]
    assert "never overrides position" in lines[4]


def weather(folder: Path, *times: str) -> Path:
    """A weather file with a row for each time."""
    path = folder / "weather.csv"
    path.write_text("".join(f"{line}\n" for line in [HEADING, *(f"{time},5.0,90,1.0" for time in times)]))
    return path


@pytest.mark.parametrize(
    ("times", "words"),
    [
        (
            ["2013-11-03T00:00", "2013-11-03T01:00", "2013-11-03T01:00", "2013-11-03T02:00"],
            "gives 2013-11-03T01:00:00 twice: give each hour once, in a time that has no summer time",
        ),
        (["2013-01-01T00:00"] * 3, "gives 2013-01-01T00:00:00 twice, and 1 other hours twice: give each hour once"),
        (
            ["2013-01-01T00:00", "2013-01-01T00:30", "2013-01-01T01:00"],
            "comes to 2013-01-01T00:30:00 0:30:00 after the row before: give a row for each hour: the mean of its wind",
        ),
        (["2013-01-01T00:00", "2013-01-01T01:00", "2013-01-01T02:10"], "comes to 2013-01-01T02:10:00 1:10:00 after"),
        (["2013-01-01T00:00", "2013-01-01T03:00", "2013-01-01T06:00"], "has rows 3:00:00 apart: give a row for each"),
        (["2013-01-01T00:00", "2013-01-02T00:00"], "has rows 1 day, 0:00:00 apart: give a row for each hour"),
    ],
)
def test_doubled_hours_and_steps_that_are_no_hours_are_refused(times: list[str], words: str, tmp_path: Path) -> None:
    with pytest.raises(InputInvalid) as caught:
        hours_of(read_file(weather(tmp_path, *times)))
    assert words in str(caught.value)


@pytest.mark.parametrize(
    "times",
    [
        ["2013-01-01T00:00"],
        ["2013-01-01T00:51", "2013-01-01T01:51", "2013-01-01T02:51"],
        ["2013-01-01T00:00", "2013-01-01T01:00", "2013-01-01T02:00", "2013-01-01T09:00", "2013-02-01T00:00"],
    ],
)
def test_hours_at_any_minute_with_some_missing_are_read(times: list[str], tmp_path: Path) -> None:
    assert len(hours_of(read_file(weather(tmp_path, *times))).hours) == len(times)


def test_no_more_than_fifty_rows_passed_over_are_told_and_the_rest_counted() -> None:
    lines = told(weather_rows([*rows(), *["2013-01-03T00:00,468.5,310,0"] * 1_234]), PLACE, WORDS)
    assert [line.startswith("row ") for line in lines[:51]] == [True] * 50 + [False]
    assert lines[50] == "and 1,184 rows more passed over"


def test_a_file_larger_than_a_century_is_refused_unread(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("generator.asking.weather.file.MOST_WEATHER_BYTES", 100)
    with pytest.raises(InputInvalid, match="is larger than 100 bytes, a century of hours: part it by years"):
        read_file(weather(tmp_path, "2013-01-01T00:00", "2013-01-01T01:00", "2013-01-01T02:00"))


def test_a_whole_year_is_not_called_short() -> None:
    year = [f"2013-{month:02d}-{day:02d}T12:00,5.0,90,1.0" for month in range(1, 13) for day in range(1, 29)]
    hours = [line.replace("T12", f"T{hour:02d}") for line in year for hour in range(24)]
    assert len(hours) < HOURS_OF_A_YEAR
    more = [f"2014-01-{day:02d}T{hour:02d}:00,5.0,90,1.0" for day in range(1, 31) for hour in range(24)]
    read = weather_rows([*rows(0), *hours, *more])
    assert len(read.hours) >= HOURS_OF_A_YEAR
    assert not any("hours of record" in line for line in told(read, PLACE, WORDS))


def test_a_row_that_cannot_be_used_is_told_and_passed_over() -> None:
    lines = told(weather_rows([*rows(), "2013-01-03T00:00,468.5,310,0"]), PLACE, WORDS)
    assert lines[0].startswith("row 50 passed over")


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "has no column of dates or times that is known: name it one of: date, day, time"),
        (b"time,rain_mm\n", "has no column that is known as wind, from; there are: time, rain_mm"),
        (b"time,wind,from,rain_mm\n", "does not say the unit of 'wind': say it by --column 'wind=wind:UNIT', with one"),
        (b"time,wind_m_per_s,from_deg,rain_mm\n", "has no hour of weather that can be used: write an hour a line"),
        (
            b"time,wind_m_per_s,from_deg,rain_mm\n2013-01-01T00:00,76,1,1\n",
            "that can be used; row 2: wind_m_per_s is 76.0: valid from 0 to 75",
        ),
        (b"time,wind_m_per_s,from_deg,rain_mm\n" + b"9" * 200_000 + b",1,1,1\n", "is not text parted by ','"),
        (bytes(range(256)), "is not UTF-8 text"),
        (None, "cannot be read (No such file or directory): check the path"),
    ],
)
def test_a_file_that_holds_no_weather_is_refused_by_name(tmp_path: Path, content: bytes | None, words: str) -> None:
    path = tmp_path / "weather.csv"
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(InputInvalid) as caught:
        hours_of(read_file(path))
    assert str(caught.value).startswith(f"{path}: ")
    assert words in str(caught.value)


@pytest.mark.parametrize("faces", [-1.0, 361.0, float("nan"), float("inf")])
def test_a_wall_that_faces_nowhere_is_refused(faces: float) -> None:
    with pytest.raises(ValueError, match="faces_deg"):
        told(weather_rows(rows()), replace(PLACE, faces_deg=faces), WORDS)
