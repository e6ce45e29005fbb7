"""Text measured by the face that draws it: Arial's widths."""

from __future__ import annotations

import hashlib
import random
import shutil
import subprocess
import time
import unicodedata
from collections.abc import Callable
from pathlib import Path

import docx
import docx.document
import pytest
from docx.shared import Pt
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from generator.drawing import text as measuring
from generator.drawing.text import (
    SLACK_PT,
    face_file,
    line_height_pt,
    parts_of_line,
    placed,
    text_width_pt,
    widest_part_pt,
    wrap,
)

weights = pytest.mark.parametrize("bold", [False, True], ids=["regular", "bold"])
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


@weights
def test_every_advance_is_that_of_the_face_that_draws(bold: bool) -> None:
    face = TTFont(face_file(bold))
    names, advances = face.getBestCmap(), face["hmtx"]
    per_em = face["head"].unitsPerEm
    # a few old signs are measured and drawn as the letter they stand for
    codes = [code for code in names if unicodedata.is_normalized("NFC", chr(code))]
    assert len(codes) > 2000
    wrong = [code for code in codes if text_width_pt(chr(code), per_em, bold) != advances[names[code]][0]]
    assert wrong == []


@weights
def test_the_face_is_the_one_its_makers_gave_out_with_its_licence_beside_it(bold: bool) -> None:
    # the licence keeps the name for files that are not changed: Liberation Fonts 2.1.5, SIL Open Font License 1.1
    assert hashlib.sha256(face_file(bold).read_bytes()).hexdigest() == DIGESTS[bold]
    names = TTFont(face_file(bold))["name"]
    assert [names.getDebugName(number) for number in (1, 2, 5)] == [
        "Liberation Sans", "Bold" if bold else "Regular", "Version 2.1.5",
    ]  # fmt: skip
    licence = face_file(bold).with_name("LICENSE").read_text(encoding="ascii")
    assert "Reserved Font Name Liberation" in licence
    assert "SIL OPEN FONT LICENSE Version 1.1" in licence


DIGESTS = {
    False: "8d91388f1d3604b3b8ae0e3ee2d140e50cd6122f9214514f4aca772540a4076d",
    True: "ba0e0dc3f7aca5b0afbc31e800531ee43be3aa79ae35b2ef1f6470a9547765c4",
}


@weights
@pytest.mark.parametrize("text", ["Łódź", "Ωμέγα", "Привет", "“quoted” — m³ ≤ ≥ → €", "½ ⅔ №"])
def test_european_letters_and_the_signs_of_the_trade_are_in_the_face(text: str, bold: bool) -> None:
    names = TTFont(face_file(bold)).getBestCmap()
    assert [character for character in text if ord(character) not in names] == []


def test_a_hyphen_that_keeps_a_line_together_is_drawn_and_measured_as_a_hyphen() -> None:
    assert text_width_pt("re\u2011use", 9) == text_width_pt("re\u2010use", 9)
    assert [character for character, _ in placed("a\u2011b", 9)] == ["a", "\u2010", "b"]


@given(prints, st.booleans())
def test_each_letter_is_drawn_where_the_text_before_it_ends(text: str, bold: bool) -> None:
    text = unicodedata.normalize("NFC", text).replace("\u2011", "\u2010")
    drawn = iter(placed(text, 9, bold))
    for index, character in enumerate(text):
        if character.isprintable() and character != " ":
            letter, at = next(drawn)
            assert letter == character
            assert at == pytest.approx(text_width_pt(text[:index], 9, bold))
    assert next(drawn, None) is None


def test_spaces_and_joiners_leave_no_ink() -> None:
    assert list(placed(" \u00a0\u200d", 9)) == []


def test_a_letter_with_its_accent_apart_is_measured_and_drawn_as_one() -> None:
    assert list(placed("e\u0301a", 9)) == list(placed("éa", 9))
    assert text_width_pt("e\u0301a", 9) == text_width_pt("éa", 9)


@pytest.mark.parametrize(
    ("text", "em"), [("漢", 1.0), ("🙂", 1.0), ("☃", 1.0), ("ก", 0.75), ("\u0301", 0.0), ("\u200d", 0.0)]
)
def test_characters_the_face_lacks_have_a_stated_width(text: str, em: float) -> None:
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


def test_a_range_bound_by_word_joiners_is_one_part_of_its_line_and_its_width_that_of_the_whole() -> None:
    bound = "20\u2060–\u206080\u00a0m²"
    assert widest_part_pt([f"worst {bound}"], 9) == text_width_pt(bound, 9)
    assert wrap(f"worst {bound}", text_width_pt(f"worst {bound}", 9) - 1, 9) == ("worst", bound)


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


