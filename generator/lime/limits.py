"""The limits within which the functions of this room hold, and the error beyond them."""

from __future__ import annotations

import math


def checked(name: str, value: float, low: float, high: float = math.inf) -> float:
    """The value itself, where it is finite and from low to high; ValueError with the limits otherwise.

    >>> checked("age_months", 4.0, 0.0)
    4.0
    """
    if math.isfinite(value) and low <= value <= high:
        return value
    limits = f"from {low:g} to {high:g}" if math.isfinite(high) else f"from {low:g} up"
    raise ValueError(f"{name} is {value}: valid {limits}")


def positive(name: str, value: float) -> float:
    """The value itself, where it is finite and above 0; ValueError otherwise.

    >>> positive("box_l", 14.0)
    14.0
    """
    if math.isfinite(value) and value > 0.0:
        return value
    raise ValueError(f"{name} is {value}: valid above 0")
