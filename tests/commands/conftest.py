"""Commands run in this process share one reading of the shipped library; `TestProcess` in test_main runs whole ones."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest
from jobs import ROOT, shipped

from generator.library import load
from generator.library.model import Library

SHIPPED = ROOT / "clauses"


@pytest.fixture(autouse=True)
def shipped_library_read_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """The shipped library without layers is the one that all tests share; any other is read as ever."""
    known, read, loaded = shipped(), load.read_library, load.load

    def read_library(folder: Path, layers: Sequence[Path] = (), templates: Path | None = None) -> Library:
        return known if folder == SHIPPED and not layers and templates is None else read(folder, layers, templates)

    def load_(
        folder: Path, label: str | None = None, layers: Sequence[Path] = (), templates: Path | None = None
    ) -> Library:
        plain = folder == SHIPPED and not layers and templates is None
        return known if plain else loaded(folder, label, layers, templates)

    monkeypatch.setattr(load, "read_library", read_library)
    monkeypatch.setattr(load, "load", load_)
