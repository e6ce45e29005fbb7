"""Which question comes next: a state machine over the facts so far and the sitting; it reads and prints nothing.

Three passes, each wider than the one before: `needed` asks what makes a draft while it is open, `wanted` also what
leaves a warning, `further` also what has a default or may stay open. What does not apply is never asked. The kinds
of work on an element come before its other questions, which hang on them; what hangs on answers further in comes
after those.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final, TypeAlias

from generator.files.source import Path_
from generator.questionnaire.answers import CHILDREN, ID, MAX_ID
from generator.questionnaire.facts import Facts
from generator.questionnaire.questions import STRUCTURE, Question, Questionnaire
from generator.questionnaire.scopes import PROJECT, ScopePath
from generator.values import replace

PASSES: Final = ("needed", "wanted", "further")
_NEEDS: Final = {
    "needed": ("required", "block"),
    "wanted": ("required", "block", "warning"),
    "further": ("required", "block", "warning", "none"),
}
# An answer's place: the scope it is of, and the name of its question; `NAME` for what an element is called.
Place: TypeAlias = tuple[ScopePath, str]
NAME: Final = "name"
ZONES: Final = "zones"
BOUNDARY: Final = "zone_boundary"
_QUANTITIES: Final = ("number", "range", "records")


@dataclass(frozen=True, slots=True)
class Ask:
    """Ask a question of a scope."""

    path: ScopePath
    question: Question


@dataclass(frozen=True, slots=True)
class AskName:
    """Ask what an element is called; with the path `()`, what the next element is called."""

    path: ScopePath = PROJECT


@dataclass(frozen=True, slots=True)
class AskWork:
    """Ask which work is done on an element: the first, or a further one."""

    path: ScopePath


@dataclass(frozen=True, slots=True)
class More:
    """Ask whether there is more: a work or a zone of an element (of the last, unless another is named), an element."""

    path: ScopePath


@dataclass(frozen=True, slots=True)
class Offer:
    """Offer the next pass, with so many questions in it."""

    upto: str
    count: int


@dataclass(frozen=True, slots=True)
class Done:
    """Nothing is left to ask."""


Step = Ask | AskName | AskWork | More | Offer | Done


@dataclass(frozen=True, slots=True)
class Sitting:
    """What the answers file does not hold: how far to ask, what was left, what came before.

    `again` are places to be asked although they are answered; `complete` once there is no more to add.
    """

    upto: str = PASSES[0]
    left: frozenset[Place] = frozenset()
    again: tuple[Place, ...] = ()
    before: tuple[Place, ...] = ()
    complete: bool = False
    ended: bool = False

    def answered(self, place: Place) -> Sitting:
        """After an answer at a place."""
        rest = tuple(other for other in self.before if other != place)
        return replace(self._without(place), before=(*rest, place), left=self.left - {place})

    def leaving(self, place: Place) -> Sitting:
        """After a question was left as it stands: open, or with its default."""
        after = self.answered(place)
        return replace(after, left=after.left | {place})

    def back(self) -> Sitting | None:
        """At the question before; None where this is the first."""
        if not self.before:
            return None
        last = self.before[-1]
        return replace(
            self,
            before=self.before[:-1],
            again=(last, *self.again),
            complete=False,
            ended=False,
        )

    def asking_again(self, places: tuple[Place, ...]) -> Sitting:
        """With places to be asked next, whether they are answered or not."""
        return replace(self, again=(*places, *self.again))

    def moved(self, old: str, new: str) -> Sitting:
        """After the element of one id has become one of another id."""

        def place(at: Place) -> Place:
            return ((new, *at[0][1:]), at[1]) if at[0][:1] == (old,) else at

        again, before = (tuple(map(place, places)) for places in (self.again, self.before))
        return replace(self, again=again, before=before, left=frozenset(map(place, self.left)))

    def dropped(self, path: ScopePath) -> Sitting:
        """After a scope was taken out of the answers."""

        def stays(at: Place) -> bool:
            return at[0][: len(path)] != path

        again, before = (tuple(filter(stays, places)) for places in (self.again, self.before))
        return replace(self, again=again, before=before, left=frozenset(filter(stays, self.left)))

    def completed(self) -> Sitting:
        """After the last work of the last element."""
        return replace(self, complete=True)

    def ending(self) -> Sitting:
        """After a wider pass was declined."""
        return replace(self, ended=True)

    def widened(self, upto: str) -> Sitting:
        """In a wider pass; what was left in a narrower one stays left."""
        return replace(self, upto=max(self.upto, upto, key=PASSES.index))

    def _without(self, place: Place) -> Sitting:
        return replace(self, again=tuple(other for other in self.again if other != place))


def begun(facts: Facts) -> Sitting:
    """The sitting that goes on with answers as they stand: after the last of them."""
    return Sitting(before=tuple(given(facts)))


def given(facts: Facts) -> Iterator[Place]:
    """The places of all that is answered in words, the names of elements among them."""
    for path, scope in facts.scopes.items():
        if scope.level == "element":
            yield path, NAME
        for name, held in facts.values.get(path, {}).items():
            if held.origin == "given" and name not in STRUCTURE[scope.level] and _is_worded(facts, name):
                yield path, name


def _is_worded(facts: Facts, name: str) -> bool:
    """Whether a question is answered in words: photographs are marked on a picture."""
    return name not in facts.names or facts.names[name].kind != "photographs"


def next_step(facts: Facts, questionnaire: Questionnaire, sitting: Sitting) -> Step:
    """What to ask next."""
    return next(_steps(facts, questionnaire, sitting))


def _steps(facts: Facts, questionnaire: Questionnaire, sitting: Sitting) -> Iterator[Step]:
    yield from _again(facts, questionnaire, sitting)
    elements = facts.at("element")
    yield from _open(facts, questionnaire, sitting, PROJECT, late=False)
    for element in elements:
        yield from _of_element(facts, questionnaire, sitting, element.path)
    if not elements:
        yield AskName()
    elif not sitting.complete:
        yield More(elements[-1].path)
    yield from _open(facts, questionnaire, sitting, PROJECT, late=True)
    if not sitting.ended:
        yield from _offers(facts, questionnaire, sitting)
    yield Done()


def _again(facts: Facts, questionnaire: Questionnaire, sitting: Sitting) -> Iterator[Step]:
    for path, name in sitting.again:
        if path != PROJECT and path not in facts.scopes:
            continue
        if name == NAME:
            yield AskName(path)
        elif questionnaire.applies(facts, path, name):
            yield Ask(path, questionnaire.questions[name])


def _of_element(facts: Facts, questionnaire: Questionnaire, sitting: Sitting, path: ScopePath) -> Iterator[Step]:
    if not facts.inside(path, "work"):
        yield AskWork(path)
    yield from _open(facts, questionnaire, sitting, path, late=False)
    for inner in [other for other in facts.scopes if other[:1] == path and other != path]:
        yield from _open(facts, questionnaire, sitting, inner)
    yield from _open(facts, questionnaire, sitting, path, late=True)


def rest_of(facts: Facts, questionnaire: Questionnaire, sitting: Sitting, path: ScopePath) -> tuple[Place, ...]:
    """What this pass still asks of the element that a scope lies in, or of the whole job; what it asks again too."""
    scopes = [other for other in paths(facts) if other[:1] == path[:1]]
    still = [(step.path, step.question.name) for at in scopes for step in _open(facts, questionnaire, sitting, at)]
    again = [place for place in sitting.again if place[0][:1] == path[:1]]
    return tuple(place for place in dict.fromkeys((*again, *still)) if place[1] not in (NAME, "work"))


def parted(facts: Facts, questionnaire: Questionnaire, sitting: Sitting) -> dict[tuple[str, str], tuple[Place, ...]]:
    """What a pass asks, by the element it is of, or for the whole job by the heading that it stands under."""
    found: dict[tuple[str, str], tuple[Place, ...]] = {}
    headings = _headings(questionnaire)
    for path in paths(facts):
        for step in _open(facts, questionnaire, sitting, path):
            key = ("", headings[step.question.name]) if path == PROJECT else (path[0], "")
            found[key] = (*found.get(key, ()), (path, step.question.name))
    return found


def _headings(questionnaire: Questionnaire) -> dict[str, str]:
    """The heading that each question of the whole job stands under."""
    found, heading = dict[str, str](), ""
    for question in questionnaire.of("project"):
        heading = question.heading or heading
        found[question.name] = heading
    return found


def _open(
    facts: Facts, questionnaire: Questionnaire, sitting: Sitting, path: ScopePath, *, late: bool | None = None
) -> Iterator[Ask]:
    """The questions of a scope that this pass asks and nobody has answered or left.

    `late` takes those alone that hang on answers of scopes inside it, or those alone that do not.
    """
    given = facts.values.get(path, {})
    for question in _of_pass(facts, questionnaire, sitting.upto, path):
        held = given.get(question.name)
        asked = held is None or (held.origin == "default" and sitting.upto == PASSES[-1])
        timely = late is None or late is _is_late(questionnaire, question)
        if asked and timely and (path, question.name) not in sitting.left:
            yield Ask(path, question)


def _is_late(questionnaire: Questionnaire, question: Question) -> bool:
    """Whether a question hangs on answers of scopes inside its own; the kinds of work on an element are known first."""
    conditions = (questionnaire.conditions.get(question.name), questionnaire.needed.get(question.name))
    early = {"work"} if question.scope == "element" else set()
    return any(found is not None and not found.names_inside() <= early for found in conditions)


def _of_pass(facts: Facts, questionnaire: Questionnaire, upto: str, path: ScopePath) -> Iterator[Question]:
    for question in questionnaire.of(level_of(path)):
        if not _is_worded(facts, question.name):
            continue
        need = questionnaire.need(facts, path, question)
        if need in _NEEDS[upto] and questionnaire.applies(facts, path, question.name):
            yield question


def _offers(facts: Facts, questionnaire: Questionnaire, sitting: Sitting) -> Iterator[Offer]:
    for upto in PASSES[PASSES.index(sitting.upto) + 1 :]:
        count = open_count(facts, questionnaire, sitting.widened(upto))
        if count:
            yield Offer(upto, count)


def open_count(facts: Facts, questionnaire: Questionnaire, sitting: Sitting) -> int:
    """How many questions are open in the pass of a sitting and were not left in it."""
    return sum(1 for path in paths(facts) for _ in _open(facts, questionnaire, sitting, path))


def progress(facts: Facts, questionnaire: Questionnaire, sitting: Sitting, step: Ask) -> tuple[int, int]:
    """Which of how many questions of its scope a question is, among those that this pass asks there."""
    asked = [question.name for question in _of_pass(facts, questionnaire, sitting.upto, step.path)]
    listed = [
        question.name
        for question in questionnaire.of(level_of(step.path))
        if question.name in asked or question is step.question
    ]
    return listed.index(step.question.name) + 1, len(listed)


def own_answers(questionnaire: Questionnaire) -> frozenset[str]:
    """The names whose answers are a wall's own, so that a copy of it is without them: quantities, and what says so."""
    return frozenset(
        question.name
        for question in questionnaire.questions.values()
        # a figure of a wall itself, such as the size of its units, is the same on the next
        if question.own or (question.scope == "work" and _is_quantity(question))
    )


