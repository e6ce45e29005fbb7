"""A browser without scripts for the tests of the survey: pages are read as trees, forms are filled in and sent."""

from __future__ import annotations

import difflib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from jobs import shipped
from lxml import html
from werkzeug.test import Client, TestResponse

from generator.asking.survey.app import Survey
from generator.asking.survey.guard import Guard
from generator.asking.survey.serving import survey_app
from generator.job.job import Job

PORT = 20123
HOST = f"127.0.0.1:{PORT}"
HERE = f"http://{HOST}"
Fields = Mapping[str, Any]


def set_of(job: Job, raw: bytes) -> Mapping[str, bytes]:
    """A set that is quickly made: what it was made of."""
    return {"status.txt": job.status.encode(), "answers.yaml": raw}


def app_of(path: Path) -> Survey:
    """The application for an answers file, with a key that is known."""
    return survey_app(path, shipped(), Guard(PORT, key="k" * 24), set_of)


def changed_lines(before: str, after: str) -> list[str]:
    """The lines that differ, each with its sign."""
    found = difflib.unified_diff(before.splitlines(), after.splitlines(), n=0, lineterm="")
    return [line for line in found if line[:1] in "+-" and line[:3] not in ("+++", "---")]


@dataclass
class Page:
    """A page as it came: its status, its tree, and where it was found."""

    response: TestResponse
    address: str

    @property
    def status(self) -> int:
        return self.response.status_code

    @property
    def tree(self) -> Any:
        return html.fromstring(self.response.get_data(as_text=True))

    @property
    def text(self) -> str:
        """All that is told on it, on one line."""
        return " ".join(self.tree.text_content().split())

    def find(self, selector: str) -> list[Any]:
        """Elements by an XPath."""
        return list(self.tree.xpath(selector))

    def form(self, action: str = "/answer") -> Any:
        """The first form that sends to an address."""
        return next(form for form in self.tree.forms if form.get("action") == action)


class Browser:
    """Somebody at the pages of one application."""

    def __init__(self, app: Survey) -> None:
        self.app = app
        self.client = Client(app)
        self.get("/?key=" + app.guard.key)

    def get(self, address: str) -> Page:
        """A page by its address."""
        return Page(self.client.get(address, base_url=HERE), address)

    def post(self, address: str, fields: Fields, **headers: str) -> Page:
        """Sends fields and follows to the page that answers."""
        sent = {"Origin": HERE, **headers}
        response = self.client.post(address, base_url=HERE, data=dict(fields), headers=sent)
        if response.status_code == 303:
            return self.get(response.headers["Location"].removeprefix(HERE).split("#")[0])
        return Page(response, address)

    def ask(self, name: str, *path: str) -> Page:
        """The page of a question."""
        return self.get("/".join(("/ask", name, *path)))

    def send(self, page: Page, fields: Fields, do: str = "save") -> Page:
        """Fills the question of a page with fields and sends it."""
        return self.post("/answer", {**self.filled(page), **fields, "do": do})

    def filled(self, page: Page) -> dict[str, str | list[str]]:
        """The fields of the question of a page as they stand there."""
        found: dict[str, str | list[str]] = {}
        for name, value in page.form().form_values():
            held = found.get(name)
            found[name] = value if held is None else [*([held] if isinstance(held, str) else held), value]
        return found

    def answer(self, name: str, *path: str, **fields: str | Sequence[str]) -> Page:
        """Opens a question, fills it in and saves it."""
        return self.send(self.ask(name, *path), fields)
