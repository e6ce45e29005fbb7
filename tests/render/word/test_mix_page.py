"""Mix pages in Word terms: one page, measured before it is written; read at arm's length, heard, and copied."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

import pytest
from docx_reading import NAMES, WP, W, attribute, own, part, parts, tables, text_of
from lxml import etree
from render import mix_samples as samples
from render.mix_samples import said
from render.samples import draft

from generator.document.card import Card, Count, MixPage
from generator.document.model import Strong, Text
from generator.render.check.papers import faults
from generator.render.word.mix_layout import PageTooFull, fitted, room_of
from generator.render.word.mix_measure import spans
from generator.render.word.mix_page import mix_pages, parted
from generator.render.word.xml import twips
from generator.values import replace

LETTER = replace(samples.PAGE.identity, paper="letter")
PAGES = {
    **{f"{count} cards": samples.page_of(count) for count in (1, 2, 3, 4)},
    "a hot mix": samples.page(samples.HOT),
    "one and a hot mix": samples.page(samples.PUTTY, samples.HOT),
    "two and a hot mix": samples.page(samples.PUTTY, samples.HYDRAULIC, samples.HOT),
    "limewash": samples.page(samples.WASH),
    "haired, with a long name": samples.page(samples.HAIRED),
    "letter": samples.page(samples.PUTTY, samples.HYDRAULIC, samples.HOT, identity=LETTER),
    "none": samples.page(),
}


def spaced(text: str) -> str:
    """A text with its fixed spaces as plain ones and without joiners."""
    return text.replace("\u00a0", " ").replace("\u2060", "")


def runs(data: bytes) -> Iterator[tuple[str, float]]:
    """The words of every run of a page with their size in points."""
    for node in part(data).iter(f"{{{W}}}r"):
        if text := text_of(node):
            yield spaced(text).strip(), int(attribute(node, "w:rPr/w:sz")) / 2


def words(data: bytes) -> str:
    """Everything that is written on a page, in the order in which it is heard."""
    return spaced(" ".join(cell for grid in tables(data) for row in grid for cell in row))


@pytest.fixture(params=PAGES, scope="module")
def named(request: pytest.FixtureRequest) -> tuple[str, bytes]:
    """A page of every kind by its name, as the bytes of its file."""
    return request.param, mix_pages([PAGES[request.param]])


def test_every_page_is_sound_and_open_to_all(named: tuple[str, bytes]) -> None:
    assert faults(named[1]) == []


def test_nothing_is_smaller_than_12_points(named: tuple[str, bytes]) -> None:
    assert min(size for _, size in runs(named[1])) >= 12


def test_first_aid_is_told_first_then_what_the_page_is(named: tuple[str, bytes]) -> None:
    said = words(named[1])
    assert said.startswith("Lime in the eye: rinse at once.")
    assert said.index("Older pages: take down") < said.index("1 box is 14 litres") < said.index("Never")


def test_rows_are_as_high_as_they_are_measured_and_fit_the_paper(named: tuple[str, bytes]) -> None:
    name, data = named
    heights = list(part(data).iter(f"{{{W}}}trHeight"))
    assert {own(node, "hRule") for node in heights} == {"exact"}
    total = sum(int(own(node, "val")) for node in heights)
    assert 0.9 * room_of(PAGES[name]) < total <= room_of(PAGES[name])


@pytest.mark.parametrize("count", [1, 2, 3, 4])
def test_up_to_four_mixes_share_one_page(count: int) -> None:
    page = samples.page_of(count)
    assert parted([page]) == (page,)


def test_a_fifth_mix_gives_each_a_complete_page_of_its_own_numbered_and_no_smaller() -> None:
    page = samples.page_of(5)
    found = parted([page])
    assert [single.cards for single in found] == [(card,) for card in page.cards]
    assert [single.place for single in found] == [(number, 5) for number in range(1, 6)]
    assert {replace(single, cards=(), place=(1, 1)) for single in found} == {replace(page, cards=())}
    said = words(mix_pages(found))
    assert said.count("Lime in the eye") == 5
    assert "Page 2 of 5." in said


def test_no_code_is_made_for_a_page_of_more_cards_than_places(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("generator.render.word.mix_layout.code", lambda *_: pytest.fail("made"))
    for page in (samples.page_of(5), samples.page(*[samples.HOT] * 3)):
        with pytest.raises(PageTooFull, match="more cards than places"):
            fitted(page)


def test_a_hot_mix_takes_two_places() -> None:
    hydraulic = [replace(samples.HYDRAULIC, ref=f"M{number}") for number in (1, 2, 3)]
    assert len(parted([samples.page(*hydraulic[:2], samples.HOT)])) == 1
    assert len(parted([samples.page(*hydraulic, samples.HOT)])) == 4


def test_pages_of_several_places_are_numbered_through() -> None:
    found = parted([samples.page_of(2), samples.page_of(5)])
    assert [len(page.cards) for page in found] == [2, 1, 1, 1, 1, 1]
    assert [page.place for page in found] == [(number, 6) for number in range(1, 7)]


def test_type_and_pictures_grow_where_few_cards_leave_room() -> None:
    counted = [max(size for _, size in runs(mix_pages([samples.page_of(count)]))) for count in (1, 2, 4)]
    assert counted[0] > counted[1] > counted[2] == 54


@pytest.mark.parametrize("name", ["4 cards", "two and a hot mix", "letter"])
def test_counts_have_54_points_however_full_the_page(name: str) -> None:
    seen = list(runs(mix_pages([PAGES[name]])))
    for count in ("2", "5", "½", "1¼"):
        assert (count, 54) in seen
    assert sum(size == 54 for _, size in seen) == sum(len(card.counts) for card in PAGES[name].cards)


def test_no_number_is_parted_from_its_unit_and_no_range_broken() -> None:
    said = " ".join(map(str, part(mix_pages([PAGES["4 cards"]])).itertext()))
    assert "15\u00a0mm" in said
    assert "0\u2060–\u20602\u00a0mm" in said
    assert "5\u2060–\u206030\u00a0°C" in said


def test_a_card_tells_all_it_knows() -> None:
    said = words(mix_pages([PAGES["haired, with a long name"]]))
    for told in ("M10", "pricking-up coat", "heap A", "100 g to each box", "No water.", "2 days", "61 l", "No draught"):
        assert told in said


def test_a_hot_mix_is_told_in_eight_pictures_each_with_its_words_after_it() -> None:
    data = mix_pages([PAGES["two and a hot mix"]])
    shown = [node.get("descr", "") for node in part(data).iter(f"{{{WP}}}docPr")]
    pictures = [told for told in shown if told.startswith("Picture of a step")]
    keys = [step.picture for step in samples.HOT.steps]
    assert pictures == [f"Picture of a step: {key}." for key in keys]
    cells = [text_of(cell) for cell in part(data).iter(f"{{{W}}}tc") if cell.find(".//wp:docPr", NAMES) is not None]
    assert [text for text in map(spaced, cells) if text.startswith("Sand over it")] == ["Sand over it: none shows"]


def test_quicklime_is_not_forbidden_but_told_who_slakes_it_and_where() -> None:
    said = words(mix_pages([PAGES["a hot mix"]]))
    assert "Two trained people" in said[: said.index("Never")]
    assert "Two trained people" not in said[said.index("Never") :]


def test_facts_keep_off_the_pictures_beside_them_so_that_no_line_is_read_on() -> None:
    cells = part(mix_pages([PAGES["1 cards"]])).iter(f"{{{W}}}tc")
    (facts,) = (cell for cell in cells if "Air and wall" in spaced(text_of(cell)))
    left, right = (int(attribute(facts, f"w:tcPr/w:tcMar/w:{side}", "w")) for side in ("left", "right"))
    assert right >= left + twips(2)


@pytest.mark.parametrize("name", ["1 cards", "a hot mix"])
def test_words_of_steps_keep_off_the_step_beside_them_and_the_edge_of_the_card(name: str) -> None:
    cells = part(mix_pages([PAGES[name]])).iter(f"{{{W}}}tc")
    steps = [cell for cell in cells if "Picture of a step" in "".join(map(described, cell.iter(f"{{{WP}}}docPr")))]
    assert len(steps) == len(PAGES[name].cards[0].steps)
    for cell in steps:
        left, right = (int(attribute(cell, f"w:tcPr/w:tcMar/w:{side}", "w")) for side in ("left", "right"))
        assert right >= left + twips(2)


def test_what_the_page_is_keeps_off_the_picture_of_the_box(named: tuple[str, bytes]) -> None:
    what = fitted(PAGES[named[0]]).grids[1].rows[0][0]
    assert what.clear >= twips(2)


def described(picture: etree._Element) -> str:
    return str(picture.get("descr", ""))


def test_the_last_of_great_figures_stands_off_the_rule_below_it() -> None:
    card = fitted(PAGES["a hot mix"]).grids[2]
    figures = card.rows[1][0]
    assert len(figures.lines) == len(samples.HOT.counts) + 1
    assert figures.lines[-1].high >= twips(1)
    assert not figures.lines[-1].items


def test_no_slit_parts_the_head_of_a_card_from_the_rest() -> None:
    """The paragraph that stands between two tables is as black as head and rule above it."""
    body = part(mix_pages([samples.page(samples.HYDRAULIC)])).find(f"{{{W}}}body")
    assert body is not None
    between = [attribute(paragraph, "w:pPr/w:shd", "fill") for paragraph in body.findall("w:p", NAMES)]
    assert between == ["", "", "000000", "", ""]


def test_blanks_are_white_boxes_on_black() -> None:
    (aid, *_) = part(mix_pages([samples.PAGE])).iter(f"{{{W}}}tbl")
    white = [node for node in aid.iterfind(".//w:p/w:pPr/w:shd", NAMES) if own(node, "fill") == "FFFFFF"]
    assert len(white) == 2
    assert {own(node, "fill") for node in aid.iterfind(".//w:tcPr/w:shd", NAMES)} == {"000000"}


def test_black_and_white_stand_for_the_lime() -> None:
    cards = list(part(mix_pages([samples.page(samples.PUTTY, samples.HYDRAULIC)])).iter(f"{{{W}}}tbl"))[2]
    heads = only_cells(cards)
    assert [attribute(cell, "w:tcPr/w:shd", "fill") for cell in heads] == ["000000", "000000", "", "", ""]


def only_cells(table: etree._Element) -> list[etree._Element]:
    first = table.find("w:tr", NAMES)
    assert first is not None
    return first.findall("w:tc", NAMES)


def test_a_draft_says_so_on_each_of_its_pages() -> None:
    page = samples.page_of(5)
    data = mix_pages(parted([replace(page, identity=replace(page.identity, draft=draft().identity.draft))]))
    assert words(data).count(draft().identity.draft) == 5


def test_without_a_mix_the_page_says_that_none_may_be_made() -> None:
    page = replace(samples.page(), no_cards="No mix is settled. Make no mortar by this page or an earlier one.")
    assert page.no_cards in words(mix_pages([page]))


def test_a_count_too_fine_for_boxes_is_told_in_litres_beside_a_jug() -> None:
    counts = tuple(replace(count, boxes=None, litres=count.boxes, unit="litres") for count in samples.HYDRAULIC.counts)
    seen = list(runs(mix_pages([samples.page(replace(samples.HYDRAULIC, counts=counts), *samples.CARDS[2:4])])))
    assert ("1¼", 54) in seen
    assert ("litres", 24) in seen


@pytest.mark.parametrize("least", [Decimal("2.5"), Decimal("0.5")])
def test_the_units_of_a_card_have_one_size(least: Decimal) -> None:
    counts = tuple(
        replace(count, boxes=None, litres=litres, unit="litres")
        for count, litres in zip(samples.HYDRAULIC.counts, (least, Decimal(5)), strict=True)
    )
    for others in ((), samples.CARDS[2:3], samples.CARDS[2:4]):
        seen = list(runs(mix_pages([samples.page(replace(samples.HYDRAULIC, counts=counts), *others)])))
        assert len({size for text, size in seen if text == "litres"}) == 1


def test_a_page_of_litres_alone_pictures_the_jug_in_place_of_the_box() -> None:
    poured = replace(samples.HYDRAULIC, box=(said("*Litres: a jug*"),), by_jug=True)
    page = replace(samples.page(*[samples.HOT] * 3, poured), jug_shows="A jug with a line at its half.")
    shown = [
        {node.get("descr", "") for node in part(mix_pages([one])).iter(f"{{{WP}}}docPr")} for one in parted([page])
    ]
    assert ["A jug with a line at its half." in told for told in shown] == [False, False, False, True]
    assert [samples.PAGE.box_shows in told for told in shown] == [True, True, True, False]


@pytest.mark.parametrize(("boxes", "litres"), [(None, None), (1, 1), (0, None), (None, -1)])
def test_a_count_has_one_measure(boxes: int | None, litres: int | None) -> None:
    counted, poured = (None if value is None else Decimal(value) for value in (boxes, litres))
    with pytest.raises(ValueError, match="valid one of the two"):
        Count("sand", (), "sand", counted, poured)


def crowded(card: Card) -> MixPage:
    return samples.page(replace(card, steps=card.steps * 7, facts=card.facts * 6))


def test_a_card_too_full_for_a_page_of_its_own_is_refused_by_how_much() -> None:
    with pytest.raises(PageTooFull, match=r"at 12 pt it is [0-9]+ mm too high"):
        parted([crowded(samples.PUTTY)])


def test_a_word_wider_than_its_column_is_refused_and_not_broken() -> None:
    wide = replace(samples.PUTTY, use_by="W" * 80)
    with pytest.raises(PageTooFull, match="too narrow"):
        fitted(samples.page(wide))


def test_pages_without_a_code_have_wider_notices() -> None:
    grid = fitted(replace(samples.PAGE, code="")).grids[-1]
    with_code = fitted(samples.PAGE).grids[-1]
    assert grid.widths[0] > with_code.widths[0]


def test_no_pages_are_refused() -> None:
    with pytest.raises(ValueError, match="without a page"):
        mix_pages([])


def test_the_same_pages_give_the_same_bytes() -> None:
    found = parted([samples.page_of(5)])
    assert mix_pages(found) == mix_pages(found)


def test_a_drawing_that_is_shown_twice_is_kept_once() -> None:
    twice = parts(mix_pages([samples.page(samples.HYDRAULIC, replace(samples.HYDRAULIC, ref="M3"))]))
    once = parts(mix_pages([samples.page(samples.HYDRAULIC, samples.PUTTY)]))
    assert sum("media" in name for name in twice) < sum("media" in name for name in once)


def test_a_unit_stays_with_its_number_where_each_is_a_span_of_its_own() -> None:
    told = (Text("Mill "), Strong((Text("20"), Text(" min:"))), Text(" no streak."))
    assert [span.text for span in spans(told, 12)] == ["Mill ", "20", "\u00a0min:", " no streak."]
