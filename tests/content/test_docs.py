"""README and DEVELOPERS tell what there is: every command, every room of the package; and nothing that is not there."""

from __future__ import annotations

import fnmatch
import re
from collections.abc import Iterator

import pytest
from jobs import ROOT
from typer.main import get_command

from generator.commands.main import app

README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
LIBRARY = (ROOT / "clauses" / "README.md").read_text(encoding="utf-8")
TEMPLATES = (ROOT / "templates" / "README.md").read_text(encoding="utf-8")


def commands(group: object, before: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """Every command of the program with the groups it lies in."""
    for name, command in getattr(group, "commands", {}).items():
        if hasattr(command, "commands"):
            yield from commands(command, (*before, name))
        else:
            yield (*before, name)


COMMANDS = sorted(commands(get_command(app)))
GROUPS = {path[:end] for path in COMMANDS for end in range(1, len(path))}


def told(text: str) -> Iterator[tuple[str, ...]]:
    """The commands that a text names; those of a group also side by side: `clauses list | show ID | check`."""
    for line in re.findall(r"gaugebox ([a-z][^\n`#]*)", text):
        name, *rest = line.split()
        if (name,) in GROUPS:
            yield from ((name, word) for before, word in zip(["|", *rest], rest, strict=False) if before == "|")
        else:
            yield (name,)


@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
def test_every_command_is_told_with_an_example_to_those_who_use_it(command: tuple[str, ...]) -> None:
    assert command in {found for text in (README, DEVELOPERS, LIBRARY, TEMPLATES) for found in told(text)}


@pytest.mark.parametrize(
    "text", [README, DEVELOPERS, LIBRARY, TEMPLATES], ids=["README", "DEVELOPERS", "clauses/README", "templates/README"]
)
def test_no_command_is_told_that_is_not_there(text: str) -> None:
    assert [found for found in told(text) if found not in COMMANDS] == []


def test_the_readme_has_two_commands_on_one_line_each_that_set_up_for_themselves() -> None:
    opening = README.partition("## Two commands")[2].partition("\n## ")[0]
    fenced = re.findall(r"```sh\n(.*?)\n```", opening, re.DOTALL)
    assert [command.count("\n") for command in fenced] == [0, 0]
    write, test = fenced
    assert all(command.startswith("python3 -m venv ") and "pip install" in command for command in fenced)
    assert " write examples/" in write
    assert test.endswith("pytest -q")


ROOMS = sorted(path.name for path in (ROOT / "generator").iterdir() if not path.name.startswith("__"))


@pytest.mark.parametrize("name", ROOMS)
def test_the_tree_for_developers_tells_every_room(name: str) -> None:
    """By its name, or with others by a pattern: `cli_*.py`."""
    assert any(fnmatch.fnmatch(name, word) for word in re.findall(r"[a-z_]+[\w*.]*", DEVELOPERS))


@pytest.mark.parametrize(
    "text", [README, DEVELOPERS, LIBRARY, TEMPLATES], ids=["README", "DEVELOPERS", "clauses/README", "templates/README"]
)
def test_files_and_folders_that_are_told_are_there(text: str) -> None:
    tops = ("clauses", "examples", "generator", "templates", "tests")
    named = re.findall(rf"(?<![\w/-])((?:{'|'.join(tops)})/[\w./-]*\w)", text)
    told_as_new = set(re.findall(r"# (\S+), a new file\n", text))
    wanted = (name for name in named if name not in told_as_new and not re.search(r"NAME|NN|ID", name))
    missing = [name for name in wanted if not (ROOT / name).exists()]
    assert missing == []
