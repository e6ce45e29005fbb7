# ruff: noqa: E501 - messages stand on one line, as a user sees them
"""The command line: exit codes, what is printed where, and that nothing is written when nothing can be."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from command_line import run
from helpers import build_tree, library_tree
from plain_yaml import from_yaml

from generator import __version__

ROOT = Path(__file__).resolve().parents[2]
PAPERS = ("mix-schedule.docx", "pricing-schedule.xlsx", "specification.docx")
HEAVY = ("pydantic", "yaml", "docx", "jinja2", "markdown_it", "openpyxl", "xlsxwriter", "lxml", "PIL", "rich")


def changed(toll_house: Path, folder: Path, old: str, new: str) -> Path:
    """The toll house with one passage changed, in a folder."""
    text = toll_house.read_text("utf-8")
    assert text.count(old) >= 1
    return build_tree(folder, {"answers.yaml": text.replace(old, new, 1).encode()}) / "answers.yaml"


class TestHelp:
    @pytest.mark.parametrize("words", [("--help",), ()])
    def test_names_every_command(self, words: tuple[str, ...]) -> None:
        code, out, err = run(*words)
        assert code == (0 if words else 2)
        for command in ("write", "check", "explain", "photographs", "schema", "clauses"):
            assert f"\n  {command} " in out + err

    @pytest.mark.parametrize(
        "words",
        [
            ("write",),
            ("check",),
            ("explain",),
            ("photographs",),
            ("schema",),
            ("clauses",),
            ("clauses", "list"),
            ("clauses", "show"),
            ("clauses", "check"),
        ],
    )
    def test_each_command_tells_what_it_does(self, words: tuple[str, ...]) -> None:
        code, out, _ = run(*words, "--help")
        assert code == 0
        usage, told, *_ = out.split("\n\n")
        assert usage.startswith("Usage:")
        assert told.strip().endswith(".")

    def test_the_version(self) -> None:
        assert run("--version") == (0, f"gaugebox {__version__}\n", "")


class TestWrongUse:
    """Exit code 2, and nothing on standard output."""

    @pytest.mark.parametrize(
        ("words", "said"),
        [
            (("wriet",), "No such command 'wriet'. Did you mean 'write'?"),
            (("clauses", "lst"), "No such command 'lst'. Did you mean 'list'?"),
            (("write", "a.yaml"), "Missing option '--out'"),
            (("write", "--out", "x"), "Missing argument 'ANSWERS'"),
            (("check", "a.yaml", "--jsn"), "No such option: --jsn (Possible options: --json)"),
            (("schema", "answer"), "there is no schema of 'answer': did you mean 'answers'?"),
            (("clauses", "show", "pointing.layer"), "'pointing.layer' is not a clause: did you mean 'pointing.layers'?"),
        ],
    )  # fmt: skip
    def test_is_told_with_the_nearest_word(self, words: tuple[str, ...], said: str) -> None:
        code, out, err = run(*words)
        assert code == 2
        assert out == ""
        assert said in err

    def test_explaining_what_is_not_there(self, toll_house: Path) -> None:
        code, out, err = run("explain", toll_house, "frnt")
        assert (code, out) == (2, "")
        known = "an element, a mix, a line, a photograph, a clause, a figure or a task"
        assert (
            err
            == f"'frnt' is not {known} here: did you mean 'front', 'Front wall', 'front/access-down', 'front/access-up'?\n"
        )


class TestUnreadable:
    """Exit code 1: every mistake on standard error, nothing on standard output, nothing written."""

    def test_mistakes_in_the_answers(self, toll_house: Path, tmp_path: Path) -> None:
        path = changed(toll_house, tmp_path, "masonry: brick", "masonry: brik\n  hardnes: soft")
        code, out, err = run("write", path, "--out", tmp_path / "out")
        assert (code, out) == (1, "")
        line = path.read_text("utf-8").splitlines().index("  masonry: brik") + 1
        assert err.splitlines() == [
            f"{path}:{line}:12: 'masonry' cannot be 'brik': did you mean 'brick'?",
            f"{path}:{line + 1}:3: 'hardnes' is not asked of an element: did you mean 'hardness'?",
        ]
        assert not (tmp_path / "out").exists()

    @pytest.mark.parametrize(
        ("content", "said"),
        [
            (b"", "is empty: start it with 'project:' and 'elements:'"),
            (b"PK\x03\x04\xff\xfe\x00", "is not UTF-8 text"),
            (b"a: &x [*x]\n", "sets an anchor (&x)"),
            (b"x" * 10_000_000, "is too large to be answers or clauses"),
            (b"- 1\n", "is not a mapping of 'project:' and 'elements:'"),
            (b"[" * 2_000, "is nested too deeply"),
        ],
    )
    @pytest.mark.parametrize("command", ["write", "check", "explain"])
    def test_files_that_are_no_answers(self, command: str, content: bytes, said: str, tmp_path: Path) -> None:
        path = build_tree(tmp_path, {"a.yaml": content}) / "a.yaml"
        words = ("--out", tmp_path / "out") if command == "write" else ()
        code, out, err = run(command, path, *words)
        assert (code, out) == (1, "")
        assert said in err
        assert all(line.startswith(str(path)) for line in err.splitlines())
        assert not (tmp_path / "out").exists()

    def test_no_such_file(self, tmp_path: Path) -> None:
        path = tmp_path / "none.yaml"
        assert run("check", path) == (
            1,
            "",
            f"{path}: cannot be read (No such file or directory): check the path and its permissions\n",
        )

    def test_mistakes_in_a_library_come_with_the_line_and_the_part_underlined(
        self, toll_house: Path, tmp_path: Path
    ) -> None:
        part = "part: {id: a, title: A}\nclauses:\n- {id: a.b, title: B, when: masonry == 'x', text: T., cost: information, sources: [c]}\n"
        folder = library_tree(tmp_path / "mine", {"parts/1.yaml": part})
        code, out, err = run("check", toll_house, "--library", folder)
        assert (code, out) == (1, "")
        assert err == (
            f"{folder}/parts/1.yaml:3:29: clause 'a.b': its 'when' reads 'masonry' of an element from a project: "
            "wrap it in any(…) or none(…), or ask it per element\n"
            "    masonry == 'x'\n"
            "    ~~~~~~~\n"
        )

    def test_a_folder_that_is_no_library(self, tmp_path: Path) -> None:
        assert run("clauses", "check", "--library", tmp_path) == (
            1,
            "",
            f"{tmp_path}: holds no library.yaml: name the folder of a clause library\n",
        )

    def test_an_output_folder_that_cannot_be_written(self, toll_house: Path, tmp_path: Path) -> None:
        build_tree(tmp_path, {"out": "a file"})
        code, out, err = run("write", toll_house, "--out", tmp_path / "out")
        assert (code, out) == (1, "")
        assert err == f"{tmp_path}/out: is a file, or lies below one: name a folder with --out\n"


class TestWriting:
    def test_the_toll_house_is_for_tender_and_the_record_vouches_for_its_papers(
        self, toll_house: Path, tmp_path: Path
    ) -> None:
        code, out, err = run("write", toll_house, "--out", tmp_path / "out")
        assert (code, err) == (0, "")
        assert sorted(path.name for path in (tmp_path / "out").iterdir()) == sorted([*PAPERS, "record.json"])
        assert [line for line in out.splitlines() if line.startswith("wrote ")][
            -1
        ] == f"wrote {tmp_path}/out/record.json"
        record = json.loads((tmp_path / "out" / "record.json").read_bytes())
        assert record["status"] == "tender"
        assert {entry["name"]: entry["sha256"] for entry in record["files"]} == {
            name: hashlib.sha256((tmp_path / "out" / name).read_bytes()).hexdigest() for name in PAPERS
        }

    def test_a_draft_is_written_too_and_ends_with_3(self, toll_house: Path, tmp_path: Path) -> None:
        path = changed(toll_house, tmp_path, "  specifier: A. Sample, lime specialist (invented)\n", "")
        code, out, _ = run("write", path, "--out", tmp_path / "out")
        assert code == 3
        assert out.startswith("Draft")
        assert json.loads((tmp_path / "out" / "record.json").read_bytes())["status"] == "draft"

    def test_checking_writes_nothing_and_ends_as_writing_would(
        self, toll_house: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.chdir(tmp_path)
        assert run("check", toll_house)[0] == 0
        path = changed(toll_house, tmp_path / "a", "  specifier: A. Sample, lime specialist (invented)\n", "")
        assert run("check", path)[0] == 3
        assert [item.name for item in tmp_path.rglob("*") if item.is_file()] == ["answers.yaml"]

    def test_checking_as_json(self, toll_house: Path, tmp_path: Path) -> None:
        path = changed(toll_house, tmp_path, "  specifier: A. Sample, lime specialist (invented)\n", "")
        code, out, _ = run("check", path, "--json")
        found = json.loads(out)
        assert (code, found["status"]) == (3, "draft")
        assert any(finding["level"] == "block" for finding in found["findings"])


class TestExplaining:
    def test_the_whole_job(self, toll_house: Path) -> None:
        code, out, _ = run("explain", toll_house)
        assert code == 0
        assert out.startswith("Toll house, repointing in lime. For tender.\nFront wall\n  Repointing, ")
        data = from_yaml(run("explain", toll_house, "--yaml")[1])
        assert data["elements"][0]["element"] == "front"

    def test_a_wall(self, toll_house: Path) -> None:
        code, out, _ = run("explain", toll_house, "front", "--json")
        found = json.loads(out)
        assert code == 0
        assert found["name"] == "Front wall"
        assert found["works"]
        assert found["clauses"]

    def test_a_mix_by_its_mark_in_either_case(self, toll_house: Path) -> None:
        assert run("explain", toll_house, "m1") == run("explain", toll_house, "M1")
        assert json.loads(run("explain", toll_house, "M1", "--json")[1])["reasons"]

    def test_a_clause_that_is_in_with_its_words(self, toll_house: Path) -> None:
        found = json.loads(run("explain", toll_house, "pointing.layers", "--json")[1])
        assert found["included"] is True
        assert found["text"]

    def test_a_clause_that_is_not_in_with_the_facts_that_kept_it_out(self, toll_house: Path) -> None:
        code, out, _ = run("explain", toll_house, "pointing.flint")
        assert code == 0
        assert out.startswith("The clause 'Flint' (pointing.flint) is not in the papers.\nWhat keeps it out: ")
        assert "what it is built of: brick" in out
        data = from_yaml(run("explain", toll_house, "pointing.flint", "--yaml")[1])
        told = [fact for entry in data["facts"] for fact in entry["facts"]]
        assert "masonry == 'flint' [what it is built of: brick]: no" in told


class TestSchema:
    def test_of_answers_by_default(self) -> None:
        code, out, _ = run("schema")
        assert code == 0
        assert set(json.loads(out)["properties"]) == {"layers", "project", "elements"}

    def test_of_a_library_of_ones_own(self, tmp_path: Path) -> None:
        _, out, _ = run("schema", "answers", "--library", library_tree(tmp_path))
        assert set(json.loads(out)["properties"]["project"]["properties"]) == {"title", "lived_in"}

    def test_of_clauses(self) -> None:
        assert set(json.loads(run("schema", "clauses")[1])["properties"]) == {"part", "clauses"}


class TestClauses:
    def test_are_listed_by_part(self) -> None:
        code, out, _ = run("clauses", "list")
        assert code == 0
        assert "Pointing  [part pointing]\n" in out
        assert "\n  pointing.layers  Filling in layers  [per coat]\n" in out

    def test_one_is_shown_as_it_is_written_with_its_place(self, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.chdir(ROOT)
        code, out, _ = run("clauses", "show", "pointing.layers")
        assert code == 0
        place = out.splitlines()[0].removeprefix("pointing.layers (").removesuffix(")")
        name, line, column = place.split(":")
        assert (ROOT / name).read_text("utf-8").splitlines()[int(line) - 1][int(column) - 1 :] == "id: pointing.layers"
        assert "per: coat\n" in out
        assert "cost: {rate: [repoint.brick, repoint.stone, " in out

    def test_the_shipped_library_has_no_mistakes(self) -> None:
        code, out, err = run("clauses", "check")
        assert (code, err) == (0, "")
        assert out.endswith(": no mistakes\n")


def fresh(*words: object, **more: str) -> subprocess.CompletedProcess[str]:
    """A run in a process of its own, from the checkout."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT), **more}
    return subprocess.run(
        [sys.executable, *map(str, words)],
        capture_output=True,
        text=True,
        encoding="utf-8",
        env=environment,
        check=False,
    )


