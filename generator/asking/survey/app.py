"""The survey as a WSGI application: who may ask, which page answers, and what a mistake is answered with."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from werkzeug.exceptions import HTTPException, NotFound, RequestEntityTooLarge
from werkzeug.routing import Map, Rule
from werkzeug.wrappers import Request, Response

from generator.asking.survey.desk import SurveyDesk
from generator.asking.survey.guard import HEADERS, MOST_FIELDS, MOST_FORM_BYTES, MOST_UPLOAD_BYTES, Guard
from generator.asking.survey.pages import FILES, Pages
from generator.files.errors import GaugeboxError


@dataclass(frozen=True, slots=True)
class Later:
    """An answer that takes long and needs no desk: made once the desk is let go, so that others can go on."""

    answer: Callable[[], Response]


View = Callable[..., Response | Later]
HTML: Final = "text/html; charset=utf-8"
UPLOAD: Final = "/photograph/add"
_ROUTES: Final = (
    ("/", "GET", "job"),
    ("/at", "GET", "sheet"),
    ("/at/<path:where>", "GET", "sheet"),
    ("/ask/<name>", "GET", "question"),
    ("/ask/<name>/<path:where>", "GET", "question"),
    ("/open", "GET", "open"),
    ("/papers", "GET", "papers"),
    ("/papers/<name>", "GET", "paper"),
    ("/papers/<name>/<int:number>", "GET", "figure"),
    ("/package", "GET", "package"),
    ("/package/state", "GET", "package_state"),
    ("/package/<name>", "GET", "package_file"),
    ("/find", "GET", "find"),
    ("/phone", "GET", "phone"),
    ("/phone.svg", "GET", "phone_code"),
    ("/new", "GET", "new"),
    ("/order", "GET", "order"),
    ("/kept", "GET", "kept"),
    ("/understood", "GET", "understood"),
    ("/set.zip", "GET", "set"),
    ("/boxes/<fill>/<count>.svg", "GET", "boxes"),
    ("/photograph/<key>", "GET", "photograph"),
    ("/picture/<key>", "GET", "picture"),
    ("/picture/<key>/small", "GET", "small_picture"),
    ("/answer", "POST", "answer"),
    ("/undo", "POST", "undo"),
    ("/redo", "POST", "redo"),
    ("/make", "POST", "make"),
    ("/package", "POST", "package_make"),
    ("/drop", "POST", "drop"),
    ("/move", "POST", "move"),
    (UPLOAD, "POST", "add_photograph"),
    ("/photograph/drop", "POST", "drop_photograph"),
    ("/reckon", "POST", "reckon"),
    ("/marks", "POST", "marks"),
)


class Asked(Request):
    """A request, of which no more is read than a form can hold, or a picture where one is sent."""

    max_form_memory_size = MOST_FORM_BYTES
    max_form_parts = MOST_FIELDS

    def __init__(self, environ: dict[str, Any]) -> None:
        super().__init__(environ)
        self.max_content_length = MOST_UPLOAD_BYTES if self.path == UPLOAD else MOST_FORM_BYTES


class Survey:
    """The application: `views` by the names of routes; each is asked with the desk held, until it says `Later`."""

    def __init__(self, desk: SurveyDesk, guard: Guard, pages: Pages, views: Mapping[str, View]) -> None:
        self.desk, self.guard, self.pages, self.views = desk, guard, pages, views
        self._map = Map([Rule(rule, endpoint=name, methods=[method]) for rule, method, name in _ROUTES])

    @staticmethod
    def endpoints() -> list[str]:
        """The names of the views that it asks."""
        return [name for _, _, name in _ROUTES]

    def __call__(self, environ: dict[str, Any], start_response: Callable[..., Any]) -> Iterable[bytes]:
        """Answers one request."""
        request = Asked(environ)
        try:
            response = self._answer(request)
        finally:
            request.close()
        response.headers.update(HEADERS)
        return response(environ, start_response)

    def _answer(self, request: Asked) -> Response:
        try:
            return self._refused(request) or self._of_view(request)
        except RequestEntityTooLarge:
            return self._simple("page-picture-too-large" if request.path == UPLOAD else "page-too-large", 413)
        except NotFound:
            return self._simple("page-not-there", 404)
        except HTTPException as error:
            return self._simple("page-wrong-request", error.code or 400)

    def _refused(self, request: Asked) -> Response | None:
        """The answer to whoever may not ask, or asks with the key in the address; None for those who may go on."""
        if not self.guard.knows_host(request.host):
            return self._simple("page-wrong-host", 421)
        if request.method == "GET" and self.guard.holds(request.args.get("key", "")):
            return self._let_in()
        if not self.guard.holds(request.cookies.get(self.guard.cookie, "")):
            return self._simple("page-no-key", 403)
        sent = request.headers
        posts = request.method not in ("GET", "HEAD")
        if posts and not self.guard.came_from_here(request.host, sent.get("Origin"), sent.get("Sec-Fetch-Site")):
            return self._simple("page-wrong-origin", 403)
        return None

    def _let_in(self) -> Response:
        """Keeps the key as a cookie, and goes on to where it is not in the address.

        By a page and not by a redirect: whoever follows a link from elsewhere would be sent on without the cookie.
        """
        response = Response(self.pages.page("enter"), content_type=HTML)
        response.set_cookie(self.guard.cookie, self.guard.key, httponly=True, samesite="Strict", path="/")
        return response

    def _of_view(self, request: Asked) -> Response:
        name = request.path.removeprefix("/")
        if name in FILES and request.method == "GET":
            return Response(self.pages.file(name), content_type=FILES[name])
        endpoint, values = self._map.bind_to_environ(request.environ).match()
        try:
            with self.desk.lock:
                found = self._at_desk(request, endpoint, values)
            return found.answer() if isinstance(found, Later) else found
        except GaugeboxError as error:
            return self._trouble(str(error).splitlines())

    def _at_desk(self, request: Asked, endpoint: str, values: Mapping[str, Any]) -> Response | Later:
        self.desk.look()
        if self.desk.trouble:
            return self._trouble([str(problem) for problem in self.desk.trouble])
        return self.views[endpoint](request, **values)

    def _trouble(self, lines: Sequence[str]) -> Response:
        return Response(self.pages.page("trouble", lines=lines), 409, content_type=HTML)

    def _simple(self, key: str, status: int) -> Response:
        return Response(self.pages.page("simple", key=key), status, content_type=HTML)
