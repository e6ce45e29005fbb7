"""The questions: what is asked, of which scope, when, and how the answer is spelt."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import Annotated, Any, Final, Literal

from generator.files.shapes import Number, Shape, like
from generator.questionnaire.columns import Truth
from generator.questionnaire.condition import Condition
from generator.questionnaire.customs import Customary, customs_of
from generator.questionnaire.facts import Facts
from generator.questionnaire.names import Name, Names
from generator.questionnaire.scopes import ScopePath
from generator.values import Struct, field, unit_of

Kind = Literal[
    "choice", "choices", "number", "range", "text", "texts", "date", "month_day", "yes_no", "records", "file",
    "photographs",
]  # fmt: skip
Need = Literal["required", "block", "warning", "none"]
Owner = Literal["building", "practice", "job"]
ScopeWord = Literal["project", "element", "work", "coat"]
# The keys of an answers file that are no questions, by the scope they stand in.
STRUCTURE: Final[Mapping[str, tuple[str, ...]]] = {
    "project": (),
    "element": ("id", "name", "works", "zones"),
    "work": ("id", "coats"),
    "coat": ("id",),
}


class Choice(Shape, frozen=True):
    """One choice: `is` as written in answers, `says` as it stands in a sentence, `means` for the asker."""

    is_: Annotated[str, like(r"^[a-z0-9][a-z0-9.-]*$")] = field(name="is")
    says: str
    means: str = ""


class RecordField(Shape, frozen=True):
    """One column of a list of records."""

    name: Annotated[str, like(r"^[a-z][a-z0-9_]*$")]
    label: str
    kind: Literal["choice", "number", "text", "date"] = "text"
    choices: tuple[Choice, ...] = ()
    required: bool = False


class Question(Shape, frozen=True):
    """A question as declared in `clauses/questions/`.

    `need` says what follows when it applies and has no answer: `required` (the answers cannot be read),
    `block` (a draft until answered), `warning`, or `none`. `unknown_is` the same for "not known".
    `needed_when` narrows `need`: where it does not hold, the answer may stay open although the question applies.
    `least` and `most` limit numbers by value and texts by length. `was` are names that it had before: answers under
    them are still read. Where questions stand on a page, it and those after it stand under its `heading`, if it has
    one, up to the next that has another. `own` tells that the answer is of one wall alone, so that a copy of the wall
    is asked it anew; so are the quantities of works, without it.
    `belongs_to` tells whose the answer is: the building's or the practice's, which a new job takes over from an old
    one, or the job's, which it is asked anew; unsaid, an element's are the building's and others the job's.
    `nothing` are the ways in which a text says that there is none, in small letters; it is kept as the first of them.
    `less` is the list of records of the same scope, by width, height and count, that comes off an area. `customary`
    says how the answer goes into customary units, where its unit does not.
    """

    name: Annotated[str, like(r"^[a-z][a-z0-9_]*$")]
    scope: ScopeWord
    kind: Kind
    label: str
    why: str
    was: tuple[str, ...] = ()
    how: str = ""
    when: str = ""
    choices: tuple[Choice, ...] = ()
    fields: tuple[RecordField, ...] = ()
    least: Number | None = None
    most: Number | None = None
    default: Any = None
    default_because: str = ""
    need: Need = "none"
    needed_when: str = ""
    not_known: bool = False
    unknown_is: Literal["block", "warning", "none"] = "none"
    answer_by: str = "specifier"
    phrase: str = ""
    example: str = ""
    heading: str = ""
    own: bool = False
    belongs_to: Owner | None = None
    less: str = ""
    nothing: tuple[str, ...] = ()
    customary: Customary | None = None

    @property
    def whose(self) -> Owner:
        """Whose its answer is, by what it says or else by its scope."""
        return self.belongs_to or ("building" if self.scope == "element" else "job")

    def as_name(self) -> Name:
        """The name it declares."""
        said = {choice.is_: choice.says for choice in self.choices}
        columns = Names(
            {column.name: Name(column.name, self.scope, column.kind, column.label) for column in self.fields}
        )
        customs = customs_of(self.customary, self.kind, unit_of(self.name), asked=True)
        return Name(self.name, self.scope, self.kind, self.label, self.phrase, said, columns=columns, customs=customs)


class Questionnaire(Struct, frozen=True, dict=True):
    """All questions in the order they are asked, with their checked conditions: of applying, and of being needed."""

    questions: Mapping[str, Question]
    conditions: Mapping[str, Condition]
    needed: Mapping[str, Condition] = field(default_factory=dict)

    def of(self, scope: str) -> tuple[Question, ...]:
        """The questions of a scope, in order."""
        return self._by_scope.get(scope, ())

    @cached_property
    def _by_scope(self) -> Mapping[str, tuple[Question, ...]]:
        found: dict[str, tuple[Question, ...]] = {}
        for question in self.questions.values():
            found[question.scope] = (*found.get(question.scope, ()), question)
        return found

    def applies(self, facts: Facts, path: ScopePath, name: str) -> Truth:
        """Whether a question is asked at a scope: true, false, or unknown while its own condition is."""
        condition = self.conditions.get(name)
        return True if condition is None else condition.holds(facts, path)

    def need(self, facts: Facts, path: ScopePath, question: Question) -> Need:
        """What follows at a scope while a question has no answer; in doubt as if it were needed."""
        condition = self.needed.get(question.name)
        spared = condition is not None and condition.holds(facts, path) is False
        return "none" if spared else question.need
