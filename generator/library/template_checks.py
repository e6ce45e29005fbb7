"""Makes papers of their drafts, once layers are laid and names are known: each part checked against its kind."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import Final

from generator.document.template import EVERY_WORK, Paper, PaperPart, Shown, places
from generator.files.errors import Mark, did_you_mean, shown
from generator.library.paper_kinds import PAPERS, PartKind, kind_of
from generator.library.reading import Reading
from generator.library.templates import ColumnShape, Draft, Placed, RowShape
from generator.library.told_figures import figure_places
from generator.questionnaire.names import Names, visible_from
from generator.questionnaire.questions import Question
from generator.values import Struct

_NEARLY: Final = 0.0005  # shares are written to two or three figures
_MEND: Final = "write words a reader sees"


def make_papers(reading: Reading, names: Names) -> dict[str, Paper]:
    """The papers of the drafts that were read. Mistakes are noted."""
    drafts: Mapping[str, Draft] = reading.entries.get("paper", {})
    making = _Making(reading, names, figure_places(reading.entries.get("figure", {})))
    return {key: making.paper(found, PAPERS[key]) for key, found in drafts.items()}


class _Making(Struct, frozen=True):
    """Makes the parts of a paper, noting what is wrong with each; `figures` are the places that figures fill."""

    reading: Reading
    names: Names
    figures: set[str]

    def note(self, mark: Mark, what: str, to_do: str) -> None:
        self.reading.note(mark, what, to_do)

    # --- parts --------------------------------------------------------------------------------------------

    def paper(self, found: Draft, kind: PartKind) -> Paper:
        """The paper, its parts in order."""
        seen: dict[str, Draft] = {}
        for inner in found.within():
            first = seen.setdefault(inner.name, inner)
            if first is not inner:
                what = f"has the part '{shown(inner.name)}' a second time (first at {first.mark()})"
                self.note(inner.mark(), what, "keep one of the two")
        self.texts(found, kind)
        return Paper(found.options["title"].value, self.parts(found, kind))

    def parts(self, found: Draft, kind: PartKind) -> tuple[PaperPart, ...]:
        """The parts inside a part: all that must be there, none that cannot, the opening ones first."""
        self.order(found, kind)
        made = []
        for inner in found.parts:
            inner_kind = kind_of(inner.part.value, kind)
            if inner_kind is None:
                what = f"has no part '{shown(inner.part.value)}' in '{found.name}'"
                self.note(inner.mark(), what, did_you_mean(inner.part.value, kind.inner))
            else:
                made.append(self.part(inner, inner_kind))
        return tuple(made)

    def order(self, found: Draft, kind: PartKind) -> None:
        """Notes what is left out and may not be, and what stands before the parts that open."""
        there = [inner.part.value for inner in found.parts]
        for name, inner_kind in kind.inner.items():
            if inner_kind.kept and name not in there:
                what = f"leaves '{name}' out of '{found.name}'"
                self.note(found.mark("parts"), what, f"put it back: {inner_kind.kept}")
        opening = [name for name in kind.opening.split() if name in there]
        for inner, name in zip(found.parts, opening, strict=False):
            if inner.part.value != name:
                what = f"has '{shown(inner.name)}' in '{found.name}' where '{name}' comes first"
                self.note(inner.mark(), what, f"put '{name}' before it")
                return

    def part(self, found: Draft, kind: PartKind) -> PaperPart:
        """One part with all its options."""
        self.options(found, kind)
        self.texts(found, kind)
        self.lines(found, kind)
        options = {name: option.value for name, option in found.options.items() if name != "columns"}
        rows = tuple(self.row(row, kind) for row in found.rows)
        columns = self.columns(found, kind)
        self.keeps(found, kind)
        lines = {key: line.value for key, line in found.lines.items()}
        parts = self.parts(found, kind)
        return PaperPart(found.part.value, **options, lines=lines, rows=rows, columns=columns, parts=parts)

    # --- options ------------------------------------------------------------------------------------------

    def options(self, found: Draft, kind: PartKind) -> None:
        """Notes each option that a part does not take, and each that it lacks."""
        given = set(found.given()) | ({"name"} if found.name != found.part.value else set())
        for name in sorted(given - set(kind.options)):
            self.note(found.mark(name), f"the part '{shown(found.name)}' takes no '{name}'", "take it out")
        for name in kind.needs.split():
            if name not in given:
                self.note(found.mark(), f"the part '{shown(found.name)}' lacks '{name}'", f"add '{name}: …'")

    def texts(self, found: Draft, kind: PartKind) -> None:
        """Notes words that are blank, and places in them that nothing fills."""
        written = [(name, option) for name, option in found.options.items() if isinstance(option.value, str)]
        for name, text in (*written, *found.lines.items()):
            if not text.value.strip():
                self.note(text.mark, f"'{shown(name)}' is not a text", _MEND)
            own = kind.places.split()
            for place in places(text.value):
                if place not in own and place not in self.figures:
                    what = f"'{shown(name)}' has the place '{{{place}}}', which is not filled"
                    self.note(text.mark, what, did_you_mean(place, own))

    def lines(self, found: Draft, kind: PartKind) -> None:
        """Notes lines whose keys nothing asks for, and those that are asked for and not there."""
        if kind.lines == "free":
            return
        known = kind.own.split() if kind.lines == "own" else [EVERY_WORK, *self.works()]
        for key, line in found.lines.items():
            if key not in known:
                what = f"'{shown(key)}' is no line of the part '{found.name}'"
                self.note(line.source.key_mark(line.path), what, did_you_mean(key, known))
        for key in kind.own.split() if kind.lines == "own" else ():
            if key not in found.lines:
                self.note(found.mark("lines"), f"the part '{found.name}' lacks the line '{key}'", f"add '{key}: …'")

    def works(self) -> Iterable[str]:
        return self.names["work"].choices if "work" in self.names else ()

    # --- rows and columns ---------------------------------------------------------------------------------

    def row(self, row: Placed[RowShape], kind: PartKind) -> Shown:
        """A row, under its own label or that of what it shows."""
        shape = row.value
        self.known(shape.shows, row, "shows", kind)
        return Shown(shape.shows, self.label(row, kind), if_answered=shape.if_answered)

    def columns(self, found: Draft, kind: PartKind) -> tuple[Shown, ...]:
        """The columns, whose shares make the line."""
        option = found.options.get("columns")
        if option is None or not option.value:
            return ()
        placed = [Placed(shape, option.source, (*option.path, index)) for index, shape in enumerate(option.value)]
        total = sum(float(column.value.share) for column in placed)
        if abs(total - 1) > _NEARLY:
            self.note(option.mark, f"has columns whose shares make {total:g}, not 1", "mend the shares")
        if "rows" in kind.options and len(placed) % 2:
            what = "has an odd number of columns, and each fact takes two: its label and its value"
            self.note(option.mark, what, "write two columns for each fact of a row")
        return tuple(self.column(column, kind) for column in placed)

    def column(self, column: Placed[ColumnShape], kind: PartKind) -> Shown:
        shape = column.value
        self.known(shape.shows, column, "shows", kind)
        for work, name in shape.by_work.items():
            at = Placed(shape, column.source, (*column.path, "by_work"))
            self.known(name, at, work, kind)
            if kind.of != "work" or work not in self.works():
                what = f"shows '{shown(name)}' by '{shown(work)}', which is no kind of work here"
                mark = at.source.key_mark((*at.path, work))
                self.note(mark, what, did_you_mean(work, self.works() if kind.of == "work" else ()))
        if shape.shows and shape.by_work:
            self.note(column.mark, "has both 'shows' and 'by_work'", "keep one of the two")
        label, share = self.label(column, kind), float(shape.share)
        return Shown(shape.shows, label, share, shape.align, shape.by_work, asked_by=shape.asked_by)

    def known(self, name: str, at: Placed[RowShape] | Placed[ColumnShape], key: str, kind: PartKind) -> None:
        """Notes a name that cannot be shown here."""
        if not name or self.can_show(name, kind):
            return
        what = f"shows '{shown(name)}', which is no question and no reckoned value here"
        if name in self.names:
            what = f"shows '{name}', which is of each {self.names[name].scope} and cannot be shown here"
        can = [each for each in (*kind.own.split(), *self.fields(kind), *self.names) if self.can_show(each, kind)]
        self.note(at.source.mark((*at.path, key)), what, did_you_mean(name, can))

    def can_show(self, name: str, kind: PartKind) -> bool:
        """Whether rows or columns of a part can show something: its own, or a name that its scope sees."""
        if name in kind.own.split() or name in self.fields(kind):
            return True
        entry = self.names[name] if kind.of and name in self.names else None
        return entry is not None and entry.scope in visible_from(kind.of) and entry.kind != "records"

    def fields(self, kind: PartKind) -> Collection[str]:
        """The fields of the records that a part shows."""
        question = self.reading.entries.get("question", {}).get(kind.fields_of)
        return [each.name for each in question.fields] if isinstance(question, Question) else ()

    def label(self, at: Placed[RowShape] | Placed[ColumnShape], kind: PartKind) -> str:
        """What a row or column is called: as it says, else as the library calls the name that it shows."""
        label, name = at.value.label, at.value.shows
        if label.strip():
            return label
        if name in self.names and name not in kind.own.split():
            return self.names[name].label
        if not name or self.can_show(name, kind):
            self.note(at.mark, "lacks 'label'", "add 'label: …', what a reader calls it")
        return ""

    def keeps(self, found: Draft, kind: PartKind) -> None:
        """Notes what the lines, rows or columns of a part may not do without."""
        listed = next((name for name in ("lines", "rows", "columns") if name in kind.options), "")
        for name in kind.keeps.split():
            if name not in shows(found, listed):
                to_do = f"put it back: {kind.kept}"
                self.note(found.mark(listed), f"leaves '{name}' out of the part '{found.name}'", to_do)


def shows(found: Draft, listed: str) -> Iterator[str]:
    """What stands in the lines, rows or columns of a part."""
    if listed == "lines":
        yield from found.lines
    if listed == "rows":
        yield from (row.value.shows for row in found.rows)
    if listed == "columns" and "columns" in found.options:
        for column in found.options["columns"].value:
            yield from (column.shows, *column.by_work.values())
