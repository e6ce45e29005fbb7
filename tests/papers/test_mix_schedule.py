"""The mix page of a job: a card for every mix that can be mixed from with no other paper in hand."""

from __future__ import annotations

import re
from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

import pytest
from answers_text import answers, one_wall, wall, work
from jobs import EXAMPLES, example, job

from generator.document.card import Card, MixPage
from generator.document.model import Inlines, plain_text
from generator.drawing.measures import SIGNS
from generator.job.job import Job
from generator.lime.gauging import Counted, Measure
from generator.measure.measure import boxes, panel_boxes
from generator.measure.outputs import Outputs
from generator.measure.placing import works_of
from generator.papers.mix_schedule import mix_schedule
from generator.render.word.mix_layout import fitted, parted
from generator.values import replace

HOT = wall(
    id_="hot", name="Hot", masonry="rubble", hardness="medium", joint_width_mm="15 - 40 (25)", bond=None,
    unit_length_mm=None, unit_width_mm=None, unit_height_mm=None,
)  # fmt: skip
PLASTER = {"work": "plaster", "plaster_coats": "two", "joint_finish": None, "cement_area_m2": None}
WASH = {"work": "limewash", "joint_finish": None, "cement_area_m2": None}
WASHED = work("wash", **WASH)


def page_of(text: str) -> tuple[Job, MixPage]:
    made = job(text)
    return made, mix_schedule(made)


def only(text: str) -> Card:
    (card,) = page_of(text)[1].cards
    return card


def said(*told: Inlines) -> str:
    return " ".join(map(plain_text, told))


def test_every_mix_has_a_card_with_its_walls_and_the_boxes_of_a_batch() -> None:
    made, page = page_of(answers(wall(id_="a", name="A"), wall(id_="b", name="B"), HOT))
    assert [(card.ref, card.walls) for card in page.cards] == [("M1", "A; B"), ("M2", "Hot")]
    for card, batch in zip(page.cards, made.measured.batches, strict=True):
        assert [count.boxes for count in card.counts] == [batch.lime, *batch.sand_counts]
        assert f"{batch.batch_l.likely:f} l" in said(card.makes)


def test_the_box_has_its_litres_and_each_sand_one_name_a_grain_and_a_heap() -> None:
    made, page = page_of(answers(wall(id_="a", name="A"), wall(id_="b", name="B", hardness="hard"), HOT))
    assert said(*page.box).startswith(f"1 box is {made.said('gauge_box_l')},")
    sands = [card.counts[1] for card in page.cards]
    heaps: dict[tuple[str, Decimal], str] = {}
    for sand, batch in zip(sands, made.measured.batches, strict=True):
        name, grain = batch.mix.recipe.sand, batch.mix.grain_mm
        assert sand.name == made.library.materials[name].short
        assert said(sand.told).startswith(f"0–{grain.normalize():f} mm, heap ")
        assert heaps.setdefault((name, grain), said(sand.told)[-1]) == said(sand.told)[-1]
    assert len(set(heaps.values())) == len(heaps)
    assert all(letter in said(*page.box) for letter in heaps.values())


def test_ground_tells_the_lime_and_each_mark_stands_for_one_number() -> None:
    _, page = page_of(answers(wall(id_="a", name="A"), wall(id_="b", name="B", hardness="hard"), HOT))
    assert {card.counts[0].name: card.ground for card in page.cards} == {
        "putty": "putty", "NHL 3.5": "hydraulic", "quicklime": "quicklime",
    }  # fmt: skip
    assert [card.mark for card in page.cards] == list(SIGNS)[:3]


@pytest.mark.parametrize(
    ("text", "water"),
    [
        (one_wall(), "No water."),
        (one_wall(hardness="hard"), "Water: the least, last."),
        (one_wall(**WASH), "No more water"),
    ],
)
def test_water_is_always_told(text: str, water: str) -> None:
    assert said(only(text).water).startswith(water)


