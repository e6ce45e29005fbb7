"""Word papers as tagged PDF by LibreOffice, and the pages on which their headings then stand."""

from __future__ import annotations

import importlib.util
import json
import shutil
import subprocess
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final

from generator.document.files import pdf_name
from generator.document.model import Document
from generator.files.errors import CannotWrite
from generator.render.pdf.access import mended
from generator.render.word.document import specification
from generator.render.word.look import Look
from generator.render.word.paper import entries_of

PASSES: Final = 3
"""Page numbers in the contents may move what follows them; seen to settle at the second pass."""

_NO_READER: Final = (
    "--pdf reads and mends PDF files with pypdf, which is missing: install gaugebox[pdf], or leave out --pdf"
)
_SECONDS: Final = 300
_OPTIONS: Final = {
    "UseTaggedPDF": True, "PDFUACompliance": True, "ExportBookmarks": True, "ExportNotes": False,
}  # fmt: skip


def _office() -> str | None:
    return shutil.which("soffice") or shutil.which("libreoffice")


def can_make() -> bool:
    """Whether PDF files can be made here: LibreOffice is there, and what reads and mends them."""
    return _office() is not None and importlib.util.find_spec("pypdf") is not None


def pdfs(papers: Mapping[str, bytes]) -> dict[str, bytes]:
    """Word papers by file name as tagged PDF files by theirs. Raises `CannotWrite` where LibreOffice is missing."""
    office = _office()
    if office is None:
        raise CannotWrite("--pdf needs LibreOffice, and 'soffice' is not on the path: install it, or leave out --pdf")
    try:
        with tempfile.TemporaryDirectory(prefix="gaugebox-") as folder:
            place = Path(folder)
            for name, data in papers.items():
                (place / name).write_bytes(data)
            _convert(office, place, list(papers))
            return {pdf_name(name): mended(_made(place / pdf_name(name))) for name in papers}
    except ModuleNotFoundError:
        raise CannotWrite(_NO_READER) from None
    except OSError as error:
        reason = error.strerror or str(error)
        raise CannotWrite(f"--pdf works in the folder of temporary files, which fails ({reason}): free space") from None


def with_pages(document: Document, house: Look | None = None) -> tuple[bytes, bytes]:
    """A specification with the pages of its parts in the contents, as Word file and as PDF.

    Raises `CannotWrite` where LibreOffice, or the reader of its outline, is missing.
    """
    name = "specification.docx"
    word = specification(document, house=house)
    for _ in range(PASSES):
        printed = pdfs({name: word})[pdf_name(name)]
        again = specification(document, heading_pages(printed, document), house)
        if again == word:
            break
        word = again
    return word, printed


def heading_pages(printed: bytes, document: Document) -> dict[str, int]:
    """The page of each heading by its anchor, 1 the first, as the outline of the PDF has it."""
    import io

    try:
        reader: Any = importlib.import_module("pypdf").PdfReader(io.BytesIO(printed))
    except ModuleNotFoundError:
        raise CannotWrite(_NO_READER) from None
    outline = [(_plain(item.title), reader.get_destination_page_number(item) + 1) for item in _flat(reader.outline)]
    found: dict[str, int] = {}
    free, place = set(range(len(outline))), 0
    for entry in entries_of(document.blocks()):
        title = _plain(entry.title)
        onward = (*range(place, len(outline)), *range(place))  # a section that floats stands before its turn
        matched = next((at for at in onward if at in free and outline[at][0].endswith(title)), None)
        if matched is not None:
            found[entry.anchor] = outline[matched][1]
            free.discard(matched)
            place = max(place, matched + 1)
    return found


def _flat(outline: list[Any]) -> list[Any]:
    found: list[Any] = []
    for item in outline:
        found += _flat(item) if isinstance(item, list) else [item]
    return found


def _plain(text: str) -> str:
    return " ".join(text.split())


def _convert(office: str, place: Path, names: list[str]) -> None:
    """Runs LibreOffice once for all papers, with a profile of its own, so that an open one is not disturbed."""
    said = {key: {"type": "boolean", "value": str(value).lower()} for key, value in _OPTIONS.items()}
    command = [
        office, f"-env:UserInstallation={(place / 'profile').as_uri()}", "--headless", "--convert-to",
        f"pdf:writer_pdf_Export:{json.dumps(said)}", "--outdir", str(place), *(str(place / name) for name in names),
    ]  # fmt: skip
    try:
        subprocess.run(command, check=True, capture_output=True, timeout=_SECONDS)
    except (OSError, subprocess.SubprocessError):
        raise CannotWrite("LibreOffice did not make the PDF: close it where it is open, and run again") from None


def _made(path: Path) -> bytes:
    if not path.is_file():
        raise CannotWrite(f"LibreOffice made no {path.name}: open the Word file in it and see what it says")
    return path.read_bytes()
