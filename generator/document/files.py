"""What the files of a set are called: asked of every run, whatever it makes of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Final

COMPANIONS: Final[Mapping[str, str]] = {
    "survey": "survey-sheet.docx",
    "officer": "officer-summary.docx",
    "records": "site-records.docx",
    "owner": "owner-page.docx",
    "letter": "covering-letter.docx",
}
"""The companion papers by the word that asks for one, with the file each is written to."""


def pdf_name(name: str) -> str:
    """The name of the PDF file of a Word paper."""
    return name.removesuffix(".docx") + ".pdf"


def pdf_names(names: Iterable[str]) -> list[str]:
    """The names of the PDF files of those files that are Word papers."""
    return [pdf_name(name) for name in names if name.endswith(".docx")]
