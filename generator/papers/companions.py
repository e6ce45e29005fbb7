"""The companion papers of a set: survey sheet, officer's summary, site records, owner's page, covering letter."""

from __future__ import annotations

import datetime
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Final

from generator.decide.model import Mix
from generator.document.files import COMPANIONS
from generator.document.model import (
    Block,
    Document,
    Heading,
    Inlines,
    ListBlock,
    Paragraph,
    Row,
    Section,
    Strong,
    Text,
    Value,
    joined,
    plain_text,
)
from generator.document.template import PaperPart, filled
from generator.job.job import Job, grouped, words
from generator.papers.companion_records import records
from generator.papers.companion_survey import survey
from generator.papers.making import (
    Maker,
    Makers,
    answered,
    fact_table,
    made,
    mixes_told,
    of_works,
    place_told,
    project_facts,
    raked,
    row,
)
from generator.papers.photograph_parts import all_photographs
from generator.questionnaire.facts import View
from generator.questionnaire.scopes import PROJECT, Scope, ScopePath


def companions(job: Job, wanted: Sequence[str]) -> dict[str, Document]:
    """The companion papers asked for, by file name in the order of the list. KeyError for a word it has not."""
    makers: Mapping[str, Callable[[Job], Document]] = {
        "survey": survey, "officer": officer, "records": records, "owner": owner,
        "letter": letter,
    }  # fmt: skip
    return {COMPANIONS[key]: makers[key](job) for key in COMPANIONS if key in wanted}


# --- the officer ------------------------------------------------------------------------------------------


def officer(job: Job) -> Document:
    """What the officer who guards the building asks: mixes in figures, basis, method, extent, and why each binder."""
    return _paper(job, "officer-summary", _OFFICER)


def _paper(job: Job, name: str, makers: Makers) -> Document:
    paper = job.paper(name)
    return Document(job.identity(paper.title), (Section(tuple(made(job, paper.parts, makers)), header=paper.title),))


def _title(name: str, anchor: str) -> Maker:
    """The maker of the title of a paper."""
    return lambda job, _: [Heading(1, words(job.paper(name).title), anchor=anchor)]


def _heading(part: PaperPart) -> Heading:
    return Heading(2, words(part.heading), apart=True)


def _job(job: Job, _: PaperPart) -> Iterator[Block]:
    status = words(f"{job.word(f'status-{job.status}')}.".replace(" ", "\N{NO-BREAK SPACE}"))
    yield Paragraph((*job.answer("title"), Text(", "), *job.answer("place"), Text(". "), *status), "lead")


def _building(job: Job, part: PaperPart) -> Iterator[Block]:
    """The building as answered, under a word for whoever reads it where the law protects nothing."""
    if part.if_none and job.facts.at_scope(PROJECT).text("protection") == "none":
        yield Paragraph(words(part.if_none))
    yield fact_table(part, answered(job, part.rows, PROJECT))


def _mixes(job: Job, part: PaperPart) -> Iterator[Block]:
    yield _heading(part)
    if job.measured.batches:
        yield Paragraph(words(" ".join((part.text, *_of_these_mixes(job)))), "small")
        yield part.table(_mix(job, part, batch.mix.path) for batch in job.measured.batches)
    else:
        yield Paragraph(words(job.word("sheet-no-mix")))


def _of_these_mixes(job: Job) -> Iterator[str]:
    """What is said of figures that not every job has."""
    if any(job.facts.at_scope(batch.mix.path).text("mix_making") == "hot-mix" for batch in job.measured.batches):
        yield job.word("officer-quicklime")
    if any(work.text("work") == "repoint" for work in job.facts.views("work")):
        yield job.word("officer-grain")


def _mix(job: Job, part: PaperPart, path: ScopePath) -> Row:
    ref, lime = (Value(name, path, job.facts.spoken(path, name)) for name in ("mix_ref", "mix_lime"))
    return row(job, part, path, {"mix-and-lime": (Strong((ref, Text(": "))), lime)})


def _works(job: Job, part: PaperPart) -> Iterator[Block]:
    """Each work with its extent, method and finish, and the mixes it takes."""
    yield _heading(part)
    yield part.table(_work(job, part, scope) for scope in job.facts.at("work"))


