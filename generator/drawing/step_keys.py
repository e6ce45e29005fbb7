"""The keys of the pictures of steps: what a library may name, known without drawing anything."""

from __future__ import annotations

from typing import Final

PICTURES: Final = frozenset(
    (
        "ring", "lime", "cover", "sprinkle", "leave", "turn", "screen", "bank",
        "turn-dry", "wet", "stand", "stir", "mill", "bank-stuff", "knock-up", "strain",
        "joint-raked", "joint-filled",
    )
)  # fmt: skip