def test_a_hot_mix_tells_its_water_its_cautions_and_eight_pictures() -> None:
    made, page = page_of(answers(HOT))
    (card,) = page.cards
    assert said(card.water).startswith(made.facts.spoken(("M1",), "mix_water_l"))
    assert "Two trained people" in said(*card.notes)
    assert [step.picture for step in card.steps if step.picture] == [
        "ring", "lime", "cover", "sprinkle", "leave", "turn", "screen", "bank",
    ]  # fmt: skip
    assert card.in_pictures


def test_quicklime_is_not_under_never_as_if_it_were_forbidden() -> None:
    _, without = page_of(one_wall())
    _, with_ = page_of(answers(HOT))
    never = [said(notice) for page in (without, with_) for notice in page.notices if said(notice).startswith("Never")]
    assert "quicklime" not in never[0]
    assert "No water on bare quicklime." in never[1]
    assert "trained" not in never[1]


def test_steps_carry_the_days_of_rest_of_their_own_mix() -> None:
    made, page = page_of(one_wall(**PLASTER))
    for card in page.cards:
        rest = made.facts.spoken((card.ref,), "mix_rest_days")
        assert any(rest in said(step.text) for step in card.steps)


def test_layers_damp_days_cover_and_temperatures_are_those_of_the_mix_alone() -> None:
    # the NHL of the hard wall must not be placed below 8 °C, the putty of the soft one not below 5 °C
    made, page = page_of(answers(wall(id_="a", name="A"), wall(id_="b", name="B", hardness="hard")))
    assert {str(made.facts.get(scope.path, "lowest_c")) for scope in made.facts.at("coat")} == {"5", "8"}
    told = {card.counts[0].name: said(*card.facts) for card in page.cards}
    assert "5\u2060–\u206030 °C" in told["putty"]
    assert "8\u2060–\u206030 °C" in told["NHL 3.5"]
    path = ("a", "repoint", "pointing")
    for name in ("layer_mm", "kept_damp_days", "kept_covered_days"):
        assert made.facts.spoken(path, name) in told["putty"]


def test_indoors_draughts_and_heaters_are_told_and_not_rain() -> None:
    _, page = page_of(one_wall(**PLASTER, position="indoors", exposure=None))
    for card in page.cards:
        assert "No draught" in said(*card.facts)
        assert "Rain" not in said(*card.facts)


@pytest.mark.parametrize(
    ("walls", "told"),
    [
        ([wall(WASHED)], "next morning, outdoors again that evening"),
        ([wall(WASHED, position="indoors", exposure="internal")], "Mist each coat once, next morning"),
        ([wall()], "From thumb-hard damp it when it pales, Sundays too."),
        ([wall(), wall(WASHED, id_="b", name="B")], "pales, Sundays too; a wash not before next morning."),
    ],
    ids=["outdoors", "indoors", "none", "beside mortar"],
)
def test_a_wash_is_misted_next_morning_as_it_never_grows_thumb_hard(walls: list[str], told: str) -> None:
    _, page = page_of(answers(*walls))
    assert told in said(*page.notices)
    for card in page.cards:
        thumb = "thumb" in said(*card.notices)
        assert thumb is (card.counts[-1].fill != "water"), card.ref


def test_without_temperatures_nothing_may_be_placed() -> None:
    made = job(one_wall())
    path = ("front", "repoint", "pointing")
    open_ = {name: held for name, held in made.facts.values[path].items() if name != "lowest_c"}
    facts = replace(made.facts, values={**made.facts.values, path: open_})
    (card,) = mix_schedule(replace(made, facts=facts)).cards
    assert said(*card.facts).endswith(made.word("card-air-open"))


def test_only_a_set_or_hair_or_a_pozzolan_puts_an_end_to_lime() -> None:
    assert only(one_wall()).use_by == "Keeps"
    assert only(one_wall(hardness="hard")).use_by == "6 hours"
    haired, plain = page_of(one_wall(**PLASTER))[1].cards
    assert (haired.use_by, plain.use_by) == ("Next day", "Keeps")
    assert "pozzolan" in said(only(one_wall(asked_binder="putty-pozzolan")).use_told)


