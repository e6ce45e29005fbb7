"""Writes generator/metrics_data.json from the Liberation Sans that fontconfig knows; run by hand.

    python tests/make_metrics.py

Liberation Sans has the advance widths of Arial by design, so its table serves for either face. Only widths
and line heights are read: figures, no outlines.
"""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

from fontTools.ttLib import TTFont

TARGET = Path(__file__).parents[1] / "generator" / "metrics_data.json"
FACES = {"regular": "Regular", "bold": "Bold"}
SPANS = (
    (0x0020, 0x007E),  # ASCII
    (0x00A0, 0x017F),  # Latin-1, Latin Extended-A
    (0x0218, 0x021B),  # Romanian s and t with comma
    (0x02C6, 0x02DD),  # spacing accents
    (0x0384, 0x03CE),  # Greek
    (0x0400, 0x045F),  # Cyrillic
    (0x0490, 0x0491),  # Ukrainian g
    (0x2010, 0x2044),  # dashes, quotes, bullet, ellipsis, per mille, fraction slash
    (0x2070, 0x2089),  # raised and lowered figures
    (0x20AC, 0x20AC),  # euro
    (0x2113, 0x2126),  # litre, numero, trade mark, ohm
    (0x2150, 0x215E),  # fractions
    (0x2190, 0x2195),  # arrows
    (0x2202, 0x2265),  # mathematical signs
    (0x25A0, 0x25CF),  # squares and rounds
    (0x2610, 0x2713),  # tick boxes
    (0xFB01, 0xFB02),  # ligatures
)


def font_path(style: str) -> Path | None:
    """The file of Liberation Sans in a style, None where fontconfig or the face is missing."""
    if shutil.which("fc-match") is None:
        return None
    pattern = f"Liberation Sans:style={style}"
    found = subprocess.run(
        ["fc-match", "-f", "%{family}\t%{file}", pattern], capture_output=True, text=True, check=True
    ).stdout.split("\t")
    return Path(found[1]) if found[0] == "Liberation Sans" else None


def measured(paths: dict[str, Path]) -> dict[str, Any]:
    """The table: advances in units of the em, in runs that begin at a code point, for each face."""
    fonts = {face: TTFont(path) for face, path in paths.items()}
    heads = {
        (font["head"].unitsPerEm, font["hhea"].ascent - font["hhea"].descent + font["hhea"].lineGap)
        for font in fonts.values()
    }
    ((per_em, line),) = heads
    return {
        "source": "Liberation Sans, advance widths (hmtx) and line height (hhea)",
        "units_per_em": per_em,
        "line": line,
        **{face: _runs(font) for face, font in fonts.items()},
    }


def _runs(font: TTFont) -> dict[str, list[int]]:
    names, advances = font.getBestCmap(), font["hmtx"]
    runs: dict[str, list[int]] = {}
    for first, last in SPANS:
        run: list[int] | None = None
        for code in range(first, last + 1):
            if code not in names:
                run = None
                continue
            run = runs.setdefault(str(code), []) if run is None else run
            run.append(advances[names[code]][0])
    return runs


def written(table: dict[str, Any]) -> str:
    """The table as the text of its file."""
    return json.dumps(table, separators=(",", ":")).replace('],"', '],\n"') + "\n"


def main() -> None:
    """Measures the installed face and replaces the table."""
    paths = {face: font_path(style) for face, style in FACES.items()}
    missing = [face for face, path in paths.items() if path is None]
    if missing:
        raise SystemExit(f"Liberation Sans is not installed: {', '.join(missing)}")
    found = {face: path for face, path in paths.items() if path}
    TARGET.write_text(written(measured(found)), encoding="utf-8")


if __name__ == "__main__":
    main()
