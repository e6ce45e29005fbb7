"""The drawing of a programme: each thing in its place and drawn as the key says, spans, names, pages, the key."""

from __future__ import annotations

import datetime
from itertools import pairwise

import pytest
from drawing.chart_reading import (
    assert_sound,
    bar_of,
    black_share,
    copied,
    diamonds,
    drawn,
    lines,
    rects,
    tasks_of,
    triangles,
    upright_lines,
)
from drawing.charts import (
    BARRED,
    COMPLETED,
    FRONT,
    MANY,
    ONE,
    REAR,
    SHORT,
    SIX,
    STARTED,
    WORDS,
    crowded,
    pages_of,
    run,
    winter,
)
from drawing.samples import labels, texts

from generator.drawing.model import Drawing, Line, bounds
from generator.drawing.programme_model import Chain, Chart, Dated, Ends, Page, Stretch, Task, Upright, Wall
from generator.values import replace

Day = datetime.date


@pytest.fixture(scope="module")
def six() -> tuple[Page, Drawing]:
    return drawn(SIX)


def test_months_and_weeks_stand_at_their_days(six: tuple[Page, Drawing]) -> None:
    page, drawing = six
    scale = page.scale
    at = {label.text: label.x for label in labels(drawing) if label.size_pt == 8.5 and label.bold}
    assert set(at) == {"April", "May 2027", "June", "July", "August", "September", "October"}
    assert at["October"] - at["June"] == pytest.approx((Day(2027, 10, 1) - Day(2027, 6, 1)).days * scale.day_mm)
    weeks = [label for label in labels(drawing) if label.size_pt == 8.5 and not label.bold]
    assert [label.text for label in weeks][:5] == ["19", "26", "3", "10", "17"]
    assert {round(b.x - a.x, 6) for a, b in pairwise(weeks)} == {round(7 * scale.day_mm, 6)}
    assert scale.first == Day(2027, 4, 19)
    assert scale.right - scale.left == pytest.approx(scale.days * scale.day_mm)


def test_no_name_of_a_month_touches_the_next_month() -> None:
    touching = []
    frost = replace(winter(2026), last=replace(winter(2026).last, ten=Day(2027, 5, 5)))  # shown from 26 April
    uprights = (STARTED, replace(COMPLETED, day=Day(2027, 7, 23)))
    chart = replace(ONE, walls=(Wall("Wall", ()),), uprights=uprights, winters=(frost,))
    for early in range(40):
        _, drawing = drawn(chart, 150.0 + early)
        names = [label for label in labels(drawing) if label.size_pt == 8.5 and label.bold]
        ticks = [line.x1 for line in lines(drawing) if line.x1 == line.x2 and line.weight_mm == 0.25]
        touching += [
            (early, name.text) for name in names
            if any(name.x < tick < name.x + name.width_mm + 0.5 for tick in ticks)
        ]  # fmt: skip
    assert touching == []


@pytest.mark.parametrize(("day", "is_behind"), [(Day(2027, 5, 4), True), (Day(2027, 5, 29), False)])
def test_the_name_of_a_month_stands_behind_a_day_that_would_cut_through_it(day: Day, is_behind: bool) -> None:
    page, drawing = drawn(replace(SIX, uprights=(Upright(("Start",), day),)))
    (name,) = (label for label in labels(drawing) if label.text == "May 2027")
    assert (name.x > page.scale.at(day)) is is_behind
    assert name.x == pytest.approx(page.scale.at(day if is_behind else Day(2027, 5, 1)), abs=1.2)


@pytest.mark.parametrize("day", [Day(2027, 5, 8), Day(2027, 5, 17)])
def test_the_year_stands_with_the_first_month_through_whose_name_no_day_cuts(day: Day) -> None:
    page, drawing = drawn(replace(SIX, uprights=(Upright(("Start",), day),)), 174.0)
    cut = page.scale.at(day)
    bold = [label for label in labels(drawing) if label.size_pt == 8.5 and label.bold]
    assert [label.text for label in bold if label.text.endswith(" 2027")] in (["May 2027"], ["June 2027"])
    assert not [label.text for label in bold if label.x < cut < label.x + label.width_mm]


