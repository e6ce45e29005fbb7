"""Asking at the terminal: sittings driven in process, through a pipe, at a terminal, and killed."""

from __future__ import annotations

import contextlib
import functools
import io
import multiprocessing
import os
import random
import re
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

import pytest
from helpers import slow_but
from jobs import ROOT, shipped

from generator.asking import answers_file
from generator.asking.answers_file import Change
from generator.asking.terminal.console import Closed, Console
from generator.asking.terminal.session import Session
from generator.files.errors import CannotWrite, InputInvalid
from generator.files.source import Span

GAUGEBOX = [sys.executable, "-m", "generator"]
PROMPT = re.compile(r"^(?:\d+(?:, [^:\n]+)?: |> )", re.MULTILINE)

# The small job: a soft brick garden wall, one work, no protection; what a tradesperson would type.
PROJECT = [
    "Garden wall: repointing", "GW-01", "2027-02-01", "Sample Lane (invented)", "A. Sample", "2027-03-05",
    "by e-mail", "2027-05-10", "none", "n", "no", "open-y",
]  # fmt: skip
WALL = ["Garden wall", "repoint", "brick", "soft", "8-12mm", "mod", "wall", "age", "no", "ground"]
WORK = ["20 m2", "30 - 40"]
FROST = ["20 Oct", "05-01"]
ENDS = ["no", *FROST, "no"]  # no other work or wall, frost for what lies outside, no further questions
SMALL = [*PROJECT, *WALL, *WORK, *ENDS]


def typed(lines: Sequence[str | bytes]) -> bytes:
    return b"".join((line if isinstance(line, bytes) else line.encode()) + b"\n" for line in lines)


def sit(path: Path, lines: Sequence[str | bytes]) -> tuple[str, bool]:
    """All that a sitting says when lines are typed and the input then ends; whether it ends for tender."""
    said = io.StringIO()
    ready = Session(path, shipped(), Console(io.BytesIO(typed(lines)), said)).run()
    return said.getvalue(), ready


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "answers.yaml"


@functools.cache
def small() -> str:
    """The answers file of the small job, as a sitting leaves it."""
    with tempfile.TemporaryDirectory() as folder:
        sit(Path(folder) / "answers.yaml", SMALL)
        return (Path(folder) / "answers.yaml").read_text(encoding="utf-8")


# --- the small job ------------------------------------------------------------------------------------------


def test_the_small_job_is_answered_in_under_forty_prompts_and_is_for_tender(path: Path) -> None:
    said, ready = sit(path, SMALL)
    assert ready
    assert "To write the papers: gaugebox write" in said
    assert len(PROMPT.findall(said)) == len(SMALL) < 40


def test_the_file_it_leaves_reads_as_written_by_hand() -> None:
    lines = small().splitlines()
    assert lines[0] == "# yaml-language-server: $schema=answers.schema.json"
    assert '  title: "Garden wall: repointing"' in lines
    assert lines[lines.index("elements:") :] == [
        "elements:",
        "- id: garden-wall",
        "  name: Garden wall",
        "  masonry: brick",
        "  hardness: soft",
        "  joint_width_mm: 8 - 12",
        "  exposure: moderate",
        "  position: wall",
        "  decay_causes: [age]",
        "  leaning: no",
        "  access: ground",
        "  works:",
        "  - id: repoint",
        "    work: repoint",
        "    face_area_m2: 20",
        "    treated_per_cent: 30 - 40",
    ]


# What is left after the normal pass, each of which leaves a warning while it is open.
WANTED = [
    "Garden wall of about 1850", "The owner", "01 555 0142", "no", "clear", "none", "228", "63",
    "soft lime mortar", "weathered", "dry", "none", "none", "10 - 20", "0",
]  # fmt: skip
WHOLE = [*SMALL[:-1], "yes", *WANTED, "no"]


def test_with_the_pass_over_warnings_the_small_job_stays_near_forty_prompts_and_nothing_is_unanswered(
    path: Path,
) -> None:
    said, ready = sit(path, WHOLE)
    assert ready
    assert "Not answered" not in said
    assert "Questions that have a usual answer or may stay open" in said
    assert len(PROMPT.findall(said)) == len(WHOLE) <= 44


