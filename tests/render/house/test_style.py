"""A practice's own look: what it gives the papers, what it cannot touch, and what is refused, each in a clear line."""

from __future__ import annotations

import io
import random
import re
import zipfile
from collections.abc import Callable
from pathlib import Path

import docx
import pytest
from docx.document import Document as WordDocument
from docx.enum.section import WD_ORIENT
from docx.shared import Mm, Pt, RGBColor
from docx_reading import NAMES, W, attribute, only, outline, part, parts, tables, words_of
from helpers import slow_but
from jobs import shipped
from lxml import etree
from ooxml_integrity import check
from openxml_audit.validator import OpenXmlValidator
from render import samples

from generator.document.model import Document
from generator.drawing.png import png
from generator.render.check.papers import faults, lines
from generator.render.house.sample import style_sample
from generator.render.house.style import OUR_OWN, HouseStyleUnusable, house_style
from generator.render.word.document import specification
from generator.render.word.look import plain_look
from generator.render.word.package import packed
from generator.values import replace

WORDS = {**shipped().words}
SAMPLE = style_sample(WORDS, "en-GB")
MAIN, STYLES = "word/document.xml", "word/styles.xml"
LOGO = png(samples.DRAWING, dpi=60)
Edit = Callable[[WordDocument], None]
Spoil = Callable[[dict[str, bytes]], None]


def edited(*edits: Edit) -> bytes:
    """The shipped file as somebody has changed it by an independent program."""
    document = docx.Document(io.BytesIO(SAMPLE))
    for edit in edits:
        edit(document)
    stream = io.BytesIO()
    document.save(stream)
    return stream.getvalue()


def face(document: WordDocument) -> None:
    document.styles["Normal"].font.name = "Carlito"
    document.styles["heading 1"].font.color.rgb = RGBColor(0x1F, 0x4E, 0x3D)
    document.styles["Body Text"].font.size = Pt(10)


def room(document: WordDocument) -> None:
    for section in document.sections:
        section.left_margin = section.right_margin = Mm(25)
        section.top_margin = Mm(32)


def letter(document: WordDocument) -> None:
    for section in document.sections:
        wide = section.orientation == WD_ORIENT.LANDSCAPE
        section.page_width, section.page_height = (Mm(279.4), Mm(215.9)) if wide else (Mm(215.9), Mm(279.4))


def logo(document: WordDocument) -> None:
    for section in document.sections:
        section.header.paragraphs[0].insert_paragraph_before().add_run().add_picture(io.BytesIO(LOGO), width=Mm(30))
        section.footer.add_paragraph("Invented practice, 1 Invented Street")


ALL = (face, room, letter, logo)


def spoilt(spoil: Spoil) -> bytes:
    held = parts(SAMPLE)
    spoil(held)
    return packed(held)


def swap(old: str, new: str, name: str = "word/header2.xml", times: int = 1) -> Spoil:
    def spoil(held: dict[str, bytes]) -> None:
        text = held[name].decode()
        assert old in text, old
        held[name] = text.replace(old, new, times).encode()

    return spoil


def refused(data: bytes) -> list[str]:
    with pytest.raises(HouseStyleUnusable) as error:
        house_style(data, "house.docx")
    found = str(error.value).split("\n")
    assert all(re.fullmatch(r"house\.docx: .+: .+", line) for line in found), found
    return found


def style(data: bytes, name: str) -> etree._Element:
    for item in part(data, STYLES).iter(f"{{{W}}}style"):
        if attribute(item, "w:name") == name:
            return item
    raise AssertionError(name)


