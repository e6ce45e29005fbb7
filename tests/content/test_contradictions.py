"""Answers that cannot be true of one wall together hold the set back, and their neighbours that can be do not."""

from __future__ import annotations

from typing import Any

import pytest
from answers_text import answers, one_wall, wall, work
from jobs import job, shipped

COATS: dict[str, Any] = {"work": "plaster", "plaster_coats": "three", "plaster_surface": "floated"}
LATHS: dict[str, Any] = {
    "masonry": "laths", "overhead": "no", "position": "indoors", "exposure": "internal", "work": "plaster",
    "plaster_coats": "three", "plaster_surface": "floated", "new_laths_m2": "0", "lath_kind": "sawn",
}  # fmt: skip
FACE: dict[str, Any] = {"face_width_m": "4", "face_height_m": "3"}


def _window(**sides: float) -> str:
    told = {
        "kind": "window",
        "width_m": 1.2,
        "height_m": 1.5,
        **sides,
        **({"sill_m": 0.9} if "left_m" in sides else {}),
    }
    return f"\n  - {{{', '.join(f'{name}: {value}' for name, value in told.items())}}}"


TOGETHER: dict[str, tuple[str, dict[str, Any], dict[str, Any]]] = {
    # code: (scope of the answers, those that contradict, those nearest to them that do not)
    "salts-cause-without-salts": ("wall", {"decay_causes": "[salts]", "salts": "none"}, {"salts": "some"}),
    "drawing-salts-without-salts": ("work", {"work": "desalt"}, {}),
    "cement-cause-without-cement": ("wall", {"decay_causes": "[cement]"}, {"decay_causes": "[age]"}),
    "frost-cause-inside": (
        "wall",
        {"decay_causes": "[frost]", "position": "indoors", "exposure": "internal"},
        {"position": "wall", "exposure": "moderate"},
    ),
    "gutter-cause-without-roof": (
        "wall", {"decay_causes": "[gutter]", "position": "freestanding"}, {"position": "wall"},
    ),
    "high-ground-cause-up-high": (
        "wall", {"decay_causes": "[high-ground]", "position": "parapet"}, {"position": "wall"},
    ),
    "laths-out-of-doors": ("wall", {"masonry": "laths", "position": "retaining"}, {"position": "indoors"}),
    "pointing-off-laths": (
        "wall", {"masonry": "earth", "removed": "cement-pointing"}, {"removed": "cement-render"},
    ),
    "high-work-from-ground": ("wall", {"access": "ground", "height_m": "5.5"}, {"height_m": "3"}),
    "live-flues-in-empty-house": (
        "house", {"lived_in": "no", "position": "chimney", "flues": "some-live"}, {"lived_in": "yes"},
    ),
    "foot-of-retaining-wall-dug": (
        "one", {"position": "retaining", "decay_causes": "[high-ground]", "causes_cured": "in-this-work"},
        {"causes_cured": "by-others"},
    ),
    "stack-panel-from-ground": (
        "one", {"position": "chimney", "panel_place": "ground", "access": "scaffold"}, {"panel_place": "frame"},
    ),
    "stack-from-ground": (
        "wall", {"access": "ground", "position": "chimney", "height_m": None}, {"position": "wall"},
    ),
    "brick-too-large": (
        "wall", {"unit_length_mm": "600", "unit_height_mm": "300"}, {"unit_length_mm": "215", "unit_height_mm": "65"},
    ),
    "scattered-over-all": (
        "work", {"treated_how": "scattered", "treated_per_cent": "95"}, {"treated_per_cent": "20"},
    ),
    "deep-less-than-lost": (
        "work", {"joint_depth_lost_mm": "30 - 60", "deep_voids_m2": "1"}, {"joint_depth_lost_mm": "10 - 60"},
    ),
    "laths-under-old-plaster": (
        "one", {**LATHS, "face_area_m2": "16", "new_laths_m2": "16"}, {"new_laths_m2": "12"},
    ),
    "drains-of-two-trades": ("project", {"other_trades": "[drains]"}, {"other_trades": "[floors]"}),
    "exposure-contradicts": ("wall", {"exposure": "internal", "position": "parapet"}, {"exposure": "severe"}),
    "sheltered-in-spray": ("wall", {"exposure": "sheltered", "position": "marine"}, {"exposure": "severe"}),
    "roof-stage-indoors": (
        "wall", {"position": "indoors", "exposure": "internal", "access": "roof-scaffold"}, {"access": "tower"},
    ),
    "deck-outside": ("wall", {"access": "deck"}, {"access": "scaffold"}),
    "cement-before-its-time": ("one", {"built": "before-1850", "old_binder": "cement"}, {"built": "1920-1945"}),
    "cavity-before-its-time": ("one", {"built": "before-1850", "brick_thickness": "cavity"}, {"built": "1920-1945"}),
    "hair-plaster-after-its-time": (
        "one", {**LATHS, "built": "later", "plaster_age": "before-1920"}, {"built": "1850-1919"},
    ),
    "earth-binder-in-late-brick": ("one", {"built": "later", "old_binder": "air-lime"}, {"old_binder": "cement"}),
    "ashlar-with-wide-joints": (
        "one", {"masonry": "ashlar", "joint_width_mm": "14 - 20"}, {"masonry": "squared-rubble"},
    ),
    "gauged-with-wide-joints": ("one", {"masonry": "gauged-brick"}, {"joint_width_mm": "1 - 2"}),
    "joint-wider-than-unit": ("one", {"joint_width_mm": "45 - 60"}, {"joint_width_mm": "8 - 12"}),
    "ashlar-too-small": (
        "one", {"masonry": "ashlar", "joint_width_mm": "2 - 4", "unit_length_mm": "120", "unit_height_mm": "60"},
        {"unit_length_mm": "500", "unit_height_mm": "300"},
    ),
    "soaked-by-age-alone": ("one", {"wall_wet": "soaked"}, {"decay_causes": "[age, leak]"}),
    "moves-and-does-not": (
        "one", {"decay_causes": "[movement]", "causes_cured": "by-others"},
        {"leaning": "yes", "engineer_says": "sound"},
    ),
    "flue-cause-without-flue": ("one", {"decay_causes": "[flue]", "position": "freestanding"}, {"position": "wall"}),
    "dry-wall-that-leaks": (
        "one", {"decay_causes": "[leak]", "causes_cured": "nobody"}, {"wall_wet": "damp"},
    ),
    "joints-asked-of-coats": ("one", {**COATS, "asked_ways": "[one-go]"}, {"work": "repoint"}),
    "hair-asked-of-joints": ("one", {"asked_ways": "[hair-in-hot-mix]"}, COATS),
    "work-on-boards": ("one", {"masonry": "boards"}, {"masonry": "brick"}),
    "coats-on-boards": ("one", {**COATS, "masonry": "boards"}, LATHS),
    "joints-of-jointless-earth": ("one", {"masonry": "earth", "earth_kind": "cob"}, {"earth_kind": "clay-lump"}),
    "tuck-not-on-brick": ("one", {"masonry": "squared-rubble", "joint_finish": "tuck"}, {"masonry": "brick"}),
    "tuck-as-found": ("one", {"old_joint": "tuck", "joint_finish": "as-found"}, {"joint_finish": "tuck"}),
    "peak-below-face": ("one", {**FACE, "face_top": "gable", "face_peak_m": "2.5"}, {"face_peak_m": "4"}),
    "opening-off-face": (
        "one", {**FACE, "wall_openings": _window(left_m=3.5)}, {"wall_openings": _window(left_m=1)},
    ),
    "openings-overlap": (
        "one", {**FACE, "wall_openings": _window(left_m=1) + _window(left_m=1.5)},
        {"wall_openings": _window(left_m=0.5) + _window(left_m=2)},
    ),
    "openings-over-face": (
        "one", {**FACE, "wall_openings": _window(width_m=5, height_m=3)}, {"wall_openings": _window(width_m=2)},
    ),
    "zone-off-face": (
        "one", {**FACE, "zone_boundary": "the damp-course", "zone_from_m": "2", "zone_to_m": "3.4"},
        {"zone_to_m": "2.9"},
    ),
    "placed-off-face": (
        "one", {**FACE, "areas_placed": "[{left_m: 3, bottom_m: 0, width_m: 2, height_m: 3}]"},
        {"areas_placed": "[{left_m: 1, bottom_m: 0, width_m: 2, height_m: 3}]"},
    ),
    "placed-area-apart": (
        "one", {**FACE, "areas_placed": "[{left_m: 0, bottom_m: 0, width_m: 2, height_m: 2}]"},
        {"areas_placed": "[{left_m: 0, bottom_m: 0, width_m: 3, height_m: 2}]"},
    ),
    "scattered-fills-hatch": (
        "one",
        {
            **FACE,
            "treated_how": "scattered",
            "treated_per_cent": "50",
            "areas_placed": "[{left_m: 0, bottom_m: 0, width_m: 2.1, height_m: 3}]",
        },
        {"treated_how": "patches"},
    ),
    "openings-apart": (
        "one", {**FACE, "wall_openings": _window(left_m=1)}, {"openings": "[{width_m: 1.2, height_m: 1.5}]"},
    ),
    "face-area-apart": ("one", {**FACE, "face_area_m2": "18"}, {"face_area_m2": "12"}),
    "monument-letter-not-named": (
        "job",
        {"protection": "monument", "consent": "not-needed", "officer": "An officer"},
        {"consent_reference": "Letter of 3 May 2026"},
    ),
}  # fmt: skip


