"""The sands on offer: their voids, how they stand to a published envelope, and the blend nearest the old mortar's."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import Final

from generator.decide.model import Outcome, Reason
from generator.library.findings import Raised
from generator.library.model import Library
from generator.lime import sand
from generator.lime.blending import Blend, SandOnOffer, choose_blend
from generator.lime.sand import Envelope, Grading
from generator.questionnaire.facts import Record, View
from generator.values import Struct, spoken

BOXES_AT_MOST: Final = 6
_POINT: Final = re.compile(r"([0-9]+(?:\.[0-9]+)?)\s*(?:mm)?\s*[: ]\s*([0-9]+(?:\.[0-9]+)?)\s*%?\Z")


class Offer(Struct, frozen=True):
    """A sand on offer, and the parts of it, dry, whose voids one part of lime fills; None where nobody measured."""

    sand: SandOnOffer
    lean_limit_parts: float | None


def offers(here: View) -> list[Offer]:
    """The sands on offer. Raises ValueError for a grading that is none and for voids that no sand has."""
    return [_offer(item) for item in here.records("sands_on_offer")]


def sands_read(here: View) -> list[Offer]:
    """The sands on offer; none where one cannot be read, which is told with the blend."""
    try:
        return offers(here)
    except ValueError:
        return []


def _offer(item: Record) -> Offer:
    return _offered(item.text("name"), item.text("passing"), item.real("void_water_ml"))


@lru_cache(maxsize=64)  # read for every mix and wall of a job
def _offered(name: str, passing: str, water_ml: float | None) -> Offer:
    limit = None
    if water_ml is not None:
        limit = sand.lean_limit_sand_parts(sand.void_share_by_water(water_ml / 1000, 1.0))
    return Offer(SandOnOffer(name, grading(passing)), limit)


def envelope(here: View, library: Library) -> Outcome:
    """Which sands on offer lie outside the published envelope, and where."""
    row = library.row("sand-envelope", language=here.text("language"))
    published = Envelope(row.text("name"), row.text("name"), row.passing("passing"))
    marks = here.marks("sands_on_offer")
    raised = []
    for offered in (offer.sand for offer in sands_read(here)):
        where = list(_outside(offered.grading, published, library))
        if where:
            told = "; ".join([*where, *_fineness(offered.grading, library)])
            fills = (("sand", offered.name), ("envelope", published.name), ("where", told))
            raised.append(Raised("sand-outside-envelope", here.path, fills, (), marks))
    return Outcome(raised=tuple(raised))


def _outside(found: Grading, published: Envelope, library: Library) -> Iterator[str]:
    for row in sand.check_envelope(found, published):
        if row.passing_per_cent is not None and row.verdict != "within":
            yield library.phrase(
                "sand-outside", passing=f"{row.passing_per_cent:.0f}", sieve=f"{row.sieve_mm:g}",
                low=f"{row.low_per_cent:g}", high=f"{row.high_per_cent:g}",
            )  # fmt: skip


def _fineness(found: Grading, library: Library) -> Iterator[str]:
    if all(found.reaches(sieve) for sieve in sand.METRIC_SIEVES_MM):
        modulus = sand.fineness_modulus(found, sand.METRIC_SIEVES_MM)
        yield library.phrase("sand-fineness", modulus=f"{modulus:.1f}")


def blend(here: View, library: Library) -> Outcome:
    """The boxes of each sand on offer that best fit the old mortar's grading, with the largest misfit."""
    try:
        best = best_blend(here)
    except ValueError as error:
        marks = here.marks("old_sand_passing", "sands_on_offer")
        return Outcome(raised=(Raised("grading-not-read", here.path, (("why", str(error)),), (), marks),))
    if best is None:
        return Outcome()
    worst = best.largest_residual
    text = library.phrase(
        "sand-blend", boxes=_boxes(best, library), misfit=f"{abs(worst.residual_per_cent):.0f}",
        sieve=f"{worst.sieve_mm:g}",
    )  # fmt: skip
    if best.sieves_left_out_mm:
        sieves = spoken(tuple(f"{sieve:g}" for sieve in best.sieves_left_out_mm))
        text += library.phrase("sand-blend-left-out", sieves=sieves)
    reason = Reason(
        "sand-blend",
        library.phrase("sand-blend-because"),
        ("common-practice",),
        "derived",
        "",
        (here.text("old_sand_passing"),),
    )
    return Outcome({"sand_blend": text}, reason)


def best_blend(here: View) -> Blend | None:
    """The blend of the sands on offer nearest to the old mortar's sand; None where either was not answered.

    Raises ValueError for a grading that is none and for voids that no sand has.
    """
    wanted = here.text("old_sand_passing")
    if not wanted or not here.records("sands_on_offer"):
        return None
    return _best(tuple(offer.sand for offer in offers(here)), wanted)


@lru_cache(maxsize=64)  # hundreds of blends are tried, for walls that often have one old mortar
def _best(sands: tuple[SandOnOffer, ...], wanted: str) -> Blend:
    return choose_blend(sands, grading(wanted), boxes_at_most=BOXES_AT_MOST)


def grading(text: str) -> Grading:
    """The grading in a text such as `4 100, 2 92, 1 74`. Raises ValueError for what is none."""
    found: dict[float, float] = {}
    for part in text.split(","):
        match = _POINT.match(part.strip())
        if match is None:
            raise ValueError(f"'{part.strip()}' is not a sieve in mm and a per cent, such as 2 92")
        found[float(match[1])] = float(match[2])
    return Grading.of(found)


def _boxes(chosen: Blend, library: Library) -> str:
    used = [(name, count) for name, count in zip(chosen.names, chosen.boxes, strict=True) if count]
    return " + ".join(
        library.phrase("box-of" if count == 1 else "boxes-of", count=str(count), what=name) for name, count in used
    )