def _work(job: Job, part: PaperPart, scope: Scope) -> Row:
    path, nothing = scope.path, job.word("nothing")
    extent, coats = job.facts.spoken(path, "extent"), job.facts.inside(path, "coat")
    quantity: Inlines = (job.work_quantity(path),)
    told = {
        "where": place_told(job, path),
        "extent-and-quantity": (Value("extent", path, extent), Text("; "), *quantity) if extent else quantity,
        "method": raked(job, path) or words(_by_hand(job, part, path) or ", ".join(coat.title for coat in coats)),
        "mix": mixes_told(mix.ref for mix in job.mixes_placed(path)),
    }
    if job.library.questionnaire.applies(job.facts, path, "panel_place") is False:
        told["panel_place"] = ()
    elif made_at := job.facts.spoken(path, "panel_made_at"):
        told["panel_place"] = (Value("panel_made_at", path, made_at),)
    own = {name: content if plain_text(content) else words(nothing) for name, content in told.items()}
    return row(job, part, path, own, nothing)


_IN_EARTH: Final = {"rebuilding.earth": "officer-earth", "rebuilding.daub": "officer-daub"}


def _by_hand(job: Job, part: PaperPart, path: ScopePath) -> str:
    """The method of a work whose coats do not tell it; where salty plaster comes off, sound plaster goes with it."""
    here = job.facts.at_scope(path)
    if here.text("rebuild_what") == "units":
        return job.word("officer-units")
    if here.texts("enabling_tasks") == ("coping",):
        return job.word("officer-copings")
    if in_earth := next((word for clause, word in _IN_EARTH.items() if job.serves(clause, path)), ""):
        return job.word(in_earth)
    told = part.lines.get(here.text("work"), "")
    return f"{told} {job.word('officer-salty')}" if job.serves("removal.salty", path) else told


def _why(job: Job, part: PaperPart) -> Iterator[Block]:
    lines: dict[str, Inlines] = {}
    for mix in job.decisions.mixes:
        reasons = (job.decisions.reasons.get((path, "binder")) for path in mix.used_for)
        because = [reason.because for reason in reasons if reason]
        told = " ".join(dict.fromkeys([*because, *_asked(job, part, mix)]))
        lead: Inlines = (Strong((*job.mix_named(mix), Text(": "))),)
        lines[mix.ref] = (*lead, Text(told or job.word("nothing")))
    if lines:
        yield _heading(part)
        yield ListBlock(tuple(lines.values()))


def _asked(job: Job, part: PaperPart, mix: Mix) -> Iterator[str]:
    """The reasons given for a binder that was asked for and is in a mix."""
    for here in map(job.facts.at_scope, mix.used_for):
        if part.text and here.text("asked_binder") == here.text("binder") and here.text("asked_binder_reason"):
            yield filled(part.text, reason=here.text("asked_binder_reason").rstrip("."))


def _not_taken(job: Job, part: PaperPart) -> Iterator[Block]:
    """What was weighed and left, by the reason: each binder with the walls, or their coats, that it was weighed for."""
    weighed: dict[tuple[str, ScopePath], Counter[str]] = {}
    for item in job.decisions.considered:
        weighed.setdefault((item.binder, item.path[:1]), Counter())[item.why_not] += 1
    coats = Counter(path[:1] for path, name in job.decisions.reasons if name == "binder")
    reasons: dict[str, dict[str, dict[ScopePath, list[str]]]] = {}
    for item in job.decisions.considered:
        wall = item.path[:1]
        walls = reasons.setdefault(item.why_not, {}).setdefault(job.facts.say("binder", item.binder), {})
        named = walls.setdefault(wall, [])
        if weighed[item.binder, wall][item.why_not] < coats[wall]:
            named.append(job.facts.scopes[item.path].title)
    if reasons:
        yield _heading(part)
        rows = (
            {"why-not": words(job.word(why)), "binders": words(_pooled(job, them))} for why, them in reasons.items()
        )
        yield part.table(row(job, part, PROJECT, own) for own in rows)


def _pooled(job: Job, binders: Mapping[str, Mapping[ScopePath, Sequence[str]]]) -> str:
    """Binders with their walls, those of the same walls together; a wall's coats where they differ on it."""
    same: dict[str, list[str]] = {}
    for binder, walls in binders.items():
        places = (", ".join((job.facts.scopes[wall].title, *dict.fromkeys(coats))) for wall, coats in walls.items())
        same.setdefault("; ".join(places), []).append(binder)
    return "; ".join(f"{', '.join(them)} ({walls})" for walls, them in same.items())


_OFFICER: Final[Makers] = {
    "title": _title("officer-summary", "front:companion-officer"), "job": _job, "building": _building,
    "photographs": all_photographs, "mixes": _mixes, "works": _works, "why": _why, "not-taken": _not_taken,
}  # fmt: skip


# --- the owner --------------------------------------------------------------------------------------------


def owner(job: Job) -> Document:
    """One page for the owner: what the work will look like, what to keep doing, what never to do."""
    return _paper(job, "owner-page", _OWNER)


