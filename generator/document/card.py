"""The mix page: what hangs where mortar is mixed, a card a mix, before it is Word.

A page can be mixed from with no other paper in hand. Texts are inlines, so that what counts stands out; pictures are
codes, which a renderer draws.
"""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from generator.document.model import Identity, Inlines
from generator.values import Struct, fraction_told, rounded

if TYPE_CHECKING:
    from generator.drawing.measures import Fill, Ground


def count_text(count: Decimal) -> str:
    """A count of boxes as it is spoken: `2`, `2½`, `½`, else in figures."""
    return fraction_told(rounded(count, 2))


class Count(Struct, frozen=True):
    """One thing that goes into a batch: boxes of it, in quarters, or litres by the jug where boxes are too coarse.

    `told` follows the name: grain and heap of a sand, `drained`, `mask on, then tip`; `unit` is the word for litres;
    `said` is the number as its readers have it, where not as `count_text` says it. ValueError unless it has one of the
    two measures, above 0.
    """

    name: str
    told: Inlines
    fill: Fill
    boxes: Decimal | None = None
    litres: Decimal | None = None
    unit: str = ""
    said: str = ""

    def __post_init__(self) -> None:
        given = [amount for amount in (self.boxes, self.litres) if amount is not None]
        if len(given) != 1 or given[0] <= 0:
            raise ValueError(f"{self.name}: {self.boxes} boxes and {self.litres} l: valid one of the two, above 0")

    @property
    def amount(self) -> Decimal:
        """The boxes, or else the litres."""
        amount = self.boxes if self.boxes is not None else self.litres
        assert amount is not None, "one of the two is given"
        return amount

    @property
    def number(self) -> str:
        """The number of boxes or litres in words."""
        return self.said or count_text(self.amount)


class Step(Struct, frozen=True):
    """A numbered step. `picture` is the key of its picture, `shows` what that shows to who cannot see it.

    `minutes` is how long it lasts, where its text says so.
    """

    text: Inlines
    picture: str = ""
    shows: str = ""
    minutes: Decimal | None = None


class Card(Struct, frozen=True):
    """One mix. `mark` is the name of its shape and `mark_told` the word for it; `ground` tells the lime.

    `notes` stand in the head (who may slake it, and where); `added` under the counts (a pozzolan by a measure of its
    own); `use_by` is huge, `use_told` goes on from it; `facts` are layer, damp days, cover, temperatures of this mix.
    `panel` goes on from `makes` where the page has room. `in_pictures` where its steps are told by pictures whatever
    the room, which takes two places. `box`, `notices`
    and `code` stand in place of those of the page where it has one of its own: what its mix alone takes and risks;
    `by_jug` where that needs no box.
    """

    ref: str
    mark: str
    mark_told: str
    ground: Ground
    walls: str
    counts: tuple[Count, ...]
    water: Inlines
    makes: Inlines
    steps: tuple[Step, ...]
    use_by: str
    use_told: Inlines
    facts: tuple[Inlines, ...]
    notes: tuple[Inlines, ...] = ()
    added: tuple[Inlines, ...] = ()
    panel: Inlines = ()
    in_pictures: bool = False
    box: tuple[Inlines, ...] = ()
    by_jug: bool = False
    notices: tuple[Inlines, ...] = ()
    code: str = ""


class FirstAid(Struct, frozen=True):
    """The first thing on the page: for eye and skin a head and what to do; labels of the blanks filled in by pen."""

    eye: str
    eye_told: Inlines
    skin: str
    skin_told: Inlines
    blanks: tuple[str, ...]


class MixPage(Struct, frozen=True):
    """A page for one mixing place, complete in itself.

    `issue` is reference, revision, date, and what to do with older pages; `hints` and `set_up` go on from it where the
    page has room; `panels` tells what all panels take where the cards have no room to tell it each. `box` tells the
    gauge box and where heaps lie, `box_shows` what its picture shows; `by_jug` where nothing is measured by it: a jug
    is pictured in its place, told as `jug_shows`. `notices` are never, stop, wear and who may change a mix, each led by
    its own strong words. `code` is the same mixes in plain text for a telephone, empty where there is none. Where no
    mix is settled, `no_cards` says so in place of cards. `place` is the number of the page among how many.
    """

    identity: Identity
    title: str
    issue: Inlines
    first_aid: FirstAid
    box: tuple[Inlines, ...]
    box_shows: str
    cards: tuple[Card, ...]
    notices: tuple[Inlines, ...]
    hints: Inlines = ()
    set_up: Inlines = ()
    panels: Inlines = ()
    code: str = ""
    code_shows: str = ""
    by_jug: bool = False
    jug_shows: str = ""
    no_cards: str = ""
    place: tuple[int, int] = (1, 1)
