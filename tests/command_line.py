"""Commands run in the process of a test."""

from __future__ import annotations

from typer.testing import CliRunner

from generator.commands.main import app


def run(*words: object) -> tuple[int, str, str]:
    """Exit code, standard output and standard error of a command; what it does not end by itself fails the test."""
    done = CliRunner().invoke(app, [str(word) for word in words], catch_exceptions=False)
    return done.exit_code, done.stdout, done.stderr