# --- how questions are asked --------------------------------------------------------------------------------


def test_what_does_not_apply_is_hidden(path: Path) -> None:
    said, _ = sit(path, SMALL)
    assert "Consent for this work" not in said
    said, _ = sit(path.with_name("listed.yaml"), [*PROJECT[:8], "listed", "granted"])
    assert "Consent for this work" in said


def test_progress_tells_the_place_and_how_far(path: Path) -> None:
    said, _ = sit(path, SMALL)
    assert "The whole job: 1 of 12\nTitle of the work\n" in said
    assert "Garden wall, repointing: 3 of 3\nShare of the face to be repointed (%)\n" in said


def test_help_tells_why_how_an_example_and_what_follows(path: Path) -> None:
    said, _ = sit(path, [*PROJECT, *WALL[:4], "?"])
    help_ = said[said.rindex("> ?") :]
    assert "The least governs the grain of the sand" in help_
    assert "How to find out: Measure twenty joints" in " ".join(help_.split())
    assert "8 - 12 (10)" in help_
    assert "The set is a draft until it is answered" in help_
    assert "write not known" in help_


@pytest.mark.parametrize("word", ["2", "medium", "med", "of middling", "MEDIUM"])
def test_a_choice_is_answered_by_number_word_or_beginning(path: Path, word: str) -> None:
    sit(path, [*PROJECT, *WALL[:3], word])
    assert "hardness: medium\n" in path.read_text()


@pytest.mark.parametrize(
    ("before", "wrong", "told"),
    [
        (SMALL[:2], "1/3/2027", "Date of issue cannot be '1/3/2027': write the date as year-month-day"),
        (SMALL[:8], "grade 2", "'grade 2' is not on the list: write a number or a word from it"),
        (SMALL[:8], "listd", "did you mean 'listed'?"),
        (SMALL[:8], "l", "That may be listed, listed-high, local: write more of the word"),
        (SMALL[:16], "8 or 10", "write low and high, such as 8 - 12"),
        (SMALL[:22], "idk", "'idk' would be printed as an answer"),
        (SMALL[:22], "-4", "the least is 0 m²"),
        (SMALL[:2], "not known", "cannot be 'not known': find it out"),
        (SMALL[:2], "", "No papers can be written without it"),
        (SMALL[:3], "", "The set stays a draft without it"),
        (SMALL[:12], "", "It needs a name"),
    ],
)
def test_a_wrong_answer_is_told_with_what_to_do_and_asked_again(
    path: Path, before: list[str], wrong: str, told: str
) -> None:
    said, ready = sit(path, [*before, wrong, *SMALL[len(before) :]])
    assert told in " ".join(said.split())
    assert ready
    assert path.read_text() == small()


@pytest.mark.parametrize(
    ("typed", "told", "line"),
    [
        (["about 10", "1"], "About 10: how far can it be from that?", "joint_width_mm: 8 - 12 (10)"),
        (["8,5", "2"], "'8,5' can be read in more than one way", "joint_width_mm: 5 - 8"),
        (["3/8 - 1/2 in"], "Taken: 9.5–12.7 mm", "joint_width_mm: 9.5 - 12.7"),
    ],
)
def test_what_may_be_meant_in_several_ways_asks_back(path: Path, typed: list[str], told: str, line: str) -> None:
    said, _ = sit(path, [*SMALL[:16], *typed])
    assert told in " ".join(said.split())
    assert line in path.read_text()


def test_a_face_may_be_typed_by_its_sides_less_its_openings(path: Path) -> None:
    said, ready = sit(path, [*SMALL[:22], "6 x 4.5 - 2 windows 1.1 x 1.6", *SMALL[23:]])
    assert "Taken: 27 m²" in said
    assert ready
    assert "face_area_m2: 27\n" in path.read_text()
    assert "- {width_m: 1.1, height_m: 1.6, count_nr: 2}" in path.read_text()


def test_not_known_is_taken_where_it_is_an_answer(path: Path) -> None:
    sit(path, [*PROJECT, *WALL[:3], "not known"])
    assert "hardness: not known\n" in path.read_text()


