"""In no paper is a number parted from its unit, or a range at its dash."""

from __future__ import annotations

import re

import pytest
from docx_reading import W, part
from jobs import EXAMPLES, example

from generator.document.files import COMPANIONS
from generator.papers.assemble import assemble
from generator.papers.companions import companions
from generator.render.word.document import specification

UNITS = "mm|cm|m|m²|m³|l|kg|g|h|min|nr|days?|weeks?|months?|years?|hours?|minutes?|litres?|boxes|box|per cent|°C|%"
PARTED = re.compile(rf"[\d½¼¾] (?:{UNITS})(?![\w²³])|\d–\d")


@pytest.mark.parametrize("name", [path.parent.name for path in EXAMPLES])
def test_no_number_is_parted_from_its_unit_and_no_range_broken(name: str) -> None:
    job = example(name)
    papers = {"specification": assemble(job).specification, **companions(job, list(COMPANIONS))}
    found = [
        (paper, told[max(0, match.start() - 20) : match.end() + 10])
        for paper, document in papers.items()
        for paragraph in part(specification(document)).iter(f"{{{W}}}p")
        for told in ["".join(text.text or "" for text in paragraph.iter(f"{{{W}}}t"))]
        for match in PARTED.finditer(told)
    ]
    assert found == []
