"""Asking at the terminal."""

from __future__ import annotations
