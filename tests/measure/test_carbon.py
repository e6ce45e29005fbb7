"""The carbon of a mix, for the specifier alone: emitted and taken up apart, what has no figure named."""

from __future__ import annotations

from decimal import Decimal

import pytest
from answers_text import one_wall
from jobs import shipped
from small_library import job

from generator.files.spelling import yaml_text
from generator.lime.slaking import CARBON_DIOXIDE_PER_HYDRATE
from generator.measure.carbon import carbon_per_m3
from generator.record.explain import explain
from generator.values import Range

NHL = job(one_wall(hardness="hard", exposure="severe", asked_binder=None))
LIBRARY = shipped()


def test_a_cubic_metre_is_its_kilograms_times_the_factors() -> None:
    (mix,) = NHL.decisions.mixes
    assert mix.recipe.lime == "nhl-3.5"
    found = carbon_per_m3(mix, LIBRARY)
    # 1 : 2.5 damp is 1 : 2 dry: 1000 / 1.07 l of dry sand to 467 l of lime at 0.65 kg/l, 304 kg at 0.60, and
    # 1449 kg of sand at 0.005 (arithmetic)
    assert found.carbon.emitted_kgco2e_per_m3.likely == pytest.approx(304 * 0.60 + 1449 * 0.005, rel=0.005)
    assert found.carbon.reabsorbed_kgco2_per_m3.low == 0
    assert found.not_counted == ()


def test_a_material_without_a_figure_is_named_and_not_taken_for_nothing() -> None:
    (mix,) = job(one_wall(asked_binder="putty-pozzolan")).decisions.mixes
    assert carbon_per_m3(mix, LIBRARY).not_counted == (LIBRARY.materials[mix.recipe.pozzolan].short,)


def test_explaining_a_mix_tells_both_apart_and_what_the_figures_cannot_say() -> None:
    found = explain(NHL, "M1")
    assert found is not None
    assert set(found["carbon"]) == {"how", "emitted_kgco2e_per_m3", "taken_up_kgco2_per_m3", "not_counted"}
    assert "explain-carbon" in yaml_text(found)


def test_what_putty_takes_up_is_its_solids_times_what_slaked_lime_takes_up() -> None:
    putty = LIBRARY.materials["lime-putty"]
    assert putty.solids_share is not None
    assert putty.taken_up_kgco2_per_kg is not None
    # 0.80 to 0.92 of it carbonates in pure air-lime mortars in the end (review of 57 papers, 2022, R)
    by_hydrate = Range(0.80, 0.86, 0.92).times(CARBON_DIOXIDE_PER_HYDRATE)
    for end in ("low", "likely", "high"):
        reckoned = float(getattr(putty.solids_share, end)) * getattr(by_hydrate, end)
        assert abs(getattr(putty.taken_up_kgco2_per_kg, end) - Decimal(str(reckoned))) < Decimal("0.01")


def test_no_paper_names_carbon_figures() -> None:
    texts = [clause.text for clause in LIBRARY.clauses.values()]
    assert not any("kgCO2" in text for text in texts)
