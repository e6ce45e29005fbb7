"""The dates of the programme as facts, by the names that papers, clauses and lines to price read."""

from __future__ import annotations

import datetime
import math
from collections.abc import Mapping
from decimal import Decimal

from generator.library.model import Library
from generator.measure.items import alike
from generator.programme.dated import (
    BEFORE,
    CURED_DAY,
    DRIES,
    EARTH_FILLED,
    ENDS,
    FIRST_OF_ALL,
    GREEN,
    HEAP_MADE,
    MENDED,
    MOULDED,
    ON_THE_WALL,
    PANEL_ANSWERED,
    PANEL_DAMP,
    PANEL_MADE,
    PANEL_WASHED,
    ROOM,
    ROOM_BACK,
    ROOM_CLOSED,
    SOAKED,
    TAKE_OFF,
    TRIAL,
    late_wash,
)
from generator.programme.effects import Runs
from generator.programme.model import Lime, Task, Wall
from generator.programme.network import Id
from generator.programme.schedule import LastDates
from generator.programme.seasons import is_inside, made_in_cold
from generator.programme.tasks import Works, laid_with
from generator.questionnaire.facts import Facts, View
from generator.questionnaire.kinds import TIMED
from generator.questionnaire.scopes import PROJECT, ScopePath
from generator.values import Range, Struct, Value


def answered_alone(facts: Facts, found: Works) -> Facts:
    """The facts where no dates are reckoned: weeks of access as answered, days damp and covered as tabled."""
    values: dict[ScopePath, Mapping[str, Value]] = {}
    answers = _answers(found)
    for wall in facts.views("element"):
        weeks = wall.number("access_weeks")
        own = {"access_time_weeks": weeks} if weeks and not wall.known("access_host") else {}
        values[wall.path] = {**own, **_wetted(wall.path, found)}
        values |= {coat.path: _kept(coat) for coat in wall.inside("coat")}
        for work in wall.inside("work"):
            values[work.path] = {**_panel_kept(work), **_panel_of(work, answers.get(work.path, ()))}
    return facts.adding_each({path: given for path, given in values.items() if given}, TIMED)


def _panel_kept(work: View) -> dict[str, Value]:
    """How long the panel of a work is kept damp where no day is known: as its last coat at the least."""
    damp = [days for coat in work.inside("coat")[-1:] if (days := coat.number("damp_days")) is not None]
    return {"panel_damp_days": Range(damp[0], damp[0], damp[0])} if damp else {}


def _kept(coat: View) -> dict[str, Value]:
    """How long a coat is kept damp and covered where no day is known: as for a frost that comes within its days."""
    damp, rain, frost = (coat.number(name) for name in ("damp_days", "rain_cover_days", "frost_cover_days"))
    kept: dict[str, Value] = {} if damp is None else {"kept_damp_days": damp, **_next(coat, damp)}
    if damp is not None and rain is not None and frost is not None:
        kept["kept_covered_days"] = max(damp, rain, frost)
    return kept


def _next(coat: View, damp_days: Decimal) -> dict[str, Value]:
    """How long after a coat the next is laid at the soonest: its wait, and its days damp where these are more."""
    wait = coat.number("wait_days")
    return {} if wait is None else {"next_coat_days": max(wait, damp_days)}


