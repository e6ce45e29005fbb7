"""What is asked about a day's mixing is answered by the page at the mixing place alone, where it is asked of."""

from __future__ import annotations

import functools
from decimal import Decimal

import pytest
from jobs import example
from told_papers import specification

from generator.document.card import Card, MixPage, count_text
from generator.document.model import plain_text
from generator.papers.mix_schedule import mix_schedule

PAGE = ""
"""In place of a mix: asked of the whole page, and answered outside its cards."""

QUESTIONS = [
    # a soft front of brick, NHL 2
    ("garden-front", PAGE, "How large is the box?", "1 box is 11 l"),
    ("garden-front", PAGE, "How is it filled?", "filled loose, struck level"),
    ("garden-front", PAGE, "Is the sand dried first?", "Sand damp, as it lies"),
    ("garden-front", "M1", "How much lime goes into a batch?", "1 NHL 2 mask"),
    ("garden-front", "M1", "How much sand, to which grain, from which heap?", "2½ sharp sand 0–2 mm, heap A"),
    ("garden-front", "M1", "What do I wear when I tip it?", "mask on, then tip"),
    ("garden-front", "M1", "How much water, and when?", "Water: the least, last."),
    ("garden-front", "M1", "How long is it turned dry?", "Turn 5 min, no water"),
    ("garden-front", "M1", "How much does that make, and how often a day?", "Batch: 24 l, 5.1 m²; 1 a day"),
    ("garden-front", "M1", "Until when may it be used?", "8 hours from first water; then to waste"),
    ("garden-front", "M1", "How thick is a layer?", "Layers to 15 mm"),
    ("garden-front", "M1", "Is it too cold today?", "Air and wall 8\u2060–\u206030 °C"),
    ("garden-front", PAGE, "May I add plasticiser?", "Never cement, gypsum, plasticiser, antifreeze"),
    ("garden-front", PAGE, "What if lime is in an eye?", "rinse at once. Clean water, lids held open, 20 minutes"),
    # a mill of eleven mixes
    ("mill-house", "M4", "How much water does the hot heap take?", "26 l water at most; less on wet sand"),
    ("mill-house", "M4", "Who may stand near it as it slakes?", "Two trained people; all others 10 m off"),
    (
        "mill-house",
        "M2",
        "How is less than a box of sand measured?",
        "mask on, then tip 5 litres sharp sand 0–3 mm, heap B",
    ),
    ("mill-house", "M2", "Is the afternoon's mortar that of the morning?", "2 a day"),
    ("garden-front", "M1", "How much is made for the panel?", "Panel: 3 l lime + 7½ l sand, damp 12 days."),
    ("mill-house", "M5", "How much is made for the panel where a batch is more?", "Panel: ½ batch, damp 10 days."),
    ("mill-house", "M6", "How many boxes of sand go into a batch?", "6 sharp sand 0–2 mm"),
    ("mill-house", "M6", "How many batches does a day take?", "2 a day"),
    ("mill-house", "M7", "Is limewash left from today thrown away?", "Keeps sealed from air, for months; stir it"),
    ("mill-house", "M8", "How much hair, and when?", "Hair last, cold, in pinches: 70 g to each box of stuff taken"),
    ("mill-house", "M8", "May haired stuff be kept?", "Next day at its end, throw haired stuff away."),
]


@functools.cache
def page_of(name: str) -> MixPage:
    return mix_schedule(example(name))


def card_text(card: Card) -> str:
    """A card as it is read: counts first, each before its name."""
    counts = [
        f"{count_text(count.litres or count.boxes or Decimal(0))} {count.unit} {count.name} {plain_text(count.told)}"
        for count in card.counts
    ]
    told = (
        card.water,
        card.makes + card.panel,
        *(step.text for step in card.steps),
        *card.added,
        *card.facts,
        *card.notes,
    )
    return " ".join(" ".join([*counts, *map(plain_text, told), card.use_by, plain_text(card.use_told)]).split())


def around_the_cards(page: MixPage) -> str:
    """All that the page says outside its cards, first aid first."""
    aid = page.first_aid
    first = [aid.eye, plain_text(aid.eye_told), aid.skin, plain_text(aid.skin_told)]
    return " ".join(" ".join([*first, *map(plain_text, (*page.box, *page.notices))]).split())


@pytest.mark.parametrize(("name", "mix", "question", "answer"), QUESTIONS, ids=[asked for _, _, asked, _ in QUESTIONS])
def test_a_question_is_answered_where_it_is_asked(name: str, mix: str, question: str, answer: str) -> None:
    page = page_of(name)
    cards = {card.ref: card_text(card) for card in page.cards}
    assert answer in (cards[mix] if mix else around_the_cards(page)), question


def test_a_card_answers_for_its_own_mix_alone() -> None:
    """Else an answer found on one card would say nothing of where it was found."""
    cards = {card.ref: card_text(card) for card in page_of("mill-house").cards}
    assert [ref for ref, text in cards.items() if "water at most" in text] == ["M4"]
    assert [ref for ref, text in cards.items() if "sealed from air" in text] == ["M7"]
    assert not any("Hair last" in text for ref, text in cards.items() if ref in {"M1", "M4", "M7", "M9"})


def test_sand_that_is_ordered_in_bags_is_said_to_be_damped_before_it_is_counted_damp() -> None:
    """The page counts damp sand, and bags come from a kiln."""
    said = specification("garden-front")
    assert "bags of 25 kg" in said
    assert "Bagged sand comes dry; damp it the day before" in said
    assert "damp and turn sand that comes dry, in bags, the day before" in said
