"""The neutral document as a page of HTML."""

from __future__ import annotations
