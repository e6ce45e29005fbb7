"""What a layer adds of its own beside clauses: questions, names, tables, lines to price, steps, hold points, findings.

None of these replaces what the library has. A line or a step may say which it comes after; others stand at the end.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from generator.files.errors import did_you_mean
from generator.library.entries import ItemEntry, OperationEntry
from generator.library.kinds import KINDS, Kind, keep_listed, keep_tables
from generator.library.layers.files import LayerFiles
from generator.library.reading import Reading
from generator.values import replace


class OwnItem(ItemEntry, frozen=True):
    """A line to price of a layer, and the line of the same group that it comes after."""

    after: str = ""


class OwnStep(OperationEntry, frozen=True):
    """A step of a layer, and the step that it comes after."""

    after: str = ""


_PLACED: Final = {"item": OwnItem, "operation": OwnStep}
OWN: Final[Mapping[str, Kind]] = {
    kind: replace(KINDS[kind], shape=_PLACED.get(kind, KINDS[kind].shape))
    for kind in ("source", "question", "name", "finding", "item", "operation", "hold")
}


def add_own(layer: LayerFiles, reading: Reading) -> None:
    """Adds all that a layer has of its own to what was read; mistakes are noted at their places."""
    before = {kind: set(reading.entries.get(kind, {})) for kind in _PLACED}
    for kind, form in OWN.items():
        where = form.pattern.removesuffix("/*.yaml")
        keep_listed(kind, form, (source for _, source in layer.of(where)), reading)
    keep_tables((source for _, source in layer.of("tables")), reading)
    for kind, known in before.items():
        _placed(kind, [key for key in reading.entries.get(kind, {}) if key not in known], reading)


def _placed(kind: str, added: list[str], reading: Reading) -> None:
    """Puts each added entry behind the one it names, in the order in which they were read."""
    entries = reading.entries.get(kind, {})
    order = [key for key in entries if key not in added]
    ends: dict[str, str] = {}  # the last of what already stands behind an entry
    for key in added:
        after = entries[key].after
        if not after or after not in order:
            order.append(key)
            if after:
                source, path = reading.places[kind, key]
                what = f"{kind} '{key}' comes after '{after}', which is not there or is read later"
                reading.note(source.mark((*path, "after")), what, did_you_mean(after, order))
            continue
        order.insert(order.index(ends.get(after, after)) + 1, key)
        ends[after] = key
    reading.entries[kind] = {key: entries[key] for key in order}
