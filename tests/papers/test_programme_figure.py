"""The picture of the programme: bars by their dates, what decides, the dates of the tables, pages, what it tells."""

from __future__ import annotations

import datetime
from collections import Counter

import pytest
from answers_text import answers, one_wall, wall
from drawing.chart_reading import assert_sound, black_share, copied, diamonds, rects, tasks_of
from jobs import EXAMPLES, example, job, part, shipped

from generator.document.model import Block, Figure, Paragraph, Ref, plain_text
from generator.drawing.model import Drawing, Label, Rect
from generator.drawing.png import LARGE_DPI
from generator.drawing.programme import programme_pages
from generator.drawing.programme_model import Chart, Page, ProgrammeWords
from generator.drawing.programme_model import Task as Bar
from generator.job.job import Job
from generator.papers.assemble import assemble
from generator.papers.drawn import words_for
from generator.papers.figures import PROGRAMME
from generator.papers.programme import programme_tables
from generator.papers.programme_figure import HEIGHT_MM, WIDTH_MM, programme_chart
from generator.programme.model import Task
from generator.values import MonthDay, replace

DAY = datetime.timedelta(days=1)
ELAPSED = ("wait", "damp", "cover", "follow")
every = pytest.mark.parametrize("name", [path.parent.name for path in EXAMPLES])


def pictures(made: Job) -> list[Figure]:
    """The pictures of the programme in the specification, those that go on too."""
    found = [block for block in assemble(made).specification.blocks() if isinstance(block, Figure)]
    return [figure for figure in found if figure.drawing.alt.startswith("Programme in bars")]


def pages(chart: Chart, made: Job) -> tuple[Page, ...]:
    return programme_pages(chart, words_for(made, ProgrammeWords, "programme"), WIDTH_MM, HEIGHT_MM["a4"])


def spans(task: Task) -> tuple[datetime.date, datetime.date]:
    """The days of a task as a bar: of a wait without the days on which what is before and after it is done."""
    return (task.start + DAY, task.finish - DAY) if task.kind in ELAPSED else (task.start, task.finish)


def shown(task: Task) -> bool:
    """What a bar is wanted for: all that takes days, but for what the library lets be drawn only where it decides."""
    first, last = spans(task)
    if not (task.decides or shipped().tasks[task.entry].drawn):
        return False
    return first <= last and not (task.kind == "hold" and first == last)


def bars_of(bar: Bar, page: Page, drawing: Drawing) -> list[Rect]:
    """The black bars on the days of a work."""
    left, right = page.scale.at(bar.first), page.scale.after(bar.last)
    black = [rect for rect in rects(drawing, 0.0) if rect.height > 4]
    return [rect for rect in black if abs(rect.x - left) < 0.01 and abs(rect.x + rect.width - right) < 0.01]


def short(made: Job, day: datetime.date) -> str:
    return made.facts.say("early_frost", MonthDay.of(day))


# --- bars -------------------------------------------------------------------------------------------------


@every
def test_each_wall_has_a_bar_for_each_of_its_tasks_on_the_days_reckoned(name: str) -> None:
    made = example(name)
    chart, planned = programme_chart(made), made.programme
    assert [drawn.name for drawn in chart.walls] == [made.filling.place(one.path) for one in planned.walls]
    for drawn, reckoned in zip(chart.walls, planned.walls, strict=True):
        bars = Counter((bar.first, bar.last) for bar in tasks_of(Chart((drawn,))))
        wanted = Counter(spans(task) for task in reckoned.tasks if shown(task))
        assert wanted - bars == Counter()
        follows = [task for task in planned.follows if task.place == reckoned.path and shown(task)]
        assert sorted(first for first, _ in (bars - wanted).elements()) == sorted(spans(task)[0] for task in follows)


def test_what_follows_the_works_is_drawn_to_its_end_or_to_the_last_day_of_all_and_tells_its_own() -> None:
    made = example("winter-plaster")
    assert [follow.entry for follow in made.programme.follows] == ["decorate", "tapped-later"]
    for follow in made.programme.follows:
        (bar,) = [bar for bar in tasks_of(programme_chart(made)) if follow.label in bar.names[0]]
        assert (bar.first, bar.last) == spans(follow)
        assert bar.names[0].endswith(f" to {short(made, follow.finish)}")


