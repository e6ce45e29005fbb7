"""Answers aimed at a condition: random valid ones, bent so that the condition may well hold somewhere in the job.

What a table gives (a class of wall) is aimed at by the keys of one of its rows; what rules make is left to chance.
As with random answers, each draw hangs on the seed and on what it is drawn for.
"""

from __future__ import annotations

import copy
import datetime
import operator
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

import yaml
from jobs import shipped
from random_answers import below, random_answers, shuffled

from generator.questionnaire.condition import Both, Compare, Condition, IsTrue, Known, Node, Not, Within
from generator.questionnaire.facts import Facts
from generator.questionnaire.questions import Question
from generator.questionnaire.reading import default_of
from generator.questionnaire.scopes import Held, ScopePath
from generator.values import replace

# What to answer where a condition asks for a value that is worked out and no table gives it alone.
ASKED_BY = {"binder": "asked_binder"}
# What is one of a list that a table gives, by the name of the list.
LISTED_BY = {"coat": "coats"}


@dataclass(frozen=True)
class Place:
    """Which wall and which of its works a wish is for, each by number; None for every one."""

    wall: int | None = 0
    work: int | None = 0


@dataclass(frozen=True)
class Wish:
    """A leaf of a condition that is to come out one way somewhere."""

    leaf: Compare | IsTrue | Known
    truth: bool
    place: Place

    @property
    def name(self) -> str:
        """The question that it is a wish about, as far as there is one."""
        return ASKED_BY.get(self.leaf.name, self.leaf.name)

    def bears_on(self, wall: int, work: int | None = None) -> bool:
        """Whether it is for a wall or, where one is named, for a work of it."""
        return self.place.wall in (wall, None) and (work is None or self.place.work in (work, None))


def aimed_answers(aims: Iterable[tuple[Condition, bool]], seed: int) -> str:
    """An answers text in which each condition may come out as wanted: of a wall or two, a work or two on each."""
    data = yaml.load(random_answers(seed), Loader=yaml.CSafeLoader)
    walls = data["elements"] = data["elements"][: one_or_two(seed, "walls")]
    aim = Aim(seed, len(walls), one_or_two(seed, "works"))
    wishes = [wish for condition, truth in aims for wish in aim.wished(condition.node, truth, Place())]
    wishes += list(aim.behind(wishes))
    grant("project", data["project"], wishes, seed)
    for number, wall in enumerate(walls):
        grant("element", wall, [wish for wish in wishes if wish.bears_on(number)], seed, number)
        drawn = (below(len(wall["works"]), seed, number, index, "work") for index in range(aim.works))
        wall["works"] = [copy.deepcopy(wall["works"][which]) for which in drawn]
        for index, work in enumerate(wall["works"]):
            grant("work", work, [wish for wish in wishes if wish.bears_on(number, index)], seed, number, index)
            work["id"] = f"work-{index}"
    return str(yaml.dump(data, Dumper=yaml.CSafeDumper, allow_unicode=True, sort_keys=False))


def one_or_two(*of: object) -> int:
    """One, or now and then two."""
    return (1, 1, 2)[below(3, *of)]


def arises(facts: Facts, path: ScopePath, name: str, held: Held) -> bool:
    """Whether a value is no answer, or one to a question that arises."""
    questions = shipped().questionnaire
    return held.origin != "given" or name not in questions.questions or questions.applies(facts, path, name) is True


def sensible(facts: Facts) -> Facts:
    """The facts without the answers to questions that do not arise, as a careful surveyor would leave them.

    What such a question is taken to be where nobody answers it stays.
    """
    library = shipped()
    usual = {
        name: Held(value, "default")
        for name, question in library.questionnaire.questions.items()
        if (value := default_of(question)) is not None
    }
    while True:
        kept = {
            path: {
                name: held if arises(facts, path, name, held) else usual[name]
                for name, held in values.items()
                if name in usual or arises(facts, path, name, held)
            }
            for path, values in facts.values.items()
        }
        if kept == facts.values:
            return facts
        facts = replace(facts, values=kept)


