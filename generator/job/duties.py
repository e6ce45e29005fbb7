"""Which lines of the schedule pay for what each clause asks, and what no line pays for or two lines do."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from generator.decide.model import Decisions
from generator.job.select import Selection
from generator.library.cost_places import INFORMATION, OPEN, RATE
from generator.library.costs import in_all_rates, named_lines, of_mortar, place_of
from generator.library.entries import Clause
from generator.library.findings import Raised
from generator.library.model import Library
from generator.measure.model import Item
from generator.questionnaire.keeping import AFRESH, Kept
from generator.questionnaire.recall import Reach
from generator.questionnaire.scopes import ScopePath
from generator.values import Struct

MEASURED: Final = "element"


class Duty(Struct, frozen=True):
    """A clause of the job where it is in, the place of its cost, and the lines that pay, in the order of the schedule.

    `everywhere` where it is in the rates of all measured work.
    """

    clause: Clause
    place: str
    paths: tuple[ScopePath, ...]
    lines: tuple[Item, ...]
    everywhere: bool = False


class Payers:
    """The lines of a job as clauses name them."""

    def __init__(self, library: Library, decisions: Decisions, items: Iterable[Item]) -> None:
        self.library = library
        self._used = {mix.path: mix.used_for for mix in decisions.mixes}
        self.items = tuple(items)
        self._order = {item.ref: place for place, item in enumerate(self.items)}
        self._spoken = {item.ref: tuple(self.spoken(item.serves)) for item in self.items}
        self._of: dict[str, list[Item]] = defaultdict(list)
        for item in self.items:
            self._of[item.entry.id].append(item)
        self._payers: dict[str, list[str]] = defaultdict(list)
        for key, duties in library.duties.items():
            for duty in duties:
                self._payers[duty].append(key)
        self._measured = tuple(item for item in self.items if item.section == MEASURED)
        self._lines: dict[tuple[bool, bool, tuple[str, ...], tuple[ScopePath, ...]], tuple[Item, ...]] = {}
        self._reaches: dict[int, tuple[tuple[Item, ...], Reach]] = {}
        self._placed: dict[tuple[int, ...], tuple[Item, ...]] = {}

    @property
    def stand(self) -> object:
        """All by which it is told which lines pay for what; what a line costs or measures is none of it."""
        return self._used, [(item.ref, item.entry.id, item.section, item.path) for item in self.items]

    def places(self, lines: Iterable[Item]) -> tuple[int, ...]:
        """The places of lines in the schedule."""
        return tuple(self._order[item.ref] for item in lines)

    def at(self, places: tuple[int, ...]) -> tuple[Item, ...]:
        """The lines at places in the schedule, those of the same places as one."""
        if places not in self._placed:
            self._placed[places] = tuple(self.items[place] for place in places)
        return self._placed[places]

    def spoken(self, paths: Iterable[ScopePath]) -> Iterator[ScopePath]:
        """Scopes, with the coats of the mixes among them in the place of those."""
        for path in paths:
            yield from self._used.get(path) or (path,)

    def lines(self, clause: Clause, paths: tuple[ScopePath, ...]) -> tuple[Item, ...]:
        """The lines that pay for a clause where it is in, those beside others among them.

        Kept by who pays and where: the clauses of a job are many, and such places few.
        """
        everywhere = in_all_rates(clause)
        key = (everywhere, of_mortar(clause), () if everywhere else tuple(self._payers.get(clause.id, ())), paths)
        if key not in self._lines:
            self._lines[key] = self._lines_of(*key)
        return self._lines[key]

    def _lines_of(
        self, everywhere: bool, mortar: bool, payers: tuple[str, ...], paths: tuple[ScopePath, ...]
    ) -> tuple[Item, ...]:
        if everywhere and (taking := self._taking(paths)):
            return taking
        here = self._here(self._measured if everywhere else self._named(payers), paths)
        mixed = tuple(item for item in here if item.mix) if mortar else ()
        return mixed or here  # where no mix is settled, any may come to take one

    def _here(self, found: tuple[Item, ...], paths: tuple[ScopePath, ...]) -> tuple[Item, ...]:
        """Those of some lines that are where a clause is in, in the order of the schedule."""
        reach = Reach(self.spoken(paths if found else ()))
        if found is self._measured and reach.everywhere:
            return found
        here = (item for item in found if any(map(reach.meets, self._spoken[item.ref])))
        return tuple(sorted(here, key=lambda item: self._order[item.ref]))

    def _taking(self, paths: tuple[ScopePath, ...]) -> tuple[Item, ...]:
        """The lines of measured work that take one of some mixes, wherever they are: fillings take that of a coat."""
        refs = {path[0] for path in paths if path in self._used}
        return tuple(item for item in self._measured if refs & set(item.mix.split(", "))) if refs else ()

    def reach(self, lines: tuple[Item, ...]) -> Reach:
        """Where lines pay, kept by the lines as `lines` gives them: many clauses have the same."""
        if id(lines) not in self._reaches:
            # with the lines, so that no others come to lie at their place
            self._reaches[id(lines)] = lines, Reach(path for item in lines for path in self._spoken[item.ref])
        return self._reaches[id(lines)][1]

    def _named(self, keys: Iterable[str]) -> tuple[Item, ...]:
        return tuple(item for key in keys for item in self._of.get(key, ()))


Wanted = Mapping[str, tuple[Clause, tuple[ScopePath, ...]]]
"""Clauses by their ids, with where they are in."""


def wanted(selections: Mapping[str, Selection]) -> Wanted:
    """The clauses that are in, in the order of the library."""
    return {key: (one.clause, one.paths) for key, one in selections.items() if one.included}


def duties(asked: Wanted, payers: Payers, kept: Kept = AFRESH) -> dict[str, Duty]:
    """Each clause of the job with the lines that pay for it, in the order of the library."""

    def paying() -> dict[str, tuple[int, ...]]:
        return {key: payers.places(payers.lines(*one)) for key, one in asked.items()}

    places = kept.of("duties", (payers.stand, asked), paying)
    return {
        key: Duty(clause, place_of(clause), paths, payers.at(places[key]), in_all_rates(clause))
        for key, (clause, paths) in asked.items()
    }


def misplaced(made: Mapping[str, Duty], payers: Payers) -> Iterator[Raised]:
    """A finding for each clause that no line pays for, or two do, and for each line that pays for no clause."""
    for duty in made.values():
        if duty.place not in (INFORMATION, OPEN):
            yield from _unpaid(duty, payers)
            yield from _twice(duty)
    lines = {id(duty.lines): duty.lines for duty in made.values()}
    paid = {item.ref for paying in lines.values() for item in paying}
    for item in payers.items:
        # a library that is not checked whole may hold lines that no clause names
        if item.ref not in paid and payers.library.duties[item.entry.id]:
            yield Raised("line-without-duty", item.path, (("item", item.ref),))


def _unpaid(duty: Duty, payers: Payers) -> Iterator[Raised]:
    lines = payers.reach(duty.lines)
    for path in duty.paths:
        if not any(map(lines.meets, payers.spoken((path,)))):
            yield Raised("duty-without-line", path, _told(duty))


def _twice(duty: Duty) -> Iterator[Raised]:
    """Lines of two kinds at one place, both named as what pays; a way of working may be in the rates of many."""
    if duty.place == RATE:
        return
    named = set(named_lines(duty.clause))
    at: dict[ScopePath, list[Item]] = defaultdict(list)
    for item in duty.lines:
        if item.entry.id in named and named.isdisjoint(item.entry.besides):
            at[item.path].append(item)
    for path, here in at.items():
        around = (item for end in range(len(path)) for item in at.get(path[:end], ()))
        both = {item.entry.id: item.ref for item in (*around, *here)}
        if len(both) > 1:
            yield Raised("duty-priced-twice", path, (("item", ", ".join(both.values())), *_told(duty)))


def _told(duty: Duty) -> tuple[tuple[str, str], ...]:
    return (("name", duty.clause.id), ("title", duty.clause.title))
