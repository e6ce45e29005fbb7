"""Files and texts of a library that a run of tests has read already: most tests read one with little in it changed."""

from __future__ import annotations

import functools
from pathlib import Path
from typing import Final

import pytest

from generator.files.source import Source, read_bytes, read_file
from generator.library import load, templates, text

FILES: Final = 512
TEXTS: Final = 8192


@functools.lru_cache(maxsize=FILES)
def _read(raw: bytes, typed: bool) -> Source:
    return read_bytes(raw, "", typed)


def read_file_once(path: Path, name: str | None = None, typed: bool = True) -> Source:
    """What `read_file` gives; of bytes that were read without a mistake, from the memory of the run."""
    if not path.is_file():
        return read_file(path, name, typed)
    raw = path.read_bytes()
    found = _read(raw, typed)
    if found.problems:  # they name their file
        return read_file(path, name, typed)
    label = name if name is not None else str(path)
    return Source(label, found.data, found.marks, found.keys, raw=raw, events=found.events)


def remember(patch: pytest.MonkeyPatch) -> None:
    """From now on each file and text of a library is read once: what reading one gives hangs on its bytes alone."""
    for module in (load, templates):
        patch.setattr(module, "read_file", read_file_once)
    patch.setattr(text, "parse", functools.lru_cache(maxsize=TEXTS)(text.parse))
