"""A new answers file from an old one: what stays, what is left out, and that nothing else is touched."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from answers_text import one_wall
from command_line import run
from jobs import EXAMPLES, shipped
from plain_yaml import from_yaml

from generator.asking.answering import Answering
from generator.asking.answers_file import CannotChange
from generator.asking.old_job import begun_from, without
from generator.asking.order import Ask, begun, next_step

OLD = """\
# yaml-language-server: $schema=answers.schema.json
# the lodge, which we know since 2019
project:
  title: Lodge, second repair   # as agreed
  reference: L-2
  issue_date: 2027-02-01
  # the practice's own
  specifier: A. Sample
  protection: listed
  tender_return_date: 2027-03-05
elements:
# seen from the lane
- id: front
  name: Front wall
  masonry: brick   # handmade
  condition: joints weathered
  decay_causes:
  # from the owner
  - age
  works:
  - asked_binder: nhl-5
    work: repoint
    face_area_m2: 24
    old_joint: recessed
- {id: rear, name: Rear wall, masonry: rubble, wall_wet: dry, works: [{work: limewash, wash_colour: white}]}
"""
NEW = """\
# yaml-language-server: $schema=answers.schema.json
# Begun from old.yaml: Lodge, second repair, L-2. What was that job's alone is left out, to be asked again.
# the lodge, which we know since 2019
project:
  # the practice's own
  specifier: A. Sample
  protection: listed
elements:
# seen from the lane
- id: front
  name: Front wall
  masonry: brick   # handmade
  works:
  - work: repoint
    old_joint: recessed
- {id: rear, name: Rear wall, masonry: rubble, works: [{work: limewash}]}
"""


def held(folder: Path, text: str) -> Answering:
    path = folder / "old.yaml"
    path.write_text(text, encoding="utf-8")
    return Answering(path, shipped())


def test_what_is_the_buildings_and_the_practices_stays_as_it_stands_with_its_remarks(tmp_path: Path) -> None:
    found = begun_from(held(tmp_path, OLD), tmp_path / "new.yaml")
    assert found.text == NEW


def test_what_was_left_out_is_told_by_the_places_it_stood_in(tmp_path: Path) -> None:
    found = begun_from(held(tmp_path, OLD), tmp_path / "new.yaml")
    assert found.left[()] == ["Title of the work", "Reference", "Date of issue", "Tenders back by"]
    assert found.left["front",] == ["What is wrong and why", "Causes of the decay"]
    assert found.left["front", "repoint"] == ["Area of face, before openings", "Binder asked for"]
    assert found.left["rear", "limewash"] == ["Colour"]


def test_asking_then_starts_at_what_was_left_out(tmp_path: Path) -> None:
    text = begun_from(held(tmp_path, OLD), tmp_path / "new.yaml").text
    new = held(tmp_path, text)
    step = next_step(new.facts, new.questionnaire, begun(new.facts))
    assert isinstance(step, Ask)
    assert step.question.name == "title"


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.parent.name)
def test_of_every_example_a_new_job_can_be_begun_and_keeps_all_that_is_the_buildings(
    path: Path, tmp_path: Path
) -> None:
    old = Answering(path, shipped())
    found = begun_from(old, tmp_path / "new.yaml")
    new = held(tmp_path, found.text)
    questions = shipped().questionnaire.questions

    def of(facts_of: Answering, owners: tuple[str, ...]) -> dict[tuple[tuple[str, ...], str], object]:
        return {
            (at, name): one.value
            for at, values in facts_of.facts.values.items()
            for name, one in values.items()
            if one.origin == "given" and name in questions and questions[name].whose in owners
        }

    assert of(new, ("building", "practice")) == of(old, ("building", "practice"))
    assert of(new, ("job",)) == {}


def test_a_wall_with_zones_loses_what_was_the_jobs_of_the_whole_wall_too(tmp_path: Path) -> None:
    text = "project: {title: T}\nelements:\n- id: a\n  name: A\n  masonry: brick\n  wall_wet: dry\n  zones:\n"
    text += "  - {id: up, name: Up, works: [{work: repoint}]}\n"
    text += "  - {id: low, name: Low, wall_wet: soaked, works: [{work: repoint}]}\n"
    found = begun_from(held(tmp_path, text), tmp_path / "new.yaml")
    assert "wall_wet" not in found.text
    assert "masonry: brick" in found.text


def test_layers_are_named_from_where_the_new_file_lies(tmp_path: Path) -> None:
    (tmp_path / "new").mkdir()
    old = held(tmp_path, f"layers: [house, {tmp_path}/other]\n{OLD}")
    data = from_yaml(begun_from(old, tmp_path / "new" / "new.yaml").text)
    assert data["layers"] == ["../house", f"{tmp_path}/other"]


def test_what_is_all_that_stands_in_an_item_is_not_cut_away_in_silence() -> None:
    with pytest.raises(CannotChange, match="is all that stands in its item"):
        without("a:\n- b: 1\n", [("a", 0, "b")])


@pytest.fixture(scope="module")
def written_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with answers and, below it, their papers with the record; each test copies it."""
    folder = tmp_path_factory.mktemp("written")
    (folder / "answers.yaml").write_text(f"# seen twice\n{one_wall()}", encoding="utf-8")
    assert run("write", folder / "answers.yaml", "--out", folder / "papers")[0] == 0
    return folder