def _is_quantity(question: Question) -> bool:
    """Whether a question asks how much there is of something: a rate, such as output in a day, is none."""
    return question.kind in _QUANTITIES and "/" not in question.as_name().unit


def inherited(facts: Facts, questionnaire: Questionnaire, zone: ScopePath) -> tuple[Place, ...]:
    """The places of the answers that a new zone has from its whole wall, each of which may differ here."""
    held = facts.values.get(zone, {})
    asked = [question.name for question in questionnaire.of("element") if question.name != BOUNDARY]
    return tuple((zone, name) for name in asked if name in held and held[name].origin == "given")


def paths(facts: Facts) -> Iterable[ScopePath]:
    """Every path of a job, that of the whole job first, which has no scope until something of it is answered."""
    return dict.fromkeys((PROJECT, *facts.scopes))


def level_of(path: ScopePath) -> str:
    """The level of what a path leads to."""
    return ("project", "element", "work", "coat")[len(path)]


# --- the answers file ---------------------------------------------------------------------------------------


def where(data: Any) -> dict[ScopePath, Path_]:
    """The place in untyped answers of each scope's mapping, by the scope's path; a zone is an element by itself."""
    found: dict[ScopePath, Path_] = {PROJECT: ("project",)}
    for index, item in enumerate(elements_of(data)):
        key, place = _key(item), ("elements", index)
        if ZONES in item:
            for number, zone in enumerate(_mappings(item[ZONES])):
                _scope_at(zone, (f"{key}-{_key(zone)}",), (*place, ZONES, number), "element", found)
        else:
            _scope_at(item, (key,), place, "element", found)
    return found


