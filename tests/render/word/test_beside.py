"""Sections with a narrow column beside their text: where it stands, and what fits a page whole."""

from __future__ import annotations

from docx_reading import NAMES, W, attribute, only, own, part, text_of
from lxml import etree
from render import samples

from generator.document.model import (
    LINE_ANCHOR,
    LINE_NUMBERS,
    Block,
    Column,
    Document,
    Heading,
    ListBlock,
    Mark,
    Pairs,
    Paragraph,
    Ref,
    Row,
    Section,
    Step,
    Steps,
    Table,
    Text,
    Value,
)
from generator.drawing.text import text_width_pt
from generator.render.check.papers import faults
from generator.render.word.document import specification
from generator.render.word.styles import NARROW_MARGIN
from generator.values import replace

WORDS = "Rake failed joints by hand and show them before any is filled. "


def head(number: int) -> Heading:
    return Heading(1, (Text(f"Sheet {number}"),), anchor=f"element:{number}")


def steps(count: int, first: int = 1) -> Steps:
    return Steps(tuple(Step((Text(f"Step {index}."),)) for index in range(count)), first)


def dates(count: int) -> Pairs:
    return Pairs("Dates", tuple(((Text(f"Day {index}"),), (Text("1 May"),)) for index in range(count)))


def sheet(*works: tuple[Block, ...], side: tuple[Block, ...] = (dates(3),)) -> Document:
    sections = [Section((head(1),), header="Front wall")]
    sections += [Section(blocks, header="Front wall", side=side, continues=True) for blocks in works]
    return Document(samples.IDENTITY, tuple(sections))


def setups(data: bytes) -> list[etree._Element]:
    return list(part(data).iter(f"{{{W}}}sectPr"))


def kinds(data: bytes) -> list[str]:
    return [attribute(setup, "w:type") for setup in setups(data)]


def test_what_is_beside_follows_a_break_of_the_column_in_a_column_of_its_own_width() -> None:
    data = specification(sheet((steps(3),)))
    assert faults(data) == []
    columns = only(setups(data)[-1], "w:cols")
    assert own(columns, "equalWidth") == "0"
    assert [round(int(own(one, "w")) / 56.7) for one in columns.findall("w:col", NAMES)] == [114, 54]
    paragraphs = list(part(data).iter(f"{{{W}}}p"))
    (broken,) = [one for one in paragraphs if one.find(".//w:br[@w:type='column']", NAMES) is not None]
    assert text_of(broken).strip() == "Dates"
    told = [text_of(one) for one in paragraphs]
    assert told.index("Step 2.") < told.index(text_of(broken)) < told.index("Day 0 1 May")


def test_the_heads_of_two_columns_side_by_side_have_no_space_above_them_so_that_they_stand_on_one_line() -> None:
    lists = (dates(3),), (Pairs("As found", (((Text("Access"),), (Text("a tower"),)),)),)
    told = {text_of(one).strip(): one for one in part(specification(sheet(lists[0], side=lists[1]))).iter(f"{{{W}}}p")}
    for head, first in (("Dates", "Day 0 1 May"), ("As found", "Access a tower")):
        assert attribute(told[head], "w:pPr/w:spacing", "before") == "0"
        assert told[first].find("w:pPr/w:spacing", NAMES) is None


def test_two_heads_side_by_side_stand_off_what_is_above_them_by_a_line_of_its_own_and_nothing_else_does() -> None:
    heads = sheet((dates(2), steps(2)), side=(dates(3),))
    for document, over in ((heads, ["100"]), (sheet((steps(2),)), [])):
        ends = [one.find("w:pPr", NAMES) for one in part(specification(document)).iter(f"{{{W}}}p")]
        own_lines = [one.find("w:spacing[@w:lineRule='exact']", NAMES) for one in ends if one is not None]
        assert [own(one, "line") for one in own_lines if one is not None] == over


def test_a_table_right_below_its_text_stands_off_it_and_one_with_a_caption_by_the_caption() -> None:
    rows = (Row(((Text("Front wall"),), (Text("5 days"),))),) * 4
    bare = Table((Column("Where", 0.5), Column("Days", 0.5)), rows, small=True)
    after = {}
    for block in (bare, replace(bare, caption="Days"), samples.body("More.")):
        document = Document(samples.IDENTITY, (Section((samples.body("Keep it damp."), block), columns=2),))
        (text,) = [one for one in part(specification(document)).iter(f"{{{W}}}p") if text_of(one) == "Keep it damp."]
        spaced = text.find("w:pPr/w:spacing", NAMES)
        after[block] = 0 if spaced is None else int(own(spaced, "after"))
    assert [space >= 60 for space in after.values()] == [True, False, False]


