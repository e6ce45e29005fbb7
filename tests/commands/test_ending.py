"""How runs end that nobody foresaw: in a line, with a report to send, whatever surrounds them; never in a traceback."""

from __future__ import annotations

import contextlib
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from command_line import run as run_here
from helpers import build_tree
from jobs import ROOT

from generator.commands.ending import ended

TOLL_HOUSE = ROOT / "examples" / "toll-house" / "answers.yaml"
posix = pytest.mark.skipif(sys.platform == "win32", reason="a shell and devices of Unix")


def raising(error: BaseException) -> Callable[[], object]:
    def app() -> None:
        raise error

    return app


class TestWhatNobodyForesaw:
    def test_is_told_as_the_programs_fault_with_a_report_to_send(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
    ) -> None:
        monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
        monkeypatch.setattr(sys, "argv", ["gaugebox", "write", "a\x1b.yaml"])
        assert ended(raising(KeyError("mason\ud800ry"))) == 1
        out, err = capsys.readouterr()
        (report,) = tmp_path.iterdir()
        assert out == ""
        assert re.match(
            r"gaugebox: this is a fault of the program, not of yours: KeyError at test_ending\.py:\d+, vers", err
        )
        assert "are as they were.\nWhat happened is told in " in err
        assert f"{report}: send that to whoever keeps Gaugebox for you" in err
        assert "Traceback" not in err
        text = report.read_text(encoding="utf-8")
        assert "command: 'write' 'a\\x1b.yaml'" in text
        assert "Traceback" in text
        assert "KeyError: 'mason\\ud800ry'" in text

    def test_is_told_where_no_report_can_be_written(
        self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
    ) -> None:
        monkeypatch.setattr("tempfile.mkstemp", lambda **_: raising(OSError(28, "full"))())
        assert ended(raising(RecursionError("deep"))) == 1
        assert "Send these lines to whoever keeps Gaugebox" in capsys.readouterr().err

    @pytest.mark.parametrize(
        ("error", "words"),
        [
            (OSError(28, "No space left on device"), "the system refuses to go on: No space left on device. Answers"),
            (PermissionError(13, "Permission denied", "x\x1b"), r"Permission denied (x\u001b). Answers"),
            (MemoryError(), "there is not memory enough for this job"),
        ],
    )
    def test_of_the_system_is_nobodys_to_report(
        self, error: Exception, words: str, capsys: pytest.CaptureFixture[str]
    ) -> None:
        assert ended(raising(error)) == 1
        assert words in capsys.readouterr().err

    @pytest.mark.parametrize("code", [0, 1, 2, 3])
    def test_a_run_that_ends_as_foreseen_keeps_its_code(self, code: int) -> None:
        assert ended(raising(SystemExit(code))) == code


def run(command: str, folder: Path, **more: str) -> tuple[int, str, str]:
    """A run by a shell in a process of its own; `$G` stands for the program."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "G": f"{sys.executable} -m generator", **more}
    done = subprocess.run(
        ["/bin/bash", "-c", command], cwd=folder, env=environment, capture_output=True, check=False, timeout=120
    )
    out, err = (text.decode(errors="backslashreplace") for text in (done.stdout, done.stderr))
    assert "Traceback" not in err
    assert "Exception ignored" not in err
    return done.returncode, out, err


@posix
class TestSurroundings:
    @pytest.mark.parametrize(
        ("command", "code", "words"),
        [
            ("$G --help > /dev/full", 1, "No space left on device"),
            ("$G --version >&-", 0, ""),
            ("$G check none.yaml 2>&-", 1, ""),
            ("$G clauses list | head -1", 0, ""),
            ("mkdir gone; cd gone; rmdir ../gone; $G clauses list > /dev/null", 0, ""),
            ("mkdir gone; cd gone; rmdir ../gone; $G style export --out h.docx", 1, "cannot be written (No such file"),
        ],
    )
    def test_end_in_a_line(self, command: str, code: int, words: str, tmp_path: Path) -> None:
        found, _, err = run(command, tmp_path)
        assert (found, len(err.splitlines())) == (code, 1 if words else 0)
        assert words in err

    def test_a_name_that_is_not_utf_8_is_written_with_and_read_again(self, tmp_path: Path) -> None:
        shutil.copy(TOLL_HOUSE, tmp_path / "\udcff.yaml")
        code, out, _ = run("$G write $'\\xff.yaml' --out $'\\xfe' && $G compare $'\\xfe' $'\\xfe'", tmp_path)
        assert (code, "\\udcfe/record.json" in out) == (0, True)
        code, _, err = run("$G issue $'\\xff.yaml' --out issues", tmp_path)
        assert (code, "not every system can keep a file named" in err) == (1, True)


def told(folder: Path, *words: str) -> str:
    """What a command that cannot go on says, in one line."""
    with contextlib.chdir(folder):
        code, out, err = run_here(*words)
    assert (code, out, len(err.splitlines())) == (1, "", 1)
    return err


LONG = "x" * 5_000


@posix
@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("check", LONG), "cannot be read (File name too long)"),
        (("write", str(TOLL_HOUSE), "--out", LONG), "cannot be written (File name too long)"),
        (("issue", str(TOLL_HOUSE), "--out", LONG), "cannot be written (File name too long)"),
        (("ask", LONG), "cannot be opened (File name too long)"),
        (("clauses", "check", "--library", LONG), "is no folder: name the folder of a clause library"),
        (("clauses", "check", "--layer", LONG), "is no folder: name the folder of a layer"),
        (("papers", "check", LONG), "cannot be read (File name too long): name a Word file"),
        (("rain", LONG, "--faces", "0"), "cannot be read (File name too long)"),
        (("compare", LONG, "."), "cannot be read (File name too long)"),
        (("issue", "--verify", LONG), "cannot be read (File name too long)"),
        (("style", "export", "--out", "x" * 300), "is longer than 200 bytes: name another file"),
        (("clauses", "check", "--layer", "ring"), "is no folder: name the folder of a layer"),
        (("check", "ring"), "cannot be read (Too many levels of symbolic links)"),
        (("check", "\udcff.yaml"), "\\udcff.yaml: cannot be read (No such file or directory)"),
        (("check", "\x1b[31m.yaml"), "\\u001b[31m.yaml: cannot be read (No such file or directory)"),
        (("check", "layers.yaml"), "is no folder: name the folder of a layer"),
        (
            ("clauses", "check", "--layer", "house"),
            "\\udcff.yaml: has a name that is not UTF-8 text: name it otherwise",
        ),
    ],
)
def test_a_path_that_cannot_be_is_told_in_a_line_that_can_be_read(
    words: tuple[str, ...], said: str, tmp_path: Path
) -> None:
    (tmp_path / "ring").symlink_to("ring")
    (tmp_path / "layers.yaml").write_text(f"layers: [{LONG * 300}]\nproject: {{}}\n")
    build_tree(
        tmp_path / "house", {"layer.yaml": "{name: house, edition: '1'}\n", "clauses/\udcff.yaml": "clauses: []\n"}
    )
    found = told(tmp_path, *words)
    assert said in found
    assert len(found) < 3_000