def test_each_task_of_each_kind_is_drawn_as_the_key_says(six: tuple[Page, Drawing]) -> None:
    page, drawing = six
    seen = set()
    for task in tasks_of(SIX):
        rect = bar_of(task, page, drawing)
        over = drawing.primitives[drawing.primitives.index(rect) :]
        inner = [
            line for line in over
            if isinstance(line, Line)
            and rect.x - 0.01 <= min(line.x1, line.x2) and max(line.x1, line.x2) <= rect.x + rect.width + 0.01
            and rect.y - 0.01 <= min(line.y1, line.y2) and max(line.y1, line.y2) <= rect.y + rect.height + 0.01
        ]  # fmt: skip
        slopes = {"upright" if line.x1 == line.x2 else "slanted" for line in inner}
        assert slopes - {"upright"} == ({"slanted"} if task.kind == "cover" else set())
        if task.kind == "damp":
            assert len(inner) >= rect.width / 1.1 - 1
        if task.kind == "cover":
            assert len(inner) >= rect.width / (2.2 * 2**0.5) - 1
        seen.add(task.kind)
    assert seen == {"work", "wait", "damp", "cover"}


def test_works_of_one_chain_are_parted_by_white(six: tuple[Page, Drawing]) -> None:
    page, drawing = six
    boundary = page.scale.at(Day(2027, 7, 2))
    assert [rect for rect in rects(drawing, 1.0) if rect.width == 0.3 and rect.x == pytest.approx(boundary - 0.15)]


def test_a_hold_point_is_a_diamond_on_its_day(six: tuple[Page, Drawing]) -> None:
    page, drawing = six
    *middles, _ = ((bounds(part).left + bounds(part).right) / 2 for part in diamonds(drawing))
    days = [Day(2027, 6, 4), Day(2027, 6, 11), Day(2027, 7, 1), Day(2027, 7, 22)]
    # the last is that of the key
    assert middles == pytest.approx([page.scale.at(day) + page.scale.day_mm / 2 for day in days])


def test_hold_points_close_together_are_of_one_size_and_stand_on_two_rows_so_that_each_is_seen() -> None:
    holds = tuple(Day(2027, 6, day) for day in (1, 2, 20, 24))
    page, drawing = drawn(replace(SIX, walls=(Wall("Wall", (Chain((), holds),)),)), 174.0)
    boxes = [bounds(part) for part in diamonds(drawing)]
    assert {round(box.right - box.left, 6) for box in boxes} == {round(boxes[0].right - boxes[0].left, 6)}
    first, second, third, fourth, _ = ((box.left + box.right, box.top) for box in boxes)
    assert second[1] > first[1] == third[1] == fourth[1]
    assert abs(second[0] - first[0]) / 2 + second[1] - first[1] > boxes[0].right - boxes[0].left
    assert page.scale.day_mm < 1.0


def test_a_last_placing_is_a_triangle_at_the_end_of_its_day_with_its_date_beside(six: tuple[Page, Drawing]) -> None:
    page, drawing = six
    x = page.scale.after(Day(2027, 9, 15))
    (mark,) = [part for part in triangles(drawing, 0.0) if part.points[2][0] == pytest.approx(x)]
    (label,) = [label for label in labels(drawing) if label.text == "place by 15 Sept"]
    assert label.bold
    assert abs(label.x - x) < 3
    assert bounds(label).top < mark.points[2][1] < bounds(label).bottom + 1.5
    assert upright_lines(drawing, x, 0.5)


