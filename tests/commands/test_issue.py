"""Revisions on the toll house: issue, add a clause, drop one, change a value, reissue; and what is refused."""

from __future__ import annotations

import hashlib
import json
import re
import shutil
from pathlib import Path
from typing import Any

import pytest
from command_line import run
from docx_reading import W, part, text_of
from helpers import build_tree
from jobs import ROOT

ANSWERS = (ROOT / "examples" / "toll-house" / "answers.yaml").read_text(encoding="utf-8")
HOUSE = {
    "layer.yaml": "{name: house, edition: '2027.1'}\n",
    "clauses/house.photographs.yaml": """\
        clauses:
        - id: house.photographs
          part: completion
          after: completion.records
          title: Photographs of finished work
          text: Photograph each finished wall square on, with a scale in the picture.
          cost: {preliminaries: prelims.records}
          sources: [common-practice]
        """,
    "clauses/site.hours.drop.yaml": "drops:\n- {id: site.hours, because: The client sets the hours.}\n",
}
P = f"{{{W}}}p"
NEXT = ANSWERS.replace('revision: "1"', 'revision: "2"\n  revision_about: Queries answered')
CHANGED = NEXT.replace("two vans at", "three vans at")


def answers(folder: Path, text: str) -> Path:
    path = folder / "answers.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def rewritten(folder: Path, name: str, content: bytes) -> None:
    """Changes a file of an issue with care: its digest, and that of the description, fit."""
    (folder / name).write_bytes(content)
    data = json.loads((folder / "issue.json").read_bytes())
    next(item for item in data["files"] if item["name"] == name)["sha256"] = hashlib.sha256(content).hexdigest()
    del data["sha256"]
    text = json.dumps(data, sort_keys=True, indent=1, ensure_ascii=False) + "\n"
    data["sha256"] = hashlib.sha256(text.encode()).hexdigest()
    (folder / "issue.json").write_text(json.dumps(data), encoding="utf-8")


