"""Each kind of block, saved and read back."""

from __future__ import annotations

import io
from typing import Any

import pytest
from docx_reading import NAMES, W, attribute, only, outline, own, part, parts, tables, text_of
from lxml import etree
from PIL import Image
from render import samples
from render.samples import body, clause, words

from generator.document.model import (
    Block,
    Column,
    Contents,
    Document,
    Figure,
    Heading,
    ListBlock,
    Notice,
    PageBreak,
    Pairs,
    Paragraph,
    Picture,
    Ref,
    Row,
    Section,
    Strong,
    Swatch,
    Table,
    Text,
    Value,
)
from generator.drawing.elevation import swatch
from generator.drawing.model import Drawing
from generator.drawing.text import POINTS_PER_MM, text_width_pt, wrap
from generator.render.word.blocks import blocks
from generator.render.word.document import specification
from generator.render.word.look import plain_look
from generator.render.word.paper import Paper
from generator.render.word.styles import ASKED_HANG
from generator.render.word.tables import fitting
from generator.render.word.type_styles import type_styles
from generator.render.word.xml import TWIPS_PER_PT
from generator.values import replace


def paper(*blocks: Block, landscape: bool = False) -> bytes:
    return specification(Document(samples.IDENTITY, (Section(blocks, landscape),)))


def lines(*blocks: Block) -> list[str]:
    return outline(paper(*blocks))


def found(data: bytes, path: str) -> list[etree._Element]:
    return part(data).findall(path, NAMES)


@pytest.mark.parametrize(
    ("style", "shown"),
    [
        ("body", "Body"),
        ("label", "Label"),
        ("small", "SmallText"),
        ("lead", "Lead"),
        ("title", "Title"),
        ("subtitle", "Subtitle"),
    ],
)
def test_a_paragraph_has_its_style(style: str, shown: str) -> None:
    assert lines(Paragraph(words("Damp the joint."), style)) == [f'{shown} "Damp the joint."']


def test_emphasis_is_bold_and_the_words_round_it_are_not() -> None:
    data = paper(Paragraph((Text("Do "), Strong(words("not")), Text(" cut"))))
    bold = {text_of(run): run.find("w:rPr/w:b", NAMES) is not None for run in found(data, ".//w:r")}
    assert bold == {"Do ": False, "not": True, " cut": False}


def test_a_value_is_told_from_a_word_by_its_character_style() -> None:
    data = paper(Paragraph((Text("rake "), Value("rake_depth_mm", ("e1",), "25 mm"))))
    styles = {text_of(run): attribute(run, "w:rPr/w:rStyle") for run in found(data, ".//w:r")}
    assert styles == {"rake ": "", "25 mm": "Value"}


def test_a_value_prints_as_it_is_spelt() -> None:
    assert lines(Paragraph((Value("title", (), "# **x** {{7*7}} <w:p/>"),))) == ['Body "# **x** {{7*7}} <w:p/>"']


def test_a_reference_reads_as_written_with_its_number_live() -> None:
    target = clause("1.1", "Sand", anchor="clause:sand")
    data = paper(samples.part("1", "M"), target, Paragraph((Text("see "), Ref("clause:sand", "clause 1.1"), Text("."))))
    assert outline(data)[-1] == 'Body "see clause 1.1."'
    (field,) = found(data, ".//w:fldSimple")
    assert (text_of(field), field.get(f"{{{W}}}instr")) == ("1.1", r" REF _Ref_clause___sand \r \h ")


def test_a_reference_that_says_another_number_is_refused() -> None:
    with pytest.raises(ValueError, match=r"says 'clause 11\.1' of 'sand', which is 1\.1"):
        paper(
            samples.part("1", "M"),
            clause("1.1", "Sand", anchor="sand"),
            Paragraph((Ref("sand", "clause 11.1"),)),
        )


def test_a_reference_without_its_number_is_a_link_of_its_words() -> None:
    data = paper(Heading(1, words("Findings"), "front"), Paragraph((Ref("front", "the findings"),)))
    (link,) = found(data, ".//w:hyperlink")
    assert (text_of(link), link.get(f"{{{W}}}anchor")) == ("the findings", "_Ref_front")