def test_later_leaves_a_needed_answer_open_and_the_job_a_draft(path: Path) -> None:
    said, ready = sit(path, [*SMALL[:3], "later", *SMALL[4:]])
    assert not ready
    assert "block: Not answered: Where the building stands." in said
    said, ready = sit(path, ["Sample Lane", "", "", "no"])
    assert ready


def test_back_asks_the_question_before_again_and_shows_its_answer(path: Path) -> None:
    said, _ = sit(path, ["Barn", "B-1", "back", "back", "Mill", "", "2027-02-01"])
    assert "Now: B-1. An empty line keeps it." in said
    assert "Now: Barn. An empty line keeps it." in said
    assert path.read_text().split("project:\n")[1] == "  title: Mill\n  reference: B-1\n  issue_date: 2027-02-01\n"


def test_back_at_the_first_question_says_so(path: Path) -> None:
    said, _ = sit(path, ["back"])
    assert "There is no question before this one." in said
    assert not path.exists()


def test_back_to_the_kind_of_work_names_it_anew(path: Path) -> None:
    sit(path, [*PROJECT, "Wall", "repoint", "back", "limewash"])
    assert path.read_text().endswith("  works:\n  - id: limewash\n    work: limewash\n")


def test_back_to_a_name_changes_the_name_alone(path: Path) -> None:
    sit(path, [*PROJECT, "Wal", "back", "Wall"])
    assert path.read_text().endswith("- id: wal\n  name: Wall\n")


def test_a_word_of_command_is_an_answer_in_quotes(path: Path) -> None:
    sit(path, ['"back"', "/nonsense", "R"])
    assert "  title: back\n  reference: R\n" in path.read_text()


def test_all_asks_also_what_has_a_usual_value_and_an_empty_line_takes_it(path: Path) -> None:
    said, _ = sit(path, ["/all", "Barn", "R", "", "2027-02-01"])
    assert "Usual: 1. An empty line takes it." in said
    assert "revision" not in path.read_text()


def test_lists_are_asked_item_by_item_and_each_is_saved(path: Path) -> None:
    path.write_text("project: {title: A, reference: R, revision: 1, issue_date: 2027-02-01, place: P}\n")
    lines = ["/all", "", "", "painted sill", "old glass", ""]
    said, _ = sit(path, lines)
    assert "sensitive_features: [painted sill, old glass]" in path.read_text()
    assert "1: painted sill\n2: old glass\n3: \n" in said


def test_records_are_asked_part_by_part_and_one_can_be_started_anew(path: Path) -> None:
    path.write_text(small(), encoding="utf-8")
    text = small().replace("  treated_per", "  quantity_sure: measured\n    treated_per")
    path.write_text(text, encoding="utf-8")
    until = opening_prompt(path)
    said, _ = sit(path, [*until, "1.1", "back", "1.2 m", "zwei", "2", "", "0.9", "2", "3", ""])
    assert (
        "    openings:\n    - {width_m: 1.2, height_m: 2}\n    - {width_m: 0.9, height_m: 2, count_nr: 3}\n"
    ) in path.read_text()
    assert "'openings.height_m' cannot be 'zwei': write a number alone" in " ".join(said.split())
    assert "1, Width (m): " in said


def opening_prompt(path: Path) -> list[str]:
    """The lines that lead on from a whole file to its openings: all questions, each left as it is."""
    text = path.read_text(encoding="utf-8")
    for count in range(100):
        lines = ["/all", *["later"] * count]
        said, _ = sit(path, lines)
        path.write_text(text, encoding="utf-8")
        if said.rstrip().split("Saved in")[0].rstrip().endswith(", Width (m):"):
            return lines
    raise AssertionError("openings are never asked")


# --- walls, works, copies -----------------------------------------------------------------------------------


def test_another_work_and_another_wall_are_asked_for(path: Path) -> None:
    sit(path, [*PROJECT, *WALL, *WORK, "work", "repoint", "5", "100", "part", "Garden wall", "Rear wall", "plaster"])
    text = path.read_text()
    assert "  - id: repoint-2\n    work: repoint\n    face_area_m2: 5\n    treated_per_cent: 100\n" in text
    assert text.endswith("- id: rear-wall\n  name: Rear wall\n  works:\n  - id: plaster\n    work: plaster\n")


