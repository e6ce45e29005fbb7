"""What is doubtful in time: answers that stand against the programme, and answers that lack."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from generator.files.errors import Mark
from generator.library.findings import Raised
from generator.library.model import Library
from generator.lime.season import DAY, FrostSeason, winter_of
from generator.programme import network
from generator.programme.calendar import WEEK_DAYS
from generator.programme.dated import labelled, late_wash, located
from generator.programme.model import OrderBy, Wall
from generator.programme.network import NetworkError
from generator.programme.seasons import INSIDE
from generator.programme.tasks import Works
from generator.programme.winters import frost_within
from generator.questionnaire.facts import Facts, View
from generator.questionnaire.scopes import PROJECT
from generator.values import joined

LONGEST_DAYS: Final = 250
"""Working days that one work may take: a year. Longer, the output or the area is wrong."""
_MOST_NAMED: Final = 12
_CUT_MONTHS: Final = (9, 10, 11, 12, 1)
"""September to January, as the clause on plants has it: birds nest in the others."""
_CUT: Final = {"enable-plants": "plants-cut-in-nesting", "growth-cut": "growth-cut-in-nesting"}
_CURED_HERE: Final = {"age", "plants"}
"""Age needs no cure, and plants are cut on the wall itself where no enabling work does it."""
_LAYING: Final = ("pack", "dub", "mend-old", "lay", "wash", "damp")
_PANEL: Final = ("panel-coat", "panel-damp")


def of_walls(facts: Facts, library: Library, walls: tuple[Wall, ...], frost: FrostSeason | None) -> Iterator[Raised]:
    """Findings of each wall that has been reckoned."""
    for wall in walls:
        here = facts.at_scope(wall.path)
        yield from _access(here, wall)
        yield from _lacking(here, wall)
        yield from _cold_room(here, wall, frost)
        yield from _wash(here, wall, library)
        yield from _plants(here, wall)
        for work in here.inside("work"):
            yield from _years(work)


def of_answers(facts: Facts, frost: FrostSeason | None) -> Iterator[Raised]:
    """Findings of answers that the programme rests on: a start in the frost, cures without a place."""
    project = facts.at_scope(PROJECT)
    start = project.day("start_date")
    outside = any(wall.text("exposure_reckoned") != INSIDE and wall.inside("coat") for wall in facts.views("element"))
    over = _frost_until(frost, start) if start is not None and frost is not None and outside else None
    finish = project.day("finish_date")
    if over is not None and (finish is None or over < finish):
        fills = (("first", _said(project, "start_date")), ("second", _said(project, "late_frost")))
        yield Raised("start-before-late-frost", PROJECT, fills, (), project.marks("start_date", "late_frost"))
    yield from _idle_barred(project)
    for wall in facts.views("element"):
        yield from _cures(wall)


def _idle_barred(project: View) -> Iterator[Raised]:
    """Barred dates of which none would be worked anyway."""
    week, name = int(project.number("working_days_per_week") or 0), "barred_dates"
    for item in project.records(name):
        first, last = item.day("from"), item.day("to")
        if first is None or last is None or not 0 <= (last - first).days < WEEK_DAYS:
            continue
        if not any((first + days * DAY).weekday() < week for days in range((last - first).days + 1)):
            fills = (("asked", project.facts.say(name, (dict(item.values),))),)
            yield Raised("barred-not-worked", PROJECT, fills, (), project.marks(name))


def of_orders(facts: Facts, orders: tuple[OrderBy, ...], library: Library) -> Iterator[Raised]:
    """A finding for each thing that would have to be ordered before tenders are back, or a contract let in haste."""
    project = facts.at_scope(PROJECT)
    back, choosing = project.day("tender_return_date"), library.row("waits", wait="choosing").number("likely")
    marks = project.marks("tender_return_date", "start_date")
    if back is None:
        return
    for order in orders:
        last = ("last", facts.say("finish_date", order.by))
        if order.by < back and order.thing not in ("consent", "flues-serve", "bells"):
            code = "award-before-tender" if order.thing == "award" else "order-before-tender"
            yield Raised(code, PROJECT, (("item", order.what), last), (), marks)
        elif order.thing == "award" and (order.by - back).days < choosing:
            most = ("most", facts.say("kept_damp_days", choosing))
            first = ("first", facts.say("tender_return_date", back))
            yield Raised("few-days-to-choose", PROJECT, (first, last, most), (), marks)


def none_at_work(facts: Facts, found: Works) -> Iterator[Raised]:
    """A finding for each trade that has work and nobody to do it: a gang of none."""
    for gang in found.gangs.values():
        if gang.gangs_nr < 1 or gang.people_nr < 1:
            task = next(item for item in found.planned.values() if item.trade == gang.trade)
            where = f"{facts.title(task.here.path)}: {labelled(task)}"
            fills = (("asked", facts.say("trade", gang.trade)), ("where", where))
            marks = (*facts.at_scope(PROJECT).marks("gangs"), *task.here.marks("work"))
            yield Raised("gang-of-none", PROJECT, fills, (), marks)


def without_mix(facts: Facts) -> Iterator[Raised]:
    """A finding where a coat has no mix: how long it is kept damp and covered hangs on it."""
    bare = [coat for coat in facts.views("coat") if not coat.text("mix_used")]
    if bare:
        where = joined(list(dict.fromkeys(facts.title(coat.path) for coat in bare))[:_MOST_NAMED])
        yield Raised("no-mix-no-dates", PROJECT, (("where", where),))


def unreckoned(facts: Facts, found: Works, error: NetworkError) -> Raised:
    """The finding for works that cannot be put in time at all, naming the answers that stand against one another."""
    where = joined([located(facts, found.planned[id]) for id in error.ids[:_MOST_NAMED] if id in found.planned])
    if isinstance(error, network.Circle):
        walls = [facts.at_scope((str(name),)) for name in dict.fromkeys(id[0] for id in error.ids)]
        fills = (("where", joined([wall.spoken("element_name") for wall in walls])),)
        return Raised("walls-wait-in-circle", PROJECT, fills, (), _marks(walls, "cured_on", "stands_on", "other_side"))
    if isinstance(error, network.DaysOutOfReach):
        works = [facts.at_scope(tuple(id[:2])) for id in error.ids]
        marks = _marks(works, "output_m2_per_day", "face_area_m2", "timed_outputs", "gangs")
        return Raised("works-out-of-reach", PROJECT, (("where", where),), (), marks)
    names = ("start_date", "barred_dates", "early_frost", "late_frost", "month_means_c")
    return Raised("no-day-to-work", PROJECT, (("where", where),), (), facts.at_scope(PROJECT).marks(*names))


def _marks(views: list[View], *names: str) -> tuple[Mark, ...]:
    return tuple(dict.fromkeys(mark for view in views for mark in view.marks(*names)))


def _said(here: View, name: str) -> str:
    return f"{here.facts.names[name].label} ({here.spoken(name)})"


# --- walls ----------------------------------------------------------------------------------------------------


def _access(here: View, wall: Wall) -> Iterator[Raised]:
    """Access answered for fewer weeks than work and cover take: at the best, or likely."""
    asked, weeks = here.number("access_weeks"), wall.access_weeks
    if asked is None or weeks is None or asked >= weeks.likely:
        return
    said = here.facts.say("access_time_weeks", Decimal(weeks.likely))
    fills = (("asked", here.spoken("access_weeks")), ("most", said))
    code = "access-too-short" if asked < weeks.early else "access-tight"
    yield Raised(code, wall.path, fills, (), here.marks("access_weeks"))


def _lacking(here: View, wall: Wall) -> Iterator[Raised]:
    """Tasks that are reckoned as a day, because nobody answered how much there is."""
    for name in dict.fromkeys(task.why.lacks for task in wall.tasks if task.why.lacks):
        told = [task.label for task in wall.tasks if task.why.lacks == name]
        fills = (("question", here.facts.names[name].label), ("where", joined(list(dict.fromkeys(told)))))
        yield Raised("time-without-quantity", wall.path, fills)


def _cold_room(here: View, wall: Wall, frost: FrostSeason | None) -> Iterator[Raised]:
    """Lime laid or kept damp in an unheated room while frost is reckoned with outside, or its panel alone."""
    if here.text("exposure_reckoned") != INSIDE or here.text("heating_indoors") != "none" or frost is None:
        return
    told = set()
    for task in sorted(wall.tasks, key=lambda task: task.entry in _PANEL):
        first = frost_within(frost, task.start, task.finish) if task.entry in (*_LAYING, *_PANEL) else None
        limed = any(here.facts.at_scope(task.path[:2]).inside("coat"))  # earth has no least temperature of lime
        if first is not None and limed and task.path[:2] not in told:
            told.add(task.path[:2])
            when = f"{task.label} ({here.facts.say('start_date', task.start)})"
            begun = here.day("start_date")
            name = "late_frost" if begun is not None and _frost_until(frost, begun) else "early_frost"
            fills = (("first", when), ("second", _said(here, name)))
            code = "unheated-room-panel" if task.entry in _PANEL else "unheated-room"
            yield Raised(code, task.path[:2], fills, (), here.marks("heating_indoors", "start_date", name))


def _frost_until(frost: FrostSeason, day: datetime.date) -> datetime.date | None:
    """The late frost of the winter that a day lies in; None where no frost can come on it."""
    winter = winter_of(day, frost.half)
    for year in (winter - 1, winter):
        first, last = frost.span(year)
        if first <= day <= last:
            return last
    return None


def _wash(here: View, wall: Wall, library: Library) -> Iterator[Raised]:
    """Limewash that comes so long after the damping of new render that it no longer takes on it damp."""
    late = late_wash(here.facts, wall, library)
    if late is not None:
        first, second = (here.facts.say("start_date", day) for day in late)
        fills = (("first", first), ("second", second))
        yield Raised("wash-late-on-render", wall.path, fills)


def _plants(here: View, wall: Wall) -> Iterator[Raised]:
    """Plants that the programme comes to in the months in which they are not cut."""
    for task in wall.tasks:
        code = _CUT.get(task.entry)
        if code is not None and task.start.month not in _CUT_MONTHS:
            fills = (("first", here.facts.say("start_date", task.start)),)
            yield Raised(code, task.path[:2], fills, (), here.marks("start_date"))


def _years(work: View) -> Iterator[Raised]:
    days = work.number("duration_days")
    if days is not None and days > LONGEST_DAYS:
        yield Raised("work-takes-years", work.path, (), (), work.marks("output_m2_per_day", "face_area_m2", "gangs"))


def _cures(wall: View) -> Iterator[Raised]:
    """Causes that are put right on walls that are not there, or nowhere in this work; plants are cut on their own."""
    if wall.text("causes_cured") != "in-this-work" or any(w.text("work") == "enabling" for w in wall.inside("work")):
        return
    asked = wall.texts("cured_on")
    strange = [name for name in asked if (name,) not in wall.facts.scopes or (name,) == wall.path]
    if strange:
        yield Raised("cured-on-nothing", wall.path, (("asked", joined(strange)),), (), wall.marks("cured_on"))
    elif not asked and not _own_cure(wall):
        under_sum = set(wall.texts("causes_under_sum"))
        gone = _CURED_HERE | ({"cement"} if _cement_raked_out(wall) else set())
        for code, causes in (
            ("cured-under-sum", under_sum),
            ("cured-where", {*wall.texts("decay_causes")} - gone - under_sum),
        ):
            if causes:
                asked = tuple(cause for cause in wall.texts("decay_causes") if cause in causes)
                fills = (("asked", wall.facts.say("decay_causes", asked)),)
                yield Raised(code, wall.path, fills, (), wall.marks("causes_cured"))


def _cement_raked_out(wall: View) -> bool:
    """Whether cement comes out of the joints of a wall as they are raked."""
    joints = [work for work in wall.inside("work") if work.text("work") == "repoint"]
    return any(work.number("cement_area_m2") != 0 for work in joints)


def _own_cure(wall: View) -> bool:
    """Whether a work of the wall itself cures it: what is taken off, raked out, rebuilt or renewed on it."""
    return wall.known("cause_raked_out") or any(
        work.text("work") in ("remove", "flaunching", "rebuild") for work in wall.inside("work")
    )