def test_a_long_text_in_any_script_arrives_whole() -> None:
    text = ("кладка שיפוץ ترميم 石灰 🧱 " * 250)[:5000].strip()
    assert lines(body(text)) == [f'Body "{text}"']


def test_lists_are_bulleted_or_counted() -> None:
    items = (words("damp"), words("fill"))
    assert lines(ListBlock(items)) == ['Bullet "damp"', 'Bullet "fill"']
    assert lines(ListBlock(items, ordered=True)) == ['Item "(1) damp"', 'Item "(2) fill"']


def test_headings_are_numbered_or_in_front() -> None:
    assert lines(
        Heading(1, words("Before pricing")), Heading(2, words("Findings")), Heading(3, words("Open")),
        Heading(1, words("Materials"), "", "1"), Heading(2, words("Limes"), "", "1.1"),
    ) == [
        'FrontHeading1 "Before pricing"', 'FrontHeading2 "Findings"', 'Heading3 "Open"',
        'Heading1 "1 Materials"', 'Heading2 "1.1 Limes"',
    ]  # fmt: skip


def test_a_heading_set_apart_has_a_style_with_room_above_it() -> None:
    assert lines(Heading(2, words("Why each binder"), apart=True)) == ['PaperHeading "Why each binder"']
    styles = part(paper(body("x")), "word/styles.xml")
    before = {style.get(f"{{{W}}}styleId"): attribute(style, "w:pPr/w:spacing", "before") for style in styles}
    assert int(before["PaperHeading"]) > int(before["FrontHeading2"])


def test_front_headings_stand_in_the_navigation_beside_the_parts() -> None:
    styles = part(paper(body("x")), "word/styles.xml")
    levels = {style.get(f"{{{W}}}styleId"): attribute(style, "w:pPr/w:outlineLvl") for style in styles}
    assert [levels[name] for name in ("Heading1", "FrontHeading1", "Heading2", "FrontHeading2")] == [
        "0",
        "0",
        "1",
        "1",
    ]


def test_a_clause_is_one_control_with_its_id_and_title() -> None:
    data = paper(samples.part("1", "Materials"), clause("1.1", "Sand", body("Sharp."), anchor="sand.grading"))
    assert outline(data)[1:] == ['Clause 1.1 "Sand"', 'Body "Sharp."']
    (control,) = found(data, ".//w:sdt")
    assert attribute(control, "w:sdtPr/w:tag") == "clause:sand.grading"
    assert attribute(control, "w:sdtPr/w:alias") == "Sand"
    assert control.find("w:sdtPr/w:lock", NAMES) is None
    assert attribute(control, ".//w:bookmarkStart", "name") == "_Ref_sand__grading"


def test_a_clause_not_used_keeps_its_number_for_the_next() -> None:
    blocks = (samples.part("1", "M"), clause("1.1", "Not used", used=False), clause("1.2", "Sand"))
    assert lines(*blocks)[1:] == ['Clause 1.1 "Not used"', 'Clause 1.2 "Sand"']


def test_a_table_has_its_caption_heading_row_and_cells() -> None:
    data = paper(samples.JOINTS)
    assert outline(data) == ['Caption "Table 1: Joints and depths by wall"', "Table 5x4"]
    (rows,) = tables(data)
    assert rows[0] == ["Wall", "Masonry", "Joint, mm", "Depth, mm"]
    assert rows[1] == ["Ground floor", "", "", ""]
    assert rows[2] == ["E1 North wall", "soft brick", "8–12", "25"]


def test_a_tables_heading_row_repeats_and_no_row_splits() -> None:
    rows = found(paper(samples.JOINTS), ".//w:tr")
    assert [row.find("w:trPr/w:tblHeader", NAMES) is not None for row in rows] == [True] + [False] * 4
    assert all(row.find("w:trPr/w:cantSplit", NAMES) is not None for row in rows)


def test_a_table_fills_the_line_with_fixed_columns_and_merges_nothing() -> None:
    (table,) = found(paper(samples.JOINTS), ".//w:tbl")
    widths = [int(own(column, "w")) for column in table.findall("w:tblGrid/w:gridCol", NAMES)]
    # 174 mm between the margins, at 1440/25.4 twips a millimetre
    assert sum(widths) == pytest.approx(174 * 1440 / 25.4, abs=2)
    assert attribute(table, "w:tblPr/w:tblLayout", "type") == "fixed"
    assert table.findall(".//w:gridSpan", NAMES) + table.findall(".//w:vMerge", NAMES) == []
    for row in table.findall("w:tr", NAMES):
        assert [int(attribute(cell, "w:tcPr/w:tcW", "w")) for cell in row.findall("w:tc", NAMES)] == widths