def test_start_and_completion_are_heavy_lines_through_all_rows_with_their_dates(six: tuple[Page, Drawing]) -> None:
    page, drawing = six
    scale = page.scale
    tall = {round(line.x1, 3): line for line in lines(drawing) if line.weight_mm == 0.7 and line.x1 == line.x2}
    assert set(tall) == {round(scale.at(Day(2027, 5, 17)), 3), round(scale.after(Day(2027, 10, 15)), 3)}
    assert len({line.y2 for line in tall.values()}) == 1
    assert all(line.y1 <= 0.1 for line in tall.values())
    heads = {label.text: label for label in labels(drawing) if label.bold and label.size_pt == 9.0}
    assert 0 < heads["Start, 17 May 2027"].x - scale.at(Day(2027, 5, 17)) < 2
    completion = heads["Completion, 15 October 2027"]
    assert 0 < scale.after(Day(2027, 10, 15)) - completion.x - completion.width_mm < 2


def test_each_winter_is_crossed_to_its_edges_and_edges_are_whole_dashed_and_dotted() -> None:
    page, drawing = drawn(MANY)
    scale = page.scale
    for year in (2027, 2028):
        first = winter(year).first
        assert upright_lines(drawing, scale.at(first.ten), 0.35)
        assert first.fifty is not None
        assert first.ninety is not None
        (dashed,) = [line for line in upright_lines(drawing, scale.at(first.fifty)) if line.dash[:1] == (1.6,)]
        (dotted,) = [line for line in upright_lines(drawing, scale.at(first.ninety)) if line.dash[:1] == (0.35,)]
        assert dashed.y2 == dotted.y2
    last = winter(2027).last
    assert upright_lines(drawing, scale.after(last.ten), 0.35)
    slanted = [line for line in lines(drawing) if line.weight_mm == 0.18 and line.x1 != line.x2 and line.y1 != line.y2]
    inside = [line for line in slanted if scale.at(Day(2027, 10, 20)) <= line.x1 <= scale.after(Day(2028, 5, 1))]
    assert len([line for line in inside if line.y2 > line.y1]) > 30
    assert len([line for line in inside if line.y2 < line.y1]) > 30
    summer = scale.after(Day(2027, 5, 1)) + 0.01, scale.at(Day(2027, 10, 20)) - 0.01
    foot = max(line.y2 for line in lines(drawing) if line.weight_mm == 0.7)
    assert not [line for line in slanted if summer[0] < line.x1 < summer[1] and line.y1 < foot]


def test_barred_days_are_lined_with_a_cross_and_both_stay_in_a_copy(six: tuple[Page, Drawing]) -> None:
    page, drawing = six
    foot = max(line.y2 for line in lines(drawing) if line.weight_mm == 0.7)
    copy = copied(drawing, 300)
    for first, last in BARRED:
        left, right = page.scale.at(first), page.scale.after(last)
        lined = [
            line for line in lines(drawing)
            if line.y1 == line.y2 and line.x1 == pytest.approx(left) and line.x2 == pytest.approx(right)
        ]  # fmt: skip
        assert lined[-1].y1 - lined[0].y1 > foot - lined[0].y1 - 2
        assert black_share(copy, (left + right) / 2 - 1, foot + 0.6, 2, 2) > 0.2
        kept = [line for line in lined if black_share(copy, left + 0.2, line.y1 - 0.3, right - left - 0.4, 0.6) > 0.2]
        # the others lie under bars and lettering
        assert len(kept) > len(lined) / 2


def test_the_chain_that_decides_is_framed_round_all_its_bars(six: tuple[Page, Drawing]) -> None:
    page, drawing = six
    chain = [bar_of(task, page, drawing) for task in REAR.chains[0].tasks]
    framed = [rect for rect in rects(drawing, 1.0) if rect.weight_mm == 0.7 and rect.width > 20]
    (frame,) = framed
    assert frame.x < chain[0].x
    assert frame.x + frame.width > chain[-1].x + chain[-1].width
    assert all(frame.y < bar.y - 1 and frame.y + frame.height > bar.y + bar.height + 1 for bar in chain)


