"""How answers are spelt: numbers, ranges, dates, yes and no."""

from __future__ import annotations

import re
from typing import Final

_FIGURES: Final = r"[0-9]{1,12}(?:\.[0-9]{1,6})?"
NUMBER: Final = re.compile(rf"[-+]?{_FIGURES}\Z")
RANGE: Final = re.compile(rf"({_FIGURES})\s*(?:-|–|to)\s*({_FIGURES})(?:\s*\(\s*({_FIGURES})\s*\))?\Z")
DATE: Final = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}\Z")
MONTH_DAY: Final = re.compile(r"(?:[0-9]{4}-)?([0-9]{2})-([0-9]{2})\Z")
YES_NO: Final = {"yes": True, "true": True, "no": False, "false": False}
