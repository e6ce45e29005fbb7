"""Lays a practice's and a project's own clauses, templates and other entries over a library that has been read.

A layer adds, replaces and drops clauses by id; all other entries it only adds (`own`), and never a rule. What it
replaces is remembered with the hash it was written on, so that a change beneath it is told. The order of its files
says nothing.
"""

from __future__ import annotations

from collections.abc import Container, Mapping, Sequence
from pathlib import Path
from typing import Any, Final, TypeVar

from generator.files.errors import Mark
from generator.files.walk import real_path
from generator.library.cost_places import OPEN
from generator.library.costs import duties_of_lines
from generator.library.entries import Clause, HoldPoint, ItemEntry, OperationEntry, clause_hash
from generator.library.findings import Raised
from generator.library.layers.files import Drop, Entry, LayerClause, LayerFiles, Review, read_layer
from generator.library.layers.own import add_own
from generator.library.layers.papers import lay_papers
from generator.library.model import SHIPPED, Dropped, Layer, Library, Origin
from generator.library.reading import Reading
from generator.values import Struct, field, replace

AnyEntry = TypeVar("AnyEntry", ItemEntry, OperationEntry, HoldPoint)
# The words that a new clause starts from, by the field that they fill.
STARTERS: Final[Mapping[str, str]] = {name: f"starter-{name}" for name in ("title", "text", "check", "because")}


class Layered(Struct):
    """What the layers made of the library so far. `versions` are the words of each clause, the oldest first."""

    layers: list[Layer] = field(default_factory=list)
    origins: dict[str, Origin] = field(default_factory=dict)
    dropped: dict[str, Dropped] = field(default_factory=dict)
    versions: dict[str, list[Clause]] = field(default_factory=dict)
    raised: list[Raised] = field(default_factory=list)

    def over(self, library: Library) -> Library:
        """The library with what the layers say of themselves; steps and hold points no longer name what is dropped.

        A line all of whose clauses are dropped falls with them.
        """
        dropped = {key: gone.clause for key, gone in self.dropped.items()}
        before = duties_of_lines({**dropped, **library.clauses}, library.items)
        after = duties_of_lines(library.clauses, library.items)
        fallen = {key for key in library.items if before[key] and not after[key]}
        return replace(
            library,
            layers=tuple(self.layers),
            origins=self.origins,
            dropped=self.dropped,
            raised=tuple(sorted(self.raised, key=lambda item: (item.code, item.fills))),
            items={key: _naming(entry, "besides", fallen) for key, entry in library.items.items() if key not in fallen},
            operations={key: _naming(entry, "clauses", self.dropped) for key, entry in library.operations.items()},
            hold_points=self._held(library.hold_points),
            unfilled=replace(library.unfilled, hold_points=self._held(library.unfilled.hold_points)),
        )

    def _held(self, points: Mapping[str, HoldPoint]) -> dict[str, HoldPoint]:
        return {key: _naming(point, "clauses", self.dropped) for key, point in points.items()}

    def note(self, code: str, clause_id: str, layer: str, mark: Mark, **fills: str) -> None:
        """Notes a finding of a layer about a clause."""
        told = {"name": clause_id, "first": layer, **fills}
        self.raised.append(Raised(code, (), tuple(sorted(told.items())), (), (mark,)))


def _naming(entry: AnyEntry, field_name: str, gone: Container[str]) -> AnyEntry:
    """An entry whose list no longer names what is gone."""
    named = getattr(entry, field_name)
    kept = tuple(key for key in named if key not in gone)
    changed: dict[str, Any] = {field_name: kept}
    return entry if kept == named else replace(entry, **changed)


def lay(reading: Reading, part_of: dict[str, str], folders: Sequence[tuple[Path, str]]) -> Layered:
    """Lays each folder over what was read, in order; `part_of` and the entries are changed. Mistakes are noted."""
    made = Layered()
    seen: dict[Path, str] = {}
    for folder, label in folders:
        real = real_path(folder)
        if real in seen:
            reading.note(Mark(label), f"is named a second time as a layer (first as {seen[real]})", "name it once")
            continue
        seen[real] = label
        layer = read_layer(folder, label, reading)
        if layer is not None:
            _lay_one(reading, part_of, made, layer)
    missing = {item.code for item in made.raised} - set(reading.entries.get("finding", {}))
    for code in sorted(missing):
        mark = next(item.marks[0] for item in made.raised if item.code == code)
        reading.note(mark, f"raises the finding '{code}', which the library lacks", "add it to its findings")
    return made