def with_dates(
    facts: Facts, found: Works, made: Runs, limits: LastDates, walls: tuple[Wall, ...], follows: tuple[Task, ...],
    in_hand_days: int | None, library: Library,
) -> Facts:  # fmt: skip
    """The facts with every date that the papers name."""
    project: dict[str, Value] = {
        "programme_early_end_date": made.early.end,
        "programme_end_date": made.likely.end,
        "programme_late_end_date": made.late.end,
    }
    if in_hand_days is not None and in_hand_days >= 0:
        project["days_in_hand_days"] = Decimal(in_hand_days)
    for entry, name in FIRST_OF_ALL.items():
        if days := [task.start for wall in walls for task in wall.tasks if task.entry == entry]:
            project[name] = min(days)
    values: dict[ScopePath, Mapping[str, Value]] = {PROJECT: project}
    answers, ends = _answers(found), {task.id: task.finish for task in follows}
    panels = _Panels.of(walls, made)
    for wall in walls:
        values[wall.path] = {**_wall(wall, ends, made), **_cured(wall, found, limits), **_wetted(wall.path, found)}
        if late := late_wash(facts, wall, library):
            values[wall.path] = {**values[wall.path], "late_wash_date": late[1]}
        lime = {
            each.path: _coat(coat, each, library)
            for coat in wall.lime
            for each in laid_with(facts.at_scope(coat.path), found.planned)
        }
        for work in facts.at_scope(wall.path).inside("work"):
            answered = answers.get(work.path, ())
            panel = panels.of_work(answered, made)
            values[work.path] = {
                **_work(work, wall, limits),
                **panel,
                **_panel_of(work, answered),
                **_green(work, ends),
                **_trial(work, wall),
                **_hired(made, "shores", work.path),
            }
            values |= {
                coat.path: {**lime.get(coat.path, {}), **panels.of_coat(answered, coat)} for coat in work.inside("coat")
            }
        if "room_from_date" in values[wall.path]:
            values[wall.path] = {**values[wall.path], **_warmed(facts.at_scope(wall.path), values, library)}
    return facts.adding_each({path: given for path, given in values.items() if given}, TIMED)


def _warmed(wall: View, values: Mapping[ScopePath, Mapping[str, Value]], library: Library) -> dict[str, Value]:
    """From when a room is warm: for the first coat of a panel made in it, and for the first lime laid."""
    before = datetime.timedelta(weeks=float(library.number("warmed_weeks") or 0))
    works = [work for work in wall.inside("work") if work.path in values]
    own = [coat.path for work in works if "panel_of" not in values[work.path] for coat in work.inside("coat")]
    firsts = {
        "warmed_panel_date": [values[coat].get("panel_coat_date") for coat in own if coat in values],
        "warmed_lime_date": [values[work.path].get("lime_start_date") for work in works],
    }
    days = {name: [day for day in found if isinstance(day, datetime.date)] for name, found in firsts.items()}
    return {name: min(found) - before for name, found in days.items() if found}


def _wall(wall: Wall, ends: Mapping[Id, datetime.date], made: Runs) -> dict[str, Value]:
    dates: dict[str, Value] = {}
    if wall.access is not None:
        dates["access_up_date"], dates["access_down_date"] = wall.access
    if wall.access_weeks is not None:
        dates["access_time_weeks"] = Decimal(wall.access_weeks.likely)
        dates["access_late_weeks"] = Decimal(wall.access_weeks.late)
    dates |= {ON_THE_WALL[task.entry]: task.finish for task in wall.tasks if task.entry in ON_THE_WALL}
    room = [task.start for task in wall.tasks if task.entry in ROOM]
    closed = any(task.entry == ROOM_CLOSED for task in wall.tasks)  # props alone stand outside too, in no room
    if closed:
        dates["room_from_date"] = min(room)
    back = [task.finish for task in wall.tasks if task.entry in ROOM_BACK]
    if closed and back:
        dates["room_back_date"] = max(back)
    dates |= _hired(made, "props", wall.path)
    fires = ends.get((*wall.path, "fires"))
    if fires is not None:
        dates["fires_from_date"] = fires
    return dates


def _hired(made: Runs, what: str, path: ScopePath) -> dict[str, Value]:
    """Weeks of hire of what tasks are marked to stand for, counted as those of access; none while no end is known."""
    stay = made.likely.stay((what, *path))
    return {} if stay is None or stay.last == stay.up else {f"{what}_time_weeks": Decimal(stay.weeks)}


def _cured(wall: Wall, found: Works, limits: LastDates) -> dict[str, Value]:
    """The day on which causes that others put right are taken to be proved cured, and the last that moves nothing."""
    proved = next((task for task in wall.tasks if found.planned[task.id].entry.not_before == CURED_DAY), None)
    if proved is None:
        return {}
    last = {"cured_by_date": limits.of_all[proved.id][1]} if proved.id in limits.of_all else {}
    return {"cured_proved_date": proved.finish, **last}


