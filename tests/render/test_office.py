"""What an office program makes of the papers: numbers, references, pages. One start for all of them."""

from __future__ import annotations

import io
import re
import shutil
import subprocess
from collections.abc import Callable
from itertools import groupby
from pathlib import Path

import cv2
import numpy
import pytest
from docx_reading import W, outline, part, parts, text_of
from drawing.test_measures import COPIER
from PIL import Image, ImageChops, ImageStat
from render import mix_samples, samples
from render.word.test_mix_page import LETTER

from generator.render.word.document import specification
from generator.render.word.mix_page import mix_pages, parted
from generator.render.word.package import packed
from generator.values import replace

pytestmark = [
    pytest.mark.slow,
    pytest.mark.office,
    pytest.mark.skipif(not (shutil.which("soffice") and shutil.which("pdftotext")), reason="LibreOffice is missing"),
]
MIXES = {
    **{f"{count} cards": mix_samples.page_of(count) for count in (1, 2, 3, 4)},
    "a hot mix": mix_samples.page(mix_samples.HOT),
    "one and a hot mix": mix_samples.page(mix_samples.PUTTY, mix_samples.HOT),
    "two and a hot mix": mix_samples.page(mix_samples.PUTTY, mix_samples.HYDRAULIC, mix_samples.HOT),
    "limewash": mix_samples.page(mix_samples.WASH),
    "haired, with a long name": mix_samples.page(mix_samples.HAIRED),
    "letter": mix_samples.page(mix_samples.PUTTY, mix_samples.HYDRAULIC, mix_samples.HOT, identity=LETTER),
}
DRAFT_MIXES = {
    name: replace(page, identity=replace(page.identity, draft=samples.draft().identity.draft))
    for name, page in MIXES.items()
}


def wrong_references(data: bytes) -> bytes:
    """The paper with every number a reference shows made wrong: a refreshed field shows the right one."""
    changed = parts(data)
    text, count = re.subn(
        rb'(<w:fldSimple w:instr=" REF [^"]*">(?:<w:r>|<w:rPr>.*?</w:rPr>|<w:t [^>]*>)+)[^<]+', rb"\g<1>0.0Z",
        changed["word/document.xml"],
    )  # fmt: skip
    assert count == text.count(b"0.0Z") > 30
    return packed({**changed, "word/document.xml": text})


@pytest.fixture(scope="module")
def text_of_page(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], list[str]]:
    """The text of every page of a paper by its name."""
    folder = tmp_path_factory.mktemp("office")
    papers = {
        "tender": specification(samples.document()),
        "draft": specification(samples.draft()),
        "wrong": wrong_references(specification(samples.document())),
        "parted": mix_pages(parted([mix_samples.page_of(5)])),
        **{f"mix {name}": mix_pages([page]) for name, page in MIXES.items()},
        **{f"draft mix {name}": mix_pages([page]) for name, page in DRAFT_MIXES.items()},
    }
    for name, data in papers.items():
        (folder / f"{name}.docx").write_bytes(data)
    subprocess.run(
        ["soffice", f"-env:UserInstallation={(folder / 'profile').as_uri()}", "--headless",
         "--convert-to", "pdf", "--outdir", str(folder), *(str(folder / f"{name}.docx") for name in papers)],
        check=True, capture_output=True, timeout=180,
    )  # fmt: skip

    def read(name: str) -> list[str]:
        command = ["pdftotext", "-layout", str(folder / f"{name}.pdf"), "-"]
        return subprocess.run(command, check=True, capture_output=True, text=True).stdout.split("\f")[:-1]

    return read


def lines(pages: list[str]) -> list[str]:
    return [" ".join(line.split()) for page in pages for line in page.splitlines() if line.strip()]


def test_numbers_on_paper_equal_the_numbers_given(text_of_page: Callable[[str], list[str]]) -> None:
    headings = [
        re.sub(r'^(?:Heading1|Clause) "?([0-9A-Z.]+) "?(.*)"$', r"\1 \2", line)
        for line in outline(specification(samples.document()))
        if line.startswith(("Heading1", "Clause"))
    ]
    assert len(headings) == 21
    printed = lines(text_of_page("tender")[2:])  # after the cover and the contents
    assert [line for line in printed if line in headings] == headings


