"""The plainest words of `write` go past the parser of the command line, and mean what it would have taken them for."""

from __future__ import annotations

import inspect
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import typer
from jobs import ROOT
from typer.testing import CliRunner

from generator.commands import main
from generator.commands.sets import write_papers
from generator.commands.start import FLAGS, VALUES, plain_words

PARSING = ("typer", "pydantic", "pydantic_core", "jinja2", "markdown_it")


@pytest.mark.parametrize(
    "words",
    [
        "a.yaml --out papers",
        "--out papers a.yaml",
        "a.yaml --out papers --with officer,owner --pdf --replace-edited",
        "a.yaml --layer one --out papers --layer two --library mine --last before --house-style look.docx",
    ],
)
def test_plain_words_are_taken_as_the_command_line_takes_them(words: str, monkeypatch: pytest.MonkeyPatch) -> None:
    taken: list[dict[str, Any]] = []

    def noted(*given: object, **more: object) -> int:
        taken.append(inspect.signature(write_papers).bind(*given, **more).arguments)
        return 0

    monkeypatch.setattr(main, "write_papers", noted)
    assert CliRunner().invoke(main.app, ["write", *words.split()]).exit_code == 0
    given = inspect.signature(write_papers).bind(**(plain_words(["write", *words.split()]) or {}))
    given.apply_defaults()
    assert given.arguments == {**taken[0], "layers": taken[0]["layers"] or None}


def test_every_option_of_the_command_is_known() -> None:
    command = typer.main.get_command(main.app).commands["write"]  # type: ignore[attr-defined]
    options = {option: param for param in command.params for option in param.opts if option.startswith("--")}
    assert {*VALUES, *FLAGS} == options.keys() - {"--help"}
    assert set(FLAGS) == {option for option, param in options.items() if getattr(param, "is_flag", False)} - {"--help"}


@pytest.mark.parametrize(
    "words",
    [
        "",
        "check a.yaml",
        "write",
        "write --help",
        "write a.yaml",
        "write --out papers",
        "write a.yaml b.yaml --out papers",
        "write a.yaml --out",
        "write a.yaml --out --pdf",
        "write a.yaml --out=papers",
        "write a.yaml --out papers --out others",
        "write a.yaml --out papers --pfd",
        "write a.yaml --out papers -- b.yaml",
        "--version write a.yaml --out papers",
    ],
)
def test_all_others_are_left_to_the_command_line(words: str) -> None:
    assert plain_words(words.split()) is None


def test_an_empty_word_is_left_to_the_command_line() -> None:
    assert plain_words(["write", "a.yaml", "--out", ""]) is None


@pytest.mark.parametrize("words", ["write none.yaml --out papers", "check none.yaml"])
@pytest.mark.parametrize("package", ["msgspec", "yaml"])
def test_a_package_that_is_not_installed_is_told_in_one_line(words: str, package: str, tmp_path: Path) -> None:
    code = (
        f"import sys; sys.modules['{package}'] = None; sys.argv[1:] = {words.split()!r}; "
        "from generator.commands.start import run; run()"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=tmp_path, env={"PYTHONPATH": str(ROOT)}, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 1
    assert done.stderr.startswith(f"gaugebox: the package '{package}' is not installed in this Python (")
    assert done.stderr.count("\n") == 1


def test_writing_comes_to_no_parser_of_a_command_line_and_to_nothing_that_checks_shapes() -> None:
    code = (
        "import sys, generator.commands.start, generator.commands.sets, generator.pipeline, generator.record.record, "
        "generator.render.word.document, generator.render.word.mix_page, generator.render.workbook.book; "
        f"print([name for name in {PARSING!r} if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout == "[]\n"


class TestTheEndOfAProcess:
    """A process that is there for the command line alone is left as it stands once all is done."""

    @staticmethod
    def ended(command: str, before: str = "", by: str = "alone") -> subprocess.CompletedProcess[str]:
        code = (
            "import atexit, os, sys\nleave = os._exit\n"
            "def left(code):\n    os.write(2, b'left')\n    leave(code)\n"
            "os._exit = left\natexit.register(lambda: sys.stderr.write('others were asked, '))\n"
            f"{before}\nsys.argv[1:] = {command.split()!r}\nfrom generator.commands.start import {by}\n"
            f"try: {by}()\nfinally: sys.stderr.write('\\n')"
        )
        return subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False)

    @pytest.mark.parametrize(
        ("command", "code"), [("--version", 0), ("check none.yaml", 1), ("write none.yaml --out x", 1), ("nothing", 2)]
    )
    def test_comes_with_its_code_after_all_else_that_waits_for_it(self, command: str, code: int) -> None:
        done = self.ended(command)
        assert (done.returncode, done.stderr.splitlines()[-1]) == (code, "others were asked, left")
        assert done.stdout.startswith("gaugebox ") == (code == 0)

    def test_waits_for_threads_and_for_what_they_print(self) -> None:
        waits = "def late():\n    threading.main_thread().join()\n    print('at last')\n"
        done = self.ended("--version", f"import threading\n{waits}threading.Thread(target=late).start()")
        assert done.stdout.splitlines()[1:] == ["at last"]
        assert done.stderr.endswith("left")

    def test_is_left_to_the_interpreter_where_other_things_go_on_in_it(self) -> None:
        done = self.ended("--version", by="run")
        assert (done.returncode, done.stderr) == (0, "\nothers were asked, ")
