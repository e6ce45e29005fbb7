"""How much is read of each kind of file, and so how much is written: what is written can always be read again."""

from __future__ import annotations

from typing import Final

MOST_TOLD: Final = 50
"""Mistakes told in words; the rest are counted."""

MOST_COUNTED: Final = 1_000
"""Mistakes looked for where each takes time to find."""

MOST_YAML_BYTES: Final = 6_000_000
"""Of answers, a library's file, a bundle, rates: 3,000 large walls take 4,300,000, two seconds and 110 MB to read."""

MOST_YAML_VALUES: Final = 300_000
"""What may stand in them, which takes more time and room than their bytes; 3,000 large walls have 190,000."""

MOST_YAML_DEPTH: Final = 40
MOST_DIGITS: Final = 30
MOST_SCOPES: Final = 20_000
"""Elements, zones, works and coats of a job."""

MOST_TEXT: Final = 5_000
"""Characters of one answer."""

MOST_LIBRARY_FILES: Final = 20_000
MOST_LIBRARY_BYTES: Final = 40_000_000
"""Of all files of a library, or of one layer."""

MOST_RECORD_BYTES: Final = 150_000_000
"""Of a record, and of the description of an issue; 3,000 large walls take 110,000,000."""

MOST_RECORD_VALUES: Final = 7_500_000
"""Lists, mappings and what they hold: each takes a hundred times the room of its comma."""

MOST_WEATHER_BYTES: Final = 50_000_000
"""A century of hours takes forty million."""

MOST_PACKAGE_BYTES: Final = 100_000_000
"""Of a Word file or a workbook as it lies."""

MOST_UNPACKED_BYTES: Final = 200_000_000
MOST_PARTS: Final = 4_000
MOST_XML_BYTES: Final = 50_000_000
"""Of all XML in a package from anybody: trees take many times the room of their text."""

MOST_XML_TAGS: Final = 3_000_000
"""Elements begun and ended in such a package, which take room; the specification of 500 large walls has 2,500,000."""

MOST_PARAGRAPHS: Final = 200_000
"""Of such a paper, tables among them: each is looked at in many ways; 1,000 large walls take 190,000."""

MOST_NESTED: Final = 10
"""Paragraphs, runs or tables of a paper within one another, each of which is asked for all that lies in it."""

MOST_OWN_XML_BYTES: Final = 250_000_000
"""Of a paper that a record vouches for, as it was written; the specification of 3,000 large walls has 220,000,000."""

MOST_OWN_XML_TAGS: Final = 16_000_000
MOST_OWN_PARAGRAPHS: Final = 600_000