class TestTheShippedFile:
    def test_is_the_same_bytes_each_time_and_has_no_faults(self, tmp_path: Path) -> None:
        assert style_sample(WORDS, "en-GB") == SAMPLE
        assert lines("house.docx", faults(SAMPLE)) == []
        (tmp_path / "house.docx").write_bytes(SAMPLE)
        assert [str(error) for error in OpenXmlValidator().validate(tmp_path / "house.docx").errors] == []
        assert [str(issue) for issue in check(tmp_path / "house.docx")] == []

    def test_says_of_each_style_that_it_asks_for_what_it_is_for_in_that_style(self) -> None:
        asked = {item.get(f"{{{W}}}styleId") for item in part(SAMPLE, STYLES).iter(f"{{{W}}}style")} - OUR_OWN
        body = part(SAMPLE)
        kinds = [f"{{{W}}}{kind}" for kind in ("pStyle", "rStyle", "tblStyle")]
        used = {item.get(f"{{{W}}}val") for item in body.iter(*kinds)}
        assert asked - used == {"Header", "Footer"}
        for name in ("heading 1", "Clause label", "Table text small", "Ruled table"):
            assert any(f"{name}:" in words_of(item) for item in body.iter(f"{{{W}}}p")), name

    @pytest.mark.parametrize("document", [samples.document(), samples.draft()])
    def test_unchanged_gives_papers_of_the_shipped_look(self, document: Document) -> None:
        with_it = parts(specification(document, house=house_style(SAMPLE, "house.docx")))
        without = parts(specification(document))
        assert with_it[MAIN] == without[MAIN]
        assert with_it[STYLES] == without[STYLES]
        assert with_it["word/numbering.xml"] == without["word/numbering.xml"]


@pytest.fixture(scope="module")
def paper() -> bytes:
    """A draft in the look of a practice that changed everything it may."""
    return specification(samples.draft(), house=house_style(edited(*ALL), "house.docx"))


class TestWhatItGives:
    def test_fonts_sizes_and_colours(self, paper: bytes) -> None:
        assert attribute(style(paper, "Normal"), "w:rPr/w:rFonts", "ascii") == "Carlito"
        assert attribute(style(paper, "heading 1"), "w:rPr/w:color") == "1F4E3D"
        assert attribute(style(paper, "Body Text"), "w:rPr/w:sz") == "20"
        assert b'w:name="Carlito"' in parts(paper)["word/fontTable.xml"]

    def test_margins_and_paper(self, paper: bytes) -> None:
        setups = list(part(paper).iter(f"{{{W}}}sectPr"))
        assert {attribute(setup, "w:pgMar", "left") for setup in setups} == {"1417"}  # 25 mm in twips
        assert {attribute(setup, "w:pgMar", "top") for setup in setups} == {"1814"}  # 32 mm
        sizes = {(attribute(setup, "w:pgSz", "w"), attribute(setup, "w:pgSz", "h")) for setup in setups}
        assert sizes == {("12240", "15840"), ("15840", "12240")}

    def test_tables_fill_its_line(self, paper: bytes) -> None:
        ends = {
            int(attribute(item, "w:tblPr/w:tblW", "w")) + int(attribute(item, "w:tblPr/w:tblInd", "w"))
            for item in part(paper).iter(f"{{{W}}}tbl")
        }
        assert ends == {12240 - 2 * 1417, 15840 - 2 * 1417}

    def test_logo_and_address_on_every_page(self, paper: bytes) -> None:
        held = parts(paper)
        assert [data for name, data in held.items() if name.startswith("word/media/") and data == LOGO] == [LOGO]
        headers = [name for name in held if re.fullmatch(r"word/header\d+\.xml", name)]
        footers = [name for name in held if re.fullmatch(r"word/footer\d+\.xml", name)]
        assert len(headers) >= 3
        assert all(part(paper, name).find(".//wp:inline", NAMES) is not None for name in headers)
        assert all("1 Invented Street" in words_of(part(paper, name)) for name in footers)

    def test_reference_revision_section_and_page_stand_where_it_has_them(self, paper: bytes) -> None:
        texts = [words_of(part(paper, name)) for name in parts(paper) if name.startswith("word/header")]
        assert any(text.endswith("GB-014 · Revision BSpecification") for text in texts)
        assert not any("[" in text for text in texts)

    def test_the_draft_mark_stands_on_every_page(self, paper: bytes) -> None:
        headers = [name for name in parts(paper) if name.startswith("word/header")]
        assert all(samples.draft().identity.draft in words_of(part(paper, name)) for name in headers)

    def test_text_numbers_references_bookmarks_controls_and_comments_stay(self, paper: bytes) -> None:
        # another look than ours has no page numbers in its contents
        plain = specification(samples.draft(), house=replace(plain_look("a4"), faces=("Arial", "Carlito")))
        assert outline(paper) == outline(plain)
        assert tables(paper) == tables(plain)
        for kind in ("bookmarkStart", "tag", "fldSimple", "instrText", "commentReference", "numId"):
            found, expected = ([(*item.items(), item.text) for item in part(data).iter(f"{{{W}}}{kind}")]
                               for data in (paper, plain))  # fmt: skip
            assert found == expected, kind
        assert parts(paper)["word/numbering.xml"] == parts(plain)["word/numbering.xml"]

    def test_no_checker_finds_anything(self, paper: bytes, tmp_path: Path) -> None:
        assert lines("paper.docx", faults(paper)) == []
        (tmp_path / "paper.docx").write_bytes(paper)
        assert [str(error) for error in OpenXmlValidator().validate(tmp_path / "paper.docx").errors] == []
        assert [str(issue) for issue in check(tmp_path / "paper.docx")] == []

    def test_the_same_bytes_twice(self, paper: bytes) -> None:
        assert specification(samples.draft(), house=house_style(edited(*ALL), "house.docx")) == paper

    def test_what_fills_a_mark_is_not_searched_for_marks(self) -> None:
        identity = replace(samples.IDENTITY, reference="[title]", revision="<w:b/>")
        paper = specification(replace(samples.document(), identity=identity), house=house_style(SAMPLE, "h"))
        texts = [words_of(part(paper, name)) for name in parts(paper) if name.startswith("word/header")]
        assert any("[title] · <w:b/>" in text for text in texts)


