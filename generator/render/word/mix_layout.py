"""A mix page laid out by measured widths: in the largest type in which all of its cards fit one page.

A card takes a place of the page's width, one told in pictures two; fewer cards widen. Where they do not fit together
at 12 points, each has a page of its own: type is never made smaller.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import Final

from generator.document.card import Card, MixPage
from generator.document.model import plain_text
from generator.drawing.code import code
from generator.drawing.measures import gauge_box, jug
from generator.files.errors import GaugeboxError
from generator.render.word.geometry import PAPERS
from generator.render.word.mix_cards import FRAME, LEAST, SEAMS, CardRows, Type, alone, column, paired, pictured
from generator.render.word.mix_measure import Cell, Grid, Line, Span, TooWide, held, spans, width_of
from generator.render.word.pages import short
from generator.render.word.xml import TWIPS_PER_MM, twips
from generator.values import Struct, replace

MARGIN_SIDE_MM: Final = 10
MARGIN_TOP_MM: Final = 7
MARGIN_BOTTOM_MM: Final = 6

_BODIES: Final = (22, 20, 18, 17, 16, 15, 14, 13, LEAST)
PLACES: Final = 4
GAP: Final = twips(4.4)
_UNDER_AID, _UNDER_CARDS = 30, 60
_HEAD_FOOT: Final = twips(0.8)
"""Between the letters of a head of several lines and the ground below it, where there is room."""

_SPARE: Final = twips(1.5)  # programs differ by hairs
_RULES: Final = 20  # the rules of a table
_TITLES, _TITLE_LIMIT = (18, 17, 16, 15, 14), 110
_FIRST_AID: Final = 13
_EYE: Final = 20
_BOX_MM: Final = 12.5
_OFF_BOX: Final = twips(2)
_CODE_MM: Final = 27.0
_FRAME: Final = tuple((side, FRAME) for side in ("top", "left", "bottom", "right"))
_BLANK, _PEN = twips(7.4), twips(50)
_FEW: Final = (alone, paired)
_SHOWN_MM: Final = (28, 31, 36, 39, 42, 48, 54, 60, 65)
_FEW_SHOWN_MM: Final = (34, 40, 46, 52)
_BODY_WEIGHS: Final = 3.0
_APART_MM: Final = 1.5


class PageTooFull(GaugeboxError):
    """A mix page cannot be read at arm's length as one page."""

    def __init__(self, title: str, why: str) -> None:
        super().__init__(f"the mix page '{title}' does not fit one page: {why}")


class Layout(Struct, frozen=True):
    """The tables of a page from the top: first aid, what it is and the box, the cards, the notices."""

    grids: tuple[Grid, ...]

    @property
    def height(self) -> int:
        """The height of the page's content in twips. Raises `TooWide`."""
        return sum(sum(grid.heights) + _RULES + grid.below for grid in self.grids)


def line_of(page: MixPage) -> int:
    """Width between the margins of the page's paper, lying on its side, in twips."""
    return PAPERS[page.identity.paper][1] - 2 * twips(MARGIN_SIDE_MM)


def room_of(page: MixPage) -> int:
    """The height that may be filled, in twips."""
    return PAPERS[page.identity.paper][0] - twips(MARGIN_TOP_MM + MARGIN_BOTTOM_MM) - _SPARE


def parted(pages: Sequence[MixPage]) -> tuple[MixPage, ...]:
    """Each page where its cards fit it, else a page for each of them; numbered where there is more than one.

    Raises `PageTooFull` for a card that is too full for a page of its own.
    """
    if len(pages) == 1 and _fits(pages[0]):
        return tuple(pages)
    most = sum(max(1, len(page.cards)) for page in pages)
    parts = [part for page in pages for part in _parts(replace(page, place=(most, most)))]
    found = tuple(replace(part, place=(number, len(parts))) for number, part in enumerate(parts, 1))
    for part in found:
        fitted(part)
    return found


def _parts(page: MixPage) -> tuple[MixPage, ...]:
    """A page whose cards fit it, or one for each of them, which tells of the box and of its mix what that needs."""
    if _fits(page):
        return (page,)
    return tuple(
        replace(
            page, cards=(card,), box=card.box or page.box, by_jug=card.by_jug if card.box else page.by_jug,
            notices=card.notices or page.notices, code=card.code or page.code,
        )
        for card in page.cards
    ) or (page,)  # fmt: skip


def _fits(page: MixPage) -> bool:
    try:
        fitted(page)
    except PageTooFull:
        return False
    return True


