# ruff: noqa: E501 - messages stand on one line, as a user sees them
"""Reading answers: values of every kind, and every mistake of a file in one go with its place."""

from __future__ import annotations

import datetime
from decimal import Decimal
from pathlib import Path
from textwrap import dedent

import pytest
from helpers import low_high, questions, read, told
from hypothesis import given
from hypothesis import strategies as st

from generator.files.source import Source, read_bytes, read_file
from generator.library.load import load
from generator.questionnaire.answers import read_answers
from generator.questionnaire.facts import Facts
from generator.values import NOT_KNOWN, Value

QUESTIONS, NAMES = questions("""\
    - {name: title, scope: project, kind: text, label: Title, why: W., need: required, most: 40, example: Old barn}
    - {name: issue_date, scope: project, kind: date, label: Date of issue, why: W.}
    - {name: lived_in, scope: project, kind: yes_no, label: Lived in, why: W., not_known: true}
    - {name: weeks, scope: project, kind: number, label: Weeks, why: W., default: 12}
    - name: drawings
      scope: project
      kind: records
      label: Drawings
      why: W.
      fields:
      - {name: ref, label: Number, required: true}
      - {name: sheets_nr, kind: number, label: Sheets}
      - {name: drawn, kind: date, label: Day drawn}
      - {name: size, kind: choice, label: Size, choices: [{is: a1, says: A1}, {is: a3, says: A3}]}
    - name: masonry
      scope: element
      kind: choice
      label: Masonry
      why: W.
      choices: [{is: brick, says: brick}, {is: rubble, says: rubble}]
    - {name: joint_width_mm, scope: element, kind: range, label: Joint width, why: W., least: 1, most: 80, not_known: true}
    - name: decay_causes
      scope: element
      kind: choices
      label: Causes
      why: W.
      choices: [{is: gutter, says: gutter}, {is: salts, says: salts}]
    - {name: features, scope: element, kind: texts, label: Features, why: W., most: 20}
    - {name: photo, scope: element, kind: file, label: Photograph, why: W.}
    - name: work
      scope: work
      kind: choice
      label: Work
      why: W.
      choices: [{is: repoint, says: repointing}, {is: render, says: rendering}]
      need: required
    - {name: face_area_m2, scope: work, kind: number, label: Area, why: W., least: 0, most: 20000}
    """)

LEFT_ALONE = "or take out an element that is left as it is, and name it in 'other_trades_also' of the project"
LIST_WORKS = f"list its works on lines that start with '- id: repoint-low', {LEFT_ALONE}"


def read_facts(text: str) -> tuple[Facts, Source]:
    """The facts of an answers text, and the source with the mistakes in it."""
    source = read(text)
    return read_answers(source, QUESTIONS, NAMES), source


def job(project: str = "", element: str = "", work: str = "") -> str:
    """The least that is an answers file, with lines more in each scope; the first of them are on lines 3, 7, 10."""

    def lines(text: str, depth: int) -> str:
        return "".join(f"{' ' * depth}{line}\n" for line in dedent(text).splitlines())

    return (
        f"project:\n  title: Barn\n{lines(project, 2)}elements:\n- id: front\n  name: Front wall\n"
        f"{lines(element, 2)}  works:\n  - id: low\n    work: repoint\n{lines(work, 4)}"
    )


def problems(text: str) -> list[str]:
    """What is said of an answers text, without the name of the file."""
    return [line.removeprefix("answers.yaml:") for line in told(read_facts(text)[1].problems)]


def value_of(name: str, spelt: str) -> Value | None:
    """The value that an answer comes to, in the scope that its question belongs to."""
    scope = NAMES[name].scope
    facts, source = read_facts(job(**{scope: f"{name}: {spelt}"}))
    assert source.problems == []
    path = {"project": (), "element": ("front",), "work": ("front", "low")}[scope]
    return facts.values[path][name].value