class TestStyles:
    def test_are_known_by_name_whatever_their_ids_and_capitals(self) -> None:
        def rename(held: dict[str, bytes]) -> None:
            for name, data in held.items():
                held[name] = data.replace(b'"Heading1"', b'"berschrift1"').replace(b'"heading 1"', b'"Heading 1"')

        paper = specification(samples.document(), house=house_style(spoilt(rename), "house.docx"))
        assert parts(paper)[MAIN] == parts(specification(samples.document()))[MAIN]

    def test_one_that_rests_on_a_style_of_the_practice_takes_its_look_from_both(self) -> None:
        def rest(document: WordDocument) -> None:
            own = document.styles.add_style("Practice", 1)
            own.font.color.rgb = RGBColor(0x80, 0, 0)
            own.font.size = Pt(12)
            document.styles["Lead"].base_style = own
            document.styles["Lead"].font.size = Pt(11)

        paper = specification(samples.document(), house=house_style(edited(rest), "house.docx"))
        lead = style(paper, "Lead")
        assert (attribute(lead, "w:rPr/w:color"), attribute(lead, "w:rPr/w:sz")) == ("800000", "22")
        assert "Practice" not in parts(paper)[STYLES].decode()

    def test_one_that_rests_on_a_numbered_heading_does_not_become_numbered(self) -> None:
        def rest(document: WordDocument) -> None:
            document.styles["Front heading 1"].base_style = document.styles["heading 1"]

        paper = specification(samples.document(), {}, house=house_style(edited(rest), "house.docx"))
        assert outline(paper) == outline(specification(samples.document(), {}))

    def test_faces_of_the_theme_come_by_name(self) -> None:
        theme = 'w:asciiTheme="minorHAnsi" w:hAnsiTheme="minorHAnsi"'
        data = spoilt(swap('w:ascii="Arial" w:hAnsi="Arial"', theme, STYLES))
        paper = specification(samples.document(), house=house_style(data, "house.docx"))
        fonts = only(part(paper, STYLES), "w:docDefaults/w:rPrDefault/w:rPr/w:rFonts")
        assert (fonts.get(f"{{{W}}}ascii"), fonts.get(f"{{{W}}}asciiTheme")) == ("Arial", None)

    def test_hidden_words_are_not_taken_over(self) -> None:
        data = spoilt(swap('<w:name w:val="Notice"/>', '<w:name w:val="Notice"/><w:rPr><w:vanish/></w:rPr>', STYLES))
        assert b"vanish" not in parts(specification(samples.document(), house=house_style(data, "h")))[STYLES]

    def test_all_that_are_missing_are_named_at_once(self) -> None:
        def drop(held: dict[str, bytes]) -> None:
            for name in ("Body Text", "Ruled table", "Value"):
                held[STYLES] = held[STYLES].replace(f'"{name}"'.encode(), f'"Not {name}"'.encode())

        found = refused(spoilt(drop))
        copy = "copy it from the file that 'gaugebox style export' writes"
        assert found == [
            f"house.docx: has no paragraph style 'Body Text': {copy}",
            f"house.docx: has no character style 'Value': {copy}",
            f"house.docx: has no table style 'Ruled table': {copy}",
        ]

    @pytest.mark.parametrize(
        ("old", "new", "word"),
        [
            ('<w:sz w:val="26"/>', '<w:sz w:val="big"/>', "'big' as val of sz"),
            ('<w:color w:val="404040"/>', '<w:color w:val="grey&quot;/&gt;"/>', "'grey\"/>' as val of color"),
            ('w:ascii="Arial"', f'w:ascii="{"x" * 90}"', "as ascii of rFonts"),
        ],
    )
    def test_a_value_that_the_format_lacks_is_named_with_its_style(self, old: str, new: str, word: str) -> None:
        found = refused(spoilt(swap(old, new, STYLES, times=99)))
        assert all(word in line for line in found)

    def test_styles_that_rest_on_each_other_in_a_ring_are_no_snare(self) -> None:
        based = '<w:name w:val="Lead"/><w:basedOn w:val="BodyText"/>'
        data = spoilt(swap(based, '<w:name w:val="Lead"/><w:basedOn w:val="Lead"/>', STYLES))
        assert specification(samples.document(), house=house_style(data, "house.docx"))