@lru_cache(maxsize=64)  # what is parted by measure is measured again when it is written
def fitted(page: MixPage) -> Layout:
    """The layout in the largest type that fits, the room left shared out among the rows of its cards.

    Cards that fit no page together with what is told where there is room are laid out without it, and what their panels
    take is told once for all. Raises `PageTooFull`.
    """
    try:
        return _laid(page)
    except PageTooFull:
        if len(page.cards) < 2:
            raise
        cards = tuple(replace(card, panel=()) for card in page.cards)
        return _laid(replace(page, hints=page.panels or page.hints, set_up=(), cards=cards))


def _laid(page: MixPage) -> Layout:
    """The layout of all that a page tells. Raises `PageTooFull`."""
    if sum(_places(page.cards)) > PLACES:  # told before anything is measured
        raise PageTooFull(page.title, "it has more cards than places")
    over = math.inf
    line = line_of(page)
    try:
        above, below = (_first_aid(page, line), _heading(page, line)), _notices(page, line)
        room = room_of(page) - Layout((*above, below)).height
    except TooWide:
        raise PageTooFull(page.title, "a word is wider than its column") from None
    for type_ in _types(page):
        try:
            cards = _cards(page, line, type_)
            left = room - Layout(cards).height
        except TooWide:
            continue
        if left >= 0:
            return Layout((*above, *_aired(cards, left), below))
        over = min(over, -left)
    if math.isinf(over):
        raise PageTooFull(page.title, f"its columns are too narrow for the words at {LEAST} pt")
    raise PageTooFull(page.title, f"at {LEAST} pt it is {math.ceil(over / TWIPS_PER_MM)} mm too high")


def _types(page: MixPage) -> list[Type]:
    """Sizes to try, the largest first; where cards have pictures, those grow with the type or in its stead.

    A card with a page of its own has its figures and words apart before it has them larger, one told in pictures
    beside others where that costs no size.
    """
    shown = (
        _SHOWN_MM if any(card.in_pictures for card in page.cards) else _FEW_SHOWN_MM if len(page.cards) == 1 else (0,)
    )
    sizes = [Type(body, wide) for body in _BODIES for wide in shown]
    sizes.sort(key=lambda type_: -(_BODY_WEIGHS * type_.body + type_.picture_mm))
    apart = [replace(type_, apart_mm=_APART_MM) for type_ in sizes]
    if len(page.cards) == 1:
        return [*apart, *sizes]
    return [type_ for pair in zip(apart, sizes, strict=True) for type_ in pair] if shown == _SHOWN_MM else sizes