class TestValues:
    @pytest.mark.parametrize(
        ("name", "spelt", "value"),
        [
            ("masonry", "brick", "brick"),
            ("decay_causes", "[gutter, salts]", ("gutter", "salts")),
            ("decay_causes", "[gutter, gutter]", ("gutter",)),
            ("decay_causes", "gutter", ("gutter",)),
            ("decay_causes", "[]", ()),
            ("face_area_m2", "64", Decimal(64)),
            ("face_area_m2", "0.50", Decimal("0.50")),
            ("face_area_m2", "'64'", Decimal(64)),
            ("face_area_m2", "010", Decimal(10)),
            ("joint_width_mm", "8 - 12", low_high("8", "12")),
            ("joint_width_mm", "8-12", low_high("8", "12")),
            ("joint_width_mm", "8–12", low_high("8", "12")),
            ("joint_width_mm", "8 to 12", low_high("8", "12")),
            ("joint_width_mm", "8 - 12 (9)", low_high("8", "12", "9")),
            ("joint_width_mm", "7.5 - 12.5 (10.5)", low_high("7.5", "12.5", "10.5")),
            ("joint_width_mm", "10", low_high("10", "10")),
            ("joint_width_mm", "not known", NOT_KNOWN),
            ("joint_width_mm", "Not Known", NOT_KNOWN),
            ("lived_in", "yes", True),
            ("lived_in", "No", False),
            ("lived_in", "true", True),
            ("lived_in", "not known", NOT_KNOWN),
            ("issue_date", "2027-03-01", datetime.date(2027, 3, 1)),
            ("issue_date", "2028-02-29", datetime.date(2028, 2, 29)),
            ("features", "[a, b]", ("a", "b")),
            ("features", "one", ("one",)),
            ("photo", "pictures/front.jpg", "pictures/front.jpg"),
            ("drawings", "[{ref: 1:50, sheets_nr: 2}]", ({"ref": "1:50", "sheets_nr": Decimal(2)},)),
            ("drawings", "[]", ()),
        ],
    )
    def test_every_kind_as_a_person_spells_it(self, name: str, spelt: str, value: Value) -> None:
        assert value_of(name, spelt) == value

    @pytest.mark.parametrize("text", ["{{7*7}} # **x** <b>", "=1+1", "1:2:4", "no", "5", "مبنى قديم", "石灰 🧱"])
    def test_a_text_is_kept_as_it_is_spelt(self, text: str) -> None:
        facts, source = read_facts(job().replace("Barn", f"'{text}'"))
        assert source.problems == []
        assert facts.get((), "title") == text

    def test_a_blank_that_does_not_break_stays_one(self) -> None:
        facts, source = read_facts(job().replace("Barn", "'a\u00a0b'"))
        assert source.problems == []
        assert facts.get((), "title") == "a\u00a0b"

    def test_a_text_over_several_lines_is_one_line(self) -> None:
        facts, _ = read_facts(job().replace("Barn", ">-\n    A barn\n    by the   river"))
        assert facts.get((), "title") == "A barn by the river"

    def test_a_default_stands_in_and_says_so(self) -> None:
        facts, _ = read_facts(job())
        held = facts.held((), "weeks")
        assert held is not None
        assert (held.value, held.origin) == (Decimal(12), "default")

    def test_what_is_not_answered_has_no_value(self) -> None:
        assert read_facts(job())[0].held(("front",), "masonry") is None

    def test_a_blank_answer_is_no_answer(self) -> None:
        assert read_facts(job(element="masonry:"))[0].held(("front",), "masonry") is None

    def test_a_value_knows_the_line_it_was_given_on(self) -> None:
        held = read_facts(job(element="decay_causes:\n- gutter"))[0].held(("front",), "decay_causes")
        assert held is not None
        assert (held.mark.line, held.mark.column) == (6, 3)

    def test_scopes_follow_the_file(self) -> None:
        facts, _ = read_facts(job())
        assert [(s.path, s.level, s.title) for s in facts.scopes.values()] == [
            ((), "project", "Barn"),
            (("front",), "element", "Front wall"),
            (("front", "low"), "work", "repointing"),
        ]

    def test_a_work_without_an_id_is_known_by_its_kind(self) -> None:
        facts, source = read_facts(job().replace("id: low\n    work", "work"))
        assert source.problems == []
        assert ("front", "repoint") in facts.scopes


