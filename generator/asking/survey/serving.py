"""Serves the survey of one answers file: where it listens, and under which address it is opened."""

from __future__ import annotations

import gc
import hashlib
import socket
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from generator.asking.survey.app import Survey
from generator.asking.survey.desk import SurveyDesk
from generator.asking.survey.doing import SetOf
from generator.asking.survey.guard import LOOPBACK, MOST_UPLOAD_BYTES, Guard
from generator.asking.survey.packing import Packager, Packing
from generator.asking.survey.pages import Pages
from generator.asking.survey.photographing import Photographing
from generator.files.errors import CannotServe
from generator.files.walk import real_path
from generator.library.model import Library

_FIRST_PORT: Final = 20_000
_PORTS: Final = 20_000
_TRIES: Final = 50
_THREADS: Final = 8
_SELDOM: Final = 200_000  # things that are made: an answer makes about as many, most of which go by themselves
_HERE: Final = "127.0.0.1"
_EVERYWHERE: Final = "0.0.0.0"


@dataclass(frozen=True, slots=True)
class Served:
    """A survey that listens: its address with the key, its application, and what runs it until it is closed."""

    address: str
    app: Survey
    server: Any


class _Views(Packing, Photographing):
    """All that the pages show and do."""


def survey_app(path: Path, library: Library, guard: Guard, set_of: SetOf, packager: Packager | None = None) -> Survey:
    """The application for an answers file. Raises `InputInvalid` or `CannotWrite` where it cannot be gone on with."""
    desk, pages = SurveyDesk(path, library), Pages(library)
    views = _Views(desk, pages, guard.network_address)
    views.set_of, views.packager = set_of, packager
    return Survey(desk, guard, pages, {name: getattr(views, name) for name in Survey.endpoints()})


def serve(
    path: Path,
    library: Library,
    set_of: SetOf,
    port: int | None = None,
    *,
    on_network: bool = False,
    packager: Packager | None = None,
) -> Served:
    """A survey that listens on this machine alone, or on its network too.

    Without a port it takes that of the file, the next free one where that is taken: what a phone keeps hangs on it.
    Raises `CannotServe` where a port that was named is taken.
    """
    from waitress.server import create_server

    host = _EVERYWHERE if on_network else _HERE
    listening = _listening(host, path, port)
    found = listening.getsockname()[1]
    guard = Guard(found, (*LOOPBACK, own_address()) if on_network else LOOPBACK)
    app = survey_app(path, library, guard, set_of, packager)
    spare_garbage()
    # twice what is taken: up to there the pages tell in words that it is too much
    server = create_server(
        app, sockets=[listening], threads=_THREADS, ident=None, max_request_body_size=2 * MOST_UPLOAD_BYTES
    )
    return Served(guard.network_address or f"http://{_HERE}:{found}/?key={guard.key}", app, server)


def spare_garbage() -> None:
    """Has garbage looked for seldom, and not in what stays for the whole run: the library.

    Looking for it again and again costs each answer a tenth.
    """
    gc.set_threshold(_SELDOM)
    gc.collect()
    gc.freeze()
    gc.enable()


def own_address() -> str:
    """The address of this machine on its network; that of the loopback where it is on none. Nothing is sent."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))
        except OSError:
            return _HERE
        return str(probe.getsockname()[0])


def _listening(host: str, path: Path, port: int | None) -> socket.socket:
    wanted = [port] if port is not None else [port_of(path, turn) for turn in range(_TRIES)]
    for one in wanted:
        made = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        if sys.platform != "win32":  # where it would let two listen at once
            made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            made.bind((host, one))
            made.listen(64)
        except (OSError, OverflowError):
            made.close()
        else:
            return made
    raise CannotServe(f"port {wanted[0]} cannot be listened on, something else may use it: name another with --port")


def port_of(path: Path, turn: int = 0) -> int:
    """The port of a file: the same for the same file, whenever it is opened."""
    told = int.from_bytes(hashlib.sha256(str(real_path(path)).encode("utf-8", "replace")).digest()[:4], "big")
    return _FIRST_PORT + (told + turn) % _PORTS