def test_the_frame_of_a_chain_that_begins_with_the_works_does_not_begin_before_their_start() -> None:
    tasks = run(STARTED.day, ("work", 4, "up"), ("wait", 20, "dries"), decides=True)
    page, drawing = drawn(replace(SIX, walls=(Wall("Wall", (Chain(tasks),)),)))
    (frame,) = [rect for rect in rects(drawing, 1.0) if rect.weight_mm == 0.7 and rect.width > 10 and rect.height > 5.5]
    assert frame.x >= page.scale.at(STARTED.day)


def test_what_is_written_after_a_bar_stands_nearer_to_it_than_to_the_next() -> None:
    seen = 0
    for gap in range(30):
        damp, cover = run(Day(2027, 6, 1), ("damp", 2, "damp"), ("wait", gap, "-"), ("cover", 1 + gap % 3, ""))
        tasks = replace(damp, decides=True), cover
        page, drawing = drawn(replace(SIX, walls=(FRONT, Wall("Wall", (Chain(tasks),)))), 174.0)
        own, after = page.scale.after(tasks[0].last), page.scale.at(tasks[-1].first)
        bar = bar_of(tasks[0], page, drawing)
        beside = [label for label in labels(drawing) if label.text == "damp" and bar.y < label.y < bar.y + bar.height]
        seen += len(beside)
        for label in beside:
            assert label.x - own < after - label.x - label.width_mm
    assert seen


def test_days_in_hand_are_a_line_with_a_stop_at_their_end(six: tuple[Page, Drawing]) -> None:
    page, drawing = six
    end = page.scale.after(Day(2027, 10, 15))
    start = page.scale.at(Day(2027, 9, 25))
    (line,) = [line for line in lines(drawing) if line.y1 == line.y2 and line.x2 == pytest.approx(end)]
    assert start <= line.x1 < start + 2
    stop = [stop for stop in upright_lines(drawing, end, 0.5) if stop.y1 < line.y1 < stop.y2]
    assert len(stop) == 1
    assert "16 days" in texts(drawing)


def test_ends_are_a_whisker_from_the_early_to_the_late_with_the_likely_marked(six: tuple[Page, Drawing]) -> None:
    page, drawing = six
    assert FRONT.ends is not None
    early, likely, late = (page.scale.after(day) for day in (FRONT.ends.early, FRONT.ends.likely, FRONT.ends.late))
    (line,) = [line for line in lines(drawing) if line.dash and line.y1 == line.y2 and abs(line.x1 - early) < 0.01]
    assert line.x2 == pytest.approx(late)
    assert [rect for rect in rects(drawing, 0.0) if rect.width == 1.4 and rect.x + 0.7 == pytest.approx(likely)]
    assert not [text for text in texts(drawing) if text == WORDS.goes_on]


def test_an_end_that_goes_on_after_a_winter_has_an_arrow_and_no_stop_and_the_key_tells_it() -> None:
    assert FRONT.ends is not None
    wall = replace(FRONT, ends=replace(FRONT.ends, goes_on=True))
    (page,) = pages_of(Chart((wall,), SIX.uprights, SIX.winters), width_mm=250.0, height_mm=160.0, is_spread=True)
    drawing = page.drawing("one wall")
    late = page.scale.after(FRONT.ends.late)
    (line,) = [line for line in lines(drawing) if line.dash and line.y1 == line.y2 and line.x2 > late > line.x1]
    slanting = [each for each in lines(drawing) if each.y1 != each.y2 and each.x1 != each.x2]
    assert [each.y1 for each in slanting if each.x1 == pytest.approx(line.x2)] == [line.y1] * 2
    assert not [stop for stop in upright_lines(drawing, late, 0.01) if stop.y1 < line.y1 < stop.y2]
    assert WORDS.goes_on in " ".join(texts(drawing))


