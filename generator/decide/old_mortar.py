"""Whether lime mortar raked out of a wall goes back into its new mortar, and how much of the sand it replaces."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from generator.decide.model import Outcome, table_reason
from generator.library.findings import Raised
from generator.library.model import Library
from generator.lime.mortar import OldMortar, recovered_old_mortar
from generator.questionnaire.facts import View
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


def put_back(here: View, library: Library) -> Outcome:
    """The share of the sand that clean old mortar may replace, where it was asked for; else why not."""
    if "old-mortar" not in here.texts("asked_ways"):
        return Outcome()
    row, told = library.tables["old-mortar"].found(here)
    if row is None:
        why = {"elsewhere": library.phrase("old-mortar-elsewhere")}
        return _not_taken("asked-old-mortar-refused", here, why)
    cap = float(row.number("most_per_cent")) / 100
    back = recovered_old_mortar(100.0, 1.0, _looked_at(here), cap_share=cap)
    if back.refused_for:
        why = {flag: library.phrase(f"old-mortar-{flag}") for flag in back.refused_for}
        return _not_taken("asked-old-mortar-refused", here, why)
    if back.not_known:
        why = {flag: library.phrase(f"old-mortar-{flag}-unknown") for flag in back.not_known}
        return _not_taken("old-mortar-not-looked-at", here, why)
    told = (*told, f"{here.facts.names['old_binder'].label.lower()}: {here.spoken('old_binder')}")
    return Outcome({"old_mortar_per_cent": rounded(back.recovered_l, 1)}, table_reason("old-mortar", row, told))


def _not_taken(code: str, here: View, why: Mapping[str, str]) -> Outcome:
    names = dict.fromkeys(name for flag in why for name in _RESTS_ON.get(flag, ("work",)))
    marks = here.marks("asked_ways", *names)
    return Outcome(raised=(Raised(code, here.path, (("why", spoken(tuple(why.values()))),), (), marks),))


def _looked_at(here: View) -> OldMortar:
    """What the answers say of the mortar in the wall; None where nobody has looked."""
    causes, salts, position = here.texts("decay_causes"), here.text("salts"), here.text("position")
    salty = "salts" in causes or (salts != "none" if salts else None)
    looked = here.known("decay_causes") and position
    sooty = True if position == "chimney" or "flue" in causes else (False if looked else None)
    return OldMortar(salty, sooty, _painted(here), _cement_bound(here, "cement" in causes))


def _painted(here: View) -> bool | None:
    """Whether the face bears paint, as far as its other works tell; pointing with none of them is bare."""
    told = [(work, name) for work in _works(here) for name in ("removed", "old_coating")]
    if any(work.text(name) in PAINT for work, name in told):
        return True
    return None if any(work.held(name) is not None and not work.known(name) for work, name in told) else False


def _cement_bound(here: View, caused: bool) -> bool | None:
    """Whether cement, or another binder that is not lime, is in the old mortar."""
    binder, area = here.text("old_binder"), here.number("cement_area_m2")
    taken_off = any(work.text("removed") in CEMENT_TAKEN_OFF for work in _works(here))
    if caused or taken_off or binder in NOT_LIME or area:
        return True
    measured = area is not None or here.text("work") != "repoint"
    return False if binder and measured else None


def _works(here: View) -> list[View]:
    return here.around("element").inside("work")
