"""Every kind of file that is read, spoilt by chance: taken or refused in words, never a traceback, never a hang.

Many on demand: ATTACKS=1000 python -m pytest -m long tests/test_attacks.py; so many of each kind, and other ones
with SEED. What fails is kept in `tests/corpus/`: commit it with what mends it.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest
from attacking import KINDS, good, keep, kept, outcome, spoilt

ATTACKS = int(os.environ.get("ATTACKS", "20"))
SEED = int(os.environ.get("SEED", "0"))
pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="alarms")


@pytest.mark.parametrize("kind", KINDS)
def test_the_same_seed_spoils_the_same_way_and_a_sound_file_is_taken(kind: str) -> None:
    assert spoilt(kind, 1) == spoilt(kind, 1)
    assert len({spoilt(kind, seed) for seed in range(8)}) > 1
    if kind not in ("issue", "bundle"):  # of an issue the description alone is spoilt
        assert outcome(kind, good(kind)[0]) == "taken"


@pytest.mark.long
@pytest.mark.parametrize("kind", KINDS)
def test_a_spoilt_file_is_taken_or_refused_in_words(kind: str) -> None:
    failed: list[str] = []
    seen: set[str] = set()
    for seed in range(SEED, SEED + ATTACKS):
        data = spoilt(kind, seed)
        try:
            seen.add(outcome(kind, data))
        except Exception as error:
            failed.append(f"{keep(kind, data)}: {type(error).__name__} {error}"[:300])
    assert not failed
    assert "refused" in seen or kind == "paper" or ATTACKS < 20


@pytest.mark.parametrize(("kind", "path"), kept(), ids=str)
def test_what_failed_once_is_taken_or_refused_in_words(kind: str, path: Path) -> None:
    assert outcome(kind, path.read_bytes()) in ("taken", "refused")