def test_a_second_wall_of_one_name_is_refused_in_the_reader_s_words(path: Path) -> None:
    said, _ = sit(path, [*PROJECT, *WALL, *WORK, "part", "garden wall", "Rear wall"])
    assert "name each so that nobody on site can take one for the other" in " ".join(said.split())


def test_a_copy_has_the_answers_of_another_and_is_asked_again_what_is_its_own(path: Path) -> None:
    said, ready = sit(path, [*PROJECT, *WALL, *WORK, "copy", "Rear wall", "yes", "35", "50", *ENDS])
    assert ready is False  # a leaning wall waits for the engineer
    assert "Does it lean, bulge, sag or crack" in said.partition("now stand for")[2]
    rear = path.read_text().partition("- id: rear-wall\n")[2]
    assert "  hardness: soft\n" in rear
    assert "  leaning: yes\n" in rear
    assert "    face_area_m2: 35\n    treated_per_cent: 50\n" in rear


def test_what_is_its_own_and_left_again_is_not_copied(path: Path) -> None:
    sit(path, [*PROJECT, *WALL, *WORK, "copy", "Rear wall", "quit"])
    rear = path.read_text().partition("- id: rear-wall\n")[2]
    assert "leaning" not in rear
    assert "face_area_m2" not in rear


def test_go_leads_to_a_question_by_words_and_back_to_where_one_was(path: Path) -> None:
    said, _ = sit(path, [*PROJECT, *WALL, "/go garden joint width", "9 - 14", "20 m2"])
    assert "  joint_width_mm: 9 - 14\n" in path.read_text()
    assert "Now: 8–12 mm. An empty line keeps it." in said
    assert "    face_area_m2: 20\n" in path.read_text()


def test_go_offers_what_several_questions_have_in_common(path: Path) -> None:
    said, _ = sit(path, [*PROJECT, *WALL, "/go tenders", "1", "2027-04-05"])
    assert " 1  The whole job: Tenders back by\n" in said
    assert "tender_return_date: 2027-04-05\n" in path.read_text()


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("/go", "Write some words of the wall or the question"),
        ("/go flying buttress", "Nothing that is asked here has these words: flying buttress."),
    ],
)
def test_go_without_a_place_to_go_to_is_told_and_nothing_is_changed(path: Path, typed: str, told: str) -> None:
    said, ready = sit(path, [*SMALL[:3], typed, *SMALL[3:]])
    assert told in " ".join(said.split())
    assert ready
    assert path.read_text() == small()


def test_skip_leaves_the_rest_of_a_wall_as_it_stands(path: Path) -> None:
    said, ready = sit(path, [*PROJECT, *WALL[:4], "/skip", "no", *FROST, "no"])
    assert "Garden wall: left as it stands, " in said
    assert not ready
    assert "joint_width_mm" not in path.read_text()


def test_questions_that_may_stay_open_are_offered_wall_by_wall_and_heading_by_heading(path: Path) -> None:
    said, _ = sit(path, [*SMALL[:-1], "Garden wall", *["later"] * 40])
    offers = " ".join(said.split()).split("Questions that leave a warning")
    assert re.search(r" 3 The whole job, The building \([0-9]+\) ", offers[1])
    assert re.search(r" Garden wall \([0-9]+\) ", offers[1])
    assert " The whole job, The building (" in offers[2]
    assert " Garden wall (" not in offers[2]


def test_at_the_end_warnings_are_told_once_each_by_who_must_settle_them(path: Path) -> None:
    said, ready = sit(path, SMALL)
    assert ready
    end = said.partition("\nFor tender\n")[2]
    assert re.search(r"^Warnings that the papers carry, for the specifier to settle: [0-9]+$", end, re.MULTILINE)
    assert "to be answered by" not in end
    assert f"what to do about each warning: gaugebox check {path}" in end


# --- zones --------------------------------------------------------------------------------------------------

LINE = "the damp-course, a line of slates"
FOOT = ["zone", LINE, "Above the line", "Foot", "repoint"]
KEPT = ["", "hard", "", "", "below", "", "", ""]  # what the foot has from its wall, two answers of it its own


