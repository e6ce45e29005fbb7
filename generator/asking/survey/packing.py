"""The page that makes the package: what will go in, the button, why not while the set is a draft, and the download."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from werkzeug.exceptions import NotFound
from werkzeug.utils import redirect
from werkzeug.wrappers import Request, Response

from generator.asking.survey import decided
from generator.asking.survey.doing import Doing
from generator.asking.survey.sheet import ANSWERS, lacking
from generator.errors import GaugeboxError
from generator.questionnaire.facts import Facts


@dataclass(frozen=True, slots=True)
class Packager:
    """What makes packages: the folder they are kept in, what goes into one, and how it is made.

    `names` gives reader and file of all that goes in, with or without PDF files; `make` issues the set of some facts
    and the answers file they were read from, and returns the zip. `made` are the zips that there are, `of` the one
    that was made of the answers file as it stands.
    """

    folder: Path
    can_pdf: bool
    names: Callable[[bool], Sequence[tuple[str, str]]]
    make: Callable[[Facts, bytes, bool], Path]
    made: Callable[[], Sequence[Path]]
    of: Callable[[bytes], Path | None]


class Packing(Doing):
    """Deeds at a desk, and the package."""

    packager: Packager | None = None

    def package(self, request: Request) -> Response:
        """What a package holds, the button that makes it, and those that were made."""
        return self._package(self._packager(), just_made=request.args.get("made", ""))

    def package_make(self, request: Request) -> Response:
        """Makes the package; refused with the reasons while the set is a draft, or where it cannot be kept."""
        packager, desk = self._packager(), self.desk
        already = packager.of(desk.source.raw)
        if already is not None:  # a second press, or a page that was sent again
            return redirect(f"/package?made={already.name}", 303)
        if desk.source.problems or not self._is_for_tender():
            return self._package(packager, status=409, refused=True)
        try:
            made = packager.make(desk.facts, desk.source.raw, packager.can_pdf and bool(request.form.get("pdf")))
        except GaugeboxError as error:
            return self._package(packager, status=409, why=str(error).splitlines())
        return redirect(f"/package?made={made.name}", 303)

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
        why: Sequence[str] = (),
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
        )  # fmt: skip
