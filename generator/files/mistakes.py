"""Mistakes as they are met while files are read: so many are kept in words, the rest are counted."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Self

from generator.files.errors import Problem, did_you_mean
from generator.files.limits import MOST_COUNTED, MOST_TOLD


class Mistakes(list[Problem]):
    """The first mistakes met; `more` counts those after them, which nobody would read."""

    def __init__(self, found: Iterable[Problem] = ()) -> None:
        super().__init__()
        self.more = 0
        self.extend(found)

    @property
    def is_full(self) -> bool:
        """Whether what is met from now on is only counted, so that its words need not be found."""
        return len(self) >= MOST_TOLD

    @property
    def total(self) -> int:
        """How many there are."""
        return len(self) + self.more

    def append(self, problem: Problem) -> None:
        """Keeps a mistake, or counts it."""
        if self.is_full:
            self.more += 1
        else:
            super().append(problem)

    def extend(self, found: Iterable[Problem]) -> None:
        """Keeps or counts mistakes; of those that others have counted too."""
        for problem in found:
            self.append(problem)
            if self.total >= MOST_COUNTED and not isinstance(found, list):
                return
        if isinstance(found, Mistakes):
            self.more += found.more

    def __iadd__(self, found: Iterable[Problem]) -> Self:  # type: ignore[misc, override]
        self.extend(found)
        return self

    def since(self, total: int) -> Mistakes:
        """Those met after there were so many."""
        later = Mistakes(self[total:])
        later.more = self.total - total - len(later)
        return later

    def near(self, word: str, known: Iterable[str]) -> str:
        """A hint for a mistake that is about to be noted; none is looked for where it would only be counted."""
        return "" if self.is_full else did_you_mean(word, known)