@pytest.fixture(scope="module")
def story(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with two issues: the second with a clause added, one dropped and one value changed."""
    folder = tmp_path_factory.mktemp("story")
    build_tree(folder / "house", HOUSE)
    assert run("issue", answers(folder, ANSWERS), "--out", folder / "issues")[0] == 0
    code, out, err = run("issue", answers(folder, CHANGED), "--out", folder / "issues", "--layer", folder / "house")
    assert (code, err) == (0, "")
    assert f"numbers held from {folder / 'issues' / 'EH-014-rev-1'}" in out
    return folder


def rev(story: Path, number: int) -> Path:
    return story / "issues" / f"EH-014-rev-{number}"


def record(folder: Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((folder / "record.json").read_bytes())
    return found


class TestReissue:
    def test_every_surviving_number_is_equal_and_the_new_clause_takes_a_letter(self, story: Path) -> None:
        old, new = (record(rev(story, number))["numbers"] for number in (1, 2))
        assert {key: new[key] for key in old} == old
        assert {key: new[key] for key in new.keys() - old.keys()} == {
            "clause:house.photographs": f"{old['clause:completion.records']}A"
        }

    def test_the_dropped_clause_stays_in_the_paper_as_not_used(self, story: Path) -> None:
        number = record(rev(story, 1))["numbers"]["clause:site.hours"]
        papers = [(rev(story, issue) / "specification.docx").read_bytes() for issue in (1, 2)]
        titles = [[text_of(found) for found in part(data).iter(f"{{{W}}}p")] for data in papers]
        assert number
        assert ("Not used" in titles[0], "Not used" in titles[1]) == (False, True)

    def test_compare_names_exactly_the_three(self, story: Path) -> None:
        code, out, _ = run("compare", rev(story, 1), rev(story, 2), "--json")
        assert code == 0
        changes = json.loads(out)["changes"]
        assert [(item["about"], item["kind"], item["key"]) for item in changes] == [
            ("values", "changed", "site_storage"),
            ("clauses", "added", "house.photographs"),
            ("clauses", "removed", "site.hours"),
        ]
        assert ("two vans" in changes[0]["old"], "three vans" in changes[0]["new"]) == (True, True)
        assert changes[0]["clauses"] == [record(rev(story, 2))["numbers"]["clause:site.storage"]]

    def test_compare_tells_it_in_plain_words(self, story: Path) -> None:
        _, out, _ = run("compare", rev(story, 1), rev(story, 2) / "record.json")
        assert out.startswith("EH-014: from revision 1 to revision 2\n")
        assert re.search(r"added: clause [\d.]+A, Photographs of finished work\n", out)
        assert re.search(r"removed: clause [\d.]+, Hours and barred dates; its number is not used again\n", out)
        assert "three vans" in out

    def test_the_addendum_names_the_three_with_old_and_new_and_has_a_slip(self, story: Path) -> None:
        file = story / "addendum.docx"
        assert run("compare", rev(story, 1), rev(story, 2), "--addendum", file)[0] == 0
        lines = [text_of(found) for found in part(file.read_bytes()).iter(f"{{{W}}}p")]
        heads = [line for line in lines if re.match(r"\d+\. ", line)]
        assert [head.partition(" ")[0] for head in heads] == ["1.", "2.", "3."]
        assert "Addendum no. 1" in lines
        assert "Receipt of addendum no. 1" in lines
        assert "Queries answered" in lines
        assert any(line.startswith("Was:") and "two vans" in line for line in lines)
        assert any(line.startswith("Is now:") and "three vans" in line for line in lines)
        assert "No quantity changes." in lines

    def test_the_addendum_is_a_paper_without_faults(self, story: Path) -> None:
        file = story / "checked.docx"
        assert run("compare", rev(story, 1), rev(story, 2), "--addendum", file)[0] == 0
        assert run("papers", "check", file)[:2] == (0, f"{file}: no faults\n")

    def test_the_new_mix_schedule_names_the_sheet_it_replaces(self, story: Path) -> None:
        text = [text_of(found) for found in part((rev(story, 2) / "mix-schedule.docx").read_bytes()).iter(f"{{{W}}}p")]
        assert any("Revision 1 and older: take down." in line for line in text)
        first = part((rev(story, 1) / "mix-schedule.docx").read_bytes()).iter(f"{{{W}}}p")
        assert any("Older pages: take down." in text_of(found) for found in first)

    def test_the_record_tells_layer_and_edition_of_every_clause(self, story: Path) -> None:
        data = record(rev(story, 2))
        told = {clause["id"]: (clause["layer"], clause["edition"]) for clause in data["clauses"]}
        assert told["house.photographs"] == ("house", "2027.1")
        assert told["completion.records"] == ("shipped", data["library"]["edition"])
        assert len(data["library"]["sha256"]) == 2

    @pytest.mark.parametrize("number", [1, 2])
    def test_an_issue_can_be_written_again_from_its_folder(self, number: int, story: Path, tmp_path: Path) -> None:
        code, out, _ = run("issue", "--again", rev(story, number), "--out", tmp_path)
        assert code == 0
        assert out.count("(the same as issued)") == 3
        assert (tmp_path / "record.json").read_bytes() == (rev(story, number) / "record.json").read_bytes()

    def test_an_issue_holds_the_templates_it_was_written_with_and_those_of_its_layers(self, tmp_path: Path) -> None:
        own = {**HOUSE, "templates/owner-page.yaml": "title: Our page\n", "templates/words.yaml": "words: {of: /}\n"}
        build_tree(tmp_path / "house", own)
        library = tmp_path / "library"
        for name in ("clauses", "templates"):
            shutil.copytree(ROOT / name, library / name)
        changed = library / "templates" / "specification.yaml"
        text = changed.read_text(encoding="utf-8").replace("heading: Read this first", "heading: Begin here")
        changed.write_text(text, encoding="utf-8")
        words = ("--library", library / "clauses", "--layer", tmp_path / "house", "--out", tmp_path / "issues")
        assert run("issue", answers(tmp_path, ANSWERS), *words)[0] == 0
        shutil.rmtree(library)
        shutil.rmtree(tmp_path / "house")
        folder = tmp_path / "issues" / "EH-014-rev-1"
        assert (folder / "templates" / "specification.yaml").read_text(encoding="utf-8") == text
        assert (folder / "library" / "1-house" / "templates" / "owner-page.yaml").is_file()
        code, out, _ = run("issue", "--again", folder, "--out", tmp_path / "again")
        assert (code, out.count("(the same as issued)")) == (0, 3)
        lines = [text_of(found) for found in part((tmp_path / "again" / "specification.docx").read_bytes()).iter(P)]
        assert "Begin here" in lines

    def test_the_addendum_is_made_up_as_a_layer_says(self, story: Path, tmp_path: Path) -> None:
        own = {"layer.yaml": HOUSE["layer.yaml"], "templates/addendum.yaml": "title: Amendment {number}\n"}
        build_tree(tmp_path / "house", own)
        words = ("--layer", tmp_path / "house", "--addendum", tmp_path / "a.docx")
        assert run("compare", rev(story, 1), rev(story, 2), *words)[0] == 0
        assert "Amendment 1" in [text_of(found) for found in part((tmp_path / "a.docx").read_bytes()).iter(P)]

    def test_what_cannot_be_written_again_as_it_was_is_told(self, story: Path, tmp_path: Path) -> None:
        folder = tmp_path / "issues" / "EH-014-rev-1"
        assert run("issue", answers(tmp_path, ANSWERS), "--out", tmp_path / "issues")[0] == 0
        rewritten(folder, "mix-schedule.docx", b"of another version")
        code, out, err = run("issue", "--again", folder, "--out", tmp_path / "again")
        assert (code, "mix-schedule.docx (not the same as issued)" in out) == (1, True)
        assert "issued by gaugebox" in err

    def test_an_issue_is_not_written_again_into_itself_nor_are_papers(self, story: Path, tmp_path: Path) -> None:
        for words in (
            ("issue", "--again", rev(story, 1), "--out", rev(story, 1)),
            ("write", answers(tmp_path, ANSWERS), "--out", rev(story, 1)),
            ("compare", rev(story, 1), rev(story, 2), "--addendum", rev(story, 2) / "addendum.docx"),
        ):
            code, _, err = run(*words)
            assert (code, "never rewritten" in err) == (1, True)
        assert run("issue", "--verify", rev(story, 1))[0] == run("issue", "--verify", rev(story, 2))[0] == 0


class TestRefusals:
    def test_a_clause_that_was_begun_and_not_written_is_not_issued(self, tmp_path: Path) -> None:
        begun = ("clauses", "new", "house.a", "--in", tmp_path / "house", "--part", "completion")
        assert run(*begun)[0] == 0
        code, out, _ = run("clauses", "check", "--layer", tmp_path / "house")
        assert (code, "[clause-not-written]" in out, "house.a.yaml:2:3" in out) == (3, True, True)
        words = ("--layer", tmp_path / "house", "--out", tmp_path / "issues")
        code, _, err = run("issue", answers(tmp_path, ANSWERS), *words)
        assert (code, "a draft is not issued" in err) == (3, True)

    def test_a_last_issue_of_another_kind_or_that_breaks_off_is_told_in_a_line(self, tmp_path: Path) -> None:
        for text in ("{", '{"schema": 9}', "[]", '{"schema": 1, "clauses": 5}'):
            (tmp_path / "record.json").write_text(text)
            for words in (("check",), ("issue", "--out", tmp_path / "o")):
                code, _, err = run(*words, answers(tmp_path, NEXT), "--last", tmp_path / "record.json")
                assert (code, len(err.splitlines()), "record.json: is" in err) == (1, 1, True)
        assert not (tmp_path / "o").exists()

    def test_an_issue_is_never_rewritten(self, story: Path, tmp_path: Path) -> None:
        before = {path: path.read_bytes() for path in rev(story, 2).rglob("*") if path.is_file()}
        code, _, err = run("issue", answers(tmp_path, NEXT), "--out", story / "issues")
        assert code == 1
        assert "revision 2 is issued already" in err
        code, _, err = run("issue", answers(tmp_path, ANSWERS), "--out", story / "issues")
        assert code == 1
        assert "is never rewritten" in err
        assert before == {path: path.read_bytes() for path in rev(story, 2).rglob("*") if path.is_file()}

    def test_a_draft_is_not_issued(self, tmp_path: Path) -> None:
        text = ANSWERS.replace("consent: granted", "consent: not known")
        code, _, err = run("issue", answers(tmp_path, text), "--out", tmp_path / "issues")
        assert code == 3
        assert "a draft is not issued" in err
        assert not (tmp_path / "issues").exists()

    def test_dropping_a_clause_that_protects_makes_a_draft(self, tmp_path: Path) -> None:
        layer = {**HOUSE, "clauses/d.yaml": "drops:\n- {id: materials.forbidden, because: We know.}\n"}
        build_tree(tmp_path / "house", layer)
        code, out, _ = run("check", answers(tmp_path, ANSWERS), "--layer", tmp_path / "house")
        assert code == 3
        assert "[keep-clause-dropped]" in out
        assert "We know." in out
        assert "d.yaml:2:3" in out

    def test_the_issue_of_another_job_is_no_last_issue(self, story: Path, tmp_path: Path) -> None:
        text = ANSWERS.replace("reference: EH-014", "reference: EH-015")
        code, _, err = run("issue", answers(tmp_path, text), "--out", tmp_path / "out", "--last", rev(story, 1))
        assert code == 1
        assert "is an issue of EH-014, not of EH-015" in err

    def test_a_house_clause_that_refers_to_one_that_is_not_in_is_told_at_its_place(self, tmp_path: Path) -> None:
        clause = (
            "clauses:\n- {id: house.a, part: completion, title: T, cost: information, sources: [common-practice],"
            " text: 'As [](clause:completion.owner-render).'}\n"
        )
        build_tree(tmp_path / "house", {"layer.yaml": HOUSE["layer.yaml"], "clauses/a.yaml": clause})
        code, _, err = run("check", answers(tmp_path, ANSWERS), "--layer", tmp_path / "house")
        assert code == 1
        assert "a.yaml:2:3: clause 'house.a' is in these papers and refers to 'completion.owner-render'" in err


class TestVerify:
    def test_an_issue_as_it_was_issued_verifies(self, story: Path) -> None:
        assert run("issue", "--verify", rev(story, 1))[:2] == (0, f"{rev(story, 1)}: every file is as it was issued\n")

    def test_what_was_changed_put_in_or_taken_out_is_told_a_line_each_and_stops_what_would_rest_on_it(
        self, tmp_path: Path
    ) -> None:
        assert run("issue", answers(tmp_path, ANSWERS), "--out", tmp_path)[0] == 0
        folder = tmp_path / "EH-014-rev-1"
        (folder / "mix-schedule.docx").write_bytes(b"other")
        (folder / "specification.docx").unlink()
        (folder / "more.txt").write_text("x")
        code, _, err = run("issue", "--verify", folder)
        assert code == 1
        assert [line.partition(": ")[2].partition(":")[0] for line in err.splitlines()] == [
            "was changed since it was issued",
            "is missing from the issue",
            "was put into the issue later",
        ]
        for words in (("compare", folder, folder), ("check", answers(tmp_path, NEXT), "--last", folder)):
            assert run(*words)[0] == 1

    def test_a_changed_description_is_found_too(self, tmp_path: Path) -> None:
        assert run("issue", answers(tmp_path, ANSWERS), "--out", tmp_path)[0] == 0
        path = tmp_path / "EH-014-rev-1" / "issue.json"
        path.write_text(path.read_text().replace('"date": "2027', '"date": "2026'))
        assert run("issue", "--verify", path.parent)[0] == 1


def test_check_says_which_clauses_have_changed_since_the_last_issue(story: Path, tmp_path: Path) -> None:
    path = answers(tmp_path, CHANGED)
    _, out, _ = run("check", path, "--layer", story / "house", "--last", rev(story, 1))
    tail = out[out.index("Clauses changed since revision 1") :].splitlines()
    assert len(tail) == 3
    _, out, _ = run("check", path, "--last", rev(story, 1))
    assert out.endswith("No clause has changed since revision 1 was issued.\n")


def test_answers_name_their_own_layers_and_clauses_beside_them_are_the_projects(tmp_path: Path) -> None:
    build_tree(tmp_path / "house", {"layer.yaml": HOUSE["layer.yaml"]})
    own = {"layer.yaml": "{name: this-job, edition: '1'}\n", **{k: v for k, v in HOUSE.items() if "photo" in k}}
    build_tree(tmp_path / "job" / "project-clauses", own)
    path = answers(tmp_path / "job", "layers: [../house]\n" + ANSWERS)
    assert run("write", path, "--out", tmp_path / "out")[0] == 0
    data = record(tmp_path / "out")
    assert [layer["name"] for layer in data["library"]["layers"]] == ["house", "this-job"]
    assert {clause["layer"] for clause in data["clauses"] if clause["included"]} == {"shipped", "this-job"}


def test_a_layer_that_is_not_there_is_told(tmp_path: Path) -> None:
    code, _, err = run("check", answers(tmp_path, "layers: [../none]\n" + ANSWERS))
    assert code == 1
    assert "none: is no folder" in err
    code, _, err = run("check", answers(tmp_path, "layers: house\n" + ANSWERS))
    assert code == 1
    assert "answers.yaml:1:9: 'layers' is not a list of folders" in err