def _scope_at(
    item: Mapping[str, Any], path: ScopePath, place: Path_, level: str, found: dict[ScopePath, Path_]
) -> None:
    found[path] = place
    if level in CHILDREN:
        name, below = CHILDREN[level]
        for index, inner in enumerate(_mappings(item.get(name))):
            _scope_at(inner, (*path, _key(inner)), (*place, name, index), below, found)


def elements_of(data: Any) -> list[Mapping[str, Any]]:
    """The elements of untyped answers, as they are listed."""
    return _mappings(data.get("elements")) if isinstance(data, Mapping) else []


def element_at(data: Any, place: Path_) -> dict[str, Any]:
    """The untyped answers of the element at a place; of a zone with those of its whole wall."""
    element = dict(elements_of(data)[int(place[1])])
    if len(place) < 3:
        return element
    zone = _mappings(element.pop(ZONES))[int(place[3])]
    return {**element, **zone}


def _mappings(items: Any) -> list[Mapping[str, Any]]:
    return [item if isinstance(item, Mapping) else {} for item in items] if isinstance(items, list) else []


def _key(item: Mapping[str, Any]) -> str:
    return str(item.get("id", item.get("work")))


def can_go_on(data: Any, facts: Facts) -> bool:
    """Whether every scope of untyped answers has a place and an id that can be used, so that answers can be added."""
    known = dict(data or {}) if isinstance(data, Mapping | None) else {"project": data}
    elements = elements_of(known)
    walls = [zone for item in elements for zone in (_mappings(item[ZONES]) if ZONES in item else [item])]
    lists = [known.get("elements"), *(item.get("works") for item in walls)]
    return (
        isinstance(known.get("project"), Mapping | None)
        and all(_is_listing(items) for items in lists)
        and all(bool(item[ZONES]) and _is_listing(item[ZONES]) for item in elements if ZONES in item)
        and set(facts.scopes) <= set(where(known))
    )