def _advice(job: Job, part: PaperPart) -> Iterator[Block]:
    """What there is to say of the works of this job."""
    yield _heading(part)
    yield ListBlock(tuple(of_works(job, part)))


def _care(job: Job, part: PaperPart) -> Iterator[Block]:
    """The same, and what holds of one wall alone, since an owner keeps no sheets."""
    yield _heading(part)
    bells = [job.told("owner-bells")] if job.serves("building.bells", PROJECT) else []
    yield ListBlock((*of_works(job, part), *bells, *_slaking(job), *_heating(job), *_of_walls(job)))


def _slaking(job: Job) -> Iterator[Inlines]:
    """The days on which quicklime boils where people live or pass: the clause asks for the owner's word on each."""
    if not job.serves("safety.slaking-fence", PROJECT):
        return
    clear = Value("slaking_clear_m", PROJECT, job.said("slaking_clear_m"))
    works = [work for work in job.facts.views("work") if work.known("slaked_from_date")]
    if not works or not job.facts.at_scope(PROJECT).known("panel_slaked_date"):
        yield job.told("owner-slaking", clear=clear)
        return
    begun = min(works, key=lambda work: work.day("slaked_from_date") or datetime.date.max)
    ended = max(works, key=lambda work: work.day("slaked_to_date") or datetime.date.min)
    first, last = _value(begun, "slaked_from_date"), _value(ended, "slaked_to_date")
    panel = _value(job.facts.at_scope(PROJECT), "panel_slaked_date")
    yield job.told("owner-slaking-dated", panel=panel, first=first, last=last, clear=clear)


def _value(here: View, name: str) -> Value:
    """The value of a name as a reader sees it from a scope."""
    return Value(name, here.path, here.spoken(name))


def _heating(job: Job) -> Iterator[Inlines]:
    """The rooms that the owner heats for the lime, and those in which heating is turned down for it."""
    rooms: dict[str, list[str]] = {}
    for wall in job.facts.views("element"):
        rooms.setdefault(_heated(job, wall), []).append(job.facts.title(wall.path))
    for word in ("owner-heats-dated", "owner-heats", "owner-cools"):
        if names := rooms.get(word):
            yield job.told(word, walls=Text("; ".join(names)))


def _heated(job: Job, wall: View) -> str:
    """The word for how the owner heats a room; where the days are known they are told with those it is closed on."""
    if job.serves("curing.heating-low", wall.path):
        return "owner-heats-dated" if wall.known("warmed_lime_date") and _days_closed(wall) else "owner-heats"
    return "owner-cools" if job.serves("curing.heating-strong", wall.path) else ""


def _warmed(wall: View) -> dict[str, Value]:
    """The days from which a room is warm: for the first lime, and for a panel where one is made there."""
    days = {"lime": "warmed_lime_date", "panel": "warmed_panel_date"}
    return {what: _value(wall, day) for what, day in days.items() if wall.known(day)}


def _of_walls(job: Job) -> Iterator[Inlines]:
    for wall in job.facts.views("element"):
        name = Text(job.facts.title(wall.path))
        yield from _without_fire(job, wall, name)
        yield from _closed_room(job, wall, name)
        yield from _ways_past(job, wall, name)
        yield from _below_floors(job, wall, name)
        if job.serves("plaster.salty-walls", wall.path):
            yield job.told("owner-salts", wall=name)


def _closed_room(job: Job, wall: View, name: Text) -> Iterator[Inlines]:
    """How long a room is closed, and from when it is warm.

    So long is that above a ceiling which is held from there, whose boards come up.
    """
    days = _days_closed(wall)
    if not days:
        return
    closed = job.told(
        "owner-room-dark" if job.serves("safety.circuits", wall.path) else "owner-room", wall=name, **days
    )
    warm = _warmed(wall) if _heated(job, wall) == "owner-heats-dated" else {}
    yield (*closed, *(job.told("owner-warm" if "panel" in warm else "owner-warm-lime", **warm) if warm else ()))
    if any(job.serves("refix.from-above", work.path) for work in wall.inside("work")):
        yield job.told("owner-room-above", wall=name, **days)


def _days_closed(wall: View) -> dict[str, Value]:
    """From when to when a room is closed: to the last look at it, or where it has a platform until that has gone."""
    back = next((day for day in ("room_back_date", "access_down_date") if wall.known(day)), "")
    if not wall.known("room_from_date") or not back:
        return {}
    return {"first": _value(wall, "room_from_date"), "last": _value(wall, back)}


def _ways_past(job: Job, wall: View, name: Text) -> Iterator[Inlines]:
    """How those who use the building pass a room that is closed."""
    for way in ("other", "screened", "emptied"):
        if job.serves(f"site.way-{way}", wall.path):
            yield job.told(f"owner-way-{way}", wall=name)
    if job.serves("safety.lead-way", wall.path):
        yield job.told("owner-way-lead", wall=name)


