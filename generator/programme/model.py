"""What the programme holds: when each work may run, and when things must be ordered."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from decimal import Decimal

from generator.errors import Raised
from generator.questionnaire.facts import Facts, ScopePath


@dataclass(frozen=True, slots=True)
class Timing:
    """One work in time: working days, the last day it may start and mortar may be placed; no last start for years."""

    path: ScopePath
    duration_days: Decimal | None
    last_start: datetime.date | None
    last_placing: datetime.date | None
    damp_days: Decimal | None
    frost_cover_days: Decimal | None
    takes_years: bool = False


@dataclass(frozen=True, slots=True)
class OrderBy:
    """A thing to order or settle, and the day by which."""

    thing: str
    weeks: Decimal
    by: datetime.date
    because: str
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Programme:
    """Timings, order-by dates and findings, with the facts they were added to."""

    facts: Facts
    timings: tuple[Timing, ...]
    orders: tuple[OrderBy, ...]
    raised: tuple[Raised, ...]
