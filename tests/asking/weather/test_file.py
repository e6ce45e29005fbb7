"""Weather files as services publish them: headings, units, separators, prefaces, compass points, what is refused."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest
from command_line import run
from jobs import shipped

from generator.asking.weather.columns import bearing, column_of
from generator.asking.weather.file import WeatherFile, named_columns, read_file, told_columns
from generator.asking.weather.frost import minima_of
from generator.asking.weather.rain import WANTED, rows_of
from generator.files.errors import InputInvalid
from generator.lime.driving_rain import Hour

WORDS = shipped().words
HEADING = "time,wind_m_per_s,from_deg,rain_mm"
MORNING = datetime.datetime(2013, 1, 31, 13)


def file(folder: Path, *lines: str, named: tuple[str, ...] = ()) -> WeatherFile:
    path = folder / "weather.csv"
    path.write_text("".join(f"{line}\n" for line in lines), encoding="utf-8")
    return read_file(path, named_columns(named))


@pytest.mark.parametrize(
    ("lines", "hour"),
    [
        (["station,rain_mm,from_deg,wind_m_per_s,time", "X,1.5,270,4.5,2013-01-31T13:00"], (4.5, 270.0, 1.5)),
        (["STATIONS_ID;MESS_DATUM;  R1;FF;DD;eor", "433;2013013113; 1,5;4,5;270;eor"], (4.5, 270.0, 1.5)),
        (
            ["latitude,longitude", "54.1,-2.8", "", "time,precipitation (mm),wind_speed_10m (km/h),winddir (°)",
             "2013-01-31T13:00,1.5,18.0,270"],
            (5.0, 270.0, 1.5),
        ),
        (["date,hour,temp,prcp,wdir,wspd", "2013-01-31,13,4,1.5,270,18.0"], (5.0, 270.0, 1.5)),
        (["ob_time,mean_wind_dir,mean_wind_speed,prcp_amt", "2013-01-31 13:00:00,270,10,0.2"], (5.144, 270.0, 0.2)),
        (["valid\tsknt\tdrct\tp01i", "2013-01-31 13:00\t10\t270\t0.1"], (5.144, 270.0, 2.54)),
        (["time,wind [mph],from,rain [in]", "2013/01/31 13:00Z,10,WSW,T"], (4.4704, 247.5, 0.0)),
        (["# station of the hill", HEADING, "2013-01-31T13:00,0,,2"], (0.0, 0.0, 2.0)),
    ],
    ids=["ours", "semicolons", "preface", "date-and-hour", "knots", "inches", "compass-and-trace", "calm"],
)  # fmt: skip
def test_forms_of_publishers_are_read_in_their_units(
    lines: list[str], hour: tuple[float, float, float], tmp_path: Path
) -> None:
    read = rows_of(file(tmp_path, *lines))
    (found,) = read.hours
    assert (read.bad, found.when) == ((), MORNING)
    assert (found.wind_m_per_s, found.from_deg, found.rain_mm) == pytest.approx(hour, abs=0.001)


@pytest.mark.parametrize(
    ("text", "degrees"),
    [
        ("N", 0.0),
        ("nne", 22.5),
        ("North-West", 315.0),
        ("south south west", 202.5),
        ("225", 225.0),
        ("VRB", None),
        ("", None),
    ],
)
def test_points_of_the_compass_are_bearings(text: str, degrees: float | None) -> None:
    assert bearing(text) == degrees


@pytest.mark.parametrize(
    ("heading", "quantity", "unit"),
    [
        ("wind_speed", "wind", ""), ("Wind Speed (m/s)", "wind", "m/s"), ("wind_speed_kmh", "wind", "km/h"),
        ("rain_mm", "rain", "mm"), ("temperature_2m (°C)", "temperature", "c"), ("TN", "least", "tenths"),
        ("tmin_f", "least", "f"), ("temp_max", "greatest", "c"),
    ],
)  # fmt: skip
def test_a_unit_is_taken_from_the_heading_or_its_publisher_and_never_guessed(
    heading: str, quantity: str, unit: str
) -> None:
    found = column_of(heading)
    assert found is not None
    assert (found.quantity, found.unit) == (quantity, unit)


@pytest.mark.parametrize("heading", ["humidity", "station", "wind_gust", "rainy", ""])
def test_what_is_not_known_is_no_column(heading: str) -> None:
    assert column_of(heading) is None


def test_columns_of_names_that_are_not_known_can_be_named_with_their_unit(tmp_path: Path) -> None:
    named = ("wind=Speed:kn", "from=Bearing", "rain=Fall:mm")
    read = rows_of(file(tmp_path, "time,Speed,Bearing,Fall", "2013-01-31T13:00,10,SW,1", named=named))
    assert read.hours == (Hour(MORNING, 10 * 1852 / 3600, 225.0, 1.0),)


@pytest.mark.parametrize(
    ("row", "why"),
    [
        ("2013-01-01T02:00,468.5,310,0", "wind_m_per_s is 468.5: valid from 0 to 75"),
        ("2013-01-01T02:00,much,310,0", "wind is 'much': valid as a number"),
        ("2013-01-01T02:00,5,VRB,0", "from is 'VRB': valid from 0 to 360, or a point of the compass such as NNE"),
        ("2013-01-01T02:00,5,370,0", "from_deg is 370.0: valid from 0 to 360"),
        ("2013-01-01T02:00,5,310,-1", "rain_mm is -1.0: valid from 0 to 400"),
        ("1 January,5,310,0", "the time is '1 January': valid as 2013-01-31T13:00, 2013/01/31 13:00 or 2013013113"),
        ("2012-12-31T23:00,5,310,0", "time is 2012-12-31 23:00:00: valid from 2013-01-01 01:00:00 up"),
    ],
)
def test_a_bad_row_is_left_out_and_told_by_its_number(row: str, why: str, tmp_path: Path) -> None:
    read = rows_of(file(tmp_path, HEADING, "2013-01-01T01:00,5,310,0", row, "2013-01-01T03:00,5,310,0"))
    assert [(bad.row, bad.why) for bad in read.bad] == [(3, why)]
    assert len(read.hours) == 2


@pytest.mark.parametrize("row", ["2013-01-01T02:00,NA,310,0", "2013-01-01T02:00,5,,0", "2013-01-01T02:00,5,310"])
def test_an_hour_in_which_nothing_was_recorded_is_counted_and_is_no_mistake(row: str, tmp_path: Path) -> None:
    read = rows_of(file(tmp_path, HEADING, "2013-01-01T01:00,5,310,0", row))
    assert (read.bad, read.missing_nr, len(read.hours)) == ((), 1, 1)


def test_the_reading_is_told(tmp_path: Path) -> None:
    read = file(tmp_path, "preface", "MESS_DATUM;FF;DD;R1", "2013013113;4,5;270;1")
    assert told_columns(read, WANTED, WORDS) == (
        "Read 1 rows below the heading in line 2, parted by ';': time from 'MESS_DATUM'; wind from 'FF' in m/s; "
        "where it comes from from 'DD'; rain from 'R1' in mm."
    )


@pytest.mark.parametrize(
    ("lines", "named", "words"),
    [
        (["a,b", "1,2"], (), "has no column of dates or times that is known"),
        (["time,wind_m_per_s", "2013-01-01T01:00,5"], (), "has no column that is known as from, rain; there are: time"),
        (["time,ws", "2013-01-01T01:00,5"], ("wind=speed",), "has no column 'speed'; there are: time, ws"),
    ],
)
def test_a_file_that_lacks_what_is_wanted_is_refused(
    lines: list[str], named: tuple[str, ...], words: str, tmp_path: Path
) -> None:
    with pytest.raises(InputInvalid, match=words):
        rows_of(file(tmp_path, *lines, named=named))


def test_a_column_that_does_not_say_what_it_holds_is_wrong_use() -> None:
    with pytest.raises(ValueError, match="write one of time, hour, wind, from, rain"):
        named_columns(["FF:kn"])


def test_month_means_are_told_by_whole_hourly_days_or_by_least_and_greatest(tmp_path: Path) -> None:
    days = [datetime.date(2013, 1, 1) + datetime.timedelta(day) for day in range(365)]
    daily = [f"{day},{day.month},{day.month + 4}" for day in days]
    assert minima_of(file(tmp_path, "date,tmin_c,tmax_c", *daily)).month_means_c == tuple(range(3, 15))
    assert minima_of(file(tmp_path, "date,tmin_c", *(line.rpartition(",")[0] for line in daily))).month_means_c == ()


# --- one file, both told ----------------------------------------------------------------------------------


def hourly(folder: Path, heading: str = "time,wind_kmh,wind_dir,rain_mm,temp_c") -> Path:
    hours = (datetime.datetime(2012, 7, 1) + datetime.timedelta(hours=hour) for hour in range(2 * 365 * 24))
    rows = (f"{when.isoformat()},18,SW,0.1,{-2 if when.month in (12, 1) else 8}" for when in hours)
    path = folder / "weather.csv"
    path.write_text("\n".join([heading, *rows]), encoding="utf-8")
    return path


def test_one_run_tells_frost_and_driving_rain_of_one_file(tmp_path: Path) -> None:
    code, out, _ = run("weather", hourly(tmp_path), "--faces", "SSW")
    assert code == 0
    assert "Frost:\nRead 'temp_c' in degrees C" in out
    assert "first frosts from 1 December to 1 December" in out
    assert "Mean temperature of the months, January first" in out
    assert "Driving rain:\nRead 17,520 rows" in out
    assert "wind from 'wind_kmh' in km/h" in out
    assert "on a face to 202.5°" in out


def test_a_daily_file_tells_frost_and_what_it_lacks_for_rain(tmp_path: Path) -> None:
    path = tmp_path / "daily.csv"
    path.write_text("date,tmin_c\n2013-01-05,-1\n", encoding="utf-8")
    code, out, _ = run("weather", path, "--faces", "N")
    assert code == 0
    assert "No driving rain can be told of this file: " in out
    assert "it lacks wind, where it comes from, rain." in out


def test_without_a_face_the_way_to_driving_rain_is_told(tmp_path: Path) -> None:
    _, out, _ = run("weather", hourly(tmp_path))
    assert out.endswith("say where the wall faces: --faces SW.\n")


def test_a_face_that_is_none_is_wrong_use(tmp_path: Path) -> None:
    code, out, err = run("rain", hourly(tmp_path), "--faces", "upward")
    assert (code, out) == (2, "")
    assert err.startswith("faces is 'upward': valid 0 to 360 degrees from north, or a point of the compass")