def test_a_table_in_a_narrow_column_gives_its_words_the_room_of_wide_edges() -> None:
    labels = ("Panel answered", "Lime first laid", "Kept damp to")
    rows = tuple(Row(((Text(label),), *(((Text("26 Aug"),),) * 3))) for label in labels)
    beside = Table(
        (Column("Work", 0.4), *(Column(name, 0.2) for name in ("take off", "render", "wash"))), rows, small=True
    )
    made = part(specification(sheet((steps(3),), side=(dates(1), beside))))
    (table,) = made.findall(".//w:tbl", NAMES)
    assert {own(side, "w") for side in only(table, "w:tblPr/w:tblCellMar")} == {str(NARROW_MARGIN)}
    first, *_ = (int(own(column, "w")) for column in only(table, "w:tblGrid"))
    room_pt = (first - 2 * NARROW_MARGIN) / 20
    assert all(text_width_pt(label, 8) < room_pt for label in labels)
    across = part(specification(Document(samples.IDENTITY, (Section((beside,)),))))
    assert across.find(".//w:tblCellMar", NAMES) is None


def test_works_go_on_the_page_of_their_wall_while_they_fit_it_whole() -> None:
    assert kinds(specification(sheet((steps(10),), (steps(10, 11),)))) == ["nextPage", "continuous", "continuous"]
    assert kinds(specification(sheet((steps(40),), (steps(40, 41),)))) == ["nextPage", "continuous", "nextPage"]


def test_the_higher_of_the_two_columns_decides() -> None:
    high = (dates(30),)
    assert kinds(specification(sheet((steps(1),), (steps(1, 2),), side=high))) == ["nextPage", "continuous", "nextPage"]


def test_what_is_higher_than_a_page_has_nothing_beside_it_so_that_it_cannot_run_into_it() -> None:
    data = specification(sheet((steps(90),)))
    assert faults(data) == []
    assert setups(data)[-1].find("w:cols", NAMES) is None
    assert text_of(part(data)).count("1 May") == 3


def test_works_of_one_section_go_on_over_pages_each_with_what_fits_beside_it_and_lose_nothing() -> None:
    works = [block for at in range(3) for block in (Heading(2, (Text(f"Work {at}"),)), steps(30, 1 + 30 * at))]
    data = specification(sheet(tuple(works), side=tuple(dates(20) for _ in range(3))))
    assert faults(data) == []
    assert kinds(data) == ["nextPage", "continuous", "nextPage"]
    assert [setup.find("w:cols", NAMES) is not None for setup in setups(data)] == [False, True, True]
    told = text_of(part(data))
    assert [told.count(f"Work {at}") for at in range(3)] == [1, 1, 1]
    assert told.count("Step 29.") == told.count("Day 19") == 3


def test_a_sheet_a_little_higher_than_its_page_leaves_no_page_with_its_head_alone() -> None:
    """Four works that fill a page but for three lines begin below the head, and the last of them goes on overleaf."""
    works = [block for at in range(4) for block in (Heading(2, (Text(f"Work {at}"),)), steps(14, 1 + 14 * at))]
    document = sheet(tuple(works))
    lead, body = document.sections
    described = replace(lead, blocks=(*lead.blocks, samples.body(WORDS * 6)))
    data = specification(replace(document, sections=(described, body)))
    assert faults(data) == []
    assert kinds(data) == ["nextPage", "continuous", "nextPage"]
    told = [text_of(one) for one in part(data).iter(f"{{{W}}}p")]
    assert [told.count(f"Work {at}") for at in range(4)] == [1, 1, 1, 1]
    ends = [
        index for index, one in enumerate(part(data).iter(f"{{{W}}}p")) if one.find("w:pPr/w:sectPr", NAMES) is not None
    ]
    assert ends[0] < told.index("Work 0") < told.index("Work 2") < ends[1] < told.index("Work 3")


def test_steps_count_on_through_a_sheet_and_begin_anew_on_the_next() -> None:
    document = sheet((steps(2),), (steps(2, 3),))
    data = specification(replace(document, sections=(*document.sections, Section((head(2), steps(2))))))
    lists = [
        attribute(paragraph, "w:pPr/w:numPr/w:numId")
        for paragraph in part(data).iter(f"{{{W}}}p")
        if text_of(paragraph).startswith("Step ")
    ]
    assert lists[:4] == [lists[0]] * 4
    assert lists[4:] == [lists[4]] * 2
    assert lists[4] != lists[0]


def test_what_a_step_rests_on_stands_at_the_edge_of_its_column_unbroken_and_live() -> None:
    rests = (Ref("clause-2-1", "2.1"), Text("–"), Ref("clause-2-2", "2.2"), Text(", "), Ref("clause-2-3", "2.3"))
    clauses = [samples.clause(f"2.{n}", "A clause") for n in (1, 2, 3)]
    step = Steps((Step((Text("Rake."),), rests),))
    document = Document(samples.IDENTITY, (Section((step, samples.part("2", "Raking"), *clauses)),))
    paragraph = next(one for one in part(specification(document)).iter(f"{{{W}}}p") if "Rake." in text_of(one))
    assert text_of(paragraph) == "Rake. 2.1–2.2, 2.3"
    assert "".join(map(str, paragraph.itertext())).endswith("2.1\u2060–\u20602.2,\u00a02.3")
    assert len(paragraph.findall("w:fldSimple", NAMES)) == 3
    assert attribute(paragraph, "w:pPr/w:tabs/w:tab") == "right"


