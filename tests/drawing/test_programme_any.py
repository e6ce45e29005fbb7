"""What holds of every programme that is drawn: nothing touches lettering, bars stand at their days, copies keep all."""

from __future__ import annotations

import datetime

import pytest
from drawing.chart_reading import (
    NEAR_MM,
    assert_sound,
    black_share,
    copied,
    diamonds,
    drawn,
    rects,
    tasks_of,
    triangles,
)
from drawing.charts import CHARTS, pages_of, winter
from drawing.samples import labels, texts
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.drawing.model import bounds
from generator.drawing.png import png
from generator.drawing.programme_model import Chain, Chart, Dated, Ends, Kind, Stretch, Task, Upright, Wall
from generator.drawing.svg import svg

Day = datetime.date
KINDS: tuple[Kind, ...] = ("work", "wait", "damp", "cover")
WIDTHS = {"A4 lying": 265.0, "A4 upright": 174.0, "Letter lying": 247.4, "Letter upright": 179.9}
every = pytest.mark.parametrize("chart", CHARTS.values(), ids=CHARTS)
widths = pytest.mark.parametrize("width", WIDTHS.values(), ids=WIDTHS)


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
@settings(max_examples=400, deadline=None)
@any_programme
def test_a_great_many_programmes_are_drawn_soundly(chart: Chart, width: float, height: float) -> None:
    assert_drawn_soundly(chart, width, height)
