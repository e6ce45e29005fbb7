"""Makes pages from the templates: every word from the library, everything else escaped."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property
from typing import Any, Final
from urllib.parse import quote

from generator.asking.survey.sheet import Section
from generator.library.locate import shipped
from generator.library.model import Library
from generator.questionnaire.scopes import ScopePath

FOLDER: Final = "survey"
_SCRIPT: Final = "text/javascript; charset=utf-8"
FILES: Final = {
    "survey.css": "text/css; charset=utf-8",
    **dict.fromkeys(("pictures.js", "survey.js", "photograph.js"), _SCRIPT),
}


class Pages:
    """The templates, ready to be filled."""

    def __init__(self, library: Library) -> None:
        self.library = library
        self.folder = shipped("templates", "words.yaml") / FOLDER

    @cached_property
    def _environment(self) -> Any:
        from jinja2 import Environment, FileSystemLoader, StrictUndefined

        made = Environment(
            loader=FileSystemLoader(self.folder),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            auto_reload=False,
        )
        made.globals |= {
            "say": self.say,
            "href": href,
            "ask_href": ask_href,
            "photograph_href": photograph_href,
            "fills": lambda deed: dict(deed.fills),
            "work_choices": lambda: self.library.questionnaire.questions["work"].choices,
            "asked_on_sheet": asked_on_sheet,
            "sheet_title": lambda frame, path: next(one.title for one in frame.sheets if one.path == path[:1]),
        }
        return made

    def say(self, key: str, **fills: object) -> str:
        """A word of the library, filled."""
        return self.library.phrase(key, **{name: str(value) for name, value in fills.items()})

    def page(self, template: str, **values: object) -> str:
        """A page from its template."""
        filled: str = self._environment.get_template(f"{template}.html").render(values)
        return filled

    def file(self, name: str) -> bytes:
        """A file that pages ask for."""
        return (self.folder / name).read_bytes()


def href(path: ScopePath) -> str:
    """The address of a sheet, at the place of a scope on it."""
    sheet = "/".join(("/at", *map(quote, path[:1])))
    return sheet if len(path) < 2 else f"{sheet}#{'-'.join(path)}"


def ask_href(path: ScopePath, name: str) -> str:
    """The address of a question of a scope."""
    return "/".join(("/ask", quote(name), *map(quote, path))) + "#question"


def photograph_href(key: str) -> str:
    """The address of a photograph."""
    return f"/photograph/{quote(key)}"


def asked_on_sheet(sections: Iterable[Section], asked: Mapping[str, Any]) -> bool:
    """Whether the question that is open stands among the rows of its sheet: one that does not apply stands alone."""
    place = (asked["path"], asked["question"].name)
    return any((row.path, row.question.name) == place for section in sections for row in section.rows)
