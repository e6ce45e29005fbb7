"""The library as the readers of a job's papers have it: its figures in their units, its words in their English.

Words are swapped in texts that are parsed already, so that no value, name or condition is touched.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from functools import cache, partial
from typing import Any, Final, TypeVar

from generator.document.template import Paper, PaperPart, Shown
from generator.library.model import HELD, Library, Unfilled
from generator.library.needed import needing
from generator.library.told_figures import with_figures
from generator.questionnaire.facts import Facts
from generator.questionnaire.keeping import AFRESH, Kept
from generator.questionnaire.names import Name, Names
from generator.questionnaire.questions import Questionnaire
from generator.questionnaire.scopes import PROJECT, Held, Scope, Scopes
from generator.values import Spelling, capital, replace

Swap = Callable[[str], str]
Entry = TypeVar("Entry", bound=Any)

_AMERICAN: Final = "en-us"
_VOWEL: Final = re.compile("(?!uni|us|eu|one)[aeiou]", re.IGNORECASE)
_PROSE: Final[Mapping[str, tuple[str, ...]]] = {
    "parts": ("title",),
    "clauses": ("title",),
    "recipes": ("name", "used", "water", "signs"),
    "materials": ("name", "short", "box", "delivered", "order_because"),
    "operations": ("shows",),
    "tasks": ("label", "short"),
}
"""The words of entries that are taken as they stand, beside those that are texts."""


def for_readers(library: Library, facts: Facts, kept: Kept = AFRESH) -> tuple[Library, Facts]:
    """A library and facts as the papers of these answers tell them; themselves, where both are as they were written."""
    spelling = facts.spelling
    kinds = ("units",) if spelling.chooses else ()
    if facts.get(PROJECT, "language") == _AMERICAN:
        kinds = (*kinds, "words")
    if not kinds:
        return library, facts
    rests_on = (library, spelling, kinds)
    anew, swap = kept.of("readers", rests_on, partial(_for_readers, *rests_on))
    return anew, _retold(facts, anew.names, swap)


def _for_readers(library: Library, spelling: Spelling, kinds: tuple[str, ...]) -> tuple[Library, Swap]:
    """The library in a spelling, and in the words of some kinds of swaps; and what swaps words."""
    swap = _swapping(library, kinds)
    anew = _reworded(library, swap)
    if spelling.chooses:
        anew = _in_units(anew, spelling)
    anew = needing(with_figures(anew))
    # texts that were parsed once are parsed no second time
    anew.__dict__["texts"] = library.texts.swapped(swap)
    return anew, swap


def _in_units(library: Library, spelling: Spelling) -> Library:
    """The library with its figures in the units of a spelling, and its materials in the packs that are sold there."""
    figures = {name: replace(figure, spelling=spelling) for name, figure in library.figures.items()}
    sold = {
        key: replace(
            it,
            package=it.customary_package or it.package,
            small_package=it.customary_small_package or it.small_package,
        )
        for key, it in library.materials.items()
    }
    return replace(library, figures=figures, materials=sold)


def _retold(facts: Facts, names: Names, swap: Swap) -> Facts:
    """Facts whose names and titles of works are worded anew; the names of walls are the answers' own."""
    scopes = {
        path: Scope(path, scope.level, swap(scope.title)) if scope.level in ("work", "coat") else scope
        for path, scope in facts.scopes.items()
    }
    values = {
        path: {name: _by_default(held, swap) for name, held in known.items()} for path, known in facts.values.items()
    }
    return replace(facts, names=names, scopes=Scopes(scopes), values=values)


def _by_default(held: Held, swap: Swap) -> Held:
    """A value; one that is words and that nobody gave, in the readers' words."""
    if held.origin != "default" or not isinstance(held.value, str):
        return held
    said = swap(held.value)
    return held if said == held.value or " " not in said else replace(held, value=said)


# --- words --------------------------------------------------------------------------------------------------


