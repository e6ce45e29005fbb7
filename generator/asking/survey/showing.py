"""The pages that show: the whole job, a sheet, a question, what is open, what is found, the papers."""

from __future__ import annotations

import json
from collections.abc import Mapping
from decimal import Decimal, InvalidOperation
from typing import Any, Final, cast, get_args

from werkzeug.exceptions import NotFound
from werkzeug.wrappers import Request, Response

from generator.asking.answering import Taken, checked
from generator.asking.survey import decided
from generator.asking.survey.app import HTML
from generator.asking.survey.desk import SurveyDesk
from generator.asking.survey.fields import form
from generator.asking.survey.pages import Pages, ask_href, href
from generator.asking.survey.reading import MIXES, READABLE, Reading
from generator.asking.survey.sheet import ANSWERS, above, onward, sections, sheet_of
from generator.asking.survey.shell import shell
from generator.drawing.code import code
from generator.drawing.measures import Fill, boxes
from generator.drawing.svg import svg
from generator.questionnaire.questions import Question
from generator.questionnaire.reading import default_of
from generator.questionnaire.scopes import PROJECT, ScopePath
from generator.render.page.paper import contents_of

_BOX_MM: Final = 7.5
_ROOM_MM: Final = 90.0
_CODE_MM: Final = 60.0
MOST_FOUND: Final = 60


