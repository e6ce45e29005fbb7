"""What a record tells in many places and holds once: texts, reasons, and groups of scopes, each by its number."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from generator.decide.model import Reason
from generator.questionnaire.scopes import ScopePath

TABLES: Final = ("texts", "reasons", "scopes")
"""The lists of a record that its entries refer to, by the place from 0 on."""


class Once:
    """The lists of a record that its other entries refer to, as they are filled."""

    def __init__(self) -> None:
        self._texts: dict[str, int] = {}
        self._reasons: dict[Reason, int] = {}
        self._scopes: dict[tuple[ScopePath, ...], int] = {}

    def text(self, text: str) -> int:
        """The number of a text."""
        return self._texts.setdefault(text, len(self._texts))

    def all_texts(self, texts: Sequence[str]) -> list[int]:
        """The numbers of some texts."""
        return [self.text(text) for text in texts]

    def reasoned(self, reason: Reason) -> dict[str, Any]:
        """A reason by its number, with the facts that it rests on here."""
        held = Reason(reason.rule, reason.because, reason.sources, reason.confidence, reason.range)
        number = self._reasons.setdefault(held, len(self._reasons))
        return {"reason": number, "facts": self.all_texts(reason.facts)}

    def scopes(self, paths: tuple[ScopePath, ...]) -> int:
        """The number of a group of scopes."""
        return self._scopes.setdefault(paths, len(self._scopes))

    def data(self) -> dict[str, list[Any]]:
        """The lists as plain data."""
        return {
            "texts": list(self._texts),
            "reasons": [rule_data(reason) for reason in self._reasons],
            "scopes": [[list(path) for path in paths] for paths in self._scopes],
        }


def rule_data(reason: Reason) -> dict[str, Any]:
    """A reason as plain data, without the facts that it rests on in a place."""
    return {
        "rule": reason.rule,
        "because": reason.because,
        "sources": list(reason.sources),
        "confidence": reason.confidence,
        "range": reason.range,
    }
