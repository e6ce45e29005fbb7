"""What a text says stands elsewhere stands there: the tables and sheets that its words name, and what they hold."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from typing import Final

from generator.document.model import ClauseBlock, ListBlock, Paragraph, Table, plain_text
from generator.document.outline import values_of
from generator.files.errors import Mark, Problem
from generator.library.entries import Elsewhere
from generator.papers.agreement.printed import SPECIFICATION, Printed
from generator.questionnaire.scopes import PROJECT, ScopePath

_TO_DO: Final = "put it there, or say what is needed here"
_ON_SHEET: Final = "sheet"
_FIELDS: Final[Mapping[str, tuple[str, ...]]] = {
    "clause": ("text", "check", "because"),
    "item": ("description", "includes"),
    "operation": ("text",),
    "finding": ("instruction",),
    "block": ("message", "action", "instruction"),
}
Said = tuple[str, str, str, Iterable[ScopePath]]
"""A text that is printed: the kind and key of its entry, the text, and the scopes that it is said of."""


def absent(found: Printed) -> Iterator[Problem]:
    """Each text of these papers that names a table, sheet or value of another place, and it is not there."""
    phrases = tuple((phrase, entry.id) for entry in found.job.library.elsewhere.values() for phrase in entry.says)
    for kind, key, text, paths in _printed(found):
        for id_ in _named(text, phrases):
            entry = found.job.library.elsewhere[id_]
            yield from _checked(found, kind, key, entry, paths)
    yield from _tabled_below(found)


@cache
def _named(text: str, phrases: tuple[tuple[str, str], ...]) -> tuple[str, ...]:
    """The entries whose words a text says."""
    run = " ".join(text.split())
    return tuple(dict.fromkeys(id_ for phrase, id_ in phrases if phrase in run))


def _printed(found: Printed) -> Iterator[Said]:
    """The texts of the library that these papers print."""
    job = found.job
    for key, selection in job.selections.items():
        if selection.included:
            yield from _texts(found, "clause", key, selection.clause, selection.paths)
    for item in job.measured.items():
        yield from _texts(found, "item", item.entry.id, item.entry, (item.path,))
    for raised in job.findings:
        kind = "block" if raised.level == "block" else "finding"
        yield from _texts(found, kind, raised.code, job.library.findings[raised.code], (raised.scope,))
    for key, entry in job.library.operations.items():
        if entry.per != "mix":
            condition = job.library.condition("operation", key).when
            # where a step is printed is asked only of those that name another place
            held = (
                at.path for at in job.facts.at(entry.per)
                if condition is None or condition.holds(job.facts, at.path) is not False
            )  # fmt: skip
            yield "operation", key, entry.text, held


def _texts(found: Printed, kind: str, key: str, entry: object, paths: Iterable[ScopePath]) -> Iterator[Said]:
    for name in _FIELDS[kind]:
        if text := getattr(entry, name):
            yield "finding" if kind == "block" else kind, key, text, paths


def _checked(found: Printed, kind: str, key: str, entry: Elsewhere, paths: Iterable[ScopePath]) -> Iterator[Problem]:
    anchors = found.anchors[SPECIFICATION]
    mark = found.job.library.marks.get((kind, key), Mark(key))
    said = f"{kind} '{key}' says '{entry.says[0]}'"
    if entry.at != _ON_SHEET and entry.at not in anchors:
        yield Problem(mark, f"{said}, and {SPECIFICATION} has no '{entry.at}'", _TO_DO)
        return
    on_sheet = entry.at == _ON_SHEET
    with_sheet = found.with_sheet if on_sheet else set()
    scopes = _scopes(found, entry) if entry.value else set()
    for path in paths:
        where = found.job.facts.title(path)
        if on_sheet and path and path[:1] not in with_sheet:
            yield Problem(mark, f"{said} of {where}, and {SPECIFICATION} has no sheet of it", _TO_DO)
        elif entry.value and not _stands(found, scopes, path):
            place = "on its sheet" if on_sheet else f"in '{entry.at}' of {SPECIFICATION}"
            yield Problem(mark, f"{said} of {where}, and no '{entry.value}' of it stands {place}", _TO_DO)


def _scopes(found: Printed, entry: Elsewhere) -> set[ScopePath]:
    """The scopes of which a value stands on a sheet, or in what is referred to."""
    if entry.at == _ON_SHEET:
        return found.on_sheets.get(entry.value, set())
    values = values_of(found.anchors[SPECIFICATION][entry.at].block)
    return {value.scope for value in values if value.name == entry.value}


def _stands(found: Printed, scopes: set[ScopePath], path: ScopePath) -> bool:
    """Whether a value is told of a scope, of one around it, or of one inside."""
    if path == PROJECT:
        return bool(scopes)
    around = (path[:end] for end in range(len(path), -1, -1))
    return any(at in scopes for at in around) or any(_inside(found, path, scopes))


def _inside(found: Printed, path: ScopePath, scopes: set[ScopePath]) -> Iterator[bool]:
    for level in ("work", "coat"):
        for scope in found.job.facts.inside(path, level):
            yield scope.path in scopes
            mix = found.job.decisions.mix_of(scope.path) if level == "coat" else None
            yield mix is not None and mix.path in scopes


# --- tabled below -------------------------------------------------------------------------------------------


def _tabled_below(found: Printed) -> Iterator[Problem]:
    """Where the walls of a clause differ, its words name a table below them: that table has a column for each value."""
    job = found.job
    for key, (place, block) in found.clauses.items():
        if block.used and key in job.selections:
            for name in job.filling.differing(key, job.selections[key].paths):
                label = job.library.names[name].label
                tables = [inner for inner in block.blocks if isinstance(inner, Table)]
                if not any(column.title == label for table in tables for column in table.columns):
                    what = f"{place} tells '{name}' as given below, and nothing there has it"
                    yield found.problem(place, what, _TO_DO)
                elif not _says(found, block, name):
                    what = f"{place} tables '{name}', and its words do not say so"
                    yield found.problem(place, what, "give the name a phrase, and say it")


def _says(found: Printed, block: ClauseBlock, name: str) -> bool:
    library = found.job.library
    label = library.names[name].label
    phrase = library.names[name].phrase or library.phrase("as-tabled", label=f"{label[:1].lower()}{label[1:]}")
    texts = [plain_text(block.title)]
    for inner in block.blocks:
        if isinstance(inner, Paragraph):
            texts.append(plain_text(inner.content))
        elif isinstance(inner, ListBlock):
            texts += map(plain_text, inner.items)
    return any(phrase in text for text in texts)