def test_hair_is_told_by_its_weight_for_haired_mixes_alone() -> None:
    made, page = page_of(one_wall(**PLASTER))
    haired, plain = page.cards
    assert made.facts.spoken((haired.ref,), "mix_hair_g") in said(haired.steps[-1].text)
    assert "Hair" not in said(*(step.text for step in plain.steps))


def test_a_pozzolan_is_told_in_litres_of_its_own_measure() -> None:
    made, page = page_of(one_wall(asked_binder="putty-pozzolan"))
    assert made.measured.batches[0].made.pozzolan_l == 1.4
    assert "1.4 l to each box of stuff taken" in said(*page.cards[0].added)


def test_a_batch_too_small_for_boxes_is_told_in_litres_by_the_jug() -> None:
    _, page = page_of(one_wall(asked_binder="nhl-2", face_area_m2="2"))
    assert [count.boxes for count in page.cards[0].counts] == [None, None]
    lime, sand = (count.litres for count in page.cards[0].counts)
    assert lime is not None
    assert sand == lime * Decimal("2.5")


def test_a_part_larger_than_a_box_is_told_as_whole_boxes_and_the_rest_by_the_jug() -> None:
    """The box of 28 l: 57.5 l of sand are 2 boxes and 1 1/2 l; what the box does not fill stays by the jug."""
    made = job(one_wall(asked_binder="nhl-2", gauge_box_l="28"))
    batch = made.measured.batches[0]
    large = replace(batch, made=replace(batch.made, batch=by_jug("23", "57.5")), box_l=28.0)
    rest = Decimal("1.5")
    assert [*map(large.measured_out, (large.lime, *large.sand_counts))] == [
        (Decimal(0), Decimal(23)),
        (Decimal(2), rest),
    ]
    assert boxes(large, made.library) == "23 l NHL 2 + 2 boxes and 1½ l by the jug of sharp sand"
    told = replace(made, measured=replace(made.measured, batches=(large,)))
    (card,) = mix_schedule(told).cards
    assert [(count.boxes, count.litres) for count in card.counts] == [(None, 23), (2, None), (None, rest)]
    assert [count.name for count in card.counts[1:]] == ["sharp sand: boxes", "sharp sand: then by the jug"]
    assert "23l " in mix_schedule(told).code
    assert " 2 box+1.5l " in mix_schedule(told).code


def test_a_box_whose_litres_would_put_the_gauge_out_is_left_for_the_jug() -> None:
    """No half line measures 0.2 l: left out of 14.5 l it is 1.4 %, of 10 l it is 2 %, more than is let pass."""
    batch = page_of(one_wall(asked_binder="nhl-2"))[0].measured.batches[0]
    held = [
        replace(batch, made=replace(batch.made, batch=by_jug("4", litres)), box_l=box).measured_out(Decimal(litres))
        for litres, box in (("14.5", 14.3), ("10", 9.8), ("14", 14.0))
    ]
    assert [(int(boxes), int(litres)) for boxes, litres in held] == [(1, 0), (0, 10), (1, 0)]


def by_jug(lime: str, sand: str) -> Counted:
    """A batch by the jug of so many litres."""
    litres = float(lime), float(sand)
    return Counted("jug", Fraction(lime), Fraction(0), (Fraction(sand),), litres[0], 0.0, (litres[1],), 45.0)


def test_the_card_tells_how_often_a_batch_is_made() -> None:
    fresh, stored = (page_of(one_wall(asked_binder=binder))[1].cards[0] for binder in ("nhl-2", "putty"))
    assert "; 1\u00a0a\u00a0day." in said(fresh.makes)
    assert re.search(r"; [0-9½–]+\u00a0in\u00a0all\.", said(stored.makes))


