"""What was found of the facts of a job before, and which of it stands still: what it reads is as it was."""

from __future__ import annotations

from collections.abc import Callable, Collection, Hashable, Iterable, Mapping
from typing import Any, Final, TypeVar

from generator.questionnaire.scopes import PROJECT, ScopePath
from generator.values import Struct, field

Made = TypeVar("Made")


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
        if held is None or ((reach := self.moved(names)) is not None and reach.meets(path)):
            held = None, make()
        self._found[key] = held
        made: Made = held[1]
        return made

    def after(self, key: Hashable, rests_on: object, make: Callable[[Made | None], Made]) -> Made:
        """What is made anew out of what was made last under a key; of None the first time."""
        held = self._last.get(key)
        made = make(None if held is None else held[1])
        self._found[key] = rests_on, made
        return made

    def moved(self, names: Collection[str]) -> Reach | None:
        """Where something sees another value of some names than before; None where nothing does."""
        return None if self._since.at.keys().isdisjoint(names) else self._since.reach(names)
