"""What a gang does in a day: outputs by operation, the people of a gang, and what the sample panel showed."""

from __future__ import annotations

from decimal import Decimal
from typing import Final

from generator.library.model import Library
from generator.library.tables import TableRow, fits
from generator.measure.quantities import fill_layers_nr, lift_days_nr, treated_range
from generator.questionnaire.facts import Record, View
from generator.values import Range, Struct, replace

DAY_HOURS: Final = 8.0
TREATED: Final = "treated_area_m2"
LAY: Final = "lay"
BEFORE_LAYING: Final = {"repoint": "rake", "rebuild": "take-down"}
"""The other of the two operations that an answered output of jointed work is shared out over, by work."""


class Gang(Struct, frozen=True):
    """The gangs of a trade that work at once, and the skilled people in each; `answered` where somebody said."""

    trade: str
    gangs_nr: int
    people_nr: int
    answered: bool = False

    @property
    def reckoned_nr(self) -> int:
        """The people that days are reckoned with: a gang of none has its finding, and is reckoned as of one."""
        return max(1, self.people_nr)


class Labour(Struct, frozen=True):
    """What an operation takes: a quantity, least to most, at an output of one skilled person and day.

    `answered` is the days in which the gang does one of it, by the output answered for the work; None by the table's.
    `deeper` is the row by which joints raked deeper than usual lower the output; None where they do not. `hands_nr` are
    the people who do all of it in one day, where that is asked; 0 where it is not.
    """

    quantity: str
    amount: Range[float]
    output: Range[float]
    least_days: int
    row: TableRow
    timed: bool = False
    answered: float | None = None
    deeper: TableRow | None = None
    hands_nr: int = 0

    def people_nr(self, gang_nr: int) -> int:
        """The people who do it: those of the gang, or as many as one day takes."""
        return max(gang_nr, self.hands_nr)

    def days(self, people_nr: int) -> Range[float]:
        """The working days of a gang, of which parts are not yet counted whole.

        days = quantity / (output * people);   fewest with the least quantity and the high output
        """
        if self.hands_nr:
            return replace(self, hands_nr=0).days(self.people_nr(people_nr)).each(lambda each: min(each, 1.0))
        if self.answered is not None:
            return self.amount.times(self.answered)
        low, likely, high = (
            amount / (output * people_nr)
            for amount, output in (
                (self.amount.low, self.output.high),
                (self.amount.likely, self.output.likely),
                (self.amount.high, self.output.low),
            )
        )
        return Range(low, likely, high)


def gang(here: View, trade: str, library: Library) -> Gang:
    """The gangs of a trade: as answered, else by the table of gangs."""
    row = library.row("gangs", trade=trade)
    told = next((item for item in here.records("gangs") if item.text("trade") == trade), None)
    gangs, people = (_count(told, name, row) for name in ("gangs_nr", "people_nr"))
    return Gang(trade, gangs, people, told is not None)


def _count(told: Record | None, name: str, row: TableRow) -> int:
    answered = told.number(name) if told is not None else None
    return int(row.number(name) if answered is None else answered)


