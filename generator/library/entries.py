"""The entries of the library's files as they are written: clauses, recipes, findings, items, operations, sources."""

from __future__ import annotations

import hashlib
import json
import re
from decimal import Decimal
from typing import Annotated, Final, Literal

from generator.files.shapes import FILLED, Asked, InOrder, Limited, Number, Shape, Whole, like, names_of, within
from generator.library.cost_places import TOLD, Cost
from generator.library.figures import NAME, Amount
from generator.library.tables import Id
from generator.questionnaire.customs import Customary
from generator.questionnaire.questions import Choice
from generator.values import field

Scope = Literal["project", "element", "work", "coat", "mix"]
Making = Literal["putty", "nhl", "hot-mix", "limewash"]
WhoAnswers = Literal["specifier", "owner", "officer", "engineer", "ecologist", "contractor", "surveyor"]
Parts = Annotated[Number, within(0.1, 11)]  # one of lime to eleven fill the greatest count of boxes
PerCent = Annotated[Number, within(0, 100)]
_NUMBER: Final = re.compile(r"[0-9]{1,12}(\.[0-9]{1,6})?\Z")


class SourceEntry(Shape, frozen=True):
    """A published document, or one of the two that stand for none: `common-practice`, `from-memory`.

    `not_for` are the languages of papers that list it nowhere: a law that binds elsewhere.
    """

    id: Id
    title: str
    edition: str = ""
    note: str = ""
    not_for: tuple[str, ...] = ()


class Clause(Shape, frozen=True):
    """One clause. `per` is the scope it is written for; `when` its condition there (always, if empty).

    `cost` says which lines pay for what it asks, or that nobody does. `makings` are the ways of making that its words
    are written for; all of them, if empty. `figures` are those that occur in it alone, by name: of the clause's own
    sources; `customary` what they are in customary units (`3 ft`), or a kind (`metric`, `both`), where they are not
    reckoned.
    """

    id: Id
    title: str
    text: str
    cost: Annotated[Cost, Asked(f"say where its cost lies: {TOLD}")]
    sources: tuple[str, ...]
    per: Scope = "project"
    when: str = ""
    if_unknown: Literal["include", "exclude"] = "exclude"
    check: str = ""
    because: str = ""
    advice: str = ""
    keep: bool = False
    makings: tuple[Making, ...] = ()
    figures: dict[str, Amount] = field(default_factory=dict)
    customary: dict[str, str] = field(default_factory=dict)


CLAUSE_FIELDS: Final = tuple(
    dict.fromkeys(("id", "title", "per", "when", "if_unknown", "text", "check", "because", "advice", *names_of(Clause)))
)
"""The fields of a clause in the order in which they are written."""

# Fields that a clause may do without count only where it has them: so hashes that layers hold stay as they were.
_LATER: Final = frozenset({"makings", "figures", "customary"})

_SPELLER: Final = json.JSONEncoder(sort_keys=True, ensure_ascii=False, default=str)


def clause_hash(clause: Clause) -> str:
    """Twelve hex digits that stand for every word and condition of a clause, whatever layer it is of."""
    given = {name: getattr(clause, name) for name in CLAUSE_FIELDS}
    fields = {name: value for name, value in given.items() if value or name not in _LATER}
    text = _SPELLER.encode(fields)
    return hashlib.sha256(text.encode()).hexdigest()[:12]


class Part(Shape, frozen=True):
    """A part of the specification in the order of the trade; `shows` names a table the program makes."""

    id: Id
    title: str
    shows: Literal["", "mixes", "drawings", "programme", "glossary", "references", "hold-points"] = ""


class Ratio(InOrder, frozen=True):
    """Parts of aggregate to one of lime on the stated basis, as published, with the value chosen."""

    low: Parts
    chosen: Parts
    high: Parts
    because: str = ""


class Recipe(Shape, frozen=True):
    """A mortar: what is in it, on which basis, how made, how long it rests and keeps, where it serves."""

    id: Id
    name: str
    binder: str
    making: Making
    lime: str
    sand: str
    basis: str
    ratio: Ratio
    serves: tuple[str, ...]
    rest_days: Annotated[Number, within(0, 365)]
    use_within_hours: Annotated[Number, within(0, 8_760)]
    used: str
    water: str
    because: str
    sources: tuple[str, ...]
    pozzolan: str = ""
    filler: str = ""
    pozzolan_per_cent: PerCent = Decimal(0)
    pozzolan_of: Literal["", "mortar", "binder"] = ""
    pozzolan_is_most: bool = False
    signs: str = ""


class FindingEntry(Shape, frozen=True):
    """A finding's words. With `when` it is raised wherever that holds; without, by the rule that names it.

    `message` is for the specifier; `instruction` is what tender papers say instead (empty: not shown there). `figures`
    are those that occur in it alone, by name: of its own sources; `customary` likewise, as of a clause. `clauses`
    bear the instruction: they say the same in full, and one of them must speak where it is printed; an instruction
    `stands_alone` where it only forbids or passes on an answer, and asks for nothing that a clause could hold or price.
    A sheet with a step of `told_by`, which says the same, does not list it besides.
    """

    code: Id
    level: Literal["note", "warning", "refusal", "block"]
    message: str
    action: str
    sources: tuple[str, ...]
    per: Scope = "project"
    when: str = ""
    if_unknown: Literal["raise", "skip"] = "skip"
    figures: dict[str, Amount] = field(default_factory=dict)
    customary: dict[str, str] = field(default_factory=dict)
    instruction: str = ""
    clauses: tuple[str, ...] = ()
    stands_alone: bool = False
    answer_by: WhoAnswers = "specifier"
    told_by: tuple[str, ...] = ()


