"""What was reckoned last, kept with all that it rests on: made again only where that differs."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import Any, Final, TypeVar

Made = TypeVar("Made")


class Kept:
    """The last of each thing reckoned, by its key: of two answers that follow one another most comes to the same.

    What is handed on is never changed in place, so that it can be handed on again.
    """

    def __init__(self) -> None:
        self._last: dict[Hashable, tuple[object, Any]] = {}

    def of(self, key: Hashable, rests_on: object, make: Callable[[], Made]) -> Made:
        """What was made last under a key where it rested on what equals this, else made anew."""
        last = self._last.get(key)
        if last is None or last[0] != rests_on:
            last = self._last[key] = (rests_on, make())
        made: Made = last[1]
        return made

    def after(self, key: Hashable, make: Callable[[Made | None], Made]) -> Made:
        """What is made anew each time out of what was made last under a key; of None the first time."""
        last = self._last.get(key)
        made = make(None if last is None else last[1])
        self._last[key] = None, made
        return made


class _Afresh(Kept):
    def of(self, key: Hashable, rests_on: object, make: Callable[[], Made]) -> Made:
        """Made anew whatever it rests on."""
        return make()

    def after(self, key: Hashable, make: Callable[[Made | None], Made]) -> Made:
        """Made as if it were the first time."""
        return make(None)


AFRESH: Final[Kept] = _Afresh()
"""Keeps nothing: for a job that is settled once."""
