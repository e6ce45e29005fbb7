"""Which binder and recipe a coat takes: the table's order, what was asked for, and why the others not."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from generator.decide.model import JOINT_COATS, Considered, Outcome, Reason, table_reason
from generator.library.entries import Recipe
from generator.library.findings import Raised
from generator.library.model import Library
from generator.library.serving import PLACE
from generator.library.tables import TableRow
from generator.questionnaire.facts import View
from generator.values import replace

Recipes = Callable[[str], Recipe | None]
FINISHES: Final = ("setting", "wash", "ribbon")
NEVER: Final = {
    "cement": "asked-cement-refused",
    "hydrate": "asked-hydrate-refused",
    "formulated": "asked-formulated-refused",
}
"""Binders that may be asked for and that no wall takes, with the finding that says why."""


def binder(here: View, library: Library) -> Outcome:
    """The binder of a coat: the one asked for where the table allows it, else its first that can be made."""
    row, told = _row(here, library)
    if row is None:
        return Outcome()
    barred, recipes = _barred(here), recipes_for(here, library)
    makeable = [item for item in row.texts("binders") if item not in barred and recipes(item)]
    if not makeable:
        return Outcome(raised=(Raised("no-recipe", here.path),))
    allowed = sorted(makeable, key=lambda item: _is_slaked_among_people(here, recipes(item)))
    chosen, raised = _chosen(here, library, row, allowed, recipes)
    considered = _considered(here, library, row, allowed, recipes, chosen)
    return Outcome({"binder": chosen}, _reason(library, row, told, here, (makeable[0], chosen)), raised, considered)


def _row(here: View, library: Library) -> tuple[TableRow | None, tuple[str, ...]]:
    """The binders that serve a coat, and by which answers they were found."""
    joint = here.text("coat") in JOINT_COATS
    table = library.tables["binder-by-wall" if joint else "binder-by-coat"]
    return table.found(here, unknown=("salts", "damp_behind") if joint else ("position", "damp_behind"))


def _is_slaked_among_people(here: View, recipe: Recipe | None) -> bool:
    """Whether quicklime for it would be slaked on a site where people live or pass, or nobody knows that none do."""
    if recipe is None or recipe.making != "hot-mix":
        return False
    peopled = any(here.yes(name) is not False for name in ("lived_in", "public_near"))
    return peopled and here.text("mixing_place") in ("open-yard", "open-shelter")


def _is_meant_for(asked: str, here: View) -> bool:
    """Whether the binder asked for is meant for this coat: it is asked of the body of a work, not of its finish."""
    whole_work = len(here.around("work").inside("coat")) == 1
    return asked in NEVER or whole_work or here.text("coat") not in FINISHES


def _barred(here: View) -> Mapping[str, str]:
    """Binders that this site cannot make safely, with the word that says why."""
    if here.text("mixing_place") == "indoors":
        return {"hot-mix": "why-not-slaking-indoors", "hot-mix-pozzolan": "why-not-slaking-indoors"}
    return {}


def _chosen(
    here: View, library: Library, row: TableRow, allowed: list[str], recipes: Recipes
) -> tuple[str, tuple[Raised, ...]]:
    """The binder taken, and what there is to say of the one asked for."""
    asked = here.text("asked_binder")
    if not asked or not _is_meant_for(asked, here):
        return allowed[0], ()
    if asked in NEVER:
        return allowed[0], _told(NEVER[asked], here, library, allowed[0])
    makeable = asked not in _barred(here) and recipes(asked)
    if asked in row.texts("with_reason") and makeable:
        reason = here.text("asked_binder_reason")
        if reason:
            return asked, _told("asked-binder-with-reason", here, library, allowed[0], reason)
        return allowed[0], _told("asked-binder-conditioned", here, library, allowed[0])
    if asked in allowed:
        return asked, ()
    code = "asked-binder-in-another-coat" if _serves_another_coat(asked, here, library) else "asked-binder-refused"
    return allowed[0], _told(code, here, library, allowed[0])


def _serves_another_coat(asked: str, here: View, library: Library) -> bool:
    """Whether a binder is taken for another coat of the same work, of which alone it may have been meant."""
    return any(
        asked in found.texts("binders") and asked not in _barred(coat) and recipes_for(coat, library)(asked)
        for coat in here.around("work").inside("coat")
        if coat.path != here.path and _is_meant_for(asked, coat)
        if (found := _row(coat, library)[0]) is not None
    )


def _told(code: str, here: View, library: Library, first: str, reason: str = "") -> tuple[Raised, ...]:
    """The finding about the binder asked for: what speaks against it, and the reason given for it where that counts."""
    fills = {
        "asked": here.spoken("asked_binder"),
        "binder": here.facts.say("binder", first),
        "because": _against(here, library, first),
    }
    marks = here.marks("asked_binder")
    if reason:
        fills["reason"] = reason
        marks += here.marks("asked_binder_reason")
    return (Raised(code, here.path, tuple(fills.items()), (), marks),)


def _against(here: View, library: Library, first: str) -> str:
    """What speaks against the binder asked for on this wall; it is barred, or the table of such reasons says."""
    asked = here.text("asked_binder")
    if asked in _barred(here):
        return library.words[_barred(here)[asked]]
    table = library.tables["against-binder"]
    keys = {name: here.text(name) for name in table.keys if name != "against"}
    row = table.find(**keys, against=_too(library, asked, first).removeprefix("why-not-"))
    return row.text("against_because") if row is not None else ""


def _considered(
    here: View, library: Library, row: TableRow, allowed: list[str], recipes: Recipes, chosen: str
) -> tuple[Considered, ...]:
    found: list[Considered] = []
    path, barred = here.path, _barred(here)
    for item in library.names["binder"].choices:
        if item == chosen:
            continue
        if item in barred:
            found.append(Considered(path, item, barred[item]))
        elif item in allowed and chosen != allowed[0]:
            found.append(Considered(path, item, "why-not-asked", row.because))
        elif item in allowed and _is_slaked_among_people(here, recipes(item)):
            found.append(Considered(path, item, "why-not-slaked-among-people", row.because))
        elif item in allowed:
            found.append(Considered(path, item, _runner_up(library, item, chosen), row.because))
        elif item in row.texts("with_reason"):
            found.append(Considered(path, item, "why-not-needs-reason", row.because))
        else:
            found.append(Considered(path, item, _too(library, item, chosen), row.because))
    return tuple(found)


def _runner_up(library: Library, item: str, chosen: str) -> str:
    """What sets a binder that would serve as well apart from the one taken."""
    compared = _compared(library, item, chosen)
    return "why-not-stronger" if compared > 0 else "why-not-slower" if compared < 0 else "why-not-as-strong"


def _too(library: Library, item: str, chosen: str) -> str:
    compared = _compared(library, item, chosen)
    return "why-not-too-strong" if compared > 0 else "why-not-too-weak" if compared < 0 else "why-not-unsuited"


def _compared(library: Library, one: str, other: str) -> int:
    """By how many ranks of strength one binder stands over another."""

    def rank(name: str) -> int:
        row = library.tables["strength"].find(binder=name)
        return int(row.number("strength")) if row else 0

    return rank(one) - rank(other)


def _reason(library: Library, row: TableRow, told: tuple[str, ...], here: View, taken: tuple[str, str]) -> Reason:
    """Why the binder was taken; `taken` are the first that can be made, for which the row argues, and the one taken."""
    first, chosen = taken
    asked = here.text("asked_binder") == chosen
    if asked:
        told = (*told, f"{here.facts.names['asked_binder'].label.lower()}: {here.spoken('asked_binder')}")
    reason = table_reason("binder", row, told)
    if chosen == first:
        return reason
    reasoned = "because-asked-with-reason" if chosen in row.texts("with_reason") else "because-asked-serves"
    why = reasoned if asked else "because-least-hazardous"
    return replace(reason, because=library.phrase(why, binder=here.facts.say("binder", first)))


def recipes_for(here: View, library: Library) -> Recipes:
    """What tells the recipe of a binder that serves a coat most closely; None where none does."""
    place = tuple(here.text(name) for name in PLACE)
    return lambda binder_: library.serving.recipe(binder_, place)
