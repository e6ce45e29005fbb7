"""The choice of a binder: the table's order, what was asked for, the strength of the wall and the weather."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import pytest
from answers_text import one_wall
from small_library import job, small
from timed_jobs import NOT_POINTED, codes

from generator.decide.binder import recipes_for
from generator.job.job import Job
from generator.library.tables import TableRow

POINTING = ("front", "repoint", "pointing")
LIBRARY = small()
WEATHER = ("internal", "sheltered", "moderate", "severe", "very-severe")
CLASSES = ("soft", "medium", "hard", "dense")
PLACES = ("wall", "freestanding", "chimney", "parapet", "below-damp-course", "retaining", "marine")
ROUGH = ("brick", "rubble", "squared-rubble", "chalk")


def binder(made: Job) -> object:
    return made.facts.get(POINTING, "binder")


def rendered(kind: str, exposure: str, asked: str) -> str:
    """A hard wall with a render for which a binder was asked."""
    return one_wall(
        hardness="hard", water_drop="within-minutes", exposure=exposure, work="render", render_kind=kind,
        asked_binder=asked, mixing_place="off-site", **NOT_POINTED,
    )  # fmt: skip


def row(masonry: str, wall_class: str, exposure: str, position: str) -> TableRow:
    keys = {"masonry": masonry, "wall_class": wall_class, "exposure_reckoned": exposure, "position": position}
    found = LIBRARY.tables["binder-by-wall"].find(**keys)
    assert found is not None, keys
    return found


def strength(name: str) -> int:
    found = LIBRARY.tables["strength"].find(binder=name)
    assert found is not None, name
    return int(found.values["strength"])


def first(masonry: str, wall_class: str, exposure: str, position: str) -> int:
    """The strength of the binder that is taken where nothing was asked for."""
    return strength(row(masonry, wall_class, exposure, position).values["binders"][0])


class TestOrderOfStrength:
    # The gradient of US NPS Preservation Brief 2: harder weather and harder units, stronger mortar.

    def test_air_lime_is_weaker_than_gauged_and_nhl_2_then_nhl_3_5_then_nhl_5(self) -> None:
        ranks = {name: strength(name) for name in LIBRARY.names["binder"].choices}
        assert ranks["putty"] == ranks["hot-mix"]
        assert ranks["putty"] < ranks["putty-pozzolan"] == ranks["hot-mix-pozzolan"] == ranks["nhl-2"]
        assert ranks["nhl-2"] < ranks["nhl-3.5"] < ranks["nhl-5"]

    def test_harder_weather_never_picks_a_weaker_binder(self) -> None:
        places = itertools.product(ROUGH, CLASSES, PLACES)
        found = {(m, c, p): [first(m, c, exposure, p) for exposure in WEATHER] for m, c, p in places}
        assert {place: ranks for place, ranks in found.items() if ranks != sorted(ranks)} == {}

    def test_softer_units_never_pick_a_stronger_binder(self) -> None:
        places = itertools.product(ROUGH, WEATHER, PLACES)
        found = {(m, e, p): [first(m, wall_class, e, p) for wall_class in CLASSES] for m, e, p in places}
        assert {place: ranks for place, ranks in found.items() if ranks != sorted(ranks)} == {}

    def test_a_wetter_place_never_picks_a_weaker_binder_than_the_wall(self) -> None:
        weaker = []
        for masonry, wall_class, exposure, position in itertools.product(ROUGH, CLASSES, WEATHER, PLACES[1:]):
            at_place = LIBRARY.tables["exposure-reckoned"].find(exposure=exposure, position=position)
            assert at_place is not None
            there = first(masonry, wall_class, at_place.values["exposure_reckoned"], position)
            if there < first(masonry, wall_class, exposure, "wall"):
                weaker.append((masonry, wall_class, exposure, position))
        assert weaker == []

    @pytest.mark.parametrize("masonry", ["ashlar", "flint", "earth"])
    def test_the_exceptions_say_why_in_their_rows(self, masonry: str) -> None:
        for wall_class, exposure, position in itertools.product((*CLASSES, "earth"), WEATHER, PLACES):
            found = row(masonry, wall_class, exposure, position)
            assert found.because
            assert masonry in str(found.keys["masonry"])

    def test_ashlar_takes_fine_putty_whatever_the_weather_but_above_the_roof_in_the_splash_or_in_spray(
        self,
    ) -> None:
        for wall_class, exposure in itertools.product(CLASSES, WEATHER):
            assert row("ashlar", wall_class, exposure, "wall").values["binders"][0] == "putty"
            for position in ("chimney", "parapet", "below-damp-course", "marine"):
                assert row("ashlar", wall_class, exposure, position).values["binders"][0] != "putty"

    def test_earth_takes_no_lime_in_its_joints(self) -> None:
        for exposure, position in itertools.product(WEATHER, PLACES):
            found = row("earth", "earth", exposure, position).values
            assert not [*found["binders"], *found["with_reason"]]

    def test_flint_and_dense_units_start_at_nhl_3_5_in_severe_weather(self) -> None:
        for masonry, exposure in itertools.product(("flint", "rubble"), ("severe", "very-severe")):
            assert row(masonry, "dense", exposure, "wall").values["binders"][0] == "nhl-3.5"

    def test_nhl_5_needs_a_reason_on_flint_for_its_core_and_on_dense_units_short_of_the_hardest_weather(self) -> None:
        for masonry, exposure in (("flint", "severe"), ("flint", "very-severe"), ("rubble", "severe")):
            assert "nhl-5" in row(masonry, "dense", exposure, "wall").values["with_reason"]

    def test_no_binder_is_both_free_and_bound_to_a_reason_and_none_is_listed_twice(self) -> None:
        for found in LIBRARY.tables["binder-by-wall"].rows:
            listed = [*found.values["binders"], *found.values["with_reason"]]
            assert len(listed) == len(set(listed)), found.keys

    def test_nhl_5_is_never_the_first_and_is_free_of_a_reason_only_on_dense_units_that_stay_wet(self) -> None:
        for masonry, wall_class, exposure, position in itertools.product(
            (*ROUGH, "flint", "ashlar", "terracotta"), CLASSES, WEATHER, PLACES
        ):
            listed = row(masonry, wall_class, exposure, position).values["binders"]
            assert listed[0] != "nhl-5"
            if "nhl-5" in listed:
                assert masonry in ROUGH
                assert wall_class == "dense"
                assert exposure == "very-severe" or position != "wall"


class TestAskedFor:
    def test_nothing_asked_for_takes_the_first_of_the_table(self) -> None:
        assert binder(job(one_wall())) == "putty"

    def test_another_that_serves_is_taken_as_asked_without_a_finding(self) -> None:
        made = job(one_wall(asked_binder="putty-pozzolan"))
        assert binder(made) == "putty-pozzolan"
        assert not [code for code in codes(made) if code.startswith("asked")]
        reason = made.decisions.reasons[POINTING, "binder"]
        assert "asked binder: putty pozzolan" in reason.facts
        assert reason.because.startswith("because-asked-serves")

    def test_one_that_harms_is_refused_and_the_need_met_with_the_tables_first(self) -> None:
        made = job(one_wall(asked_binder="nhl-5"))
        assert binder(made) == "putty"
        refusal = next(item for item in made.findings if item.code == "asked-binder-refused")
        assert refusal.level == "refusal"
        assert "nhl 5" in refusal.message
        assert "nhl 5" not in refusal.instruction

    @pytest.mark.parametrize(
        ("wall", "asked", "said", "not_said"),
        [
            ({"hardness": "soft"}, "nhl-5", "their faces fail", "Plain air lime"),
            ({"hardness": "hard", "position": "parapet", "exposure": "severe"}, "putty", "frost", "stronger"),
            ({"hardness": "dense"}, "putty", "no set of its own", "stronger"),
            ({"hardness": "medium", "position": "retaining"}, "putty", "wash out", "stronger"),
            ({"masonry": "ashlar", "joint_width_mm": "2 - 3"}, "hot-mix", "lumps and grains", "stronger"),
        ],
    )
    def test_a_refusal_argues_against_what_was_asked_for(
        self, wall: dict[str, str], asked: str, said: str, not_said: str
    ) -> None:
        made = job(one_wall(**wall, asked_binder=asked))
        told = [item for item in made.findings if item.code in ("asked-binder-refused", "asked-binder-conditioned")]
        assert len(told) == 1
        for text in (told[0].message, told[0].instruction):
            assert said in text
            assert not_said not in text

    def test_cement_is_always_refused(self) -> None:
        made = job(one_wall(asked_binder="cement", asked_binder_reason="haste"))
        assert binder(made) == "putty"
        assert "asked-cement-refused" in codes(made)

    @pytest.mark.parametrize(
        ("reason", "taken", "code"),
        [
            ("analysis of the old mortar", "nhl-3.5", "asked-binder-with-reason"),
            (None, "putty", "asked-binder-conditioned"),
        ],
    )
    def test_one_that_needs_a_reason_is_taken_with_it_only(self, reason: str | None, taken: str, code: str) -> None:
        made = job(one_wall(asked_binder="nhl-3.5", asked_binder_reason=reason))
        assert binder(made) == taken
        assert code in codes(made)
        assert made.status == "tender"

    def test_one_taken_on_a_reason_is_not_said_to_serve(self) -> None:
        """What rests on a letter was not chosen by the table."""
        made = job(one_wall(asked_binder="nhl-3.5", asked_binder_reason="the consent names it"))
        assert made.decisions.reasons[POINTING, "binder"].because.startswith("because-asked-with-reason")

    @pytest.mark.parametrize(("taken", "weak"), [("putty-pozzolan", True), ("nhl-3.5", False)])
    def test_a_mix_is_called_weak_for_soft_units_only_where_it_is(self, taken: str, weak: bool) -> None:
        made = job(one_wall(exposure="severe", asked_binder=taken, asked_binder_reason="the consent names it"))
        assert binder(made) == taken
        assert ("soft-units-in-hard-weather" in codes(made)) == weak
        assert ("soft-units-under-a-stronger-lime" in codes(made)) != weak

    @pytest.mark.parametrize("exposure", ["sheltered", "severe"])
    def test_air_lime_in_a_coat_on_a_hard_wall_is_refused_for_its_want_of_suction(self, exposure: str) -> None:
        made = job(rendered("flat", exposure=exposure, asked="putty"))
        told = [item.instruction for item in made.findings if item.code == "asked-binder-refused"]
        assert told
        assert all("draws little water" in text and "frost" not in text for text in told)
        assert "render base" in told[0]  # the coat of which it is said

    def test_a_binder_that_one_coat_of_a_work_takes_is_not_refused_for_the_other(self) -> None:
        """It is asked for by work: nobody could ask it for the thrown coat alone."""
        made = job(rendered("roughcast", exposure="severe", asked="hot-mix"))
        coats = {coat: made.facts.get(("front", "repoint", coat), "binder") for coat in ("render-base", "harl-second")}
        assert coats == {"render-base": "nhl-3.5", "harl-second": "hot-mix"}
        assert "asked-binder-refused" not in codes(made)
        assert "asked-binder-in-another-coat" in codes(made)

    def test_a_reason_does_not_lift_a_refusal(self) -> None:
        made = job(one_wall(asked_binder="nhl-5", asked_binder_reason="the client's wish"))
        assert binder(made) == "putty"
        assert "asked-binder-refused" in codes(made)


class TestConsidered:
    def considered(self, made: Job) -> dict[str, str]:
        return {item.binder: item.why_not for item in made.decisions.considered if item.path == POINTING}

    def test_every_other_binder_is_considered_once_with_a_reason_in_the_librarys_words(self) -> None:
        made = job(one_wall())
        listed = [item.binder for item in made.decisions.considered if item.path == POINTING]
        assert sorted([*listed, "putty"]) == sorted(LIBRARY.names["binder"].choices)
        assert all(made.word(why) for why in self.considered(made).values())

    def test_why_not_tells_runner_up_reason_wanted_and_too_strong_apart(self) -> None:
        found = self.considered(job(one_wall()))
        assert found["nhl-2"] == "why-not-stronger"
        assert found["nhl-3.5"] == "why-not-needs-reason"
        assert found["nhl-5"] == "why-not-too-strong"

    def test_putty_on_a_hard_chimney_is_too_weak(self) -> None:
        made = job(one_wall(hardness="hard", position="chimney", flues="all-dead", access="scaffold"))
        assert self.considered(made)["putty"] == "why-not-too-weak"

    def test_quicklime_is_never_slaked_indoors_and_the_next_that_serves_is_taken(self) -> None:
        rubble = {"masonry": "rubble", "hardness": "medium", "joint_width_mm": "15 - 30 (20)"}
        outside, inside = (job(one_wall(mixing_place=place, **rubble)) for place in ("open-yard", "indoors"))
        assert binder(outside) == "hot-mix"
        assert binder(inside) not in ("hot-mix", "hot-mix-pozzolan")
        assert self.considered(inside)["hot-mix"] == "why-not-slaking-indoors"

    def test_quicklime_asked_for_indoors_is_refused(self) -> None:
        made = job(one_wall(mixing_place="indoors", asked_binder="hot-mix"))
        assert binder(made) == "putty"
        refusal = next(item for item in made.findings if item.code == "asked-binder-refused")
        assert "why-not-slaking-indoors" in refusal.message

    @pytest.mark.parametrize("people", [{"lived_in": "yes"}, {"public_near": "yes"}, {"lived_in": "not known"}])
    def test_quicklime_is_not_slaked_among_people_where_another_lime_serves(self, people: dict[str, str]) -> None:
        rubble = {"masonry": "rubble", "hardness": "medium", "joint_width_mm": "15 - 30 (20)"}
        assert binder(job(one_wall(mixing_place="open-yard", **rubble))) == "hot-mix"
        made = job(one_wall(mixing_place="open-yard", **rubble, **people))
        assert binder(made) == "nhl-2"
        assert "because-least-hazardous" in made.decisions.reasons[POINTING, "binder"].because
        assert self.considered(made)["hot-mix"] == "why-not-slaked-among-people"
        assert binder(job(one_wall(mixing_place="off-site", **rubble, **people))) == "hot-mix"
        assert binder(job(one_wall(mixing_place="open-yard", asked_binder="hot-mix", **rubble, **people))) == "hot-mix"


class TestRecipe:
    def rows(self) -> Iterator[tuple[str, str]]:
        for found in LIBRARY.tables["binder-by-wall"].rows:
            for name in (*found.values["binders"], *found.values["with_reason"]):
                masonry = found.keys["masonry"]
                for each in masonry if isinstance(masonry, list | tuple) else [masonry]:
                    yield each, name

    def test_the_recipe_that_names_the_place_is_taken_before_the_general_one(self) -> None:
        made = job(one_wall())
        found = recipes_for(made.facts.at_scope(POINTING), LIBRARY)("putty")
        assert found is not None
        assert found.binder == "putty"
        assert any(serves.startswith("repoint:brick") for serves in found.serves)

    def test_a_binder_without_a_recipe_there_gives_none(self) -> None:
        assert recipes_for(job(one_wall()).facts.at_scope(POINTING), LIBRARY)("no-such-binder") is None

    def test_every_first_binder_of_the_table_has_a_recipe_on_its_masonry(self) -> None:
        served = {
            (serves.split(":")[1], recipe.binder)
            for recipe in LIBRARY.recipes.values()
            for serves in recipe.serves
            if serves.split(":")[0] in ("repoint", "any")
        }
        for masonry, name in self.rows():
            if masonry != "any":
                assert {(masonry, name), ("any", name)} & served, (masonry, name)


def test_reasons_name_the_rule_the_row_its_sources_and_the_answers_it_rests_on() -> None:
    reason = job(one_wall()).decisions.reasons[POINTING, "binder"]
    assert reason.rule == "binder"
    assert reason.because == row("brick", "soft", "moderate", "wall").because
    assert set(reason.sources) <= set(LIBRARY.sources)
    assert reason.confidence
    assert "masonry: brick" in reason.facts
