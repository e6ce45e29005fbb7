"""Runs the command line as `python -m generator`."""

from generator.cli import app

app()