@pytest.fixture
def papers(written_once: Path, tmp_path: Path) -> Path:
    """A set of papers with its record, whose answers lie elsewhere."""
    shutil.copytree(written_once, tmp_path, dirs_exist_ok=True)
    return tmp_path / "papers"


def changed_record(papers: Path, change: Callable[[dict[str, Any]], object]) -> None:
    record = papers / "record.json"
    data = json.loads(record.read_text(encoding="utf-8"))
    change(data["answers"])
    record.write_text(json.dumps(data), encoding="utf-8")


class TestTheCommand:
    def test_writes_a_new_file_and_never_over_one(self, tmp_path: Path) -> None:
        old, new = tmp_path / "old.yaml", tmp_path / "new.yaml"
        old.write_text(OLD, encoding="utf-8")
        code, out, _ = run("begin", new, "--from", old)
        assert (code, new.read_text(encoding="utf-8")) == (0, NEW)
        assert "\n  The whole job: Title of the work; Reference; " in out
        assert f"gaugebox ask {new}, or gaugebox survey {new}\n" in out
        new.write_text("mine", encoding="utf-8")
        code, _, err = run("begin", new, "--from", old)
        assert (code, new.read_text(encoding="utf-8")) == (1, "mine")
        assert "is there already" in err
        assert old.read_text(encoding="utf-8") == OLD

    def test_takes_the_answers_of_an_issue(self, tmp_path: Path) -> None:
        old = tmp_path / "answers.yaml"
        old.write_text(one_wall(), encoding="utf-8")
        assert run("issue", old, "--out", tmp_path / "issues")[0] == 0
        (issue,) = (tmp_path / "issues").iterdir()
        assert run("begin", tmp_path / "new.yaml", "--from", issue)[0] == 0
        assert "Begun from answers.yaml" in (tmp_path / "new.yaml").read_text(encoding="utf-8")

    @pytest.mark.parametrize("of", ["folder", "record"])
    def test_takes_the_answers_of_a_record_alone_with_their_remarks(
        self, of: str, papers: Path, tmp_path: Path
    ) -> None:
        (tmp_path / "answers.yaml").unlink()
        new = tmp_path / "new.yaml"
        assert run("begin", new, "--from", papers if of == "folder" else papers / "record.json")[0] == 0
        assert new.read_text(encoding="utf-8").startswith("# Begun from answers.yaml: ")
        assert "\n# seen twice\n" in new.read_text(encoding="utf-8")
        assert "issue_date" not in new.read_text(encoding="utf-8")

    def test_a_record_of_an_older_program_takes_the_file_beside_it_if_that_is_the_one(
        self, papers: Path, tmp_path: Path
    ) -> None:
        changed_record(papers, lambda told: told.pop("text"))
        answers = tmp_path / "answers.yaml"
        (papers / "answers.yaml").write_bytes(answers.read_bytes())
        assert run("begin", tmp_path / "new.yaml", "--from", papers)[0] == 0
        (papers / "answers.yaml").write_bytes(answers.read_bytes() + b"# later\n")
        code, _, err = run("begin", tmp_path / "other.yaml", "--from", papers)
        assert (code, (tmp_path / "other.yaml").exists()) == (1, False)
        assert "which answers it was made of (answers.yaml) and does not hold them" in err
        assert "name that answers file, as it then was, with --from" in err

    def test_answers_in_a_record_that_somebody_changed_are_refused(self, papers: Path, tmp_path: Path) -> None:
        changed_record(papers, lambda told: told.update(text=told["text"].replace("soft", "hard")))
        code, _, err = run("begin", tmp_path / "new.yaml", "--from", papers)
        assert (code, (tmp_path / "new.yaml").exists()) == (1, False)
        assert "are not those that it was made of (answers.yaml)" in err

    @pytest.mark.parametrize("name", ["", "../../etc/passwd", "..\\x", 7, None])
    def test_no_name_in_a_record_leads_out_of_its_folder(self, name: object, papers: Path, tmp_path: Path) -> None:
        changed_record(papers, lambda told: told.update(text=7, name=name))
        assert run("begin", tmp_path / "new.yaml", "--from", papers)[0] == 1

    def test_an_old_file_is_opened_once(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        old, opened = tmp_path / "old.yaml", list[str]()
        old.write_text(OLD, encoding="utf-8")
        plain = Path.open

        def noted(self: Path, *args: Any, **more: Any) -> Any:
            opened.append(self.name)
            return plain(self, *args, **more)

        monkeypatch.setattr(Path, "open", noted)
        assert run("begin", tmp_path / "new.yaml", "--from", old)[0] == 0
        assert opened.count("old.yaml") == 1

    @pytest.mark.parametrize("content", [None, b"\xff\xfe", b"a: [", b"elements: 3\n"])
    def test_an_old_file_that_cannot_be_read_is_told_and_nothing_is_written(
        self, content: bytes | None, tmp_path: Path
    ) -> None:
        old = tmp_path / "old.yaml"
        if content is not None:
            old.write_bytes(content)
        code, _, err = run("begin", tmp_path / "new.yaml", "--from", old)
        assert (code, str(old) in err) == (1, True)
        assert not (tmp_path / "new.yaml").exists()
