"""Commands run in the process of a test."""

from __future__ import annotations

import pytest
from jobs import shipped
from typer.testing import CliRunner

from generator.commands.main import app
from generator.library import prepared


def run(*words: object) -> tuple[int, str, str]:
    """Exit code, standard output and standard error of a command; what it does not end by itself fails the test.

    The shipped library is the one that all tests share: taking in one that was kept takes longer than most commands.
    """
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(prepared, "shipped_library", shipped)
        done = CliRunner().invoke(app, [str(word) for word in words], catch_exceptions=False)
    return done.exit_code, done.stdout, done.stderr
