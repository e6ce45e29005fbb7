"""The site sheet: one page that can be read at arm's length, or a plain refusal."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from docx_reading import NAMES, W, attribute, outline, own, part, parts, tables, text_of
from render import samples

from generator.document.model import MixSheet, SheetBlock
from generator.drawing.text import text_width_pt
from generator.render.word.mix_sheet import SheetTooFull, mix_sheet, mix_sheets, parted
from generator.render.word.sheet_layout import fitted, line_of

FIRST_AID_WORDS = "Eye: rinse with clean water at once"


def spaced(text: str) -> str:
    """A text with its fixed spaces as plain ones."""
    return text.replace("\u00a0", " ")


def sizes(data: bytes) -> list[tuple[str, float]]:
    """The words of every run of the sheet with their type size in points."""
    return [
        (spaced(text).strip(), int(attribute(node, "w:rPr/w:sz")) / 2)
        for node in part(data).iter(f"{{{W}}}r")
        if (text := text_of(node))
    ]


def big(data: bytes) -> set[str]:
    """What stands in the largest type."""
    seen = sizes(data)
    largest = max(size for _, size in seen)
    return {text for text, size in seen if size == largest}


@pytest.mark.parametrize("mixes", [1, 2, 3, 4, 5])
def test_refs_and_counts_of_boxes_are_the_largest_of_all(mixes: int) -> None:
    assert big(mix_sheet(samples.sheet(mixes))) == {
        "2",
        "5",
        *(f"M{number}" for number in range(1, mixes + 1)),
    }


@pytest.mark.parametrize(("mixes", "least"), [(1, 28), (2, 28), (3, 28), (4, 18), (5, 18)])
def test_refs_and_counts_of_boxes_are_never_too_small(mixes: int, least: int) -> None:
    # 28 pt is about 7 mm of capital height, legible at 1 m: common practice for signs
    assert dict(sizes(mix_sheet(samples.sheet(mixes))))["M1"] >= least


def test_no_number_is_parted_from_its_unit_and_no_ratio_broken() -> None:
    sheet = samples.sheet(1)
    mix = replace(sheet.mixes[0], layer="layers to 15 mm; damp 10 days", ratio="lime : damp sand 1 : 2.5")
    said = " ".join(cell for grid in tables(mix_sheet(replace(sheet, mixes=(mix,)))) for row in grid for cell in row)
    assert "layers to 15\u00a0mm; damp 10\u00a0days" in said
    assert "lime : damp sand 1\u00a0:\u00a02.5" in said


def test_a_number_that_counts_no_boxes_is_not_set_as_if_it_did() -> None:
    sheet = samples.sheet(1)
    mixes = (replace(sheet.mixes[0], boxes="2 boxes NHL 3.5 + 1½ boxes sand 0–4"),)
    assert big(mix_sheet(replace(sheet, mixes=mixes))) == {"M1", "2", "1½"}


def test_boxes_told_without_a_count_are_large_as_a_whole() -> None:
    sheet = samples.sheet(1)
    mixes = (replace(sheet.mixes[0], boxes="putty alone"),)
    assert big(mix_sheet(replace(sheet, mixes=mixes))) == {"M1", "putty alone"}


@pytest.mark.parametrize("mixes", [1, 2, 3, 4, 5])
def test_only_the_officers_ratio_is_under_12_points(mixes: int) -> None:
    seen = sizes(mix_sheet(samples.sheet(mixes)))
    assert {text for text, size in seen if size < 12} == {"Ratio", samples.mix(1).ratio}


@pytest.mark.parametrize("mixes", [1, 2, 3, 4, 5])
def test_first_aid_keeps_its_size_however_full_the_sheet(mixes: int) -> None:
    seen = sizes(mix_sheet(samples.sheet(mixes)))
    assert {size for text, size in seen if text.startswith(FIRST_AID_WORDS)} == {13}


def test_a_sheet_says_what_it_is_and_which_it_replaces() -> None:
    lines = outline(mix_sheet(samples.sheet(2)))
    assert lines[:2] == [
        'SheetTitle "Mix schedule, an invented chapel · Yard, north side"',
        'SheetText "GB-014 · Revision B · 1 March 2027 · This sheet replaces revision A of 3 February 2027"',
    ]
    assert lines[-1] == 'SheetText "Changes are signed by the specifier, 01234 000000"'


def test_mixes_stand_side_by_side_boxes_near_the_top_batches_to_count_last() -> None:
    mixes, lists = tables(mix_sheet(samples.sheet(2)))
    assert mixes[0] == ["Mix", "M1 Putty mortar for pointing", "M2 Putty mortar for pointing"]
    assert [row[0] for row in mixes] == [
        "Mix", "Where", "Boxes", "Lime", "Sand", "Hair", "Mixing", "Makes", "Use", "Layer", "Damp", "Ratio",
        "Batches today",
    ]  # fmt: skip
    assert mixes[-1] == ["Batches today", "", ""]
    assert lists[0] == ["Never", "Weather", "First aid"]
    assert lists[1][0] == "cement in any mix\nwater to wake a stiff mix\nhalf boxes by eye"


def test_a_field_no_mix_has_takes_no_room() -> None:
    sheet = samples.sheet(2)
    bare = replace(sheet, mixes=tuple(replace(mix, hair="") for mix in sheet.mixes))
    assert "Hair" not in [row[0] for row in tables(mix_sheet(bare))[0]]


def test_a_draft_says_so_first_and_at_the_foot() -> None:
    data = mix_sheet(samples.sheet(2, samples.draft().identity))
    assert outline(data)[0] == f'DraftMark "{samples.draft().identity.draft}"'
    (footer,) = [name for name in parts(data) if name.startswith("word/footer")]
    assert samples.draft().identity.draft in text_of(part(data, footer))


@pytest.mark.parametrize("mixes", [8, 12, 40])
def test_more_than_can_be_read_is_refused_with_the_reason(mixes: int) -> None:
    with pytest.raises(SheetTooFull, match=r"'Yard, north side' does not fit one page: .*12 pt") as refused:
        mix_sheet(samples.sheet(mixes))
    assert refused.value.workplace == "Yard, north side"


def test_a_word_that_would_be_broken_is_never_set() -> None:
    sheet = samples.sheet(3)
    wide = replace(sheet, mixes=tuple(replace(mix, lime="W" * 120) for mix in sheet.mixes))
    with pytest.raises(SheetTooFull, match="too narrow"):
        mix_sheet(wide)


def test_no_word_is_wider_than_its_column() -> None:
    data = mix_sheet(samples.sheet(5))
    checked = 0
    for cell in part(data).iter(f"{{{W}}}tc"):
        room = (int(attribute(cell, "w:tcPr/w:tcW", "w")) - 2 * 85) / 20  # cell margins of the table's style
        for node in cell.findall("w:p", NAMES):
            for run in node.findall("w:r", NAMES):
                size, bold = attribute(run, "w:rPr/w:sz"), run.find("w:rPr/w:b", NAMES) is not None
                for word in text_of(run).split():
                    checked += 1
                    assert text_width_pt(word, int(size) / 2, bold) <= room
    assert checked > 100


def test_lines_have_exact_heights_and_columns_exact_widths() -> None:
    data = mix_sheet(samples.sheet(4))
    rules = {attribute(node, "w:pPr/w:spacing", "lineRule") for node in part(data).iter(f"{{{W}}}p")}
    assert rules == {"exact"}
    for table in part(data).iter(f"{{{W}}}tbl"):
        widths = [int(own(column, "w")) for column in table.findall("w:tblGrid/w:gridCol", NAMES)]
        assert line_of(samples.sheet(4)) - 3 <= sum(widths) <= line_of(samples.sheet(4))


def test_a_sheet_with_less_to_say_is_set_larger() -> None:
    sheet = samples.sheet(4)
    terse = replace(sheet, mixes=tuple(replace(mix, where="E1", name="Putty") for mix in sheet.mixes))

    def body(told: MixSheet) -> float:
        return fitted(told).mixes.rows[1].cells[-1][0].size

    assert body(terse) > body(sheet)


def test_a_sheet_with_much_to_say_is_set_as_cards_with_labels_in_the_text() -> None:
    full = replace(samples.wordy_sheet(), blocks=samples.sheet(1).blocks)
    crowded = replace(full, mixes=tuple(replace(mix, layer=mix.layer * 3, damp=mix.damp * 3) for mix in full.mixes))
    (mixes, _) = tables(mix_sheet(crowded))
    assert [len(row) for row in mixes] == [3] * len(mixes)
    assert spaced(mixes[3][0]).startswith("Lime matured putty, 3 months. Sand sharp 0–4 mm, washed. ")
    assert mixes[-1] == ["Batches today"] * 3


def test_mixes_that_do_not_fit_one_page_are_shared_out_in_order() -> None:
    sheet = samples.wordy_sheet()
    with pytest.raises(SheetTooFull):
        mix_sheet(sheet)
    sheets = parted(sheet)
    assert len(sheets) > 1
    assert [mix.ref for each in sheets for mix in each.mixes] == ["M1", "M2", "M3"]
    assert all(each.blocks == sheet.blocks and each.signs == sheet.signs for each in sheets)
    assert outline(mix_sheets(sheets)).count(outline(mix_sheet(sheets[0]))[0]) == len(sheets)


def test_a_sheet_that_fits_is_not_parted() -> None:
    assert parted(samples.sheet(3)) == (samples.sheet(3),)


def test_what_mixes_forbid_counts_when_they_are_shared_out_over_pages() -> None:
    sheet = samples.sheet(4)
    own = [tuple(f"never do thing {line} with mix {mix.ref}" for line in range(5)) for mix in sheet.mixes]
    mixes = tuple(replace(mix, nevers=nevers) for mix, nevers in zip(sheet.mixes, own, strict=True))
    blocks = tuple(replace(block, of_mixes=block.title == "Never") for block in sheet.blocks)
    pages = parted(replace(sheet, mixes=mixes, blocks=blocks))
    assert len(pages) > len(parted(sheet))
    assert all(fitted(page) for page in pages)


def test_one_mix_too_wordy_for_a_page_is_refused_however_it_is_parted() -> None:
    sheet = samples.wordy_sheet()
    with pytest.raises(SheetTooFull):
        parted(replace(sheet, mixes=tuple(replace(mix, method=mix.method * 20) for mix in sheet.mixes)))


def test_the_same_sheet_gives_the_same_bytes() -> None:
    assert mix_sheet(samples.sheet(3)) == mix_sheet(samples.sheet(3))


def test_a_sheet_without_mixes_is_refused() -> None:
    with pytest.raises(ValueError, match="without mixes"):
        mix_sheet(samples.sheet(0))


@pytest.mark.parametrize("count", [0, 1, 2, 4, 5])
def test_any_number_of_lists_is_set_below(count: int) -> None:
    lists = tuple(SheetBlock(f"List {number}", ("one", "two")) for number in range(count))
    sheet: MixSheet = replace(samples.sheet(1), blocks=lists)
    below = tables(mix_sheet(sheet))[1:]
    assert [title for table in below for title in table[0]] == [block.title for block in lists]


def test_validators_find_nothing(tmp_path: Path) -> None:
    openxml_audit = pytest.importorskip("openxml_audit")
    path = tmp_path / "sheet.docx"
    path.write_bytes(mix_sheet(samples.sheet(3)))
    assert [str(error) for error in openxml_audit.validator.OpenXmlValidator().validate(path).errors] == []
