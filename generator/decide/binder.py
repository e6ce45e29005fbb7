"""Which binder and recipe a coat takes: the table's order, what was asked for, and why the others not."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from generator.decide.model import Considered, Outcome, Reason, marks_of, table_reason
from generator.decide.rules import JOINT_COATS, found
from generator.errors import Raised
from generator.library.model import Library, Recipe, TableRow
from generator.questionnaire.facts import Facts, ScopePath

FINISHES: Final = ("setting", "wash")
NEVER: Final = {
    "cement": "asked-cement-refused",
    "hydrate": "asked-hydrate-refused",
    "formulated": "asked-formulated-refused",
}
"""Binders that may be asked for and that no wall takes, with the finding that says why."""


def binder(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The binder of a coat: the one asked for where the table allows it, else its first that can be made."""
    joint = facts.get(path, "coat") in JOINT_COATS
    table = library.tables["binder-by-wall" if joint else "binder-by-coat"]
    row, told = found(facts, path, table, optional=("salts",) if joint else ("position",))
    if row is None:
        return Outcome()
    barred = _barred(facts, path)
    allowed = [item for item in row.values["binders"] if item not in barred and recipe_for(facts, path, library, item)]
    asked = facts.get(path, "asked_binder")
    if not allowed:
        return Outcome(raised=(Raised("no-recipe", path),))
    if not isinstance(asked, str) or not _is_meant_for(asked, facts, path):
        asked = ""
    chosen, raised = _chosen(facts, path, library, row, allowed, asked)
    considered = _considered(path, library, row, allowed, barred, chosen)
    return Outcome({"binder": chosen}, _reason(row, told, facts, path, chosen), raised, considered)


def _is_meant_for(asked: str, facts: Facts, path: ScopePath) -> bool:
    """Whether the binder asked for is meant for this coat: it is asked of the body of a work, not of its finish."""
    whole_work = len(facts.inside(path[:2], "coat")) == 1
    return asked in NEVER or whole_work or facts.get(path, "coat") not in FINISHES


def _barred(facts: Facts, path: ScopePath) -> Mapping[str, str]:
    """Binders that this site cannot make safely, with the word that says why."""
    if facts.get(path, "mixing_place") == "indoors":
        return {"hot-mix": "why-not-slaking-indoors", "hot-mix-pozzolan": "why-not-slaking-indoors"}
    return {}


def _chosen(
    facts: Facts, path: ScopePath, library: Library, row: TableRow, allowed: list[str], asked: str
) -> tuple[str, tuple[Raised, ...]]:
    fills = (
        ("asked", facts.spoken(path, "asked_binder")),
        ("binder", facts.say("binder", allowed[0])),
        ("because", row.because),
    )
    if not asked:
        return allowed[0], ()
    marks = marks_of(facts, path, "asked_binder")
    if asked in NEVER:
        return allowed[0], (Raised(NEVER[asked], path, fills, (), marks),)
    makeable = asked not in _barred(facts, path) and recipe_for(facts, path, library, asked)
    if asked in row.values["with_reason"] and makeable:
        reason = facts.get(path, "asked_binder_reason")
        if reason is not None:
            told = (*fills, ("reason", str(reason)))
            marks += marks_of(facts, path, "asked_binder_reason")
            return asked, (Raised("asked-binder-with-reason", path, told, (), marks),)
        return allowed[0], (Raised("asked-binder-conditioned", path, fills, (), marks),)
    if asked in allowed:
        return asked, ()
    return allowed[0], (Raised("asked-binder-refused", path, fills, (), marks),)


def _considered(
    path: ScopePath,
    library: Library,
    row: TableRow,
    allowed: list[str],
    barred: Mapping[str, str],
    chosen: str,
) -> tuple[Considered, ...]:
    found: list[Considered] = []
    for item in library.names["binder"].choices:
        if item == chosen:
            continue
        if item in barred:
            found.append(Considered(path, item, barred[item]))
        elif item in allowed:
            found.append(Considered(path, item, "why-not-runner-up", row.because))
        elif item in row.values["with_reason"]:
            found.append(Considered(path, item, "why-not-needs-reason", row.because))
        else:
            found.append(Considered(path, item, _too(library, item, chosen), row.because))
    return tuple(found)


def _too(library: Library, item: str, chosen: str) -> str:
    def rank(name: str) -> int:
        row = library.tables["strength"].find(binder=name)
        return int(row.values["strength"]) if row else 0

    return (
        "why-not-too-strong"
        if rank(item) > rank(chosen)
        else "why-not-too-weak"
        if rank(item) < rank(chosen)
        else "why-not-unsuited"
    )


def _reason(row: TableRow, told: tuple[str, ...], facts: Facts, path: ScopePath, chosen: str) -> Reason:
    if facts.get(path, "asked_binder") == chosen:
        told = (*told, f"{facts.names['asked_binder'].label.lower()}: {facts.spoken(path, 'asked_binder')}")
    return table_reason("binder", row, told)


def recipe_for(facts: Facts, path: ScopePath, library: Library, binder_: str) -> Recipe | None:
    """The recipe of a binder that serves a coat most specifically; None where none does."""
    place = [str(facts.get(path, name)) for name in ("work", "masonry", "position", "coat")]
    best: tuple[int, Recipe] | None = None
    for recipe in library.recipes.values():
        if recipe.binder != binder_:
            continue
        score = max((_fit(serves, place) for serves in recipe.serves), default=-1)
        if score >= 0 and (best is None or score > best[0]):
            best = (score, recipe)
    return best[1] if best else None


def _fit(serves: str, place: list[str]) -> int:
    """How closely `work:masonry:position`, with `:coat` where it matters, fits; -1 where it does not."""
    score = 0
    for weight, wanted, is_ in zip((1, 2, 4, 8), serves.split(":"), place, strict=False):
        if wanted == is_:
            score += weight
        elif wanted != "any":
            return -1
    return score