class TestOneMistake:
    """One wrong answer: the place is the value's, the words say what to write."""

    @pytest.mark.parametrize(
        ("name", "spelt", "said"),
        [
            ("masonry", "brik", "'masonry' cannot be 'brik': did you mean 'brick'?"),
            ("masonry", "BRICK", "'masonry' cannot be 'BRICK': did you mean 'brick'?"),
            ("masonry", "stone", "'masonry' cannot be 'stone': use one of: brick, rubble"),
            ("masonry", "[brick]", "'masonry' cannot be a list: write one of: brick, rubble"),
            ("masonry", "{is: brick}", "'masonry' cannot be a mapping: write one of: brick, rubble"),
            ("masonry", "not known", "'masonry' cannot be 'not known': find it out, or leave the line out"),
            ("decay_causes", "{gutter: yes}", "'decay_causes' cannot be a mapping: write a list such as [gutter, salts], or [] for none"),
            ("decay_causes", "guter", "'decay_causes' cannot be 'guter': did you mean 'gutter'?"),
            ("face_area_m2", "64 m2", "'face_area_m2' cannot be '64 m2': write a number alone, such as 64; it is in m²"),
            ("face_area_m2", "64,5", "'face_area_m2' cannot be '64,5': write a point for decimals and nothing between thousands, as in 1.5 or 1200"),
            ("face_area_m2", "1,200", "'face_area_m2' cannot be '1,200': write a point for decimals and nothing between thousands, as in 1.5 or 1200"),
            ("face_area_m2", "1_000", "'face_area_m2' cannot be '1_000': write a number alone, such as 64; it is in m²"),
            ("face_area_m2", "60 - 70", "'face_area_m2' cannot be '60 - 70': write one number, not a range; it is in m²"),
            ("face_area_m2", "1e400", "'face_area_m2' cannot be '1e400': write a number alone, such as 64; it is in m²"),
            ("face_area_m2", ".nan", "'face_area_m2' cannot be '.nan': write a number alone, such as 64; it is in m²"),
            ("face_area_m2", "NaN", "'face_area_m2' cannot be 'NaN': write a number alone, such as 64; it is in m²"),
            ("face_area_m2", "٦٤", "'face_area_m2' cannot be '٦٤': write a number alone, such as 64; it is in m²"),
            ("face_area_m2", "0.1234567", "'face_area_m2' cannot be '0.1234567': write at most 12 figures, and 6 after the point"),
            ("face_area_m2", "-1", "'face_area_m2' cannot be '-1': the least is 0 m²"),
            ("face_area_m2", "20000.1", "'face_area_m2' cannot be '20000.1': the most is 20,000 m²"),
            ("face_area_m2", "[64]", "'face_area_m2' cannot be a list: write a number alone, such as 64; it is in m²"),
            ("joint_width_mm", "25mm", "'joint_width_mm' cannot be '25mm': write low and high, such as 8 - 12, or 8 - 12 (10) with the usual; it is in mm"),
            ("joint_width_mm", "8 - 12 mm", "'joint_width_mm' cannot be '8 - 12 mm': write low and high, such as 8 - 12, or 8 - 12 (10) with the usual; it is in mm"),
            ("joint_width_mm", "12 - 8", "'joint_width_mm' cannot be '12 - 8': write the lesser first: 8 - 12"),
            ("joint_width_mm", "8 - 12 (20)", "'joint_width_mm' cannot be '8 - 12 (20)': the usual value, in brackets, lies between the two"),
            ("joint_width_mm", "8 - 12 (1.2.3)", "'joint_width_mm' cannot be '8 - 12 (1.2.3)': write low and high, such as 8 - 12, or 8 - 12 (10) with the usual; it is in mm"),
            ("joint_width_mm", "8 - 120", "'joint_width_mm' cannot be '8 - 120': the most is 80 mm"),
            ("joint_width_mm", "unknown", "'joint_width_mm' cannot be 'unknown': write: not known"),
            ("joint_width_mm", "'?'", "'joint_width_mm' cannot be '?': write: not known"),
            ("lived_in", "maybe", "'lived_in' cannot be 'maybe': write yes or no, or not known"),
            ("lived_in", "1", "'lived_in' cannot be '1': write yes or no, or not known"),
            ("issue_date", "1 March 2027", "'issue_date' cannot be '1 March 2027': write the date as year-month-day, such as 2027-03-01"),
            ("issue_date", "01/03/2027", "'issue_date' cannot be '01/03/2027': write the date as year-month-day, such as 2027-03-01"),
            ("issue_date", "20270301", "'issue_date' cannot be '20270301': write the date as year-month-day, such as 2027-03-01"),
            ("issue_date", "2027-W09-1", "'issue_date' cannot be '2027-W09-1': write the date as year-month-day, such as 2027-03-01"),
            ("issue_date", "2027-02-30", "'issue_date' cannot be '2027-02-30': the calendar has no such day; write year-month-day"),
            ("issue_date", "9999-12-31", "'issue_date' cannot be '9999-12-31': write a year from 1900 to 2199"),
            ("title", "[a, b]", "'title' is a list, where words are wanted: write them on one line, in quotes where they hold ': ' or '#'"),
            ("title", "'  '", "'title' is blank, where words are wanted: write them on one line, in quotes where they hold ': ' or '#'"),
            ("features", "[a, {b: c}]", "'features' is a mapping, where words are wanted: write them on one line, in quotes where they hold ': ' or '#'"),
            ("features", "{a: b}", "'features' cannot be a mapping: write a list, each text on a line that starts with '-'"),
            ("photo", "[]", "'photo' is a list, where words are wanted: write them on one line, in quotes where they hold ': ' or '#'"),
            ("drawings", "P-01", "'drawings' cannot be 'P-01': write a list of {ref: …, sheets_nr: …, drawn: …, size: …}"),
            ("drawings", "[P-01]", "'drawings' has 'P-01' in its list: write {ref: …, sheets_nr: …, drawn: …, size: …}"),
            ("drawings", "[{sheets_nr: 2}]", "'drawings' lacks 'ref' (number): add 'ref: …'"),
            ("drawings", "[{ref: A, seets_nr: 2}]", "'seets_nr' is not part of 'drawings': did you mean 'sheets_nr'?"),
            ("drawings", "[{ref: A, sheets_nr: 1.5}]", "'drawings.sheets_nr' cannot be '1.5': write a whole number: it counts things"),
            ("drawings", "[{ref: A, sheets_nr: -2}]", "'drawings.sheets_nr' cannot be '-2': the least is 0 nr"),
            ("drawings", "[{ref: A, sheets_nr: two}]", "'drawings.sheets_nr' cannot be 'two': write a number alone, such as 64; it is in nr"),
            ("drawings", "[{ref: A, drawn: May}]", "'drawings.drawn' cannot be 'May': write the date as year-month-day, such as 2027-03-01"),
            ("drawings", "[{ref: A, size: a2}]", "'drawings.size' cannot be 'a2': use one of: a1, a3"),
        ],
    )  # fmt: skip
    def test_is_told_with_what_to_do(self, name: str, spelt: str, said: str) -> None:
        text = job(**{NAMES[name].scope: f"{name}: {spelt}"})
        if name == "title":
            text = job().replace("Barn", spelt)
        (problem,) = problems(text)
        assert problem.split(": ", 1)[1] == said

    @pytest.mark.parametrize(
        ("text", "place"),
        [
            (job(element="masonry:    brik"), "6:15"),
            (job(element="mosonry: brick"), "6:3"),
            (job(element="decay_causes: [gutter, slats]"), "6:26"),
            (job(element="decay_causes:\n- gutter\n- slats"), "8:5"),
            (job(project="drawings:\n- ref: A\n  sheets_nr: two"), "5:16"),
            (job(project="drawings:\n- ref: A\n  seets_nr: 2"), "5:5"),
            (job(project="drawings:\n- sheets_nr: 2"), "4:5"),
            (job(work="face_area_m2: 64 m2"), "9:19"),
            (job().replace("front", "5"), "4:7"),
            (job().replace("  name: Front wall\n", ""), "4:3"),
            (job().replace("work: repoint", "work:"), "8:5"),
            (job().replace("  title: Barn\n", "  lived_in: no\n"), "2:3"),
        ],
    )
    def test_the_place_is_the_value_where_it_is_wrong_and_the_key_where_that_is(self, text: str, place: str) -> None:
        (problem,) = problems(text)
        assert problem.split(": ")[0] == place

    def test_a_text_may_be_as_long_as_its_question_says_and_no_longer(self) -> None:
        assert problems(job().replace("Barn", "x" * 40)) == []
        assert problems(job().replace("Barn", "x" * 5_000)) == [
            "2:10: 'title' is 5,000 characters long: shorten it to 40 at most"
        ]

    def test_a_number_of_five_thousand_digits_is_refused(self) -> None:
        (problem,) = problems(job(work=f"face_area_m2: {'9' * 5_000}"))
        assert (
            problem == f"9:19: 'face_area_m2' cannot be '{'9' * 60}…': write at most 12 figures, and 6 after the point"
        )