def test_a_day_that_cuts_through_gives_way_to_the_end_of_a_wall_that_runs_past_it() -> None:
    assert FRONT.ends is not None
    cut = FRONT.ends.likely + datetime.timedelta(days=1)
    past, short = (
        Upright(("Completion",), day, ends=True) for day in (cut, FRONT.ends.early - datetime.timedelta(days=9))
    )
    for upright, gaps in ((past, 1), (short, 0)):
        (page,) = pages_of(Chart((FRONT,), (upright,)), width_mm=250.0, height_mm=160.0, is_spread=True)
        drawing = page.drawing("one wall")
        late = page.scale.after(FRONT.ends.late)
        (line,) = [one for one in lines(drawing) if one.dash and one.y1 == one.y2 and abs(one.x2 - late) < 0.01]
        white = [one for one in rects(drawing, 1.0) if one.y < line.y1 < one.y + one.height]
        assert len(white) == gaps
        shown = [part for part in drawing.primitives if part in (*white, line)]
        assert shown[-1] == line


def test_access_is_a_line_with_two_stops_and_its_weeks(six: tuple[Page, Drawing]) -> None:
    page, drawing = six
    first, last = page.scale.at(Day(2027, 6, 28)), page.scale.after(Day(2027, 9, 23))
    (line,) = [line for line in lines(drawing) if (line.x1, line.x2) == pytest.approx((first, last))]
    assert line.y1 == line.y2
    assert all([stop for stop in upright_lines(drawing, x, 0.35) if stop.y1 < line.y1 < stop.y2] for x in (first, last))
    (label,) = [label for label in labels(drawing) if label.text == "scaffold 12.6 weeks"]
    assert first < label.x < label.x + label.width_mm < last


def test_a_panel_lies_below_the_works_it_runs_beside(six: tuple[Page, Drawing]) -> None:
    page, drawing = six
    dries, rakes = bar_of(FRONT.chains[1].tasks[1], page, drawing), bar_of(FRONT.chains[0].tasks[1], page, drawing)
    assert dries.y > rakes.y + rakes.height
    assert "panel, dry, answer" in texts(drawing) or "panel, dry" in texts(drawing)


def test_cover_that_begins_with_the_damp_days_is_shown_after_them_on_the_same_lane() -> None:
    damp, cover = (
        Task("damp", (), Day(2027, 6, 1), Day(2027, 6, 7)),
        Task("cover", (), Day(2027, 6, 1), Day(2027, 7, 5)),
    )
    page, drawing = drawn(Chart((Wall("Wall", (Chain((damp, cover)),)),)))
    below, above = bar_of(damp, page, drawing), bar_of(replace(cover, first=Day(2027, 6, 8)), page, drawing)
    assert below.y == above.y


def test_things_to_order_are_white_triangles_with_their_names(six: tuple[Page, Drawing]) -> None:
    page, drawing = six
    # the last is that of the key
    *places, _ = (part.points[0][0] for part in triangles(drawing, 1.0))
    assert places == pytest.approx([page.scale.at(order.day) + page.scale.day_mm / 2 for order in SIX.orders])
    assert all(any(name in texts(drawing) for name in order.names) for order in SIX.orders)


def test_three_weeks_number_every_monday_and_one_year_every_other() -> None:
    _, short = drawn(SHORT, 174.0)
    assert {"28", "5", "12", "19"} <= set(texts(short))
    year = replace(ONE, uprights=(STARTED, Upright(("Completion",), Day(2028, 4, 28), True)))
    page, drawing = drawn(year, 174.0)
    weeks = [label.x for label in labels(drawing) if label.size_pt == 8.5 and not label.bold]
    assert {round(b - a, 6) for a, b in pairwise(weeks)} == {round(14 * page.scale.day_mm, 6)}