def test_a_zone_has_the_answers_of_its_wall_but_for_those_that_are_changed(path: Path) -> None:
    said, ready = sit(path, [*PROJECT, *WALL, *WORK, *FOOT, *KEPT, "6", "100", *ENDS])
    assert ready
    assert "Now: soft. An empty line keeps it." in said
    text = path.read_text()
    assert text.endswith(
        "  zones:\n"
        "  - id: above-the-line\n"
        "    name: Above the line\n"
        "    works:\n"
        "    - id: repoint\n"
        "      work: repoint\n"
        "      face_area_m2: 20\n"
        "      treated_per_cent: 30 - 40\n"
        "  - id: foot\n"
        "    name: Foot\n"
        "    hardness: hard\n"
        "    position: below-damp-course\n"
        "    works:\n"
        "    - id: repoint\n"
        "      work: repoint\n"
        "      face_area_m2: 6\n"
        "      treated_per_cent: 100\n"
    )
    assert f'  zone_boundary: "{LINE}"\n' in text


def test_a_wall_with_zones_gets_a_third_with_a_line_of_its_own(path: Path) -> None:
    lines = [*PROJECT, *WALL, *WORK, *FOOT, *KEPT, "6", "100", "zone", "1", "the bend", "Return", "repoint"]
    sit(path, lines)
    assert path.read_text().endswith(
        "  - id: return\n    name: Return\n    zone_boundary: the bend\n"
        "    works:\n    - id: repoint\n      work: repoint\n"
    )


def test_back_from_a_zone_goes_on_through_its_wall_and_renames_the_zone_alone(path: Path) -> None:
    said, _ = sit(path, [*PROJECT, *WALL, *WORK, *FOOT[:-1], "back", "Wet foot", "repoint", "", "back", "back", "back"])
    assert "Now: Foot. An empty line keeps it." in said
    assert "  - id: foot\n    name: Wet foot\n" in path.read_text()
    assert "Garden wall, Above the line, repointing: 3 of 3" in said.split("Now: Foot.")[1]


def test_two_zones_of_one_name_are_told_apart(path: Path) -> None:
    said, _ = sit(path, [*PROJECT, *WALL, *WORK, "zone", "", "Foot", "foot", "Top", "repoint"])
    assert "name each so that nobody on site can take one for the other" in " ".join(said.split())
    assert "zone_boundary" not in path.read_text()


def test_a_zone_keeps_the_comments_of_a_file_written_by_hand(path: Path) -> None:
    text = small().replace("    work: repoint\n", "    # as marked in March\n    work: repoint  # south side\n")
    path.write_text(text, encoding="utf-8")
    sit(path, FOOT)
    assert "    - id: repoint\n      # as marked in March\n      work: repoint  # south side\n" in path.read_text()


# --- what was done by mistake -----------------------------------------------------------------------------


def test_clear_takes_an_answer_out_and_goes_on(path: Path) -> None:
    path.write_text("project:\n  title: A  # ours\n  reference: R\n  client: Nobody\n")
    said, _ = sit(path, ["back", "/clear", "2027-02-01"])
    assert "Now: Nobody. An empty line keeps it." in said
    assert "Taken out of the file." in said
    assert path.read_text() == "project:\n  title: A  # ours\n  reference: R\n  issue_date: 2027-02-01\n"


def test_clear_where_nothing_is_answered_says_so_and_a_needed_answer_is_asked_again(path: Path) -> None:
    said, _ = sit(path, ["/clear", "Barn", "back", "/clear"])
    assert "There is no answer here that could be taken out." in said
    said, _ = sit(path, ["Barn", "R", "back", "/clear"])
    assert said.rstrip().split("Saved in")[0].rstrip().endswith("Reference\n>")
    assert path.read_text().endswith("project:\n  title: Barn\n")


def test_a_wall_or_a_work_made_by_mistake_is_taken_out(path: Path) -> None:
    more = ["work", "limewash", "quit"]
    sit(path, [*PROJECT, *WALL, *WORK, *more])
    said, _ = sit(path, ["later", "later", "drop", "3", "no", "drop", "3", "yes", *ENDS])
    assert "Take Garden wall, limewashing out, with all its answers?" in " ".join(said.split())
    assert path.read_text() == small()
    said, _ = sit(path, ["drop", "1", "yes", "Barn"])
    assert path.read_text() == small().split("elements:")[0] + "elements:\n- id: barn\n  name: Barn\n"


