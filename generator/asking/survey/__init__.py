"""Asking in the browser."""

from __future__ import annotations
