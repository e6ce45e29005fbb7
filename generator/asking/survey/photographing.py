"""Photographs on the pages: taken or chosen, shown, marked by finger, and what is marked reckoned while it is drawn."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Final

from werkzeug.exceptions import BadRequest, NotFound
from werkzeug.utils import redirect
from werkzeug.wrappers import Request, Response

from generator.asking import photographs
from generator.asking.answering import at
from generator.asking.answers_file import AnyChange, CannotChange, Dropped
from generator.asking.photographs import NoMarks, sent_marks
from generator.asking.survey.decided import mark_of
from generator.asking.survey.desk import Deed, Otherwise, digest
from generator.asking.survey.doing import SCRIPT, Doing
from generator.asking.survey.marking import MarkedRows, rows
from generator.asking.survey.pages import href, photograph_href
from generator.asking.typed import cleaned
from generator.files.errors import Problem
from generator.files.source import Path_
from generator.job.findings import worded
from generator.library.findings import Raised
from generator.measure.photographs.survey import survey
from generator.measure.photographs.told import refusal_of
from generator.questionnaire.facts import Facts
from generator.questionnaire.scopes import ScopePath

if TYPE_CHECKING:
    from werkzeug.datastructures import FileStorage

    from generator.drawing.photograph import PhotographRefused
    from generator.measure.photographs.reckoning import PhotographFigures

_SMALL_PX: Final = 640
_JPEG: Final = "image/jpeg"
_MOST_SHOWN: Final = 4  # pictures turned for the page and kept at hand
_SOURCES: Final = ("taken", "chosen")


class Photographing(Doing):
    """Pages and deeds about photographs."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self._turned: dict[str, bytes] = {}

    # --- showing ----------------------------------------------------------------------------------------

    def photograph(self, _: Request, key: str) -> Response:
        """A photograph with its marks and what they come to."""
        return self._photograph(self._one(key))

    def picture(self, _: Request, key: str) -> Response:
        """The picture of a photograph, upright, as fine as it is kept."""
        from generator.drawing.photograph import read_photograph
        from generator.drawing.photograph_jpeg import KEPT_PX, is_kept, kept_jpeg

        read = self._one(key).picture.read
        if read is None:
            raise NotFound
        if is_kept(read.data):
            return Response(read.data, content_type=_JPEG)
        if read.sha256 not in self._turned:
            turned = kept_jpeg(read_photograph(read.data, KEPT_PX).image)
            self._turned = {**dict(list(self._turned.items())[1 - _MOST_SHOWN :]), read.sha256: turned}
        return Response(self._turned[read.sha256], content_type=_JPEG)

    def small_picture(self, _: Request, key: str) -> Response:
        """The picture of a photograph as a list shows it."""
        from generator.drawing.photograph_jpeg import small_jpeg

        read = self._one(key).picture.read
        if read is None:
            raise NotFound
        return Response(small_jpeg(read, _SMALL_PX), content_type=_JPEG)

    def _one(self, key: str) -> PhotographFigures:
        found = next((one for one in self.desk.job.photographs if one.id == key), None)
        if found is None:
            raise NotFound
        return found

    def _photograph(
        self, one: PhotographFigures, status: int = 200, told: tuple[str, ...] = (), sent: str = ""
    ) -> Response:
        """The page of a photograph; `told` is why what was sent was not taken."""
        job, asked, read = self.desk.job, one.picture.asked, one.picture.read
        place = photographs.place_of(self.desk, one.id)
        item = at(self.desk.source.data, place) if place else None
        works = [(scope.path, scope.title) for scope in job.facts.inside(asked.element, "work")]
        others = [path for path in asked.works if path not in dict(works)]
        refusal = refusal_of(one.picture)
        wrong = worded(refusal, job.filling) if refusal is not None else None
        marked = rows(job, job.survey, one.id) if job.survey else MarkedRows()
        works += [(path, job.facts.scopes[path].title) for path in others]
        return self._page(
            "photograph", status=status, here=asked.element, one=one, asked=asked.asked, read=read,
            works=works, mixes={path: [mark_of(mix) for mix in job.mixes_of(path)] for path, _ in works},
            marked=marked, told=told, wrong=wrong,
            seen=digest(item), marks=sent or json.dumps(_shown(one)), mends=photographs.is_whole(item, asked),
            taking={work.path: self.desk.seen(work.path, "treated_area_from") for work in marked.works},
        )  # fmt: skip

    # --- adding and taking out --------------------------------------------------------------------------

    def add_photograph(self, request: Request) -> Response:
        """Keeps a picture beside the answers and lists it for a wall; what is no picture is told, nothing kept."""
        path = self.path(request.form.get("where", ""))
        if not path or self.desk.level(path) != "element":
            raise BadRequest
        file = next((given for name in _SOURCES if (given := request.files.get(name)) and given.filename), None)
        shows = cleaned(request.form.get("shows", ""))
        if file is None or not shows:
            key = "page-photograph-no-words" if file else "page-photograph-no-file"
            return self._not_added(path, shows or "", (self.pages.say(key),))
        from generator.drawing.photograph import PhotographRefused

        try:
            return self._add(path, shows, file, waited=bool(request.form.get("waited")))
        except PhotographRefused as refused:
            return self._not_added(path, shows, self._why_refused(path, file, refused))
        except CannotChange as error:
            return self._not_added(path, shows, (str(error),))

    def _add(self, path: ScopePath, shows: str, file: FileStorage, *, waited: bool) -> Response:
        """Reads a picture, writes it, then lists it; where that fails, the picture goes again.

        One that `waited` in a page may have come before, and its answer have been lost on the way.
        """
        from generator.drawing.photograph import MOST_BYTES, read_photograph
        from generator.drawing.photograph_jpeg import KEPT_PX, kept_jpeg

        given = read_photograph(file.stream.read(MOST_BYTES + 1), KEPT_PX)
        data = kept_jpeg(given.image)
        kept = read_photograph(data, KEPT_PX)
        for one in self.desk.job.photographs_of(path) if waited else ():
            if one.picture.read and one.picture.read.data == data and one.picture.asked.asked.shows == shows:
                return redirect(photograph_href(one.id), 303)
        name = photographs.keep_picture(self.desk, path, data)

        def changes() -> list[AnyChange]:
            change = photographs.added(self.desk, path, shows, name, given, kept)
            if wrong := photographs.tried(self.desk.job.facts, [*photographs.listed(self.desk), change.value])[1]:
                raise CannotChange(_told(wrong)[0])
            return [change]

        try:
            self.desk.do(Deed("page-did-photograph", (("name", shows),), path), changes)
        except BaseException:
            photographs.taken_away(self.desk, name)
            raise
        return redirect(photograph_href(self.desk.job.photographs[-1].id), 303)

    def _not_added(self, path: ScopePath, shows: str, told: tuple[str, ...]) -> Response:
        return self._page("photograph-new", status=422, here=path, told=told, shows=shows)

    def _why_refused(self, path: ScopePath, file: FileStorage, refused: PhotographRefused) -> tuple[str, ...]:
        """Why a picture is not taken, in the words in which papers would tell it."""
        name = cleaned(file.filename or "") or ""
        figure, limit = (f"{told:,}" if isinstance(told, int) else told for told in (refused.figure, refused.limit))
        fills = (("photograph", name[-60:]), ("file", name[-60:]), ("figure", figure), ("limit", limit))
        found = worded(Raised(f"photograph-{refused.code}", path, fills), self.desk.job.filling)
        return tuple(filter(None, (found.message, found.action)))

    def drop_photograph(self, request: Request) -> Response:
        """Takes a photograph out of the answers with its marks; its file stays, so that undo finds it."""
        one = self._one(request.form.get("where", ""))

        def changes() -> list[AnyChange]:
            place = self._as_marked(one.id, request.form.get("seen", ""))
            items = [item for n, item in enumerate(photographs.listed(self.desk)) if n != place[-1]]
            if wrong := photographs.tried(self.desk.job.facts, items)[1]:
                raise CannotChange(_told(wrong)[0])
            return [Dropped(place)]

        path = one.picture.asked.element
        try:
            self.desk.do(Deed("page-did-drop", (("name", one.id),), path), changes)
        except Otherwise:
            return self._page("sorry", status=409, here=None, key="page-otherwise")
        except CannotChange as error:
            return self._photograph(one, 409, (str(error),))
        return redirect(href(path), 303)

    # --- marks ------------------------------------------------------------------------------------------

    def reckon(self, request: Request) -> Response:
        """What marks come to while they are drawn, as data; nothing is saved."""
        one, place = self._placed(request.form.get("where", ""))
        facts, wrong = self._tried(one, place, _sent(request))
        if wrong:
            return _json({"told": _told(wrong), "areas": [], "html": ""})
        surveyed = survey(facts, self.desk.library, self.desk.file.path.parent)
        found = rows(self.desk.job, surveyed, one.id)
        html = self.pages.page("photograph-figures", marked=found, key=one.id, taking={}, saved=False)
        areas = [
            {"letter": row.letter, "area": row.area, "range": row.range_, "estimate": row.estimate}
            for row in found.areas
        ]
        return _json({"told": [], "areas": areas, "html": html})

    def marks(self, request: Request) -> Response:
        """Saves marks; where the photograph stands otherwise by now, both are shown and nothing is chosen."""
        one, place = self._placed(request.form.get("where", ""))
        sent = _sent(request)
        if not photographs.is_whole(at(self.desk.source.data, place), one.picture.asked):
            return self._photograph(one, 409, (self.pages.say("page-marks-in-file"),), request.form["marks"])
        if wrong := self._tried(one, place, sent)[1]:
            return self._photograph(one, 422, tuple(_told(wrong)), request.form["marks"])

        def changes() -> list[AnyChange]:
            now, there = self._placed(one.id)
            item = at(self.desk.source.data, there)
            after = photographs.with_marks(item, sent, now.picture.asked)
            if after != item:
                self._as_marked(one.id, request.form.get("seen", ""))
            return list(photographs.differences(there, item, after))

        try:
            self.desk.do(Deed("page-did-marks", (("name", one.id),), one.picture.asked.element), changes)
        except Otherwise:
            return self._two_marks(one, request.form["marks"])
        except CannotChange as error:
            return self._photograph(one, 409, (str(error),), request.form["marks"])
        if request.headers.get(SCRIPT):
            return self._photograph(self._one(one.id))
        return redirect(photograph_href(one.id), 303)

    def _two_marks(self, one: PhotographFigures, marks: str) -> Response:
        found = self._one(one.id)
        item = at(self.desk.source.data, photographs.place_of(self.desk, one.id) or ())
        ours = len(json.loads(marks)["marks"])
        return self._page(
            "photograph-two", status=409, here=None, one=found, marks=marks, seen=digest(item), ours=ours,
            theirs=len(found.picture.asked.areas),
        )  # fmt: skip

    def _tried(self, one: PhotographFigures, place: Path_, sent: Mapping[str, Any]) -> tuple[Facts, list[Problem]]:
        item = at(self.desk.source.data, place)
        if not photographs.is_whole(item, one.picture.asked):
            return self.desk.job.facts, []
        after = photographs.with_marks(item, sent, one.picture.asked)
        items = [after if (*place[:-1], n) == place else other for n, other in enumerate(photographs.listed(self.desk))]
        return photographs.tried(self.desk.job.facts, items)

    def _placed(self, key: str) -> tuple[PhotographFigures, Path_]:
        """The photograph that is called so, and its place in the file as it stands now."""
        one, place = self._one(key), photographs.place_of(self.desk, key)
        if place is None:
            raise NotFound
        return one, place

    def _as_marked(self, key: str, seen: str) -> Path_:
        """The place of a photograph. Raises `Otherwise` where it stands otherwise than a page showed it."""
        place = photographs.place_of(self.desk, key)
        if place is None or digest(at(self.desk.source.data, place)) != seen:
            raise Otherwise
        return place