class ItemEntry(Shape, frozen=True):
    """An item of the schedule. `quantity` is a name or a number; empty for rate-only items and sums.

    `coats` names the coats whose mixes the line takes: all of its work where it is absent, none where it is empty; of
    its wall, where the work has none of these.
    Which clauses it pays for is said by them; `besides` are lines whose clauses it pays for too: another part of the
    same, or more of it, and never what those lines hold. `notional` is how much of a rate-only line is reckoned with
    when tenders are compared, in `unit`, or as much as the name `notional_of` tells where it is known.
    `one_for_each_mix` is as for tasks.
    """

    id: Id
    group: Literal["preliminaries", "element", "provisional-sums", "dayworks", "rate-only", "optional", "contingency"]
    per: Scope
    description: str
    unit: Literal["m²", "m", "nr", "item", "sum", "week", "hour", "kg", "l", "m³"]
    when: str = ""
    if_unknown: Literal["include", "exclude"] = "exclude"
    includes: str = ""
    quantity: str = ""
    notional: Annotated[int, Limited(ge=1)] | None = None
    notional_of: str = ""
    kind: Literal["firm", "provisional", "rate only", "optional", "sum"] = "firm"
    provisional_when: str = ""
    coats: tuple[str, ...] | None = None
    besides: tuple[str, ...] = ()
    one_for_each_mix: bool = False
    sources: tuple[str, ...] = ()

    @property
    def fixed_quantity(self) -> Decimal | None:
        """The quantity where it is a number; None where it is a name, or there is none."""
        return Decimal(self.quantity) if _NUMBER.match(self.quantity) else None


class OperationEntry(Shape, frozen=True):
    """One step in the order of work: the foreman's line, and the clauses it rests on.

    Steps of a work stand on the sheet of its element, those of a mix on its card. `picture` is the key of a drawing
    (`drawing.steps`) and `shows` what it shows; `steps` are the numbered steps of the first clause that it tells.
    Of works on one wall that have the same step, the `first` or the `last` alone tells it where `once` says so.
    `before` are steps of other works on the wall, in front of the first of which it stands where there is one; `behind`
    those behind the last of which it stands, in the last work that has one.
    `holds` are the hold points, one of which stops work there.
    """

    id: Id
    text: str
    clauses: tuple[str, ...]
    per: Scope = "work"
    when: str = ""
    once: Literal["", "first", "last"] = ""
    before: tuple[str, ...] = ()
    behind: tuple[str, ...] = ()
    holds: tuple[str, ...] = ()
    picture: str = ""
    shows: str = ""
    steps: tuple[Whole, ...] = ()


class HoldPoint(Shape, frozen=True):
    """A point where work stops until somebody has released it; of its `clauses` one at least demands it.

    `access`: it `goes` once this is released, or has `gone` where what is seen comes weeks after the work.
    """

    id: Id
    what: str
    released_by: str
    notice: str
    notice_days: Whole
    per: Scope = "project"
    when: str = ""
    clauses: tuple[str, ...] = ()
    access: Literal["", "goes", "gone"] = ""


class RowValue(Shape, frozen=True):
    """A value that a row of a table gives, found by its keys as the scope sees them, where `when` holds.

    `value` is what the table calls it, where not as the name is called; `unknown` are keys that need not be known;
    `coat` is the coat of a work that the row is found for. What is `answered` stands in place of the row's number where
    it lies between two others of its numbers, `least` and `most`.
    """

    table: str
    value: str = ""
    when: str = ""
    unknown: tuple[str, ...] = ()
    coat: str = ""
    answered: str = ""
    least: str = ""
    most: str = ""


class Elsewhere(Shape, frozen=True):
    """Words that say of something that it stands elsewhere in the specification, and where that is.

    `at` is what others refer to it by (`table:mixes`, `part:curing`), or `sheet` for the sheet of each wall; `value` is
    the name that stands there for each wall, work, coat or mix of which the words are said.
    """

    id: Id
    says: Annotated[tuple[str, ...], FILLED]
    at: str
    value: str = ""


class SwapEntry(Shape, frozen=True):
    """Words that other readers have otherwise: `units` where units are customary, `words` in American English.

    `also` are other forms of the same.
    """

    says: str
    also: tuple[str, ...] = ()
    units: str = ""
    words: str = ""


class ReckonedName(Shape, frozen=True):
    """A value the program works out, declared so that conditions and texts can use it.

    What only looks a row up says so in `from`, of which the first that holds serves. Where no rule gives a reason for
    it, `how` says how it is reckoned, `of` which names it rests on, and `tables` in which tables the figures stand.
    """

    name: Annotated[str, like(NAME)]
    scope: Scope
    kind: Literal["choice", "choices", "number", "range", "text", "texts", "date", "yes_no"]
    label: str
    phrase: str = ""
    choices: tuple[Choice, ...] = ()
    from_: tuple[RowValue, ...] = field(default=(), name="from")
    how: str = ""
    of: tuple[str, ...] = ()
    tables: tuple[str, ...] = ()
    customary: Customary | None = None
