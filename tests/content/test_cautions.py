"""Cautions that stand in two places say one thing, and a test asked for on site is safe as it is written."""

from __future__ import annotations

import re

from jobs import shipped

from generator.lime.slaking import BOILING_C, WATER_KJ_PER_KG_K, slaking_heat_kj

WARM_WATER_C = 25.0


def test_the_trial_of_quicklime_stays_under_boiling_however_pure_it_is() -> None:
    """All its heat in the water alone, the solids left out: hydration by the CRC enthalpies (`lime/slaking`)."""
    figures = shipped().clauses["materials.quicklime"].figures
    lime_kg, water_kg = (float(figures[name]) / 1000 for name in ("slake_test_g", "slake_test_ml"))
    rise = slaking_heat_kj(lime_kg) / (water_kg * WATER_KJ_PER_KG_K)
    assert WARM_WATER_C + rise < BOILING_C - 10
    assert float(figures["slake_test_c"]) < 10 + 0.8 * rise  # good lime in cold water passes it


def test_who_tries_quicklime_wears_what_slaking_asks_for() -> None:
    clauses = shipped().clauses
    for words in ("face shields over goggles", "gauntlets"):
        assert words in " ".join(clauses["materials.quicklime"].check.split())
    assert "face shields over goggles" in clauses["safety.slaking"].text


def test_screenings_go_into_wet_sand_on_the_card_and_in_the_clause() -> None:
    library = shipped()
    assert "wet sand" in library.clauses["mortars.hot-mix-warm"].text
    step = library.operations["mixing.hot-screen"]
    assert "wet sand" in step.text
    assert "waste" not in step.text


def test_no_clause_on_old_paint_or_coating_sets_hot_air_a_limit() -> None:
    """A gun held under any limit still melts and fumes lead; the papers' first page forbids it outright."""
    texts = {
        key: clause.text
        for key, clause in shipped().clauses.items()
        if "hot air" in clause.text or "hot-air" in clause.text
    }
    assert "safety.lead-found" in texts
    assert not [key for key, text in texts.items() if re.search(r"hot air (?:over|above|under)", text)]