def test_no_column_is_so_narrow_that_it_breaks_a_word() -> None:
    narrow = Table(
        (Column("Reference", 0.05), Column("Title", 0.9), Column("Revision", 0.05)),
        (Row((words("P-01"), words("Front elevation with areas hatched"), words("A"))),),
        small=True,
    )
    (table,) = found(paper(narrow), ".//w:tbl")
    widths = [int(own(column, "w")) for column in table.findall("w:tblGrid/w:gridCol", NAMES)]
    assert sum(widths) == pytest.approx(174 * 1440 / 25.4, abs=2)
    assert all(
        width / 20 > text_width_pt(title, 8, True)
        for width, title in zip(widths, ("Reference", "Title", "Revision"), strict=True)
    )


@pytest.mark.parametrize(
    ("columns", "rows", "is_whole"),
    [(1, 9, True), (1, 14, True), (1, 15, False), (2, 6, True), (2, 7, False)],
)
def test_a_table_stays_whole_or_leaves_no_row_alone_at_either_end(columns: int, rows: int, is_whole: bool) -> None:
    table = Table((Column("A", 1.0),), tuple(Row((words(str(number)),)) for number in range(rows)), "Rows")
    data = specification(Document(samples.IDENTITY, (Section((table,), columns=columns),)))
    kept = [row.find(".//w:p/w:pPr/w:keepNext", NAMES) is not None for row in found(data, ".//w:tr")[1:]]
    assert kept == [True, *[is_whole] * (rows - 3), True, False]


def test_a_table_tells_those_who_hear_it_what_it_holds() -> None:
    (table,) = found(paper(samples.JOINTS), ".//w:tbl")
    assert attribute(table, "w:tblPr/w:tblCaption") == "Joints and depths by wall"
    assert attribute(table, "w:tblPr/w:tblDescription") == samples.JOINTS.description


def test_numbers_stand_right_and_words_left() -> None:
    aligned = [attribute(cell, "w:p/w:pPr/w:jc") for cell in found(paper(samples.JOINTS), ".//w:tr[3]/w:tc")]
    assert aligned == ["", "", "right", "right"]


def test_group_and_total_rows_are_bold() -> None:
    rows = found(paper(samples.JOINTS), ".//w:tr")
    assert [row.find(".//w:r/w:rPr/w:b", NAMES) is not None for row in rows[1:]] == [True, False, False, True]


def test_a_column_left_to_a_pen_gives_nothing_of_its_width_to_words_beside_it() -> None:
    told = "M1, putty mortar for brick; raked 25 mm deep, refilled in layers; 35.4 m²"
    blank = (Text("\u00a0\n\u00a0"),)
    columns = (Column("As specified", 0.3), Column("As done", 0.5), Column("Signed", 0.2))
    table = Table(columns, (Row((words(told), blank, blank)), Row((blank, blank, blank))))
    assert fitting()(table, 10_000) == (3000, 5000, 2000)
    written = Table(columns, (Row((words(told), words("as specified"), words("B. B."))),))
    assert fitting()(written, 10_000)[0] > 3000


def test_upright_rules_part_all_columns_of_a_form_printed_ones_too_and_none_of_a_table_without_a_pen() -> None:
    titles = ("Wall", "Coat", "Done", "Signed")
    columns = tuple(Column(title, 0.25, for_pen=title in titles[2:]) for title in titles)
    data = paper(Table(columns, (Row((words("North"), words("first"), (), ())),)))
    sides = [
        [side for side in ("left", "right") if cell.find(f"w:tcPr/w:tcBorders/w:{side}", NAMES) is not None]
        for cell in found(data, ".//w:tc")
    ]
    assert sides == 2 * [["right"], ["left", "right"], ["left", "right"], ["left"]]
    assert not found(paper(samples.JOINTS), ".//w:tcBorders/w:left")