class Outputs:
    """The table of outputs, its rows by operation."""

    def __init__(self, library: Library) -> None:
        self.library = library
        self._by_operation: dict[str, list[TableRow]] = {}
        for row in library.tables["outputs"].rows:
            self._by_operation.setdefault(str(row.keys["operation"]), []).append(row)
        self._keys = {
            operation: tuple(dict.fromkeys(name for row in rows for name in row.keys if name != "operation"))
            for operation, rows in self._by_operation.items()
        }
        self._fit: dict[tuple[str, ...], tuple[TableRow, ...]] = {}

    def labour(self, here: View, operation: str) -> Labour | None:
        """What an operation takes at a scope; None where nobody answered the quantity that it is reckoned from.

        The first row that fits and whose quantity is known serves. Hours timed on the sample panel set its likely
        output, and move its low and high in step. Else the output answered for the work counts where it is told for
        the operation.
        """
        found, output = self._tabled(here, operation), _answered_output(here)
        if found is not None and operation == LAY and here.yes("last_coat"):
            found = replace(found, hands_nr=int(here.number("face_hands_nr") or 0))
        if found is None or output is None or not _is_shared(here, operation, found):
            return found
        return replace(found, answered=self._share(here, operation) / float(output))

    def days(self, here: View, operation: str, people_nr: int) -> Range[float] | None:
        """The working days of a gang, not yet counted whole; None where nobody answered what they are reckoned from."""
        found = self.labour(here, operation)
        return None if found is None else found.days(people_nr)

    def _tabled(self, here: View, operation: str) -> Labour | None:
        for row in self._fitting(here, operation):
            name = row.text("quantity")
            amount = _amount(here, name)
            if amount is not None:
                output, timed = _timed(here, operation, row.spread())
                deeper = None if timed else self._deeper(here, operation)
                if deeper is not None:
                    output = _at_depth(output, here, deeper)
                least_days = int(row.number("least_days"))
                if operation == LAY:  # a layer is put on once the last resists the thumb: each has a day of its own
                    least_days = max(least_days, fill_layers_nr(here), lift_days_nr(here))
                return Labour(name, amount, output, least_days, row, timed, deeper=deeper)
        return None

    def _deeper(self, here: View, operation: str) -> TableRow | None:
        """The row of an operation on joints that are raked deeper than its output holds for."""
        depth = here.around("work").real("rake_depth_mm")
        if depth is None or operation not in (LAY, BEFORE_LAYING["repoint"]):
            return None
        row = self.library.tables["output-depth"].find(
            operation=operation, coat=here.text("coat"), masonry=here.text("masonry")
        )
        return row if row is not None and depth > row.number("from_mm") else None

    def _share(self, here: View, operation: str) -> float:
        """The share of the time of a work that an operation takes: of jointed work, which has two, by their outputs."""
        work = here.around("work")
        first = BEFORE_LAYING.get(work.text("work"))
        if first is None:
            return 1.0
        coats = work.inside("coat") or [work]
        held = {each: self._tabled(coats[0] if each == LAY else work, each) for each in (first, LAY)}
        times = {each: found.amount.likely / found.output.likely for each, found in held.items() if found is not None}
        return times[operation] / sum(times.values())

    def lacking(self, here: View, operation: str) -> str:
        """The quantity that an operation is reckoned from and nobody answered."""
        return next((row.text("quantity") for row in self._fitting(here, operation)), "")

    def _fitting(self, here: View, operation: str) -> tuple[TableRow, ...]:
        """The rows of an operation that fit a scope; kept by the answers asked for, of which a job has few."""
        names = self._keys.get(operation, ())
        asked = (operation, *(_word(here, name) for name in names))
        if asked not in self._fit:
            known = dict(zip(("operation", *names), asked, strict=True))
            rows = self._by_operation.get(operation, ())
            fitting = (row for row in rows if all(fits(cell, known[name]) for name, cell in row.keys.items()))
            self._fit[asked] = tuple(fitting)
        return self._fit[asked]


def _word(here: View, name: str) -> str:
    """The word that a key cell is held against; empty where nobody answered it."""
    if here.facts.names[name].kind != "yes_no":
        return here.text(name)
    return {True: "yes", False: "no", None: ""}[here.yes(name)]


def _amount(here: View, name: str) -> Range[float] | None:
    """A quantity, least to most: what is repointed is known as a share, from low to high."""
    if name == TREATED:
        return treated_range(here)
    likely = here.likely(name)
    return None if likely is None else Range(float(likely), float(likely), float(likely))


def _at_depth(usual: Range[float], here: View, row: TableRow) -> Range[float]:
    """The output in joints deeper than it holds for, to a tenth.

    output = usual / (1 + with_depth * (depth - from) / from);   4 m² at 100 mm, from 50 mm, all with depth: 2 m²
    """
    depth, holds_to = here.around("work").real("rake_depth_mm") or 0.0, float(row.number("from_mm"))
    longer = 1 + float(row.number("with_depth")) * (depth - holds_to) / holds_to
    return usual.each(lambda each: max(0.1, round(each / longer, 1)))


def _timed(here: View, operation: str, usual: Range[float]) -> tuple[Range[float], bool]:
    for item in here.records("timed_outputs") if len(here.path) > 1 else ():
        amount, hours = item.real("amount"), item.real("hours")
        people = item.real("people_nr") or 1.0
        if item.text("operation") == operation and amount and hours:
            return usual.times(amount * DAY_HOURS / (hours * people) / usual.likely), True
    return usual, False


def _is_shared(here: View, operation: str, found: Labour) -> bool:
    """Whether an answered output of the work is that of an operation: a square metre is what both are told for."""
    regular = (BEFORE_LAYING.get(here.text("work")), LAY)
    return not found.timed and operation in regular and found.quantity == TREATED


def _answered_output(here: View) -> Decimal | None:
    """The output of the gang in a day, all operations of the work together, where somebody answered it."""
    return here.number("output_m2_per_day") if len(here.path) > 1 else None
