"""The mortar, or limewash, that each coat takes, reckoned by hand beside it."""

from __future__ import annotations

import pytest
from answers_text import answers, one_wall, wall, work
from jobs import job, shipped

from generator.measure.volumes import coat_l
from generator.values import Range

LIBRARY = shipped()
NOT_REPOINTING: dict[str, str | None] = dict.fromkeys(
    ("treated_per_cent", "treated_how", "joint_depth_lost_mm", "cement_area_m2", "joint_finish")
)
LATHS: dict[str, str | None] = {
    "masonry": "laths", "hardness": None, "water_drop": None, "unit_length_mm": None, "unit_width_mm": None,
    "unit_height_mm": None, "bond": None, "joint_width_mm": None, "position": "indoors", "exposure": "internal",
}  # fmt: skip


def litres(text: str, coat: str, work_id: str = "a") -> Range[float] | None:
    return coat_l(job(text).facts.at_scope(("front", work_id, coat)), LIBRARY)


def likely(text: str, coat: str) -> float:
    found = litres(text, coat)
    assert found is not None
    assert found.low <= found.likely <= found.high
    return found.likely


def done(kind: str, wall_changes: dict[str, str | None] | None = None, **changes: str | None) -> str:
    only = work("a", work=kind, **{**NOT_REPOINTING, **changes})
    return answers(wall(only, id_="front", **(wall_changes or {})))


def test_pointing_takes_the_treated_area_times_the_mortar_in_a_square_metre() -> None:
    made = job(one_wall())
    found = coat_l(made.facts.at_scope(("front", "repoint", "pointing")), LIBRARY)
    per_m2 = made.facts.get(("front", "repoint"), "mortar_l_per_m2")
    assert isinstance(per_m2, Range)
    assert found is not None
    assert found.likely == pytest.approx(6 * float(per_m2.likely), abs=6 * 0.05)  # half of 12 m2; the litres unrounded
    assert found.likely == pytest.approx(25.78, abs=0.005)  # share 0.17185 of 6 m2, 25 mm deep


def test_a_share_from_a_little_to_all_takes_from_a_little_to_all_of_the_mortar() -> None:
    found = litres(one_wall(treated_per_cent="5 - 100 (25)"), "pointing", "repoint")
    assert found is not None
    assert found.high / found.likely > 4 > 1 > found.low / found.likely < 0.25


def test_joints_lost_deeper_than_they_are_raked_take_more() -> None:
    shallow = one_wall(deep_voids_m2="2", joint_depth_lost_mm="10 - 25")
    deep = one_wall(deep_voids_m2="2", joint_depth_lost_mm="10 - 125")
    low, high = (litres(text, "pointing", "repoint") for text in (shallow, deep))
    assert low is not None
    assert high is not None
    # geometry: 2 m2, 100 mm beyond the 25 raked
    # the widest joint, 12 mm, is a fifth of the face
    assert high.high - low.high == pytest.approx(2 * 0.2 * 100, rel=0.01)
    assert high.low == low.low  # the least depth lost lies before the pointing
    assert low.likely < high.likely < high.high


def test_the_ribbon_of_tuck_pointing_is_the_joint_of_its_area_by_width_and_thickness() -> None:
    found = litres(one_wall(joint_finish="tuck"), "ribbon", "repoint")
    assert found is not None
    # stretchers of 215 by 65 with joints of 10: 1/0.075 + 0.065/(0.225 * 0.075) = 17.2 m a square metre, on 6 of them
    assert found.likely == pytest.approx(17.2 * 6 * 5 * 3 / 1000, rel=0.01)


def test_a_coat_of_plaster_is_its_area_times_its_thickness() -> None:
    text = done("plaster", plaster_coats="three", face_area_m2="10")
    made = job(text)
    thick = made.facts.get(("front", "a", "float"), "coat_mm")
    assert likely(text, "float") == pytest.approx(10 * float(str(thick)), rel=0.25)


def test_dubbing_goes_under_the_first_coat_alone() -> None:
    flat, hollow = (done("plaster", plaster_coats="three", dubbing_mm=deep) for deep in ("0", "10"))
    assert likely(hollow, "scratch") - likely(flat, "scratch") == pytest.approx(12 * 10)
    assert likely(hollow, "float") == likely(flat, "float")


