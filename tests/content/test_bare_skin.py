"""No test of fresh lime is made with bare skin: gauntlets are worn at it (common practice; wet lime is caustic)."""

from __future__ import annotations

import re

import pytest
from jobs import shipped

SKIN = re.compile(r"\b(palm|finger|thumb|bare hand)\b", re.IGNORECASE)
OF_FRESH_LIME = ("mortars.", "limewash.making", "plaster.setting-stuff")


@pytest.mark.parametrize("key", shipped().recipes)
def test_a_fresh_mix_is_judged_by_trowel_or_glove(key: str) -> None:
    assert not SKIN.search(shipped().recipes[key].signs or "")


def test_clauses_of_mixing_judge_no_fresh_lime_by_skin() -> None:
    clauses = {key: clause for key, clause in shipped().clauses.items() if key.startswith(OF_FRESH_LIME)}
    assert len(clauses) > 10
    found = {key for key, clause in clauses.items() if SKIN.search(str(clause.check or ""))}
    assert found == set()