def _swapping(library: Library, kinds: tuple[str, ...]) -> Swap:
    """Swaps every word that the library gives another for, the longest first; a capital stays one.

    The article before a word that is swapped becomes that of the new one; an entry that begins with one says it itself.
    """
    into = {
        says.lower(): to
        for entry in library.swaps.values()
        for says in (entry.says, *entry.also)
        if (to := next((text for kind in kinds if (text := getattr(entry, kind))), ""))
    }
    if not into:
        return str
    spelt = "|".join(re.escape(says) for says in sorted(into, key=len, reverse=True))
    found = re.compile(rf"(?<![\w{{:.-])(?:(an?) )??({spelt})(?![\w}}-])", re.IGNORECASE)

    def anew(match: re.Match[str]) -> str:
        article, says = match.groups()
        to = into[says.lower()]
        said = capital(to) if says[:1].isupper() else to
        return f"{article[:1]}{'n' if _VOWEL.match(to) else ''} {said}" if article else said

    return cache(lambda text: found.sub(anew, text))


def _reworded(library: Library, swap: Swap) -> Library:
    bare = library.unfilled
    held = {key: _of_entry(point, HELD, swap) for key, point in bare.hold_points.items()}
    papers = {key: _of_paper(paper, swap) for key, paper in bare.templates.items()}
    unfilled = Unfilled({key: swap(text) for key, text in bare.words.items()}, papers, held)
    prose: dict[str, Any] = {
        kind: _of_entries(getattr(library, kind), fields, swap) for kind, fields in _PROSE.items() if kind != "parts"
    }
    return replace(
        library,
        swap=swap,
        questionnaire=_of_questions(library.questionnaire, swap),
        unfilled=unfilled,
        parts=tuple(_of_entry(part, _PROSE["parts"], swap) for part in library.parts),
        names=Names({key: _of_name(name, swap) for key, name in library.names.items()}),
        **prose,
    )


def _of_entries(entries: Mapping[str, Entry], fields: tuple[str, ...], swap: Swap) -> dict[str, Entry]:
    return {key: _of_entry(entry, fields, swap) for key, entry in entries.items()}


def _of_entry(entry: Entry, fields: tuple[str, ...], swap: Swap) -> Entry:
    said = {name: getattr(entry, name) for name in fields}
    anew = {name: swap(text) for name, text in said.items()}
    changed: Entry = entry if anew == said else replace(entry, **anew)
    return changed


def _of_questions(asked: Questionnaire, swap: Swap) -> Questionnaire:
    """The questions as the sheet for the wall has them."""
    anew = {}
    for key, question in asked.questions.items():
        choices = tuple(_of_entry(choice, ("says",), swap) for choice in question.choices)
        anew[key] = _of_entry(replace(question, choices=choices), ("label", "how"), swap)
    return replace(asked, questions=anew)


def _of_name(name: Name, swap: Swap) -> Name:
    columns = name.columns and Names({key: _of_name(column, swap) for key, column in name.columns.items()})
    choices = {key: swap(says) for key, says in name.choices.items()}
    return replace(name, label=swap(name.label), phrase=swap(name.phrase), choices=choices, columns=columns)


def _of_paper(paper: Paper, swap: Swap) -> Paper:
    return replace(paper, title=swap(paper.title), parts=tuple(_of_part(part, swap) for part in paper.parts))


def _of_part(part: PaperPart, swap: Swap) -> PaperPart:
    said = ("heading", "label", "header", "caption", "about", "text", "if_none")
    return replace(
        part,
        **{name: swap(getattr(part, name)) for name in said},
        lines={key: swap(line) for key, line in part.lines.items()},
        rows=_shown(part.rows, swap),
        columns=_shown(part.columns, swap),
        parts=tuple(_of_part(inner, swap) for inner in part.parts),
    )


def _shown(shown: tuple[Shown, ...], swap: Swap) -> tuple[Shown, ...]:
    return tuple(replace(each, label=swap(each.label)) for each in shown)
