"""Everything the papers are assembled from, in one value, and the small helpers that all papers share."""

from __future__ import annotations

import re
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Any, Final, TypeVar

from generator.decide.model import Decisions, Mix
from generator.document.model import Identity, Inline, Inlines, Text, Value
from generator.document.template import Paper
from generator.job.duties import Duty
from generator.job.filling import Filling
from generator.job.numbers import NumberedPart, runs, runs_told
from generator.job.select import Selection
from generator.library.findings import Finding
from generator.library.model import Library
from generator.measure.model import Item, Measured
from generator.programme.model import Programme
from generator.questionnaire.facts import Facts
from generator.questionnaire.recall import Reach
from generator.questionnaire.scopes import PROJECT, ScopePath
from generator.values import replace

if TYPE_CHECKING:
    from generator.measure.photographs.model import Surveyed
    from generator.measure.photographs.reckoning import PhotographFigures, WorkArea

One = TypeVar("One")
Key = TypeVar("Key", bound=Hashable)
# Stands for a value while its phrase is put together: a character that no text may hold.
_FIRST_MARK: Final = 0xE000


class Later(Mapping[str, int]):
    """Numbers by name, counted when one is first asked for: whoever only answers questions looks at none."""

    def __init__(self, count: Callable[[], Mapping[str, int]]) -> None:
        self._count = count

    @cached_property
    def _counted(self) -> Mapping[str, int]:
        return self._count()

    def __getitem__(self, name: str) -> int:
        return self._counted[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._counted)

    def __len__(self) -> int:
        return len(self._counted)


