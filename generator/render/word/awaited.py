"""What stands in the text of a paper until the pages of its headings are known, and what then takes its place."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

_PAGE: Final = "\ue000"
_EITHER, _OR, _END = "\ue001", "\ue002", "\ue003"

_PLACE: Final = re.compile(f"{_PAGE}([^{_PAGE}]*){_PAGE}")
_CHOICE: Final = re.compile(f"{_EITHER}([^{_OR}]*){_OR}([^{_END}]*){_END}")
_MARK: Final = _EITHER.encode()
_TWO_DIGITS: Final = "00"


def page_of(bookmark: str) -> str:
    """The page of a bookmark, once it is known."""
    return f"{_PAGE}{bookmark}{_PAGE}"


def either(paged: str, bare: str) -> str:
    """What stands where pages are told, or where none are."""
    return f"{_EITHER}{paged}{_OR}{bare}{_END}"


def awaits(text: bytes) -> bool:
    """Whether a text waits for pages."""
    return _MARK in text


def told(text: str, pages: Mapping[str, int] | None) -> str:
    """The text with pages in its places; bare where none are told, or not that of the bookmark."""

    def chosen(found: re.Match[str]) -> str:
        paged, bare = found.groups()
        if pages is None or any(name not in pages for name in _PLACE.findall(paged)):
            return bare
        return _PLACE.sub(lambda place: str(pages[place[1]]), paged)

    return _CHOICE.sub(chosen, text)


def as_measured(text: str) -> str:
    """The text with a page of two digits at each place, to be laid out before the pages are known."""
    return _CHOICE.sub(lambda found: _PLACE.sub(_TWO_DIGITS, found[1]), text)
