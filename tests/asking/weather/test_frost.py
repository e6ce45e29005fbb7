"""First and last frosts from a weather file: published records, what is passed over, and what is refused."""

from __future__ import annotations

import datetime
from importlib import util
from pathlib import Path
from statistics import NormalDist, fmean, stdev

import pytest
from jobs import shipped

from generator.asking.weather.columns import Column
from generator.asking.weather.file import read_file
from generator.asking.weather.frost import Minima, chosen, minima_of, told
from generator.files.errors import InputInvalid
from generator.lime.season import days_into_winter, month_day
from generator.values import MonthDay

WORDS = dict(shipped().words)


def file(folder: Path, *lines: str) -> Path:
    path = folder / "minima.csv"
    path.write_text("".join(f"{line}\n" for line in lines), encoding="utf-8")
    return path


def winters(firsts: list[int], lasts: list[int]) -> Minima:
    """Whole winters from 1981 on, each with frost on two days: November and so many days, and March likewise."""
    days: dict[datetime.date, float] = {}
    for year, (first, last) in enumerate(zip(firsts, lasts, strict=True), start=1981):
        begin = datetime.date(year, 7, 1)
        days |= {begin + datetime.timedelta(day): 5.0 for day in range((datetime.date(year + 1, 7, 1) - begin).days)}
        days[datetime.date(year, 11, 1) + datetime.timedelta(first)] = -1.0
        days[datetime.date(year + 1, 3, 1) + datetime.timedelta(last)] = 0.0
    return Minima(tuple(sorted(days.items())), "min_c", "c", ())


def test_a_published_record_is_read_as_it_is_and_tells_a_range_where_winters_are_few() -> None:
    # seattle-weather of vega_datasets 0.9.0, daily, 2012 to 2015: first frosts 10, 21, 12 and 23 November; last
    # frosts 19 March, 4 March, 9 February and 4 March (counted apart from this code)
    spec = util.find_spec("vega_datasets")
    assert spec is not None
    assert spec.origin is not None
    read = minima_of(read_file(Path(spec.origin).parent / "_data" / "seattle-weather.csv"))
    assert (read.column, read.unit, len(read.days), read.bad) == ("temp_min", "c", 1461, ())
    told_ = " ".join(told(read, WORDS))
    assert "first frosts from 10 November to 23 November, last from 9 February to 19 March" in told_
    assert "early_frost: 11-10 and late_frost: 03-19" in told_


def test_with_twenty_winters_the_day_of_the_chance_is_told() -> None:
    firsts, lasts = [*range(20), 4, 15], [*range(22)]
    days = [days_into_winter(MonthDay(11, 1), "north") + day for day in firsts]
    expected = month_day(int(NormalDist(fmean(days), stdev(days)).inv_cdf(0.1)), "north")
    (_, answer, _) = told(winters(firsts, lasts), WORDS)
    assert f"early_frost: {expected.month:02d}-{expected.day:02d}" in answer
    assert "in 10 of 100 autumns" in answer


def test_a_colder_place_has_frost_on_milder_days() -> None:
    mild = winters([10] * 3, [10] * 3)
    assert "first frosts from 11 November" in " ".join(told(mild, WORDS))
    assert "first frosts from 1 July" in " ".join(told(mild, WORDS, colder_c=5.0))


def test_of_an_hourly_file_the_least_of_each_whole_day_is_taken(tmp_path: Path) -> None:
    whole = [f"2013-01-05T{hour:02d}:00,{hour - 4}" for hour in range(24)]
    part = [f"2013-01-06T{hour:02d}:00,-9" for hour in range(3)]
    read = minima_of(read_file(file(tmp_path, "time,temp_c", *whole, *part)))
    assert read.days == ((datetime.date(2013, 1, 5), -4.0),)


@pytest.mark.parametrize(
    ("heading", "row", "least"),
    [
        ("date,min_f", "2013-01-05,14", -10.0),
        ("STAID; DATE; TN; Q_TN", "1; 20130105; -23; 0", -2.3),
        ("MESS_DATUM;TNK;eor", "20130105;-2,3;eor", -2.3),
        ("day\tmin_c", "2013-01-05\t1.5", 1.5),
    ],
)
def test_forms_of_publishers_are_read_with_their_unit(heading: str, row: str, least: float, tmp_path: Path) -> None:
    ((_, found),) = minima_of(read_file(file(tmp_path, heading, row))).days
    assert found == pytest.approx(least)


def test_what_is_missing_is_no_row_and_what_cannot_be_read_is_counted_and_told(tmp_path: Path) -> None:
    read = minima_of(
        read_file(file(tmp_path, "date,min_c", "2013-01-05,-999", "2013-01-06,cold", "x,1", "2013-01-07,999"))
    )
    assert read.days == ()
    assert [bad.row for bad in read.bad] == [3, 4, 5]
    assert told(read, WORDS)[1].startswith("3 rows passed over; the first is row 3")
    assert told(read, WORDS)[-1] == WORDS["frost-no-winter"]


@pytest.mark.parametrize(
    ("lines", "column", "words"),
    [
        (["a,b", "1,2"], "", "has no column of dates"),
        (["date,cold", "2013-01-05,1"], "", "has no column of temperatures that is known; there are: date, cold"),
        (["date,cold", "2013-01-05,1"], "cold", "does not say the unit of 'cold'"),
        ([], "", "has no column of dates"),
    ],
)
def test_a_file_that_does_not_say_what_it_holds_is_refused(
    lines: list[str], column: str, words: str, tmp_path: Path
) -> None:
    with pytest.raises(InputInvalid, match=words):
        minima_of(read_file(file(tmp_path, *lines), [Column("least", column, "")] if column else []))


def test_unit_and_half_of_the_world_are_of_a_few_words() -> None:
    assert chosen("", "south") == (None, "south")
    with pytest.raises(ValueError, match="valid c, f, tenths"):
        chosen("k", "north")
    with pytest.raises(ValueError, match="valid north, south"):
        chosen("c", "east")