@dataclass(frozen=True)
class Aim:
    """Turns conditions into wishes, choosing by chance among their ways and among walls and works."""

    seed: int
    walls: int
    works: int

    def wished(self, node: Node, truth: bool, place: Place) -> Iterator[Wish]:
        """What to wish for so that a condition comes out true, or false."""
        if isinstance(node, Not):
            yield from self.wished(node.part, not truth, place)
        elif isinstance(node, Both):
            together = (node.word == "and") == truth
            for part in node.parts if together else shuffled(node.parts, self.seed, place)[:1]:
                yield from self.wished(part, truth, place)
        elif isinstance(node, Within):
            yield from self.within(node, truth == (node.word == "any"), place)
        else:
            yield Wish(node, truth, place)

    def within(self, node: Within, truth: bool, place: Place) -> Iterator[Wish]:
        """The wishes of an inward look: one scope where it is to hold, every scope where it is not to."""
        of = (self.seed, place, node)
        wall = below(self.walls, *of, "wall") if node.level == "element" else place.wall
        inside = Place(wall, below(self.works, *of, "work")) if truth else Place(None, None)
        yield from self.wished(node.part, truth, inside)

    def behind(self, wishes: list[Wish]) -> Iterator[Wish]:
        """What else must be wished for: that the questions behind wishes arise, and the rows of tables serve."""
        seen: set[tuple[str, Place]] = set()
        waiting = list(wishes)
        while waiting:
            wish = waiting.pop()
            if (wish.name, wish.place) in seen:
                continue
            seen.add((wish.name, wish.place))
            condition = shipped().questionnaire.conditions.get(wish.name)
            found = list(self.wished(condition.node, True, wish.place)) if condition is not None else []
            found += self.tabled(wish)
            waiting += found
            yield from found

    def tabled(self, wish: Wish) -> list[Wish]:
        """The keys of one row that gives a worked-out name a value that fits."""
        name = LISTED_BY.get(wish.leaf.name, wish.leaf.name)
        tables = [table for table in shipped().tables.values() if name in table.values]
        rows = [row for table in tables for row in table.rows if _gives(row.values[name], wish)]
        if not rows:
            return []
        cells = {name: cell for name, cell in shuffled(rows, self.seed, wish)[0].keys.items() if cell != "any"}
        wanted = {name: tuple(cell) if isinstance(cell, list | tuple) else (cell,) for name, cell in cells.items()}
        return [Wish(Compare(name, "in", words), True, wish.place) for name, words in wanted.items()]


def _gives(cell: Any, wish: Wish) -> bool:
    """Whether what a row gives fits a wish: itself, or one of the things it lists."""
    return any(fits(value, wish) for value in cell) if wish.leaf.name in LISTED_BY else fits(cell, wish)


def grant(scope: str, answers: dict[str, Any], wishes: list[Wish], *of: object) -> None:
    """Puts answers in place that fit every wish about them, where there are any that do."""
    questions = {question.name: question for question in shipped().questionnaire.of(scope)}
    by_name: dict[str, list[Wish]] = {}
    for wish in wishes:
        by_name.setdefault(wish.name, []).append(wish)
    for name, own in by_name.items():
        if name not in questions:
            continue
        tried = shuffled(list(candidates(questions[name], own)), *of, name)
        good = next((value for value in tried if all(fits(value, wish) for wish in own)), answers.get(name))
        answers[name] = good
        if good is None:
            del answers[name]


def candidates(question: Question, wishes: list[Wish]) -> Iterator[Any]:
    """Answers worth trying: every choice, and figures and dates on both sides of each limit."""
    yield None
    words = [choice.is_ for choice in question.choices]
    if question.kind == "choice":
        yield from words
    elif question.kind == "choices":
        yield from ([], *([word] for word in words), words)
    elif question.kind == "yes_no":
        yield from ("yes", "no")
    elif question.kind in ("number", "range"):
        yield from filter(lambda value: _allowed(question, value), _figures(wishes))
    elif question.kind == "date":
        yield from ("2027-01-20", "2027-05-10", "2027-08-01", "2027-11-30")
    elif question.kind == "month_day":
        yield from ("10-20", "05-01")
    elif question.kind in ("text", "file"):
        yield "a text"


def _figures(wishes: list[Wish]) -> Iterator[str]:
    limits = {wish.leaf.literal for wish in wishes if isinstance(wish.leaf, Compare)}
    for limit in [item for item in limits if isinstance(item, Decimal)] or [Decimal(2)]:
        yield from (str(limit + step) for step in (Decimal(-2), Decimal("-0.2"), 0, Decimal("0.2"), 3))


def _allowed(question: Question, value: str) -> bool:
    least, most = question.least, question.most
    number = Decimal(value)
    return number >= (least if least is not None else 0) and (most is None or number <= most)


_TESTS: dict[str, Callable[[Any, Any], bool]] = {
    "==": operator.eq,
    "!=": operator.ne,
    "<": operator.lt,
    "<=": operator.le,
    ">": operator.gt,
    ">=": operator.ge,
    "in": lambda a, b: a in b,
    "not in": lambda a, b: a not in b,
    "has": lambda a, b: b in a,
}


def fits(value: object, wish: Wish) -> bool:
    """Whether an answer as spelt makes a leaf come out as wished."""
    leaf = wish.leaf
    if isinstance(leaf, Known):
        return (value is not None and value != "not known") == wish.truth
    if value is None:
        return False
    if isinstance(leaf, IsTrue):
        return (value == "yes") == wish.truth
    meant = _meant(value, leaf.literal)
    return meant is not None and _TESTS[leaf.operator](meant, leaf.literal) == wish.truth


def _meant(value: object, literal: object) -> object:
    """An answer as the thing that its literal is: a number, a date or a word; None where it is no such thing."""
    like = literal[0] if isinstance(literal, tuple) else literal
    try:
        if isinstance(like, Decimal):
            return Decimal(str(value))
        return datetime.date.fromisoformat(str(value)) if isinstance(like, datetime.date) else value
    except (ArithmeticError, ValueError, TypeError):
        return None
