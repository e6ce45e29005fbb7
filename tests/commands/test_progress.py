"""A long run tells a terminal what it is at; elsewhere it is silent."""

from __future__ import annotations

import io
import sys
import threading
from pathlib import Path

import pytest
from jobs import EXAMPLES

from generator.commands.main import app
from generator.commands.progress import Progress

ANSWERS = min(EXAMPLES, key=lambda path: path.stat().st_size)


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def written(stream: io.StringIO, monkeypatch: pytest.MonkeyPatch, answers: Path, out: Path, *command: str) -> object:
    """The exit code of `write`, or of another command, with this error stream."""
    monkeypatch.setattr(sys, "stderr", stream)
    with pytest.raises(SystemExit) as ended:
        app([*(command or ("write",)), str(answers), "--out", str(out)])
    return ended.value.code


def seen(told: str) -> list[str]:
    """What stands on the lines of a terminal once all is written: what is begun again is written over."""
    lines = []
    for line in told.split("\n"):
        shown = ""
        for piece in line.split("\r"):
            shown = piece + shown[len(piece) :]
        lines.append(shown.rstrip())
    return lines


def test_a_terminal_is_told_each_step_and_nothing_of_it_stays(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = Terminal()
    assert written(terminal, monkeypatch, ANSWERS, tmp_path) == 0
    steps = [piece.strip() for piece in terminal.getvalue().split("\r") if piece.strip()]
    assert steps[0] == "Reading answers.yaml \u2026"
    assert [step for step in steps if ".docx" in step or ".xlsx" in step or ".json" in step] == [
        "Making specification.docx \u2026", "Making mix-schedule.docx \u2026", "Making pricing-schedule.xlsx \u2026",
        "Making record.json \u2026",
    ]  # fmt: skip
    assert seen(terminal.getvalue()) == [""]


def test_a_package_and_an_issue_written_again_tell_what_they_are_at(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    terminal = Terminal()
    assert written(terminal, monkeypatch, ANSWERS, tmp_path / "issues", "package", "--no-pdf") == 0
    told = terminal.getvalue()
    assert "\rMaking covering-letter.docx" in told
    assert "\rFreezing the issue" in told
    assert seen(told) == [""]
    (folder,) = (tmp_path / "issues").iterdir()
    terminal = Terminal()
    assert written(terminal, monkeypatch, folder, tmp_path / "again", "issue", "--again") == 0
    assert "Making covering-letter.docx" in terminal.getvalue()
    assert seen(terminal.getvalue()) == [""]


def test_what_one_thread_is_at_is_told_to_who_asked_for_it_alone() -> None:
    progress, here, there = Progress(), list[str](), list[str]()

    def elsewhere() -> None:
        progress.at("of nobody")
        with progress.telling_to(there.append):
            progress.at("there")

    with progress.telling_to(here.append):
        progress.at("here")
        other = threading.Thread(target=elsewhere)
        other.start()
        other.join()
        progress.at("and here")
    progress.at("afterwards")
    assert (here, there) == (["here", "and here"], ["there"])


def test_what_is_no_terminal_is_told_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    stream = io.StringIO()
    assert written(stream, monkeypatch, ANSWERS, tmp_path) == 0
    assert stream.getvalue() == ""


def test_a_mistake_stands_on_a_line_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = Terminal()
    wrong = tmp_path / "wrong.yaml"
    wrong.write_text("project: {}\n", encoding="utf-8")
    assert written(terminal, monkeypatch, wrong, tmp_path / "out") == 1
    told = seen(terminal.getvalue())
    assert told[0].startswith(str(wrong))
    assert not any("Reading" in line for line in told)


def test_a_terminal_that_goes_away_ends_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal, progress = Terminal(), Progress()
    monkeypatch.setattr(sys, "stderr", terminal)
    with progress.telling():
        progress.at("Reading")
        terminal.close()
        progress.at("Deciding")


def test_a_step_longer_than_a_line_is_cut(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal, progress = Terminal(), Progress()
    monkeypatch.setattr(sys, "stderr", terminal)
    with progress.telling():
        progress.at("x" * 500)
    assert max(map(len, terminal.getvalue().split("\r"))) < 80
