"""Text widths and heights of Arial and its metric twins."""

from __future__ import annotations

import random
import re
import shutil
import subprocess
import time
from collections.abc import Callable
from pathlib import Path

import docx
import docx.document
import docx.text.paragraph
import make_metrics
import pytest
from docx.shared import Pt
from hypothesis import given
from hypothesis import strategies as st

from generator import metrics
from generator.metrics import (
    SLACK_PT,
    CellLook,
    line_height_pt,
    row_height_pt,
    table_height_pt,
    text_width_pt,
    too_wide,
    wrap,
)

FACES = {face: make_metrics.font_path(style) for face, style in make_metrics.FACES.items()}
prints = st.text(st.characters(exclude_categories=("Cc", "Cf", "Cs")), max_size=60)


# advances in 1/1000 em of Helvetica, whose metrics Arial shares: Adobe's core font metrics (from memory)
@pytest.mark.parametrize(
    ("text", "regular", "bold"),
    [(" ", 278, 278), ("0", 556, 556), ("A", 667, 722), ("a", 556, 556), ("i", 222, 278), ("m", 833, 889),
     ("W", 944, 944), (".", 278, 278), ("–", 556, 556), ("—", 1000, 1000), ("½", 834, 834), ("°", 400, 400),
     ("²", 333, 333), ("×", 584, 584), ("…", 1000, 1000), ("é", 556, 556)],
)  # fmt: skip
def test_advances_are_those_of_the_face(text: str, regular: int, bold: int) -> None:
    assert text_width_pt(text, 1000) == pytest.approx(regular, abs=1)
    assert text_width_pt(text, 1000, bold=True) == pytest.approx(bold, abs=1)


@pytest.mark.parametrize("text", ["Łódź", "Ωμέγα", "Привет", "“quoted” — m³ ≤ ≥ → €"])
def test_european_letters_and_the_signs_of_the_trade_are_in_the_table(text: str) -> None:
    face = metrics._face()
    assert [character for character in text if character not in face.regular] == []
    assert [character for character in text if character not in face.bold] == []


@pytest.mark.parametrize(
    ("text", "em"), [("漢", 1.0), ("🙂", 1.0), ("☃", 1.0), ("ก", 0.75), ("\u0301", 0.0), ("\u200d", 0.0)]
)
def test_characters_the_table_lacks_have_a_stated_width(text: str, em: float) -> None:
    assert text_width_pt(text, 100) == pytest.approx(100 * em, abs=0.05)


def test_widths_add_up_and_grow_with_the_size() -> None:
    assert text_width_pt("gauge box", 9) == pytest.approx(text_width_pt("gauge ", 9) + text_width_pt("box", 9))
    assert text_width_pt("gauge box", 18) == pytest.approx(2 * text_width_pt("gauge box", 9))
    assert text_width_pt("", 9) == 0


def test_single_spacing_is_115_per_cent_of_the_size() -> None:
    assert line_height_pt(10) == pytest.approx(11.5, abs=0.01)


def test_lines_break_after_spaces_hyphens_and_dashes() -> None:
    assert wrap("raked well-made up", text_width_pt("raked well-", 9) + 0.1, 9) == ("raked well-", "made up")
    assert wrap("depth 25–30 mm", text_width_pt("depth 25–", 9) + 0.1, 9) == ("depth 25–", "30 mm")
    assert wrap("one two", text_width_pt("one", 9) + 0.1, 9) == ("one", "two")


def test_lines_do_not_break_at_fixed_spaces_and_fixed_hyphens() -> None:
    narrow = text_width_pt("depth 25", 9)
    assert wrap("depth 25\u00a0mm", narrow, 9) == ("depth", "25\u00a0mm")
    assert wrap("depth 25\u2011mm", narrow, 9) == ("depth", "25\u2011mm")


def test_wide_characters_break_anywhere() -> None:
    assert wrap("漢字漢字", 20.1, 10) == ("漢字", "漢字")


def test_spaces_at_the_end_of_a_line_hang() -> None:
    assert wrap("one   two", text_width_pt("one", 9) + 0.01, 9) == ("one", "two")


def test_spaces_that_begin_a_text_keep_their_room() -> None:
    assert wrap("  one", 100, 9) == ("  one",)
    assert wrap("  one", text_width_pt("one", 9), 9) == ("", "one")


def test_line_feeds_begin_lines_and_nothing_is_one_line() -> None:
    assert wrap("one\n\ntwo", 100, 9) == ("one", "", "two")
    assert wrap("", 100, 9) == ("",)