def test_a_small_batch_tells_what_each_count_is_of_and_parts_at_no_line_end() -> None:
    fresh, stored = (page_of(one_wall(asked_binder=binder))[1].cards[0] for binder in ("nhl-2", "putty"))
    assert " Panel: 3\u00a0l\u00a0lime\u00a0+\u00a07½\u00a0l\u00a0sand" in said(fresh.makes)
    assert said(stored.panel).endswith(" Panel: ½\u00a0box\u00a0of\u00a0mix.")
    cards = {card.ref: said(card.makes + card.panel) for card in mix_schedule(example("mill-house")).cards}
    assert "bedding: 4\u00a0l\u00a0lime\u00a0+\u00a08\u00a0l\u00a0sand, 1\u00a0a\u00a0day" in cards["M3"]
    assert "½\u00a0batch," in cards["M5"]


def test_what_a_panel_takes_of_a_mix_in_two_coats_is_told_for_each_of_them() -> None:
    told = {card.ref: said(card.panel) for card in mix_schedule(example("winter-plaster")).cards}
    assert told == {
        "M1": " Panel: 1\u00a0box\u00a0of\u00a0mix a\u00a0coat.",
        "M2": " Panel: ½\u00a0box\u00a0of\u00a0mix.",
    }


@pytest.mark.parametrize(
    ("measure", "told"),
    [
        ("jug", "1\u00a0l\u00a0lime +\u00a0½\u00a0l\u00a0pozzolan +\u00a02½\u00a0l\u00a0sand"),
        ("half", "1\u00a0box\u00a0lime +\u00a0½\u00a0box\u00a0pozzolan +\u00a02½\u00a0boxes\u00a0sand"),
    ],
)
def test_a_small_batch_of_three_parts_breaks_before_a_part_alone(measure: Measure, told: str) -> None:
    made = job(one_wall(asked_binder="nhl-2"))
    (batch,) = made.measured.batches
    assert batch.made.panel is not None
    panel = replace(
        batch.made.panel, measure=measure, lime=Fraction(1), pozzolan=Fraction(1, 2), sands=(Fraction(5, 2),)
    )
    assert panel_boxes(replace(batch, made=replace(batch.made, panel=panel)), made.library) == told


@pytest.mark.parametrize("name", ["garden-front", "mill-house", "toll-house", "winter-plaster"])
def test_every_card_tells_what_is_mixed_or_taken_for_its_panel_and_how_long_that_is_kept_damp(name: str) -> None:
    """A mix that has no panel, of flaunching alone, tells none; a panel in a colder month is damp for longer."""
    made = example(name)
    for card, found in zip(mix_schedule(made).cards, made.measured.batches, strict=True):
        coats = [made.facts.at_scope(path) for path in found.mix.used_for]
        has_panel = any(coat.text("work") != "flaunching" for coat in coats)
        told = said(card.makes + card.panel)
        assert ("Panel: " in told) == has_panel, card.ref
        longer = {
            coat.spoken("panel_coat_damp_days")
            for coat in coats
            if coat.number("panel_coat_damp_days") != coat.number("kept_damp_days") and has_panel
        }
        assert all(f", damp {days}." in told for days in longer), (card.ref, told)
        assert bool(longer) == (", damp " in told)


def test_what_a_card_takes_for_the_panel_is_enough_for_it() -> None:
    """Of stuff in half boxes up, of a wash in half litres up: no step more than it takes."""
    made = example("mill-house")
    for found in made.measured.batches:
        works = [one.work for one in works_of(found.mix, made.facts, Outputs(made.library)) if one.work.panels_m2]
        if not works or found.made.panel_nr is None or found.made.panel is not None:
            continue
        most = max(need for work in works for need in work.panels_need_l(work.in_place_l_per_m2.likely))
        day = found.made.days[0]
        one_l = {"batch": found.made.batch.makes_l, "box": found.box_l, "litre": 1.0}[day.of]
        taken, step = float(found.made.panel_nr) * one_l, one_l * (0.5 if day.of != "batch" else 1)
        assert most <= taken + 1e-9 < most + step + 1e-6, found.mix.ref


