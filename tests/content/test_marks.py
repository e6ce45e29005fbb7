"""Every mix is known by its number and its sign wherever a paper names it."""

from __future__ import annotations

import io
import re

import openpyxl
import pytest
from docx_reading import W, part
from jobs import example

from generator import pipeline
from generator.document.files import COMPANIONS
from generator.drawing.measures import SIGNS, mark_of

NAMED = re.compile(r"\bM([1-9][0-9]*)\b(.{0,2})")
CARD = "mix-schedule.docx"
"""Here the sign is drawn large beside the number, on the ground of its lime."""


def texts(name: str, data: bytes) -> list[str]:
    """Each paragraph or cell of a paper."""
    if name.endswith(".xlsx"):
        cells = (cell.value for sheet in openpyxl.load_workbook(io.BytesIO(data)) for row in sheet for cell in row)
        return [value for value in cells if isinstance(value, str)]
    return ["".join(node.text or "" for node in line.iter(f"{{{W}}}t")) for line in part(data).iter(f"{{{W}}}p")]


@pytest.mark.parametrize("name", ["mill-house", "garden-front"])
def test_behind_each_number_of_a_mix_stands_its_sign_in_every_paper(name: str) -> None:
    papers = pipeline.papers(example(name), wanted=list(COMPANIONS))
    bare, named = [], dict.fromkeys(papers, 0)
    for paper, data in papers.items():
        for text in texts(paper, data) if paper != CARD else ():
            for found in NAMED.finditer(text):
                named[paper] += 1
                if found[2] != f"\u00a0{SIGNS[mark_of(f'M{found[1]}')]}":
                    bare.append((paper, text[:80]))
    assert bare == []
    told = {paper.partition(".")[0] for paper, count in named.items() if count}
    assert {"specification", "pricing-schedule", "officer-summary", "owner-page", "site-records"} <= told
