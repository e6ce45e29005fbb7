"""Checks that tasks name what is there, take their time from one place, and can be put in order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from generator.files.errors import Problem, did_you_mean
from generator.library.model import Library
from generator.library.tables import fits
from generator.library.tasks import ELAPSED, HOLE, OR, OWN, PLACES, TaskEntry, column
from generator.questionnaire.names import a_scope, visible_from


def misfits(library: Library) -> Iterator[Problem]:
    """Each task that names what is not there, or that cannot be put in order."""
    for entry in library.tasks.values():
        mark = library.marks["task", entry.id]
        for what, to_do in (*_links(entry, library), *_takes(entry, library), *_names(entry, library)):
            yield Problem(mark, f"task '{entry.id}' {what}", to_do)
    circle = _circle(library.tasks)
    if circle:
        what = f"task '{circle[0]}' comes after itself, by way of {', '.join(circle[1:]) or 'itself'}"
        yield Problem(library.marks["task", circle[0]], what, "take one of them out of an 'after'")


def _links(entry: TaskEntry, library: Library) -> Iterator[tuple[str, str]]:
    named = (*entry.links(), *(("", task) for task in (entry.joins, *entry.since) if task))
    for place, task in ((place, task) for place, tasks in named for task in tasks.split(OR)):
        if place and place not in PLACES:
            yield f"comes after something of '{place}', which is no place", did_you_mean(place, PLACES)
        if task not in library.tasks:
            yield f"comes after '{task}', which is not there", did_you_mean(task, library.tasks)
        elif library.tasks[task].kind == "follow":
            yield f"comes after '{task}', which only follows the works", "name another task"
    if entry.hold and entry.hold not in library.hold_points:
        yield f"is the hold point '{entry.hold}', which is not there", did_you_mean(entry.hold, library.hold_points)
    for source in entry.trade, entry.output:
        if source and entry.kind in ELAPSED:
            yield f"is a {entry.kind}, and keeps a gang", "take 'trade' and 'output' out"


def _takes(entry: TaskEntry, library: Library) -> Iterator[tuple[str, str]]:
    given = [name for name in ("output", "days", "table") if getattr(entry, name)]
    wanted = 0 if entry.kind == "mark" else 1
    if len(given) != wanted:
        told = "no time" if not given else f"its time as {' and '.join(given)}"
        yield f"is a {entry.kind} and gives {told}", "give one of output, days and table" if wanted else "take it out"
    outputs = library.tables.get("outputs")
    if entry.output and (outputs is None or outputs.find(operation=entry.output) is None):
        listed = [row.keys.get("operation", "") for row in outputs.rows] if outputs is not None else []
        if not any(entry.output == cell or entry.output in cell for cell in listed):
            yield f"has the output '{entry.output}', which has no row", "add it to the table 'outputs'"
    if entry.table:
        yield from _tabled(entry, library)
    measured = entry.lays and bool(entry.output) and entry.per == "work"
    if measured and not entry.fills:
        yield "lays by an output and says in no 'fills' what", "its mortar would be counted nowhere: say it"
    if entry.fills and not measured:
        yield f"fills by '{entry.fills}' and lays by no output of a work", "take 'fills' out"
    if entry.in_wall_mix and not entry.fills and entry.kind != "cover":
        yield "is 'in_wall_mix' and neither fills nor covers", "take it out"


def _tabled(entry: TaskEntry, library: Library) -> Iterator[tuple[str, str]]:
    table = library.tables.get(entry.table)
    if table is None:
        what = f"takes its days from the table '{entry.table}', which is not there"
        yield what, did_you_mean(entry.table, library.tables)
        return
    for end in ("low", "likely", "high"):
        if column(entry.value, end) not in table.values:
            yield f"takes '{column(entry.value, end)}' from the table '{table.id}', which has no such value", "add it"
    if entry.row and not any(entry.row in row.keys.values() for row in table.rows):
        yield f"takes the row '{entry.row}' of the table '{table.id}', which is not there", "add it"
    named = [name for name in table.keys if name in library.names]
    listed = [key for key in table.keys if key not in named]
    rows = [row for row in table.rows if all(fits(row.keys.get(key, "any"), entry.row) for key in listed)]
    for name in named:
        scope = library.names[name].scope
        if scope not in visible_from(entry.per) and any(row.keys.get(name, "any") != "any" for row in rows):
            what = f"takes its days from rows of the table '{table.id}' by '{name}' of {a_scope(scope)}"
            yield f"{what}, which {a_scope(entry.per)} does not see", f"write 'per: {scope}'"


def _names(entry: TaskEntry, library: Library) -> Iterator[tuple[str, str]]:
    read = {"not_before": entry.not_before, "times": entry.times}
    read["days"] = "" if entry.number is not None else entry.days
    for part, name in (*read.items(), *(("label", hole) for hole in HOLE.findall(entry.label))):
        if name and name not in library.names:
            yield f"reads '{name}' as its {part}, which is not known", did_you_mean(name, library.names)
        elif name and library.names[name].scope not in visible_from(entry.per):
            yield f"reads '{name}' of {a_scope(library.names[name].scope)} from {a_scope(entry.per)}", "take another"
    trades = library.names["trade"].choices
    if entry.trade not in ("", OWN) and entry.trade not in trades:
        yield f"is done by '{entry.trade}', which is no trade", did_you_mean(entry.trade, trades)


def _circle(tasks: Mapping[str, TaskEntry]) -> Sequence[str]:
    """Tasks of one place each of which comes after the one before it, round to the first; none where all is well.

    Through a mark with a condition none is looked for: whether it closes hangs on the answers, and is told of a job.
    """
    done: set[str] = set()
    for start in tasks:
        way = [start]
        while way:
            here = tasks[way[-1]]
            open_ = here.kind == "mark" and here.when
            named = (task for place, words in here.links() if not (place or open_) for task in words.split(OR))
            links = (task for task in named if task in tasks)
            following = next((task for task in links if task not in done), None)
            if following is None:
                done.add(way.pop())
            elif following in way:
                return way[way.index(following) :]
            else:
                way.append(following)
    return ()
