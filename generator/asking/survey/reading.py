"""The papers as pages to read, made of the answers as they stand."""

from __future__ import annotations

from typing import Final

from generator.asking.survey import decided
from generator.document.files import COMPANIONS
from generator.document.model import Document
from generator.job.job import Job
from generator.papers.assemble import assemble
from generator.papers.companions import companions
from generator.render.page.paper import HtmlPaper, html_paper

SPECIFICATION: Final = "specification"
MIXES: Final = "mixes"
READABLE: Final = (SPECIFICATION, MIXES, *COMPANIONS)


class Reading:
    """The papers of a job as HTML, each made when it is first asked for."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self._papers: dict[str, HtmlPaper] = {}

    def paper(self, name: str) -> HtmlPaper:
        """A paper by its name."""
        if name not in self._papers:
            self._papers[name] = html_paper(self._document(name), lambda at: f"/papers/{name}/{at}")
        return self._papers[name]

    def _document(self, name: str) -> Document:
        if name == SPECIFICATION:
            return assemble(self.job).specification
        return companions(self.job, [name])[COMPANIONS[name]]

    def cards(self) -> list[decided.MixCard]:
        """A card for each mix."""
        return decided.cards(self.job, ())
