"""Papers as PDF: what is said where a helper is missing, tagged files, and true page numbers in the contents."""

from __future__ import annotations

import importlib
import io
import re
import shutil
import subprocess
from pathlib import Path

import pytest
from docx_reading import W, part, parts, text_of
from jobs import EXAMPLES, job
from random_answers import random_answers
from render.mix_samples import page_of
from render.samples import document, draft

from generator.document.files import COMPANIONS
from generator.files.errors import CannotWrite
from generator.papers.assemble import assemble
from generator.papers.companions import companions
from generator.render.pdf import making as pdf
from generator.render.pdf.access import mended
from generator.render.word.document import specification
from generator.render.word.mix_page import mix_pages
from generator.render.word.paper import entries_of

needs_office = [
    pytest.mark.office,
    pytest.mark.skipif(shutil.which("soffice") is None, reason="LibreOffice is not on the path"),
]


def test_without_libreoffice_the_message_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(shutil, "which", lambda name: None)
    with pytest.raises(CannotWrite, match=r"needs LibreOffice.*install it, or leave out --pdf"):
        pdf.pdfs({"a.docx": b""})


def test_without_the_reader_of_outlines_the_message_names_the_extra(monkeypatch: pytest.MonkeyPatch) -> None:
    def missing(name: str) -> None:
        raise ModuleNotFoundError(name)

    monkeypatch.setattr(importlib, "import_module", missing)
    with pytest.raises(CannotWrite, match=r"gaugebox\[pdf\]"):
        pdf.heading_pages(b"%PDF", document())


class TestWithOffice:
    pytestmark = needs_office

    def test_the_pdf_is_tagged_and_has_the_title_of_the_paper(self, tmp_path: Path) -> None:
        (made,) = pdf.pdfs({"specification.docx": specification(document())}).values()
        (tmp_path / "a.pdf").write_bytes(made)
        told = subprocess.run(["pdfinfo", tmp_path / "a.pdf"], check=True, capture_output=True, text=True).stdout
        assert "Tagged:          yes" in told
        assert document().identity.title in told

    @pytest.mark.slow
    def test_a_checker_of_pdf_ua_finds_nothing_in_any_kind_of_paper(self) -> None:
        page = pytest.importorskip("page")
        papers = {"specification.docx": specification(document()), "draft.docx": specification(draft())}
        papers |= {f"mix-{count}.docx": mix_pages([page_of(count)]) for count in (1, 4)}
        found = job(EXAMPLES[0].read_text(encoding="utf-8"))
        papers |= {name: specification(made) for name, made in companions(found, list(COMPANIONS)).items()}
        told = {name: page.validate_pdf_bytes(data, profile="ua1").failures for name, data in pdf.pdfs(papers).items()}
        assert len(told) == len(papers)
        assert {name: [item.message for item in items] for name, items in told.items() if items} == {}

    @pytest.mark.slow
    def test_mending_changes_no_word_and_no_page(self, monkeypatch: pytest.MonkeyPatch) -> None:
        pypdf = pytest.importorskip("pypdf")
        monkeypatch.setattr(pdf, "mended", lambda data: data)
        (raw,) = pdf.pdfs({"a.docx": specification(document())}).values()
        assert mended(raw) != raw
        readers = [pypdf.PdfReader(io.BytesIO(data)) for data in (raw, mended(raw))]
        texts = [[page.extract_text() for page in reader.pages] for reader in readers]
        assert texts[0] == texts[1]
        assert len(texts[0]) > 3

    @pytest.mark.slow
    def test_the_contents_give_the_page_on_which_each_part_stands(self) -> None:
        pytest.importorskip("pypdf")
        word, printed = pdf.with_pages(document())
        pages = pdf.heading_pages(printed, document())
        assert pages["part-2"] >= 1
        lines = [
            text_of(item) for item in part(word).iter(f"{{{W}}}p") if item.find(f".//{{{W}}}hyperlink") is not None
        ]
        assert any(line.endswith(str(pages["part-2"])) and line.startswith("2") for line in lines)

    @pytest.mark.slow
    def test_the_page_numbers_of_the_contents_are_seen_on_the_page(self, tmp_path: Path) -> None:
        pytest.importorskip("pypdf")
        _, printed = pdf.with_pages(document())
        (tmp_path / "a.pdf").write_bytes(printed)
        told = subprocess.run(["pdftotext", "-layout", tmp_path / "a.pdf", "-"], check=True, capture_output=True)
        page = pdf.heading_pages(printed, document())["part-2"]
        assert re.search(rf"^ *2 +\S.*\.{{5,}} *{page}$", told.stdout.decode(), re.MULTILINE)

    @pytest.mark.slow
    def test_pages_that_were_reckoned_are_those_of_the_office_program_in_every_example_and_in_drawn_jobs(self) -> None:
        pytest.importorskip("pypdf")
        found = {path.parent.name: job(path.read_text("utf-8"), folder=path.parent) for path in EXAMPLES}
        found |= {f"drawn-{seed}": job(random_answers(seed)) for seed in range(1, 9)}
        papers = {name: assemble(one).specification for name, one in found.items()}
        words = {f"{name}.docx": specification(paper) for name, paper in papers.items()}
        shown = pdf.pdfs(words)
        for name, paper in papers.items():
            pages = pdf.heading_pages(shown[f"{name}.pdf"], paper)
            expected = {one.bookmark: pages[one.anchor] for one in entries_of(paper.blocks()) if one.level == 1}
            assert len(expected) > 10
            assert printed_pages(words[f"{name}.docx"]) in ({}, expected), name
        bare = [name for name in papers if not printed_pages(words[f"{name}.docx"])]
        assert not any(path.parent.name in bare for path in EXAMPLES)
        assert len(bare) <= 2, bare  # drawn walls with texts as long as theirs run over their sheets


def printed_pages(word: bytes) -> dict[str, int]:
    """The page that the contents list prints of each bookmark."""
    body = parts(word)["word/document.xml"].decode()
    return {name: int(page) for name, page in re.findall(r"PAGEREF (\S+) .h \">(?:<[^>]*>)*(\d+)<", body)}