@dataclass(frozen=True, slots=True)
class Job:
    """A job decided, measured, timed and numbered, with its findings in words."""

    facts: Facts
    library: Library
    decisions: Decisions
    measured: Measured
    programme: Programme
    selections: Mapping[str, Selection]
    parts: tuple[NumberedPart, ...]
    numbers: Mapping[str, str]
    findings: tuple[Finding, ...]
    status: str
    filling: Filling
    duties: Mapping[str, Duty] = field(default_factory=dict)
    replaces: str = ""
    figures: Mapping[str, int] = field(default_factory=dict)
    survey: Surveyed | None = None
    _found: dict[str, Any] = field(default_factory=dict, init=False, repr=False, compare=False)

    def with_figures(self, count: Callable[[Job], Mapping[str, int]]) -> Job:
        """The same with the numbers of its figures, counted when one is asked for."""
        # of this one: what holds itself stays until garbage is looked for, and that takes longer than an answer may
        job = replace(self, figures=Later(lambda: count(self)))
        object.__setattr__(job, "_found", self._found)  # what either works out serves both
        return job

    @property
    def photographs(self) -> tuple[PhotographFigures, ...]:
        """The photographs of the job with what each gives."""
        return self.survey.photographs if self.survey else ()

    def photographs_of(self, path: ScopePath) -> list[PhotographFigures]:
        """Those of a wall."""
        return [one for one in self.photographs if one.picture.asked.element == path]

    @property
    def work_areas(self) -> tuple[WorkArea, ...]:
        """The areas that all photographs together give the works."""
        return self.survey.works if self.survey else ()

    @property
    def pictures(self) -> dict[str, bytes]:
        """The files of the photographs that were read, by the names that the answers give them."""
        found = (one.picture for one in self.photographs)
        return {picture.asked.asked.file: picture.read.data for picture in found if picture.read is not None}

    def word(self, key: str, **fills: str) -> str:
        """A fixed word or phrase of the library."""
        return self.library.phrase(key, **fills)

    def listed(self, key: str) -> list[str]:
        """The names that a word of the library lists, with commas between them."""
        return [name.strip() for name in self.word(key).split(",") if name.strip()]

    def told(self, key: str, **values: Inline) -> Inlines:
        """A fixed phrase of the library with values in its places, each of which stays a value."""
        marks = {name: chr(_FIRST_MARK + index) for index, name in enumerate(values)}
        by_mark = {marks[name]: value for name, value in values.items()}
        pieces = re.split("([\ue000-\uf8ff])", self.library.phrase(key, **marks))
        return tuple(by_mark.get(piece) or Text(piece) for piece in pieces if piece)

    def said(self, name: str) -> str:
        """A project answer as a reader sees it, or the words for one still to be settled."""
        return self.facts.spoken(PROJECT, name) or self.word("to-be-settled")

    def answer(self, name: str) -> Inlines:
        """A project answer as a value in the text."""
        return (Value(name, PROJECT, self.said(name)),)

    def paper(self, name: str) -> Paper:
        """The template of a paper."""
        return self.library.templates[name]

    def identity(self, title: str = "") -> Identity:
        """What every page of a paper says of itself."""
        project = self.facts.at_scope(PROJECT)
        issued = project.day("issue_date")
        assert issued is not None, "the question is required"
        return Identity(
            title=title, subject=self.said("title"), reference=self.said("reference"),
            revision=self.said("revision"), date=issued.isoformat(), author=self.said("specifier"),
            draft=self.word("draft-mark") if self.status == "draft" else "", language=self._language(),
            paper="letter" if project.text("paper") == "letter" else "a4", date_form=self.facts.date_form,
            page_words=(self.word("page"), self.word("of")),
            caption_words=(self.word("table"), self.word("figure")), notes_by=self.word("specifiers-notes"),
        )  # fmt: skip

    def _language(self) -> str:
        """The tag of the language the papers are proof-read and read aloud in."""
        return self.facts.spoken(PROJECT, "language") or self.library.language

    def serves(self, clause_id: str, path: ScopePath) -> bool:
        """Whether a clause is in and speaks to a scope: to it, to what lies in or around it, or to a mix of it."""
        if not self.in_papers(clause_id):
            return False
        if self.facts.scopes[path].level in ("project", "mix"):
            return True
        return self.reach(clause_id).meets(path)

    def serving(self, ids: tuple[str, ...], path: ScopePath = ()) -> tuple[str, ...]:
        """Those clauses that speak to a scope, in order; asked once for walls answered alike."""
        moving: frozenset[str] = self.kept("moving clauses", lambda: frozenset(self._moving_clauses()))
        told: dict[object, tuple[str, ...]] = self.kept("serving", dict)
        at = self.facts.model(path) if moving.isdisjoint(ids) else path
        if (ids, at) not in told:
            told[ids, at] = tuple(key for key in ids if self.serves(key, at))
        return told[ids, at]

    def _moving_clauses(self) -> Iterator[str]:
        """The clauses that may speak to one of two walls answered alike."""
        for key, selection in self.selections.items():
            if selection.condition is not None and not self.facts.moving.isdisjoint(selection.condition.names()):
                yield key

    def reach(self, clause_id: str) -> Reach:
        """The scopes that a clause speaks to, to be asked what they meet."""
        found: Reach = self.kept(f"reach:{clause_id}", lambda: Reach(self.spoken_to(clause_id)))
        return found

    def kept(self, key: str, make: Callable[[], Any]) -> Any:
        """What is asked for wall by wall or by several papers and is the same for all: found once a job."""
        if key not in self._found:
            self._found[key] = make()
        return self._found[key]

    def spoken_to(self, clause_id: str) -> tuple[ScopePath, ...]:
        """The scopes that a clause speaks to, with the coats of the mixes among them."""
        paths = self.selections[clause_id].paths
        inside = set(paths)
        mixes = [mix for mix in self.decisions.mixes if mix.path in inside]
        return (*paths, *(used for mix in mixes for used in mix.used_for))

    def clause_numbers(self, ids: tuple[str, ...], path: ScopePath = ()) -> str:
        """The numbers of those clauses that speak to a scope, in order, runs drawn together: `7.4–7.6, 8.1`."""
        return self.number_runs(self.serving(ids, path))

    def number_runs(self, ids: Iterable[str]) -> str:
        """The numbers of clauses that are in, in order, runs drawn together."""
        told: dict[tuple[str, ...], str] = self.kept("runs of numbers", dict)
        wanted = tuple(ids)
        if wanted not in told:  # lines and steps of a kind name the same
            places = self.kept("numbers", self._places_of_numbers)
            numbers = {self.numbers[f"clause:{key}"] for key in wanted} & places.keys()
            told[wanted] = runs_told(runs(sorted(numbers, key=places.__getitem__), places))
        return told[wanted]

    def _places_of_numbers(self) -> dict[str, int]:
        order = (clause.number for part in self.parts for clause in part.clauses if clause.used)
        return {number: place for place, number in enumerate(order)}

    def line_runs(self, lines: Iterable[Item]) -> list[list[str]]:
        """The numbers of lines to price, runs within a section drawn together."""
        order = self.kept("places of lines", lambda: {item.ref: at for at, item in enumerate(self.measured.items())})
        return runs(sorted((item.ref for item in lines), key=order.__getitem__), order)

    def work_lines(self, path: ScopePath) -> list[Item]:
        """The lines of a work among the measured work: not its rates for likely finds, nor its sums."""
        found = self.kept("lines", lambda: self._grouped_lines(2, "element"))
        return list(found.get(path, ()))

    def lines_at(self, path: ScopePath) -> list[Item]:
        """The lines of just this scope, of every section, those too that stand at another and serve it."""
        found = self.kept("lines at", self._grouped_lines)
        shared = self.kept("lines shared", self._shared_lines)
        return [*found.get(path, ()), *shared.get(path, ())]

    def _shared_lines(self) -> dict[ScopePath, list[Item]]:
        found: dict[ScopePath, list[Item]] = {}
        for item in self.measured.items():
            for path in item.others:
                found.setdefault(path, []).append(item)
        return found

    def _grouped_lines(self, depth: int | None = None, section: str = "") -> dict[ScopePath, list[Item]]:
        lines = (item for item in self.measured.items() if item.section == section or not section)
        return grouped(lines, lambda item: item.path[:depth])

    def wall_findings(self, path: ScopePath) -> list[Finding]:
        """The findings at the wall that a scope is or lies in, the gravest first."""
        found = self.kept("findings", lambda: grouped(self.findings, lambda item: item.scope[:1]))
        return list(found.get(path[:1], ()))

    def line_refs(self, path: ScopePath) -> str:
        """The numbers of the lines of a work, from the first to the last; "" where it has none."""
        refs = [item.ref for item in self.work_lines(path)]
        return f"{refs[0]}–{refs[-1]}" if len(refs) > 1 else "".join(refs)

    def mixes_of(self, path: ScopePath) -> list[Mix]:
        """The mixes of a work, or of all works of a wall, each once, in the order of their coats."""
        found = (self.decisions.mix_of(coat.path) for coat in self.facts.inside(path, "coat"))
        return list({mix.ref: mix for mix in found if mix is not None}.values())

    def mix_refs(self, path: ScopePath) -> list[str]:
        """What the mixes of a work, or of a wall, are called on every paper."""
        return [mix.ref for mix in self.mixes_of(path)]

    def mixes_placed(self, path: ScopePath) -> list[Mix]:
        """The mixes of a work, and those of other coats that its lines take: what goes on the wall in it."""
        taken = {ref for item in self.work_lines(path) for ref in filter(None, item.mix.split(", "))}
        own = {mix.ref: mix for mix in self.mixes_of(path)}
        return [*own.values(), *(mix for mix in self.decisions.mixes if mix.ref in taken - own.keys())]

    def mix_named(self, mix: Mix) -> Inlines:
        """A mix with the name of its mortar."""
        ref, name = Value("mix_ref", mix.path, mix.ref), Value("mix_name", mix.path, mix.name)
        return (ref, Text(", "), name)

    def work_quantity(self, path: ScopePath) -> Inline:
        """The quantity that a work is known by: its area, or that of its first line; or that it is to follow."""
        area = self.facts.spoken(path, "treated_area_m2")
        told = [item for item in self.work_lines(path) if item.to_follow or item.quantity is not None]
        told.sort(key=lambda item: item.unit in ("item", "week"))  # propping is no measure of the walling it props
        first = told[0] if told else None
        if area or first is None or first.quantity is None:
            return Value("treated_area_m2", path, area) if area else Text(self.word("quantity-to-follow"))
        text = self.facts.spelling.priced(first.quantity, first.unit)
        return Text(text) if first.entry.fixed_quantity is not None else Value(first.entry.quantity, first.path, text)

    def in_papers(self, clause_id: str) -> bool:
        """Whether a clause is in these papers."""
        return clause_id in self.selections and self.selections[clause_id].included


def grouped(items: Iterable[One], by: Callable[[One], Key]) -> dict[Key, list[One]]:
    """Things by what each belongs to, a scope mostly, in their order."""
    found: dict[Key, list[One]] = {}
    for item in items:
        found.setdefault(by(item), []).append(item)
    return found


def words(text: str) -> Inlines:
    """Words of the library as inlines."""
    return (Text(text),)
