"""What a house style may say of a paragraph, of its words and of a table's rules: read, checked, put together.

Nothing of the practice's file is copied as it stands: each element is made anew from the attributes that are
known here and spelt as the format wants them. All else is left behind.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from typing import Any, Final

from generator.render.check.opened import Opened, W
from generator.render.check.structure import ORDER

Told = Callable[[str], None]
"""Takes what is wrong with the file."""

_ON: Final = "1|0|true|false|on|off"
_INK: Final = "auto|[0-9A-Fa-f]{6}"
_LENGTH: Final = r"-?\d{1,5}"
_SIZE: Final = r"[1-9]\d{0,2}"
_WORD: Final = "[a-zA-Z]{1,30}"
_FACE: Final = r"[^\x00-\x1f\x7f]{1,64}"
_EDGE: Final = {"val": _WORD, "sz": r"\d{1,2}", "space": r"\d{1,2}", "color": _INK}
_SHADE: Final = {"val": _WORD, "color": _INK, "fill": _INK}
_FLAG: Final = {"val": _ON}

RUN: Final[Mapping[str, Mapping[str, str]]] = {
    "rFonts": {"ascii": _FACE, "hAnsi": _FACE, "eastAsia": _FACE, "cs": _FACE},
    "b": _FLAG, "bCs": _FLAG, "i": _FLAG, "iCs": _FLAG, "caps": _FLAG, "smallCaps": _FLAG,
    "color": {"val": _INK}, "spacing": {"val": _LENGTH}, "w": {"val": r"\d{1,3}"}, "kern": {"val": r"\d{1,4}"},
    "position": {"val": _LENGTH}, "sz": {"val": _SIZE}, "szCs": {"val": _SIZE},
    "u": {"val": _WORD, "color": _INK}, "shd": _SHADE,
}  # fmt: skip
"""Properties of words, in the order of the format, and how their attributes are spelt."""

PARAGRAPH: Final[Mapping[str, Mapping[str, str]]] = {
    "keepNext": _FLAG, "keepLines": _FLAG, "pageBreakBefore": _FLAG, "widowControl": _FLAG, "pBdr": {},
    "shd": _SHADE, "tabs": {}, "suppressAutoHyphens": _FLAG,
    "spacing": {"before": _LENGTH, "after": _LENGTH, "line": _LENGTH, "lineRule": "auto|exact|atLeast",
                "beforeAutospacing": _ON, "afterAutospacing": _ON},
    "ind": {"left": _LENGTH, "right": _LENGTH, "hanging": _LENGTH, "firstLine": _LENGTH},
    "contextualSpacing": _FLAG, "jc": {"val": "left|start|center|right|end|both"},
}  # fmt: skip
"""Properties of a paragraph, in the order of the format."""

_INSIDE: Final[Mapping[str, Mapping[str, Mapping[str, str]]]] = {
    "pBdr": dict.fromkeys(("top", "left", "bottom", "right", "between", "bar"), _EDGE),
    "tabs": {"tab": {"val": _WORD, "leader": _WORD, "pos": _LENGTH}},
    "tblBorders": dict.fromkeys(("top", "left", "bottom", "right", "insideH", "insideV"), _EDGE),
}
TABLE: Final[Mapping[str, Mapping[str, str]]] = {"tblBorders": {}}
CELL: Final[Mapping[str, Mapping[str, str]]] = {"shd": _SHADE}
_A: Final = "{http://schemas.openxmlformats.org/drawingml/2006/main}"
_MERGED: Final = ("rFonts", "spacing", "ind")
_OTHER_NAMES: Final = {"start": "left", "end": "right"}
_INSTEAD: Final = {"hanging": "firstLine", "firstLine": "hanging"}
_FACES: Final = {"ascii": "asciiTheme", "hAnsi": "hAnsiTheme", "eastAsia": "eastAsiaTheme", "cs": "cstheme"}

Properties = dict[str, Any]
"""Sound elements by their name, in no order."""


def properties(
    elements: Iterable[Any], known: Mapping[str, Mapping[str, str]], faces: Mapping[str, str], told: Told
) -> Properties:
    """The properties that elements such as `w:rPr` come to, the later over the earlier.

    `faces` are the faces of the theme by `major` and `minor`; `told` takes each mistake.
    """
    found: Properties = {}
    for element in elements:
        for child in element if element is not None else ():
            name = _name(child)
            if name not in known:
                continue
            new = _sound(child, name, known[name], faces, told)
            old = found.get(name)
            found[name] = new if old is None or name not in (*_MERGED, "tabs") else _over(old, new, name)
    return found


def theme_faces(file: Opened) -> dict[str, str]:
    """The Latin faces of a file's theme for headings (`major`) and text (`minor`)."""
    tree = next((file.trees[part] for part in sorted(file.trees) if part.startswith("word/theme/theme")), None)
    if tree is None:
        return {}
    found = {kind: tree.find(f".//{_A}{kind}Font/{_A}latin") for kind in ("major", "minor")}
    return {kind: item.get("typeface", "") for kind, item in found.items() if item is not None}


def put(parent: Any, found: Properties, keeping: Iterable[Any] = ()) -> None:
    """Puts properties and elements that are kept into `w:pPr` or `w:rPr`, in the order of the format."""
    order = (ORDER["pPr"].split() if parent.tag == f"{W}pPr" else list(RUN)) if len(found) else []
    wanted = [*found.values(), *keeping]
    parent[:] = sorted(wanted, key=lambda item: order.index(_name(item)) if _name(item) in order else len(order))


def _name(element: Any) -> str:
    tag = element.tag
    return tag.removeprefix(W) if isinstance(tag, str) and tag.startswith(W) else ""


def _sound(element: Any, name: str, known: Mapping[str, str], faces: Mapping[str, str], told: Told) -> Any:
    """An element made anew from what is known of it."""
    made = element.makeelement(element.tag, nsmap={"w": W[1:-1]})
    for key, text in element.attrib.items():
        attribute = key.removeprefix(W) if key.startswith(W) else ""
        attribute = _OTHER_NAMES.get(attribute, attribute)
        if attribute not in known:
            continue
        if re.fullmatch(known[attribute], text):
            made.set(W + attribute, text)
        else:
            told(f"says '{text[:30]}' as {attribute} of {name}, which Word would not read: set it again in Word")
    if name == "rFonts":
        _set_theme_faces(element, made, faces, told)
    inside = _INSIDE.get(name, {})
    made.extend(
        _sound(child, _name(child), inside[_name(child)], faces, told) for child in element if _name(child) in inside
    )
    return made


def _set_theme_faces(element: Any, made: Any, faces: Mapping[str, str], told: Told) -> None:
    """A face that is taken from the theme, by its name: papers have a theme of their own."""
    for attribute, themed in _FACES.items():
        said = element.get(W + themed, "")
        if attribute not in ("ascii", "hAnsi") or not said:
            continue
        face = faces.get("major" if said.startswith("major") else "minor", "")
        if re.fullmatch(_FACE, face):
            made.set(W + attribute, face)
        else:
            told("takes a face from a theme that the file lacks: choose the face by its name")


def _over(old: Any, new: Any, name: str) -> Any:
    """One element over another: attributes one by one, tabs by their places."""
    if name == "tabs":
        tabs = {tab.get(f"{W}pos"): tab for tab in (*old, *new)}
        old[:] = [tab for tab in tabs.values() if tab.get(f"{W}val") != "clear"]
        return old
    for key, text in new.attrib.items():
        if (other := _INSTEAD.get(key.removeprefix(W))) is not None:
            old.attrib.pop(W + other, None)
        old.set(key, text)
    return old
