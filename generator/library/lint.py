"""Checks across the whole library: what each file alone cannot show.

`misfits` are those that no run can go by, told wherever a library is read; `problems` are all, told by
`clauses check`.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import Any

from generator.drawing.step_keys import PICTURES
from generator.files.errors import Mark, Problem, did_you_mean
from generator.library import task_checks
from generator.library.bare_numbers import bare_numbers
from generator.library.cost_checks import misplaced
from generator.library.entries import Recipe
from generator.library.model import Library
from generator.library.paper_kinds import PAPERS
from generator.library.text import references
from generator.library.text_checks import text_problems
from generator.lime.slaking import QUICKLIME_KG_PER_L_LIMITS


def problems(library: Library) -> Iterator[Problem]:
    """Every mistake across files: texts, bare numbers, references, sources, recipes naming what is not there."""
    found = list(text_problems(library))
    yield from found
    if not found:
        yield from _references(library)
    yield from _sources(library)
    yield from bare_numbers(library)
    yield from _papers(library)
    yield from _instructions(library)
    yield from misfits(library)


def misfits(library: Library) -> Iterator[Problem]:
    """Each line, step or recipe that names what is not there, or cannot be reckoned with."""
    yield from _ids(library)
    yield from misplaced(library)
    yield from _pictures(library)
    yield from _recipes(library)
    yield from _hows(library)
    yield from task_checks.misfits(library)


def _problem(library: Library, kind: str, key: str, what: str, to_do: str) -> Problem:
    return Problem(library.marks.get((kind, key), Mark(key)), f"{kind} '{key}' {what}", to_do)


def _absent(library: Library, kind: str, key: str, told: str, name: str, known: Collection[str]) -> Iterator[Problem]:
    """A problem where an entry names what is not known; `told` says it, with `{}` for the name."""
    if name not in known:
        yield _problem(library, kind, key, told.replace("{}", f"'{name}'"), did_you_mean(name, known))


def _references(library: Library) -> Iterator[Problem]:
    known: dict[str, Collection[str]] = {"clause": library.clauses, "part": [part.id for part in library.parts]}
    for key in library.clauses:
        for part in ("text", "check", "because"):
            for target in references(library.texts.template("clause", key, part)):
                kind, _, name = target.partition(":")
                told = f"refers to '{target}', which is not there"
                yield from _absent(library, "clause", key, told, name, known.get(kind, ()))


def _papers(library: Library) -> Iterator[Problem]:
    for name in PAPERS:
        if name not in library.templates:
            yield _problem(library, "paper", name, "is not among the templates", "take it over from the shipped ones")


def _instructions(library: Library) -> Iterator[Problem]:
    """Each instruction that no clause bears, and clauses named for none."""
    for key, finding in library.findings.items():
        if finding.instruction and not finding.clauses and not finding.stands_alone:
            to_do = "name in `clauses` those that say the same in full, or write `stands_alone: true` and why"
            yield _problem(library, "finding", key, "has an instruction that no clause bears", to_do)
        if finding.stands_alone and (finding.clauses or not finding.instruction):
            yield _problem(library, "finding", key, "stands alone and has clauses, or instructs nothing", "keep one")
        elif finding.clauses and not finding.instruction:
            yield _problem(library, "finding", key, "names clauses and instructs nothing", "take them out")


def _ids(library: Library) -> Iterator[Problem]:
    for key, entry in library.operations.items():
        for clause in entry.clauses:
            told = "names the clause {}, which is not there"
            yield from _absent(library, "operation", key, told, clause, library.clauses)
        for step in (*entry.before, *entry.behind):
            told = "stands by the step {}, which is not there"
            yield from _absent(library, "operation", key, told, step, library.operations)
        for held in entry.holds:
            told = "stops at the hold point {}, which is not there"
            yield from _absent(library, "operation", key, told, held, library.hold_points)
    for key, finding in library.findings.items():
        for step in finding.told_by:
            told = "is told by the step {}, which is not there"
            yield from _absent(library, "finding", key, told, step, library.operations)
        for clause in finding.clauses:
            told = "is borne by the clause {}, which is not there"
            yield from _absent(library, "finding", key, told, clause, {**library.clauses, **library.dropped})
    for key, point in library.hold_points.items():
        for clause in point.clauses:
            told = "names the clause {}, which is not there"
            yield from _absent(library, "hold", key, told, clause, library.clauses)
    for key, item in library.items.items():
        if not item.quantity and item.kind not in ("rate only", "sum"):
            yield _problem(library, "item", key, "has no quantity", "name one, or make it a rate only or a sum")
        if item.quantity and item.fixed_quantity is None:
            told = "takes its quantity from {}, which is not known"
            yield from _absent(library, "item", key, told, item.quantity, library.names)
        if item.notional_of:
            told = "reckons with {}, which is not known"
            yield from _absent(library, "item", key, told, item.notional_of, library.names)


def _pictures(library: Library) -> Iterator[Problem]:
    for key, entry in library.operations.items():
        if entry.picture and entry.picture not in PICTURES:
            what = f"has the picture '{entry.picture}', which is not drawn"
            yield _problem(library, "operation", key, what, did_you_mean(entry.picture, PICTURES))
        if bool(entry.picture) != bool(entry.shows):
            what = "has a picture and does not say what it shows, or the other way round"
            yield _problem(library, "operation", key, what, "give both `picture` and `shows`, or neither")


def _sources(library: Library) -> Iterator[Problem]:
    kinds: dict[str, Mapping[str, Any]] = {
        "clause": library.clauses, "finding": library.findings, "recipe": library.recipes,
        "material": library.materials,
    }  # fmt: skip
    named = [(kind, key, entry.sources) for kind, entries in kinds.items() for key, entry in entries.items()]
    named += [
        ("material", key, held.sources)
        for key, material in library.materials.items()
        for held in material.properties().values()
    ]
    shared = (it for it in library.figures.values() if "/" not in it.name)
    named += [("figure", it.name, (*it.sources, *it.customary_sources)) for it in shared]
    asked = (
        (kind, key, entry.customary)
        for kind, entries in (("name", library.reckoned), ("question", library.questionnaire.questions))
        for key, entry in entries.items()
    )
    named += [(kind, key, told) for kind, key, said in asked if said and (told := said.sources())]
    named += [("table", table.id, row.sources) for table in library.tables.values() for row in table.rows]
    for kind, key, sources in named:
        if not sources:
            yield _problem(library, kind, key, "names no source", "name a document, common-practice or from-memory")
        for source in sources:
            yield from _absent(library, kind, key, "names the source {}, which is not listed", source, library.sources)


def _hows(library: Library) -> Iterator[Problem]:
    for key, reckoned in library.reckoned.items():
        for kind, named, known in (("name", reckoned.of, library.names), ("table", reckoned.tables, library.tables)):
            for item in named:
                told = f"is reckoned from the {kind} {{}}, which is not there"
                yield from _absent(library, "name", key, told, item, known)


def _recipes(library: Library) -> Iterator[Problem]:
    binders = library.names["binder"].choices
    for key, recipe in library.recipes.items():
        yield from _absent(library, "recipe", key, "has the binder {}, which is not known", recipe.binder, binders)
        for material in filter(None, (recipe.lime, recipe.sand, recipe.pozzolan, recipe.filler)):
            told = "takes {}, which is not a material"
            yield from _absent(library, "recipe", key, told, material, library.materials)
        yield from _reckoned(library, recipe)
        for serves in recipe.serves:
            if serves.count(":") not in (2, 3):
                to_do = "write work:masonry:position, with any where all are served"
                yield _problem(library, "recipe", key, f"serves '{serves}'", to_do)


def _reckoned(library: Library, recipe: Recipe) -> Iterator[Problem]:
    """What its batches and orders are reckoned from and is not there."""
    for name in ("making", "quantity-waste"):
        table = library.tables.get(name)
        if table is None or table.find(making=recipe.making) is None:
            what = f"is made by '{recipe.making}', which has no row in the table '{name}'"
            yield _problem(library, "recipe", recipe.id, what, "add the row")
    for key in filter(None, (recipe.lime, recipe.sand, recipe.pozzolan)):
        material = library.materials.get(key)
        if material is not None and material.bulk_density_kg_per_l is None:
            what = f"takes '{key}', which has no bulk density"
            yield _problem(library, "recipe", recipe.id, what, "give the material bulk_density_kg_per_l")
    if recipe.pozzolan and not (recipe.pozzolan_of and recipe.pozzolan_per_cent):
        what = "has a pozzolan and does not say how much of what it is"
        to_do = "give pozzolan_per_cent, and pozzolan_of: mortar or binder"
        yield _problem(library, "recipe", recipe.id, what, to_do)
    if recipe.making == "hot-mix":
        yield from _slaked(library, recipe)


def _slaked(library: Library, recipe: Recipe) -> Iterator[Problem]:
    """What a hot mix cannot be reckoned without, or with."""
    lime, putty = library.materials.get(recipe.lime), library.materials.get("lime-putty")
    if lime is not None and lime.purity_share is None:
        what = f"slakes '{recipe.lime}', which has no purity"
        yield _problem(library, "recipe", recipe.id, what, "give the material purity_share")
    if putty is None or putty.solids_share is None:
        what = "is slaked, and the material 'lime-putty' that it slakes to has no solids"
        yield _problem(library, "recipe", recipe.id, what, "give 'lime-putty' solids_share")
    low, high = QUICKLIME_KG_PER_L_LIMITS
    density = lime.bulk_density_kg_per_l if lime is not None else None
    if density is not None and not low <= density.low <= density.high <= high:
        what = f"slakes '{recipe.lime}', whose bulk density is not that of quicklime"
        yield _problem(library, "recipe", recipe.id, what, f"give it from {low:g} to {high:g} kg/l")
