"""What is meant by a line typed at the terminal: a choice by its number, word or beginning; a number with its unit."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from generator.questionnaire.answers_file import Raw

UNKNOWN: Final = "not known"
_NO_MORE: Final = ("none", "[]")
_SPELT: Final = {"m²": "m2|sqm|sq m", "m³": "m3|cu m", "%": "per cent|percent", "l": "litres?", "nr": "no"}
_NO_TEXT: Final = ("Cc", "Cs", "Zl", "Zp")


@dataclass(frozen=True, slots=True)
class Option:
    """One thing that can be chosen: as answers spell it, and as it is said."""

    is_: str
    says: str


@dataclass(frozen=True, slots=True)
class Unclear:
    """A word that is the beginning of several choices."""

    words: tuple[str, ...]


def cleaned(line: str) -> str | None:
    """A line with its white space evened out; None where it holds what no text does: controls, broken UTF-8."""
    text = " ".join(line.split())
    if any(unicodedata.category(char) in _NO_TEXT or char in "\ufeff\ufffe\uffff" for char in text):
        return None
    return text


def meant(kind: str, options: Sequence[Option], unit: str, text: str) -> Raw | Unclear:
    """What a cleaned line means for a kind of question, as answers spell it; what fits nothing is returned as typed."""
    if kind == "choice":
        return chosen(options, text)
    if kind == "choices":
        return _several(options, text)
    if kind == "yes_no":
        return _yes_or_no(options, text)
    if kind in ("number", "range") and unit:
        ending = "|".join(filter(None, [re.escape(unit), _SPELT.get(unit, "")]))
        return re.sub(rf"(?<=[0-9)])\s*(?:{ending})\Z", "", text, flags=re.IGNORECASE)
    return text


def _yes_or_no(options: Sequence[Option], text: str) -> str | Unclear:
    # `n` is the beginning of `not known` too; whoever means that writes more of it
    found = chosen((Option("yes", "yes"), Option("no", "no")), text, numbers=False)
    return found if found in ("yes", "no") else chosen(options, text, numbers=False)


def chosen(options: Sequence[Option], text: str, *, numbers: bool = True) -> str | Unclear:
    """The choice that a text means: its word, its number in the list, or the beginning of it alone."""
    word = _form(text)
    for option in options:
        if word in (_form(option.is_), _form(option.says)):
            return option.is_
    if numbers and re.fullmatch(r"[0-9]{1,3}\.?", text) and 1 <= int(text.rstrip(".")) <= len(options):
        return options[int(text.rstrip(".")) - 1].is_
    found = {option.is_ for option in options if word and _begins(option, word)}
    if len(found) > 1:
        return Unclear(tuple(sorted(found)))
    return found.pop() if found else text


def _several(options: Sequence[Option], text: str) -> Raw | Unclear:
    whole = chosen(options, text)
    if whole == UNKNOWN:
        return UNKNOWN
    if isinstance(whole, str) and whole != text:
        return [whole]
    if text.lower() in _NO_MORE and text not in [option.is_ for option in options]:
        return []
    separator = r"[\s,;]+" if re.fullmatch(r"[0-9\s,;]+", text) else r"\s*[,;]\s*|\s+and\s+"
    found: list[Raw] = []
    for part in filter(None, re.split(separator, text)):
        one = chosen(options, part)
        if isinstance(one, Unclear):
            return one
        found.append(one)
    return found


def _form(text: str) -> str:
    return re.sub(r"[\s_-]+", " ", text).strip().lower()


def _begins(option: Option, word: str) -> bool:
    if option.is_ == UNKNOWN and len(word) < len("not"):
        return False
    return _form(option.is_).startswith(word) or _form(option.says).startswith(word)
