"""Our own lint of a Word paper, ours or one that was edited: structure first, then accessibility."""

from __future__ import annotations

from itertools import chain

from generator.files.limits import MOST_COUNTED, MOST_TOLD
from generator.render.check.access import access_faults
from generator.render.check.opened import ANYBODYS, MAIN, OUR_OWN, Fault, Unreadable, opened
from generator.render.check.structure import structural_faults


def faults(data: bytes, *, ours: bool = False) -> list[Fault]:
    """The faults of a Word file, each once; a file that cannot be opened has the one fault that says why.

    `ours` is one that is known to be as it was written, which may be as large as papers of estates are.

    Of a file with faults without end the first are looked for.
    """
    try:
        paper = opened(data, OUR_OWN if ours else ANYBODYS)
    except Unreadable as error:
        return [error.fault]
    if MAIN not in paper.trees:
        return list(paper.broken)
    found: dict[Fault, None] = {}
    for fault in chain(paper.broken, structural_faults(paper), access_faults(paper)):
        found[fault] = None
        if len(found) == MOST_COUNTED:
            break
    return list(found)


def lines(name: str, found: list[Fault]) -> list[str]:
    """The faults as lines: `FILE: code: what: what to do`; so many, and a line that counts the rest."""
    told = [f"{name}: {fault.code}: {fault.what}: {fault.to_do}" for fault in found[:MOST_TOLD]]
    rest = len(found) - len(told)
    least = "at least " if len(found) == MOST_COUNTED else ""
    return [*told, f"{name}: and {least}{rest:,} faults more"] if rest else told
