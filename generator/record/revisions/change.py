"""One difference between two records, and what a record says of a clause."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal, InvalidOperation
from typing import Any

from generator.record.revisions.places import Path
from generator.values import Struct

Record = Mapping[str, Any]


class Change(Struct, frozen=True):
    """One difference. `kind` is added, changed or removed; `name` what changed, `where` the ids of its scope.

    `place` is that scope in words. `number` is that of the clause, line or mix; `clauses` are the numbers of those that
    print a changed value; `worked_out` where nobody answered it.
    """

    about: str
    kind: str
    key: str
    name: str
    old: str = ""
    new: str = ""
    where: Path = ()
    number: str = ""
    unit: str = ""
    clauses: tuple[str, ...] = ()
    worked_out: bool = False
    place: str = ""

    @property
    def difference(self) -> Decimal | None:
        """New less old, in the change's unit; what is absent counts as 0. None where either is no number."""
        try:
            return Decimal(self.new or "0") - Decimal(self.old or "0")
        except InvalidOperation:
            return None

    @property
    def is_renumbering(self) -> bool:
        """Whether a clause has another number and the same words; then old and new are numbers."""
        return self.about == "clauses" and self.kind == "changed" and title(self.new) != self.name


def kind_of(old: object, new: object) -> str:
    """Whether a thing was added, changed or removed."""
    return "added" if not old else "changed" if new else "removed"


def in_papers(record: Record) -> dict[str, Record]:
    """The clauses that the papers of a record print, by id."""
    return {clause["id"]: clause for clause in record["clauses"] if clause["included"]}


def words_of(clause: Record) -> str:
    """The words of a clause below its number."""
    text, number = str(clause["text"]), clause.get("number")
    return text.removeprefix(f"{number} ") if number else text


def title(clause_text: str) -> str:
    """The title of a clause, which is its first line."""
    return clause_text.partition("\n")[0]


def wording(clause: Record) -> object:
    """What stands for the words that a clause was written in, whatever values fill them."""
    # a record of before wordings were kept is compared by what was printed
    return clause.get("wording") or words_of(clause)
