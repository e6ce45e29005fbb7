"""Runs the command line as `python -m generator`."""

from generator.commands.main import run

run()