def test_new_laths_are_counted_in_metres_and_nails_at_the_gap_chosen() -> None:
    made = job(done("plaster", LATHS, plaster_coats="three", new_laths_m2="10", lath_gap_mm="10"))
    # laths of 30 mm at a pitch of 40 are 25 m a m2; of 1200 mm on supports at 400, 20.8 a m2 with four nails each
    assert made.facts.get(("front", "a"), "new_lath_m") == 250
    assert made.facts.get(("front", "a"), "new_lath_nails_nr") == 834
    assert "laths-to-order" in {item.code for item in made.findings}


def test_where_all_laths_stay_none_are_counted() -> None:
    made = job(done("plaster", LATHS, plaster_coats="three", new_laths_m2="0"))
    assert made.facts.get(("front", "a"), "new_lath_m") is None
    assert "laths-to-order" not in {item.code for item in made.findings}


def test_stuff_behind_laths_is_added_to_the_first_coat_alone() -> None:
    text = done("plaster", LATHS, plaster_coats="three", new_laths_m2="0")
    made = job(text)
    first = made.facts.get(("front", "a", "pricking-up"), "coat_mm")
    assert likely(text, "pricking-up") > 12 * float(str(first))


def test_limewash_is_its_area_and_coats_over_what_a_litre_covers() -> None:
    text = done("limewash", old_coating="none", wash_coats_nr="4")
    row = LIBRARY.tables["wash-cover"].find(wall_class="soft")
    assert row is not None
    assert likely(text, "wash") == pytest.approx(12 * 4 / row.spread("m2_per_l").likely, rel=0.1)


def test_what_a_batch_covers_of_joints_along_their_length_is_told_in_metres() -> None:
    """60 m of ashlar joints 4 mm wide and 30 mm deep take 0.12 l a metre, and a tenth of it drops."""
    made = job(
        one_wall(masonry="ashlar", joint_width_mm="4", open_joint_m="60", joint_depth_lost_mm="30", face_area_m2=None)
    )
    (batch,) = made.measured.batches
    metres = float(batch.made.batch.makes_l) / (0.12 * 1.1)
    assert str(made.facts.get(batch.mix.path, "mix_covers")) == f"{metres:.0f} m"


def test_what_a_batch_of_limewash_covers_is_said_for_one_coat_whatever_the_coats() -> None:
    two, four = (job(done("limewash", old_coating="none", wash_coats_nr=count)) for count in ("2", "4"))
    litre = []
    for made in (two, four):
        (batch,) = made.measured.batches
        told = str(made.facts.get(batch.mix.path, "mix_covers"))
        assert told.endswith(" m² in one coat")
        litre.append(float(told.split(" ")[0]) / batch.made.batch.makes_l)
    assert litre[0] == pytest.approx(litre[1], rel=0.02)  # whole square metres


def test_flaunching_is_measured_on_plan_and_falls_from_the_pots_to_a_third_at_the_edge() -> None:
    # geometry: an even slope from full thickness to a third is two thirds of it in the mean
    text = done("flaunching", {"position": "chimney"}, flaunching_m2="2", pots_nr="1", face_area_m2=None)
    made = job(text)
    thick = made.facts.get(("front", "a", "flaunching"), "coat_mm")
    assert likely(text, "flaunching") == pytest.approx(
        2 * float(str(thick)) * 2 / 3 + 3 + 3 * 0.5
    )  # a pot, 3 l; three bricks


def test_rebuilding_twice_the_thickness_takes_twice_the_mortar() -> None:
    thin, thick = (done("rebuild", rebuild_what="whole", rebuild_thickness_mm=size) for size in ("215", "430"))
    assert likely(thick, "bedding") == pytest.approx(2 * likely(thin, "bedding"))


@pytest.mark.parametrize(
    ("text", "coat"),
    [
        (done("plaster", plaster_coats="three", face_area_m2=None), "float"),
        (done("limewash", old_coating="none", face_area_m2="not known"), "wash"),
        (done("rebuild", rebuild_what="whole"), "bedding"),
        (done("flaunching", {"position": "chimney"}, pots_nr="1", face_area_m2=None), "flaunching"),
        (done("repoint", {"joint_width_mm": "not known"}, treated_per_cent="50"), "pointing"),
    ],
)
def test_what_cannot_be_reckoned_is_none_and_never_nothing(text: str, coat: str) -> None:
    assert litres(text, coat) is None
