"""The words of the trade that a job's papers use, each with what it means in them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Final

from generator.document.model import Block, Paragraph, Strong, Text
from generator.document.template import PaperPart
from generator.job.job import Job, words

_LETTERS: Final = re.compile(r"\w+")


def glossary(job: Job, part: PaperPart) -> Iterator[Block]:
    """The lines of a part whose word stands in what this job requires; nothing where none does."""
    said = " ".join(dict.fromkeys(_required(job))).lower()  # the lines of many walls say the same
    used = [(word, meaning) for word, meaning in part.lines.items() if _stands(word, said)]
    if used:
        told = [(Strong(words(word)), Text(f": {meaning}")) for word, meaning in _as_read(job, used)]
        yield Paragraph(tuple(piece for each in told for piece in (*each, Text("; ")))[:-1], "small")


def _as_read(job: Job, used: Sequence[tuple[str, str]]) -> list[tuple[str, str]]:
    """Words as the readers have them; where two of ours are one of theirs, with both meanings."""
    swap = job.library.swap
    if swap is None:
        return list(used)
    found: dict[str, list[str]] = {}
    for word, meaning in used:
        found.setdefault(swap(word), []).append(meaning)
    told = ((word, ", or ".join(meanings)) for word, meanings in found.items())
    return sorted(told, key=lambda entry: entry[0].casefold())


def _required(job: Job) -> Iterator[str]:
    """The words of every clause and line of a job, as the library has them."""
    for chosen in job.selections.values():
        if chosen.included:
            yield from (chosen.clause.title, chosen.clause.text, chosen.clause.check)
    for item in job.measured.items():
        yield from (item.entry.description, item.entry.includes)
    yield from (mix.recipe.name for mix in job.decisions.mixes)


def _stands(word: str, said: str) -> bool:
    """Whether a word stands in a text by itself, as one or as several of it."""
    sought = word.lower()
    at = said.find(sought)
    while at >= 0:
        after = _LETTERS.match(said, at + len(sought))
        if not _LETTERS.match(said[at - 1 : at]) and (after is None or after[0] in ("s", "es")):
            return True
        at = said.find(sought, at + 1)
    return False