class TestHeadersAndFooters:
    def test_words_parted_by_a_program_are_read_as_one(self) -> None:
        parted = "[refe</w:t></w:r><w:r><w:rPr><w:b/><w:bCs/></w:rPr><w:t>rence] · [revision]"
        data = spoilt(swap("[reference] · [revision]", parted))
        assert house_style(data, "h").stories == house_style(SAMPLE, "h").stories

    def test_a_style_of_the_practice_comes_along(self) -> None:
        def address(document: WordDocument) -> None:
            own = document.styles.add_style("Address", 1)
            own.font.color.rgb = RGBColor(0, 0, 0x80)
            document.sections[1].footer.add_paragraph("Invented practice", style=own)

        paper = specification(samples.document(), house=house_style(edited(address), "h"))
        assert attribute(style(paper, "Address"), "w:rPr/w:color") == "000080"
        own = style(paper, "Address").get(f"{{{W}}}styleId")
        assert sum(data.count(f'w:val="{own}"'.encode()) for data in parts(paper).values()) >= 1
        assert lines("paper.docx", faults(paper)) == []

    def test_page_numbers_of_both_forms_are_kept(self) -> None:
        marks = "".join(
            f'<w:r><w:fldChar w:fldCharType="{kind}"/></w:r>{more}'
            for kind, more in (
                ("begin", "<w:r><w:instrText> PA</w:instrText></w:r><w:r><w:instrText>GE </w:instrText></w:r>"),
                ("separate", "<w:r><w:t>7</w:t></w:r>"), ("end", ""),
            )
        )  # fmt: skip
        held = parts(SAMPLE)
        for name in [name for name in held if name.startswith("word/footer")]:
            held[name] = re.sub(rb'<w:fldSimple w:instr=" PAGE ">.*?</w:fldSimple>', marks.encode(), held[name])
        found, expected = house_style(packed(held), "h").stories, house_style(SAMPLE, "h").stories
        assert {key: story.content.count('instr=" PAGE "') for key, story in found.items()} == {
            key: story.content.count('instr=" PAGE "') for key, story in expected.items()
        }

    REFUSED = (
        ("[reference]", "", "has no [reference]"),
        ("[reference]", "[referenz]", "says [referenz]"),
        ("<w:p>", "<w:tbl/><w:p>", "a table"),
        ("<w:p>", '<w:p><w:ins w:id="1" w:author="A"/>', "tracked changes"),
        ("<w:p>", "<w:p><w:r><w:pict/></w:r>", "an old drawing"),
        ("<w:p>", "<w:p><w:r><w:object/></w:r>", "an embedded object"),
        ("<w:p>", '<w:p><w:fldSimple w:instr=" DATE "/>', "has the field 'DATE'"),
        ("<w:p>", '<w:p><w:fldSimple w:instr=" INCLUDEPICTURE x "/>', "has the field 'INCLUDEPICTURE"),
        ("<w:p>", '<w:p><w:r><w:fldChar w:fldCharType="begin"/></w:r>', "does not end in its line"),
        ("<w:p>", "<w:p><w:r><w:drawing/></w:r>", "floats"),
        ("<w:p>", "<w:altChunk/><w:p>", "cannot take over (altChunk)"),
    )

    @pytest.mark.parametrize(("old", "new", "words"), REFUSED, ids=[words for *_, words in REFUSED])
    def test_what_papers_cannot_take_over_is_named_with_its_part(self, old: str, new: str, words: str) -> None:
        found = refused(spoilt(swap(old, new)))
        assert any(words in line for line in found), found

    def test_a_picture_that_is_none_is_named(self) -> None:
        held = parts(edited(logo))
        for name in [name for name in held if name.startswith("word/media/")]:
            held[name] = b"\x89PNG\r\n\x1a\nnothing"
        assert any("insert it as PNG or JPEG" in line for line in refused(packed(held)))

    def test_pages_that_lie_take_after_the_upright_ones_where_there_are_none(self) -> None:
        def upright(held: dict[str, bytes]) -> None:
            lying = b'w:w="16838" w:h="11906" w:orient="landscape"'
            assert lying in held[MAIN]
            held[MAIN] = held[MAIN].replace(lying, b'w:w="11906" w:h="16838"')

        look = house_style(spoilt(upright), "h")
        assert (look.geometry.turned.width, look.geometry.turned.height) == (16838, 11906)
        assert look.stories["hdr", "turned"].content == look.stories["hdr", "upright"].content

    def test_a_narrow_line_is_named(self) -> None:
        def narrow(document: WordDocument) -> None:
            document.sections[1].left_margin = Mm(120)

        assert any("leaves 74 mm between margins" in line for line in refused(edited(narrow)))


