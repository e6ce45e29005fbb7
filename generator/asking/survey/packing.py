"""The page that makes the package: what will go in, the button, why not while the set is a draft, and the download."""

from __future__ import annotations

import json
import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from werkzeug.exceptions import NotFound
from werkzeug.utils import redirect
from werkzeug.wrappers import Request, Response

from generator.asking.survey import decided
from generator.asking.survey.app import Later
from generator.asking.survey.doing import SCRIPT, Doing
from generator.asking.survey.sheet import ANSWERS, lacking
from generator.files.errors import GaugeboxError
from generator.questionnaire.facts import Facts


@dataclass(frozen=True, slots=True)
class Packager:
    """What makes packages: the folder they are kept in, what goes into one, and how it is made.

    `names` gives reader and file of all that goes in, with or without PDF files; `make` issues the set of some facts
    and the answers file they were read from, tells each step that it begins, and returns the zip. `made` are the zips
    that there are, `of` the one that was made of the answers file as it stands.
    """

    folder: Path
    can_pdf: bool
    names: Callable[[bool], Sequence[tuple[str, str]]]
    make: Callable[[Facts, bytes, bool, Callable[[str], Any]], Path]
    made: Callable[[], Sequence[Path]]
    of: Callable[[bytes], Path | None]


@dataclass(slots=True)
class Run:
    """A package being made, of the answers as they stood: what it is at, then the zip, or why there is none.

    `why` is empty where it broke off: what happened is told where the survey was started.
    """

    raw: bytes
    step: str = ""
    made: Path | None = None
    why: Sequence[str] | None = None
    done: threading.Event = field(default_factory=threading.Event)

    def tell(self, step: str) -> None:
        """Notes the step that begins."""
        self.step = step

    def make(self, packager: Packager, facts: Facts, pdf: bool) -> None:
        """Makes it, and notes what came of it."""
        try:
            self.made = packager.make(facts, self.raw, pdf, self.tell)
        except GaugeboxError as error:
            self.why = str(error).splitlines()
        except BaseException:
            self.why = ()
            raise
        finally:
            self.done.set()


class Packing(Doing):
    """Deeds at a desk, and the package: made while the pages go on, one at a time."""

    packager: Packager | None = None
    run: Run | None = None

    def package(self, request: Request) -> Response:
        """What a package holds, the button that makes it, and those that were made."""
        packager, run = self._packager(), self.run
        why = run.why if run is not None and run.done.is_set() and run.raw == self.desk.source.raw else None
        just_made = request.args.get("made", "")
        return self._package(packager, status=200 if why is None else 409, why=why, just_made=just_made)

    def package_make(self, request: Request) -> Response | Later:
        """Makes the package; refused with the reasons while the set is a draft, or where it cannot be kept.

        A page with scripts comes back at once and follows what is done; one without is answered when all is done.
        """
        packager, desk = self._packager(), self.desk
        if self._being_made() is None:
            already = packager.of(desk.source.raw)
            if already is not None:  # a page that was sent again
                return redirect(f"/package?made={already.name}", 303)
            if desk.source.problems or not self._is_for_tender():
                return self._package(packager, status=409, refused=True)
            self._begin(packager, packager.can_pdf and bool(request.form.get("pdf")))
        if request.headers.get(SCRIPT):
            return self._package(packager, status=202)
        run = self.run
        assert run is not None, "it was begun just now, or before"

        def answer() -> Response:
            run.done.wait()
            return redirect(_leads_to(run), 303)

        return Later(answer)

    def package_state(self, _: Request) -> Response:
        """What the package being made is at, and where to go on once it is done: for the script of the page."""
        run = self.run
        told = {"step": run.step if run else "", "to": _leads_to(run) if run and run.done.is_set() else ""}
        return Response(json.dumps(told), content_type="application/json")

    def _begin(self, packager: Packager, pdf: bool) -> None:
        self.run = Run(self.desk.source.raw)
        # whoever ends the survey ends this too: an issue is kept whole or not at all
        threading.Thread(target=self.run.make, args=(packager, self.desk.facts, pdf), daemon=True).start()

    def _being_made(self) -> Run | None:
        return self.run if self.run is not None and not self.run.done.is_set() else None

    def package_file(self, _: Request, name: str) -> Response:
        """A package that was made, to keep."""
        found = next((path for path in self._packager().made() if path.name == name), None)
        if found is None:
            raise NotFound
        headers = {"Content-Disposition": f'attachment; filename="{found.name}"'}
        return Response(found.read_bytes(), content_type="application/zip", headers=headers)

    def _packager(self) -> Packager:
        if self.packager is None:
            raise NotFound
        return self.packager

    def _is_for_tender(self) -> bool:
        return self.desk.job.status == "tender" and not lacking(self.desk.job)

    def _package(
        self,
        packager: Packager,
        *,
        status: int = 200,
        refused: bool = False,
        why: Sequence[str] | None = None,
        just_made: str = "",
    ) -> Response:
        made = [path.name for path in packager.made()]
        readers: dict[str, list[str]] = {}
        for reader, name in packager.names(False):
            readers.setdefault(reader, []).append(name)
        job = self.desk.job
        asked = self.desk.questionnaire.questions.get("revision")
        label = asked.label if asked is not None else ""
        holding = [item for item in job.findings if item.level == "block" and item.code not in ANSWERS]
        return self._page(
            "package", status=status, here=None, readers=readers, can_pdf=packager.can_pdf, folder=str(packager.folder),
            refused=refused, why=why, revision_label=label, holding=decided.by_who(holding), title_of=self._title,
            just_made=just_made if just_made in made else "", made=[name for name in made if name != just_made],
            making=self._being_made(),
        )  # fmt: skip


def _leads_to(run: Run) -> str:
    """The page that tells what came of it."""
    return f"/package?made={run.made.name}" if run.made is not None else "/package"
