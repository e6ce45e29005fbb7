"""Reads a clauses folder into a `Library`, telling every mistake of every file at once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import chain
from pathlib import Path
from typing import Final

from generator.document.template import Paper
from generator.files.errors import InputInvalid, Mark, Problem, nearest
from generator.files.mistakes import Mistakes
from generator.files.shapes import Shape
from generator.files.source import Source, read_file
from generator.files.walk import is_file, is_folder, yaml_files
from generator.library.entries import Clause, Part
from generator.library.figures import Figure, amount, figure_mistakes, own
from generator.library.kinds import KINDS, keep_listed, keep_tables
from generator.library.layers.overlay import lay
from generator.library.lint import misfits
from generator.library.locate import templates_beside, templates_of, told
from generator.library.look_ups import look_ups
from generator.library.model import Conditioned, Library, Unfilled
from generator.library.needed import needing
from generator.library.reading import Reading, condition, listed
from generator.library.referring import dangling
from generator.library.tables import strange_words
from generator.library.template_checks import make_papers
from generator.library.templates import read_templates
from generator.library.text_checks import text_problems
from generator.library.told_figures import with_figures
from generator.questionnaire.customs import customs_of, customs_told
from generator.questionnaire.names import Name, Names
from generator.questionnaire.questions import Questionnaire
from generator.questionnaire.sense import mistakes
from generator.values import NO_CUSTOMS, replace, unit_of

MARKER: Final = "library.yaml"


class _Header(Shape, frozen=True):
    name: str
    edition: str
    language: str


_FOLDERS: Final = (
    *(kind.pattern[:-6] for kind in KINDS.values() if "*" in kind.pattern),
    "parts/",
    "tables/",
)
_FILES: Final = (MARKER, *(kind.pattern for kind in KINDS.values() if "*" not in kind.pattern))


def read_library(folder: Path, layers: Sequence[Path] = (), templates: Path | None = None) -> Library:
    """The library of a folder with layers laid over it, ready for a job. Raises `InputInvalid` with every mistake.

    Without `templates`, those beside the folder, or those shipped.
    """
    library = needing(load(folder, layers=layers, templates=templates or templates_of(folder)))
    problems = Mistakes(chain(text_problems(library), misfits(library), dangling(library) if library.layers else ()))
    if problems:
        raise InputInvalid(problems, problems.more)
    return library


def load(folder: Path, label: str | None = None, layers: Sequence[Path] = (), templates: Path | None = None) -> Library:
    """The library in a folder, with layers laid over it in order. Raises `InputInvalid` with every mistake.

    `label` stands for the folder in marks; without it the folder's path as given, or from here if below. Without
    `templates`, those beside the folder; without those, no words and no papers.
    """
    reading = Reading(told(folder) if label is None else label)
    _read_files(folder, reading)
    header = _header(reading)
    for kind, form in KINDS.items():
        keep_listed(kind, form, _matching(reading, form.pattern), reading)
    part_of = _parts(reading)
    keep_tables(_matching(reading, "tables/*.yaml"), reading)
    papers_of = templates or templates_beside(folder)
    if papers_of is not None:
        read_templates(papers_of, told(papers_of), reading)
    layered = lay(reading, part_of, [(layer, told(layer)) for layer in layers])
    _questions(reading)
    names = _names(reading)
    _table_words(reading, names)
    conditions = _conditions(reading, names)
    _figure_names(reading, names)
    found = look_ups(reading, names)
    papers = {} if reading.problems else make_papers(reading, names)
    if reading.problems or header is None:
        raise InputInvalid(reading.problems, reading.problems.more)
    library = with_figures(replace(_library(header, part_of, names, conditions, papers, reading), look_ups=found))
    return layered.over(library) if layers else library


def _library(
    header: _Header,
    part_of: Mapping[str, str],
    names: Names,
    conditions: dict[tuple[str, str], Conditioned],
    papers: Mapping[str, Paper],
    reading: Reading,
) -> Library:
    entries = reading.entries
    questions = {key: found for (kind, key), found in conditions.items() if kind == "question"}
    asked = {key: found.when for key, found in questions.items() if found.when}
    needed = {key: found.needed_when for key, found in questions.items() if found.needed_when}
    words, hold_points = entries.get("word", {}), entries.get("hold", {})
    return Library(
        name=header.name,
        edition=header.edition,
        language=header.language,
        names=names,
        questionnaire=Questionnaire(entries.get("question", {}), asked, needed),
        reckoned=entries.get("name", {}),
        parts=tuple(entries.get("part", {}).values()),
        clauses=entries.get("clause", {}),
        part_of=part_of,
        recipes=entries.get("recipe", {}),
        materials=entries.get("material", {}),
        tables=entries.get("table", {}),
        findings=entries.get("finding", {}),
        items=entries.get("item", {}),
        operations=entries.get("operation", {}),
        tasks=entries.get("task", {}),
        hold_points=hold_points,
        elsewhere=entries.get("elsewhere", {}),
        figures=_figures(reading),
        words=words,
        templates=papers,
        sources=entries.get("source", {}),
        swaps=entries.get("swap", {}),
        conditions=conditions,
        marks={place: reading.mark(*place) for place in reading.places},
        digest=reading.digest.hexdigest(),
        unfilled=Unfilled(words, papers, hold_points),
    )


# --- files --------------------------------------------------------------------------------------------------


def _read_files(folder: Path, reading: Reading) -> None:
    if not is_file(folder / MARKER):
        # stop here: the folder may be anything, a whole disk even
        what = f"holds no {MARKER}" if is_folder(folder) else "is no folder"
        raise InputInvalid([Problem(Mark(reading.label), what, "name the folder of a clause library")])
    for name, path in yaml_files(folder, reading.label, reading.problems):
        label = f"{reading.label}/{name}"
        if not _belongs(name):
            reading.note(Mark(label), "is not a file of a clause library", _where_it_belongs(name))
            continue
        source = read_file(path, label)
        reading.files[name] = source
        reading.problems += source.problems
        reading.digest.update(name.encode() + b"\0" + source.raw + b"\0")


def _belongs(name: str) -> bool:
    folder, slash, rest = name.rpartition("/")
    return name in _FILES or (folder + slash in _FOLDERS and rest.endswith(".yaml"))


def _where_it_belongs(name: str) -> str:
    if name.endswith(".yml"):
        return "end its name in .yaml"
    folder, slash, rest = name.rpartition("/")
    close = nearest(f"{folder}/", _FOLDERS) if slash else nearest(name, _FILES)
    if close is not None:
        return f"did you mean {close}{rest if slash else ''}?"
    return f"move it to one of {', '.join(sorted(set(_FOLDERS)))}, or out of the library"


def _matching(reading: Reading, pattern: str) -> Iterator[Source]:
    folder, star, _ = pattern.partition("*")
    for name, source in reading.files.items():
        if not source.broken and (name.startswith(folder) if star else name == pattern):
            yield source


def _header(reading: Reading) -> _Header | None:
    source = reading.files[MARKER]
    return None if source.broken else reading.shape(_Header, source.data, source, ())


# --- entries ------------------------------------------------------------------------------------------------


def _parts(reading: Reading) -> dict[str, str]:
    """Keeps parts and clauses; the part that each clause is of."""
    part_of: dict[str, str] = {}
    for source in _matching(reading, "parts/*.yaml"):
        items = listed(source, "clauses", reading, ("part",))
        data = source.data if isinstance(source.data, dict) else {}
        part = None
        if "part" in data:
            part = reading.shape(Part, data["part"], source, ("part",))
        else:
            reading.note(source.mark(()), "lacks 'part:'", "add 'part: {id: …, title: …}' at the top")
        if part is not None:
            reading.keep("part", part.id, part, source, ("part",))
        for index, item in enumerate(items):
            clause = reading.shape(Clause, item, source, ("clauses", index))
            if clause is not None and reading.keep("clause", clause.id, clause, source, ("clauses", index)):
                part_of[clause.id] = part.id if part is not None else ""
    return part_of


def _table_words(reading: Reading, names: Names) -> None:
    for key, table in reading.entries.get("table", {}).items():
        source, _ = reading.places["table", key]
        for path, what, to_do in strange_words(table, names):
            reading.note(source.mark(path), what, to_do)


# --- what the entries say together --------------------------------------------------------------------------


def _questions(reading: Reading) -> None:
    for key, question in reading.entries.get("question", {}).items():
        source, path = reading.places["question", key]
        before = source.problems.total
        mistakes(question, source, path)
        reading.problems += source.problems.since(before)


def _names(reading: Reading) -> Names:
    names: dict[str, Name] = {}
    for key, question in reading.entries.get("question", {}).items():
        names[key] = question.as_name()
    for key, reckoned in reading.entries.get("name", {}).items():
        mark = reading.mark("name", key)
        if key in names:
            asked = reading.mark("question", key)
            reading.note(mark, f"declares the name '{key}', which is a question (at {asked})", "rename one of the two")
            continue
        said = {choice.is_: choice.says for choice in reckoned.choices}
        customs = customs_of(reckoned.customary, reckoned.kind, unit_of(key), asked=False)
        names[key] = Name(
            key, reckoned.scope, reckoned.kind, reckoned.label, reckoned.phrase, said, True, mark, customs=customs
        )
    return Names(names)


# The kinds of entries that may declare figures for themselves alone.
_DECLARING: Final = ("clause", "finding")


def _figure_names(reading: Reading, names: Names) -> None:
    declared = {
        (kind, key): entry.figures for kind in _DECLARING for key, entry in reading.entries.get(kind, {}).items()
    }
    for kind, key, what, to_do in figure_mistakes(reading.entries.get("figure", {}), declared, names):
        reading.note(reading.mark(kind, key), f"{kind} '{key}' {what}", to_do)


def _figures(reading: Reading) -> dict[str, Figure]:
    """All figures by name, those of one clause alone under its id."""
    found: dict[str, Figure] = {}
    for key, it in reading.entries.get("figure", {}).items():
        mark = reading.mark("figure", key)
        customs, told = (it.customary.customs(), it.customary.sources()) if it.customary else (NO_CUSTOMS, ())
        found[key] = Figure(key, amount(it.is_), it.sources, it.confidence, mark, it.range, it.because, customs, told)
    for kind in _DECLARING:
        for key, entry in reading.entries.get(kind, {}).items():
            for name, value in entry.figures.items():
                customs = customs_told(entry.customary.get(name, ""))
                found[own(key, name)] = Figure(
                    own(key, name), amount(value), entry.sources, "", reading.mark(kind, key), customs=customs
                )
    return found


_WITH_CONDITIONS: Final = {
    "clause": "per",
    "finding": "per",
    "item": "per",
    "operation": "per",
    "task": "per",
    "hold": "per",
    "question": "scope",
}


def _conditions(reading: Reading, names: Names) -> dict[tuple[str, str], Conditioned]:
    found: dict[tuple[str, str], Conditioned] = {}
    for kind, scope_field in _WITH_CONDITIONS.items():
        for key, entry in reading.entries.get(kind, {}).items():
            scope = getattr(entry, scope_field)
            parts = (
                condition(reading, names, scope, getattr(entry, part, ""), kind, key, part)
                for part in ("when", "provisional_when", "needed_when")
            )
            found[kind, key] = Conditioned(*parts)
    return found
