"""Weather files as services publish them: what they tell somebody who has to answer how a wall is exposed."""

from __future__ import annotations
