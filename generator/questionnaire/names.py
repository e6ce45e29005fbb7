"""The register of names: every question and reckoned value, its scope, kind, unit and choices."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Final, NoReturn

from generator.files.errors import Mark
from generator.values import NO_CUSTOMS, Customs, unit_of

LEVELS: Final = ("project", "element", "work", "coat")
SCOPES: Final = (*LEVELS, "mix")
KINDS: Final = (
    "choice", "choices", "number", "range", "text", "texts", "date", "month_day", "yes_no", "records", "file",
    "photographs",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Name:
    """One name with one meaning.

    `choices` maps what is written to what is said; `columns` are the names in each of a list of records; `customs` tell
    how it goes into customary units.
    """

    name: str
    scope: str
    kind: str
    label: str
    phrase: str = ""
    choices: Mapping[str, str] = field(default_factory=dict)
    reckoned: bool = False
    mark: Mark = field(default=Mark(""), compare=False)
    columns: Names | None = None
    customs: Customs = NO_CUSTOMS

    @property
    def unit(self) -> str:
        """The unit the name ends in; only numbers and ranges have one."""
        return unit_of(self.name) if self.kind in ("number", "range") else ""


def visible_from(scope: str) -> tuple[str, ...]:
    """The scopes whose names can be read from a scope without `any` or `none`: itself and outward."""
    if scope == "mix":
        return ("project", "mix")
    return LEVELS[: LEVELS.index(scope) + 1]


def below(scope: str) -> tuple[str, ...]:
    """The scopes that lie inside a scope, which `any` and `none` look into."""
    if scope == "mix":
        return ()
    return LEVELS[LEVELS.index(scope) + 1 :]


def misread(entry: Name, kinds: tuple[str, ...]) -> str:
    """What is wrong where a name is read as what it is not declared."""
    return f"'{entry.name}' is declared a {entry.kind}, and read as a {' or '.join(kinds)}"


def a_scope(scope: str) -> str:
    """The word for a scope with its article: `an element`."""
    return f"an {scope}" if scope == "element" else f"a {scope}"


class Names(Mapping[str, Name]):
    """All names by name."""

    def __init__(self, names: dict[str, Name]) -> None:
        self._names = names

    def __getitem__(self, name: str) -> Name:
        try:
            return self._names[name]
        except KeyError:
            raise KeyError(f"'{name}' is not declared in clauses/names.yaml or a question") from None

    def read_as(self, name: str, kinds: tuple[str, ...]) -> Name:
        """The name, which is to be read as one of some kinds. Raises `TypeError` where it is declared otherwise."""
        entry = self._names.get(name)
        return entry if entry is not None and entry.kind in kinds else self._misread(self[name], kinds)

    def _misread(self, entry: Name, kinds: tuple[str, ...]) -> NoReturn:
        raise TypeError(misread(entry, kinds))

    def __contains__(self, name: object) -> bool:
        return name in self._names

    def __iter__(self) -> Iterator[str]:
        return iter(self._names)

    def __len__(self) -> int:
        return len(self._names)