def linked(held: dict[str, bytes]) -> None:
    held["word/_rels/header2.xml.rels"] = (
        b'<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1"'
        b' Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/image" TargetMode="External"'
        b' Target="http://example.invalid/logo.png"/></Relationships>'
    )


def macros(held: dict[str, bytes]) -> None:
    held["word/vbaProject.bin"] = b"macro"


def entities(held: dict[str, bytes]) -> None:
    held[STYLES] = held[STYLES].replace(b"<w:styles", b'<!DOCTYPE d [<!ENTITY e "e">]><w:styles', 1)


def wide_entities(held: dict[str, bytes]) -> None:
    text = held[STYLES].decode().replace('encoding="UTF-8"', 'encoding="UTF-16"')
    held[STYLES] = text.replace("<w:styles", '<!DOCTYPE d [<!ENTITY e "e">]><w:styles', 1).encode("utf-16")


def embedded(held: dict[str, bytes]) -> None:
    held["word/embeddings/oleObject1.bin"] = b"x"


def workbook(held: dict[str, bytes]) -> None:
    held["[Content_Types].xml"] = held["[Content_Types].xml"].replace(b"document.main+xml", b"other.main+xml")


def bomb(held: dict[str, bytes]) -> None:
    held["word/theme/theme1.xml"] = b"<a>" + b" " * 60_000_000 + b"</a>"


def deep(held: dict[str, bytes]) -> None:
    held["word/header2.xml"] = b"<a>" * 5_000 + b"</a>" * 5_000


