"""What all scopes of a level see of a name at once: which of them see which value, a bit a scope.

A condition is asked of each value in place of each scope: an estate has thousands of scopes and few values.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import compress
from typing import Final

from generator.questionnaire.scopes import ScopePath, Seen
from generator.values import Value

Truth = bool | None
Bits = int
"""One bit a scope, that of the first the highest."""

Met = tuple[Bits, Bits]
"""The scopes at which something is true, and those at which the answers do not say."""

_MOST_VALUES: Final = 64
"""Of one name: of more, such as areas, each scope is asked, and nothing is kept."""

_NO, _YES = b"01"
_MARKED: Final = bytes.maketrans(b"01", b"\0\1")


class Columns:
    """The scopes of a level, each with what it sees, in the order of the answers."""

    def __init__(self, seen_at: Sequence[tuple[ScopePath, Seen]]) -> None:
        self._paths = [path for path, _ in seen_at]
        self._seen = [seen for _, seen in seen_at]
        self.all: Bits = (1 << len(seen_at)) - 1
        self._values: dict[str, list[tuple[Value | None, Bits]] | None] = {}

    def met(self, name: str, truth: Callable[[Value | None], Truth]) -> Met:
        """Where what is seen of a name comes to what; None is what nobody gave a value."""
        if name not in self._values:
            self._values[name] = self._column(name)
        column = self._values[name]
        if column is None:
            truths = [truth(value) for value in self._of(name)]
            true = self._bits(place for place, one in enumerate(truths) if one is True)
            return true, self._bits(place for place, one in enumerate(truths) if one is None)
        found: dict[Truth, Bits] = {True: 0, None: 0, False: 0}
        for value, bits in column:
            found[truth(value)] |= bits
        return found[True], found[None]

    def paths(self, bits: Bits) -> tuple[ScopePath, ...]:
        """The scopes whose bits are set."""
        if not bits:
            return ()
        marks = f"{bits:0{len(self._paths)}b}".encode()
        return tuple(compress(self._paths, marks.translate(_MARKED)))

    def around(self, paths: Iterable[ScopePath]) -> Bits:
        """The scopes that are some others or lie around them."""
        around = {path[:end] for path in paths for end in range(len(path) + 1)}
        return self._bits(place for place, path in enumerate(self._paths) if path in around) if around else 0

    def _of(self, name: str) -> Iterator[Value | None]:
        for seen in self._seen:
            for values in seen:
                held = values.get(name)
                if held is not None:
                    yield held.value
                    break
            else:
                yield None

    def _column(self, name: str) -> list[tuple[Value | None, Bits]] | None:
        """Each value of a name with the scopes that see it; None where there are too many, or they cannot be told."""
        places: dict[object, list[int]] = {}
        values: dict[object, Value | None] = {}
        for place, value in enumerate(self._of(name)):
            key: object = value
            if type(value) is not str:  # as most are; 1 and yes are equal, and are not the same
                if not _can_be_told(value):
                    return None
                key = type(value), value
            if key in places:
                places[key].append(place)
            elif len(places) == _MOST_VALUES:
                return None
            else:
                places[key], values[key] = [place], value
        return [(value, self._bits(places[key])) for key, value in values.items()]

    def _bits(self, places: Iterable[int]) -> Bits:
        marks = bytearray([_NO]) * len(self._paths)
        for place in places:
            marks[place] = _YES
        return int(marks, 2) if marks else 0


def _can_be_told(value: Value | None) -> bool:
    """Whether equal values are one and the same: not of lists of numbers, which may be spelt otherwise, or records."""
    return all(isinstance(item, str) for item in value) if isinstance(value, tuple) else not isinstance(value, dict)
