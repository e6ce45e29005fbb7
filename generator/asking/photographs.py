"""Photographs in an answers file that is being filled in: pictures kept beside it, and what is marked on them."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal, InvalidOperation
from itertools import zip_longest
from typing import TYPE_CHECKING, Any, Final

from generator.asking.answering import Answering, at
from generator.asking.answers_file import AnyChange, Change, Dropped, Raw
from generator.asking.typed import meant
from generator.files.errors import CannotWrite, Problem
from generator.files.source import Path_, Source
from generator.files.writing import write_whole
from generator.questionnaire.facts import Facts
from generator.questionnaire.photographs import placed, read_photographs
from generator.questionnaire.scopes import ScopePath
from generator.values import replace

if TYPE_CHECKING:
    from generator.drawing.photograph import Photograph
    from generator.questionnaire.photographed import Photographed

LISTED: Final[Path_] = ("project", "photographs")
FOLDER: Final = "photographs"
KEYS: Final = (
    "id", "file", "sha256", "pixels", "shows", "element", "alt", "taken", "by", "equivalent_mm", "uneven_mm",
    "reference", "checks", "straight", "marks", "joints", "lengths",
)  # fmt: skip
"""The keys of a photograph in the order in which they are written."""
KEPT: Final = "kept"
"""What a page sends for a reference that it does not mark: one by taped points."""

FRESH: Final = "fresh"
_UNCOUNTED: Final = {"counted": "no"}
_BLANK: Final = ("what", "distance_m")  # of a reference: left blank on a page, they are taken out
_TEN_THOUSANDTHS: Final = Decimal("0.0001")
_MOST_NAMES: Final = 10_000


class NoMarks(ValueError):
    """What was sent as marks has not their form."""


# --- what stands there ------------------------------------------------------------------------------------


def listed(answers: Answering) -> list[Any]:
    """The photographs of the file, untyped."""
    found = at(answers.source.data, LISTED)
    return found if isinstance(found, list) else []


def place_of(answers: Answering, key: str) -> Path_ | None:
    """The place of the photograph that is called so; None where there is none."""
    called = (_called(item, number) for number, item in enumerate(listed(answers), 1))
    return next(((*LISTED, index) for index, name in enumerate(called) if name == key), None)


def _called(item: Any, number: int) -> str:
    given = item.get("id") if isinstance(item, dict) else None
    return str(given or f"F{number}")


# --- a picture kept ---------------------------------------------------------------------------------------


def keep_picture(answers: Answering, element: ScopePath, data: bytes) -> str:
    """Writes a picture beside the answers under a name of the program's own that nothing has; the name.

    Raises `CannotWrite` where it cannot be written there.
    """
    folder = answers.file.path.parent
    where = folder / FOLDER
    if not where.resolve().is_relative_to(folder.resolve()):
        raise CannotWrite(f"{where}: leads out of the folder of the answers: make it a folder there")
    taken = {item.get("file") for item in listed(answers) if isinstance(item, dict)}
    for number in range(1, _MOST_NAMES):
        name = f"{FOLDER}/{element[0]}-{number}.jpg"
        if name not in taken and not (folder / name).exists():
            write_whole(folder / name, data, "free space, or move the answers to a folder that you may write in")
            return name
    raise CannotWrite(f"{where}: holds too many pictures: move some away")


def added(answers: Answering, element: ScopePath, shows: str, file: str, given: Photograph, kept: Photograph) -> Change:
    """The change that lists a picture that is kept, with what the file that was given tells of day and lens."""
    names = {_called(item, number) for number, item in enumerate(listed(answers), 1)}
    key = next(name for number in range(1, _MOST_NAMES) if (name := f"F{number}") not in names)
    item: dict[str, Raw] = {
        "id": key,
        "file": file,
        "sha256": kept.sha256,
        "pixels": f"{kept.width_px} x {kept.height_px}",
        "shows": shows,
        "element": element[0],
    }
    if given.taken is not None:
        item["taken"] = given.taken.isoformat()
    if given.equivalent_mm is not None:
        item["equivalent_mm"] = f"{given.equivalent_mm:g}"
    return Change(LISTED, None, item)


def taken_away(answers: Answering, file: str) -> None:
    """Takes away a picture that was just written and is listed nowhere."""
    (answers.file.path.parent / file).unlink(missing_ok=True)


# --- marks as a page sends them -----------------------------------------------------------------------------


def sent_marks(text: str) -> dict[str, Any]:
    """What a page sends: `reference`, `checks` and `marks`. Raises `NoMarks` for what is of another form."""
    try:
        found = json.loads(text)
        reference = found["reference"]
        return {
            "reference": reference if reference in (None, KEPT) else _reference(reference),
            "checks": [_check(item) for item in found["checks"]],
            "marks": [_mark(item) for item in found["marks"]],
        }
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError, InvalidOperation) as error:
        raise NoMarks from error


def _reference(item: Mapping[str, Any]) -> dict[str, Raw]:
    found: dict[str, Raw] = {"corners": _points(item["corners"])}
    told = (("width_mm", "mm"), ("height_mm", "mm"), ("distance_m", "m"))
    found |= {key: spelt for key, unit in told if (spelt := _measure(item.get(key, ""), unit))}
    what = _text(item.get("what", ""))
    return {**({"what": what} if what else {}), **found, **({FRESH: "yes"} if item.get(FRESH) else {})}


def _check(item: Mapping[str, Any]) -> dict[str, Raw]:
    start, end = _points(item["points"])
    return {"from": start, "to": end, "length_mm": _measure(item["length_mm"], "mm")}


def _mark(item: Mapping[str, Any]) -> dict[str, Any]:
    without = [_points(ring) for ring in item["without"]]
    mark: dict[str, Any] = {"letter": _text(item["letter"]), "work": _text(item["work"])}
    mark["outline"] = _points(item["outline"])
    return {**mark, **({"without": without} if without else {}), **({} if item.get("counted", True) else _UNCOUNTED)}


def _points(listed_: Sequence[Any]) -> list[Raw]:
    return [[_share(x), _share(y)] for x, y in listed_]


def _share(value: Any) -> str:
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise TypeError(value)
    return format(Decimal(str(value)).quantize(_TEN_THOUSANDTHS).normalize(), "f")


def _measure(value: Any, unit: str) -> str:
    """A length as people write it, as answers spell it; what is none stays as it was typed, to be refused."""
    text = _text(value)
    found = meant("number", (), unit, text) if text else ""
    return found if isinstance(found, str) else text


def _text(value: Any) -> str:
    if not isinstance(value, str):
        raise TypeError(value)
    return " ".join(value.split())


# --- what they come to ----------------------------------------------------------------------------------------


def is_whole(item: Any, one: Photographed) -> bool:
    """Whether every mark of an untyped photograph was read: one with a mistake is mended in the file."""
    return isinstance(item, dict) and len(item.get("marks") or ()) == len(one.areas)


def with_marks(item: Mapping[str, Any], sent: Mapping[str, Any], one: Photographed) -> dict[str, Any]:
    """An untyped photograph with marks as they were sent; what a page does not show stays as it stands.

    Areas are told apart by their letters, and several under one letter by their order.
    """
    checks = list(item.get("checks") or ())
    after: dict[str, Any] = {
        "reference": _referred(item.get("reference"), sent["reference"]),
        "checks": [_over(old, new) for old, new in zip_longest(checks[: len(sent["checks"])], sent["checks"])],
        "marks": list(_marks(item.get("marks") or (), sent["marks"], one)),
    }
    given = {key: value for key, value in after.items() if value}
    return {**{key: value for key, value in item.items() if key not in after or key in given}, **given}


def _referred(old: Any, new: Any) -> Any:
    """A reference over the one that stood; a `fresh` one is of something else, and keeps nothing of it."""
    if new == KEPT or new is None:
        return old if new == KEPT else None
    told = {key: value for key, value in new.items() if key != FRESH}
    if FRESH in new or not isinstance(old, dict):
        return told
    return _over({key: value for key, value in old.items() if key in told or key not in _BLANK}, told)


def _over(old: Any, new: Mapping[str, Any]) -> dict[str, Any]:
    """New keys over old ones; a figure that is the same stays spelt as it was."""
    before = old if isinstance(old, dict) else {}
    return {**before, **{key: _spelt_as(before.get(key), value) for key, value in new.items()}}


def _spelt_as(old: Any, new: Any) -> Any:
    if isinstance(old, list) and isinstance(new, list) and len(old) == len(new):
        return [_spelt_as(*both) for both in zip(old, new, strict=True)]
    try:
        return old if Decimal(old) == Decimal(new) else new
    except (InvalidOperation, TypeError, ValueError):
        return new


def _marks(old: Sequence[Any], new: Sequence[Mapping[str, Any]], one: Photographed) -> Iterator[dict[str, Any]]:
    """The marks sent, each over the one that stood under its letter.

    A letter that nobody wrote stays unwritten while none of those before it is taken out: it goes by its place.
    """
    standing = list(zip(one.areas, old, strict=True))
    stay = [mark["letter"] for mark in new][: len(old)] == [area.letter for area in one.areas]
    for mark in new:
        place = next((n for n, (area, _) in enumerate(standing) if area.letter == mark["letter"]), None)
        if place is None:
            yield {**mark, "work": _work_key(mark["work"])}
            continue
        area, was = standing.pop(place)
        work = was["work"] if "/".join(area.work) == mark["work"] else _work_key(mark["work"])
        same = {"counted"} if area.counted is ("counted" not in mark) else set()
        kept = {key: value for key, value in was.items() if key not in {"without", "counted"} - same or key in mark}
        unwritten = {*same, *({"letter"} if "letter" not in was and stay else ())}
        shown = {key: value for key, value in mark.items() if key not in unwritten}
        yield _over(kept, {**shown, "work": work})


def _work_key(path: str) -> str:
    return path.rsplit("/", 1)[-1]


def tried(facts: Facts, items: Sequence[Any]) -> tuple[Facts, list[Problem]]:
    """Facts as they would be with such photographs, untyped, and what is wrong with those."""
    source = Source("")
    shapes = read_photographs(list(items), LISTED, source)
    if shapes is None:
        return facts, list(source.problems)
    return replace(facts, photographs=placed(shapes, facts, LISTED, source)), list(source.problems)


def differences(place: Path_, before: Any, after: Mapping[str, Any]) -> Iterator[AnyChange]:
    """The changes that make a mapping at a place another, the deepest there are: comments beside the others stay."""
    for key, value in after.items():
        old = before.get(key)
        if old == value:
            continue
        if isinstance(old, dict) and isinstance(value, dict):
            yield from differences((*place, key), old, value)
        elif isinstance(old, list) and isinstance(value, list) and all(isinstance(one, dict) for one in [*old, *value]):
            yield from _listed_differences((*place, key), old, value)
        else:
            after_those = KEYS[: KEYS.index(key)] if key in KEYS else ()
            yield Change(place, key, value, after_those)
    for key in before:
        if key not in after:
            yield Dropped((*place, key))


def _listed_differences(place: Path_, before: Sequence[Any], after: Sequence[Any]) -> Iterator[AnyChange]:
    """The changes of a list of mappings: what goes is taken out first, so that what stays is found at its place."""
    gone = [n for n, item in enumerate(before) if not any(_alike(item, other) for other in after)]
    over = len(before) - len(after)
    if len(gone) != over:
        gone = list(range(len(after), len(before)))
    for index in reversed(gone):
        yield Dropped((*place, index))
    kept = [item for n, item in enumerate(before) if n not in gone]
    for index, item in enumerate(after):
        if index >= len(kept):
            yield Change(place, None, item)
        elif kept[index] != item:
            yield from differences((*place, index), kept[index], item)


def _alike(item: Mapping[str, Any], other: Mapping[str, Any]) -> bool:
    """Whether two are one and the same, as far as their letters or their points tell."""
    key = next((key for key in ("letter", "outline", "from") if key in item and key in other), "")
    return bool(key) and item[key] == other[key]
