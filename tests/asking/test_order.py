"""Which question comes next: the order, what is hidden, the passes, going back, going on, copies."""

from __future__ import annotations

from textwrap import dedent

import pytest
from helpers import questions, read

from generator.asking.order import (
    NAME,
    Ask,
    AskName,
    AskWork,
    Done,
    More,
    Offer,
    Place,
    Sitting,
    Step,
    begun,
    can_go_on,
    copied,
    element_at,
    keys_before,
    new_id,
    next_step,
    open_count,
    own_answers,
    parted,
    progress,
    rest_of,
    where,
)
from generator.questionnaire.answers import read_answers
from generator.questionnaire.facts import Facts
from generator.values import replace

QUESTIONS, NAMES = questions("""\
    - {name: title, scope: project, kind: text, label: Title, why: W., need: required}
    - {name: client, scope: project, kind: text, label: Client, why: W., need: warning}
    - {name: protection, scope: project, kind: choice, label: Protection, why: W., need: block, not_known: true,
       choices: [{is: none, says: none}, {is: listed, says: listed}]}
    - {name: consent, scope: project, kind: text, label: Consent, why: W., need: block, when: protection != 'none'}
    - {name: weeks, scope: project, kind: number, label: Weeks, why: W., default: 12}
    - {name: note, scope: project, kind: text, label: Note, why: W.}
    - {name: masonry, scope: element, kind: choice, label: Masonry, why: W., need: required,
       choices: [{is: brick, says: brick}, {is: laths, says: laths}]}
    - {name: joint_width_mm, scope: element, kind: range, label: Joint, why: W., need: block,
       when: any(work == 'repoint')}
    - {name: work, scope: work, kind: choice, label: Work, why: W., need: required,
       choices: [{is: repoint, says: repointing}, {is: render, says: rendering}]}
    - {name: area_m2, scope: work, kind: number, label: Area, why: W., need: block, not_known: true}
    - {name: output_m2_per_day, scope: work, kind: number, label: Output, why: W.}
    - {name: extent, scope: work, kind: text, label: Extent, why: W., need: warning}
    """)
FRONT, LOW = ("front",), ("front", "low")


def job(text: str) -> Facts:
    return read_answers(read(text), QUESTIONS, NAMES)


def told(step: Step) -> str:
    if isinstance(step, Ask):
        return "/".join([*step.path, step.question.name])
    if isinstance(step, Offer):
        return f"offer {step.upto} {step.count}"
    return " ".join([type(step).__name__, *getattr(step, "path", ())])


def asked(text: str, sitting: Sitting | None = None) -> str:
    """What is asked next of answers."""
    facts = job(text)
    return told(next_step(facts, QUESTIONS, sitting or begun(facts)))


PROJECT_TEXT = "project: {title: Barn, protection: none}\n"
WHOLE = PROJECT_TEXT + (
    "elements: [{id: front, name: Front, masonry: brick, joint_width_mm: 8, works: [{id: low, work: repoint, "
    "area_m2: 9}]}]\n"
)


@pytest.mark.parametrize(
    ("text", "next_"),
    [
        ("", "title"),
        ("project: {title: Barn}\n", "protection"),
        ("project: {title: Barn, protection: listed}\n", "consent"),
        (PROJECT_TEXT, "AskName"),
        (PROJECT_TEXT + "elements: [{id: front, name: Front}]", "AskWork front"),
        (PROJECT_TEXT + "elements: [{id: front, name: Front, works: [{work: repoint}]}]", "front/masonry"),
        (
            PROJECT_TEXT + "elements: [{id: front, name: Front, masonry: brick, works: [{work: repoint}]}]",
            "front/joint_width_mm",
        ),
        (
            PROJECT_TEXT + "elements: [{id: front, name: Front, masonry: brick, works: [{work: render}]}]",
            "front/render/area_m2",
        ),
        (WHOLE, "More front"),
    ],
)
def test_project_first_then_each_wall_its_works_named_before_the_rest(text: str, next_: str) -> None:
    assert asked(text) == next_


def test_what_hangs_on_an_answer_not_known_is_not_asked() -> None:
    assert asked("project: {title: Barn, protection: not known}") == "AskName"


def test_an_answer_that_the_reader_refused_is_asked_again() -> None:
    assert asked("project: {title: Barn, protection: listd}") == "protection"