def test_three_years_show_months_by_their_letters_and_years_above() -> None:
    years = replace(ONE, uprights=(STARTED, Upright(("Completion",), Day(2030, 5, 10), True)))
    _, drawing = drawn(years, 174.0)
    axis = [label.text for label in labels(drawing) if label.size_pt == 8.5]
    assert [text for text in axis if len(text) == 4] == ["2027", "2028", "2029", "2030"]
    assert "".join(text for text in axis if len(text) == 1)[:14] in "AMJJASONDJFMAMJJASONDJ"
    assert not [text for text in axis if text.isdigit() and len(text) < 4]


def test_a_crowd_of_works_is_named_in_order_under_one_name() -> None:
    _, drawing = drawn(crowded(), 174.0)
    told = " ".join(label.text for label in sorted(labels(drawing), key=lambda label: label.y) if "work" in label.text)
    numbers = [int(part) for part in told.replace("\u00a0", " ").replace(",", " ").split() if part.isdigit()]
    assert numbers == list(range(24))


def test_a_long_name_is_broken_or_cut_and_stays_on_the_page() -> None:
    long = "Raking out of the failed joints of the upper lift by hand with plugging chisels, then of the lower " * 3
    tasks = run(Day(2027, 6, 1), ("work", 3, long), ("wait", 2, long), ("cover", 3, long))
    wall = Wall(
        long, (Chain(tasks, placings=(Dated((long,), Day(2027, 6, 9)),)),), (long,),
        (Stretch((long,), Day(2027, 6, 1), Day(2027, 6, 8)),), Stretch((long,), Day(2027, 6, 10), Day(2027, 6, 11)),
    )  # fmt: skip
    orders = (Dated((long,), Day(2027, 5, 20)),)
    chart = Chart((wall,), (Upright((long,), Day(2027, 5, 30)),), orders=orders)
    _, drawing = drawn(chart, 174.0)
    assert_sound(drawing)
    assert [text for text in texts(drawing) if text.endswith("…")]


def test_pages_hold_the_walls_in_order_within_their_height_and_evenly() -> None:
    pages = pages_of(MANY, width_mm=265.0, height_mm=150.0)
    assert [wall.name for page in pages for wall in page.told.walls] == [wall.name for wall in MANY.walls]
    assert len(pages) >= 3
    assert all(page.height_mm <= 150.0 for page in pages)
    assert [page.scale for page in pages] == [pages[0].scale] * len(pages)
    whole = pages_of(MANY, width_mm=265.0, height_mm=3000.0)[0]
    assert len(pages_of(MANY, width_mm=265.0, height_mm=whole.height_mm)) == 1
    assert len(pages_of(MANY, width_mm=265.0, height_mm=whole.height_mm - 1)) == 2


def test_the_first_page_may_have_less_height_than_the_others() -> None:
    pages = pages_of(MANY, width_mm=265.0, height_mm=170.0, first_height_mm=100.0)
    assert pages[0].height_mm <= 100.0
    assert max(page.height_mm for page in pages) > 100.0


def test_a_row_higher_than_a_page_stays_whole_on_a_page_of_its_own() -> None:
    pages = pages_of(SIX, width_mm=265.0, height_mm=20.0)
    assert [len(page.told.walls) for page in pages] == [0, 1, 1, 1, 1, 1, 1]


def test_things_to_order_stand_on_the_first_page_alone() -> None:
    first, *others = pages_of(MANY, width_mm=265.0, height_mm=150.0)
    assert first.told.orders == MANY.orders
    assert all(page.told.orders == () for page in others)
    assert "Order by" in texts(first.drawing("x"))
    assert all("Order by" not in texts(page.drawing("x")) for page in others)