def test_refreshed_references_show_the_right_numbers(text_of_page: Callable[[str], list[str]]) -> None:
    assert text_of_page("wrong") == text_of_page("tender")


@pytest.mark.parametrize("name", ["tender", "draft", "wrong"])
def test_no_reference_is_broken(text_of_page: Callable[[str], list[str]], name: str) -> None:
    text = "\n".join(text_of_page(name))
    assert len(text) > 5000
    assert "Error" not in text


def test_every_page_of_a_draft_says_so_on_paper(text_of_page: Callable[[str], list[str]]) -> None:
    pages = text_of_page("draft")
    assert len(pages) == 7
    assert all(samples.draft().identity.draft in page for page in pages)


def test_pages_are_counted(text_of_page: Callable[[str], list[str]]) -> None:
    pages = text_of_page("tender")
    assert all(f"Page {number} of {len(pages)}" in page for number, page in enumerate(pages, 1))


def test_the_heading_row_of_the_schedule_stands_on_each_of_its_pages(
    text_of_page: Callable[[str], list[str]],
) -> None:
    pages = [page for page in text_of_page("tender") if re.search(r"^ *3\.[0-9]+ .* E1 ", page, re.MULTILINE)]
    assert len(pages) == 2
    assert all(re.search("Ref +Description +Where +Mix +Clauses +Unit +Quantity", page) for page in pages)


@pytest.mark.parametrize("name", MIXES)
def test_a_mix_page_is_one_page_with_all_of_its_words(text_of_page: Callable[[str], list[str]], name: str) -> None:
    (page,) = text_of_page(f"mix {name}")
    said = " ".join(page.replace("\u00a0", " ").split())
    for told in (
        "Lime in the eye: rinse at once.",
        "Older pages: take down.",
        "Never",
        "Wear",
        "Law and safety sheets",
    ):
        assert told in said
    assert all(card.ref in said for card in MIXES[name].cards)


def test_cards_with_a_page_each_are_a_complete_page_each(text_of_page: Callable[[str], list[str]]) -> None:
    pages = [page.replace("\u00a0", " ") for page in text_of_page("parted")]
    assert len(pages) == 5
    assert all("Lime in the eye" in page and f"Page {number} of 5." in page for number, page in enumerate(pages, 1))


@pytest.mark.parametrize("name", MIXES)
def test_a_draft_mix_page_is_one_page_and_says_so(text_of_page: Callable[[str], list[str]], name: str) -> None:
    (page,) = text_of_page(f"draft mix {name}")
    assert samples.draft().identity.draft in " ".join(page.split())


# --- mix pages as pictures --------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def seen(
    text_of_page: Callable[[str], list[str]], tmp_path_factory: pytest.TempPathFactory
) -> Callable[..., Image.Image]:
    """A mix page as a grey picture, at so many dots an inch."""
    folder = next(tmp_path_factory.getbasetemp().glob("office*"))

    def look(name: str, dpi: int) -> Image.Image:
        shown = subprocess.run(
            ["pdftoppm", "-r", str(dpi), "-gray", "-singlefile", str(folder / f"mix {name}.pdf")],
            check=True, capture_output=True,
        )  # fmt: skip
        return Image.open(io.BytesIO(shown.stdout)).convert("L")

    return look


