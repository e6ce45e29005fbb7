"""Papers say nothing of what their job does not have."""

from __future__ import annotations

from typing import Final

import pytest
from jobs import EXAMPLES
from told_papers import specification

# What a job of the examples does not have, by the words that would speak of it.
WITHOUT: Final = {
    "garden-front": ("pinning", "pozzolan", "element sheet"),
    "winter-plaster": ("pinning", "paving", "split the stone", "hose on the gutters", "drilled for cables"),
    "toll-house": ("with a pozzolan or", "or of adding the pozzolan", "may be half a brick", "under eaves"),
    "mill-house": (
        "or of adding the pozzolan", "may be half a brick", "element sheet", "hose on the gutters", "partitions",
        "ring-shank", "splatter coat", "moulding run", "each nail",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", [path.parent.name for path in EXAMPLES])
def test_papers_say_nothing_of_what_their_job_does_not_have(name: str) -> None:
    text = specification(name).lower()
    assert [words for words in WITHOUT[name] if words in text] == []
