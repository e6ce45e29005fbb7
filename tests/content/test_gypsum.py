"""Gypsum that this work takes off, and what of it stays: no paper bars what another orders."""

from __future__ import annotations

from typing import Any, Final

import pytest
from jobs import shipped
from timed_jobs import codes, planned, scaffolded, surface

from generator.document.outline import outline
from generator.papers.assemble import assemble
from generator.papers.steps import all_steps

ROOM: Final[dict[str, Any]] = {
    "position": "indoors", "exposure": "internal", "heating_indoors": "low", "air_indoors": "open",
    "old_binder": "gypsum", "lead_paint": "none", "wall_painting": "none",
}  # fmt: skip
COAT: Final = surface("coat", "plaster", plaster_coats="two", plaster_surface="floated", old_plaster_beside="yes")


def off(hold: str | None) -> str:
    return surface("off", "remove", removed="gypsum-plaster", removed_hold=hold)


@pytest.mark.parametrize("hold", ["loose", "mixed", None])
def test_gypsum_is_left_to_a_specialist_only_where_this_work_takes_none_of_it_off(hold: str | None) -> None:
    made = planned(scaffolded(off(hold), COAT, **ROOM))
    assert "old-work-is-gypsum" not in codes(made)
    assert "stop at its edge" not in outline(assemble(made).specification)
    assert "old-work-is-gypsum" in codes(planned(scaffolded(COAT, **ROOM)))
    other = surface("off", "remove", removed="lime-plaster", removed_hold="loose")
    assert "old-work-is-gypsum" in codes(planned(scaffolded(other, COAT, **ROOM)))


@pytest.mark.parametrize(("hold", "stays"), [("loose", False), ("mixed", True), ("firm", True), (None, True)])
def test_what_holds_of_gypsum_has_somebody_who_says_what_covers_it_and_its_area_is_not_firm(
    hold: str | None, stays: bool
) -> None:
    held = surface("off", "remove", removed="gypsum-plaster", removed_hold=hold, quantity_sure="measured")
    made = planned(scaffolded(held, COAT, **ROOM))
    assert made.in_papers("removal.gypsum-stays") == stays
    (step,) = (
        (told.entry for told in all_steps(made, ("front",)) if told.entry.id == "remove.trial") if stays else (None,)
    )
    assert step is None or "removal.gypsum-stays" in step.clauses
    (line,) = (item for item in made.measured.items() if item.entry.id == "remove.gypsum-plaster")
    assert (line.kind == "provisional") == stays


def test_no_text_says_that_all_of_the_gypsum_comes_off() -> None:
    library = shipped()
    assert "all of it comes off but" in library.findings["gypsum-out"].message
    assert "brush what is bared dry" in library.clauses["removal.gypsum"].text