def _sent(request: Request) -> dict[str, Any]:
    try:
        return sent_marks(request.form.get("marks", ""))
    except NoMarks:
        raise BadRequest from None


def _json(data: Mapping[str, Any]) -> Response:
    return Response(json.dumps(data), content_type="application/json")


def _told(problems: list[Problem]) -> list[str]:
    """Problems in words, without the place in a file that nobody sees here."""
    return [f"{problem.what}: {problem.to_do}" for problem in problems]


def _shown(one: PhotographFigures) -> dict[str, Any]:
    """Marks as the script of the page takes them, in shares of the picture."""
    asked = one.picture.asked.asked
    reference = asked.reference
    frame: Any = None
    if reference is not None and reference.corners is not None:
        sizes = {key: getattr(reference, key) for key in ("width_mm", "height_mm", "distance_m")}
        spelt = {key: "" if value is None else f"{value:f}" for key, value in sizes.items()}
        frame = {"corners": _floats(reference.corners), "what": reference.what, **spelt}
    elif reference is not None:
        frame = photographs.KEPT
    checks = [{"points": _floats((one_.start, one_.to)), "length_mm": f"{one_.length_mm:f}"} for one_ in asked.checks]
    areas = [
        {
            "letter": area.letter,
            "work": "/".join(area.work),
            "outline": _floats(area.outline),
            "without": [_floats(ring) for ring in area.without],
            "counted": area.counted,
        }
        for area in one.picture.asked.areas
    ]
    return {"reference": frame, "checks": checks, "marks": areas}


def _floats(points: Any) -> list[list[float]]:
    return [[float(x), float(y)] for x, y in points]