class TestStructure:
    """What the file is made of: project, elements, works, and their ids."""

    @pytest.mark.parametrize(
        ("text", "said"),
        [
            ("", " is empty: start it with 'project:' and 'elements:'"),
            ("# nothing yet", " is empty: start it with 'project:' and 'elements:'"),
            ("just words", "1:1: is not a mapping of 'project:' and 'elements:': start it with 'project:' and 'elements:'"),
            ("- a\n- b", "1:1: is not a mapping of 'project:' and 'elements:': start it with 'project:' and 'elements:'"),
        ],
    )  # fmt: skip
    def test_a_file_that_is_no_answers(self, text: str, said: str) -> None:
        assert [p.removeprefix("answers.yaml") for p in problems(text)] == [said]

    @pytest.mark.parametrize(
        ("text", "said"),
        [
            (job().replace("project:", "projekt:"), ["1:1: 'projekt' is not asked of an answers file: did you mean 'project'?", "1:1: the file lacks 'project': write 'project:' with title on lines below it"]),
            ("project: {title: A}", ["1:1: the file lacks 'elements': list at least one, each with id, name and works"]),
            ("project: [1]\nelements: {}", ["1:10: 'project' is not a mapping: write 'project:' with title on lines below it", "2:11: 'elements' is not a list of walls or ceilings: list at least one, each with id, name and works"]),
            ("project: {title: A}\nelements: []", ["2:11: 'elements' is not a list of walls or ceilings: list at least one, each with id, name and works"]),
            ("project: {title: A}\nelements: [front, [1]]", ["2:12: is not an element with answers below it: write it as '- id: north-wall'", "2:19: is not an element with answers below it: write it as '- id: north-wall'"]),
            (job().replace("id: front\n  ", ""), ["4:3: an element lacks 'id': add 'id: front-wall'"]),
            (job().replace("id: front", "id: 5"), ["4:7: 'id' cannot be '5': write at most 40 small letters, figures and hyphens, such as north-wall"]),
            (job().replace("id: front", "id: The Front"), ["4:7: 'id' cannot be 'The Front': write at most 40 small letters, figures and hyphens, such as the-front"]),
            (job().replace("id: front", "id: [front]"), ["4:7: 'id' cannot be a list or mapping: write at most 40 small letters, figures and hyphens, such as front-wall"]),
            (job().replace("id: front", f"id: {'x' * 41}"), [f"4:7: 'id' cannot be '{'x' * 41}': write at most 40 small letters, figures and hyphens, such as {'x' * 40}"]),
            (job().replace("name: Front wall", "name: {a: b}"), ["5:9: 'name' is a mapping, where words are wanted: write them on one line, in quotes where they hold ': ' or '#'"]),
            (job().replace("  name: Front wall\n", ""), ["4:3: an element lacks 'name': name it as it is called on site, as in 'name: North wall'"]),
            (job()[: job().index("  works")], [f"4:3: an element lacks 'works': say below 'works:' what is done to it, {LEFT_ALONE}"]),
            (job()[: job().index("  - id: low")], [f"6:3: 'works' names none of its works: {LIST_WORKS}"]),
            (job()[: job().index("  works")] + "  works: []\n", [f"6:10: 'works' names none of its works: {LIST_WORKS}"]),
            (job()[: job().index("  works")] + "  works: 5\n", [f"6:10: 'works' is not a list of works: {LIST_WORKS}"]),
            (job().replace("work: repoint", "work: repiont"), ["8:11: 'work' cannot be 'repiont': did you mean 'repoint'?"]),
            (job().replace("    work: repoint\n", ""), ["7:5: a work lacks 'work' (work): add 'work: …'"]),
            (job().replace("  title: Barn\n", "  lived_in: no\n"), ["2:3: the project lacks 'title' (title): add 'title: Old barn'"]),
        ],
    )  # fmt: skip
    def test_its_parts(self, text: str, said: list[str]) -> None:
        assert problems(text) == said

    @pytest.mark.parametrize(
        ("scope", "line", "said"),
        [
            ("element", "mosonry: brick", "'mosonry' is not asked of an element: did you mean 'masonry'?"),
            ("element", "joint-width-mm: 8", "'joint-width-mm' is not asked of an element: did you mean 'joint_width_mm'?"),
            ("work", "masonry: brick", "'masonry' is not asked of a work: it belongs to an element; move it there"),
            ("work", "joint_widht_mm: 8", "'joint_widht_mm' is not asked of a work: did you mean 'joint_width_mm', which belongs to an element?"),
            ("project", "name: x", "'name' is not asked of the project: use one of: drawings, issue_date, lived_in, title, weeks"),
            ("work", "coats: [{id: a}]", "'coats' is not asked of a work: use one of: face_area_m2, id, work"),
        ],
    )  # fmt: skip
    def test_a_key_that_is_not_asked_there(self, scope: str, line: str, said: str) -> None:
        (problem,) = problems(job(**{scope: line}))
        assert problem.split(": ", 1)[1] == said

    def test_ids_and_names_given_twice(self) -> None:
        text = job() + "- id: front\n  name: front WALL\n  works:\n  - work: render\n  - work: render\n"
        assert problems(text) == [
            "9:7: gives the id 'front' a second time (first on line 4): give each its own id",
            "10:9: calls a second element 'front WALL' (first on line 5): name each so that nobody on site can take one for the other",
            "13:11: gives the id 'render' a second time (first on line 12): add an 'id:' to each, such as repoint-low",
        ]  # fmt: skip

    def test_the_same_id_in_two_elements_is_no_mistake(self) -> None:
        text = job() + "- id: rear\n  name: Rear wall\n  works:\n  - {id: low, work: render}\n"
        assert problems(text) == []