def test_a_groups_words_go_to_the_first_column_wide_enough() -> None:
    narrow = Table(
        (Column("Ref", 0.08), Column("Work", 0.92)),
        (Row((words("E1 North wall, ground to eaves"), ()), "group"),),
    )
    assert tables(paper(narrow)) == [[["Ref", "Work"], ["", "E1 North wall, ground to eaves"]]]


def test_a_table_without_titles_has_no_heading_row() -> None:
    pairs = Table((Column("", 0.3), Column("", 0.7)), (Row((words("Wall"), words("E1"))),))
    data = paper(pairs)
    assert tables(data) == [[["Wall", "E1"]]]
    assert found(data, ".//w:tblHeader") == []


def test_tables_that_follow_one_another_do_not_grow_together() -> None:
    plain = Table((Column("A", 1.0),), (Row((words("b"),)),))
    tags = [etree.QName(child).localname for child in only(part(paper(plain, plain)), "w:body")]
    assert tags == ["tbl", "p", "tbl", "p", "sectPr"]


def test_a_caption_that_says_its_word_is_not_given_it_twice() -> None:
    given = Table((Column("A", 1.0),), (), "Sands", "t", "Table 4")
    assert lines(given)[0] == 'Caption "Table 4: Sands"'


def test_the_caption_of_a_figure_that_goes_on_is_numbered_in_bold_as_every_other() -> None:
    figure = Figure(samples.DRAWING, "The programme", number="14, continued")
    assert lines(figure)[1] == 'Caption "Figure 14, continued: The programme"'
    bold = {text_of(run): run.find("w:rPr/w:b", NAMES) is not None for run in found(paper(figure), ".//w:r")}
    assert bold["Figure 14, continued"]
    assert not bold["The programme"]


@pytest.mark.parametrize("level", ["note", "warning", "refusal", "block", "hazard"])
def test_a_notice_is_a_box_of_bordered_paragraphs_alike(level: str) -> None:
    data = paper(Notice(level, "Warning. Lime burns", (body("Goggles."), ListBlock((words("rinse"),)))))
    assert outline(data) == ['NoticeTitle "Warning. Lime burns"', 'Notice "Goggles."', 'Notice "rinse"']
    looks = {
        (etree.tostring(only(p, "w:pPr/w:pBdr")), etree.tostring(only(p, "w:pPr/w:ind"))) for p in found(data, ".//w:p")
    }
    assert len(looks) == 1


def test_notices_that_touch_stay_two_boxes() -> None:
    notice = Notice("note", "Note", (body("x"),))
    indents = [attribute(p, "w:pPr/w:ind", "left") for p in found(paper(notice, notice), ".//w:p")]
    assert len(indents) == 4
    assert indents[0] == indents[1] != indents[2] == indents[3]


def test_a_figure_carries_its_words_and_caption() -> None:
    assert lines(samples.FIGURE) == [
        f'Figure "{samples.DRAWING.alt}"',
        'Caption "Figure 1: Joint raked square"',
    ]


def test_a_drawing_shown_twice_is_stored_once() -> None:
    data = paper(samples.FIGURE, Figure(replace(samples.DRAWING)))
    assert [name for name in parts(data) if name.startswith("word/media/")] == ["word/media/image1.png"]


def test_a_picture_is_kept_as_the_file_it_is_with_its_words() -> None:
    stream = io.BytesIO()
    Image.new("RGB", (64, 48), (90, 60, 40)).save(stream, "JPEG", dpi=(200, 200))
    figure = Figure(Picture(stream.getvalue(), 80.0, 60.0, "A brick front."), "F1: the front", "figure-f1", "1")
    assert lines(figure) == ['Figure "A brick front."', 'Caption "Figure 1: F1: the front"']
    data = paper(figure, replace(figure, anchor="", number=""))
    stored = {name: content for name, content in parts(data).items() if name.startswith("word/media/")}
    assert list(stored.values()) == [stream.getvalue()]
    extents = {(extent.get("cx"), extent.get("cy")) for extent in found(data, ".//wp:extent")}
    assert extents == {("2880000", "2160000")}


def test_a_drawing_wider_than_the_line_is_scaled_whole() -> None:
    data = paper(Figure(Drawing(298, 100, "A long wall.")))
    extent = only(part(data), ".//wp:extent")
    width, height = (int(extent.get(side, "")) for side in ("cx", "cy"))
    assert width == pytest.approx(174 * 36_000, rel=0.001)
    assert height == pytest.approx(width * 100 / 298, rel=0.001)