def test_what_is_wider_than_the_column_is_named_and_broken() -> None:
    width = text_width_pt("referenc", 9) + 0.1
    assert wrap("a reference", width, 9) == ("a", "referenc", "e")
    assert too_wide("a reference, reference,", width, 9) == ("reference,",)
    assert too_wide("a well-made ref", width, 9) == ()


def test_a_text_as_wide_as_its_column_fits() -> None:
    assert wrap("gauge box", text_width_pt("gauge box", 9), 9) == ("gauge box",)


def test_a_column_without_width_is_refused() -> None:
    with pytest.raises(ValueError, match="valid above 0"):
        wrap("text", 0, 9)


@given(prints, st.floats(5, 200), st.booleans())
def test_no_line_is_wider_than_its_column_and_nothing_is_lost(text: str, width: float, bold: bool) -> None:
    lines = wrap(text, width, 9, bold)
    for line in lines:
        assert text_width_pt(line, 9, bold) <= width + 1e-5 or _single(line)
    assert _inked("".join(lines)) == _inked(text)


def _inked(text: str) -> str:
    return "".join(text.split())


def _single(line: str) -> bool:
    """Whether a line is one character with no more than marks and joiners on it."""
    return sum(text_width_pt(character, 9) > 0 for character in line) <= 1


@given(prints, st.floats(20, 100))
def test_a_wider_column_never_takes_more_lines(text: str, width: float) -> None:
    assert len(wrap(text, width * 1.5, 9)) <= len(wrap(text, width, 9))


def test_a_row_is_as_high_as_its_tallest_cell() -> None:
    look = CellLook(9, margin_x_pt=4, margin_y_pt=2, space_after_pt=3, line_pt=11, border_pt=0.5)
    narrow = text_width_pt("two", 9) + 8 + SLACK_PT
    assert row_height_pt(("one", "two two two"), (100, narrow), look) == pytest.approx(3 * 11 + 3 + 4 + 0.5)


def test_a_row_in_single_spacing_has_the_pitch_of_the_face() -> None:
    assert row_height_pt(("one",), (100,), CellLook(10, border_pt=0)) == pytest.approx(line_height_pt(10))


def test_a_table_is_its_rows_with_a_bold_head_and_a_closing_line() -> None:
    look = CellLook(9, margin_x_pt=0, line_pt=10, border_pt=0.5)
    wide = text_width_pt("gauge boxes", 9) + SLACK_PT + 0.1
    assert text_width_pt("gauge boxes", 9, bold=True) > wide
    assert table_height_pt((("gauge boxes",), ("gauge boxes",)), (wide,), look) == pytest.approx(20.5 + 10.5 + 0.5)
    plain = table_height_pt((("gauge boxes",), ("gauge boxes",)), (wide,), look, header_rows=0)
    assert plain == pytest.approx(10.5 + 10.5 + 0.5)


def test_a_row_that_does_not_fit_its_columns_is_refused() -> None:
    with pytest.raises(ValueError, match="zip"):
        row_height_pt(("one", "two"), (100,), CellLook(9))
    with pytest.raises(ValueError, match="valid above 0"):
        row_height_pt(("one",), (10,), CellLook(9, margin_x_pt=5))


def test_the_table_is_read_when_first_needed_and_within_5_ms() -> None:
    taken = []
    for _ in range(5):
        metrics._face.cache_clear()
        start = time.perf_counter()
        text_width_pt("lime", 9)
        taken.append(time.perf_counter() - start)
    assert min(taken) < 0.005


@pytest.mark.skipif(None in FACES.values(), reason="Liberation Sans is not installed")
def test_the_shipped_table_is_that_of_the_installed_face() -> None:
    table = make_metrics.measured({face: path for face, path in FACES.items() if path})
    assert make_metrics.TARGET.read_text(encoding="utf-8") == make_metrics.written(table)


TEXT = (
    "Rake failed joints square back to sound mortar, 25–30 mm deep; do not cut well-made air-lime pointing "
    "over-raked – half-joints 8-12 mm ½ parts: 3.5 N/mm² (M1) “brushed flush” naïve Łódź and/or 2027-03-01 "
    "café -5 °C M1–M3 east re-use e.g. 1:3 £45 100% [see] high-quality-lime-based"
)
COLUMN_PT, SIZE_PT = 150, 9


def office(test: Callable[[Path], None]) -> Callable[[Path], None]:
    """Marks a test that measures what LibreOffice makes of a document in the face."""
    missing = not (shutil.which("soffice") and shutil.which("pdftotext") and FACES["regular"])
    skipped = pytest.mark.skipif(missing, reason="LibreOffice or Liberation Sans is missing")
    return pytest.mark.office(skipped(test))


