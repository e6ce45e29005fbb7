from __future__ import annotations

import datetime

import pytest
from drawing.samples import BARS, SEASON, assert_sound, season_calendar, texts
from hypothesis import given
from hypothesis import strategies as st

from generator.drawing.calendar import Bar
from generator.drawing.model import Drawing, Line, Polygon, Rect, bounds

Day = datetime.date
YEAR = Day(2027, 1, 1)
LEFT, RIGHT = 40.0, 142.0


def place(day_of_year: int) -> float:
    """Where a day of an even month grid begins, near enough: months are drawn of equal width."""
    return LEFT + (RIGHT - LEFT) * day_of_year / 365


def season_rects(drawing: Drawing) -> list[Rect]:
    return [part for part in drawing.primitives if isinstance(part, Rect) and part.fill not in (None, 1.0)]


def bars(drawing: Drawing) -> list[Polygon]:
    return [part for part in drawing.primitives if isinstance(part, Polygon)]


def test_every_month_is_named_and_every_year_begun() -> None:
    written = texts(season_calendar(Day(2027, 3, 9), SEASON, None, ()))
    months = [text for text in written if len(text) == 3]
    assert months == ["Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec", "Jan", "Feb"]
    assert [text for text in written if text.isdigit()] == ["2027", "2028"]


def test_many_months_are_named_by_their_letters() -> None:
    written = texts(season_calendar(YEAR, SEASON, None, (), months=24))
    assert [text for text in written if len(text) == 1] == list("JFMAMJJASOND" * 2)


def test_the_season_is_filled_from_its_first_to_its_last_day() -> None:
    (season,) = season_rects(season_calendar(YEAR, SEASON, None, ()))
    assert season.x == pytest.approx(place(104), abs=1.0)
    assert season.x + season.width == pytest.approx(place(258), abs=1.0)


def test_a_whole_month_fills_a_whole_month() -> None:
    (season,) = season_rects(season_calendar(YEAR, ((Day(2027, 2, 1), Day(2027, 2, 28)),), None, ()))
    assert season.x == pytest.approx(LEFT + (RIGHT - LEFT) / 12)
    assert season.width == pytest.approx((RIGHT - LEFT) / 12)


def test_the_last_placing_is_marked_at_its_day_and_named() -> None:
    drawing = season_calendar(YEAR, SEASON, Day(2027, 9, 15), ())
    marks = {part.x1 for part in drawing.primitives if isinstance(part, Line) and part.dash}
    assert len(marks) == 1
    assert marks.pop() == pytest.approx(place(258), abs=1.0)
    assert "Last placing 15 September 2027" in texts(drawing)


def test_without_a_last_placing_none_is_marked() -> None:
    drawing = season_calendar(YEAR, SEASON, None, ())
    assert not [part for part in drawing.primitives if isinstance(part, Line) and part.dash]
    assert "Last placing none" in drawing.alt


def test_a_work_is_a_bar_from_its_first_to_its_last_day() -> None:
    (bar,) = bars(season_calendar(YEAR, SEASON, None, (Bar("Wall", Day(2027, 5, 1), Day(2027, 6, 30)),)))
    assert (bounds(bar).left, bounds(bar).right) == pytest.approx((74, 91))
    assert len(bar.points) == 4


def test_a_work_that_goes_on_beyond_the_strip_ends_in_a_point() -> None:
    beyond, before = bars(season_calendar(Day(2027, 3, 1), SEASON, None, BARS[1:3]))
    assert bounds(beyond).right == RIGHT
    assert bounds(before).left == LEFT
    assert len(beyond.points) == len(before.points) == 5


def test_a_work_outside_the_strip_is_said_to_be() -> None:
    drawing = season_calendar(Day(2027, 3, 1), SEASON, None, BARS[3:])
    assert bars(drawing) == []
    assert "outside these months" in texts(drawing)


def test_the_alternative_text_gives_every_date() -> None:
    alt = season_calendar(Day(2027, 3, 1), SEASON, Day(2027, 9, 15), BARS[:1]).alt
    assert alt == (
        "Calendar from 1 March 2027 to 29 February 2028. Safe season: 15 April 2027 to 15 September 2027. "
        "Last placing 15 September 2027. North wall: repoint: 3 May 2027 to 18 June 2027."
    )


@pytest.mark.parametrize("months", [0, 37])
def test_strips_out_of_reason_are_refused(months: int) -> None:
    with pytest.raises(ValueError, match="valid 1 to 36"):
        season_calendar(YEAR, SEASON, None, (), months=months)


def test_a_stretch_that_ends_before_it_begins_is_refused() -> None:
    with pytest.raises(ValueError, match="before it begins"):
        season_calendar(YEAR, ((Day(2027, 5, 2), Day(2027, 5, 1)),), None, ())
    with pytest.raises(ValueError, match="before it begins"):
        season_calendar(YEAR, SEASON, None, (Bar("Wall", Day(2027, 5, 2), Day(2027, 5, 1)),))


days = st.dates(Day(2026, 1, 1), Day(2030, 12, 31))
names = st.text(st.characters(exclude_categories=("Cc", "Cs", "Cn")), max_size=80)
works = st.builds(lambda name, pair: Bar(name, min(pair), max(pair)), names, st.tuples(days, days))


@given(days, days, st.lists(works, max_size=6), st.integers(1, 36))
def test_any_programme_is_drawn_soundly(
    start: datetime.date, placing: datetime.date, programme: list[Bar], months: int
) -> None:
    assert_sound(season_calendar(start, SEASON, placing, programme, months=months))
