"""Findings in words: those raised by rules, and those whose condition holds somewhere in the job."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial

from generator.decide.answered import UNANSWERED
from generator.document.model import plain_text
from generator.job.filling import Filling
from generator.library.entries import FindingEntry
from generator.library.findings import Finding, Raised
from generator.questionnaire.condition import Condition
from generator.questionnaire.facts import Facts
from generator.questionnaire.scopes import ScopePath


def findings(raised: Iterable[Raised], filling: Filling) -> tuple[Finding, ...]:
    """Every finding of the job, the gravest first, then in the order of the answers."""
    found = [worded(item, filling) for item in raised]
    found += [worded(item, filling) for item in _by_condition(filling)]
    order = {path: index for index, path in enumerate(filling.facts.scopes)}
    unique = dict.fromkeys(found)
    return tuple(sorted(unique, key=lambda item: (-item.rank, order.get(item.scope, 0), item.code)))


def _by_condition(filling: Filling) -> Iterable[Raised]:
    facts, library = filling.facts, filling.library
    for code, entry in library.findings.items():
        condition = library.condition("finding", code).when
        if condition is None:
            continue
        names = sorted(condition.names())
        alike: dict[ScopePath, tuple[str, ...]] = {}
        for path in condition.where(facts, entry.per, unknown=entry.if_unknown == "raise"):
            model = facts.standing_for(path, names)
            if model not in alike:
                alike[model] = facts.read((code, path), names, path, partial(_told, condition, facts, path))
            marks = tuple(held.mark for name in names if (held := facts.held(path, name)) and held.mark.line)
            yield Raised(code, path, (), alike[model], marks)


def _told(condition: Condition, facts: Facts, path: ScopePath) -> tuple[str, ...]:
    return tuple(map(str, condition.evaluate(facts, path).facts))


def worded(raised: Raised, filling: Filling) -> Finding:
    """A finding in the words of the library."""
    entry: FindingEntry = filling.library.findings[raised.code]
    fills = dict(raised.fills)

    def said(part: str) -> str:
        return plain_text(filling.line("finding", raised.code, part, raised.scope, fills))

    return Finding(
        entry.level,
        raised.code,
        raised.scope,
        said("message"),
        said("action"),
        fills.get("answer_by", entry.answer_by),
        entry.sources,
        raised.facts,
        raised.marks,
        said("instruction"),
        fills.get("name", "") if raised.code in UNANSWERED else "",
    )


def status(found: Iterable[Finding]) -> str:
    """`draft` while any finding of level block is open, else `tender`."""
    return "draft" if any(item.level == "block" for item in found) else "tender"


def of(found: Iterable[Finding], path: ScopePath) -> list[Finding]:
    """The findings at or inside a scope."""
    return [item for item in found if item.scope[: len(path)] == path]
