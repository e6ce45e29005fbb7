# ruff: noqa: E501 - messages stand on one line, as a user sees them
"""Templates: read strictly, each mistake at its place; what protects people or tells issues apart cannot be left out."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from helpers import build_tree
from jobs import ROOT, shipped

from generator.document.template import EVERY_WORK, TEXT, Paper
from generator.library.paper_kinds import PAPERS, PartKind
from generator.library.reading import Reading
from generator.library.template_checks import make_papers
from generator.library.templates import read_templates


def made(folder: Path) -> tuple[dict[str, Paper], list[str]]:
    """The papers of a folder of templates, in the names of the shipped library, and each mistake."""
    library, reading = shipped(), Reading("clauses")
    reading.entries["question"] = dict(library.questionnaire.questions)
    reading.entries["figure"] = dict(library.figures)
    read_templates(folder, "templates", reading)
    papers = {} if reading.problems else make_papers(reading, library.names)
    return papers, [str(problem) for problem in sorted(reading.problems)]


def mistakes(tmp: Path, name: str, text: str) -> list[str]:
    """Each mistake of one file of templates, beside words of no account."""
    return made(build_tree(tmp, {"words.yaml": "words: {}", name: text}))[1]


def changed(name: str, old: str, new: str) -> str:
    """A shipped file with one thing in it changed."""
    text = (ROOT / "templates" / name).read_text(encoding="utf-8")
    assert text.count(old) == 1, old
    return text.replace(old, new)


def place(text: str, what: str) -> str:
    """The line and column at which something stands in a text, as a problem tells them."""
    before = text[: text.index(what)]
    return f"{before.count(chr(10)) + 1}:{len(before) - before.rfind(chr(10))}"


def test_the_shipped_templates_are_read_without_a_mistake_and_are_all_the_papers() -> None:
    papers, found = made(ROOT / "templates")
    assert found == []
    assert set(papers) == set(PAPERS)


@pytest.mark.parametrize(
    ("old", "new", "at", "told"),
    [
        ("shows: masonry,", "shows: masonary,", "masonary", "shows 'masonary', which is no question and no reckoned value here: did you mean 'masonry'?"),
        ('- {shows: bond, label: "{value}"}\n', "- {shows: bnod}\n", "bnod", "shows 'bnod', which is no question and no reckoned value here: did you mean 'bond'?"),
        ('- {shows: bond, label: "{value}"}\n', "- damp_days\n", "damp_days", "shows 'damp_days', which is of each coat and cannot be shown here"),
        ('- {shows: bond, label: "{value}"}\n', "- drawings\n", "drawings\n      - {shows: joint_width_mm", "shows 'drawings', which is of each project and cannot be shown here"),
        ('- {shows: bond, label: "{value}"}\n', "- {label: }\n", "label: }", "'parts.parts.parts.rows.label' is blank, where a text is wanted"),
        ('- {shows: bond, label: "{value}"}\n', "- {lable: Bond}\n", "lable", "has an unknown key 'lable': did you mean 'label'?"),
        ("  - {part: contents, heading: Contents}", "  - {part: content, heading: Contents}", "{part: content,", "has no part 'content' in 'cover': did you mean 'contents'?"),
        ("- {part: first, heading: First}", "- {part: first}", "{part: first}", "the part 'first' lacks 'heading': add 'heading: …'"),
        ("- {part: first, heading: First}", "- {part: first, heading: First, caption: A}", "A}", "the part 'first' takes no 'caption': take it out"),
        ("- {part: first, heading: First}", "- {part: first, heading: ' '}", "' '}", "'heading' is not a text"),
        ("- {part: first, heading: First}", "- {part: first, heading: 'Of {nr}'}", "'Of {nr}'", "'heading' has the place '{nr}', which is not filled"),
        ('heading: "Sheet {number}:"', 'heading: "Sheet {nr}:"', '"Sheet {nr}:"', "'heading' has the place '{nr}', which is not filled: use one of: number"),
        ("{label: As issued, share: 0.7}", "{label: As issued, share: 0.6}", "- {label: What, share: 0.3}", "has columns whose shares make 0.9, not 1: mend the shares"),
        ("{label: As issued, share: 0.7}", "{label: As issued}", "{label: As issued}", "lacks 'share': add 'share: …'"),
        ("{label: As issued, share: 0.7}", "{share: 0.7}", "{share: 0.7}", "lacks 'label': add 'label: …', what a reader calls it"),
        ("{shows: ref, label: Reference, share: 0.2}", "{shows: ref, share: 0.2}", "{shows: ref, share", "lacks 'label': add 'label: …', what a reader calls it"),
        ("{label: As issued, share: 0.7}", "{label: As issued, share: half}", "half", "'parts.parts.columns.share' is 'half', where a number is wanted"),
        ("- {label: As issued, share: 0.7}\n", "- {label: As issued, share: 0.4}\n    - {label: Day, share: 0.3}\n", "- {label: What, share: 0.3}", "has an odd number of columns, and each fact takes two"),
        ("{shows: mix, label: Mix, share: 0.045}", "{shows: mixes, label: Mix, share: 0.045}", "mixes, label", "shows 'mixes', which is no question"),
        ("  - {part: contents, heading: Contents}", "  - {part: contents, heading: A}\n  - {part: contents, heading: B}", "{part: contents, heading: B}", "has the part 'contents' a second time (first at templates/specification.yaml:"),
        ("title: Specification and schedule for tender\n", "", "parts:", "lacks 'title': add 'title: …'"),
        ("  not-used: Not used\n", "  not-used: 3\n", "3\n  applies", "the word 'not-used' is not a text: put it in quotes"),
    ],
)  # fmt: skip
def test_a_mistake_is_told_at_its_place(old: str, new: str, at: str, told: str, tmp_path: Path) -> None:
    text = changed("specification.yaml", old, new)
    found = mistakes(tmp_path, "specification.yaml", text)
    assert len(found) == 1, found
    assert re.match(rf"templates/specification\.yaml:{place(text, at)}: {re.escape(told)}", found[0]), found


KEPT = [
    ("specification.yaml", "    - {part: warnings, heading: What matters most}\n", "leaves 'warnings' out of 'read-first'", "harm"),
    ("specification.yaml", "  - status\n  - {part: in-brief", "leaves 'status' out of 'cover'", "draft"),
    ("specification.yaml", "    - issue_date\n", "leaves 'issue_date' out of the part 'control'", "one issue from another"),
    ("specification.yaml", "      - steps\n", "leaves 'steps' out of 'works'", "foreman"),
    ("owner-page.yaml", "    all: Never let cement", "leaves 'all' out of the part 'never'", "harm"),
    ("survey-sheet.yaml", "- part: safety\n", "leaves 'safety' out of 'survey-sheet'", "harm"),
]  # fmt: skip
STAND_INS = {
    "  - status\n  - {part: in-brief": "  - {part: in-brief",
    "    all: Never let cement": "    plasterer: Never let cement",
}


@pytest.mark.parametrize(("name", "gone", "told", "why"), KEPT)
def test_what_may_not_be_left_out_is_refused_with_the_reason(
    name: str, gone: str, told: str, why: str, tmp_path: Path
) -> None:
    stand_in = STAND_INS.get(gone, "- part: text\n" if gone.startswith("- ") else "")
    found = mistakes(tmp_path, name, changed(name, gone, stand_in))
    assert any(told in line and "put it back: " in line and why in line for line in found), found


@pytest.mark.parametrize("part", ["never", "stop", "wear", "first-aid", "box", "cards"])
def test_no_list_of_the_mix_schedule_can_be_left_out(part: str, tmp_path: Path) -> None:
    text = (ROOT / "templates" / "mix-schedule.yaml").read_text(encoding="utf-8")
    blocks = re.split(r"(?m)^(?=- part: )", text)
    short = "".join(block for block in blocks if not block.startswith(f"- part: {part}\n"))
    found = mistakes(tmp_path, "mix-schedule.yaml", short if part != "wear" else short + "\nwords: {}\n")
    assert [line for line in found if f"leaves '{part}' out of 'mix-schedule'" in line], found


def test_parts_stand_in_any_order_but_for_those_that_open_a_paper(tmp_path: Path) -> None:
    text = changed("officer-summary.yaml", "- title\n- job\n", "- job\n- title\n")
    (told,) = mistakes(tmp_path, "officer-summary.yaml", text)
    assert "has 'job' in 'officer-summary' where 'title' comes first: put 'title' before it" in told
    why = '- {part: why, heading: Why each binder, text: "It was asked for: {reason}."}\n'
    swapped = changed("officer-summary.yaml", why, "").replace("- part: building\n", f"{why}- part: building\n")
    assert mistakes(tmp_path, "officer-summary.yaml", swapped) == []


def test_words_may_stand_among_the_parts_of_most_papers_and_not_where_nothing_would_print_them(tmp_path: Path) -> None:
    own = "- {part: text, name: ours, heading: Ours, text: Ring first.}\n"
    assert (
        mistakes(tmp_path, "owner-page.yaml", changed("owner-page.yaml", "- part: look\n", f"{own}- part: look\n"))
        == []
    )
    text = changed("pricing-schedule.yaml", "# said in the workbook", f"{own}# said in the workbook")
    (told,) = mistakes(tmp_path, "pricing-schedule.yaml", text)
    assert "has no part 'text' in 'pricing-schedule'" in told


def test_lines_by_work_are_keyed_by_works_that_there_are(tmp_path: Path) -> None:
    text = changed("owner-page.yaml", "    flaunching: Have", "    flanching: Have")
    (told,) = mistakes(tmp_path, "owner-page.yaml", text)
    assert told.startswith(
        f"templates/owner-page.yaml:{place(text, 'flanching')}: 'flanching' is no line of the part 'care'"
    )
    assert "did you mean 'flaunching'?" in told


def test_a_column_shows_another_fact_for_each_work_and_only_for_works_that_there_are(tmp_path: Path) -> None:
    text = changed("officer-summary.yaml", "plaster: plaster_surface", "plastr: plaster_surface")
    (told,) = mistakes(tmp_path, "officer-summary.yaml", text)
    assert "by 'plastr', which is no kind of work here: did you mean 'plaster'?" in told


@pytest.mark.parametrize(
    ("name", "text", "told"),
    [
        ("ownerpage.yaml", "{}", "templates/ownerpage.yaml: is not a file of the templates: did you mean 'owner-page.yaml'?"),
        ("terminal.yaml", "words: [a]", "templates/terminal.yaml:1:8: has no mapping 'words:': write 'key: text' on lines below 'words:'"),
        ("terminal.yaml", "words: {a: 3}", "templates/terminal.yaml:1:12: the word 'a' is not a text: put it in quotes"),
        ("terminal.yaml", "wrods: {}\nwords: {a: b}", "templates/terminal.yaml:1:1: has an unknown key 'wrods': did you mean 'words'?"),
        ("addendum.yaml", "parts: 3", "templates/addendum.yaml:1:1: lacks 'title': add 'title: …'"),
    ],
)  # fmt: skip
def test_a_file_that_is_amiss_is_told(name: str, text: str, told: str, tmp_path: Path) -> None:
    assert told in mistakes(tmp_path, name, text)


def test_one_word_in_two_files_is_told(tmp_path: Path) -> None:
    files = {"words.yaml": "words: {a: One}", "terminal.yaml": "words: {a: Two}"}
    (told,) = made(build_tree(tmp_path, files))[1]
    assert "words.yaml:1:12: declares the word 'a' a second time (first at templates/terminal.yaml:1:12)" in told


def test_a_folder_without_words_is_no_folder_of_templates(tmp_path: Path) -> None:
    assert made(tmp_path)[1] == ["templates: holds no words.yaml: name the folder of the templates"]
    assert made(tmp_path / "none")[1] == ["templates: is no folder: name the folder of the templates"]


def kinds(around: PartKind) -> list[tuple[str, PartKind]]:
    return [found for name, kind in around.inner.items() for found in ((name, kind), *kinds(kind))]


@pytest.mark.parametrize("paper", PAPERS)
def test_every_part_that_the_program_makes_stands_in_the_shipped_paper(paper: str) -> None:
    """So that whoever writes papers finds each with its options, and the examples make each."""
    there = {part.part for part in shipped().templates[paper].parts_within()}
    assert there - {TEXT} == {name for name, _ in kinds(PAPERS[paper])} - {TEXT}


@pytest.mark.parametrize("paper", PAPERS)
def test_a_part_that_is_kept_lies_in_parts_that_are_kept(paper: str) -> None:
    """Else the paper could lose it with what is around it."""
    for name, kind in kinds(PAPERS[paper]):
        lost = [inner for inner, inner_kind in kinds(kind) if inner_kind.kept and not kind.kept]
        assert lost == [], name
        assert not kind.keeps or kind.kept, name
        assert not kind.kept or kind.kept[0].islower()


def test_every_line_that_stands_whatever_the_works_is_keyed_by_one_word() -> None:
    lines = [part.lines for part in shipped().templates["owner-page"].parts_within() if part.lines]
    assert all(EVERY_WORK in line for line in lines)
