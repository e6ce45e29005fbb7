"""What the walls and works of a record are called, by the path of their ids."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from typing import Any

Path = tuple[str, ...]


def places(record: Mapping[str, Any]) -> dict[Path, str]:
    """The name of every element, work and coat; works of one element with the same name are told by their extent."""
    given: dict[Path, Mapping[str, str]] = {
        tuple(filter(None, path.split("/"))): values for path, values in record["answers"]["given"].items()
    }
    found = {path: values.get("element_name") or values.get("work_name", "") for path, values in given.items() if path}
    alike = Counter((path[:1], name) for path, name in found.items() if len(path) > 1)
    for path, name in found.items():
        if len(path) > 1 and alike[path[:1], name] > 1:
            found[path] = f"{name} ({given[path].get('extent', path[-1])})"
    for work in record["works"]:
        for key, entry in work["values"].items():
            coat, _, name = key.rpartition("/")
            if name == "coat":
                found[work["element"], work["work"], coat] = str(entry["value"])
    return {path: name for path, name in found.items() if name}


def told(path: Path, names: Mapping[Path, str]) -> str:
    """A place in words, from the element inward; ids only where there is no name."""
    return ", ".join(names.get(path[: end + 1], path[end]) for end in range(len(path)))