def test_the_key_says_what_is_shown_and_nothing_else() -> None:
    _, short = drawn(SHORT, 174.0)
    said = {text for text in texts(short) if text in vars_of(WORDS)}
    assert said == {WORDS.work, WORDS.damp}
    assert FRONT.ends is not None
    going_on = replace(FRONT, ends=replace(FRONT.ends, goes_on=True))
    _, six = drawn(replace(SIX, walls=(going_on, *SIX.walls[1:])))
    assert {text for text in texts(six) if text in vars_of(WORDS)} == vars_of(WORDS)


def test_the_key_stands_below_the_first_page_alone() -> None:
    first, *others = pages_of(MANY, width_mm=265.0, height_mm=150.0)
    keyed = [vars_of(WORDS) & set(texts(page.drawing("x"))) for page in (first, *others)]
    assert len(keyed[0]) > 5
    assert {*map(frozenset, keyed[1:])} <= {frozenset(), frozenset({WORDS.orders})}


def vars_of(words: object) -> set[str]:
    return {getattr(words, field) for field in type(words).__slots__}  # type: ignore[attr-defined]


def test_what_a_picture_tells_is_given_as_dates() -> None:
    page, _ = drawn(SIX)
    told = page.told
    assert (told.first, told.last) == (page.scale.first, page.scale.last)
    rear = next(wall for wall in told.walls if wall.name == "Rear wall")
    assert (rear.first, rear.last) == (Day(2027, 6, 28), Day(2027, 10, 12))
    assert rear.decides
    assert [placing.day for placing in rear.placings] == [Day(2027, 9, 8), Day(2027, 9, 29)]
    assert rear.holds == (Day(2027, 7, 22),)
    assert [wall.name for wall in told.walls if wall.decides] == ["Rear wall"]
    assert told.winters == SIX.winters
    assert told.barred == SIX.barred


def test_winters_beyond_the_days_shown_are_left_out() -> None:
    page, _ = drawn(SHORT)
    assert page.told.winters == ()
    far = replace(SHORT, winters=(winter(2020), winter(2030)))
    assert drawn(far)[0].scale == page.scale
    assert drawn(far)[0].told.winters == ()


def test_a_wall_without_tasks_has_its_row() -> None:
    chart = Chart((Wall("Tower", ()), Wall("Nave", (Chain(()),))), (STARTED,))
    page, drawing = drawn(chart)
    assert_sound(drawing)
    assert [(wall.name, wall.first) for wall in page.told.walls] == [("Tower", None), ("Nave", None)]


@pytest.mark.parametrize("width", [119.9, 420.1])
def test_widths_out_of_reason_are_refused(width: float) -> None:
    with pytest.raises(ValueError, match="valid 120 to 420"):
        pages_of(ONE, width_mm=width, height_mm=200.0)


def test_a_stretch_that_ends_before_it_begins_is_refused() -> None:
    day, before = Day(2027, 5, 2), Day(2027, 5, 1)
    for made in (
        lambda: Task("work", (), day, before), lambda: Stretch((), day, before), lambda: Ends(before, day, before),
        lambda: Ends(day, before, day), lambda: replace(ONE, barred=((day, before),)),
    ):  # fmt: skip
        with pytest.raises(ValueError, match="before it begins"):
            made()


def test_a_programme_without_a_date_is_refused() -> None:
    with pytest.raises(ValueError, match="without a date"):
        Chart((Wall("Wall", ()),))


def test_hold_points_without_tasks_have_a_line_of_their_own_below_the_bars() -> None:
    work = run(Day(2027, 6, 1), ("work", 1, "rake"), ("work", 1, "point"))
    holds = (Day(2027, 6, 1), Day(2027, 6, 2))
    page, drawing = drawn(Chart((Wall("Wall", (Chain((), holds), Chain(work))),)))
    foot = max(bar.y + bar.height for bar in (bar_of(task, page, drawing) for task in work))
    *shown, _ = diamonds(drawing)  # the last is that of the key
    assert len(shown) == 2
    assert all(bounds(diamond).top > foot for diamond in shown)
