"""The shipped library in customary units: every unit has its spelling, no metric one is left where it may not stand."""

from __future__ import annotations

import re
from typing import Final

import pytest
from golden import companions_of, set_of
from helpers import slow_but
from jobs import EXAMPLES, ROOT, american, americanised, job, shipped
from plain_yaml import from_yaml, typed
from random_answers import random_answers

from generator import pipeline
from generator.document.files import COMPANIONS
from generator.library.entries import Clause, FindingEntry
from generator.papers.agreement.agree import agreed_record
from generator.questionnaire.customary import UNITS, spelling_of
from generator.questionnaire.customs import KINDS
from generator.record.record import record
from generator.values import UNIT_OF_ENDING, unit_of

SAME: Final = ("nr", "%", "days", "weeks", "months", "years", "hours", "minutes", "V", "mA")
"""Units that are the same on both sides."""

_METRIC: Final = re.compile(
    r"\d\s?(?:mm|cm|m²|m³|m|km|l|ml|kg|g|°C|MPa|N/mm²)(?![\w²³])"
    r"|\b(?:mm|cm|m²|m³|kg|°C|(?:milli|centi|kilo)?(?:met(?:re|er)|lit(?:re|er)|gram)s?)\b"
)
# What may stay metric: the metric beside a figure, grains and sieves by their own size, a class of lime's test, and
# what weighs less than scales in ounces tell.
_ALLOWED: Final = (
    r"\([^()]*\d (?:mm|m|m²|l|kg|°C)\)", r"0–[\d.]+ mm", r"no grain (?:over|larger than) [\d.]+ mm",
    r"[\d.]+ mm \(No\. \d+\)", r"\*?[\d.]+ mm\*? sieve", r"through \*[\d.]+ mm\*",
    r"through one of [\d.]+ mm", r"screen no wider than [\d.]+ mm", r"Screen, [\d.]+ mm",
    r"sand to [\d.]+ mm", r"by sieve in mm",
    r"[\d.]+ mm [\d.]+", r"\| [\d.]+ mm$", r"5 g of cattle", r"0\.6 mm \(No\. 30 sieve\)",
    r"^- ?litres: [\d.]+$|^litres: [\d.]+$",
    r"100 g of core mortar", r"surface meter", r"humidity meter", r"\| [\d.]+ mm \|",
)  # fmt: skip
_BESIDE: Final = re.compile("|".join(_ALLOWED), re.MULTILINE)


def left(text: str, answered: set[str]) -> list[str]:
    """The metric units of a text that stand in none of the places allowed, each with what is around it."""
    run = "\n".join(" ".join(line.split()) for line in text.splitlines())
    for told in sorted(answered, key=len, reverse=True):
        if len(told) > 3 and _METRIC.search(told):
            run = run.replace(told, "").replace(f"{told[:1].upper()}{told[1:]}", "")
            run = run.replace(f"{told[:1].lower()}{told[1:]}", "").replace(told.rstrip("."), "")
    run = _BESIDE.sub("", run)
    return [run[max(0, found.start() - 50) : found.end() + 20] for found in _METRIC.finditer(run)]


def test_every_unit_of_the_library_has_a_spelling_of_its_own() -> None:
    here, library = spelling_of(UNITS, "iso"), shipped()
    used = {entry.unit for entry in library.names.values()} - {""}
    used |= {unit_of(name.rpartition("/")[2]) for name in library.figures} - {""}
    used |= {item.unit for item in library.items.values() if here.unit(item.unit) != item.unit}
    assert used <= {*SAME} | {unit for unit in UNIT_OF_ENDING.values() if not here.keeps(unit)}
    assert not [unit for unit in UNIT_OF_ENDING.values() if here.keeps(unit) and unit not in SAME]


def test_what_an_entry_says_of_its_figures_in_customary_units_is_of_figures_that_it_has() -> None:
    library = shipped()
    entries: list[Clause | FindingEntry] = [*library.clauses.values(), *library.findings.values()]
    strange = [(entry, name) for entry in entries for name in entry.customary if name not in entry.figures]
    assert not strange
    kinds = {told for entry in entries for told in entry.customary.values() if told.isalpha()}
    assert kinds <= KINDS


