"""A record with all that it tells by number told in its place, as tests read it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any


def in_full(record: Mapping[str, Any]) -> dict[str, Any]:
    """Each reason, fact and text with what it is told of, and the values of an element with each of its works."""
    texts, walls = record["texts"], {element["element"]: element["values"] for element in record["elements"]}

    def reason(told: Mapping[str, Any]) -> dict[str, Any]:
        return {**record["reasons"][told["reason"]], "facts": [texts[number] for number in told["facts"]]}

    def values(told: Mapping[str, Any]) -> dict[str, Any]:
        return {name: {"value": held["value"], "reason": reason(held)} for name, held in told.items()}

    def tried(told: Mapping[str, Any]) -> dict[str, Any]:
        facts = [texts[number] for number in told["facts"]]
        return {"scopes": record["scopes"][told["scopes"]], "holds": told["holds"], "facts": facts}

    def finding(told: Mapping[str, Any], at: Mapping[str, Any]) -> dict[str, Any]:
        words = {key: value for key, value in told.items() if key != "at"}
        where = {"level": told["level"], "code": told["code"], "scope": at["scope"]}
        return {**where, **words, "facts": [texts[number] for number in at["facts"]], "lines": at["lines"]}

    return {
        **{key: value for key, value in record.items() if key not in ("texts", "reasons", "scopes", "elements")},
        "findings": [finding(told, at) for told in record["findings"] for at in told["at"]],
        "mixes": [{**mix, "reasons": [reason(told) for told in mix["reasons"]]} for mix in record["mixes"]],
        "considered": [
            {**told, "why_not": texts[told["why_not"]], "because": texts[told["because"]]}
            for told in record["considered"]
        ],
        "works": [{**work, "values": values(walls[work["element"]] | work["values"])} for work in record["works"]],
        "clauses": [{**clause, "facts": [tried(told) for told in clause["facts"]]} for clause in record["clauses"]],
    }
