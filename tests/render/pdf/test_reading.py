"""A paper as a telephone reads it from its tags: order, headings, heads of rows and columns, pictures in words."""

from __future__ import annotations

import io
import re
import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import pairwise
from pathlib import Path
from typing import Any

import pypdf
import pytest
from jobs import example

from generator import pipeline
from generator.document.files import pdf_name
from generator.render.pdf import making as pdf

pytestmark = [
    pytest.mark.slow,
    pytest.mark.office,
    pytest.mark.skipif(not (shutil.which("soffice") and shutil.which("pdfinfo")), reason="LibreOffice is missing"),
]
PAPERS = ("specification", "officer-summary", "owner-page")
each = pytest.mark.parametrize("paper", PAPERS)


@dataclass
class Element:
    """An element of the tree of tags: its kind, what is told of it, and the words and elements in it, in order."""

    kind: str
    told: dict[str, str] = field(default_factory=dict)
    holds: list[str | Element] = field(default_factory=list)

    @property
    def within(self) -> list[Element]:
        """The elements right within it."""
        return [one for one in self.holds if isinstance(one, Element)]

    def all(self, *kinds: str) -> Iterator[Element]:
        """Every element of some kinds within it, in reading order."""
        for one in self.within:
            if one.kind in kinds:
                yield one
            yield from one.all(*kinds)

    @property
    def text(self) -> str:
        """All its words."""
        return " ".join(" ".join(one if isinstance(one, str) else one.text for one in self.holds).split())


def tree(data: bytes, folder: Path) -> Element:
    """The tree of tags as poppler reads it."""
    (folder / "a.pdf").write_bytes(data)
    command = ["pdfinfo", "-struct-text", str(folder / "a.pdf")]
    lines = subprocess.run(command, check=True, capture_output=True, text=True).stdout.splitlines()
    top = Element("top")
    around: list[tuple[int, Element]] = [(-1, top)]
    for line in lines:
        depth, said = len(line) - len(line.lstrip()), line.strip()
        while around[-1][0] >= depth:
            around.pop()
        here = around[-1][1]
        if said.startswith('"'):
            here.holds.append(said[1:-1])
        elif said.startswith("/"):
            name, _, value = said[1:].partition(" ")
            here.told[name] = value.strip().removeprefix("/")
        elif found := re.match(r"([A-Z][A-Za-z0-9]*)\b", said):
            inner = Element(found[1])
            here.holds.append(inner)
            around.append((depth, inner))
    return top


@pytest.fixture(scope="module")
def printed() -> dict[str, bytes]:
    """Papers of the smallest example as tagged PDF."""
    made = pipeline.papers(example("garden-front"), wanted=["officer", "owner"])
    words = {f"{name}.docx": made[f"{name}.docx"] for name in PAPERS}
    return {name: pdf.pdfs(words)[pdf_name(f"{name}.docx")] for name in PAPERS}


@pytest.fixture(scope="module")
def trees(printed: dict[str, bytes], tmp_path_factory: pytest.TempPathFactory) -> dict[str, Element]:
    """The same as trees of tags."""
    return {name: tree(data, tmp_path_factory.mktemp(name)) for name, data in printed.items()}


@each
def test_headings_go_down_by_one_level_at_a_time(trees: dict[str, Element], paper: str) -> None:
    levels = [int(one.kind[1:]) for one in trees[paper].all("H1", "H2", "H3")]
    assert len(levels) > 1
    assert levels[0] == 1
    assert all(here <= before + 1 for before, here in pairwise(levels))


@each
def test_every_table_has_heads_by_column_and_each_row_that_says_what_it_is_of_has_a_head(
    trees: dict[str, Element], paper: str
) -> None:
    tables = list(trees[paper].all("Table"))
    assert tables
    for table in tables:
        first, *rows = table.all("TR")
        assert {(cell.kind, cell.told.get("Scope")) for cell in first.within} == {("TH", "Column")}
        assert rows
        for row in rows:
            head, *others = row.within
            assert (head.kind, head.told.get("Scope")) == (("TH", "Row") if head.text else ("TD", None)), row.text
            assert {cell.kind for cell in others} == {"TD"}


def test_it_is_read_in_the_order_in_which_it_is_to_be_read(trees: dict[str, Element]) -> None:
    # the narrow column comes behind what it stands beside, and the parts in their order
    found = [one.text for one in trees["specification"].all("P", "H1", "H2", "LI")]
    order = ["Garden front, repointing in lime", "Contents", "Read this first", "What is to be done", "Sheet 1:"]
    order += [
        "Repointing",
        "Lines to price",
        "1 Tendering",
        "2 Site",
        "3 Building",
        "14 References",
        "Pricing schedule",
    ]
    places: list[int] = []
    for words in order:
        after = places[-1] + 1 if places else 0
        at = next((place for place in range(after, len(found)) if found[place].startswith(words)), None)
        assert at is not None, words
        places.append(at)


@each
def test_every_picture_is_told_in_words(printed: dict[str, bytes], paper: str) -> None:
    root: Any = pypdf.PdfReader(io.BytesIO(printed[paper])).trailer["/Root"]
    figures = list(of_kind(root["/StructTreeRoot"], "/Figure"))
    assert [one for one in figures if not str(one.get("/Alt", "")).strip()] == []
    assert len(figures) > 5 or paper != "specification"


def of_kind(element: Any, kind: str) -> Iterator[Any]:
    held = element.get("/K")
    held = held.get_object() if held is not None else []
    for kid in held if isinstance(held, list) else [held]:
        one = kid.get_object()
        if isinstance(one, dict):
            if one.get("/S") == kind:
                yield one
            yield from of_kind(one, kind)


@each
def test_what_stands_on_every_page_is_not_read_with_the_text(trees: dict[str, Element], paper: str) -> None:
    assert not re.search(r"Page \d+ of \d+", trees[paper].text)