def codes(scope: str, given: dict[str, Any]) -> set[str]:
    given = dict(given)
    if scope == "job":
        text = answers(wall(), **given)
    elif scope == "house":  # a wall in a house of which it is said whether anybody is there
        lived_in = given.pop("lived_in")
        text = answers(wall(**given), lived_in=lived_in)
    elif scope == "one":
        text = one_wall(**given)
    elif scope == "project":  # beside enabling work that clears drains
        drain = work(work="enabling", enabling_tasks="[drain]")
        text = answers(wall(work(), drain.replace("id: repoint", "id: drain")), **given)
    elif scope == "work":
        text = answers(wall(work(**given)))
    else:
        removed = given.pop("removed", None)
        done = work(work="remove", removed=removed, removed_hold="loose") if removed else work(cement_area_m2="0")
        text = answers(wall(done, **given))
    return {finding.code for finding in job(text).findings}


@pytest.mark.parametrize("code", TOGETHER)
def test_both_answers_together_are_told_and_one_put_right_is_not(code: str) -> None:
    scope, both, right = TOGETHER[code]
    assert code in codes(scope, both)
    if right:
        assert code not in codes(scope, {**both, **right})


def test_each_contradiction_holds_the_set_back_or_warns_in_words_that_name_two_answers() -> None:
    told = {code: entry for code, entry in shipped().findings.items() if code in TOGETHER}
    assert set(told) == set(TOGETHER)
    assert {code for code, entry in told.items() if entry.level != "block"} == {
        "cement-cause-without-cement",
        "scattered-over-all",
        "scattered-fills-hatch",
        "deep-less-than-lost",
        "laths-under-old-plaster",
        "earth-binder-in-late-brick",
        "dry-wall-that-leaks",
        "placed-area-apart",
        "openings-apart",
        "face-area-apart",
        "live-flues-in-empty-house",
    }