def test_a_page_break_starts_the_next_paragraph_on_a_new_page_and_leaves_none_empty() -> None:
    data = paper(body("one"), PageBreak(), body("two"))
    breaks = {text_of(p): p.find("w:pPr/w:pageBreakBefore", NAMES) is not None for p in found(data, ".//w:p")}
    assert breaks == {"one": False, "two": True}


def test_a_heading_can_start_a_page() -> None:
    data = paper(body("one"), Heading(1, words("M"), "", "1", starts_page=True))
    assert [text_of(p) for p in found(data, ".//w:p") if p.find("w:pPr/w:pageBreakBefore", NAMES) is not None] == ["M"]


def test_contents_list_numbered_headings_and_clauses_to_their_depth() -> None:
    blocks = (samples.part("1", "Materials"), clause("1.1", "Sand"), Heading(1, words("Index")))
    assert lines(Contents("Contents"), *blocks)[:3] == [
        'TOCHeading "Contents"',
        'TOC1 "1 Materials 1"',
        'TOC2 "1.1 Sand"',
    ]
    assert lines(Contents("Contents", depth=1), *blocks)[:3] == [
        'TOCHeading "Contents"', 'TOC1 "1 Materials 1"', 'Heading1 "1 Materials"',
    ]  # fmt: skip


def test_contents_give_page_numbers_that_were_told_or_reckoned_and_none_in_a_look_that_was_not_measured() -> None:
    blocks = (Contents("Contents"), samples.part("1", "Materials"), clause("1.1", "Sand"))
    document = Document(samples.IDENTITY, (Section(blocks),))
    other = replace(plain_look("a4"), faces=("Georgia",))
    reckoned, without = specification(document), specification(document, house=other)
    told = specification(document, {"part-1": 3, "clause-1-1": 4})
    assert 'TOC1 "1 Materials 1"' in outline(reckoned)
    assert 'TOC1 "1 Materials 3"' in outline(told)
    assert 'TOC2 "1.1 Sand"' in outline(told)
    for data, numbered in ((reckoned, True), (told, True), (without, False)):
        assert (b"PAGEREF" in samples.body_of(data), b"\\n" in samples.body_of(data)) == (numbered, not numbered)


def test_contents_give_a_page_to_what_stands_before_and_after_the_parts() -> None:
    before, after = (Heading(1, words(title), anchor=f"front:{title}") for title in ("Sheet", "Prices"))
    document = Document(samples.IDENTITY, (Section((Contents("Contents"), before, samples.part("1", "Sand"), after)),))
    told = outline(specification(document, {"front:Sheet": 2, "part-1": 3, "front:Prices": 4}))
    assert told[1:4] == ['TOC2 "Sheet (2)"', 'TOC1 "1 Sand 3"', 'TOC1 " Prices 4"']


def test_contents_run_the_clauses_of_a_part_on_in_one_line() -> None:
    clauses = (clause("1.1", "Sand"), clause("1.2", "Lime"))
    found_lines = lines(Contents("Contents"), samples.part("1", "Materials"), *clauses)
    assert found_lines[:3] == ['TOCHeading "Contents"', 'TOC1 "1 Materials 1"', 'TOC2 "1.1 Sand · 1.2 Lime"']


def test_no_line_of_contents_run_on_begins_with_a_page_or_a_point() -> None:
    heads = [Heading(1, words(title), anchor=f"front:{title}") for title in ("Sheet", "Prices")]
    document = Document(samples.IDENTITY, (Section((Contents("Contents"), *heads)),))
    data = specification(document, {"front:Sheet": 2, "front:Prices": 4})
    (line,) = (one for one in found(data, ".//w:p") if text_of(one).startswith("Sheet (2)"))
    told = "".join(str(one.text) for one in line.iter(f"{{{W}}}t"))
    assert told == "Sheet~(2)~· Prices~(4)".replace("~", "\N{NO-BREAK SPACE}")


class Unheard:
    """A block no renderer knows."""


UNHEARD: Any = Unheard()