def test_nothing_is_taken_out_by_an_empty_line(path: Path) -> None:
    path.write_text(small())
    sit(path, ["drop", "", "no", "no"])
    assert path.read_text() == small()


@pytest.mark.parametrize("word", ["don't know", "Unknown", "not sure", "n/k"])
def test_other_words_for_not_known_are_taken_for_it(path: Path, word: str) -> None:
    sit(path, [*PROJECT, *WALL[:3], word])
    assert "hardness: not known\n" in path.read_text()


def test_what_was_typed_in_another_form_is_shown_as_it_was_taken(path: Path) -> None:
    said, _ = sit(path, ["Barn", "R", "1 March 2027", *PROJECT[3:], *WALL[:4], "0.8 - 1.2 cm"])
    assert "Taken: 1 March 2027" in said
    assert "Taken: 8–12 mm" in said
    assert "issue_date: 2027-03-01\n" in path.read_text()
    assert "joint_width_mm: 8 - 12\n" in path.read_text()


# --- going on, and files written by hand --------------------------------------------------------------------


def test_it_goes_on_at_the_first_open_question_and_keeps_comments_and_order(path: Path) -> None:
    before = (
        "# my job\nproject:\n  reference: R  # ours\n  title: Barn\n"
        "elements:\n- id: front  # street side\n  name: Front\n"
    )
    path.write_text(before)
    said, _ = sit(path, ["2027-02-01"])
    assert "Date of issue" in said
    assert path.read_text() == before.replace("# ours\n", "# ours\n  issue_date: 2027-02-01\n")


def test_mistakes_of_the_file_are_told_and_a_refused_answer_is_asked_again(path: Path) -> None:
    path.write_text(small().replace("masonry: brick", "masonry: brik").replace("  place:", "  plaice: x\n  place:"))
    said, _ = sit(path, ["brick"])
    assert "did you mean 'brick'?" in said
    assert "'plaice' is not asked of the project" in said
    assert "masonry: brick\n" in path.read_text()


@pytest.mark.parametrize(
    "text", ["a: [", "words", "elements: [{name: A}]", "elements: [{id: a, name: A}, {id: a, name: B}]", "a: &x 1"]
)
def test_a_file_that_answers_cannot_be_added_to_is_refused_and_left_as_it_is(path: Path, text: str) -> None:
    path.write_text(text)
    with pytest.raises(InputInvalid):
        sit(path, SMALL)
    assert path.read_text() == text


