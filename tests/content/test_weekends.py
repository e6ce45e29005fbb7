"""Coats that are worked again on the morning after, though they are laid on the day before a weekend."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
from jobs import EXAMPLES, example
from told_papers import specification

from generator.programme.calendar import worked
from generator.programme.plan import calendar
from generator.questionnaire.scopes import PROJECT

NAMES = [path.parent.name for path in EXAMPLES]
AGAIN = (
    "pointing.beating",
    "plaster.cracks",
    "plaster.float",
    "render.cracks",
    "flaunching.shrinkage",
    "limewash.weather",
    "limewash.indoors",
)
"""The clauses that ask for work or misting on the morning after a coat."""


def before_days_off(name: str) -> bool:
    """Whether a coat of such a clause, or of its panel, is laid on a day after which nobody works."""
    made = example(name)
    days = worked(calendar(made.facts.at_scope(PROJECT)))
    for task in made.programme.tasks():
        work = made.facts.at_scope(task.path).text("work")
        if task.entry in ("lay", "wash", "panel-coat") and work in (
            "repoint",
            "plaster",
            "render",
            "limewash",
            "flaunching",
        ):
            laid = [task.start + timedelta(nr) for nr in range((task.finish - task.start).days + 1)]
            if any(days.up_to(day.toordinal()) == days.up_to(day.toordinal() + 1) for day in laid):
                return True
    return False


@pytest.mark.parametrize("name", NAMES)
def test_where_a_coat_is_laid_before_a_weekend_the_papers_say_that_its_next_morning_is_one_too(name: str) -> None:
    text, asked = specification(name), [clause for clause in AGAIN if example(name).in_papers(clause)]
    if before_days_off(name):
        assert asked
    assert ("next morning: the day after, weekends and holidays too" in text) is bool(asked)
    assert ("6 hours apart, weekends too" in text) is example(name).in_papers("plaster.float")


@pytest.mark.parametrize("name", NAMES)
def test_the_hours_let_in_on_days_off_whoever_scours_a_coat_or_closes_its_cracks(name: str) -> None:
    """Who holds the keys goes by the clause of the hours: a coat not scoured on Saturday is lost by Monday."""
    (care,) = re.findall(r"goes on outside these hours, every day: (.*?);", specification(name))
    assert {"damp", "covers", "scouring", "closing cracks", "readings"} <= set(care.split(", "))


def test_some_example_lays_such_a_coat_before_a_weekend() -> None:
    assert [name for name in NAMES if before_days_off(name)] == ["mill-house", "toll-house", "winter-plaster"]


def test_no_clause_speaks_of_the_morning_after_in_other_words() -> None:
    clauses = example("mill-house").library.clauses.values()
    words = ("the morning after", "day after it is put on", "following morning")
    assert [clause.id for clause in clauses if any(word in f"{clause.text} {clause.check}" for word in words)] == []