def test_numbers_without_their_unit_are_of_units_that_stay() -> None:
    """A text that prints a number bare and its unit as a word would keep the metric word beside another number."""
    here, library = spelling_of(UNITS, "iso"), shipped()
    bare = {
        hole.name
        for kind, fields in {"clause": ("text", "check", "because"), "finding": ("message", "action", "instruction"),
                             "item": ("description", "includes"), "operation": ("text",)}.items()
        for key in library.texts.entries[kind]
        for part in fields
        for hole in library.texts.template(kind, key, part).placeholders
        if hole.filter == "bare"
    }  # fmt: skip
    assert bare
    assert not [name for name in bare if not here.keeps(unit_of(name))]


@pytest.mark.parametrize("name", [path.parent.name for path in EXAMPLES])
def test_no_metric_unit_is_left_in_an_example_turned_customary(name: str) -> None:
    found = american(name)
    answered = typed(from_yaml((ROOT / "examples" / name / "answers.yaml").read_text(encoding="utf-8")))
    texts = {**set_of(found), **companions_of(found)}
    assert {paper: metric for paper, text in texts.items() if (metric := left(text, answered))} == {}


def test_a_metric_unit_that_may_not_stand_is_found() -> None:
    assert left("Rake it 25 mm deep.\nTwo in each square metre.\nheld 5 m off (16 ft)", set())
    assert len(left("Rake it 25 mm deep; 3 litres; 5 kg", set())) == 3
    assert not left("33 ft (10 m), 0–2 mm, heap A; joints open 20 to 40 mm", {"joints open 20 to 40 mm"})


def test_sheet_schedule_and_workbook_have_one_quantity_in_square_feet() -> None:
    found = american("toll-house")
    line = next(item for item in found.measured.items() if item.entry.quantity == "treated_area_m2")
    assert (str(line.quantity), line.unit) == ("382", "sq ft")
    assert found.facts.spoken(line.path, "treated_area_m2") == "382 sq ft"
    row = next(
        row for section in pipeline.assembled(found).book.sections for row in section.rows if row.ref == line.ref
    )
    assert (str(row.quantity), row.unit) == ("382", "sq ft")


def test_boxes_bags_and_jugs_are_those_sold_and_measured_by_there() -> None:
    found = american("toll-house")
    assert found.said("gauge_box_l") == "1/2 cu ft"
    packs = {line.material.id: line.material.package.name for line in found.measured.materials}
    assert packs["lime-putty"] == "5-gallon pail"
    assert packs["nhl-3.5"] == "55-lb bag"
    jugged = next(made for made in found.measured.batches if made.by_jug)
    assert jugged.made.gauged.jug_l == pytest.approx(0.946352946)
    assert "qt NHL 3.5" in found.facts.spoken(jugged.mix.path, "mix_boxes")


def test_a_least_temperature_is_no_colder_there_than_the_metric_papers_have_it() -> None:
    found = american("toll-house")
    coat = next(iter(found.facts.at("coat"))).path
    assert found.facts.get(coat, "lowest_c") == 5
    assert found.facts.spoken(coat, "lowest_c") == "41 °F"


def test_what_is_a_least_or_a_most_by_its_name_says_so() -> None:
    library = shipped()
    sides = {name: entry.customs.kind for name, entry in library.names.items()}
    assert {name: sides[name] for name in ("lowest_c", "highest_c", "layer_mm")} == {
        "lowest_c": "up", "highest_c": "down", "layer_mm": "down",
    }  # fmt: skip
    figures = {name: figure.customs.kind for name, figure in library.figures.items()}
    assert figures["cover_within_m"] == figures["sand_sample_kg"] == figures["no_nail_m"] == "up"
    assert figures["room_most_c"] == figures["dub_at_once_mm"] == "down"


def test_words_are_swapped_whole_and_what_was_answered_stays() -> None:
    found = american("mill-house")
    texts = set_of(found)
    assert "Bidding" in texts["specification.txt"]
    assert not re.search(r"\b(?:tenderers?|hessian|polythene)\b", texts["specification.txt"].split("Drawings")[1])
    answers = (ROOT / "examples" / "mill-house" / "answers.yaml").read_text(encoding="utf-8")
    assert "cement render" in answers
    assert "cement render" in texts["specification.txt"]


@pytest.mark.parametrize("seed", slow_but(3, range(50)))
def test_the_papers_of_a_random_job_agree_in_customary_units(seed: int) -> None:
    found = job(americanised(random_answers(seed)))
    made = pipeline.assembled(found, list(COMPANIONS))
    agreed_record(made, record(found, "answers.yaml", b"", {}))
