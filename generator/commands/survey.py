"""The command `survey`: the same questions as `ask`, on pages in the browser."""

from __future__ import annotations

import contextlib
from collections.abc import Mapping
from typing import TYPE_CHECKING, Annotated, Final

import typer

from generator.commands.options import AnswersFile, LayerFolders, LibraryFolder
from generator.commands.sets import set_of
from generator.commands.shared import folder_of, library_beside, or_stop, say

if TYPE_CHECKING:
    from generator.job.job import Job

_MOST_PORT: Final = 65_535
Port = Annotated[
    int | None, typer.Option("--port", min=1, max=_MOST_PORT, help="The port; without it the same for the same file.")
]
NoBrowser = Annotated[bool, typer.Option("--no-browser", help="Print the address and open no browser.")]
OnNetwork = Annotated[
    bool, typer.Option("--on-network", help="Let others on this network in too, such as your phone, who have the key.")
]


def register(app: typer.Typer) -> None:
    """Adds the command."""
    app.command("survey")(survey)


def survey(
    answers: AnswersFile,
    port: Port = None,
    no_browser: NoBrowser = False,
    on_network: OnNetwork = False,
    library: LibraryFolder = None,
    layer: LayerFolders = None,
) -> None:
    """Ask the questions on pages in the browser; each answer is saved as it is given. Ctrl+C ends it."""
    import webbrowser

    from generator.asking.survey.serving import serve
    from generator.commands.issuing import packager_of
    from generator.files.place import RECORD_FILE

    ready = library_beside(answers, library, layer)

    def made(job: Job, raw: bytes) -> Mapping[str, bytes]:
        files, record = set_of(job, answers.name, raw)
        return {**files, RECORD_FILE: record}

    packager = packager_of(answers, ready, folder_of(library))
    served = or_stop(lambda: serve(answers, ready, made, port, on_network=on_network, packager=packager))
    print(served.address, flush=True)
    if not no_browser:
        webbrowser.open(served.address)
    with contextlib.suppress(KeyboardInterrupt):
        served.server.run()
    say()
