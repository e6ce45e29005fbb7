"""Every clause of the shipped library has its cost in one place, over the library and in jobs nobody thought of."""

from __future__ import annotations

import os
import re
from decimal import Decimal
from typing import Any, Final

import pytest
import random_answers
from answers_text import WORK, answers, one_wall, wall, work
from helpers import slow_but
from jobs import EXAMPLES, example, job, shipped

from generator.document.model import plain_text
from generator.job.duties import MEASURED, Payers, misplaced
from generator.job.job import Job
from generator.library.cost_places import OPEN, PLACES
from generator.library.costs import in_all_rates, place_of
from generator.papers.schedule import description
from generator.papers.steps import all_steps
from generator.questionnaire.questions import Question
from generator.values import replace

JOBS: Final = int(os.environ.get("JOBS", "40"))
LIBRARY = shipped()
NOT_REPOINTING: dict[str, str | None] = dict.fromkeys(set(WORK) - {"work", "extent", "face_area_m2", "quantity_sure"})


def faults(made: Job) -> list[tuple[str, str]]:
    told = misplaced(made.duties, Payers(made.library, made.decisions, made.measured.items()))
    return [(one.code, dict(one.fills).get("name") or dict(one.fills)["item"]) for one in told]


def rules(made: Job) -> set[str]:
    return {item.entry.id for item in made.measured.items()}


def payers(made: Job, key: str) -> set[str]:
    """The rules of the lines that pay for a clause of a job."""
    return {item.entry.id for item in made.duties[key].lines}


def indoors(kind: str, lead: str | None = None, **more: str) -> str:
    """A room in which one work is done, with what is known of lead in its paint."""
    done = work(kind, **{**NOT_REPOINTING, "work": kind, **more})
    return answers(wall(done, position="indoors", exposure="internal", lead_paint=lead))


# --- the library ------------------------------------------------------------------------------------------


def test_every_clause_has_one_place_for_its_cost_and_none_is_open() -> None:
    assert {place_of(clause) for clause in LIBRARY.clauses.values()} == {*PLACES, "information"}
    assert [key for key, clause in LIBRARY.clauses.items() if place_of(clause) == OPEN] == []


def test_every_line_pays_for_a_clause() -> None:
    assert [key for key in LIBRARY.items if not LIBRARY.duties[key]] == []


def test_every_sum_is_set_by_an_answer() -> None:
    sums = {key: item.quantity for key, item in LIBRARY.items.items() if item.kind == "sum"}
    assert {key: name for key, name in sums.items() if name not in LIBRARY.questionnaire.questions} == {}


def test_a_line_that_goes_on_to_what_its_rate_includes_ends_its_first_sentence() -> None:
    assert [key for key, item in LIBRARY.items.items() if item.includes and not item.description.endswith(".")] == []


def test_each_rate_alone_has_a_notional_quantity_but_for_options_which_no_tender_is_compared_by() -> None:
    alone = {key: item for key, item in LIBRARY.items.items() if item.kind == "rate only"}
    assert [key for key, item in alone.items() if (item.notional is None) != (item.group == "optional")] == []
    assert [key for key, item in LIBRARY.items.items() if item.notional and key not in alone] == []


def test_further_weeks_are_paid_where_the_client_causes_them_and_not_where_the_contractor_does() -> None:
    weeks = [item for item in LIBRARY.items.values() if item.kind == "rate only" and "urther week" in item.description]
    assert [item.id for item in weeks if item.group != "optional" and "the client causes" not in item.description] == []


def test_no_sum_is_called_defined_of_which_nobody_can_say_how_much_of_what_it_is() -> None:
    sums = {key: item for key, item in LIBRARY.items.items() if key.startswith("sums.") and key != "sums.contingency"}
    assert [key for key, item in sums.items() if "undefined" not in item.description] == []
    for item in sums.values():
        assert not item.includes


SMALL: Final = re.findall(
    "[a-z]+",
    "a an the of to and or in on at by for with as from where what that each it its is are all not no this these"
    " before after until up off out be kept keep keeping new old them away take taking access supply",
)
"""Words that name no duty: those of grammar, and what any trade does."""


def stems(text: str) -> set[str]:
    """The words of a text, so far cut down that `roping` and `ropes` are `rope`."""
    words = (word for word in re.findall(r"[a-z]{3,}", text.lower()) if word not in SMALL)
    return {re.sub(r"(ing|ed|es|(?<!s)s|e)$", "", word)[:5] for word in words}


