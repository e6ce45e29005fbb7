"""Lines to price: each rule of `clauses/items/` at every scope where it holds, numbered by section."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from typing import Final

from generator.library.entries import ItemEntry
from generator.library.findings import Raised
from generator.library.model import Library
from generator.measure.model import Item, ItemSection
from generator.measure.stuff_taken import COPING_MIX, PARTS
from generator.questionnaire.facts import Facts, View
from generator.questionnaire.scopes import PROJECT, ScopePath
from generator.values import joined, replace

ORDER: Final = (
    "preliminaries",
    "element",
    "rate-only",
    "dayworks",
    "provisional-sums",
    "contingency",
    "optional",
)

_FINISHES: Final = ("joint_finish", "plaster_surface", "render_surface")
"""What a panel shows of a work besides its mixes, and a contractor is held to."""


def price_lines(facts: Facts, library: Library) -> tuple[tuple[ItemSection, ...], tuple[Raised, ...]]:
    """The sections of the schedule and findings for quantities that are missing and sums that nobody has set."""
    drafts: dict[tuple[str, ScopePath], dict[ScopePath, list[Item]]] = {}
    for group in ORDER:
        for entry in library.items.values():
            if entry.group != group:
                continue
            for here, others in _each(entry, _where(entry, facts, library)):
                home = here.around("work").path if group == "element" else PROJECT
                works = drafts.setdefault((group, home[:1]), {})
                works.setdefault(home, []).append(replace(_item(entry, here, library), others=others))
    sections = tuple(_sections(drafts, facts))
    items = [item for section in sections for item in section.items]
    missing = [item for item in items if item.to_follow]
    return sections, (*_missing(facts, missing), *_open_sums(facts, items))


def _where(entry: ItemEntry, facts: Facts, library: Library) -> Iterator[View]:
    condition, unsure = library.condition("item", entry.id), entry.if_unknown == "include"
    return map(facts.at_scope, condition.where(facts, entry.per, unknown=unsure))


def alike(here: View) -> tuple[str, ...]:
    """What works have in common of which one thing is made for all: kind with its finish, masonry and mixes."""
    kind = " ".join(filter(None, map(here.text, ("work", *_FINISHES))))
    mixes = (coat.text("mix_used") for coat in here.around("work").inside("coat"))
    return kind, here.text("masonry"), *mixes


def _each(entry: ItemEntry, found: Iterator[View]) -> Iterator[tuple[View, tuple[ScopePath, ...]]]:
    """The scopes of a line, each with the others that it serves where it is one for all works in the same mixes."""
    sharing: dict[object, list[View]] = {}
    for here in found:
        sort = alike(here)
        one = entry.one_for_each_mix and sort[2:] and all(sort)  # a wall's own earth is no mix
        sharing.setdefault(sort if one else here.path, []).append(here)
    for first, *others in sharing.values():
        yield first, tuple(other.path for other in others)


def _item(entry: ItemEntry, here: View, library: Library) -> Item:
    kind, live = entry.kind, entry.kind not in ("rate only", "sum")
    doubtful = library.condition("item", entry.id).provisional_when
    if kind == "firm" and doubtful is not None and doubtful.holds(here.facts, here.path) is not False:
        kind = "provisional"
    quantity = _quantity(entry, here) if live else None
    to_follow = live and not quantity
    amount = _quantity(entry, here) if entry.kind == "sum" and entry.quantity else None
    spelling, notional = here.facts.spelling, _notional(entry, here)
    return Item(
        "", entry, here.path, entry.group, quantity or None, "rate only" if to_follow else kind,
        _mix(here, entry), to_follow, amount, spelling.unit(entry.unit),
        None if notional is None else spelling.quantity(notional, entry.unit),
    )  # fmt: skip


def _notional(entry: ItemEntry, here: View) -> Decimal | None:
    """What tenders are compared by of a rate alone: as the answers tell it, else as the library does."""
    told = here.number(entry.notional_of) if entry.notional_of and entry.notional is not None else None
    return told or (None if entry.notional is None else Decimal(entry.notional))


def _quantity(entry: ItemEntry, here: View) -> Decimal | None:
    """The quantity to price, in the unit in which it is priced; a fixed count as it is."""
    spelling = here.facts.spelling
    if entry.fixed_quantity is not None:
        exact: Decimal | None = entry.fixed_quantity
        return exact if spelling.unit(entry.unit) == entry.unit else spelling.quantity(entry.fixed_quantity, entry.unit)
    exact = here.likely(entry.quantity)
    return None if exact is None else spelling.quantity(exact, entry.unit)


def _mix(here: View, entry: ItemEntry) -> str:
    """The mix that a line is for, of one for each mix; else those of the coats that it takes."""
    return here.text("mix_ref") if entry.per == "mix" else _mixes(here, entry.coats)


def _mixes(here: View, coats: tuple[str, ...] | None) -> str:
    """The mixes of the coats that the line takes at or inside a work, or of its wall where the line names some and the
    work has none of these; of a wall's line those that it names, and none for anything wider."""
    if len(here.path) < (1 if coats else 2):
        return ""
    if coats and here.text("work") == "refix":  # it has no coats: what it is filled with is taken from others' cards
        return ", ".join(dict.fromkeys(filter(None, (here.text(f"{part}_mix") for part in PARTS))))
    if coats and (coped := here.text(COPING_MIX)):
        return coped
    if coats and here.yes("copings_softer"):
        return ""
    own = [coat for coat in here.inside("coat") if coats is None or coat.text("coat") in coats]
    taken = own or [coat for coat in here.around("element").inside("coat") if coats and coat.text("coat") in coats]
    return ", ".join(dict.fromkeys(filter(None, (coat.text("mix_used") for coat in taken))))


def _sections(drafts: dict[tuple[str, ScopePath], dict[ScopePath, list[Item]]], facts: Facts) -> Iterator[ItemSection]:
    number = 0
    order = {scope.path: index for index, scope in enumerate(facts.scopes.values())}
    for group in ORDER:
        elements = [scope.path for scope in facts.at("element")] if group == "element" else [PROJECT]
        for home in elements:
            items = [item for listed in drafts.get((group, home[:1]), {}).values() for item in listed]
            if items:
                number += 1
                yield ItemSection(group, number, home, tuple(_numbered(items, number, order)))


def _numbered(items: list[Item], number: int, order: Mapping[ScopePath, int]) -> Iterator[Item]:
    items.sort(key=lambda item: order.get(item.path[:2], 0))
    for place, item in enumerate(items, start=1):
        yield replace(item, ref=f"{number}.{place}")


def _missing(facts: Facts, items: list[Item]) -> Iterator[Raised]:
    """One finding for each quantity that is needed and zero or absent."""
    seen: set[tuple[ScopePath, str]] = set()
    for item in items:
        key = (item.path, item.entry.quantity)
        if key not in seen:
            seen.add(key)
            yield Raised(
                "quantity-missing",
                item.path,
                (("question", facts.names[item.entry.quantity].label), ("item", item.ref)),
            )


def _open_sums(facts: Facts, items: Iterable[Item]) -> Iterator[Raised]:
    """One finding for all the sums that the specifier has not set."""
    unset = [item for item in items if item.is_open_sum]
    if unset:
        names = dict.fromkeys(item.entry.quantity for item in unset)
        labels = [facts.names[name].label if name in facts.names else name for name in names]
        refs = joined([item.ref for item in unset])
        yield Raised("sums-unset", PROJECT, (("question", "; ".join(labels)), ("items", refs)))
