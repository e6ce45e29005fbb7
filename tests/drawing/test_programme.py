"""The drawing of a programme: each thing in its place, nothing over lettering, a copy that keeps it, pages, the key."""

from __future__ import annotations

import datetime
import io
from dataclasses import replace
from itertools import pairwise

import pytest
from drawing.charts import (
    BARRED,
    CHARTS,
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
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from generator.drawing.model import Box, Drawing, Label, Line, Polygon, Primitive, Rect, bounds
from generator.drawing.png import png
from generator.drawing.programme_model import (
    Chain,
    Chart,
    Dated,
    Ends,
    Kind,
    Page,
    Stretch,
    Task,
    Upright,
    Wall,
)
from generator.drawing.svg import svg

Day = datetime.date
KINDS: tuple[Kind, ...] = ("work", "wait", "damp", "cover")
WIDTHS = {"A4 lying": 265.0, "A4 upright": 174.0, "Letter lying": 247.4, "Letter upright": 179.9}
NEAR_MM = 0.2
every = pytest.mark.parametrize("chart", CHARTS.values(), ids=CHARTS)
widths = pytest.mark.parametrize("width", WIDTHS.values(), ids=WIDTHS)


def drawn(chart: Chart, width: float = 265.0, height: float = 2000.0) -> tuple[Page, Drawing]:
    """A programme on one page."""
    (page,) = pages_of(chart, width_mm=width, height_mm=height)
    return page, page.drawing("A programme.")


def touch(a: Box, b: Box, by: float = 0.01) -> bool:
    return a.left < b.right - by and b.left < a.right - by and a.top < b.bottom - by and b.top < a.bottom - by


def name(primitive: Primitive) -> str:
    return primitive.text if isinstance(primitive, Label) else type(primitive).__name__


def assert_sound(drawing: Drawing) -> None:
    """Fails unless all lies on the page, and nothing touches lettering: lettering, what is drawn after it, solid signs.

    What lies under lettering is kept off it by the white ground drawn with the lettering.
    """
    placed = [(part, bounds(part)) for part in drawing.primitives]
    page = Box(0.0, 0.0, drawing.width_mm, drawing.height_mm)
    assert [name(part) for part, box in placed if not within(box, page)] == []
    solid = [(part, box) for part, box in placed if isinstance(part, Polygon) or getattr(part, "fill", 1.0) == 0.0]
    for place, (part, box) in enumerate(placed):
        if isinstance(part, Label):
            over = [name(other) for other, its in placed[place + 1 :] if touch(box, its)]
            assert (part.text, over) == (part.text, [])
            assert (part.text, [name(other) for other, its in solid if touch(box, its)]) == (part.text, [])


def within(inner: Box, outer: Box) -> bool:
    across = outer.left <= inner.left and inner.right <= outer.right
    return across and outer.top <= inner.top and inner.bottom <= outer.bottom


def rects(drawing: Drawing, fill: float | None) -> list[Rect]:
    return [part for part in drawing.primitives if isinstance(part, Rect) and part.fill == fill]


def lines(drawing: Drawing) -> list[Line]:
    return [part for part in drawing.primitives if isinstance(part, Line)]


def upright_lines(drawing: Drawing, x: float, weight: float | None = None) -> list[Line]:
    return [
        line for line in lines(drawing)
        if line.x1 == line.x2 and abs(line.x1 - x) < NEAR_MM and (weight is None or line.weight_mm == weight)
    ]  # fmt: skip


def diamonds(drawing: Drawing) -> list[Polygon]:
    return [part for part in drawing.primitives if isinstance(part, Polygon) and len(part.points) == 4]


def triangles(drawing: Drawing, fill: float) -> list[Polygon]:
    found = [part for part in drawing.primitives if isinstance(part, Polygon) and len(part.points) == 3]
    return [part for part in found if part.fill == fill]


def bar_of(task: Task, page: Page, drawing: Drawing) -> Rect:
    """The one bar of a task, found by where its days must lie."""
    left, right = page.scale.at(task.first), page.scale.after(task.last)
    fill = 0.0 if task.kind == "work" else 1.0
    (found,) = [
        rect for rect in rects(drawing, fill)
        if abs(rect.x - left) <= NEAR_MM and abs(rect.x + rect.width - right) <= NEAR_MM and rect.height > 4
    ]  # fmt: skip
    return found


def tasks_of(chart: Chart) -> list[Task]:
    return [task for wall in chart.walls for chain in wall.chains for task in chain.tasks]


# --- what holds for every programme ---


@every
@widths
def test_all_lies_on_the_page_and_nothing_touches_lettering(chart: Chart, width: float) -> None:
    for page in pages_of(chart, width_mm=width, height_mm=170.0):
        assert page.width_mm == width
        assert_sound(page.drawing("A programme."))


@every
def test_lettering_is_of_nine_points_names_of_walls_of_ten_and_axes_of_eight_and_a_half(chart: Chart) -> None:
    page, drawing = drawn(chart)
    below = {label.size_pt for label in labels(drawing) if label.x >= page.scale.left}
    assert below == {8.5, 9.0}
    assert {label.size_pt for label in labels(drawing)} <= {8.5, 9.0, 10.0}


@every
def test_the_same_programme_gives_the_same_bytes(chart: Chart) -> None:
    first, second = ([page.drawing("x") for page in pages_of(chart, width_mm=174.0, height_mm=150.0)] for _ in "12")
    assert [svg(drawing) for drawing in first] == [svg(drawing) for drawing in second]
    assert png(first[0], 72) == png(second[0], 72)


@every
@widths
def test_every_task_has_its_bar_within_a_fifth_of_a_millimetre(chart: Chart, width: float) -> None:
    page, drawing = drawn(chart, width)
    for task in {(task.kind, task.first, task.last): task for task in tasks_of(chart)}.values():
        left, right = page.scale.at(task.first), page.scale.after(task.last)
        found = [
            rect for rect in rects(drawing, 0.0 if task.kind == "work" else 1.0)
            if abs(rect.x - left) <= NEAR_MM
            and (abs(rect.x + rect.width - right) <= NEAR_MM or rect.width == pytest.approx(0.35))
        ]  # fmt: skip
        assert found, task


@every
@widths
def test_every_work_is_named(chart: Chart, width: float) -> None:
    for page in pages_of(chart, width_mm=width, height_mm=170.0):
        written = " ".join(texts(page.drawing("x"))).replace("\u00a0", " ")
        told = {wall.name for wall in page.told.walls}
        for wall in chart.walls:
            works = [task for chain in wall.chains for task in chain.tasks if task.kind == "work" and wall.name in told]
            assert all(any(name in written for name in task.names) for task in works)


@every
def test_no_work_is_told_as_unnamed_and_every_wait_without_a_name_is(chart: Chart) -> None:
    page, drawing = drawn(chart, 174.0)
    written = " ".join(texts(drawing)).replace("\u00a0", " ")
    for told, wall in zip(page.told.walls, chart.walls, strict=True):
        assert all(task.kind != "work" for task in told.unnamed)
        tasks = [task for chain in wall.chains for task in chain.tasks]
        assert set(told.unnamed) <= set(tasks)
        assert all(any(name in written for name in task.names) for task in set(tasks) - set(told.unnamed) if task.names)


@every
def test_a_copy_at_seventy_per_cent_keeps_bars_hatches_diamonds_and_lettering(chart: Chart) -> None:
    _, drawing = drawn(chart)
    copy = copied(drawing, 300)
    for rect in rects(drawing, 0.0):
        if rect.width > 0.8:
            assert black_share(copy, rect.x + 0.2, rect.y + 0.2, rect.width - 0.4, rect.height - 0.4) > 0.5
    for polygon in [*diamonds(drawing), *triangles(drawing, 1.0), *triangles(drawing, 0.0)]:
        box = bounds(polygon)
        assert black_share(copy, box.left, box.top, box.right - box.left, box.bottom - box.top) > 0.15
    for label in labels(drawing):
        box = bounds(label)
        assert black_share(copy, box.left, box.top, box.right - box.left, box.bottom - box.top) > 0.06, label


def copied(drawing: Drawing, dpi: int) -> tuple[Image.Image, float]:
    """A copy in black and white at a threshold of 70 %, with its pixels to the mm."""
    with Image.open(io.BytesIO(png(drawing, dpi))) as image:
        return image.convert("L").point([0] * 179 + [255] * 77), dpi / 25.4


def black_share(copy: tuple[Image.Image, float], x: float, y: float, width: float, height: float) -> float:
    """The share of black in a part of a copy."""
    image, scale = copy
    part = image.crop((round(x * scale), round(y * scale), round((x + width) * scale), round((y + height) * scale)))
    return part.histogram()[0] / (part.width * part.height)


# --- six walls in a season ---


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


def test_each_task_of_each_kind_is_drawn_as_the_key_says(six: tuple[Page, Drawing]) -> None:
    page, drawing = six
    seen = set()
    for task in tasks_of(SIX):
        rect = bar_of(task, page, drawing)
        inner = [
            line for line in lines(drawing)
            if rect.x - 0.01 <= min(line.x1, line.x2) and max(line.x1, line.x2) <= rect.x + rect.width + 0.01
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


def test_barred_days_are_grey_with_a_cross_and_the_cross_stays_in_a_copy(six: tuple[Page, Drawing]) -> None:
    page, drawing = six
    greys = [rect for rect in rects(drawing, 0.87) if rect.height > 20]
    assert [rect.x for rect in greys] == pytest.approx([page.scale.at(first) for first, _ in BARRED])
    assert [rect.x + rect.width for rect in greys] == pytest.approx([page.scale.after(last) for _, last in BARRED])
    copy = copied(drawing, 300)
    for rect in greys:
        foot = rect.y + rect.height + 1.6
        assert black_share(copy, rect.x + rect.width / 2 - 1, foot - 1, 2, 2) > 0.2
    # between the rows nothing but the grey lies on Whit Monday's week: it is gone, and nothing else with it
    grey = greys[0]
    assert black_share(copy, grey.x + 0.2, grey.y + grey.height - 0.9, grey.width - 0.4, 0.5) == 0


def test_the_chain_that_decides_is_framed_round_all_its_bars(six: tuple[Page, Drawing]) -> None:
    page, drawing = six
    chain = [bar_of(task, page, drawing) for task in REAR.chains[0].tasks]
    framed = [rect for rect in rects(drawing, 1.0) if rect.weight_mm == 0.7 and rect.width > 20]
    (frame,) = framed
    assert frame.x < chain[0].x
    assert frame.x + frame.width > chain[-1].x + chain[-1].width
    assert all(frame.y < bar.y - 1 and frame.y + frame.height > bar.y + bar.height + 1 for bar in chain)


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


def test_things_to_order_are_white_triangles_with_their_names(six: tuple[Page, Drawing]) -> None:
    page, drawing = six
    # the last is that of the key
    *places, _ = (part.points[0][0] for part in triangles(drawing, 1.0))
    assert places == pytest.approx([page.scale.at(order.day) + page.scale.day_mm / 2 for order in SIX.orders])
    assert all(any(name in texts(drawing) for name in order.names) for order in SIX.orders)


# --- spans, names, pages ---


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
    long = (
        "Raking out of the failed joints of the upper lift by hand with plugging chisels, then of the lower " * 3
    )
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
    _, six = drawn(SIX)
    assert {text for text in texts(six) if text in vars_of(WORDS)} == vars_of(WORDS)


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


# --- any programme ---

days = st.dates(Day(2026, 11, 1), Day(2029, 6, 1))
names = st.lists(st.text("abc defgh ijk-lmn", min_size=1, max_size=24), max_size=3).map(tuple)
lengths = st.integers(0, 40).map(lambda days: datetime.timedelta(days=days))


def stretches(kind: type) -> st.SearchStrategy[object]:
    return st.builds(lambda names, first, length: kind(names, first, first + length), names, days, lengths)


def chains() -> st.SearchStrategy[Chain]:
    steps = st.tuples(st.sampled_from(KINDS), lengths, names, st.booleans(), lengths)

    @st.composite
    def chain(draw: st.DrawFn) -> Chain:
        day, tasks = draw(days), []
        for kind, length, named, decides, gap in draw(st.lists(steps, max_size=9)):
            day += gap if gap.days > 30 else datetime.timedelta(0)
            tasks.append(Task(kind, named, day, day + length, decides))
            day += length + datetime.timedelta(days=1)
        placings = draw(st.lists(st.builds(Dated, names, days), max_size=2).map(tuple))
        return Chain(tuple(tasks), tuple(draw(st.lists(days, max_size=3))), placings)

    return chain()


def walls() -> st.SearchStrategy[Wall]:
    ends = st.tuples(days, lengths, lengths).map(lambda e: Ends(e[0], e[0] + e[1], e[0] + e[1] + e[2]))
    return st.builds(
        Wall, st.text("Wall of stone", max_size=40), st.lists(chains(), max_size=3).map(tuple), names,
        st.lists(stretches(Stretch), max_size=3).map(tuple), st.none() | stretches(Stretch), st.none() | ends,
    )  # fmt: skip


def charts() -> st.SearchStrategy[Chart]:
    uprights = st.lists(st.builds(Upright, names, days, st.booleans(), st.booleans()), min_size=1, max_size=4)
    barred = st.lists(st.tuples(days, lengths).map(lambda b: (b[0], b[0] + b[1])), max_size=4)
    return st.builds(
        Chart, st.lists(walls(), max_size=4).map(tuple), uprights.map(tuple),
        st.lists(st.integers(2025, 2029), max_size=4, unique=True).map(lambda years: tuple(map(winter, years))),
        barred.map(tuple), st.lists(st.builds(Dated, names, days), max_size=5).map(tuple),
    )  # fmt: skip


def assert_drawn_soundly(chart: Chart, width: float, height: float) -> None:
    pages = pages_of(chart, width_mm=width, height_mm=height)
    assert [wall.name for page in pages for wall in page.told.walls] == [wall.name for wall in chart.walls]
    for page in pages:
        assert_sound(page.drawing("A programme."))


any_programme = given(charts(), st.sampled_from([*WIDTHS.values(), 120.0, 420.0]), st.floats(60.0, 400.0))


@settings(max_examples=25, deadline=None)
@any_programme
def test_any_programme_is_drawn_soundly(chart: Chart, width: float, height: float) -> None:
    assert_drawn_soundly(chart, width, height)


@pytest.mark.slow
@settings(max_examples=1500, deadline=None)
@any_programme
def test_a_great_many_programmes_are_drawn_soundly(chart: Chart, width: float, height: float) -> None:
    assert_drawn_soundly(chart, width, height)