def asked(key: str) -> set[str]:
    """What a clause asks for, in its own words and in those of clauses that it says to do it as."""
    clause = LIBRARY.clauses[key]
    named = re.findall(r"clause:([a-z.-]+)", str(clause.text))
    texts = [clause, *(LIBRARY.clauses[other] for other in named)]
    return stems(" ".join(f"{one.title} {one.text} {one.check or ''}" for one in texts))


def test_what_a_line_includes_is_asked_by_a_clause_that_it_pays_for_where_any_clause_asks_it() -> None:
    asks = {key: asked(key) for key in LIBRARY.clauses}
    in_rates = {key for key, clause in LIBRARY.clauses.items() if in_all_rates(clause)}
    elsewhere = []
    for key, item in LIBRARY.items.items():
        paid = {*LIBRARY.duties[key], *(in_rates if item.group == "element" else ())}
        for phrase in filter(None, re.split("[,;]", item.includes.rstrip("."))):
            words = stems(phrase)
            if words and not any(words & asks[duty] for duty in paid):
                elsewhere += [(key, phrase.strip()) for _ in [duty for duty in asks if words <= asks[duty]][:1]]
    assert elsewhere == []


ONE_LINE: Final = {
    "temporary gutters": {"prelims.rainwater"},
    "sheeting off|lapped sheets": {"prelims.protection-indoors"},
    "last look": {"prelims.protection-indoors"},
    "dust control|masks": {"prelims.set-up"},
    "screens": {"prelims.lead", "prelims.lead-until-report", "rates.lead"},
    "roping|rope": {"flaunching.pots"},
    "boxes and drops": {"prelims.circuits"},
    "number": {"rebuild.take-down-whole", "rebuild.take-down-facing"},
}
"""Duties of which each has a line: no other says that it includes them."""


def test_a_duty_that_has_a_line_is_told_by_no_other() -> None:
    says = {key: f"{item.description} {item.includes}".lower() for key, item in LIBRARY.items.items()}
    told = {words: {key for key, text in says.items() if re.search(rf"\b({words})\b", text)} for words in ONE_LINE}
    assert {words: keys - ONE_LINE[words] for words, keys in told.items() if keys - ONE_LINE[words]} == {}
    assert [words for words, keys in told.items() if not keys] == []


# --- jobs -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", [path.parent.name for path in EXAMPLES])
def test_in_each_example_every_duty_has_a_line_none_has_two_and_no_line_stands_without_one(name: str) -> None:
    assert faults(example(name)) == []


def answered(monkeypatch: pytest.MonkeyPatch) -> None:
    """Random answers leave nothing out that keeps a set a draft: lines may hang on what is."""
    made = random_answers._value

    def value(question: Question, *of: object) -> Any:
        known = replace(question, not_known=False) if question.unknown_is == "block" else question
        return made(known, *of)

    monkeypatch.setattr(random_answers, "LIKELY", 1.0)
    monkeypatch.setattr(random_answers, "_value", value)


HELD_BACK: Final = {"joints-on-laths", "work-on-boards", "coats-on-boards", "gauged-rebuilding", "sound-plaster-stays"}