class TestWholeFile:
    TEXT = """\
        project:
          titel: Old barn
          issue_date: 1.3.2027
          weeks: twelve
        elements:
        - id: Front
          name: Front wall
          masonry: brik
          masonry: brick
          joint_width_mm: 12 - 8
          works:
          - work: repoint
            face_area_m2: 64 m2
        - name: Rear
          decay_causes: [gutter, damp]
        """

    def test_every_mistake_is_told_in_one_go_in_the_order_of_the_file(self) -> None:
        found = problems(self.TEXT)
        assert [problem.split(": ")[0] for problem in found] == [
            "2:3", "2:3", "3:15", "4:10", "6:7", "8:12", "9:3", "10:19", "13:19", "14:3", "14:3", "15:26",
        ]  # fmt: skip

    def test_a_file_whose_layout_is_broken_is_not_told_to_lack_what_was_not_reached(self) -> None:
        assert problems("project:\n  title: 'Barn\nelements:\n") == [
            "2:10: opens a quote that is never closed: close the quote"
        ]

    def test_a_file_that_cannot_be_read_is_not_told_to_be_empty(self, tmp_path: Path) -> None:
        source = read_file(tmp_path / "none.yaml", typed=False)
        read_answers(source, QUESTIONS, NAMES)
        assert len(source.problems) == 1

    def test_no_mistake_is_told_twice(self) -> None:
        found = problems(self.TEXT)
        assert len(found) == len(set(found))