class Showing:
    """Pages about what stands on a desk."""

    def __init__(self, desk: SurveyDesk, pages: Pages, address: str = "") -> None:
        """`address` is that for others on the network, if they are let in."""
        self.desk, self.pages, self.address = desk, pages, address
        self._read: Reading | None = None

    # --- the pages --------------------------------------------------------------------------------------

    def job(self, _: Request) -> Response:
        """The whole job in view."""
        return self._page("job", here=None, on_network=bool(self.address))

    def sheet(self, _: Request, where: str = "") -> Response:
        """The answers of the whole job or of an element, with what is decided beside them."""
        return self._sheet(sheet_of(self.path(where)))

    def question(self, _: Request, name: str, where: str = "") -> Response:
        """One question, where it stands among the others of its sheet."""
        path = self.path(where)
        return self.asking(path, self.asked(path, name))

    def open(self, _: Request) -> Response:
        """What holds the tender back, by who must answer."""
        job = self.desk.job
        found = [item for item in job.findings if item.code not in ANSWERS]
        holding = decided.by_who([item for item in found if item.level == "block"])
        uses = {use: decided.by_sheet(items) for use, items in decided.by_use(found).items()}
        return self._page("open", here=None, holding=holding, uses=uses, title_of=self._title)

    def papers(self, _: Request) -> Response:
        """The papers to read and to take along."""
        return self._page("papers", here=None, readable=READABLE)

    def paper(self, _: Request, name: str) -> Response:
        """A paper as a page."""
        reading = self._reading(name)
        title = self.pages.say(f"page-paper-{name}")
        if name == MIXES:
            return self._page("paper", here=None, paper_title=title, contents=(), html="", cards=reading.cards())
        made = reading.paper(name)
        contents = contents_of(made)
        return self._page("paper", here=None, paper_title=title, contents=contents, html=made.html, cards=())

    def figure(self, _: Request, name: str, number: int) -> Response:
        """A figure of a paper."""
        figures = () if name == MIXES else self._reading(name).paper(name).figures
        if number >= len(figures):
            raise NotFound
        kind, data = figures[number]
        return Response(data, content_type=kind)

    def _reading(self, name: str) -> Reading:
        """The papers as answers stand. Raises `InputInvalid` where none could be written of them."""
        if name not in READABLE:
            raise NotFound
        self.desk.refuse_mistakes()
        if self._read is None or self._read.job is not self.desk.job:
            self._read = Reading(self.desk.job)
        return self._read

    def new(self, _: Request) -> Response:
        """The ways to add a wall, a work or a zone."""
        return self._page("new", here=None)

    def order(self, _: Request) -> Response:
        """The walls and their works in order, to move or take out."""
        return self._page("order", here=None, seen=self.desk.seen)

    def phone(self, _: Request) -> Response:
        """The address for a phone, to be read by its camera."""
        return self._page("phone", here=None, address=self.address)

    def phone_code(self, _: Request) -> Response:
        """The address for a phone as a code; raises `NotFound` where nobody on the network is let in."""
        if not self.address:
            raise NotFound
        return Response(svg(code(self.address, self.address, _CODE_MM)), content_type="image/svg+xml")

    def find(self, request: Request) -> Response:
        """Walls and questions that hold some words."""
        words = request.args.get("q", "").lower().split()
        found = list(self._found(words))[:MOST_FOUND] if words else []
        return self._page("find", here=None, words=request.args.get("q", ""), found=found)

    def kept(self, _: Request) -> Response:
        """Every question and sheet as a page shows it, for a page that loses its connection: by address."""
        job, frame = self.desk.job, shell(self.desk)
        found = {"/": self.pages.page("kept-job", frame=frame)}
        for sheet in frame.sheets:
            path, listed = sheet.path, sections(job.facts, self.desk.library, sheet.path)
            rows = [row for section in listed for row in section.rows]
            found[href(path)] = self.pages.page("kept-sheet", sheet=sheet, sections=listed)
            for at_, row in enumerate(rows):
                onto = (rows[at_ + 1].path, rows[at_ + 1].question) if at_ + 1 < len(rows) else None
                above_ = rows[at_ - 1] if at_ else None
                asked = self._asked(row.path, row.question)
                made = self.pages.page(
                    "kept", frame=frame, here=path, asked=asked, onto=onto, above=above_, photographs=job.photographs
                )
                found[ask_href(row.path, row.question.name).split("#")[0]] = made
        return Response(json.dumps(found), content_type="application/json")

    def boxes(self, _: Request, fill: str, count: str) -> Response:
        """Boxes of one material as a picture."""
        try:
            amount = Decimal(count)
            if fill not in get_args(Fill):
                raise ValueError
            drawn = boxes(cast("Fill", fill), amount, _BOX_MM, _ROOM_MM, f"{count} {fill}")
        except (InvalidOperation, ValueError):
            raise NotFound from None
        return Response(svg(drawn), content_type="image/svg+xml")

    # --- what they share --------------------------------------------------------------------------------

    def path(self, where: str) -> ScopePath:
        """The scope that an address names; raises `NotFound` for one that is not there."""
        path = tuple(part for part in where.split("/") if part)
        if path and path not in self.desk.facts.scopes:
            raise NotFound
        return path

    def asked(self, path: ScopePath, name: str) -> Question:
        """The question of a name that is asked of a scope; raises `NotFound` for one that is not."""
        question = self.desk.questionnaire.questions.get(name)
        if question is None or question.scope != self.desk.level(path):
            raise NotFound
        return question

    def asking(
        self,
        path: ScopePath,
        question: Question,
        told: tuple[str, ...] = (),
        typed: Any = None,
        status: int = 200,
        saved: bool = False,
        ways: tuple[tuple[str, str], ...] = (),
    ) -> Response:
        """The page of a question; `told` is why what was typed was not taken, `ways` how it may be meant."""
        asked = {**self._asked(path, question, typed), "told": told, "saved": saved, "ways": ways}
        return self._sheet(sheet_of(path), asked, status)

    def _asked(self, path: ScopePath, question: Question, typed: Any = None) -> Mapping[str, Any]:
        """What the form of a question is filled with."""
        job, library = self.desk.job, self.desk.library
        standing = self.desk.standing(path, question.name)
        usual = default_of(question)
        held = job.facts.values.get(path, {}).get(question.name)
        said = job.facts.say(question.name, held.value) if held and held.origin == "given" else ""
        shown = said if question.kind == "month_day" and held and held.known else standing  # `10-20` is for files
        return {
            "path": path,
            "question": question,
            "form": form(question, library, shown if typed is None else typed),
            "typed": typed,
            "standing": said,
            "seen": self.desk.seen(path, question.name),
            "example": self._example(question),
            "need": library.questionnaire.need(job.facts, path, question),
            "usual": job.facts.say(question.name, usual) if usual is not None else "",
            "resting": decided.resting_on(job, path, question.name),
            "is_there": standing is not None,
            "told": (),
            "saved": False,
            "ways": (),
        }

    def _example(self, question: Question) -> str:
        """The example of a question as a person would write it; as it stands, where it is no answer of its kind."""
        found = checked(question, question.example) if question.example else None
        said = self.desk.facts.say(question.name, found.value) if isinstance(found, Taken) else ""
        return said or question.example

    def _sheet(self, path: ScopePath, asked: Mapping[str, Any] | None = None, status: int = 200) -> Response:
        job = self.desk.job
        found = sections(job.facts, self.desk.library, path)
        rows = [row for section in found for row in section.rows]
        frame = shell(self.desk)
        onto = above_ = None
        if asked is not None:
            name = asked["question"].name
            onto, above_ = onward(rows, frame.lacks, asked["path"], name), above(rows, asked["path"], name)
        works, found_ = job.facts.inside(path, "work") if path else [], decided.findings(job, path)
        return self._page(
            "sheet", here=path, frame=frame, status=status, sections=found, asked=asked, onto=onto, above=above_,
            cards=decided.cards(job, path) if path else [], whys=decided.whys(job, path) if path else [],
            holding=[item for item in found_ if item.level == "block"], uses=decided.by_use(found_),
            title_of=self._title,
            figures=[(work.title, decided.work_figures(job, work.path)) for work in works],
            photographs=job.photographs_of(path) if path else job.photographs,
        )  # fmt: skip

    def _page(self, template: str, *, status: int = 200, **values: Any) -> Response:
        filled = {"frame": values.pop("frame", None) or shell(self.desk), **values}
        return Response(self.pages.page(template, **filled), status, content_type=HTML)

    def _title(self, path: ScopePath) -> str:
        if path == PROJECT or path not in self.desk.facts.scopes:
            return self.pages.say("whole-job") if path == PROJECT else ", ".join(path)
        return self.desk.facts.title(path)

    def _found(self, words: list[str]) -> Any:
        """Sheets by their title, and rows by where, label and answer, that hold all of some words."""
        facts, library = self.desk.job.facts, self.desk.library
        for path in (PROJECT, *(scope.path for scope in facts.at("element"))):
            title = self._title(path)
            if all(word in title.lower() for word in words):
                yield path, "", title, ""
            for section in sections(facts, library, path):
                for row in section.rows:
                    where = self._title(row.path)
                    if all(word in f"{where} {row.label} {row.said}".lower() for word in words):
                        yield row.path, row.question.name, f"{where}: {row.label}", row.said
