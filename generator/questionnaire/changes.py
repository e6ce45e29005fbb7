"""What differs between facts and those before them, and what still stands of what was found of those."""

from __future__ import annotations

from generator.questionnaire.facts import Facts
from generator.questionnaire.keeping import Kept
from generator.questionnaire.recall import Changed, Recall, unlike


def changed(before: Facts | None, now: Facts) -> Changed:
    """What differs between facts; their marks are not looked at."""
    if before is None or not _of_one_form(before, now):
        return Changed(whole=True)
    found = Changed()
    for path, values in now.values.items():
        was = before.values.get(path, {})
        found.note(path, unlike(was, values))
    for path in before.values.keys() - now.values.keys():
        found.note(path, before.values[path])
    return found


def _of_one_form(before: Facts, now: Facts) -> bool:
    """Whether facts can be told apart by the values of single names: the scopes, words and spelling are the same."""
    return (
        before.names is now.names
        and list(before.scopes.items()) == list(now.scopes.items())
        and before.photographs == now.photographs
        and before.spelling == now.spelling
    )


def recalling(facts: Facts, step: str, kept: Kept) -> Facts:
    """The same facts, with what still stands of what was found of those before them at a step of settling."""
    return kept.after(("facts", step), lambda last: _recalling(facts, last))


def _recalling(facts: Facts, last: Facts | None) -> Facts:
    return facts.with_recall(Recall(changed(last, facts), last.recall if last is not None else None))