def _is_listing(items: Any) -> bool:
    return items is None or (isinstance(items, list) and all(isinstance(item, Mapping) for item in items))


def keys_before(questionnaire: Questionnaire, level: str, name: str) -> tuple[str, ...]:
    """The keys that stand before a question's in the file: those of its scope's own, and of questions before it."""
    own = [key for key in STRUCTURE[level] if key in ("id", NAME)]
    names = [question.name for question in questionnaire.of(level)]
    return (*own, *names[: names.index(name)]) if name in names else tuple(own)


def new_id(name: str, taken: set[str]) -> str:
    """An id made from a name, unlike those taken: `Front wall` -> `front-wall`, `front-wall-2`."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    words = re.findall(r"[a-z0-9]+", plain)
    base = "-".join(words)[: MAX_ID - 4].strip("-")
    if not ID.match(base):
        base = f"part-{base}".strip("-")[: MAX_ID - 4].strip("-")
    found, count = base, 1
    while found in taken:
        count += 1
        found = f"{base}-{count}"
    return found


def copied(element: Mapping[str, Any], key: str, name: str) -> dict[str, Any]:
    """The untyped answers of an element under another id and name; blank ones are left out."""
    return {**_without_blanks(element), "id": key, "name": name}


def _without_blanks(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: _without_blanks(item) for key, item in value.items() if item is not None}
    if isinstance(value, list):
        return [_without_blanks(item) for item in value if item is not None]
    return value