def test_the_toll_house_is_read_without_a_mistake(toll_house: Path, shipped_clauses: Path) -> None:
    library = load(shipped_clauses)
    source = read_file(toll_house, typed=False)
    facts = read_answers(source, library.questionnaire, library.names)
    assert source.problems == []
    assert [scope.title for scope in facts.at("element")] == ["Front wall", "Chimney stack", "Rubble gable"]


class TestAnyText:
    """Whatever a file holds, it is read or refused with a place on one line; nothing falls over."""

    BITS = ("[", "]", "{", "}", ": ", "\t", "- ", '"', "'", "&a ", "*a ", "!!x ", "\n", "  ", "not known", "9" * 50,
            "1e400", "#", "|", ">", "? ", "<<: ", "~", "é🧱", "---\n", "...\n", "8 - 12 (1)", "=", ",", "\u2028")  # fmt: skip

    @given(st.lists(st.tuples(st.integers(0, 400), st.sampled_from(BITS), st.integers(0, 12)), min_size=1, max_size=5))
    def test_a_spoilt_file(self, changes: list[tuple[int, str, int]]) -> None:
        text = dedent(TestWholeFile.TEXT)
        for at, bit, lost in changes:
            text = text[: at % len(text)] + bit + text[at % len(text) + lost :]
        _, source = read_facts(text)
        for problem in source.problems:
            assert "\n" not in str(problem)
            assert problem.mark.line <= text.count("\n") + 1

    @given(st.binary(max_size=200))
    def test_any_bytes(self, raw: bytes) -> None:
        source = read_bytes(raw, "answers.yaml", typed=False)
        read_answers(source, QUESTIONS, NAMES)
        assert source.problems


class TestNamesThatLookAlike:
    @pytest.mark.parametrize(
        "name", ["Front\u00a0wall", "front  wall", "Front wa\u200dll", "\uff26ront wall", "FRONT WALL"]
    )
    def test_two_elements_have_no_such_names(self, name: str) -> None:
        text = "project: {title: T}\nelements:\n- {id: a, name: Front wall, works: [{work: render}]}\n"
        source = read(text + f"- {{id: b, name: {name}, works: [{{work: render}}]}}\n")
        read_answers(source, QUESTIONS, NAMES)
        assert any("calls a second element" in problem.what for problem in source.problems)


def test_more_scopes_than_are_read_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("generator.questionnaire.answers.MOST_SCOPES", 4)
    walls = "".join(f"- {{id: w{n}, name: W{n}, works: [{{work: render}}]}}\n" for n in range(3))
    source = read(f"project: {{title: T}}\nelements:\n{walls}")
    read_answers(source, QUESTIONS, NAMES)
    told = [str(problem) for problem in source.problems if "no more are read" in problem.what]
    assert told[0] == (
        "answers.yaml:4:30: comes after 4 elements, works and coats, and no more are read: part the job into several"
    )
