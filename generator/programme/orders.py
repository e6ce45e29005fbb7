"""What must be ordered or settled by when: the day of its first use, less the time it takes."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterator, Mapping
from typing import Final

from generator.library.model import Library
from generator.library.tables import TableRow
from generator.lime.season import Calendar
from generator.measure.model import Measured
from generator.programme.calendar import WEEK_DAYS, NoWorkedDay, order_by
from generator.programme.dated import MENDED, PANEL_MADE, ROOM_CLOSED
from generator.programme.model import OrderBy, Task
from generator.programme.tasks import ACCESS, LAID
from generator.questionnaire.facts import Facts, View
from generator.questionnaire.scopes import PROJECT

Wanted = Callable[[Task], bool]
_MADE: Final = ("stuff-cools", "stuff-rests")
"""What is made of lime and sand before it is laid, to rest; hair goes in last, on the day."""
_BY_FITTER: Final = ("flues-off", "fitter-marks", "flues-tested", "flues-mended")
"""What a licensed fitter of flues does first on a stack; what comes later is told on its day."""
_SAMPLED: Final = ("special-sand", "putty", "hair", "laths", "units", "gutters", "lime", "quicklime")
"""What is ordered once its sample has been accepted."""
_SETTLED: Final = ("consent", "discharge", "flues-serve", "bells", "mend-mix")
"""What is no purchase of the contractor, and waits for no contract."""


def orders(
    measured: Measured, library: Library, tasks: tuple[Task, ...], start: datetime.date, calendar: Calendar
) -> Iterator[OrderBy]:
    """Each thing that the job needs and that takes time, with the day by which it is ordered."""
    found = list(_each(measured, library, tasks, start, calendar))
    yield from _award(found, library, calendar)
    yield from found


def _award(found: list[OrderBy], library: Library, calendar: Calendar) -> Iterator[OrderBy]:
    """When the contract is let, that every order is placed in time and the samples of what is sampled before it."""
    row = library.row("lead-times", thing="award")
    before = datetime.timedelta(weeks=float(row.number("weeks")))
    bought = [order for order in found if order.thing not in _SETTLED]
    due = [order.by if order.thing in _SAMPLED else order.by + before for order in bought]
    if due:
        yield _order("award", min(due), row, library, calendar)


def _each(
    measured: Measured, library: Library, tasks: tuple[Task, ...], start: datetime.date, calendar: Calendar
) -> Iterator[OrderBy]:
    facts = measured.facts
    asked = [task for task in tasks if task.entry == "panel-discharge"]
    if asked:
        yield _discharge(asked, library)
    for thing, needs in _things(measured, facts, tasks).items():
        used = [task.start for task in tasks if needs(task)]
        if thing == "consent" and _awaits_consent(facts.at_scope(PROJECT)):
            used = [start]
        if used:
            yield _order(thing, min(used), library.row("lead-times", thing=thing), library, calendar)


def _order(thing: str, first: datetime.date, row: TableRow, library: Library, calendar: Calendar) -> OrderBy:
    weeks = row.number("weeks")
    try:
        by = order_by(first, float(weeks) * WEEK_DAYS, calendar)
    except NoWorkedDay:
        by = first - datetime.timedelta(weeks=float(weeks))
    return OrderBy(thing, library.words[f"order-{thing}"], weeks, first, by, row.because, row.sources)


def _discharge(asked: list[Task], library: Library) -> OrderBy:
    """The discharge of a condition on panels: asked for when the first is dry, no sooner, and had before its work."""
    row = library.row("lead-times", thing="discharge")
    applied, had = min(task.start for task in asked), min(task.finish for task in asked)
    word = library.words["order-discharge"]
    return OrderBy("discharge", word, row.number("weeks"), had, applied, row.because, row.sources)


def _things(measured: Measured, facts: Facts, tasks: tuple[Task, ...]) -> Mapping[str, Wanted]:
    """What has a lead time, and which tasks use it first."""
    materials = {(line.material.id, mix) for line in measured.materials for mix, _ in line.uses}
    with_putty = {mix for material, mix in materials if material == "lime-putty"}
    with_hair = {mix for material, mix in materials if material == "hair"}
    with_nhl = {mix for material, mix in materials if material.startswith("nhl-")}
    with_quicklime = {mix for material, mix in materials if material == "quicklime"}

    placed = {task.path for task in tasks if task.entry in LAID}

    def lays(task: Task, mixes: set[str] | None = None, among: tuple[str, ...] = (*LAID, *PANEL_MADE)) -> bool:
        return task.entry in among and (mixes is None or not mixes.isdisjoint(stuff(task)))

    def stuff(task: Task) -> Iterator[str]:
        """The mix of a task, and those of coats that are laid with one of its work."""
        yield facts.at_scope(task.path).text("mix_used")
        for coat in facts.at_scope(task.path[:2]).inside("coat") if task.entry not in _MADE else ():
            if coat.path not in placed:
                yield coat.text("mix_used")

    def makes(task: Task, mixes: set[str] | None = None) -> bool:
        return lays(task, mixes, (*_MADE, *LAID, *PANEL_MADE))

    return {
        "special-sand": lambda task: _fills(task) or (makes(task) and facts.at_scope(task.path).text("coat") != "wash"),
        "putty": lambda task: _fills(task) or makes(task, with_putty),
        "lime": lambda task: lays(task, with_nhl),
        "quicklime": lambda task: makes(task, with_quicklime),
        "hair": lambda task: _fills(task) or lays(task, with_hair),
        "laths": lambda task: task.entry in ("panel-lath-soak", "lath-soak", "lath"),
        "units": lambda task: task.entry == "lay" and bool(facts.at_scope(task.path).number("replaced_units_nr")),
        "wattle": lambda task: task.entry in ("panel-earth", "rebuild-earth") and _is_daubed(facts.at_scope(task.path)),
        "sweep": lambda task: task.entry == "flues-swept",
        "gutters": lambda task: task.entry == "enable-gutters" and _renews_gutters(facts.at_scope(task.path)),
        "service": lambda task: task.entry == "service-freed",
        "fitter": lambda task: task.entry in _BY_FITTER,
        "conductor": lambda task: task.entry == "conductor-freed",
        "electrician": lambda task: task.entry == ROOM_CLOSED and facts.at_scope(task.path).known("circuits_off"),
        "scaffold": lambda task: task.entry == "access-up" and _is_scaffold(facts.at_scope(task.path)),
        "flues-serve": lambda task: task.entry == "flues-off" and _is_lived_by(facts.at_scope(task.path)),
        "bells": lambda task: task.kind in (ACCESS, "work") and bool(facts.at_scope(PROJECT).yes("church")),
        "mend-mix": lambda task: task.entry == MENDED and facts.at_scope(task.path).text("mended_in") == "written",
        "consent": lambda task: False,
    }


def _fills(task: Task) -> bool:
    """Whether washers are filled over, or mouldings run, in putty, sand and hair that may be on no card."""
    return task.entry in ("refix-fill", "cornice-first")


def _is_daubed(here: View) -> bool:
    """Whether wattle is mended for daub, of wood and straw that are brought in."""
    return here.text("work") == "rebuild" and here.text("earth_kind") == "wattle"


def _renews_gutters(here: View) -> bool:
    return bool(here.number("gutter_renewed_m"))


def _is_lived_by(here: View) -> bool:
    """Whether the flues of a stack serve what a household is given by other means while they are shut off."""
    return not {"heating", "hot-water", "cooking"}.isdisjoint(here.texts("flues_serve"))


def _is_scaffold(here: View) -> bool:
    return here.text("access") in ("scaffold", "roof-scaffold")


def _awaits_consent(project: View) -> bool:
    return any(project.text(name) in ("applied", "not-asked") for name in ("consent", "faculty"))
