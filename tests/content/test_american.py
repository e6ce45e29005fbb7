"""Papers for the United States: its standards, its rules, its words and its money, in all examples."""

from __future__ import annotations

import re

import pytest
from golden import companions_of, set_of
from jobs import AMERICAN, EXAMPLES, ROOT, american, example, job
from plain_yaml import as_yaml, from_yaml, typed

from generator.document.card import Card
from generator.papers.mix_schedule import mix_schedule

NAMES = [path.parent.name for path in EXAMPLES]
BRITISH = (
    r"EN 13139|CL 90|to EN 459-1, passed|\bUK Construction", r"\bretemper", r"\bdownpipes?\b", r"\bmains tap\b",
    r"\buprights?\b", r"\ba insulating\b", r"\bearth test", r"\blightning conductors?\b", r"\bfans? or covered ways?\b",
    r"\btransfer notes?\b", r"\bwater authority\b", r"\bsafety file\b", r"\bconsents?\b", r"\b\d\d:00\b",
    r"\ban head\b", r"\bat weekends\b", r"\bspilt\b", r"\bsmelt\b", r"\btabled\b", r"materials and plant\b",
    r"1 : \d\.5 \|",
    r"[¼½¾]", r"\bstrike access\b|\bis struck\b", r"\bskips?\b", r"\bFFP3\b|H-class",
)  # fmt: skip
"""What an American mason reads otherwise, or as something else: to retemper is to put water back."""


def printed(name: str) -> str:
    """All papers of an example as they are in the United States, without what was typed into its answers."""
    found = american(name)
    text = "\n".join({**set_of(found), **companions_of(found)}.values())
    answers = from_yaml((ROOT / "examples" / name / "answers.yaml").read_text(encoding="utf-8"))
    for told in sorted(typed(answers), key=len, reverse=True):
        if len(told) > 3 and " " in told:
            text = re.sub(re.escape(told.rstrip(".")), "", text, flags=re.IGNORECASE)
    return text


@pytest.mark.parametrize("name", NAMES)
def test_no_british_standard_word_or_fraction_is_left(name: str) -> None:
    text = printed(name)
    left = [text[max(0, at.start() - 40) : at.end() + 20] for word in BRITISH for at in re.finditer(word, text)]
    assert left == []


def test_the_british_words_are_those_of_the_papers_at_home() -> None:
    """A pattern that finds nothing there guards nothing here; some are mistakes that American papers once had."""
    text = "\n".join("\n".join(set_of(example(name)).values()) for name in NAMES)
    once_wrong = {r"\bretemper", r"\ba insulating\b", r"\ban head\b"}
    assert [word for word in BRITISH if word not in once_wrong and not re.search(word, text)] == []


def test_the_article_before_a_word_that_is_swapped_is_that_of_the_new_one() -> None:
    swap = american("toll-house").library.swap
    assert swap is not None
    assert swap("an opening or an upright. An upright is") == "an opening or a head joint. A head joint is"
    assert swap("a consent; a tender; a rate; a skip") == "an approval; a bid; a unit price; a dumpster"
    assert swap("a large upright") == "a large head joint"


def test_words_of_the_trade_stand_in_the_order_of_the_alphabet_whatever_their_capitals() -> None:
    text = set_of(american("toll-house"))["specification.txt"]
    listed = text.split("These words mean this here.\n")[1].partition("\n")[0]
    told = [each.partition(": ")[0] for each in listed.split("; ") if ": " in each]
    assert "NHL" in told
    assert told == sorted(told, key=str.casefold)


def test_lime_and_sand_are_to_the_standards_that_are_sold_to_there_and_the_list_names_their_editions() -> None:
    """Numbers, titles and editions as read in the standards' own lists; ASTM has no classes of NHL."""
    text = set_of(american("toll-house"))["specification.txt"]
    for asked in ("Putty meets ASTM C1489", "high-calcium quicklime to ASTM C5", "natural sand to ASTM C144 in all but",
                  "bagged hydrated lime, to ASTM C207 or any other", "natural hydraulic lime to EN 459-1"):  # fmt: skip
        assert asked in text
    references = text.split("15.1 How references are meant")[1].split("# Rules")[0]
    for told in ("ASTM C144: aggregate for masonry mortar, 2025", "ASTM C207: hydrated lime for masonry purposes, 2024",
                 "ASTM C1489: lime putty for structural purposes, 2015", "ASTM C5: quicklime", "EN 459-1",
                 "29 CFR 1926: US safety and health regulations for construction"):  # fmt: skip
        assert told in references


def test_federal_rules_of_silica_lead_scaffolds_and_falls_are_named_there_alone() -> None:
    rules = ("29 CFR 1926.1153, silica", "29 CFR 1926.62, lead", "29 CFR 1926.451, scaffolds", "29 CFR 1926.501, falls")
    texts = [set_of(found)["specification.txt"] for found in (american("garden-front"), example("garden-front"))]
    assert all(rule in texts[0] for rule in rules)
    assert "29 CFR" not in texts[1]
    assert "written exposure control plan for silica" in texts[0]


def test_boxes_on_a_card_are_in_fractions_of_the_form_that_the_specification_has() -> None:
    cards: dict[str, Card] = {card.ref: card for card in mix_schedule(american("toll-house")).cards}
    assert [count.number for count in cards["M3"].counts] == ["1-1/4", "2-1/4", "1-1/2"]
    home = {card.ref: card for card in mix_schedule(example("toll-house")).cards}
    assert [count.number for count in home["M3"].counts] == ["1¼", "2¼", "1½"]


def test_the_size_of_a_brick_is_told_in_inches_from_the_sides_answered() -> None:
    text = set_of(american("toll-house"))["specification.txt"]
    assert "units of 9 x 4-1/4 x 2-1/2 inches" in text
    assert "units of 228 x 108 x 63 mm" in set_of(example("toll-house"))["specification.txt"]


@pytest.mark.parametrize(("currency", "warned"), [("gbp", True), ("eur", True), ("usd", False)])
def test_money_of_another_country_is_warned_of(currency: str, warned: bool) -> None:
    data = from_yaml((ROOT / "examples" / "garden-front" / "answers.yaml").read_text(encoding="utf-8"))
    data["project"] |= {**AMERICAN, "currency": currency}
    codes = {finding.code for finding in job(as_yaml(data)).findings}
    assert ("american-papers-in-other-money" in codes) is warned


def test_papers_at_home_are_not_warned_of_their_money() -> None:
    assert "american-papers-in-other-money" not in {finding.code for finding in example("garden-front").findings}