def _wetted(wall: ScopePath, found: Works) -> dict[str, Value]:
    """That a wall is wetted from outside before it dries: its drying then waits for what is kept damp on another."""
    dries = found.planned.get((*wall, DRIES))
    return {"wetted_outside": True} if dries is not None and any(id[:1] != wall for id in dries.after) else {}


def _trial(work: View, wall: Wall) -> dict[str, Value]:
    """From when the rest of a work is taken off, where a trial of it comes first and is looked at again."""
    own = {task.entry: task for task in wall.tasks if task.path == work.path}
    return {"rest_start_date": own[TAKE_OFF].start} if {TRIAL, TAKE_OFF} <= own.keys() else {}


def _green(work: View, ends: Mapping[Id, datetime.date]) -> dict[str, Value]:
    """From when new plaster is tapped, fillings looked at, a palm drawn over a wash, and to when nobody walks above."""
    found = {name: ends.get((*work.path, follow)) for follow, name in GREEN.items()}
    return {name: day for name, day in found.items() if day is not None}


def _coat(coat: Lime, here: View, library: Library) -> dict[str, Value]:
    dates: dict[str, Value] = {"placing_start_date": coat.first, "placing_end_date": coat.last}
    if is_inside(here):
        dates["made_in_cold"] = made_in_cold(here, coat.first, coat.last, library)
    if coat.season_last is not None:
        dates["season_last_placing_date"] = coat.season_last
        dates["season_passed"] = coat.season_passed
    if coat.place_by is not None and coat.place_limit is not None:
        dates["last_placing_date"], dates["placing_limit"] = coat.place_by, coat.place_limit
    for name, kept, until in (
        ("damp_until_date", "kept_damp_days", coat.damp_until),
        ("cover_until_date", "kept_covered_days", coat.cover_until),
    ):
        if until is not None:
            dates[name], dates[kept] = until, Decimal((until - coat.last).days)
    damp = dates.get("kept_damp_days")
    return {**dates, **(_next(here, damp) if isinstance(damp, Decimal) else {})}


def _work(work: View, wall: Wall, limits: LastDates) -> dict[str, Value]:
    """The worked days of a work, panels apart, from when to when, its last start, and when it lays lime."""
    here = (task for task in wall.tasks if task.path[:2] == work.path and task.kind == "work")
    own = [task for task in here if task.entry not in BEFORE]
    if not own:
        return {}
    first = min(own, key=lambda task: task.start)
    dates: dict[str, Value] = {
        "duration_days": Decimal(sum(math.ceil(task.why.days.likely) for task in own)),
        "work_start_date": first.start,
        "work_finish_date": max(task.finish for task in own),
    }
    last = [wall.begun_by[work.path]] if work.path in wall.begun_by else []
    if first.id in limits.of_all:
        last.append(limits.of_all[first.id][0])
    if last:
        dates["last_start_date"] = min(last)
    if work.path in wall.limed:
        dates["lime_start_date"], dates["lime_finish_date"] = wall.limed[work.path]
    dates |= _slaked(work, wall)
    mended = next((task.start for task in wall.tasks if task.entry == MENDED and task.path == work.path), None)
    if mended is not None:
        dates["old_face_mended_date"] = mended
    ends = {task.entry: task.finish for task in wall.tasks if task.path == work.path}
    dates |= {name: ends[entry] for entry, name in ENDS.items() if entry in ends}
    moulded = next((task.start for task in own if task.entry == MOULDED), None)
    if moulded is not None:
        dates["moulding_start_date"] = moulded
    soaked = (task for task in wall.tasks if task.entry in SOAKED and task.path[:2] == work.path)
    return dates | {SOAKED[task.entry]: task.start for task in soaked}


def _slaked(work: View, wall: Wall) -> dict[str, Value]:
    """From when to when quicklime is slaked for a work, so many days before its lime as a heap cools and rests."""
    heaps = [task for task in wall.tasks if task.path[:2] == work.path and task.entry in HEAP_MADE]
    if not heaps or work.path not in wall.limed:
        return {}
    first = min(heaps, key=lambda task: task.start)
    ripens = datetime.timedelta(sum(float(task.why.days.likely) for task in heaps if task.path == first.path))
    laid = [coat.last for coat in wall.lime if coat.path in {task.path for task in heaps}]
    last = max(laid, default=wall.limed[work.path][1]) - ripens
    return {"slaked_from_date": first.start, "slaked_to_date": max(first.start, last)}