@pytest.mark.parametrize("seed", slow_but(10, range(JOBS)))
def test_in_a_random_job_every_duty_has_a_line_none_has_two_and_no_line_stands_without_one(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    answered(monkeypatch)
    made = job(random_answers.random_answers(seed))
    if HELD_BACK & {finding.code for finding in made.findings}:
        return  # what contradicts itself, or is not specified here, is held back by its own words
    if any(section.key == "element" for section in made.measured.sections):  # an enabling work may have no task
        assert faults(made) == []


# --- what was required and priced nowhere, or twice -------------------------------------------------------


def test_the_test_of_flues_is_a_sum_of_its_own() -> None:
    made = job(one_wall(decay_causes="[flue]", causes_cured="in-this-work", flue_test_sum="900", flue_cure_sum="4000"))
    (test,) = made.duties["causes.flue-test"].lines
    assert (test.entry.id, test.amount) == ("sums.flue-test", Decimal(900))
    assert payers(made, "causes.flue") == {"sums.causes-flue"}


def test_laboratory_test_and_precautions_until_its_report_are_lines() -> None:
    made = job(indoors("limewash", "not-tested"))
    assert payers(made, "safety.lead-not-tested") == {"prelims.lead-test"}
    assert payers(made, "safety.lead-found") == {"prelims.lead-until-report", "rates.lead"}


def test_lead_that_was_found_is_paid_by_one_line_and_not_by_the_rate_for_taking_paint_off_as_well() -> None:
    made = job(indoors("remove", "found", removed="film-paint"))
    assert payers(made, "safety.lead-found") == {"prelims.lead"}
    assert "lead" not in LIBRARY.items["remove.film-paint"].includes


def test_security_is_a_line() -> None:
    assert payers(job(one_wall(access="scaffold")), "site.security") == {"prelims.security"}
    assert payers(job(one_wall()), "site.security-rooms") == {"prelims.security"}


def test_what_coats_leave_behind_is_a_line_of_its_own_and_stands_only_where_there_are_coats() -> None:
    made = job(indoors("plaster", plaster_coats="two"))
    assert payers(made, "completion.left-coats") == {"prelims.left-coats"}
    description = LIBRARY.items["prelims.left-coats"].description
    assert "recipes of this work, and what else its clauses name" in description
    for left in ("pigment", "hair", "laths", "profiles"):  # not left on every job that the line stands in
        assert left not in description
    for left in ("recipes", "pigment", "hair", "laths", "profiles"):
        assert left not in LIBRARY.items["prelims.records"].includes
    assert "prelims.left-coats" not in rules(job(one_wall()))


def stack(**more: str | None) -> Job:
    """A chimney with a live flue, reached by a stage on its roof, whose top is renewed."""
    top = work("flaunching", **{**NOT_REPOINTING, "work": "flaunching", "flaunching_m2": "1", "pots_nr": "2"})
    asked = {"position": "chimney", "access": "roof-scaffold", "flues": "some-live", **more}
    return job(answers(wall(work(), top, id_="front", **asked)))


def test_what_a_stack_asks_beyond_its_masonry_has_a_line_for_each() -> None:
    made = stack()
    asked = ("safety.co-alarms", "safety.flues", "site.roof-stage", "site.roof-bearings", "flaunching.dead-flues")
    assert {key: payers(made, key) for key in asked} == {
        "safety.co-alarms": {"prelims.co-alarms-uncounted"},
        "safety.flues": {"sums.flues"},
        "site.roof-stage": {"prelims.access", "prelims.access-weeks", "rates.access-week"},
        "site.roof-bearings": {"rates.roof-bearings"},
        "flaunching.dead-flues": {"rates.flue-cap"},
    }
    assert "alarm" not in str(LIBRARY.clauses["safety.flues"].text)
    assert [key for key in ("flaunching.renew", "flaunching.pots") if "capping" in LIBRARY.items[key].includes] == []


def test_what_lies_in_the_way_is_moved_under_a_line_where_it_is_named_and_at_a_rate_where_it_is_found() -> None:
    named, found = job(one_wall(services_hidden="a cable on clips")), job(one_wall(services_hidden="not known"))
    assert payers(named, "site.services-in-way") == {"prelims.services-moved", "rates.services-moved"}
    assert payers(found, "site.services-in-way") == {"rates.services-moved"}


def test_where_nobody_found_any_in_the_way_or_a_room_has_its_electrician_no_line_moves_them() -> None:
    """Of each text that says there is none, and of circuits behind coats, which a line of their own brings out."""
    said = LIBRARY.questionnaire.questions["services_hidden"].nothing
    for words in (*said, "None seen.", "NONE"):
        made = job(one_wall(services_hidden=words))
        assert payers(made, "site.services-in-way") == {"rates.services-moved"}, words
    switches = example("winter-plaster")
    assert payers(switches, "site.services-in-way-indoors") == {"rates.services-moved"}
    assert payers(switches, "safety.circuits") == {"prelims.circuits"}
    assert "brings boxes and drops to a new face" in LIBRARY.clauses["safety.circuits"].text


def test_a_line_that_stands_because_a_text_is_known_stands_for_no_text_that_says_there_is_none() -> None:
    texts = {name: asked for name, asked in LIBRARY.questionnaire.questions.items() if asked.kind == "text"}
    known = {(key, name) for key, item in LIBRARY.items.items() for name in texts if f"known({name})" in item.when}
    assert known == {(key, "services_hidden") for key in ("prelims.services-moved", "prelims.earthing")}
    for key, name in known:
        assert texts[name].nothing
        assert f"{name} != '{texts[name].nothing[0]}'" in LIBRARY.items[key].when


def test_a_pot_is_roped_and_lifted_under_its_own_number_and_flaunching_without_pots_by_nobody() -> None:
    made = stack()
    asked = ("flaunching.pots", "safety.pots", "flaunching.taking-off")
    assert {key: payers(made, key) - {"rates.pot"} for key in asked} == {
        "flaunching.pots": {"flaunching.pots"},
        "safety.pots": {"flaunching.pots"},
        "flaunching.taking-off": {"flaunching.renew"},
    }
    assert "rope" in LIBRARY.clauses["flaunching.pots"].text
    assert "rope" not in LIBRARY.clauses["flaunching.taking-off"].text


@pytest.mark.parametrize("name", [path.parent.name for path in EXAMPLES])
def test_what_a_mix_asks_is_paid_by_lines_that_take_that_mix(name: str) -> None:
    made = example(name)
    mixed = [duty for duty in made.duties.values() if duty.clause.per == "mix" and duty.everywhere]
    assert mixed
    for duty in mixed:
        taken = {path[0] for path in duty.paths}
        assert [item.ref for item in duty.lines if not taken & set(item.mix.split(", "))] == [], duty.clause.id
        taking = [
            item for item in made.measured.items() if item.section == MEASURED and taken & set(item.mix.split(", "))
        ]
        assert [item.ref for item in taking if item not in duty.lines] == [], duty.clause.id


@pytest.mark.parametrize("name", [path.parent.name for path in EXAMPLES])
def test_mixing_and_its_sand_are_in_the_rates_of_lines_that_take_a_mix_and_of_no_other(name: str) -> None:
    made = example(name)
    of_mortar = [
        duty for key, duty in made.duties.items()
        if (duty.place == "rate" and key.startswith("mortars.")) or key == "materials.sand-blend"
    ]  # fmt: skip
    assert len(of_mortar) > 4
    assert {duty.clause.id: item.ref for duty in of_mortar for item in duty.lines if not item.mix} == {}


def test_old_wash_is_paid_where_it_is_and_salty_plaster_where_it_is_taken_off() -> None:
    made = example("mill-house")
    assert payers(made, "limewash.old-limewash") == {"limewash.coats"}
    assert payers(made, "removal.salty") == {"remove.lime-plaster-walls"}


def test_nothing_is_asked_or_priced_of_what_a_job_does_not_have() -> None:
    """Four bare walls of a room, above a dado, from a tower: no old edge, no lift on a street, nothing above a roof."""
    made = example("winter-plaster")
    absent = {"plaster.junctions", "plaster.patches", "site.security", "completion.defects-high", "removal.salty"}
    assert absent & set(made.duties) == set()
    assert "rates.plaster-patch" not in rules(made)
    assert absent <= set(example("mill-house").duties)


def test_a_further_panel_has_a_rate_for_each_mix_of_joints_and_each_work_of_coats() -> None:
    made = example("mill-house")
    further = [item for item in made.measured.items() if item.entry.id.startswith("rates.panel")]
    first = [item for item in made.measured.items() if item.entry.id.startswith("prelims.panel")]
    assert sorted(item.path for item in further) == sorted(item.path for item in first)


def test_fillings_of_old_plaster_are_off_a_card_where_the_job_has_one_and_told_whole_where_it_has_none() -> None:
    told = {key for key in example("mill-house").duties if key.startswith("refix.filling")}
    alone = {key for key in job(indoors("refix")).duties if key.startswith("refix.filling")}
    assert (told, alone) == ({"refix.filling-by-card"}, {"refix.filling-stuff"})


def test_temporary_gutters_are_a_line_where_there_is_an_outside_and_none_indoors() -> None:
    assert payers(job(one_wall()), "site.rainwater") == {"prelims.rainwater"}
    assert "prelims.rainwater" not in rules(job(indoors("plaster", plaster_coats="two")))


def test_a_hole_of_the_scaffold_is_filled_under_one_line() -> None:
    told = [
        key
        for key, item in LIBRARY.items.items()
        if "filling of holes" in item.includes or "joints that were used" in item.includes
    ]
    assert told == ["prelims.access", "prelims.access-shared"]  # never both


def test_making_hot_mix_is_in_the_rates_of_the_work_it_goes_into_and_setting_up_for_it_is_an_item() -> None:
    made = job(one_wall(asked_binder="hot-mix", masonry="rubble"))
    assert payers(made, "safety.slaking") == {"prelims.quicklime"}
    taking = {item.entry.id for item in made.measured.items() if item.section == "element" and item.mix}
    assert payers(made, "mortars.hot-mix") == taking == {"repoint.stone"}


def ceiling(access: str) -> Job:
    overhead = work("plaster", **{**NOT_REPOINTING, "work": "plaster", "plaster_coats": "three"})
    room = {"position": "indoors", "exposure": "internal", "masonry": "laths", "overhead": "yes"}
    return job(answers(wall(overhead, access=access, **room)))


@pytest.mark.parametrize("access", ["tower", "scaffold", "deck"])
def test_a_ceiling_is_priced_from_the_full_deck_that_its_clauses_ask_for(access: str) -> None:
    made = ceiling(access)
    assert payers(made, "safety.overhead") & {"prelims.access-tower", "prelims.access-indoors"} == set()
    assert payers(made, "site.tower-indoors") == {"prelims.access-deck", "prelims.access-weeks", "rates.access-week"}
    told = "ceiling-without-deck" in {finding.code for finding in made.findings}
    assert told == (access != "deck")
    (line,) = [item for item in made.measured.items() if item.entry.id == "prelims.access-deck"]
    assert "above the floor" in line.entry.description


def test_a_room_has_its_platform_back_for_its_tapping_under_a_line_or_keeps_it_where_agreed() -> None:
    made = ceiling("deck")
    assert payers(made, "plaster.tapped-from") == {"prelims.access-return"}
    (line,) = [item for item in made.measured.items() if item.entry.id == "prelims.access-return"]
    assert "or leave the first where agreed" in line.entry.description
    assert (
        "leave the access up where agreed, or bring back a platform" in made.library.clauses["plaster.tapped-from"].text
    )


def test_the_visit_in_spring_is_a_line() -> None:
    assert payers(job(one_wall()), "completion.defects") == {"prelims.defects"}


def test_an_electrician_is_a_line_and_in_no_rate() -> None:
    made = job(indoors("plaster", plaster_coats="two"))
    assert payers(made, "safety.circuits") == {"prelims.circuits"}
    scaffold = job(one_wall(access="scaffold", access_weeks="4", height_m="12"))
    assert payers(scaffold, "site.earthing") == {"prelims.earthing"}
    assert [key for key, item in LIBRARY.items.items() if "cables" in item.includes] == []


@pytest.mark.parametrize(
    ("services", "answered"), [("a telephone cable", None), ("a telephone cable", "not known"), (None, None)]
)
def test_where_nobody_says_whether_a_lightning_conductor_runs_there_one_is_looked_for_and_the_scaffold_bonded(
    services: str | None, answered: str | None
) -> None:
    open_ = {"access": "scaffold", "height_m": "6", "lightning_conductor": answered}
    made = job(answers(wall(id_="front", **open_), services_hidden=services))
    assert {"site.conductor-looked-for", "site.conductor-found", "site.earthing"} <= made.duties.keys()
    (bonded,) = [item for item in made.measured.items() if item.entry.id == "prelims.earthing"]
    assert bonded.kind == "provisional"
    told = [step.entry.id for step in all_steps(made, ("front",))]
    assert told.index("wall.conductor-looked-for") < min(told.index("wall.access"), told.index("repoint.panel"))
    for known in ("yes", "no"):
        settled = job(
            answers(wall(id_="front", **open_ | {"lightning_conductor": known}), services_hidden="a telephone cable")
        )
        assert not {"site.conductor-looked-for", "site.conductor-found"} & settled.duties.keys()


@pytest.mark.parametrize(
    ("liners", "sum_"), [("none", "sums.flues-unlined"), ("all", "sums.flues"), (None, "sums.flues")]
)
def test_liners_are_freed_where_there_are_any_and_looked_for_where_nobody_knows(liners: str | None, sum_: str) -> None:
    made = stack(flue_liners=liners)
    freed, asked = liners != "none", liners is None
    assert ("flaunching.liners" in made.duties) == freed
    assert ("safety.liners-not-known" in made.duties) == asked
    assert payers(made, "safety.flues") == {sum_}
    assert faults(made) == []
    told = {step.entry.id for step in all_steps(made, ("front",))}
    assert ({"flaunching.liners-freed", "flaunching.liners-back"} <= told) == freed
    assert ("wall.liners-not-known" in told) == asked
    tasks = {task.entry for task in made.programme.tasks()}
    assert ({"liners-freed", "liners-hung"} <= tasks) == freed
    assert ("live-flues-unlined" in {found.code for found in made.findings}) == (liners == "none")


def test_a_scaffold_beside_a_lightning_conductor_is_bonded_at_any_height() -> None:
    low = {"access": "scaffold", "access_weeks": "4", "height_m": "6", "services_hidden": "a lightning conductor"}
    beside = job(one_wall(**low, lightning_conductor="yes"))
    assert payers(beside, "site.earthing") == {"prelims.earthing"}
    assert "site.earthing" not in job(one_wall(**low, lightning_conductor="no")).duties


def test_free_edges_of_render_are_in_its_rate_and_paid_by_nothing_else() -> None:
    made = job(answers(wall(work("render", **{**NOT_REPOINTING, "work": "render", "render_kind": "flat"}))))
    assert payers(made, "render.edges") == {"render.flat"}
    told = [
        key for key, item in LIBRARY.items.items() if "edge" in item.description and key.startswith(("render", "rates"))
    ]
    assert told == []


def test_waste_is_in_the_rates_and_not_in_the_preliminaries_too() -> None:
    made = job(one_wall())
    assert {item.entry.group for item in made.duties["environment.waste"].lines} == {"element"}
    assert "waste" not in LIBRARY.items["prelims.set-up"].includes


def test_the_rate_for_repointing_holds_what_the_sheet_requires_but_for_what_has_a_line_of_its_own() -> None:
    made = job(one_wall(deep_voids_m2="3", loose_units_nr="5"))
    assert payers(made, "pointing.deep") == {"repoint.deep-brick", "rates.deep-brick"}
    assert payers(made, "pointing.resetting") == {"repoint.loose-units"}
    assert payers(made, "raking-out.depth") == payers(made, "pointing.layers") == {"repoint.brick"}
    assert "but not what has a line of its own" in LIBRARY.clauses["tendering.pricing"].text


def test_deep_joints_and_loose_units_have_a_rate_where_nobody_counted_them() -> None:
    made = job(one_wall(deep_voids_m2="not known", loose_units_nr="0"))
    assert payers(made, "pointing.deep") == {"rates.deep-brick"}
    assert payers(made, "pointing.resetting") == {"rates.loose-unit"}


GUTTERS = {
    "work": "enabling",
    "enabling_tasks": "[gutters]",
    "gutter_m": "26",
    "face_area_m2": None,
    "quantity_sure": None,
}


@pytest.mark.parametrize(
    ("mended", "renewed", "rates"),
    [
        ("4", "2", set()),
        ("4", "0", {"rates.gutters-renewed"}),
        ("0", None, {"rates.gutters-mended", "rates.gutters-renewed"}),
    ],
)
def test_gutters_are_priced_by_what_is_done_to_them(mended: str, renewed: str | None, rates: set[str]) -> None:
    gutters = work("gutters", **{**NOT_REPOINTING, **GUTTERS, "gutter_mended_m": mended, "gutter_renewed_m": renewed})
    made = job(answers(wall(work("repoint"), gutters)))
    clean, *more = (item for item in made.measured.items() if item.entry.id.startswith("enabling.gutters"))
    assert (clean.quantity, {item.entry.id for item in made.measured.items() if "rates.gutters" in item.entry.id}) == (
        Decimal(26), rates,
    )  # fmt: skip
    assert [item.quantity for item in more] == [
        Decimal(length) for length in (mended, renewed) if length not in ("0", None)
    ]
    assert faults(made) == []


def test_who_prices_cleaning_down_reads_it_in_the_line_that_pays_for_it() -> None:
    (paying,) = payers(example("mill-house"), "completion.cleaning-down")
    assert "Brushing off old faces before access goes" in LIBRARY.items[paying].description


def test_a_patch_in_coats_is_priced_with_the_mixes_of_its_walls_coats() -> None:
    made = example("mill-house")
    mixes = {item.path[0]: item.mix for item in made.measured.items() if item.entry.id == "rates.plaster-patch"}
    assert mixes == {"dining-room": "M8, M9", "chamber-ceiling": "M10, M11, M9"}


# --- what somebody is to do and no line named --------------------------------------------------------------


def test_damping_from_a_scaffold_is_priced_for_the_two_that_the_clause_asks() -> None:
    assert "takes two together" in str(LIBRARY.clauses["curing.named-person"].text)
    for key in ("repoint.curing", "plaster.curing-indoors"):
        assert "two together" in LIBRARY.items[key].includes


def test_old_paint_on_gutters_is_worked_as_holding_lead_in_the_rates_that_mend_them() -> None:
    assert "as holding lead" in str(LIBRARY.clauses["enabling.gutters-mended"].text)
    for key in ("enabling.gutters-mended", "enabling.gutters-renewed"):
        assert "as holding lead" in LIBRARY.items[key].includes
    for key in ("rates.gutters-mended", "rates.gutters-renewed"):
        assert "as holding lead" in LIBRARY.items[key].description


def test_loose_stones_under_a_render_are_paid_by_number_and_in_no_rate_by_the_metre() -> None:
    made = job(one_wall(**{**NOT_REPOINTING, "work": "render", "render_kind": "flat", "masonry": "rubble"}))
    assert payers(made, "render.loose-stones") == {"rates.render-loose-stone"}
    assert [key for key, item in LIBRARY.items.items() if "loose stones" in item.includes] == []


def test_deep_joints_found_under_coats_have_a_rate_by_band_in_the_mix_of_the_first_coat() -> None:
    on_rubble: dict[str, str | None] = {**NOT_REPOINTING, "masonry": "rubble"}
    for kind, more in (("render", {"render_kind": "harl"}), ("plaster", {"plaster_coats": "three"})):
        made = job(one_wall(**{**on_rubble, "work": kind, **more}))
        assert payers(made, f"{kind}.deep-joints") == {"rates.deep-under-coats"}
        (line,) = (item for item in made.measured.items() if item.entry.id == "rates.deep-under-coats")
        assert line.kind == "rate only"
        assert line.mix != ""
        assert "each further 50 mm of depth, or part of it, beyond the first 50 mm" in plain_text(
            description(made, line)
        )


def test_deep_joints_under_coats_have_no_rate_on_laths_in_brick_indoors_or_under_a_finish_alone() -> None:
    made = example("mill-house")
    priced = {item.path[0] for item in made.measured.items() if item.entry.id == "rates.deep-under-coats"}
    assert priced == {"rear"}
    finish = job(one_wall(**{**NOT_REPOINTING, "work": "plaster", "plaster_coats": "finish"}))
    assert "rates.deep-under-coats" not in rules(finish)


def test_a_fitter_frees_and_hangs_liners_again_under_the_sum_where_flaunching_is_renewed() -> None:
    made = stack()
    assert payers(made, "flaunching.liners") == {"sums.flues"}
    assert "hang them again" in LIBRARY.items["sums.flues"].description


def test_no_liner_is_priced_where_no_flaunching_is_renewed() -> None:
    """Pots and liners of a stack that is only pointed stay as they are."""
    made = example("toll-house")
    assert payers(made, "safety.flues") == {"sums.flues-kept"}
    assert "liner" not in LIBRARY.items["sums.flues-kept"].description
    assert payers(stack(), "safety.flues") == {"sums.flues"}


def test_what_holds_old_plaster_beside_what_is_taken_off_is_in_the_rate_and_no_screw_is_asked_in_masonry() -> None:
    assert "padded boards" in LIBRARY.items["remove.lime-plaster-walls"].includes
    assert "screws" in LIBRARY.items["remove.lime-plaster-partitions"].includes


def test_open_joints_are_kept_from_rain_and_frost_until_filled_and_its_line_pays_for_that() -> None:
    made = example("garden-front")
    clause = made.library.clauses["curing.rain"]
    assert "Cover open joints" in clause.text
    assert "in rain, in frost and each evening" in clause.text
    assert made.in_papers("curing.rain")
    assert payers(made, "curing.rain") == {"repoint.curing"}