@every
def test_what_is_drawn_as_deciding_is_the_chain_that_decides_and_damp_over_its_cover(name: str) -> None:
    made = example(name)
    chain = {task.id for task in made.programme.tasks() if task.decides}
    assert chain == set(made.programme.chain)
    for drawn, reckoned in zip(programme_chart(made).walls, made.programme.walls, strict=True):
        deciding = {(bar.first, bar.last) for bar in tasks_of(Chart((drawn,))) if bar.decides}
        own = [task for task in reckoned.tasks if task.decides and shown(task)]
        assert {spans(task) for task in own} <= deciding
        covers = {task.path for task in own if task.kind == "cover"}
        hidden = {spans(task) for task in reckoned.tasks if task.kind == "damp" and task.path in covers}
        assert deciding <= {spans(task) for task in own} | hidden


@every
def test_each_bar_is_on_a_page_and_the_chain_framed_and_all_survives_a_copy(name: str) -> None:
    made = example(name)
    chart = programme_chart(made)
    walls = {drawn.name: drawn for drawn in chart.walls}
    for number, page in enumerate(pages(chart, made)):
        drawing = page.drawing("A programme.")
        assert_sound(drawing)
        copy = copied(drawing, LARGE_DPI)
        for told in page.told.walls:
            for bar in tasks_of(Chart((walls[told.name],))):
                if bar.kind == "work":
                    found = bars_of(bar, page, drawing)
                    assert found
                    for rect in found:
                        assert black_share(copy, rect.x + 0.1, rect.y + 0.5, rect.width - 0.2, rect.height - 1) > 0.85
        frames = [rect for rect in rects(drawing, 1.0) if rect.weight_mm == 0.7]
        if number == 0:
            del frames[-1]  # that of the key
        assert bool(frames) == any(told.decides for told in page.told.walls)


@every
def test_every_hold_point_is_a_diamond_on_the_day_of_its_release(name: str) -> None:
    made = example(name)
    chart = programme_chart(made)
    drawn = 0
    for each, reckoned in zip(chart.walls, made.programme.walls, strict=True):
        days = {task.finish for task in reckoned.tasks if task.kind == "hold"}
        days |= {task.start for task in reckoned.tasks if task.hold and task.kind != "hold"}
        assert {day for chain in each.chains for day in chain.holds} == days
        drawn += len(days)
    found = sum(len(diamonds(page.drawing("A programme."))) for page in pages(chart, made))
    assert found - 1 == drawn  # one is that of the key


def test_a_look_that_is_met_within_another_task_is_a_diamond_on_its_first_day() -> None:
    made = example("mill-house")
    looks = [task for task in made.programme.tasks() if task.hold and task.kind == "work"]
    assert {task.hold for task in looks} == {"laths", "circuits"}
    for look in looks:
        (drawn,) = [each for each in programme_chart(made).walls if each.name == made.filling.place(look.place)]
        assert look.start in {day for chain in drawn.chains for day in chain.holds}


@every
def test_where_a_wall_has_several_last_days_for_placing_each_says_of_what(name: str) -> None:
    made = example(name)
    said = [text.text for figure in pictures(made) for text in labels(figure)]
    for drawn in programme_chart(made).walls:
        placings = [dated for chain in drawn.chains for dated in chain.placings]
        if len(placings) > 1:
            assert all(dated.names[0] in said for dated in placings)
            assert {len(dated.names) for dated in placings} == {1}


def labels(figure: Figure) -> list[Label]:
    assert isinstance(figure.drawing, Drawing)
    return [part for part in figure.drawing.primitives if isinstance(part, Label)]


