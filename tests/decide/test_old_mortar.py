"""Old mortar put back: taken up to the cap where somebody looked and found it clean, refused or held back otherwise."""

from __future__ import annotations

from decimal import Decimal

import pytest
from answers_text import answers, one_wall, wall, work
from small_library import clause, job, job_of

from generator.document.outline import outline
from generator.job.job import Job
from generator.papers.assemble import assemble

REPOINT = ("front", "repoint")
CODES = {"asked-old-mortar-refused", "old-mortar-not-looked-at"}


PUT_BACK = clause(
    "first.old", per="work", when="known(old_mortar_per_cent)", text="Put back {{ old_mortar_per_cent }} of it."
)


def asked(**changes: str | None) -> Job:
    """The one-wall job, its old mortar clean air lime and asked to go back in, with some answers changed."""
    return job_of(one_wall(**{"asked_ways": "[old-mortar]", "old_binder": "air-lime", **changes}), PUT_BACK)


def share(made: Job) -> object:
    return made.facts.get(REPOINT, "old_mortar_per_cent")


def told(made: Job) -> list[tuple[str, str, str]]:
    """What is told of old mortar: level, code and message."""
    return [(item.level, item.code, item.message) for item in made.findings if item.code in CODES]


def test_clean_old_mortar_goes_back_in_up_to_a_quarter_and_its_clause_says_so() -> None:  # common practice
    made = asked()
    assert share(made) == Decimal(25)
    assert told(made) == []
    assert "Put back 25% of it." in outline(assemble(made).specification)
    reason = made.decisions.reasons[REPOINT, "old_mortar_per_cent"]
    assert reason.confidence == "judgement"
    assert "old binder: air lime" in reason.facts


def test_old_mortar_that_nobody_asked_for_is_not_in_the_papers() -> None:
    made = asked(asked_ways=None)
    assert share(made) is None
    assert told(made) == []
    assert not made.selections["first.old"].paths


@pytest.mark.parametrize(
    ("changes", "why"),
    [
        ({"salts": "some"}, "old-mortar-salty"),
        ({"decay_causes": "[salts]"}, "old-mortar-salty"),
        ({"position": "chimney"}, "old-mortar-sooty"),
        ({"decay_causes": "[flue]"}, "old-mortar-sooty"),
        ({"cement_area_m2": "2", "cement_hold": "loose"}, "old-mortar-cement-bound"),
        ({"decay_causes": "[cement]"}, "old-mortar-cement-bound"),
        ({"old_binder": "cement"}, "old-mortar-cement-bound"),
        ({"old_binder": "gypsum"}, "old-mortar-cement-bound"),
        ({"salts": "heavy", "old_binder": "not known"}, "old-mortar-salty"),
    ],
)
def test_spoilt_old_mortar_is_refused_and_the_refusal_says_by_what(changes: dict[str, str], why: str) -> None:
    made = asked(**changes)
    assert share(made) is None
    ((level, code, message),) = told(made)
    assert (level, code) == ("refusal", "asked-old-mortar-refused")
    assert message == f"{code} message {why}"


@pytest.mark.parametrize(
    ("changes", "why"),
    [
        ({"old_binder": "not known"}, "old-mortar-cement-bound-unknown"),
        ({"old_binder": None}, "old-mortar-cement-bound-unknown"),
        ({"cement_area_m2": "not known"}, "old-mortar-cement-bound-unknown"),
        ({"salts": "not known"}, "old-mortar-salty-unknown"),
        ({"salts": "not known", "old_binder": None}, "old-mortar-salty-unknown and old-mortar-cement-bound-unknown"),
    ],
)
def test_old_mortar_that_nobody_looked_at_is_held_back_and_says_what_to_look_for(
    changes: dict[str, str | None], why: str
) -> None:
    made = asked(**changes)
    assert share(made) is None
    ((level, code, message),) = told(made)
    assert (level, code) == ("warning", "old-mortar-not-looked-at")
    assert message == f"{code} message {why}"


def beside(other: str) -> list[tuple[str, str, str]]:
    """What is told of old mortar asked for on a wall that has another work too."""
    mine = work(asked_ways="[old-mortar]")
    return told(job(answers(wall(mine, other, old_binder="air-lime"))))


@pytest.mark.parametrize(
    ("answer", "value", "word"),
    [
        ("removed", "film-paint", "old-mortar-painted"),
        ("removed", "cement-render", "old-mortar-cement-bound"),
        ("old_coating", "distemper", "old-mortar-painted"),
    ],
)
def test_paint_or_cement_that_another_work_meets_on_the_wall_refuses_it(answer: str, value: str, word: str) -> None:
    kind = "remove" if answer == "removed" else "limewash"
    other = work(kind, **{"work": kind, answer: value, "joint_finish": None, "cement_area_m2": None})
    ((level, _, message),) = beside(other)
    assert level == "refusal"
    assert message.endswith(f" {word}")


def test_a_face_to_be_washed_whose_coating_is_not_known_holds_it_back() -> None:
    other = work("limewash", work="limewash", old_coating="not known", joint_finish=None, cement_area_m2=None)
    ((level, _, message),) = beside(other)
    assert level == "warning"
    assert message.endswith(" old-mortar-painted-unknown")


def test_a_work_without_a_share_of_its_own_is_refused() -> None:
    other = work("limewash", work="limewash", asked_ways="[old-mortar]", joint_finish=None, cement_area_m2=None)
    made = job(answers(wall(other, old_binder="air-lime")))
    ((level, _, message),) = told(made)
    assert level == "refusal"
    assert message.endswith(" old-mortar-elsewhere")


def test_a_refusal_tells_the_line_of_the_answer_that_refuses() -> None:
    text = one_wall(asked_ways="[old-mortar]", old_binder="air-lime", salts="some")
    (found,) = [item for item in job(text).findings if item.code == "asked-old-mortar-refused"]
    lines = text.splitlines()
    assert {lines[mark.line - 1].strip(" -").split(":")[0] for mark in found.marks} == {
        "asked_ways", "salts", "decay_causes",
    }  # fmt: skip


@pytest.mark.parametrize("changes", [{"asked_ways": None}, {"salts": "some"}, {"salts": "not known"}])
def test_only_old_mortar_that_goes_back_in_is_sorted_by_the_sheet(changes: dict[str, str | None]) -> None:
    step = "repoint.old-mortar text"
    assert step in outline(assemble(asked()).specification)
    assert step not in outline(assemble(asked(**changes)).specification)
