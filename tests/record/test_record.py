"""The record of a run: every key that later work needs, and the same bytes wherever and however it is run."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from answers_text import answers, one_wall, wall
from jobs import EXAMPLES, job, shipped
from recorded import in_full

from generator.record.once import TABLES
from generator.record.record import clause_data, dumped, findings_data, mix_data, record, work_data

ROOT = Path(__file__).resolve().parents[2]
KEYS = {
    "schema", "program", "status", "files", "answers", "library", "findings", "mixes", "considered", "works", "items",
    "materials", "batches", "sheets", "programme", "clauses", "references", "numbers", "issue", "elements", *TABLES,
}  # fmt: skip
# The fields that the design asks of the entries of a list, by list.
FIELDS: Mapping[str, set[str]] = {
    "files": {"name", "sha256"},
    "findings": {"level", "code", "at", "message", "action", "answer_by", "sources"},
    "mixes": {
        "ref", "name", "binder", "form", "parts", "basis", "dry_sand_ratio", "equivalent", "sand", "max_grain_mm",
        "pozzolan", "used_for", "reasons",
    },
    "considered": {"element", "work", "coat", "recipe", "why_not"},
    "elements": {"element", "values"},
    "works": {"element", "work", "values"},
    "items": {"ref", "mix", "clauses", "description", "unit", "quantity", "kind"},
    "clauses": {"id", "number", "edition", "layer", "included", "elements", "facts", "text", "values"},
}  # fmt: skip
RAW = b"project: raw"


def made(text: str, **files: bytes) -> dict[str, Any]:
    return record(job(text), "answers.yaml", RAW, files)


def test_it_has_every_key_and_every_entry_its_fields() -> None:
    data = made(one_wall(), spec=b"x")
    assert set(data) == KEYS
    assert data["schema"] == 2
    for key, fields in FIELDS.items():
        assert data[key]
        for entry in data[key]:
            assert fields <= set(entry), key


def test_its_bytes_are_json_with_sorted_keys_and_read_back_the_same() -> None:
    data = made(one_wall(title="Ω 🧱"))
    raw = dumped(data)
    assert json.loads(raw) == data
    assert "Ω 🧱" in raw.decode()
    keys = list(json.loads(raw))
    assert keys == sorted(keys)
    assert raw.endswith(b"}\n")


def test_it_vouches_for_the_papers_and_names_answers_and_library_by_digest() -> None:
    data = record(job(one_wall()), "a.yaml", RAW, {"b.docx": b"two", "a.docx": b"one"})
    assert data["files"] == [
        {"name": "a.docx", "sha256": hashlib.sha256(b"one").hexdigest()},
        {"name": "b.docx", "sha256": hashlib.sha256(b"two").hexdigest()},
    ]
    assert (data["answers"]["name"], data["answers"]["sha256"]) == ("a.yaml", hashlib.sha256(RAW).hexdigest())
    assert data["library"]["sha256"] == [shipped().digest]


@pytest.mark.parametrize(("area", "status"), [("12", "tender"), ("0", "draft")])
def test_it_has_the_status_of_the_set(area: str, status: str) -> None:
    assert made(one_wall(face_area_m2=area))["status"] == status


def test_it_keeps_the_refused_wish_that_the_papers_leave_out() -> None:
    text = one_wall(asked_binder="cement")
    found = job(text)
    (refusal,) = [item for item in findings_data(found) if item["level"] == "refusal"]
    assert refusal["code"] == "asked-cement-refused"
    assert "asked for" in refusal["message"]
    given = made(text)["answers"]["given"]["front/repoint"]
    assert given["asked_binder"] == "a mix with cement"


def test_a_finding_keeps_the_lines_it_rests_on() -> None:
    text = one_wall(start_date="2027-08-30")
    (found,) = [item for item in in_full(made(text))["findings"] if item["code"] == "dates-contradict"]
    named = [text.splitlines()[line - 1].split(":")[0].strip() for line in found["lines"]]
    assert named == ["start_date", "finish_date"]


def test_every_other_binder_is_there_with_why_it_was_not_taken_in_words() -> None:
    found = job(one_wall())
    listed = [entry for entry in in_full(made(one_wall()))["considered"] if entry["coat"] == "pointing"]
    taken = {mix["binder"] for mix in made(one_wall())["mixes"]}
    assert {entry["recipe"] for entry in listed} == set(found.library.names["binder"].choices) - taken
    assert all(entry["why_not"].endswith(".") for entry in listed)


def test_a_mix_tells_basis_ratios_and_the_reason_of_each_wall_it_serves() -> None:
    found = job(answers(wall(id_="a", name="A"), wall(id_="b", name="B")))
    data = mix_data(found, found.decisions.mixes[0])
    assert data["basis"] == found.decisions.mixes[0].recipe.basis
    assert (data["ratio"], data["dry_sand_ratio"][1], data["equivalent"]) == ("2.5", "2", None)
    assert [place["element"] for place in data["used_for"]] == ["a", "b"]
    assert len(data["reasons"]) == 2
    assert all(reason["sources"] for reason in data["reasons"])


def test_every_value_worked_out_for_a_work_is_there_as_it_is_said_with_its_reason() -> None:
    values = work_data(job(one_wall()), ("front", "repoint"))["values"]
    assert values["rake_depth_mm"]["value"] == "25 mm"
    assert values["rake_depth_mm"]["reason"]["because"]
    assert values["pointing/binder"]["value"] == "matured lime putty"
    assert values["wall_class"]["value"] == "soft"
    area = values["treated_area_m2"]["reason"]
    assert area["rule"] == "<measure>"
    assert area["because"].startswith("Of repointing, the net area times the likely share")
    assert area["facts"] == ["net area of face: 12 m²", "share of the face to be repointed: 50%"]
    assert "face_area_m2" not in values


def test_a_line_without_a_quantity_is_there_as_such() -> None:
    items = made(one_wall(face_area_m2=None))["items"]
    (line,) = [item for item in items if item["rule"] == "repoint.brick"]
    assert (line["quantity"], line["kind"], line["to_follow"]) == (None, "rate only", True)


def test_every_clause_is_there_those_left_out_with_the_facts_that_kept_them_out() -> None:
    found = job(one_wall())
    clauses = {entry["id"]: entry for entry in in_full(made(one_wall()))["clauses"]}
    assert set(clauses) == set(found.library.clauses)
    flint = clauses["pointing.flint"]
    assert (flint["included"], flint["number"], flint["text"]) == (False, None, "")
    assert any("flint" in fact for tried in flint["facts"] for fact in tried["facts"])
    depth = clauses["raking-out.depth"]
    assert depth["included"]
    assert depth["text"].startswith(depth["number"])
    assert {"name": "rake_depth_mm", "scope": ["front", "repoint"], "text": "25 mm"} in depth["values"]
    assert clause_data(found, "raking-out.depth") == depth


def test_what_many_walls_tell_alike_is_held_once() -> None:
    walls = [wall(id_=f"w{number}", name=f"Wall {number}") for number in range(3)]
    one, more = (made(answers(*some, finish_date="2027-08-31")) for some in (walls[:1], walls))
    for data in (one, more):
        for table in TABLES:
            told = [json.dumps(entry) for entry in data[table]]
            assert len(told) == len(set(told)), table
    shared = [reason for reason in more["reasons"] if reason not in one["reasons"]]
    first_of_kind = (
        "The first work of its kind in the same mixes and finish on the same masonry, where that is another."
    )
    assert [reason["because"] for reason in shared] == [first_of_kind]  # one wall alone has no other's panel
    assert len(more["reasons"]) == len(one["reasons"]) + 1
    assert len(more["findings"]) == len(one["findings"])
    assert {len(found["at"]) for found in more["findings"]} >= {3}


def test_numbers_are_the_register_for_the_next_issue() -> None:
    found = job(one_wall())
    data = made(one_wall())
    assert data["numbers"] == dict(found.numbers)
    included = {f"clause:{entry['id']}": entry["number"] for entry in data["clauses"] if entry["included"]}
    assert included.items() <= data["numbers"].items()


def test_references_are_sources_of_the_library() -> None:
    assert set(made(one_wall())["references"]) <= set(shipped().sources)


def run(folder: Path, **environment: str) -> dict[str, str]:
    """The digests of the set that a process of its own writes of an example."""
    folder.mkdir()
    home = folder / "home"
    home.mkdir()
    base = {key: value for key, value in os.environ.items() if key in ("PATH", "SYSTEMROOT")}
    done = subprocess.run(
        [sys.executable, "-m", "generator", "write", str(EXAMPLES[-1]), "--out", str(folder / "out")],
        cwd=ROOT, env={**base, "HOME": str(home), **environment}, capture_output=True, check=False, text=True,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in sorted((folder / "out").iterdir())}


def test_the_four_files_are_the_same_bytes_in_any_time_zone_language_and_hash_seed(tmp_path: Path) -> None:
    one = run(tmp_path / "a", PYTHONHASHSEED="1", TZ="Pacific/Kiritimati", LANG="C", LC_ALL="C")
    other = run(tmp_path / "b", PYTHONHASHSEED="4711", TZ="America/Los_Angeles", LANG="de_DE.UTF-8", PYTHONUTF8="1")
    assert len(one) == 4
    assert one == other