def test_powder_is_tipped_with_a_mask_on() -> None:
    assert "mask" in said(only(one_wall(hardness="hard")).counts[0].told)
    assert "mask" not in said(only(one_wall()).counts[0].told)


def test_limewash_is_measured_in_boxes_of_putty_and_of_water() -> None:
    card = only(one_wall(**WASH))
    assert list(dict.fromkeys(count.fill for count in card.counts)) == ["lime", "water"]
    assert [step.picture for step in card.steps] == ["stir", "strain", "stand", "stir"]


def test_the_box_of_a_page_whose_mixes_hold_no_sand_speaks_of_none() -> None:
    _, washed = page_of(one_wall(**WASH))
    _, pointed = page_of(one_wall())
    assert "Sand" not in said(*washed.box)
    assert "Sand" in said(*pointed.box)


def test_first_aid_asks_for_water_alone_and_has_blanks_for_number_and_place() -> None:
    _, page = page_of(one_wall())
    assert "20 minutes" in said(page.first_aid.eye_told)
    assert len(page.first_aid.blanks) == 2


def test_the_page_names_its_revision_and_who_alone_changes_a_mix_his_name_kept_to_only() -> None:
    made, page = page_of(one_wall(face_area_m2=None, revision="3"))
    assert page.identity.draft == made.word("draft-mark")
    assert "revision 3" in said(page.issue)
    assert "Older pages: take down." in said(page.issue)
    assert "Only\u00a0An invented specifier" in said(*page.notices)


def test_without_a_mix_the_page_says_that_none_may_be_made() -> None:
    made, page = page_of(one_wall(hardness="not known"))
    assert page.cards == ()
    assert page.no_cards == made.word("sheet-no-mix")


def test_walls_too_many_to_name_are_counted() -> None:
    walls = [wall(id_=f"w{number}", name=f"Wall number {number} of the long boundary") for number in range(1, 6)]
    assert only(answers(*walls)).walls.startswith("5 walls")


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.parent.name)
def test_the_code_tells_reference_revision_and_boxes_and_is_no_longer_than_a_code_holds(path: object) -> None:
    found = example(path.parent.name)  # type: ignore[attr-defined]
    page = mix_schedule(found)
    assert page.code.startswith(f"{found.said('reference')} rev {found.said('revision')}. M1 ")
    assert len(page.code.encode()) <= 150
    first = found.measured.batches[0]
    assert f"M1 {first.lime.normalize():f} " in page.code


def test_a_page_of_one_card_has_the_code_of_that_mix_alone() -> None:
    pages = parted([mix_schedule(example("mill-house"))])
    assert len(pages) > 1
    for page in pages:
        (only_card,) = page.cards
        assert re.findall(r"\bM[0-9]+\b", page.code) == [only_card.ref]


def damp(days: Sequence[int]) -> str:
    """What the card of a mix that so many walls take says of keeping them damp."""
    made = job(answers(*(wall(id_=f"w{number}", name=f"W{number}") for number, _ in enumerate(days))))
    coats = [coat.path for coat in made.facts.at("coat")]
    values = {path: {"kept_damp_days": Decimal(each)} for path, each in zip(coats, days, strict=True)}
    (card,) = mix_schedule(replace(made, facts=made.facts.adding_each(values, "test"))).cards
    return said(card.facts[0]).partition("damp ")[2].partition(";")[0]  # what follows is of the panel alone


def test_of_values_that_differ_on_many_walls_the_card_tells_the_ends() -> None:
    assert damp([12, 9, 12, 14]) == "12 days / 9 days / 14 days"
    assert damp([12, 9, 12, 14, 30, 21, 10]) == "9 days to 30 days, as the sheets say"


ROOM = wall(
    id_="room", name="Room", position="indoors", exposure="internal", heating_indoors="low", air_indoors="open",
)  # fmt: skip


