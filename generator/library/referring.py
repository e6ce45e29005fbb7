"""References and sources of a library with layers: what its own words and drops leave pointing at nothing."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from generator.files.errors import Mark, Problem, did_you_mean
from generator.library.entries import Clause
from generator.library.model import Library

_REFERENCE: Final = re.compile(r"\]\((clause|part):([^)\s]*)\)")


def dangling(library: Library) -> Iterator[Problem]:
    """A problem for each reference to a clause that is dropped or not there, and each source that is not known."""
    parts = {part.id for part in library.parts}
    for key, clause in library.clauses.items():
        for kind, target in references(clause):
            if target in library.dropped:
                what = f"clause '{key}' refers to '{target}', which the layer '{library.dropped[target].layer}' drops"
                yield Problem(_mark(library, key), what, f"replace '{key}' too, or keep '{target}'")
            elif key in library.origins and target not in (library.clauses if kind == "clause" else parts):
                what = f"clause '{key}' refers to '{kind}:{target}', which is not there"
                yield Problem(_mark(library, key), what, did_you_mean(target, library.clauses))
        for source in clause.sources if key in library.origins else ():
            if source not in library.sources:
                what = f"clause '{key}' names the source '{source}', which is not known"
                yield Problem(_mark(library, key), what, did_you_mean(source, library.sources))


def references(clause: Clause) -> set[tuple[str, str]]:
    """The kind and id of everything that a clause's words refer to."""
    return {(kind, target) for text in (clause.text, clause.check, clause.because) for kind, target in _found(text)}


def _found(text: str) -> list[tuple[str, str]]:
    return [(match[1], match[2]) for match in _REFERENCE.finditer(text)]


def _mark(library: Library, key: str) -> Mark:
    return library.marks.get(("clause", key), Mark(key))
