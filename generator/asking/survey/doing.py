"""What is done from the pages: answers, undo, walls made, copied, moved and taken out, the set to take along."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Final

from werkzeug.exceptions import BadRequest
from werkzeug.utils import redirect
from werkzeug.wrappers import Request, Response

from generator import pipeline
from generator.asking.answering import Asked, Refused, Taken, checked
from generator.asking.answers_file import AnyChange, CannotChange, Moved, Raw
from generator.asking.making import New, copy_of, first_zone, further_zone, new_element, new_work
from generator.asking.order import own_answers
from generator.asking.refusing import refusal, way_told
from generator.asking.survey.app import Later
from generator.asking.survey.desk import Deed, Otherwise, digest
from generator.asking.survey.fields import Posted, answered, typed, untyped
from generator.asking.survey.pages import ask_href, href
from generator.asking.survey.showing import Showing
from generator.asking.typed import cleaned
from generator.files.archive import archived
from generator.job.job import Job
from generator.questionnaire.questions import Question
from generator.questionnaire.scopes import PROJECT, ScopePath

SetOf = Callable[[Job, bytes], Mapping[str, bytes]]
"""The files of a set by name, made of a job and the answers file that it was read from."""

SCRIPT: Final = "X-Survey-Script"
"""The header by which the script of the pages asks for the next page at once, in place of a redirect."""


class Doing(Showing):
    """Deeds at a desk; each ends at a page that shows what came of it."""

    set_of: SetOf

    # --- answers ----------------------------------------------------------------------------------------

    def answer(self, request: Request) -> Response:
        """Saves an answer, or takes one out; what is not taken comes back with why."""
        posted = _posted(request)
        path = self.path(posted.get("where"))
        question = self.asked(path, posted.get("name"))
        if posted.get("do") == "take-out":
            return self._take_out(request, path, question)
        found = answered(question, posted)
        if isinstance(found, Taken):
            return self._save(request, path, question, found)
        if isinstance(found, Asked):
            return self._asks(path, question, posted, found)
        told = tuple(self._why_not(question, typed(question, posted), found))
        return self.asking(path, question, told, untyped(question, posted), 422)

    def _asks(self, path: ScopePath, question: Question, posted: Posted, found: Asked) -> Response:
        """Asks back which of several ways is meant; nothing is saved yet."""
        say, text = self.pages.say, typed(question, posted)
        asks = say("ask-about", value=found.about) if found.about else say("ask-read-ways", typed=text)
        ways = tuple((str(one.raw), way_told(self.desk.library, self.desk.facts, question, one)) for one in found.ways)
        return self.asking(path, question, (asks,), untyped(question, posted), 422, ways=ways)

    def understood(self, request: Request) -> Response:
        """What is understood of what is being typed, in words; nothing is saved."""
        posted = Posted(request.args.to_dict(flat=False))
        path = self.path(posted.get("where"))
        question = self.asked(path, posted.get("name"))
        found = answered(question, posted)
        return Response(self._understood(question, found), content_type="text/plain; charset=utf-8")

    def _understood(self, question: Question, found: Taken | Refused | Asked | None) -> str:
        if not isinstance(found, Taken) or question.kind not in ("number", "range", "date", "month_day"):
            return ""
        said = self.desk.facts.say(question.name, found.value)
        return self.pages.say("page-understood", value="; ".join([said, *map(self._beside, found.beside)]))

    def _beside(self, told: tuple[str, Raw]) -> str:
        """What an answer says besides of another question."""
        name, raw = told
        question = self.desk.questionnaire.questions[name]
        found = checked(question, raw)
        value = self.desk.facts.say(name, found.value) if isinstance(found, Taken) else ""
        return self.pages.say("page-beside", label=question.label, value=value)

    def _why_not(self, question: Question, text: str, found: Refused | None) -> Sequence[str]:
        if found is not None:
            return [*refusal(self.desk.library, question, text, found, "page")]
        key = "ask-not-text" if text.strip() and cleaned(text) is None else "page-nothing-given"
        return [self.pages.say(key)]

    def _save(self, request: Request, path: ScopePath, question: Question, found: Taken) -> Response:
        desk, name = self.desk, question.name
        after = path

        def changes() -> list[AnyChange]:
            nonlocal after
            self._as_seen(path, name, request.form.get("seen", ""), digest(found.raw))
            made, after = desk.answer(path, name, found)
            return made

        said = desk.facts.say(name, found.value)
        deed = Deed("page-did-answer", (("label", question.label.rstrip("?")), ("value", said)), path, name)
        try:
            desk.do(deed, changes)
        except Otherwise:
            return self._two_answers(path, question, found)
        except CannotChange as error:
            return self.asking(path, question, (str(error),), untyped(question, _posted(request)), 409)
        return self._answered(request, after, question)

    def _as_seen(self, path: ScopePath, name: str, seen: str, meant: str = "") -> None:
        """Raises `Otherwise` where an answer stands otherwise than a page showed it, and not as it is meant to."""
        if path and path not in self.desk.facts.scopes:
            raise Otherwise
        if self.desk.seen(path, name) not in (seen, meant):
            raise Otherwise

    def _two_answers(self, path: ScopePath, question: Question, found: Taken) -> Response:
        """Shows both answers to one question; nothing is chosen."""
        self.path("/".join(path))
        held = self.desk.facts.values.get(path, {}).get(question.name)
        theirs = self.desk.facts.say(question.name, held.value) if held and held.origin == "given" else ""
        ours = self.desk.facts.say(question.name, found.value)
        return self._page(
            "two", status=409, here=None, path=path, question=question, theirs=theirs, ours=ours, raw=found.raw,
            seen=self.desk.seen(path, question.name), title_of=self._title,
        )  # fmt: skip

    def _take_out(self, request: Request, path: ScopePath, question: Question) -> Response:
        desk, name = self.desk, question.name

        def changes() -> list[AnyChange]:
            self._as_seen(path, name, request.form.get("seen", ""))
            return [desk.taking_out(path, name)] if desk.standing(path, name) is not None else []

        try:
            desk.do(Deed("page-did-take-out", (("label", question.label.rstrip("?")),), path, name), changes)
        except Otherwise:
            return self.asking(path, question, (self.pages.say("page-otherwise"),), None, 409)
        return self._answered(request, path, question)

    def _answered(self, request: Request, path: ScopePath, question: Question) -> Response:
        """After a deed on an answer: the same question, or what the page's *next* led to."""
        goes = request.form.get("next", "") if request.form.get("do") == "next" else ""
        if goes.startswith(("/ask/", "/at", "/photograph/")):
            return redirect(goes, 303)
        if request.headers.get(SCRIPT):
            return self.asking(path, question, saved=True)
        return redirect(ask_href(path, question.name), 303)

    # --- undo -------------------------------------------------------------------------------------------

    def undo(self, request: Request) -> Response:
        """Puts back what stood before the last deed."""
        return self._back_to(request, self.desk.undo())

    def redo(self, request: Request) -> Response:
        """Does again what was undone last."""
        return self._back_to(request, self.desk.redo())

    def _back_to(self, request: Request, deed: Deed | None) -> Response:
        if deed is None:
            return self._page("sorry", status=409, here=None, key="page-no-undo")
        there = deed.path in self.desk.facts.scopes or deed.path == PROJECT
        path = deed.path if there else PROJECT
        if deed.name and there:
            if request.headers.get(SCRIPT):
                return self.asking(path, self.asked(path, deed.name))
            return redirect(ask_href(path, deed.name), 303)
        return redirect(href(path) if there and path else "/", 303)

    # --- walls and works --------------------------------------------------------------------------------

    def make(self, request: Request) -> Response:
        """Makes an element, a work, a zone, or a copy of an element."""
        posted = request.form
        what, name = posted.get("what", ""), cleaned(posted.get("name", "")) or ""
        path = self.path(posted.get("where", ""))
        if what == "work":
            return self._make_work(path, posted.get("work", ""))
        if what == "zone":
            return self._make_zone(path, name, cleaned(posted.get("first", "")) or "")
        if what not in ("element", "copy") or (what == "copy" and not path):
            raise BadRequest
        without = own_answers(self.desk.questionnaire)

        def new() -> New:
            return copy_of(self.desk, path, name, without) if what == "copy" else new_element(self.desk, name)

        return self._make(f"page-did-{what}", name, new)

    def _make(self, key: str, name: str, new: Callable[[], New]) -> Response:
        wrong = self._wrong_name(name, new)
        if wrong:
            return self._page("new", status=422, here=None, told=wrong, typed=name)
        return redirect(href(self._do(key, name, new)), 303)

    def _do(self, key: str, name: str, new: Callable[[], New]) -> ScopePath:
        """Makes what is new as one deed; its path."""
        path = new().path
        self.desk.do(Deed(key, (("name", name),), path), lambda: new().changes)
        return path

    def _wrong_name(self, name: str, new: Callable[[], New]) -> list[str]:
        if not name:
            return [self.pages.say("ask-name-needed")]
        if name.casefold() in {scope.title.casefold() for scope in self.desk.facts.at("element")}:
            return [self.pages.say("page-name-taken", name=name)]
        made = new()
        return [
            self.pages.say("ask-refused", what=wrong.what, to_do=wrong.to_do)
            for wrong in self.desk.wrong_name(made.changes, made.place)
        ]

    def _make_work(self, path: ScopePath, work: str) -> Response:
        said = {choice.is_: choice.says for choice in self.desk.questionnaire.questions["work"].choices}
        if not path or self.desk.level(path) != "element" or work not in said:
            raise BadRequest
        made = self._do("page-did-work", said[work], lambda: new_work(self.desk, path, work))
        return redirect(href(made), 303)

    def _make_zone(self, path: ScopePath, name: str, first: str) -> Response:
        if not path or self.desk.level(path) != "element":
            raise BadRequest
        beside = path
        if len(self.desk.where(path)) == 2:  # a whole wall, not a zone

            def new() -> New:
                return first_zone(self.desk, path, first)

            wrong = self._wrong_name(first, new)
            if wrong or not name:
                told = wrong or [self.pages.say("ask-name-needed")]
                return self._page("new", status=422, here=None, told=told, typed=name)
            beside = self._do("page-did-zone", first, new)
        return self._make("page-did-zone", name, lambda: further_zone(self.desk, beside, name, {}))

    def drop(self, request: Request) -> Response:
        """Takes an element or a work out with all its answers; undo puts it back."""
        path = self.path(request.form.get("where", ""))
        if not path:
            raise BadRequest

        def changes() -> list[AnyChange]:
            self._as_seen(path, "", request.form.get("seen", ""))
            return self.desk.dropping(path)

        try:
            self.desk.do(Deed("page-did-drop", (("name", self.desk.facts.title(path)),), path), changes)
        except Otherwise:
            return self._page("sorry", status=409, here=None, key="page-otherwise")
        return redirect("/order", 303)

    def move(self, request: Request) -> Response:
        """Lets an element or a work change places with the one before or after it."""
        path = self.path(request.form.get("where", ""))
        if not path or request.form.get("to") not in ("up", "down"):
            raise BadRequest

        def changes() -> list[AnyChange]:
            *listed, index = self.desk.where(path)
            first = int(index) - (request.form["to"] == "up")
            if first < 0:
                raise CannotChange(self.pages.say("page-cannot-move"))
            return [Moved((*listed, first))]

        self.desk.do(Deed("page-did-move", (("name", self.desk.facts.title(path)),), path), changes)
        return redirect("/order", 303)

    # --- the set ----------------------------------------------------------------------------------------

    def set(self, _: Request) -> Later:
        """The papers and their record as one archive, as `write` makes them; refused where it would refuse."""
        desk = self.desk
        desk.refuse_mistakes()
        facts, raw, path = desk.facts, desk.source.raw, desk.file.path

        def made() -> Response:
            # anew: a photograph may have become another since
            job = pipeline.settled(facts, desk.library, folder=path.parent)
            headers = {"Content-Disposition": f'attachment; filename="{path.stem}-papers.zip"'}
            return Response(archived(self.set_of(job, raw)), content_type="application/zip", headers=headers)

        return Later(made)


def _posted(request: Request) -> Posted:
    return Posted(request.form.to_dict(flat=False))
