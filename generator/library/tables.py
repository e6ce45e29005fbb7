"""What the program reads in the tables it knows by name: the kind of every value, and the limits it holds within.

A value of the wrong kind, or one that the reckoning cannot take, is a mistake in the file, never a fault met while
papers are written. Tables that the program does not read may hold anything.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal
from functools import cache
from typing import Annotated, Any, Final

from pydantic import AfterValidator, Field, create_model
from pydantic_core import PydanticCustomError

from generator.errors import did_you_mean, shown
from generator.files.shapes import InOrder, Number, Shape, Whole, one_of, within
from generator.files.source import Path_
from generator.library.model import Table
from generator.lime.coats import LATH_GAP_LIMITS_MM, THICKNESS_LIMITS_MM
from generator.lime.hair import DOSE_LIMITS_KG_PER_M3
from generator.lime.hardening import CARBONATION_LIMITS
from generator.lime.labour import TASKS
from generator.lime.mortar import YIELD_LIMITS
from generator.lime.putty import PUTTY_LIMITS_KG_PER_L
from generator.lime.sand import BULKING_SHARE_LIMITS, MOISTURE_SHARE_LIMITS, VOID_SHARE_LIMITS
from generator.lime.slaking import START_C_LIMITS
from generator.questionnaire.names import Names

_COUNT = Annotated[Number, within(1, 100)]
_COVER = Annotated[Number, within(0.1, 100)]
_DAYS = Annotated[Number, within(0, 365)]
_DEGREES = Annotated[Number, within(-20, 60)]
_SHARE = Annotated[Number, within(0, 1)]
_SIZE = Annotated[Number, within(0.01, 5_000)]
_SIZE_OR_NONE = Annotated[Number, within(0, 5_000)]
_THICKNESS = Annotated[Number, within(*THICKNESS_LIMITS_MM)]
_BULKING = Annotated[Number, within(*BULKING_SHARE_LIMITS)]
_MOISTURE = Annotated[Number, within(*MOISTURE_SHARE_LIMITS)]
_VOIDS = Annotated[Number, within(*VOID_SHARE_LIMITS)]
_CARBONATION = Annotated[Number, within(*CARBONATION_LIMITS)]
_PUTTY = Annotated[Number, within(*PUTTY_LIMITS_KG_PER_L)]
_YIELD = Annotated[Number, within(*YIELD_LIMITS)]
_WORDS = tuple[str, ...]
_PER_CENT = Annotated[Number, within(0, 100)]


def _least_first(row: tuple[Decimal, Decimal, Decimal]) -> tuple[Decimal, Decimal, Decimal]:
    sieve, least, most = row
    if least <= most:
        return row
    raise PydanticCustomError("order", "not in order", {"told": f"{sieve} mm: {least}, {most}"})


_PASSING = Annotated[tuple[_SIZE, _PER_CENT, _PER_CENT], AfterValidator(_least_first)]


def _spread(name: str, kind: Any) -> dict[str, Any]:
    return {f"{name}{end}": kind for end in ("low", "likely", "high")}


_BINDERS: Final = {"binders": _WORDS, "with_reason": _WORDS}
# The values that the program reads in a table, by the table's id.
ASKED: Final[Mapping[str, Mapping[str, Any]]] = {
    "binder-by-coat": _BINDERS,
    "binder-by-wall": _BINDERS,
    "carbonation": {**_spread("root_day_mm_", _CARBONATION), "days": _DAYS},
    "coat-grain": {"grain_mm": _SIZE_OR_NONE},
    "coat-thickness": {"coat_mm": _THICKNESS, "layer_mm": _THICKNESS},
    "coat-wait": {"wait_days": _DAYS},
    "coats": {"coats": _WORDS},
    "curing": {"damp_days": _DAYS, "frost_cover_days": _DAYS, "lowest_c": _DEGREES, "highest_c": _DEGREES},
    "damp-sand": {
        **_spread("moisture_", _MOISTURE),
        **_spread("void_", _VOIDS),
        "start_c": Annotated[Number, within(*START_C_LIMITS)],
    },
    "deep-band": {"band_mm": _SIZE},
    "dense-curing": {"extra_damp_days": _DAYS},
    "exposure-reckoned": {"exposure_reckoned": str},
    "fill-layer": {"layer_mm": _SIZE},
    "grain": {
        "share_of_joint": Annotated[Number, within(0.01, 0.5)],
        "most_mm": _SIZE,
        "sizes_mm": Annotated[tuple[_SIZE, ...], Field(min_length=1)],
    },
    "hair": {"hair_kg_per_m3": Annotated[Number, within(*DOSE_LIMITS_KG_PER_M3)]},
    "keys-on-laths": _spread("share_", _SHARE),
    "labour": {
        "tasks": tuple[Annotated[str, one_of(TASKS)], ...],
        "quantity": str,
        **_spread("times_", Annotated[Number, within(1, 10)]),
    },
    "lath": {
        **dict.fromkeys(("gap_mm", "gap_least_mm", "gap_most_mm"), Annotated[Number, within(*LATH_GAP_LIMITS_MM)]),
        **dict.fromkeys(("width_mm", "length_mm", "support_mm"), _SIZE),
    },
    "lead-times": {"weeks": Annotated[Number, within(0, 520)]},
    "lift": {"lift_mm": _SIZE},
    "making": {**_spread("yield_", _YIELD), **_spread("bulking_", _BULKING)},
    "old-mortar": {"most_per_cent": _PER_CENT},
    "panel": {"area_m2": Annotated[Number, within(0.1, 100)], "dry_days": _DAYS},
    "putty-age": {"months_least": Annotated[Number, within(0, 240)]},
    "putty-weight": {"weight_low": _PUTTY, "weight_high": _PUTTY},
    "quantity-waste": {"waste_per_cent": Annotated[Number, within(0, 100)]},
    "rake-depth": {
        "times_joint": Annotated[Number, within(0, 10)],
        **dict.fromkeys(("least_mm", "most_mm", "aim_mm"), _SIZE_OR_NONE),
    },
    "rubble-mortar-share": _spread("", _SHARE),
    "sand-envelope": {"name": str, "passing": Annotated[tuple[_PASSING, ...], Field(min_length=1)]},
    "slaking-room": _spread("headroom_", Annotated[Number, within(0, 5)]),
    "strength": {"strength": Whole},
    "unevenness": {"uneven_mm": Annotated[Number, within(0, 500)]},
    "wall-class": {"wall_class": str},
    "wash-coats": dict.fromkeys(("coats_nr", "coats_least_nr", "coats_most_nr"), _COUNT),
    "wash-cover": _spread("m2_per_l_", _COVER),
    "wetting": {"wetting": str},
}
# The name whose choices a value is one of, or a list of, where the value is not called as the name is.
_CHOICES_OF: Final = {"binders": "binder", "with_reason": "binder", "coats": "coat"}


@cache
def values_shape(table_id: str) -> type[Shape]:
    """The shape of the values in a row of a table of `ASKED`."""
    fields: dict[str, Any] = {name: (kind, ...) for name, kind in ASKED[table_id].items()}
    return create_model("Values", __base__=InOrder, **fields)


def strange_words(table: Table, names: Names) -> Iterator[tuple[Path_, str, str]]:
    """Each word of a table that is not known: its place in the file, what is wrong, and a hint."""
    for index, row in enumerate(table.rows):
        for kind, cells in (("keys", row.keys), ("values", row.values)):
            for column, cell in cells.items():
                for word in cell if isinstance(cell, list | tuple) else (cell,):
                    wrong = _strange(kind, column, word, names) if isinstance(word, str) else None
                    if wrong is not None:
                        yield ("rows", index, kind, column), *wrong


def _strange(kind: str, column: str, word: str, names: Names) -> tuple[str, str] | None:
    """What is wrong with a word that is no choice of its name, or with a quantity that is no name."""
    if (kind, column) == ("values", "quantity") and word not in names:
        return f"takes its quantity from '{shown(word)}', which is not known", did_you_mean(word, names)
    name = names.get(_CHOICES_OF.get(column, column))
    if name is None or name.kind != "choice" or word in name.choices or (kind, word) == ("keys", "any"):
        return None
    what = f"has '{shown(word)}' as '{column}', which is no choice of '{name.name}'"
    return what, did_you_mean(word, name.choices)