def test_a_question_with_a_default_or_that_may_stay_open_is_asked_only_in_the_last_pass() -> None:
    facts = job(WHOLE)
    done = begun(facts).completed()
    wanted, further = done.widened("wanted"), done.widened("further")
    assert [told(next_step(facts, QUESTIONS, sitting)) for sitting in (done, wanted, further)] == [
        "offer wanted 2",
        "client",
        "client",
    ]
    left = wanted.leaving(((), "client")).leaving((LOW, "extent"))
    assert told(next_step(facts, QUESTIONS, left)) == "offer further 3"
    assert told(next_step(facts, QUESTIONS, left.widened("further"))) == "weeks"
    assert told(next_step(facts, QUESTIONS, left.widened("further").leaving(((), "weeks")))) == "note"


def test_photographs_are_marked_on_a_picture_and_never_asked_for_in_words() -> None:
    asked_, names = questions("""\
        - {name: title, scope: project, kind: text, label: Title, why: W., need: required}
        - {name: photographs, scope: project, kind: photographs, label: Photographs, why: W., need: warning}
        """)
    facts = read_answers(read("project: {title: Barn, photographs: [{file: a.jpg, shows: A}]}\n"), asked_, names)
    without = read_answers(read("project: {title: Barn}\n"), asked_, names)
    assert begun(facts).before == (((), "title"),)
    assert told(next_step(without, asked_, begun(without).widened("further"))) == "AskName"


def test_a_pass_never_narrows() -> None:
    assert Sitting(upto="further").widened("wanted").upto == "further"


def test_an_offer_declined_is_the_end() -> None:
    facts = job(WHOLE)
    assert next_step(facts, QUESTIONS, begun(facts).completed().ending()) == Done()


def test_whether_there_is_more_is_asked_once_after_the_last_wall() -> None:
    facts = job(WHOLE)
    steps: list[Step] = []
    sitting = begun(facts)
    for after in (Sitting.completed, Sitting.ending):
        steps.append(next_step(facts, QUESTIONS, sitting))
        sitting = after(sitting)
    assert [*map(told, steps)] == ["More front", "offer wanted 2"]
    assert steps[0] == More(FRONT)


def test_a_question_left_open_is_passed_over_in_this_sitting_and_asked_in_the_next() -> None:
    facts = job("project: {title: Barn}")
    left = begun(facts).leaving(((), "protection"))
    assert told(next_step(facts, QUESTIONS, left)) == "AskName"
    assert told(next_step(facts, QUESTIONS, begun(facts))) == "protection"
    assert open_count(facts, QUESTIONS, left) == 0
    assert open_count(facts, QUESTIONS, Sitting()) == 1


# --- going back ---------------------------------------------------------------------------------------------


def test_back_goes_through_all_answers_to_the_first_and_then_on_to_what_is_open() -> None:
    facts = job(PROJECT_TEXT + "elements: [{id: front, name: Front, masonry: brick, works: [{id: low, work: render}]}]")
    first, sitting = begun(facts), begun(facts).back()
    seen = []
    while sitting is not None:
        seen.append(told(next_step(facts, QUESTIONS, sitting)))
        first, sitting = sitting, sitting.back()
    assert seen == ["front/low/work", "front/masonry", "AskName front", "protection", "title"]
    again: list[Place] = [((), "title"), ((), "protection"), (FRONT, NAME), (FRONT, "masonry"), (LOW, "work")]
    for place in again:
        first = first.answered(place)
    assert told(next_step(facts, QUESTIONS, first)) == "front/low/area_m2"


def test_back_after_a_question_was_left_asks_it_again() -> None:
    facts = job("project: {title: Barn}")
    back = begun(facts).leaving(((), "protection")).back()
    assert back is not None
    assert told(next_step(facts, QUESTIONS, back)) == "protection"


def test_back_opens_the_question_whether_there_is_more_again() -> None:
    facts = job(WHOLE)
    back = begun(facts).completed().ending().back()
    assert back is not None
    assert told(next_step(facts, QUESTIONS, back.answered((LOW, "area_m2")))) == "More front"


def test_what_no_longer_applies_or_is_gone_is_not_asked_again() -> None:
    facts = job(WHOLE)
    sitting = begun(facts).asking_again((((), "consent"), (("rear",), "masonry"), ((), "client")))
    assert told(next_step(facts, QUESTIONS, sitting)) == "client"