@pytest.mark.parametrize(
    ("block", "error"),
    [
        pytest.param(UNHEARD, TypeError, id="a block not of the model"),
        pytest.param(Paragraph((UNHEARD,)), TypeError, id="content not of the model"),
        pytest.param(Paragraph(words("x"), "shouted"), ValueError, id="a style not of the model"),
        pytest.param(Notice("loud", "x", ()), ValueError, id="a level not of the model"),
        pytest.param(Notice("note", "x", (PageBreak(),)), TypeError, id="a page break in a notice"),
        pytest.param(Heading(4, words("x")), ValueError, id="a fourth level"),
        pytest.param(Table((Column("A", 1.0),), (Row(((), ())),)), ValueError, id="a cell too many"),
        pytest.param(Table((Column("A", 1.0),), (Row(((),), "odd"),)), ValueError, id="an odd row"),
        pytest.param(Paragraph((Ref("nowhere", "9.9"),)), ValueError, id="a reference to nothing"),
    ],
)
def test_what_the_model_does_not_know_is_refused(block: Any, error: type[Exception]) -> None:
    with pytest.raises(error):
        paper(block)


def test_two_things_of_one_name_are_refused() -> None:
    with pytest.raises(ValueError, match="twin"):
        paper(Heading(1, words("a"), "twin", "1"), Heading(1, words("b"), "twin", "2"))


def test_a_short_table_is_not_parted_from_the_figure_after_it() -> None:
    short = Table((Column("A", 1.0),), (Row((words("b"),)), Row((words("c"),))), "Two rows")
    for following, kept in ((samples.FIGURE, [True, True]), (body("text"), [True, False])):
        rows = found(paper(short, following), ".//w:tr")[1:]
        assert [row.find(".//w:p/w:pPr/w:keepNext", NAMES) is not None for row in rows] == kept


def test_a_figure_is_not_parted_from_the_check_after_it_so_that_no_column_begins_with_a_check() -> None:
    figure = Figure(Drawing(60.0, 20.0, "A joint."), "Raking out")
    check = Paragraph(words("Check: by eye."), "label")
    captions = [
        next(one for one in found(paper(*blocks), ".//w:p") if text_of(one).endswith("Raking out"))
        for blocks in ((figure, check), (figure, Paragraph(words("More words."))))
    ]
    assert [one.find("w:pPr/w:keepNext", NAMES) is not None for one in captions] == [True, False]


def test_the_number_of_a_clause_keeps_to_its_word() -> None:
    told = Paragraph((Text("as "), Ref("clause-2-1", "clause 2.1"), Text(".")))
    data = paper(told, samples.part("2", "Raking"), clause("2.1", "Depth"))
    line = next(one for one in found(data, ".//w:p") if text_of(one) == "as clause 2.1.")
    assert "clause\N{NO-BREAK SPACE}" in "".join(map(str, line.itertext()))


def test_what_stands_beside_a_word_at_the_edge_ends_there_on_every_line_that_it_takes() -> None:
    told = tuple(part for at in range(1, 60) for part in (Text(f"{at}.10–{at}.11"), Text(", ")))[:-1]
    data = paper(Pairs("Lines", (((Text("Wall, access"),), told),)))
    (line,) = (one for one in found(data, ".//w:p") if text_of(one).startswith("Wall, access"))
    ends = [part.tag.rpartition("}")[2] for part in line.iter() if part.tag.endswith(("}br", "}tab", "}t"))]
    breaks = [at for at, kind in enumerate(ends) if kind == "br"]
    assert len(breaks) > 3
    assert all(ends[at + 1] == "tab" for at in breaks)


@pytest.mark.parametrize(
    ("title", "bound"), [("Wall, three times, °C", "times,~°C"), ("Bulking of sand, per cent", "per~cent")]
)
def test_the_unit_of_a_column_keeps_to_the_word_before_it(title: str, bound: str) -> None:
    data = paper(Table((Column(title, 0.5), Column("Signed", 0.5)), (Row(((), ())),)))
    (head,) = (one for one in found(data, ".//w:p") if text_of(one).startswith(title.split()[0]))
    assert bound.replace("~", "\N{NO-BREAK SPACE}") in "".join(map(str, head.itertext()))


