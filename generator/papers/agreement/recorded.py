"""The record says what the papers say: lines, mixes, clauses and standing, word for word."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final

from generator.document.outline import block_text
from generator.files.errors import Problem
from generator.papers.agreement.printed import (
    MIX_SCHEDULE,
    PRICING_SCHEDULE,
    RECORD,
    SPECIFICATION,
    Place,
    Printed,
)
from generator.values import plain, replace

_TO_DO: Final = "make both from the same job"


def unrecorded(found: Printed, record: Mapping[str, Any]) -> Iterator[Problem]:
    """Each thing that the record tells otherwise than the papers."""
    yield from _standing(found, record)
    yield from _lines(found, record)
    yield from _mixes(found, record)
    yield from _clauses(found, record)


def identities(found: Printed) -> Iterator[Problem]:
    """Each paper that says another reference, revision, date or standing than the specification does."""
    first = found.documents[SPECIFICATION].identity
    others = {**{name: document.identity for name, document in found.documents.items()},
              MIX_SCHEDULE: found.sheet.identity, PRICING_SCHEDULE: found.book.identity}  # fmt: skip
    for name, identity in others.items():
        for field in ("subject", "reference", "revision", "date", "author", "draft", "paper", "language", "date_form"):
            here, there = getattr(identity, field), getattr(first, field)
            if here != there:
                what = f"{name} has the {field} '{here}' and {SPECIFICATION} '{there}'"
                yield found.problem(Place(name), what, _TO_DO)


def _differ(found: Printed, place: Place, what: str, here: object, there: object) -> Iterator[Problem]:
    if here != there:
        yield found.problem(place, f"{what} is '{there}' in {RECORD} and '{here}' in {place}", _TO_DO)


def _standing(found: Printed, record: Mapping[str, Any]) -> Iterator[Problem]:
    identity, place = found.documents[SPECIFICATION].identity, Place(SPECIFICATION)
    for name in ("reference", "revision", "date", "language", "paper"):
        yield from _differ(found, place, f"the {name}", getattr(identity, name), record["issue"][name])
    yield from _differ(found, place, "the status", "draft" if identity.draft else "tender", record["status"])


def _lines(found: Printed, record: Mapping[str, Any]) -> Iterator[Problem]:
    rows = found.rows
    told = {item["ref"]: item for item in record["items"]}
    for ref in {**rows, **told}:
        place = Place(PRICING_SCHEDULE, f"line {ref}")
        row, item = rows.get(ref), told.get(ref)
        if row is None or item is None:
            yield from _differ(found, place, f"line {ref}", row is not None, item is not None)
            continue
        quantity = None if row.quantity is None else str(row.quantity)
        pairs = {"quantity": quantity, "unit": row.unit, "kind": row.kind, "description": row.description,
                 "mix": row.mix, "key": row.key}  # fmt: skip
        for name, here in pairs.items():
            yield from _differ(found, place, f"the {name} of line {ref}", here, item[name])


def _mixes(found: Printed, record: Mapping[str, Any]) -> Iterator[Problem]:
    cards = [card.ref for card in found.sheet.cards]
    yield from _differ(found, Place(MIX_SCHEDULE), "the mixes", cards, [it["mix"] for it in record["batches"]])
    facts = found.job.facts
    for mix in record["mixes"]:
        path = (mix["ref"],)
        if path in facts.scopes:
            place = Place(MIX_SCHEDULE, mix["ref"])
            yield from _differ(found, place, "its name", facts.spoken(path, "mix_name"), mix["name"])
            grain, there = facts.at_scope(path).number("mix_grain_mm"), mix["max_grain_mm"]
            yield from _differ(found, place, "its greatest grain", there if grain is None else plain(grain), there)


def _clauses(found: Printed, record: Mapping[str, Any]) -> Iterator[Problem]:
    told = {clause["id"]: clause for clause in record["clauses"] if clause["included"]}
    used = {key: it for key, it in found.clauses.items() if it[1].used}
    for key in {**used, **told}:
        if key not in used or key not in told:
            place = Place(SPECIFICATION, "", key, str(found.job.numbers.get(f"clause:{key}", "")))
            yield from _differ(found, place, f"clause '{key}'", key in used, key in told)
            continue
        place, block = used[key]
        yield from _differ(found, place, f"the number of '{key}'", block.number, told[key]["number"])
        whole = block_text(replace(block, blocks=(*block.told_above, *block.blocks)))
        yield from _differ(found, place, f"the text of '{key}'", whole, told[key]["text"])
