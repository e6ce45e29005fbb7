"""A survey that is served by a process of its own, as somebody starts it, and a Chromium to open it in."""

from __future__ import annotations

import contextlib
import shutil
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

import pytest

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")

PHONE, DESK = {"width": 390, "height": 844}, {"width": 1280, "height": 900}
PATIENCE_MS = 60_000
IN_A_BROWSER: Final = [
    pytest.mark.slow,
    pytest.mark.chromium,
    pytest.mark.skipif(CHROMIUM is None, reason="Chromium is not on the path"),
]
"""The marks of a module whose tests open a browser."""
_RULES: Final = {"runOnly": ["wcag2a", "wcag2aa", "wcag2aaa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}


def free_port() -> int:
    """A port that nobody listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@dataclass
class Served:
    """The process that serves one answers file; started again it keeps its port and has another key."""

    path: Path
    port: int = field(default_factory=free_port)
    address: str = ""
    process: subprocess.Popen[str] | None = None

    @property
    def base(self) -> str:
        """The address without the key."""
        return f"http://127.0.0.1:{self.port}"

    def start(self) -> str:
        """Starts it and waits for the line that tells its address."""
        command = [
            sys.executable,
            "-m",
            "generator",
            "survey",
            str(self.path),
            "--no-browser",
            "--port",
            str(self.port),
        ]
        self.process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
        assert self.process.stdout is not None
        self.address = self.process.stdout.readline().strip()
        return self.address

    def kill(self) -> None:
        """Ends it as a power cut does."""
        assert self.process is not None
        self.process.kill()
        self.process.wait()
        if self.process.stdout is not None:
            self.process.stdout.close()


@contextlib.contextmanager
def served(path: Path) -> Iterator[Served]:
    """A survey that is served while the block runs."""
    found = Served(path)
    found.start()
    try:
        yield found
    finally:
        found.kill()


@contextlib.contextmanager
def chromium() -> Iterator[Any]:
    """A browser without a window."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        try:
            yield browser
        finally:
            browser.close()


def opened(
    browser: Any, survey: Served, size: dict[str, int] = PHONE, *, scripts: bool = True, touch: bool = False
) -> Any:
    """A page of the survey in a window of its own, with the key as a cookie."""
    page = browser.new_context(viewport=size, java_script_enabled=scripts, has_touch=touch).new_page()
    page.set_default_timeout(PATIENCE_MS)
    page.goto(survey.address)
    page.wait_for_url(survey.base + "/")
    return page


def barriers(page: Any) -> list[tuple[str, str]]:
    """What an accessibility engine finds amiss on a page as it stands: the rule, and where it is broken."""
    from axe_playwright_python.sync_playwright import Axe

    found = Axe().run(page, options=_RULES).response["violations"]
    return [(one["id"], one["nodes"][0]["html"][:160]) for one in found]


def until_in(path: Path, text: str) -> None:
    """Waits until a text stands in a file."""
    limit = time.monotonic() + PATIENCE_MS / 1000
    while text not in path.read_text(encoding="utf-8"):
        assert time.monotonic() < limit, f"{text!r} never came into the file"
        time.sleep(0.05)