def test_a_box_to_tick_is_drawn_so_large_that_a_copier_keeps_its_sides_in_a_line_no_higher_for_it() -> None:
    (line,) = found(
        paper(Paragraph((Strong(words("Salts")), Text(":  □\u00a0none  □\u00a0some")), "asked")), ".//w:body/w:p"
    )
    sizes = [(text_of(run), run.find("w:rPr/w:sz", NAMES)) for run in line.findall("w:r", NAMES)]
    boxes = [int(own(size, "val")) / 2 for text, size in sizes if text == "□" and size is not None]
    sides_pt = [points * (82 - 6) / 2048 for points in boxes]  # of its glyph in the face
    assert len(boxes) == 2
    assert all(side >= 0.45 for side in sides_pt)
    assert "".join(text for text, _ in sizes) == "Salts:  □ none  □ some"
    asked = type_styles(plain_look("a4").styles).paragraphs["Asked"]
    assert asked.line_height(13) == asked.line_height(9)


def test_what_runs_on_below_a_question_stands_in_from_it_and_leaves_a_pen_so_much_less() -> None:
    look = plain_look("a4")
    assert type_styles(look.styles).paragraphs["Asked"].left == ASKED_HANG
    line_pt, hang_pt = look.geometry.upright.line / TWIPS_PER_PT, ASKED_HANG / TWIPS_PER_PT
    said = 3 * "On what day, as far as anybody knows, was the face of this wall last mended? "
    lines = wrap(said.strip(), line_pt - hang_pt, 9)
    assert len(lines) > 1
    left_mm = (line_pt - text_width_pt(lines[-1], 9)) / POINTS_PER_MM
    for room_mm, is_parted in ((left_mm - 1, True), (left_mm - 4, False)):
        data = paper(Paragraph((*words(said.strip()), Text("\t")), "asked", room_mm))
        (asked,) = (one for one in found(data, ".//w:p") if text_of(one).startswith(lines[0]))
        assert bool(asked.findall(".//w:br", NAMES)) == is_parted


def test_what_stands_at_the_end_of_a_line_to_write_on_is_never_broken() -> None:
    data = paper(Paragraph((Strong(words("Share")), Text(": \tleast, greatest (usual), %")), "asked"))
    (line,) = (one for one in found(data, ".//w:p") if text_of(one).startswith("Share"))
    said = "".join(map(str, line.itertext()))
    assert said.endswith("least, greatest (usual), %".replace(" ", "\N{NO-BREAK SPACE}"))


@pytest.mark.parametrize(
    ("said", "room_mm", "is_parted"),
    [
        ("Completion:", 26.0, False),
        ("Late frost, the latest last frost in ten springs, on the register of the place:", 26.0, False),
        ("Place:", 150.0, True),
        ("Place, as its owner names it in his letters, and as the parish register has it nowadays:", 26.0, True),
    ],
)  # fmt: skip
def test_a_line_to_write_on_has_a_line_more_where_its_words_leave_a_pen_less_than_its_room(
    said: str, room_mm: float, is_parted: bool
) -> None:
    data = paper(Paragraph((Strong(words(said)), Text("\tday, month, year")), "asked", room_mm))
    (line,) = (one for one in found(data, ".//w:p") if text_of(one).startswith(said[:5]))
    kinds = [part.tag.rpartition("}")[2] for part in line.iter() if part.tag.endswith(("}br", "}tab"))]
    assert kinds[-2:] == (["br", "tab"] if is_parted else ["tab", "tab"])  # the first is the place of its tab


def test_the_last_short_word_of_what_is_broken_over_lines_keeps_to_the_one_before_it_and_adds_no_line() -> None:
    said = "Look before you climb or open anything, and set no ladder over a roof; use field glasses instead of it."
    kept = said.replace(" it.", "\u00a0it.")
    long: list[Block] = [body(said), Paragraph(words(said), "small"), ListBlock((words(said),))]
    assert all(kept in "".join(map(str, part(paper(block)).itertext())) for block in long)
    for width_pt in range(100, 400, 10):
        assert len(wrap(kept, width_pt, 9)) == len(wrap(said, width_pt, 9))
    table = Table((Column("A", 1.0),), (Row((words(said),)),))
    other: list[Block] = [body("Rake by 25 mm deep."), body(f"{said[:-3]}independently."), table]
    told = "".join(str(text) for block in other for text in part(paper(block)).itertext())
    assert not {end for end in ("it.", "deep", "independently") if f"\u00a0{end}" in told}


