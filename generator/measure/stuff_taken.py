"""What is taken beside coats to fill old plaster and run mouldings: of which mixes, and how much, coarse and fine."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from generator.measure.laying import standing
from generator.measure.outputs import Labour, Outputs, gang
from generator.measure.volumes import beds_copings_in_its_mix, coped_in
from generator.questionnaire.facts import Facts, View
from generator.questionnaire.scopes import ScopePath
from generator.values import Range, Struct, Value

PARTS: Final = ("coarse", "fine")
COPING_MIX: Final = "coping_mix"
TABLES: Final = {"filling": "filling-mortar", "moulding": "cornice-mortar"}
"""The litres in one of what a task is measured by, by what it fills."""

_COATS: Final = {"coarse": ("float", "scratch", "pricking-up"), "fine": ("setting",)}


class Taken(Struct, frozen=True):
    """What a task takes of one part: how much there is to do, in how many days, at how many litres of one.

    Days are not yet whole.
    """

    task: str
    amount: Range[float]
    days: Range[float]
    litres: Range[float]

    def amount_l(self) -> tuple[float, float, float]:
        """The litres in place: low, likely and high."""
        amount, each = self.amount, self.litres
        return amount.low * each.low, amount.likely * each.likely, amount.high * each.high


def stuff_mixes(facts: Facts) -> Mapping[ScopePath, Mapping[str, Value]]:
    """The mixes that the works take which fill old plaster, run mouldings or bed copings; none for what is made."""
    works = [work for work in facts.views("work") if work.text("work") == "refix" or work.number("cornice_m")]
    coped = {work.path: mix for work in facts.views("work") if (mix := _coping_mix(work))}
    whole = {part: _mix(facts.views("coat"), _COATS[part][:1]) for part in PARTS} if works else {}
    filled = {work.path: found for work in works if (found := dict(_mixes(work, whole)))}
    return {**filled, **{path: {COPING_MIX: mix} for path, mix in coped.items()}}


def _coping_mix(work: View) -> str:
    """The mix that a work beds copings in; none where nobody has decided it."""
    coat = coped_in(work.around("element")) if beds_copings_in_its_mix(work) else None
    return coat.text("mix_used") if coat is not None else ""


def _mixes(work: View, whole: Mapping[str, str]) -> Iterator[tuple[str, Value]]:
    by_card = work.text("filling_stuff") == "by-card"
    for part in PARTS:
        if work.text("work") != "refix":
            found = _mix(work.inside("coat"), _COATS[part]) or whole[part]
        else:
            beside = _mix(work.around("element").inside("coat"), _COATS[part][:1])
            found = (beside or whole[part]) if by_card else ""
        if found:
            yield f"{part}_mix", found


def _mix(coats: Iterable[View], names: Iterable[str]) -> str:
    """The mix of the first coat of plaster so called, by the order of names; coarse stuff has hair."""
    listed = [coat for coat in coats if coat.text("work") == "plaster" and coat.text("mix_used")]
    fitting = (
        coat.text("mix_used")
        for name in names
        for coat in listed
        if coat.text("coat") == name and (name == "setting" or coat.number("hair_kg_per_m3"))
    )
    return next(fitting, "")


def taking(ref: str, facts: Facts) -> list[tuple[View, str]]:
    """The works that take a mix beside its coats, each with the part that it is; with no mix, what is made for them."""
    return [
        (work, part)
        for work in facts.views("work")
        for part in PARTS
        if (work.text("work") == "refix" or work.number("cornice_m")) and work.text(f"{part}_mix") == ref
    ]


def taken(work: View, part: str, outputs: Outputs) -> Iterator[Taken]:
    """What the tasks of a work take of a part."""
    trade = work.text("trade")
    people_nr = gang(work, trade, outputs.library).reckoned_nr if trade else 1
    for task in outputs.library.tasks.values():
        if task.fills in TABLES and standing(task, work, outputs):
            labour, row = outputs.labour(work, task.output), outputs.library.row(TABLES[task.fills])
            if labour is not None and labour.amount.likely:
                yield Taken(task.id, labour.amount, _days(labour, people_nr), row.spread(part))


def _days(labour: Labour, people_nr: int) -> Range[float]:
    """The days of a task, no fewer than the smallest takes."""
    return labour.days(people_nr).each(lambda each: max(each, float(labour.least_days)))
