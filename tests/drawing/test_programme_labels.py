"""Names above bars: whole, shortened, slid, on a second line with a leader, joined; cut where nothing else is left."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest

from generator.drawing.model import Label, Line, Rect, bounds
from generator.drawing.programme_labels import (
    APART_MM,
    LINE_MM,
    LONGEST_MM,
    Named,
    Shelves,
    Written,
    blocks,
    cut,
    draw_nearer,
    inside,
    name_all,
    named,
    rooms,
    width_of,
)

WIDE = (0.0, 200.0)


def put(*things: Named, avoided: tuple[tuple[tuple[float, float], float], ...] = ()) -> list[Written]:
    """The things named, from left to right."""
    shelves = Shelves(*WIDE, avoided)
    name_all(shelves, things)
    return sorted(shelves.written, key=lambda written: written.left)


def test_a_name_with_room_stands_at_the_left_of_its_bar() -> None:
    (written,) = put(Named(("rake out", "rake"), (40.0, 60.0)))
    assert (written.lines, written.left, written.level, written.lead) == (("rake out",), 40.0, 0, None)


def test_a_name_is_shortened_before_it_goes_on_a_second_line() -> None:
    room = width_of(["rake"]) + APART_MM + 0.1
    first, second = put(Named(("rake out", "rake"), (40.0, 42.0)), Named(("point",), (40.0 + room, 60.0)))
    assert (first.lines, first.level) == (("rake",), 0)
    assert (second.lines, second.level) == (("point",), 0)


def test_a_name_without_room_goes_on_a_second_line_with_a_leader_left_of_the_next() -> None:
    first, second = put(Named(("scaffold",), (40.0, 41.0)), Named(("rake",), (44.0, 60.0)))
    assert (first.level, second.level) == (1, 0)
    assert first.lead is not None
    assert 40.0 <= first.lead <= 41.0 < second.left


def test_names_on_one_line_stand_so_far_apart_that_they_do_not_read_as_one() -> None:
    room = width_of(["panel: pointing"]) + 1.3
    first, second = put(Named(("panel: pointing",), (40.0, 42.0)), Named(("up",), (40.0 + room, 60.0)))
    assert first.level != second.level or second.left - first.left - first.width > APART_MM - 0.001


def test_names_joined_are_broken_narrower_rather_than_across_a_line_that_cuts_through() -> None:
    shelves = Shelves(*WIDE, (((39.5, 40.5), 6.0),))
    shelves.written.append(Written(("dub",), 74.0, 3, lead=74.0))
    way = shelves.way(("up, trial, off, panel, panel, prepare",), (40.0, 62.0), range(3), joined=True)
    assert way is not None
    assert way.left > 40.5
    assert len(way.lines) > 1


def test_a_name_that_may_not_slide_begins_past_a_line_on_which_it_would_begin() -> None:
    shelves = Shelves(*WIDE, (((39.5, 40.5), 6.0),))
    way = shelves.way(("pictures",), (40.0, 44.0), range(1), slides=False)
    assert way is not None
    assert 40.5 < way.left < 42.0


def test_a_name_is_shortened_before_it_reaches_over_the_next_bar() -> None:
    way = Shelves(*WIDE).way(("pictures with the specifier", "pictures"), (40.0, 44.0), range(1), after=60.0)
    assert way is not None
    assert way.lines == ("pictures",)


def test_works_that_pass_into_one_another_are_joined_by_commas() -> None:
    (written,) = put(
        Named(("rake",), (40.0, 43.0), joined=True),
        Named(("point",), (43.0, 46.0), joined=True),
        Named(("flaunch",), (46.0, 49.0)),
    )
    assert written.lines == ("rake, point, flaunch",)
    assert written.left == 40.0


def test_joined_names_that_would_run_on_far_past_their_last_bar_stand_nearer_on_lines_of_their_own() -> None:
    things = [Named((f"{name} the whole",), (70 + 2 * at, 71 + 2 * at)) for at, name in enumerate(("rake", "pack"))]
    shelves = Shelves(*WIDE)
    name_all(shelves, [*things, Named(("strike",), (92.0, 93.0))])
    assert max(written.left + written.width for written in shelves.written if len(written.lines) == 1) > 95
    draw_nearer(shelves)
    joined, after = sorted(shelves.written, key=lambda written: len(written.lines))[::-1]
    assert joined.lines == ("rake\u00a0the\u00a0whole,", "pack\u00a0the\u00a0whole")
    assert after.lines == ("strike",)
    assert joined.left + joined.width < 92


def test_a_name_keeps_off_a_line_that_cuts_through_where_it_can() -> None:
    (written,) = put(Named(("rake",), (40.0, 60.0)), avoided=(((41.0, 42.0), 6.0),))
    assert written.left > 42.0
    (written,) = put(Named(("rake",), (40.0, 40.5)), avoided=(((41.0, 42.0), 6.0),))
    assert written.left + written.width < 41.0


def test_a_name_at_the_edge_stays_within_it() -> None:
    (written,) = put(Named(("rake",), (199.0, 200.0)))
    assert written.left + written.width == pytest.approx(200.0)


def test_however_many_things_stand_in_one_place_all_are_named_and_no_two_touch() -> None:
    things = [Named((f"number {place}",), (50.0 + place / 5, 50.2 + place / 5)) for place in range(30)]
    written = put(*things)
    told = " ".join(line for name in written for line in name.lines)
    assert all(f"number {place}" in told.replace("\u00a0", " ") for place in range(30))
    boxes = [bounds(part) for name in written for part in name.drawn(100.0, 101.0) if isinstance(part, Label)]
    for a, b in combinations(boxes, 2):
        assert a.right <= b.left or b.right <= a.left or a.bottom <= b.top or b.bottom <= a.top


def test_a_leader_never_runs_through_a_name() -> None:
    things = [
        Named((f"long name {place}", f"name {place}"), (20.0 + 6 * place, 23.0 + 6 * place)) for place in range(20)
    ]
    written = put(*things)
    assert any(name.lead is not None for name in written)
    for led in written:
        for other in written:
            if led.lead is not None and other.level < led.level:
                assert not other.left <= led.lead <= other.left + other.width


def test_a_name_is_drawn_on_white_line_under_line_its_leader_down_to_the_bar() -> None:
    written = Written(("one", "two"), 10.0, 1, lead=11.0)
    lines = [part for part in written.drawn(50.0, 52.0) if isinstance(part, Line)]
    labels = [part for part in written.drawn(50.0, 52.0) if isinstance(part, Label)]
    assert [(label.text, label.y) for label in labels] == [("one", 50.0 - 2 * LINE_MM), ("two", 50.0 - LINE_MM)]
    assert [(line.x1, line.y2) for line in lines] == [(11.0, 52.0)]
    assert len([part for part in written.drawn(50.0, 52.0) if isinstance(part, Rect) and part.fill == 1.0]) == 2


def test_a_long_name_takes_two_lines_and_one_that_needs_more_is_cut() -> None:
    (two,) = blocks(("Raking out of failed joints of the upper lift",), 200.0)
    assert len(two) == 2
    assert all(width_of([line], bold=True) <= LONGEST_MM for line in two)
    (three,) = blocks(("Raking out of failed joints of the upper lift " * 3,), 200.0)
    assert len(three) == 2
    assert three[-1].endswith("…")


def test_names_on_one_line_come_before_those_on_two() -> None:
    long = "Raking out of failed joints of the upper lift"
    assert [len(lines) for lines in blocks((long, "rake"), 200.0)] == [1, 2]


def test_a_text_that_fits_is_not_cut() -> None:
    assert cut("rake", 50.0) == "rake"
    assert cut("rake out by hand", 12.0).endswith("…")
    assert width_of([cut("rake out by hand", 12.0)], bold=True) <= 12.0
    assert cut("rake", 0.5) == "…"


def test_blank_names_say_nothing_and_kept_spaces_are_kept() -> None:
    assert named(("", "  ", "16\u00a0 days\n left", "16\u00a0 days left")) == ("16\u00a0 days left",)


def test_a_name_in_a_bar_stands_in_the_middle_of_the_widest_room() -> None:
    written = inside(("dry",), [(0.0, 5.0), (10.0, 30.0)])
    assert written is not None
    assert written.left + written.width / 2 == pytest.approx(20.0)
    assert inside(("drying of the panel",), [(0.0, 8.0)]) is None
    assert inside(("dry",), []) is None


def test_rooms_are_what_is_left_between() -> None:
    assert rooms((0.0, 10.0), [(4.0, 5.0), (-3.0, 1.0), (8.0, 12.0)]) == [(1.0, 4.0), (5.0, 8.0)]
    assert rooms((0.0, 10.0), [(0.0, 6.0), (2.0, 3.0)]) == [(6.0, 10.0)]
    assert rooms((0.0, 10.0), []) == [(0.0, 10.0)]
    assert all(a[1] <= b[0] for a, b in pairwise(rooms((0.0, 10.0), [(2.0, 4.0), (3.0, 5.0)])))