# --- going on -----------------------------------------------------------------------------------------------


def test_going_on_asks_for_more_works_at_the_last_wall_alone() -> None:
    text = (
        PROJECT_TEXT
        + "elements:\n"
        + "".join(
            f"- {{id: {key}, name: {key}, masonry: brick, works: [{{work: render, area_m2: 3}}]}}\n"
            for key in ("a", "b")
        )
    )
    assert asked(text) == "More b"


def test_progress_counts_what_this_pass_asks_of_the_scope() -> None:
    facts = job("project: {title: Barn, protection: listed}")
    ask = {name: Ask((), QUESTIONS.questions[name]) for name in ("protection", "consent", "note")}
    needed, all_ = Sitting(), Sitting(upto="further")
    assert progress(facts, QUESTIONS, needed, ask["protection"]) == (2, 3)
    assert progress(facts, QUESTIONS, needed, ask["consent"]) == (3, 3)
    assert progress(facts, QUESTIONS, needed, ask["note"]) == (4, 4)
    assert progress(facts, QUESTIONS, all_, ask["note"]) == (6, 6)
    unprotected = job(PROJECT_TEXT)
    assert progress(unprotected, QUESTIONS, needed, ask["protection"]) == (2, 2)


# --- walls in the file --------------------------------------------------------------------------------------


def test_what_is_a_walls_own_are_the_numbers_of_its_works_and_no_rates_and_no_figures_of_the_wall() -> None:
    assert own_answers(QUESTIONS) == {"area_m2"}


def test_what_a_pass_asks_is_parted_by_heading_and_wall() -> None:
    found = parted(job(WHOLE), QUESTIONS, Sitting(upto="further"))
    assert found["", ""] == tuple(((), name) for name in ("client", "weeks", "note") if ((), name) in found["", ""])
    assert {path[:1] for key, places in found.items() if key[0] for path, _ in places} == {
        (key[0],) for key in found if key[0]
    }


def test_the_rest_of_a_wall_is_what_the_pass_still_asks_of_it_and_its_works() -> None:
    facts, sitting = job(WHOLE), Sitting(upto="further")
    rest = rest_of(facts, QUESTIONS, sitting, LOW)
    assert rest
    assert {path[:1] for path, _ in rest} == {FRONT}
    for place in rest:
        sitting = sitting.leaving(place)
    assert rest_of(facts, QUESTIONS, sitting, FRONT) == ()


def test_a_copy_has_all_answers_but_id_name_and_blanks() -> None:
    element = {"id": "a", "name": "A", "masonry": "brick", "note": None, "works": [{"work": "render", "extent": None}]}
    assert copied(element, "b", "B") == {"id": "b", "name": "B", "masonry": "brick", "works": [{"work": "render"}]}


@pytest.mark.parametrize(
    ("name", "taken", "key"),
    [
        ("Front wall", set(), "front-wall"),
        ("Front wall", {"front-wall"}, "front-wall-2"),
        ("Front wall", {"front-wall", "front-wall-2"}, "front-wall-3"),
        ("Größe: Süd", set(), "groe-sud"),
        ("2nd bay", set(), "part-2nd-bay"),
        ("北墙", set(), "part"),
        ("北墙", {"part"}, "part-2"),
        ("x" * 80, {"x" * 36}, "x" * 36 + "-2"),
    ],
)
def test_an_id_is_made_from_a_name_and_is_unlike_the_others(name: str, taken: set[str], key: str) -> None:
    assert new_id(name, taken) == key


def test_each_scope_is_found_in_the_file_by_its_path() -> None:
    data = read(
        "elements:\n- {id: a, works: [{work: render}]}\n- {id: b, works: [{id: low, work: render}, {work: x}]}"
    ).data
    assert where(data) == {
        (): ("project",),
        ("a",): ("elements", 0),
        ("a", "render"): ("elements", 0, "works", 0),
        ("b",): ("elements", 1),
        ("b", "low"): ("elements", 1, "works", 0),
        ("b", "x"): ("elements", 1, "works", 1),
    }


ZONED = """\
    elements:
    - id: a
      name: A
      masonry: brick
      zones:
      - {id: low, name: Low, works: [{work: render}]}
      - {id: high, name: High, masonry: laths}
    """


