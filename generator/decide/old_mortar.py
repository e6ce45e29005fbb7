"""Whether lime mortar raked out of a wall goes back into its new mortar, and how much of the sand it replaces."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Final

from generator.decide.model import Outcome, marks_of, table_reason
from generator.decide.rules import found, number
from generator.errors import Raised
from generator.library.model import Library
from generator.lime.mortar import OldMortar, recovered_old_mortar
from generator.questionnaire.facts import Facts, Scope, ScopePath
from generator.values import rounded, spoken

PAINT: Final = ("film-paint", "textured-coating", "distemper")
NOT_LIME: Final = ("cement", "gypsum", "earth")
CEMENT_TAKEN_OFF: Final = ("cement-pointing", "cement-render")
_RESTS_ON: Final[Mapping[str, tuple[str, ...]]] = {
    "salty": ("salts", "decay_causes"),
    "sooty": ("position", "decay_causes"),
    "painted": (),
    "cement-bound": ("old_binder", "cement_area_m2", "decay_causes"),
}


def put_back(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The share of the sand that clean old mortar may replace, where it was asked for; else why not."""
    asked = facts.get(path, "asked_ways")
    if not isinstance(asked, tuple) or "old-mortar" not in asked:
        return Outcome()
    row, told = found(facts, path, library.tables["old-mortar"])
    if row is None:
        why = {"elsewhere": library.phrase("old-mortar-elsewhere")}
        return _not_taken("asked-old-mortar-refused", facts, path, why)
    cap = float(number(row, "most_per_cent")) / 100
    back = recovered_old_mortar(100.0, 1.0, _looked_at(facts, path), cap_share=cap)
    if back.refused_for:
        why = {flag: library.phrase(f"old-mortar-{flag}") for flag in back.refused_for}
        return _not_taken("asked-old-mortar-refused", facts, path, why)
    if back.not_known:
        why = {flag: library.phrase(f"old-mortar-{flag}-unknown") for flag in back.not_known}
        return _not_taken("old-mortar-not-looked-at", facts, path, why)
    told = (*told, f"{facts.names['old_binder'].label.lower()}: {facts.spoken(path, 'old_binder')}")
    return Outcome({"old_mortar_per_cent": rounded(back.recovered_l, 1)}, table_reason("old-mortar", row, told))


def _not_taken(code: str, facts: Facts, path: ScopePath, why: Mapping[str, str]) -> Outcome:
    names = dict.fromkeys(name for flag in why for name in _RESTS_ON.get(flag, ("work",)))
    marks = marks_of(facts, path, "asked_ways", *names)
    return Outcome(raised=(Raised(code, path, (("why", spoken(tuple(why.values()))),), (), marks),))


def _looked_at(facts: Facts, path: ScopePath) -> OldMortar:
    """What the answers say of the mortar in the wall; None where nobody has looked."""
    found_causes, salts, position = (facts.get(path, name) for name in ("decay_causes", "salts", "position"))
    causes = found_causes if isinstance(found_causes, tuple) else ()
    salty = "salts" in causes or (None if salts is None else salts != "none")
    known = isinstance(found_causes, tuple) and position is not None
    sooty = True if position == "chimney" or "flue" in causes else (False if known else None)
    return OldMortar(salty, sooty, _painted(facts, path), _cement_bound(facts, path, "cement" in causes))


def _painted(facts: Facts, path: ScopePath) -> bool | None:
    """Whether the face bears paint, as far as its other works tell; pointing with none of them is bare."""
    held = [facts.held(work.path, name) for work in _works(facts, path) for name in ("removed", "old_coating")]
    if any(item is not None and item.value in PAINT for item in held):
        return True
    return None if any(item is not None and not item.known for item in held) else False


def _cement_bound(facts: Facts, path: ScopePath, caused: bool) -> bool | None:
    """Whether cement, or another binder that is not lime, is in the old mortar."""
    binder, area = facts.get(path, "old_binder"), facts.get(path, "cement_area_m2")
    taken_off = any(facts.get(work.path, "removed") in CEMENT_TAKEN_OFF for work in _works(facts, path))
    if caused or taken_off or binder in NOT_LIME or (isinstance(area, Decimal) and area > 0):
        return True
    measured = isinstance(area, Decimal) or facts.get(path, "work") != "repoint"
    return False if binder is not None and measured else None


def _works(facts: Facts, path: ScopePath) -> list[Scope]:
    return facts.inside(path[:1], "work")
