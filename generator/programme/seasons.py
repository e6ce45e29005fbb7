"""The season of a job: when frost comes and goes each year, how warm the months are, and what that does to a coat."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Final

from generator.library.findings import Raised
from generator.library.model import Library
from generator.lime.maturity import COLDEST_MONTH_C, WARMEST_MONTH_C, MonthlyRates, monthly_rates
from generator.lime.season import DAY, FrostSeason, Half, PlacingSeason, days_into_winter
from generator.programme.network import Cover, Wait
from generator.questionnaire.facts import View
from generator.values import MonthDay, Range, Struct

MONTHS: Final = 12
TOLD_AT_20_C: Final = "20-c"
INSIDE: Final = "internal"


class Climate(Struct, frozen=True):
    """Between which days frost is reckoned with every year, and what a day outside counts for; None where not known."""

    frost: FrostSeason | None
    outside: MonthlyRates | None

    def placing(self, coat: View, library: Library) -> PlacingSeason | None:
        """The days, every year, on which a coat may be laid; None indoors, and where no frost is known."""
        tender = coat.real("frost_cover_days")
        if self.frost is None or tender is None or is_inside(coat):
            return None
        return PlacingSeason(self.frost, tender, self.stretch(coat, library))

    def stretch(self, coat: View, library: Library) -> MonthlyRates | None:
        """What stretches the days of a coat that are told for 20 C; None where they are told for any weather.

        A room that is heated counts as warm as its clauses hold it, every month; another as the air outside.
        """
        if coat.text("days_told_at") != TOLD_AT_20_C:
            return None
        if is_inside(coat):
            row = library.tables["room-temperature"].row_for(coat, unknown=("heating_indoors",))
            if row is not None:
                return monthly_rates([float(row.number("mean_c"))] * MONTHS)
        return self.outside

    def damp(self, coat: View, library: Library, days: float | Range[float]) -> Wait:
        """How long a coat is kept damp."""
        return Wait(days, self.stretch(coat, library))

    def damp_of_all(self, coats: Sequence[View], library: Library) -> Wait:
        """How long coats that are laid together are kept damp: as the one that asks for most."""
        waits = [self.damp(coat, library, coat.real("damp_days") or 0.0) for coat in coats]
        return max(waits, key=lambda wait: (wait.days, wait.rates is not None))

    def cover(self, coat: View, library: Library, days: float | Range[float], damp: Wait | None = None) -> Cover:
        """How long a coat is kept covered, so many days against rain, sun and wind, and while it is kept damp."""
        rates = self.stretch(coat, library)
        damp = damp or self.damp(coat, library, coat.real("damp_days") or 0.0)
        return Cover(days, coat.real("frost_cover_days") or 0.0, self.frost, rates, damp)


def held_warm(library: Library) -> MonthlyRates:
    """What a day counts for where the clauses of heating hold room or enclosure."""
    mean_c = float(library.row("room-temperature", heating_indoors="low").number("mean_c"))
    return monthly_rates([mean_c] * MONTHS)


def is_inside(here: View) -> bool:
    """Whether no weather reaches it."""
    return here.text("exposure_reckoned") == INSIDE


def climate(project: View) -> Climate:
    """The frost and the months of a job."""
    means = month_means_c(project.text("month_means_c"))
    return Climate(frost_season(project), monthly_rates(means) if means is not None else None)


def frost_season(project: View) -> FrostSeason | None:
    """The frost season answered; None where one of its days is not known.

    Which half of the world it is in follows from the two days: a winter is counted from July in the north, and where
    the two do not lie in one, from January in the south. None where they lie in neither, which has a finding.
    """
    early, late = project.month_day("early_frost"), project.month_day("late_frost")
    if early is None or late is None:
        return None
    chance = int(project.number("frost_chance_per_cent") or 10)
    return _season(early, late, chance)


def _season(early: MonthDay, late: MonthDay, chance: int) -> FrostSeason | None:
    halves: tuple[Half, ...] = ("north", "south")
    within = (half for half in halves if days_into_winter(early, half) <= days_into_winter(late, half))
    half = next(within, None)
    return None if half is None else FrostSeason(early, late, half, chance)


def month_means_c(text: str) -> Sequence[float] | None:
    """Twelve temperatures from a text with commas between them; None where it is no such text."""
    try:
        means = [float(part) for part in text.split(",")]
    except ValueError:
        return None
    return means if len(means) == MONTHS and all(COLDEST_MONTH_C <= mean <= WARMEST_MONTH_C for mean in means) else None


def made_in_cold(coat: View, first: datetime.date, last: datetime.date, library: Library) -> bool:
    """Whether mortar for a coat inside is made or laid in a month on whose mornings none may be mixed outside.

    Heating holds a room warm, and nobody warms the yard in which its mortar is mixed.
    """
    means, lowest = month_means_c(coat.text("month_means_c")), coat.number("lowest_c")
    swing = library.number("cold_mornings_c")
    if means is None or lowest is None or swing is None:
        return False
    begun = first - datetime.timedelta(float(coat.number("mix_used_rest_days") or 0))
    months = {(begun + days * DAY).month for days in range((last - begun).days + 1)}
    return any(Decimal(str(means[month - 1])) < lowest + swing for month in months)


def doubts(project: View) -> Iterator[Raised]:
    """Findings where what was answered of the season cannot be read, or not as it was written."""
    if project.text("month_means_c") and month_means_c(project.text("month_means_c")) is None:
        yield Raised("month-means-not-read", project.path, (), (), project.marks("month_means_c"))
    early, late = project.month_day("early_frost"), project.month_day("late_frost")
    if early is not None and late is not None and frost_season(project) is None:
        fills = (("first", project.spoken("early_frost")), ("second", project.spoken("late_frost")))
        yield Raised("frost-all-year", project.path, fills, (), project.marks("early_frost", "late_frost"))
    for name in ("early_frost", "late_frost"):
        held = project.held(name)
        if held is not None and held.spelt:
            fills = (("first", held.spelt), ("second", project.spoken(name)))
            yield Raised("read-every-year", project.path, fills, (), project.marks(name))