def test_what_is_wider_than_the_column_is_broken() -> None:
    width = text_width_pt("referenc", 9) + 0.1
    assert wrap("a reference", width, 9) == ("a", "referenc", "e")


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


@given(st.text("ab9 -\u2010\u2013\u2014\u2060\u200b\t"))
def test_a_text_has_the_same_parts_whichever_characters_are_looked_for(text: str) -> None:
    parts = parts_of_line(text)
    assert parts == measuring._wide_chunk().findall(text)
    assert "".join(parts) == text


@given(prints, st.floats(20, 100))
def test_a_wider_column_never_takes_more_lines(text: str, width: float) -> None:
    assert len(wrap(text, width * 1.5, 9)) <= len(wrap(text, width, 9))


def test_the_widest_part_is_what_a_column_must_hold() -> None:
    part = widest_part_pt(["a wall-or bed", "a"], 9)
    assert part == text_width_pt("wall-", 9)
    assert wrap("a wall-or bed", part, 9) == ("a", "wall-", "or", "bed")
    assert widest_part_pt(["", ""], 9) == widest_part_pt([], 9) == 0


def test_the_face_is_read_when_first_needed_and_within_5_ms() -> None:
    taken = []
    for _ in range(5):
        measuring._advances.cache_clear()
        measuring._ems.cache_clear()
        start = time.perf_counter()
        text_width_pt("lime", 9)
        taken.append(time.perf_counter() - start)
    assert min(taken) < 0.005


TEXT = (
    "Rake failed joints square back to sound mortar, 25–30 mm deep; do not cut well-made air-lime pointing "
    "over-raked – half-joints 8-12 mm ½ parts: 3.5 N/mm² (M1) “brushed flush” naïve Łódź and/or 2027-03-01 "
    "café -5 °C M1–M3 east re-use e.g. 1:3 £45 100% [see] high-quality-lime-based"
)
COLUMN_PT, SIZE_PT = 150, 9


def _face_is_installed() -> bool:
    if shutil.which("fc-match") is None:
        return False
    command = ["fc-match", "-f", "%{family}", "Liberation Sans"]
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout == "Liberation Sans"


def office(test: Callable[[Path], None]) -> Callable[[Path], None]:
    """Marks a test that measures what LibreOffice makes of a document in the face."""
    missing = not (shutil.which("soffice") and shutil.which("pdftotext") and _face_is_installed())
    skipped = pytest.mark.skipif(missing, reason="LibreOffice or Liberation Sans is missing")
    return pytest.mark.slow(pytest.mark.office(skipped(test)))


@office
def test_an_office_program_breaks_lines_where_they_are_said_to_break(tmp_path: Path) -> None:
    chance = random.Random(5)
    texts = [" ".join(chance.choices(TEXT.split(), k=40)) for _ in range(60)]
    lines = _office_lines(texts, tmp_path)
    for index, (text, seen) in enumerate(zip(texts, lines, strict=True)):
        bold = index % 2 == 1
        assert seen in (wrap(text, COLUMN_PT, SIZE_PT, bold), wrap(text, COLUMN_PT - SLACK_PT, SIZE_PT, bold))


def _office_lines(texts: list[str], folder: Path) -> list[tuple[str, ...]]:
    """The lines of texts set one to a page, every other one bold."""
    document = docx.Document()
    section = document.sections[0]
    section.page_width, section.left_margin, section.right_margin = Pt(COLUMN_PT + 100), Pt(50), Pt(50)
    for index, text in enumerate(texts):
        paragraph = document.add_paragraph()
        paragraph.paragraph_format.page_break_before = index > 0
        paragraph.paragraph_format.line_spacing = 1.0
        run = paragraph.add_run(text)
        run.font.name, run.font.size, run.bold = "Arial", Pt(SIZE_PT), index % 2 == 1
    pages = _office_pages(document, folder).split("\f")
    return [tuple(line.strip() for line in page.splitlines() if line.strip()) for page in pages[: len(texts)]]


def _office_pages(document: docx.document.Document, folder: Path) -> str:
    """What is printed on the pages of a document."""
    document.save(str(folder / "paper.docx"))
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    making = ["soffice", profile, "--headless", "--convert-to", "pdf", "--outdir", str(folder), "paper.docx"]
    subprocess.run(making, check=True, capture_output=True, timeout=120, cwd=folder)
    reading = ["pdftotext", "-layout", str(folder / "paper.pdf"), "-"]
    return subprocess.run(reading, check=True, capture_output=True, text=True).stdout