def test_a_page_for_work_indoors_stops_for_the_room_and_not_for_the_forecast() -> None:
    def stops(*walls: str) -> str:
        (told,) = [words for words in map(plain_text, page_of(answers(*walls))[1].notices) if words.startswith("Stop")]
        return told

    indoors, outdoors, both = stops(ROOM), stops(wall(id_="a", name="A")), stops(ROOM, wall(id_="a", name="A"))
    assert "frost" not in indoors
    assert "room warm" in indoors
    assert "frost forecast" in outdoors
    assert "outdoors" not in outdoors
    assert "outdoors rain on it, frost forecast" in both


def test_the_number_to_call_is_that_of_the_country_whose_english_the_papers_are_in() -> None:
    british, american = (page_of(one_wall(language=language))[1] for language in ("en-gb", "en-us"))
    assert british.first_aid.blanks[0] == "Call 999 or 112 to"
    assert american.first_aid.blanks[0] == "Call 911 to"


def test_a_card_with_a_page_of_its_own_tells_of_no_heap_jug_or_quicklime_that_its_mix_has_not() -> None:
    page = mix_schedule(example("toll-house"))
    told = [" ".join(map(said, (*card.box, *card.notices))) for card in page.cards]
    assert ["quicklime" in text for text in told] == [False, False, True]
    assert ["jug" in text for text in told] == [any(one.litres for one in card.counts) for card in page.cards]
    assert ["box" in text for text in told] == [any(one.boxes for one in card.counts) for card in page.cards]
    assert [card.by_jug for card in page.cards] == [False, True, False]
    assert [re.findall(r"Heaps? ([A-D, ]+):", text) for text in told] == [["A"], ["B"], ["C, D"]]
    many = replace(page, cards=page.cards * 2)  # more than one page holds
    parts = parted([many])
    assert [part.notices for part in parts] == [card.notices for card in many.cards]
    assert [part.by_jug for part in parts] == [card.by_jug for card in many.cards]


def test_a_jug_is_told_of_where_a_small_batch_alone_is_measured_in_litres() -> None:
    page = mix_schedule(example("mill-house"))
    told = {card.ref: said(*card.box) for card in page.cards if " l lime" in said(card.makes).replace("\u00a0", " ")}
    assert "M3" in told
    assert all("a jug with half-litre lines" in text and "1 box is" in text for text in told.values())


@pytest.mark.parametrize(
    ("lime", "sand", "marked"), [((1, 4), (3, 4), False), ((1, 2), (5, 4), True), ((7, 4), (4, 1), False)]
)
def test_a_count_of_three_quarters_of_a_box_which_has_no_line_is_said_by_those_it_has(
    lime: tuple[int, int], sand: tuple[int, int], marked: bool
) -> None:
    made = job(one_wall())
    (batch,) = made.measured.batches
    counted = replace(batch.made.batch, measure="quarter", lime=Fraction(*lime), sands=(Fraction(*sand),))
    own = replace(batch, made=replace(batch.made, batch=counted, panel=None, filling=None))
    page = mix_schedule(replace(made, measured=replace(made.measured, batches=(own,))))
    told = said(*page.box)
    assert "¼, ½ to lines" in told
    assert ("¾ as ½ and ¼" in told) is not marked
    assert (said(*page.cards[0].box) == told) is True


def test_cards_that_fit_no_page_with_all_that_is_told_share_one_that_tells_in_one_line_what_all_panels_take() -> None:
    """A panel made in a colder month was kept damp for the days of the card, the work's, which were fewer."""
    page = mix_schedule(example("toll-house"))
    assert page.set_up
    shared = replace(page, hints=page.panels, set_up=(), cards=tuple(replace(card, panel=()) for card in page.cards))
    assert fitted(page) == fitted(shared)
    assert len(parted([page])) == 1
    told = said(page.panels)
    for card in page.cards:
        assert said(card.panel).removeprefix(" Panel: ").rstrip(".") in told
    assert re.search(r"; M2 1.batch, damp 16.days; ", told)
    (alone, *_) = (replace(page, cards=(card,)) for card in page.cards if card.panel)
    assert fitted(alone) != fitted(replace(alone, set_up=()))