def test_laths_all_over_are_not_doubted_where_the_old_plaster_is_taken_down() -> None:
    coats = ("work", "plaster_coats", "plaster_surface", "lath_kind")
    ceiling = {name: each for name, each in LATHS.items() if name not in (*coats, "new_laths_m2")}
    laid = work("plaster", new_laths_m2="12", **{name: LATHS[name] for name in coats})

    def doubted(*works: str) -> bool:
        found = job(answers(wall(*works, **ceiling))).findings
        return "laths-under-old-plaster" in {finding.code for finding in found}

    assert doubted(laid)
    assert not doubted(work(work="remove", removed="lime-plaster", removed_hold="loose"), laid)
    assert doubted(work(work="remove", removed="textured-coating"), laid)


def test_a_wall_of_which_no_cause_is_named_or_whose_leaking_flue_nobody_sees_to_is_held_back() -> None:
    assert "cause-not-named" in codes("one", {"decay_causes": "[]"})
    assert "cause-not-named" not in codes("one", {})
    flue = {"decay_causes": "[flue]", "position": "chimney", "access": "scaffold", "height_m": None}
    assert "causes-not-arranged" in codes("one", {**flue, "causes_cured": "nobody"})
    assert "causes-not-arranged" not in codes("one", {**flue, "causes_cured": "done"})


def test_a_right_wall_raises_none_of_them() -> None:
    assert not {finding.code for finding in job(one_wall()).findings} & set(TOGETHER)
