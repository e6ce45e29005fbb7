"""Explanations in sentences."""

from __future__ import annotations
