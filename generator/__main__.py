"""Runs the command line as `python -m generator`."""

from generator.commands.start import alone

alone()