def test_a_short_option_keeps_whole_and_to_its_box() -> None:
    short, long = "a wall in salt-laden spray", "what is no part of this work is put right by others before it"
    said = f":  □\u00a0{short}  □\u00a0{long}  □\u00a0{short}"
    data = paper(Paragraph((*words("Where"), Text(said)), "asked"))
    (line,) = (one for one in found(data, ".//w:p") if text_of(one).startswith("Where"))
    kept = short.replace(" ", "\u00a0").replace("-", "\N{NON-BREAKING HYPHEN}")
    assert "".join(map(str, line.itertext())) == "Where" + said.replace(short, kept)


def test_a_heading_over_lines_to_write_on_stands_at_the_foot_with_no_fewer_than_two() -> None:
    lines = [Paragraph(words(f"Asked {number}\t"), "asked") for number in range(3)]
    data = paper(Heading(2, words("Work"), anchor="work:one"), *lines)
    keeping = [
        one.find("w:pPr/w:keepNext", NAMES) is not None for one in found(data, ".//w:p") if "Asked" in text_of(one)
    ]
    assert keeping == [True, False, False]


def test_a_swatch_stands_in_its_line_at_its_own_size_and_tells_what_it_shows() -> None:
    drawn = swatch("rise", "hatched with rising lines")
    data = paper(Table((Column("Area", 1.0),), (Row(((Swatch(drawn), Text(" A")),)),)))
    (placed,) = found(data, ".//w:tc//wp:inline")
    told, extent = only(placed, "wp:docPr"), only(placed, "wp:extent")
    assert told.get("descr") == "hatched with rising lines"
    assert [round(int(extent.get(side, "0")) / 36_000, 1) for side in ("cx", "cy")] == [9.0, 2.7]
    assert text_of(found(data, ".//w:tc")[-1]).strip() == "A"


def test_a_long_table_is_given_row_by_row_and_never_put_together() -> None:
    rows = tuple(Row((words(f"wall {number}"), words("–"))) for number in range(300))
    table = Table((Column("Where", 1), Column("What", 1)), rows)
    on = Paper({}, (), False, str, fitting(), ("Table", "Figure"), plain_look("a4").geometry)
    pieces = list(blocks((table,), on))
    assert all(piece.count("<w:tr>") <= 1 for piece in pieces)
    assert "".join(pieces).count("<w:tr>") == 301


def told(*rows: tuple[str, str]) -> Table:
    """The small table of one value of a clause, a row for each place that has it."""
    columns = (Column("Where", 0.7), Column("Rest", 0.3))
    return Table(
        columns, tuple(Row((words(where), words(value))) for where, value in rows), description="d", small=True
    )


def in_a_clause(table: Table) -> bytes:
    text, check = Paragraph(words("Let it rest.")), Paragraph((Strong(words("Check:")), *words(" Look.")), "label")
    return paper(replace(clause("1.1", "a"), blocks=(text, table, check)))


def test_one_value_of_few_places_runs_on_in_the_text_of_its_clause() -> None:
    data = in_a_clause(told(("M1", "7 days"), ("M2", "3 days")))
    assert not tables(data)
    assert any(
        "Let it rest. Rest: M1: 7 days; M2: 3 days. Check:" in line.replace("\xa0", " ") for line in outline(data)
    )


def test_a_value_that_runs_on_keeps_to_its_name_and_a_line_may_end_on_either_side_of_a_label() -> None:
    data = in_a_clause(told(("Chimney stack", "20 mm"), ("Gable", "50 mm")))
    said = "".join(map(str, part(data).itertext()))
    assert "rest. Rest: Chimney stack:\u00a020\u00a0mm; Gable:\u00a050\u00a0mm. Check: Look." in said


@pytest.mark.parametrize(
    "rows",
    [
        [(f"M{number}", f"{number} days") for number in range(1, 5)],
        [("Front wall; Rear wall", "7 days"), ("Gable", "3 days")],
        [("M1", "7 days"), ("the chamber ceiling where old plaster has fallen, pricking-up coat", "3 days")],
    ],
    ids=["many places", "places that are parted alike", "a long place"],
)
def test_a_value_of_many_or_long_places_keeps_its_table(rows: list[tuple[str, str]]) -> None:
    assert len(tables(in_a_clause(told(*rows)))) == 1
