"""What was found of the facts of a job before, and which of it stands still: what it reads is as it was."""

from __future__ import annotations

from collections.abc import Callable, Collection, Hashable, Iterable, Mapping
from typing import TYPE_CHECKING, Any, Final

from generator.questionnaire.facts import PROJECT, Facts, Made, ScopePath
from generator.questionnaire.keeping import Kept
from generator.values import Struct, field

if TYPE_CHECKING:
    from generator.questionnaire.condition import Condition


class Reach:
    """Scopes, asked whether another lies in or around one of them."""

    def __init__(self, paths: Iterable[ScopePath]) -> None:
        self._paths = frozenset(paths)
        self.everywhere = PROJECT in self._paths
        self._around = frozenset(path[:end] for path in self._paths for end in range(len(path) + 1))

    def meets(self, path: ScopePath) -> bool:
        """Whether a scope is one of them, or lies in or around one."""
        if self.everywhere or path in self._around:
            return True
        return any(path[:end] in self._paths for end in range(1, len(path)))


EVERYWHERE: Final = Reach([PROJECT])


class Changed(Struct):
    """Where which names have another value than before; `whole` where that cannot be told by name and scope."""

    whole: bool = False
    at: dict[str, set[ScopePath]] = field(default_factory=dict)

    def note(self, path: ScopePath, names: Iterable[str]) -> None:
        """Counts names of a scope as changed."""
        for name in names:
            self.at.setdefault(name, set()).add(path)

    def reach(self, names: Collection[str] | None = None) -> Reach:
        """Where something sees another value of some names than before, or of any."""
        if self.whole:
            return EVERYWHERE
        read = self.at if names is None else self.at.keys() & names
        return Reach(path for name in read for path in self.at[name])


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


def unlike(was: Mapping[str, object], values: Mapping[str, object]) -> Iterable[str]:
    """The names whose values differ."""
    if was == values:
        return
    for name in was.keys() | values.keys():
        old, new = was.get(name), values.get(name)
        if old is not new and old != new:
            yield name


class Recall:
    """What was found of facts, and of those before them, by what it is.

    It holds no facts themselves, as those hold it.
    """

    def __init__(self, since: Changed, last: Recall | None) -> None:
        self._since = since
        self._last: dict[Hashable, Any] = {} if last is None or since.whole else last._found
        self._found: dict[Hashable, Any] = {}
        self._reach = since.reach()

    def of(self, key: Hashable, walls: Iterable[ScopePath], make: Callable[[], Made], rests_on: object) -> Made:
        """What was made last where nothing has changed on walls or of the whole job, nor what it rests on besides."""
        held = self._last.get(key)
        if held is None or held[0] != rests_on or any(map(self._reach.meets, walls)):
            held = rests_on, make()
        self._found[key] = held
        made: Made = held[1]
        return made

    def read(self, key: Hashable, names: Collection[str], path: ScopePath, make: Callable[[], Made]) -> Made:
        """What was made last of the names that a scope sees, where none of them has changed for it."""
        held = self._last.get(key)
        if held is None or (not self._since.at.keys().isdisjoint(names) and self._since.reach(names).meets(path)):
            held = None, make()
        self._found[key] = held
        made: Made = held[1]
        return made

    def where(self, condition: Condition, facts: Facts, level: str, *, unknown: bool) -> tuple[ScopePath, ...]:
        """The scopes at which a condition of these facts holds, asked again where a name that it reads has changed."""
        key = (id(condition), level, unknown)
        held = self._last.get(key)
        if held is None:
            found = condition.of_level(facts, level, unknown=unknown)
        elif self._since.at.keys().isdisjoint(condition.names()):
            found = held[1]
        else:
            reach, was = self._since.reach(condition.names()), frozenset(held[1])
            again = [one for one in facts.seen_at(level) if reach.meets(one[0])]
            holding = frozenset(condition.holding(facts, again, unknown=unknown))
            tried = frozenset(path for path, _ in again)
            found = tuple(path for path, _ in facts.seen_at(level) if path in (holding if path in tried else was))
        self._found[key] = condition, found  # with the condition, so that no other comes to lie at its place
        return found


def recalling(facts: Facts, step: str, kept: Kept) -> Facts:
    """The same facts, with what still stands of what was found of those before them at a step of settling."""
    return kept.after(("facts", step), lambda last: _recalling(facts, last))


def _recalling(facts: Facts, last: Facts | None) -> Facts:
    return facts.with_recall(Recall(changed(last, facts), last.recall if last is not None else None))