@pytest.mark.parametrize("name", ["4 cards", "two and a hot mix"])
def test_a_telephone_reads_the_code_off_the_page_and_off_a_copy(seen: Callable[..., Image.Image], name: str) -> None:
    page = seen(name, 300)
    corner = page.crop((page.width * 4 // 5, page.height * 3 // 4, page.width, page.height))
    for picture in (corner, corner.point(lambda value: 255 if value > COPIER else 0)):
        found, *_ = cv2.QRCodeDetector().detectAndDecode(numpy.array(picture))
        assert found == MIXES[name].code


@pytest.mark.parametrize("name", MIXES)
def test_a_copier_that_prints_at_70_per_cent_loses_nothing(seen: Callable[..., Image.Image], name: str) -> None:
    page = seen(name, 300)
    copied, meant = (page.point(lambda value, limit=limit: 255 if value > limit else 0) for limit in (COPIER, 128))
    assert ImageStat.Stat(ImageChops.difference(copied, meant)).mean[0] / 255 < 0.012


def test_counts_boxes_and_marks_stand_out_from_afar(seen: Callable[..., Image.Image]) -> None:
    # at 25 dots an inch a dot is one minute of arc at 3.5 m; the first card has 2 boxes of putty and 5 of sand
    page = seen("4 cards", 25)
    card = page.crop((10, page.height // 4, page.width * 73 // 297, page.height * 60 // 100))
    rows = (card.crop((0, y, card.width, y + 1)).tobytes() for y in range(card.height))
    boxes = {sum(6 <= run <= 9 for run in stretches([value < 120 for value in row[12:]])) for row in rows}
    assert {2, 5} <= boxes, boxes
    white_mark = page.crop((10, page.height // 5, 24, page.height // 4))
    assert white_mark.getextrema()[1] > 230 > 60 > white_mark.getextrema()[0]  # type: ignore[operator]


def stretches(dark: list[bool]) -> list[int]:
    """The lengths of the dark stretches of a row."""
    return [len(list(run)) for is_dark, run in groupby(dark) if is_dark]


# --- saved by an office program ---------------------------------------------------------------------------


@pytest.fixture(scope="module")
def resaved_at(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The place of a draft that somebody has opened in an office program and saved."""
    folder = tmp_path_factory.mktemp("resaved")
    (folder / "draft.docx").write_bytes(specification(samples.draft()))
    command = ["soffice", f"-env:UserInstallation={(folder / 'profile').as_uri()}", "--headless", "--convert-to"]
    for form, source in (("docx:MS Word 2007 XML", "draft.docx"), ("pdf", "out/draft.docx")):
        told = [*command, form, "--outdir", str(folder / "out"), str(folder / source)]
        subprocess.run(told, check=True, capture_output=True, timeout=180)
    return folder / "out" / "draft.docx"


@pytest.fixture(scope="module")
def resaved(resaved_at: Path) -> bytes:
    return resaved_at.read_bytes()


def paragraphs(data: bytes) -> list[str]:
    return [text for item in part(data).iter(f"{{{W}}}p") if (text := " ".join(text_of(item).split()))]


def numbered(data: bytes) -> list[str]:
    """The numbered headings with the numbers that their lists give them."""
    found = [re.fullmatch(r'(?:Heading[12]|Clause) "?([0-9][0-9A-Z.]*) "?(.*)"', line) for line in outline(data)]
    return [f"{match[1]} {match[2]}" for match in found if match]


def codes(data: bytes) -> list[str]:
    """The codes of the references, of both forms of field."""
    simple = [item.get(f"{{{W}}}instr") for item in part(data).iter(f"{{{W}}}fldSimple")]
    spread = [item.text for item in part(data).iter(f"{{{W}}}instrText")]
    return sorted(" ".join(code.split()) for code in (*simple, *spread) if code and code.split()[:1] == ["REF"])


class TestSavedByAnOfficeProgram:
    ours = specification(samples.draft())

    def test_every_word_is_there_in_order(self, resaved: bytes) -> None:
        assert paragraphs(resaved) == paragraphs(self.ours)

    def test_every_number_is_as_it_was(self, resaved_at: Path, text_of_page: Callable[[str], list[str]]) -> None:
        command = ["pdftotext", "-layout", str(resaved_at.with_suffix(".pdf")), "-"]
        printed = subprocess.run(command, check=True, capture_output=True, text=True).stdout.split("\f")[:-1]
        wanted = numbered(self.ours)
        assert len(wanted) > 15
        for pages in (printed, text_of_page("draft")):
            assert [line for line in lines(pages[2:]) if line in wanted] == wanted

    def test_every_reference_is_live_still(self, resaved: bytes) -> None:
        assert codes(resaved) == codes(self.ours)
        assert len(codes(resaved)) > 30

    def test_every_bookmark_is_there(self, resaved: bytes) -> None:
        found, expected = (
            {item.get(f"{{{W}}}name") for item in part(data).iter(f"{{{W}}}bookmarkStart")}
            for data in (resaved, self.ours)
        )
        assert expected - found == set()

    def test_every_comment_is_there(self, resaved: bytes) -> None:
        found, expected = (
            [" ".join(text_of(item).split()) for item in part(data, "word/comments.xml")]
            for data in (resaved, self.ours)
        )
        assert found == expected
        assert expected