@office
def test_an_office_program_breaks_lines_where_they_are_said_to_break(tmp_path: Path) -> None:
    chance = random.Random(5)
    texts = [" ".join(chance.choices(TEXT.split(), k=40)) for _ in range(60)]
    lines = _office_lines(texts, tmp_path)
    for index, (text, seen) in enumerate(zip(texts, lines, strict=True)):
        bold = index % 2 == 1
        assert seen in (wrap(text, COLUMN_PT, SIZE_PT, bold), wrap(text, COLUMN_PT - SLACK_PT, SIZE_PT, bold))


@office
def test_an_office_program_makes_tables_as_high_as_they_are_said_to_be(tmp_path: Path) -> None:
    chance = random.Random(3)
    tables = [
        [[" ".join(chance.choices(TEXT.split(), k=chance.randint(1, 25))) for _ in WIDTHS_PT] for _ in range(8)]
        for _ in range(4)
    ]
    documents = [_table_document(table) for table in tables]
    for table, page in zip(tables, _office_pages(documents, tmp_path, "-bbox"), strict=True):
        tops = {word: float(top) for top, word in re.findall(r'yMin="([\d.]+)"[^>]*>(ABOVE|BELOW)<', page)}
        seen = tops["BELOW"] - tops["ABOVE"] - LOOK.pitch_pt
        more = table_height_pt(table, WIDTHS_PT, LOOK) - seen
        # where a line ends within the slack of its column, a line more is reckoned
        assert more == pytest.approx(round(more / LOOK.pitch_pt) * LOOK.pitch_pt, abs=0.1)
        assert -0.1 < more < 1.5 * LOOK.pitch_pt


WIDTHS_PT = (100, 160, 220)
LOOK = CellLook(SIZE_PT, margin_x_pt=5.4, space_before_pt=1, space_after_pt=2, border_pt=0.5)


def _table_document(rows: list[list[str]]) -> docx.document.Document:
    document = docx.Document()
    section = document.sections[0]
    section.page_width, section.page_height = Pt(600), Pt(1500)
    _set(document.add_paragraph(), "ABOVE", False)
    table = document.add_table(len(rows), len(WIDTHS_PT), "Table Grid")
    table.autofit = False
    for column, width in zip(table.columns, WIDTHS_PT, strict=True):
        column.width = Pt(width)
    for index, (row, texts) in enumerate(zip(table.rows, rows, strict=True)):
        for cell, text, width in zip(row.cells, texts, WIDTHS_PT, strict=True):
            cell.width = Pt(width)
            _set(cell.paragraphs[0], text, index == 0, LOOK.space_before_pt, LOOK.space_after_pt)
    _set(document.add_paragraph(), "BELOW", False)
    return document


def _set(paragraph: docx.text.paragraph.Paragraph, text: str, bold: bool, before: float = 0, after: float = 0) -> None:
    """Sets a text in the face, single spaced."""
    layout = paragraph.paragraph_format
    layout.space_before, layout.space_after, layout.line_spacing = Pt(before), Pt(after), 1.0
    run = paragraph.add_run(text)
    run.font.name, run.font.size, run.bold = "Arial", Pt(SIZE_PT), bold


def _office_lines(texts: list[str], folder: Path) -> list[tuple[str, ...]]:
    """The lines of texts set one to a page, every other one bold."""
    document = docx.Document()
    section = document.sections[0]
    section.page_width, section.left_margin, section.right_margin = Pt(COLUMN_PT + 100), Pt(50), Pt(50)
    for index, text in enumerate(texts):
        paragraph = document.add_paragraph()
        paragraph.paragraph_format.page_break_before = index > 0
        _set(paragraph, text, index % 2 == 1)
    pages = _office_pages([document], folder, "-layout")[0].split("\f")
    return [tuple(line.strip() for line in page.splitlines() if line.strip()) for page in pages[: len(texts)]]


def _office_pages(documents: list[docx.document.Document], folder: Path, form: str) -> list[str]:
    """What is printed on the pages of documents, in a form of pdftotext."""
    papers = [folder / f"{number}.docx" for number in range(len(documents))]
    for document, paper in zip(documents, papers, strict=True):
        document.save(str(paper))
    subprocess.run(
        ["soffice", f"-env:UserInstallation={(folder / 'profile').as_uri()}", "--headless",
         "--convert-to", "pdf", "--outdir", str(folder), *map(str, papers)],
        check=True, capture_output=True, timeout=120,
    )  # fmt: skip
    return [
        subprocess.run(
            ["pdftotext", form, str(paper.with_suffix(".pdf")), "-"],
            check=True, capture_output=True, text=True,
        ).stdout
        for paper in papers
    ]  # fmt: skip
