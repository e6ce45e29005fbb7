"""Tasks of the programme as the library declares them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final, Literal

from generator.files.shapes import Shape
from generator.library.tables import Id

TaskKind = Literal["work", "hold", "access", "wait", "damp", "cover", "follow", "mark"]
ELAPSED: Final = ("wait", "damp", "cover", "follow")
OWN: Final = "own"
OR: Final = " or "
PLACES: Final = (
    "coat-before", "works-before", "works-after", "curing-walls", "cured-walls", "access-host", "access-guests",
    "wall-below", "other-side",
)  # fmt: skip
HOLE: Final = re.compile(r"\{([a-z0-9_]+)\}")
_NUMBER: Final = re.compile(r"[0-9]{1,3}\Z")


class TaskEntry(Shape, frozen=True):
    """One task wherever its condition holds: how long it takes, who does it, and what it comes after.

    `work`, `hold` and `access` take worked days, `wait`, `damp`, `cover` and `follow` elapsed ones. A `follow` only
    follows the works and moves no end; a `mark` takes no time and stands for what it comes after.

    Days are those of an `output` of the table of outputs, of a `table` of waits (its columns start with `value`,
    its `row` is the key that no name has), or `days`: a number or a name. `times` is a name that multiplies them,
    `times_less` how many of those are tasks of their own.
    `joins`: its days are counted in another task of the same place, of alternatives in the first that is there; a hold
    is met on the days of that task.
    `lays`: lime is laid by it, in its season only. `fills`: its mortar is mixed on its own days, none of a coat's, and
    the mix card calls it so; `in_wall_mix`: in the mix of a coat of its wall, and covered as that is.
    `one_for_each_mix`: it is made once for all works of a kind in the same mixes and finish on the same masonry.
    `late`: it is begun when what follows needs it and no sooner. `stays`: its gang goes to no other wall before
    it has done what follows here. `at_once`: it is not held back where the lime of its wall waits for spring.
    `made`: it is a wait that somebody begins, on a worked day. A `mark` with a condition stands for nothing
    where that does not hold. `since`: of what follows, the tasks at whose first end it begins. `stands`: what
    is hired from the first task so marked to the last. `short` is its label
    where a picture has no room for that. What is not `drawn` has no bar in that picture unless it decides the end.

    `after` names tasks: of the same place, or as `works-before/ready` of the works before it on the wall, of those
    after it, of the coat before, of the walls on which its causes are put right, of those whose causes are put right
    on it, of the wall on which it stands, or of that which is its other side; `this or that` is the first that is
    there. A task of the same place, or around it, that is not there stands for what it comes after itself, but for no
    other works or coats of its wall, as a mark does.
    """

    id: Id
    kind: TaskKind
    per: Literal["element", "work", "coat"] = "work"
    when: str = ""
    if_unknown: Literal["include", "exclude"] = "exclude"
    label: str = ""
    short: str = ""
    trade: str = ""
    output: str = ""
    days: str = ""
    table: str = ""
    row: str = ""
    value: str = ""
    times: str = ""
    times_less: int = 0
    joins: str = ""
    hold: str = ""
    lays: bool = False
    fills: Literal["", "packing", "dubbing", "mending", "bedding", "coping", "filling", "moulding"] = ""
    in_wall_mix: bool = False
    one_for_each_mix: bool = False
    late: bool = False
    stays: bool = False
    at_once: bool = False
    made: bool = False
    stands: str = ""
    drawn: bool = True
    since: tuple[str, ...] = ()
    not_before: str = ""
    after: tuple[str, ...] = ()

    @property
    def number(self) -> int | None:
        """The days where they are a number; None where they are a name, or reckoned."""
        return int(self.days) if _NUMBER.match(self.days) else None

    def links(self) -> Iterator[tuple[str, str]]:
        """What it comes after: where (`""` for the same place, or one of `PLACES`), and which task, or alternatives."""
        for named in self.after:
            place, _, task = named.rpartition("/")
            yield place, task


def column(value: str, end: str) -> str:
    """What a table calls the low, likely or high end of a value."""
    return f"{value}_{end}" if value else end