def _lay_one(reading: Reading, part_of: dict[str, str], made: Layered, layer: LayerFiles) -> None:
    header = layer.header
    if header.name == SHIPPED or header.name in {other.name for other in made.layers}:
        what = f"takes the name '{header.name}', which another layer has"
        reading.note(layer.sources["layer.yaml"].mark(("name",)), what, "give each layer a name of its own")
    made.layers.append(Layer(header.name, header.edition, layer.digest, layer.folder))
    lay_papers(layer, reading)
    add_own(layer, reading)
    _Laying(reading, part_of, made, layer).run()


# --- replacing, adding, dropping ------------------------------------------------------------------------------


class _Laying(Struct):
    """The clauses of one layer being laid."""

    reading: Reading
    part_of: dict[str, str]
    made: Layered
    layer: LayerFiles

    @property
    def name(self) -> str:
        return self.layer.header.name

    def run(self) -> None:
        """Replaces, adds and drops."""
        known = self.reading.entries.setdefault("clause", {})
        fresh: dict[str, Entry[LayerClause]] = {}
        for key in sorted(self.layer.clauses):
            item = self.layer.clauses[key]
            if key in known or item.entry.based_on:
                self._replace(item)
            else:
                fresh[key] = item
        self._add(fresh)
        for key in sorted(self.layer.drops):
            self._drop(self.layer.drops[key])

    def _replace(self, item: Entry[LayerClause]) -> None:
        known, entry = self.reading.entries["clause"], item.entry
        base = known.get(entry.id)
        if base is None:
            gone = entry.id in self.made.dropped
            what = f"replaces the clause '{entry.id}', which " + ("an earlier layer drops" if gone else "is not there")
            hint = f"{self.reading.problems.near(entry.id, known)} or take 'based_on' out to add it"
            self.reading.note(item.at("id"), what, hint)
        elif not entry.based_on:
            what = f"has the id of a clause that is there (at {self.reading.mark('clause', entry.id)})"
            to_do = f"take another id, or replace that clause: 'based_on: \"{clause_hash(base)}\"'"
            self.reading.note(item.at("id"), what, to_do)
        else:
            for name, value in (("part", self.part_of[entry.id]), ("after", "")):
                if getattr(entry, name) not in ("", value):
                    what = f"moves the clause '{entry.id}' that it replaces"
                    self.reading.note(item.at(name), what, f"take '{name}' out")
            self._take_place(item, base)

    def _take_place(self, item: Entry[LayerClause], base: Clause) -> None:
        """Puts a replacement where its base stood, and says what is to be known of it."""
        entry, made = item.entry, self.made
        before = made.origins.get(entry.id)
        versions = made.versions.setdefault(entry.id, [base])
        origin = self._origin(item, base, [clause_hash(version) for version in versions])
        if origin.stale:
            made.note("clause-base-changed", entry.id, self.name, item.at("based_on"))
        if before is not None and not origin.on_base:
            made.note("clause-replaced-twice", entry.id, self.name, item.mark, second=before.layer)
        kept = [version for version in versions if version.keep]
        if kept and not _protects_as(entry, kept[-1]):
            made.note("keep-clause-narrowed", entry.id, self.name, item.mark)
        versions.append(entry)
        self._stands(item, origin)

    def _origin(self, item: Entry[LayerClause], base: Clause, beneath: Sequence[str]) -> Origin:
        """Where a replacement comes from, and which of the versions beneath it somebody has read it beside."""
        entry = item.entry
        reviews = [review for review in self.layer.reviews.get(entry.id, ()) if review.base in beneath]
        read = {entry.based_on, *(review.base for review in reviews)}
        last = max(reviews, key=lambda review: review.date, default=None)
        return Origin(
            self.name, self.layer.header.edition, item.file, entry.based_on, base,
            stale=read.isdisjoint(beneath), on_base=beneath[-1] in read, read=_told(last),
        )  # fmt: skip

    def _stands(self, item: Entry[LayerClause], origin: Origin) -> None:
        """Keeps a clause of the layer, in the place of what has its id; tells of words that nobody has written yet."""
        entry, words = item.entry, self.reading.entries.get("word", {})
        self.reading.entries["clause"][entry.id] = entry
        self.reading.places["clause", entry.id] = (item.source, item.path)
        self.made.origins[entry.id] = origin
        begun = any(getattr(entry, name).strip() == words.get(key, "").strip() != "" for name, key in STARTERS.items())
        if begun or entry.cost == OPEN:
            self.made.note("clause-not-written", entry.id, self.name, item.mark)

    def _add(self, fresh: Mapping[str, Entry[LayerClause]]) -> None:
        """Adds the new clauses: each behind the clause it names, else at the end of its part, by id."""
        known = self.reading.entries["clause"]
        parts = self.reading.entries.get("part", {})
        behind: dict[str, list[str]] = {}
        for key, item in fresh.items():
            if self._has_place(item, fresh, parts):
                behind.setdefault(item.entry.after or f"part:{item.entry.part}", []).append(key)
        order = [added for key in known for added in (key, *_following(key, behind))]
        order += [added for part in parts for added in _following(f"part:{part}", behind)]
        self._refuse_rings([key for after in sorted(behind) for key in behind[after]], fresh)
        for key in order:
            if key in fresh:
                self.part_of[key] = fresh[key].entry.part
                self.made.dropped.pop(key, None)
                self._stands(fresh[key], Origin(self.name, self.layer.header.edition, fresh[key].file))
        self.reading.entries["clause"] = {key: known[key] for key in order}

    def _has_place(
        self, item: Entry[LayerClause], fresh: Mapping[str, Entry[LayerClause]], parts: Mapping[str, Any]
    ) -> bool:
        """Whether the part and the clause that a new clause names are there; noted where they are not."""
        entry, known = item.entry, self.reading.entries["clause"]
        if entry.part not in parts:
            what = f"names the part '{entry.part}', which is not there" if entry.part else "lacks 'part'"
            self.reading.note(item.at("part"), what, self.reading.problems.near(entry.part, parts))
            return False
        if not entry.after:
            return True
        if entry.after not in known and entry.after not in fresh:
            what = f"comes after the clause '{entry.after}', which is not there"
            self.reading.note(item.at("after"), what, self.reading.problems.near(entry.after, [*known, *fresh]))
            return False
        part = fresh[entry.after].entry.part if entry.after in fresh else self.part_of[entry.after]
        if part != entry.part:
            what = f"comes after the clause '{entry.after}', which is of the part '{part}'"
            self.reading.note(item.at("after"), what, f"name a clause of '{entry.part}'")
        return part == entry.part

    def _refuse_rings(self, unplaced: Sequence[str], fresh: Mapping[str, Entry[LayerClause]]) -> None:
        """Notes each ring among clauses that found no place; the others stand behind one that is noted already."""
        told: set[str] = set()
        for first in unplaced:
            chain: list[str] = []
            key = first
            while key in fresh and key not in told:
                told.add(key)
                chain.append(key)
                key = fresh[key].entry.after
            if key in chain:
                what = f"comes after itself in a ring ({', '.join(chain[chain.index(key) :])})"
                self.reading.note(fresh[key].at("after"), f"the clause '{key}' {what}", "name a clause of the part")

    def _drop(self, item: Entry[Drop]) -> None:
        known, key = self.reading.entries["clause"], item.entry.id
        clause = known.get(key)
        if clause is None:
            gone = self.made.dropped.get(key)
            what = f"drops the clause '{key}', which " + (f"'{gone.layer}' drops already" if gone else "is not there")
            self.reading.note(item.at("id"), what, self.reading.problems.near(key, known))
            return
        if any(version.keep for version in self.made.versions.get(key, [clause])):
            self.made.note("keep-clause-dropped", key, self.name, item.mark, reason=item.entry.because)
        self.made.dropped[key] = Dropped(clause, self.name, item.entry.because, item.mark)
        self.made.origins.pop(key, None)
        del known[key]


def _following(key: str, behind: dict[str, list[str]]) -> list[str]:
    """What stands behind a clause or part, and behind that, and so on; without recursion, for chains may be long."""
    found: list[str] = []
    waiting = list(reversed(behind.pop(key, ())))
    while waiting:
        found.append(waiting.pop())
        waiting += reversed(behind.pop(found[-1], ()))
    return found


def _protects_as(entry: Clause, kept: Clause) -> bool:
    """Whether a replacement of a clause to keep is in wherever that was."""
    same = (entry.per, entry.when.split(), entry.keep) == (kept.per, kept.when.split(), kept.keep)
    return same and (entry.if_unknown == kept.if_unknown or entry.if_unknown == "include")


def _told(review: Review | None) -> str:
    return f"{review.by}, {review.date}" if review else ""