def _without_fire(job: Job, wall: View, name: Text) -> Iterator[Inlines]:
    """How long a stack or breast has no fire, and what its flues serve, given by other means before that.

    Live flues are lit on a fitter's paper alone, whatever is done to their stack and whether or not there are dates.
    """
    proved = job.serves("safety.flues", wall.path)
    since = next((day for day in ("flues_off_date", "room_from_date") if wall.known(day)), "")
    if not since or not wall.known("fires_from_date"):
        if proved:
            yield job.told("owner-fires-open", wall=name)
        return
    off, day = _value(wall, since), _value(wall, "fires_from_date")
    if job.serves("safety.flues-serve", wall.path):
        yield job.told("owner-flues-serve", wall=name, first=off, serve=_value(wall, "flues_serve"))
    yield job.told("owner-fires-proved" if proved else "owner-fires", wall=name, first=off, day=day)


def _below_floors(job: Job, wall: View, name: Text) -> Iterator[Inlines]:
    """That nothing is knocked above a ceiling, which is loose long before its props, and when nobody walks there."""
    ceiled = job.serves("laths.ceilings", wall.path)
    if not ceiled and wall.text("propped") != "below":
        return
    dated = [work for work in wall.inside("work") if work.known("floor_barred_date")]
    for work in dated:
        first, last = _value(work, "lime_start_date"), _value(work, "floor_barred_date")
        yield job.told("owner-ceiling-dated", wall=name, first=first, last=last)
    if not dated:
        yield job.told("owner-ceiling" if ceiled else "owner-loose", wall=name)


def _mortars(job: Job, part: PaperPart) -> Iterator[Block]:
    """Which mortar went where, for whoever repairs the building next: each in full once, and then by its name."""
    told: set[str] = set()
    rows = [_mortar(job, part, scope, told) for scope in job.facts.at("work") if job.mixes_placed(scope.path)]
    if rows:
        yield _heading(part)
        yield part.table(rows)


def _mortar(job: Job, part: PaperPart, scope: Scope, told: set[str]) -> Row:
    placed = job.mixes_placed(scope.path)
    alike = grouped(
        placed, lambda mix: mix.ref if mix.ref in told else "; ".join(each.text for each in _as_made(job, mix))
    )
    mortars = [mixes_told([mixes[0].ref]) if mixes[0].ref in told else _made_of(job, mixes) for mixes in alike.values()]
    own = {"where": place_told(job, scope.path), "mortars": joined(mortars, "; ")}
    told.update(mix.ref for mix in placed)
    return row(job, part, scope.path, own, job.word("nothing"))


def _made_of(job: Job, mixes: Sequence[Mix]) -> Inlines:
    """Mixes of one gauge and sand with these, by which they can be made again."""
    gauge, sand = _as_made(job, mixes[0])
    named = joined([job.mix_named(mix) for mix in mixes], "; ")
    of_each = "owner-mortar" if len(mixes) == 1 else "owner-mortars"
    return (*named, Text(" "), *job.told(of_each, gauge=gauge, sand=sand))


def _as_made(job: Job, mix: Mix) -> tuple[Value, Value]:
    """The gauge and the sand of a mix."""
    gauge, sand = (Value(name, mix.path, job.facts.spoken(mix.path, name)) for name in ("mix_gauge", "mix_sand"))
    return gauge, sand


_OWNER: Final[Makers] = {
    "title": _title("owner-page", "front:companion-owner"), "job": _job,
    "look": _advice, "care": _care, "never": _advice, "mortars": _mortars,
}  # fmt: skip


# --- the tenderers ----------------------------------------------------------------------------------------


def letter(job: Job) -> Document:
    """The letter on top of the papers: what is asked of tenderers, by when, and what lies with it."""
    return _paper(job, "covering-letter", _LETTER)


def _terms(job: Job, part: PaperPart) -> Iterator[Block]:
    yield _heading(part)
    open_form = part.if_none and not job.facts.spoken(PROJECT, "contract_form")
    own = {"contract_form": words(part.if_none)} if open_form else {}
    yield fact_table(part, project_facts(job, part.rows, own), small=False)


def _enclosed(job: Job, part: PaperPart) -> Iterator[Block]:
    yield _heading(part)
    yield ListBlock(tuple(words(line) for line in part.lines.values()))


_LETTER: Final[Makers] = {
    "title": _title("covering-letter", "front:companion-letter"), "job": _job,
    "terms": _terms, "enclosed": _enclosed, "signed": _terms,
}  # fmt: skip
