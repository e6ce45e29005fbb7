"""`papers survey-sheet`: blank sheets from no answers file; what cannot be meant is told with what can."""

from __future__ import annotations

from pathlib import Path

import pytest
from command_line import run
from docx_reading import outline
from jobs import shipped

from generator.render.check.papers import faults


def test_sheets_are_written_without_any_answers_and_have_no_faults(tmp_path: Path) -> None:
    path = tmp_path / "survey.docx"
    assert run("papers", "survey-sheet", "wall", "chimney", "--out", path) == (0, f"wrote {path}\n", "")
    assert faults(path.read_bytes()) == []
    assert [item.name for item in tmp_path.iterdir()] == ["survey.docx"]


def test_the_same_sheets_are_the_same_bytes_and_others_are_not_written_over_them(tmp_path: Path) -> None:
    path = tmp_path / "survey.docx"
    for _ in range(2):
        assert run("papers", "survey-sheet", "wall", "--out", path)[0] == 0
    before = path.read_bytes()
    code, _, err = run("papers", "survey-sheet", "indoors", "--out", path)
    assert (code, path.read_bytes()) == (1, before)
    assert "is there already" in err
    assert "--replace-edited" in err
    assert run("papers", "survey-sheet", "indoors", "--out", path, "--replace-edited")[0] == 0
    assert path.read_bytes() != before


@pytest.mark.parametrize(
    ("words", "question", "told"),
    [
        ((), "position", "name a kind of wall:"),
        (("chimny",), "position", "a kind of wall 'chimny' is none of these:"),
        (("wall", "--built-of", "brik"), "masonry", "the masonry 'brik' is none of these:"),
        (("wall", "--work", "repoint", "--work", "paint"), "work", "the work 'paint' is none of these:"),
        (("wall", "--units", "feet"), "units", "the units 'feet' is none of these:"),
    ],
)
def test_what_is_none_of_the_choices_is_answered_with_all_of_them(
    words: tuple[str, ...], question: str, told: str, tmp_path: Path
) -> None:
    code, out, err = run("papers", "survey-sheet", *words, "--out", tmp_path / "survey.docx")
    first, *listed = err.splitlines()
    assert (code, out, first) == (2, "", told)
    choices = shipped().questionnaire.questions[question].choices
    assert [line.split(maxsplit=1) for line in listed] == [[one.is_, one.says] for one in choices]
    assert list(tmp_path.iterdir()) == []


def test_a_house_style_is_taken(tmp_path: Path) -> None:
    assert run("style", "export", "--out", tmp_path / "house.docx")[0] == 0
    more = ("--house-style", tmp_path / "house.docx")
    assert run("papers", "survey-sheet", "wall", "--out", tmp_path / "survey.docx", *more)[0] == 0
    assert faults((tmp_path / "survey.docx").read_bytes()) == []


def test_a_layer_says_it_in_its_own_words(tmp_path: Path) -> None:
    layer, path = tmp_path / "house", tmp_path / "survey.docx"
    (layer / "templates").mkdir(parents=True)
    (layer / "layer.yaml").write_text("{name: house, edition: '1'}\n", encoding="utf-8")
    own = "parts:\n- part: no-job\n  text: Ours before there is a job.\n"
    (layer / "templates" / "survey-sheet.yaml").write_text(own, encoding="utf-8")
    assert run("papers", "survey-sheet", "wall", "--out", path, "--layer", layer) == (0, f"wrote {path}\n", "")
    assert any("Ours before there is a job." in line for line in outline(path.read_bytes()))
