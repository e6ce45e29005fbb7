"""One panel serves works that it shows: of a kind, in the same mixes and finish, on the same masonry."""

from __future__ import annotations

from answers_text import work
from timed_jobs import codes, keys, planned, scaffolded, told

from generator.document.outline import outline
from generator.job.job import Job
from generator.papers.companions import companions


def two(front: dict[str, str], back: dict[str, str]) -> Job:
    return planned(scaffolded(work(**front)), scaffolded(work(**back), id_="back", name="Back wall"))


def panel_of(found: Job) -> str:
    return found.facts.spoken(("back", "repoint"), "panel_of")


def test_walls_in_one_mix_and_finish_share_a_panel() -> None:
    found = two({}, {})
    assert panel_of(found) == "Front wall, repointing"
    assert found.facts.spoken(("M1",), "panels_nr") == "1 nr"


def test_a_wall_in_another_finish_has_a_panel_that_shows_it() -> None:
    found = two({"joint_finish": "slightly-recessed"}, {"joint_finish": "brushed-flush"})
    assert panel_of(found) == ""
    assert "back/repoint/panel-answer" in keys(found.programme)
    assert found.facts.spoken(("M1",), "panels_nr") == "2 nr"


def test_a_place_answered_for_a_panel_that_another_wall_has_is_told_as_not_used() -> None:
    found = two({}, {"panel_place": "ground"})
    assert "made from the access of the work" in told(found, "panel-place-not-used")
    assert not [key for key in keys(found.programme) if key.endswith("panel-pictures")]
    officer = outline(*companions(found, ["officer"]).values())
    assert "from ground or trestles" not in officer


def test_a_place_answered_alike_for_works_that_share_a_panel_is_used() -> None:
    found = two({"panel_place": "ground"}, {"panel_place": "ground"})
    assert "panel-place-not-used" not in codes(found)
    assert "front/repoint/panel-pictures" in keys(found.programme)


def test_no_access_is_said_to_stand_for_a_panel_that_is_made_elsewhere() -> None:
    found = two({"panel_place": "ground"}, {})
    assert panel_of(found)
    assert "panel-holds-access" not in codes(found)
