"""A clause that names a lime says for which mixes it is written, so that it is never said of another."""

from __future__ import annotations

import re
from typing import Final

from jobs import shipped

LIMES: Final = re.compile(r"\b(putty|hydraulic lime|NHL|quicklime|hot mix)\b")


def test_each_clause_of_a_mix_or_coat_that_names_a_lime_says_for_which_it_is_written() -> None:
    silent = [
        key
        for key, clause in shipped().clauses.items()
        if clause.per in ("mix", "coat") and LIMES.search(f"{clause.text} {clause.check}") and not clause.makings
    ]
    assert silent == []
