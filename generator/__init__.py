"""Gaugebox: tender papers for lime work on old buildings, from answers about each wall."""

__version__ = "0.1.0"
