"""Random answers hang on what they answer alone: a further question or choice leaves the others as they were."""

from __future__ import annotations

from typing import Any

from jobs import shipped
from plain_yaml import from_yaml
from random_answers import chance, random_answers, shuffled

from generator.files.shaping import read_as
from generator.questionnaire.questions import Choice, Question, Questionnaire
from generator.values import replace

SEEDS = range(10)
NEW = "a_question_nobody_asked_before"


def answered(text: str) -> dict[str, dict[str, Any]]:
    """The answers of a text by the place they stand in."""
    data = from_yaml(text)
    found: dict[str, dict[str, Any]] = {"": data["project"]}
    for wall in data["elements"]:
        found[wall["id"]] = {name: value for name, value in wall.items() if name != "works"}
        found |= {f"{wall['id']}/{work['id']}": work for work in wall["works"]}
    return found


def with_question(scope: str) -> Questionnaire:
    """The shipped questions with one more of a scope, asked before all others."""
    asked = shipped().questionnaire
    new = read_as(Question, {"name": NEW, "scope": scope, "kind": "yes_no", "label": "New?", "why": "To try."})
    return replace(asked, questions={NEW: new, **asked.questions})


def test_a_new_question_of_any_scope_changes_no_other_answer() -> None:
    for scope in ("project", "element", "work"):
        for seed in SEEDS:
            now = answered(random_answers(seed, asked=with_question(scope)))
            drawn = [values.pop(NEW) for values in now.values() if NEW in values]
            assert now == answered(random_answers(seed)), (scope, seed)
            assert set(drawn) <= {"yes", "no"}


def test_a_new_question_is_itself_answered_now_one_way_and_now_the_other() -> None:
    told = {answered(random_answers(seed, asked=with_question("project")))[""].get(NEW) for seed in SEEDS}
    assert told == {"yes", "no", None}


def test_a_new_choice_is_taken_by_some_and_changes_no_answer_that_does_not_take_it() -> None:
    asked = shipped().questionnaire
    question = asked.questions["masonry"]
    new = read_as(Choice, {"is": "glass", "says": "glass"})
    more = replace(question, choices=(new, *question.choices))
    wider = replace(asked, questions={**asked.questions, "masonry": more})
    taken = 0
    for seed in SEEDS:
        was, now = answered(random_answers(seed)), answered(random_answers(seed, asked=wider))
        for place, values in now.items():
            took = values.get("masonry") == "glass"
            taken += took
            assert took or values == was[place]
    assert 0 < taken < len(SEEDS)


def test_the_order_of_the_questions_says_nothing() -> None:
    asked = shipped().questionnaire
    turned = replace(asked, questions=dict(reversed(list(asked.questions.items()))))
    for seed in SEEDS:
        assert answered(random_answers(seed, asked=turned)) == answered(random_answers(seed))


def test_chance_is_even_and_its_orders_are_too() -> None:
    drawn = [chance("a", index) for index in range(4000)]
    assert all(0 <= value < 1 for value in drawn)
    for tenth in range(10):
        assert 320 < sum(tenth <= value * 10 < tenth + 1 for value in drawn) < 480
    firsts = [shuffled("abcd", index)[0] for index in range(4000)]
    assert all(880 < firsts.count(letter) < 1120 for letter in "abcd")
