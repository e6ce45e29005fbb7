"""Every code that reckoning or reading of pictures can tell has its words, and no words stand without a code."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest
from answers_text import one_wall
from jobs import ROOT, job, shipped

from generator.job.findings import worded
from generator.library.findings import Raised
from generator.lime.plane_limits import Told
from generator.measure.photographs.told import code_of, letters_told, per_cent, spelt

# Which codes stand for a figure past a limit, told as a warning and past a second one as a refusal.
_BOTH = ("judged", "apart_told")


def strings(call: ast.Call) -> list[str]:
    return [arg.value for arg in call.args if isinstance(arg, ast.Constant) and isinstance(arg.value, str)]


def calls(path: Path) -> list[ast.Call]:
    return [node for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))) if isinstance(node, ast.Call)]


def called(call: ast.Call) -> str:
    return call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")


def reckoned_codes() -> set[str]:
    """The codes of findings for all that the reckoning tells, by the calls that make them."""
    found: set[str] = set()
    for path in [*(ROOT / "generator/lime").glob("plane*.py"), *(ROOT / "generator/measure/photographs").glob("*.py")]:
        for call in calls(path):
            words = strings(call)
            if called(call) == "Told" and len(words) > 1:
                found.add(code_of(Told(words[0], words[1])))  # type: ignore[arg-type]
            elif called(call) in _BOTH and words:
                found |= {code_of(Told(words[0], "warning")), code_of(Told(words[0], "refusal"))}
            elif called(call) == "outside_told" and words:
                found.add(code_of(Told(words[0], "refusal")))
    return found


def picture_codes() -> set[str]:
    """Those for all that the reading of pictures refuses or notes."""
    drawing = ROOT / "generator/drawing/photograph.py"
    told = re.findall(r"`([a-z-]+)`", ast.get_docstring(_refusal(drawing)) or "")
    here = ROOT / "generator/measure/photographs/pictures.py"
    own = re.findall(r'refused=\("([a-z-]+)"', here.read_text(encoding="utf-8"))
    return {f"photograph-{code}" for code in (*told, *own, "profile-not-read")}


def _refusal(path: Path) -> ast.ClassDef:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return next(node for node in tree.body if isinstance(node, ast.ClassDef) and node.name == "PhotographRefused")


def compared_codes() -> set[str]:
    """Those raised by name where photographs are held against answers or against one another."""
    text = "".join(
        (ROOT / f"generator/measure/photographs/{name}.py").read_text(encoding="utf-8") for name in ("against", "told")
    )
    return set(re.findall(r'Raised\(\s*"(photograph-[a-z-]+)"', text))


def worded_codes() -> dict[str, bool]:
    """The findings about photographs in the library, and whether a condition raises each."""
    return {key: bool(entry.when) for key, entry in shipped().findings.items() if key.startswith("photograph-")}


# A limit that is refused from its first step on is never told as a warning.
NEVER_WARNED = {"photograph-lens-bent"}


def test_all_that_can_be_told_has_words_and_no_words_stand_idle() -> None:
    told = (reckoned_codes() | picture_codes() | compared_codes()) - NEVER_WARNED
    assert {code for code, by_condition in worded_codes().items() if not by_condition} == told
    assert len(told) > 60


@pytest.mark.parametrize("code", sorted(worded_codes()))
def test_the_words_of_a_finding_are_whole(code: str) -> None:
    found = job(one_wall())
    names = ("photograph", "letters", "number", "file", "figure", "limit", "answered")
    fills = tuple((name, f"<{name}>") for name in names)
    for path in [("front",), ("front", "repoint")]:
        told = worded(Raised(code, path, fills), found.filling)
        assert "{" not in told.message + told.action
        assert "settled" not in told.message + told.action
        assert told.level in ("note", "warning", "block")


@pytest.mark.parametrize("code", sorted({code for code in worded_codes() if code.endswith("-refused")}))
def test_a_refusal_says_that_nothing_is_taken(code: str) -> None:
    assert re.search(r"No quantity is taken|No width is taken", shipped().findings[code].message)


@pytest.mark.parametrize(
    ("told", "figure", "limit"),
    [
        (Told("check-off", "warning", 0.0134, 0.01), "1.3%", "1%"),
        (Told("reference-slant", "refusal", 2.253, 2.0), "2.25", "2"),
        (Told("reference-angle", "refusal", 17.4, 20.0), "17°", "20°"),
        (Told("reference-few-pixels", "warning", 212.7, 300.0), "213 px", "300 px"),
        (Told("reference-short", "warning", 0.755, 0.8), "0.76 m", "0.8 m"),
        (Told("lens-wide", "warning", 23.0, 24.0), "23 mm", "24 mm"),
        (Told("unchecked", "note"), "", ""),
    ],
)
def test_figures_are_told_in_their_unit(told: Told, figure: str, limit: str) -> None:
    assert spelt(told) == (figure, limit)


@pytest.mark.parametrize(
    ("letters", "told"),
    [("A", "A"), ("AB", "A and B"), ("ABC", "A–C"), ("ABCE", "A–C and E"), ("CABBD", "A–D"), ("", "")],
)
def test_letters_in_a_row_are_drawn_together(letters: str, told: str) -> None:
    assert letters_told(letters) == told


def test_letters_past_the_alphabet_stand_by_themselves() -> None:
    assert letters_told(["AB", "Z", "AA"]) == "Z, AA and AB"


def test_shares_are_told_to_a_tenth_below_ten_per_cent() -> None:
    assert (per_cent(0.0341), per_cent(0.1249)) == ("3.4%", "12%")