def test_a_zone_is_found_where_it_stands_and_is_asked_as_an_element() -> None:
    assert where(read(ZONED).data) == {
        (): ("project",),
        ("a-low",): ("elements", 0, "zones", 0),
        ("a-low", "render"): ("elements", 0, "zones", 0, "works", 0),
        ("a-high",): ("elements", 0, "zones", 1),
    }
    facts = job(PROJECT_TEXT + dedent(ZONED))
    assert told(next_step(facts, QUESTIONS, begun(facts))) == "a-low/render/area_m2"


def test_a_zone_is_copied_with_the_answers_of_its_whole_wall() -> None:
    data = read(ZONED).data
    assert element_at(data, ("elements", 0, "zones", 1)) == {"id": "high", "name": "High", "masonry": "laths"}
    assert element_at(data, ("elements", 0, "zones", 0))["masonry"] == "brick"


@pytest.mark.parametrize(
    ("text", "can"),
    [
        ("", True),
        ("# only a comment", True),
        ("project:\nelements:\n", True),
        (WHOLE, True),
        ("elements: [{id: a, name: A, works: }]", True),
        ("words", False),
        ("- a", False),
        ("project: words", False),
        ("elements: {a: b}", False),
        ("elements: [a]", False),
        ("elements: [{name: A}]", False),
        ("elements: [{id: a, name: A}, {id: a, name: B}]", False),
        ("elements: [{id: a, name: A, works: repoint}]", False),
        ("elements: [{id: a, name: A, zones: [{id: low, name: Low}]}]", True),
        ("elements: [{id: a, name: A, zones: }]", False),
        ("elements: [{id: a, name: A, zones: [low]}]", False),
        ("elements: [{id: a, name: A, zones: [{name: Low}]}]", False),
        ("elements: [{id: a, name: A, works: [{work: render}, {work: render}]}]", False),
    ],
)
def test_a_file_is_gone_on_with_where_each_wall_and_work_can_be_told_apart(text: str, can: bool) -> None:
    source = read(text)
    assert can_go_on(source.data, read_answers(source, QUESTIONS, NAMES)) is can


def test_keys_stand_in_the_order_of_the_questions_with_id_and_name_first() -> None:
    assert keys_before(QUESTIONS, "element", "joint_width_mm") == ("id", "name", "masonry")
    assert keys_before(QUESTIONS, "project", "title") == ()
    assert keys_before(QUESTIONS, "work", "id") == ("id",)


def test_steps_are_values() -> None:
    assert AskName() == AskName(())
    assert AskWork(FRONT) != AskWork(LOW)
    assert replace(Sitting(), complete=True) == Sitting().completed()


def test_what_hangs_on_answers_further_in_is_asked_after_them() -> None:
    asked_of, known = questions("""\
        - {name: sum, scope: project, kind: number, label: S, why: W., need: block, when: any(area_m2 > 5)}
        - {name: age, scope: element, kind: text, label: A, why: W., need: block, when: any(area_m2 > 5)}
        - {name: work, scope: work, kind: text, label: K, why: W., need: required}
        - {name: area_m2, scope: work, kind: number, label: Area, why: W., need: block}
        """)
    text = "project: {}\nelements: [{id: a, name: A, works: [{work: b, area_m2: 9}]}]\n"
    seen: list[str] = []
    for answer in ("", "age: old, ", "age: old, "):
        facts = read_answers(read(text.replace("works", answer + "works")), asked_of, known)
        sitting = begun(facts) if len(seen) < 2 else begun(facts).completed()
        seen.append(told(next_step(facts, asked_of, sitting)))
    assert seen == ["a/age", "More a", "sum"]


def test_an_answer_not_needed_here_is_asked_only_in_the_last_pass() -> None:
    asked_of, known = questions("""\
        - {name: guarded, scope: project, kind: yes_no, label: G, why: W., need: required}
        - {name: matters, scope: project, kind: text, label: M, why: W., need: block, needed_when: guarded}
        """)

    def first(text: str, upto: str) -> str:
        facts = read_answers(read(text), asked_of, known)
        return told(next_step(facts, asked_of, begun(facts).widened(upto)))

    assert first("project: {guarded: yes}", "needed") == "matters"
    assert first("project: {guarded: no}", "needed") == "AskName"
    assert first("project: {guarded: no}", "further") == "matters"