class TestHostileFiles:
    @pytest.mark.parametrize(
        ("spoil", "words"),
        [
            (linked, "links to 'http://example.invalid/logo.png' outside the file"), (macros, "holds macros"),
            (swap("document.main+xml", "document.macroEnabled.main+xml", "[Content_Types].xml"), "holds macros"),
            (entities, "declares a document type"), (wide_entities, "declares a document type"),
            (embedded, "holds another file"), (workbook, "is not a Word document"),
            (bomb, "unpacks to more than a paper can hold"), (deep, "is not sound XML"),
            (lambda held: held.pop(STYLES), ""), (lambda held: held.pop(MAIN), "has no body"),
            (lambda held: held.pop("[Content_Types].xml"), "is not a Word document"),
        ],
    )  # fmt: skip
    def test_are_refused_in_a_clear_line(self, spoil: Spoil, words: str) -> None:
        assert any(words in line for line in refused(spoilt(spoil)))

    @pytest.mark.parametrize(
        ("old", "new", "style", "ratio"),
        [
            ("<w:rPrDefault><w:rPr>", '<w:rPrDefault><w:rPr><w:color w:val="FFFFFF"/>', "Body Text", "1.0"),
            ('w:fill="auto"', 'w:fill="202020"', "Table heading", "1.3"),
        ],
    )
    def test_words_that_nobody_can_see_are_refused(self, old: str, new: str, style: str, ratio: str) -> None:
        told = f"house.docx: style '{style}' has a contrast of {ratio} between words and ground, and 3 can be read: "
        assert f"{told}set another colour in Word" in refused(spoilt(swap(old, new, STYLES, times=9)))

    def test_one_style_in_white_is_refused_and_in_white_on_a_dark_ground_of_its_own_taken(self) -> None:
        def white(document: WordDocument) -> None:
            document.styles["Notice"].font.color.rgb = RGBColor(0xFF, 0xFF, 0xFF)

        lines = refused(edited(white))
        assert [line.split("'")[1] for line in lines] == ["Notice", "Notice title"]  # the one rests on the other

        def dark(document: WordDocument) -> None:
            white(document)
            ground = document.styles["Notice"].element.get_or_add_pPr()
            for old in ground.findall(f"{{{W}}}shd"):
                ground.remove(old)
            shade = etree.SubElement(ground, f"{{{W}}}shd")
            shade.set(f"{{{W}}}val", "clear")
            shade.set(f"{{{W}}}fill", "1F4E3D")

        assert house_style(edited(dark), "house.docx")

    @pytest.mark.parametrize("data", [b"", b"not a Word file", LOGO, SAMPLE[: len(SAMPLE) // 2], SAMPLE[100:]])
    def test_what_is_no_package_is_refused(self, data: bytes) -> None:
        assert len(refused(data)) == 1

    def test_a_package_whose_packing_lies_is_refused(self) -> None:
        place = SAMPLE.index(b"word/styles.xml") + 60
        assert refused(SAMPLE[:place] + bytes(40) + SAMPLE[place + 40 :])

    def test_a_package_of_very_many_parts_is_refused(self) -> None:
        stream = io.BytesIO()
        with zipfile.ZipFile(stream, "w") as archive:
            for number in range(4_100):
                archive.writestr(f"{number}", b"")
        assert "unpacks to more" in refused(stream.getvalue())[0]

    @pytest.mark.parametrize("seed", slow_but(1, range(8)))
    def test_no_spoilt_file_gives_anything_but_lines_or_a_sound_look(self, seed: int) -> None:
        dice = random.Random(seed)
        held = parts(edited(*ALL))
        names = [name for name in held if name.endswith((".xml", ".rels"))]
        for _ in range(40):
            name = dice.choice(names)
            text = held[name]
            pieces = re.findall(rb"<[^>]*>|[^<]+", text)
            at = dice.randrange(len(pieces))
            change = dice.choice(("drop", "double", "other", "swap"))
            if change == "drop":
                del pieces[at]
            elif change == "double":
                pieces.insert(at, pieces[at])
            elif change == "other":
                value = dice.choice((b'""', b'"-1"', b'"99999999"', b'"x"'))
                pieces[at] = re.sub(rb'"[^"]*"', value, pieces[at], count=1)
            else:
                other = dice.randrange(len(pieces))
                pieces[at], pieces[other] = pieces[other], pieces[at]
            try:
                look = house_style(packed({**held, name: b"".join(pieces)}), "house.docx")
            except HouseStyleUnusable:
                continue
            assert lines("paper.docx", faults(specification(samples.document(), house=look))) == []