def test_a_pair_too_wide_for_its_line_puts_its_figure_on_the_next() -> None:
    long = Pairs("As found", (((Text("Access"),), (Text("a scaffold with a stage on the roof"),)),))
    told = [text_of(one) for one in part(specification(sheet((steps(1),), side=(long,)))).iter(f"{{{W}}}p")]
    assert "Access\n a scaffold with a stage on the roof" in told


def test_text_of_columns_and_of_lists_stands_by_its_style_alone() -> None:
    blocks = (
        samples.body(WORDS),
        samples.clause("1.1", "A clause", samples.body(WORDS), samples.label("Check", WORDS)),
    )
    for columns in (1, 2):
        document = Document(samples.IDENTITY, (Section((samples.part("1", "A part"), *blocks), columns=columns),))
        assert part(specification(document)).findall(".//w:body//w:pPr/w:ind", NAMES) == []


def test_where_a_clause_applies_and_its_check_run_on_with_its_words() -> None:
    reach, check = Paragraph((Text("A wall."),), "small"), samples.label("Check", "By eye.")
    clause = samples.clause("1.1", "A clause", reach, samples.body("First."), samples.body("Words."), check)
    data = specification(Document(samples.IDENTITY, (Section((samples.part("1", "A part"), clause), columns=2),)))
    told = {text_of(one).strip(): one for one in part(data).iter(f"{{{W}}}p")}
    assert {"A wall. First.", "Words. Check: By eye."} <= told.keys()
    line = told["Words. Check: By eye."]
    styled = [run.find("w:rPr/w:rStyle", NAMES) is not None for run in line.findall("w:r", NAMES)]
    assert (styled[0], styled[-1]) == (False, True)
    assert line.find("w:pPr/w:keepNext", NAMES) is None


def test_a_check_without_words_before_it_keeps_to_the_list_that_it_checks() -> None:
    listed = ListBlock(((Text("one"),), (Text("two"),)))
    clause = samples.clause("1.1", "A clause", samples.body(WORDS), listed, samples.label("Check", WORDS))
    data = specification(Document(samples.IDENTITY, (Section((samples.part("1", "A part"), clause), columns=2),)))
    (last,) = [one for one in part(data).iter(f"{{{W}}}p") if text_of(one) == "two"]
    assert last.find("w:pPr/w:keepNext", NAMES) is not None


def test_a_number_keeps_to_its_unit_from_run_to_run() -> None:
    line = Paragraph((Text("Rake "), Value("depth", (), "25"), Text(" mm deep, 8–12 mm wide.")))
    data = specification(Document(samples.IDENTITY, (Section((line,)),)))
    assert "25\u00a0mm deep, 8\u2060–\u206012\u00a0mm wide." in "".join(map(str, part(data).itertext()))


def test_the_clauses_of_a_long_step_stand_with_its_last_words_and_not_on_a_line_alone() -> None:
    told, limewash = "Mend and brush; try water drops all over. ", Value("extent", ("a",), "Limewash what drinks")
    long = Step((Text(told), limewash, Text(".")), (Text("14.1, 14.2, 14.4"),))
    short = Step((Text("Mend and brush."),), (Text("14.1"),))
    data = part(specification(sheet((Steps((long, short)),))))
    broken, whole = (one for one in data.iter(f"{{{W}}}p") if text_of(one).startswith("Mend and brush"))
    pieces = ["\n" if one.tag == f"{{{W}}}br" else one.text or "" for one in broken.iter(f"{{{W}}}br", f"{{{W}}}t")]
    first, last = "".join(pieces).split("\n")
    assert first.endswith("all over.")
    assert last.startswith("Limewash what drinks.")
    assert whole.find(".//w:br", NAMES) is None


def test_the_number_of_a_line_to_price_keeps_to_the_word_before_it() -> None:
    line = Paragraph((Text("as line "), Value(LINE_NUMBERS, (), "8.18"), Text(".")))
    data = specification(Document(samples.IDENTITY, (Section((line,)),)))
    assert "as line\u00a08.18." in "".join(map(str, part(data).itertext()))


def test_the_same_words_are_spelt_as_each_place_and_paper_needs_them() -> None:
    lines = (
        Paragraph((Value("depth", (), "25"), Text(" mm deep."))),
        Paragraph((Text("Rake by"), Text(" mm deep."))),
        Paragraph((Value(LINE_NUMBERS, (), "25"), Text(" mm deep."))),
    )
    priced = Table((Column("Line", 1.0),), (Row(((Mark(f"{LINE_ANCHOR}25", "25"),),)),))
    bare, live = (specification(Document(samples.IDENTITY, (Section((*lines, *more)),))) for more in ((), (priced,)))
    told = [list(part(data).iter(f"{{{W}}}p"))[:3] for data in (bare, live)]
    fields = [[one.find("w:fldSimple", NAMES) is not None for one in paragraphs] for paragraphs in told]
    assert fields == [[False, False, False], [False, False, True]]
    assert "25\u00a0mm deep.Rake by mm deep.25\u00a0mm deep." in "".join(map(str, part(bare).itertext()))
