"""Our lint of Word papers: each fault planted alone in a good paper gives its code alone; our papers are clean."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from command_line import run
from docx_reading import parts
from helpers import slow_but
from jobs import EXAMPLES, ROOT, job
from ooxml_integrity import check
from openxml_audit.validator import OpenXmlValidator
from render.samples import draft

from generator import pipeline
from generator.document.files import COMPANIONS
from generator.papers.companions import companions
from generator.render.check import access, structure
from generator.render.check.access import contrast
from generator.render.check.papers import faults, lines
from generator.render.word.document import specification
from generator.render.word.package import packed

MAIN = "word/document.xml"
GOOD = specification(draft())
TEXT = parts(GOOD)[MAIN].decode()
CASES = sorted((ROOT / "tests" / "cases").glob("*.yaml"))
Plant = Callable[[dict[str, bytes]], None]


def swap(old: str, new: str, part: str = MAIN, times: int = 1) -> Plant:
    """A fault planted by exchanging a passage of a part, which must be there."""

    def plant(held: dict[str, bytes]) -> None:
        text = held[part].decode()
        assert old in text, old
        held[part] = text.replace(old, new, times).encode()

    return plant


def in_text(xml: str) -> Plant:
    """A fault planted as the first thing of the body."""
    return swap("<w:body>", f"<w:body>{xml}")


def in_first(run: str) -> Plant:
    return in_text(f'<w:p><w:pPr><w:pStyle w:val="BodyText"/></w:pPr>{run}</w:p>')


def without(part: str) -> Plant:
    def plant(held: dict[str, bytes]) -> None:
        del held[part]

    return plant


def words(text: str, properties: str = "") -> str:
    return f"<w:r>{properties}<w:t>{text}</w:t></w:r>"


def table(*rows: str, columns: int = 2, head: str = "<w:tblHeader/>", more: str = "", told: bool = True) -> str:
    grid = '<w:gridCol w:w="2000"/>' * columns
    caption = '<w:tblCaption w:val="Told"/>' if told else ""
    first, *others = rows
    lined = f"<w:tr><w:trPr>{head}</w:trPr>{first}</w:tr>" + "".join(f"<w:tr>{row}</w:tr>" for row in others)
    return (
        f"<w:tbl><w:tblPr>{caption}</w:tblPr>{more}<w:tblGrid>{grid}</w:tblGrid>{lined}</w:tbl><w:p>{words('x')}</w:p>"
    )


CELL = f'<w:tc><w:tcPr><w:tcW w:w="2000" w:type="dxa"/></w:tcPr><w:p>{words("x")}</w:p></w:tc>'
SPAN = CELL.replace("</w:tcPr>", '<w:gridSpan w:val="3"/></w:tcPr>')
MERGED = CELL.replace("</w:tcPr>", "<w:vMerge/></w:tcPr>")
MARK = '<w:bookmarkStart w:id="{0}" w:name="{1}"/>' + words("x") + '<w:bookmarkEnd w:id="{0}"/>'
PICTURE = TEXT[TEXT.index("<w:drawing>") : TEXT.index("</w:drawing>") + len("</w:drawing>")]
CHANGE = '<w:ins w:id="{0}" w:author="A" w:date="2027-01-01T00:00:00Z">' + words("x") + "</w:ins>"

STRUCTURE: dict[str, tuple[str, Plant]] = {
    "a bookmark number twice": ("W01", in_first(MARK.format(9001, "a") + MARK.format(9001, "b"))),
    "properties in the wrong order": (
        "W02",
        in_text(f'<w:p><w:pPr><w:jc w:val="left"/><w:pStyle w:val="BodyText"/></w:pPr>{words("x")}</w:p>'),
    ),
    "a picture that is not there": ("W03", swap('r:embed="', 'r:embed="rId99')),
    "a column missing": ("W04", in_text(table(CELL * 2, columns=1))),
    "a control that holds nothing": ("W05", in_text('<w:sdt><w:sdtPr><w:alias w:val="A"/></w:sdtPr></w:sdt>')),
    "XML that is not sound": ("W05", swap("</w:body>", "</w:boody>")),
    "a document type": ("W05", swap("<w:document", '<!DOCTYPE d [<!ENTITY e "e">]><w:document')),
    "a bookmark name twice": ("W06", in_first(MARK.format(9001, "a") + MARK.format(9002, "a"))),
    "a bookmark without an end": ("W07", in_first('<w:bookmarkStart w:id="9001" w:name="a"/>' + words("x"))),
    "a reference to nothing": (
        "W08",
        in_first('<w:fldSimple w:instr=" REF gone \\h ">' + words("1") + "</w:fldSimple>"),
    ),
    "a control number twice": (
        "W09",
        in_text(
            f'<w:sdt><w:sdtPr><w:alias w:val="A"/><w:id w:val="9001"/></w:sdtPr><w:sdtContent><w:p>{words("x")}</w:p>'
            "</w:sdtContent></w:sdt>" * 2
        ),
    ),
    "a picture number twice": ("W10", in_first(f"<w:r>{PICTURE}</w:r>")),
    "a cell without a paragraph": ("W11", in_text(table(CELL * 2, CELL + "<w:tc><w:tcPr/></w:tc>"))),
    "a field without an end": ("W12", in_first('<w:r><w:fldChar w:fldCharType="begin"/></w:r>' + words("x"))),
    "a comment without text": ("W13", in_first('<w:r><w:commentReference w:id="9001"/></w:r>' + words("x"))),
    "a footnote without text": ("W14", in_first('<w:r><w:footnoteReference w:id="9001"/></w:r>' + words("x"))),
    "a style that is not there": ("W15", in_text(f'<w:p><w:pPr><w:pStyle w:val="Gone"/></w:pPr>{words("x")}</w:p>')),
    "a list that is not there": (
        "W16",
        in_text(f'<w:p><w:pPr><w:numPr><w:ilvl w:val="0"/><w:numId w:val="9001"/></w:numPr></w:pPr>{words("x")}</w:p>'),
    ),
    "a word the format lacks": ("W17", in_text(f'<w:p><w:pPr><w:jc w:val="middle"/></w:pPr>{words("x")}</w:p>')),
    "a part of no type": ("W18", swap('Extension="png"', 'Extension="gif"', "[Content_Types].xml")),
    "a change number twice": ("W19", in_first(CHANGE.format(9001) * 2)),
    "text after the end": ("W20", swap("</w:body>", f"<w:p>{words('x')}</w:p></w:body>")),
    "a change without an author": ("W21", in_first('<w:ins w:id="9001">' + words("x") + "</w:ins>")),
    "a span past the columns": ("W22 A09", in_text(table(CELL * 2, SPAN))),  # a cell that spans is merged too
    "struck text that counts": ("W23", in_first('<w:del w:id="9001" w:author="A">' + words("x") + "</w:del>")),
    "a part that is gone": ("W24", without("word/fontTable.xml")),
    "properties twice": ("W25", in_text(table(CELL * 2, more="<w:tblPr/>"))),
    "a link to nothing": ("W26", in_first('<w:hyperlink w:anchor="gone">' + words("there") + "</w:hyperlink>")),
    "settings in the wrong order": (
        "W27",
        swap("<w:listSeparator", '<w:defaultTabStop w:val="720"/><w:listSeparator', "word/settings.xml"),
    ),
    "a control character": ("W28", in_first(words("\x07"))),
}
ACCESS: dict[str, tuple[str, Plant]] = {
    "no title": ("A01", swap("Repointing and plaster repairs, an invented chapel", "", "docProps/core.xml")),
    "no language": ("A02", swap("<w:lang ", "<w:noProof ", "word/styles.xml")),
    "a heading that skips a level": (
        "A03",
        in_text(f'<w:p><w:pPr><w:pStyle w:val="Heading3"/></w:pPr>{words("Low")}</w:p>'),
    ),
    "an empty heading": ("A03", in_text('<w:p><w:pPr><w:pStyle w:val="FrontHeading1"/></w:pPr></w:p>')),
    "a bold line for a heading": ("A04", in_first(words("Not a heading", "<w:rPr><w:b/></w:rPr>"))),
    "a typed bullet": ("A05", in_first(words("- first"))),
    "empty lines for space": ("A06", in_text('<w:p><w:pPr><w:pStyle w:val="BodyText"/></w:pPr></w:p>' * 2)),
    "a picture without words": ("A07", lambda held: held.update({MAIN: no_words(held[MAIN])})),
    "a picture that floats": ("A08", swap("wp:inline", "wp:anchor", times=2)),
    "no heading row": ("A09", in_text(table(CELL * 2, head=""))),
    "merged cells": ("A09", in_text(table(CELL * 2, MERGED * 2))),
    "a table not told": ("A09", in_text(table(CELL * 2, told=False))),
    "a link that says nothing": (
        "A10",
        in_first(MARK.format(9001, "a") + '<w:hyperlink w:anchor="a">' + words("here") + "</w:hyperlink>"),
    ),
    "pale words": ("A11", in_first(words("pale", '<w:rPr><w:color w:val="BBBBBB"/></w:rPr>'))),
    "a control without a title": ("A12", swap("<w:alias ", "<w:was ")),
}


def no_words(data: bytes) -> bytes:
    """The body with the words of its first picture taken out."""
    text = data.decode()
    start = text.index("descr=", text.index("<wp:docPr"))
    end = text.index('"', start + 7) + 1
    return (text[:start] + text[end:]).encode()


def planted(plant: Plant) -> bytes:
    held = parts(GOOD)
    plant(held)
    return packed(held)


def codes(data: bytes) -> set[str]:
    return {fault.code for fault in faults(data)}


def test_a_good_paper_of_every_kind_of_block_has_no_faults() -> None:
    assert lines("good.docx", faults(GOOD)) == []


@pytest.mark.parametrize("name", [*STRUCTURE, *ACCESS])
def test_a_planted_fault_is_found_and_nothing_else(name: str) -> None:
    code, plant = {**STRUCTURE, **ACCESS}[name]
    assert codes(planted(plant)) == set(code.split())


def test_a_long_paper_without_a_contents_list_is_told() -> None:
    heading = f'<w:p><w:pPr><w:pStyle w:val="FrontHeading1"/></w:pPr>{words("One more")}</w:p>'
    held = parts(GOOD)
    in_text(heading * 20)(held)
    swap(" TOC ", " TIC ")(held)
    assert codes(packed(held)) == {"A13"}


@pytest.mark.parametrize("data", [b"", b"not a file of Word", packed({"a.xml": b"<a/>"}), GOOD[: len(GOOD) // 2]])
def test_what_is_no_word_file_has_one_fault_that_says_so(data: bytes) -> None:
    (fault,) = faults(data)
    assert fault.code == "W00"


def test_an_entity_is_not_opened(tmp_path: Path) -> None:
    secret = tmp_path / "secret.txt"
    secret.write_text("secret words")
    entity = f'<!DOCTYPE d [<!ENTITY e SYSTEM "{secret.as_uri()}">]><w:document'
    found = faults(planted(swap("<w:document", entity)))
    assert [fault.code for fault in found] == ["W05"]
    assert "secret words" not in repr(found)


@pytest.mark.parametrize("path", slow_but(1, [*EXAMPLES, *CASES]), ids=lambda path: str(path.relative_to(ROOT)))
def test_no_checker_finds_anything_in_any_paper_of_an_example_or_a_case(path: Path, tmp_path: Path) -> None:
    found = job(path.read_text(encoding="utf-8"))
    files = {name: data for name, data in pipeline.papers(found).items() if name.endswith(".docx")}
    files |= {name: specification(paper) for name, paper in companions(found, list(COMPANIONS)).items()}
    assert len(files) == 2 + len(COMPANIONS)
    told: list[str] = []
    for name, data in files.items():
        (tmp_path / name).write_bytes(data)
        told += lines(name, faults(data))
        told += [f"{name}: {error}" for error in OpenXmlValidator().validate(tmp_path / name).errors]
        told += [f"{name}: {issue}" for issue in check(tmp_path / name)]
    assert told == []


@pytest.mark.parametrize(
    ("ink", "ground", "ratio"),
    # WCAG 2.2, definition of contrast ratio: black on white is 21 to 1; the grey 767676 is known as the palest at AA
    [("000000", "FFFFFF", 21.0), ("FFFFFF", "FFFFFF", 1.0), ("auto", "", 21.0), ("767676", "FFFFFF", 4.54)],
)
def test_contrast_is_that_of_wcag(ink: str, ground: str, ratio: float) -> None:
    assert contrast(ink, ground) == pytest.approx(ratio, abs=0.01)


def test_the_command_tells_each_fault_on_a_line_and_ends_with_one(tmp_path: Path) -> None:
    bad = tmp_path / "bad.docx"
    bad.write_bytes(planted(in_first(words("- first"))))
    code, out, _ = run("papers", "check", bad)
    assert code == 1
    (line,) = out.splitlines()
    assert line.startswith(f"{bad}: A05: ")


def test_the_command_ends_with_nought_for_a_good_paper_and_tells_a_file_that_is_not_there(tmp_path: Path) -> None:
    good = tmp_path / "good.docx"
    good.write_bytes(GOOD)
    assert run("papers", "check", good)[0] == 0
    code, _, err = run("papers", "check", tmp_path / "gone.docx")
    assert code == 1
    assert "gone.docx" in err


def looks(monkeypatch: pytest.MonkeyPatch, data: bytes) -> int:
    """How often a value is looked for in a paper."""
    asked: list[str] = []
    kept = structure.value

    def counted(element: Any, path: str = "", name: str = "val") -> str:
        asked.append(path)
        return kept(element, path, name)

    with monkeypatch.context() as patch:
        patch.setattr(access, "value", counted)
        faults(data)
    return len(asked)


@pytest.mark.parametrize("rests", ["", '<w:basedOn w:val="S{before}"/>'], ids=["apart", "on one another"])
def test_looking_a_paper_over_grows_in_line_with_it_and_its_styles(rests: str, monkeypatch: pytest.MonkeyPatch) -> None:
    def paper(count: int) -> bytes:
        def plant(held: dict[str, bytes]) -> None:
            numbers = range(count)
            style = '<w:style w:type="paragraph" w:styleId="S{at}"><w:name w:val="S{at}"/>' + rests + "</w:style>"
            styles = "".join(style.format(at=at, before=at - 1) for at in numbers)
            text = "".join(f'<w:p><w:pPr><w:pStyle w:val="S{at}"/></w:pPr>{words("a b.")}</w:p>' for at in numbers)
            swap("</w:styles>", f"{styles}</w:styles>", "word/styles.xml")(held)
            in_text(text)(held)

        return planted(plant)

    few, more, most = (looks(monkeypatch, paper(count)) for count in (100, 200, 400))
    assert few < more
    assert most - more == 2 * (more - few)


@pytest.mark.parametrize("used", [[0], [1], [2], [0, 2, 1]])
def test_what_a_style_rests_on_is_heard_in_a_ring_too(used: list[int]) -> None:
    level = '<w:pPr><w:outlineLvl w:val="0"/></w:pPr>'
    style = '<w:style w:type="paragraph" w:styleId="R{0}"><w:name w:val="R{0}"/><w:basedOn w:val="R{1}"/>{2}</w:style>'
    ring = "".join(style.format(at, (at + 1) % 3, level if at == 1 else "") for at in range(3))

    def plant(held: dict[str, bytes]) -> None:
        swap("</w:styles>", f"{ring}</w:styles>", "word/styles.xml")(held)
        in_text("".join(f'<w:p><w:pPr><w:pStyle w:val="R{at}"/></w:pPr></w:p>' for at in used))(held)

    assert "a heading is empty" in {fault.what for fault in faults(planted(plant))}