def test_lettering_is_never_under_seven_points_and_nothing_is_wider_than_the_line() -> None:
    for path in EXAMPLES:
        for figure in pictures(example(path.parent.name)):
            assert isinstance(figure.drawing, Drawing)
            assert min(part.size_pt for part in labels(figure)) >= 7
            assert (figure.drawing.width_mm, figure.drawing.height_mm <= HEIGHT_MM["a4"]) == (WIDTH_MM, True)


# --- dates ------------------------------------------------------------------------------------------------


@every
def test_the_dates_of_the_picture_are_those_of_the_tables(name: str) -> None:
    made = example(name)
    facts = made.facts
    for drawn, reckoned in zip(programme_chart(made).walls, made.programme.walls, strict=True):
        if reckoned.access is not None:
            (stays,) = drawn.access
            told = [facts.say("issue_date", day) for day in (stays.first, stays.last)]
            assert told == [facts.spoken(reckoned.path, key) for key in ("access_up_date", "access_down_date")]
            assert facts.spoken(reckoned.path, "access_time_weeks") in stays.names[0]
        names = [bar.names[0] for bar in tasks_of(Chart((drawn,)))]
        placings = [dated for chain in drawn.chains for dated in chain.placings]
        works = [scope.path for scope in facts.inside(reckoned.path, "work")]
        last = [coats[-1].path for path in works if (coats := facts.inside(path, "coat"))]
        by = [facts.spoken(path, "last_placing_date") for path in last]
        assert sorted(facts.say("issue_date", dated.day) for dated in placings) == sorted(filter(None, by))
        assert all(short(made, dated.day) in dated.names[0] for dated in placings)
        for coat in reckoned.lime:
            for until, task in ((coat.damp_until, "kept damp"), (coat.cover_until, "kept covered")):
                if coat.path in last and until is not None:
                    assert f"{task} to {short(made, until)}" in names


def test_every_winter_that_the_works_touch_is_drawn_and_none_of_a_job_without_frost() -> None:
    long = programme_chart(
        job(one_wall(finish_date="2028-10-30", face_area_m2="900", treated_per_cent="100 - 100 (100)"))
    )
    first, last = long.days()
    edges = [(each.first.ten, each.last.ten) for each in long.winters]
    for year in range(first.year - 1, last.year + 1):
        assert (datetime.date(year, 10, 20), datetime.date(year + 1, 5, 1)) in edges
    assert programme_chart(example("winter-plaster")).winters == ()


def test_days_in_hand_lie_on_the_wall_that_ends_the_works_to_the_completion() -> None:
    made = example("toll-house")
    held = {drawn.name: drawn.in_hand for drawn in programme_chart(made).walls if drawn.in_hand is not None}
    ends = made.programme.by_id[made.programme.chain[-1]].place
    ((name, spare),) = held.items()
    assert name == made.filling.place(ends)
    assert made.programme.end is not None
    assert (spare.first, spare.last) == (made.programme.end.likely + DAY, made.programme.completion)
    late = job(one_wall(finish_date="2027-05-20"))
    assert [drawn.in_hand for drawn in programme_chart(late).walls] == [None]


# --- pages, numbers, words ----------------------------------------------------------------------------------


def test_walls_that_need_more_than_a_page_go_on_under_the_same_number() -> None:
    made = example("mill-house")
    first, *others = pictures(made)
    assert (first.number, first.anchor) == (str(made.figures[PROGRAMME]), PROGRAMME)
    assert others
    # the same number, so that a writer sets it as it sets every other
    assert [(figure.number, figure.anchor) for figure in others] == [(f"{first.number}, continued", "")] * len(others)
    assert all(figure.caption.startswith(first.caption) for figure in others)
    told = [figure.drawing.alt for figure in (first, *others)]
    for planned in made.programme.walls:
        assert sum(f" {made.filling.place(planned.path)}: " in alt for alt in told) == 1


def test_the_text_of_the_programme_refers_to_its_picture() -> None:
    made = example("toll-house")
    blocks = assemble(made).specification.blocks()
    told = [block for block in blocks if isinstance(block, Paragraph) and Ref in map(type, block.content)]
    (refers,) = [
        block for block in told if any(isinstance(item, Ref) and item.anchor == PROGRAMME for item in block.content)
    ]
    assert f"Figure\u00a0{made.figures[PROGRAMME]} frames what decides the end" in plain_text(refers.content)