# --- panels, which several works may share --------------------------------------------------------------------


def _answers(found: Works) -> dict[ScopePath, tuple[Id, ...]]:
    """The answers to panels that the lime of each work comes after, that of its own panel apart."""
    answers: dict[ScopePath, tuple[Id, ...]] = {}
    for item in found.planned.values():
        on_wall = item.entry.lays and item.entry.id not in PANEL_MADE
        if on_wall or item.entry.id == EARTH_FILLED:
            ids = tuple(id for id in item.after if id[-1] == PANEL_ANSWERED)
            answers[item.here.path[:2]] = answers.get(item.here.path[:2], ()) + ids
    return answers


def _panel_of(work: View, answers: tuple[Id, ...]) -> dict[str, Value]:
    """The work whose panel is that of a work, where another of its kind in the same mixes has it made."""
    makers = (tuple(id[:2]) for id in answers)
    maker = next((path for path in makers if alike(work.facts.at_scope(path)) == alike(work)), work.path)
    if maker == work.path:
        return {}
    place, own = (work.facts.spoken(path, "panel_place") for path in (maker, work.path))
    return {"panel_of": work.facts.title(maker), **({} if place == own else {"panel_made_at": place})}


class _Panels(Struct, frozen=True):
    """The day on which each coat of a panel is made, and for how long it is kept damp, by the coat it is made for.

    The panel of a wash, of a coat a day, is begun days before it is made. `coats` are these by their work.
    """

    begun: Mapping[ScopePath, datetime.date]
    made: Mapping[ScopePath, datetime.date]
    damp: Mapping[ScopePath, int]
    coats: Mapping[ScopePath, list[ScopePath]]

    @classmethod
    def of(cls, walls: tuple[Wall, ...], reckoned: Runs) -> _Panels:
        made: dict[ScopePath, datetime.date] = {}
        begun: dict[ScopePath, datetime.date] = {}
        for wall in walls:
            for task in wall.tasks:
                if task.entry == PANEL_WASHED:
                    begun[task.path] = task.start
                if task.entry in PANEL_MADE:
                    made[task.path] = max(task.finish, made.get(task.path, task.finish))
        dates = reckoned.likely.dates
        damp = {tuple(id[:3]): (dates.finish(id) - dates.start(id)).days for id in dates if id[-1] == PANEL_DAMP}
        coats: dict[ScopePath, list[ScopePath]] = {}
        for path in made.keys() | damp.keys():
            coats.setdefault(path[:2], []).append(path)
        return cls(begun, made, damp, coats)

    def of_work(self, answers: tuple[Id, ...], reckoned: Runs) -> dict[str, Value]:
        """When the panel of a work is finished and answered, and the days for which its coats are kept damp."""
        coats = [path for work in {tuple(id[:2]) for id in answers} for path in self.coats.get(work, ())]
        made = [self.made[path] for path in coats if path in self.made]
        if not made:
            return {}
        told: dict[str, Value] = {
            "panel_made_date": max(made),
            "panel_answered_date": max(reckoned.likely.dates.finish(id) for id in answers),
        }
        begun = [self.begun[path] for path in coats if path in self.begun]
        if begun:
            told["panel_begun_date"] = min(begun)
        kept = [self.damp[path] for path in coats if path in self.damp]
        least, most = (Decimal(end(kept, default=0)) for end in (min, max))
        return {**told, **({"panel_damp_days": Range(least, most, most)} if kept else {})}

    def of_coat(self, answers: tuple[Id, ...], coat: View) -> dict[str, Value]:
        """When this coat of the panel of its work is made, and how long it is kept damp."""
        for path in ((*id[:2], coat.path[-1]) for id in answers):
            if path in self.made and path in self.damp:
                return {"panel_coat_date": self.made[path], "panel_coat_damp_days": Decimal(self.damp[path])}
        return {}