class TestProcess:
    def test_help_loads_nothing_heavy(self) -> None:
        code = (
            "import sys\nfrom generator.commands.main import app\n"
            "try: app(['--help'])\nexcept SystemExit: pass\n"
            f"print([name for name in {HEAVY!r} if name in sys.modules], file=sys.stderr)"
        )
        done = fresh("-c", code)
        assert "Usage:" in done.stdout
        assert done.stderr == "[]\n"

    def test_what_a_run_made_is_not_searched_for_cycles_as_it_ends(self) -> None:
        code = (
            "import atexit, gc, sys\nfrom generator.commands.start import run\n"
            "atexit.register(lambda: print(len(gc.get_objects()), gc.get_freeze_count(), file=sys.stderr))\n"
            "sys.argv = ['gaugebox', 'clauses', 'list']\nrun()"
        )
        searched, frozen = map(int, fresh("-c", code).stderr.split())
        assert searched < 1_000 < frozen

    def test_it_runs_as_a_module_and_hands_on_its_exit_code(self, tmp_path: Path) -> None:
        done = fresh("-m", "generator", "check", tmp_path / "none.yaml")
        assert done.returncode == 1
        assert done.stdout == ""
        assert "Traceback" not in done.stderr

    def test_a_terminal_of_few_letters_is_no_reason_to_fall_over(self) -> None:
        done = fresh("-m", "generator", "clauses", "show", "pointing.layers", PYTHONIOENCODING="ascii")
        assert done.returncode == 0
        assert "10 m\\xb2" in done.stdout

    def test_a_reader_that_goes_away_is_no_reason_for_a_traceback(self) -> None:
        command = f'"{sys.executable}" -m generator clauses list | head -1'
        done = subprocess.run(
            command,
            shell=True,
            capture_output=True,
            text=True,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            check=False,
        )
        assert done.stdout == "Tendering  [part tendering]\n"
        assert "Traceback" not in done.stderr
