"""The code on the mix page: read back by a reader that is not of the library that makes it."""

from __future__ import annotations

import io
import subprocess
import sys

import cv2
import numpy
import pytest
from PIL import Image

from generator.drawing.code import MODULE_MM, MOST_CHARACTERS, CodeTooLong, code
from generator.drawing.png import PAPER_DPI, png

TEXT = (
    "WE-027 rev 1. M1 2 putty 5 sand A no water. M2 1/2 NHL 3.5 1 1/4 sand B 6 h. "
    "M4 2 quicklime 3 1/2 sand C 2 1/2 grit D 41 l."
)


def read(data: bytes, dpi: int = PAPER_DPI, limit: int | None = None) -> str:
    """What a reader finds on a page of white paper with the code on it, after a copier where `limit` is given."""
    shown = Image.open(io.BytesIO(data)).convert("L")
    paper = Image.new("L", (shown.width + 80, shown.height + 80), 255)
    paper.paste(shown, (40, 40))
    paper = paper.resize((paper.width * dpi // PAPER_DPI, paper.height * dpi // PAPER_DPI))
    if limit is not None:
        paper = paper.point(lambda value: 255 if value > limit else 0)
    found, *_ = cv2.QRCodeDetector().detectAndDecode(numpy.array(paper))
    return str(found)


@pytest.mark.parametrize("text", [TEXT, "M1", "x" * MOST_CHARACTERS, 'Gauge: 1/2 + 1 1/4; "quoted" & <marked> 100 %'])
def test_a_reader_finds_the_text(text: str) -> None:
    assert read(png(code(text, "A code.", 40.0))) == text


def test_a_reader_finds_the_text_on_a_scan_and_after_a_copier() -> None:
    data = png(code(TEXT, "A code.", 40.0))
    assert read(data, dpi=200) == TEXT
    assert read(data, limit=178) == TEXT


def test_the_least_square_keeps_its_size() -> None:
    short, long = code("M1", "A code.", 40.0), code(TEXT, "A code.", 40.0)
    assert round(short.width_mm / MODULE_MM, 3).is_integer()
    assert short.width_mm < long.width_mm == long.height_mm < 26.0


@pytest.mark.parametrize(("text", "room"), [("x" * (MOST_CHARACTERS + 1), 40.0), (TEXT, 15.0)])
def test_what_does_not_fit_is_refused(text: str, room: float) -> None:
    with pytest.raises(CodeTooLong):
        code(text, "A code.", room)


def test_the_same_text_gives_the_same_code() -> None:
    assert code(TEXT, "A code.", 40.0) == code(TEXT, "A code.", 40.0)


def test_a_code_fetches_nothing_of_networks() -> None:
    program = "import sys; from generator.drawing.code import code; code('M1', 'A code.', 40.0); print(*sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", program], check=True, capture_output=True, text=True).stdout.split()
    assert "segno.encoder" in loaded
    assert not {"segno", "ssl", "http.client", "email.message"} & set(loaded)