def test_who_cannot_see_it_is_told_each_wall_with_its_works_tails_access_and_what_decides() -> None:
    made = example("toll-house")
    (figure,) = pictures(made)
    alt = figure.drawing.alt
    for told in (
        "Start, 10 May 2027; Completion, 27 August 2027",
        "each at a chance of 10 in a hundred",
        "no work: 18 June",
    ):
        assert told in alt
    for planned in made.programme.walls:
        (said,) = [part for part in alt.split(". ") if part.startswith(f"{made.filling.place(planned.path)}: ")]
        for task in planned.tasks:
            if task.kind == "work":
                assert f"{task.label} {short(made, task.start)}" in said
        assert planned.access is not None
        assert f"weeks {short(made, planned.access[0])} to {short(made, planned.access[1])}" in said
        assert "on the chain that decides the end: " in said


def test_a_job_without_a_start_and_one_of_more_walls_than_can_be_followed_have_no_picture() -> None:
    many = answers(*(wall(id_=f"w{number}", name=f"Wall {number}") for number in range(25)))
    for made in (job(one_wall(start_date=None)), job(many)):
        assert pictures(made) == []
        assert PROGRAMME not in made.figures
    few = answers(*(wall(id_=f"w{number}", name=f"Wall {number}") for number in range(24)))
    assert PROGRAMME in job(few).figures


def test_without_its_picture_the_text_of_the_programme_does_not_speak_of_one() -> None:
    made = example("toll-house")
    without = replace(made, figures={key: number for key, number in made.figures.items() if key != PROGRAMME})
    said = [plain_text(block.content) for block in _programme(without) if isinstance(block, Paragraph)]
    assert said
    assert not any("shows each wall" in text for text in said)


def _programme(made: Job) -> list[Block]:
    whole = part(made, "programme")
    return [
        *programme_tables(made, replace(whole, parts=tuple(each for each in whole.parts if each.part == "reckoned")))
    ]


def test_no_wall_is_drawn_as_ended_after_the_day_on_which_frost_stops_its_slowest_run() -> None:
    made = example("mill-house")
    runs = made.programme.runs
    assert runs is not None
    stopped = {made.programme.by_id[short.id].place: short.limit for short in runs.stopped.first}
    drawn = {wall.path: told.ends for wall, told in zip(made.programme.walls, programme_chart(made).walls, strict=True)}
    ends = {place: drawn[place] for place in stopped}
    assert {("gable",), ("rear",)} <= ends.keys()
    assert all(end is not None and end.late <= max(stopped[place], end.likely) for place, end in ends.items())


@every
def test_the_longer_waits_of_the_slowest_run_are_told_beside_it(name: str) -> None:
    made = example(name)
    told = "\n".join(plain_text(block.content) for block in _programme(made) if isinstance(block, Paragraph))
    panel = next(task for task in made.programme.tasks() if task.entry == "panel-dry").why.days
    assert (panel.likely, panel.high) == (14, 21)  # the table of panels
    waits = told.partition("The slowest waits longer, by 4 days or more in days: ")[2].partition(".\n")[0]
    assert "panel dries" in next(each for each in waits.split("; ") if each.endswith("21, not 14"))


@every
def test_the_longer_wait_under_cover_is_told_beside_the_days_that_the_sheet_covers_it(name: str) -> None:
    made = example(name)
    told = "\n".join(plain_text(block.content) for block in _programme(made) if isinstance(block, Paragraph))
    waits = told.partition("The slowest waits longer, by 4 days or more in days: ")[2].partition(".\n")[0].split("; ")
    likely = {int(each.split()[-1]) for each in waits if "kept covered" in each}
    assert likely <= {made.facts.at_scope(coat.path).number("kept_covered_days") for coat in made.facts.at("coat")}
    assert bool(likely) == (name != "winter-plaster")
