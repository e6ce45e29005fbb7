"""Our own lint of a Word paper, ours or one that was edited: structure first, then accessibility."""

from __future__ import annotations

from generator.render.check.access import access_faults
from generator.render.check.opened import MAIN, Fault, Unreadable, opened
from generator.render.check.structure import structural_faults


def faults(data: bytes) -> list[Fault]:
    """Every fault of a Word file, each once; a file that cannot be opened has the one fault that says why."""
    try:
        paper = opened(data)
    except Unreadable as error:
        return [error.fault]
    if MAIN not in paper.trees:
        return list(paper.broken)
    return list(dict.fromkeys((*paper.broken, *structural_faults(paper), *access_faults(paper))))


def lines(name: str, found: list[Fault]) -> list[str]:
    """The faults as lines: `FILE: code: what: what to do`."""
    return [f"{name}: {fault.code}: {fault.what}: {fault.to_do}" for fault in found]