def test_an_answer_that_cannot_be_written_safely_is_told_and_left_open(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    splice = answers_file._spliced

    def spoiling(text: str, change: Change, newline: str, root: Span | None) -> str:
        return "project: {title: lost}\n" if change.key == "reference" else splice(text, change, newline, root)

    monkeypatch.setattr(answers_file, "_spliced", spoiling)
    said, _ = sit(path, ["Barn", "R", "2027-02-01"])
    assert "'reference' cannot be written into this file" in said
    assert path.read_text().endswith("project:\n  title: Barn\n  issue_date: 2027-02-01\n")


def test_a_whole_file_ends_with_its_findings_and_the_command_to_write(path: Path) -> None:
    path.write_text(small(), encoding="utf-8")
    said, ready = sit(path, ["", "no"])
    assert ready
    assert "For tender\n" in said
    assert path.read_text(encoding="utf-8") == small()


# --- what nobody should type --------------------------------------------------------------------------------

ODD: list[bytes] = [
    b"\xff\xfe", b"caf\xe9", b"\x1b[A\x1b[D", b"\x00", b"x" * 10_000, b"x" * 250_000, b'"', b"'", b"# x", b"- x",
    b"{a: b}", b"&a", b"*a", b"!t", b"%", b"@", b"`", b"|", b">", b": ", b"\xe2\x80\xa8", b"/", b"/x y", b"not  known",
    b"{{ 7*7 }}", b"null", b"~", "北墙".encode(), b"999999999999999999999", b"1e5", b"=1+1", b"\t", b"  ",
]  # fmt: skip


@pytest.mark.parametrize("shift", range(0, len(ODD), 4))
def test_odd_lines_before_every_answer_do_no_harm(path: Path, shift: int) -> None:
    lines: list[str | bytes] = []
    for index, line in enumerate(SMALL):
        lines += [ODD[(index + shift) % len(ODD)], line]
    sit(path, lines)
    said, _ = sit(path, [])
    assert "The file has mistakes" not in said


def test_keys_that_are_no_text_are_told_and_nothing_is_lost(path: Path) -> None:
    said, ready = sit(path, [b"\x1b[A", *SMALL[:4], b"Sm\xeeth", *SMALL[4:]])
    assert said.count("That holds keys or signs that cannot stand in the papers") == 2
    assert ready


def test_a_line_too_long_for_its_question_is_refused_with_the_limit(path: Path) -> None:
    said, _ = sit(path, ["x" * 10_000, "x" * 300_000, "Barn", "R"])
    assert "Title of the work is 10,000 characters long: shorten it to 160 at most" in " ".join(said.split())
    assert path.read_text().endswith("  title: Barn\n  reference: R\n")


# --- leaving ------------------------------------------------------------------------------------------------


def test_quit_saves_and_tells_how_to_go_on(path: Path) -> None:
    said, ready = sit(path, ["Barn", "quit", "not read"])
    assert not ready
    # a path too long for the line is broken
    assert f"Saved in {path}. Needed answers still open: 11.".replace(" ", "") in "".join(said.split())
    assert path.read_text().endswith("project:\n  title: Barn\n")


def test_the_end_of_the_input_is_a_polite_end(path: Path) -> None:
    said, ready = sit(path, [])
    assert not ready
    assert "Nothing was answered" in said
    assert not path.exists()
    path.write_text(small(), encoding="utf-8")
    assert sit(path, [])[1]


def test_ctrl_c_leaves_as_quit_does(path: Path) -> None:
    class Interrupted(io.BytesIO):
        def readline(self, size: int | None = -1, /) -> bytes:
            line = super().readline(size if size is not None else -1)
            if not line:
                raise KeyboardInterrupt
            return line

    said = io.StringIO()
    assert not Session(path, shipped(), Console(Interrupted(b"Barn\n"), said)).run()
    assert "To go on: gaugebox ask" in " ".join(said.getvalue().split())


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(CannotWrite, match="make the folder"):
        sit(tmp_path / "no" / "a.yaml", ["Barn"])


# --- as a command -------------------------------------------------------------------------------------------


def run(arguments: Sequence[str], lines: bytes = b"") -> subprocess.CompletedProcess[bytes]:
    return subprocess.run([*GAUGEBOX, *arguments], input=lines, capture_output=True, cwd=ROOT, timeout=60, check=False)


def test_through_a_pipe_from_nothing_to_papers(path: Path, tmp_path: Path) -> None:
    asked = run(["ask", str(path)], typed(SMALL))
    assert (asked.returncode, asked.stderr) == (0, b"")
    assert b"\x1b" not in asked.stdout
    written = run(["write", str(path), "--out", str(tmp_path / "papers")])
    assert written.returncode == 0
    assert (tmp_path / "papers" / "specification.docx").exists()


def test_a_pipe_that_closes_early_ends_with_3_and_a_broken_file_with_1(path: Path) -> None:
    asked = run(["ask", str(path)], typed(SMALL[:5]))
    assert (asked.returncode, asked.stderr) == (3, b"")
    assert b"Saved in" in asked.stdout
    path.write_text("a: [")
    asked = run(["ask", str(path)])
    assert asked.returncode == 1
    assert asked.stderr.startswith(f"{path}:1:5: ".encode())


def test_nobody_reading_is_no_traceback(path: Path) -> None:
    shell = f"{sys.executable} -m generator ask {path} | head -c 10"
    found = subprocess.run(["sh", "-c", shell], input=typed(SMALL), capture_output=True, cwd=ROOT, check=False)
    assert found.stderr == b""


def test_at_a_terminal_with_ctrl_d_and_ctrl_c(path: Path) -> None:
    pexpect = pytest.importorskip("pexpect")
    if not hasattr(pexpect, "spawn"):
        pytest.skip("no pseudo-terminal on this system")
    for leave in ("sendeof", "sendintr"):
        path.unlink(missing_ok=True)
        child = pexpect.spawn(GAUGEBOX[0], [*GAUGEBOX[1:], "ask", str(path)], cwd=str(ROOT), timeout=60)
        for line in SMALL[:3]:
            child.expect(r"\n> ")
            child.sendline(line)
        child.expect("Where the building stands\r\n> ")
        getattr(child, leave)()
        child.expect("Saved in")
        child.expect(pexpect.EOF)
        child.close()
        assert child.exitstatus == 3
        assert path.read_text().endswith("  issue_date: 2027-02-01\n")


@pytest.mark.slow
def test_a_driven_terminal_session_goes_from_nothing_to_papers_in_under_forty_prompts(
    path: Path, tmp_path: Path
) -> None:
    pexpect = pytest.importorskip("pexpect")
    if not hasattr(pexpect, "spawn"):
        pytest.skip("no pseudo-terminal on this system")
    child = pexpect.spawn(GAUGEBOX[0], [*GAUGEBOX[1:], "ask", str(path)], cwd=str(ROOT), timeout=60)
    prompts = 0
    for line in SMALL:
        child.expect(r"\n> ")
        prompts += 1
        child.sendline(line)
    child.expect("To write the papers: ")
    child.expect(pexpect.EOF)
    child.close()
    assert child.exitstatus == 0
    assert prompts < 40
    assert path.read_text(encoding="utf-8") == small()
    assert run(["write", str(path), "--out", str(tmp_path / "papers")]).returncode == 0


# --- killed -------------------------------------------------------------------------------------------------


def states() -> list[str]:
    """What the file holds before the first line of the small job and after each, `""` for no file."""
    found = []
    with tempfile.TemporaryDirectory() as folder:
        for count in range(len(SMALL) + 1):
            path = Path(folder) / f"{count}.yaml"
            sit(path, SMALL[:count])
            found.append(path.read_text(encoding="utf-8") if path.exists() else "")
    return found


def ask_in_child(path: Path, typing: int, saying: int) -> None:
    """A sitting in a process of its own that reads what is typed into a pipe, and speaks into another."""
    with contextlib.suppress(Closed), os.fdopen(typing, "rb") as reader, os.fdopen(saying, "w") as writer:
        Session(path, shipped(), Console(reader, writer)).run()


def killed(path: Path, lines: bytes, seconds: float) -> str:
    """Types lines into a sitting and kills it so long after; what it had said by then."""
    typing, hand = os.pipe()
    ear, saying = os.pipe()
    child = multiprocessing.get_context("fork").Process(target=ask_in_child, args=(path, typing, saying))
    child.start()
    os.write(hand, lines)
    time.sleep(seconds)
    assert child.pid is not None
    os.kill(child.pid, signal.SIGKILL)
    child.join()
    for end in (typing, hand, saying):
        os.close(end)
    with os.fdopen(ear, "rb") as said:
        return said.read().decode("utf-8", "replace")


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs processes that can be forked")
@pytest.mark.parametrize("moments", slow_but(1, [10, 50]))
def test_killed_at_random_moments_it_loses_at_most_the_answer_being_typed(moments: int, tmp_path: Path) -> None:
    known, chance = states(), random.Random(20270301)
    last = len(SMALL) - len(ENDS)
    caught: set[str] = set()
    for count in range(moments):
        at = chance.randrange(last)
        path = tmp_path / f"{count}.yaml"
        if known[at]:
            path.write_text(known[at], encoding="utf-8")
        # a line, several or part of one: some answers are being saved when the end comes
        lines = typed(SMALL[at : at + chance.randrange(1, 6)])
        said = killed(path, lines[: len(lines) - chance.choice([0, 1, 2])], chance.uniform(0, 0.1))
        left = path.read_text(encoding="utf-8") if path.exists() else ""
        # each prompt after the first tells that the answer before it was taken: none of those may be lost
        assert left in known[at + max(0, len(PROMPT.findall(said)) - 1) :]
        caught.add(left)
        if count % 5 == 0:
            done = max(index for index, state in enumerate(known) if state == left)
            # whether there is another wall is asked again at each sitting
            sit(path, SMALL[done:] if done <= last else [ENDS[0], *SMALL[done:]])
            assert path.read_text(encoding="utf-8") == known[-1]
    assert len(caught) > moments / 5