def _aired(cards: tuple[Grid, ...], left: int) -> tuple[Grid, ...]:
    """The cards with what is left shared out among the rows below their heads, which have a little at their foot."""
    *heads, last = cards
    first = 0 if heads or len(last.rows) == 1 else 1
    below = len(last.rows) - first
    foot = min(_HEAD_FOOT, left // (below + 1)) if heads or first else 0
    each = (left - foot) // below
    headed = (replace(head, extra=(foot,)) for head in heads)
    return (*headed, replace(last, extra=(*(foot,) * first, *(each,) * below)))


# --- above and below the cards ----------------------------------------------------------------------------


def _first_aid(page: MixPage, line: int) -> Grid:
    """White on black, with white boxes to be filled in by pen."""
    aid = page.first_aid
    label = max(width_of((Span(held(what), _FIRST_AID, True),)) for what in aid.blanks) + twips(4)
    eye = (line - label - _PEN) * 3 // 5

    def told(items: tuple[Span, ...]) -> Cell:
        return Cell((Line(items),), black=True, rules=SEAMS)

    heads = told((Span(aid.eye, _EYE, True),)), told((Span(aid.skin, _EYE, True),))
    texts = told(spans(aid.eye_told, _FIRST_AID, True)), told(spans(aid.skin_told, _FIRST_AID, True))
    box = Cell((Line((), pitch=_BLANK, before=30, blank=True),), black=True, rules=SEAMS)
    rows = tuple(
        (*pair, told((Span(held(what), _FIRST_AID, True),)), box)
        for pair, what in zip((heads, texts), aid.blanks, strict=True)
    )
    widths = (eye, line - eye - label - _PEN, label, _PEN)
    return Grid(widths, rows, f"{aid.eye} {aid.skin}", below=_UNDER_AID)


def _heading(page: MixPage, line: int) -> Grid:
    """What the page is and which it replaces, and the box with its litres and where heaps lie."""
    picture = jug(1.0, _BOX_MM, page.jug_shows) if page.by_jug else gauge_box(_BOX_MM, page.box_shows)
    shown = twips(picture.width_mm + 3.5)
    draft = (Line((Span(held(page.identity.draft), LEAST, True),)),) if page.identity.draft else ()
    half = line // 2 - twips(2)
    title = held(short(page.title, _TITLE_LIMIT))
    # a draft's mark takes its line from the title: nobody mixes by a draft
    sizes = () if draft else (size for size in _TITLES if width_of((Span(title, size, True),)) <= half)
    what = (
        *draft,
        Line((Span(title, next(iter(sizes), LEAST), True),), title=True),
        Line((*spans((*page.issue, *page.hints, *page.set_up), LEAST), *_numbered(page))),
    )
    box = tuple(Line(spans(told, LEAST)) for told in page.box)
    width = min(max(width_of(told.items) for told in what), half) + twips(2) + _OFF_BOX
    row = (Cell(what, flush=True, clear=_OFF_BOX), Cell((Line((picture,)),)), Cell(box))
    return Grid((width, shown, line - width - shown), (row,), page.title)


def _numbered(page: MixPage) -> tuple[Span, ...]:
    number, count = page.place
    word, of = page.identity.page_words
    return (Span(f" {word}\u00a0{number}\u00a0{of}\u00a0{count}.", LEAST),) if count > 1 else ()


def _notices(page: MixPage, line: int) -> Grid:
    """Never, stop, wear: ruled off above; the code in the corner."""
    side = code(page.code, page.code_shows, _CODE_MM) if page.code else None
    shown = twips(side.width_mm) if side else 0
    lengths = [max(width_of(spans(notice, LEAST)), twips(200)) for notice in page.notices]
    room = line - shown - (len(lengths) - (side is None)) * GAP
    cells: list[Cell] = []
    widths: list[int] = []
    for notice, length in zip(page.notices, lengths, strict=True):
        cells += [Cell((Line(spans(notice, LEAST)),), rules=(("top", FRAME),), flush=True), Cell()]
        widths += [room * length // sum(lengths), GAP]
    if side:
        cells.append(Cell((Line((side,)),), flush=True))
        widths.append(line - sum(widths))
    else:
        del cells[-1], widths[-1]
        widths[-1] += line - sum(widths)
    return Grid(tuple(widths), (tuple(cells),), plain_text(page.notices[0]))


# --- the cards --------------------------------------------------------------------------------------------


def _cards(page: MixPage, line: int, type_: Type) -> tuple[Grid, ...]:
    """The cards side by side with blank columns between; all have the same number of rows.

    The head of a card alone on its page is a table above that of the rest where its columns are its own.
    """
    if not page.cards:
        words = Line((Span(page.no_cards, 3 * LEAST, True),), before=twips(20))
        return (Grid((line,), ((Cell((words,), rules=_FRAME),),), page.title, below=_UNDER_CARDS),)
    laid = _side_by_side(page.cards, line, type_)
    widths = laid[0].widths
    rows = laid[0].rows
    for card in laid[1:]:
        widths = (*widths, GAP, *card.widths)
        rows = tuple((*row, Cell(), *more) for row, more in zip(rows, card.rows, strict=True))
    told = ", ".join(f"{card.ref} {card.walls}" for card in page.cards)
    heads = tuple(Grid(card.head, card.rows[:1], told, joined=True) for card in laid if card.head)
    return (*heads, Grid(widths, rows[len(heads) :], told, below=_UNDER_CARDS))


def _side_by_side(cards: Sequence[Card], line: int, type_: Type) -> list[CardRows]:
    """The cards laid out: alone, two beside each other, or each in its places."""
    if not any(card.in_pictures for card in cards) and len(cards) <= len(_FEW):
        widths = _shared(line, len(cards))
        return [_FEW[len(cards) - 1](card, width, type_) for card, width in zip(cards, widths, strict=True)]
    places = _places(cards)
    single = iter(_shared(line, sum(places)))
    widths = tuple(next(single) if taken == 1 else next(single) + GAP + next(single) for taken in places)
    return [
        (pictured if card.in_pictures else column)(card, width, type_)
        for card, width in zip(cards, widths, strict=True)
    ]


def _places(cards: Sequence[Card]) -> list[int]:
    """How many places of the page's width each card takes."""
    return [2 if card.in_pictures else 1 for card in cards]


def _shared(line: int, count: int) -> tuple[int, ...]:
    each = (line - GAP * (count - 1)) // count
    return (*(each,) * (count - 1), line - (each + GAP) * (count - 1))
