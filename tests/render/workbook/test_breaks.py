"""Pages of a printed sheet: no title stands at the foot of one."""

from __future__ import annotations

import pytest

from generator.render.workbook.breaks import breaks_before, room_pt

HIGH = dict.fromkeys(range(100), 10.0)


def test_a_title_with_too_few_rows_below_it_starts_a_page() -> None:
    assert list(breaks_before({9}, 1, 16, HIGH, 100.0)) == [9]
    assert list(breaks_before({7}, 1, 16, HIGH, 100.0)) == [10]


def test_pages_are_counted_from_where_the_last_one_ended_with_the_repeated_head() -> None:
    # rows 1 to 9 below the head, then nine on each page
    assert list(breaks_before(set(), 1, 30, HIGH, 100.0)) == [10, 19, 28]
    assert list(breaks_before({18}, 1, 30, HIGH, 100.0)) == [10, 18, 27]
    assert list(breaks_before({16}, 1, 30, HIGH, 100.0)) == [10, 19, 28]
    assert list(breaks_before({9, 16}, 1, 30, HIGH, 100.0)) == [9, 16, 25]


def test_a_title_whose_rows_are_the_last_of_the_sheet_needs_no_more_than_there_are() -> None:
    assert list(breaks_before({8}, 1, 9, HIGH, 100.0)) == []


@pytest.mark.parametrize(("paper", "landscape"), [("a4", False), ("a4", True), ("letter", False), ("letter", True)])
def test_a_wide_sheet_has_more_rows_on_a_page_as_it_is_printed_smaller(paper: str, landscape: bool) -> None:
    narrow, wide = (room_pt(paper, points, landscape=landscape) for points in (400.0, 1500.0))
    assert wide > narrow
    assert room_pt(paper, 300.0, landscape=landscape) == narrow
